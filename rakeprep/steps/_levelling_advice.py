"""Whether each rotor's plane is right, and what to turn, in the order in which the adjusters follow."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusting import headstock_effect
from rakeprep.calculations.decision import Estimate, combine, near
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Use
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_plan import ENDLESS, Plan, plan_for
from rakeprep.steps._levelling_plane import (
    Measured,
    floor_finding,
    measured,
    narrow_finding,
    plane_working,
    signed,
    slots,
    suspect_findings,
)
from rakeprep.steps._reading import SIDES, cannot_tell, shown
from rakeprep.steps.tyres import pressure_findings
from rakeprep.text import Message, joined, msg

FIELD_WORK = frozenset({Use.FIELD})
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


def plane_findings(facts: Facts) -> Iterable[Finding]:
    """Everything that follows from the planes of both rotors."""
    sure: list[Measured] = []
    for side in SIDES:
        try:
            plane = measured(facts, side)
        except Impossible as reason:
            hour = facts.profile.rotor_at(side).clock_places[0]
            yield cannot_tell((facts.slot("clearance", f"{side}-{hour}"),), reason)
            continue
        if plane is None:
            continue
        yield from floor_finding(facts, plane)
        if plane.level.suspects:
            yield from suspect_findings(facts, plane)
        elif plane.only is not None:
            yield narrow_finding(facts, plane, plane.only)
        else:
            sure.append(plane)
    try:
        fronts = {plane.side: front_rear(facts, plane) for plane in sure}
        rights = {plane.side: right_left(facts, plane) for plane in sure}
        shared = one_cause(list(fronts.values()))
        if shared:
            yield from headstock_finding(facts, sure, fronts)
        for plane in sure:
            front, right = fronts[plane.side], rights[plane.side]
            first = what_comes_first(facts, plane.side, shared)
            if right is not None:
                yield right_left_finding(facts, plane, right, first)
            if front is not None:
                pins = right is not None and to_turn(right)
                yield front_rear_finding(facts, plane, front, first or (PINS_FIRST if pins else None))
        yield from height_findings(facts, sure)
    except Impossible as reason:
        yield cannot_tell(slots(facts, sure[0]), reason)


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
    need, allowed = [NOTHING] * 3, [ENDLESS] * 3
    for d, each in both.items():
        limit = facts.value(each.tolerance)
        if limit is None:
            continue
        # what is in order already asks for nothing, and stays within all of its tolerance
        right = each.verdict is Verdict.IN_ORDER
        need[d] = Estimate(-each.off.value, each.off.doubt)
        allowed[d] = max(2 * limit if right else limit, 1e-6)
    height = facts.value(facts.profile.settings.clearance_tolerance)
    if height is not None:
        allowed[0] = max(height, 1e-6)
    watched = tuple(d for d, each in both.items() if each.verdict is not Verdict.IN_ORDER)
    limits = (allowed[0], allowed[1], allowed[2])
    plan = plan_for(facts, plane, (need[0], need[1], need[2]), limits, watched)
    moves = plan is not None and any(
        steps and each.effect[direction].value
        for steps, each in zip(plan.turns.steps, plan.adjusters, strict=True)
    )
    reaches = plan is not None and any(each.effect[direction].value for each in plan.adjusters)
    return replace(tilt, move=plan if reaches else None, turned_for=moves)


def to_turn(tilt: Tilt) -> bool:
    """Whether an adjuster is to be moved for it."""
    return tilt.verdict is Verdict.PUT_RIGHT and tilt.turned_for


def one_cause(fronts: list[Tilt | None]) -> bool:
    """Whether both rotors are off front to rear, and the same way."""
    wrong = [t.off.value for t in fronts if t is not None and t.verdict is Verdict.PUT_RIGHT]
    return len(wrong) == 2 and wrong[0] * wrong[1] > 0


TYRES_FIRST = msg(
    "Tyres first: set every pressure under this rotor, then measure again. Turn nothing before."
)
HITCH_FIRST = msg("Hitch first: both rotors are off the same way. Set its height, then measure again.")
PINS_FIRST = msg("Chassis pins first: the plan for right against left counts this in. Then measure again.")


def what_comes_first(facts: Facts, side: Side, shared: bool) -> Message | None:
    """What has to be put right before any adjuster of a rotor."""
    at_tyres = replace(facts, step="tyres")
    for wheel in facts.profile.wheel:
        if wheel.rotor is not side:
            continue
        unset = at_tyres.number("pressure_set", wheel.key) is None
        if unset or any(f.verdict is Verdict.PUT_RIGHT for f in pressure_findings(at_tyres, wheel)):
            return TYRES_FIRST
    return HITCH_FIRST if shared else None


def advice(tilt: Tilt, first: Message | None) -> Message | None:
    """What to turn, or what comes before it."""
    if tilt.verdict is Verdict.IN_ORDER:
        return None
    if first is not None:
        return first
    if tilt.move is None:
        return msg("Set it as the machine's book says, then measure the same places again.")
    if tilt.verdict is Verdict.MEASURE_AGAIN:
        return msg("Measure the same places once more. If it stays so: {move}", move=tilt.move.says)
    if tilt.move.leave:
        return tilt.move.says
    return msg("{move} Then measure the same places again.", move=tilt.move.says)


def step_lines(plane: Measured, tilt: Tilt, direction: int) -> Iterable[Message]:
    """What one step of each adjuster that tilts the rotor this way changes."""
    if tilt.move is None:
        return
    for each in tilt.move.adjusters:
        effect = each.effect[direction]
        if not effect.value:
            continue
        yield msg(
            "{adjuster}: one step changes {per_step} across the circle; {need} would take {exact} of them.",
            adjuster=each.name,
            per_step=plane.estimate(effect) if effect.doubt else plane.length(effect.value),
            need=plane.length(tilt.off.value),
            exact=round(abs(tilt.off.value / effect.value), 1),
        )
    if tilt.move.learned:
        yield msg("One of the steps was learned from this machine, before and after it was turned.")


def tilt_working(plane: Measured, tilt: Tilt, direction: int) -> tuple[Message, ...]:
    """The plane, the tolerance against the doubt, and what the adjusters change."""
    lines = [*plane_working(plane)]
    limit, doubt = shown(tilt.tolerance), plane.length(tilt.is_now.doubt)
    lines.append(msg("Allowed ± {limit}; doubt of the readings ± {doubt}.", limit=limit, doubt=doubt))
    if 2 * tilt.is_now.doubt > tilt.tolerance.value:
        lines.append(msg("So small a tolerance is told only roughly: half of it is accepted as read."))
    if tilt.move is not None:
        lines.extend(step_lines(plane, tilt, direction))
    return tuple(lines)


def front_rear_finding(facts: Facts, plane: Measured, tilt: Tilt, first: Message | None) -> Finding:
    """The sentence on front against rear."""
    target = facts.profile.levelling.front_lower
    say = {
        "rotor": plane.name,
        "now": plane.estimate(tilt.is_now),
        "off": plane.length(tilt.off.value),
        "wanted": shown(target),
    }
    if tilt.is_now.value <= 0:
        now = msg("front {now} lower than the rear", **say)
    else:
        now = msg("front {now} higher than the rear", **say)
    if tilt.verdict is Verdict.IN_ORDER:
        says = msg("{rotor}: {is_now}; {wanted} lower is wanted: in order.", is_now=now, **say)
    elif tilt.verdict is Verdict.MEASURE_AGAIN:
        says = msg("{rotor}: {is_now}; too close to tell, {wanted} lower is wanted.", is_now=now, **say)
    elif tilt.off.value < 0:
        says = msg("{rotor}: front {off} too low ({is_now}).", is_now=now, **say)
    else:
        says = msg("{rotor}: front {off} too high ({is_now}).", is_now=now, **say)
    working = tilt_working(plane, tilt, 1)
    return tilt_finding(slots(facts, plane), tilt, says, advice(tilt, first), working, target)


def right_left_finding(facts: Facts, plane: Measured, tilt: Tilt, first: Message | None) -> Finding:
    """The sentence on right against left."""
    say = {"rotor": plane.name, "now": plane.estimate(tilt.is_now), "off": plane.length(tilt.off.value)}
    if tilt.is_now.value <= 0:
        now = msg("right side {now} lower than the left", **say)
    else:
        now = msg("right side {now} higher than the left", **say)
    if tilt.verdict is Verdict.IN_ORDER:
        says = msg("{rotor}: {is_now}: in order.", is_now=now, **say)
    elif tilt.verdict is Verdict.MEASURE_AGAIN:
        says = msg("{rotor}: {is_now}; too close to tell whether that is too much.", is_now=now, **say)
    elif tilt.off.value < 0:
        says = msg("{rotor}: right side {off} too low.", **say)
    else:
        says = msg("{rotor}: right side {off} too high.", **say)
    working = tilt_working(plane, tilt, 2)
    about = slots(facts, plane, nearest=3)
    return tilt_finding(about, tilt, says, advice(tilt, first), working, tilt.tolerance)


def tilt_finding(
    about: tuple[Slot, ...],
    tilt: Tilt,
    says: Message,
    todo: Message | None,
    working: tuple[Message, ...],
    source: Sourced,
) -> Finding:
    """A finding that bars work in the field only while something is wrong."""
    bars = FIELD_WORK if tilt.verdict is Verdict.PUT_RIGHT else frozenset[Use]()
    return Finding(tilt.verdict, about, says, todo, working, source.source, bars)


def headstock_finding(
    facts: Facts, planes: list[Measured], fronts: dict[Side, Tilt | None]
) -> Iterable[Finding]:
    """Both rotors off the same way: one cause, most likely the height of the hitch."""
    offs = [tilt.off.value for tilt in fronts.values() if tilt is not None]
    about = tuple(slot for plane in planes for slot in slots(facts, plane)[:1])
    working: tuple[Message, ...] = ()
    length = facts.value(facts.profile.machine.pins_to_axle)
    rotor = facts.profile.rotor_at(planes[0].side)
    circle, behind = facts.value(rotor.tip_circle), facts.value(rotor.behind_pins)
    if length is not None and circle is not None and behind is not None:
        _, _, per_metre = headstock_effect(1.0, length, behind, circle)
        rise = math.fsum(offs) / len(offs) / per_metre
        working = (
            msg(
                "If the rotors hung rigidly on the frame, a hitch {rise} off its height would do this.",
                rise=planes[0].length(rise),
            ),
        )
    if offs[0] > 0:
        says = msg("Both rotors stand too high in front: one cause for both, most likely a hitch too high.")
    else:
        says = msg("Both rotors stand too low in front: one cause for both, most likely a hitch too low.")
    todo = msg("Check the height of the hitch pins and the links before any turnbuckle is touched.")
    yield Finding(Verdict.PUT_RIGHT, about, says, todo, working, bars=FIELD_WORK)


def height_findings(facts: Facts, planes: list[Measured]) -> Iterable[Finding]:
    """Whether both rotors stand alike, and the crank."""
    if len(planes) != 2:
        return
    left, right = planes
    limit = facts.profile.settings.clearance_tolerance
    tolerance = facts.value(limit)
    if tolerance is None:
        return
    centres = left.level.centre, right.level.centre
    apart = Estimate(
        centres[1].value - centres[0].value, combine([(-1, centres[0].doubt), (1, centres[1].doubt)])
    )
    verdict = judge(apart, 0.0, tolerance)
    about = (*slots(facts, left)[:1], *slots(facts, right))
    higher = right if apart.value > 0 else left
    say = {"rotor": higher.name, "apart": left.estimate(apart)}
    if verdict is Verdict.IN_ORDER:
        says, todo = msg("Both rotors stand at the same height, {apart} apart.", **say), None
    elif verdict is Verdict.MEASURE_AGAIN:
        says = msg("The {rotor} stands {apart} higher; too close to tell whether that is too much.", **say)
        todo = msg("Measure the same places of both rotors once more.")
    else:
        says = msg("The {rotor} stands {apart} higher than the other one.", **say)
        todo = crank_advice(facts, apart, higher)
    working = (
        msg(
            "Centre of the left rotor {left}, of the right rotor {right}; allowed apart {limit}.",
            left=signed(left, centres[0]),
            right=signed(right, centres[1]),
            limit=shown(limit),
        ),
    )
    bars = FIELD_WORK if verdict is Verdict.PUT_RIGHT else frozenset[Use]()
    yield Finding(verdict, about, says, todo, working, limit.source, bars)


def crank_advice(facts: Facts, apart: Estimate, higher: Measured) -> Message:
    """Half turns of the crank that bring the higher rotor down to the other one."""
    if any(tilt.verdict is Verdict.PUT_RIGHT for tilt in tilts(facts, higher).values()):
        return msg("Level the {rotor} first by its plan, then measure again.", rotor=higher.name)
    tolerance = facts.value(facts.profile.settings.clearance_tolerance)
    need = Estimate(-abs(apart.value), apart.doubt)
    plan = None
    if tolerance is not None:
        limits = (max(tolerance, 1e-6), ENDLESS, ENDLESS)
        plan = plan_for(facts, higher, (need, NOTHING, NOTHING), limits, (0,))
    if plan is None or not any(each.effect[0].value for each in plan.adjusters):
        return msg("Set both to the same height as the machine's book says, then measure again.")
    if plan.leave:
        return plan.says
    return joined(
        [
            msg("On the {rotor}: {move}", rotor=higher.name, move=plan.says),
            msg("Or as many up on the other one, if that digs. Then measure again."),
        ],
        " ",
    )
