"""Both rotors off the same way: one cause for both, and what the hitch can do about it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rakeprep.calculations.adjusting import headstock_effect
from rakeprep.calculations.plan_both import BothPlan
from rakeprep.calculations.plan_turns import Wanted
from rakeprep.model.facts import Facts
from rakeprep.model.field import Use
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_both import Shared, headstock, hitch_is_right, plan_for_both
from rakeprep.steps._levelling_plane import Measured, slots
from rakeprep.steps._levelling_tilts import Tilt, tilts, wanted
from rakeprep.steps._reading import SIDES
from rakeprep.text import Message, joined, msg

FIELD_WORK = frozenset({Use.FIELD})
LEARNED = msg("One of the steps was learned from this machine, before and after it was turned.")


@dataclass(frozen=True, slots=True)
class Together:
    """What the headstock does for both rotors, and what each needs."""

    shared: Shared
    plan: BothPlan
    need: dict[Side, Wanted]


def headstock_findings(
    facts: Facts, planes: list[Measured], fronts: dict[Side, Tilt | None], first: Message | None
) -> tuple[Finding, ...]:
    """The finding on the hitch where it is the one cause; none where it has no part in it.

    Where the machine's data do not know what the headstock does, the hitch is suspected until it was
    measured and found right. ``first`` is what has to be put right before the hitch, such as a tyre.
    """
    shared = headstock(facts)
    if shared is None:
        return () if hitch_is_right(facts) else (headstock_finding(facts, planes, fronts, None, first),)
    each = {plane.side: wanted(facts, tilts(facts, plane)) for plane in planes}
    need = {side: found[0] for side, found in each.items()}
    plan = plan_for_both(facts, shared, need, {side: found[1] for side, found in each.items()})
    if plan is not None and not plan.steps:
        return ()
    together = None if plan is None else Together(shared, plan, need)
    return (headstock_finding(facts, planes, fronts, together, first),)


def headstock_finding(
    facts: Facts,
    planes: list[Measured],
    fronts: dict[Side, Tilt | None],
    together: Together | None,
    first: Message | None,
) -> Finding:
    """Both rotors off the same way, most likely by the height of the hitch."""
    offs = [tilt.off.value for tilt in fronts.values() if tilt is not None]
    about = tuple(slot for plane in planes for slot in slots(facts, plane)[:1])
    working = hitch_working(facts, planes[0], offs)
    if offs[0] > 0:
        says = msg("Both rotors stand too high in front: one cause for both, most likely a hitch too high.")
    else:
        says = msg("Both rotors stand too low in front: one cause for both, most likely a hitch too low.")
    todo = msg("Check the height of the hitch pins and the links before any turnbuckle is touched.")
    if together is not None:
        todo = headstock_advice(planes, together)
        working = (*working, *effect_lines(planes, together))
    return Finding(Verdict.PUT_RIGHT, about, says, first or todo, working, bars=FIELD_WORK)


def hitch_working(facts: Facts, plane: Measured, offs: list[float]) -> tuple[Message, ...]:
    """How far off its height a hitch would do this."""
    length = facts.value(facts.profile.machine.pins_to_axle)
    rotor = facts.profile.rotor_at(plane.side)
    circle, behind = facts.value(rotor.tip_circle), facts.value(rotor.behind_pins)
    if length is None or circle is None or behind is None:
        return ()
    _, _, per_metre = headstock_effect(1.0, length, behind, circle)
    rise = math.fsum(offs) / len(offs) / per_metre
    return (
        msg(
            "If the rotors hung rigidly on the frame, a hitch {rise} off its height would do this.",
            rise=plane.length(rise),
        ),
    )


def effect_lines(planes: list[Measured], together: Together) -> tuple[Message, ...]:
    """What one step of the headstock changes on either rotor."""
    lines = [
        msg(
            "{rotor}: one step of the headstock changes front minus rear by {per_step}.",
            rotor=plane.name,
            per_step=plane.estimate(effect) if effect.doubt else plane.length(effect.value),
        )
        for plane in planes
        for effect in (together.shared.felt[SIDES.index(plane.side)].effect[1],)
    ]
    return (*lines, LEARNED) if together.shared.learned else tuple(lines)


def headstock_advice(planes: list[Measured], together: Together) -> Message:
    """How far the hitch pins go down or up, and what the headstock alone leaves on either rotor."""
    steps = together.plan.steps
    say = {
        "move": together.plan.says,
        "rise": planes[0].length(steps * together.shared.rise),
        "left": joined([left_on(plane, together) for plane in planes]),
    }
    if steps > 0:
        return msg(
            "{move}: hitch pins {rise} up. That leaves {left} front to rear. Then measure both rotors again.",
            **say,
        )
    return msg(
        "{move}: hitch pins {rise} down. That leaves {left} front to rear. Then measure both rotors again.",
        **say,
    )


def left_on(plane: Measured, together: Together) -> Message:
    """What the headstock alone leaves on one rotor; its own adjusters follow after the next readings."""
    effect = together.shared.felt[SIDES.index(plane.side)].effect[1].value
    left = together.need[plane.side][1].value - effect * together.plan.steps
    return msg("{left} on the {rotor}", left=plane.length(left), rotor=plane.name)
