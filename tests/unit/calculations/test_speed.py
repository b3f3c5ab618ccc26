"""Speeds; PM-1 (invented) worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.speed import (
    PtoGear,
    SpeedLimits,
    check_speed,
    engine_speed,
    pto_from_turns,
    recognise_gear,
    rotor_speed,
    tip_speed,
    tip_to_forward,
    travel_per_arm,
    wrong_gear,
)
from rakeprep.model.verdict import Verdict

G540 = PtoGear("540", 1938 / 60, 540 / 60)
G540E = PtoGear("540E", 1550 / 60, 540 / 60)
G1000 = PtoGear("1000", 2000 / 60, 1000 / 60)
GEARS = (G540, G540E, G1000)
LIMITS = SpeedLimits(working=450 / 60, ceiling=540 / 60, gearbox=560 / 60)


@pytest.mark.parametrize(
    ("gear", "rpm"),
    # worked by hand, PM-1: 1938*450/540, 1550*450/540, 2000*450/1000
    [(G540, 1615.0), (G540E, 1291.67), (G1000, 900.0)],
)
def test_that_the_engine_speed_follows_the_gear(gear: PtoGear, rpm: float) -> None:
    assert engine_speed(gear, 450 / 60) * 60 == pytest.approx(rpm, abs=0.01)


@pytest.mark.parametrize(
    ("pto", "rotor", "tip"),
    # worked by hand, PM-1: n/8.06, pi*3.5*n/60
    [(450, 55.83, 10.23), (540, 67.00, 12.28), (1000, 124.07, 22.74)],
)
def test_that_rotor_and_tips_follow_the_pto(pto: float, rotor: float, tip: float) -> None:
    turns = rotor_speed(pto / 60, 8.06)
    assert turns * 60 == pytest.approx(rotor, abs=0.01)
    assert tip_speed(turns, 3.5) == pytest.approx(tip, abs=0.01)


def test_that_travel_per_arm_and_speed_ratio_come_out() -> None:
    # worked by hand: 2.7778/(0.93052*12) ; and an invented rotor of 3.0 m at 540/7.8 with 10 arms
    assert travel_per_arm(10 / 3.6, 450 / 60 / 8.06, 12) == pytest.approx(0.2488, abs=1e-4)
    rotor = rotor_speed(9, 7.8)
    assert travel_per_arm(10 / 3.6, rotor, 10) == pytest.approx(0.2407, abs=1e-4)
    assert tip_to_forward(tip_speed(rotor, 3.0), 10 / 3.6) == pytest.approx(3.915, abs=1e-3)


@pytest.mark.parametrize(
    ("turns", "time", "rpm", "doubt"),
    # worked by hand, PM-1: 19/20*60*8.06 and 0.5/20*60*8.06 ; the same over 60 s
    [(19, 20, 459.4, 12.1), (57, 60, 459.4, 4.03)],
)
def test_that_counted_turns_give_a_speed_with_doubt(
    turns: float, time: float, rpm: float, doubt: float
) -> None:
    pto = pto_from_turns(turns, time, 8.06)
    assert (pto.value * 60, pto.doubt * 60) == (pytest.approx(rpm, abs=0.1), pytest.approx(doubt, abs=0.05))


@settings(max_examples=60)
@given(st.floats(5, 200), st.floats(5, 120), st.floats(0.1, 2), st.floats(0.01, 1))
def test_that_doubts_of_count_and_time_spread_as_an_independent_library_says(
    turns: float, time: float, turns_doubt: float, time_doubt: float
) -> None:
    # second method: the uncertainties package
    other = ufloat(turns, turns_doubt) / ufloat(time, time_doubt) * 8.06
    mine = pto_from_turns(turns, time, 8.06, turns_doubt, time_doubt)
    assert (mine.value, mine.doubt) == (pytest.approx(other.nominal_value), pytest.approx(other.std_dev))


@pytest.mark.parametrize(
    ("rpm", "doubt", "verdict", "part"),
    [
        # worked by hand: working 427.5 to 472.5, ceiling 540, gearbox 560
        (455, 5, Verdict.IN_ORDER, "recommended"),
        (470, 5, Verdict.MEASURE_AGAIN, "count longer"),
        (500, 5, Verdict.PUT_RIGHT, "set the engine"),
        (400, 5, Verdict.PUT_RIGHT, "set the engine"),
        (550, 5, Verdict.PUT_RIGHT, "highest speed"),
        (1000, 5, Verdict.STOP, "gearbox"),
    ],
)
def test_that_three_limits_are_kept_apart(rpm: float, doubt: float, verdict: Verdict, part: str) -> None:
    found = check_speed(Estimate(rpm / 60, doubt / 60), LIMITS)
    assert found.verdict is verdict
    assert part in str(found.says)


def test_that_a_wrong_gear_is_recognised() -> None:
    # PM-1: engine 1615, 540 gear gives 450; the 1000 gear gives 807.5
    assert recognise_gear(450 / 60, 1615 / 60, GEARS) is G540
    assert recognise_gear(807.5 / 60, 1615 / 60, GEARS) is G1000
    assert recognise_gear(1, 1, GEARS) is None
    assert recognise_gear(1, 1, ()) is None
    assert wrong_gear(450 / 60, 1615 / 60, GEARS, "540") is None
    assert "gear 1000, not 540" in str(wrong_gear(807.5 / 60, 1615 / 60, GEARS, "540"))
    assert "fit none" in str(wrong_gear(1, 1, GEARS, "540"))


@settings(max_examples=60)
@given(st.sampled_from(GEARS), st.floats(5, 20))
def test_that_every_gear_recognises_itself_at_any_speed(gear: PtoGear, pto: float) -> None:
    assert recognise_gear(pto, engine_speed(gear, pto), GEARS) is gear


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: engine_speed(PtoGear("x", 0, 9), 9), "engine speed"),
        (lambda: engine_speed(PtoGear("x", 30, 0), 9), "PTO speed"),
        (lambda: rotor_speed(9, 0), "gear ratio"),
        (lambda: tip_speed(-1, 3), "rotor speed"),
        (lambda: travel_per_arm(1, 1, 0), "one arm"),
        (lambda: tip_to_forward(1, 0), "forward speed"),
        (lambda: pto_from_turns(0, 1, 1), "number of turns"),
        (lambda: pto_from_turns(1, math.inf, 1), "time"),
        (lambda: check_speed(Estimate(9, 0), SpeedLimits(9, 8, 10)), "rising order"),
        (lambda: recognise_gear(1, 0, GEARS), "engine speed"),
    ],
)
def test_that_impossible_speeds_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]


def test_that_limits_may_coincide() -> None:
    # a machine raked at its ceiling, and a ceiling that is the gearbox's rating
    same = SpeedLimits(working=9.0, ceiling=9.0, gearbox=9.0)
    assert check_speed(Estimate(8.9, 0.0), same).verdict is Verdict.IN_ORDER


def test_that_each_limit_keeps_its_own_verdict_while_it_is_uncertain() -> None:
    # worked by hand: 470 ± 5 reaches over 472.5, but is far below 540 and 560
    found = check_speed(Estimate(470 / 60, 5 / 60), LIMITS)
    assert (found.working, found.ceiling, found.gearbox) == (
        Verdict.MEASURE_AGAIN,
        Verdict.IN_ORDER,
        Verdict.IN_ORDER,
    )


def test_that_a_gear_at_the_edge_of_its_band_still_counts() -> None:
    # exactly representable: 1.25 of the ratio with a band of a quarter
    gear = PtoGear("one", 4.0, 1.0)
    assert recognise_gear(1.25, 4.0, (gear,), band=0.25) is gear
    assert wrong_gear(1.25, 4.0, (gear,), "one", band=0.25) is None
    assert wrong_gear(1.25, 4.0, (gear,), "one", band=0.2) is not None
