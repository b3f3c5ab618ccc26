"""Universal joints against published worked examples and a second method."""

from __future__ import annotations

from math import cos, degrees, isclose, pi, radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.joints import (
    WideEnd,
    double_irregularity,
    equivalent_angle,
    irregularity,
    peak_acceleration,
    phase_irregularity,
    pivot_angles,
    pivot_departures,
    pivot_distance,
    speed_ratio,
    wide_angle_end,
)
from rakeprep.model.verdict import Verdict


def angle_for_swing(swing: float) -> float:
    """Joint angle with a given swing, by bisection: a second way to the same number."""
    low, high = 0.0, 1.5
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if 1 / cos(middle) - cos(middle) < swing else (low, middle)
    return low


@pytest.mark.parametrize(
    ("speed", "swing", "highest", "lowest"),
    [
        # published worked examples on a study page (askfilo.com), printed to 1 and to 0.01 rpm
        (1200, 100, 1251, 1151),
        (1500, 200, 1603.25, 1403.39),
    ],
)
def test_that_published_hooke_joint_examples_come_out(
    speed: float, swing: float, highest: float, lowest: float
) -> None:
    angle = angle_for_swing(swing / speed)
    assert irregularity(angle) * speed == pytest.approx(swing)
    assert speed_ratio(angle, 0) * speed == pytest.approx(highest, abs=0.1)
    assert speed_ratio(angle, pi / 2) * speed == pytest.approx(lowest, abs=0.1)


def test_that_two_wrongly_phased_joints_multiply() -> None:
    # published worked example (qna.carrieradda.com): 20 deg each, 500 rpm, fastest 566.25 rpm
    fastest = 500 / (cos(radians(20)) ** 2)
    assert fastest == pytest.approx(566.25, abs=0.02)
    swing = double_irregularity(radians(20), radians(20), phased=False)
    assert swing * 500 == pytest.approx(fastest - 500 * cos(radians(20)) ** 2)


def test_that_the_peak_acceleration_meets_the_textbook() -> None:
    # Khurmi, Theory of Machines, chapter 9 (from memory): 20 deg at 1500 rpm, 3090 rad/s2 by an
    # approximate position of the peak, which is good to a quarter of a per cent here
    assert peak_acceleration(radians(20), 25) == pytest.approx(3090, rel=0.0025)


@pytest.mark.parametrize("angle", [0.01, 0.3, 0.8, 1.2])
def test_that_the_peak_acceleration_is_the_largest_on_a_grid(angle: float) -> None:
    # second method: largest value on a fine grid of the acceleration formula
    g = np.linspace(0, pi, 200_001)
    grid = cos(angle) * np.sin(angle) ** 2 * np.sin(2 * g) / (1 - np.sin(angle) ** 2 * np.cos(g) ** 2) ** 2
    assert peak_acceleration(angle, 1 / (2 * pi)) == pytest.approx(float(grid.max()), rel=1e-6)


def test_that_a_straight_joint_does_not_swing() -> None:
    assert irregularity(0) == 0
    assert peak_acceleration(0, 9) == 0
    assert double_irregularity(0.3, 0.3) == pytest.approx(0)


@pytest.mark.parametrize(("first", "second"), [(20, 15), (25, 10)])
@pytest.mark.parametrize("phased", [True, False])
def test_that_two_joints_agree_with_turning_them_step_by_step(first: int, second: int, phased: bool) -> None:
    # second method: angles passed through both joints and differentiated on a grid
    b1, b2 = radians(first), radians(second)
    g = np.linspace(0, 2 * pi, 40_001)
    middle = np.arctan2(np.sin(g), np.cos(g) * cos(b1))
    shifted = middle + (pi / 2 if phased else 0)
    out = np.unwrap(np.arctan2(np.sin(shifted), np.cos(shifted) * cos(b2)))
    ratio = np.gradient(out, g)
    swing = float(ratio.max() - ratio.min())
    assert double_irregularity(b1, b2, phased) == pytest.approx(swing, rel=2e-3)
    assert irregularity(equivalent_angle(b1, b2, phased)) == pytest.approx(swing, rel=0.2)


def test_that_the_pivot_curve_of_pm1_comes_out() -> None:
    # worked by hand, PM-1: sqrt(600^2 + 465^2 + 2*600*465*cos 70)
    assert pivot_distance(radians(70), 0.600, 0.465) == pytest.approx(0.8758, abs=1e-4)
    tractor, machine = pivot_angles(radians(70), 0.600, 0.465)
    assert (degrees(tractor), degrees(machine)) == (
        pytest.approx(29.9, abs=0.05),
        pytest.approx(40.1, abs=0.05),
    )
    # worked by hand: lifting by 60 mm at 0 degrees, sqrt(1065^2 + 60^2) = 1066.7
    assert pivot_distance(0, 0.600, 0.465, upward=0.060) == pytest.approx(1.0667, abs=1e-4)
    assert pivot_departures([(0.0, 1.085)], 0.600, 0.465) == (pytest.approx(0.020),)


@settings(max_examples=100)
@given(st.floats(-1.4, 1.4), st.floats(0.2, 1), st.floats(0.2, 1), st.floats(-0.1, 0.1), st.floats(-0.2, 0.2))
def test_that_a_mirrored_turn_has_the_same_distance_and_angles(
    turn: float, front: float, rear: float, sideways: float, upward: float
) -> None:
    here = (
        pivot_distance(turn, front, rear, sideways, upward),
        *pivot_angles(turn, front, rear, sideways, upward),
    )
    there = (
        pivot_distance(-turn, front, rear, -sideways, upward),
        *pivot_angles(-turn, front, rear, -sideways, upward),
    )
    assert all(isclose(one, other, abs_tol=1e-12) for one, other in zip(here, there, strict=True))


@settings(max_examples=100)
@given(st.floats(-1.4, 1.4), st.floats(0.2, 1), st.floats(0.2, 1))
def test_that_both_joint_angles_add_up_to_the_turn_on_the_flat(
    turn: float, front: float, rear: float
) -> None:
    # exterior angle of a triangle
    assert sum(pivot_angles(turn, front, rear)) == pytest.approx(abs(turn), abs=1e-9)


@pytest.mark.parametrize("angle", [-0.1, pi / 2, 2.0, float("nan")])
def test_that_an_impossible_joint_angle_is_refused(angle: float) -> None:
    with pytest.raises(Impossible, match=r"(?i)joint"):
        irregularity(angle)


@settings(max_examples=60)
@given(st.floats(0, 45), st.floats(0, 45), st.floats(-180, 180))
def test_that_any_phase_swings_as_two_joints_in_a_row_do(first: float, second: float, phase: float) -> None:
    b1, b2, f = radians(first), radians(second), radians(phase)
    # second method: both joints one after the other at many positions of the driving fork
    g1 = np.linspace(0, np.pi, 20001)
    g2 = np.arctan2(np.sin(g1), np.cos(g1) * cos(b1))
    g3 = g2 + pi / 2 + f
    ratio = cos(b1) / (1 - (np.sin(b1) * np.cos(g1)) ** 2) * cos(b2) / (1 - (np.sin(b2) * np.cos(g3)) ** 2)
    assert phase_irregularity(b1, b2, f) == pytest.approx(float(ratio.max() - ratio.min()), abs=1e-5)


def test_that_phases_of_nought_and_a_quarter_turn_are_the_known_ones() -> None:
    for b1, b2 in ((20, 20), (20, 15), (25, 10)):
        for phase, phased in ((0, True), (90, False), (180, True)):
            assert phase_irregularity(radians(b1), radians(b2), radians(phase)) == pytest.approx(
                double_irregularity(radians(b1), radians(b2), phased), abs=1e-7
            )
    assert phase_irregularity(0.3, 0.3, 0.0) == 0
    with pytest.raises(Impossible):
        phase_irregularity(0.3, 0.3, float("nan"))


@pytest.mark.parametrize(
    ("tractor", "machine", "fitted", "end", "verdict"),
    [
        # limit 35 degrees, doubt 0.5 each; by comparing
        (29.9, 40.1, None, WideEnd.MACHINE, Verdict.IN_ORDER),
        (29.9, 40.1, WideEnd.TRACTOR, WideEnd.MACHINE, Verdict.PUT_RIGHT),
        (40.1, 29.9, WideEnd.TRACTOR, WideEnd.TRACTOR, Verdict.IN_ORDER),
        (40.1, 29.9, WideEnd.BOTH, WideEnd.TRACTOR, Verdict.IN_ORDER),
        (20, 30, None, WideEnd.NONE, Verdict.IN_ORDER),
        (36, 50, None, WideEnd.BOTH, Verdict.STOP),
        (34.9, 35.1, None, WideEnd.UNSURE, Verdict.MEASURE_AGAIN),
        (35.2, 50, None, WideEnd.MACHINE, Verdict.MEASURE_AGAIN),
    ],
)
def test_that_the_wide_angle_joint_goes_where_the_shaft_bends_most(
    tractor: float, machine: float, fitted: WideEnd | None, end: WideEnd, verdict: Verdict
) -> None:
    angles = [Estimate(radians(a), radians(0.5)) for a in (tractor, machine)]
    found = wide_angle_end(angles[0], angles[1], radians(35), fitted)
    assert (found.end, found.verdict) == (end, verdict)
    assert str(found.says)


def test_that_impossible_wide_angles_are_refused() -> None:
    for refused in (
        lambda: wide_angle_end(Estimate(-0.1, 0), Estimate(0.1, 0), 0.6),
        lambda: wide_angle_end(Estimate(0.1, 0), Estimate(1.6, 0), 0.6),
        lambda: wide_angle_end(Estimate(0.1, 0), Estimate(0.1, 0), 0),
        lambda: wide_angle_end(Estimate(0.1, -1), Estimate(0.1, 0), 0.6),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_each_advice_on_the_wide_angle_joint_has_its_sentence() -> None:
    deg = radians
    cases = {
        WideEnd.BOTH: (40, 41),
        WideEnd.NONE: (10, 12),
        WideEnd.MACHINE: (18, 40),
        WideEnd.TRACTOR: (40, 18),
    }
    said = {}
    for end, (tractor, machine) in cases.items():
        found = wide_angle_end(Estimate(deg(tractor), deg(0.5)), Estimate(deg(machine), deg(0.5)), deg(35))
        assert found.end is end
        said[end] = str(found.says)
    unsure = wide_angle_end(Estimate(deg(40), deg(5)), Estimate(deg(40.5), deg(5)), deg(36))
    said[unsure.end] = str(unsure.says)
    assert len(set(said.values())) == 5
    assert "None" not in said.values()
    assert unsure.end is WideEnd.UNSURE
    assert "machine" in said[WideEnd.MACHINE]
    assert "tractor" in said[WideEnd.TRACTOR].lower()


def test_that_a_lifted_hitch_bends_both_joints_up() -> None:
    # by hand, straight ahead: 60 mm over 1065 mm at either joint is atan(60 / 1065) = 3.22°
    tractor, machine = pivot_angles(0.0, 0.6, 0.465, upward=0.060)
    assert degrees(tractor) == pytest.approx(3.2246, abs=1e-3)
    assert degrees(machine) == pytest.approx(3.2246, abs=1e-3)


def test_that_departures_take_offset_and_lift_off() -> None:
    turns = (-0.8, 0.0, 0.5)
    read = [(t, pivot_distance(t, 0.6, 0.465, 0.02, 0.06) + 0.004) for t in turns]
    # what was laid on by hand comes out again, 4 mm everywhere
    assert pivot_departures(read, 0.6, 0.465, 0.02, 0.06) == pytest.approx((0.004,) * 3)


def test_that_an_offset_to_the_turning_side_lengthens_the_way() -> None:
    # by hand at 90°: along 0.6, across 0.465 + 0.02 = 0.485 to one side and 0.445 to the other
    right, left = (pivot_distance(side * pi / 2, 0.6, 0.465, 0.02) for side in (1, -1))
    assert right == pytest.approx(0.77151, abs=1e-5)
    assert left == pytest.approx(0.74702, abs=1e-5)
