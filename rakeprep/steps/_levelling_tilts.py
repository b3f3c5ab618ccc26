"""Each rotor's lean judged both ways, with the plan that puts it right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from rakeprep.calculations.decision import Estimate, near
from rakeprep.calculations.plan_turns import Span, Wanted
from rakeprep.model.facts import Facts
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_plan import ENDLESS, Plan, plan_for
from rakeprep.steps._levelling_plane import Measured

NOTHING = Estimate(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Tilt:
    """One direction of tilt judged: how far it is off its target, and the plan that puts it right."""

    is_now: Estimate
    off: Estimate
    tolerance: Sourced
    verdict: Verdict
    move: Plan | None = None
    turned_for: bool = False


def judge(value: Estimate, target: float, tolerance: float) -> Verdict:
    """Near the target or not; at least half the tolerance is accepted as it was read.

    A step block tells a rotor's tilt hardly finer than its tolerance. Guarded by its whole doubt a level
    rotor would never be found in order, and somebody would turn for ever at what he cannot see. With a
    doubt beyond twice the tolerance the readings say nothing and are asked for again.
    """
    verdict = near(value.value, value.doubt, target, tolerance)
    tells = value.doubt <= 2 * tolerance
    if verdict is Verdict.MEASURE_AGAIN and tells and abs(value.value - target) <= tolerance / 2:
        return Verdict.IN_ORDER
    return verdict


def front_rear(facts: Facts, plane: Measured) -> Tilt | None:
    """Front against rear, with the plan for the rotor."""
    return with_plan(facts, plane, 1)


def right_left(facts: Facts, plane: Measured) -> Tilt | None:
    """Right against left, with the plan for the rotor."""
    return with_plan(facts, plane, 2)


def tilts(facts: Facts, plane: Measured) -> dict[int, Tilt]:
    """Both directions judged: 1 is front against rear, 2 is right against left."""
    data = facts.profile.levelling
    lower, tolerance = facts.value(data.front_lower), facts.value(data.tolerance)
    cross = facts.value(data.cross_tolerance)
    found: dict[int, Tilt] = {}
    if lower is not None and tolerance is not None:
        now = plane.level.front_rear
        off = Estimate(now.value + lower, now.doubt)
        found[1] = Tilt(now, off, data.tolerance, judge(now, -lower, tolerance))
    if cross is not None:
        now = plane.level.right_left
        found[2] = Tilt(now, now, data.cross_tolerance, judge(now, 0.0, cross))
    return found


def with_plan(facts: Facts, plane: Measured, direction: int) -> Tilt | None:
    """One direction, with the least change that puts both right and keeps the height."""
    both = tilts(facts, plane)
    tilt = both.get(direction)
    if tilt is None or tilt.verdict is Verdict.IN_ORDER:
        return tilt
    need, allowed = wanted(facts, both)
    height = facts.value(facts.profile.settings.clearance_tolerance)
    if height is not None:
        allowed = (max(height, 1e-6), allowed[1], allowed[2])
    watched = tuple(d for d, each in both.items() if each.verdict is not Verdict.IN_ORDER)
    plan = plan_for(facts, plane, need, allowed, watched)
    moves = plan is not None and any(
        steps and each.effect[direction].value
        for steps, each in zip(plan.turns.steps, plan.adjusters, strict=True)
    )
    reaches = plan is not None and any(each.effect[direction].value for each in plan.adjusters)
    return replace(tilt, move=plan if reaches else None, turned_for=moves)


def wanted(facts: Facts, both: Mapping[int, Tilt]) -> tuple[Wanted, Span]:
    """What has to change in each direction, and how much of that may be left."""
    need, allowed = [NOTHING] * 3, [ENDLESS] * 3
    for d, each in both.items():
        limit = facts.value(each.tolerance)
        if limit is None:
            continue
        # what is in order already asks for nothing, and stays within all of its tolerance
        right = each.verdict is Verdict.IN_ORDER
        need[d] = Estimate(-each.off.value, each.off.doubt)
        allowed[d] = max(2 * limit if right else limit, 1e-6)
    return (need[0], need[1], need[2]), (allowed[0], allowed[1], allowed[2])


def to_turn(tilt: Tilt) -> bool:
    """Whether an adjuster is to be moved for it."""
    return tilt.verdict is Verdict.PUT_RIGHT and tilt.turned_for


def one_cause(fronts: list[Tilt | None]) -> bool:
    """Whether both rotors are off front to rear, and the same way."""
    wrong = [t.off.value for t in fronts if t is not None and t.verdict is Verdict.PUT_RIGHT]
    return len(wrong) == 2 and wrong[0] * wrong[1] > 0
