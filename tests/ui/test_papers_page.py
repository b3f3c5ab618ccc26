"""The page on which other papers are made."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from rakeprep.handover.papers import Which, Wish
from rakeprep.jobs.open_job import OpenJob
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.papers_page import PapersPage
from rakeprep.ui.session import Session
from rakeprep.ui.step_page import StepPage


def opened(qtbot: Any, session: Session, job: OpenJob) -> tuple[JobPage, PapersPage]:
    """The page of a job, turned to its papers."""
    page = JobPage(session, job)
    qtbot.addWidget(page)
    page.open_papers()
    assert isinstance(page.page, PapersPage)
    return page, page.page


def choose(page: PapersPage, which: Which) -> None:
    page.list.setCurrentRow(list(Which).index(which))


def test_that_every_paper_is_written_into_the_folder_that_was_chosen(
    qtbot: Any, session: Session, dialogs: Any, start: Callable[..., OpenJob], tmp_path: Path
) -> None:
    _, page = opened(qtbot, session, start())
    for number, which in enumerate(Which, 1):
        choose(page, which)
        dialogs.answers["folder"].append(tmp_path / "papers")
        page.begin()
        assert page.making is not None
        assert not page.make.isEnabled()
        qtbot.waitUntil(page.make.isEnabled, timeout=20_000)
        assert "Written: " in page.result.text()
        assert len(list((tmp_path / "papers").iterdir())) == number


def test_that_forms_begin_with_the_step_in_hand_and_others_ask_for_no_step(
    qtbot: Any, session: Session, start: Callable[..., OpenJob]
) -> None:
    job_page, page = opened(qtbot, session, start())
    assert page.wish == Wish(Which.FORMS, ("arrival",))
    page.step.setCurrentIndex(0)
    page.missing.setChecked(True)
    assert page.wish == Wish(Which.FORMS, (), missing=True)
    choose(page, Which.CSV)
    assert page.wish == Wish(Which.CSV)
    assert page.step.isHidden()
    page.closed.emit()
    assert isinstance(job_page.page, StepPage)


def test_that_turning_back_from_the_folder_makes_nothing_and_a_refusal_is_said(
    qtbot: Any, session: Session, dialogs: Any, start: Callable[..., OpenJob], tmp_path: Path
) -> None:
    _, page = opened(qtbot, session, start())
    page.begin()
    assert page.making is None
    in_the_way = tmp_path / "file"
    in_the_way.write_text("no folder", "utf-8")
    dialogs.answers["folder"].append(in_the_way)
    page.begin()
    qtbot.waitUntil(page.make.isEnabled, timeout=20_000)
    assert "cannot be written" in page.result.text()
