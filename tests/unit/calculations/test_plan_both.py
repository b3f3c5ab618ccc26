"""One plan for both rotors, against the geometry by hand and against trying everything."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusters import headstock_by_notches, pins_by_holes, turnbuckle_by_flats
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.plan_both import plan_both
from rakeprep.calculations.plan_turns import Span, Wanted

HEAD = headstock_by_notches(0.010, 5.60, 2.40, 3.50, 12)  # by hand 10 / 5600 · 3500 = 6.25 mm a notch
BUCKLE = turnbuckle_by_flats(0.006, 0.420, 3.5, True, 8)  # by hand 6 / 420 · 3500 / 6 = 8.33 mm a flat
PINS = pins_by_holes(0.015, 1.4, 3.5, 2)
ALLOWED: Span = (math.inf, 0.005, 0.010)


def need(front: float, right: float = 0.0, doubt: float = 0.0) -> Wanted:
    return Estimate(0.0, 0.0), Estimate(front, doubt), Estimate(right, 0.0)


def test_that_one_cause_for_both_is_put_right_at_the_headstock_alone() -> None:
    # practice case 11 by hand: 60 mm too high tilts 10.7 mm/m, 37.5 mm across the circle; 6 · 6.25 = 37.5
    both = (need(-0.0375), need(-0.0375))
    plan = plan_both((HEAD, HEAD), ([BUCKLE], [BUCKLE]), both, (ALLOWED, ALLOWED))
    assert plan.steps == -6
    assert all(rotor.leave for rotor in plan.rotors)
    assert plan.within
    assert plan.effort == pytest.approx(3.0)  # six notches at half the trouble of a flat
    assert str(plan.says) == "headstock: 6 notches, nose down"
    assert plan.rotors[0].left[1].value == pytest.approx(0.0, abs=1e-12)


def test_that_rotors_off_opposite_ways_leave_the_headstock_alone() -> None:
    # by hand: 25 mm up and 25 mm down are 3 flats each; the headstock would make one of them worse
    plan = plan_both((HEAD, HEAD), ([BUCKLE], [BUCKLE]), (need(0.025), need(-0.025)), (ALLOWED, ALLOWED))
    assert plan.steps == 0
    assert [rotor.steps for rotor in plan.rotors] == [(3,), (-3,)]
    assert "as it is" in str(plan.says)


def test_that_a_rotor_on_its_own_keeps_what_the_other_one_does_not_share() -> None:
    # by hand: 62.5 mm less on the right, 37.5 mm on the left: 25 mm between them are 3 flats of the right
    plan = plan_both((HEAD, HEAD), ([BUCKLE], [BUCKLE]), (need(-0.0375), need(-0.0625)), (ALLOWED, ALLOWED))
    assert plan.within
    assert plan.steps < 0
    between = plan.rotors[0].steps[0] - plan.rotors[1].steps[0]
    assert 2 <= between <= 4
    assert max(abs(rotor.left[1].value) for rotor in plan.rotors) <= 0.005 + 1e-12


def test_that_what_cannot_be_reached_is_brought_as_near_as_the_range_goes() -> None:
    # by hand: 12 notches of 6.25 mm are 75 mm of the 100 mm wanted
    plan = plan_both((HEAD, HEAD), ([], []), (need(0.100), need(0.100)), (ALLOWED, ALLOWED))
    assert (plan.steps, plan.within) == (12, False)
    assert plan.rotors[1].left[1].value == pytest.approx(0.025)
    assert plan.worst == pytest.approx(5.0)  # 25 mm of 5 mm allowed


def test_that_nothing_is_moved_where_no_step_brings_it_nearer() -> None:
    # by hand: a notch of 6.25 mm cannot help one rotor without hurting the other as much
    plan = plan_both((HEAD, HEAD), ([], []), (need(0.020), need(-0.020)), (ALLOWED, ALLOWED))
    assert plan.leave
    assert not plan.within
    assert "Leave it" in str(plan.says)
    assert plan.worst == pytest.approx(4.0)
    assert plan.effort == 0
    assert plan.rotors[0].left == need(0.020)


def test_that_an_effect_in_doubt_makes_what_is_left_doubtful() -> None:
    effect = (Estimate(0.0, 0.0), Estimate(0.00625, 0.001), Estimate(0.0, 0.0))
    taught = replace(HEAD, effect=effect)
    both = (need(-0.0375, doubt=0.002), need(-0.0375, doubt=0.002))
    plan = plan_both((taught, taught), ([], []), both, (ALLOWED, ALLOWED))
    # by hand, for n notches: √(2² + (n · 1)²) mm
    assert plan.rotors[0].left[1].doubt == pytest.approx(math.hypot(0.002, 0.001 * plan.steps), rel=1e-9)


def test_that_a_range_without_leaving_it_is_refused() -> None:
    with pytest.raises(Impossible, match="leaving it alone"):
        plan_both((replace(HEAD, least=1), HEAD), ([], []), (need(0.01), need(0.01)), (ALLOWED, ALLOWED))


@settings(max_examples=25)
@given(
    st.lists(st.floats(-0.06, 0.06), min_size=4, max_size=4),
    st.sampled_from([ALLOWED, (math.inf, 0.012, 0.03)]),
)
def test_that_no_other_combination_is_both_within_and_easier(wants: list[float], span: Span) -> None:
    """The second method: every combination of headstock, pins and turnbuckles."""
    head = replace(HEAD, least=-6, most=6)
    buckle, pins = replace(BUCKLE, least=-5, most=5), replace(PINS, least=-1, most=1)
    needs = (need(wants[0], wants[1]), need(wants[2], wants[3]))
    plan = plan_both((head, head), ([pins, buckle], [pins, buckle]), needs, (span, span))

    def easiest(wanted: Wanted, shared: int) -> float:
        fit = [
            pins.weight * abs(p) + buckle.weight * abs(b)
            for p, b in product(range(-1, 2), range(-5, 6))
            if abs(wanted[1].value - shared * 0.00625 - b * buckle.effect[1].value) <= span[1]
            and abs(wanted[2].value - p * pins.effect[2].value) <= span[2]
        ]
        return min(fit, default=math.inf)

    least = min(0.5 * abs(h) + sum(easiest(n, h) for n in needs) for h in range(-6, 7))
    assert plan.within is math.isfinite(least)
    if plan.within:
        assert plan.effort == pytest.approx(least)


@settings(max_examples=30)
@given(st.floats(-0.06, 0.06), st.floats(-0.06, 0.06))
def test_that_exchanging_the_rotors_exchanges_their_plans(left: float, right: float) -> None:
    one = plan_both((HEAD, HEAD), ([BUCKLE], [BUCKLE]), (need(left), need(right)), (ALLOWED, ALLOWED))
    other = plan_both((HEAD, HEAD), ([BUCKLE], [BUCKLE]), (need(right), need(left)), (ALLOWED, ALLOWED))
    assert one.steps == other.steps
    assert [r.steps for r in one.rotors] == [r.steps for r in reversed(other.rotors)]


def test_that_a_machine_left_alone_tells_so_for_each_rotor() -> None:
    # by hand: pins do nothing front to rear, and a notch of 6.25 mm helps one rotor and hurts the other
    tight: Span = (math.inf, 0.001, 0.010)
    wants = (need(0.003), need(-0.003))
    plan = plan_both((HEAD, HEAD), ([PINS, PINS], [PINS]), wants, (tight, tight))
    assert (plan.leave, plan.within, plan.effort) == (True, False, 0.0)
    assert [rotor.steps for rotor in plan.rotors] == [(0, 0), (0,)]
    for rotor, wanted in zip(plan.rotors, wants, strict=True):
        assert (rotor.left, rotor.within, rotor.effort) == (wanted, False, 0.0)
        assert "Leave it" in str(rotor.says[0])


def test_that_a_rotor_with_nothing_to_turn_takes_no_trouble() -> None:
    plan = plan_both((HEAD, HEAD), ([], []), (need(0.0125), need(0.0125)), (ALLOWED, ALLOWED))
    # by hand: 2 notches of 6.25 mm at half the trouble each; nothing else is touched
    assert (plan.steps, plan.effort, plan.within) == (2, 1.0, True)
    assert [(rotor.steps, rotor.effort, rotor.says) for rotor in plan.rotors] == [((), 0.0, ())] * 2


def test_that_the_height_is_followed_too() -> None:
    # by hand: 6 notches down take 6 · 10 · (1 - 2.4 / 5.6) = 34.3 mm off the height
    wanted = (Estimate(-0.0343, 0.0), Estimate(-0.0375, 0.0), Estimate(0.0, 0.0))
    spans: Span = (0.002, 0.002, 0.010)
    plan = plan_both((HEAD, HEAD), ([], []), (wanted, wanted), (spans, spans))
    assert (plan.steps, plan.within) == (-6, True)
    assert plan.rotors[1].left[0].value == pytest.approx(0.0, abs=1e-4)


def test_that_kind_range_and_trouble_are_those_of_the_first() -> None:
    other = replace(HEAD, weight=9.0, least=-1, most=1)
    plan = plan_both((HEAD, other), ([], []), (need(0.0125), need(0.0125)), (ALLOWED, ALLOWED))
    assert (plan.steps, plan.effort) == (2, 1.0)
