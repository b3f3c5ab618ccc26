"""Test run: direction, noise, coast-down, heat, leaks, second torque, a short pull on the road."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import BoltJoint, Profile, Side
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.steps import _test_run_after, _test_run_heat, _test_run_running
from rakeprep.steps._oil_amount import gearbox_place
from rakeprep.steps._reading import ROTORS
from rakeprep.steps.guards import latch_place
from rakeprep.steps.tyres import wheel_place
from rakeprep.text import msg, verbatim
from rakeprep.units import Kind

PTO = frozenset({Use.PTO})
ROAD = frozenset({Use.ROAD})
NO_WORK = frozenset({Use.PTO, Use.FIELD})
TURNING = (
    Option("clockwise", msg("clockwise: in front the tines go to the right")),
    Option("anticlockwise", msg("anticlockwise: in front the tines go to the left")),
)
NOISES = (
    Option("even", msg("even, no knock")),
    Option("regular", msg("regular knock")),
    Option("irregular", msg("irregular knock, rattle, grinding")),
)
LEAKS = (
    Option("dry", msg("dry")),
    Option("damp", msg("damp, no drop")),
    Option("drips", msg("drips or runs")),
)


def bolt_place(joint: BoltJoint) -> Place:
    """The place of a family of bolted joints."""
    return Place(joint.key, verbatim(joint.name), "frame")


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    asked = (
        *start_fields(),
        *running_fields(profile),
        *stopped_fields(profile),
        *again_fields(profile),
        *pull_fields(profile),
    )
    return tuple(field for field in asked if field.places)


def start_fields() -> tuple[Field, ...]:
    """Before the PTO goes in, and the first minute at idle."""
    return (
        Field(
            "clear",
            msg("Everyone clear, confirmed by name"),
            Ask.DONE,
            msg(
                "One person, one voice: walk round, call every name, guards closed, tools off, then seat. "
                "Nobody within the rotors' reach plus 3 m (10 ft). Your name stands for it."
            ),
            need=Need.MUST,
            bars=PTO,
            rests_on=("guards.closed",),
        ),
        Field(
            "direction",
            msg("Turns, seen from above"),
            Ask.CHOICE,
            msg("PTO in at idle, from the seat: in front both rotors sweep towards the middle."),
            ROTORS,
            options=TURNING,
            need=Need.MUST,
            bars=NO_WORK,
            rests_on=("tractor",),
        ),
    )


def running_fields(profile: Profile) -> tuple[Field, ...]:
    """What is heard while it runs."""
    return (
        Field(
            "run_time",
            msg("Length of the run"),
            Ask.QUANTITY,
            msg("At working speed, without a break, as long as the machine's book says."),
            kind=Kind.TIME,
            unit=profile.test_run.duration.typed.unit,
            bars=frozenset({Use.FIELD}),
        ),
        Field(
            "noise",
            msg("Noise at working speed"),
            Ask.CHOICE,
            msg("From the seat, window open, ears protected. Do not go near to listen."),
            options=NOISES,
            bars=frozenset({Use.FIELD}),
        ),
        Field(
            "knocks",
            msg("Knocks counted"),
            Ask.COUNT,
            msg("Only if it knocks: count from the seat. How often it knocks tells which part it is."),
            need=Need.MAY,
        ),
        Field(
            "knock_time",
            msg("Time in which they were counted"),
            Ask.QUANTITY,
            msg("Start the watch at nought with a knock, stop it with a knock. Usual: 10 to 20 s."),
            kind=Kind.TIME,
            unit="s",
            need=Need.MAY,
            instrument="stopwatch",
        ),
    )


def stopped_fields(profile: Profile) -> tuple[Field, ...]:
    """Coast-down, heat and leaks."""
    gearboxes = tuple(gearbox_place(g) for g in profile.gearbox)
    unit = profile.test_run.hottest.typed.unit
    return (
        Field(
            "coast_down",
            msg("Time to run down"),
            Ask.QUANTITY,
            msg("From the seat: both from the same speed, PTO off, until this rotor stands still."),
            ROTORS,
            Kind.TIME,
            "s",
            instrument="stopwatch",
        ),
        Field(
            "ambient",
            msg("Air temperature beside the machine"),
            Ask.QUANTITY,
            msg("In the shade, away from the exhaust."),
            kind=Kind.TEMPERATURE,
            unit=unit,
            instrument="infrared",
        ),
        Field(
            "surface_temperature",
            msg("Surface temperature"),
            Ask.QUANTITY,
            msg(
                "Within 2 minutes of the stop, engine off, key out, everything still. Infra-red on paint: "
                "bright metal reads far too low. No hand first."
            ),
            gearboxes,
            Kind.TEMPERATURE,
            unit,
            instrument="infrared",
        ),
        Field(
            "leaks",
            msg("Dry after the run"),
            Ask.CHOICE,
            msg("Engine off, pressure off, eye protection on. Look, and use cardboard; never a hand."),
            leak_places(profile, gearboxes),
            options=LEAKS,
            bars=frozenset({Use.FIELD}),
        ),
    )


def leak_places(profile: Profile, gearboxes: tuple[Place, ...]) -> tuple[Place, ...]:
    """Every circuit and every gearbox, each code once."""
    return tuple({place.key: place for place in (*gearboxes, *circuit_places(profile))}.values())


def circuit_places(profile: Profile) -> tuple[Place, ...]:
    """Every hydraulic circuit by its own name."""
    return tuple(Place(c.key, verbatim(c.name), f"circuit-{c.key}") for c in profile.hydraulics.circuit)


def again_fields(profile: Profile) -> tuple[Field, ...]:
    """The second torque."""
    sets = {wheel.tyre for wheel in profile.wheel}
    wheels = tuple(
        Place(t.key, msg("wheels {code}, {size}", code=t.key, size=verbatim(t.size)), "axle")
        for t in profile.tyre
        if t.key in sets
    )
    return (
        Field(
            "second_torque",
            msg("Second torque: nut moved by"),
            Ask.QUANTITY,
            msg(
                "Mark the nut, pull to the same torque, read how far it went. Enter the worst of this joint."
            ),
            tuple(bolt_place(j) for j in profile.bolt_joint),
            Kind.ANGLE,
            "°",
            bars=NO_WORK,
        ),
        Field(
            "wheel_nuts",
            msg("Wheel nuts again, none moved"),
            Ask.CHOICE,
            msg("After the first pull on the road, on the ground, in star order, same torque."),
            wheels,
            options=YES_NO,
            bars=ROAD,
            rests_on=("tyres.nuts",),
        ),
    )


def pull_fields(profile: Profile) -> tuple[Field, ...]:
    """A short pull on the road, then a look."""
    axle = tuple(wheel_place(w) for w in profile.wheel if w.rotor is Side.NEITHER)
    return (
        Field(
            "pull_latch",
            msg("Latch fully in after the test pull"),
            Ask.CHOICE,
            msg("In the yard, 20 km/h (12 mph) at most, brake once, stop, engine off, key out, then look."),
            tuple(latch_place(each) for each in profile.latch),
            options=YES_NO,
            bars=ROAD,
            rests_on=("guards.depth",),
        ),
        Field(
            "pull_hub",
            msg("Hub cool, quiet, without play"),
            Ask.CHOICE,
            msg(
                "After the same pull. Infra-red first, then the back of the hand: no warmer than the others."
            ),
            axle,
            options=YES_NO,
            bars=ROAD,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge the run and what is seen after it."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    yield from _test_run_running.findings(facts, by_key)
    yield from _test_run_heat.findings(facts, by_key)
    yield from _test_run_after.findings(facts, by_key)


STEP = Step(
    key="test_run",
    order=14,
    title=msg("Test run"),
    about=msg(
        "Everything turns for the first time: at idle, then at working speed; then stop, look, tighten."
    ),
    cautions=(
        Caution(
            msg("PTO shaft and rotors take in a sleeve faster than anybody can let go."),
            msg(
                "Only the driver, in the seat, engages the PTO; nobody within the rotors' reach plus 3 m. "
                "Before leaving the seat: brake on, neutral, PTO and engine off, key out, all of it still."
            ),
            "entanglement",
        ),
        Caution(
            msg("Oil under pressure goes through the skin, and gearboxes burn."),
            msg("Pressure off before looking. Cardboard and infra-red, no hand. Oil in the skin: hospital."),
            "injection",
        ),
        Caution(
            msg("Noise and flying dust."),
            msg("Ears and eyes protected."),
            "ears",
        ),
        Caution(
            msg("Exhaust indoors is poison."),
            msg("Outdoors, or with a hose on the exhaust."),
            "poison",
        ),
    ),
    fields=fields,
    checks=(check,),
)
