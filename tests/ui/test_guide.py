"""What stands beside the page of a step, and what gives way where letters or targets are large."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from rakeprep.drawing.signs import SIGNS
from rakeprep.model.entry import Slot
from rakeprep.ui.cautions import CautionGate, CautionSign
from rakeprep.ui.flow import Flow
from rakeprep.ui.guide import Pane
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.keys import Key
from rakeprep.ui.theme import DESK, GLOVES, LETTERS, Size


@pytest.mark.parametrize(
    ("size", "pixels", "seen"),
    [
        (DESK, (1366, 768), {"map", "steps", "task"}),
        (GLOVES, (1366, 768), {"map", "task"}),
        (GLOVES, (1920, 1080), {"map", "task"}),
        (DESK.at(200), (1366, 768), {"task"}),
    ],
    ids=["desk", "gloves", "gloves, large", "twice the letters"],
)
def test_that_what_has_no_room_gives_way(
    scenes, tmp_path: Path, qapp: QApplication, size: Size, pixels: tuple[int, int], seen: set[str]
) -> None:
    with scenes.window(tmp_path, scenes.Look(size=size, pixels=pixels)) as window:
        scenes.show(window, "levelling")
        page = window.page
        assert isinstance(page, JobPage)

        def shown() -> set[str]:
            scenes.settle()
            parts = {"map": page.plan_view, "steps": page.step_keys, "task": page._page_holder}
            return {name for name, widget in parts.items() if widget.isVisible()}

        assert shown() == seen
        if seen == {"map", "steps", "task"}:
            return
        page.guide.turn(Pane.STEPS)
        assert shown() == ({"steps"} if seen == {"task"} else {"steps", "task"})
        page.step_keys.chosen.emit("tyres")
        assert "task" in shown()
        assert page.at is not None
        assert page.at.step == "tyres"


def test_that_letters_grow_and_shrink_by_keyboard(
    scenes, tmp_path: Path, qapp: QApplication, qtbot: QtBot
) -> None:
    with scenes.window(tmp_path, scenes.Look()) as window:
        scenes.show(window, "levelling")
        at = window.page.at
        for percent in (*LETTERS[1:], LETTERS[-1]):  # it stays at the largest
            qtbot.keyClick(window, Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier)
            assert window.session.size.percent == percent
            assert window.page.at == at
        for percent in (*LETTERS[-2::-1], LETTERS[0]):
            qtbot.keyClick(window, Qt.Key.Key_Minus, Qt.KeyboardModifier.ControlModifier)
            assert window.session.size.percent == percent


def test_that_a_caution_is_read_first_and_then_stays(scenes, tmp_path: Path, qapp: QApplication) -> None:
    with scenes.window(tmp_path, scenes.Look()) as window:
        scenes.show(window, "cautions")
        page, job = window.page.page, window.job
        cautions = next(s.cautions for s in job.assessment.steps if s.key == scenes.UNREAD)

        def signs(inside) -> list[str]:
            return [one.sign for one in inside.findChildren(CautionSign) if one.isVisible()]

        assert isinstance(page.editor, CautionGate)
        assert signs(page) == [caution.sign for caution in cautions]
        assert set(signs(page)) <= set(SIGNS)
        page.editor.first.click()
        for state in job.assessment.of_step(scenes.UNREAD)[::7]:
            window.page.open(Slot.read(str(state.task.slot)))
            scenes.settle()
            assert not isinstance(window.page.page.editor, CautionGate)
            assert signs(window.page.page) == [caution.sign for caution in cautions]


def test_that_the_first_entry_is_in_view_under_three_cautions(
    scenes, tmp_path: Path, qapp: QApplication
) -> None:
    with scenes.window(tmp_path, scenes.Look(language="pl")) as window:
        scenes.show(window, "test_run")
        editor = window.page.page.editor
        assert editor.first is not None
        assert editor.first.visibleRegion().boundingRect() == editor.first.rect()


def test_that_a_key_breaks_its_words_where_room_is_scarce(qtbot: QtBot, session) -> None:
    one = Key("leave this for later")
    qtbot.addWidget(one)
    one.resize(one.sizeHint())
    whole = one.sizeHint().width()
    assert one.heightForWidth(whole) == one.sizeHint().height()
    assert one.minimumSizeHint().width() < whole
    assert one.heightForWidth(one.minimumSizeHint().width()) > one.sizeHint().height()
    assert one.minimumSizeHint().width() >= one.minimumSizeHint().height()  # a finger is round


def test_that_a_row_breaks_where_it_is_too_long(qtbot: QtBot, session) -> None:
    holder, row = QWidget(), Flow(10)
    row.setContentsMargins(0, 0, 0, 0)
    holder.setLayout(row)
    qtbot.addWidget(holder)
    keys = [Key("one"), Key("two"), Key("three")]
    for one in keys:
        row.addWidget(one)
    holder.show()
    long = row.sizeHint().width()
    high = keys[0].sizeHint().height()
    # by hand: three in a row, then two and one, then one below the other, 10 px between
    assert row.heightForWidth(long) == high
    assert row.heightForWidth(long - 1) == 2 * high + 10
    assert row.heightForWidth(keys[2].sizeHint().width()) == 3 * high + 20
