"""The wheels at their places, what carries them, and the transport axle."""

from __future__ import annotations

from collections.abc import Sequence

from rakeprep.drawing.measures import Measures, Part, Piece, mm
from rakeprep.drawing.shapes import Circle, Line, Point, Polyline, Role, RoundedBox, Shape, bar
from rakeprep.model.profile import Profile, Side, Wheel

GROUPS = {Side.LEFT: "chassis-left", Side.RIGHT: "chassis-right", Side.NEITHER: "axle"}


def wheels_piece(profile: Profile, m: Measures) -> Piece:
    """Every wheel, over the light lines of the chassis or axle that carries it."""
    shapes: list[Shape] = []
    for side in (Side.LEFT, Side.RIGHT):
        shapes += _chassis(f"rotor-{side.value}", [_at(w) for w in profile.wheel if w.rotor is side])
    shapes += _axle([_at(w) for w in profile.wheel if w.rotor is Side.NEITHER], m)
    for wheel in profile.wheel:
        shapes += _wheel(profile, wheel)
    parts = tuple(Part(f"wheel-{w.key}", GROUPS[w.rotor], _at(w)) for w in profile.wheel)
    return Piece(tuple(shapes), (*parts, Part("axle", "axle", (0.0, m.axle))))


def _at(wheel: Wheel) -> Point:
    return mm(wheel.right_of_middle), -mm(wheel.behind_pins)


def _chassis(part: str, wheels: Sequence[Point]) -> list[Shape]:
    """A bar across each row of wheels and one along through the rows."""
    if not wheels:
        return []
    rows = sorted({y for _, y in wheels})
    middle = sum(x for x, _ in wheels) / len(wheels)
    shapes: list[Shape] = [Line(part, Role.LIGHT, (middle, rows[0]), (middle, rows[-1]))]
    for row in rows:
        xs = [x for x, y in wheels if y == row]
        shapes.append(Line(part, Role.LIGHT, (min([*xs, middle]), row), (max([*xs, middle]), row)))
    return shapes


def _axle(wheels: Sequence[Point], m: Measures) -> list[Shape]:
    """The transport axle from its left wheels to its right ones."""
    reach = max((abs(x) for x, _ in wheels), default=m.half_rear * 0.8)
    rows = {y for _, y in wheels} | {m.axle}
    extra: list[Shape] = [
        Line("axle", Role.LIGHT, (0, min(rows)), (0, max(rows))),
        *(Line("axle", Role.LIGHT, (-reach, y), (reach, y)) for y in sorted(rows) if y != m.axle),
    ]
    return [*extra, bar("axle", Role.STRONG, (-reach, m.axle), (reach, m.axle), 75)]


def _wheel(profile: Profile, wheel: Wheel) -> list[Shape]:
    """One wheel; a castor has its fork and its pivot ahead of it, as it runs."""
    key, (x, y) = f"wheel-{wheel.key}", _at(wheel)
    tyre = profile.tyre_of(wheel)
    width, length = mm(tyre.width), mm(tyre.diameter)
    shapes: list[Shape] = [RoundedBox(key, Role.TYRE, (x, y), width, length, min(width, length) * 0.3)]
    if not wheel.castor:
        return shapes
    pivot, side = y + length * 0.78, width * 0.5 + 35
    fork = (
        (x - side, y),
        (x - side, y + length * 0.42),
        (x, pivot),
        (x + side, y + length * 0.42),
        (x + side, y),
    )
    return [Polyline(key, Role.OUTLINE, fork), *shapes, Circle(key, Role.STRONG, (x, pivot), 42)]
