"""Gearbox oil read on a slope, and grease by the shot."""

from __future__ import annotations

import math
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.text import msg


def level_error(
    plug_beside_centre: Annotated[float, "m"], tilt: Annotated[float, "rad"]
) -> Annotated[float, "m"]:
    """How far a level is read wrong because the gearbox stands tilted.

    The oil stays level while the plug moves up or down with the housing.

        error = arm * tan(tilt)

    Args:
        plug_beside_centre: level plug beside the middle of the gearbox, not below zero [m].
        tilt: of the gearbox toward the plug, less than a right angle either way [rad].

    Returns:
        error of the level, with the sign of the tilt [m].

    Raises:
        Impossible: a distance below zero, a right angle or more.

    Example:
        >>> round(level_error(0.180, math.radians(4)) * 1000, 1)    # mm
        12.6

    Source: geometry.
    """
    not_negative(plug_beside_centre, msg("distance of the plug"))
    finite(tilt, msg("tilt"))
    demand(abs(tilt) < math.pi / 2, msg("A gearbox stands tilted by less than a right angle."))
    return plug_beside_centre * math.tan(tilt)


def shots_needed(grease: Annotated[float, "kg"], per_shot: Annotated[float, "kg"]) -> int:
    """Strokes of the grease gun for a mass of grease, rounded up.

        shots = ceil(grease / per_shot)

    Args:
        grease: wanted, above zero [kg].
        per_shot: what one stroke of this gun gives; weigh ten of them [kg].

    Returns:
        whole strokes.

    Raises:
        Impossible: a mass not above zero, or more strokes than anybody gives.

    Example:
        >>> shots_needed(0.020, 0.0012)
        17

    Source: arithmetic.
    """
    positive(grease, msg("mass of grease"))
    positive(per_shot, msg("grease per shot"))
    shots = grease / per_shot
    demand(shots < 10_000, msg("Nobody gives so many shots; look at the grease per shot again."))
    return math.ceil(shots - 1e-9)


def grease_given(shots: int, per_shot: Annotated[float, "kg"]) -> Annotated[float, "kg"]:
    """Mass of grease that a number of strokes gives: ``shots * per_shot``.

    Args:
        shots: strokes, not below zero.
        per_shot: what one stroke gives, above zero [kg].

    Returns:
        mass [kg].

    Raises:
        Impossible: strokes below zero, a mass not above zero.

    Example:
        >>> round(grease_given(10, 0.0012), 4)
        0.012

    Source: arithmetic.
    """
    demand(shots >= 0, msg("A count of shots cannot be below zero."))
    positive(per_shot, msg("grease per shot"))
    return shots * per_shot
