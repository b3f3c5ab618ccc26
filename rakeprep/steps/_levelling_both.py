"""Both rotors together: the headstock as one adjuster of both, before anything is turned on either."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusters import Adjuster, Effect, headstock_by_notches
from rakeprep.calculations.decision import Estimate, combine, near
from rakeprep.calculations.learning import learn
from rakeprep.calculations.plan_both import BothPlan, plan_both
from rakeprep.calculations.plan_turns import Span, Wanted
from rakeprep.model.entry import Entry
from rakeprep.model.facts import Facts
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_learned import ADJUSTERS, entries_of, planes_around, usable
from rakeprep.steps._levelling_plan import adjusters_of
from rakeprep.steps._reading import SIDES, doubt_of, reading

MOST_NOTCHES = 30  # steps either way within which a plan is looked for while the hitch is not measured
LINKS = ("left", "right")
HEIGHT = "hitch.height"
TAPE = "water-level"  # by which the hitch step reads the pins' height
FRONT_REAR = 1


@dataclass(frozen=True, slots=True)
class Shared:
    """The headstock as either rotor feels it; ``rise`` is what one step moves the hitch pins by [m]."""

    felt: tuple[Adjuster, Adjuster]
    rise: float
    learned: bool


def hitch_height(facts: Facts) -> Estimate | None:
    """Height of the hitch pins as last measured, the mean of those that were read [m]."""
    found = [reading(facts, HEIGHT, link, TAPE) for link in LINKS]
    read = [each for each in found if each is not None]
    if not read:
        return None
    share = 1 / len(read)
    return Estimate(math.fsum(e.value for e in read) * share, combine([(share, e.doubt) for e in read]))


def hitch_is_right(facts: Facts) -> bool:
    """Whether the hitch was measured and stands at its nominal height."""
    hitch, read = facts.profile.hitch, hitch_height(facts)
    nominal, tolerance = facts.value(hitch.height), facts.value(hitch.height_tolerance)
    if read is None or nominal is None or tolerance is None or tolerance <= 0:
        return False
    return near(read.value, read.doubt, nominal, tolerance) is Verdict.IN_ORDER


def headstock(facts: Facts) -> Shared | None:
    """The headstock by what the machine taught, or by geometry where the rotors hang rigidly on the frame."""
    data = facts.profile.levelling.headstock
    rise = None if data is None else facts.value(data.step)
    length = facts.value(facts.profile.machine.pins_to_axle)
    if data is None or rise is None or length is None:
        return None
    least, most = reach(facts, rise)
    felt: list[Adjuster] = []
    learned = False
    for side in SIDES:
        rotor = facts.profile.rotor_at(side)
        circle, behind = facts.value(rotor.tip_circle), facts.value(rotor.behind_pins)
        if circle is None or behind is None:
            return None
        plain = headstock_by_notches(rise, length, behind, circle, MOST_NOTCHES)
        effect = learned_effect(facts, side, rise)
        if effect is None and not data.rigid:
            return None
        learned = learned or effect is not None
        felt.append(replace(plain, effect=effect or plain.effect, least=least, most=most))
    return Shared((felt[0], felt[1]), rise, learned)


def reach(facts: Facts, rise: float) -> tuple[int, int]:
    """Steps down and up; where the hitch was measured, only to where its own height is right."""
    hitch, read = facts.profile.hitch, hitch_height(facts)
    nominal, tolerance = facts.value(hitch.height), facts.value(hitch.height_tolerance)
    if read is None or nominal is None or tolerance is None:
        return -MOST_NOTCHES, MOST_NOTCHES
    off = read.value - nominal
    down, up = -math.floor((off + tolerance) / rise + 1e-9), math.floor((tolerance - off) / rise + 1e-9)
    return min(0, max(down, -MOST_NOTCHES)), max(0, min(up, MOST_NOTCHES))


def learned_effect(facts: Facts, side: Side, rise: float) -> Effect | None:
    """What one step of the headstock did to a rotor, where it was last moved between two sets of readings."""
    moved = [(ever[-2], ever[-1]) for link in LINKS if len(ever := heights(facts, link)) > 1]
    if not moved:
        return None
    begun, ended = min(new.seq for _, new in moved), max(new.seq for _, new in moved)
    changes = [(new.number or 0.0) - (old.number or 0.0) for old, new in moved]
    change = math.fsum(changes) / len(changes)
    doubt = doubt_of(TAPE, 0.0) * math.sqrt(2 / len(moved))
    if abs(change) <= doubt:
        return None
    try:
        planes = planes_around(facts, side, begun, ended)
        if planes is None or turned_since(facts, side, planes.first):
            return None
        pairs = (planes.before, planes.after)
        before, after = ((each.centre, each.front_rear, each.right_left) for each in pairs)
        effects = learn(before, after, change / rise)
    except Impossible:
        return None
    if abs(effects[FRONT_REAR].value) <= effects[FRONT_REAR].doubt or effects[FRONT_REAR].value <= 0:
        return None
    share = doubt / abs(change)  # the way that the hitch itself was moved is in doubt too
    felt = [
        Estimate(e.value, combine([(1, e.doubt), (1, abs(e.value) * share)]))
        if abs(e.value) > e.doubt
        else Estimate(0.0, 0.0)
        for e in effects
    ]
    return felt[0], felt[1], felt[2]


def heights(facts: Facts, link: str) -> list[Entry]:
    """Every height of one link's pin, the oldest first."""
    return [entry for entry in entries_of(facts, HEIGHT, link) if usable(entry)]


def turned_since(facts: Facts, side: Side, first: int) -> bool:
    """Whether an adjuster of the rotor was moved meanwhile, so that nobody knows what did what."""
    return any(e.seq >= first for key in ADJUSTERS for e in entries_of(facts, key, side.value))


def plan_for_both(
    facts: Facts, shared: Shared, need: Mapping[Side, Wanted], tolerance: Mapping[Side, Span]
) -> BothPlan | None:
    """The least change of headstock, chassis pins and turnbuckles that levels both rotors.

    The cranks wait: height is set last, and lowering the hitch changes it anyway. As in the plan of one
    rotor half the tolerance is aimed at first.
    """
    own = [
        [adjuster for key, adjuster in adjusters_of(facts, side)[0].items() if key != "crank"]
        for side in SIDES
    ]
    whole = [tolerance[side] for side in SIDES]
    half = [(span[0] / 2, span[1] / 2, span[2] / 2) for span in whole]
    needs = need[SIDES[0]], need[SIDES[1]]
    try:
        plan = plan_both(shared.felt, (own[0], own[1]), needs, (half[0], half[1]))
        if not plan.within:
            plan = plan_both(shared.felt, (own[0], own[1]), needs, (whole[0], whole[1]))
    except Impossible:
        return None
    return plan
