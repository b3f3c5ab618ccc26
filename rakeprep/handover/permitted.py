"""What the machine data permit as an answer, to be printed beside an empty box.

A table and no check: a question that is not in it has no plain range, because its limit follows from other
readings. What is printed here judges nothing; the steps do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from rakeprep.handover.machine_data import brief_source
from rakeprep.handover.paper import Paper
from rakeprep.model.facts import Facts
from rakeprep.model.place import Place
from rakeprep.model.profile import Latch, PinJoint, Side
from rakeprep.model.source import Source, Sourced
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Amount, Kind, other_unit


@dataclass(frozen=True, slots=True)
class Permitted:
    """A range (either end may be open) or what is ``wanted``; exact values in the base unit of ``kind``."""

    kind: Kind
    unit: str
    low: Fraction | None = None
    high: Fraction | None = None
    wanted: Fraction | None = None
    words: str = ""
    source: Source | None = None
    unsettled: bool = False


Rule = Callable[[Facts, Place], Permitted | None]


def exact(facts: Facts, sourced: Sourced) -> Fraction | None:
    """A value of machine data, exact; None while its two printed values are in conflict."""
    value = facts.value(sourced)
    if value is None:
        return None
    second = sourced.also
    return second.si if second is not None and value != sourced.value else sourced.exact


def ranged(
    facts: Facts, limit: Sourced, low: bool, high: bool, tolerance: Sourced | None = None
) -> Permitted:
    """A limit with either or both of its sides, ``tolerance`` away from the value."""
    kind, unit = limit.typed.kind, limit.typed.unit
    value = exact(facts, limit)
    apart = Fraction(0) if tolerance is None else exact(facts, tolerance)
    if value is None or apart is None:
        return Permitted(kind, unit, source=limit.source, unsettled=True)
    source = limit.source
    return Permitted(
        kind, unit, value - apart if low else None, value + apart if high else None, source=source
    )


def at_least(facts: Facts, limit: Sourced | None) -> Permitted | None:
    """Never below."""
    return None if limit is None else ranged(facts, limit, low=True, high=False)


def at_most(facts: Facts, limit: Sourced | None) -> Permitted | None:
    """Never above."""
    return None if limit is None else ranged(facts, limit, low=False, high=True)


def around(facts: Facts, value: Sourced, tolerance: Sourced) -> Permitted:
    """A value with its tolerance to both sides."""
    return ranged(facts, value, low=True, high=True, tolerance=tolerance)


def nominal(facts: Facts, value: Sourced) -> Permitted:
    """What is aimed at."""
    kind, unit, found = value.typed.kind, value.typed.unit, exact(facts, value)
    return Permitted(kind, unit, wanted=found, source=value.source, unsettled=found is None)


def counted(many: int) -> Permitted:
    """A whole number."""
    return Permitted(Kind.NUMBER, "1", wanted=Fraction(many))


def named(words: str) -> Permitted:
    """What has to be read there."""
    return Permitted(Kind.NUMBER, "1", words=words)


# --------------------------------------------------------------------------- of one thing among several


def of_keyed(things: str, rule: Callable[[Facts, Any], Permitted | None]) -> Rule:
    """A rule about the thing in a list of the profile whose key is the place's."""

    def find(facts: Facts, place: Place) -> Permitted | None:
        owner: object = facts.profile
        for name in things.split("."):
            owner = getattr(owner, name)
        assert isinstance(owner, Iterable)
        found = next((thing for thing in owner if thing.key == place.key), None)
        return None if found is None else rule(facts, found)

    return find


def limit_of(things: str, name: str, side: Callable[[Facts, Sourced | None], Permitted | None]) -> Rule:
    """A limit that stands on the thing itself."""
    return of_keyed(things, lambda facts, thing: side(facts, getattr(thing, name)))


def count_of(things: str, name: str) -> Rule:
    """A number of pieces that stands on the thing itself."""
    return of_keyed(things, lambda facts, thing: counted(getattr(thing, name)))


def whole(name: str, side: Callable[[Facts, Sourced | None], Permitted | None]) -> Rule:
    """A limit at one path of the profile, the same everywhere."""

    def find(facts: Facts, place: Place) -> Permitted | None:
        owner: object = facts.profile
        for part in name.split("."):
            owner = None if owner is None else getattr(owner, part)
        assert owner is None or isinstance(owner, Sourced)
        return side(facts, owner)

    return find


def aimed_at(facts: Facts, value: Sourced | None) -> Permitted | None:
    """``nominal`` for a value that may be missing."""
    return None if value is None else nominal(facts, value)


def pin_size(facts: Facts, joint: PinJoint) -> Permitted:
    """The nominal diameter of a spring pin: a name, so it stands in no other unit."""
    return named(f"{joint.pin} mm")


def tyre_size(facts: Facts, place: Place) -> Permitted | None:
    """The marking of the tyre that belongs there."""
    wheel = next((w for w in facts.profile.wheel if w.key == place.key), None)
    return None if wheel is None else named(facts.profile.tyre_of(wheel).size)


def pressure(facts: Facts, place: Place) -> Permitted | None:
    """The pressure of a wheel's tyre set, cold."""
    wheel = next((w for w in facts.profile.wheel if w.key == place.key), None)
    if wheel is None:
        return None
    tyre = facts.profile.tyre_of(wheel)
    return around(facts, tyre.pressure, tyre.tolerance)


def latch_depth(facts: Facts, latch: Latch) -> Permitted:
    """At least the depth of a latch that is fully in, less what still counts."""
    return ranged(facts, latch.depth, low=True, high=False, tolerance=latch.tolerance)


def joint_angle(facts: Facts, place: Place) -> Permitted | None:
    """The angle of a joint, by where the machine data have the wide-angle joint."""
    shaft = facts.profile.driveline
    return at_most(facts, shaft.wide_joint if shaft.wide_angle_end == place.key else shaft.plain_joint)


def half(facts: Facts, place: Place) -> Permitted:
    """The length of one half of the driveline."""
    shaft = facts.profile.driveline
    return nominal(facts, shaft.half_a if place.key == "tractor" else shaft.half_b)


def fuse(facts: Facts, place: Place) -> Permitted | None:
    """The fuse bears what the coils take."""
    hold = facts.profile.hydraulics.rotor_hold
    return None if hold is None else at_least(facts, hold.current)


def loose_arms(facts: Facts, place: Place) -> Permitted | None:
    """The arms of a rotor that come loose."""
    rotor = facts.profile.rotor_at(Side(place.key))
    return counted(rotor.arms - rotor.fitted) if rotor.arms > rotor.fitted else None


def tines(facts: Facts, place: Place) -> Permitted:
    """The double tines of one arm."""
    return counted(facts.profile.rotor_at(Side(place.rotor)).tines_per_arm)


def working_width(facts: Facts, place: Place) -> Permitted:
    """The width of either end of the gauge."""
    width = facts.profile.width
    return around(facts, width.narrow if place.key == "narrow" else width.wide, width.gauge_tolerance)


def hitch_height(facts: Facts, place: Place) -> Permitted:
    """The height of the lower-link pins."""
    hitch = facts.profile.hitch
    return around(facts, hitch.height, hitch.height_tolerance)


RULES: Mapping[str, Rule] = {
    "arrival.packages": count_of("package", "pieces"),
    "arrival.designation": lambda facts, place: named(facts.profile.machine.designation),
    "fasteners.bolts_out": count_of("pin_joint", "shipping_bolts"),
    "fasteners.pins_in": count_of("pin_joint", "holes"),
    "fasteners.pin_size": of_keyed("pin_joint", pin_size),
    "fasteners.protrusion": limit_of("pin_joint", "protrusion", at_most),
    "fasteners.torque": limit_of("bolt_joint", "torque", aimed_at),
    "hitch.pin": whole("hitch.pin", aimed_at),
    "hitch.height": hitch_height,
    "hitch.tyre_clearance": whole("hitch.tyre_clearance", at_least),
    "hitch.guard_clearance": whole("hitch.guard_clearance", at_least),
    "driveline.angle": joint_angle,
    "driveline.closed": whole("driveline.closed", aimed_at),
    "driveline.half": half,
    "driveline.gap_shortest": whole("driveline.end_reserve", at_least),
    "driveline.overlap_longest": whole("driveline.overlap", at_least),
    "hydraulics.time_in": limit_of("hydraulics.circuit", "slowest_lowering", at_least),
    "hydraulics.drift": limit_of("hydraulics.circuit", "drift", at_most),
    "hydraulics.fuse": fuse,
    "tyres.size": tyre_size,
    "tyres.pressure_set": pressure,
    "arms.loose": loose_arms,
    "arms.tines": tines,
    "guards.depth": of_keyed("latch", latch_depth),
    "oil.oil_used": of_keyed("gearbox", lambda facts, box: named(box.oil)),
    "oil.tilt": limit_of("gearbox", "largest_tilt", at_most),
    "oil.filled": limit_of("gearbox", "volume", aimed_at),
    "width.working": working_width,
    "width.headland_clearance": whole("width.headland_clearance", at_least),
    "width.transport_width": whole("width.road_width", at_most),
    "width.transport_height": whole("width.road_height", at_most),
    "settings.pto_speed": whole("settings.speed_ceiling", at_most),
    "test_run.run_time": whole("test_run.duration", at_least),
    "test_run.surface_temperature": whole("test_run.hottest", at_most),
    "test_run.second_torque": whole("test_run.retorque_angle", at_most),
}


def permitted(paper: Paper, step: str, field: str, place: Place) -> Permitted | None:
    """What is permitted at one place; None where the machine data give no plain range."""
    rule = RULES.get(f"{step}.{field}")
    if rule is None:
        return None
    return rule(Facts(paper.profile, paper.tractor, paper.record, step, paper.printed_at.date()), place)


# ---------------------------------------------------------------------------------------------- in words


def said(paper: Paper, found: Permitted | None) -> str:
    """One line: the range in both unit families, rounded to the safe side, and where it is from."""
    if found is None:
        return ""
    if found.unsettled:
        return paper.say(msg("two printed values that disagree"))
    if found.words:
        return paper.say(msg("wanted: {value}", value=paper.user(found.words)))
    line = (
        msg("wanted: {value}", value=both(paper, found))
        if found.wanted is not None
        else allowed(paper, found)
    )
    return paper.say(line if found.source is None else joined([line, brief_source(found.source)], " · "))


def allowed(paper: Paper, found: Permitted) -> Message:
    """A range, or the one side that it has."""
    if found.low is not None and found.high is not None:
        return msg("allowed: {range}", range=both(paper, found))
    if found.low is not None:
        return msg("allowed: at least {limit}", limit=both(paper, found))
    return msg("allowed: at most {limit}", limit=both(paper, found))


def both(paper: Paper, found: Permitted) -> Message:
    """The values in the unit of the machine data, and in brackets in the other family's."""
    other = other_unit(found.kind, found.unit)
    own = in_unit(paper, found, found.unit)
    if other == found.unit:
        return own
    return msg("{own} ({other})", own=own, other=in_unit(paper, found, other))


def in_unit(paper: Paper, found: Permitted, unit: str) -> Message:
    """The values in one unit: a lower limit rounded up, an upper one down."""

    def amount(value: Fraction, toward: str) -> str:
        return paper.shown(Amount(value, found.kind, unit, toward=toward))

    if found.wanted is not None:
        return verbatim(amount(found.wanted, "nearest"))
    low, high = (
        None if value is None else amount(value, toward)
        for value, toward in ((found.low, "up"), (found.high, "down"))
    )
    if low is not None and high is not None:
        return msg("{low} to {high}", low=low, high=high)
    return verbatim(low or high or "")
