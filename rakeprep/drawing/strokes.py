"""What small drawings are made of: lines and areas in millimetres, x to the right, y up.

A stroke names a tone, never a colour: screen and paper choose their own.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum

from rakeprep.drawing.shapes import Point


class Tone(Enum):
    """What a stroke is to the eye."""

    INK = "outline of a body"
    QUIET = "what is only there for orientation"
    BODY = "ground of a body"
    DARK = "dark body, such as rubber"
    ACCENT = "what is measured, set or looked at"
    GROUND = "ground of the sheet"


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points, or the area within them; ``width`` 0 has no line, ``dash`` is in widths."""

    points: tuple[Point, ...]
    width: float = 1.2
    tone: Tone = Tone.INK
    closed: bool = False
    fill: Tone | None = None
    dash: bool = False


@dataclass(frozen=True, slots=True)
class Sign:
    """Digits, letters or units centred on a point: nothing that a language would say otherwise."""

    at: Point
    text: str
    height: float = 8.0
    tone: Tone = Tone.INK


Mark = Stroke | Sign


def line(*points: Point, width: float = 1.2, tone: Tone = Tone.INK, dash: bool = False) -> Stroke:
    """A line through points."""
    return Stroke(points, width, tone, dash=dash)


def body(*corners: Point, fill: Tone = Tone.BODY, width: float = 1.2, tone: Tone = Tone.INK) -> Stroke:
    """A closed body."""
    return Stroke(corners, width, tone, closed=True, fill=fill)


def block(
    left: float, bottom: float, right: float, top: float, fill: Tone = Tone.BODY, width: float = 1.2
) -> Stroke:
    """An upright rectangle."""
    return body((left, bottom), (right, bottom), (right, top), (left, top), fill=fill, width=width)


def solid(*corners: Point, tone: Tone = Tone.INK) -> Stroke:
    """An area without an outline."""
    return Stroke(corners, 0.0, tone, closed=True, fill=tone)


def around(centre: Point, radius: float, start: float = 0.0, span: float = 360.0) -> tuple[Point, ...]:
    """Points of a circle from ``start`` over ``span`` degrees, 0 to the right, against the clock."""
    steps = max(3, math.ceil(abs(span) / 10))
    turns = (math.radians(start + span * n / steps) for n in range(steps + 1))
    return tuple((centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns)


def ring(
    centre: Point, radius: float, fill: Tone | None = None, width: float = 1.2, tone: Tone = Tone.INK
) -> Stroke:
    """A circle."""
    return Stroke(around(centre, radius)[:-1], width, tone, closed=True, fill=fill)


def disc(centre: Point, radius: float, tone: Tone = Tone.INK) -> Stroke:
    """A filled circle."""
    return Stroke(around(centre, radius)[:-1], 0.0, tone, closed=True, fill=tone)


def arc(
    centre: Point,
    radius: float,
    start: float,
    span: float,
    width: float = 1.2,
    tone: Tone = Tone.INK,
) -> Stroke:
    """Part of a circle."""
    return Stroke(around(centre, radius, start, span), width, tone)


def arrow(
    *way: Point, width: float = 1.4, head: float = 5.0, tone: Tone = Tone.ACCENT
) -> tuple[Stroke, Stroke]:
    """A line along ``way`` with a filled head at its end."""
    (ax, ay), (bx, by) = way[-2], way[-1]
    length = math.dist(way[-2], way[-1]) or 1.0
    ux, uy = (bx - ax) / length, (by - ay) / length
    back = bx - ux * head, by - uy * head
    barbs = tuple((back[0] - side * uy * head * 0.42, back[1] + side * ux * head * 0.42) for side in (1, -1))
    shaft = (*way[:-1], (bx - ux * head * 0.8, by - uy * head * 0.8))
    return Stroke(shaft, width, tone), solid(way[-1], *barbs, tone=tone)


def turning(
    centre: Point,
    radius: float,
    start: float,
    span: float,
    width: float = 1.6,
    head: float = 6.0,
    tone: Tone = Tone.ACCENT,
) -> tuple[Stroke, Stroke]:
    """An arc with a head at its end."""
    bend = math.degrees(head / radius)  # the head stands along the arc, not beside it
    way = around(centre, radius, start, span - math.copysign(bend, span))
    end = around(centre, radius, start + span, 1)[0]
    return Stroke(way, width, tone), arrow(way[-1], end, width=width, head=head, tone=tone)[1]


def measure(start: Point, end: Point, off: float = 0.0, tone: Tone = Tone.ACCENT) -> tuple[Stroke, ...]:
    """A dimension line with heads at both ends, ``off`` to the left of the way, with its extension lines."""
    length = math.dist(start, end) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    first = (start[0] - uy * off, start[1] + ux * off)
    last = (end[0] - uy * off, end[1] + ux * off)
    head = min(5.0, length * 0.4)
    middle = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2)
    marks: tuple[Stroke, ...] = (
        *arrow(middle, first, head=head, tone=tone),
        *arrow(middle, last, head=head, tone=tone),
    )
    if off:
        past = math.copysign(2.0, off)
        for at, to in ((start, first), (end, last)):
            reach = (to[0] - uy * past, to[1] + ux * past)
            marks = (line(at, reach, width=0.7, tone=Tone.QUIET), *marks)
    return marks


def waves(start: Point, end: Point, height: float, count: int) -> tuple[Point, ...]:
    """A wave from one point to another."""
    length = math.dist(start, end) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    steps = 12 * count
    return tuple(
        (
            start[0] + ux * length * n / steps - uy * height * math.sin(2 * math.pi * n / 12),
            start[1] + uy * length * n / steps + ux * height * math.sin(2 * math.pi * n / 12),
        )
        for n in range(steps + 1)
    )


def moved(marks: Iterable[Mark], by: Point) -> tuple[Mark, ...]:
    """The same marks elsewhere."""
    dx, dy = by
    return tuple(
        replace(m, points=tuple((x + dx, y + dy) for x, y in m.points))
        if isinstance(m, Stroke)
        else replace(m, at=(m.at[0] + dx, m.at[1] + dy))
        for m in marks
    )


def turned(marks: Iterable[Stroke], about: Point, degrees: float) -> tuple[Stroke, ...]:
    """The same strokes, turned against the clock."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def there(at: Point) -> Point:
        x, y = at[0] - about[0], at[1] - about[1]
        return about[0] + x * c - y * s, about[1] + x * s + y * c

    return tuple(replace(m, points=tuple(there(p) for p in m.points)) for m in marks)
