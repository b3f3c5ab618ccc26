"""Concrete to field; numbers by hand, doubt against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.field_height import concrete_height, field_height, sink


def test_that_the_sink_comes_off() -> None:
    # by hand: 20 - 12 = 8 mm; doubts 3 and 3 mm give 4.24
    found = field_height(Estimate(0.020, 0.003), Estimate(0.012, 0.003))
    assert (found.value, found.doubt) == pytest.approx((0.008, 0.00424), abs=1e-5)
    assert concrete_height(0.008, Estimate(0.012, 0.003)) == Estimate(0.020, 0.003)


def test_that_scattering_prints_are_more_doubtful_than_the_rule() -> None:
    prints = [0.005, 0.012, 0.020]
    # second method: scipy's Student t (the table here has two decimals)
    expected = stats.t.ppf(0.975, 2) * stats.sem(prints)
    assert sink(prints).doubt == pytest.approx(expected, rel=2e-3)
    assert sink(prints).value == pytest.approx(float(np.mean(prints)))
    # by hand: three like prints, 3 mm / sqrt 3 = 1.73 mm; one print, 3 mm
    assert sink([0.012, 0.012, 0.012]).doubt == pytest.approx(0.00173, abs=1e-5)
    # two prints: scipy's t with one degree of freedom
    assert sink([0.005, 0.025]).doubt == pytest.approx(
        stats.t.ppf(0.975, 1) * stats.sem([0.005, 0.025]), rel=2e-3
    )
    assert sink([0.012]) == Estimate(0.012, 0.003)


def test_that_impossible_prints_are_refused() -> None:
    for refused in (
        lambda: sink([]),
        lambda: sink([-0.001]),
        lambda: sink([0.001], -1),
        lambda: field_height(Estimate(float("nan"), 0), Estimate(0.01, 0)),
        lambda: field_height(Estimate(0.02, -1), Estimate(0.01, 0)),
        lambda: concrete_height(0.02, Estimate(-0.01, 0)),
        lambda: concrete_height(0.02, Estimate(0.01, -1)),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_doubts_below_zero_are_refused_and_none_at_all_is_not() -> None:
    assert concrete_height(0.010, Estimate(0.012, 0.0)) == Estimate(pytest.approx(0.022), 0.0)  # type: ignore[arg-type]
