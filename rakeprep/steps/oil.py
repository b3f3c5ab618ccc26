"""Oil and grease: gearbox levels with their tilt, grade, vent plugs, grease by the shot."""

from __future__ import annotations

import math
from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.oil import grease_given, level_error, shots_needed
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Gearbox, GreasePoint, Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no, whole
from rakeprep.steps._oil_amount import PTO, balance_findings, filling_findings, gearbox_place
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import Message, msg, plural, verbatim
from rakeprep.units import Amount, Kind

FAR_TOO_MUCH = 3  # times the wanted mass, rule of thumb: more than this is a miscount or harms the seal
LEVELS = (
    Option("mark", msg("at the mark")),
    Option("low", msg("too low")),
    Option("high", msg("too high")),
)
GUN = Place("", msg("grease gun"))


def grease_place(point: GreasePoint) -> Place:
    """The place of all nipples of one kind."""
    words = plural(
        "{name} ({count} nipple)", "{name} ({count} nipples)", point.nipples, name=verbatim(point.name)
    )
    return Place(point.key, words)


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    gearboxes = tuple(gearbox_place(g) for g in profile.gearbox)
    points = tuple(grease_place(p) for p in profile.grease)
    grease = grease_fields(profile, points) if points else ()
    asked = (*oil_fields(gearboxes), *balance_fields(gearboxes), *grease)
    return tuple(field for field in asked if field.places)


def oil_fields(gearboxes: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions asked at every gearbox."""
    return (
        Field(
            "vent",
            msg("Vent plug in, transport plug out"),
            Ask.CHOICE,
            msg("A transport plug keeps the pressure in and drives the oil out at the seals."),
            gearboxes,
            options=YES_NO,
            need=Need.MUST,
            bars=PTO,
        ),
        Field(
            "oil_used",
            msg("Oil grade filled"),
            Ask.TEXT,
            msg("As on the can or on the tag of the gearbox, such as SAE 80W-90 GL-4."),
            gearboxes,
        ),
        Field(
            "waited",
            msg("Stood still for ten minutes"),
            Ask.CHOICE,
            msg("Oil that still runs down the walls is missing at the plug."),
            gearboxes,
            options=YES_NO,
        ),
        Field(
            "tilt",
            msg("Tilt of the gearbox when read"),
            Ask.QUANTITY,
            msg("Digital level on a machined face, in the direction of the level plug. Usual: below 1°."),
            gearboxes,
            Kind.ANGLE,
            "°",
            instrument="digital-level",
            rests_on=("hitch.height",),
        ),
        Field(
            "level",
            msg("Oil level"),
            Ask.CHOICE,
            msg("Machine level, engine off, key out. Open the level plug slowly and look from the side."),
            gearboxes,
            options=LEVELS,
            bars=PTO,
            rests_on=("hitch.height",),
        ),
    )


def balance_fields(gearboxes: tuple[Place, ...]) -> tuple[Field, ...]:
    """What goes in and, where the oil is changed, what comes out."""
    return (
        Field(
            "filled",
            msg("Oil filled"),
            Ask.QUANTITY,
            msg("Only when oil is filled or changed: volume by a marked jug."),
            gearboxes,
            Kind.VOLUME,
            "L",
            need=Need.MAY,
            instrument="jug",
        ),
        Field(
            "drained",
            msg("Oil drained"),
            Ask.QUANTITY,
            msg("Only when oil is changed: let it drip out warm, then read the marked jug."),
            gearboxes,
            Kind.VOLUME,
            "L",
            need=Need.MAY,
            instrument="jug",
        ),
    )


def grease_fields(profile: Profile, points: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions about grease."""
    return (
        Field(
            "gun",
            msg("Grease per shot of this gun"),
            Ask.QUANTITY,
            msg("Weigh ten shots on paper and divide by ten. Usual: 0.8 to 1.5 g."),
            (GUN,),
            Kind.MASS,
            profile.grease[0].grams.typed.unit,
        ),
        Field(
            "shots",
            msg("Shots given at each nipple"),
            Ask.COUNT,
            msg("Wipe the nipple first. The same number at each nipple of this kind."),
            points,
        ),
        Field(
            "fresh",
            msg("Fresh grease seen at each one"),
            Ask.CHOICE,
            msg("At the joint or seal, not beside the nipple."),
            points,
            options=YES_NO,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge oil and grease."""
    for gearbox in facts.profile.gearbox:
        yield from balance_findings(facts, gearbox)
        yield from filling_findings(facts, gearbox)
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    for key, (says, todo, verdict, bars) in ANSWERS.items():
        if key in by_key:
            yield from answered_no(facts, by_key[key], says, todo, verdict, bars)
    for gearbox in facts.profile.gearbox:
        yield from grade_findings(facts, gearbox)
        yield from tilt_findings(facts, gearbox)
        yield from level_findings(facts, gearbox)
    for point in facts.profile.grease:
        yield from grease_findings(facts, point)


def plain(grade: str) -> frozenset[str]:
    """The words of an oil grade, however they are joined, spaced and in whatever case."""
    text = grade.casefold().replace("sae", " ").replace("api", " ")
    for mark in ",;/()":
        text = text.replace(mark, " ")
    words = "".join(c if c.isalnum() or c == " " else "" for c in text.replace("gl ", "gl"))
    return frozenset(word for word in words.split() if word)


def grade_findings(facts: Facts, gearbox: Gearbox) -> Iterable[Finding]:
    """The oil that was filled against the one that is wanted."""
    typed = facts.text("oil_used", gearbox.key)
    if not typed.strip():
        return
    about = (facts.slot("oil_used", gearbox.key),)
    say = {"place": gearbox_place(gearbox).name, "typed": typed, "wanted": gearbox.oil}
    if plain(typed) == plain(gearbox.oil):
        yield Finding(Verdict.IN_ORDER, about, msg("{place}: {wanted}, as wanted.", **say))
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("{place}: filled with {typed}, wanted {wanted}.", **say),
        msg("If that is only another way of writing it, write it like the book; if not, change the oil."),
        bars=PTO,
    )


def tilt_findings(facts: Facts, gearbox: Gearbox) -> Iterable[Finding]:
    """Whether the gearbox stood level enough, and what the tilt does to the level."""
    read = reading(facts, "tilt", gearbox.key, "digital-level")
    most, arm = facts.value(gearbox.largest_tilt), facts.value(gearbox.plug_beside_centre)
    if read is None or most is None or arm is None:
        return
    about = (facts.slot("tilt", gearbox.key),)
    try:
        verdict = read.within(-most, most)
        error = level_error(arm, math.radians(read.value))
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = gearbox.plug_beside_centre.typed.unit
    say = {
        "place": gearbox_place(gearbox).name,
        "tilt": Amount(abs(read.value), Kind.ANGLE, "°", doubt=read.doubt),
        "error": Amount(abs(error), Kind.LENGTH, unit, both=True),
        "most": shown(gearbox.largest_tilt),
        "arm": shown(gearbox.plug_beside_centre),
    }
    if verdict is Verdict.IN_ORDER:
        says, todo = msg("{place}: level enough to read, tilt {tilt}.", **say), None
    else:
        # beyond the limit it is the oil level that has to be read again, not the tilt
        says = msg("{place}: with a tilt of {tilt} the level is {error} wrong.", **say)
        todo = msg("Set the machine level, wait ten minutes, then read tilt and level again.")
    working = (msg("Error = {arm} · tan({tilt}) = {error}; largest tilt for reading {most}.", **say),)
    wrong = verdict is not Verdict.IN_ORDER
    shown_verdict = Verdict.MEASURE_AGAIN if wrong else Verdict.IN_ORDER
    yield Finding(shown_verdict, about, says, todo, working, gearbox.largest_tilt.source)


def level_findings(facts: Facts, gearbox: Gearbox) -> Iterable[Finding]:
    """What was seen at the level plug."""
    seen = facts.chosen("level", gearbox.key) or frozenset()
    about = (facts.slot("level", gearbox.key),)
    say = {"place": gearbox_place(gearbox).name, "oil": gearbox.oil}
    if "low" in seen:
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg("{place}: oil too low.", **say),
            msg("Fill up slowly with {oil} until it stands at the mark, wait, and look again.", **say),
            bars=PTO,
        )
    elif "high" in seen:
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg("{place}: oil too high.", **say),
            msg("Let it run out at the level plug down to the mark; too much drives it out at the seals."),
            bars=PTO,
        )
    elif "mark" in seen:
        yield Finding(Verdict.IN_ORDER, about, msg("{place}: oil at the mark.", **say))


def grease_findings(facts: Facts, point: GreasePoint) -> Iterable[Finding]:
    """Shots given against the grease wanted."""
    given = whole(facts, "shots", point.key)
    gun, wanted = facts.number("gun"), facts.value(point.grams)
    if given is None or gun is None or wanted is None:
        return
    about = (facts.slot("shots", point.key), facts.slot("gun"))
    try:
        shots = shots_needed(wanted, gun)
        mass = grease_given(given, gun)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = point.grams.typed.unit
    say = {
        "place": grease_place(point).name,
        "given": given,
        "shots": shots,
        "mass": Amount(mass, Kind.MASS, unit),
        "wanted": shown(point.grams),
        "gun": Amount(gun, Kind.MASS, unit),
    }
    todo = None
    source = point.grams.source
    if given < shots:
        verdict, says = Verdict.PUT_RIGHT, msg("{place}: {mass} each, {wanted} wanted.", **say)
        todo = plural(
            "Give {count} shot more at each nipple.", "Give {count} shots more at each nipple.", shots - given
        )
    elif given > FAR_TOO_MUCH * shots:
        verdict, says = Verdict.MEASURE_AGAIN, msg("{place}: {mass} each is far more than {wanted}.", **say)
        todo = msg("Count again; so much grease can push a seal out.")
        source = rule_of_thumb(msg("most grease at one go"))
    else:
        verdict, says = Verdict.IN_ORDER, msg("{place}: {mass} each, {wanted} wanted: enough.", **say)
    working = (msg("{wanted} / {gun} a shot, rounded up = {shots} shots; given {given} = {mass}.", **say),)
    yield Finding(verdict, about, says, todo, working, source)


Answer = tuple[Message, Message, Verdict, frozenset[Use]]
ANSWERS: dict[str, Answer] = {
    "vent": (
        msg("{place}: still has its transport plug."),
        msg("Fit the vent plug before any run, and keep the transport plug in the bag as proof."),
        Verdict.PUT_RIGHT,
        PTO,
    ),
    "waited": (
        msg("{place}: read too soon after it had moved."),
        msg("Let it stand for ten minutes and read the level again."),
        Verdict.MEASURE_AGAIN,
        frozenset(),
    ),
    "fresh": (
        msg("{place}: no fresh grease came out."),
        msg("A nipple that takes none is replaced; then grease until fresh grease shows."),
        Verdict.PUT_RIGHT,
        frozenset(),
    ),
}

STEP = Step(
    key="oil",
    order=10,
    title=msg("Oil and grease"),
    about=msg("Levels count only on a machine that stands level and has stood still."),
    cautions=(
        Caution(
            msg("Oil and gearbox can be hot after a run, and a closed gearbox under pressure."),
            msg("Engine off, key out, gearbox cooled down; open each plug slowly, face turned away."),
            "hot",
        ),
        Caution(
            msg("Grease nipples lie at shafts that turn."),
            msg("PTO off, engine off, key out before a hand goes to any nipple."),
            "entanglement",
        ),
    ),
    fields=fields,
    checks=(check,),
)
