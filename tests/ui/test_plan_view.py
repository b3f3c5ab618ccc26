"""The machine as a map: what it shows, and how a part is chosen by finger, mouse and keyboard."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from rakeprep.drawing.plan import Plan, plan
from rakeprep.model.verdict import Verdict
from rakeprep.paths import resources
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.text import ENGLISH
from rakeprep.ui.dialogs import Dialogs
from rakeprep.ui.plan_marks import Mark
from rakeprep.ui.plan_view import PlanView, reading_order
from rakeprep.ui.session import Session
from rakeprep.ui.theme import DIM, GLOVES

SMALLEST = 18  # px; a symbol must not get smaller (the rule given for this view)


@cache
def sample_plan(number: int = 0) -> Plan:
    machine, tractor = sample_machines()[number], sample_tractors()[0]
    profile = read_profile(load_text(machine), machine.name).value
    pulled_by = read_tractor(load_text(tractor), tractor.name).value
    assert profile is not None
    assert pulled_by is not None
    return plan(profile, pulled_by)


@pytest.fixture
def session(tmp_path: Path, clock: Callable[[], dt.datetime]) -> Session:
    return Session(
        data=tmp_path,
        resources=resources(),
        profiles=tmp_path,
        languages={"en": ENGLISH},
        language=ENGLISH,
        dialogs=cast("Dialogs", None),
        clock=clock,
    )


VERDICTS = {
    "hitch": Verdict.IN_ORDER,
    "driveline": Verdict.NOT_YET,
    "rotor-left": Verdict.IN_ORDER,
    "arm-LA01": Verdict.IN_ORDER,
    "arm-LA02": Verdict.PUT_RIGHT,
    "rotor-right": Verdict.NOT_YET,
    "axle": Verdict.STOP,
}
NAMES = {part: f"the {part}" for part in VERDICTS}


@pytest.fixture
def view(qtbot: QtBot, session: Session) -> PlanView:
    made = PlanView(session)
    qtbot.addWidget(made)
    made.resize(600, 700)
    made.show_job(sample_plan(), VERDICTS, frozenset(), NAMES)
    made.show()
    return made


def mark_of(view: PlanView, part: str) -> Mark:
    return next(mark for mark in view.marks() if mark.part == part)


def tab_into(view: PlanView) -> None:
    """Enter the view by the tabulator key; the window may have given it the focus before."""
    view.clearFocus()
    view.setFocus(Qt.FocusReason.TabFocusReason)


def click(qtbot: QtBot, view: PlanView, at: QPointF) -> None:
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(round(at.x()), round(at.y())))


def chosen_by_click(qtbot: QtBot, view: PlanView, at: QPointF) -> str:
    with qtbot.waitSignal(view.part_chosen) as waiting:
        click(qtbot, view, at)
    return str(waiting.args[0])


def test_that_each_group_shows_its_worst_part(view: PlanView) -> None:
    shown = {mark.part: mark.verdict for mark in view.marks()}
    assert shown == {
        "hitch": Verdict.IN_ORDER,
        "driveline": Verdict.NOT_YET,
        "arm-LA02": Verdict.PUT_RIGHT,
        "rotor-right": Verdict.NOT_YET,
        "axle": Verdict.STOP,
    }


def test_that_parts_of_the_open_step_have_marks_of_their_own(view: PlanView) -> None:
    view.show_job(sample_plan(), VERDICTS, frozenset({"arm-LA01", "arm-LA02"}), NAMES)
    plates = {mark.part for mark in view.marks() if mark.plate}
    assert plates == {"arm-LA01", "arm-LA02"}
    assert mark_of(view, "rotor-left").verdict is Verdict.IN_ORDER


@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize("size", [(430, 460), (600, 700), (300, 300), (900, 320)])
def test_that_no_two_symbols_cover_each_other(view: PlanView, number: int, size: tuple[int, int]) -> None:
    every = sample_plan(number)
    view.resize(*size)
    for current in (frozenset[str](), frozenset(part for part in every.anchors if part.startswith("arm-"))):
        view.show_job(every, dict.fromkeys(every.anchors, Verdict.NOT_YET), current, {})
        marks = view.marks()
        for place, mark in enumerate(marks):
            assert mark.side >= SMALLEST
            for other in marks[:place]:
                apart = mark.at - other.at
                between = (apart.x() ** 2 + apart.y() ** 2) ** 0.5
                assert between >= (mark.side + other.side) / 2


def test_that_a_click_on_a_symbol_chooses_its_part(qtbot: QtBot, view: PlanView) -> None:
    assert chosen_by_click(qtbot, view, mark_of(view, "axle").at) == "axle"


def test_that_a_click_near_a_symbol_is_enough(qtbot: QtBot, view: PlanView) -> None:
    # 24 px is the reach given for this view; 20 px to the side lies within
    assert chosen_by_click(qtbot, view, mark_of(view, "axle").at + QPointF(20, 0)) == "axle"


def test_that_a_part_without_a_symbol_can_be_clicked_where_it_is(qtbot: QtBot, view: PlanView) -> None:
    view.setFocus()
    view.show_job(sample_plan(), VERDICTS, frozenset({"arm-LA01"}), NAMES)
    at = mark_of(view, "arm-LA01").at
    view.show_job(sample_plan(), VERDICTS, frozenset(), NAMES)
    assert chosen_by_click(qtbot, view, at) == "arm-LA01"


def test_that_a_click_anywhere_in_a_rotor_chooses_it(qtbot: QtBot, view: PlanView) -> None:
    # halfway from the centre to the rim, far from any part that is offered there
    at = mark_of(view, "rotor-right").at + QPointF(40, 60)
    assert chosen_by_click(qtbot, view, at) == "rotor-right"


def test_that_a_click_on_bare_ground_chooses_nothing(qtbot: QtBot, view: PlanView) -> None:
    with qtbot.assertNotEmitted(view.part_chosen):
        click(qtbot, view, QPointF(8, 600))
    assert view.focused_part is None


def test_that_the_right_button_chooses_nothing(qtbot: QtBot, view: PlanView) -> None:
    at = mark_of(view, "axle").at.toPoint()
    with qtbot.assertNotEmitted(view.part_chosen):
        qtbot.mouseClick(view, Qt.MouseButton.RightButton, pos=at)


def test_that_parts_are_read_from_the_front_and_from_left_to_right() -> None:
    # sample rake A from above: hitch ahead of the rotors, the rotors beside each other, then the axle
    mixed = ["axle", "arm-LA02", "rotor-right", "rotor-left", "hitch", "arm-LA01"]
    order = ["hitch", "rotor-left", "arm-LA01", "arm-LA02", "rotor-right", "axle"]
    assert reading_order(sample_plan(), mixed) == order


def test_that_tab_reaches_the_first_part_of_the_open_step(qtbot: QtBot, view: PlanView) -> None:
    view.show_job(sample_plan(), VERDICTS, frozenset({"rotor-right"}), NAMES)
    tab_into(view)
    assert view.focused_part == "rotor-right"


def test_that_right_and_left_visit_every_part(qtbot: QtBot, view: PlanView) -> None:
    order = reading_order(sample_plan(), list(VERDICTS))
    tab_into(view)
    seen = [view.focused_part]
    for _ in range(len(order) + 2):
        qtbot.keyClick(view, Qt.Key.Key_Right)
        seen.append(view.focused_part)
    assert seen == [*order, order[-1], order[-1], order[-1]]
    qtbot.keyClick(view, Qt.Key.Key_Left)
    assert view.focused_part == order[-2]


def test_that_up_and_down_go_from_group_to_group(qtbot: QtBot, view: PlanView) -> None:
    tab_into(view)
    qtbot.keyClick(view, Qt.Key.Key_End)
    assert view.focused_part == "axle"
    qtbot.keyClick(view, Qt.Key.Key_Up)
    assert view.focused_part == "rotor-right"
    qtbot.keyClick(view, Qt.Key.Key_Up)
    assert view.focused_part == "rotor-left"
    qtbot.keyClick(view, Qt.Key.Key_Down)
    assert view.focused_part == "rotor-right"


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_that_a_key_chooses_the_focused_part(qtbot: QtBot, view: PlanView, key: Qt.Key) -> None:
    tab_into(view)
    qtbot.keyClick(view, Qt.Key.Key_End)
    with qtbot.waitSignal(view.part_chosen) as waiting:
        qtbot.keyClick(view, key)
    assert waiting.args == ["axle"]


def test_that_the_focused_part_is_told_in_words(qtbot: QtBot, view: PlanView) -> None:
    assert view.accessibleName() == "Machine from above"
    tab_into(view)
    qtbot.keyClick(view, Qt.Key.Key_End)
    assert view.line() == "the axle: stop"
    assert view.accessibleName() == "the axle"
    assert view.accessibleDescription() == "stop"


def test_that_a_new_verdict_of_the_focused_part_is_told(qtbot: QtBot, view: PlanView) -> None:
    tab_into(view)
    qtbot.keyClick(view, Qt.Key.Key_End)
    view.show_job(sample_plan(), {**VERDICTS, "axle": Verdict.IN_ORDER}, frozenset(), NAMES)
    assert view.accessibleDescription() == "in order"


def test_that_a_part_that_goes_away_loses_the_focus(qtbot: QtBot, view: PlanView) -> None:
    tab_into(view)
    qtbot.keyClick(view, Qt.Key.Key_End)
    view.show_job(sample_plan(), {"hitch": Verdict.IN_ORDER}, frozenset(), NAMES)
    assert view.focused_part is None


def test_that_the_focused_part_has_its_own_symbol(qtbot: QtBot, view: PlanView) -> None:
    tab_into(view)
    while view.focused_part != "arm-LA01":
        qtbot.keyClick(view, Qt.Key.Key_Right)
    assert mark_of(view, "arm-LA01").verdict is Verdict.IN_ORDER
    assert mark_of(view, "arm-LA02").verdict is Verdict.PUT_RIGHT


def test_that_an_unknown_part_is_shown_at_the_nearest(view: PlanView) -> None:
    view.show_job(sample_plan(), {"wheel-X9": Verdict.STOP}, frozenset({"wheel-X9"}), {})
    assert mark_of(view, "wheel-X9").verdict is Verdict.STOP
    assert view.name_of("wheel-X9") == "wheel-X9"


def test_that_an_empty_view_can_be_painted_and_clicked(qtbot: QtBot, session: Session) -> None:
    empty = PlanView(session)
    qtbot.addWidget(empty)
    empty.show()
    empty.grab()
    with qtbot.assertNotEmitted(empty.part_chosen):
        click(qtbot, empty, QPointF(20, 20))
        qtbot.keyClick(empty, Qt.Key.Key_Return)
        qtbot.keyClick(empty, Qt.Key.Key_Down)


def test_that_parts_of_the_open_step_stand_out(view: PlanView) -> None:
    # a point of the left rotor between its arms: it is filled when the rotor is worked on
    before = view.grab().toImage()
    view.show_job(sample_plan(), VERDICTS, frozenset({"rotor-left"}), NAMES)
    after = view.grab().toImage()
    assert before != after
    assert view.grab().toImage() == after


def test_that_the_dim_theme_is_followed(qtbot: QtBot, session: Session) -> None:
    dim = PlanView(dataclasses.replace(session, theme=DIM, size=GLOVES))
    qtbot.addWidget(dim)
    dim.show_job(sample_plan(1), VERDICTS, frozenset(), NAMES)
    dim.resize(430, 460)
    dim.show()
    assert dim.grab().toImage().pixelColor(2, 2) == QColor(DIM.ground)


def test_that_a_small_drawing_is_not_hidden_by_its_marks(view: PlanView) -> None:
    every = sample_plan()
    arms = frozenset(part for part in every.anchors if part.startswith("arm-"))
    view.session.size = GLOVES
    view.resize(430, 420)
    view.show_job(every, dict.fromkeys(every.anchors, Verdict.NOT_YET), arms | {"hitch"}, {})
    plates = [mark for mark in view.marks() if mark.plate]
    assert "hitch" in {mark.part for mark in plates}
    assert len(plates) <= 3  # of each rotor's arms only the worst
    view.resize(1200, 1200)
    assert arms <= {mark.part for mark in view.marks()}
