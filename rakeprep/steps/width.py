"""Width and lift: the gauge against the tape, the headland limiter, the size on the road."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.steps import _width_gauge, _width_headland, _width_permit, _width_road
from rakeprep.steps._reading import ROTORS
from rakeprep.text import msg
from rakeprep.units import Kind

ROAD = frozenset({Use.ROAD})
SETTINGS = (
    Place("narrow", msg("narrowest setting")),
    Place("wide", msg("widest setting")),
)
CAB = Place("", msg("label in the cab"), "tractor")


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    return (*width_fields(profile), *lift_fields(profile), *road_fields(profile))


def width_fields(profile: Profile) -> tuple[Field, ...]:
    """What the gauge shows and what the tape shows, at both ends."""
    unit = profile.width.narrow.typed.unit
    return (
        Field(
            "gauge_reading",
            msg("Width shown by the gauge"),
            Ask.QUANTITY,
            msg(
                "Rotors down and level, rams fully in or out. Read the pointer square on, as the driver will."
            ),
            SETTINGS,
            Kind.LENGTH,
            unit,
        ),
        Field(
            "working",
            msg("Working width by tape"),
            Ask.QUANTITY,
            msg(
                "Same setting, engine off, key out: outer tine tip to outer tine tip, arms at 9 and 3, "
                "tape level and tight."
            ),
            SETTINGS,
            Kind.LENGTH,
            unit,
            instrument="width-tape",
            rests_on=("tyres.pressure_set",),
        ),
    )


def lift_fields(profile: Profile) -> tuple[Field, ...]:
    """Clearance at the headland, and one trial of the limiter."""
    data = profile.width
    unit = data.headland_clearance.typed.unit
    return (
        Field(
            "headland_clearance",
            msg("Tines above ground at the headland"),
            Ask.QUANTITY,
            msg(
                "Rotors up as for turning, stop tap closed, locks in, engine off, key out. Stand beside the "
                "rotor and hold the rule to an outer tine; nothing of you goes underneath."
            ),
            ROTORS,
            Kind.LENGTH,
            unit,
            instrument="steel-rule",
            rests_on=("tyres.pressure_set", "hitch.height", "levelling.crank"),
        ),
        Field(
            "limiter_change",
            msg("Limiter moved in a trial by"),
            Ask.QUANTITY,
            msg("Along its scale or row of holes, one way is plus. Rotors on the ground while you move it."),
            kind=Kind.LENGTH,
            unit=unit,
            need=Need.MAY,
            instrument="tape",
        ),
        Field(
            "limiter_effect",
            msg("That changed the tines by"),
            Ask.QUANTITY,
            msg("Clearance at the headland after the trial, less the one before it; higher is plus."),
            kind=Kind.LENGTH,
            unit=unit,
            need=Need.MAY,
            instrument="steel-rule",
        ),
        Field(
            "limiter_hole",
            msg("Limiter, one hole to the next"),
            Ask.QUANTITY,
            msg("Middle to middle of two neighbouring holes. Usual: 20 to 30 mm."),
            kind=Kind.LENGTH,
            unit=unit,
            need=Need.MAY,
            instrument="tape",
        ),
    )


def road_fields(profile: Profile) -> tuple[Field, ...]:
    """The size as it goes on the road."""
    data = profile.width
    return (
        Field(
            "transport_width",
            msg("Width, folded for the road"),
            Ask.QUANTITY,
            msg("Latched and covered as it will drive. Two plumb lines at the widest parts, tape between."),
            kind=Kind.LENGTH,
            unit=data.transport_width.typed.unit,
            need=Need.MUST,
            bars=ROAD,
            instrument="width-tape",
        ),
        Field(
            "transport_height",
            msg("Height, folded for the road"),
            Ask.QUANTITY,
            msg(
                "Behind the tractor, latched, level ground, no line overhead. A lath on the highest point, a "
                "tape from the lath down to the ground; do not trust the book's figure."
            ),
            kind=Kind.LENGTH,
            unit=data.transport_height.typed.unit,
            need=Need.MUST,
            bars=ROAD,
            instrument="width-tape",
            rests_on=("tyres.pressure_set",),
        ),
        *_width_permit.fields(profile),
        Field(
            "cab_label",
            msg("Width and height stand in the cab"),
            Ask.CHOICE,
            msg("Where the driver sees them, rounded up, in metres and in feet."),
            (CAB,),
            options=YES_NO,
            rests_on=("width.transport_width", "width.transport_height"),
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge gauge, lift and size."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    yield from _width_gauge.findings(facts, by_key)
    yield from _width_headland.findings(facts, by_key)
    yield from _width_road.findings(facts, by_key)


STEP = Step(
    key="width",
    order=12,
    title=msg("Width and lift"),
    about=msg("The gauge tells the truth, the tines clear the windrow in a turn, the size fits the road."),
    cautions=(
        Caution(
            msg("A raised rotor can come down on whoever measures it."),
            msg("Stop tap closed, lock or stand in, engine off, key out. Measure from beside it."),
            "crushing",
        ),
        Caution(
            msg("A folded or raised machine can reach an overhead line."),
            msg(
                "Fold and raise only where no line is within 3 m (10 ft) of the highest point, or the "
                "distance the utility asks for, whichever is more."
            ),
            "electricity",
        ),
    ),
    fields=fields,
    checks=(check,),
)
