"""Lamps and boards at the rear, across the width that the machine has on the road."""

from __future__ import annotations

from rakeprep.drawing.measures import Measures, Part, Piece, together
from rakeprep.drawing.shapes import Line, Role, RoundedBox, bar
from rakeprep.model.profile import Lamp, Profile, Side

PITCH = 350.0  # usual distance of two lamps
MARKS = 690.0  # usual distance of two marks, which are wider than what they stand for
WIDEST = 6600.0  # a row of marks
LAMP_ROW, BOARD_ROW = 410.0, 1080.0  # behind the bar


def rear_piece(profile: Profile, m: Measures) -> Piece:
    """The lamp bar with every lamp on its side, and the boards behind it."""
    reach = m.half_rear
    shapes = (
        Line("frame", Role.LIGHT, (0, m.axle - 160), (0, m.rear)),
        bar("frame", Role.LIGHT, (-reach, m.rear), (reach, m.rear), 50),
    )
    return together(Piece(shapes), _lamps(profile, m), _boards(profile, m))


def _lamps(profile: Profile, m: Measures) -> Piece:
    """The lamps on their bar, and a row of marks behind them in the same order from left to right."""
    placed: list[tuple[float, str]] = []
    for side, hand in ((Side.LEFT, -1), (Side.NEITHER, 0), (Side.RIGHT, 1)):
        lamps = [lamp for lamp in profile.lights.lamp if lamp.side is side]
        xs = _places(lamps, hand, m.half_rear)
        placed += [(x, f"lamp-{lamp.key}") for lamp, x in zip(lamps, xs, strict=True)]
    placed.sort(key=lambda one: one[0])
    marks = _row(len(placed))
    return Piece(
        tuple(RoundedBox(key, Role.STRONG, (x, m.rear), 150, 110, 30) for x, key in placed),
        tuple(
            Part(key, "lights", (x, m.rear), (mark, m.rear - LAMP_ROW))
            for (x, key), mark in zip(placed, marks, strict=True)
        ),
    )


def _boards(profile: Profile, m: Measures) -> Piece:
    """The boards and signs in a row; the data file does not say where on the machine they are."""
    y = m.rear - BOARD_ROW
    xs = _row(len(profile.board))
    width = min(300.0, WIDEST * 0.8 / max(1, len(xs)))
    keys = [f"board-{board.key}" for board in profile.board]
    return Piece(
        tuple(RoundedBox(key, Role.OUTLINE, (x, y), width, 100, 12) for key, x in zip(keys, xs, strict=True)),
        tuple(Part(key, "lights", (x, y)) for key, x in zip(keys, xs, strict=True)),
    )


def _row(count: int) -> list[float]:
    """Places in a row around the middle, closer together where there are many."""
    pitch = min(MARKS, WIDEST / max(1, count))
    return [pitch * (n - (count - 1) / 2) for n in range(count)]


def _places(lamps: list[Lamp], hand: int, reach: float) -> list[float]:
    """Where the lamps of one side stand: from the outer end inward, or around the middle."""
    if not hand:
        return [PITCH * (n - (len(lamps) - 1) / 2) for n in range(len(lamps))]
    pitch = min(PITCH, reach * 0.9 / max(1, len(lamps)))
    return [hand * (reach - 75 - pitch * n) for n in range(len(lamps))]
