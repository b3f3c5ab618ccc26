"""Entry made for the place, and work that is interrupted and shared."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QPushButton, QWidget
from pytestqt.qtbot import QtBot

from rakeprep.jobs import left_at
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.field import Ask
from rakeprep.model.instrument import OwnInstrument
from rakeprep.model.verdict import Verdict
from rakeprep.ui.fields.picked import Picked
from rakeprep.ui.fields.picture import Picture
from rakeprep.ui.fields.written import Number
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.session import Session
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.window import Window

PRESSURE = Slot("tyres", "pressure_set", "L1L")
NEXT = Slot("tyres", "pressure_set", "L1R")
HAND = Slot("arms", "hand", "LA01")
ONE, TWO = "Technician One", "Technician Two"
LEFT = Qt.MouseButton.LeftButton


def opened(page: JobPage, slot: Slot) -> StepPage:
    page.open(slot)
    assert isinstance(page.page, StepPage)
    return page.page


def number(page: JobPage) -> Number:
    assert isinstance(page.page, StepPage)
    assert isinstance(page.page.editor, Number)
    return page.page.editor


def give(qtbot: QtBot, page: JobPage, text: str) -> None:
    line = number(page).line
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)


def press(qtbot: QtBot, inside: QWidget | None, text: str) -> None:
    assert inside is not None
    found = next(b for b in inside.findChildren(QPushButton) if b.text() == text and not b.isHidden())
    qtbot.mouseClick(found, LEFT)


def stands(page: JobPage, slot: Slot) -> Entry:
    return page.job.record.entries[slot]


# ------------------------------------------------------------------------------- instruments


def test_that_an_instrument_is_registered_once_and_then_picked(
    qtbot: QtBot, page: JobPage, dialogs: Any
) -> None:
    opened(page, PRESSURE)
    qtbot.keyClicks(number(page).line, "2.0")  # half typed while the gauge is looked at
    dialogs.answers["instrument"] = [("dial gauge 7", "tyre-gauge", "2026-03-01")]
    press(qtbot, number(page), "number and date…")
    assert number(page).line.text() == "2.0"
    assert number(page).instrument() == "dial gauge 7"
    assert "indication only" in number(page).measured_with._note.text()  # type: ignore[union-attr]
    qtbot.keyClick(number(page).line, Qt.Key.Key_Return)
    assert stands(page, PRESSURE).instrument == "dial gauge 7"
    assert page.job.assessment.states[PRESSURE].verdict is Verdict.MEASURE_AGAIN
    opened(page, NEXT)
    assert [k.text() for k in number(page).measured_with.keys] == ["dial gauge 7"]  # type: ignore[union-attr]


def test_that_a_wrong_date_is_said_and_what_is_typed_stays(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    opened(page, PRESSURE)
    qtbot.keyClicks(number(page).line, "2.0")
    dialogs.answers["instrument"] = [("dial gauge 7", "tyre-gauge", "soon")]
    press(qtbot, number(page), "number and date…")
    assert "year-month-day" in dialogs.told[0]
    assert number(page).line.text() == "2.0"
    assert page.job.record.instruments == {}


def test_that_this_computer_knows_instrument_and_unit_in_the_next_job(
    qtbot: QtBot, session: Session, page: JobPage, start: Callable[..., OpenJob]
) -> None:
    page.job.register(OwnInstrument("dial gauge 7", "tyre-gauge"), ONE)
    opened(page, PRESSURE)
    number(page).tool.setText("dial gauge 7")  # type: ignore[union-attr]
    give(qtbot, page, "29 psi")
    session.known, session.instruments = None, {}  # as after a new start
    other = start()
    other.read_caution("tyres", ONE)
    second = StepPage(session, other, PRESSURE)
    qtbot.addWidget(second)
    assert isinstance(second.editor, Number)
    assert second.editor.unit() == "bar"
    press(qtbot, second.editor, "dial gauge 7")
    assert second.editor.unit() == "psi"
    qtbot.keyClicks(second.editor.line, "30")
    qtbot.keyClick(second.editor.line, Qt.Key.Key_Return)
    assert other.record.entries[PRESSURE].unit == "psi"
    assert other.record.instruments["dial gauge 7"].until is None


# ------------------------------------------------------------------------------- the same again, reasons


def test_that_the_same_again_is_put_in_and_given_with_enter(qtbot: QtBot, page: JobPage) -> None:
    opened(page, PRESSURE)
    give(qtbot, page, "2.1 bar")
    opened(page, NEXT)
    press(qtbot, number(page), "the same again: 2.1 bar")
    assert NEXT not in page.job.record.entries
    qtbot.keyClick(number(page).line, Qt.Key.Key_Return)
    assert stands(page, NEXT).typed == "2.1 bar"


def test_that_a_change_carries_its_reason_and_the_old_value_is_seen(qtbot: QtBot, page: JobPage) -> None:
    opened(page, PRESSURE)
    give(qtbot, page, "2.9 bar")
    step = opened(page, PRESSURE)
    press(qtbot, step.under.why, "was misread")
    give(qtbot, page, "2.0 bar")
    assert stands(page, PRESSURE).reason == "was misread"
    step = opened(page, PRESSURE)
    assert "before: 2.9 bar" in step.under.before.text()
    assert "was misread" in step.under.before.text()
    assert step.under.why.text() == ""  # a reason is never given twice by accident


def test_that_a_choice_can_be_changed_with_a_reason_in_own_words(qtbot: QtBot, page: JobPage) -> None:
    page.job.commit(HAND, "left", ONE)
    step = opened(page, HAND)
    assert isinstance(step.editor, Picked)
    qtbot.keyClicks(step.under.why.line, "seen from the wrong side")
    qtbot.keyClick(step.editor.keys["right"], Qt.Key.Key_Space)
    assert stands(page, HAND).reason == "seen from the wrong side"


# ------------------------------------------------------------------------------- two people


def test_that_two_people_apart_are_told_on_the_page(qtbot: QtBot, session: Session, page: JobPage) -> None:
    opened(page, PRESSURE)
    give(qtbot, page, "2.0 bar")
    session.works(TWO)
    step = opened(page, PRESSURE)
    give(qtbot, page, "2.4 bar")
    said = [card.accessibleName() for card in step._findings.cards]
    assert any(s.startswith("Measure again: Technician One 2.0 bar, Technician Two 2.4 bar") for s in said)
    assert len(page.job.record.history[PRESSURE]) == 2


def test_that_the_same_value_typed_by_another_is_kept_as_a_second_reading(
    qtbot: QtBot, session: Session, page: JobPage
) -> None:
    opened(page, PRESSURE)
    give(qtbot, page, "2.0 bar")
    session.works(TWO)
    opened(page, PRESSURE)
    qtbot.keyClick(number(page).line, Qt.Key.Key_Return)  # only went on
    assert len(page.job.record.history[PRESSURE]) == 1
    opened(page, PRESSURE)
    give(qtbot, page, "2.0 bar")
    assert [e.who for e in page.job.record.history[PRESSURE]] == [ONE, TWO]
    says = [str(f.says) for f in page.job.assessment.states[PRESSURE].findings]
    assert any("within the doubt of the two readings" in said for said in says)


# ------------------------------------------------------------------------------- you were here


def test_that_a_job_opens_where_it_was_left_with_what_was_being_typed(
    qtbot: QtBot, session: Session, page: JobPage, job: OpenJob
) -> None:
    opened(page, PRESSURE)
    give(qtbot, page, "2.0 bar")
    opened(page, Slot("levelling", "clearance", "left-1"))
    qtbot.keyClicks(number(page).line, "12")  # and now the battery is empty
    session.drafts.clear()
    again = JobPage(session, job)
    qtbot.addWidget(again)
    again.show()
    assert isinstance(again.page, StepPage)
    assert again.page.slot == Slot("levelling", "clearance", "left-1")
    assert number(again).line.text() == "12"
    assert again.page.welcome is not None
    said = again.page.welcome.accessibleName()
    assert said.startswith("You were here: ")
    assert said.endswith("= 2.0 bar.")
    press(qtbot, again.page.welcome, "the last thing once more ▸")
    assert again.page.slot == PRESSURE
    assert again.page.welcome is None
    assert stands(again, Slot("levelling", "clearance", "left-1")).typed == "12"  # kept on leaving


def test_that_a_reason_begun_is_kept_until_the_change_is_stored(
    qtbot: QtBot, session: Session, page: JobPage, job: OpenJob
) -> None:
    opened(page, PRESSURE)
    give(qtbot, page, "2.0 bar")
    step = opened(page, PRESSURE)
    qtbot.keyClicks(step.under.why.line, "was misread")
    opened(page, HAND)
    assert opened(page, PRESSURE).under.reason() == "was misread"
    page.leave()
    assert session.reasons == {}  # the next job has none of them
    again = JobPage(session, job)
    qtbot.addWidget(again)
    again.show()
    assert opened(again, PRESSURE).under.reason() == "was misread"
    give(qtbot, again, "2.1 bar")
    assert stands(again, PRESSURE).reason == "was misread"
    assert session.reasons == {}


def test_that_going_on_takes_the_card_away(
    qtbot: QtBot, session: Session, page: JobPage, job: OpenJob
) -> None:
    opened(page, HAND)
    again = JobPage(session, job)
    qtbot.addWidget(again)
    again.show()
    assert isinstance(again.page, StepPage)
    assert again.page.slot == HAND  # nothing was entered there: the page was only visited
    press(qtbot, again.page.welcome, "go on here")
    assert again.page.welcome is None


def test_that_a_new_job_greets_nobody(page: JobPage) -> None:
    assert isinstance(page.page, StepPage)
    assert page.page.welcome is None


def test_that_what_was_given_up_on_closing_does_not_come_back(
    qtbot: QtBot, session: Session, page: JobPage, job: OpenJob, dialogs: Any
) -> None:
    opened(page, PRESSURE)
    give(qtbot, page, "2,4,5")
    dialogs.answers["sure"] = [True]
    page.leave()
    assert session.left(job).drafts == {}
    assert left_at.file_for(session.data, job.file.path).exists()


# ------------------------------------------------------------------------------- pictures of a camera


def photo_slot(job: OpenJob) -> Slot:
    return next(slot for slot, task in job.tasks.items() if task.field.ask is Ask.PHOTO)


def take(folder: Path, name: str, when: int) -> Path:
    image = QImage(80, 60, QImage.Format.Format_RGB32)
    image.fill(QColor("orange"))
    assert image.save(str(folder / name))
    os.utime(folder / name, (when, when))
    return folder / name


def test_that_the_cameras_newest_picture_is_one_press_away(
    qtbot: QtBot, page: JobPage, dialogs: Any, tmp_path: Path
) -> None:
    folder = tmp_path / "camera"
    folder.mkdir()
    take(folder, "old.png", 1_000_000)
    slot = photo_slot(page.job)
    step = opened(page, slot)
    assert isinstance(step.editor, Picture)
    dialogs.answers["folder"] = [folder]
    press(qtbot, step.editor, "the camera's folder…")
    new = take(folder, "new.png", 2_000_000)
    qtbot.waitUntil(lambda: list(step.editor.offered) == [new, folder / "old.png"])
    qtbot.waitUntil(lambda: not step.editor.offered[new].icon().isNull())
    qtbot.mouseClick(step.editor.offered[new], LEFT)
    assert page.job.file.blob(stands(page, slot).typed) == new.read_bytes()  # the original, as it is
    step = opened(page, slot)
    assert isinstance(step.editor, Picture)
    assert not step.editor._shown.pixmap().isNull()


# ------------------------------------------------------------------------------- another tractor


def test_that_another_tractor_is_offered_with_what_it_would_do(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], dialogs: Any
) -> None:
    job = start(0, "healthy.toml")
    window = Window(session)
    qtbot.addWidget(window)
    window.take_job(job)
    window.show()
    page = window.page
    assert isinstance(page, JobPage)
    step = opened(page, Slot("hitch", "height", "left"))
    other = session.profiles / "tractors" / "tractor-no-float.toml"
    dialogs.answers |= {"open_file": [other, other], "sure": [False, True], "reason": ["sold"]}
    press(qtbot, step.under, "another tractor…")
    assert window.page is page  # turned back
    press(qtbot, step.under, "another tractor…")
    assert any("become out of date" in asked for kind, asked in dialogs.asked if kind == "sure")
    assert window.page is not page
    assert job.record.changes["tractor"]
    window.job = None
