"""A telescopic shaft from groove to groove, to scale, as shapes in millimetres of the paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from rakeprep.drawing.shapes import Line, Point, Polygon, Role, Shape

THICK = 3.4  # mm of the outer tube


@dataclass(frozen=True, slots=True)
class Telescope:
    """A shaft at one distance, in metres: its two halves before any cut, closed, and what is cut off each."""

    halves: tuple[float, float]
    closed: float
    cut: float
    distance: float


def box(role: Role, left: float, right: float, middle: float, high: float) -> Polygon:
    """An upright rectangle by its ends."""
    low, top = middle - high / 2, middle + high / 2
    return Polygon("driveline", role, ((left, low), (right, low), (right, top), (left, top)))


def shaft(of: Telescope, start: Point, scale: float) -> Iterator[Shape]:
    """The shaft from its left groove at ``start``; ``scale`` gives mm to the metre."""
    left, y = start
    long = of.distance * scale
    a, b = (half * scale for half in of.halves)
    cut = of.cut * scale
    yokes = (of.closed - of.halves[1]) * scale, (of.closed - of.halves[0]) * scale
    end_a, end_b = min(left + a - cut, left + long + 1), max(left + long - b + cut, left - 1)
    yield box(Role.OUTLINE, left, max(end_a, left), y, THICK)
    yield box(Role.TYRE, min(end_b, left + long), left + long, y, THICK * 0.66)
    if end_b < end_a:
        yield from _overlap(end_b, end_a, y)
    if cut > 0.3:
        for begins in (end_a, end_b - cut):
            yield from _cut_off(max(begins, left), min(begins + cut, left + long), y)
    for begins, ends in ((left, left + yokes[0]), (left + long - yokes[1], left + long)):
        if ends - begins > 0.3:
            yield box(Role.STRONG, begins, ends, y, THICK * 1.5)
    for x in (left, left + long):
        yield Line("driveline", Role.EXPECTED, (x, y - THICK * 1.1), (x, y + THICK * 1.1))


def _overlap(left: float, right: float, y: float) -> Iterator[Shape]:
    """Hatching where one tube is inside the other."""
    x = left
    while x < right - THICK:
        yield Line("driveline", Role.HOSE, (x, y - THICK / 2), (x + THICK, y + THICK / 2))
        x += 2.2


def _cut_off(left: float, right: float, y: float) -> Iterator[Shape]:
    """A dashed frame where the tube was."""
    if right <= left:
        return
    high = THICK / 2 + 0.9
    corners = ((left, y - high), (right, y - high), (right, y + high), (left, y + high), (left, y - high))
    for one, other in pairwise(corners):
        yield Line("driveline", Role.CUT_OFF, one, other)
