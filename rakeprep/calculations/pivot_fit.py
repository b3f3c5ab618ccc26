"""The pivot curve fitted to the distances of the nine places, and the readings that do not lie on it.

Squared and less the height difference, the distance is a plane over the cosine and sine of the turn:

    D^2 - v^2 = a + b cos t + c sin t ,  a = s^2 + q^2 + y0^2 , b = 2 s q , c = 2 q y0

so that one linear fit gives the start and a few Gauss-Newton steps the best fit of the distances.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import Impossible, demand, finite, not_negative, positive
from rakeprep.calculations.levelling import CannotTell
from rakeprep.calculations.network import solve
from rakeprep.calculations.planes import fit_plane
from rakeprep.text import Message, msg, plural

Metres = Annotated[float, "m"]
Radians = Annotated[float, "rad"]
Triple = tuple[float, float, float]

OFF_LIMIT = 0.015
FEWEST = 4
ROUNDS = 12  # far more than readings that belong together need
LONGEST = 5.0
MIDDLE_DOUBT = 0.005


@dataclass(frozen=True, slots=True)
class Distance:
    """One reading groove to groove: the turn it was read at, and how much higher one groove stood."""

    turn: Radians
    length: Metres
    upward: Metres = 0.0


@dataclass(frozen=True, slots=True)
class Pivot:
    """One vertical pivot: tractor groove to pivot s, pivot to machine groove q, PTO beside its line y0."""

    front: Metres
    rear: Metres
    sideways: Metres


@dataclass(frozen=True, slots=True)
class PivotFit:
    """The fitted curve and what the readings say about it.

    ``pivot`` is None where no single pivot gives the fitted curve; ``turned_round`` is the other
    pivot that gives the very same distances, so that only the machine tells which is meant.
    ``departures`` are readings minus curve; ``off`` the places in the readings that do not belong to
    it. One such reading is left out of the curve; several mean that it cannot be told which is wrong.
    """

    pivot: Pivot | None
    turned_round: Pivot | None
    departures: tuple[float, ...]
    sd: Metres
    off: tuple[int, ...]
    says: Message | None


def fit_pivot(
    readings: Sequence[Distance], front_longer: bool = True, off_limit: Metres = OFF_LIMIT
) -> PivotFit:
    """Fit pivot distances to the readings and name those that lie off the curve.

    A check of the readings, not a replacement: real hitches have more than one pivot. A reading is
    off if the curve through all others misses it by more than ``off_limit``, and of several such
    readings those count without which the rest fits about as well as it can.

        D = sqrt( (s + q cos t)^2 + (q sin t + y0)^2 + v^2 )

    Args:
        readings: at least four, at three or more different turns.
        front_longer: whether the pivot lies nearer the machine (s above q), which the distances
            alone cannot tell.
        off_limit: departure that is not worth a word [m]; default 15 mm, a rule of thumb.

    Returns:
        the :class:`PivotFit` [m].

    Raises:
        CannotTell: too few readings or turns.
        Impossible: a distance not above zero, below its height difference, or a limit below zero.

    Example:
        >>> from rakeprep.calculations.joints import pivot_distance
        >>> turns = [math.radians(t) for t in (-70, -35, 0, 35, 70)]
        >>> found = fit_pivot([Distance(t, pivot_distance(t, 0.600, 0.465)) for t in turns])
        >>> round(found.pivot.front, 3), round(found.pivot.rear, 3), found.off
        (0.6, 0.465, ())

    Source: geometry; least squares by Gauss-Newton; 15 mm is a rule of thumb.
    """
    _check(readings, off_limit)
    _curve(readings)
    off = _off(readings, off_limit)
    kept = [each for place, each in enumerate(readings) if off != (place,)]
    curve = _curve(kept)
    spread = math.fsum(_departure(each, curve) ** 2 for each in kept)
    sd = math.sqrt(spread / (len(kept) - 3)) if len(kept) > 3 else 0.0
    pivots = _pivots(curve)
    pivot, other = pivots if front_longer else pivots[::-1]
    departures = tuple(_departure(each, curve) for each in readings)
    return PivotFit(pivot, other, departures, sd, off, _says(off, pivot))


def _check(readings: Sequence[Distance], off_limit: float) -> None:
    not_negative(off_limit, msg("limit of the departure"))
    if len(readings) < FEWEST:
        raise CannotTell(
            plural(
                "The pivot cannot be told from these readings, because there is only {count}; it takes four.",
                "The pivot cannot be told from these readings, because there are only {count}; it takes "
                "four.",
                len(readings),
            )
        )
    for each in readings:
        positive(each.length, msg("distance from groove to groove"))
        demand(each.length < LONGEST, msg("No driveline is that long."))
        finite(each.turn, msg("angle of turn"))
        finite(each.upward, msg("height difference of the grooves"))
        demand(
            abs(each.upward) < each.length,
            msg("A distance is smaller than the height between its ends; measure it again."),
        )


def _curve(readings: Sequence[Distance]) -> Triple:
    """a, b, c of the curve that fits the distances best."""
    points = [(*_unit(each.turn), each.length**2 - each.upward**2) for each in readings]
    try:
        plane = fit_plane(points)
    except Impossible as reason:
        raise CannotTell(
            msg(
                "The pivot cannot be told from these readings, because it takes three different turns: "
                "straight, full left and full right."
            )
        ) from reason
    curve = (plane.c, plane.p, plane.q)
    for _ in range(ROUNDS):
        step = _gauss_newton(readings, curve)
        curve = (curve[0] + step[0], curve[1] + step[1], curve[2] + step[2])
    return curve


def _unit(turn: float) -> tuple[float, float]:
    return math.cos(turn), math.sin(turn)


def _gauss_newton(readings: Sequence[Distance], curve: Triple) -> list[float]:
    """The next step; none where the curve would need the root of a negative number."""
    normal = [[0.0] * 3 for _ in range(3)]
    right = [0.0] * 3
    for each in readings:
        squared = _squared(each, curve)
        if squared <= 0:
            return [0.0, 0.0, 0.0]
        row = [part / (2 * math.sqrt(squared)) for part in (1.0, math.cos(each.turn), math.sin(each.turn))]
        miss = each.length - math.sqrt(squared)
        for i in range(3):
            right[i] += row[i] * miss
            for j in range(3):
                normal[i][j] += row[i] * row[j]
    try:
        return solve(normal, right)
    except Impossible:  # readings so far apart in size that one of them outweighs all others
        return [0.0, 0.0, 0.0]


def _squared(each: Distance, curve: Triple) -> float:
    return curve[0] + curve[1] * math.cos(each.turn) + curve[2] * math.sin(each.turn) + each.upward**2


def _departure(each: Distance, curve: Triple) -> float:
    return each.length - math.sqrt(max(_squared(each, curve), 0.0))


def _pivots(curve: Triple) -> tuple[Pivot | None, Pivot | None]:
    """Both pivots of a, b, c, the one with the longer front first.

    q^2 is either root of x^2 - a x + (b^2 + c^2) / 4 = 0. A pivot in the very middle is a double root,
    which readings may miss by a hair.
    """
    a, b, c = curve
    across = math.hypot(b, c)
    if b <= 0 or a + across <= 0 or (across - a) / (2 * math.sqrt(a + across)) > MIDDLE_DOUBT:
        return None, None
    root = math.sqrt(max(a * a - across * across, 0.0))
    small, large = math.sqrt((a - root) / 2), math.sqrt((a + root) / 2)
    return Pivot(b / (2 * small), small, c / (2 * small)), Pivot(b / (2 * large), large, c / (2 * large))


def _off(readings: Sequence[Distance], limit: float) -> tuple[int, ...]:
    found: dict[int, float] = {}
    for place, each in enumerate(readings):
        others = [other for at, other in enumerate(readings) if at != place]
        if len({tuple(round(part, 6) for part in _unit(other.turn)) for other in others}) < 3:
            continue
        rest = _curve(others)
        left = max(abs(_departure(other, rest)) for other in others)
        miss = abs(_departure(each, rest))
        if miss > limit and miss > 2 * left:
            found[place] = left
    tenable = 2 * max(min(found.values(), default=0.0), limit / 5)
    return tuple(place for place, left in found.items() if left <= tenable)


def _says(off: Sequence[int], pivot: Pivot | None) -> Message | None:
    if len(off) == 1:
        return msg("One distance does not lie on the curve of the others. Measure that place again.")
    if off:
        return msg(
            "The distances do not lie on one curve, and it cannot be told which is wrong. Measure again."
        )
    if pivot is None:
        return msg("No single pivot gives such distances; joint angles cannot be told from them.")
    return None
