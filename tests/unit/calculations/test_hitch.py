"""Three-point linkage: categories, fit, level."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.hitch import (
    CATEGORIES,
    Origin,
    category,
    hitch_fit,
    pin_level,
    pin_slop,
    shoulder_gap,
)
from rakeprep.model.verdict import Verdict


# Lower and upper pins in inches, printed at wiki.replimat.org "Three point hitches"; the metric pins of
# ISO 730 lie within 0.3 mm of them.
@pytest.mark.parametrize(
    ("name", "upper", "lower"),
    [("0", 5 / 8, 5 / 8), ("1", 3 / 4, 7 / 8), ("2", 1, 9 / 8), ("3", 5 / 4, 23 / 16), ("4", 7 / 4, 2)],
)
def test_that_pin_diameters_are_near_the_printed_inches(name: str, upper: float, lower: float) -> None:
    if name == "4":
        upper = 45 / 25.4  # ISO 730 has 45 mm for the upper pin (from memory), 0.55 mm more than 1 3/4 in
    found = category(name)
    assert found.upper_pin.value == pytest.approx(upper * 0.0254, abs=3e-4)
    assert found.lower_pin.value == pytest.approx(lower * 0.0254, abs=7e-4)


@pytest.mark.parametrize(("name", "smaller"), [("2N", "1"), ("3N", "2"), ("4N", "3")])
def test_that_a_narrow_category_has_the_span_of_the_next_smaller_and_its_own_pins(
    name: str, smaller: str
) -> None:
    # ISO 730:2009, 3.1.5.
    found = category(name)
    assert found.narrow
    assert not category(smaller).narrow
    assert found.span == category(smaller).span or found.span.value == category(smaller).span.value
    assert found.lower_pin == category(name[0]).lower_pin
    assert found.ball_hole == category(name[0]).ball_hole


def test_that_every_pin_goes_into_its_own_ball_and_every_number_has_an_origin() -> None:
    for each in CATEGORIES.values():
        assert hitch_fit(each, each).verdict is Verdict.IN_ORDER
        for known in (each.upper_pin, each.lower_pin, each.ball_hole, each.span, each.mast):
            assert known.origin in Origin
            assert 0 < known.value < 1.2


# mm, worked by hand from the sizes of ISO 730 (from memory).
@pytest.mark.parametrize(
    ("machine", "tractor", "slop", "gap", "verdict"),
    [
        ("2", "2", 0.7, 0, Verdict.IN_ORDER),
        ("3", "3", 0.8, 0, Verdict.IN_ORDER),
        ("2", "3", 9.4, 70, Verdict.PUT_RIGHT),
        ("2", "3N", 9.4, 0, Verdict.PUT_RIGHT),
        ("3N", "2", -7.9, 0, Verdict.PUT_RIGHT),
        ("3N", "3", 0.8, 70, Verdict.PUT_RIGHT),
    ],
)
def test_that_pins_and_span_decide_whether_it_fits(
    machine: str, tractor: str, slop: float, gap: float, verdict: Verdict
) -> None:
    found = hitch_fit(category(machine), category(tractor))
    assert found.slop * 1000 == pytest.approx(slop)
    assert found.gap * 1000 == pytest.approx(gap)
    assert found.verdict is verdict


def test_that_the_reasons_say_what_is_wrong() -> None:
    loose = [str(text) for _, text in hitch_fit(category("2"), category("3")).reasons]
    assert loose == [
        "pins of category 2 have 9.4 mm play in balls of category 3: change the balls",
        "the spans of categories 2 and 3 differ by 70 mm on each side",
    ]
    tight = [str(text) for _, text in hitch_fit(category("3N"), category("2")).reasons]
    assert tight == ["pins of category 3N do not go into balls of category 2"]


def test_that_unknown_categories_and_impossible_sizes_are_refused() -> None:
    assert category(" 3n ").name == "3N"
    with pytest.raises(Impossible, match="no hitch category"):
        category("5")
    for refused in (
        lambda: pin_slop(0.0, 0.028),
        lambda: pin_slop(0.028, math.nan),
        lambda: shoulder_gap(-1.0, 0.8),
        lambda: shoulder_gap(0.8, 0.0),
        lambda: hitch_fit(category("2"), category("2"), most_slop=-1.0),
        lambda: hitch_fit(category("2"), category("2"), most_gap=-1.0),
        lambda: pin_level(Estimate(math.nan, 0), Estimate(0, 0), Estimate(0.8, 0), 1.0),
        lambda: pin_level(Estimate(0, 0), Estimate(0, 0), Estimate(0.001, 0.002), 1.0),
        lambda: pin_level(Estimate(0, 0), Estimate(0, 0), Estimate(0.8, 0), -1.0),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_twelve_millimetres_between_the_pins_are_five_centimetres_at_the_rotor_tip() -> None:
    # Invented machine, worked by hand: atan(12 / 825) = 0.833 degrees; 12 * 3500 / 825 = 50.9 mm. With 4 mm
    # for each height: sqrt(2) * 4 * 3500 / 825 = 24.0 mm of doubt, sqrt(2) * 4 / 825 rad = 0.39 degrees.
    found = pin_level(Estimate(0.512, 0.004), Estimate(0.500, 0.004), Estimate(0.825, 0.0), 3.5)
    assert math.degrees(found.angle.value) == pytest.approx(0.833, abs=1e-3)
    assert found.error.value * 1000 == pytest.approx(50.9, abs=0.05)
    assert found.error.doubt * 1000 == pytest.approx(24.0, abs=0.05)
    assert math.degrees(found.angle.doubt) == pytest.approx(0.39, abs=0.005)


@settings(max_examples=100)
@given(st.floats(0.3, 0.9), st.floats(0.3, 0.9), st.floats(0.4, 1.2), st.floats(0, 5))
def test_that_swapping_the_pins_turns_the_sign(left: float, right: float, span: float, radius: float) -> None:
    a, b, s = Estimate(left, 0.004), Estimate(right, 0.004), Estimate(span, 0.005)
    there, back = pin_level(a, b, s, radius), pin_level(b, a, s, radius)
    assert there.error.value == pytest.approx(-back.error.value)
    assert there.angle.doubt == pytest.approx(back.angle.doubt)
    # Second method: the tangent of the angle times the radius is the error.
    assert math.tan(there.angle.value) * radius == pytest.approx(there.error.value)


def test_that_play_and_gap_at_their_limits_are_still_right() -> None:
    # by hand: the limit is the play itself, so that it is not more than permitted
    two, three = category("2"), category("3")
    slop, gap = hitch_fit(two, three).slop, hitch_fit(two, three).gap
    assert hitch_fit(two, three, slop, gap).verdict is Verdict.IN_ORDER
    assert len(hitch_fit(two, three, slop, gap / 2).reasons) == 1
    assert len(hitch_fit(two, three, slop / 2, gap).reasons) == 1
