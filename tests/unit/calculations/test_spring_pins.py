"""Slotted spring pins: table, fit, strength."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.bolts import thread
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.spring_pins import (
    NESTS,
    PINS,
    SpringPin,
    against_bolt,
    cross_pin_torque,
    fit,
    grade_12,
    hole_limits,
    lookup,
    nested,
    possible_sizes,
    squeeze_limits,
)
from rakeprep.model.verdict import Verdict

CALLIPER = 0.0001  # 0.1 mm, common practice for a spring pin that is not round

# Least load in single shear, kN, by nominal mm: reprint of DIN 1481 / ISO 8752 at
# camcjsw-rollingelements.com; a column of its own, which the program does not keep.
SINGLE = {
    1: 0.35, 1.5: 0.79, 2: 1.41, 2.5: 2.19, 3: 3.16, 3.5: 4.53, 4: 5.62, 4.5: 7.68, 5: 8.77, 6: 13.02,
    8: 21.38, 10: 35.08, 12: 52.07, 13: 57.55, 14: 72.36, 16: 85.51, 18: 111.27, 20: 140.32, 21: 149.09,
    25: 219.25, 28: 271.32, 30: 315.72, 32: 342.03, 35: 429.73, 38: 501.53, 40: 534.42, 45: 680.22,
    50: 843.57,
}  # fmt: skip


def name_of(pin: SpringPin) -> str:
    return f"{pin.nominal * 1000:g}"


def test_that_the_table_has_all_28_rows_in_rising_order() -> None:
    # ISO 8752, table 1: 1 to 50 mm.
    assert [pytest.approx(pin.nominal * 1000) for pin in PINS] == list(SINGLE)
    assert len(PINS) == 28


@pytest.mark.parametrize("pin", PINS, ids=name_of)
def test_that_double_shear_is_twice_the_printed_single_shear(pin: SpringPin) -> None:
    single = SINGLE[round(pin.nominal * 1000, 3)]
    # the double column is cut to fewer digits, by up to 2.2 of 1687 kN
    assert pin.double_shear / 1000 == pytest.approx(2 * single, rel=1.5e-3)


@pytest.mark.parametrize("pin", PINS, ids=name_of)
def test_that_every_row_has_nearly_the_same_shear_stress(pin: SpringPin) -> None:
    # Second method: two planes, each an unrolled tube of mean diameter d - s; 698 N/mm² is the median of
    # the printed table, the rows lie within 696 to 701. The 6 mm row fits with the wall of 1.25 mm that
    # another reprint has.
    d, wall = pin.nominal * 1000, pin.wall * 1000
    if math.isclose(d, 6):
        assert wall == pytest.approx(1.2)
        wall = 1.25
    load = 2 * math.pi * (d - wall) * wall * 0.698
    assert pin.double_shear / 1000 == pytest.approx(load, rel=0.005)


@pytest.mark.parametrize("pin", PINS, ids=name_of)
def test_that_every_right_pin_is_squeezed_in_every_right_hole(pin: SpringPin) -> None:
    least, greatest = squeeze_limits(pin.nominal)
    assert 0 < least < greatest
    assert 2 * pin.wall < pin.nominal < pin.free_min < pin.free_max


# Hole limits printed in a pin catalogue (scribd 320799533), mm.
@pytest.mark.parametrize(
    ("nominal", "largest"),
    [
        (3, 3.10), (4, 4.12), (5, 5.12), (6, 6.12), (8, 8.15), (10, 10.15), (12, 12.18), (14, 14.18),
        (16, 16.18), (18, 18.18), (20, 20.21),
    ],
)  # fmt: skip
def test_that_hole_limits_are_those_printed(nominal: float, largest: float) -> None:
    low, high = hole_limits(nominal / 1000)
    assert low * 1000 == pytest.approx(nominal)
    assert high * 1000 == pytest.approx(largest)


@pytest.mark.parametrize(("low", "high"), [(3, 6), (6, 10), (10, 18), (18, 30), (30, 50)])
def test_that_the_tolerance_grade_follows_its_formula(low: float, high: float) -> None:
    # ISO 286-1: IT12 = 160 i, i = 0.45 D^(1/3) + 0.001 D (micrometres), D the geometric mean of the range;
    # the printed values are rounded.
    D = math.sqrt(low * high)
    formula = 160 * (0.45 * D ** (1 / 3) + 0.001 * D)
    assert grade_12(high / 1000) * 1e6 == pytest.approx(formula, rel=0.05)


def test_that_holes_beyond_the_table_are_refused() -> None:
    assert grade_12(0.080) == pytest.approx(300e-6)  # ISO 286-1, 50 to 80 mm
    for size in (0.081, 0.0, math.nan):
        with pytest.raises(Impossible):
            grade_12(size)


def test_that_a_twelve_millimetre_pin_is_squeezed_between_0_32_and_0_80_mm() -> None:
    # By hand: 12.5 - 12.18 and 12.8 - 12.0.
    assert [each * 1000 for each in squeeze_limits(0.012)] == pytest.approx([0.32, 0.80])


def reading(mm: float, doubt: float = CALLIPER) -> Estimate:
    return Estimate(mm / 1000, doubt)


# A 12 mm pin (12.5 to 12.8 mm loose, hole 12.00 to 12.18 mm, ISO 8752), doubt 0.1 mm each; worked by hand:
# the squeeze has 0.14 mm of doubt, so 0.32 + 0.14 = 0.46 mm is enough and 0.32 - 0.14 = 0.18 mm too little.
@pytest.mark.parametrize(
    ("free", "hole", "verdict", "words"),
    [
        (12.65, 12.10, Verdict.IN_ORDER, "right size"),
        (12.50, 12.18, Verdict.MEASURE_AGAIN, "too close"),
        (12.75, 12.30, Verdict.PUT_RIGHT, "worn hole: 12.3"),
        (12.65, 11.85, Verdict.PUT_RIGHT, "hole too small: 11.85"),
        (12.40, 12.25, Verdict.PUT_RIGHT, "loose: squeezed only 0.15"),
        (8.65, 12.10, Verdict.PUT_RIGHT, "is a 8 mm pin, not 12 mm"),
        (8.65, 12.10, Verdict.PUT_RIGHT, "falls in by hand"),
        (12.20, 12.10, Verdict.PUT_RIGHT, "is no 12 mm pin"),
    ],
)
def test_that_a_fit_is_judged_with_its_doubt(free: float, hole: float, verdict: Verdict, words: str) -> None:
    found = fit(0.012, reading(free), reading(hole))
    assert found.verdict is verdict
    assert words in " / ".join(str(reason.text) for reason in found.reasons)


def test_that_a_fit_shows_the_squeeze_and_its_limits() -> None:
    found = fit(0.012, reading(12.65), reading(12.10))
    # By hand: 0.55 mm with sqrt(2) * 0.1 mm.
    assert found.squeeze.value * 1000 == pytest.approx(0.55)
    assert found.squeeze.doubt * 1000 == pytest.approx(0.1414, abs=1e-4)
    assert (found.squeeze_min * 1000, found.squeeze_max * 1000) == pytest.approx((0.32, 0.80))


def test_that_a_rough_reading_between_two_sizes_asks_for_a_finer_one() -> None:
    # 4 mm pins are 4.4 to 4.6 loose, 4.5 mm pins 4.9 to 5.1 (ISO 8752): 4.75 with 0.2 reaches both.
    found = fit(0.004, reading(4.75, 2e-4), reading(4.05, 1e-5))
    assert found.verdict is Verdict.MEASURE_AGAIN
    assert "more than one pin size" in str(found.reasons[0].text)


def test_that_no_size_is_named_where_none_fits() -> None:
    assert possible_sizes(reading(7.5)) == ()
    assert [pin.nominal for pin in possible_sizes(reading(8.65))] == [0.008]


@settings(max_examples=100)
@given(st.sampled_from(PINS), st.floats(0, 1), st.floats(0, 1))
def test_that_any_right_pair_measured_without_doubt_is_in_order(pin: SpringPin, a: float, b: float) -> None:
    low, high = hole_limits(pin.nominal)
    free = pin.free_min + a * (pin.free_max - pin.free_min)
    hole = low + b * (high - low)
    assert fit(pin.nominal, Estimate(free, 1e-9), Estimate(hole, 1e-9)).verdict is Verdict.IN_ORDER


@settings(max_examples=100)
@given(
    st.sampled_from(PINS),
    st.floats(-1e-3, 1e-3),
    st.floats(-1e-3, 1e-3),
    st.floats(0, 3e-4),
    st.floats(0, 3e-4),
)
def test_that_more_doubt_never_clears_a_fit(
    pin: SpringPin, free_off: float, hole_off: float, doubt: float, more: float
) -> None:
    free = max(pin.nominal + 0.5e-3 + free_off, 1e-4)
    hole = max(pin.nominal + hole_off, 1e-4)
    before = fit(pin.nominal, Estimate(free, doubt), Estimate(hole, doubt)).verdict
    after = fit(pin.nominal, Estimate(free, doubt + more), Estimate(hole, doubt + more)).verdict
    assert not (after is Verdict.IN_ORDER and before is Verdict.MEASURE_AGAIN)


def test_that_pins_that_are_not_made_are_refused() -> None:
    for nominal in (0.007, 0.0, -1.0, math.nan):
        with pytest.raises(Impossible, match="no slotted spring pin"):
            lookup(nominal)
    with pytest.raises(Impossible):
        fit(0.012, Estimate(0.0, 0.0), reading(12.1))
    with pytest.raises(Impossible):
        fit(0.012, reading(12.6), Estimate(-1.0, 0.0))


def test_that_a_nested_pair_carries_the_sum() -> None:
    # 70.16 + 26.04 = 96.20 kN, by hand from ISO 8752; that loads add up is from memory.
    assert nested(0.010, 0.006) / 1000 == pytest.approx(96.20)
    # 42.76 + 17.54 = 60.30 kN, likewise.
    assert nested(0.008, 0.005) / 1000 == pytest.approx(60.30)
    with pytest.raises(Impossible, match="not made to go"):
        nested(0.010, 0.005)


@pytest.mark.parametrize(("outer", "inner"), sorted(NESTS - {(12.0, 7.0)}))
def test_that_the_inner_pin_has_room_in_the_outer_one(outer: float, inner: float) -> None:
    # Second method: the bore of a driven-in outer pin is about its nominal diameter less two walls.
    pin = lookup(outer / 1000)
    assert inner / 1000 <= pin.nominal - 2 * pin.wall + 1e-4
    assert nested(outer / 1000, inner / 1000) > pin.double_shear


def test_that_a_cross_pin_breaks_at_its_load_times_the_radius() -> None:
    # 70.16 kN * 0.020 m = 1403 N·m, by hand.
    assert cross_pin_torque(70_160, 0.040) == pytest.approx(1403.2)
    for load, shaft in ((0.0, 0.04), (1.0, 0.0)):
        with pytest.raises(Impossible):
            cross_pin_torque(load, shaft)


# Share of the 12 mm pin's 104.1 kN (ISO 8752), worked by hand with EN 1993-1-8 table 3.4 and ISO 898-1.
@pytest.mark.parametrize(("property_class", "share"), [("4.6", 0.39), ("8.8", 0.78), ("10.9", 0.84)])
def test_that_a_bolt_sheared_in_the_thread_is_weaker_than_a_pin_of_its_size(
    property_class: str, share: float
) -> None:
    found = against_bolt(0.012, thread("M12"), property_class, "thread")
    assert found.ratio == pytest.approx(share, abs=0.005)
    assert found.bolt_is_weaker


def test_that_an_8_8_shank_just_beats_the_pin() -> None:
    # 108.6 against 104.1 kN, worked by hand as above.
    found = against_bolt(0.012, thread("M12"), "8.8", "shank")
    assert (found.bolt / 1000, found.pin / 1000) == pytest.approx((108.6, 104.1), abs=0.05)
    assert not found.bolt_is_weaker


@pytest.mark.parametrize("pin", PINS, ids=name_of)
def test_that_a_loose_pin_at_the_edge_of_its_size_is_still_that_size(pin: SpringPin) -> None:
    for edge in (pin.free_min, pin.free_max):
        assert pin in possible_sizes(Estimate(edge, 0.0))


def test_that_a_hole_at_its_limits_is_neither_worn_nor_small() -> None:
    # ISO 8752 and ISO 286-1: 12.00 to 12.18 mm
    for hole in hole_limits(0.012):
        words = " / ".join(
            str(reason.text) for reason in fit(0.012, Estimate(0.0126, 0.0), Estimate(hole, 0.0)).reasons
        )
        assert "hole" not in words.replace("in its hole", "")


def test_that_a_squeeze_exactly_at_its_least_is_enough_and_none_falls_in() -> None:
    # by hand: 12.50 - 12.18 = 0.32 mm, the least; 12.1 - 12.1 = 0
    least = fit(0.012, Estimate(0.0125, 0.0), Estimate(0.01218, 0.0))
    assert least.verdict is Verdict.IN_ORDER
    none = fit(0.012, Estimate(0.0121, 0.0), Estimate(0.0121, 0.0))
    assert "falls in by hand" in " / ".join(str(reason.text) for reason in none.reasons)


def test_that_the_tolerance_grade_is_exact() -> None:
    # ISO 286-1, table 1, more than 10 up to 18 mm: 180 micrometres
    assert grade_12(0.012) == 180e-6


def test_that_a_pin_not_made_is_named_in_millimetres() -> None:
    with pytest.raises(Impossible, match=r"\b7\b"):
        lookup(0.007)
