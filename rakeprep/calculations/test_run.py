"""Test run: heat, knocks, coast-down; and what the machine gets done in an hour."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import Message, msg, plural

Kelvin = Annotated[float, "K"]
Seconds = Annotated[float, "s"]
Turns = Annotated[float, "1/s"]
Ratio = Annotated[float, "1"]
Metres = Annotated[float, "m"]

SIDE_LIMIT = 15.0
RISE_LIMIT = 50.0
HOTTEST = 353.15
COAST_RATIO = 0.7
WHOLE_BAND = 0.1


@dataclass(frozen=True, slots=True)
class Heat:
    """Rises over the surroundings, left minus right, and the verdicts; ``says`` names the worst."""

    left_rise: Kelvin
    right_rise: Kelvin
    difference: Kelvin
    sides: Verdict
    rise: Verdict
    hottest: Verdict
    verdict: Verdict
    says: Message


def heat(
    left: Kelvin,
    right: Kelvin,
    ambient: Kelvin,
    doubt: Kelvin,
    *,
    side_limit: Kelvin = SIDE_LIMIT,
    rise_limit: Kelvin = RISE_LIMIT,
    hottest: Kelvin = HOTTEST,
) -> Heat:
    """Judge two like parts by their heat after the run.

    Same paint, same time after the stop (below two minutes), never bare metal.

        rise = T - ambient ;  sides: |left - right| ;  hottest: the larger

    Args:
        left: surface of the left part [K].
        right: surface of the right part [K].
        ambient: surroundings [K].
        doubt: 95 % half-width of one reading [K].
        side_limit: difference that may stay [K]; rule of thumb.
        rise_limit: rise that may stay [K]; rule of thumb.
        hottest: highest surface temperature [K]; rule of thumb.

    Returns:
        the :class:`Heat`.

    Raises:
        Impossible: a temperature or limit not above zero, a doubt below zero.

    Example:
        >>> found = heat(335.15, 314.15, 297.15, 3.0)
        >>> round(found.left_rise), round(found.difference), found.sides.value
        (38, 21, 'put right')

    Source: arithmetic; limits are rules of thumb.
    """
    for temperature in (left, right, ambient):
        positive(temperature, msg("absolute temperature"))
    for limit in (side_limit, rise_limit, hottest):
        positive(limit, msg("limit of the heat"))
    difference = Estimate(left - right, combine([(1, doubt), (-1, doubt)]))
    sides = difference.within(-side_limit, side_limit)
    most = max(left, right)
    rise = Estimate(most - ambient, difference.doubt).within(high=rise_limit)
    top = Estimate(most, doubt).within(high=hottest)
    if top is Verdict.PUT_RIGHT:
        top = Verdict.STOP
    verdict = worst([sides, rise, top])
    if top is Verdict.STOP:
        says = msg("Too hot: stop and find the cause.")
    elif verdict is Verdict.IN_ORDER:
        says = msg("The heat is as it should be on both sides.")
    elif sides is verdict:
        says = msg("One side is hotter than the other: look at its oil, bearing and guard.")
    else:
        says = msg("Both sides run warm: look at oil level and grade.")
    return Heat(left - ambient, right - ambient, difference.value, sides, rise, top, verdict, says)


@dataclass(frozen=True, slots=True)
class Knocks:
    """Knocks per turn of rotor and PTO, the whole number that fits (None if none), and the cause."""

    per_rotor_turn: Ratio
    per_pto_turn: Ratio
    whole: int | None
    says: Message


def knocks(
    count: float, time: Seconds, rotor: Turns, pto: Turns, arms: int, band: Ratio = WHOLE_BAND
) -> Knocks:
    """Which part knocks, from how often it knocks.

    Four rates are compared: once and ``arms`` times per rotor turn, once and twice per PTO turn. The
    nearest counts if it lies within ``band`` of it.

        per turn = (count / time) / speed

    Args:
        count: knocks heard.
        time: in which they were heard [s].
        rotor: rotor speed [1/s].
        pto: PTO speed [1/s].
        arms: of one rotor.
        band: departure that still counts [1].

    Returns:
        the :class:`Knocks`.

    Raises:
        Impossible: a count, time or speed not above zero, fewer than one arm, a band below zero.

    Example:
        >>> found = knocks(9, 10, 55.8 / 60, 450 / 60, 12)
        >>> round(found.per_rotor_turn, 2), found.whole, str(found.says)
        (0.97, 1, 'Once per rotor turn: one arm, one cam roller or one tine.')

    Source: arithmetic; causes are common workshop practice, no published source.
    """
    positive(count, msg("number of knocks"))
    positive(time, msg("time"))
    positive(rotor, msg("rotor speed"))
    positive(pto, msg("PTO speed"))
    demand(arms >= 1, msg("A rotor has at least one arm."))
    not_negative(band, msg("band"))
    rate = count / time
    all_arms = plural(
        "{count} per rotor turn: the arm passes something fixed.",
        "{count} per rotor turn: all arms pass something fixed.",
        arms,
    )
    causes = (
        (1, rotor, msg("Once per rotor turn: one arm, one cam roller or one tine.")),
        (arms, arms * rotor, all_arms),
        (1, pto, msg("Once per PTO turn: a bent or unbalanced shaft.")),
        (2, 2 * pto, msg("Twice per PTO turn: joint angle or yokes out of line.")),
    )
    whole, expected, says = min(causes, key=lambda cause: abs(rate / cause[1] - 1))
    if abs(rate / expected - 1) > band + 1e-9:
        return Knocks(rate / rotor, rate / pto, None, msg("Not a whole number per turn: count again."))
    return Knocks(rate / rotor, rate / pto, whole, says)


@dataclass(frozen=True, slots=True)
class CoastDown:
    """Shorter over longer run-down with doubt, and which side drags if one does."""

    ratio: Estimate
    verdict: Verdict
    says: Message


def coast_down(left: Seconds, right: Seconds, doubt: Seconds, least: Ratio = COAST_RATIO) -> CoastDown:
    """Compare how long both rotors run on from the same speed.

        ratio = shorter / longer ; in order if not below ``least``

    Args:
        left: until the left rotor stands still [s].
        right: until the right rotor stands still [s].
        doubt: 95 % half-width of each time [s].
        least: smallest ratio that may stay [1]; rule of thumb.

    Returns:
        the :class:`CoastDown`.

    Raises:
        Impossible: a time not above zero, a doubt below zero, a ratio outside 0 to 1.

    Example:
        >>> found = coast_down(6.0, 2.5, 0.25)
        >>> round(found.ratio.value, 2), found.verdict.value
        (0.42, 'put right')

    Source: arithmetic; the limit is a rule of thumb.
    """
    positive(left, msg("time of the left rotor"))
    positive(right, msg("time of the right rotor"))
    demand(0 <= least <= 1, msg("A ratio of shorter to longer lies between 0 and 1."))
    short, long = min(left, right), max(left, right)
    ratio = Estimate(short / long, combine([(1 / long, doubt), (short / long**2, doubt)]))
    verdict = ratio.within(low=least)
    if verdict is Verdict.IN_ORDER:
        return CoastDown(ratio, verdict, msg("Both rotors run down alike."))
    if verdict is Verdict.MEASURE_AGAIN:
        return CoastDown(ratio, verdict, msg("Too close to tell: time both run-downs again."))
    if left < right:
        return CoastDown(ratio, verdict, msg("The left rotor drags: bearing, guard, dry cam or clutch."))
    return CoastDown(ratio, verdict, msg("The right rotor drags: bearing, guard, dry cam or clutch."))


def work_rate(width: Metres, speed: Annotated[float, "m/s"], efficiency: Ratio) -> Annotated[float, "m²/s"]:
    """Area worked in a time: ``w v e``. Never a promise.

    Args:
        width: w, working width [m].
        speed: v, forward [m/s].
        efficiency: e, share of the time and width really used, above 0 up to 1 [1].

    Returns:
        area per time [m²/s]; times 0.36 it is ha/h.

    Raises:
        Impossible: a width not above zero, a speed below zero, an efficiency outside 0 to 1.

    Example:
        >>> round(work_rate(7.0, 10 / 3.6, 0.8) * 0.36, 2)    # ha/h
        5.6

    Source: Iowa State University Extension A3-24.
    """
    positive(width, msg("working width"))
    not_negative(speed, msg("forward speed"))
    demand(0 < efficiency <= 1, msg("An efficiency lies above 0 and not above 1."))
    return width * speed * efficiency


def windrow(crop: Annotated[float, "kg/m²"], width: Metres) -> Annotated[float, "kg/m"]:
    """Crop in a metre of windrow: ``yield * width``.

    Args:
        crop: crop on the ground [kg/m²].
        width: raked into this windrow [m].

    Returns:
        mass per length [kg/m].

    Raises:
        Impossible: a crop below zero, a width not above zero.

    Example:
        >>> round(windrow(0.35, 7.2), 2)
        2.52

    Source: arithmetic.
    """
    not_negative(crop, msg("yield"))
    positive(width, msg("raked width"))
    return crop * width


def follow_speed(
    throughput: Annotated[float, "kg/s"], per_metre: Annotated[float, "kg/m"]
) -> Annotated[float, "m/s"]:
    """Speed at which a baler with this throughput can follow: ``throughput / windrow``.

    Args:
        throughput: of the machine that follows [kg/s].
        per_metre: of the windrow [kg/m].

    Returns:
        speed [m/s].

    Raises:
        Impossible: a throughput below zero, a windrow not above zero.

    Example:
        >>> round(follow_speed(15_000 / 3600, 2.52) * 3.6, 1)    # km/h
        6.0

    Source: arithmetic.
    """
    not_negative(throughput, msg("throughput"))
    positive(per_metre, msg("windrow"))
    return throughput / per_metre
