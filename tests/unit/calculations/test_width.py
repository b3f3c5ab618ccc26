"""Working width; PM-1 (invented) worked by hand; the line against certified data."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.width import (
    fit_line,
    headland_clearance,
    width_gauge,
    widths_from_centres,
)
from rakeprep.model.verdict import Verdict

# NIST Statistical Reference Datasets, Norris (interlaboratory data on ozone monitors): x, y.
NORRIS = (
    (0.2, 0.1),
    (337.4, 338.8),
    (118.2, 118.1),
    (884.6, 888.0),
    (10.1, 9.2),
    (226.5, 228.1),
    (666.3, 668.5),
    (996.3, 998.5),
    (448.6, 449.1),
    (777.0, 778.9),
    (558.2, 559.2),
    (0.4, 0.3),
    (0.6, 0.1),
    (775.5, 778.1),
    (666.9, 668.8),
    (338.0, 339.3),
    (447.5, 448.9),
    (11.6, 10.8),
    (556.0, 557.7),
    (228.1, 228.3),
    (995.8, 998.0),
    (887.6, 888.8),
    (120.2, 119.6),
    (0.3, 0.3),
    (0.3, 0.6),
    (556.8, 557.6),
    (339.1, 339.3),
    (887.2, 888.0),
    (999.0, 998.5),
    (779.0, 778.9),
    (11.1, 10.2),
    (118.3, 117.6),
    (229.2, 228.9),
    (669.1, 668.4),
    (448.9, 449.2),
    (0.5, 0.2),
)


def test_that_the_certified_norris_line_comes_out() -> None:
    assert len(NORRIS) == 36
    line = fit_line(NORRIS)
    # NIST Statistical Reference Datasets, Norris, certified values
    assert line.offset == pytest.approx(-0.262323073774029, rel=1e-9)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-12)
    assert line.sd == pytest.approx(0.884796396144373, rel=1e-9)
    assert line.slope_sd == pytest.approx(0.429796848199937e-3, rel=1e-9)
    assert line.offset_sd == pytest.approx(0.232818234301152, rel=1e-9)
    assert math.fsum(e * e for e in line.residuals) == pytest.approx(26.6173985294224, rel=1e-9)


def test_that_the_gum_thermometer_line_comes_out() -> None:
    # JCGM 100:2008 (GUM), H.3, table H.6: y1 -0.1712(29), y2 0.00218(67), s 0.0035; b(30) -0.1494
    t = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
    b = (-171, -169, -166, -159, -164, -165, -156, -157, -159, -161, -160)
    line = fit_line([(x - 20, y / 1000) for x, y in zip(t, b, strict=True)])
    assert line.offset == pytest.approx(-0.1712, abs=5e-5)
    assert line.offset_sd == pytest.approx(0.0029, abs=5e-5)
    assert line.slope == pytest.approx(0.00218, abs=5e-6)
    assert line.slope_sd == pytest.approx(0.00067, abs=5e-6)
    assert line.sd == pytest.approx(0.0035, abs=5e-5)
    assert line.at(10) == pytest.approx(-0.1494, abs=5e-5)


def test_that_the_gauge_of_pm1_needs_its_pointer_shifted() -> None:
    gauge = width_gauge([(6.20, 6.26), (7.40, 7.42)], doubt=0.005, shift_limit=0.020)
    # worked by hand, PM-1: 1.16/1.20 ; 6.26 - 0.9667*6.20 ; at 6.80 ; (0.06 + 0.02)/2
    assert gauge.line.slope == pytest.approx(0.9667, abs=1e-4)
    assert gauge.line.offset == pytest.approx(0.2667, abs=1e-4)
    assert gauge.line.at(6.80) == pytest.approx(6.84)
    assert gauge.shift.value == pytest.approx(0.04)
    # by hand: 0.005/sqrt(2 * 0.6^2) and 0.005/sqrt 2
    assert gauge.slope.doubt == pytest.approx(0.00589, abs=1e-5)
    assert gauge.shift.doubt == pytest.approx(0.00354, abs=1e-5)
    assert gauge.verdict is Verdict.PUT_RIGHT
    assert "pointer" in str(gauge.says)


@pytest.mark.parametrize(
    ("settings_", "doubt", "verdict", "part"),
    [
        ([(6.2, 6.2), (7.4, 7.41)], 0.005, Verdict.IN_ORDER, "true width"),
        ([(6.2, 6.2), (7.4, 7.2)], 0.005, Verdict.PUT_RIGHT, "wrong hole"),
        ([(6.2, 6.2), (7.4, 7.42)], 0.040, Verdict.MEASURE_AGAIN, "uncertain"),
    ],
)
def test_that_gauge_verdicts_follow_slope_and_shift(
    settings_: list[tuple[float, float]], doubt: float, verdict: Verdict, part: str
) -> None:
    gauge = width_gauge(settings_, doubt, shift_limit=0.020)
    assert gauge.verdict is verdict
    assert part in str(gauge.says)


@settings(max_examples=100)
@given(st.floats(0.5, 2), st.floats(-3, 3), st.lists(st.integers(0, 50), min_size=2, max_size=8, unique=True))
def test_that_a_line_is_found_again(slope: float, offset: float, xs: list[int]) -> None:
    line = fit_line([(x, offset + slope * x) for x in xs])
    assert line.slope == pytest.approx(slope, abs=1e-9)
    assert line.offset == pytest.approx(offset, abs=1e-6)
    assert (line.sd is None) == (len(xs) == 2)


@pytest.mark.parametrize(
    ("clearance", "verdict"),
    [(0.400, Verdict.IN_ORDER), (0.382, Verdict.MEASURE_AGAIN), (0.300, Verdict.PUT_RIGHT)],
)
def test_that_raised_tines_must_clear_the_windrow(clearance: float, verdict: Verdict) -> None:
    # worked by hand: windrow 380 mm, doubt 5 mm
    assert headland_clearance(Estimate(clearance, 0.005), 0.380) is verdict


def test_that_widths_follow_from_the_rotor_centres() -> None:
    # worked by hand, PM-1: centres 2.70 to 3.90 apart give 6.20 to 7.40
    assert widths_from_centres(2.70, 3.50) == (pytest.approx(6.20), pytest.approx(-0.80))
    assert widths_from_centres(3.90, 3.50) == (pytest.approx(7.40), pytest.approx(0.40))


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: fit_line([(1, 1)]), "two different settings"),
        (lambda: fit_line([(1, 1), (1, 2)]), "two different settings"),
        (lambda: fit_line([(1, math.nan), (2, 2)]), "reading"),
        (lambda: width_gauge([(0, 1), (2, 2)], 0, 0), "shown width"),
        (lambda: width_gauge([(1, 1), (2, 2)], -1, 0), "doubt"),
        (lambda: headland_clearance(Estimate(1, 0), -1), "windrow"),
        (lambda: widths_from_centres(0, 1), "rotor centres"),
    ],
)
def test_that_impossible_widths_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]


def test_that_a_line_through_two_points_has_no_residuals_and_no_scatter() -> None:
    line = fit_line([(1.0, 2.0), (3.0, 8.0)])
    assert (line.slope, line.offset) == (pytest.approx(3.0), pytest.approx(-1.0))
    assert line.residuals == pytest.approx((0.0, 0.0))
    assert (line.sd, line.slope_sd, line.offset_sd) == (None, None, None)


@pytest.mark.parametrize(
    ("settings_", "words", "verdict"),
    [
        # by hand: 1.2 m on the scale are 1.26 m (slope 1.05) or 1.14 m (0.95), band 0.03
        ([(6.2, 6.2), (7.4, 7.46)], "wrong hole", Verdict.PUT_RIGHT),
        ([(6.2, 6.2), (7.4, 7.34)], "wrong hole", Verdict.PUT_RIGHT),
        # shifts of 60 mm either way, limit 50 mm
        ([(6.2, 6.26), (7.4, 7.46)], "Shift", Verdict.PUT_RIGHT),
        ([(6.2, 6.14), (7.4, 7.34)], "Shift", Verdict.PUT_RIGHT),
        ([(6.2, 6.2), (7.4, 7.4)], "true width", Verdict.IN_ORDER),
    ],
)
def test_that_a_gauge_off_either_way_is_found(
    settings_: list[tuple[float, float]], words: str, verdict: Verdict
) -> None:
    found = width_gauge(settings_, 0.001, 0.05)
    assert (found.verdict, words in str(found.says)) == (verdict, True)


def test_that_a_gauge_too_uncertain_still_tells_its_line() -> None:
    # by hand: mean error 45 mm, doubt 20 / √2 = 14 mm, limit 50 mm; slope 1
    found = width_gauge([(6.2, 6.245), (7.4, 7.445)], 0.020, 0.05, 0.05)
    assert found.verdict is Verdict.MEASURE_AGAIN
    assert found.line.slope == pytest.approx(1.0)
    assert found.slope.value == pytest.approx(1.0)
    assert found.shift == Estimate(pytest.approx(0.045), pytest.approx(0.020 / 2**0.5))  # type: ignore[arg-type]


def test_that_spare_height_comes_on_top_of_the_windrow() -> None:
    # by hand: 400 - 5 clears 380 and not 380 + 50
    assert headland_clearance(Estimate(0.400, 0.005), 0.380, 0.050) is Verdict.PUT_RIGHT
    assert headland_clearance(Estimate(0.440, 0.005), 0.380, 0.050) is Verdict.IN_ORDER
