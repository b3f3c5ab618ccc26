"""Whether each rotor's plane is right, and what to turn, in the order in which the adjusters follow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Use
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_headstock import FIELD_WORK, LEARNED, headstock_findings
from rakeprep.steps._levelling_plan import ENDLESS, plan_for
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
from rakeprep.steps._levelling_tilts import (
    NOTHING,
    Tilt,
    front_rear,
    judge,
    one_cause,
    right_left,
    tilts,
    to_turn,
)
from rakeprep.steps._reading import SIDES, cannot_tell, shown
from rakeprep.steps.tyres import pressure_findings
from rakeprep.text import Message, joined, msg


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
        hitch: tuple[Finding, ...] = ()
        if one_cause(list(fronts.values())):
            tyres = next((each for side in SIDES if (each := what_comes_first(facts, side, False))), None)
            hitch = tuple(headstock_findings(facts, sure, fronts, tyres))
        yield from hitch
        for plane in sure:
            front, right = fronts[plane.side], rights[plane.side]
            level = all(t is None or t.verdict is Verdict.IN_ORDER for t in (front, right))
            first = None if level else what_comes_first(facts, plane.side, bool(hitch))
            if right is not None:
                yield right_left_finding(facts, plane, right, first)
            if front is not None:
                pins = right is not None and to_turn(right)
                yield front_rear_finding(facts, plane, front, first or (PINS_FIRST if pins else None))
        yield from height_findings(facts, sure)
    except Impossible as reason:
        yield cannot_tell(slots(facts, sure[0]), reason)


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
        yield LEARNED


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
