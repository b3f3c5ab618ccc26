"""Test run; PM-1 (invented) worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from rakeprep.calculations import Impossible
from rakeprep.calculations.test_run import (
    coast_down,
    follow_speed,
    heat,
    knocks,
    windrow,
    work_rate,
)
from rakeprep.model.verdict import Verdict

ZERO = 273.15  # definition of the degree Celsius


@pytest.mark.parametrize(
    ("left", "right", "verdict", "part"),
    [
        # worked by hand with ambient 24, limits 15 K, 50 K, 80 deg C (rules of thumb), doubt 3 K
        (62, 41, Verdict.PUT_RIGHT, "One side"),
        (41, 62, Verdict.PUT_RIGHT, "One side"),
        (45, 41, Verdict.IN_ORDER, "as it should be"),
        (54, 41, Verdict.MEASURE_AGAIN, "One side"),
        (79.0, 78.9, Verdict.PUT_RIGHT, "oil level"),
        (90, 60, Verdict.STOP, "Too hot"),
    ],
)
def test_that_heat_is_judged_by_side_rise_and_top(
    left: float, right: float, verdict: Verdict, part: str
) -> None:
    ambient = 24.0 if left != 79.0 else 20.0
    found = heat(ZERO + left, ZERO + right, ZERO + ambient, 3.0)
    assert found.verdict is verdict
    assert part in str(found.says)
    assert found.left_rise == pytest.approx(left - ambient)
    assert found.right_rise == pytest.approx(right - ambient)
    assert found.difference == pytest.approx(left - right)


@pytest.mark.parametrize(
    ("count", "time", "whole", "part"),
    [
        # worked by hand, PM-1 at 55.8 rotor rpm and 450 PTO rpm: 0.93, 11.16, 7.5 and 15 a second
        (9, 10, 1, "one arm"),
        (112, 10, 12, "all arms"),
        (75, 10, 1, "bent"),
        (150, 10, 2, "yokes"),
        (30, 10, None, "count again"),
    ],
)
def test_that_knocks_are_traced_to_what_turns_as_often(
    count: float, time: float, whole: int | None, part: str
) -> None:
    found = knocks(count, time, 55.8 / 60, 450 / 60, 12)
    assert found.whole == whole
    assert part in str(found.says)
    assert found.per_rotor_turn == pytest.approx(count / time / 0.93)
    assert found.per_pto_turn == pytest.approx(count / time / 7.5)


@pytest.mark.parametrize(
    ("left", "right", "verdict", "part"),
    [
        # worked by hand, PM-1: 2.5/6.0 = 0.42; limit 0.7 (rule of thumb), doubt 0.25 s
        (6.0, 2.5, Verdict.PUT_RIGHT, "right rotor drags"),
        (2.5, 6.0, Verdict.PUT_RIGHT, "left rotor drags"),
        (6.0, 5.8, Verdict.IN_ORDER, "alike"),
        (6.0, 4.2, Verdict.MEASURE_AGAIN, "Too close"),
    ],
)
def test_that_the_shorter_run_down_drags(left: float, right: float, verdict: Verdict, part: str) -> None:
    found = coast_down(left, right, 0.25)
    assert found.verdict is verdict
    assert part in str(found.says)


@settings(max_examples=60)
@given(st.floats(1, 60), st.floats(1, 60), st.floats(0.01, 0.5))
def test_that_the_ratio_s_doubt_is_what_an_independent_library_says(
    left: float, right: float, doubt: float
) -> None:
    # second method: the uncertainties package
    short, long = sorted((left, right))
    other = ufloat(short, doubt) / ufloat(long, doubt)
    mine = coast_down(left, right, doubt).ratio
    assert (mine.value, mine.doubt) == (pytest.approx(other.nominal_value), pytest.approx(other.std_dev))
    assert coast_down(right, left, doubt).ratio == mine


def test_that_published_field_capacity_comes_out() -> None:
    # Iowa State University Extension A3-24: 40 ft, 6 mph, 70 % gives 20.4 acres an hour
    foot, mile, acre = 0.3048, 1609.344, 4046.8564224  # definitions of the international units
    rate = work_rate(40 * foot, 6 * mile / 3600, 0.70)
    assert rate * 3600 / acre == pytest.approx(20.4, abs=0.05)


def test_that_windrow_and_following_speed_come_out() -> None:
    # worked by hand, PM-1: 3.5 t/ha * 7.2 m = 2.52 kg/m ; 15 000/2.52 = 5952 m/h
    assert windrow(0.35, 7.2) == pytest.approx(2.52)
    assert follow_speed(15_000 / 3600, 2.52) * 3.6 == pytest.approx(5.952, abs=1e-3)


@settings(max_examples=60)
@given(st.floats(0.1, 20), st.floats(0, 10), st.floats(0.01, 0.5))
def test_that_work_rate_grows_in_step_with_each_factor(width: float, speed: float, efficiency: float) -> None:
    one = work_rate(width, speed, efficiency)
    assert work_rate(2 * width, speed, efficiency) == pytest.approx(2 * one)
    assert work_rate(width, 2 * speed, efficiency) == pytest.approx(2 * one)
    assert work_rate(width, speed, 2 * efficiency) == pytest.approx(2 * one)


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: heat(0, 300, 300, 3), "temperature"),
        (lambda: heat(300, 300, 300, 3, side_limit=0), "limit"),
        (lambda: knocks(0, 10, 1, 9, 12), "knocks"),
        (lambda: knocks(1, 10, 1, 9, 0), "one arm"),
        (lambda: coast_down(0, 1, 0.25), "left rotor"),
        (lambda: coast_down(1, 1, 0.25, least=2), "ratio"),
        (lambda: work_rate(7, 1, 0), "efficiency"),
        (lambda: windrow(-1, 7), "yield"),
        (lambda: follow_speed(1, 0), "windrow"),
    ],
)
def test_that_impossible_runs_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]


def test_that_each_question_on_heat_keeps_its_own_answer() -> None:
    # by hand, in K: 62 and 41 °C at 24 °C; difference 21 > 15 + 4.2, rise 38 < 50 - 4.2, 62 < 80 - 3
    found = heat(335.15, 314.15, 297.15, 3.0)
    assert (found.sides, found.rise, found.hottest) == (Verdict.PUT_RIGHT, Verdict.IN_ORDER, Verdict.IN_ORDER)
    # 90 and 88 °C: alike, but hotter than 80 °C, and 66 K over the air
    hot = heat(363.15, 361.15, 297.15, 3.0)
    assert (hot.sides, hot.rise, hot.hottest) == (Verdict.IN_ORDER, Verdict.PUT_RIGHT, Verdict.STOP)
