"""Learned sensitivity; worked by hand and judged by the package uncertainties."""

from __future__ import annotations

import math

import pytest
import uncertainties
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.learning import learn, merged, steps_to_see
from rakeprep.calculations.levelling import CannotTell

BEFORE = [Estimate(0.030, 0.001), Estimate(-0.029, 0.003)]
AFTER = [Estimate(0.0308, 0.001), Estimate(0.019, 0.003)]


def test_that_a_turn_teaches_what_it_does() -> None:
    # by hand: (30.8 - 30)/2 = 0.4 mm, (19 + 29)/2 = 24 mm; doubts sqrt(2)/2 of one
    learned = learn(BEFORE, AFTER, 2)
    assert [j.value * 1000 for j in learned] == pytest.approx([0.4, 24])
    assert [j.doubt * 1000 for j in learned] == pytest.approx([0.707, 2.121], abs=1e-3)
    # turned the other way the sensitivity has the other sign (by hand)
    assert learn(BEFORE, AFTER, -2)[1].value == pytest.approx(-0.024)


@settings(max_examples=60)
@given(st.floats(0.001, 0.01), st.floats(0.001, 0.01), st.floats(0, 0.99), st.floats(1, 20))
def test_that_shared_errors_cancel(before: float, after: float, shared: float, steps: float) -> None:
    cov = shared * before * after
    # second method: uncertainties with the covariance given
    a, b = uncertainties.correlated_values([0.0, 1.0], [[before**2, cov], [cov, after**2]])
    expected = (b - a) / steps
    found = learn([Estimate(0.0, before)], [Estimate(1.0, after)], steps, shared)[0]
    assert found.value == pytest.approx(expected.nominal_value)
    assert found.doubt == pytest.approx(expected.std_dev, rel=1e-6)


def test_that_an_adjuster_that_does_nothing_is_refused() -> None:
    with pytest.raises(CannotTell, match="pin is seated"):
        learn(BEFORE, [Estimate(0.0305, 0.001), Estimate(-0.027, 0.003)], 3)


def test_that_a_change_as_large_as_its_doubt_teaches_nothing_yet() -> None:
    # by hand: 1 of 1
    with pytest.raises(CannotTell):
        learn([Estimate(0.0, 1.0)], [Estimate(1.0, 0.0)], 1)
    assert learn([Estimate(0.0, 1.0)], [Estimate(1.001, 0.0)], 1)[0].doubt == 1


def test_that_enough_steps_are_advised() -> None:
    # by hand: 1.414 * 6 / 8.33 = 1.02 -> 2 ; 1.414 * 1 / 8.33 -> 1 ; exact readings -> 1
    assert steps_to_see(0.00833, 0.006) == 2
    assert steps_to_see(0.00833, 0.001) == 1
    assert steps_to_see(0.00833, 0) == 1
    # by hand: 1.414 * 2 / 1 = 2.83 -> 3, and exactly 3 stays 3
    assert steps_to_see(1.0, 2.0) == 3
    assert steps_to_see(1.0, 3 / math.sqrt(2)) == 3


def test_that_two_lessons_that_agree_become_one() -> None:
    # by hand: weights 1/4 and 1/1: (24/4 + 22)/(1.25) = 22.4; 1/sqrt(1.25) = 0.894
    found = merged(Estimate(24, 2), Estimate(22, 1))
    assert (found.value, found.doubt) == pytest.approx((22.4, 0.8944), abs=1e-4)
    # by hand: weights 1/4 and 1/16: (24/4 + 20/16) / (5/16) = 23.2; 1/sqrt(5/16) = 1.789
    found = merged(Estimate(24, 2), Estimate(20, 4))
    assert (found.value, found.doubt) == pytest.approx((23.2, 1.7889), abs=1e-4)
    with pytest.raises(CannotTell, match="otherwise than before"):
        merged(Estimate(24, 1), Estimate(20, 1))


def test_that_impossible_lessons_are_refused() -> None:
    for refused in (
        lambda: learn(BEFORE, AFTER, 0),
        lambda: learn(BEFORE, AFTER, float("inf")),
        lambda: learn(BEFORE, AFTER, 1001),
        lambda: learn(BEFORE, AFTER[:1], 1),
        lambda: learn([], [], 1),
        lambda: learn([Estimate(float("nan"), 0)], [Estimate(1, 0)], 1),
        lambda: learn([Estimate(0, -1)], [Estimate(1, 0)], 1),
        lambda: steps_to_see(0, 1),
        lambda: steps_to_see(1, -1),
        lambda: steps_to_see(1e-9, 1),
        lambda: merged(Estimate(1, 0), Estimate(1, 1)),
        lambda: merged(Estimate(1, 1), Estimate(1, 0)),
    ):
        with pytest.raises(Impossible):
            refused()
