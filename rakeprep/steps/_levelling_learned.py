"""What an adjuster really does on this machine, learned from the readings before and after it was turned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.learning import learn
from rakeprep.calculations.levelling import FEWEST_PLACES, CannotTell, Level, clock_angle, level
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_plane import TAPE_STEPS, typed_unit
from rakeprep.steps._reading import LARGEST, ROTOR_NAMES, SIDES, cannot_tell, doubt_of
from rakeprep.text import msg
from rakeprep.units import Amount, Kind

FLATS = 6  # of the turnbuckle's body, as on a hexagon
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
    if not usable(last) or not last.number:
        return None
    planes = planes_around(facts, side, last.seq, last.seq)
    if planes is None or any(entry is not last and entry.seq >= planes.first for entry, _ in turned):
        return None
    return Lesson(side, adjuster, last.number, planes.before, planes.after)


@dataclass(frozen=True, slots=True)
class Planes:
    """The planes of one rotor before and after something was moved; ``first`` is the oldest entry used."""

    before: Level
    after: Level
    first: int


def planes_around(facts: Facts, side: Side, begun: int, ended: int) -> Planes | None:
    """The last readings before entry ``begun`` and those after entry ``ended``, at the same places."""
    circle = facts.value(facts.profile.rotor_at(side).tip_circle)
    if circle is None:
        return None
    before: list[tuple[float, float]] = []
    after: list[tuple[float, float]] = []
    first = begun
    for hour in dict.fromkeys(facts.profile.rotor_at(side).clock_places):
        read = [e for e in entries_of(facts, "clearance", f"{side}-{hour}") if usable(e)]
        old = [e for e in read if e.seq < begun]
        if not old or read[-1].seq < ended:
            continue
        first = min(first, old[-1].seq)
        before.append((clock_angle(hour), old[-1].number or 0.0))
        after.append((clock_angle(hour), read[-1].number or 0.0))
    if len(before) < FEWEST_PLACES:
        return None
    doubt = doubt_of("steel-rule", 0.0)
    return Planes(level(before, circle / 2, doubt), level(after, circle / 2, doubt), first)


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


def shorter_raises_front(facts: Facts) -> bool | None:
    """The sense of the turnbuckle by the machine data; None where it is not known."""
    data = facts.profile.levelling.turnbuckle
    if data is None:
        return None
    return {"front": True, "rear": False}.get(data.shorter_raises.strip().casefold())


def backwards(facts: Facts, found: Lesson) -> bool:
    """Whether it moved the other way than what was entered and the machine data say together."""
    old, new = found.watched
    up = (new.value - old.value) * found.turns > 0
    sense = shorter_raises_front(facts) if found.adjuster == "turnbuckle" else True
    return sense is not None and up is not sense


def lesson_finding(facts: Facts, found: Lesson) -> Iterable[Finding]:
    """The sentence on what one turn changed; none for a small turn unseen."""
    old, new = found.watched
    unit = typed_unit(facts, f"{found.side}-{facts.profile.rotor_at(found.side).clock_places[0]}")

    def length(each: Estimate) -> Amount:
        return Amount(each.value, Kind.LENGTH, unit, step=TAPE_STEPS.get(unit), doubt=each.doubt)

    about = (facts.slot(found.adjuster, found.side.value),)
    say = {"rotor": ROTOR_NAMES[found.side], "what": WATCHED[found.adjuster]}
    working = (
        msg(
            "J = (after − before) / turns = ({after} − {before}) / {turns}.",
            after=length(new),
            before=length(old),
            turns=found.turns,
        ),
    )
    try:
        (each,) = learn([old], [new], found.turns)
    except CannotTell:
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
    if backwards(facts, found):
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg("{rotor}: {what} moved the other way than what was turned should move it.", **say),
            msg("Look at the sign of this entry, plus or minus, and whether it was this rotor."),
            working,
        )
        return
    says = msg(
        "{rotor}: on this machine one turn (or hole) changes {what} by {each}.", each=length(each), **say
    )
    yield Finding(Verdict.IN_ORDER, about, says, None, working)


WATCHED = {
    "turnbuckle": msg("front minus rear"),
    "chassis_pins": msg("right minus left"),
    "crank": msg("the height"),
}
