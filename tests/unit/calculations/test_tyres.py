"""Tyre pressure; PM-1 (invented) worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.tyres import (
    ambient_pressure,
    load_for_pressure,
    pressure_at,
    pressure_elsewhere,
    pressure_for_load,
    pressure_to_set,
    side_difference,
)
from rakeprep.model.verdict import Verdict

BAR = 1e5
ZERO = 273.15  # definition of the degree Celsius
PSI = 6894.757293168  # definition of the pound per square inch


@pytest.mark.parametrize(
    ("pressure", "now", "then", "expected"),
    [
        # worked by hand with 1.01325 bar: (2.00+1.01325)*273.15/293.15-1.01325 and so on
        (2.00, 20, 0, 1.794),
        (2.00, 20, 40, 2.206),
        (1.50, 25, 5, 1.331),
        (2.20, 15, 35, 2.423),
        (2.00, 22, 5, 1.826),
        (2.00, 22, 35, 2.133),
    ],
)
def test_that_pressure_follows_the_gas_law(pressure: float, now: float, then: float, expected: float) -> None:
    assert pressure_at(pressure * BAR, ZERO + now, ZERO + then) / BAR == pytest.approx(expected, abs=6e-4)


def test_that_thirty_psi_lose_one_and_a_half_in_ten_kelvin() -> None:
    # worked by hand: (30 + 14.696) * 283.15/293.15 - 14.696
    assert pressure_at(30 * PSI, 293.15, 283.15) / PSI == pytest.approx(28.475, abs=1e-3)


def test_that_the_pressure_to_set_now_comes_out_in_the_cold_morning() -> None:
    # worked by hand, PM-1: (2.00 + 1.01325) * 295.15/278.15 - 1.01325 = 2.184
    assert pressure_to_set(2 * BAR, use=278.15, now=295.15) / BAR == pytest.approx(2.184, abs=1e-3)


@settings(max_examples=100)
@given(st.floats(0, 5e5), st.floats(230, 350), st.floats(230, 350), st.floats(6e4, 1.1e5))
def test_that_setting_now_and_using_then_gives_the_wanted_pressure(
    wanted: float, use: float, now: float, ambient: float
) -> None:
    set_now = pressure_to_set(wanted, use, now, ambient)
    if set_now >= 0:
        assert pressure_at(set_now, now, use, ambient) == pytest.approx(wanted, abs=1e-6)


def test_that_the_standard_atmosphere_is_met() -> None:
    # ISO 2533 table (from memory): 0 m 1013.25, 1000 m 898.75, 1500 m 845.6, 5000 m 540.2 hPa
    for height, pressure in ((0, 101_325), (1000, 89_875), (1500, 84_560), (5000, 54_020)):
        assert ambient_pressure(height) == pytest.approx(pressure, rel=2e-4)
    # worked by hand: 2.00 + 1.013 - 0.848
    assert pressure_elsewhere(2 * BAR, 1.013 * BAR, 0.848 * BAR) / BAR == pytest.approx(2.165)


@pytest.mark.parametrize(
    ("exponent", "expected"),
    # worked by hand: 2.0 * 0.8^(1/n)
    [(0.585, 1.366), (0.7, 1.454), (0.8, 1.513), (1.0, 1.600)],
)
def test_that_part_load_needs_less_pressure(exponent: float, expected: float) -> None:
    assert pressure_for_load(800, 1000, 2 * BAR, exponent) / BAR == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize(
    # flotation load and inflation chart (tirepressure.com), 31x10.50R15: pounds at psi, held against
    # 50 psi with the exponent 0.7 that light truck and flotation tyres follow; chart steps of 5 lb
    ("psi", "pounds"),
    [(25, 1400), (30, 1595), (35, 1765), (40, 1945), (45, 2100), (50, 2270)],
)
def test_that_a_published_load_chart_is_followed(psi: float, pounds: float) -> None:
    assert load_for_pressure(psi, 2270, 50, 0.7) == pytest.approx(pounds, rel=0.01)


@given(st.floats(0.05, 1), st.floats(0.3, 1))
def test_that_load_and_pressure_are_each_other_turned_round(share: float, exponent: float) -> None:
    pressure = pressure_for_load(share * 1000, 1000, 2e5, exponent)
    assert load_for_pressure(pressure, 1000, 2e5, exponent) == pytest.approx(share * 1000)


def test_that_the_least_pressure_is_kept_and_more_pressure_carries_no_more() -> None:
    assert pressure_for_load(10, 1000, 2e5, least=1e5) == 1e5
    assert load_for_pressure(9e5, 1000, 2e5) == 1000


@pytest.mark.parametrize(
    ("left", "right", "verdict"),
    [
        # worked by hand: doubt 0.03 sqrt 2 = 0.042; limit 0.10
        (2.00, 1.97, Verdict.IN_ORDER),
        (2.00, 1.92, Verdict.MEASURE_AGAIN),
        (2.00, 1.20, Verdict.PUT_RIGHT),
    ],
)
def test_that_left_and_right_are_compared_with_their_doubt(
    left: float, right: float, verdict: Verdict
) -> None:
    difference, found = side_difference(left * BAR, right * BAR, 0.03 * BAR)
    assert found is verdict
    assert difference.doubt / BAR == pytest.approx(0.03 * math.sqrt(2))
    mirrored, same = side_difference(right * BAR, left * BAR, 0.03 * BAR)
    assert (mirrored.value, same) == (-difference.value, verdict)


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: pressure_at(-1, 290, 290), "tyre pressure"),
        (lambda: pressure_at(1, 0, 290), "temperature"),
        (lambda: pressure_for_load(2, 1, 1), "more than this tyre"),
        (lambda: pressure_for_load(1, 2, 1, 1.5), "exponent"),
        (lambda: load_for_pressure(1, 2, 1, 0), "exponent"),
        (lambda: ambient_pressure(20_000), "height"),
    ],
)
def test_that_impossible_tyres_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]
