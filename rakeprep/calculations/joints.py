"""Universal joints: angles from the turn, unevenness of speed, and the pivot curve of the distance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, agree
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Radians = Annotated[float, "rad"]
Ratio = Annotated[float, "1"]


def pivot_distance(
    turn: Radians, front: Metres, rear: Metres, sideways: Metres = 0.0, upward: Metres = 0.0
) -> Metres:
    """Distance from groove to groove for one angle of turn about a single vertical pivot.

    A check of readings, not a replacement for them: real hitches have more than one pivot.

        D = sqrt( (s + q cos t)^2 + (q sin t + y0)^2 + v^2 )

    Args:
        turn: angle t between tractor and machine [rad].
        front: s, tractor groove to pivot [m].
        rear: q, pivot to machine groove [m].
        sideways: y0, how far the PTO lies off the pivot's line [m].
        upward: v, how much higher one groove lies [m].

    Returns:
        distance [m].

    Raises:
        Impossible: a length not above zero, or an input that is no number.

    Example:
        >>> [round(pivot_distance(math.radians(t), 0.600, 0.465), 3) for t in (0, 30, 50, 70)]
        [1.065, 1.029, 0.967, 0.876]

    Source: geometry.
    """
    return math.hypot(*_shaft(turn, front, rear, sideways, upward))


def pivot_angles(
    turn: Radians, front: Metres, rear: Metres, sideways: Metres = 0.0, upward: Metres = 0.0
) -> tuple[Radians, Radians]:
    """Angles at the tractor's and the machine's joint for the pivot of :func:`pivot_distance`.

    Each is the angle between the shaft and the stub, both stubs level.

    Args:
        turn: angle between tractor and machine [rad].
        front: tractor groove to pivot [m].
        rear: pivot to machine groove [m].
        sideways: how far the PTO lies off the pivot's line [m].
        upward: how much higher one groove lies [m].

    Returns:
        angle at the tractor, angle at the machine [rad].

    Raises:
        Impossible: as :func:`pivot_distance`.

    Example:
        >>> [round(math.degrees(a), 1) for a in pivot_angles(math.radians(70), 0.600, 0.465)]
        [29.9, 40.1]

    Source: geometry.
    """
    along, across, up = _shaft(turn, front, rear, sideways, upward)
    tractor = math.atan2(math.hypot(across, up), along)
    cos, sin = math.cos(turn), math.sin(turn)
    machine = math.atan2(math.hypot(across * cos - along * sin, up), along * cos + across * sin)
    return tractor, machine


def _shaft(
    turn: float, front: float, rear: float, sideways: float, upward: float
) -> tuple[float, float, float]:
    positive(front, msg("distance from the tractor's groove to the pivot"))
    positive(rear, msg("distance from the pivot to the machine's groove"))
    finite(turn, msg("angle of turn"))
    finite(sideways, msg("sideways offset of the PTO"))
    finite(upward, msg("height difference of the grooves"))
    return front + rear * math.cos(turn), rear * math.sin(turn) + sideways, upward


def pivot_departures(
    readings: Sequence[tuple[Radians, Metres]],
    front: Metres,
    rear: Metres,
    sideways: Metres = 0.0,
    upward: Metres = 0.0,
) -> tuple[Metres, ...]:
    """How far distances lie from the pivot curve; more than about 15 mm calls for another reading.

    Args:
        readings: angle of turn [rad] and measured distance [m].
        front: tractor groove to pivot [m].
        rear: pivot to machine groove [m].
        sideways: how far the PTO lies off the pivot's line [m].
        upward: how much higher one groove lies [m].

    Returns:
        measured minus curve for each reading [m].

    Raises:
        Impossible: as :func:`pivot_distance`.

    Example:
        >>> [round(d, 3) for d in pivot_departures([(0.0, 1.068)], 0.600, 0.465)]
        [0.003]

    Source: geometry; 15 mm is a rule of thumb.
    """
    return tuple(read - pivot_distance(turn, front, rear, sideways, upward) for turn, read in readings)


def speed_ratio(angle: Radians, position: Radians) -> Ratio:
    """Output over input speed of a single joint at one position of the driving fork.

        w2/w1 = cos b / (1 - sin^2 b cos^2 g)

    Args:
        angle: b between the two shafts, below a right angle [rad].
        position: g, turned from where the driving fork's pin lies in the plane of both shafts [rad].

    Returns:
        ratio [1], largest 1/cos b at 0, smallest cos b a quarter turn later.

    Raises:
        Impossible: an angle of a right angle or more, or one below zero.

    Example:
        >>> round(speed_ratio(math.radians(20), 0.0), 6)
        1.064178

    Source: theory of the Hooke joint, any textbook on the theory of machines.
    """
    _joint(angle)
    return math.cos(angle) / (1 - (math.sin(angle) * math.cos(position)) ** 2)


def irregularity(angle: Radians) -> Ratio:
    """Speed swing of a single joint, largest minus smallest ratio.

        U = 1/cos b - cos b = tan b sin b

    Args:
        angle: b between the two shafts [rad].

    Returns:
        U [1].

    Raises:
        Impossible: as :func:`speed_ratio`.

    Example:
        >>> round(irregularity(math.radians(15)), 5)
        0.06935

    Source: theory of the Hooke joint, any textbook on the theory of machines.
    """
    _joint(angle)
    return math.tan(angle) * math.sin(angle)


def peak_acceleration(angle: Radians, speed: Annotated[float, "1/s"]) -> Annotated[float, "rad/s²"]:
    """Largest angular acceleration of the driven shaft at a steady driving speed.

    Exact: with s = sin^2 b and c the cosine of twice the fork's position, the peak lies where
    s c^2 / 2 + (1 - s/2) c - s = 0.

        a = w^2 cos b sin^2 b sin 2g / (1 - sin^2 b cos^2 g)^2

    Args:
        angle: b between the two shafts [rad].
        speed: of the driving shaft [1/s, turns a second].

    Returns:
        acceleration [rad/s²].

    Raises:
        Impossible: as :func:`speed_ratio`; a speed below zero.

    Example:
        >>> round(peak_acceleration(math.radians(20), 1500 / 60), 1)
        3083.4

    Source: theory of the Hooke joint, any textbook on the theory of machines.
    """
    _joint(angle)
    not_negative(speed, msg("speed"))
    s = math.sin(angle) ** 2
    half = 1 - s / 2
    # the usual root formula turned over, so that small angles do not cancel
    c = 2 * s / (half + math.sqrt(half * half + 2 * s * s))
    turned = s * math.sqrt(1 - c * c) * math.cos(angle) / (1 - s * (1 + c) / 2) ** 2
    return (2 * math.pi * speed) ** 2 * turned


def equivalent_angle(first: Radians, second: Radians, phased: bool = True) -> Radians:
    """Angle of the single joint that swings about as much as two joints on one shaft.

    Good for small angles and all shafts in one plane; :func:`double_irregularity` is exact there.

        phased  sqrt(|b1^2 - b2^2|)   ;   a quarter turn out  sqrt(b1^2 + b2^2)

    Args:
        first: angle at one joint [rad].
        second: angle at the other joint [rad].
        phased: whether the forks at both ends of the middle shaft lie in one plane.

    Returns:
        angle [rad].

    Raises:
        Impossible: as :func:`speed_ratio`.

    Example:
        >>> round(math.degrees(equivalent_angle(math.radians(12), math.radians(7))), 1)
        9.7

    Source: VDI 2722 (from memory).
    """
    _joint(first)
    _joint(second)
    return math.sqrt(abs(first**2 - second**2) if phased else first**2 + second**2)


def double_irregularity(first: Radians, second: Radians, phased: bool = True) -> Ratio:
    """Speed swing behind two joints on one shaft, all shafts in one plane.

    Phased joints work against each other, joints a quarter turn out work together; either way the
    pair behaves as one joint whose cosine is k.

        k = cos b1 / cos b2 (the smaller over the larger) or cos b1 cos b2 ;  U = 1/k - k

    Args:
        first: angle at one joint [rad].
        second: angle at the other joint [rad].
        phased: whether the forks at both ends of the middle shaft lie in one plane.

    Returns:
        U [1].

    Raises:
        Impossible: as :func:`speed_ratio`.

    Example:
        >>> round(double_irregularity(math.radians(20), math.radians(15)), 5)
        0.05508

    Source: theory of the Hooke joint applied twice.
    """
    _joint(first)
    _joint(second)
    small, large = sorted((math.cos(first), math.cos(second)))
    k = small / large if phased else small * large
    return 1 / k - k


def phase_irregularity(first: Radians, second: Radians, phase: Radians) -> Ratio:
    """Speed swing behind two joints whose inner forks are turned against each other by any angle.

    A joint maps the direction (cos g, sin g) linearly, shrinking one axis by cos b; two joints with a
    turn between them are one such map, and the swing follows from its two stretches, whose product
    and sum of squares are known. With phase 0 and a quarter turn it is :func:`double_irregularity`.
    Joints that do not lie in one plane count with the angle between their planes added to the phase.

        F = sin^2 f (c1^2 c2^2 + 1) + cos^2 f (c1^2 + c2^2) ;  U = sqrt( (F / (c1 c2))^2 - 4 )

    Args:
        first: angle b1 at one joint, c1 its cosine [rad].
        second: angle b2 at the other joint, c2 its cosine [rad].
        phase: f, how far the inner forks are out of line [rad].

    Returns:
        U, largest minus smallest ratio of speeds [1].

    Raises:
        Impossible: as :func:`speed_ratio`; a phase that is no number.

    Example:
        >>> [round(phase_irregularity(math.radians(20), math.radians(20), math.radians(f)), 4)
        ...     for f in (0, 30, 90)]
        [0.0, 0.1245, 0.2495]

    Source: theory of the Hooke joint applied twice.
    """
    _joint(first)
    _joint(second)
    finite(phase, msg("phase of the forks"))
    c1, c2 = math.cos(first), math.cos(second)
    # F/(c1 c2) - 2, written so that equal angles in phase give exactly nothing
    excess = ((c1 - c2) ** 2 + (math.sin(phase) * math.sin(first) * math.sin(second)) ** 2) / (c1 * c2)
    return math.sqrt(excess * (excess + 4))


class WideEnd(StrEnum):
    """Where a wide-angle joint belongs."""

    TRACTOR = "tractor"
    MACHINE = "machine"
    BOTH = "both"
    NONE = "none"
    UNSURE = "cannot be told"


@dataclass(frozen=True, slots=True)
class WideAdvice:
    """Where the wide-angle joint belongs, the verdict on a shaft that has one at ``fitted``, why."""

    end: WideEnd
    verdict: Verdict
    says: Message


WIDE_WORDS = {
    WideEnd.TRACTOR: msg("The tractor's joint bends most: the wide-angle joint belongs there."),
    WideEnd.MACHINE: msg("The machine's joint bends most: the wide-angle joint belongs there."),
    WideEnd.BOTH: msg("Both joints bend too far for plain ones: limit the turn, or use two wide ones."),
    WideEnd.NONE: msg("Plain joints will do at both ends."),
    WideEnd.UNSURE: msg("Both joints bend alike within the doubt of the angles: measure them again."),
}


def wide_angle_end(
    tractor: Estimate, machine: Estimate, plain_limit: Radians, fitted: WideEnd | None = None
) -> WideAdvice:
    """At which end a wide-angle joint belongs, from both angles at the tightest place.

    The plain joint must stay below its limit; the wide-angle joint goes where the angle is larger.

    Args:
        tractor: angle at the tractor's joint with doubt [rad].
        machine: angle at the machine's joint with doubt [rad].
        plain_limit: what a plain joint may bend, turning, from the shaft's data [rad].
        fitted: where the shaft has its wide-angle joint, None where that was not looked at.

    Returns:
        the :class:`WideAdvice`.

    Raises:
        Impossible: an angle below zero or of a right angle and more, a limit not above zero, or a
            doubt below zero.

    Example:
        >>> angles = [Estimate(math.radians(a), math.radians(0.5)) for a in (29.9, 40.1)]
        >>> wide_angle_end(*angles, plain_limit=math.radians(35)).end.value
        'machine'

    Source: common workshop practice; the limit is the shaft's own data.
    """
    for angle in (tractor, machine):
        _joint(angle.value)
    positive(plain_limit, msg("limit of the plain joint"))
    over = [angle.within(high=plain_limit) is not Verdict.IN_ORDER for angle in (tractor, machine)]
    sure = [angle.within(high=plain_limit) is Verdict.PUT_RIGHT for angle in (tractor, machine)]
    if all(sure):
        return WideAdvice(WideEnd.BOTH, Verdict.STOP, WIDE_WORDS[WideEnd.BOTH])
    if not any(over):
        return WideAdvice(WideEnd.NONE, Verdict.IN_ORDER, WIDE_WORDS[WideEnd.NONE])
    if all(over) and agree(tractor, machine):
        return WideAdvice(WideEnd.UNSURE, Verdict.MEASURE_AGAIN, WIDE_WORDS[WideEnd.UNSURE])
    end = WideEnd.TRACTOR if tractor.value > machine.value else WideEnd.MACHINE
    right = fitted is None or fitted in {end, WideEnd.BOTH}
    verdict = Verdict.PUT_RIGHT if not right else Verdict.MEASURE_AGAIN if all(over) else Verdict.IN_ORDER
    return WideAdvice(end, verdict, WIDE_WORDS[end])


def _joint(angle: float) -> None:
    not_negative(angle, msg("joint angle"))
    demand(angle < math.pi / 2, msg("A joint cannot turn at a right angle or more."))
