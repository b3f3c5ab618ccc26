"""The fitted pivot curve against scipy.optimize.curve_fit, and wrong readings found."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import curve_fit

from rakeprep.calculations import Impossible
from rakeprep.calculations.joints import pivot_distance
from rakeprep.calculations.levelling import CannotTell
from rakeprep.calculations.pivot_fit import Distance, PivotFit, fit_pivot

TURNS = [math.radians(t) for t in (-70, 0, 70)]
RISES = [0.06, 0.0, -0.06]


def nine(front: float, rear: float, sideways: float, noise: list[float] | None = None) -> list[Distance]:
    """Nine places of a pivot, with something added to each."""
    places = [(t, v) for v in RISES for t in TURNS]
    return [
        Distance(t, pivot_distance(t, front, rear, sideways, v) + e, v)
        for (t, v), e in zip(places, noise or [0.0] * 9, strict=True)
    ]


def pivot(found: PivotFit, other: bool = False) -> tuple[float, float, float]:
    """The pivot as three numbers."""
    one = found.turned_round if other else found.pivot
    assert one is not None
    return one.front, one.rear, one.sideways


def test_that_the_pivot_of_pm1_comes_back() -> None:
    found = fit_pivot(nine(0.600, 0.465, 0.010))
    assert pivot(found) == pytest.approx((0.600, 0.465, 0.010), abs=1e-7)
    assert found.sd == pytest.approx(0, abs=1e-9)
    assert found.off == ()
    assert found.says is None
    # the other pair gives the same distances (by hand: s and q exchange for y0 = 0)
    s, q, y = pivot(found, other=True)
    assert pivot_distance(0.9, s, q, y) == pytest.approx(pivot_distance(0.9, 0.600, 0.465, 0.010))
    assert pivot(fit_pivot(nine(0.600, 0.465, 0.010), front_longer=False)) == pytest.approx((s, q, y))
    assert s < q


@settings(max_examples=20, deadline=None)
@given(
    st.floats(0.45, 0.9),
    st.floats(0.2, 0.3),
    st.floats(-0.03, 0.03),
    st.lists(st.floats(-0.005, 0.005), min_size=9, max_size=9),
)
def test_that_the_fit_agrees_with_scipy(
    front: float, rear: float, sideways: float, noise: list[float]
) -> None:
    readings = nine(front, rear, sideways, noise)

    # second method: scipy's Levenberg-Marquardt on s, q, y0
    def curve(where: np.ndarray, s: float, q: float, y0: float) -> np.ndarray:
        turn, up = where
        return np.sqrt((s + q * np.cos(turn)) ** 2 + (q * np.sin(turn) + y0) ** 2 + up**2)

    where = np.array([[r.turn for r in readings], [r.upward for r in readings]])
    lengths = np.array([r.length for r in readings])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a perfect fit has no covariance
        best, _ = curve_fit(curve, where, lengths, p0=[front, rear, sideways + 0.01], maxfev=20_000)
    found = fit_pivot(readings)
    mine = curve(where, *pivot(found))
    assert np.sum((mine - lengths) ** 2) <= np.sum((curve(where, *best) - lengths) ** 2) * (1 + 1e-6) + 1e-15
    assert mine == pytest.approx(curve(where, *best), abs=1e-6)
    assert found.departures == pytest.approx((lengths - mine).tolist(), abs=1e-9)
    # mirrored machine: left and right exchanged turn the offset round
    mirrored = fit_pivot([Distance(-r.turn, r.length, r.upward) for r in readings])
    assert pivot(mirrored)[2] == pytest.approx(-pivot(found)[2], abs=1e-9)


def test_that_a_distance_off_the_curve_is_named() -> None:
    # the stub's end instead of its groove, 38 mm, at one place only
    noise = [0.0] * 9
    noise[4] = 0.038
    found = fit_pivot(nine(0.600, 0.465, 0.0, noise))
    assert found.off == (4,)
    assert "Measure that place again" in str(found.says)
    # left out of the curve, it shows its full 38 mm, and the pivot is right again
    assert found.departures[4] == pytest.approx(0.038)
    assert pivot(found) == pytest.approx((0.600, 0.465, 0), abs=1e-7)
    # 10 mm is no word worth
    noise[4] = 0.010
    assert fit_pivot(nine(0.600, 0.465, 0.0, noise)).off == ()


def test_that_it_may_stay_open_which_of_two_is_wrong() -> None:
    # two readings at the only full-left turn differ by 60 mm: either may be the wrong one
    places = [*TURNS, math.radians(-35), math.radians(35), TURNS[0]]
    add = [0.0, 0.0, 0.0, 0.0, 0.0, 0.060]
    readings = [Distance(t, pivot_distance(t, 0.6, 0.465) + e) for t, e in zip(places, add, strict=True)]
    assert fit_pivot(readings).off == (5,)
    fewer = [readings[0], readings[5], readings[1], readings[2]]
    found = fit_pivot(fewer)
    assert found.off == (0, 1)
    assert "cannot be told which" in str(found.says)


def test_that_a_reading_needed_for_the_curve_is_not_judged() -> None:
    readings = [Distance(t, pivot_distance(t, 0.6, 0.465)) for t in (0.0, 0.0, 1.0, -1.0)]
    wrong = [*readings[:3], Distance(-1.0, readings[3].length + 0.05)]
    assert 3 not in fit_pivot(wrong).off


def test_that_a_pivot_in_the_middle_is_no_trouble() -> None:
    # s = q: the two solutions meet, and rounding to millimetres takes the root below zero
    readings = [Distance(t, round(pivot_distance(t, 0.5, 0.5), 3)) for t in (-1.2, -0.6, 0.0, 0.6, 1.2)]
    found = fit_pivot(readings)
    assert pivot(found)[:2] == pytest.approx((0.5, 0.5), abs=0.03)
    assert max(map(abs, found.departures)) < 0.001


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ([], "only 0"),
        ([Distance(0.0, 1.0)], "only 1;"),
        ([Distance(0.0, 1.0)] * 3, "only 3;"),
        ([Distance(0.0, 1.0), Distance(1.0, 0.9)] * 3, "three different turns"),
    ],
)
def test_that_readings_that_tell_no_curve_say_so(readings: list[Distance], words: str) -> None:
    with pytest.raises(CannotTell, match=words):
        fit_pivot(readings)


@pytest.mark.parametrize(
    "readings",
    [
        # longer in the turn than straight ahead: no pivot between tractor and machine
        [Distance(t, 1.0 + abs(t) / 20) for t in (-1.0, -0.5, 0.0, 0.5, 1.0)],
        # no curve at all: its squares would fall below zero at some places
        [Distance(t, d) for t, d in zip((-1.2, -0.6, 0, 0.6, 1.2), (0.02, 1, 0.01, 0.1, 0.01), strict=True)],
        # falling off more steeply than any pivot gives
        [
            Distance(t, pivot_distance(t, 0.5, 0.5) - 0.1 * (1 - math.cos(t)))
            for t in (-1.2, -0.6, 0.0, 0.6, 1.2)
        ],
    ],
)
def test_that_distances_of_no_single_pivot_say_so(readings: list[Distance]) -> None:
    found = fit_pivot(readings, off_limit=4.0)
    assert found.pivot is None
    assert found.turned_round is None
    assert "No single pivot" in str(found.says)


def test_that_readings_of_no_one_shaft_end_in_words() -> None:
    # so far apart in size that the equations of the fit cannot be solved any more
    found = fit_pivot([Distance(t, d) for t, d in ((-0.6, 0.1), (-1.2, 1), (0.599, 0.001), (0.6, 4.99))])
    assert found.pivot is None
    assert "Measure again" in str(found.says)


def test_that_impossible_distances_are_refused() -> None:
    good = nine(0.6, 0.465, 0.0)[:4]
    for bad in (
        Distance(0.0, 0.0),
        Distance(0.0, 1e200),
        Distance(math.nan, 1.0),
        Distance(0.0, 1.0, math.inf),
        Distance(0.0, 1.0, 1.5),
    ):
        with pytest.raises(Impossible):
            fit_pivot([*good, bad])
    with pytest.raises(Impossible):
        fit_pivot(good, off_limit=-1)
