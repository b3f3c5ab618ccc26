"""What to turn; PM-1 (invented) worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusting import (
    LEAVE_DOUBT,
    LEAVE_STEP,
    chassis_pins,
    crank,
    headstock_effect,
    sensitivity,
    steps_for,
    turnbuckle,
    turns_for,
)
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.levelling import CannotTell


def test_that_pm1_needs_one_flat() -> None:
    move = turnbuckle(Estimate(0.009, 0.006), 0.003, 0.003, 0.420, 3.5, shorter_raises_front=True)
    # worked by hand, PM-1: 6/420*3500 = 50 mm a turn, 8.33 a flat; 9/8.33 = 1.08; 9 - 8.33 = 0.67
    assert move.per_step == pytest.approx(0.050 / 6)
    assert move.exact == pytest.approx(1.08)
    assert (move.steps, move.leave) == (1, False)
    assert move.left == pytest.approx(0.00067, abs=1e-5)
    assert str(move.says) == "Turn the turnbuckle 1 flat, shorter."


@pytest.mark.parametrize(
    ("need", "sense", "says"),
    [
        (0.020, True, "Turn the turnbuckle 2 flats, shorter."),
        (-0.020, True, "Turn the turnbuckle 2 flats, longer."),
        (0.020, False, "Turn the turnbuckle 2 flats, longer."),
        (-0.020, False, "Turn the turnbuckle 2 flats, shorter."),
        (
            0.020,
            None,
            "Turn the turnbuckle 2 flats either way and measure again: its sense is not known.",
        ),
    ],
)
def test_that_the_sense_comes_from_the_machine_s_data(need: float, sense: bool | None, says: str) -> None:
    move = turnbuckle(Estimate(need, 0.006), 0.003, 0.003, 0.420, 3.5, shorter_raises_front=sense)
    assert str(move.says) == says


def test_that_a_need_within_its_doubt_is_left() -> None:
    move = turnbuckle(Estimate(0.005, 0.006), 0.003, 0.003, 0.420, 3.5)
    assert move.leave
    assert move.says == LEAVE_DOUBT
    assert move.left == pytest.approx(0.005)


def test_that_pins_move_only_from_half_a_hole() -> None:
    # worked by hand, PM-1: 15/1400*3500 = 37.5 mm a hole, so 18.75 is half a hole
    move = chassis_pins(Estimate(0.0099, 0.003), 0.015, 1.4, 3.5)
    assert (move.steps, move.exact, move.says) == (0, pytest.approx(0.264), LEAVE_STEP)
    assert chassis_pins(Estimate(0.01875, 0.003), 0.015, 1.4, 3.5).steps == 1
    assert (
        str(chassis_pins(Estimate(0.040, 0.003), 0.015, 1.4, 3.5).says) == "Raise the right side by 1 hole."
    )
    assert (
        str(chassis_pins(Estimate(-0.075, 0.003), 0.015, 1.4, 3.5).says) == "Lower the right side by 2 holes."
    )


def test_that_the_crank_of_pm1_turns_two_and_a_half_down() -> None:
    # worked by hand, PM-1: 5*0.62 = 3.1 mm a turn; 8/3.1 = 2.58 turns = 5.16 half turns
    move = crank(Estimate(-0.008, 0.003), 0.005, 0.62)
    assert (move.steps, move.exact) == (-5, pytest.approx(-5.161, abs=1e-3))
    assert str(move.says) == "Turn the crank 5 half turns, down."
    assert str(crank(Estimate(0.002, 0.001), 0.005, 0.62).says) == "Turn the crank 1 half turn, up."


@settings(max_examples=150)
@given(st.floats(-0.2, 0.2), st.floats(0, 0.02), st.floats(0.001, 0.05))
def test_that_steps_never_leave_more_than_half_a_step(need: float, doubt: float, step: float) -> None:
    steps, leave = steps_for(Estimate(need, doubt), step)
    if leave is None:
        assert steps != 0
        assert abs(need - steps * step) <= step / 2 * (1 + 1e-6)
        assert math.copysign(1, steps) == math.copysign(1, need)
    else:
        assert steps == 0
        assert abs(need) < max(doubt, step / 2)
    assert steps_for(Estimate(-need, doubt), step)[0] == -steps


def test_that_raising_the_headstock_of_pm1_lifts_the_nose() -> None:
    # worked by hand, PM-1: 25/5600 = 4.46 mm/m; 25*(1 - 2.4/5.6) = 14.3; 4.46*3.5 = 15.6
    tilt, centre, front = headstock_effect(0.025, 5.60, 2.40, 3.50)
    assert tilt == pytest.approx(0.00446, abs=1e-5)
    assert centre == pytest.approx(0.0143, abs=1e-4)
    assert front == pytest.approx(0.0156, abs=1e-4)


def test_that_the_machine_s_own_sensitivity_gives_the_turns() -> None:
    first, second = (-0.0031, 0.0015), (0.0004, 0.0240)
    # second method: numpy solve; PM-1 by hand 1.85 and -0.70
    expected = np.linalg.solve(np.array([first, second]).T, [-0.006, -0.014])
    turns = turns_for(first, second, (-0.006, -0.014))
    assert turns == pytest.approx(tuple(expected))
    assert turns == (pytest.approx(1.85, abs=0.005), pytest.approx(-0.70, abs=0.005))
    assert sensitivity((0.03, 0.0), (0.024, 0.003), -2.0) == (pytest.approx(0.003), pytest.approx(-0.0015))


@pytest.mark.parametrize(
    ("first", "second"),
    [((0.0, 0.0), (0.0004, 0.024)), ((0.001, 0.01), (0.002, 0.02)), ((0.003, 0.001), (0.00005, 0.0))],
)
def test_that_an_adjuster_that_moves_nothing_cannot_be_reckoned_with(
    first: tuple[float, float], second: tuple[float, float]
) -> None:
    with pytest.raises(CannotTell, match="pin is not seated"):
        turns_for(first, second, (0.01, 0.01))


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: steps_for(Estimate(math.nan, 0), 1), "need"),
        (lambda: steps_for(Estimate(1, -1), 1), "doubt"),
        (lambda: steps_for(Estimate(1, 0), 0), "step"),
        (lambda: turnbuckle(Estimate(1, 0), 0.003, 0.003, 0.4, 3.5, flats=0), "mark to turn"),
        (lambda: sensitivity((0, 0), (1, 1), 0), "Without a turn"),
        (lambda: headstock_effect(0.1, 0, 1, 1), "hitch to axle"),
    ],
)
def test_that_impossible_adjusters_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]
