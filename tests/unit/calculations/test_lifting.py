"""Fork and sling; expected numbers by moments and by equilibrium, worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.lifting import fork_capacity, may_lift, round_down, sling_angle, sling_leg
from rakeprep.model.verdict import Verdict


def test_that_a_fork_lifts_less_farther_out() -> None:
    # by hand: 2500 * (500 + 450) / (900 + 450) = 1759.26 kg; rounded down to 1750
    capacity = fork_capacity(2500, 0.500, 0.900)
    assert capacity == pytest.approx(1759.26, abs=0.01)
    assert round_down(capacity) == 1750
    # 50 lb = 22.68 kg steps: 3879 lb become 3850 lb, by hand
    assert round_down(capacity, 50 * 0.45359237) == pytest.approx(3850 * 0.45359237)
    # nearer than rated the plate stays the limit (by definition), and a round capacity stays
    assert fork_capacity(2500, 0.500, 0.300) == 2500
    assert round_down(1750.0) == 1750


@settings(max_examples=60)
@given(st.floats(500, 5000), st.floats(0.4, 0.8), st.floats(0.4, 3), st.floats(0.2, 0.8))
def test_that_the_moment_about_the_front_wheels_is_never_above_the_rated_one(
    rated: float, centre: float, load: float, axle: float
) -> None:
    # second method: moments
    moment = fork_capacity(rated, centre, load, axle) * (load + axle)
    assert moment <= rated * (centre + axle) * (1 + 1e-12) or load < centre
    assert fork_capacity(rated, centre, load, axle) <= rated


@pytest.mark.parametrize(("degrees", "leg"), [(30, 837), (45, 1025), (60, 1450)])
def test_that_the_legs_carry_what_equilibrium_asks(degrees: float, leg: float) -> None:
    # by hand: 1450 / (2 cos a)
    assert sling_leg(1450, math.radians(degrees)) == pytest.approx(leg, abs=0.5)
    # second method: the two equations of equilibrium as a matrix
    a = math.radians(degrees)
    solved = np.linalg.solve([[math.cos(a), math.cos(a)], [math.sin(a), -math.sin(a)]], [1450, 0])
    assert sling_leg(1450, a) == pytest.approx(solved[0])


def test_that_the_angle_comes_from_leg_and_spread() -> None:
    # by hand: a triangle with sides 2, 2, 2 has 60 degrees, half of it 30
    assert math.degrees(sling_angle(2.0, 2.0)) == pytest.approx(30)


def test_that_a_lift_is_decided_with_doubt() -> None:
    # by hand: 1450 + 50 <= 1750; 1740 +- 50 straddles; 1850 - 50 > 1750
    assert may_lift(Estimate(1450, 50), 1750).verdict is Verdict.IN_ORDER
    assert "50 mm first" in str(may_lift(Estimate(1450, 50), 1750).says)
    close = may_lift(Estimate(1740, 50), 1750)
    assert close.verdict is Verdict.MEASURE_AGAIN
    assert "Too close" in str(close.says)
    over = may_lift(Estimate(1850, 50), 1750)
    assert (over.verdict, over.spare) == (Verdict.STOP, Estimate(-100, 50))
    unknown = may_lift(None, 1750)
    assert unknown.verdict is Verdict.STOP
    assert "more than this can carry" in str(over.says)
    assert unknown.spare == Estimate(1750, math.inf)
    assert "neither plate nor papers" in str(unknown.says)


def test_that_impossible_lifts_are_refused() -> None:
    for refused in (
        lambda: fork_capacity(0, 0.5, 0.9),
        lambda: fork_capacity(2500, 0, 0.9),
        lambda: fork_capacity(2500, 0.5, -1),
        lambda: fork_capacity(2500, 0.5, 0.9, 0),
        lambda: round_down(-1),
        lambda: round_down(1, 0),
        lambda: sling_angle(0, 1),
        lambda: sling_angle(1, 0),
        lambda: sling_angle(1, 2),
        lambda: sling_leg(0, 0.1),
        lambda: sling_leg(1, -0.1),
        lambda: sling_leg(1450, math.radians(61)),
        lambda: may_lift(Estimate(0, 1), 10),
        lambda: may_lift(Estimate(1, -1), 10),
        lambda: may_lift(None, -1),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_a_sling_at_its_widest_angle_is_still_allowed() -> None:
    # cos 60° = 1/2: each leg carries the whole load, by hand
    assert sling_leg(1450.0, math.radians(60)) == pytest.approx(1450.0)
