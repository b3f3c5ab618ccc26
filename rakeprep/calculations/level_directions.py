"""The lean of a rotor in any direction, each with the doubt that the covariance of the fit gives it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import finite
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.levelling import COVERAGE, Level
from rakeprep.text import msg

Metres = Annotated[float, "m"]
Radians = Annotated[float, "rad"]


def across(found: Level, direction: Radians) -> Estimate:
    """Height toward a direction minus the height opposite, across the whole tip circle.

        d(f) = FR cos f + RL sin f ;  variance with the covariance of FR and RL

    Args:
        found: the rotor's level.
        direction: f, clockwise from straight ahead [rad].

    Returns:
        height difference with its doubt [m].

    Raises:
        Impossible: a direction that is no number.

    Example:
        >>> from rakeprep.calculations.levelling import level
        >>> z = [31, 24, 17, 12, 11, 15, 22]
        >>> found = level([(math.radians(30 * k - 90), h / 1000) for k, h in enumerate(z)], 1.75)
        >>> round(across(found, 0.0).value, 4), round(across(found, math.pi).value, 4)
        (-0.029, 0.029)

    Source: JCGM 100:2008 (GUM), equation 13.
    """
    return _mixed(found, (0.0, *_unit(direction)))


def rim_height(found: Level, direction: Radians) -> Estimate:
    """Height of the plane at the tip circle in a direction.

        z(f) = centre + (FR cos f + RL sin f) / 2

    Args:
        found: the rotor's level.
        direction: f, clockwise from straight ahead [rad].

    Returns:
        height with its doubt [m].

    Raises:
        Impossible: a direction that is no number.

    Example:
        >>> from rakeprep.calculations.levelling import level
        >>> z = [31, 24, 17, 12, 11, 15, 22]
        >>> found = level([(math.radians(30 * k - 90), h / 1000) for k, h in enumerate(z)], 1.75)
        >>> round(rim_height(found, 0.0).value, 4)
        0.0121

    Source: JCGM 100:2008 (GUM), equation 13 and H.3.4.
    """
    cos, sin = _unit(direction)
    return _mixed(found, (1.0, cos / 2, sin / 2))


@dataclass(frozen=True, slots=True)
class Steepest:
    """The greatest lean, toward which side it is high, and how surely the side is known.

    ``toward_doubt`` is half a turn where the lean does not exceed its own doubt: then no side is
    known.
    """

    rise: Estimate
    toward: Radians
    toward_doubt: Radians


def steepest(found: Level) -> Steepest:
    """Greatest lean of the rotor across its tip circle and the direction in which it is high.

        rise = sqrt(FR^2 + RL^2) ;  toward = atan2(RL, FR)
        doubt of the direction = atan( doubt at right angles / rise )

    Args:
        found: the rotor's level.

    Returns:
        the :class:`Steepest` [m, rad].

    Raises:
        Impossible: nothing.

    Example:
        >>> from rakeprep.calculations.levelling import level
        >>> z = [31, 24, 17, 12, 11, 15, 22]
        >>> found = steepest(level([(math.radians(30 * k - 90), h / 1000) for k, h in enumerate(z)], 1.75))
        >>> round(found.rise.value, 4), round(math.degrees(found.toward))
        (0.0306, -161)

    Source: geometry; JCGM 100:2008 (GUM), equation 13.
    """
    toward = math.atan2(found.right_left.value, found.front_rear.value)
    rise = across(found, toward)
    if rise.value <= rise.doubt:
        return Steepest(rise, toward, math.pi)
    side = across(found, toward + math.pi / 2)
    return Steepest(rise, toward, math.atan(side.doubt / rise.value))


def _unit(direction: float) -> tuple[float, float]:
    finite(direction, msg("direction"))
    return math.cos(direction), math.sin(direction)


def _mixed(found: Level, weights: tuple[float, float, float]) -> Estimate:
    values = (found.centre.value, found.front_rear.value, found.right_left.value)
    variance = math.fsum(weights[i] * weights[j] * found.covariance[i][j] for i in range(3) for j in range(3))
    value = math.fsum(weight * value for weight, value in zip(weights, values, strict=True))
    return Estimate(value, COVERAGE * math.sqrt(max(variance, 0.0)))
