"""Parts of which the small drawings beside the questions are put together."""

from __future__ import annotations

import math

from rakeprep.drawing.shapes import Box, Point
from rakeprep.drawing.strokes import (
    Mark,
    Stroke,
    Tone,
    around,
    block,
    body,
    disc,
    line,
    ring,
    turned,
)

SHEET = Box(0.0, 0.0, 160.0, 100.0)  # mm of every small drawing
FLOOR = 10.0  # mm; height of the floor on it
Marks = tuple[Mark, ...]
Strokes = tuple[Stroke, ...]


def floor(left: float = 4.0, right: float = 156.0, at: float = FLOOR) -> Strokes:
    """The floor, hatched below."""
    hatch = tuple(
        line((x, at), (x - 5, at - 5), width=0.7, tone=Tone.QUIET)
        for x in range(int(left) + 8, int(right), 9)
    )
    return (line((left, at), (right, at), width=1.4), *hatch)


def wheel(centre: Point, radius: float) -> Strokes:
    """A wheel from the side."""
    return (
        ring(centre, radius, fill=Tone.DARK),
        ring(centre, radius * 0.6, fill=Tone.BODY),
        disc(centre, radius * 0.12),
    )


def tyre_front(centre: Point, width: float, height: float) -> Strokes:
    """A wheel from the front or from above."""
    (x, y), w, h = centre, width / 2, height / 2
    corners = ((x - w, y - h * 0.8), (x - w * 0.7, y - h), (x + w * 0.7, y - h), (x + w, y - h * 0.8))
    upper = tuple((px, 2 * y - py) for px, py in reversed(corners))
    return (body(*corners, *upper, fill=Tone.DARK),)


def rule(foot: Point, length: float, width: float = 6.0) -> Strokes:
    """An upright rule with its divisions."""
    x, y = foot
    count = max(2, int(length / 4))
    marks = tuple(
        line((x, y + length * n / count), (x + (3.0 if n % 5 else 4.5), y + length * n / count), width=0.6)
        for n in range(1, count)
    )
    return (block(x, y, x + width, y + length, fill=Tone.GROUND, width=0.9), *marks)


def dial(centre: Point, radius: float, turn: float = 60.0) -> Strokes:
    """A gauge or a watch with its hand ``turn`` degrees against the clock from the right."""
    ticks = tuple(
        line(around(centre, radius * 0.78, t, 1)[0], around(centre, radius * 0.92, t, 1)[0], width=0.8)
        for t in range(-45, 226, 45)
    )
    hand = around(centre, radius * 0.7, turn, 1)[0]
    return (
        ring(centre, radius, fill=Tone.GROUND, width=1.6),
        *ticks,
        line(centre, hand, width=1.6, tone=Tone.ACCENT),
        disc(centre, radius * 0.1),
    )


def watch(centre: Point, radius: float) -> Strokes:
    """A stop watch."""
    x, y = centre
    return (
        block(x - 2.5, y + radius, x + 2.5, y + radius + 5),
        line((x - 4, y + radius + 5.5), (x + 4, y + radius + 5.5), width=2.2),
        *dial(centre, radius, 20),
    )


def digital_level(middle: Point, length: float, tilt: float = 0.0) -> Strokes:
    """A level with a window, lying or leaning."""
    x, y = middle
    flat = (
        block(x - length / 2, y, x + length / 2, y + 8, fill=Tone.GROUND),
        block(x - 7, y + 2, x + 7, y + 6.2, fill=Tone.BODY, width=0.8),
        disc((x, y + 4.1), 1.3, tone=Tone.ACCENT),
    )
    return turned(flat, middle, tilt)


def hexagon(centre: Point, radius: float, turn: float = 0.0, fill: Tone = Tone.BODY) -> Stroke:
    """A nut or the head of a bolt from above."""
    corners = (around(centre, radius, turn + 60 * n, 1)[0] for n in range(6))
    return body(*corners, fill=fill)


def bolt(foot: Point, length: float, width: float = 8.0) -> Strokes:
    """A bolt that points down, its tip at ``foot``."""
    x, y = foot
    thread = tuple(
        line((x - width / 2, y + n), (x + width / 2, y + n + 1.5), width=0.7)
        for n in range(2, int(length * 0.5), 3)
    )
    return (
        block(x - width / 2, y, x + width / 2, y + length),
        *thread,
        block(x - width, y + length, x + width, y + length + width * 0.75),
    )


def spring_pin(centre: Point, radius: float) -> Strokes:
    """A slotted spring pin from its end."""
    outside, inside = around(centre, radius, 25, 310), around(centre, radius * 0.62, 335, -310)
    return (body(*outside, *inside, fill=Tone.BODY),)


def calliper(left: float, right: float, jaw: float, top: float) -> Strokes:
    """A calliper from above whose jaws reach down to ``jaw`` on both sides of what is measured."""
    beam = block(left - 16, top, right + 34, top + 7, fill=Tone.GROUND)
    slide = block(right, top - 2, right + 20, top + 9, fill=Tone.BODY)
    fixed = body((left, top), (left, jaw), (left - 5, jaw + 4), (left - 9, top), fill=Tone.BODY)
    moving = body((right, top), (right, jaw), (right + 5, jaw + 4), (right + 9, top), fill=Tone.BODY)
    ticks = tuple(
        line((x, top + 7), (x, top + 4.4), width=0.6) for x in range(int(left) - 10, int(right) - 2, 5)
    )
    return (fixed, moving, beam, *ticks, slide)


def tine(top: Point, tip: Point, width: float = 2.2, tone: Tone = Tone.INK) -> Strokes:
    """A spring tine with its coil."""
    (x, y), (ex, ey) = top, tip
    return (
        ring((x, y), 4.6, width=width, tone=tone),
        line((x + 4.6, y), (x + (ex - x) * 0.35 + 3, y + (ey - y) * 0.55), (ex, ey), width=width, tone=tone),
    )


def arm_with_tines(left: Point, length: float, tips: float) -> Strokes:
    """A tine arm from the side, its tips at a height."""
    x, y = left
    tines = tuple(
        s
        for n in range(3)
        for s in tine((x + length * (0.45 + 0.22 * n), y - 4), (x + length * (0.5 + 0.22 * n), tips))
    )
    return (*tines, block(x, y - 2.5, x + length, y + 2.5))


def rotor(centre: Point, radius: float, arms: int = 10, first: float = 90.0) -> Strokes:
    """A rotor from above."""
    x, y = centre
    spokes: list[Stroke] = []
    for n in range(arms):
        turn = math.radians(first + 360 * n / arms)
        inner = (x + math.cos(turn) * radius * 0.25, y + math.sin(turn) * radius * 0.25)
        outer = (x + math.cos(turn) * radius, y + math.sin(turn) * radius)
        spokes.append(line(inner, outer, width=1.5))
        for back in (0.7, 0.85, 1.0):
            at = (x + math.cos(turn) * radius * back, y + math.sin(turn) * radius * back)
            away = turn + math.pi / 2
            spokes.append(line(at, (at[0] + math.cos(away) * 4, at[1] + math.sin(away) * 4), width=0.9))
    rim = Stroke(around(centre, radius)[:-1], 0.8, Tone.QUIET, closed=True, dash=True)
    return (rim, *spokes, ring(centre, radius * 0.25, fill=Tone.BODY))


def fork(at: Point, way: float, size: float = 13.0) -> Strokes:
    """The outer end of a driveline with its locking groove; ``way`` is -1 to the left, 1 to the right."""
    x, y = at
    return (
        body(
            (x, y - size * 0.55),
            (x, y + size * 0.55),
            (x + way * size, y + size * 0.75),
            (x + way * size, y - size * 0.75),
        ),
        block(min(x, x - way * 12), y - size * 0.5, max(x, x - way * 12), y + size * 0.5),
        line((x - way * 6, y - size * 0.5), (x - way * 6, y + size * 0.5), width=2.2, tone=Tone.ACCENT),
    )


def driveline(left: float, right: float, y: float = 50.0, overlap: float = 0.45) -> Strokes:
    """A driveline from groove to groove: the grooves lie 6 mm inside of both ends."""
    start, end = left + 25, right - 25
    middle = (start + end) / 2
    half = (end - start) * overlap / 2
    return (
        block(start, y - 5, middle + half, y + 5),
        block(middle - half, y - 8, end, y + 8),
        line((middle - half, y - 5), (middle + half, y - 5), width=0.7, dash=True),
        line((middle - half, y + 5), (middle + half, y + 5), width=0.7, dash=True),
        *fork((left + 12, y), 1.0),
        *fork((right - 12, y), -1.0),
    )


def ram(left: Point, tube: float, rod: float) -> Strokes:
    """A hydraulic ram, lying."""
    x, y = left
    return (
        block(x + tube, y - 2.6, x + tube + rod, y + 2.6, fill=Tone.GROUND),
        block(x, y - 8, x + tube, y + 8),
        ring((x - 4, y), 4.5, fill=Tone.BODY),
        ring((x + tube + rod + 4, y), 4.5, fill=Tone.BODY),
        block(x + 6, y + 8, x + 11, y + 12),
        block(x + tube - 11, y + 8, x + tube - 6, y + 12),
    )


def infrared(at: Point, reach: float) -> Strokes:
    """A thermometer for surfaces that looks to the right from ``at``."""
    x, y = at
    return (
        body((x - 26, y + 6), (x, y + 5), (x, y - 4), (x - 16, y - 5), (x - 20, y - 24), (x - 30, y - 22)),
        line((x + 2, y), (x + reach, y), width=1.0, tone=Tone.ACCENT, dash=True),
        ring((x + reach, y), 3.0, width=1.2, tone=Tone.ACCENT),
    )


def thermometer(foot: Point, height: float) -> Strokes:
    """A glass thermometer."""
    x, y = foot
    return (
        block(x - 3.5, y + 5, x + 3.5, y + height, fill=Tone.GROUND),
        disc((x, y + 4), 6.5),
        line((x, y + 4), (x, y + height * 0.62), width=3.4, tone=Tone.ACCENT),
        *(line((x + 3.5, y + n), (x + 7, y + n), width=0.8) for n in range(16, int(height), 8)),
    )


def eye(at: Point, size: float = 9.0) -> Strokes:
    """An eye that looks to the left."""
    x, y = at
    return (
        Stroke(
            (
                *around((x, y - size * 0.7), size * 1.2, 145, -110),
                *around((x, y + size * 0.7), size * 1.2, -35, -110),
            ),
            1.3,
        ),
        disc((x - 1, y), size * 0.34, tone=Tone.ACCENT),
    )


def gearbox(left: float, bottom: float, width: float = 54.0, height: float = 40.0) -> Strokes:
    """A gearbox from the side with its shafts."""
    x, y = left, bottom
    return (
        block(x - 14, y + height * 0.42, x, y + height * 0.62),
        block(x + width * 0.4, y - 10, x + width * 0.6, y),
        body(
            (x, y + 5),
            (x + 5, y),
            (x + width - 5, y),
            (x + width, y + 5),
            (x + width, y + height - 8),
            (x + width - 8, y + height),
            (x + 8, y + height),
            (x, y + height - 8),
        ),
    )


def meter(at: Point) -> Strokes:
    """A multimeter."""
    x, y = at
    return (
        block(x, y, x + 26, y + 44),
        block(x + 4, y + 28, x + 22, y + 39, fill=Tone.GROUND, width=0.9),
        ring((x + 13, y + 14), 6.0, fill=Tone.GROUND),
        line((x + 13, y + 14), (x + 16, y + 18), width=1.6),
    )


def level_line(left: float, right: float, y: float) -> Strokes:
    """A level line over everything, such as a laser's."""
    return (
        line((left, y), (right, y), width=1.0, tone=Tone.ACCENT, dash=True),
        block(left - 9, y - 4, left, y + 4, fill=Tone.BODY),
        line((left - 4.5, y - 4), (left - 10, FLOOR), width=0.9),
        line((left - 4.5, y - 4), (left + 1, FLOOR), width=0.9),
    )


def lamp(at: Point, radius: float, shining: bool) -> Strokes:
    """A lamp with or without rays."""
    rays = tuple(
        line(
            around(at, radius * 1.25, t, 1)[0], around(at, radius * 1.6, t, 1)[0], width=1.4, tone=Tone.ACCENT
        )
        for t in range(0, 360, 45)
    )
    face = ring(at, radius, fill=Tone.GROUND if shining else Tone.BODY, width=1.6)
    return (face, *rays, ring(at, radius * 0.45, tone=Tone.ACCENT)) if shining else (face,)


def rope(start: Point, end: Point) -> Stroke:
    """A slack cord."""
    sag = max(6.0, abs(end[0] - start[0]) * 0.16)
    through = tuple(
        (
            start[0] + (end[0] - start[0]) * n / 12,
            start[1] + (end[1] - start[1]) * n / 12 - sag * math.sin(math.pi * n / 12),
        )
        for n in range(13)
    )
    return Stroke(through, 1.3)


def tractor_wheels(x: float, y: float, size: float = 1.0) -> Strokes:
    """The rear axle of a tractor from above."""
    return (
        block(x - 26 * size, y - 3, x + 26 * size, y + 3),
        *tyre_front((x - 30 * size, y), 12 * size, 32 * size),
        *tyre_front((x + 30 * size, y), 12 * size, 32 * size),
        block(x - 9 * size, y - 8 * size, x + 9 * size, y + 16 * size),
    )
