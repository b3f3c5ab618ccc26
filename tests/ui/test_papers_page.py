"""The page on which other papers are made."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from rakeprep.handover.papers import Which, Wish
from rakeprep.jobs.open_job import OpenJob
from rakeprep.profiles import sample_machines, sample_tractors
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.labels import Cut
from rakeprep.ui.papers_page import PapersPage
from rakeprep.ui.session import Session
from rakeprep.ui.start_page import StartPage
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.window import Window


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


def test_that_a_name_is_corrected_at_the_papers_and_stands_in_the_head(
    qtbot: Any, session: Session, dialogs: Any, start: Callable[..., OpenJob]
) -> None:
    job = start()
    window = Window(session)
    qtbot.addWidget(window)
    window.take_job(job)
    wrong = {"customer": "Customer Three", "order": "SAMPLE-1", "technician": " "}
    right = {**wrong, "technician": "Technician One"}
    dialogs.answers["names"] += [None, (wrong, "misheard"), (right, "misheard")]
    assert isinstance(window.page, JobPage)
    window.page.open_papers()
    page = window.page.page
    assert isinstance(page, PapersPage)
    for corrections in (0, 0, 1):
        page.names.click()
        assert len(job.record.corrections) == corrections
    assert "A name is missing" in dialogs.told[0]
    assert "Customer Three" in window.page.findChildren(Cut)[0].text()
    job.close_with(b"%PDF-1.7 stand-in", "handover.pdf")
    _, closed = opened(qtbot, session, job)
    assert closed.names.isHidden()
    window.job = None


def test_that_empty_forms_of_a_machine_are_made_without_a_job(
    qtbot: Any, session: Session, dialogs: Any, tmp_path: Path
) -> None:
    page = StartPage(session)
    qtbot.addWidget(page)
    machine, tractor = sample_machines()[1], sample_tractors()[0]
    dialogs.answers |= {"open_file": [None, machine, None, machine, machine, machine, tractor]}
    dialogs.answers["folder"] += [tmp_path / "forms", tmp_path / "forms"]
    for _ in range(2):
        page.forms.click()  # turned back at the first file, then at the second
        assert page.making is None
    for says in (machine.name, "Written: "):  # first a machine's file was chosen for the tractor
        page.forms.click()
        assert page.making is not None
        qtbot.waitUntil(page.forms.isEnabled, timeout=30_000)
        assert says in page.result.text()
    (made,) = (tmp_path / "forms").iterdir()
    assert made.read_bytes().startswith(b"%PDF")
