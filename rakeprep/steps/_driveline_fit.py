"""Whose tractor it is, which stub and joint belong where, and the angles of the joints."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import Limit, against
from rakeprep.steps._reading import standard
from rakeprep.text import msg
from rakeprep.units import Kind

PTO = frozenset({Use.PTO})
STUBS = (
    Option("1", msg("type 1: 35 mm, 6 splines")),
    Option("2", msg("type 2: 35 mm, 21 splines")),
    Option("3", msg("type 3: 45 mm, 20 splines")),
    Option("4", msg("type 4: 57.5 mm, 22 splines")),
)
ENDS = (
    Place("tractor", msg("joint at the tractor"), "driveline"),
    Place("machine", msg("joint at the machine"), "driveline"),
)
WIDE = (
    Option("tractor", msg("at the tractor")),
    Option("machine", msg("at the machine")),
    Option("no-wide", msg("there is none")),
)
WIDE_WORDS = {option.key: option.label for option in WIDE} | {"none": WIDE[2].label}
WRONG_ANGLE = msg(
    "Look first whether the shaft is fitted end for end; then limit the steering lock or the lift."
)
PLAIN = Limit(
    msg("{place}: {read}, the plain joint may have {limit}."),
    msg("{place}: {read} is too close to the plain joint's {limit} to tell."),
    msg("{place}: {read} is too much for the plain joint, which may have {limit}."),
    WRONG_ANGLE,
    bars=PTO,
)
WIDE_ANGLE = Limit(
    msg("{place}: {read}, the wide-angle joint may have {limit}."),
    msg("{place}: {read} is too close to the wide-angle joint's {limit} to tell."),
    msg("{place}: {read} is too much even for the wide-angle joint, which may have {limit}."),
    WRONG_ANGLE,
    bars=PTO,
)


def fields(profile: Profile) -> tuple[Field, ...]:
    """The questions about the fit."""
    return (
        Field(
            "customers_tractor",
            msg("Is it the customer's own tractor"),
            Ask.CHOICE,
            msg("With the tyres and the link setting he will use. On another tractor nothing is cut."),
            options=YES_NO,
            need=Need.MUST,
            bars=PTO,
            rests_on=("tractor",),
        ),
        Field(
            "stub",
            msg("PTO stub on the tractor"),
            Ask.CHOICE,
            msg("Engine off, key out. Count the splines and measure across them."),
            options=STUBS,
            bars=PTO,
            rests_on=("tractor",),
        ),
        Field(
            "wide_angle_end",
            msg("Where the wide-angle joint is"),
            Ask.CHOICE,
            msg("Look at the shaft as it is fitted. The sign on the guard shows the tractor end."),
            options=WIDE,
            bars=PTO,
        ),
        Field(
            "angle",
            msg("Largest angle of the joint"),
            Ask.QUANTITY,
            msg("At the worst of the nine places, engine off: digital level, stub against shaft."),
            ENDS,
            Kind.ANGLE,
            "°",
            bars=PTO,
            instrument="digital-level",
            rests_on=("tractor", "hitch.height", "driveline.wide_angle_end"),
        ),
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge tractor, stub, ends and angles."""
    yield from tractor_findings(facts)
    yield from stub_findings(facts)
    yield from wide_findings(facts)
    for place in ENDS:
        limit, words = joint_limit(facts.profile, place.key)
        yield from against(facts, by_key["angle"], place.key, limit, words)


def tractor_findings(facts: Facts) -> Iterable[Finding]:
    """Only the customer's own tractor may decide about the saw."""
    chosen = facts.chosen("customers_tractor") or frozenset()
    about = (facts.slot("customers_tractor"),)
    if "no" in chosen:
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg("This is not the customer's tractor: measure and record, no saw."),
            msg("Leave the cut as an open point, to be done on the customer's tractor; until then no PTO."),
            bars=PTO,
        )
    elif "yes" in chosen:
        yield Finding(Verdict.IN_ORDER, about, msg("Measured on the customer's own tractor."))


def stub_findings(facts: Facts) -> Iterable[Finding]:
    """Compare the stub with the shaft and with the tractor data."""
    chosen = facts.chosen("stub") or frozenset()
    found = next((option for option in STUBS if option.key in chosen), None)
    if found is None:
        return
    about = (facts.slot("stub"),)
    wanted = facts.profile.driveline.pto_type
    known = {gear.type for gear in facts.tractor.pto}
    source = standard("ISO 500-1")
    if found.key != str(wanted):
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg("The stub is {found}; the shaft is for type {wanted}.", found=found.label, wanted=wanted),
            msg("Change the stub or the shaft's end; never use a loose adapter, it adds length."),
            source=source,
            bars=PTO,
        )
    elif known and int(found.key) not in known:
        says = msg("It fits the shaft, but the tractor data have no gear of {found}.", found=found.label)
        yield Finding(Verdict.MEASURE_AGAIN, about, says, msg("Count the splines again or correct the data."))
    else:
        says = msg("The stub fits the shaft: {found}.", found=found.label)
        yield Finding(Verdict.IN_ORDER, about, says, source=source)


def wide_findings(facts: Facts) -> Iterable[Finding]:
    """Compare the end with the wide-angle joint with the machine data."""
    chosen = facts.chosen("wide_angle_end") or frozenset()
    found = next((option for option in WIDE if option.key in chosen), None)
    if found is None:
        return
    about = (facts.slot("wide_angle_end"),)
    wanted = facts.profile.driveline.wide_angle_end
    if found.key == wanted or (found.key == "no-wide" and wanted == "none"):
        says = msg("Wide-angle joint: {where}, as it should be.", where=found.label)
        yield Finding(Verdict.IN_ORDER, about, says)
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg(
            "Wide-angle joint: {where}; it belongs: {wanted}.",
            where=found.label,
            wanted=WIDE_WORDS.get(wanted, WIDE[0].label),
        ),
        msg("Turn the shaft end for end; the sign on the guard shows the tractor end."),
        bars=PTO,
    )


def joint_limit(profile: Profile, end: str) -> tuple[Sourced, Limit]:
    """The limit of the joint at one end, wherever the wide-angle joint belongs by the machine data."""
    shaft = profile.driveline
    if shaft.wide_angle_end == end:
        return shaft.wide_joint, WIDE_ANGLE
    return shaft.plain_joint, PLAIN
