"""Slotted spring pins: the table, the fit, and the comparison with a bolt."""

from __future__ import annotations

from typing import cast

from rakeprep.calculations import spring_pins as pins
from rakeprep.calculations.bolts import Plane, thread
from rakeprep.model.verdict import Verdict
from rakeprep.sums.fasteners import CLASS, PLANES, THREAD
from rakeprep.sums.parts import at, choice, found, length, mm, share
from rakeprep.sums.shape import Answer, Given, Result, Sum
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Kind

NOMINAL = length("pin", msg("nominal diameter of the pin"), help=msg("As drawn, equal to the hole."))


def table(given: Given) -> Answer:
    """The row of one pin."""
    nominal = given.number("pin")
    pin = pins.lookup(nominal)
    hole, squeeze = pins.hole_limits(pin.nominal), pins.squeeze_limits(pin.nominal)
    results = (
        Result("free-least", msg("free diameter, least"), pin.free_min, Kind.LENGTH, "mm"),
        Result("free-most", msg("free diameter, most"), pin.free_max, Kind.LENGTH, "mm"),
        Result("hole-least", msg("hole H12, least"), hole[0], Kind.LENGTH, "mm"),
        Result("hole-most", msg("hole H12, most"), hole[1], Kind.LENGTH, "mm", toward="down"),
        Result("squeeze-least", msg("squeeze, least"), squeeze[0], Kind.LENGTH, "mm"),
        Result("squeeze-most", msg("squeeze, most"), squeeze[1], Kind.LENGTH, "mm"),
        Result("wall", msg("wall"), pin.wall, Kind.LENGTH, "mm"),
        found(
            "double-shear",
            msg("least breaking load in double shear"),
            pin.double_shear,
            given,
            Kind.FORCE,
            "kN",
            "down",
        ),
    )
    says = msg("Slotted spring pin {pin}, heavy duty.", pin=mm(pin.nominal))
    return Answer(says, results, None, (msg("Squeeze = free diameter − hole."),))


def all_pins(given: Given) -> Answer:
    """The whole table."""
    head = (msg("pin"), msg("free diameter"), msg("hole H12"), msg("wall"), msg("double shear"))
    rows = tuple(
        (
            msg("{mm}", mm=mm(pin.nominal)),
            msg("{low} to {high}", low=mm(pin.free_min), high=mm(pin.free_max)),
            msg(
                "{low} to {high}",
                low=mm(pins.hole_limits(pin.nominal)[0]),
                high=mm(pins.hole_limits(pin.nominal)[1]),
            ),
            msg("{mm}", mm=mm(pin.wall)),
            msg("{kn}", kn=at(pin.double_shear, Kind.FORCE, "kN")),
        )
        for pin in pins.PINS
    )
    count = Result("pins", msg("sizes"), len(rows))
    return Answer(msg("Slotted spring pins, heavy duty."), (count,), None, (), (head, *rows))


def fit(given: Given) -> Answer:
    """C31, a measured pin in its measured hole."""
    judged = pins.fit(given.number("pin"), given.estimate("free"), given.estimate("hole"))
    squeeze = judged.squeeze
    results = (
        found("squeeze", msg("squeeze"), squeeze, given, Kind.LENGTH, "mm"),
        Result("squeeze-least", msg("a right pair, least"), judged.squeeze_min, Kind.LENGTH, "mm"),
        Result("squeeze-most", msg("a right pair, most"), judged.squeeze_max, Kind.LENGTH, "mm"),
    )
    says = {
        Verdict.IN_ORDER: msg("The pin fits its hole."),
        Verdict.MEASURE_AGAIN: msg("It cannot be told from these readings whether the pin holds."),
    }.get(judged.verdict, msg("Pin or hole is wrong."))
    return Answer(says, results, judged.verdict, tuple(reason.text for reason in judged.reasons))


def against_bolt(given: Given) -> Answer:
    """C31."""
    bolt, plane = thread(given.word("thread")), cast(Plane, given.word("plane"))
    compared = pins.against_bolt(given.number("pin"), bolt, given.word("class"), plane)
    weaker = compared.bolt_is_weaker
    says = (
        msg("The bolt is weaker: it has {share} of the pin's strength.", share=share(compared.ratio))
        if weaker
        else msg("The bolt is not weaker, but loose in its hole: it hammers, and its head catches hay.")
    )
    results = (
        found("pin", msg("pin, double shear"), compared.pin, given, Kind.FORCE, "kN", "down"),
        found("bolt", msg("bolt, double shear"), compared.bolt, given, Kind.FORCE, "kN", "down"),
        Result("ratio", msg("bolt against pin"), compared.ratio, Kind.RATIO, "%"),
    )
    working = (
        msg(
            "Bolt = 2 · factor · tensile strength · area; {thread}, class {class_}.",
            thread=verbatim(bolt.name),
            class_=verbatim(given.word("class")),
        ),
    )
    return Answer(says, results, None, working)


def nested(given: Given) -> Answer:
    """C31, a pin within a pin."""
    load = pins.nested(given.number("outer"), given.number("inner"))
    results = (
        found(
            "double-shear", msg("least breaking load in double shear"), load, given, Kind.FORCE, "kN", "down"
        ),
    )
    working: tuple[Message, ...] = (msg("F = load of the outer pin + load of the inner pin."),)
    return Answer(msg("Drive them with their slots on opposite sides."), results, None, working)


def cross_pin(given: Given) -> Answer:
    """Torque at which a pin through hub and shaft breaks."""
    load = pins.lookup(given.number("pin")).double_shear
    torque = pins.cross_pin_torque(load, given.number("shaft"))
    results = (found("torque", msg("breaking torque"), torque, given, Kind.TORQUE, "N·m", "down"),)
    working = (
        msg(
            "T = F · D / 2 = {force} · {shaft} / 2.",
            force=at(load, Kind.FORCE, "kN"),
            shaft=mm(given.number("shaft")),
        ),
    )
    return Answer(msg("No safety is included."), results, None, working)


ISO = msg("ISO 8752 (loads tested to ISO 8749); ISO 286-1, class H12, for the hole.")
SIZES = msg("The sizes of the table, 1 mm to 50 mm.")
SUMS = (
    Sum(
        "spring-pin",
        msg("slotted spring pin: sizes, hole, strength"),
        msg("One row of the table, with the hole it needs."),
        (NOMINAL,),
        table,
        {"pin": "12mm"},
        SIZES,
        ISO,
    ),
    Sum(
        "spring-pin-table",
        msg("all slotted spring pins"),
        msg("The whole table of sizes, holes and strengths."),
        (),
        all_pins,
        {},
        SIZES,
        ISO,
    ),
    Sum(
        "spring-pin-fit",
        msg("does a measured pin hold in its measured hole"),
        msg("The squeeze decides; a pin that falls in by hand is wrong, or its hole is worn."),
        (
            NOMINAL,
            length("free", msg("diameter of the loose pin"), instrument="calliper"),
            length("hole", msg("diameter of the hole"), instrument="calliper"),
        ),
        fit,
        {"pin": "12mm", "free": "12.65mm", "hole": "12.1mm"},
        SIZES,
        msg("ISO 8752, ISO 286-1; decision by JCGM 106:2012, 8.3."),
    ),
    Sum(
        "pin-against-bolt",
        msg("spring pin against a bolt in the same joint"),
        msg("Both as the only cross member, in double shear."),
        (NOMINAL, THREAD, CLASS, choice("plane", msg("what lies where the parts slide"), PLANES, "thread")),
        against_bolt,
        {"pin": "12mm", "thread": "M12", "class": "4.6", "plane": "thread"},
        SIZES,
        msg("ISO 8752 (pin); EN 1993-1-8, table 3.4, with ISO 898-1 (bolt)."),
    ),
    Sum(
        "nested-pins",
        msg("a spring pin within a spring pin"),
        msg("Strength of both together."),
        (
            length("outer", msg("nominal diameter of the outer pin")),
            length("inner", msg("nominal diameter of the inner pin")),
        ),
        nested,
        {"outer": "10mm", "inner": "6mm"},
        msg("Pairs that are made to fit into one another."),
        msg("ISO 8752; that the loads add up is from memory."),
    ),
    Sum(
        "cross-pin-torque",
        msg("torque at which a pin through hub and shaft breaks"),
        msg("For a slotted spring pin of the table."),
        (NOMINAL, length("shaft", msg("diameter of the shaft"))),
        cross_pin,
        {"pin": "10mm", "shaft": "40mm"},
        msg("No safety included."),
        msg("ISO 8752; moments about the shaft's axis."),
    ),
)
