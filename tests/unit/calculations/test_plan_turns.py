"""The least-change plan against trying everything."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusters import (
    Adjuster,
    StepKind,
    crank_by_half_turns,
    headstock_by_notches,
    pins_by_holes,
    sure,
    turnbuckle_by_flats,
)
from rakeprep.calculations.adjusting import LEAVE_DOUBT
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.levelling import CannotTell
from rakeprep.calculations.plan_turns import LEAVE_COARSE, LEAVE_WITHIN, Wanted, plan_turns
from rakeprep.text import msg

BUCKLE = turnbuckle_by_flats(0.006, 0.420, 3.5, True, 12)
PINS = pins_by_holes(0.015, 1.4, 3.5, 2)
CRANK = crank_by_half_turns(0.005, 0.62, 20)
HEAD = headstock_by_notches(0.025, 5.6, 2.4, 3.5, 2)
ALL = [BUCKLE, PINS, CRANK, HEAD]
TOLERANCE = (0.003, 0.005, 0.005)


def need(centre: float, front: float, right: float, *doubts: float) -> Wanted:
    """A need in millimetres."""
    c, f, r = doubts or (0.0, 0.0, 0.0)
    return (
        Estimate(centre / 1000, c / 1000),
        Estimate(front / 1000, f / 1000),
        Estimate(right / 1000, r / 1000),
    )


def test_that_pm1_takes_one_flat_and_leaves_the_pins() -> None:
    # PM-1 by hand: +9 mm is 1.1 flats, one flat leaves 0.7; +9.9 mm across is 0.26 hole, leave it
    plan = plan_turns([BUCKLE, PINS], need(0, 9, 9.9, 3, 6, 3), (0.003, 0.005, 0.010))
    assert plan.steps == (1, 0)
    assert plan.left[1].value == pytest.approx(0.0007, abs=5e-5)
    assert plan.within
    assert [str(s) for s in plan.says] == ["turnbuckle: 1 flat, shorter"]


def test_that_a_need_below_its_doubt_is_left() -> None:
    plan = plan_turns(ALL, need(1, 5, 2, 3, 6, 3), (0.001, 0.001, 0.001))
    assert plan.leave
    assert plan.within
    assert plan.says == (LEAVE_DOUBT,)


def test_that_what_is_within_is_left() -> None:
    assert plan_turns(ALL, need(1, 2, 2), TOLERANCE).says == (LEAVE_WITHIN,)


def test_that_steps_too_coarse_are_left() -> None:
    # by hand: 9.9 of 37.5 mm; one hole would leave -27.6
    plan = plan_turns([PINS], need(0, 0, 9.9), TOLERANCE)
    assert plan.leave
    assert not plan.within
    assert plan.says == (LEAVE_COARSE,)
    assert plan.left[2].value == pytest.approx(0.0099)


def test_that_the_nearest_is_taken_where_nothing_comes_within() -> None:
    # by hand: two holes are all there is: 100 - 75 = 25 mm, instead of 100; the centre does not matter
    plan = plan_turns([PINS], need(0, 0, 100), (math.inf, 0.005, 0.005))
    assert plan.steps == (2,)
    assert not plan.within
    assert plan.left[2].value == pytest.approx(0.025)


def test_that_what_can_be_met_is_met_where_something_else_cannot() -> None:
    # by hand: two holes of 37.5 mm leave 15 of 60 mm across; front and rear still come within
    plan = plan_turns(ALL, need(-20, 40, -60, 2, 3, 3), TOLERANCE)
    assert not plan.within
    assert abs(plan.left[0].value) <= 0.003 + 1e-9
    assert abs(plan.left[1].value) <= 0.005 + 1e-9
    assert abs(plan.left[2].value) == pytest.approx(0.015)


def test_that_doubt_of_need_and_effect_stays_in_what_is_left() -> None:
    learned = replace(BUCKLE, effect=(Estimate(0, 0), Estimate(0.008, 0.001), Estimate(0, 0)))
    plan = plan_turns([learned], need(0, 24, 0, 0, 3, 0), TOLERANCE)
    # by hand: three flats; sqrt(3^2 + (3*1)^2) = 4.24 mm
    assert plan.steps == (3,)
    assert plan.left[1].doubt == pytest.approx(0.00424, abs=1e-5)


@settings(max_examples=60, deadline=None)
@given(
    st.tuples(st.floats(-40, 40), st.floats(-80, 80), st.floats(-80, 80)),
    st.lists(st.sampled_from([0.5, 1.0, 2.0, 3.0]), min_size=3, max_size=3),
    st.lists(st.tuples(*[st.floats(-20, 20)] * 3), min_size=3, max_size=3),
)
def test_that_no_combination_does_with_less(
    wanted: tuple[float, float, float],
    weights: list[float],
    effects: list[tuple[float, float, float]],
) -> None:
    adjusters = [
        Adjuster(
            msg("one"),
            StepKind.TURN,
            sure(*(e / 1000 for e in effect)),
            -4,
            4,
            msg("up"),
            msg("down"),
            weight,
        )
        for weight, effect in zip(weights, effects, strict=True)
    ]
    tolerance = (0.010, 0.012, 0.015)
    plan = plan_turns(adjusters, need(*wanted), tolerance)

    # second method: try all 9^3 combinations
    def left(steps: tuple[int, ...]) -> float:
        return max(
            abs(w / 1000 - sum(e[d] / 1000 * s for e, s in zip(effects, steps, strict=True))) / tolerance[d]
            for d, w in enumerate(wanted)
        )

    every = list(product(range(-4, 5), repeat=3))
    efforts = [
        sum(w * abs(s) for w, s in zip(weights, steps, strict=True))
        for steps in every
        if left(steps) <= 1 - 1e-9
    ]
    if efforts:
        assert plan.within
        assert plan.effort <= min(efforts) + 1e-9
    if plan.within:
        assert left(plan.steps) <= 1 + 1e-6
    else:
        assert left(plan.steps) <= min(map(left, every)) + 0.12  # 0.1 of a tolerance is not worth a wrench


@settings(max_examples=30, deadline=None)
@given(st.floats(-60, 60), st.floats(-60, 60))
def test_that_the_mirrored_need_gets_the_mirrored_plan(front: float, right: float) -> None:
    plain = plan_turns(
        [BUCKLE, replace(PINS, effect=sure(right_left=0.0375))], need(0, front, right), TOLERANCE
    )
    mirror = plan_turns(
        [BUCKLE, replace(PINS, effect=sure(right_left=0.0375))], need(0, front, -right), TOLERANCE
    )
    assert mirror.effort == pytest.approx(plain.effort)
    assert mirror.left[2].value == pytest.approx(-plain.left[2].value, abs=1e-9)


def test_that_all_adjusters_together_end_in_a_moment() -> None:
    plan = plan_turns(ALL, need(-20, 40, -73, 2, 3, 3), TOLERANCE)
    assert plan.within
    assert all(abs(each.value) <= t + 1e-9 for each, t in zip(plan.left, (0.003, 0.005, 0.005), strict=True))


def test_that_too_many_combinations_are_not_weighed() -> None:
    fine = [
        Adjuster(
            msg("one"),
            StepKind.TURN,
            sure(1e-4 * (k + 1), 2e-4, 1e-4 * (3 - k)),
            -100,
            100,
            msg("up"),
            msg("down"),
        )
        for k in range(8)
    ]
    with pytest.raises(CannotTell, match="too many combinations"):
        plan_turns(fine, need(30, 20.00037, 10.00012), (1e-9, 1e-9, 1e-9))


def test_that_impossible_plans_are_refused() -> None:
    one = need(1, 1, 1)
    for refused in (
        lambda: plan_turns([], one, TOLERANCE),
        lambda: plan_turns([CRANK] * 9, one, TOLERANCE),
        lambda: plan_turns([CRANK], need(float("nan"), 0, 0), TOLERANCE),
        lambda: plan_turns([CRANK], need(0, 0, 0, -1, 0, 0), TOLERANCE),
        lambda: plan_turns([CRANK], one, (0, 1, 1)),
        lambda: plan_turns([replace(CRANK, weight=0)], one, TOLERANCE),
        lambda: plan_turns([replace(CRANK, least=1)], one, TOLERANCE),
        lambda: plan_turns([replace(CRANK, most=101)], one, TOLERANCE),
        lambda: plan_turns([replace(CRANK, effect=sure(float("inf")))], one, TOLERANCE),
        lambda: plan_turns([replace(CRANK, effect=(Estimate(0, -1),) * 3)], one, TOLERANCE),
    ):
        with pytest.raises(Impossible):
            refused()


def by_hand(front: float, right: float, weight: float = 1.0, reach: int = 4) -> Adjuster:
    """An adjuster with effects worked out by hand."""
    effect = (Estimate(0.0, 0.0), Estimate(front, 0.0), Estimate(right, 0.0))
    words = (msg("up"), msg("down"))
    return Adjuster(msg("turnbuckle"), StepKind.FLAT, effect, -reach, reach, *words, weight)


def test_that_of_plans_equally_easy_the_one_that_leaves_least_is_taken() -> None:
    # by hand: one step of either comes within 5 mm of 10 mm: 8 mm leaves 2, 7 mm leaves 3, 12 mm leaves 2
    need = (Estimate(0.0, 0.0), Estimate(0.010, 0.0), Estimate(0.0, 0.0))
    allowed = (math.inf, 0.005, 0.005)
    for order in ((0.007, 0.009), (0.009, 0.007)):
        plan = plan_turns([by_hand(order[0], 0.0), by_hand(order[1], 0.0)], need, allowed)
        assert plan.effort == 1.0
        assert plan.left[1].value == pytest.approx(0.001)


def test_that_what_is_left_is_weighed_in_tolerances_and_not_in_millimetres() -> None:
    # by hand, of 10 mm to front and right, allowed 8 and 4 mm: 4 mm of 8 is half, 3 mm of 4 three quarters
    need = (Estimate(0.0, 0.0), Estimate(0.010, 0.0), Estimate(0.010, 0.0))
    first, second = by_hand(0.006, 0.010), by_hand(0.010, 0.007)
    for adjusters in ([first, second], [second, first]):
        plan = plan_turns(adjusters, need, (math.inf, 0.008, 0.004))
        assert plan.left[1].value == pytest.approx(0.004)
        assert plan.left[2].value == pytest.approx(0.0, abs=1e-12)


def test_that_a_plan_saved_by_half_a_step_s_trouble_is_found() -> None:
    # by hand: two steps of a (trouble 2.0), or one of b (trouble 1.5), each make the 10 mm exactly
    need = (Estimate(0.0, 0.0), Estimate(0.010, 0.0), Estimate(0.0, 0.0))
    a, b = by_hand(0.005, 0.0), by_hand(0.010, 0.0, weight=1.5)
    for adjusters in ([a, b], [b, a]):
        plan = plan_turns(adjusters, need, (math.inf, 0.001, 0.001))
        assert (plan.effort, plan.within) == (1.5, True)


def test_that_a_plan_that_reaches_not_within_says_so() -> None:
    need = (Estimate(0.0, 0.0), Estimate(0.100, 0.0), Estimate(0.0, 0.0))
    plan = plan_turns([by_hand(0.010, 0.0)], need, (math.inf, 0.005, 0.005))
    assert plan.within is False
    assert plan.steps == (4,)  # by hand: 40 of 100 mm are as far as it goes


def test_that_an_adjuster_at_its_end_may_still_be_left_alone() -> None:
    stuck = replace(by_hand(0.010, 0.0), least=0, most=0)
    need = (Estimate(0.0, 0.0), Estimate(0.010, 0.0), Estimate(0.0, 0.0))
    plan = plan_turns([stuck, by_hand(0.010, 0.0)], need, (math.inf, 0.001, 0.001))
    assert plan.steps == (0, 1)
    one_way = replace(by_hand(0.010, 0.0), least=0)
    assert plan_turns([one_way], need, (math.inf, 0.001, 0.001)).steps == (1,)


def test_that_a_need_just_its_own_doubt_is_drowned_in_it() -> None:
    need = (Estimate(0.0, 0.0), Estimate(0.006, 0.006), Estimate(0.0, 0.0))
    plan = plan_turns([by_hand(0.006, 0.0)], need, (math.inf, 0.001, 0.001))
    assert plan.leave
    assert "doubt" in str(plan.says[0])
