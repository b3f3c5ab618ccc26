"""The machine from above, to scale, and where the mark of each of its parts belongs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from rakeprep.drawing import drive, hoses, rear, rotor, wheels
from rakeprep.drawing import tractor as ahead
from rakeprep.drawing.measures import Measures, Part, Piece, measures, together
from rakeprep.drawing.shapes import Box, Circle, Point, Role, Shape, at_clock, box_around
from rakeprep.drawing.spread import spread
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor

APART = 60.0  # mm, at least, between the anchors of two parts
MARGIN = 60.0  # mm around everything
ROOM = 210.0  # mm around an anchor, so that its mark does not stick out

# The part that stands in for one that this drawing does not have, by the beginning of its key.
NEAREST = (
    ("wheel-l", "rotor-left"),
    ("wheel-r", "rotor-right"),
    ("wheel-", "axle"),
    ("arm-l", "rotor-left"),
    ("arm-r", "rotor-right"),
    ("arm-", "rotor-left"),
    ("rotor-", "machine"),
    ("lamp-", "axle"),
    ("board-", "axle"),
    ("hose-", "hitch"),
    ("circuit-", "frame"),
    ("shaft-", "driveline"),
    ("gearbox-", "driveline"),
    ("latch-", "frame"),
    ("guard-", "frame"),
)


@dataclass(frozen=True, slots=True)
class Plan:
    """A drawing: shapes from the lowest to the topmost, and where marks belong.

    ``anchors`` has where the mark of every part belongs, ``homes`` where the part itself is; both are in
    reading order within a group. ``groups`` has the group that a part is shown with when there is no room
    for each, ``group_anchors`` where the one mark of a group belongs.
    """

    shapes: tuple[Shape, ...]
    anchors: Mapping[str, Point]
    homes: Mapping[str, Point]
    groups: Mapping[str, str]
    group_anchors: Mapping[str, Point]
    bounds: Box


def plan(profile: Profile, tractor: Tractor) -> Plan:
    """Draw one machine behind one tractor, in millimetres."""
    m = measures(profile, tractor)
    whole = together(
        ahead.tractor_piece(m),
        rotor.rotors_piece(m),
        drive.arms_piece(profile, m),
        wheels.wheels_piece(profile, m),
        hoses.hydraulics_piece(profile, m),
        ahead.hitch_piece(m),
        ahead.beam_piece(m),
        drive.shafts_piece(profile, m),
        rotor.hubs_piece(m),
        drive.driveline_piece(profile, m),
        drive.latches_piece(profile, m),
        drive.gearboxes_piece(profile, m),
        drive.guards_piece(profile, m),
        rear.rear_piece(profile, m),
    )
    return _finished(whole, m)


def _finished(whole: Piece, m: Measures) -> Plan:
    """The plan from its pieces: anchors moved apart, groups placed, everything inside the bounds."""
    spots = spread([part.mark for part in whole.parts], APART)
    anchors = {part.key: spot for part, spot in zip(whole.parts, spots, strict=True)}
    groups = {part.key: part.group for part in whole.parts}
    at_groups = _group_anchors(whole.parts, m)
    outline = [point for shape in whole.shapes for point in shape.points()]
    return Plan(
        whole.shapes,
        MappingProxyType(anchors),
        MappingProxyType({part.key: part.at for part in whole.parts}),
        MappingProxyType(groups),
        MappingProxyType(at_groups),
        _bounds(outline, [*anchors.values(), *at_groups.values()]),
    )


def _bounds(outline: list[Point], marks: list[Point]) -> Box:
    """The box around everything drawn, with room for the marks."""
    drawn, marked = box_around(outline).grown(MARGIN), box_around(marks).grown(ROOM)
    return Box(
        min(drawn.left, marked.left),
        min(drawn.bottom, marked.bottom),
        max(drawn.right, marked.right),
        max(drawn.top, marked.top),
    )


def _group_anchors(parts: Iterable[Part], m: Measures) -> dict[str, Point]:
    """Where the one mark of each group belongs: at the part that leads it, or in the midst of its parts."""
    members: dict[str, list[Part]] = {}
    for part in parts:
        members.setdefault(part.group, []).append(part)
    placed = {group: _lead(group, found, m) for group, found in members.items()}
    return dict(zip(placed, spread(list(placed.values()), 2 * APART), strict=True))


def _lead(group: str, parts: list[Part], m: Measures) -> Point:
    """The place of one group's mark."""
    named = {part.key: part.at for part in parts}
    if group in named:
        return named[group]
    if group.startswith("chassis-"):
        last = min(part.at[1] for part in parts)
        row = [part.at[0] for part in parts if part.at[1] == last]
        return sum(row) / len(row), last
    if group == "splitter":
        return m.splitter
    if group == "lights":
        return 0.0, m.rear
    return parts[-1].at


def known_part(plan: Plan, part: str) -> str:
    """The part itself, or the nearest one that the drawing has."""
    for key in (part, part.partition("@")[0]):
        if key in plan.anchors:
            return key
    for start, other in NEAREST:
        if part.lower().startswith(start) and other in plan.anchors:
            return other
    return "machine"


def anchor_of(plan: Plan, part: str) -> Point:
    """Where the mark of a part belongs; "rotor-left@3" is the tip circle at three o'clock."""
    whole, _, place = part.partition("@")
    disc = disc_of(plan, whole)
    if disc is not None and place.isascii() and place.isdigit() and len(place) <= 2:
        return at_clock(disc.centre, disc.radius, int(place) % 12 * 30)
    return plan.anchors[known_part(plan, part)]


def home_of(plan: Plan, part: str) -> Point:
    """Where a part itself is; a line may lead there from its mark."""
    return anchor_of(plan, part) if "@" in part else plan.homes[known_part(plan, part)]


def group_of(plan: Plan, part: str) -> str:
    """The group that a part is shown with."""
    return plan.groups[known_part(plan, part)]


def disc_of(plan: Plan, part: str) -> Circle | None:
    """The area that a rotor sweeps, if the part is a rotor."""
    for shape in plan.shapes:
        if isinstance(shape, Circle) and shape.role is Role.DISC and shape.part == part:
            return shape
    return None
