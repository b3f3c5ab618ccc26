"""Guards, latches and signs: what keeps people from the turning parts and the rotors up on the road."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Guard, Latch, Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Amount, Kind

ROAD = frozenset({Use.ROAD})
PTO = frozenset({Use.PTO})
SHIELD_OVERLAP = 0.050  # m, rule of thumb: how far a guard reaches into the shield at either end
SHIELD_ENDS = (
    Place("tractor-end", msg("driveline, tractor end"), "driveline"),
    Place("machine-end", msg("driveline, machine end"), "driveline"),
)


def guard_place(guard: Guard) -> Place:
    """The place of a guard."""
    return Place(guard.key, verbatim(guard.name), f"guard-{guard.key}")


def latch_place(latch: Latch) -> Place:
    """The place of a transport latch."""
    return Place(latch.key, verbatim(latch.name), f"latch-{latch.key}", latch.rotor.value)


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    guards = tuple(guard_place(g) for g in profile.guard)
    shafts = tuple(guard_place(g) for g in profile.guard if g.driveline)
    latches = tuple(latch_place(each) for each in profile.latch)
    signs = Field(
        "signs",
        msg("Safety signs there and readable"),
        Ask.CHOICE,
        msg("Walk round once: every sign of the machine's book is there, clean, free of shipping film."),
        options=YES_NO,
    )
    asked = guard_fields(profile, guards, shafts) + latch_fields(profile, latches) + (signs,)
    return tuple(field for field in asked if field.places)


def guard_fields(profile: Profile, guards: tuple[Place, ...], shafts: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions about guards; ``shafts`` are the guards of turning shafts."""
    return (
        Field(
            "closed",
            msg("Guard closed and fastened"),
            Ask.CHOICE,
            msg("With all its fixings. Ask again whenever it had to be opened."),
            guards,
            options=YES_NO,
            need=Need.MUST,
            bars=PTO,
            rests_on=("driveline.cut",),
        ),
        Field(
            "guard_free",
            msg("Guard turns freely, chain off"),
            Ask.CHOICE,
            msg("Engine off, key out. Turn the guard by hand on its shaft: easily, all round, no crack."),
            shafts,
            options=YES_NO,
            need=Need.MUST,
            bars=PTO,
            rests_on=("driveline.cut",),
        ),
        Field(
            "chain_holds",
            msg("Chain hooked in, guard held"),
            Ask.CHOICE,
            msg(
                "To a fixed point, slack enough for full turn and lift, too short to reach the shaft, "
                "and nothing hangs from it. With the chain on the guard cannot turn."
            ),
            shafts,
            options=YES_NO,
            need=Need.MUST,
            bars=PTO,
            rests_on=("driveline.cut", "tractor"),
        ),
        Field(
            "shield_overlap",
            msg("Guard reaches into the shield"),
            Ask.QUANTITY,
            msg(
                "How far the driveline's guard is inside the shield, at full turn too. Usual: 50 mm or more."
            ),
            SHIELD_ENDS,
            Kind.LENGTH,
            profile.driveline.guard_overlap.typed.unit,
            bars=PTO,
            instrument="tape",
            rests_on=("driveline.cut", "tractor"),
        ),
    )


def latch_fields(profile: Profile, latches: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions about transport latches."""
    unit = profile.latch[0].depth.typed.unit if profile.latch else "mm"
    return (
        Field(
            "depth",
            msg("Depth of the latch"),
            Ask.QUANTITY,
            msg("Folded for the road: how deep the latch has dropped. A second pin, if there is one, is in."),
            latches,
            Kind.LENGTH,
            unit,
            need=Need.MUST,
            bars=ROAD,
            instrument="tape",
            two_people=True,
        ),
        Field(
            "pull_test",
            msg("Latch holds against the rams"),
            Ask.CHOICE,
            msg("From the seat, nobody near: lower against the closed latch. Nothing may move."),
            latches,
            options=YES_NO,
            bars=ROAD,
        ),
        Field(
            "cord",
            msg("Cord reaches, opens and lets go"),
            Ask.CHOICE,
            msg("At full turn it is not pulled tight; let go, the latch falls back by itself."),
            latches,
            options=YES_NO,
            bars=ROAD,
            rests_on=("tractor",),
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge guards, latches and signs."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    for key, (says, todo, verdict, bars) in ANSWERS.items():
        if key in by_key:
            yield from answered_no(facts, by_key[key], says, todo, verdict, bars)
    for place in SHIELD_ENDS:
        yield from shield_findings(facts, place)
    for latch in facts.profile.latch:
        yield from depth_findings(facts, latch)


def shield_findings(facts: Facts, place: Place) -> Iterable[Finding]:
    """How far the driveline's guard reaches into the shield at one end."""
    read = reading(facts, "shield_overlap", place.key, "tape")
    if read is None:
        return
    about = (facts.slot("shield_overlap", place.key),)
    unit = facts.profile.driveline.guard_overlap.typed.unit
    try:
        verdict = read.within(low=SHIELD_OVERLAP)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {
        "place": place.name,
        "read": Amount(read.value, Kind.LENGTH, unit),
        "limit": Amount(SHIELD_OVERLAP, Kind.LENGTH, unit, toward="up", both=True),
    }
    says = {
        Verdict.IN_ORDER: msg("{place}: the guard reaches {read} into the shield.", **say),
        Verdict.MEASURE_AGAIN: msg("{place}: {read} in the shield is too close to {limit} to tell.", **say),
        Verdict.PUT_RIGHT: msg("{place}: only {read} in the shield; {limit} or more is wanted.", **say),
    }
    yield Finding(
        verdict,
        about,
        says[verdict],
        None if verdict is Verdict.IN_ORDER else msg("Look for the right guard or shield; no run before."),
        (msg("Doubt of the tape: {doubt}.", doubt=Amount(read.doubt, Kind.LENGTH, unit)),),
        rule_of_thumb(msg("overlap of driveline guard and shield")),
        PTO,
    )


def depth_findings(facts: Facts, latch: Latch) -> Iterable[Finding]:
    """Whether a latch is fully in."""
    read = reading(facts, "depth", latch.key, "tape")
    full, tolerance = facts.value(latch.depth), facts.value(latch.tolerance)
    if read is None or full is None or tolerance is None:
        return
    about = (facts.slot("depth", latch.key),)
    unit = latch.depth.typed.unit
    try:
        verdict = read.within(low=full - tolerance)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    if verdict is Verdict.PUT_RIGHT:
        verdict = Verdict.STOP
    say = {
        "place": latch_place(latch).name,
        "read": Amount(read.value, Kind.LENGTH, unit),
        "full": shown(latch.depth, both=True),
        "least": Amount(full - tolerance, Kind.LENGTH, unit, toward="up"),
    }
    says = {
        Verdict.IN_ORDER: msg("{place}: {read} deep, fully in.", **say),
        Verdict.MEASURE_AGAIN: msg("{place}: {read} deep is too close to {least} to tell.", **say),
        Verdict.STOP: msg("{place}: only {read} deep of {full}; the latch is not in.", **say),
    }
    todo = {
        Verdict.MEASURE_AGAIN: msg("Clean the latch, let it drop once more, and measure again."),
        Verdict.STOP: msg(
            "No driving. Lower to the ground, free the latch, fold again and let it drop fully."
        ),
    }
    working = (
        msg(
            "Fully in from {full} − {tolerance} = {least}; doubt of the tape {doubt}.",
            tolerance=shown(latch.tolerance),
            doubt=Amount(read.doubt, Kind.LENGTH, unit),
            **say,
        ),
    )
    yield Finding(verdict, about, says[verdict], todo.get(verdict), working, latch.depth.source, ROAD)


Answer = tuple[Message, Message, Verdict, frozenset[Use]]
ANSWERS: dict[str, Answer] = {
    "closed": (
        msg("{place}: not closed and fastened."),
        msg("No run of any kind. Close it with all its fixings, then say so here."),
        Verdict.STOP,
        PTO,
    ),
    "guard_free": (
        msg("{place}: the guard drags on its shaft."),
        msg("Grease or replace its bearings before the shaft turns under power."),
        Verdict.PUT_RIGHT,
        PTO,
    ),
    "chain_holds": (
        msg("{place}: the guard is not held by its chain."),
        msg("Hook the chain to a fixed point: slack in every turn, too short to reach the shaft."),
        Verdict.PUT_RIGHT,
        PTO,
    ),
    "pull_test": (
        msg("{place}: gave way against the rams."),
        msg("No driving. Lower to the ground and look at hook, pin and spring of the latch."),
        Verdict.STOP,
        ROAD,
    ),
    "cord": (
        msg("{place}: the cord does not reach, or the latch does not fall back."),
        msg("Lead the cord anew, free of links and tyres, and try it from the seat at full turn."),
        Verdict.PUT_RIGHT,
        ROAD,
    ),
    "signs": (
        msg("Safety signs are missing or cannot be read."),
        msg("Take off film and dirt; order what is missing and note who fits it and when."),
        Verdict.PUT_RIGHT,
        frozenset(),
    ),
}

STEP = Step(
    key="guards",
    order=9,
    title=msg("Guards, latches"),
    about=msg("Everything that was opened is closed again; the latches hold the rotors up on the road."),
    cautions=(
        Caution(
            msg("A shaft can catch a sleeve at nine turns a second."),
            msg("Engine off, key out, everything stands still before a hand goes near a guard."),
            "entanglement",
        ),
        Caution(
            msg("A folded rotor can drop when its latch is tried."),
            msg("One person in the seat, everybody else well outside the swing of the rotors."),
            "crushing",
        ),
    ),
    fields=fields,
    checks=(check,),
)
