"""On the road; PM-1 (invented) worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import correlated_values, ufloat, umath

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.transport import (
    against_limit,
    axle_crab,
    clear_to_line,
    measured_crab,
    off_track,
    toe,
    tracking,
)
from rakeprep.model.verdict import Verdict


@pytest.mark.parametrize(
    ("height", "over", "verdict"),
    [
        # worked by hand: limit 4.00 m, doubt 10 mm
        (4.08, 0.08, Verdict.PUT_RIGHT),
        (4.00, 0.00, Verdict.MEASURE_AGAIN),
        (3.95, -0.05, Verdict.IN_ORDER),
    ],
)
def test_that_a_size_is_held_against_the_local_limit(height: float, over: float, verdict: Verdict) -> None:
    found = against_limit(Estimate(height, 0.01), 4.00)
    assert (found.over, found.verdict) == (pytest.approx(over), verdict)


@pytest.mark.parametrize(
    ("gap", "verdict"), [(1.0, Verdict.IN_ORDER), (1.12, Verdict.MEASURE_AGAIN), (3.0, Verdict.STOP)]
)
def test_that_a_missing_air_gap_is_a_stop(gap: float, verdict: Verdict) -> None:
    # HSE AIS8: 11 and 33 kV lines may hang at 5.2 m; by hand 5.2 - 4.08 = 1.12
    found = clear_to_line(Estimate(4.08, 0.01), 5.2, gap)
    assert found.verdict is verdict
    assert gap - found.over == pytest.approx(1.12)


def test_that_the_rod_of_pm1_turns_one_and_a_quarter() -> None:
    found = tracking(Estimate(0.060, 0.005), 5.60, 0.180, 0.0015)
    # worked by hand, PM-1: atan(60/5600) = 0.614 deg ; 180*60/5600 = 1.929 mm ; 1.286 turns
    assert math.degrees(found.angle) == pytest.approx(0.614, abs=1e-3)
    assert found.rod_change == pytest.approx(0.001929, abs=1e-6)
    assert found.turns == pytest.approx(1.286, abs=1e-3)
    assert (found.steps, found.says) == (5, None)
    # by hand: 1.929/3.0 = 0.643 turns, in thirds 1.93
    assert tracking(Estimate(0.060, 0.005), 5.60, 0.180, 0.003, parts=3).steps == 2


@pytest.mark.parametrize(
    ("offset", "doubt", "part"), [(0.003, 0.005, "doubt"), (0.004, 0.001, "half a step")]
)
def test_that_a_small_offset_is_left(offset: float, doubt: float, part: str) -> None:
    found = tracking(Estimate(offset, doubt), 5.60, 0.180, 0.0015)
    assert found.steps == 0
    assert part in str(found.says)


@settings(max_examples=100)
@given(st.floats(-1, 1), st.floats(2, 10))
def test_that_off_track_and_tracking_are_each_other_turned_round(offset: float, length: float) -> None:
    found = tracking(Estimate(offset, 0), length, 0.180, 0.0015)
    assert off_track(length, found.angle) == pytest.approx(offset, abs=1e-12)
    mirrored = tracking(Estimate(-offset, 0), length, 0.180, 0.0015)
    assert mirrored.angle == -found.angle
    assert mirrored.steps == -found.steps


def test_that_half_a_degree_is_49_mm_on_pm1() -> None:
    # worked by hand, PM-1: 5600 * tan 0.5 deg = 48.87
    assert off_track(5.60, math.radians(0.5)) == pytest.approx(0.04887, abs=1e-5)


def test_that_an_axle_out_of_square_is_seen_from_its_lengths() -> None:
    # worked by hand, PM-1: asin(14/1900) = 0.4222 deg
    assert math.degrees(axle_crab(5.598, 5.612, 1.9)) == pytest.approx(0.4222, abs=1e-4)
    assert axle_crab(5.612, 5.598, 1.9) == -axle_crab(5.598, 5.612, 1.9)


def test_that_toe_in_of_pm1_comes_out() -> None:
    found = toe(1.842, 1.851, 0.690, doubt=0.002, limit=0.005)
    # worked by hand, PM-1: 9 mm ; asin(9/690) = 0.747 deg ; doubt 2 sqrt 2
    assert found.toe_in.value == pytest.approx(0.009)
    assert math.degrees(found.together) == pytest.approx(0.747, abs=1e-3)
    assert found.each == pytest.approx(found.together / 2)
    assert found.toe_in.doubt == pytest.approx(0.002828, abs=1e-6)
    assert found.verdict is Verdict.PUT_RIGHT
    assert toe(1.851, 1.842, 0.690, 0.002, 0.005).toe_in.value == pytest.approx(-0.009)


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: against_limit(Estimate(0, 0), 4), "measured size"),
        (lambda: against_limit(Estimate(4, 0), 0), "limit"),
        (lambda: clear_to_line(Estimate(4, 0), 0, 1), "height of the line"),
        (lambda: clear_to_line(Estimate(4, 0), 5, -1), "air gap"),
        (lambda: tracking(Estimate(0.1, 0), 5, 0.2, 0.001, parts=0), "one part"),
        (lambda: tracking(Estimate(0.1, -1), 5, 0.2, 0.001), "doubt"),
        (lambda: off_track(5, 2), "right angle"),
        (lambda: axle_crab(5, 8, 2), "lie apart"),
        (lambda: toe(1, 2, 0.5, 0, 0.005), "diameter"),
    ],
)
def test_that_impossible_axles_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]


def test_that_the_doubt_of_the_offset_travels_into_angle_and_turns() -> None:
    cure = tracking(Estimate(0.060, 0.005), 5.60, 0.180, 0.0015)
    # second method: uncertainties
    offset = ufloat(0.060, 0.005)
    angle, turns = umath.atan(offset / 5.60), offset / 5.60 * 0.180 / 0.0015
    assert cure.angle_doubt == pytest.approx(angle.std_dev, rel=1e-4)
    assert cure.turns_doubt == pytest.approx(turns.std_dev)
    # by hand: 1.25 turns of 1.5 mm move the track by 1.875 / 180 * 5600 = 58.3 mm and leave 1.7
    assert cure.left == pytest.approx(0.0017, abs=1e-4)
    # left alone, all of it is left
    assert tracking(Estimate(0.004, 0.005), 5.60, 0.180, 0.0015).left == 0.004
    # the mirrored machine is cured by the mirrored turn
    assert tracking(Estimate(-0.060, 0.005), 5.60, 0.180, 0.0015).left == pytest.approx(-cure.left)


@pytest.mark.parametrize("shared", [0.0, 0.5, 0.9])
def test_that_the_doubt_of_the_tape_travels_into_the_crab(shared: float) -> None:
    # second method: uncertainties with the covariance of both lengths
    cov = [[0.002**2, shared * 0.002**2], [shared * 0.002**2, 0.002**2]]
    left, right = correlated_values([5.598, 5.612], cov)
    expected = umath.asin((right - left) / ufloat(1.900, 0.002))
    found = measured_crab(Estimate(5.598, 0.002), Estimate(5.612, 0.002), Estimate(1.900, 0.002), shared)
    assert (found.value, found.doubt) == pytest.approx((expected.nominal_value, expected.std_dev), rel=1e-3)


def test_that_lengths_cannot_share_more_than_all() -> None:
    one = Estimate(5.6, 0.002)
    with pytest.raises(Impossible):
        measured_crab(one, one, Estimate(1.9, 0.002), shared=1.5)


def test_that_a_rod_left_alone_still_tells_what_it_would_take() -> None:
    # by hand: 4 / 5600 rad, 180 · 4 / 5600 = 0.1286 mm, / 1.5 = 0.0857 turns; doubts 5 / 4 of these
    found = tracking(Estimate(0.004, 0.005), 5.60, 0.180, 0.0015)
    assert found.angle == pytest.approx(4 / 5600, rel=1e-6)
    assert found.rod_change == pytest.approx(0.0001286, abs=1e-7)
    assert found.turns == pytest.approx(0.0857, abs=1e-4)
    assert found.angle_doubt == pytest.approx(5 / 5600, rel=1e-5)
    assert found.turns_doubt == pytest.approx(0.1071, abs=1e-4)


def test_that_lengths_as_far_apart_as_the_track_are_just_possible() -> None:
    assert math.degrees(axle_crab(5.0, 7.0, 2.0)) == pytest.approx(90.0)


@pytest.mark.parametrize(
    ("front", "rear", "verdict"),
    # by hand: 3 mm in or out of 5 mm with 2 mm of doubt at most; 9 mm in or out is too much
    [
        (1.842, 1.845, Verdict.IN_ORDER),
        (1.845, 1.842, Verdict.IN_ORDER),
        (1.851, 1.842, Verdict.PUT_RIGHT),
        (1.842, 1.851, Verdict.PUT_RIGHT),
    ],
)
def test_that_toe_out_is_judged_like_toe_in(front: float, rear: float, verdict: Verdict) -> None:
    assert toe(front, rear, 0.690, doubt=0.001, limit=0.005).verdict is verdict
