"""Lifting the machine off the truck: fork capacity at the real load centre, and two-leg slings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.calculations.decision import Estimate
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Kilograms = Annotated[float, "kg"]
Radians = Annotated[float, "rad"]

FACE_TO_WHEEL = 0.450
WIDEST = math.radians(60)


def fork_capacity(
    rated: Kilograms, rated_centre: Metres, load_centre: Metres, wheel_to_face: Metres = FACE_TO_WHEEL
) -> Kilograms:
    """What a fork truck lifts when the load's centre lies farther out than its rating assumes.

    The moment about the front wheels stays the same; nearer than rated it lifts no more than rated.
    An estimate: the truck's own plate wins, and a raised or tilted mast takes more off.

        capacity = rated (rated_centre + a) / (load_centre + a), but not above rated

    Args:
        rated: capacity on the plate [kg].
        rated_centre: load centre that belongs to it, from the fork's face [m].
        load_centre: centre of gravity of the load from the fork's face [m].
        wheel_to_face: a, front wheels to fork face [m]; 450 mm where it is not known.

    Returns:
        capacity at that load centre [kg].

    Raises:
        Impossible: a capacity or distance not above zero.

    Example:
        >>> round(fork_capacity(2500, 0.500, 0.900))
        1759

    Source: moments about the front axle; the distance a is common practice.
    """
    positive(rated, msg("capacity on the plate"))
    positive(rated_centre, msg("load centre on the plate"))
    positive(load_centre, msg("load centre"))
    positive(wheel_to_face, msg("distance from front wheel to fork face"))
    return rated * min(1.0, (rated_centre + wheel_to_face) / (load_centre + wheel_to_face))


def round_down(capacity: Kilograms, step: Kilograms = 50.0) -> Kilograms:
    """A capacity rounded to the safe side: whole steps, downward.

    Args:
        capacity: worked out [kg].
        step: what it is rounded to [kg].

    Returns:
        the capacity to write down [kg].

    Raises:
        Impossible: a capacity below zero, a step not above zero.

    Example:
        >>> round_down(1759.3)
        1750.0

    Source: a limit from above is rounded down.
    """
    not_negative(capacity, msg("capacity"))
    positive(step, msg("step"))
    return math.floor(capacity / step + 1e-9) * step


def sling_angle(leg: Metres, spread: Metres) -> Radians:
    """Angle of each leg of a two-leg sling from the vertical.

        angle = asin( (spread / 2) / leg )

    Args:
        leg: length of one leg, hook to lifting point [m].
        spread: between the two lifting points, both equally high [m].

    Returns:
        angle from the vertical [rad].

    Raises:
        Impossible: a length not above zero, or legs too short to reach.

    Example:
        >>> round(math.degrees(sling_angle(2.0, 2.0)))
        30

    Source: geometry.
    """
    positive(leg, msg("length of the leg"))
    positive(spread, msg("distance of the lifting points"))
    demand(spread < 2 * leg, msg("The legs are too short to reach both lifting points."))
    return math.asin(spread / 2 / leg)


def sling_leg(mass: Kilograms, angle: Radians) -> Kilograms:
    """Load in each leg of a two-leg sling with the hook over the centre of gravity.

        leg = W / (2 cos angle)

    Args:
        mass: W of the load [kg].
        angle: of the legs from the vertical, at most 60° [rad].

    Returns:
        load in one leg, as the mass a straight leg would carry [kg].

    Raises:
        Impossible: a mass not above zero, an angle below zero or above 60°.

    Example:
        >>> [round(sling_leg(1450, math.radians(a))) for a in (30, 45, 60)]
        [837, 1025, 1450]

    Source: equilibrium of the hook; no sling is used beyond 60° (EN 818-4, from memory).
    """
    positive(mass, msg("mass of the load"))
    not_negative(angle, msg("angle of the sling"))
    demand(
        angle <= WIDEST * (1 + 1e-9),
        msg("The legs stand wider than 60° from the vertical: use longer legs or a beam."),
    )
    return mass / (2 * math.cos(angle))


@dataclass(frozen=True, slots=True)
class Lift:
    """What is left of a capacity after the load, and the verdict; ``STOP`` means do not lift."""

    spare: Estimate
    verdict: Verdict
    says: Message


def may_lift(load: Estimate | None, capacity: Kilograms) -> Lift:
    """Hold a load against what fork or sling may carry.

        spare = capacity - load ;  in order if load + doubt <= capacity ; stop if load - doubt > capacity

    Args:
        load: mass with its doubt, or None where nobody knows it [kg].
        capacity: of fork or leg at this place [kg].

    Returns:
        the :class:`Lift` [kg].

    Raises:
        Impossible: a capacity below zero, a load not above zero.

    Example:
        >>> may_lift(Estimate(1450, 50), 1750).verdict.value
        'in order'

    Source: JCGM 106:2012, 8.3.
    """
    not_negative(capacity, msg("capacity"))
    if load is None:
        unknown = Estimate(capacity, math.inf)
        return Lift(unknown, Verdict.STOP, msg("Do not lift: neither plate nor papers tell the mass."))
    positive(load.value, msg("mass of the load"))
    not_negative(load.doubt, msg("doubt of the mass"))
    spare = Estimate(capacity - load.value, load.doubt)
    verdict = load.within(high=capacity)
    if verdict is Verdict.PUT_RIGHT:
        return Lift(spare, Verdict.STOP, msg("Do not lift: the load is more than this can carry here."))
    if verdict is Verdict.MEASURE_AGAIN:
        return Lift(spare, verdict, msg("Too close to the limit: weigh the load or take something stronger."))
    return Lift(spare, verdict, msg("Lift 50 mm first, from aside, and see whether it hangs level."))
