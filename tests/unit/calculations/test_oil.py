"""Oil levels on a slope and grease by the shot; worked by hand, invented practice machine."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.oil import grease_given, level_error, oil_balance, shots_needed
from rakeprep.model.verdict import Verdict


def test_that_four_degrees_at_180_mm_are_12_6_mm() -> None:
    # by hand: 180 mm · tan 4° = 180 · 0.06993 = 12.59 mm
    assert level_error(0.180, math.radians(4)) == pytest.approx(0.01259, abs=5e-6)


@given(st.floats(0, 1), st.floats(-1.5, 1.5))
def test_that_the_error_has_the_sign_of_the_tilt(arm: float, tilt: float) -> None:
    # tan is odd: tilted as far the other way the error is the opposite
    assert level_error(arm, -tilt) == -level_error(arm, tilt)


@pytest.mark.parametrize(("arm", "tilt"), [(-0.1, 0.0), (0.1, 1.6), (0.1, math.nan), (math.inf, 0.1)])
def test_that_impossible_slopes_are_refused(arm: float, tilt: float) -> None:
    with pytest.raises(Impossible):
        level_error(arm, tilt)


@pytest.mark.parametrize(
    ("grams", "per_shot", "shots"),
    # by hand: 20 / 1.2 = 16.7; 12 / 1.2 = 10 exactly, which float division must not make 11
    [(20, 1.2, 17), (12, 1.2, 10), (1, 5, 1)],
)
def test_that_shots_are_rounded_up(grams: float, per_shot: float, shots: int) -> None:
    assert shots_needed(grams / 1000, per_shot / 1000) == shots


@given(st.floats(1e-3, 1), st.floats(5e-4, 1e-2))
def test_that_the_shots_give_enough_and_one_less_does_not(grease: float, per_shot: float) -> None:
    # the definition of rounding up
    shots = shots_needed(grease, per_shot)
    assert grease_given(shots, per_shot) >= grease * (1 - 1e-6)
    assert grease_given(shots - 1, per_shot) < grease


@pytest.mark.parametrize(("grease", "per_shot"), [(0.0, 1e-3), (1e-2, 0.0), (1e-2, -1.0), (1.0, 1e-9)])
def test_that_a_gun_without_grease_is_refused(grease: float, per_shot: float) -> None:
    with pytest.raises(Impossible):
        shots_needed(grease, per_shot)


def test_that_shots_below_zero_are_refused() -> None:
    with pytest.raises(Impossible):
        grease_given(-1, 1e-3)


@pytest.mark.parametrize(
    ("drained", "verdict", "words"),
    [
        # by hand, in mL out of 800 with 70.7 doubt: 0, 60 (edge), 250 lost, 250 gained
        (800, Verdict.IN_ORDER, "As much"),
        (740, Verdict.MEASURE_AGAIN, "drip"),
        (550, Verdict.PUT_RIGHT, "leak"),
        (1050, Verdict.PUT_RIGHT, "water"),
    ],
)
def test_that_oil_drained_is_held_against_oil_filled(drained: float, verdict: Verdict, words: str) -> None:
    found = oil_balance(Estimate(800e-6, 50e-6), Estimate(drained * 1e-6, 50e-6))
    assert found.verdict is verdict
    assert words in str(found.says)
    assert found.lost.value == pytest.approx((800 - drained) * 1e-6, abs=1e-12)
    assert found.lost.doubt == pytest.approx(70.71e-6, abs=1e-8)


def test_that_impossible_volumes_are_refused() -> None:
    one = Estimate(1e-3, 5e-5)
    for refused in (
        lambda: oil_balance(Estimate(0, 0), one),
        lambda: oil_balance(one, Estimate(-1e-6, 0)),
        lambda: oil_balance(one, Estimate(1e-3, -1)),
        lambda: oil_balance(one, one, -1e-6),
    ):
        with pytest.raises(Impossible):
            refused()
