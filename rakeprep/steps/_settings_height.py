"""Tine height: what is read on concrete is less in the field, where the wheels sink in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate, near
from rakeprep.calculations.field_height import concrete_height, field_height
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import doubt_said, unit_of, with_gaps
from rakeprep.steps._reading import LARGEST, cannot_tell, doubt_of, reading, shown
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

PRINTS = 3  # wheel prints of which the sink is the mean
ON_GRASS = msg(
    "In the field walk 10 m behind it: dust or soil on the tips is too low, a combed strip too high."
)
WORDS: dict[Verdict, tuple[Message, Message]] = {
    Verdict.IN_ORDER: (msg("{place}: {field} in the field, as wanted."), ON_GRASS),
    Verdict.MEASURE_AGAIN: (
        msg("{place}: {field} in the field is too close to the edge of {wanted} ± {tolerance} to tell."),
        msg("Set the crank for {concrete} on concrete, and read it again."),
    ),
    Verdict.PUT_RIGHT: (
        msg("{place}: {field} in the field; {wanted} ± {tolerance} is wanted."),
        msg("Set the crank for {concrete} on concrete, both rotors alike. Fine setting is done on grass."),
    ),
}


def sink(facts: Facts) -> Estimate | None:
    """How deep the wheels go in; a mean of three places."""
    entry = facts.entry("tyre_sink")
    if entry is None or entry.number is None or abs(entry.number) > LARGEST:
        return None
    half_division = float(entry.division or 0) / 2
    return Estimate(entry.number, max(doubt_of("steel-rule", entry.number, PRINTS), half_division))


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """Both rotors."""
    field = by_key["tine_concrete"]
    deep = sink(facts)
    for place in field.places:
        try:
            yield from one_rotor(facts, field, place, deep)
        except Impossible as reason:
            yield cannot_tell((facts.slot("tine_concrete", place.key),), reason)


def one_rotor(facts: Facts, field: Field, place: Place, deep: Estimate | None) -> Iterator[Finding]:
    """One rotor against the height wanted in the field."""
    read = reading(facts, field.key, place.key, field.instrument)
    settings = facts.profile.settings
    wanted, tolerance = facts.value(settings.tine_clearance), facts.value(settings.clearance_tolerance)
    if read is None or wanted is None or tolerance is None:
        return
    unit = unit_of(facts, field, place.key)
    about = (facts.slot(field.key, place.key), facts.slot("tyre_sink"))
    known = Estimate(0.0, 0.0) if deep is None else deep
    real = field_height(read, known)
    verdict = near(real.value, real.doubt, wanted, tolerance)
    say = {
        "place": place.name,
        "field": Amount(real.value, Kind.LENGTH, unit, both=True),
        "wanted": shown(settings.tine_clearance, both=True),
        "tolerance": shown(settings.clearance_tolerance),
        "concrete": Amount(concrete_height(wanted, known).value, Kind.LENGTH, unit, toward="up", both=True),
    }
    if deep is None and not (verdict is Verdict.PUT_RIGHT and real.value < wanted):
        yield firm_ground_only(facts, about, verdict, say)
        return
    says, todo = WORDS[verdict]
    working = (
        msg(
            "Field = concrete − sink = {read} − {sink} = {field}.",
            read=Amount(read.value, Kind.LENGTH, unit),
            sink=Amount(known.value, Kind.LENGTH, unit),
            field=say["field"],
        ),
        doubt_said(Kind.LENGTH, real.doubt, unit),
    )
    source = settings.tine_clearance.source
    yield Finding(verdict, about, with_gaps(says, **say), with_gaps(todo, **say), working, source)


def firm_ground_only(
    facts: Facts, about: tuple[Slot, ...], verdict: Verdict, say: Mapping[str, object]
) -> Finding:
    """Without the depth of the wheel prints: right for firm ground, and not known for soft."""
    source = facts.profile.settings.tine_clearance.source
    measure = msg("Measure the wheel prints in the customer's field: the tips come down by their depth.")
    if verdict is Verdict.IN_ORDER:
        says = msg("{place}: {field} is right on ground as firm as this.", **say)
        return Finding(verdict, about, says, measure, (), source)
    says = msg("{place}: {field} on concrete is right only where the wheels sink in.", **say)
    if verdict is Verdict.MEASURE_AGAIN:
        says = msg("{place}: {field} is too close to the edge of {wanted} ± {tolerance} to tell.", **say)
    return Finding(Verdict.MEASURE_AGAIN, about, says, measure, (), source)
