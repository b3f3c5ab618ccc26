"""The plain shapes of a drawing: millimetres, x to the right, y ahead, the origin between the hitch pins.

A shape names the part it belongs to and its role, never a colour: screen and paper choose their own.
Angles are degrees of the clock: 0 straight ahead, 90 to the right, clockwise positive.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from rakeprep.text import Message

Point = tuple[float, float]


class Role(Enum):
    """What a shape is to the eye."""

    DISC = "area that a rotor sweeps"
    LIGHT = "quiet line or quiet body"
    OUTLINE = "body"
    TYRE = "tyre"
    STRONG = "dark body"
    ARM = "tine arm"
    HOSE = "hose"
    HIDDEN = "turning shaft, dashed"
    ARROW = "arrow"
    PLANE = "line of one height"
    WANTED = "range that is wanted"
    BARRED = "place that is not measured"
    LIT = "lamp that shines"
    UNLIT = "lamp that is dark"
    EXPECTED = "ring around a lamp that should shine"
    CUT_OFF = "what is cut off, dashed"


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle: left, bottom, right, top."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Across, in the unit of the box."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Along, in the unit of the box."""
        return self.top - self.bottom

    def holds(self, point: Point, slack: float = 0.0) -> bool:
        """Whether a point lies inside, or no more than ``slack`` outside."""
        x, y = point
        return self.left - slack <= x <= self.right + slack and self.bottom - slack <= y <= self.top + slack

    def nearest(self, point: Point) -> Point:
        """The point of the box that is nearest to another point."""
        return min(max(point[0], self.left), self.right), min(max(point[1], self.bottom), self.top)

    def grown(self, by: float) -> Box:
        """The same box with a margin."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    part: str
    role: Role
    start: Point
    end: Point

    def points(self) -> tuple[Point, ...]:
        """Points between which the shape lies."""
        return self.start, self.end


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight lines in a row, open."""

    part: str
    role: Role
    through: tuple[Point, ...]

    def points(self) -> tuple[Point, ...]:
        """Points between which the shape lies."""
        return self.through


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed body with straight edges."""

    part: str
    role: Role
    corners: tuple[Point, ...]

    def points(self) -> tuple[Point, ...]:
        """Points between which the shape lies."""
        return self.corners


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle."""

    part: str
    role: Role
    centre: Point
    radius: float

    def points(self) -> tuple[Point, ...]:
        """Points between which the shape lies."""
        return tuple(at_clock(self.centre, self.radius, angle) for angle in range(0, 360, 15))


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle from ``start`` over ``span`` (clock degrees), with an arrow head at its end."""

    part: str
    role: Role
    centre: Point
    radius: float
    start: float
    span: float
    arrow: bool = False

    def points(self) -> tuple[Point, ...]:
        """Points along the arc, its ends among them."""
        steps = max(2, math.ceil(abs(self.span) / 5))
        return tuple(
            at_clock(self.centre, self.radius, self.start + self.span * n / steps) for n in range(steps + 1)
        )


@dataclass(frozen=True, slots=True)
class RoundedBox:
    """An upright rectangle with round corners, by its centre."""

    part: str
    role: Role
    centre: Point
    width: float
    height: float
    radius: float = 0.0

    def points(self) -> tuple[Point, ...]:
        """The four corners."""
        (x, y), w, h = self.centre, self.width / 2, self.height / 2
        return (x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)


@dataclass(frozen=True, slots=True)
class Label:
    """A few words, centred on a point; to be left out where they would be wider than ``room``."""

    part: str
    role: Role
    centre: Point
    text: Message
    room: float

    def points(self) -> tuple[Point, ...]:
        """The middle of the words; their size is not known here."""
        return (self.centre,)


Shape = Line | Polyline | Polygon | Circle | Arc | RoundedBox | Label


def at_clock(centre: Point, radius: float, degrees: float) -> Point:
    """The point of a circle in a direction of the clock face: 0 ahead, 90 to the right."""
    angle = math.radians(degrees)
    return centre[0] + radius * math.sin(angle), centre[1] + radius * math.cos(angle)


def along(start: Point, end: Point, share: float) -> Point:
    """The point that lies a share of the way from ``start`` to ``end``."""
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def bar(part: str, role: Role, start: Point, end: Point, width: float) -> Polygon:
    """A straight bar of some width between two points; a bar without length becomes a small square."""
    length = math.dist(start, end)
    ux, uy = ((end[0] - start[0]) / length, (end[1] - start[1]) / length) if length > 1e-6 else (0.0, 1.0)
    (ax, ay), (bx, by), h = start, end, width / 2
    if length <= 1e-6:
        ay, by = ay - h, by + h
    px, py = -uy * h, ux * h
    return Polygon(
        part, role, ((ax + px, ay + py), (bx + px, by + py), (bx - px, by - py), (ax - px, ay - py))
    )


def box_around(points: Iterable[Point]) -> Box:
    """The smallest upright box around some points; ``ValueError`` for none."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))
