"""The pictures of the steps: what they show and tell, and how a place on them is chosen."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rakeprep.drawing.clock import widest_gap
from rakeprep.jobs import answers
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.field import Ask
from rakeprep.model.profile import Wheel
from rakeprep.model.source import Sourced
from rakeprep.profiles import load_text, read_profile, sample_machines
from rakeprep.text import Language
from rakeprep.ui.bodies import body_for
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.wheel_plan import arranged
from rakeprep.ui.session import Session
from rakeprep.ui.theme import BRIGHT, DIM, GLOVES, Theme

SIZES = ((320, 300), (340, 560), (400, 460), (560, 400), (700, 700))  # px; the first is the smallest
PICTURES = {
    "joints": ("fasteners", "pins_in"),
    "shaft map": ("driveline", "distance"),
    "shaft, the cut": ("driveline", "cut"),
    "hose map": ("hydraulics", "remote"),
    "hose map, times": ("hydraulics", "time_out"),
    "hold": ("hydraulics", "hold"),
    "lamp board": ("lights", "lit"),
    "lamp board, glow": ("lights", "dim"),
    "boards": ("lights", "boards"),
    "wheel plan": ("tyres", "pressure_set"),
    "wheel plan, castors": ("tyres", "castor"),
    "arm ring": ("arms", "hand"),
    "arm ring, rotor": ("arms", "turning"),
    "arms past one place": ("levelling", "arm_clearance"),
    "clock face": ("levelling", "clearance"),
    "clock face, floor": ("levelling", "floor"),
    "clock face, adjuster": ("levelling", "turnbuckle"),
    "axle": ("levelling", "toe_front"),
    "latch gauge": ("guards", "depth"),
    "width gauge": ("width", "working"),
    "headland": ("width", "headland_clearance"),
    "run": ("test_run", "coast_down"),
}
FILLED = ("", "healthy.toml", "faulty.toml")
Started = Callable[..., OpenJob]
Made = Callable[[OpenJob, Slot], Body]


@pytest.fixture
def make(session: Session, qtbot: QtBot) -> Made:
    """Makes the picture of a task in the size that the window suggests."""

    def made(job: OpenJob, slot: Slot) -> Body:
        kind = body_for(slot)
        assert kind is not None
        body = kind(session)
        qtbot.addWidget(body)
        body.resize(400, 460)
        body.show_job(job, slot)
        return body

    return made


def focus(body: Body, qtbot: QtBot) -> None:
    """Bring the keyboard to a picture as the tabulator does, once its window has it."""
    with qtbot.waitActive(body):
        body.show()
    body.clearFocus()
    body.setFocus(Qt.FocusReason.TabFocusReason)


def first_slot(job: OpenJob, step: str, field: str) -> Slot:
    """The first place at which a question is asked."""
    return next(slot for slot in job.assessment.states if (slot.step, slot.field) == (step, field))


def fill(job: OpenJob, session: Session, name: str) -> None:
    """Enter what a sample file says, as far as this machine has the question at that place."""
    read = answers.read_answers((session.profiles / "answers" / name).read_text("utf-8"))
    answers.apply(read, job)


def fill_all(job: OpenJob, steps: frozenset[str]) -> None:
    """Enter something readable at every place of some steps: a machine with no sample answers of its own."""
    for number, (slot, state) in enumerate(list(job.assessment.states.items())):
        field = state.task.field
        if slot.step not in steps or slot in job.record.entries or field.ask in {Ask.PHOTO, Ask.DATE}:
            continue
        typed = {
            Ask.QUANTITY: str(10 + number % 7),
            Ask.COUNT: "3",
            Ask.CHOICE: field.options[number % len(field.options)].key if field.options else "",
            Ask.MANY: "none",
            Ask.TEXT: "x",
            Ask.DONE: "done",
        }[field.ask]
        job.commit(slot, typed, "Technician One")


@pytest.fixture(
    params=[(m, f) for m in (0, 1) for f in FILLED], ids=lambda p: f"{'AB'[p[0]]}-{p[1][:7] or 'empty'}"
)
def filled(request: pytest.FixtureRequest, start: Started, session: Session) -> OpenJob:
    """Both sample machines, with nothing entered, as in the healthy and as in the faulty answers."""
    machine, name = request.param
    job = start(machine)
    if name:
        fill(job, session, name)
    if name and machine:
        fill_all(job, frozenset({"levelling", "lights", "arms", "tyres", "guards", "test_run", "hydraulics"}))
    return job


def each_picture(job: OpenJob, make: Made) -> Iterator[tuple[str, Body]]:
    asked = {(slot.step, slot.field) for slot in job.assessment.states}
    for name, (step, field) in PICTURES.items():
        if (step, field) in asked:  # not every machine has a hold
            yield name, make(job, first_slot(job, step, field))


@pytest.mark.parametrize("theme", [BRIGHT, DIM], ids=lambda theme: theme.name)
def test_that_every_picture_is_drawn_in_every_size_with_its_words_inside(
    filled: OpenJob, make: Made, session: Session, theme: Theme
) -> None:
    session.theme = theme
    for name, body in each_picture(filled, make):
        for width, height in SIZES:
            body.resize(width, height)
            assert not body.grab().isNull()
            inside = QRectF(body.rect()).adjusted(-0.5, -0.5, 0.5, 0.5)
            outside = [w.text for w in body.written if not inside.contains(w.box)]
            assert outside == [], f"{name} at {width} × {height}"
            assert all(inside.contains(t.box) for t in body.targets), f"{name} at {width} × {height}"
            assert len(body.written) > 3, name


def test_that_no_words_lie_on_other_words(filled: OpenJob, make: Made) -> None:
    for name, body in each_picture(filled, make):
        for width, height in SIZES[2:]:
            body.resize(width, height)
            found = body.written
            for number, one in enumerate(found):
                smaller = one.box.adjusted(
                    1, 3, -1, -3
                )  # a row of words has space above and below its letters
                on = [
                    other.text
                    for other in found[:number]
                    if smaller.intersects(other.box.adjusted(1, 3, -1, -3))
                ]
                assert on == [], f"{name} at {width} × {height}: {one.text}"


def test_that_every_place_is_reached_and_told_by_the_keyboard(
    filled: OpenJob, make: Made, qtbot: QtBot
) -> None:
    for name, body in each_picture(filled, make):
        focus(body, qtbot)
        assert body.focused is not None, name
        qtbot.keyClick(body, Qt.Key.Key_Home)
        reached, told = [], []
        for _ in body.targets:
            reached.append(body.focused)
            told.append((body.accessibleName(), body.accessibleDescription()))
            qtbot.keyClick(body, Qt.Key.Key_Right)
        assert reached == [t.slot for t in body.targets], name
        assert all(all(words) for words in told), name
        assert len(set(told)) == len({n for n, _ in told}), name
        body.hide()


def test_that_the_verdict_is_told_in_words(start: Started, make: Made, qtbot: QtBot) -> None:
    body = make(start(0, "faulty.toml"), Slot("guards", "depth", "latch-left"))
    focus(body, qtbot)
    # the faulty answers say 18 mm of a latch that is 35 mm deep when it is in
    assert body.accessibleName() == "Depth of the latch, transport latch of the left rotor"
    assert body.accessibleDescription() == "18 mm: stop"
    assert any(w.text == "18 mm: stop" for w in body.written)


def test_that_up_and_down_go_to_the_nearest_place(job: OpenJob, make: Made, qtbot: QtBot) -> None:
    body = make(job, Slot("driveline", "distance", "straight-work"))
    focus(body, qtbot)
    for key, place in (
        (Qt.Key.Key_Up, "straight-high"),
        (Qt.Key.Key_Down, "straight-work"),
        (Qt.Key.Key_Down, "straight-low"),
    ):
        qtbot.keyClick(body, key)
        assert body.focused == Slot("driveline", "distance", place)


def test_that_enter_and_a_finger_choose(job: OpenJob, make: Made, qtbot: QtBot) -> None:
    body = make(job, Slot("driveline", "distance", "left-low"))
    body.show()
    got: list[Slot] = []
    body.chosen.connect(got.append)
    target = next(t for t in body.targets if t.slot.place == "right-high")
    beside = QPointF(target.box.right() + 2, target.box.center().y())  # a finger that just misses
    qtbot.mouseClick(body, Qt.MouseButton.LeftButton, pos=beside.toPoint())
    qtbot.keyClick(body, Qt.Key.Key_Return)
    qtbot.mouseClick(body, Qt.MouseButton.RightButton, pos=beside.toPoint())
    assert got == [target.slot, target.slot]
    assert body.slot_at(QPointF(2, 2)) is None


def test_that_a_new_entry_is_drawn_at_once(job: OpenJob, make: Made) -> None:
    slot = Slot("driveline", "distance", "left-work")
    body = make(job, slot)
    before = body.grab().toImage()
    assert not any(w.text == "874" for w in body.written)
    job.commit(slot, "874 mm", "Technician One")
    assert any(w.text == "874" for w in body.written)
    assert body.grab().toImage() != before


def test_that_shortest_and_longest_are_named(start: Started, make: Made) -> None:
    body = make(start(0, "healthy.toml"), Slot("driveline", "cut"))
    words = {w.text for w in body.written}
    # 872 mm and 1068 mm are the smallest and largest of the nine distances in healthy.toml; cut 65 mm off
    # each: 872 − (905 − 65) = 32 and 780 + 760 − 2 · 65 − 872 = 538; 780 + 760 − 130 − 1068 = 342 (by hand)
    assert {"shortest", "longest", "872", "1068"} <= words
    assert "gap 32 mm, overlap 538 mm" in words
    assert any(text.endswith("overlap 342 mm") for text in words)


def test_that_a_remote_without_float_is_marked(start: Started, make: Made) -> None:
    body = make(start(0, "faulty.toml"), Slot("hydraulics", "remote", "lift"))
    assert "no float" in {w.text for w in body.written}  # lift on remote 1, which has none (faulty.toml)
    fine = make(start(0, "healthy.toml"), Slot("hydraulics", "remote", "lift"))
    assert "no float" not in {w.text for w in fine.written}


def test_that_a_remote_is_proposed_until_one_is_entered(job: OpenJob, make: Made) -> None:
    body = make(job, Slot("hydraulics", "remote", "width"))
    assert sum(w.text == "proposed" for w in body.written) == 2  # two circuits on sample rake A


def test_that_a_lamp_that_should_light_is_marked_dark(start: Started, make: Made) -> None:
    body = make(start(0, "faulty.toml"), Slot("lights", "lit", "right-tail"))
    words = [w.text for w in body.written]
    # contact 5 is brown and feeds the right tail lamp (ISO 1724); nothing lit in faulty.toml
    assert "contact 5, brown wire" in words
    assert words.count("dark") == 9  # all nine lamps of sample rake A


def test_that_the_plane_says_which_end_is_lower(start: Started, make: Made) -> None:
    body = make(start(0, "faulty.toml"), Slot("levelling", "clearance", "left-12"))
    words = [w.text for w in body.written]
    # 38 24 14 10 14 24 38 mm at 9 to 3: symmetric, so the sides are level; the slope along is the least
    # squares line of height on cos: Σ(x−x̄)(z−z̄)/Σ(x−x̄)² = −27.9 mm for R, twice that 56 mm (by hand)
    assert "front 56 mm lower" in words
    assert "level" in words


def test_that_the_place_not_to_be_measured_is_found() -> None:
    assert widest_gap((9, 10, 11, 12, 1, 2, 3)) == (3, 9, 6)  # sample rake A, left rotor: by its hours
    assert widest_gap((8, 9, 10, 12, 2, 3)) == (3, 8, 5)  # sample rake B, left rotor
    assert widest_gap((3, 6, 9, 12))[2] == 3  # all round: three hours between any two


def test_that_wheels_stand_left_and_right_of_the_middle(job: OpenJob) -> None:
    cells, rows, columns = arranged(job.profile.wheel)
    at = {cell.wheel.key: (cell.row, cell.column) for cell in cells}
    # sample rake A: rows at 1.35, 2.75, 3.30 and 5.60 m, at most two wheels on a side
    assert (rows, columns) == (4, 4)
    assert at["L1L"] == (0, 0)
    assert at["R2R"] == (1, 3)
    assert (at["XL"], at["XR"]) == ((3, 1), (3, 2))


@given(st.lists(st.tuples(st.integers(0, 4), st.floats(-3, 3) | st.just(0.0)), min_size=1, max_size=16))
def test_that_no_two_wheels_stand_in_one_place(places: list[tuple[int, float]]) -> None:
    pattern = sample_wheel()
    wheels = tuple(
        dataclasses.replace(pattern, key=f"W{n}", behind_pins=metres(row), right_of_middle=metres(x))
        for n, (row, x) in enumerate(places)
    )
    cells, rows, columns = arranged(wheels)
    assert len(cells) == len(wheels)
    assert {cell.row for cell in cells} == set(range(rows))
    assert all(0 <= cell.column <= columns - 1 for cell in cells)
    for number, one in enumerate(cells):
        apart = [abs(one.column - other.column) for other in cells[:number] if other.row == one.row]
        assert min(apart, default=1) >= 1


@cache
def sample_wheel() -> Wheel:
    machine = sample_machines()[0]
    profile = read_profile(load_text(machine), machine.name).value
    assert profile is not None
    return profile.wheel[0]


def metres(value: float) -> Sourced:
    """A length of machine data."""
    known = sample_wheel().behind_pins
    typed = dataclasses.replace(known.typed, number=Fraction(value), unit="m")
    return dataclasses.replace(known, typed=typed)


def test_that_all_words_have_room_in_the_usual_size(start: Started, make: Made, session: Session) -> None:
    for name in ("healthy.toml", "faulty.toml"):
        job = start(0, name)
        for picture, body in each_picture(job, make):
            assert [w.text for w in body.written if w.cut] == [], picture


def test_that_every_word_comes_from_the_catalogue(
    filled: OpenJob, make: Made, session: Session, pseudo: Language
) -> None:
    said = session.language
    data = " ".join(board.name for board in filled.profile.board)  # written by people, in lines
    for name, body in each_picture(filled, make):
        plain = {w.text for w in body.written}
        session.language = pseudo
        spoken = " ".join(w.text for w in body.written if not w.cut)
        session.language = said
        for text in ("shortest", "proposed", "lit", "front", "rear", "gauge", "tape", "runs down"):
            if text in plain and not (name.startswith("boards") and text in data):
                assert f"⟦{text}" in spoken or f"{text}⟧" in spoken, f"{name}: {text}"


def test_that_pictures_work_with_gloves_and_large_text(
    filled: OpenJob, make: Made, session: Session, qapp: QApplication
) -> None:
    session.size = GLOVES
    for name, body in each_picture(filled, make):
        hint = body.sizeHint()
        assert hint.width() > 400, name  # 16 px of text instead of 14 asks for more than the usual width
        body.resize(hint)
        inside = QRectF(body.rect())
        assert all(inside.contains(w.box) for w in body.written), name


def test_that_a_step_without_a_picture_has_none() -> None:
    assert body_for(Slot("handover", "papers", "book")) is None
    assert body_for(Slot("arrival", "order")) is None


def test_that_a_picture_without_a_job_says_how_to_choose(session: Session, qtbot: QtBot) -> None:
    kind = body_for(Slot("lights", "lit", "stop"))
    assert kind is not None
    body = kind(session)
    qtbot.addWidget(body)
    assert not body.grab().isNull()
    assert body.targets == ()
    assert body.accessibleName()
    assert body.accessibleDescription()


def test_that_nonsense_in_the_entries_is_drawn_all_the_same(job: OpenJob, make: Made) -> None:
    for text in ("999999999 m", "-5 km", "0"):
        for slot, state in list(job.assessment.states.items()):
            if (
                state.task.field.ask is Ask.QUANTITY
                and body_for(slot) is not None
                and str(state.task.field.kind).endswith("LENGTH")
            ):
                job.commit(slot, text, "Technician One")
        for name, body in each_picture(job, make):
            inside = QRectF(body.rect()).adjusted(-0.5, -0.5, 0.5, 0.5)
            assert all(inside.contains(w.box) for w in body.written), name
