"""The lengths that are read: the shaft itself, and the distances of the nine places."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations import driveline as sums
from rakeprep.calculations.decision import Estimate, agree
from rakeprep.model.entry import How
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import doubt_said, unit_of
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import Message, joined, msg, plural
from rakeprep.units import Amount, Kind

PTO = frozenset({Use.PTO})
TAPE = "driveline-tape"
ON_DATA = ("driveline.closed", "driveline.half")
HALVES = (
    Place("tractor", msg("tractor half"), "driveline"),
    Place("machine", msg("machine half"), "driveline"),
)


def fields(profile: Profile) -> tuple[Field, ...]:
    """The questions about the lengths of the shaft itself."""
    unit = profile.driveline.closed.typed.unit

    def length(key: str, label: Message, about: Message, rests: tuple[str, ...] = ()) -> Field:
        return Field(
            key,
            label,
            Ask.QUANTITY,
            about,
            kind=Kind.LENGTH,
            unit=unit,
            bars=PTO,
            instrument=TAPE,
            rests_on=rests,
        )

    proof = ("tractor", "hitch.height", "driveline.cut")
    return (
        length(
            "closed",
            msg("Closed length before any cut"),
            msg("Shaft pushed home, from locking groove to locking groove."),
        ),
        Field(
            "half",
            msg("Half before any cut"),
            Ask.QUANTITY,
            msg("From the locking groove to the open end of the steel tube."),
            HALVES,
            Kind.LENGTH,
            unit,
            bars=PTO,
            instrument=TAPE,
        ),
        Field(
            "cut",
            msg("Cut off each tube and each guard"),
            Ask.QUANTITY,
            msg(
                "The same length off both guard tubes first, then off both steel tubes, square, with a saw. "
                "A second person reads the numbers aloud before the saw. Enter 0 if nothing is cut."
            ),
            kind=Kind.LENGTH,
            unit=unit,
            need=Need.OPEN,
            bars=PTO,
            instrument="tape",
            two_people=True,
            rests_on=("tractor", "driveline.distance", *ON_DATA),
        ),
        length(
            "gap_shortest",
            msg("Gap left at the shortest place"),
            msg("Engine off, key out. How far the fitted shaft can still be pushed home at that place."),
            proof,
        ),
        length(
            "overlap_longest",
            msg("Overlap at the longest place"),
            msg("Engine off, key out. From a chalk mark on the inner tube: how far it still reaches in."),
            proof,
        ),
    )


def missing(facts: Facts, names: Mapping[str, Message]) -> list[str]:
    """Places that were neither read nor said to be out of reach."""
    entries = facts.record.entries
    slots = {key: facts.slot("distance", key) for key in names}
    given = {key for key, slot in slots.items() if slot in entries}
    unreadable = {
        key
        for key in given
        if entries[slots[key]].how is How.VALUE and reading(facts, "distance", key, TAPE) is None
    }
    return [key for key in names if key not in given or key in unreadable]


def progress(facts: Facts, read: Mapping[str, Estimate], names: Mapping[str, Message]) -> Iterable[Finding]:
    """Say which places are still to be read; straight ahead alone never decides."""
    left = missing(facts, names)
    if not read or not left:
        return
    about = tuple(facts.slot("distance", key) for key in left)
    says = plural(
        "{count} of nine places is still to be read: {names}.",
        "{count} of nine places are still to be read: {names}.",
        len(left),
        names=joined([names[key] for key in left], "; "),
    )
    todo = msg("The shortest is usually in a full turn, the longest straight ahead. Say why, if not reached.")
    yield Finding(Verdict.NOT_YET, about, says, todo)


def uneven_findings(facts: Facts, read: Mapping[str, Estimate], found: sums.Places) -> Iterable[Finding]:
    """Explain a difference of left and right before anything is cut."""
    if not found.uneven:
        return
    about = tuple(facts.slot("distance", key) for key in read if not key.startswith("straight"))
    worst_one = max(found.left_minus_right.values(), key=abs)
    yield Finding(
        Verdict.MEASURE_AGAIN,
        about,
        msg(
            "Full left and full right differ by {difference}.",
            difference=Amount(abs(worst_one), Kind.LENGTH, "mm", both=True),
        ),
        msg("PTO or hitch off centre, or one stop not reached: explain it before cutting."),
        source=rule_of_thumb(msg("more than 15 mm between left and right needs a reason")),
    )


def data_findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Compare the shaft as measured with the machine data: another shaft, or one that was cut before."""
    shaft = facts.profile.driveline
    pairs: tuple[tuple[str, str, Sourced], ...] = (
        ("closed", "", shaft.closed),
        ("half", "tractor", shaft.half_a),
        ("half", "machine", shaft.half_b),
    )
    for key, place, printed in pairs:
        read, wanted = reading(facts, key, place, TAPE), facts.value(printed)
        if read is None or wanted is None:
            continue
        about = (facts.slot(key, place),)
        unit = unit_of(facts, by_key[key], place)
        say = {"read": Amount(read.value, Kind.LENGTH, unit, both=True), "wanted": shown(printed)}
        try:
            alike = agree(read, Estimate(wanted, 0.0))
        except Impossible as reason:
            yield cannot_tell(about, reason)
            continue
        if alike:
            says = msg("{read} agrees with the machine data.", **say)
            yield Finding(Verdict.IN_ORDER, about, says, source=printed.source)
            continue
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg("{read} measured, {wanted} in the machine data.", **say),
            msg("Another shaft, or somebody has cut it already? The sums go on with what was measured."),
            (doubt_said(Kind.LENGTH, read.doubt, unit),),
            printed.source,
        )


def measured_or(facts: Facts, key: str, place: str, printed: Sourced) -> float | None:
    """The length as measured, else as in the machine data."""
    read = reading(facts, key, place, TAPE)
    return facts.value(printed) if read is None else read.value
