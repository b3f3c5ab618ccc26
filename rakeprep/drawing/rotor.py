"""A rotor from above: its tip circle, its arms with their tines, and which way it turns."""

from __future__ import annotations

import math

from rakeprep.drawing.measures import Measures, Part, Piece, RotorAt, together
from rakeprep.drawing.shapes import Arc, Circle, Label, Line, Point, Polyline, Role, Shape, at_clock
from rakeprep.model.profile import Side, Turning
from rakeprep.text import msg

NAMES = {Side.LEFT: msg("left rotor"), Side.RIGHT: msg("right rotor")}


def rotors_piece(m: Measures) -> Piece:
    """Both rotors; the arms of the right one are the mirror image of the left one's."""
    return together(*(together(_disc(rotor), _arms(rotor)) for rotor in m.rotors))


def hubs_piece(m: Measures) -> Piece:
    """The hubs, which lie above everything else on a rotor."""
    return Piece(tuple(Circle(r.key, Role.OUTLINE, r.centre, r.radius * 0.14) for r in m.rotors))


def _disc(rotor: RotorAt) -> Piece:
    """Tip circle, name and direction of turning."""
    forward = 1 if rotor.rotor.turning is Turning.CLOCKWISE else -1
    outer = -forward if rotor.hand * forward < 0 else forward
    first, last = (50, 12) if rotor.hand * forward < 0 else (12, 50)
    arrow = Arc(
        rotor.key,
        Role.ARROW,
        rotor.centre,
        rotor.radius * 1.07,
        outer * first,
        outer * (last - first),
        arrow=True,
    )
    below = (rotor.centre[0], rotor.centre[1] - rotor.radius - 170)
    shapes: tuple[Shape, ...] = (
        Circle(rotor.key, Role.DISC, rotor.centre, rotor.radius),
        arrow,
        Label(rotor.key, Role.LIGHT, below, NAMES[rotor.side], 1.5 * rotor.radius),
    )
    return Piece(shapes, (Part(rotor.key, rotor.key, rotor.centre),))


def _arms(rotor: RotorAt) -> Piece:
    """Every arm at its angle, number one ahead, counted clockwise seen from above on both rotors."""
    count = rotor.rotor.arms
    rings = 1 if count <= 18 else 2
    shapes: list[Shape] = []
    parts = []
    for number in range(count):
        key = f"arm-{rotor.side.name[0]}A{number + 1:02d}"
        angle = 360 * number / count
        shapes += _arm(rotor, key, angle)
        reach = rotor.radius * (0.84 if number % rings == 0 else 0.62)
        parts.append(Part(key, rotor.key, at_clock(rotor.centre, reach, angle)))
    return Piece(tuple(shapes), tuple(parts))


def _arm(rotor: RotorAt, key: str, angle: float) -> list[Shape]:
    """One arm with its tines, which trail: to the left of it on the left rotor, mirrored on the right."""
    r, trail = rotor.radius, rotor.hand
    tines = rotor.rotor.tines_per_arm
    shapes: list[Shape] = [
        Polyline(
            key,
            Role.ARM,
            (
                at_clock(rotor.centre, r * 0.13, angle),
                at_clock(rotor.centre, r * 0.45, angle),
                at_clock(rotor.centre, r * 0.93, angle + trail * 2.0),
            ),
        )
    ]
    for tine in range(tines):
        share = 0.60 + 0.31 * (tine / (tines - 1) if tines > 1 else 1.0)
        root = at_clock(rotor.centre, r * share, angle + trail * 2.0 * (share - 0.45) / 0.48)
        shapes.append(Line(key, Role.ARM, root, _tip(rotor, root, angle, trail)))
    return shapes


def _tip(rotor: RotorAt, root: Point, angle: float, trail: int) -> Point:
    """Where a tine ends, seen from above: back from the arm and a little outward, never past the circle."""
    tip = at_clock(root, rotor.radius * 0.095, angle + trail * 68)
    reach = math.dist(tip, rotor.centre)
    if reach <= rotor.radius or reach == 0:
        return tip
    share = rotor.radius / reach
    (cx, cy), (x, y) = rotor.centre, tip
    return cx + (x - cx) * share, cy + (y - cy) * share
