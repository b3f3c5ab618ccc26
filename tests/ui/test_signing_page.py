"""What stands between a job and its customer, and who signs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rakeprep.jobs.open_job import ROLES, OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.field import Need
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.session import Session
from rakeprep.ui.signing_page import SigningPage
from rakeprep.ui.step_page import StepPage

NAMES = {"technician": "Technician One", "checker": "Technician Two", "customer": "Customer One"}


def signing(qtbot: QtBot, session: Session, job: OpenJob) -> tuple[JobPage, SigningPage]:
    page = JobPage(session, job)
    qtbot.addWidget(page)
    with qtbot.waitActive(page):
        page.show()
    page.open_signing()
    assert isinstance(page.page, SigningPage)
    return page, page.page


@pytest.fixture
def ready(qtbot: QtBot, session: Session, start: Callable[..., OpenJob]) -> Iterator[SigningPage]:
    page, last = signing(qtbot, session, start(0, "healthy.toml"))
    yield last
    assert page.page is last


def draw(qtbot: QtBot, page: SigningPage, role: str) -> None:
    pad, left = page.boxes[role].pad, Qt.MouseButton.LeftButton
    qtbot.mousePress(pad, left, pos=QPoint(20, 40))
    qtbot.mouseMove(pad, QPoint(90, 60))
    qtbot.mouseRelease(pad, left, pos=QPoint(90, 60))


def sign(qtbot: QtBot, page: SigningPage, role: str, name: str) -> None:
    box = page.boxes[role]
    box.name.clear()
    qtbot.keyClicks(box.name, name)
    qtbot.mouseClick(box.sign, Qt.MouseButton.LeftButton)


def test_that_every_obstacle_is_a_line_that_leads_to_its_task(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    job = start(0, "half-done.toml")
    page, last = signing(qtbot, session, job)
    obstacles = job.assessment.gate.obstacles
    assert last.list.count() == len(obstacles) > 0
    ranks = [o.verdict.rank for o in obstacles]
    first = last.list.item(0)
    worst = next(o for o in obstacles if o.verdict.rank == max(ranks))
    assert first.text().startswith(str(worst.verdict.word))
    assert last._signing.isHidden()
    assert last.seal.isHidden()
    box = last.list.visualItemRect(first)
    qtbot.mouseClick(last.list.viewport(), Qt.MouseButton.LeftButton, pos=box.center())
    assert isinstance(page.page, StepPage)
    assert page.page.slot == first.data(Qt.ItemDataRole.UserRole)


def test_that_enter_on_an_obstacle_leads_to_its_task(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    page, last = signing(qtbot, session, start())
    assert QApplication.focusWidget() is last.list
    qtbot.keyClick(last.list, Qt.Key.Key_Down)
    wanted = last.list.currentItem().data(Qt.ItemDataRole.UserRole)
    qtbot.keyClick(last.list, Qt.Key.Key_Return)
    assert isinstance(page.page, StepPage)
    assert page.page.slot == wanted


def test_that_a_ready_job_is_signed_by_three(qtbot: QtBot, ready: SigningPage) -> None:
    assert not ready.seal.isEnabled()
    for role in ROLES:
        draw(qtbot, ready, role)
        sign(qtbot, ready, role, NAMES[role])
    given = ready.job.record.signatures
    assert {role: given[role].name for role in given} == NAMES
    assert all(len(given[role].strokes) == 1 and not given[role].typed for role in ROLES)
    assert ready.seal.isEnabled()
    assert ready.boxes["customer"].done.text().startswith("signed by Customer One, ")
    assert not ready.boxes["customer"].sign.isEnabled()


def test_that_nobody_signs_twice(qtbot: QtBot, ready: SigningPage, dialogs: Any) -> None:
    for role in ("technician", "checker"):
        draw(qtbot, ready, role)
        sign(qtbot, ready, role, "Technician One")
    assert list(ready.job.record.signatures) == ["technician"]
    assert dialogs.told == ["Technician One has signed already; each role needs another person."]


def test_that_an_empty_pad_is_no_signature(qtbot: QtBot, ready: SigningPage, dialogs: Any) -> None:
    sign(qtbot, ready, "customer", "Customer One")
    assert ready.job.record.signatures == {}
    assert dialogs.told == ["Draw the signature, or choose to type the name."]


def test_that_a_signature_without_a_name_is_refused(qtbot: QtBot, ready: SigningPage, dialogs: Any) -> None:
    draw(qtbot, ready, "customer")
    sign(qtbot, ready, "customer", "")
    assert ready.job.record.signatures == {}
    assert len(dialogs.told) == 1


def test_that_a_typed_name_stands_where_somebody_cannot_sign(qtbot: QtBot, ready: SigningPage) -> None:
    box = ready.boxes["customer"]
    draw(qtbot, ready, "customer")
    qtbot.mouseClick(box.typed, Qt.MouseButton.LeftButton)
    assert box.pad.isHidden()
    sign(qtbot, ready, "customer", "Customer One")
    given = ready.job.record.signatures["customer"]
    assert (given.typed, given.strokes) == (True, ())


def test_that_wiping_clears_the_pad_of_one_role(qtbot: QtBot, ready: SigningPage) -> None:
    for role in ("technician", "customer"):
        draw(qtbot, ready, role)
    qtbot.mouseClick(ready.boxes["customer"].again, Qt.MouseButton.LeftButton)
    assert ready.boxes["customer"].pad.strokes == ()
    assert len(ready.boxes["technician"].pad.strokes) == 1


def test_that_a_later_entry_makes_signatures_lapse(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    job = start(0, "healthy.toml")
    page, last = signing(qtbot, session, job)
    draw(qtbot, last, "customer")
    sign(qtbot, last, "customer", "Customer One")
    job.commit(Slot("tyres", "workshop_temperature"), "19 °C", "Technician One")
    page.open_signing()
    assert isinstance(page.page, SigningPage)
    assert page.page.boxes["customer"].sign.isEnabled()
    assert page.page.boxes["customer"].done.text() == ""


def test_that_open_points_stand_above_the_signatures(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    job = start(0, "healthy.toml")
    left = next(s for s, state in job.assessment.states.items() if state.task.field.need is Need.OPEN)
    job.leave(left, "the part is ordered", "Technician One", "1 May")
    _, last = signing(qtbot, session, job)
    assert last.list.count() == 1
    assert last.list.item(0).text().startswith("1. ")
    assert last.list.item(0).text().endswith("the part is ordered (1 May)")
    assert not last._signing.isHidden()


def test_that_a_given_signature_is_shown_when_the_page_is_opened_again(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    job = start(0, "healthy.toml")
    page, last = signing(qtbot, session, job)
    draw(qtbot, last, "technician")
    sign(qtbot, last, "technician", NAMES["technician"])
    page.open_step("tyres")
    page.open_signing()
    assert isinstance(page.page, SigningPage)
    box = page.page.boxes["technician"]
    assert box.name.text() == NAMES["technician"]
    assert box.pad.strokes == job.record.signatures["technician"].strokes


def test_that_the_document_of_a_closed_job_is_written_once_more(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], dialogs: Any, tmp_path: Path
) -> None:
    job = start(0, "healthy.toml")
    _, last = signing(qtbot, session, job)
    assert last.again.isHidden()
    job.close_with(b"%PDF-1.7 stand-in", "handover.pdf")
    last.refresh()
    dialogs.answers["folder"] = [None, tmp_path / "out"]
    last.again.click()
    assert last.result.text() == ""
    last.again.click()
    assert "handover.pdf" in last.result.text()
    assert (tmp_path / "out" / "handover.pdf").read_bytes() == b"%PDF-1.7 stand-in"
