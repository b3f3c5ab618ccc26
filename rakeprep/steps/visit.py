"""A later visit: hours run, the first windrow, hoses, and what the oil's magnet shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import near
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import Answer, doubt_said, judged, sane, unit_of, with_gaps
from rakeprep.steps._oil_amount import gearbox_place
from rakeprep.steps._reading import ROTORS, cannot_tell, reading, shown
from rakeprep.steps.test_run import circuit_places
from rakeprep.text import msg
from rakeprep.units import Amount, Kind

FIELD = frozenset({Use.FIELD})
NO_WORK = frozenset({Use.FIELD, Use.PTO})
NOTHING_MOVES = frozenset(Use)
WINDROWS = (
    Option("even", msg("clean and even")),
    Option("soil", msg("dust or soil in it")),
    Option("strips", msg("strips of hay left lying")),
)
HOSES = (
    Option("sound", msg("sound, nothing rubs")),
    Option("rubs", msg("rubs or pulls tight")),
    Option("braid", msg("braid to be seen, or a blister")),
)
MAGNETS = (
    Option("clean", msg("clean")),
    Option("fine", msg("fine silver mud")),
    Option("chips", msg("chips that can be felt")),
)
ANSWERS = {
    "windrow": {
        "even": Answer(Verdict.IN_ORDER, msg("The windrow is clean and even.")),
        "soil": Answer(
            Verdict.PUT_RIGHT,
            msg("Soil in the windrow: the tines run too low, or the rotor speed is too high."),
            msg("Raise both rotors alike by the crank, a little at a time, and rake another 50 m."),
        ),
        "strips": Answer(
            Verdict.PUT_RIGHT,
            msg(
                "Strips left lying: the tines run too high, one rotor hangs, or the ground speed is too high."
            ),
            msg("First drive slower. If they stay, measure the tine height of both rotors, then set it."),
        ),
    },
    "hoses": {
        "sound": Answer(Verdict.IN_ORDER, msg("{place}: hoses sound.")),
        "rubs": Answer(
            Verdict.PUT_RIGHT,
            msg("{place}: a hose rubs or pulls tight."),
            msg("Pressure off, engine off, key out; lay it free, fasten it, then try the whole way."),
        ),
        "braid": Answer(
            Verdict.STOP,
            msg("{place}: a hose is worn to its braid."),
            msg("No more work with it. Rotors on the ground, pressure off; a specialist fits a new hose."),
            NOTHING_MOVES,
        ),
    },
    "magnet": {
        "clean": Answer(Verdict.IN_ORDER, msg("{place}: nothing on the magnet.")),
        "fine": Answer(Verdict.IN_ORDER, msg("{place}: fine silver mud, as from running in.")),
        "chips": Answer(
            Verdict.PUT_RIGHT,
            msg("{place}: chips on the magnet."),
            msg("Keep them, take a picture, do not run it; the gearbox is opened by the workshop."),
            NO_WORK,
        ),
    },
}
HEIGHT = {
    Verdict.IN_ORDER: (msg("{place}: tine tips {read} above the ground at work, as wanted."), None),
    Verdict.MEASURE_AGAIN: (
        msg("{place}: {read} is too close to the edge of {wanted} ± {tolerance} to tell."),
        msg("Measure at three more places along the windrow and enter the mean."),
    ),
    Verdict.PUT_RIGHT: (
        msg("{place}: tine tips {read} above the ground at work; {wanted} ± {tolerance} is wanted."),
        msg("Turn the crank of this rotor, engine off and key out, drive 20 m, and measure again."),
    ),
}


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions that only a later visit asks."""
    asked = (
        Field(
            "hours",
            msg("Hours it has worked so far"),
            Ask.QUANTITY,
            msg("From the customer's notes. Without an hour meter: area raked, divided by his area an hour."),
            kind=Kind.DURATION,
            unit="h",
        ),
        *windrow_fields(profile),
        Field(
            "hoses",
            msg("Hoses of this circuit"),
            Ask.CHOICE,
            msg("Engine off, pressure off. Look along each hose where it bends and crosses; never feel it."),
            circuit_places(profile),
            options=HOSES,
            bars=FIELD,
        ),
        Field(
            "magnet",
            msg("What the drained oil left on the magnet"),
            Ask.CHOICE,
            msg("Drain warm, not hot, into a clean pan. Wipe the magnet on white paper; take a picture."),
            tuple(gearbox_place(g) for g in profile.gearbox),
            options=MAGNETS,
            bars=NO_WORK,
        ),
        Field(
            "noticed",
            msg("What the customer has noticed"),
            Ask.TEXT,
            msg("In his words: noise, heat, drips, something left lying, since when. No comment on it here."),
            need=Need.MAY,
        ),
    )
    return tuple(field for field in asked if field.places)


def windrow_fields(profile: Profile) -> tuple[Field, ...]:
    """What only shows on grass."""
    return (
        Field(
            "field_clearance",
            msg("Tine tips above the ground at work"),
            Ask.QUANTITY,
            msg(
                "In the customer's field, at work height: stop, engine off, key out, all still. Lowest "
                "tip to firm ground, at three places; enter the mean."
            ),
            ROTORS,
            Kind.LENGTH,
            profile.settings.tine_clearance.typed.unit,
            instrument="steel-rule",
            rests_on=("levelling.crank", "levelling.turnbuckle"),
        ),
        Field(
            "windrow",
            msg("How the first windrow looks"),
            Ask.CHOICE,
            msg("Walk along 50 m of it after the machine has passed and stopped."),
            options=WINDROWS,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge what was found at the visit."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    for key, answers in ANSWERS.items():
        if key in by_key:
            yield from judged(facts, by_key[key], answers)
    yield from hours_finding(facts)
    for place in ROTORS:
        yield from height_finding(facts, by_key["field_clearance"], place)


def hours_finding(facts: Facts) -> Iterator[Finding]:
    """The hours run; none at all were never worked."""
    hours = sane(facts, "hours")
    if hours is None:
        return
    about = (facts.slot("hours"),)
    if hours <= 0:
        todo = msg("Ask the customer again; at a visit it has worked.")
        yield Finding(Verdict.MEASURE_AGAIN, about, msg("No hours of work were entered."), todo)
        return
    says = msg("It has worked {hours} so far.", hours=Amount(hours, Kind.DURATION, "h"))
    yield Finding(Verdict.IN_ORDER, about, says)


def height_finding(facts: Facts, field: Field, place: Place) -> Iterator[Finding]:
    """The tine height on grass against the one wanted."""
    settings = facts.profile.settings
    read = reading(facts, field.key, place.key, field.instrument)
    wanted, tolerance = facts.value(settings.tine_clearance), facts.value(settings.clearance_tolerance)
    if read is None or wanted is None or tolerance is None:
        return
    about = (facts.slot(field.key, place.key),)
    unit = unit_of(facts, field, place.key)
    try:
        verdict = near(read.value, read.doubt, wanted, tolerance)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    says, todo = HEIGHT[verdict]
    say = {
        "place": place.name,
        "read": Amount(read.value, Kind.LENGTH, unit, both=True),
        "wanted": shown(settings.tine_clearance),
        "tolerance": shown(settings.clearance_tolerance),
    }
    working = (doubt_said(Kind.LENGTH, read.doubt, unit),)
    yield Finding(verdict, about, with_gaps(says, **say), todo, working, settings.tine_clearance.source)


STEP = Step(
    key="visit",
    order=16,
    title=msg("Visit"),
    about=msg("What only a machine that has worked can show."),
    cautions=(
        Caution(
            msg("A machine that has worked is hot, under pressure, and full of hay that hides what moves."),
            msg("Rotors on the ground, engine off, key out, pressure off; let it cool before you touch it."),
            "entanglement",
        ),
    ),
    fields=fields,
    checks=(check,),
    visits=True,
)
