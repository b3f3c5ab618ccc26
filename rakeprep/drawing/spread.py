"""Moving marks apart that would cover each other, by as little as will do."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rakeprep.drawing.shapes import Box, Point, at_clock

Cells = dict[tuple[int, int], list[Point]]


def spread(homes: Sequence[Point], least: float, inside: Box | None = None) -> list[Point]:
    """Places for marks near their homes, every two at least ``least`` apart.

    Who comes first stays nearest to home. Marks stay ``inside`` as long as there is room. A
    mark that has to move looks for the nearest free place on rings around its home, first on the side
    away from what is in its way.
    """
    cells: Cells = {}
    placed: list[Point] = []
    for home in homes:
        spot = _free_spot(home, least, inside, cells)
        cells.setdefault(_cell(spot, least), []).append(spot)
        placed.append(spot)
    return placed


def _free_spot(home: Point, least: float, inside: Box | None, cells: Cells) -> Point:
    """The first free place for one mark."""
    if inside is not None:
        home = inside.nearest(home)
    near = _blocking(home, least, cells)
    if near is None:
        return home
    away = _direction(near, home)
    patience = 0.0 if inside is None else inside.width + inside.height
    return next(
        spot
        for radius, spot in _rings(home, least, away)
        if (inside is None or radius > patience or inside.holds(spot))
        and _blocking(spot, least, cells) is None
    )


def _rings(home: Point, least: float, away: float) -> Iterator[tuple[float, Point]]:
    """Places around a home, ring by ring, each ring beginning at one direction and going both ways."""
    ring = 0
    while True:
        ring += 1
        radius = ring * least * 0.35
        count = 6 + 4 * ring
        for n in range(count):
            turn = (n + 1) // 2 * (360 / count) * (1 if n % 2 else -1)
            yield radius, at_clock(home, radius, away + turn)


def _blocking(spot: Point, least: float, cells: Cells) -> Point | None:
    """The nearest mark that is closer than ``least``, if any."""
    cx, cy = _cell(spot, least)
    close = [
        (math.dist(spot, other), other)
        for x in (cx - 1, cx, cx + 1)
        for y in (cy - 1, cy, cy + 1)
        for other in cells.get((x, y), ())
    ]
    distance, nearest = min(close, default=(math.inf, spot))
    return nearest if distance < least else None


def _cell(spot: Point, least: float) -> tuple[int, int]:
    return math.floor(spot[0] / least), math.floor(spot[1] / least)


def _direction(start: Point, end: Point) -> float:
    """The clock direction from one point to another; to the right when they are the same."""
    if start == end:
        return 90.0
    return math.degrees(math.atan2(end[0] - start[0], end[1] - start[1]))
