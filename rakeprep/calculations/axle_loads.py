"""What a machine on the lower links does to the tractor's axles, and the ballast it takes.

Loads are given as masses in kilograms, as a weighbridge shows them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine, propagate
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg


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


def weighed_hitch_load(hitched: Estimate, solo: Estimate, shared: Annotated[float, "1"] = 0.0) -> Estimate:
    """Load on the hitch from two weighings of the tractor, with and without the machine.

    The part of the bridge's error that is alike both times cancels.

        G = hitched - solo ;  U = sqrt(U1^2 + U2^2 - 2 r U1 U2)

    Args:
        hitched: tractor alone on the bridge, machine hitched, its axle beside it [kg].
        solo: tractor without machine [kg].
        shared: r, correlation of the two weighings, 0 to 1 [1].

    Returns:
        load with its doubt [kg].

    Raises:
        Impossible: a mass not above zero, a doubt below zero, a correlation outside 0 to 1.

    Example:
        >>> load = weighed_hitch_load(Estimate(6440, 20), Estimate(5200, 20))
        >>> load.value, round(load.doubt)
        (1240, 28)

    Source: JCGM 100:2008 (GUM), equation 16.
    """
    positive(hitched.value, msg("mass with the machine"))
    positive(solo.value, msg("mass of the tractor"))
    demand(0 <= shared <= 1, msg("The share that two weighings have in common lies between 0 and 1."))
    doubt = combine([(1, hitched.doubt), (-1, solo.doubt)], {(0, 1): shared})
    return Estimate(hitched.value - solo.value, doubt)


@dataclass(frozen=True, slots=True)
class FrontAxle:
    """Front and rear axle load and the front one as a share of the empty mass, with doubt; verdict."""

    front: Estimate
    rear: Estimate
    share: Estimate
    verdict: Verdict
    says: Message


def front_axle(
    weighed: tuple[Estimate, Estimate],
    wheelbase: Estimate,
    load: Estimate,
    behind: Estimate,
    least_share: Annotated[float, "1"] = 0.20,
) -> FrontAxle:
    """Whether enough stays on the front axle, with the doubt of weighbridge and tape.

    Front load and empty mass share the front axle's reading; the doubt of the share allows for it.

        front = T_F - G e / b ;  share = front / (T_F + T_R)

    Args:
        weighed: empty front and rear axle load with doubt [kg].
        wheelbase: b with doubt [m].
        load: G behind the rear axle with doubt [kg].
        behind: e, from the rear axle backwards, with doubt [m].
        least_share: of the empty mass wanted on the front axle, 0 to 1 [1].

    Returns:
        the :class:`FrontAxle` [kg, 1]; ``STOP`` where the front axle would lift off.

    Raises:
        Impossible: as :func:`axle_loads`, for every input moved by its doubt; a share outside 0 to 1.

    Example:
        >>> bridge = (Estimate(2100, 20), Estimate(3100, 20))
        >>> found = front_axle(bridge, Estimate(2.55, 0.01), Estimate(1243, 28), Estimate(0.95, 0.01))
        >>> round(found.front.value), round(found.front.doubt), found.verdict.value
        (1637, 23, 'in order')

    Source: moments about the rear axle; doubt by JCGM 100:2008, 5.1.3; decision by JCGM 106:2012, 8.3.
    """
    demand(0 <= least_share <= 1, msg("The wanted share on the front axle lies between 0 and 1."))
    inputs = [*weighed, wheelbase, load, behind]

    def loads(front: float, rear: float, base: float, mass: float, arm: float) -> AxleLoads:
        return axle_loads(EmptyTractor(front, rear, base), mass, arm)

    front = propagate(lambda *x: loads(*x).front, inputs)
    rear = propagate(lambda *x: loads(*x).rear, inputs)
    share = propagate(lambda *x: loads(*x).front_share, inputs)
    verdict = share.within(low=least_share)
    if front.value <= 0:
        says = msg("The front axle would lift off: do not drive.")
        return FrontAxle(front, rear, share, Verdict.STOP, says)
    if verdict is Verdict.PUT_RIGHT:
        says = msg("Too little stays on the front axle: add ballast or take another tractor.")
    elif verdict is Verdict.MEASURE_AGAIN:
        says = msg("Too close to tell: weigh the tractor with the machine on it.")
    else:
        says = msg("Enough stays on the front axle.")
    return FrontAxle(front, rear, share, verdict, says)


def _check(tractor: EmptyTractor) -> None:
    positive(tractor.front, msg("front axle load"))
    positive(tractor.rear, msg("rear axle load"))
    positive(tractor.wheelbase, msg("wheelbase"))
