"""Levelling: the rotors' planes, every arm past one place, what was turned, and the transport axle."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no
from rakeprep.steps._levelling_advice import plane_findings
from rakeprep.steps._levelling_arms import ring_findings
from rakeprep.steps._levelling_axle import axle_fields, axle_findings
from rakeprep.steps._levelling_learned import learned_findings
from rakeprep.steps._levelling_plane import clock_places
from rakeprep.steps._reading import ROTORS, SIDES
from rakeprep.steps.arms import arm_places
from rakeprep.text import Message, msg
from rakeprep.units import Kind

FIELD_WORK = frozenset({Use.FIELD})
ROAD = frozenset({Use.ROAD})


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    asked = (*plane_fields(profile), *turned_fields(profile), arm_field(profile), *axle_fields(profile))
    return tuple(field for field in asked if field.places)


def plane_fields(profile: Profile) -> tuple[Field, ...]:
    """The readings at the clock places."""
    unit = profile.levelling.front_lower.typed.unit
    places = clock_places(profile)
    # What was turned makes the readings before it out of date; the readings after it are the answer.
    turned_since = tuple(f"levelling.{field.key}" for field in turned_fields(profile))
    return (
        Field(
            "floor",
            msg("How much lower the floor is here"),
            Ask.QUANTITY,
            msg("Against one level line over all places, with water level or line laser. Higher is minus."),
            places,
            Kind.LENGTH,
            unit,
            need=Need.MAY,
            instrument="water-level",
        ),
        Field(
            "clearance",
            msg("Tine tip above the floor"),
            Ask.QUANTITY,
            msg(
                "PTO off, key out. Walk one and the same arm round by hand; push the tine back once, let it "
                "settle, and slide the step block under its tip."
            ),
            places,
            Kind.LENGTH,
            unit,
            bars=FIELD_WORK,
            instrument="steel-rule",
            rests_on=("tyres.pressure_set", "hitch.height", *turned_since),
        ),
    )


def turned_fields(profile: Profile) -> tuple[Field, ...]:
    """What was turned, for the adjusters that this machine has."""
    data = profile.levelling
    asked: list[Field] = []
    if data.chassis_pins is not None:
        label = msg("Chassis pins moved, holes")
        text = msg("Since the last reading, in whole holes. Right side raised is plus, lowered is minus.")
        asked.append(turned("chassis_pins", label, text))
    if data.turnbuckle is not None:
        label = msg("Turnbuckle turned, turns")
        text = msg("Since the last reading. Shorter is plus, longer is minus; one flat of six is 1/6.")
        asked.append(turned("turnbuckle", label, text))
    if data.height_crank is not None:
        label = msg("Height crank turned, turns")
        text = msg("Since the last reading. Up is plus, down is minus; half a turn is 1/2.")
        asked.append(turned("crank", label, text))
    return tuple(asked)


def turned(key: str, label: Message, text: Message) -> Field:
    """How far one adjuster was turned, on each rotor."""
    places: tuple[Place, ...] = ROTORS
    return Field(key, label, Ask.QUANTITY, text, places, Kind.NUMBER, "1", need=Need.MAY)


def arm_field(profile: Profile) -> Field:
    """The reading of every arm at one place."""
    return Field(
        "arm_clearance",
        msg("Each arm past one place"),
        Ask.QUANTITY,
        msg(
            "Choose one clock place and stay there. Turn by hand, arm after arm, and read each at that place."
        ),
        arm_places(profile),
        Kind.LENGTH,
        profile.levelling.arm_tolerance.typed.unit,
        instrument="steel-rule",
    )


def follow_findings(facts: Facts) -> Iterable[Finding]:
    """Which way the axle steers, where it does."""
    follows = next((f for f in axle_fields(facts.profile) if f.key == "follows"), None)
    if follows is not None:
        yield from answered_no(
            facts,
            follows,
            msg("The axle steers the wrong way, or not alike on both sides."),
            msg("No road. Compare the rod's holes with the machine's book: a wrong hole reverses its sense."),
            Verdict.STOP,
            ROAD,
        )


STEP = Step(
    key="levelling",
    order=11,
    title=msg("Levelling"),
    about=msg(
        "Tyres, hitch, chassis pins, turnbuckle, crank, in that order. One arm walked round tells of the "
        "rotor; all arms at one place tell of the arms."
    ),
    cautions=(
        Caution(
            msg("A rotor turned under power catches whoever measures."),
            msg("PTO off, engine off, key out; turn by hand only, and hold the rotor while it is read."),
            "entanglement",
        ),
        Caution(
            msg("A rotor or its chassis can come down on a foot or hand."),
            msg(
                "Rotors down on their wheels, machine chocked. Nobody under a raised rotor, not even to look."
            ),
            "crushing-hands",
        ),
    ),
    fields=fields,
    checks=(
        plane_findings,
        learned_findings,
        *(partial(ring_findings, side=side) for side in SIDES),
        axle_findings,
        follow_findings,
    ),
)
