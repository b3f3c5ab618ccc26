"""The chain that keeps a driveline's guard from turning: long enough everywhere, too short to be caught."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import not_negative, positive
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.driveline import Place, guard_chain, nine_places
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]


def chain_reach(length: Metres, distance: Metres) -> Metres:
    """How far from its straight line a slack chain can get at most.

    Any point of a chain lies within the ellipse about its two ends; the reach is half its width.

        reach = sqrt(length^2 - distance^2) / 2, and 0 for a taut chain

    Args:
        length: of the chain [m].
        distance: between its two ends [m].

    Returns:
        reach [m].

    Raises:
        Impossible: a length or distance not above zero.

    Example:
        >>> round(chain_reach(0.55, 0.50), 3)
        0.115

    Source: geometry of the ellipse.
    """
    positive(length, msg("length of the chain"))
    positive(distance, msg("distance from eye to fixed point"))
    return math.sqrt(max(length**2 - distance**2, 0.0)) / 2


@dataclass(frozen=True, slots=True)
class Chain:
    """Slack at the longest place, reach at the shortest, the length advised, verdict and sentence."""

    slack: Metres
    reach: Metres
    advised: Metres
    verdict: Verdict
    says: Message


def check_chain(length: Estimate, distances: Mapping[Place, Metres], to_tube: Metres) -> Chain:
    """Whether a guard chain is long enough for every place and too short to reach what turns.

        slack = length - longest, must not be below zero ;  reach at the shortest, below ``to_tube``

    Args:
        length: of the chain with doubt [m].
        distances: guard eye to fixed point by place [m].
        to_tube: air between the straight chain and the nearest turning part [m].

    Returns:
        the :class:`Chain` [m].

    Raises:
        Impossible: a length or distance not above zero, air below zero, a doubt below zero.

    Example:
        >>> from rakeprep.calculations.driveline import Height, Turn
        >>> read = {(Turn.STRAIGHT, Height.WORK): 0.50, (Turn.LEFT, Height.WORK): 0.42}
        >>> check_chain(Estimate(0.48, 0.002), read, 0.20).verdict.value
        'put right'

    Source: geometry; common workshop practice for the spare length.
    """
    not_negative(to_tube, msg("air to the turning part"))
    places = nine_places(distances)
    long_enough = length.within(low=places.longest)
    reach = chain_reach(length.value, places.shortest)
    most = Estimate(reach, max(0.0, chain_reach(length.high, places.shortest) - reach))
    short_enough = most.within(high=to_tube)
    verdict = worst([long_enough, short_enough])
    advised = guard_chain(distances)
    slack = length.value - places.longest
    if verdict is Verdict.IN_ORDER:
        says = msg("The chain is long enough everywhere and cannot reach what turns.")
    elif verdict is Verdict.MEASURE_AGAIN:
        says = msg("The chain is too close to its limits to tell: measure it again.")
    elif long_enough is Verdict.PUT_RIGHT:
        says = msg("The chain is too short: it tears when the machine turns or lifts.")
    else:
        says = msg("The chain is too long: it can reach what turns. Hook it shorter or move its fixed point.")
    return Chain(slack, reach, advised, verdict, says)
