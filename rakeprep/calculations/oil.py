"""Gearbox oil read on a slope, oil drained against oil filled, and grease by the shot."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg

Volume = Annotated[float, "m³"]

MOST_LOSS = 100e-6


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


@dataclass(frozen=True, slots=True)
class OilBalance:
    """Oil lost between filling and draining (below zero: gained), the verdict, and what it means."""

    lost: Estimate
    verdict: Verdict
    says: Message


def oil_balance(filled: Estimate, drained: Estimate, most_loss: Volume = MOST_LOSS) -> OilBalance:
    """Oil drained against oil filled.

        lost = filled - drained ;  in order while within +- most_loss

    More out than in is no better than a loss: water got in, or a level was filled on a slope.

    Args:
        filled: volume filled, with doubt [m³].
        drained: volume drained, with doubt [m³].
        most_loss: what may stay in the box and the rags [m³]; 100 mL, a rule of thumb.

    Returns:
        the :class:`OilBalance` [m³].

    Raises:
        Impossible: a volume filled not above zero, one drained below zero, a doubt or limit below zero.

    Example:
        >>> found = oil_balance(Estimate(0.80e-3, 50e-6), Estimate(0.55e-3, 50e-6))
        >>> round(found.lost.value * 1e6), found.verdict.value
        (250, 'put right')

    Source: arithmetic; the limit is a rule of thumb; JCGM 106:2012, 8.3.
    """
    positive(filled.value, msg("volume filled"))
    not_negative(drained.value, msg("volume drained"))
    not_negative(most_loss, msg("loss that may stay"))
    lost = Estimate(filled.value - drained.value, combine([(1, filled.doubt), (-1, drained.doubt)]))
    verdict = lost.within(-most_loss, most_loss)
    if verdict is Verdict.IN_ORDER:
        return OilBalance(lost, verdict, msg("As much came out as went in."))
    if verdict is Verdict.MEASURE_AGAIN:
        return OilBalance(lost, verdict, msg("Too close to tell: let it drip out and measure both again."))
    if lost.value > 0:
        return OilBalance(lost, verdict, msg("Oil is missing: look for a leak at seals and plugs."))
    return OilBalance(
        lost, verdict, msg("More came out than went in: look for water, and at how the level was read.")
    )


def oil_filled(filled: Estimate, volume: Volume, tolerance: Volume, emptied: bool) -> Verdict:
    """Oil filled against what the gearbox takes.

        emptied:    volume - tolerance <= filled <= volume + tolerance
        topped up:  filled <= volume + tolerance

    Args:
        filled: volume filled, with doubt [m³].
        volume: oil of the gearbox [m³].
        tolerance: how far the filling may be off [m³].
        emptied: whether the old oil was drained first; topping up may be as little as it likes.

    Returns:
        the verdict.

    Raises:
        Impossible: a volume not above zero, a tolerance below zero.

    Example:
        >>> oil_filled(Estimate(2.0e-3, 60e-6), 3.4e-3, 0.34e-3, emptied=True).value
        'put right'

    Source: arithmetic; JCGM 106:2012, 8.3.
    """
    positive(filled.value, msg("volume filled"))
    positive(volume, msg("oil volume"))
    not_negative(tolerance, msg("tolerance of the oil volume"))
    return filled.within(volume - tolerance if emptied else None, volume + tolerance)


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
