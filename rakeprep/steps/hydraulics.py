"""Hydraulic circuits: remote by remote and hose by hose, purge, times, leaks, and the one-rotor hold."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import within
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Circuit, Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps import _hydraulics_hold, _hydraulics_remotes, _hydraulics_times
from rakeprep.steps._judged import Answer, answered_no, judged, whole
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb
from rakeprep.text import msg, verbatim
from rakeprep.units import Amount, Kind

FIELD_WORK = frozenset({Use.FIELD})
STROKES = 5  # full strokes, a rule of thumb
WARM = 313.15  # K, 40 °C, a rule of thumb
HOSE_OPENED = ("tractor", "hydraulics.remote")
# the word "none" is kept for an empty pick of many
LEAK = (
    Option("dry", msg("dry")),
    Option("weep", msg("a film")),
    Option("drip", msg("drops")),
    Option("jet", msg("a jet or mist")),
)
LEAKS = {
    "dry": Answer(Verdict.IN_ORDER, msg("{place}: dry.")),
    "weep": Answer(
        Verdict.MEASURE_AGAIN,
        msg("{place}: a film of oil."),
        msg("Pressure off, wipe it, run again, look once more after 10 minutes with cardboard."),
    ),
    "drip": Answer(
        Verdict.PUT_RIGHT,
        msg("{place}: oil drips."),
        msg("Engine off, pressure off at the tractor, then tighten or replace; purge and look again."),
        FIELD_WORK,
    ),
    "jet": Answer(
        Verdict.STOP,
        msg("{place}: oil comes out under pressure."),
        msg(
            "Engine off, lever to float, everyone away. Oil under the skin is a case for the hospital at "
            "once, even if it does not hurt."
        ),
        frozenset(Use),
    ),
}


def circuit_place(circuit: Circuit) -> Place:
    """The place of a circuit."""
    words = verbatim(circuit.name)
    return Place(circuit.key, words, f"circuit-{circuit.key}")


def hose_places(profile: Profile) -> tuple[Place, ...]:
    """The place of every hose, each label once."""
    labels = dict.fromkeys(label for circuit in profile.hydraulics.circuit for label in circuit.hoses)
    return tuple(Place(label, msg("hose {label}", label=label), f"hose-{label}") for label in labels)


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    circuits = tuple(circuit_place(c) for c in profile.hydraulics.circuit)
    asked = (
        *_hydraulics_remotes.fields(tractor, circuits),
        *connecting_fields(circuits, hose_places(profile)),
        *_hydraulics_times.fields(profile, circuits),
        Field(
            "leak",
            msg("Leak check with cardboard"),
            Ask.CHOICE,
            msg("Hold 10 s at each end of the stroke. Cardboard and glasses, never a hand; keep away."),
            circuits,
            options=LEAK,
            bars=FIELD_WORK,
            rests_on=(*HOSE_OPENED, "hydraulics.purge"),
        ),
        Field(
            "clear",
            msg("Hoses neither rub nor pull tight"),
            Ask.CHOICE,
            msg("Watched from outside the swing, through the whole stroke of width and lift."),
            options=YES_NO,
        ),
        *_hydraulics_hold.fields(profile, tractor),
    )
    return tuple(field for field in asked if field.places)


def connecting_fields(circuits: tuple[Place, ...], hoses: tuple[Place, ...]) -> tuple[Field, ...]:
    """Couplings, purge and oil."""
    return (
        Field(
            "connected",
            msg("Clean, clicked, pulled, labelled"),
            Ask.CHOICE,
            msg("Engine off. Follow the hose by hand to its ram: colours say nothing. Label it."),
            hoses,
            options=YES_NO,
            rests_on=HOSE_OPENED,
        ),
        Field(
            "purge",
            msg("Full strokes made for purging"),
            Ask.COUNT,
            msg("Low engine speed, small flow, nobody within the swing. Usual: 5, or until it is smooth."),
            circuits,
            rests_on=("hydraulics.connected", *HOSE_OPENED),
        ),
        Field(
            "reservoir",
            msg("Tractor's oil level right"),
            Ask.CHOICE,
            msg("The machine's rams fill from the tractor: look at its level before and after."),
            options=YES_NO,
            rests_on=("hydraulics.purge", "tractor"),
        ),
        Field(
            "oil_temperature",
            msg("Temperature of the oil"),
            Ask.QUANTITY,
            msg("Cab display, or infra-red on a painted steel pipe. Usual for timing: 40 °C or more."),
            kind=Kind.TEMPERATURE,
            unit="°C",
            need=Need.MAY,
            instrument="infrared",
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge remotes, hoses, purge, times, leaks, and the one-rotor hold."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    if facts.profile.hydraulics.circuit:
        yield from circuit_findings(facts, by_key)
    yield from answered_no(
        facts,
        by_key["reservoir"],
        msg("The tractor's oil level is not right."),
        msg("Top up with the oil the tractor's book names before any timing."),
        bars=FIELD_WORK,
    )
    yield from warmth_findings(facts)
    yield from answered_no(
        facts,
        by_key["clear"],
        msg("A hose rubs or pulls tight."),
        msg("Lower it, engine off, then route the hose anew and watch a whole stroke again."),
        bars=FIELD_WORK,
    )
    yield from _hydraulics_hold.findings(facts, by_key)


def circuit_findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """What is asked of every circuit."""
    yield from _hydraulics_remotes.findings(facts, {p.key: p for p in by_key["purge"].places})
    if "connected" in by_key:
        yield from answered_no(
            facts,
            by_key["connected"],
            msg("{place}: not clean, home, pulled and labelled."),
            msg("Engine off, pressure off; clean both halves, push home until it clicks, pull, label."),
            bars=FIELD_WORK,
        )
    yield from purge_findings(facts, by_key["purge"])
    yield from _hydraulics_times.findings(facts, by_key)
    yield from judged(facts, by_key["leak"], LEAKS)


def purge_findings(facts: Facts, field: Field) -> Iterable[Finding]:
    """Judge the strokes made for purging."""
    source = rule_of_thumb(msg("5 full strokes, or until it runs smoothly"))
    for place in field.places:
        strokes = whole(facts, "purge", place.key)
        if strokes is None:
            continue
        about = (facts.slot("purge", place.key),)
        say = {"place": place.name, "strokes": strokes}
        if strokes >= STROKES:
            says = msg("{place}: purged with full strokes: {strokes}.", **say)
            yield Finding(Verdict.IN_ORDER, about, says, source=source)
            continue
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg("{place}: purged with full strokes: {strokes}; usual are {usual}.", **say, usual=STROKES),
            msg("Go on until it runs smoothly, and hold the last stroke 5 s at each end."),
            source=source,
        )


def warmth_findings(facts: Facts) -> Iterable[Finding]:
    """Times taken with cold oil mean little."""
    read = reading(facts, "oil_temperature", "", "infrared")
    if read is None:
        return
    about = (facts.slot("oil_temperature"),)
    try:
        warm = within(read.value, 0, low=WARM) is Verdict.IN_ORDER
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {"read": Amount(read.value, Kind.TEMPERATURE, "°C", both=True)}
    source = rule_of_thumb(msg("oil at 40 °C or more for timing"))
    if warm:
        yield Finding(Verdict.IN_ORDER, about, msg("Oil at {read}: warm enough.", **say), source=source)
        return
    says = msg("Oil at {read} is too cold for timing; every time comes out long.", **say)
    todo = msg("Work the rams until the oil is warm, then time again.")
    yield Finding(Verdict.MEASURE_AGAIN, about, says, todo, source=source)


STEP = Step(
    key="hydraulics",
    order=5,
    title=msg("Hydraulic circuits"),
    about=msg("Every hose on the right remote, no air, right times both ways, and no drop of oil."),
    cautions=(
        Caution(
            msg("Oil that jets out under pressure goes through skin."),
            msg("Look for leaks with cardboard, never a hand. Pressure off before uncoupling."),
            "injection",
        ),
        Caution(
            msg("A raised rotor or frame can come down at any moment."),
            msg("Nobody within the swing while the lever moves; nothing hydraulic holds a person's life."),
            "crushing",
        ),
    ),
    fields=fields,
    checks=(check,),
)
