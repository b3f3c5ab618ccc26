"""On the road: size against limits, clearance to lines, and how the rear axle follows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine, propagate
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Radians = Annotated[float, "rad"]


@dataclass(frozen=True, slots=True)
class Size:
    """How far over (positive) or under (negative) the limit, and the verdict."""

    over: Metres
    verdict: Verdict


def against_limit(size: Estimate, limit: Metres) -> Size:
    """Hold a transport width or height against the local limit.

        over = size - limit ; in order if size + doubt <= limit, put right if size - doubt > limit

    Args:
        size: measured with its doubt [m].
        limit: largest size allowed, from the table of the place [m].

    Returns:
        the :class:`Size`.

    Raises:
        Impossible: a size or limit not above zero.

    Example:
        >>> size = against_limit(Estimate(4.08, 0.01), 4.00)
        >>> round(size.over, 3), size.verdict.value
        (0.08, 'put right')

    Source: JCGM 106:2012, 8.3.
    """
    positive(size.value, msg("measured size"))
    positive(limit, msg("limit"))
    return Size(size.value - limit, size.within(high=limit))


def clear_to_line(height: Estimate, line: Metres, gap: Metres) -> Size:
    """Air left between the machine and an overhead line.

        left = line - height ;  over = gap - left

    Args:
        height: highest point of the machine with its doubt [m].
        line: lowest height of the line [m].
        gap: air that must be left [m].

    Returns:
        the :class:`Size`; ``over`` is what is missing to the gap, and ``STOP`` if it is missing.

    Raises:
        Impossible: a height not above zero, a gap below zero.

    Example:
        >>> clear = clear_to_line(Estimate(4.08, 0.01), line=5.2, gap=0.0)
        >>> round(-clear.over, 2), clear.verdict.value
        (1.12, 'in order')

    Source: HSE AIS8 gives 5.2 m as the least height of 11 and 33 kV lines in Great Britain.
    """
    positive(height.value, msg("height of the machine"))
    positive(line, msg("height of the line"))
    not_negative(gap, msg("air gap"))
    left = Estimate(line - height.value, height.doubt)
    verdict = left.within(low=gap)
    return Size(gap - left.value, Verdict.STOP if verdict is Verdict.PUT_RIGHT else verdict)


@dataclass(frozen=True, slots=True)
class Tracking:
    """Steer error and the rod change that cures it; ``steps`` are parts of a turn, unsigned sense.

    ``angle_doubt`` and ``turns_doubt`` come from the doubt of the offset, ``left`` is the offset that
    the whole steps leave, as doubtful as before.
    """

    angle: Radians
    rod_change: Metres
    turns: float
    steps: int
    says: Message | None
    angle_doubt: Radians = 0.0
    turns_doubt: float = 0.0
    left: Metres = 0.0


def tracking(
    offset: Estimate, length: Metres, steering_arm: Metres, per_turn: Metres, parts: int = 4
) -> Tracking:
    """Turns of the steering rod that bring a rear axle back into the tractor's track.

        angle = atan(offset / length) ;  change = steering_arm tan(angle) ;  turns = change / per_turn

    Args:
        offset: of the wheel tracks from the tractor's, with doubt [m].
        length: hitch pins to axle [m].
        steering_arm: effective length of the arm the rod works on [m].
        per_turn: rod length per turn, one pitch or the sum of two [m].
        parts: parts of a turn that can be set: 4 for quarters, 6 for flats.

    Returns:
        the :class:`Tracking`.

    Raises:
        Impossible: a length not above zero, fewer than one part, a doubt below zero.

    Example:
        >>> cure = tracking(Estimate(0.060, 0.005), 5.60, 0.180, 0.0015)
        >>> round(math.degrees(cure.angle), 2), round(cure.rod_change * 1000, 2), cure.steps
        (0.61, 1.93, 5)

    Source: geometry.
    """
    finite(offset.value, msg("offset of the tracks"))
    not_negative(offset.doubt, msg("doubt of the offset"))
    positive(length, msg("distance from hitch to axle"))
    positive(steering_arm, msg("length of the steering arm"))
    positive(per_turn, msg("rod length per turn"))
    demand(parts >= 1, msg("A turn has at least one part."))
    angle = math.atan(offset.value / length)
    change = steering_arm * offset.value / length
    turns = change / per_turn
    angle_doubt = propagate(lambda off: math.atan(off / length), [offset]).doubt
    turns_doubt = offset.doubt / length * steering_arm / per_turn
    if abs(offset.value) < offset.doubt:
        leave = msg("Leave it: the offset is smaller than the doubt of the reading.")
        return Tracking(angle, change, turns, 0, leave, angle_doubt, turns_doubt, offset.value)
    steps = round(turns * parts)
    leave_step = msg("Leave it: the need is less than half a step.") if steps == 0 else None
    left = offset.value - steps / parts * per_turn * length / steering_arm
    return Tracking(angle, change, turns, steps, leave_step, angle_doubt, turns_doubt, left)


def off_track(length: Metres, angle: Radians) -> Metres:
    """How far the axle runs beside the tractor's track: ``L tan(angle)``.

    Args:
        length: L, hitch pins to axle [m].
        angle: steer error, below a right angle [rad].

    Returns:
        offset [m].

    Raises:
        Impossible: a length not above zero, or a right angle and more.

    Example:
        >>> round(off_track(5.60, math.radians(0.5)) * 1000)
        49

    Source: geometry.
    """
    positive(length, msg("distance from hitch to axle"))
    demand(abs(angle) < math.pi / 2, msg("A steer error is smaller than a right angle."))
    return length * math.tan(angle)


def axle_crab(left: Metres, right: Metres, track: Metres) -> Radians:
    """How far an axle stands off square, from the lengths hitch pin to hub.

        angle = asin((right - left) / track)

    Args:
        left: hitch pin to left hub [m].
        right: hitch pin to right hub [m].
        track: hub to hub [m].

    Returns:
        angle, positive if the right side is farther back [rad].

    Raises:
        Impossible: a length not above zero, or a difference larger than the track.

    Example:
        >>> round(math.degrees(axle_crab(5.598, 5.612, 1.900)), 2)
        0.42

    Source: geometry, hitch centre far ahead of the axle.
    """
    positive(left, msg("length to the left hub"))
    positive(right, msg("length to the right hub"))
    positive(track, msg("track width"))
    possible = abs(right - left) <= track
    demand(possible, msg("The lengths to the two hubs differ by more than the hubs lie apart."))
    return math.asin((right - left) / track)


def measured_crab(
    left: Estimate, right: Estimate, track: Estimate, shared: Annotated[float, "1"] = 0.0
) -> Estimate:
    """How far an axle stands off square, with the doubt of the tape.

    Both lengths come off one tape from one pin: what they have in common cancels in the difference.

        angle = asin((right - left) / track)

    Args:
        left: hitch pin to left hub with doubt [m].
        right: hitch pin to right hub with doubt [m].
        track: hub to hub with doubt [m].
        shared: correlation of the two lengths, 0 to 1 [1].

    Returns:
        angle with doubt, positive if the right side is farther back [rad].

    Raises:
        Impossible: as :func:`axle_crab`, for every input moved by its doubt; a correlation outside 0
            to 1.

    Example:
        >>> crab = measured_crab(Estimate(5.598, 0.002), Estimate(5.612, 0.002), Estimate(1.900, 0.002))
        >>> round(math.degrees(crab.value), 2), round(math.degrees(crab.doubt), 2)
        (0.42, 0.09)

    Source: geometry; JCGM 100:2008 (GUM), 5.1.3 and equation 16.
    """
    demand(0 <= shared <= 1, msg("The share that two lengths have in common lies between 0 and 1."))
    return propagate(axle_crab, [left, right, track], {(0, 1): shared})


@dataclass(frozen=True, slots=True)
class Toe:
    """Toe-in with its doubt, the angle between both wheels and of each, and the verdict."""

    toe_in: Estimate
    together: Radians
    each: Radians
    verdict: Verdict


def toe(front: Metres, rear: Metres, rim: Metres, doubt: Metres, limit: Metres) -> Toe:
    """Toe-in from the distances of the rim edges at hub height.

    Roll half a turn and read the same marks again to take out the rims' own runout.

        toe-in = rear - front ;  angle of both = asin(toe-in / rim)

    Args:
        front: between the rim edges in front [m].
        rear: between the rim edges behind [m].
        rim: diameter on which they were read [m].
        doubt: 95 % half-width of each distance [m].
        limit: toe-in or toe-out that may stay [m].

    Returns:
        the :class:`Toe`; negative for toe-out.

    Raises:
        Impossible: a length not above zero, a doubt or limit below zero, a difference above the rim.

    Example:
        >>> found = toe(1.842, 1.851, 0.690, doubt=0.002, limit=0.005)
        >>> round(found.toe_in.value * 1000), round(math.degrees(found.together), 2), found.verdict.value
        (9, 0.75, 'put right')

    Source: geometry.
    """
    positive(front, msg("distance of the rims in front"))
    positive(rear, msg("distance of the rims behind"))
    positive(rim, msg("diameter of the rim"))
    not_negative(limit, msg("limit of the toe"))
    demand(abs(rear - front) <= rim, msg("The distances differ by more than the rim's diameter."))
    toe_in = Estimate(rear - front, combine([(1, doubt), (-1, doubt)]))
    together = math.asin(toe_in.value / rim)
    return Toe(toe_in, together, together / 2, toe_in.within(-limit, limit))
