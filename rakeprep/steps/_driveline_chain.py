"""The chain that keeps the guard from turning: long enough everywhere, too short to reach what turns."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.driveline import Height, Turn
from rakeprep.calculations.guard_chain import check_chain
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.verdict import Verdict
from rakeprep.steps._driveline_fit import PTO
from rakeprep.steps._judged import doubt_said, sane, unit_of
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

SPANS = (
    Place("shortest", msg("shortest of the nine places"), "driveline"),
    Place("longest", msg("longest of the nine places"), "driveline"),
)
STANDS_FOR = {"shortest": (Turn.LEFT, Height.WORK), "longest": (Turn.STRAIGHT, Height.WORK)}


def fields(profile: Profile) -> tuple[Field, ...]:
    """The questions about the chain."""
    unit = profile.driveline.closed.typed.unit

    def asked(key: str, label: Message, about: Message, places: tuple[Place, ...]) -> Field:
        return Field(
            key,
            label,
            Ask.QUANTITY,
            about,
            places,
            Kind.LENGTH,
            unit,
            need=Need.MAY,
            instrument="tape",
            rests_on=("tractor", "driveline.cut"),
        )

    shaft = (Place("", msg("chain of the guard"), "driveline"),)
    return (
        asked(
            "chain",
            msg("Length of the guard's chain"),
            msg("Engine off, key out. Stretched, hook to hook, as it is hung in."),
            shaft,
        ),
        asked(
            "chain_span",
            msg("Guard's eye to the fixed point"),
            msg("Straight from the eye on the guard to where the chain is hooked in, at that place."),
            SPANS,
        ),
        asked(
            "chain_air",
            msg("Air from the chain to what turns"),
            msg("From the straight line of the chain to the nearest part that turns. Usual: 100 to 300 mm."),
            shaft,
        ),
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge the chain once its length and both distances are there."""
    length = reading(facts, "chain", "", "tape")
    spans = {
        STANDS_FOR[place.key]: each
        for place in SPANS
        if (each := sane(facts, "chain_span", place.key)) is not None
    }
    air = sane(facts, "chain_air")
    if length is None or len(spans) < len(SPANS) or air is None:
        return
    about = (
        facts.slot("chain"),
        *(facts.slot("chain_span", place.key) for place in SPANS),
        facts.slot("chain_air"),
    )
    try:
        found = check_chain(length, spans, air)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = unit_of(facts, by_key["chain"])
    advised = Amount(found.advised, Kind.LENGTH, unit, toward="up", both=True)
    working = (
        msg(
            "Slack at the longest = length − span = {slack}; reach at the shortest = √(length² − span²) / 2 "
            "= {reach}, air {air}.",
            slack=Amount(found.slack, Kind.LENGTH, unit, toward="down"),
            reach=Amount(found.reach, Kind.LENGTH, unit, toward="up"),
            air=Amount(air, Kind.LENGTH, unit),
        ),
        doubt_said(Kind.LENGTH, length.doubt, unit),
    )
    right = found.verdict is Verdict.IN_ORDER
    yield Finding(
        found.verdict,
        about,
        found.says,
        None if right else msg("A chain of {advised} has a tenth to spare.", advised=advised),
        working,
        rule_of_thumb(msg("longest distance from eye to fixed point and a tenth of it")),
        PTO if found.verdict is Verdict.PUT_RIGHT else frozenset(),
    )
