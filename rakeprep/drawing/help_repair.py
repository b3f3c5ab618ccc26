"""Small drawings for a repair: safe state, arm and carrier, bolts, and the gearbox that stays."""

from __future__ import annotations

from rakeprep.drawing.help_paper_parts import drop, open_book
from rakeprep.drawing.help_parts import Marks, Strokes, bolt, eye, gearbox, hexagon, tine
from rakeprep.drawing.shapes import Point
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
    turned,
    turning,
)

HOLES: tuple[Point, ...] = ((40, 70), (92, 70), (92, 26), (40, 26))  # of a carrier from its end


def locked_out() -> Marks:
    """The key is out and in the pocket; nobody else can start it."""
    return (
        ring((30, 52), 20, fill=Tone.BODY),
        ring((30, 52), 13, fill=Tone.GROUND),
        block(28.5, 43, 31.5, 61, fill=Tone.DARK),
        *_key(64, 52),
        *arrow((46, 84), (88, 84), width=2.2, head=8),
        Stroke(((122, 50), (122, 64), *around((134, 66), 12, 180, -180), (146, 50)), 4.0),
        block(112, 14, 156, 52),
        disc((134, 36), 4.5),
        solid((132, 36), (136, 36), (137, 24), (131, 24), tone=Tone.INK),
    )


def _key(x: float, y: float) -> Strokes:
    """A key that points to the left, the middle of its shaft at a place."""
    return (
        body(
            (x - 16, y - 3),
            (x - 16, y + 3),
            (x + 18, y + 3),
            (x + 18, y - 3),
            (x - 2, y - 3),
            (x - 2, y - 8),
            (x - 6, y - 8),
            (x - 6, y - 3),
            (x - 10, y - 3),
            (x - 10, y - 8),
            (x - 14, y - 8),
            (x - 14, y - 3),
            fill=Tone.ACCENT,
        ),
        ring((x + 25, y), 11, fill=Tone.ACCENT),
        ring((x + 28, y), 4, fill=Tone.GROUND),
    )


def arm_or_carrier() -> Marks:
    """The arm alone, or its carrier with it; the gearbox stays."""
    return (
        block(2, 24, 24, 86, fill=Tone.DARK),
        body((26, 38), (34, 38), (34, 48), (66, 50), (66, 68), (34, 70), (34, 80), (26, 80)),
        *(hexagon((37, y), 4, fill=Tone.GROUND) for y in (43, 75)),
        block(72, 55, 152, 63),
        *(mark for x in (116, 138) for mark in tine((x, 51), (x + 5, 16))),
        ring((58, 59), 3, fill=Tone.GROUND),
        ring((80, 59), 2.5, fill=Tone.GROUND),
        _outline(69, 11, 155, 71),
        _outline(25, 5, 159, 93),
    )


def _outline(left: float, bottom: float, right: float, top: float) -> Stroke:
    """What belongs together."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Stroke(corners, 1.4, Tone.ACCENT, closed=True, dash=True)


def stamped_number() -> Marks:
    """The number that is stamped into the new part."""
    return (
        block(0, 34, 108, 66),
        ring((14, 50), 6, fill=Tone.GROUND),
        Sign((62, 50), "20417", 15, Tone.ACCENT),
        *eye((144, 50), 10),
        line((128, 50), (112, 50), width=0.9, tone=Tone.ACCENT, dash=True),
        *tine((90, 30), (98, 4)),
    )


def _carrier_end() -> Strokes:
    """A carrier from its end."""
    return (
        block(24, 10, 108, 86),
        ring((66, 48), 17, fill=Tone.DARK),
        *(ring(at, 6, fill=Tone.GROUND) for at in HOLES),
    )


def laid_side_by_side() -> Marks:
    """Out, and counted as they lie side by side."""
    at = (26, 62, 98, 134)
    return (
        block(6, 4, 154, 18),
        *(block(x - 6, 4, x + 6, 18, fill=Tone.GROUND) for x in at),
        *(mark for x in at for mark in bolt((x, 26), 38, 12)),
        *(Sign((x, 86), str(n), 12, Tone.ACCENT) for n, x in enumerate(at, start=1)),
        *(mark for x in (44, 80, 116) for mark in arrow((x, 24), (x, 54), head=6)),
    )


def all_in_again() -> Marks:
    """All of them in their holes again, counted once they are tight."""
    return (
        *_carrier_end(),
        *(hexagon(at, 11, fill=Tone.GROUND) for at in HOLES),
        *(Sign(at, str(n), 9, Tone.ACCENT) for n, at in enumerate(HOLES, start=1)),
        *bolt((138, 40), 26, 10),
        *arrow((138, 34), (138, 14)),
    )


def bolt_as_wanted() -> Marks:
    """Class on the head, length, and whether it is oiled."""
    return (
        hexagon((34, 58), 26),
        Sign((34, 58), "10.9", 12, Tone.ACCENT),
        *bolt((98, 10), 62, 16),
        *measure((74, 10), (74, 72)),
        *(line((70, y), (89, y), width=0.7, tone=Tone.QUIET) for y in (10, 72)),
        drop((140, 52), 8),
        line((128, 22), (152, 22), width=0.8, tone=Tone.QUIET, dash=True),
    )


def torque_in_book() -> Marks:
    """The row of the book for this bolt."""
    return (
        *open_book(6, 12, 112, 66),
        block(66, 40, 112, 52, fill=Tone.ACCENT),
        *(line((x, 20), (x, 74), width=0.8, tone=Tone.QUIET) for x in (82, 97)),
        disc((34, 48), 25, tone=Tone.GROUND),
        hexagon((34, 48), 13),
        ring((34, 48), 6, fill=Tone.GROUND),
        *turning((34, 48), 20, 150, -120),
        hexagon((142, 46), 14),
        ring((142, 46), 6, fill=Tone.GROUND),
        line((126, 46), (115, 46), width=1.6, tone=Tone.ACCENT, dash=True),
    )


def last_pull() -> Marks:
    """The last pull on each bolt, slowly, at the middle of the grip."""
    (x, y) = HOLES[1]
    wrench = turned(
        (
            ring((x, y), 15, width=4),
            block(x + 15, y - 3.4, x + 44, y + 3.4),
            block(x + 44, y - 5, x + 66, y + 5, fill=Tone.DARK),
        ),
        (x, y),
        -20,
    )
    return (
        *_carrier_end(),
        *(hexagon(at, 9, fill=Tone.GROUND) for at in HOLES),
        *wrench,
        *turning((x, y), 24, 130, -100),
        *arrow((140, 46), (130, 20), width=2.2, head=8),
    )


def gearbox_dry() -> Marks:
    """Bolted to the frame as before; a lamp shows that its seal is dry."""
    rays = tuple(
        line((106, 20 + up * 0.5), (76, 22 + up), width=1.0, tone=Tone.ACCENT, dash=True) for up in (-8, 0, 8)
    )
    return (
        block(6, 76, 112, 90, fill=Tone.DARK),
        *gearbox(30, 30, 56, 44),
        *(hexagon((x, 75), 4.5, fill=Tone.GROUND) for x in (40, 76)),
        *rays,
        ring((58, 26), 11, width=2.0, tone=Tone.ACCENT),
        body((108, 10), (118, 14), (150, 14), (150, 26), (118, 26), (108, 30), fill=Tone.DARK),
        drop((132, 60), 8, Tone.QUIET),
        ring((132, 64), 17, width=2.4, tone=Tone.ACCENT),
        line((120, 76), (144, 52), width=2.4, tone=Tone.ACCENT),
    )
