"""What the plain entries of a data file may be: closed words, and ranges no machine lies outside.

The ranges are common sense without a published source. They are wide: their only purpose is to
catch a wrong unit or a slipped decimal mark.
"""

from __future__ import annotations

from fractions import Fraction

from rakeprep.units import Kind

CATEGORIES = ("1", "1N", "2", "2N", "3", "3N", "4", "4N")  # ISO 730
# The functions of ISO 1724, and the plate lamp, which hangs on a tail lamp's wire.
LAMP_FUNCTIONS = ("left-turn", "right-turn", "left-tail", "right-tail", "stop", "fog", "plate")

# Words of text entries: class and key.
WORDS = {
    "Hitch.category": CATEGORIES,
    "Links.category": CATEGORIES,
    "Driveline.wide_angle_end": ("tractor", "machine", "none"),
    "BoltJoint.condition": ("dry", "oiled"),
    "Lamp.function": LAMP_FUNCTIONS,
    "Turnbuckle.shorter_raises": ("front", "rear"),
}

# Whole numbers: smallest and largest.
ANY_COUNT = (0, 9999)
COUNTS = {
    "Rotor.arms": (1, 40),
    "Rotor.fitted": (0, 40),
    "Rotor.tines_per_arm": (1, 20),
    "Rotor.clock_places": (1, 12),
    "Package.pieces": (1, 999),
    "PinJoint.holes": (1, 200),
    "PinJoint.shipping_bolts": (0, 200),
    "BoltJoint.count": (1, 200),
    "Circuit.rams": (1, 12),
    "Driveline.pto_type": (1, 4),
    "PtoGear.type": (1, 4),
    "TyreSet.nuts": (1, 20),
    "GreasePoint.nipples": (1, 200),
    "GreasePoint.hours": (1, 5000),
    "Service.visits": (1, 5000),
    "Service.first_oil_change": (1, 5000),
    "Service.hours_a_day": (1, 24),
}
MOST_TABLES = 60  # of one list

# Largest amount of each kind, in its base unit.
LARGEST: dict[Kind, int | Fraction] = {
    Kind.LENGTH: 40,  # m
    Kind.MASS: 60_000,  # kg
    Kind.PRESSURE: 100_000_000,  # Pa
    Kind.TORQUE: 20_000,  # N·m
    Kind.TEMPERATURE: 600,  # K
    Kind.TEMPERATURE_DIFFERENCE: 300,  # K
    Kind.TIME: 86_400,  # s
    Kind.SPEED: 30,  # m/s
    Kind.ROTATION: 100,  # rev/s
    Kind.ANGLE: 180,  # °
    Kind.FLOW: Fraction(1, 60),  # m³/s, 1000 L/min
    Kind.VOLUME: 1,  # m³
    Kind.VOLTAGE: 50,  # V
    Kind.CURRENT: 500,  # A
    Kind.RATIO: 1000,
    Kind.POWER: 1_000_000,  # W
}
# Amounts that have a side or a sense, and so may be below zero.
SIGNED = frozenset(
    {"beside_middle", "right_of_middle", "behind_pins", "front_lower", "ballast_ahead", "plug_beside_centre"}
)
# Amounts that may be nothing at all.
MAY_BE_ZERO = frozenset(
    {
        "drift",
        "end_reserve",
        "guard_to_groove",
        "guard_overlap",
        "retorque_angle",
        "tine_clearance",
        "protrusion",
    }
)


def may_be_zero(name: str) -> bool:
    """Whether an amount may be nothing at all."""
    return name in MAY_BE_ZERO or name in SIGNED or name.endswith("tolerance")
