"""A later visit is begun in the window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from rakeprep.jobs.chapters import KINDS
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.chapter import HANDOVER
from rakeprep.model.entry import Slot
from rakeprep.store.job_file import JobFile
from rakeprep.ui.chapter_page import ChapterPage
from rakeprep.ui.findings_panel import cards
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.session import Session
from rakeprep.ui.signing_page import SigningPage
from rakeprep.ui.start_page import StartPage
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.window import Window

LATER = [kind for kind in KINDS if kind != HANDOVER]


@pytest.fixture
def closed(start: Callable[..., OpenJob]) -> OpenJob:
    """The healthy job, handed over with a stand-in for its document."""
    job = start(0, "healthy.toml")
    for role, name in (("technician", "Technician One"), ("checker", "Technician Two"), ("customer", "C")):
        job.sign(role, name, (), typed=True)
    job.close_with(b"%PDF-1.7 stand-in", "handover.pdf")
    return job


@pytest.fixture
def window(qtbot: QtBot, session: Session, closed: OpenJob) -> Iterator[Window]:
    shown = Window(session)
    qtbot.addWidget(shown)
    shown.take_job(closed)
    shown.show()
    yield shown
    shown.job = None


def visits(qtbot: QtBot, window: Window) -> ChapterPage:
    """The page of a later visit, reached as a user reaches it."""
    page = window.page
    assert isinstance(page, JobPage)
    page.open_signing()
    assert isinstance(page.page, SigningPage)
    assert page.page.seal.isHidden()
    qtbot.mouseClick(page.page.visit, Qt.MouseButton.LeftButton)
    assert isinstance(page.page, ChapterPage)
    return page.page


@pytest.mark.parametrize("kind", LATER)
def test_that_a_visit_begins_at_the_first_thing_it_asks_for(
    kind: str, qtbot: QtBot, window: Window, closed: OpenJob
) -> None:
    page = visits(qtbot, window)
    page.kinds.setCurrentRow(LATER.index(kind))
    page.owner.setText("Customer Two")
    for arm in ("LA07", "RA02") if KINDS[kind].at_places else ():
        qtbot.mouseClick(page.places.keys[arm], Qt.MouseButton.LeftButton)
    page.begin.click()
    assert page.refusal.text() == ""
    assert closed.record.chapter.kind == kind
    assert closed.record.chapter.places == (("LA07", "RA02") if KINDS[kind].at_places else ())
    job_page = window.page
    assert isinstance(job_page, JobPage)
    assert isinstance(job_page.page, StepPage)
    assert job_page.at is not None
    assert closed.assessment.states[job_page.at].verdict.rank > 0


def test_that_only_what_a_kind_of_visit_needs_is_asked(qtbot: QtBot, window: Window) -> None:
    page = visits(qtbot, window)
    for row, kind in enumerate(LATER):
        page.kinds.setCurrentRow(row)
        assert page.places.isHidden() == (not KINDS[kind].at_places)
        assert page.owner.isHidden() == (not KINDS[kind].customer)
        assert page.tractor.parentWidget().isHidden() == (not KINDS[kind].tractor)


def test_that_a_visit_without_its_owner_is_refused_on_the_page(
    qtbot: QtBot, window: Window, closed: OpenJob
) -> None:
    page = visits(qtbot, window)
    page.kinds.setCurrentRow(LATER.index("new-owner"))
    page.begin.click()
    assert "owner" in page.refusal.text()
    assert closed.record.sealed is not None


def test_that_nobody_repairs_an_arm_that_was_not_chosen(
    qtbot: QtBot, window: Window, closed: OpenJob
) -> None:
    page = visits(qtbot, window)
    page.kinds.setCurrentRow(LATER.index("repair"))
    page.begin.click()
    assert "Say where" in page.refusal.text()
    assert closed.record.sealed is not None


def test_that_a_job_brought_back_offers_no_visit(
    qtbot: QtBot, session: Session, closed: OpenJob, tmp_path: Path
) -> None:
    stored = closed.file.events()[:-1]
    path = tmp_path / "back.rakejob"
    JobFile.restore(path, stored, "handover.pdf", b"%PDF-1.7 stand-in", session.clock).close()
    with OpenJob.resume(path, session.clock) as job:
        page = JobPage(session, job)
        qtbot.addWidget(page)
        page.open_signing()
        assert isinstance(page.page, SigningPage)
        assert page.page.visit.isHidden()
        assert page.page.seal.isHidden()


def test_that_a_document_that_is_none_is_refused_in_words(
    qtbot: QtBot, session: Session, tmp_path: Path
) -> None:
    (tmp_path / "letter.pdf").write_bytes(b"%PDF-1.7 no handover\n%%EOF\n")
    session.dialogs.answers["open_file"].append(tmp_path / "letter.pdf")  # type: ignore[attr-defined]
    shown = Window(session)
    qtbot.addWidget(shown)
    shown.show_start()
    assert isinstance(shown.page, StartPage)
    shown.page.from_document.emit()
    assert "letter.pdf is not brought back" in session.dialogs.told[-1]  # type: ignore[attr-defined]
    assert shown.job is None


def test_that_what_an_earlier_visit_left_is_no_open_point_of_one_that_asks_again(closed: OpenJob) -> None:
    nuts = Slot("test_run", "second_torque", "headstock")

    def said() -> list[str]:
        state = closed.assessment.states[nuts]
        return [str(card.says) for card in cards(state, closed.assessment, closed.record)]

    closed.begin_chapter("first-hour", "Technician One", "as agreed")
    closed.leave(nuts, "no wrench at hand", "Technician One")
    assert any("Left as an open point" in each for each in said())
    closed.close_with(b"%PDF-1.7 stand-in", "first-hour.pdf")
    closed.begin_chapter("ten-hours", "Technician One", "as agreed")
    assert not any("Left as an open point" in each for each in said())
