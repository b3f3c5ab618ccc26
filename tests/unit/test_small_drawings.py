"""The small drawings and the caution signs: nothing leaves its sheet, and each shows something of its own."""

from __future__ import annotations

import math

import pytest

from rakeprep import paths
from rakeprep.drawing import help as helps
from rakeprep.drawing import signs
from rakeprep.drawing.help_parts import SHEET
from rakeprep.drawing.strokes import Sign, Stroke, Tone, arrow, measure, turned, turning
from rakeprep.profiles import read_profile, read_tractor
from rakeprep.steps import all_steps

SAMPLES = paths.sample_profiles()
DRAWS = sorted(set(helps.DRAWINGS.values()), key=lambda draw: draw.__name__)


@pytest.mark.parametrize("draw", DRAWS, ids=lambda draw: draw.__name__)
def test_that_a_small_drawing_stays_on_its_sheet(draw: helps.Draws) -> None:
    marks = draw()
    points = [p for m in marks for p in (m.points if isinstance(m, Stroke) else (m.at,))]
    assert [p for p in points if not SHEET.holds(p)] == []
    # something is pointed at, or the drawing would say no more than the machine beside it
    tones = {m.tone for m in marks} | {m.fill for m in marks if isinstance(m, Stroke)}
    assert Tone.ACCENT in tones
    assert all(m.width >= 0.6 or m.width == 0 for m in marks if isinstance(m, Stroke))


def test_that_every_question_of_every_sample_has_a_drawing() -> None:
    """And no drawing waits for a question that nobody asks."""
    read = [read_profile(p.read_text("utf-8"), p.name) for p in SAMPLES.glob("machines/*.toml")]
    coupled = [read_tractor(p.read_text("utf-8"), p.name) for p in SAMPLES.glob("tractors/*.toml")]
    asked = {
        f"{step.key}.{field.key}"
        for machine in read
        for tractor in coupled
        for step in all_steps()
        if machine.value is not None and tractor.value is not None
        for field in step.fields(machine.value, tractor.value)
    }
    assert asked == set(helps.DRAWINGS)
    assert all(helps.drawing_for(*key.split(".")) for key in asked)


def test_that_no_two_drawings_are_the_same() -> None:
    assert len({draw() for draw in DRAWS}) == len(DRAWS)


def test_that_every_caution_of_the_steps_has_a_sign_of_its_own() -> None:
    asked = {caution.sign for step in all_steps() for caution in step.cautions}
    assert asked == set(signs.SIGNS) - {"general"}  # that one is for a hazard to come
    assert len({signs.sign(key) for key in signs.SIGNS}) == len(signs.SIGNS)


def test_that_an_unknown_hazard_gets_the_general_sign() -> None:
    assert signs.sign("no such hazard") == signs.sign("general")


@pytest.mark.parametrize("key", sorted(set(signs.SIGNS) - signs.MUST_BE_WORN))
def test_that_a_picture_stays_within_the_rim_of_its_triangle(key: str) -> None:
    """By hand: the inner edge of the rim lies half its painted width within the line of the corners."""
    edge = (signs.RIM - 2) / 2
    ways = list(zip(signs.CORNERS, (*signs.CORNERS[1:], signs.CORNERS[0]), strict=True))
    for mark in signs.sign(key):
        for x, y in mark.points:
            for (ax, ay), (bx, by) in ways:
                inside = ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / math.dist((ax, ay), (bx, by))
                assert inside - mark.width / 2 >= edge - 0.5, ((x, y), mark.width)


@pytest.mark.parametrize("key", sorted(signs.MUST_BE_WORN))
def test_that_what_must_be_worn_stands_white_within_its_disc(key: str) -> None:
    """ISO 3864-1: a mandatory sign is a white picture on a blue disc."""
    for mark in signs.sign(key):
        assert mark.tone is Tone.GROUND
        for point in mark.points:
            assert math.dist(point, signs.MIDDLE) + mark.width / 2 <= signs.DISC


def test_that_a_dimension_line_ends_where_it_measures() -> None:
    # worked by hand: 10 to the left of a way along x is 10 up
    marks = measure((0.0, 0.0), (40.0, 0.0), off=10.0)
    assert [m.points[0] for m in marks if m.closed] == [(0.0, 10.0), (40.0, 10.0)]


def test_that_an_arrow_ends_at_its_tip_and_a_turn_at_its_angle() -> None:
    assert arrow((0.0, 0.0), (10.0, 0.0))[1].points[0] == (10.0, 0.0)
    # a quarter turn against the clock from the right ends straight up
    assert turning((0.0, 0.0), 20.0, 0.0, 90.0)[1].points[0] == pytest.approx((0.0, 20.0))


def test_that_turning_keeps_lengths() -> None:
    (mark,) = turned((Stroke(((0.0, 0.0), (3.0, 4.0))),), (0.0, 0.0), 90)
    assert mark.points[1] == pytest.approx((-4.0, 3.0))  # by hand
    assert math.hypot(*mark.points[1]) == pytest.approx(5.0)


def test_that_words_on_drawings_need_no_translation() -> None:
    """Digits, units, and letters that are cast into arms and stamped on plates: nothing that is a word."""
    texts = {m.text for draw in DRAWS for m in draw() if isinstance(m, Sign)}
    letters = {"".join(c for c in text if c.isalpha()) for text in texts}
    assert letters <= {"", "OIB", "kg", "LH", "RH", "min", "g", "m", "ft", "kmh", "h", "tha", "th"}
