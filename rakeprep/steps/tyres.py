"""Tyres and wheels: every wheel by position, its pressure now and at the temperature of use."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import near
from rakeprep.calculations.tyres import pressure_to_set, side_difference
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile, TyreSet, Wheel
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no
from rakeprep.steps._reading import SIDES, cannot_tell, reading, shown
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Amount, Kind

ROAD = frozenset({Use.ROAD})
GAUGE_STEPS = {"bar": Fraction(1, 20), "psi": Fraction(1, 2), "kPa": Fraction(5)}
REPEAT = 3e3  # Pa, common practice: how well one and the same gauge repeats itself


def wheel_place(wheel: Wheel) -> Place:
    """The place of a wheel."""
    words = msg("{code}, {name}", code=wheel.key, name=verbatim(wheel.name))
    return Place(wheel.key, words, f"wheel-{wheel.key}", wheel.rotor.value)


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    wheels = tuple(wheel_place(w) for w in profile.wheel)
    castors = tuple(wheel_place(w) for w in profile.wheel if w.castor)
    unit = profile.tyre[0].pressure.typed.unit if profile.tyre else "bar"
    asked = (*temperature_fields(), *pressure_fields(wheels, unit), *fastening_fields(wheels, castors))
    return tuple(field for field in asked if field.places)


def temperature_fields() -> tuple[Field, ...]:
    """The temperatures that go with the pressures."""
    return (
        Field(
            "workshop_temperature",
            msg("Temperature of the tyres now"),
            Ask.QUANTITY,
            msg("Air temperature where the machine has stood for two hours, out of the sun."),
            kind=Kind.TEMPERATURE,
            unit="°C",
            instrument="infrared",
        ),
        Field(
            "use_temperature",
            msg("Temperature at which it will work"),
            Ask.QUANTITY,
            msg("A usual morning in the field at the customer's. Usual: 10 to 20 °C."),
            kind=Kind.TEMPERATURE,
            unit="°C",
            need=Need.MAY,
            instrument="infrared",
        ),
    )


def pressure_fields(wheels: tuple[Place, ...], unit: str) -> tuple[Field, ...]:
    """Size and pressure of every wheel."""
    return (
        Field(
            "size",
            msg("Tyre size as marked"),
            Ask.TEXT,
            msg("Read it off the side wall of each tyre, character by character."),
            wheels,
        ),
        Field(
            "pressure_found",
            msg("Pressure as found"),
            Ask.QUANTITY,
            msg("Cold tyre, gauge on the valve. Tyres often come over-inflated from the truck."),
            wheels,
            Kind.PRESSURE,
            unit,
            need=Need.MAY,
            instrument="tyre-gauge",
        ),
        Field(
            "pressure_set",
            msg("Pressure as set"),
            Ask.QUANTITY,
            msg("Set it, take the gauge off, put it on again and read. All tyres at one temperature."),
            wheels,
            Kind.PRESSURE,
            unit,
            need=Need.MUST,
            bars=ROAD,
            instrument="tyre-gauge",
            rests_on=("tyres.workshop_temperature",),
        ),
    )


def fastening_fields(wheels: tuple[Place, ...], castors: tuple[Place, ...]) -> tuple[Field, ...]:
    """Nuts of every wheel, and the castors."""
    return (
        Field(
            "nuts",
            msg("Wheel nuts tight, in star order"),
            Ask.CHOICE,
            msg("On the ground, run on by hand first, cone toward the rim. Torque as in the machine's book."),
            wheels,
            options=YES_NO,
            need=Need.MUST,
            bars=ROAD,
            two_people=True,
        ),
        Field(
            "castor",
            msg("Castor swings round, no play"),
            Ask.CHOICE,
            msg("Machine chocked. Swing it all the way round by hand: no stiff spot, like its neighbour."),
            castors,
            options=YES_NO,
            bars=ROAD,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge pressures, sizes, nuts and castors."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    for wheel in facts.profile.wheel:
        yield from size_findings(facts, wheel)
        yield from pressure_findings(facts, wheel)
        yield from nut_findings(facts, wheel)
    yield from chassis_findings(facts)
    if "castor" in by_key:
        yield from answered_no(
            facts,
            by_key["castor"],
            msg("{place}: the castor does not swing freely."),
            msg("Set the friction as the machine's book says, and compare left with right."),
            bars=ROAD,
        )


def size_findings(facts: Facts, wheel: Wheel) -> Iterable[Finding]:
    """Compare the marking with the machine data."""
    typed = facts.text("size", wheel.key)
    if not typed:
        return
    wanted = facts.profile.tyre_of(wheel).size
    about = (facts.slot("size", wheel.key),)
    name = wheel_place(wheel).name
    if "".join(typed.split()).casefold() == "".join(wanted.split()).casefold():
        yield Finding(Verdict.IN_ORDER, about, msg("{place}: size as in the machine data.", place=name))
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("{place}: marked {typed}, wanted {wanted}.", place=name, typed=typed, wanted=wanted),
        msg("One wheel of another size tilts the rotor. Look whether two wheels have changed places."),
        bars=ROAD,
    )


def on_gauge(pressure: float, unit: str, both: bool = False) -> Amount:
    """A pressure to the step a tyre gauge can be read to."""
    return Amount(pressure, Kind.PRESSURE, unit, step=GAUGE_STEPS.get(unit), both=both)


def wanted_now(facts: Facts, wheel: Wheel) -> tuple[float, tuple[Message, ...]] | None:
    """Pressure to read now so that the wanted pressure is there at the temperature of use."""
    target = facts.profile.tyre_of(wheel).pressure
    wanted = facts.value(target)
    unit = target.typed.unit
    if wanted is None:
        return None
    now, use = facts.number("workshop_temperature"), facts.number("use_temperature")
    if now is None or use is None:
        return wanted, (msg("Wanted {target} at this temperature.", target=shown(target)),)
    pressure = pressure_to_set(wanted, use, now)
    return pressure, (
        msg(
            "p₂ = (p₁ + pₐ) · T₂ / T₁ − pₐ, in kelvin: {target} at {use} is {result} at {now}.",
            target=shown(target),
            use=Amount(use, Kind.TEMPERATURE, "°C"),
            now=Amount(now, Kind.TEMPERATURE, "°C"),
            result=on_gauge(pressure, unit),
        ),
    )


def pressure_findings(facts: Facts, wheel: Wheel) -> Iterable[Finding]:
    """Judge the pressure that was set."""
    tyre = facts.profile.tyre_of(wheel)
    read = reading(facts, "pressure_set", wheel.key, "tyre-gauge")
    tolerance = facts.value(tyre.tolerance)
    if read is None or tolerance is None:
        return
    about = (facts.slot("pressure_set", wheel.key), facts.slot("use_temperature"))
    try:
        target = wanted_now(facts, wheel)
        if target is None:
            return
        verdict = near(read.value, read.doubt, target[0], tolerance)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = tyre.pressure.typed.unit
    say = {
        "place": wheel_place(wheel).name,
        "read": on_gauge(read.value, unit),
        "wanted": on_gauge(target[0], unit, both=True),
        "tolerance": shown(tyre.tolerance),
    }
    sentence = {
        Verdict.IN_ORDER: msg("{place}: {read} is right.", **say),
        Verdict.MEASURE_AGAIN: msg(
            "{place}: {read} is too close to the edge of {wanted} ± {tolerance}.", **say
        ),
        Verdict.PUT_RIGHT: msg("{place}: {read} is wrong; set {wanted} ± {tolerance}.", **say),
    }[verdict]
    todo = None if verdict is Verdict.IN_ORDER else msg("Set it to {wanted} and read it once more.", **say)
    working = (
        *target[1],
        msg("Doubt of the gauge: {doubt}.", doubt=Amount(read.doubt, Kind.PRESSURE, unit)),
    )
    bars = ROAD if verdict is Verdict.PUT_RIGHT else frozenset[Use]()
    yield Finding(verdict, about, sentence, todo, working, tyre.pressure.source, bars)


def nut_findings(facts: Facts, wheel: Wheel) -> Iterable[Finding]:
    """Whether the nuts of a wheel are tight; the torque stands in what to do."""
    chosen = facts.chosen("nuts", wheel.key) or frozenset()
    about = (facts.slot("nuts", wheel.key),)
    tyre = facts.profile.tyre_of(wheel)
    say = {"place": wheel_place(wheel).name, "torque": shown(tyre.nut_torque, both=True)}
    source = tyre.nut_torque.source
    if "no" in chosen:
        yield Finding(
            Verdict.STOP,
            about,
            msg("{place}: the wheel nuts are not tightened.", **say),
            msg("Tighten them to {torque} in star order with a checked wrench before it turns.", **say),
            source=source,
            bars=ROAD,
        )
    elif "yes" in chosen:
        yield Finding(Verdict.IN_ORDER, about, msg("{place}: nuts tight at {torque}.", **say), source=source)


def chassis_findings(facts: Facts) -> Iterable[Finding]:
    """Compare the wheels of one chassis: a difference tilts the rotor whatever the mean is."""
    for side in SIDES:
        for tyre in facts.profile.tyre:
            wheels = [w for w in facts.profile.wheel if w.rotor is side and w.tyre == tyre.key]
            if len(wheels) > 1:
                yield from alike_findings(facts, tyre, wheels)


def alike_findings(facts: Facts, tyre: TyreSet, wheels: list[Wheel]) -> Iterable[Finding]:
    """Wheels of one chassis with the same tyre: all read, and none far from another."""
    read = {w.key: reading(facts, "pressure_set", w.key, "tyre-gauge") for w in wheels}
    known = {key: each.value for key, each in read.items() if each is not None}
    tolerance = facts.value(tyre.tolerance)
    if len(known) < len(wheels) or tolerance is None:
        return
    low, high = min(known, key=lambda key: known[key]), max(known, key=lambda key: known[key])
    about = (facts.slot("pressure_set", low), facts.slot("pressure_set", high))
    try:
        apart, verdict = side_difference(
            known[high], known[low], repeat_doubt(facts, low, high), 2 * tolerance
        )
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    if verdict is not Verdict.PUT_RIGHT:
        return
    unit = tyre.pressure.typed.unit
    spread = on_gauge(apart.value, unit)
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("{low} and {high} differ by {spread} on one chassis.", low=low, high=high, spread=spread),
        msg("Make them alike before levelling: the softer tyre lets its side of the rotor down."),
        (
            msg(
                "Read with one gauge, its own error drops out; allowed apart 2 × {t}.",
                t=shown(tyre.tolerance),
            ),
        ),
        tyre.tolerance.source,
    )


def repeat_doubt(facts: Facts, *keys: str) -> float:
    """How well a pressure repeats on the same gauge, or half a division of it if that is coarser."""
    entries = (facts.entry("pressure_set", key) for key in keys)
    return max(REPEAT, *(float(e.division or 0) / 2 for e in entries if e is not None))


STEP = Step(
    key="tyres",
    order=7,
    title=msg("Tyres and wheels"),
    about=msg("Set the pressures before anything is levelled: every later height rests on them."),
    cautions=(
        Caution(
            msg("A wheel or chassis can drop while it is jacked up."),
            msg("Machine on the ground or on rated stands, chocked both ways, nobody's foot underneath."),
            "crushing",
        ),
    ),
    fields=fields,
    checks=(check,),
)
