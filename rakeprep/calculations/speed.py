"""Engine, PTO and rotor speed; tip speed; travel per arm. Speeds of rotation are turns a second."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, verbatim

Turns = Annotated[float, "1/s"]
Metres = Annotated[float, "m"]
Speed = Annotated[float, "m/s"]
Seconds = Annotated[float, "s"]
Ratio = Annotated[float, "1"]

GEAR_BAND = 0.05


@dataclass(frozen=True, slots=True)
class PtoGear:
    """One PTO gear of the tractor: the engine speed at which the PTO has its rated speed."""

    name: str
    engine: Turns
    pto: Turns


@dataclass(frozen=True, slots=True)
class SpeedLimits:
    """Three different limits of the PTO speed: recommended work, ceiling, rating of the gearbox."""

    working: Turns
    ceiling: Turns
    gearbox: Turns


@dataclass(frozen=True, slots=True)
class SpeedCheck:
    """Verdict against each limit, the worst of them, and the sentence of the one that speaks."""

    working: Verdict
    ceiling: Verdict
    gearbox: Verdict
    verdict: Verdict
    says: Message


def engine_speed(gear: PtoGear, wanted: Turns) -> Turns:
    """Engine speed for a wanted PTO speed in one gear.

        engine = engine_rated * wanted / pto_rated

    Args:
        gear: the PTO gear.
        wanted: PTO speed [1/s].

    Returns:
        engine speed [1/s].

    Raises:
        Impossible: a speed not above zero.

    Example:
        >>> round(engine_speed(PtoGear("540", 1938 / 60, 540 / 60), 450 / 60) * 60)    # per minute
        1615

    Source: ratio of a fixed gear.
    """
    _check_gear(gear)
    positive(wanted, msg("PTO speed"))
    return gear.engine * wanted / gear.pto


def _check_gear(gear: PtoGear) -> None:
    positive(gear.engine, msg("engine speed"))
    positive(gear.pto, msg("PTO speed"))


def rotor_speed(pto: Turns, ratio: Ratio) -> Turns:
    """Rotor speed: ``PTO / ratio``.

    Args:
        pto: PTO speed [1/s].
        ratio: PTO turns per rotor turn [1].

    Returns:
        rotor speed [1/s].

    Raises:
        Impossible: a speed below zero, a ratio not above zero.

    Example:
        >>> round(rotor_speed(450 / 60, 8.06) * 60, 1)    # per minute
        55.8

    Source: ratio of a fixed gear.
    """
    not_negative(pto, msg("PTO speed"))
    positive(ratio, msg("gear ratio"))
    return pto / ratio


def tip_speed(rotor: Turns, circle: Metres) -> Speed:
    """Speed of the tine tips on their circle: ``pi D n``.

    Args:
        rotor: rotor speed n [1/s].
        circle: diameter D of the tip circle [m].

    Returns:
        speed [m/s].

    Raises:
        Impossible: a speed below zero, a diameter not above zero.

    Example:
        >>> round(tip_speed(450 / 60 / 8.06, 3.5), 1)
        10.2

    Source: geometry.
    """
    not_negative(rotor, msg("rotor speed"))
    positive(circle, msg("diameter of the tip circle"))
    return math.pi * circle * rotor


def travel_per_arm(forward: Speed, rotor: Turns, arms: int) -> Metres:
    """How far the machine goes from one arm to the next: ``v / (N n)``.

    Args:
        forward: v [m/s].
        rotor: rotor speed n [1/s].
        arms: N of one rotor.

    Returns:
        travel [m].

    Raises:
        Impossible: a forward speed below zero, a rotor speed not above zero, fewer than one arm.

    Example:
        >>> round(travel_per_arm(10 / 3.6, 450 / 60 / 8.06, 12), 3)
        0.249

    Source: geometry.
    """
    not_negative(forward, msg("forward speed"))
    positive(rotor, msg("rotor speed"))
    demand(arms >= 1, msg("A rotor has at least one arm."))
    return forward / (rotor * arms)


def tip_to_forward(tip: Speed, forward: Speed) -> Ratio:
    """Tip speed over forward speed.

    Args:
        tip: tip speed [m/s].
        forward: forward speed [m/s].

    Returns:
        ratio [1].

    Raises:
        Impossible: a tip speed below zero, a forward speed not above zero.

    Example:
        >>> round(tip_to_forward(10.875, 10 / 3.6), 3)
        3.915

    Source: definition.
    """
    not_negative(tip, msg("tip speed"))
    positive(forward, msg("forward speed"))
    return tip / forward


def pto_from_turns(
    turns: float, time: Seconds, ratio: Ratio, turns_doubt: float = 0.5, time_doubt: Seconds = 0.0
) -> Estimate:
    """PTO speed from rotor turns counted by eye from a safe distance.

        pto = turns / time * ratio ;  relative doubts add as squares

    Args:
        turns: rotor turns counted.
        time: in which they were counted [s].
        ratio: PTO turns per rotor turn [1].
        turns_doubt: 95 % half-width of the count; half a turn by default.
        time_doubt: 95 % half-width of the time [s].

    Returns:
        PTO speed with doubt [1/s].

    Raises:
        Impossible: a count, time or ratio not above zero, a doubt below zero.

    Example:
        >>> pto = pto_from_turns(19, 20, 8.06)
        >>> round(pto.value * 60), round(pto.doubt * 60)    # per minute
        (459, 12)

    Source: JCGM 100:2008 (GUM), 5.1.6.
    """
    positive(turns, msg("number of turns"))
    positive(time, msg("time"))
    positive(ratio, msg("gear ratio"))
    value = turns / time * ratio
    return Estimate(value, combine([(value / turns, turns_doubt), (value / time, time_doubt)]))


def check_speed(pto: Estimate, limits: SpeedLimits, tolerance: Ratio = 0.05) -> SpeedCheck:
    """Hold a PTO speed against its three limits without mixing them up.

    Off the working speed is a matter of setting; above the ceiling must be put right; above the
    gearbox's rating is a stop.

        working: within +- tolerance ;  ceiling and gearbox: not above

    Args:
        pto: measured PTO speed with doubt [1/s].
        limits: the three limits [1/s].
        tolerance: of the working speed [1]; a rule of thumb.

    Returns:
        the :class:`SpeedCheck`.

    Raises:
        Impossible: a limit not above zero, limits out of order, a tolerance below zero.

    Example:
        >>> check_speed(Estimate(1000 / 60, 0.1), SpeedLimits(7.5, 9.0, 9.2)).verdict.value
        'stop'

    Source: JCGM 106:2012, 8.3.
    """
    positive(limits.working, msg("working speed"))
    ordered = limits.working <= limits.ceiling <= limits.gearbox
    demand(ordered, msg("The working speed, its ceiling and the gearbox's rating are not in rising order."))
    not_negative(tolerance, msg("tolerance"))
    band = limits.working * tolerance
    working = pto.within(limits.working - band, limits.working + band)
    ceiling = pto.within(high=limits.ceiling)
    gearbox = pto.within(high=limits.gearbox)
    if gearbox is Verdict.PUT_RIGHT:
        gearbox = Verdict.STOP
        return SpeedCheck(
            working, ceiling, gearbox, gearbox, msg("Faster than the gearbox is rated for: stop at once.")
        )
    if ceiling is Verdict.PUT_RIGHT:
        return SpeedCheck(
            working, ceiling, gearbox, ceiling, msg("Faster than the highest speed for this machine.")
        )
    if working is Verdict.PUT_RIGHT:
        return SpeedCheck(
            working, ceiling, gearbox, working, msg("Not the recommended working speed: set the engine.")
        )
    if Verdict.MEASURE_AGAIN in {working, ceiling, gearbox}:
        return SpeedCheck(
            working,
            ceiling,
            gearbox,
            Verdict.MEASURE_AGAIN,
            msg("The speed is too uncertain to decide: count longer."),
        )
    return SpeedCheck(working, ceiling, gearbox, Verdict.IN_ORDER, msg("The speed is as recommended."))


def recognise_gear(
    pto: Turns, engine: Turns, gears: Sequence[PtoGear], band: Ratio = GEAR_BAND
) -> PtoGear | None:
    """Which PTO gear is in, from PTO and engine speed taken together.

    The gear whose ratio lies nearest, if it lies within ``band``.

        (pto / engine) / (pto_rated / engine_rated) - 1

    Args:
        pto: PTO speed [1/s].
        engine: engine speed [1/s].
        gears: the tractor's PTO gears.
        band: departure that still counts as this gear [1].

    Returns:
        the gear, or None.

    Raises:
        Impossible: a speed not above zero, a band below zero.

    Example:
        >>> gears = [PtoGear("540", 1938 / 60, 9.0), PtoGear("1000", 2000 / 60, 1000 / 60)]
        >>> recognise_gear(14.0, 1680 / 60, gears).name
        '1000'

    Source: ratio of a fixed gear.
    """
    positive(pto, msg("PTO speed"))
    positive(engine, msg("engine speed"))
    not_negative(band, msg("band"))
    off: list[tuple[float, int]] = []
    for place, gear in enumerate(gears):
        _check_gear(gear)
        off.append((abs(pto / engine * gear.engine / gear.pto - 1), place))
    nearest = min(off, default=(math.inf, -1))
    return gears[nearest[1]] if nearest[0] <= band else None


def wrong_gear(
    pto: Turns, engine: Turns, gears: Sequence[PtoGear], wanted: str, band: Ratio = GEAR_BAND
) -> Message | None:
    """A sentence if the PTO turns in another gear than the wanted one.

    Args:
        pto: PTO speed [1/s].
        engine: engine speed [1/s].
        gears: the tractor's PTO gears.
        wanted: name of the gear that should be in.
        band: as in :func:`recognise_gear` [1].

    Returns:
        the sentence, or None.

    Raises:
        Impossible: as :func:`recognise_gear`.

    Example:
        >>> gears = [PtoGear("540", 1938 / 60, 9.0), PtoGear("1000", 2000 / 60, 1000 / 60)]
        >>> str(wrong_gear(14.0, 28.0, gears, "540"))
        'The PTO is in gear 1000, not 540: stop and change it.'

    Source: ratio of a fixed gear.
    """
    seen = recognise_gear(pto, engine, gears, band)
    if seen is None:
        return msg("PTO and engine speed fit none of this tractor's PTO gears: measure both again.")
    if seen.name == wanted:
        return None
    return msg(
        "The PTO is in gear {seen}, not {wanted}: stop and change it.",
        seen=verbatim(seen.name),
        wanted=verbatim(wanted),
    )
