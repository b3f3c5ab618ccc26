"""Doubt of the cut against the package uncertainties."""

from __future__ import annotations

import pytest
import uncertainties
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.driveline import cut
from rakeprep.calculations.shaft_doubts import LengthDoubts, sure_cut
from rakeprep.model.verdict import Verdict

PLAN = cut(0.905, 0.780, 0.760, 0.872, 1.068, 0.030, 0.250, 0.005)


@settings(max_examples=60)
@given(st.lists(st.floats(0.0005, 0.01), min_size=5, max_size=5), st.floats(0, 0.95))
def test_that_shared_errors_travel_as_the_covariance_says(doubts: list[float], shared: float) -> None:
    values = (0.905, 0.780, 0.760, 0.872, 1.068)
    cov = [[a * b * (1.0 if i == j else shared) for j, b in enumerate(doubts)] for i, a in enumerate(doubts)]
    # second method: uncertainties with the full covariance matrix
    closed, a, b, shortest, longest = uncertainties.correlated_values(values, cov)
    off, other = (uncertainties.ufloat(PLAN.cut, 0.001) for _ in range(2))  # two tubes, two saw cuts
    found = sure_cut(PLAN, LengthDoubts(*doubts), 0.250, shared)
    for mine, second in (
        (found.gap, shortest - closed + off),
        (found.overlap, a + b - longest - off - other),
        (found.least, closed + 0.030 - shortest),
        (found.most, (a + b - longest - 0.250) / 2),
    ):
        assert mine.value == pytest.approx(second.nominal_value, abs=1e-9)
        assert mine.doubt == pytest.approx(second.std_dev, rel=1e-6, abs=1e-9)


def test_that_pm1_s_cut_is_sure_and_a_tight_one_is_not() -> None:
    doubts = LengthDoubts(0.002, 0.002, 0.002, 0.005, 0.005)
    found = sure_cut(PLAN, doubts, 0.250)
    # by hand: gap 872 - 905 + 65 = 32 mm, sqrt(5^2 + 2^2 + 1^2) = 5.5 mm
    assert (found.gap.value, found.gap.doubt) == pytest.approx((0.032, 0.00548), abs=1e-5)
    assert found.verdict is Verdict.IN_ORDER
    # by hand: overlap 342 mm, doubt sqrt(4 + 4 + 25 + 1 + 1) = 5.9: 340 is too close
    tight = sure_cut(PLAN, doubts, 0.340)
    assert tight.verdict is Verdict.MEASURE_AGAIN
    assert "overlap" in str(tight.says)
    vague = sure_cut(PLAN, LengthDoubts(0.03, 0.002, 0.002, 0.03, 0.005), 0.250)
    assert vague.verdict is Verdict.MEASURE_AGAIN
    assert "gap" in str(vague.says)


def test_that_impossible_doubts_are_refused() -> None:
    for refused in (
        lambda: sure_cut(PLAN, LengthDoubts(-1, 0, 0, 0, 0), 0.25),
        lambda: sure_cut(PLAN, LengthDoubts(0, 0, 0, 0, 0), -1),
        lambda: sure_cut(PLAN, LengthDoubts(0, 0, 0, 0, 0), 0.25, shared=1.1),
    ):
        with pytest.raises(Impossible):
            refused()
