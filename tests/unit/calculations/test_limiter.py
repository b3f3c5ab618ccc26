"""The headland limiter of the practice machine, by hand, and its doubt by a second method."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.levelling import CannotTell
from rakeprep.calculations.limiter import Limiter, headland_limiter


def limiter(moved: float, changed: float, wanted: float, hole: float, at_least: bool = False) -> Limiter:
    """The same without doubt."""
    exact = (Estimate(each, 0.0) for each in (moved, changed, wanted, hole))
    return headland_limiter(*exact, at_least=at_least)


def test_that_the_limiter_of_pm1_moves_one_hole() -> None:
    found = limiter(0.050, 0.140, 0.060, 0.020)
    # worked by hand, PM-1: 140/50 ; 60/2.8 ; 20*2.8 ; 60 - 56
    assert found.ratio == Estimate(pytest.approx(2.8), 0.0)  # type: ignore[arg-type]
    assert found.move.value == pytest.approx(0.0214, abs=5e-5)
    assert (found.holes, found.gives.value) == (1, pytest.approx(0.056))
    assert found.left.value == pytest.approx(0.004)
    assert str(found.says) == "Move the limiter 1 hole, the way of the trial."


def test_that_the_limiter_also_moves_back_or_not_at_all() -> None:
    # by hand: -120/2.8 = -42.9 mm, two holes down; 20/2.8 = 7.1 mm, not half a hole
    assert str(limiter(0.050, 0.140, -0.120, 0.020).says) == (
        "Move the limiter 2 holes, against the way of the trial."
    )
    alone = limiter(0.050, 0.140, 0.020, 0.020)
    assert (alone.holes, alone.gives, "Leave it" in str(alone.says)) == (0, Estimate(0.0, 0.0), True)
    back = limiter(-0.050, -0.140, 0.060, 0.020)
    assert (back.holes, str(back.says)) == (1, "Move the limiter 1 hole, against the way of the trial.")


@pytest.mark.parametrize("way", [1, -1])
def test_that_a_minimum_takes_a_hole_more_only_where_it_is_surely_short(way: int) -> None:
    # by hand: 2 holes of 56 mm are 112 of 130 mm; 18 mm short, so a third; turned round it is the same
    assert limiter(0.050, way * 0.140, 0.130, 0.020).holes == way * 2
    assert limiter(0.050, way * 0.140, 0.130, 0.020, at_least=True).holes == way * 3
    # 4 mm short with a doubt of more than 4 mm is not surely short
    wanted, hole = Estimate(0.060, 0.0045), Estimate(0.020, 0.0)
    doubtful = headland_limiter(Estimate(0.050, 0.0), Estimate(way * 0.140, 0.0), wanted, hole, at_least=True)
    assert doubtful.holes == way
    # too high by the nearest hole is never too low: 168 of 150 mm stay three holes
    assert limiter(0.050, way * 0.140, 0.150, 0.020, at_least=True).holes == way * 3


@given(st.floats(0.02, 0.1), st.floats(0.05, 0.3), st.floats(0.03, 0.2), st.floats(0.005, 0.03))
def test_that_doubt_spreads_as_the_package_uncertainties_has_it(
    moved: float, changed: float, wanted: float, hole: float
) -> None:
    doubts = (0.001, 0.004, 0.003, 0.0005)
    given_ = [Estimate(v, u) for v, u in zip((moved, changed, wanted, hole), doubts, strict=True)]
    found = headland_limiter(*given_)
    m, c, w, h = (ufloat(each.value, each.doubt) for each in given_)
    assert found.ratio.doubt == pytest.approx((c / m).s, rel=1e-9)
    assert found.move.doubt == pytest.approx((w / (c / m)).s, rel=1e-9)
    assert found.gives.doubt == pytest.approx((found.holes * h * c / m).s, rel=1e-9, abs=1e-15)
    assert found.left.doubt == pytest.approx((w - found.holes * h * c / m).s, rel=1e-9)


def test_that_a_trial_lost_in_its_doubt_tells_nothing() -> None:
    exact = Estimate(0.050, 0.0)
    for changed in (Estimate(0.0, 0.0), Estimate(0.004, 0.004), Estimate(-0.003, 0.004)):
        with pytest.raises(CannotTell, match="changed nothing"):
            headland_limiter(exact, changed, exact, exact)
    seen = headland_limiter(exact, Estimate(0.0041, 0.004), exact, exact)
    assert seen.ratio.value == pytest.approx(0.082)  # by hand 4.1 / 50


@pytest.mark.parametrize(
    ("numbers", "part"),
    [
        ((0, 1, 1, 1), "Without a move"),
        ((1, 1, 1, 0), "distance of the holes"),
        ((math.nan, 1, 1, 1), "move of the limiter"),
        ((1, math.inf, 1, 1), "change at the tines"),
        ((1, 1, math.nan, 1), "wanted change"),
        ((1e200, 1e-200, 1, 1), "ratio of tine"),
        ((1e-200, 1e200, 1, 1), "ratio of tine"),
        ((1, 1e-200, 1e200, 1), "number of holes"),
    ],
)
def test_that_impossible_trials_are_refused(numbers: tuple[float, ...], part: str) -> None:
    with pytest.raises(Impossible, match=part):
        limiter(*numbers)
    with pytest.raises(Impossible, match="doubt"):
        headland_limiter(Estimate(1, -1), Estimate(1, 0), Estimate(1, 0), Estimate(1, 0))


def test_that_the_nearest_hole_is_taken_unless_a_minimum_is_asked_for() -> None:
    trial = Estimate(0.050, 0.0), Estimate(0.140, 0.0), Estimate(0.130, 0.0), Estimate(0.020, 0.0)
    assert headland_limiter(*trial).holes == 2  # by hand: 112 of 130 mm
    more = headland_limiter(*trial, at_least=True)
    assert (more.holes, more.gives.value) == (3, pytest.approx(0.168))
    assert more.move.value == pytest.approx(0.130 / 2.8)  # the exact move stays what it was
    # a tine that moves less than its limiter goes the same way: 0.5, by hand 26 holes of 10 mm of 260
    slow = headland_limiter(
        Estimate(0.100, 0.0), Estimate(0.050, 0.0), Estimate(0.0124, 0.0), Estimate(0.010, 0.0), at_least=True
    )
    assert (slow.holes, slow.gives.value) == (3, pytest.approx(0.015))
