"""Working width; PM-1 (invented) worked by hand; the line against certified data."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.levelling import CannotTell
from rakeprep.calculations.width import (
    fit_line,
    headland_clearance,
    headland_limiter,
    width_gauge,
    widths_from_centres,
)
from rakeprep.model.verdict import Verdict


def norris() -> list[tuple[float, float]]:
    """The NIST data set Norris, from the file that SciPy carries for its own tests."""
    file = Path(scipy.stats.__file__).parent / "tests/data/nist_linregress/Norris.dat"
    if not file.exists():
        pytest.skip("this SciPy comes without its test data")
    pairs = re.findall(r"^\s+(-?[\d.]+)\s+(-?[\d.]+)\s*$", file.read_text(), re.MULTILINE)
    return [(float(x), float(y)) for y, x in pairs]


def test_that_the_certified_norris_line_comes_out() -> None:
    points = norris()
    assert len(points) == 36
    line = fit_line(points)
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


def test_that_the_limiter_of_pm1_moves_one_hole() -> None:
    limiter = headland_limiter(0.050, 0.140, 0.060, 0.020)
    # worked by hand, PM-1: 140/50 ; 60/2.8 ; 20*2.8
    assert limiter.ratio == pytest.approx(2.8)
    assert limiter.move == pytest.approx(0.0214, abs=5e-5)
    assert (limiter.holes, limiter.gives) == (1, pytest.approx(0.056))
    assert str(limiter.says) == "Move the limiter 1 hole, the way of the trial."


def test_that_the_limiter_also_moves_back_or_not_at_all() -> None:
    assert "against" in str(headland_limiter(0.050, 0.140, -0.120, 0.020).says)
    assert "Leave it" in str(headland_limiter(0.050, 0.140, 0.020, 0.020).says)
    back = headland_limiter(-0.050, -0.140, 0.060, 0.020)
    assert back.holes == 1
    assert "against" in str(back.says)
    with pytest.raises(CannotTell, match="changed nothing"):
        headland_limiter(0.050, 0.0, 0.1, 0.02)


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
        (lambda: headland_limiter(0, 1, 1, 1), "Without a move"),
        (lambda: headland_limiter(1, 1, 1, 0), "holes"),
        (lambda: headland_clearance(Estimate(1, 0), -1), "windrow"),
        (lambda: widths_from_centres(0, 1), "rotor centres"),
    ],
)
def test_that_impossible_widths_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]
