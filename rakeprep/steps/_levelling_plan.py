"""The least change over all adjusters of a rotor together, by geometry or by what the machine taught."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusters import (
    Adjuster,
    Effect,
    StepKind,
    crank_by_half_turns,
    pins_by_holes,
    turnbuckle_by_flats,
)
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.learning import learn
from rakeprep.calculations.plan_turns import Span, TurnPlan, Wanted, plan_turns
from rakeprep.model.facts import Facts
from rakeprep.model.profile import Side
from rakeprep.steps._judged import with_gaps
from rakeprep.steps._levelling_learned import FLATS, Lesson, backwards, lesson, shorter_raises_front
from rakeprep.steps._levelling_plane import TAPE_STEPS, Measured
from rakeprep.text import Message, joined, msg
from rakeprep.units import Amount, Kind

# Steps either way within which a plan is looked for, rule of thumb: ten turns, three holes, thirty turns.
MOST_FLATS, MOST_HOLES, MOST_HALF_TURNS = 60, 3, 60
STEPS_A_TURN = {"turnbuckle": FLATS, "chassis_pins": 1, "crank": 2}
DIRECTIONS = {"crank": 0, "turnbuckle": 1, "chassis_pins": 2}
ENDLESS = math.inf


@dataclass(frozen=True, slots=True)
class Plan:
    """What to turn on one rotor, what that leaves, and which adjusters were learned from the machine."""

    turns: TurnPlan
    adjusters: tuple[Adjuster, ...]
    learned: bool
    says: Message

    @property
    def leave(self) -> bool:
        """Whether nothing is to be turned."""
        return self.turns.leave


def adjusters_of(facts: Facts, side: Side) -> tuple[dict[str, Adjuster], bool]:
    """The adjusters this rotor has, in the order in which they follow; whether one was learned."""
    found = by_geometry(facts, side)
    try:
        last = lesson(facts, side)
        effect = None if last is None or backwards(facts, last) else learned_effect(last)
    except Impossible:
        return found, False
    if last is None or effect is None:
        return found, False
    if last.adjuster not in found:
        found[last.adjuster] = turnbuckle_unknown(effect)
    elif last.adjuster == "turnbuckle" and shorter_raises_front(facts) is False:
        effect = mirrored(effect)
    known = found[last.adjuster]
    found[last.adjuster] = Adjuster(
        known.name, known.kind, effect, known.least, known.most, known.plus, known.minus, known.weight
    )
    order = [key for key in ("chassis_pins", "turnbuckle", "crank") if key in found]
    return {key: found[key] for key in order}, True


def by_geometry(facts: Facts, side: Side) -> dict[str, Adjuster]:
    """The adjusters by their threads and levers; the turnbuckle only where its sense is known."""
    data = facts.profile.levelling
    circle = facts.value(facts.profile.rotor_at(side).tip_circle)
    found: dict[str, Adjuster] = {}
    if data.chassis_pins is not None and circle is not None:
        step, track = facts.value(data.chassis_pins.step), facts.value(data.chassis_pins.track)
        if step is not None and track is not None:
            found["chassis_pins"] = pins_by_holes(step, track, circle, MOST_HOLES)
    if data.turnbuckle is not None and circle is not None:
        pitches, lever = facts.value(data.turnbuckle.pitches), facts.value(data.turnbuckle.lever)
        sense = shorter_raises_front(facts)
        if pitches is not None and lever is not None and sense is not None:
            found["turnbuckle"] = turnbuckle_by_flats(pitches, lever, circle, sense, MOST_FLATS, FLATS)
    if data.height_crank is not None:
        pitch, ratio = facts.value(data.height_crank.pitch), facts.value(data.height_crank.ratio)
        if pitch is not None and ratio is not None:
            found["crank"] = crank_by_half_turns(pitch, ratio, MOST_HALF_TURNS)
    return found


def learned_effect(last: Lesson) -> Effect | None:
    """What one real step changed on this machine; None where the readings hide it."""
    before, after = ((each.centre, each.front_rear, each.right_left) for each in (last.before, last.after))
    changes = learn(before, after, last.turns * STEPS_A_TURN[last.adjuster])
    watched = changes[DIRECTIONS[last.adjuster]]
    if abs(watched.value) <= watched.doubt:
        return None
    # what moved no further than its doubt counts as not moved
    seen = [each if abs(each.value) > each.doubt else Estimate(0.0, 0.0) for each in changes]
    return seen[0], seen[1], seen[2]


def mirrored(effect: Effect) -> Effect:
    """The same steps counted the other way: a positive step of the plan raises the front."""
    centre, front, right = (Estimate(-each.value, each.doubt) for each in effect)
    return centre, front, right


def turnbuckle_unknown(effect: Effect) -> Adjuster:
    """A turnbuckle whose sense only the machine tells; a positive step makes it shorter."""
    shorter, longer = msg("shorter"), msg("longer")
    return Adjuster(msg("turnbuckle"), StepKind.FLAT, effect, -MOST_FLATS, MOST_FLATS, shorter, longer)


def plan_for(
    facts: Facts, plane: Measured, need: Wanted, tolerance: Span, watched: tuple[int, ...]
) -> Plan | None:
    """The smallest change that meets the need; None where this rotor has nothing to turn.

    First half the tolerance is aimed at, since the doubt of the readings eats the other half; where
    the steps are too coarse for that, the whole of it. ``watched`` are the directions to tell of.
    """
    adjusters, learned = adjusters_of(facts, plane.side)
    if not adjusters:
        return None
    movable = {DIRECTIONS[key] for key in adjusters}
    whole = [limit if d in movable else ENDLESS for d, limit in enumerate(tolerance)]
    order = tuple(adjusters.values())
    try:
        turns = plan_turns(order, need, (whole[0] / 2, whole[1] / 2, whole[2] / 2))
        if not turns.within:
            turns = plan_turns(order, need, (whole[0], whole[1], whole[2]))
    except Impossible:
        return None
    told = [d for d in watched if d in movable]
    return Plan(turns, order, learned, said(plane, turns, told))


LEFT_WORDS = {
    0: msg("{left} in height"),
    1: msg("{left} front to rear"),
    2: msg("{left} right to left"),
}


def finely(plane: Measured, value: float) -> Amount:
    """What is worked out to be left, in the unit of the rule but to a tenth of a millimetre."""
    step = Fraction(1, 10) if plane.unit == "mm" else TAPE_STEPS.get(plane.unit)
    return Amount(abs(value), Kind.LENGTH, plane.unit, step=step)


def said(plane: Measured, turns: TurnPlan, watched: list[int]) -> Message:
    """The moves, and what they leave."""
    moves = joined(list(turns.says), "; ")
    if turns.leave:
        return moves
    left = joined([with_gaps(LEFT_WORDS[d], left=finely(plane, turns.left[d].value)) for d in watched or [0]])
    if turns.within:
        return msg("To turn: {moves}. That leaves {left}.", moves=moves, left=left)
    return msg(
        "To turn: {moves}. No steps come nearer, and that still leaves {left}: look for what is bent or not "
        "seated.",
        moves=moves,
        left=left,
    )
