"""Field settings: PTO gear and speeds, tine height from concrete to field, ground speed."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.steps import _settings_height, _settings_plan, _settings_speed
from rakeprep.steps._reading import ROTORS
from rakeprep.text import msg, verbatim
from rakeprep.units import Kind

PTO = frozenset({Use.PTO})
LABEL = Place("", msg("label in the cab"), "tractor")
DRIVER = Place("", msg("tractor seat"), "tractor")


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    return (*gear_fields(tractor), *speed_fields(), *height_fields(profile), *ground_fields(profile))


def gear_fields(tractor: Tractor) -> tuple[Field, ...]:
    """Which PTO gear, and the engine speed where the driver sees it."""
    gears = tuple(Option(gear.key, verbatim(gear.key)) for gear in tractor.pto)
    if not gears:
        return ()
    return (
        Field(
            "pto_gear",
            msg("PTO gear that is in"),
            Ask.CHOICE,
            msg("Engine off, key out: read it at the lever or the display of this customer's tractor."),
            (DRIVER,),
            options=gears,
            need=Need.MUST,
            bars=PTO,
            rests_on=("tractor",),
        ),
        Field(
            "engine_label",
            msg("Engine speed written in the cab"),
            Ask.CHOICE,
            msg("The engine speed for raking and the one never to pass, where the driver sees them."),
            (LABEL,),
            options=YES_NO,
            rests_on=("tractor", "settings.pto_gear"),
        ),
    )


def speed_fields() -> tuple[Field, ...]:
    """The PTO speed by two ways, and the engine speed that went with it."""
    return (
        Field(
            "pto_speed",
            msg("PTO speed by meter or display"),
            Ask.QUANTITY,
            msg("From the seat, or with a light meter from outside all guards, during the test run."),
            (DRIVER,),
            Kind.ROTATION,
            "rpm",
            instrument="tacho",
            rests_on=("tractor", "settings.pto_gear"),
        ),
        Field(
            "engine_speed",
            msg("Engine speed at that moment"),
            Ask.QUANTITY,
            msg("Read it together with the PTO speed: both together show which gear is really in."),
            (DRIVER,),
            Kind.ROTATION,
            "rpm",
            need=Need.MAY,
            instrument="tacho",
            rests_on=("tractor", "settings.pto_gear"),
        ),
        Field(
            "turns_counted",
            msg("Rotor turns counted by eye"),
            Ask.COUNT,
            msg(
                "From the seat: how often the painted mark of one rotor comes round. 60 s tell more than 20."
            ),
            need=Need.MAY,
            rests_on=("tractor", "settings.pto_gear"),
        ),
        Field(
            "turns_time",
            msg("Time in which they were counted"),
            Ask.QUANTITY,
            msg(
                "Start the watch at nought as the mark passes, stop it as the mark passes. Usual: 20 to 60 s."
            ),
            kind=Kind.TIME,
            unit="s",
            need=Need.MAY,
            instrument="stopwatch",
            rests_on=("tractor", "settings.pto_gear"),
        ),
    )


def height_fields(profile: Profile) -> tuple[Field, ...]:
    """The tine height on concrete, and how far the wheels sink in."""
    unit = profile.settings.tine_clearance.typed.unit
    return (
        Field(
            "tine_concrete",
            msg("Lowest tine tip above the concrete"),
            Ask.QUANTITY,
            msg(
                "Rotor on its wheels, engine off, key out. Turn by hand, find the lowest tip, read the rule."
            ),
            ROTORS,
            Kind.LENGTH,
            unit,
            instrument="steel-rule",
            rests_on=(
                "tyres.pressure_set",
                "hitch.height",
                "levelling.chassis_pins",
                "levelling.turnbuckle",
                "levelling.crank",
            ),
        ),
        Field(
            "tyre_sink",
            msg("Depth of wheel prints in the field"),
            Ask.QUANTITY,
            msg("Lath across the print, rule down to its bottom; mean of three places. Usual: 5 to 20 mm."),
            kind=Kind.LENGTH,
            unit=unit,
            need=Need.MAY,
            instrument="steel-rule",
        ),
    )


def ground_fields(profile: Profile) -> tuple[Field, ...]:
    """How fast the customer means to drive."""
    return (
        Field(
            "ground_speed",
            msg("Ground speed the driver plans"),
            Ask.QUANTITY,
            msg("In his own field, with his crop. A clean sweep needs a short way from one arm to the next."),
            (DRIVER,),
            Kind.SPEED,
            profile.settings.ground_speed.typed.unit,
            need=Need.MAY,
        ),
        Field(
            "yield_expected",
            msg("Yield expected, t/ha"),
            Ask.QUANTITY,
            msg("Crop that lies on the field, as the customer expects it; never a promise."),
            kind=Kind.NUMBER,
            unit="1",
            need=Need.MAY,
        ),
        Field(
            "follower_rate",
            msg("Baler or harvester behind it takes, t/h"),
            Ask.QUANTITY,
            msg("What the machine that picks up the windrow gets through in an hour."),
            kind=Kind.NUMBER,
            unit="1",
            need=Need.MAY,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge gear, speeds and height."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    yield from _settings_plan.findings(facts, by_key)
    yield from _settings_speed.findings(facts)
    yield from _settings_height.findings(facts, by_key)


STEP = Step(
    key="settings",
    order=13,
    title=msg("Field settings"),
    about=msg("What the customer sets in the field: PTO gear and engine speed, tine height, ground speed."),
    cautions=(
        Caution(
            msg("At working speed the tine tips pass faster than a man runs."),
            msg("Only the driver, in the seat, engages the PTO; nobody within the rotors' reach plus 3 m."),
            "entanglement",
        ),
        Caution(
            msg("Tines stand at the height of legs and face."),
            msg(
                "Engine off, key out, everything stands still; glasses on, kneel beside the rotor, not in it."
            ),
            "impalement",
        ),
    ),
    fields=fields,
    checks=(check,),
)
