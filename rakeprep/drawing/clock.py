"""A rotor as a clock face: where it is not read, and its plane as lines of one height."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from rakeprep.drawing.shapes import Point

STEPS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5)  # m between two level lines
MOST_LINES = 9
FLAT, STEEPEST = 1e-6, 10.0  # m; beyond these there is nothing to draw
GAP = 3  # hours; a wider gap is where the cam lifts the arm


@dataclass(frozen=True, slots=True)
class LevelLines:
    """A plane from above: the unit vector uphill, and lines (height in m, share of the radius uphill)."""

    uphill: Point
    lines: tuple[tuple[float, float], ...]
    step: float


def widest_gap(hours: Sequence[int]) -> tuple[int, int, int]:
    """Where the clock is not read: the hour before, the hour after, and how many hours lie between."""
    order = sorted({hour % 12 for hour in hours})
    gaps = [(order[(n + 1) % len(order)] - hour) % 12 or 12 for n, hour in enumerate(order)]
    widest = max(range(len(gaps)), key=lambda n: gaps[n])
    return order[widest], (order[widest] + gaps[widest]) % 12, gaps[widest]


def in_gap(hours: Sequence[int], hour: float) -> bool:
    """Whether the cam lifts the arm at this hour; fractions of an hour are allowed."""
    first, _, gap = widest_gap(hours)
    return gap >= GAP and (hour - first) % 12 < gap


def hour_of(point: Point) -> float:
    """The hour in whose direction a point lies, seen from the middle; x to the right, y ahead."""
    return math.degrees(math.atan2(point[0], point[1])) / 30 % 12


def level_lines(centre: float, front_rear: float, right_left: float) -> LevelLines | None:
    """Lines of one height on a plane; None where it is level or beyond sense.

    Args:
        centre: height of the middle in m.
        front_rear: how much higher the front of the circle is than its rear, in m.
        right_left: how much higher its right is than its left, in m.
    """
    along, across = front_rear / 2, right_left / 2
    steepest = math.hypot(along, across)
    if not FLAT < steepest < STEEPEST:
        return None
    step = next((s for s in STEPS if 2 * steepest / s <= MOST_LINES), STEPS[-1])
    first, last = (math.ceil((centre - steepest) / step), math.floor((centre + steepest) / step))
    found = tuple((n * step, (n * step - centre) / steepest) for n in range(first, last + 1))
    return LevelLines((across / steepest, along / steepest), found, step)
