"""Answering on a step's page: what is typed is stored or kept, and the page says which."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Ask, Need
from rakeprep.model.verdict import Verdict
from rakeprep.store.job_file import StoreError
from rakeprep.text import msg
from rakeprep.ui.cautions import CautionGate
from rakeprep.ui.fields.picked import Done, Picked
from rakeprep.ui.fields.written import Day, Number, Words, Written
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.session import Session
from rakeprep.ui.step_page import StepPage

FULL = "The disk is full."


def address(job: OpenJob, ask: Ask, **wanted: object) -> Slot:
    """The first question that is answered in this way."""
    for slot, state in job.assessment.states.items():
        field = state.task.field
        if field.ask is ask and all(getattr(field, name) == value for name, value in wanted.items()):
            return slot
    raise AssertionError(ask)


def opened(page: JobPage, slot: Slot) -> StepPage:
    page.open(slot)
    assert isinstance(page.page, StepPage)
    return page.page


def line_of(page: JobPage) -> Any:
    assert isinstance(page.page, StepPage)
    assert isinstance(page.page.editor, Written)
    return page.page.editor.line


def type_in(qtbot: QtBot, page: JobPage, text: str, enter: bool = True) -> None:
    line = line_of(page)
    line.selectAll()
    qtbot.keyClicks(line, text)
    if enter:
        qtbot.keyClick(line, Qt.Key.Key_Return)


def entry(page: JobPage, slot: Slot) -> Entry | None:
    return page.job.record.entries.get(slot)


def typed(page: JobPage, slot: Slot) -> str | None:
    found = entry(page, slot)
    return None if found is None else found.typed


def refusal(page: JobPage) -> str:
    assert isinstance(page.page, StepPage)
    label = page.page._refusal
    return "" if label.isHidden() else label.text()


def button(page: JobPage, text: str) -> QPushButton:
    assert page.page is not None
    keys = [b for b in page.page.findChildren(QPushButton) if b.text() == text]
    return next(b for b in keys if b.objectName() != "store")  # the pad has one of its own


class Broken:
    """A disk on which nothing can be written until ``mend`` is called."""

    def __init__(self, job: OpenJob, monkeypatch: pytest.MonkeyPatch) -> None:
        self.append = job.file.append
        self.broken = True
        monkeypatch.setattr(job.file, "append", self)

    def __call__(self, body: Any) -> Any:
        if self.broken:
            raise StoreError(msg("The disk is full."))
        return self.append(body)


# ------------------------------------------------------------------------------- typing


def test_that_enter_stores_a_reading_and_goes_on(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    type_in(qtbot, page, "25")
    found = entry(page, slot)
    assert found is not None
    assert (found.typed, found.unit, found.who) == ("25", "mm", "Technician One")
    assert isinstance(page.page, StepPage)
    assert page.page.slot == Slot("levelling", "clearance", "left-10")


def test_that_the_next_task_is_ready_for_typing(qtbot: QtBot, page: JobPage) -> None:
    opened(page, Slot("levelling", "clearance", "left-9"))
    type_in(qtbot, page, "25")
    assert QApplication.focusWidget() is line_of(page)
    assert line_of(page).text() == ""


def test_that_the_page_says_when_it_was_stored(qtbot: QtBot, page: JobPage) -> None:
    opened(page, Slot("levelling", "clearance", "left-9"))
    type_in(qtbot, page, "25 mm")
    assert isinstance(page.page, StepPage)
    assert page.page._last.text().startswith("Stored ")
    assert "25 mm" in page.page._last.text()
    assert "entries" in page.head.stored.text()


def test_that_another_unit_key_is_the_unit_of_the_reading(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    assert isinstance(page.page, StepPage)
    inches = next(b for b in page.page.editor.findChildren(QPushButton) if b.text() == "in")
    qtbot.mouseClick(inches, Qt.MouseButton.LeftButton)
    type_in(qtbot, page, "1 3/16")
    found = entry(page, slot)
    assert found is not None
    assert found.unit == "in"
    assert found.number == pytest.approx(0.0301625)  # 1.1875 × 25.4 mm, by hand (inch: ISO 80000-3)


def test_that_the_pad_types(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    assert isinstance(page.page, StepPage)
    assert isinstance(page.page.editor, Number)
    keys = {b.text(): b for b in page.page.pad.findChildren(QPushButton)}
    for sign in ("2", "7", "←", "5", "½"):
        qtbot.mouseClick(keys[sign], Qt.MouseButton.LeftButton)
    assert line_of(page).text() == "25½"
    qtbot.keyClick(line_of(page), Qt.Key.Key_Return)
    assert typed(page, slot) == "25½"


def test_that_what_it_was_measured_with_is_kept_and_offered_again(qtbot: QtBot, page: JobPage) -> None:
    first = address(page.job, Ask.QUANTITY)
    for slot, state in page.job.assessment.states.items():
        if state.task.field.instrument and state.task.field.ask is Ask.QUANTITY and slot.place:
            first = slot
            break
    opened(page, first)
    assert isinstance(page.page, StepPage)
    assert isinstance(page.page.editor, Number)
    assert page.page.editor.tool is not None
    qtbot.keyClicks(page.page.editor.tool, "calliper 2")
    type_in(qtbot, page, "12")
    found = entry(page, first)
    assert found is not None
    assert found.instrument == "calliper 2"
    same = page.job.assessment.states[first].task.field
    other = next(
        s for s, state in page.job.assessment.states.items() if state.task.field == same and s != first
    )
    opened(page, other)
    assert page.page.editor.tool.text() == "calliper 2"


@pytest.mark.parametrize("text", ["2,4,5", "1,234", "9**9**9 m", "NaN", "12 bar", "٣"])
def test_that_text_that_cannot_be_read_is_refused_in_a_sentence_and_stays(
    qtbot: QtBot, page: JobPage, text: str
) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    line_of(page).setText(text)
    qtbot.keyClick(line_of(page), Qt.Key.Key_Return)
    assert entry(page, slot) is None
    assert refusal(page).endswith(".")
    assert line_of(page).text() == text


def test_that_a_minus_from_a_word_processor_is_read(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    line_of(page).setText("−5")  # the test's keyboard has ASCII keys only
    qtbot.keyClick(line_of(page), Qt.Key.Key_Return)
    assert entry(page, slot) is not None


def test_that_a_megabyte_of_text_is_refused_at_once(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    line_of(page).setText("9" * 1_000_000)
    qtbot.keyClick(line_of(page), Qt.Key.Key_Return)
    assert entry(page, slot) is None
    assert refusal(page)


def test_that_unreadable_text_is_a_draft_that_comes_back_with_its_sentence(
    qtbot: QtBot, page: JobPage
) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    type_in(qtbot, page, "2,4,5", enter=False)
    opened(page, Slot("tyres", "workshop_temperature"))
    opened(page, slot)
    assert line_of(page).text() == "2,4,5"
    assert refusal(page)


def test_that_a_draft_comes_back_with_its_unit(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    step = opened(page, slot)
    assert step.editor is not None
    inches = next(b for b in step.editor.findChildren(QPushButton) if b.text() == "in")
    qtbot.mouseClick(inches, Qt.MouseButton.LeftButton)
    type_in(qtbot, page, "1,2,3", enter=False)
    opened(page, Slot("tyres", "workshop_temperature"))
    step = opened(page, slot)
    assert step.editor is not None
    assert step.editor.unit() == "in"


def test_that_a_draft_that_was_wiped_is_gone(qtbot: QtBot, page: JobPage, session: Session) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    type_in(qtbot, page, "2,4,5")
    assert session.drafts
    line_of(page).clear()
    opened(page, Slot("tyres", "workshop_temperature"))
    assert session.drafts == {}


def test_that_leaving_stores_what_stands_in_the_editor(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    type_in(qtbot, page, "25", enter=False)
    qtbot.mouseClick(button(page, "next ▸"), Qt.MouseButton.LeftButton)
    assert typed(page, slot) == "25"


@pytest.mark.parametrize("way", ["other step", "handover", "close"])
def test_that_every_way_out_stores_what_stands_in_the_editor(qtbot: QtBot, page: JobPage, way: str) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    type_in(qtbot, page, "25", enter=False)
    match way:
        case "other step":
            page.open_step("tyres")
        case "handover":
            page.open_signing()
        case "close":
            page.leave()
    assert typed(page, slot) == "25"


def test_that_another_unit_alone_is_stored_on_leaving(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    page.job.commit(slot, "2", "Technician One", "mm")
    step = opened(page, slot)
    assert step.editor is not None
    inches = next(b for b in step.editor.findChildren(QPushButton) if b.text() == "in")
    qtbot.mouseClick(inches, Qt.MouseButton.LeftButton)
    opened(page, Slot("tyres", "workshop_temperature"))
    found = entry(page, slot)
    assert found is not None
    assert found.unit == "in"


def test_that_enter_on_a_settled_answer_only_goes_on(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("hitch", "category")
    page.job.commit(slot, "2", "Technician One")
    assert page.job.assessment.states[slot].verdict is Verdict.IN_ORDER
    before = page.job.record.count
    step = opened(page, slot)
    assert isinstance(step.editor, Picked)
    qtbot.keyClick(step.editor.keys["2"], Qt.Key.Key_Return)
    assert page.job.record.count == before
    assert isinstance(page.page, StepPage)
    assert page.page.slot != slot


def test_that_the_option_already_chosen_is_a_second_reading_by_somebody_else(
    qtbot: QtBot, page: JobPage
) -> None:
    slot = Slot("hitch", "category")
    page.job.commit(slot, "2", "Technician One")
    page.session.works_as("Technician Two")
    step = opened(page, slot)
    assert isinstance(step.editor, Picked)
    qtbot.keyClick(step.editor.keys["2"], Qt.Key.Key_Return)
    history = page.job.record.history[slot]
    assert [(each.typed, each.who) for each in history] == [("2", "Technician One"), ("2", "Technician Two")]


def test_that_words_are_stored(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("arrival", "designation")
    step = opened(page, slot)
    assert isinstance(step.editor, Words)
    type_in(qtbot, page, "SAMPLE-A-212")
    assert typed(page, slot) == "SAMPLE-A-212"


def test_that_today_is_the_day_of_the_clock(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("arrival", "delivered")
    step = opened(page, slot)
    assert isinstance(step.editor, Day)
    qtbot.mouseClick(button(page, "today"), Qt.MouseButton.LeftButton)
    assert typed(page, slot) == "2026-04-14"  # the clock of the test stands on that day


def test_that_a_date_in_another_order_is_refused(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("arrival", "delivered")
    opened(page, slot)
    type_in(qtbot, page, "04/05/2026")
    assert entry(page, slot) is None
    assert "year-month-day" in refusal(page)


# ------------------------------------------------------------------------------- picking


def test_that_a_key_of_a_choice_is_an_answer(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("arms", "hand", "LA01")
    step = opened(page, slot)
    assert isinstance(step.editor, Picked)
    qtbot.keyClick(step.editor.keys["left"], Qt.Key.Key_Space)
    assert typed(page, slot) == "left"
    assert isinstance(page.page, StepPage)
    assert page.page.slot == Slot("arms", "hand", "LA02")


def test_that_several_lamps_are_stored_together(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("lights", "lit", "right-tail")
    step = opened(page, slot)
    assert isinstance(step.editor, Picked)
    for lamp in ("tail-right", "plate"):
        qtbot.keyClick(step.editor.keys[lamp], Qt.Key.Key_Space)
    assert entry(page, slot) is None
    qtbot.mouseClick(button(page, "store"), Qt.MouseButton.LeftButton)
    found = entry(page, slot)
    assert found is not None
    assert found.chosen == {"tail-right", "plate"}


def test_that_none_of_them_is_an_answer(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("lights", "lit", "right-tail")
    opened(page, slot)
    qtbot.mouseClick(button(page, "none of them"), Qt.MouseButton.LeftButton)
    assert typed(page, slot) == "none"


def test_that_several_lamps_are_stored_on_leaving(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("lights", "lit", "right-tail")
    step = opened(page, slot)
    assert isinstance(step.editor, Picked)
    qtbot.keyClick(step.editor.keys["plate"], Qt.Key.Key_Space)
    page.open_step("tyres")
    assert typed(page, slot) == "plate"


def test_that_a_thing_done_carries_the_name(qtbot: QtBot, page: JobPage) -> None:
    slot = address(page.job, Ask.DONE)
    step = opened(page, slot)
    assert isinstance(step.editor, Done)
    assert "Technician One" in step.editor.done.text()
    qtbot.keyClick(step.editor.done, Qt.Key.Key_Return)
    assert typed(page, slot) == "done"


def test_that_a_picture_is_kept_with_the_job(
    qtbot: QtBot, page: JobPage, dialogs: Any, tmp_path: Path
) -> None:
    picture = tmp_path / "load.png"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n" + b"picture")
    slot = address(page.job, Ask.PHOTO)
    opened(page, slot)
    dialogs.answers["open_file"] = [picture]
    qtbot.mouseClick(button(page, "choose a picture…"), Qt.MouseButton.LeftButton)
    found = entry(page, slot)
    assert found is not None
    assert page.job.file.blob(found.typed).startswith(b"\x89PNG")
    assert found.reason == "load.png"


def test_that_a_file_that_is_no_picture_is_refused(
    qtbot: QtBot, page: JobPage, dialogs: Any, tmp_path: Path
) -> None:
    other = tmp_path / "load.png"
    other.write_text("no picture")
    slot = address(page.job, Ask.PHOTO)
    opened(page, slot)
    dialogs.answers["open_file"] = [other, tmp_path / "gone.png"]
    for _ in range(2):
        qtbot.mouseClick(button(page, "choose a picture…"), Qt.MouseButton.LeftButton)
    assert entry(page, slot) is None
    assert ["JPEG" in told or "cannot be read" in told for told in dialogs.told] == [True, True]


# ------------------------------------------------------------------------------- cautions


def test_that_the_caution_comes_before_the_first_question(
    qtbot: QtBot, session: Session, job: OpenJob
) -> None:
    page = JobPage(session, job)
    qtbot.addWidget(page)
    with qtbot.waitActive(page):
        page.show()
    step = opened(page, Slot("levelling", "clearance", "left-9"))
    assert isinstance(step.editor, CautionGate)
    assert step.editor.first is QApplication.focusWidget()
    qtbot.keyClick(step.editor.first, Qt.Key.Key_Return)
    assert job.record.cautions_read["levelling"] == "Technician One"
    assert isinstance(step.editor, Number)


# ------------------------------------------------------------------------------- other ways to answer


def left_for_later(job: OpenJob) -> Slot:
    return next(
        slot
        for slot, state in job.assessment.states.items()
        if state.task.field.need is Need.OPEN and not state.task.field.two_people
    )


def test_that_a_task_is_left_for_later_with_reason_and_day(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    slot = left_for_later(page.job)
    opened(page, slot)
    dialogs.answers["reason"] = ["the part is ordered", "1 May, workshop"]
    qtbot.mouseClick(button(page, "leave for later…"), Qt.MouseButton.LeftButton)
    later = page.job.record.later[slot]
    assert (later.reason, later.due, later.who) == (
        "the part is ordered",
        "1 May, workshop",
        "Technician One",
    )


def test_that_turning_back_leaves_nothing(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    slot = left_for_later(page.job)
    opened(page, slot)
    before = page.job.record.count
    for text in ("leave for later…", "not on this machine…"):
        qtbot.mouseClick(button(page, text), Qt.MouseButton.LeftButton)
    assert len(dialogs.asked) == 2
    assert page.job.record.count == before
    assert isinstance(page.page, StepPage)
    assert page.page.slot == slot


def test_that_an_empty_reason_is_refused_in_a_sentence(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    slot = left_for_later(page.job)
    opened(page, slot)
    dialogs.answers["reason"] = ["  "]
    qtbot.mouseClick(button(page, "not on this machine…"), Qt.MouseButton.LeftButton)
    assert dialogs.told == ["A reason is missing; write in a few words why."]


def test_that_what_the_machine_must_have_cannot_be_left(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    slot = next(s for s, state in page.job.assessment.states.items() if state.task.field.need is Need.MUST)
    opened(page, slot)
    dialogs.answers["reason"] = ["no time", ""]
    qtbot.mouseClick(button(page, "leave for later…"), Qt.MouseButton.LeftButton)
    assert page.job.record.later == {}
    assert len(dialogs.told) == 1


def test_that_a_thing_may_not_be_on_this_machine(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    slot = left_for_later(page.job)
    opened(page, slot)
    dialogs.answers["reason"] = ["none fitted"]
    qtbot.mouseClick(button(page, "not on this machine…"), Qt.MouseButton.LeftButton)
    found = entry(page, slot)
    assert found is not None
    assert (found.how, found.reason) == (How.ABSENT, "none fitted")
    step = opened(page, slot)
    assert any("none fitted" in card.accessibleName() for card in step._findings.cards)


def test_that_a_second_name_confirms_what_cannot_be_undone(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    slot = Slot("fasteners", "bolts_out", "arms")
    step = opened(page, slot)
    assert step._confirm.isHidden()
    type_in(qtbot, page, "12")
    step = opened(page, slot)
    assert not step._confirm.isHidden()
    dialogs.answers["name"] = ["technician one"]
    qtbot.mouseClick(step._confirm, Qt.MouseButton.LeftButton)
    assert "somebody else" in dialogs.told[0]
    dialogs.answers["name"] = ["Technician Two"]
    qtbot.mouseClick(step._confirm, Qt.MouseButton.LeftButton)
    found = entry(page, slot)
    assert found is not None
    assert found.confirmed_by == "Technician Two"
    assert "Technician Two" in page.session.people


def test_that_the_name_in_the_head_stands_on_the_entries(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    name = page.head.who.lineEdit()
    assert name is not None
    name.selectAll()
    qtbot.keyClicks(name, "Technician Two")
    opened(page, slot)
    type_in(qtbot, page, "25")
    found = entry(page, slot)
    assert found is not None
    assert found.who == "Technician Two"


def test_that_a_short_name_does_not_grow_into_a_longer_one(qtbot: QtBot, page: JobPage) -> None:
    name = page.head.who.lineEdit()
    assert name is not None
    name.selectAll()
    qtbot.keyClicks(name, "Tech")
    assert page.session.who == "Tech"


def test_that_without_a_name_nothing_is_stored(qtbot: QtBot, page: JobPage) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    page.head.who.setCurrentText("")
    opened(page, slot)
    type_in(qtbot, page, "25")
    assert entry(page, slot) is None
    assert "name is missing" in refusal(page)
    assert line_of(page).text() == "25"


# ------------------------------------------------------------------------------- out of date


def test_that_an_answer_out_of_date_says_why_and_enter_renews_it(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    page = JobPage(session, start(0, "healthy.toml"))
    qtbot.addWidget(page)
    page.show()
    rests = Slot("levelling", "clearance", "left-12")
    opened(page, Slot("tyres", "pressure_set", "L1L"))
    type_in(qtbot, page, "2.10 bar")
    assert page.job.assessment.states[rests].verdict is Verdict.OUT_OF_DATE
    step = opened(page, rests)
    said = [card.accessibleName() for card in step._findings.cards]
    assert any(line.startswith("Out of date: ") and "Pressure" in line for line in said)
    before = entry(page, rests)
    qtbot.keyClick(line_of(page), Qt.Key.Key_Return)
    after = entry(page, rests)
    assert before is not None
    assert after is not None
    assert (after.typed, after.seq > before.seq) == (before.typed, True)
    assert page.job.assessment.states[rests].verdict is not Verdict.OUT_OF_DATE


def test_that_a_finding_keeps_the_page_and_shows_its_working(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    page = JobPage(session, start(0, "healthy.toml"))
    qtbot.addWidget(page)
    page.show()
    slot = Slot("tyres", "pressure_set", "L1L")
    step = opened(page, slot)
    type_in(qtbot, page, "1.2 bar")
    assert page.page is step
    assert step.slot == slot
    assert step._findings.cards[0].accessibleName().startswith("Put right: ")
    working = button(page, "show the working")
    qtbot.mouseClick(working, Qt.MouseButton.LeftButton)
    assert working.text() == "hide the working"


# ------------------------------------------------------------------------------- a disk that fails


def test_that_a_reading_stays_when_the_disk_fails(
    qtbot: QtBot, page: JobPage, dialogs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    slot = Slot("levelling", "clearance", "left-9")
    opened(page, slot)
    disk = Broken(page.job, monkeypatch)
    type_in(qtbot, page, "25")
    assert dialogs.told == [FULL]
    assert line_of(page).text() == "25"
    assert entry(page, slot) is None
    disk.broken = False
    qtbot.keyClick(line_of(page), Qt.Key.Key_Return)
    assert typed(page, slot) == "25"


def test_that_a_choice_is_not_lost_when_the_disk_fails(
    qtbot: QtBot, page: JobPage, dialogs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    slot = Slot("arms", "hand", "LA01")
    step = opened(page, slot)
    assert isinstance(step.editor, Picked)
    disk = Broken(page.job, monkeypatch)
    qtbot.mouseClick(step.editor.keys["left"], Qt.MouseButton.LeftButton)
    assert dialogs.told == [FULL]
    assert entry(page, slot) is None
    page.open_step("tyres")
    step = opened(page, slot)
    assert isinstance(step.editor, Picked)
    assert step.editor.keys["left"].isChecked()
    disk.broken = False
    page.open_step("tyres")
    assert typed(page, slot) == "left"


def test_that_a_thing_done_is_not_lost_when_the_disk_fails(
    qtbot: QtBot, page: JobPage, dialogs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    slot = address(page.job, Ask.DONE)
    step = opened(page, slot)
    assert isinstance(step.editor, Done)
    disk = Broken(page.job, monkeypatch)
    qtbot.mouseClick(step.editor.done, Qt.MouseButton.LeftButton)
    assert entry(page, slot) is None
    disk.broken = False
    page.open_step("tyres")
    assert typed(page, slot) == "done"


def test_that_a_reason_that_cannot_be_stored_is_said(
    qtbot: QtBot, page: JobPage, dialogs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened(page, left_for_later(page.job))
    Broken(page.job, monkeypatch)
    dialogs.answers["reason"] = ["none fitted"]
    qtbot.mouseClick(button(page, "not on this machine…"), Qt.MouseButton.LeftButton)
    assert dialogs.told == [FULL]


# ------------------------------------------------------------------------------- closing


def test_that_closing_with_unread_text_asks_first(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    opened(page, Slot("levelling", "clearance", "left-9"))
    type_in(qtbot, page, "2,4,5")
    dialogs.answers["sure"] = [False]
    with qtbot.assertNotEmitted(page.closed):
        page.leave()
    assert dialogs.asked[0][1].startswith("One entry is not stored")
    dialogs.answers["sure"] = [True]
    with qtbot.waitSignal(page.closed):
        page.leave()


def test_that_closing_with_everything_stored_does_not_ask(qtbot: QtBot, page: JobPage, dialogs: Any) -> None:
    with qtbot.waitSignal(page.closed):
        page.leave()
    assert dialogs.asked == []


def test_that_alt_and_an_arrow_go_back_and_forward(qtbot: QtBot, page: JobPage) -> None:
    page.resize(1000, 700)  # a window that grows loses the keyboard where there is no screen
    slots = list(page.job.assessment.states)
    step = opened(page, slots[2])
    for key, there in ((Qt.Key.Key_Right, slots[3]), (Qt.Key.Key_Left, slots[2])):
        qtbot.keyClick(QApplication.focusWidget(), key, Qt.KeyboardModifier.AltModifier)
        qtbot.waitUntil(lambda there=there: step.slot == there)
