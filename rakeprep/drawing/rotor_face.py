"""A rotor's clock face and its two tilts as shapes on paper, in millimetres of the paper."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rakeprep.drawing.clock import GAP, LevelLines, hour_of, in_gap, widest_gap
from rakeprep.drawing.shapes import (
    Arc,
    Box,
    Circle,
    Line,
    Point,
    Polygon,
    Polyline,
    Role,
    Shape,
    at_clock,
    bar,
)

MARGIN = 0.5  # hours beside the gap that still belong to the places read
SHALLOWEST = 0.6  # of the radius below the middle
FIGURE = 4.2  # mm; two figures on level lines are never nearer than this


def depth(hours: Sequence[int]) -> float:
    """How far below the middle a face is drawn, as a share of its radius: what is not read is cut off."""
    lowest = max((-math.cos(math.radians(30 * hour)) for hour in hours), default=1.0)
    return min(1.0, max(SHALLOWEST, lowest + 0.1))


def face(
    part: str, centre: Point, radius: float, hours: Sequence[int], plane: LevelLines | None
) -> Iterator[Shape]:
    """The circle of the tine tips, its level lines, where it is not read, and the places that are."""
    lowest = centre[1] - radius * depth(hours)
    rim = cut(Arc(part, Role.DISC, centre, radius, 0, 360).points(), lowest)
    yield Polygon(part, Role.DISC, rim)
    if plane is not None:
        yield from _lines(part, centre, radius, plane, lowest)
    if hours:
        yield from _barred(part, centre, radius, hours, lowest)
    yield Polyline(part, Role.LIGHT, rim)
    if plane is not None:
        yield from falls(part, centre, radius, plane)
    for hour in hours:
        yield Circle(part, Role.STRONG, at_clock(centre, radius, hour * 30), 0.9)


def cut(points: Sequence[Point], lowest: float) -> tuple[Point, ...]:
    """Points of a round body whose foot is cut off flat."""
    return tuple((x, max(y, lowest)) for x, y in points)


def _lines(part: str, centre: Point, radius: float, plane: LevelLines, lowest: float) -> Iterator[Shape]:
    """Each level line from rim to rim, as far as the face is drawn."""
    ux, uy = plane.uphill
    for _, share in plane.lines:
        half = math.sqrt(max(0.0, 1 - share * share)) * radius
        x, y = centre[0] + ux * radius * share, centre[1] + uy * radius * share
        (ax, ay), (bx, by) = sorted(
            ((x - uy * half, y + ux * half), (x + uy * half, y - ux * half)), key=lambda end: end[1]
        )
        if by <= lowest:
            continue
        if ay < lowest:
            ax, ay = ax + (bx - ax) * (lowest - ay) / (by - ay), lowest
        yield Line(part, Role.PLANE, (ax, ay), (bx, by))


def _barred(part: str, centre: Point, radius: float, hours: Sequence[int], lowest: float) -> Iterator[Shape]:
    """The sector in which the cam lifts the arm."""
    first, _, gap = widest_gap(hours)
    if gap < GAP:
        return
    rim = Arc(part, Role.BARRED, centre, radius, 30 * (first + MARGIN), 30 * (gap - 2 * MARGIN))
    yield Polygon(part, Role.BARRED, (centre, *cut(rim.points(), lowest)))


def falls(part: str, centre: Point, radius: float, plane: LevelLines) -> Iterator[Shape]:
    """An arrow downhill through the middle."""
    (ux, uy), (cx, cy) = plane.uphill, centre
    start = cx + ux * radius * 0.16, cy + uy * radius * 0.16
    end = cx - ux * radius * 0.2, cy - uy * radius * 0.2
    yield bar(part, Role.ARROW, start, end, 0.9)
    tip = end[0] - ux * 2.2, end[1] - uy * 2.2
    yield Polygon(
        part,
        Role.ARROW,
        (tip, (end[0] - uy * 1.5, end[1] + ux * 1.5), (end[0] + uy * 1.5, end[1] - ux * 1.5)),
    )


def figures(
    centre: Point, radius: float, hours: Sequence[int], plane: LevelLines
) -> Iterator[tuple[float, Point]]:
    """Where the height of each level line can be written: on the line, where the arm is read."""
    ux, uy = plane.uphill
    side = -1.0 if uy >= 0 else 1.0  # always toward the left
    last: Point | None = None
    for height, share in plane.lines:
        x = ux * radius * share + side * uy * radius * 0.5
        y = uy * radius * share - side * ux * radius * 0.5
        near = last is not None and math.dist(last, (x, y)) < FIGURE
        if near or math.hypot(x, y) > radius * 0.74 or (hours and in_gap(hours, hour_of((x, y)))):
            continue
        last = x, y
        yield height, (centre[0] + x, centre[1] + y)


def tilt(
    part: str, box: Box, rise: float | None, wanted: tuple[float, float], scale: float
) -> Iterator[Shape]:
    """One tilt seen from the side: the range that is wanted, and the line that is there.

    ``rise`` is how much higher the left end stands than the right one, ``wanted`` target and tolerance of
    the same, in m; ``scale`` gives mm of paper to the metre.
    """
    middle = (box.left + box.right) / 2, (box.bottom + box.top) / 2

    def ends(value: float) -> tuple[Point, Point]:
        up = value / 2 * scale
        return (box.left, middle[1] + up), (box.right, middle[1] - up)

    target, tolerance = wanted
    (high_left, high_right), (low_left, low_right) = ends(target + tolerance), ends(target - tolerance)
    yield Polygon(part, Role.WANTED, (middle, high_left, low_left))
    yield Polygon(part, Role.WANTED, (middle, high_right, low_right))
    yield Line(part, Role.HIDDEN, (box.left, middle[1]), (box.right, middle[1]))
    if rise is not None:
        yield bar(part, Role.ARROW, *ends(rise), 0.5)
