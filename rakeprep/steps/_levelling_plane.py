"""Each rotor's plane from one arm walked round, with the floor taken off and doubtful readings named."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.level_directions import steepest
from rakeprep.calculations.levelling import (
    FEWEST_PLACES,
    NARROWEST_ARC,
    Level,
    OneDirection,
    Reading,
    arc,
    best_direction,
    clock_angle,
    level,
    without_floor,
)
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile, Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import ROTOR_NAMES, SIDES, doubt_of, reading, rotor_place
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

TAPE_STEPS = {
    "mm": Fraction(1),
    "cm": Fraction(1, 10),
    "m": Fraction(1, 1000),
    "in": Fraction(1, 16),
    "ft": Fraction(1, 100),
}


@dataclass(frozen=True, slots=True)
class Measured:
    """The plane of one rotor with the hours it was read at, and the unit it was read in.

    ``only`` is the one direction that is known where all places lie within a quarter of the circle.
    """

    side: Side
    hours: tuple[int, ...]
    level: Level
    unit: str
    floor_off: bool
    only: OneDirection | None = None

    @property
    def name(self) -> Message:
        """The rotor in words."""
        return ROTOR_NAMES[self.side]

    def key(self, hour: int) -> str:
        """The code of a place of this rotor."""
        return f"{self.side}-{hour}"

    def length(self, value: float) -> Amount:
        """A length without its sign, to the division of the rule that was used."""
        return Amount(abs(value), Kind.LENGTH, self.unit, step=TAPE_STEPS.get(self.unit))

    def estimate(self, value: Estimate) -> Amount:
        """A length without its sign and with its doubt."""
        return Amount(
            abs(value.value), Kind.LENGTH, self.unit, step=TAPE_STEPS.get(self.unit), doubt=value.doubt
        )


def clock_places(profile: Profile) -> tuple[Place, ...]:
    """The places of both rotors at which the tines are down."""
    return tuple(
        rotor_place(side, f"{side}-{hour}", msg("{hour} o'clock", hour=hour), f"rotor-{side}@{hour}")
        for side in SIDES
        for hour in dict.fromkeys(profile.rotor_at(side).clock_places)
    )


def measured(facts: Facts, side: Side) -> Measured | None:
    """The plane of one rotor; None while too few places were read. ``Impossible`` if it cannot be told."""
    rotor = facts.profile.rotor_at(side)
    hours = tuple(dict.fromkeys(rotor.clock_places))
    found = {hour: reading(facts, "clearance", f"{side}-{hour}", "steel-rule") for hour in hours}
    heights = {hour: each for hour, each in found.items() if each is not None}
    circle = facts.value(rotor.tip_circle)
    unanswered = any(facts.slot("clearance", f"{side}-{hour}") not in facts.record.entries for hour in hours)
    if circle is None or not heights or (len(heights) < FEWEST_PLACES and unanswered):
        return None
    values = {hour: each.value for hour, each in heights.items()}
    doubt = max(each.doubt for each in heights.values())
    depths = floor_depths(facts, side)
    floor_off = all(hour in depths for hour in heights)
    if floor_off:
        values = without_floor(values, depths)
        doubt = combine([(1, doubt), (-1, doubt_of("water-level", 0.0))])
    points: list[Reading] = [(clock_angle(hour), z) for hour, z in values.items()]
    plane = level(points, circle / 2, doubt)
    narrow = arc([angle for angle, _ in points]) <= NARROWEST_ARC + 1e-6
    only = best_direction(points, circle / 2, doubt) if narrow else None
    return Measured(side, tuple(heights), plane, typed_unit(facts, f"{side}-{hours[0]}"), floor_off, only)


def floor_depths(facts: Facts, side: Side) -> dict[int, float]:
    """How much lower the floor is at each place of a rotor, where it was measured."""
    found = {
        hour: reading(facts, "floor", f"{side}-{hour}", "water-level")
        for hour in facts.profile.rotor_at(side).clock_places
    }
    return {hour: each.value for hour, each in found.items() if each is not None}


def typed_unit(facts: Facts, place: str) -> str:
    """The unit on the rule that was used."""
    entry = facts.entry("clearance", place)
    usual = facts.profile.levelling.front_lower.typed.unit
    return entry.unit if entry is not None and entry.unit in TAPE_STEPS else usual


def slots(facts: Facts, plane: Measured, nearest: int = 12) -> tuple[Slot, ...]:
    """The readings of a plane, the place nearest to an hour first, since the finding is shown there."""
    order = sorted(plane.hours, key=lambda hour: min((hour - nearest) % 12, (nearest - hour) % 12))
    return tuple(facts.slot("clearance", plane.key(hour)) for hour in order)


def floor_finding(facts: Facts, plane: Measured) -> Iterable[Finding]:
    """A floor that was measured at some of the places only."""
    depths = floor_depths(facts, plane.side)
    if plane.floor_off or not depths:
        return
    gap = next(hour for hour in plane.hours if hour not in depths)
    yield Finding(
        Verdict.MEASURE_AGAIN,
        (facts.slot("floor", plane.key(gap)),),
        msg("{rotor}: the floor was measured at some places only and is not taken off.", rotor=plane.name),
        msg("Measure the floor at the other places too."),
    )


def narrow_finding(facts: Facts, plane: Measured, only: OneDirection) -> Finding:
    """All places within a quarter of the circle: the one lean that they tell, and nothing to turn by it."""
    return Finding(
        Verdict.MEASURE_AGAIN,
        slots(facts, plane),
        msg(
            "{rotor}: {only} That way it stands {rise} {sense} than opposite.",
            rotor=plane.name,
            only=only.says,
            rise=plane.estimate(only.across),
            sense=msg("higher") if only.across.value > 0 else msg("lower"),
        ),
        msg("Read further round before anything is turned."),
        plane_working(plane),
    )


def suspect_findings(facts: Facts, plane: Measured) -> Iterable[Finding]:
    """Readings that the plane through all the others misses."""
    for at in plane.level.suspects:
        hour = plane.hours[at]
        key = plane.key(hour)
        alone = len(plane.level.suspects) == 1
        yield Finding(
            Verdict.MEASURE_AGAIN,
            (facts.slot("clearance", key),),
            msg(
                "{rotor}, {hour} o'clock: this reading lies {miss} off the plane of all readings.",
                rotor=plane.name,
                hour=hour,
                miss=plane.length(plane.level.residuals[at]),
            )
            if alone
            else msg(
                "{rotor}, {hour} o'clock: the readings do not lie on one plane; this may be the wrong one.",
                rotor=plane.name,
                hour=hour,
            ),
            msg(
                "Read this place again. If it stays, the floor dips there: move the machine 1 m and read all "
                "places anew. Turn nothing before."
            ),
            plane_working(plane),
        )


def plane_working(plane: Measured) -> tuple[Message, ...]:
    """The sums behind a plane."""
    found = plane.level
    lines: tuple[Message, ...] = (
        msg(
            "Plane z = c + p·x + q·y through {count} readings: centre c = {centre}, "
            "front − rear 2·R·p = {front}, right − left 2·R·q = {right}.",
            count=len(plane.hours),
            centre=signed(plane, found.centre),
            front=signed(plane, found.front_rear),
            right=signed(plane, found.right_left),
        ),
        msg(
            "Scatter of the readings about the plane, one standard deviation: {sd}.",
            sd=Amount(found.sd, Kind.LENGTH, plane.unit),
        ),
    )
    lean = steepest(found)
    if lean.rise.value > lean.rise.doubt:
        hour = round(math.degrees(lean.toward) / 30) % 12 or 12
        high = msg(
            "It leans most by {rise}, high toward {hour} o'clock.", rise=plane.estimate(lean.rise), hour=hour
        )
        lines = (*lines, high)
    return (*lines, msg("The floor's own height is taken off.")) if plane.floor_off else lines


def signed(plane: Measured, value: Estimate) -> Amount:
    """A length with its sign and its doubt."""
    return Amount(value.value, Kind.LENGTH, plane.unit, step=TAPE_STEPS.get(plane.unit), doubt=value.doubt)
