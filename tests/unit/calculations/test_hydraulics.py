"""Rams against published cylinder examples; PM-1 worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.hydraulics import (
    Ram,
    areas,
    force,
    leak,
    lowering,
    measured_flow,
    measured_leak,
    pressure_for,
    real_flow,
    rod_speed,
    times,
    volumes,
)
from rakeprep.model.verdict import Verdict

INCH = 0.0254  # definition
LBF = 4.4482216152605  # definition of the pound-force
PSI = LBF / INCH**2
GPM = 231 * INCH**3 / 60  # definition of the US gallon
LPM = 1e-3 / 60


def test_that_the_published_six_inch_cylinder_comes_out() -> None:
    # Womack Machine Supply, hydraulic cylinder calculations: 6 in bore, 3 in rod, 2500 psi; printed
    # with pi = 3.14, hence the tolerance of 0.06 per cent
    full, ring = areas(6 * INCH, 3 * INCH)
    assert full / INCH**2 == pytest.approx(28.26, rel=6e-4)
    assert ring / INCH**2 == pytest.approx(21.19, rel=8e-4)
    assert force(2500 * PSI, full) / LBF == pytest.approx(70_650, rel=6e-4)
    assert force(2500 * PSI, ring) / LBF == pytest.approx(52_975, rel=8e-4)
    assert pressure_for(50_000 * LBF, full) / PSI == pytest.approx(1769.29, rel=6e-4)
    assert pressure_for(50_000 * LBF, ring) / PSI == pytest.approx(2359.60, rel=8e-4)


def test_that_the_textbook_two_inch_cylinder_comes_out() -> None:
    # Esposito, Fluid Power with Applications (from memory): 2 in bore, 1 in rod, 20 gpm, 1000 lbf
    full, ring = areas(2 * INCH, INCH)
    assert pressure_for(1000 * LBF, full) / PSI == pytest.approx(318.3, abs=0.1)
    assert pressure_for(1000 * LBF, ring) / PSI == pytest.approx(424.4, abs=0.1)
    assert rod_speed(full, 20 * GPM) / INCH == pytest.approx(24.51, abs=0.01)
    assert rod_speed(ring, 20 * GPM) / INCH == pytest.approx(32.68, abs=0.01)


def test_that_efficiency_and_lever_work_as_a_through_rod_example_says() -> None:
    # expertsmind.com, data of a through-rod ram 50/20 mm, 240 W at 5.1 L/min, efficiency 0.85; results
    # worked by hand: A = pi/4 (2500-400) = 1649.3 mm2, v = 85 000/1649.3 = 51.54 mm/s, F = 0.85*240/v
    ring = areas(0.050, 0.020)[1]
    speed = rod_speed(ring, 5.1 * LPM)
    assert speed == pytest.approx(0.05154, abs=1e-5)
    load = 0.85 * 240 / speed
    assert load == pytest.approx(3958, abs=1)
    assert pressure_for(load, ring, efficiency=0.85) / 1e5 == pytest.approx(240 / (5.1 * LPM) / 1e5, rel=1e-9)


def test_that_pm1_needs_its_times() -> None:
    # worked by hand, PM-1: 1.4137 L and 0.9327 L a ram, two rams at 30 L/min
    found = times(Ram(0.060, 0.500, rod=0.035, count=2), 30 * LPM)
    assert (found.out, found.back, found.ratio) == (
        pytest.approx(5.65, abs=0.01),
        pytest.approx(3.73, abs=0.01),
        pytest.approx(1.516, abs=0.001),
    )
    lift = Ram(0.080, 0.600, count=2)
    assert volumes(lift)[0] * 1e3 == pytest.approx(6.032, abs=0.001)  # by hand: 2 * 0.50265 dm2 * 6 dm
    assert times(lift, 40 * LPM).out == pytest.approx(9.05, abs=0.01)
    assert real_flow(lift, 14.2) / LPM == pytest.approx(25.5, abs=0.05)


def test_that_holding_pressure_and_leak_of_pm1_come_out() -> None:
    # worked by hand, PM-1: 750 * 9.81 * 2.2 / 5026.5 mm2 = 32.2 bar ; 5026.5 mm2 * 5 mm / 10 min
    assert pressure_for(750 * 9.81, areas(0.080)[0], lever=2.2) / 1e5 == pytest.approx(32.2, abs=0.05)
    assert leak(0.080, 0.005, 600) * 60e6 == pytest.approx(2.513, abs=0.001)
    assert leak(0.080, 0.005, 600, count=2) == pytest.approx(2 * leak(0.080, 0.005, 600))


@settings(max_examples=100)
@given(st.floats(0.02, 0.3), st.floats(0, 0.9), st.floats(0.1, 2), st.floats(1e-5, 1e-2), st.integers(1, 4))
def test_that_twice_the_flow_halves_the_times_and_keeps_the_ratio(
    bore: float, rod: float, stroke: float, flow: float, count: int
) -> None:
    ram = Ram(bore, stroke, rod * bore, count)
    slow, fast = times(ram, flow), times(ram, 2 * flow)
    assert slow.out == pytest.approx(2 * fast.out)
    assert slow.ratio == pytest.approx(fast.ratio)
    assert slow.ratio >= 1
    assert real_flow(ram, slow.out) == pytest.approx(flow)


@pytest.mark.parametrize(
    ("time", "verdict"), [(1.6, Verdict.STOP), (2.1, Verdict.MEASURE_AGAIN), (4.0, Verdict.IN_ORDER)]
)
def test_that_quick_lowering_is_a_danger(time: float, verdict: Verdict) -> None:
    # common practice (no source): below 2 s; doubt of one run 0.25 s
    assert lowering(time, 0.25) is verdict


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: areas(0), "bore"),
        (lambda: areas(0.05, 0.05), "rod"),
        (lambda: areas(0.05, -0.01), "rod"),
        (lambda: volumes(Ram(0.05, 0)), "stroke"),
        (lambda: volumes(Ram(0.05, 0.5, count=0)), "without a ram"),
        (lambda: times(Ram(0.05, 0.5), 0), "flow"),
        (lambda: real_flow(Ram(0.05, 0.5), math.inf), "time"),
        (lambda: force(-1, 1), "pressure"),
        (lambda: force(1, 1, 1.1), "efficiency"),
        (lambda: pressure_for(1, 1, efficiency=0), "efficiency"),
        (lambda: leak(0.05, 0.001, 600, count=0), "without a ram"),
    ],
)
def test_that_impossible_rams_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]


def test_that_the_doubt_of_the_stopwatch_travels_into_the_flow() -> None:
    # second method: uncertainties, Q = n pi/4 D^2 s / t
    t, d = ufloat(14.2, 0.15), ufloat(0.080, 0.0001)
    expected = 2 * math.pi / 4 * d**2 * 0.600 / t
    found = measured_flow(Ram(0.080, 0.600, count=2), Estimate(14.2, 0.15), bore_doubt=0.0001)
    assert found.value == pytest.approx(expected.nominal_value)
    assert found.doubt == pytest.approx(expected.std_dev, rel=1e-3)
    # by hand: 25.5 L/min, 1 % of the time is 0.3 L/min
    assert found.value * 60e3 == pytest.approx(25.5, abs=0.05)


def test_that_the_doubt_of_tape_and_clock_travels_into_the_leak() -> None:
    creep, t = ufloat(0.005, 0.001), ufloat(600, 5)
    expected = 2 * math.pi / 4 * 0.080**2 * creep / t  # second method: uncertainties
    found = measured_leak(0.080, Estimate(0.005, 0.001), Estimate(600, 5), count=2)
    assert (found.value, found.doubt) == pytest.approx((expected.nominal_value, expected.std_dev))
    # no creep at all is as doubtful as the tape (by hand: 5026.5 mm2 * 1 mm / 600 s)
    still = measured_leak(0.080, Estimate(0.0, 0.001), Estimate(600, 5))
    assert (still.value, still.doubt) == pytest.approx((0, 5026.5e-6 * 0.001 / 600), rel=1e-4)


def test_that_readings_that_may_be_nothing_are_refused() -> None:
    ram = Ram(0.080, 0.600)
    for refused in (
        lambda: measured_flow(ram, Estimate(0.2, 0.25)),
        lambda: measured_flow(ram, Estimate(0.0, 0.0)),
        lambda: measured_flow(ram, Estimate(1.0, -0.1)),
        lambda: measured_flow(ram, Estimate(9.0, 0.1), bore_doubt=0.1),
        lambda: measured_flow(Ram(0.080, 0.600, rod=0.09), Estimate(9.0, 0.1)),
        lambda: measured_leak(0.080, Estimate(0.01, 0.001), Estimate(1, 2)),
        lambda: measured_leak(0.080, Estimate(-0.01, 0.001), Estimate(600, 2)),
        lambda: measured_leak(0.080, Estimate(0.01, -0.001), Estimate(600, 2)),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_friction_takes_its_share_of_the_force() -> None:
    # by hand: 200 bar on 50 cm² are 100 kN, at 0.9 of it 90 kN
    assert force(200e5, 50e-4, 0.9) == pytest.approx(90e3)
