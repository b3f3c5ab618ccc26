"""The headland limiter: what one trial teaches, and how many holes that makes, with doubt."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.levelling import CannotTell
from rakeprep.text import Message, msg, plural

Metres = Annotated[float, "m"]


@dataclass(frozen=True, slots=True)
class Limiter:
    """Ratio of tine to limiter, exact move, whole holes, what they give and what that leaves.

    ``left`` is the wanted change less what the holes give: above zero the tines are still too low.
    """

    ratio: Estimate
    move: Estimate
    holes: int
    gives: Estimate
    left: Estimate
    says: Message


def headland_limiter(
    moved: Estimate, changed: Estimate, wanted: Estimate, hole: Estimate, at_least: bool = False
) -> Limiter:
    """Holes to move the limiter, from one trial on this machine, nearest to the wanted change.

        ratio = changed / moved ;  move = wanted / ratio ;  holes nearest to move / hole
        gives = holes hole ratio ;  left = wanted - gives

    Args:
        moved: how far the limiter was moved in the trial [m].
        changed: what that changed at the tines [m].
        wanted: wanted change at the tines, either sign [m].
        hole: distance from one hole to the next [m].
        at_least: the wanted height is a minimum: where the nearest hole leaves the tines too low beyond
            doubt, one more is taken.

    Returns:
        the :class:`Limiter` [m], ratio [1].

    Raises:
        CannotTell: the trial changed no more at the tines than the readings can tell.
        Impossible: no move in the trial, a hole distance not above zero, a doubt below zero, values that
            are no numbers.

    Example:
        >>> trial = Estimate(0.050, 0.002), Estimate(0.140, 0.004)
        >>> limiter = headland_limiter(*trial, Estimate(0.060, 0.003), Estimate(0.020, 0.0))
        >>> round(limiter.ratio.value, 1), limiter.holes, round(limiter.gives.value, 3)
        (2.8, 1, 0.056)
        >>> round(limiter.ratio.doubt, 2), round(limiter.left.value, 3), round(limiter.left.doubt, 4)
        (0.14, 0.004, 0.0041)

    Source: proportion; doubt by JCGM 100:2008 (GUM), equation 12.
    """
    for each, what in (
        (moved, msg("move of the limiter")),
        (changed, msg("change at the tines")),
        (wanted, msg("wanted change")),
        (hole, msg("distance of the holes")),
    ):
        finite(each.value, what)
        not_negative(each.doubt, msg("doubt"))
    positive(hole.value, msg("distance of the holes"))
    demand(moved.value != 0, msg("Without a move nothing can be learned from the trial."))
    if abs(changed.value) <= changed.doubt:
        raise CannotTell(
            msg("The move cannot be told, because the trial changed nothing at the tines that can be seen.")
        )
    positive(abs(changed.value / moved.value), msg("ratio of tine to limiter"))
    ratio = _product(changed.value / moved.value, moved, changed)
    exact = wanted.value / ratio.value
    finite(exact / hole.value, msg("number of holes"))
    move = Estimate(exact, combine([(1 / ratio.value, wanted.doubt), (exact / ratio.value, ratio.doubt)]))
    holes = round(exact / hole.value)
    found = _made(ratio, move, holes, wanted, hole, moved.value)
    if at_least and found.left.value > found.left.doubt:
        holes += 1 if ratio.value > 0 else -1
        found = _made(ratio, move, holes, wanted, hole, moved.value)
    return found


def _product(value: float, *factors: Estimate) -> Estimate:
    """A product or quotient of independent factors: their doubts in proportion are squared and added."""
    shares = (each.doubt / each.value for each in factors)
    return Estimate(value, abs(value) * math.hypot(*shares))


def _made(
    ratio: Estimate, move: Estimate, holes: int, wanted: Estimate, hole: Estimate, trial: float
) -> Limiter:
    gives = _product(holes * hole.value * ratio.value, ratio, hole) if holes else Estimate(0.0, 0.0)
    left = Estimate(wanted.value - gives.value, combine([(1, wanted.doubt), (-1, gives.doubt)]))
    return Limiter(ratio, move, holes, gives, left, _said(holes, trial))


def _said(holes: int, trial: float) -> Message:
    if holes == 0:
        return msg("Leave it: the wanted change is less than half a hole.")
    if (holes > 0) == (trial > 0):
        return plural(
            "Move the limiter {count} hole, the way of the trial.",
            "Move the limiter {count} holes, the way of the trial.",
            abs(holes),
        )
    return plural(
        "Move the limiter {count} hole, against the way of the trial.",
        "Move the limiter {count} holes, against the way of the trial.",
        abs(holes),
    )
