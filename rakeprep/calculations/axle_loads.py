"""What a machine on the lower links does to the tractor's axles, and the ballast it takes.

Loads are given as masses in kilograms, as a weighbridge shows them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.text import msg


@dataclass(frozen=True, slots=True)
class EmptyTractor:
    """A tractor as weighed without machine and extra ballast."""

    front: Annotated[float, "kg"]
    rear: Annotated[float, "kg"]
    wheelbase: Annotated[float, "m"]

    @property
    def mass(self) -> Annotated[float, "kg"]:
        """Both axle loads together [kg]."""
        return self.front + self.rear


@dataclass(frozen=True, slots=True)
class AxleLoads:
    """Axle loads of the tractor with machine and ballast.

    ``front`` below zero means that the tractor would rear up.
    """

    front: Annotated[float, "kg"]
    rear: Annotated[float, "kg"]
    front_share: Annotated[float, "1"]

    @property
    def total(self) -> Annotated[float, "kg"]:
        """Both axles together [kg]."""
        return self.front + self.rear


def hitch_load(
    mass: Annotated[float, "kg"], length: Annotated[float, "m"], gravity: Annotated[float, "m"]
) -> Annotated[float, "kg"]:
    """Part of a machine's mass that rests on the hitch; its own axle carries the rest.

        G = m (L - x) / L

    Valid at rest, on the level, for a machine carried by hitch and one axle.

    Args:
        mass: of the whole machine m, above zero [kg].
        length: hitch pins to transport axle L, above zero [m].
        gravity: hitch pins to centre of gravity x, from 0 to L [m].

    Returns:
        load on the hitch [kg].

    Raises:
        Impossible: mass or length not above zero, centre of gravity outside the two supports.

    Example:
        >>> round(hitch_load(2900, 5.60, 3.20))
        1243

    Source: moments about the transport axle.
    """
    positive(mass, msg("mass of the machine"))
    positive(length, msg("distance from hitch to axle"))
    held = 0 <= gravity <= length
    demand(held, msg("The centre of gravity must lie between the hitch and the axle."))
    return mass * (length - gravity) / length


def axle_loads(
    tractor: EmptyTractor,
    load: Annotated[float, "kg"],
    behind: Annotated[float, "m"],
    ballast: Annotated[float, "kg"] = 0.0,
    ahead: Annotated[float, "m"] = 0.0,
) -> AxleLoads:
    """Axle loads with a load behind the rear axle and ballast ahead of the front axle.

        front = T_F + B (a + b) / b - G e / b ; rear = T + G + B - front

    Valid at rest, on the level. A machine carried wholly by the links acts at its centre of gravity
    (``behind`` = rear axle to balls plus balls to centre of gravity); one that stands on its own axle
    too acts with its hitch load at the balls.

    Args:
        tractor: empty axle loads and wheelbase b.
        load: G, not below zero [kg].
        behind: e, from the rear axle backwards, not below zero [m].
        ballast: B, not below zero [kg].
        ahead: a, from the front axle forwards, not below zero [m].

    Returns:
        axle loads [kg], and the front one as a share of the empty tractor's mass [1].

    Raises:
        Impossible: an axle load or wheelbase not above zero, another input below zero.

    Example:
        >>> round(axle_loads(EmptyTractor(2100, 3100, 2.55), 1243, 0.95).front)
        1637

    Source: moments about the rear axle.
    """
    _check(tractor)
    for value, what in (
        (load, msg("load on the hitch")),
        (behind, msg("distance behind the rear axle")),
        (ballast, msg("ballast")),
        (ahead, msg("distance ahead of the front axle")),
    ):
        not_negative(value, what)
    base = tractor.wheelbase
    front = tractor.front + ballast * (ahead + base) / base - load * behind / base
    rear = tractor.mass + load + ballast - front
    return AxleLoads(front, rear, front / tractor.mass)


def front_ballast(
    tractor: EmptyTractor,
    load: Annotated[float, "kg"],
    behind: Annotated[float, "m"],
    ahead: Annotated[float, "m"],
    least_share: Annotated[float, "1"] = 0.20,
) -> Annotated[float, "kg"]:
    """Ballast that keeps a share of the empty tractor's mass on the front axle.

        B = ( G e - T_F b + share * T b ) / (a + b), but not below zero

    Args:
        tractor: empty axle loads and wheelbase b.
        load: G behind the rear axle, not below zero [kg].
        behind: e, from the rear axle backwards, not below zero [m].
        ahead: a, ballast to front axle, not below zero [m].
        least_share: of the empty mass wanted on the front axle, from 0 to 1 [1].

    Returns:
        least ballast [kg].

    Raises:
        Impossible: as :func:`axle_loads`; a share outside 0 to 1.

    Example:
        >>> round(front_ballast(EmptyTractor(1150, 4050, 2.55), 2300, 0.95, 1.40))
        482

    Source: moments about the rear axle; the share of 0.20 is a rule of thumb, and law in some countries.
    """
    demand(0 <= least_share <= 1, msg("The wanted share on the front axle lies between 0 and 1."))
    loads = axle_loads(tractor, load, behind, 0.0, ahead)
    missing = least_share * tractor.mass - loads.front
    return max(0.0, missing * tractor.wheelbase / (ahead + tractor.wheelbase))


def lift_needed(
    load: Annotated[float, "kg"], reserve: Annotated[float, "1"] = 1.25
) -> Annotated[float, "kg"]:
    """Lift capacity at the hitch points that lifts a load with reserve: ``reserve * G``.

    To be compared with the capacity stated at the hitch points, not with the one 610 mm behind them.

    Args:
        load: on the hitch G, not below zero [kg].
        reserve: factor, at least 1 [1].

    Returns:
        needed capacity [kg].

    Raises:
        Impossible: a load below zero, a reserve below 1.

    Example:
        >>> round(lift_needed(1243))
        1554

    Source: rule of thumb; ISO 789-2 for where the capacity is measured.
    """
    not_negative(load, msg("load on the hitch"))
    demand(1 <= reserve < 100, msg("A reserve factor is at least 1."))
    return load * reserve


def _check(tractor: EmptyTractor) -> None:
    positive(tractor.front, msg("front axle load"))
    positive(tractor.rear, msg("rear axle load"))
    positive(tractor.wheelbase, msg("wheelbase"))
