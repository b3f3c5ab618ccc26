"""What an adjuster really does on this machine, learned from the readings before and after it was turned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusting import sensitivity, steps_for
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.levelling import FEWEST_PLACES, Level, clock_angle, level
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_advice import FLATS
from rakeprep.steps._levelling_plane import TAPE_STEPS, typed_unit
from rakeprep.steps._reading import LARGEST, ROTOR_NAMES, SIDES, cannot_tell, doubt_of
from rakeprep.text import Message, msg, plural
from rakeprep.units import Amount, Kind

ADJUSTERS = ("turnbuckle", "chassis_pins", "crank")
# Turns (or holes) that the readings cannot miss, rule of thumb; a flat or two may well drown in them.
SEEN_FROM = {"turnbuckle": 1.0, "chassis_pins": 1.0, "crank": 3.0}


@dataclass(frozen=True, slots=True)
class Lesson:
    """One turn of one adjuster, and the planes before and after it."""

    side: Side
    adjuster: str
    turns: float
    before: Level
    after: Level

    @property
    def watched(self) -> tuple[Estimate, Estimate]:
        """What this adjuster is there for, before and after."""
        if self.adjuster == "turnbuckle":
            return self.before.front_rear, self.after.front_rear
        if self.adjuster == "chassis_pins":
            return self.before.right_left, self.after.right_left
        return self.before.centre, self.after.centre


def entries_of(facts: Facts, field: str, place: str) -> list[Entry]:
    """Every value ever entered at an address, the oldest first."""
    slot = facts.slot(field, place)
    current = facts.record.entries.get(slot)
    ever = {entry.seq: entry for entry in facts.record.history.get(slot, ())}
    if current is not None:
        ever[current.seq] = current
    return [ever[seq] for seq in sorted(ever) if ever[seq].how is How.VALUE]


def usable(entry: Entry) -> bool:
    """Whether a number was meant."""
    return entry.number is not None and abs(entry.number) <= LARGEST


def lesson(facts: Facts, side: Side) -> Lesson | None:
    """The last turn that stands alone between two sets of readings; ``Impossible`` if they tell nothing."""
    turned = [(entry, key) for key in ADJUSTERS for entry in entries_of(facts, key, side.value)]
    if not turned:
        return None
    last, adjuster = max(turned, key=lambda each: each[0].seq)
    circle = facts.value(facts.profile.rotor_at(side).tip_circle)
    if not usable(last) or not last.number or circle is None:
        return None
    before: list[tuple[float, float]] = []
    after: list[tuple[float, float]] = []
    first = last.seq
    for hour in dict.fromkeys(facts.profile.rotor_at(side).clock_places):
        read = [e for e in entries_of(facts, "clearance", f"{side}-{hour}") if usable(e)]
        old = [e for e in read if e.seq < last.seq]
        if not old or read[-1].seq < last.seq:
            continue
        first = min(first, old[-1].seq)
        before.append((clock_angle(hour), old[-1].number or 0.0))
        after.append((clock_angle(hour), read[-1].number or 0.0))
    alone = all(entry is last or entry.seq < first for entry, _ in turned)
    if len(before) < FEWEST_PLACES or not alone:
        return None
    doubt = doubt_of("steel-rule", 0.0)
    return Lesson(
        side, adjuster, last.number, level(before, circle / 2, doubt), level(after, circle / 2, doubt)
    )


def learned_findings(facts: Facts) -> Iterable[Finding]:
    """What the last turn on each rotor taught."""
    for side in SIDES:
        try:
            found = lesson(facts, side)
            if found is not None:
                yield from lesson_finding(facts, found)
        except Impossible as reason:
            yield cannot_tell(turned_slots(facts, side)[:1], reason)


def turned_slots(facts: Facts, side: Side) -> tuple[Slot, ...]:
    """The adjusters of a rotor that have an entry."""
    slots = (facts.slot(key, side.value) for key in ADJUSTERS)
    return tuple(slot for slot in slots if slot in facts.record.entries)


def lesson_finding(facts: Facts, found: Lesson) -> Iterable[Finding]:
    """The sentence on what one turn changed, and how many more it takes; none for a small turn unseen."""
    old, new = found.watched
    one_turn = sensitivity(
        (found.before.centre.value, old.value), (found.after.centre.value, new.value), found.turns
    )
    change = Estimate(new.value - old.value, combine([(-1, old.doubt), (1, new.doubt)]))
    unit = typed_unit(facts, f"{found.side}-{facts.profile.rotor_at(found.side).clock_places[0]}")
    say = {
        "rotor": ROTOR_NAMES[found.side],
        "what": WATCHED[found.adjuster],
        "change": Amount(change.value, Kind.LENGTH, unit, step=TAPE_STEPS.get(unit), doubt=change.doubt),
        "each": Amount(one_turn[1], Kind.LENGTH, unit, step=TAPE_STEPS.get(unit)),
        "centre": Amount(one_turn[0], Kind.LENGTH, unit, step=TAPE_STEPS.get(unit)),
        "turns": found.turns,
    }
    about = (facts.slot(found.adjuster, found.side.value),)
    working = (
        msg("J = (after − before) / turns = {change} / {turns}; the centre moved {centre} a turn.", **say),
    )
    if abs(change.value) <= change.doubt:
        if abs(found.turns) < SEEN_FROM[found.adjuster]:
            return
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg("{rotor}: the last turn changed {what} by no more than the readings can tell.", **say),
            msg("Look whether the adjuster moves anything at all, such as a pin that is not seated."),
            working,
        )
        return
    says = msg("{rotor}: on this machine one turn (or hole) changes {what} by {each}.", **say)
    yield Finding(Verdict.IN_ORDER, about, says, next_flats(facts, found, one_turn[1]), working)


def next_flats(facts: Facts, found: Lesson, per_turn: float) -> Message | None:
    """Flats of the turnbuckle still needed by what was learned."""
    lower = facts.value(facts.profile.levelling.front_lower)
    if found.adjuster != "turnbuckle" or lower is None:
        return None
    now = found.after.front_rear
    steps, leave = steps_for(Estimate(-lower - now.value, now.doubt), abs(per_turn) / FLATS)
    if leave is not None:
        return leave
    if (steps > 0) == (per_turn > 0):
        return plural("By that: {count} flat, shorter.", "By that: {count} flats, shorter.", abs(steps))
    return plural("By that: {count} flat, longer.", "By that: {count} flats, longer.", abs(steps))


WATCHED = {
    "turnbuckle": msg("front minus rear"),
    "chassis_pins": msg("right minus left"),
    "crank": msg("the height"),
}
