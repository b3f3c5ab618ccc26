"""Small drawings for a visit after the first hours of work, and for the windrow that comes of it."""

from __future__ import annotations

from rakeprep.drawing.help_paper_parts import bubble, drop, person, sheet
from rakeprep.drawing.help_parts import Marks, Strokes, eye, rule, tine, wheel
from rakeprep.drawing.shapes import Box, Point
from rakeprep.drawing.strokes import (
    Sign,
    Stroke,
    Tone,
    around,
    arrow,
    block,
    body,
    disc,
    line,
    measure,
    ring,
    solid,
    waves,
)


def stubble(left: float, right: float, at: float, height: float = 6.0) -> Strokes:
    """Firm ground with the stalks that stand on it."""
    stalks = tuple(
        line((x, at), (x + (n % 3 - 1) * 1.2, at + height - n % 2 * 1.5), width=0.9, tone=Tone.QUIET)
        for n, x in enumerate(range(int(left) + 2, int(right), 5))
    )
    return (*stalks, line((left, at), (right, at), width=1.6))


def mound(middle: float, foot: float, half: float, height: float, lean: float = 0.0) -> Stroke:
    """A windrow in cross-section; ``lean`` moves its top to one side."""
    shape = (
        (-1.0, 0.0),
        (-0.82, 0.3),
        (-0.55, 0.75),
        (-0.2, 1.0),
        (0.2, 1.0),
        (0.55, 0.75),
        (0.82, 0.3),
        (1.0, 0.0),
    )
    return body(*((middle + half * x + lean * y, foot + height * y) for x, y in shape), fill=Tone.BODY)


def _stalks(middle: float, foot: float, half: float, height: float) -> Strokes:
    """Hay within a windrow."""
    places = ((-0.5, 0.25), (-0.15, 0.2), (0.25, 0.22), (-0.3, 0.55), (0.1, 0.5), (0.38, 0.5), (-0.05, 0.8))
    return tuple(
        line(
            (middle + half * x, foot + height * y),
            (middle + half * x + 7, foot + height * y + (3 if n % 2 else -2)),
            width=0.9,
            tone=Tone.QUIET,
        )
        for n, (x, y) in enumerate(places)
    )


def hour_meter() -> Marks:
    """The hours that it has run."""
    digits = "00125"
    windows = tuple(
        block(29 + 21 * n, 36, 48 + 21 * n, 62, fill=Tone.GROUND, width=0.9) for n in range(len(digits))
    )
    numbers = tuple(
        Sign((38.5 + 21 * n, 49), text, 15, Tone.ACCENT if n > 1 else Tone.QUIET)
        for n, text in enumerate(digits)
    )
    return (
        body((18, 16), (142, 16), (148, 22), (148, 78), (142, 84), (18, 84), (12, 78), (12, 22), width=1.6),
        *windows,
        *numbers,
        Sign((80, 25), "h", 10),
        *(ring(at, 2.0) for at in ((20, 76), (140, 76), (20, 24), (140, 24))),
    )


def above_stubble() -> Marks:
    """At work height: lowest tip to firm ground, not to the stalks."""
    return (
        *stubble(4, 102, 14, 12),
        line((102, 14), (156, 14), width=1.6),
        block(10, 84, 112, 91),
        block(20, 70, 34, 84),
        *wheel((27, 32), 18),
        line((27, 32), (27, 72), width=4),
        *(mark for x, tip in ((52, 42), (74, 38), (96, 36)) for mark in tine((x, 78), (x + 6, tip))),
        *measure((115, 14), (115, 36)),
        line((104, 36), (134, 36), width=0.7, tone=Tone.QUIET),
        *rule((128, 14), 72, 10),
    )


def windrow_section() -> Marks:
    """Across the windrow: even and clean, or with soil in it and hay left beside it."""
    soil = tuple(
        disc(at, 2.0, tone=Tone.ACCENT) for at in ((104, 26), (114, 36), (122, 25), (97, 23), (112, 24))
    )
    left_lying = tuple(
        line((x, 18), (x + 6, 22 + n % 2 * 3), width=1.8, tone=Tone.ACCENT)
        for n, x in enumerate((136, 141, 146))
    )
    return (
        *stubble(4, 74, 16),
        mound(39, 16, 31, 38),
        *_stalks(39, 16, 26, 36),
        Stroke(mound(39, 20, 34, 44).points[1:-1], 1.4, Tone.ACCENT, dash=True),
        *stubble(82, 156, 16),
        mound(110, 16, 26, 32, 8),
        *soil,
        *left_lying,
        *_stalks(110, 22, 18, 30),
        line((78, 8), (78, 92), width=0.8, tone=Tone.QUIET, dash=True),
        Stroke(((30, 78), (37, 70), (50, 88)), 3.0, Tone.ACCENT),
        Sign((118, 78), "?", 18, Tone.ACCENT),
    )


def hose_looked_at() -> Marks:
    """Where a hose bends and crosses: what rubs, what swells, what drips."""
    bend = ((12, 82), (64, 82), *around((70, 56), 26, 90, -90), (96, 4))
    return (
        block(36, 22, 86, 72),
        Stroke(bend, 10.0, Tone.DARK),
        ring((96, 30), 8, fill=Tone.DARK, width=0),
        *(line((91, y), (101, y + 6), width=1.2, tone=Tone.ACCENT) for y in (24, 30)),
        *(ring(at, 14, width=1.8, tone=Tone.ACCENT) for at in ((88, 74), (96, 30))),
        block(6, 72, 24, 92),
        drop((15, 54), 5),
        drop((15, 36), 4),
        *eye((144, 52), 11),
        line((128, 56), (106, 70), width=0.9, tone=Tone.ACCENT, dash=True),
        line((128, 48), (113, 38), width=0.9, tone=Tone.ACCENT, dash=True),
    )


def magnet_plug() -> Marks:
    """The drain plug's magnet: mud or chips, wiped on white paper."""
    thread = tuple(line((34, y), (62, y + 2), width=0.8) for y in range(50, 66, 4))
    return (
        body((30, 72), (66, 72), (66, 88), (62, 92), (34, 92), (30, 88)),
        line((42, 72), (42, 92), width=0.8),
        line((54, 72), (54, 92), width=0.8),
        block(26, 67, 70, 72),
        block(34, 48, 62, 67),
        *thread,
        block(40, 24, 56, 48, fill=Tone.DARK),
        *(_chip(at) for at in ((38, 40), (58, 34), (40, 24), (52, 21), (47, 18), (57, 44))),
        *sheet(Box(88, 12, 152, 80), corner=11),
        *(_chip(at) for at in ((104, 52), (118, 60), (112, 38), (126, 46), (132, 30), (104, 26), (120, 26))),
        *arrow((68, 34), (84, 34), width=2.0),
    )


def _chip(at: Point) -> Stroke:
    """A chip of metal."""
    x, y = at
    return solid((x - 3, y - 1), (x + 1, y - 2.4), (x + 3.4, y + 1.2), (x - 1, y + 2.6), tone=Tone.ACCENT)


def customer_tells() -> Marks:
    """In his words: noise, heat, drips, something left lying."""
    return (
        *person(22, 8, 70),
        *bubble(Box(46, 24, 154, 92), (33, 64)),
        *(Stroke(around((58, 70), r, -40, 80), 1.8, Tone.ACCENT) for r in (6, 12, 18)),
        *(Stroke(waves((x, 56), (x, 82), 2.2, 2), 1.8, Tone.ACCENT) for x in (94, 102, 110)),
        drop((134, 64), 6),
        *(
            line((x, 32), (x + 9, 36 + n % 2 * 4), width=1.8, tone=Tone.ACCENT)
            for n, x in enumerate((68, 76, 84, 98, 106, 114))
        ),
        line((58, 30), (142, 30), width=1.2),
    )


def yield_of_area() -> Marks:
    """Tonnes of hay on a hectare."""
    field = ((8, 10), (126, 10), (152, 60), (44, 60))
    swaths = tuple(
        body(
            (24 + 36 * n, 13),
            (38 + 36 * n, 13),
            (68 + 30 * n, 57),
            (60 + 30 * n, 57),
            fill=Tone.BODY,
        )
        for n in range(3)
    )
    return (
        body(*field, fill=Tone.GROUND),
        *swaths,
        *(
            line((30 + 36 * n, 16), (62 + 30 * n, 54), width=1.6, tone=Tone.ACCENT, dash=True)
            for n in range(3)
        ),
        Sign((96, 80), "t/ha", 15, Tone.ACCENT),
    )


def picked_up() -> Marks:
    """The machine behind it takes the windrow up."""
    hay = waves((4, 26), (70, 26), 2.4, 4)
    return (
        *stubble(4, 156, 12),
        body((4, 13), (72, 13), (70, 26), *reversed(hay), fill=Tone.BODY),
        ring((78, 24), 9, fill=Tone.GROUND),
        *(line((78, 24), around((78, 24), 12, t, 1)[0], width=1.4) for t in range(20, 380, 60)),
        body((84, 28), (92, 70), (144, 70), (152, 56), (152, 28)),
        *wheel((124, 26), 14),
        *arrow((20, 40), (62, 40), width=2.2, head=8),
        Sign((118, 84), "t/h", 13, Tone.ACCENT),
        Stroke(around((118, 50), 14)[:-1], 1.2, Tone.QUIET, closed=True, dash=True),
    )
