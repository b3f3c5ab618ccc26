"""The rear of the tractor, its lower links, and the headstock of the machine."""

from __future__ import annotations

from rakeprep.drawing.measures import BEAM, Measures, Part, Piece
from rakeprep.drawing.shapes import (
    Circle,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Role,
    RoundedBox,
    Shape,
    bar,
)
from rakeprep.text import msg

# Shares of the wheelbase that give an ordinary tractor; looks only.
TYRE_LENGTH, TYRE_WIDTH, HALF_TRACK, HALF_BODY, AHEAD = 0.60, 0.185, 0.345, 0.135, 0.36


def tractor_piece(m: Measures) -> Piece:
    """Rear wheels and body, cut off a little ahead of the rear axle to leave room for the machine."""
    base, axle = m.wheelbase, m.tractor_axle
    half, cut = HALF_BODY * base, axle + AHEAD * base
    body = (
        (-half, axle - 0.11 * base),
        (half, axle - 0.11 * base),
        (half, cut - 0.045 * base),
        (half * 0.33, cut),
        (-half * 0.33, cut - 0.045 * base),
        (-half, cut),
    )
    wheels = tuple(shape for side in (-1, 1) for shape in _tyre((side * HALF_TRACK * base, axle), base))
    shapes = (
        bar("tractor", Role.LIGHT, (-HALF_TRACK * base, axle), (HALF_TRACK * base, axle), 0.05 * base),
        *wheels,
        Polygon("tractor", Role.OUTLINE, body),
        RoundedBox("tractor", Role.LIGHT, (0, axle + 0.08 * base), half * 1.84, 0.26 * base, 0.05 * base),
        Label("tractor", Role.LIGHT, (0, axle + 0.08 * base), msg("tractor"), half * 1.8),
    )
    return Piece(shapes, (Part("tractor", "tractor", (HALF_TRACK * base, axle + 0.02 * base)),))


def _tyre(centre: Point, base: float) -> tuple[RoundedBox | Line, ...]:
    """A rear tyre with the slanting bars of its tread."""
    x, y = centre
    width, length = TYRE_WIDTH * base, TYRE_LENGTH * base
    treads = tuple(
        Line("tractor", Role.LIGHT, (x, y + k * length), (x + side * width * 0.42, y + (k - 0.06) * length))
        for k in (-0.36, -0.24, -0.12, 0.0, 0.12, 0.24, 0.36)
        for side in (-1, 1)
    )
    return RoundedBox("tractor", Role.TYRE, centre, width, length, 0.05 * base), *treads


def hitch_piece(m: Measures) -> Piece:
    """Lower links from the tractor, pins, headstock and the fork that leads to the beam."""
    base, span = m.wheelbase, m.half_span
    start = m.tractor_axle - 0.06 * base
    fork_end = min(-420.0, m.input[1])
    links = tuple(
        bar("hitch", Role.OUTLINE, (side * HALF_BODY * 0.8 * base, start), (side * span, 0), 55)
        for side in (-1, 1)
    )
    fork = (
        (-span * 0.8, -40),
        (span * 0.8, -40),
        (BEAM / 2, fork_end),
        (-BEAM / 2, fork_end),
    )
    pins = tuple(Circle("hitch", Role.STRONG, (side * span, 0), 48) for side in (-1, 1))
    shapes: tuple[Shape, ...] = (
        *links,
        Polygon("frame", Role.OUTLINE, fork),
        bar("hitch", Role.STRONG, (-span - 70, -35), (span + 70, -35), 70),
        *pins,
    )
    return Piece(shapes, (Part("hitch", "hitch", (-span - 210, -35)),))


def beam_piece(m: Measures) -> Piece:
    """The beam from the headstock to the transport axle."""
    front, rear = min(-400.0, m.input[1]), m.axle - 160
    half = BEAM / 2
    beam = ((-half, front), (half, front), (half * 0.85, rear), (-half * 0.85, rear))
    middle = (m.splitter[1] + m.axle) / 2
    shapes = (
        Polygon("frame", Role.OUTLINE, beam),
        Polyline("frame", Role.LIGHT, ((0, m.splitter[1] - 260), (0, rear + 90))),
    )
    parts = (
        Part("machine", "machine", (0, middle)),
        Part("frame", "machine", (0, middle + (m.splitter[1] - middle) * 0.5)),
    )
    return Piece(shapes, parts)
