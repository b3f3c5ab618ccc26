"""The lamps of a machine in a row as seen from behind, as shapes on paper in millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from rakeprep.drawing.shapes import Circle, Line, Point, Polygon, Role, RoundedBox, Shape, at_clock
from rakeprep.model.profile import Lamp, Side

ORDER = ("left-turn", "right-turn", "left-tail", "right-tail", "stop", "fog", "plate")  # from outside inward
RADIUS, RING = 1.7, 2.5
ROOM = 2.9  # mm from the middle of an outer lamp to the end of its housing
HANDS = {Side.LEFT: -1, Side.NEITHER: 0, Side.RIGHT: 1}


def in_order(lamps: Sequence[Lamp]) -> list[Lamp]:
    """The lamps from the left to the right."""
    found: list[Lamp] = []
    for side in HANDS:
        own = sorted((lamp for lamp in lamps if lamp.side is side), key=_rank)
        found += own[::-1] if side is Side.RIGHT else own
    return found


def _rank(lamp: Lamp) -> int:
    return ORDER.index(lamp.function) if lamp.function in ORDER else len(ORDER)


def places(lamps: Sequence[Lamp], width: float, pitch: float = 5.6) -> dict[str, float]:
    """How far from the left end of a row ``width`` mm long each lamp is: at its end, or in the middle."""
    found: dict[str, float] = {}
    most = max((sum(lamp.side is side for lamp in lamps) for side in HANDS), default=1)
    own = min(pitch, width / (3 * max(most, 1)))
    for side, hand in HANDS.items():
        row = [lamp for lamp in in_order(lamps) if lamp.side is side]
        for number, lamp in enumerate(row):
            at = ROOM + own * number
            if hand > 0:
                at = width - ROOM - own * (len(row) - 1 - number)
            elif not hand:
                at = width / 2 + own * (number - (len(row) - 1) / 2)
            found[lamp.key] = at
    return found


def housings(lamps: Sequence[Lamp], start: Point, at: Mapping[str, float]) -> Iterator[Shape]:
    """The bar, and a housing around the lamps of each side."""
    x, y = start
    if at:
        yield Line("lights", Role.LIGHT, (x + min(at.values()), y), (x + max(at.values()), y))
    for side in HANDS:
        own = [at[lamp.key] for lamp in lamps if lamp.side is side]
        if own:
            middle = x + (min(own) + max(own)) / 2
            yield RoundedBox("lights", Role.LIGHT, (middle, y), max(own) - min(own) + 2 * ROOM, 2 * ROOM, 1.2)


def lamp(part: str, at: Point, lit: bool, dim: bool, expected: bool) -> Iterator[Shape]:
    """One lamp: full where it is lit, half full where it glows, a ring around it where it should be lit."""
    if expected:
        yield Circle(part, Role.EXPECTED, at, RING)
    yield Circle(part, Role.LIT if lit else Role.UNLIT, at, RADIUS)
    if dim and not lit:
        yield Polygon(part, Role.LIT, tuple(at_clock(at, RADIUS, turn) for turn in range(90, 271, 15)))
