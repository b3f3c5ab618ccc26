"""Parts of the small drawings about papers, days, hours and people."""

from __future__ import annotations

from collections.abc import Collection
from itertools import count, takewhile

from rakeprep.drawing.help_parts import Strokes
from rakeprep.drawing.shapes import Box, Point
from rakeprep.drawing.strokes import (
    Stroke,
    Tone,
    around,
    block,
    body,
    disc,
    line,
    ring,
    solid,
    turned,
    waves,
)

WEEK, WEEKS = 7, 4  # days across and rows of a calendar's sheet


def sheet(box: Box, rows: Collection[float] = (), corner: float = 9.0) -> Strokes:
    """A sheet of paper, its upper right corner folded, with written rows at some heights."""
    x, y = box.right - corner, box.top - corner
    outline = (
        (box.left, box.bottom),
        (box.right, box.bottom),
        (box.right, y),
        (x, box.top),
        (box.left, box.top),
    )
    written = tuple(
        line((box.left + 7, at), (box.right - 7, at), width=2.4, tone=Tone.QUIET, dash=True) for at in rows
    )
    return (
        body(*outline, fill=Tone.GROUND),
        body((x, box.top), (x, y), (box.right, y), fill=Tone.BODY, width=0.9),
        *written,
    )


def cell(box: Box, day: int) -> Box:
    """The place of a day on a calendar's sheet, the first one is 0."""
    across, up = box.width / WEEK, (box.height - 12) / WEEKS
    left, top = box.left + across * (day % WEEK), box.top - 12 - up * (day // WEEK)
    return Box(left, top - up, left + across, top)


def calendar(box: Box, chosen: Collection[int] = (), past: Collection[int] = ()) -> Strokes:
    """A month's sheet with its chosen days; ``past`` ones are only filled."""

    def day(number: int) -> Stroke:
        at = cell(box, number)
        fill = Tone.ACCENT if number in chosen else Tone.QUIET
        return block(at.left + 1.2, at.bottom + 1.2, at.right - 1.2, at.top - 1.2, fill=fill, width=0)

    dots = tuple(
        disc(((at.left + at.right) / 2, (at.bottom + at.top) / 2), 1.2, tone=Tone.QUIET)
        for at in (cell(box, n) for n in range(WEEK * WEEKS) if n not in chosen and n not in past)
    )
    rings = tuple(
        line(
            (box.left + box.width * part, box.top - 4), (box.left + box.width * part, box.top + 4), width=2.2
        )
        for part in (0.25, 0.75)
    )
    return (
        block(box.left, box.bottom, box.right, box.top, fill=Tone.GROUND),
        block(box.left, box.top - 10, box.right, box.top),
        *rings,
        *dots,
        *(day(n) for n in (*past, *chosen)),
    )


def around_day(box: Box, day: int) -> Stroke:
    """A ring around one day."""
    at = cell(box, day)
    return ring(
        ((at.left + at.right) / 2, (at.bottom + at.top) / 2), at.width * 0.95, width=1.8, tone=Tone.ACCENT
    )


def pen(tip: Point, length: float = 40.0, lean: float = 50.0) -> Strokes:
    """A pen that leans, with its tip on the paper."""
    x, y = tip
    flat = (
        body((x, y), (x + 7, y + 3.4), (x + 7, y - 3.4), fill=Tone.GROUND, width=0.9),
        block(x + 7, y - 3.4, x + length, y + 3.4, fill=Tone.DARK, width=0.9),
    )
    return turned(flat, tip, lean)


def scribble(start: Point, length: float, height: float = 6.0) -> Stroke:
    """A signature or initials."""
    x, y = start
    loops = tuple((x + length * part, y + height * up) for part, up in _LOOPS)
    return Stroke(loops, 1.8, Tone.ACCENT)


_LOOPS = (
    (0.0, 0.0),
    (0.14, 1.5),
    (0.2, 0.9),
    (0.12, -0.3),
    (0.3, 0.7),
    (0.36, 0.1),
    (0.48, 0.7),
    (0.54, 0.0),
    (0.66, 1.3),
    (0.7, 0.7),
    (0.64, -0.2),
    (0.8, 0.5),
    (1.0, 0.2),
)


def tick(at: Point, size: float = 10.0) -> Stroke:
    """A tick with its lowest point at a place."""
    x, y = at
    return Stroke(((x - size * 0.5, y + size * 0.5), (x, y), (x + size, y + size * 1.15)), 2.6, Tone.ACCENT)


def bubble(box: Box, mouth: Point) -> Strokes:
    """What somebody says, with the tip at his mouth on the left."""
    middle = (box.bottom + box.top) / 2
    return (
        body(
            mouth,
            (box.left, middle - 2),
            (box.left, box.bottom + 5),
            (box.left + 5, box.bottom),
            (box.right - 5, box.bottom),
            (box.right, box.bottom + 5),
            (box.right, box.top - 5),
            (box.right - 5, box.top),
            (box.left + 5, box.top),
            (box.left, box.top - 5),
            (box.left, middle + 7),
            fill=Tone.GROUND,
            width=1.4,
        ),
    )


def spoken(left: float, right: float, heights: Collection[float]) -> Strokes:
    """Rows of speech."""
    return tuple(Stroke(waves((left, y), (right, y), 2.0, 4), 1.4, Tone.ACCENT) for y in heights)


def open_book(left: float, bottom: float, width: float = 72.0, height: float = 56.0) -> Strokes:
    """An open book with its rows."""
    x, y, middle, right = left, bottom, left + width / 2, left + width
    sides = (
        body((x, y + 4), (middle, y), (middle, y + height), (x, y + height + 4), fill=Tone.GROUND),
        body((right, y + 4), (middle, y), (middle, y + height), (right, y + height + 4), fill=Tone.GROUND),
    )
    rows = takewhile(lambda at: at < y + height - 8, count(y + 14, 10))
    written = tuple(
        mark
        for at in rows
        for mark in (
            line((x + 6, at + 1), (middle - 6, at - 1), width=2.0, tone=Tone.QUIET),
            line((middle + 6, at - 1), (right - 6, at + 1), width=2.0, tone=Tone.QUIET),
        )
    )
    return (*sides, *written)


def clock(centre: Point, radius: float, parts: Collection[tuple[float, float, Tone]] = ()) -> Strokes:
    """A clock's face; each part is a sector: start and span in hours of twelve, and its tone."""
    sectors = tuple(
        solid(centre, *around(centre, radius * 0.86, 90 - 30 * start, -30 * span), tone=tone)
        for start, span, tone in parts
    )
    hours = tuple(
        line(
            around(centre, radius * 0.8, t, 1)[0],
            around(centre, radius * 0.93, t, 1)[0],
            width=0.9 if t % 90 else 1.8,
        )
        for t in range(0, 360, 30)
    )
    return (ring(centre, radius, fill=Tone.GROUND, width=1.8), *sectors, *hours, disc(centre, radius * 0.07))


def hands(centre: Point, radius: float, hour: float) -> Strokes:
    """The hands of a clock at a full hour."""
    short = around(centre, radius * 0.48, 90 - 30 * hour, 1)[0]
    return (
        line(centre, short, width=2.6),
        line(centre, (centre[0], centre[1] + radius * 0.72), width=1.6),
    )


def person(x: float, floor: float, height: float = 62.0, tone: Tone = Tone.INK) -> Strokes:
    """Somebody, as far as a small drawing needs."""
    head = height * 0.13
    return (
        disc((x, floor + height - head), head, tone=tone),
        solid(
            (x - head * 1.7, floor),
            (x + head * 1.7, floor),
            (x + head * 1.7, floor + height * 0.62),
            (x + head, floor + height * 0.7),
            (x - head, floor + height * 0.7),
            (x - head * 1.7, floor + height * 0.62),
            tone=tone,
        ),
    )


def drop(at: Point, size: float = 5.0, tone: Tone = Tone.ACCENT) -> Stroke:
    """A drop; ``at`` is the middle of its round end."""
    x, y = at
    return solid((x, y + size * 2.1), *around(at, size, 150, 240), tone=tone)


def flag(foot: Point, height: float) -> Strokes:
    """A flag of no country."""
    x, y = foot
    edge = waves((x, y + height), (x + 34, y + height), 2.2, 1)
    under = waves((x, y + height - 22), (x + 34, y + height - 22), 2.2, 1)
    return (
        line((x, y), (x, y + height + 4), width=2.4),
        body(*edge, *reversed(under), fill=Tone.ACCENT),
    )
