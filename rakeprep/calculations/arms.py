"""Tine arms: hand against rotation, counts, and every arm past one and the same place."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from statistics import median
from typing import Annotated

from rakeprep.calculations import Impossible, demand, finite
from rakeprep.calculations.planes import Plane, fit_plane
from rakeprep.text import Message, msg, plural, verbatim

Metres = Annotated[float, "m"]

FLOOR_LIMIT = 0.008
WOBBLE_LIMIT = 0.006
SD_FACTOR = 4.0


class Rotor(StrEnum):
    """A rotor, as seen from the tractor seat; the value is the letter painted on its arms."""

    LEFT = "L"
    RIGHT = "R"


class Hand(StrEnum):
    """Hand of a tine arm."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> Hand:
        """The opposite hand."""
        return Hand.RIGHT if self is Hand.LEFT else Hand.LEFT


class Spin(StrEnum):
    """Direction of rotation seen from above."""

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"


class Coil(StrEnum):
    """What a tine's coil does when its tip is pushed back as the hay would push it."""

    WINDS_UP = "winds up"
    OPENS = "opens"


@dataclass(frozen=True, slots=True)
class HandCheck:
    """Arms of the wrong hand or with an opening coil, arms not fitted, and the sentences."""

    in_order: bool
    wrong: tuple[int, ...]
    not_fitted: tuple[int, ...]
    says: tuple[Message, ...]


def arm_name(rotor: Rotor, number: int) -> str:
    """Name of an arm: rotor letter, A, two digits.

    Args:
        rotor: the rotor.
        number: of the arm, counted clockwise seen from above from the paint mark.

    Returns:
        the name.

    Raises:
        Impossible: a number below 1.

    Example:
        >>> arm_name(Rotor.RIGHT, 7)
        'RA07'

    Source: own numbering.
    """
    demand(number >= 1, msg("Arms are counted from 1."))
    return f"{rotor.value}A{number:02d}"


def spin_for_centre_delivery(rotor: Rotor) -> Spin:
    """Direction a rotor must turn so that its front sweeps toward the middle.

    Args:
        rotor: the rotor.

    Returns:
        clockwise for the left rotor, anticlockwise for the right one, seen from above.

    Raises:
        Impossible: nothing.

    Example:
        >>> spin_for_centre_delivery(Rotor.LEFT).value
        'clockwise'

    Source: geometry.
    """
    return Spin.CLOCKWISE if rotor is Rotor.LEFT else Spin.ANTICLOCKWISE


def check_spin(rotor: Rotor, seen: Spin) -> Message | None:
    """A sentence if a rotor turns the wrong way for delivery to the middle.

    Args:
        rotor: the rotor.
        seen: direction seen from above.

    Returns:
        the sentence, or None.

    Raises:
        Impossible: nothing.

    Example:
        >>> check_spin(Rotor.LEFT, Spin.CLOCKWISE) is None
        True

    Source: geometry.
    """
    if seen is spin_for_centre_delivery(rotor):
        return None
    if rotor is Rotor.LEFT:
        return msg("The left rotor sweeps outward at the front; it must turn clockwise seen from above.")
    return msg("The right rotor sweeps outward at the front; it must turn anticlockwise seen from above.")


def check_hands(
    rotor: Rotor,
    fitted: Mapping[int, Hand],
    wanted: Hand,
    count: int,
    coils: Mapping[int, Coil] | None = None,
) -> HandCheck:
    """All arms of one rotor have one hand, and the hay winds every coil up.

    Args:
        rotor: the rotor.
        fitted: hand of each fitted arm by number.
        wanted: hand that belongs on this rotor, from the machine's data.
        count: arms the rotor has places for.
        coils: what each arm's coils do when a tip is pushed back, where it was looked at.

    Returns:
        the :class:`HandCheck`.

    Raises:
        Impossible: a count below 1, or an arm number beyond it.

    Example:
        >>> hands = {number: Hand.RIGHT for number in range(1, 13)} | {7: Hand.LEFT}
        >>> [str(s) for s in check_hands(Rotor.RIGHT, hands, Hand.RIGHT, 12).says]
        ['Arm RA07 is a left-hand arm.']

    Source: torsion springs are loaded in the direction that winds them up (spring design practice).
    """
    demand(count >= 1, msg("A rotor has at least one arm."))
    coils = coils or {}
    numbers = {*fitted, *coils}
    demand(
        all(1 <= number <= count for number in numbers), msg("There is no arm of this number on the rotor.")
    )
    strange = [number for number in sorted(fitted) if fitted[number] is not wanted]
    opening = [number for number in sorted(coils) if coils[number] is Coil.OPENS]
    missing = tuple(number for number in range(1, count + 1) if number not in fitted)
    says: list[Message] = []
    if fitted and len(strange) == len(fitted) > 1:
        says.append(_all_wrong(rotor))
    else:
        says += [_wrong_arm(rotor, number, fitted[number]) for number in strange]
    says += [
        msg("The hay would open the coils of arm {arm}: wrong hand or tine turned over.", arm=_name(rotor, n))
        for n in opening
        if n not in strange
    ]
    if missing:
        says.append(
            plural("{count} arm is not fitted yet.", "{count} arms are not fitted yet.", len(missing))
        )
    return HandCheck(not says, tuple(sorted({*strange, *opening})), missing, tuple(says))


def _name(rotor: Rotor, number: int) -> Message:
    return verbatim(arm_name(rotor, number))


def _wrong_arm(rotor: Rotor, number: int, hand: Hand) -> Message:
    if hand is Hand.LEFT:
        return msg("Arm {arm} is a left-hand arm.", arm=_name(rotor, number))
    return msg("Arm {arm} is a right-hand arm.", arm=_name(rotor, number))


def _all_wrong(rotor: Rotor) -> Message:
    if rotor is Rotor.LEFT:
        return msg("All arms on the left rotor have the wrong hand: the two sets are exchanged.")
    return msg("All arms on the right rotor have the wrong hand: the two sets are exchanged.")


def check_crate(hands: Sequence[Hand], left: int, right: int) -> tuple[Message, ...]:
    """Count loose arms by hand against what should have come.

    Args:
        hands: hand of every arm found.
        left: left-hand arms that should be there.
        right: right-hand arms that should be there.

    Returns:
        sentences, none if the count is right.

    Raises:
        Impossible: a wanted count below zero.

    Example:
        >>> [str(s) for s in check_crate([Hand.LEFT] * 7 + [Hand.RIGHT] * 5, 6, 6)]
        ['1 left-hand arm too many.', '1 right-hand arm is missing.']

    Source: counting.
    """
    demand(left >= 0 and right >= 0, msg("A count of arms cannot be below zero."))
    more_left, more_right = hands.count(Hand.LEFT) - left, hands.count(Hand.RIGHT) - right
    says: list[Message] = []
    if more_left > 0:
        says.append(plural("{count} left-hand arm too many.", "{count} left-hand arms too many.", more_left))
    if more_left < 0:
        says.append(
            plural("{count} left-hand arm is missing.", "{count} left-hand arms are missing.", -more_left)
        )
    if more_right > 0:
        says.append(
            plural("{count} right-hand arm too many.", "{count} right-hand arms too many.", more_right)
        )
    if more_right < 0:
        says.append(
            plural("{count} right-hand arm is missing.", "{count} right-hand arms are missing.", -more_right)
        )
    return tuple(says)


@dataclass(frozen=True, slots=True)
class Ring:
    """All arms past one place.

    ``departures`` by arm number from the fitted wave (None where not read); ``wobble`` is the half
    height of the wave; ``high_arm`` the arm nearest its crest; ``left_out`` the arms that the fit
    did without; ``odd`` those beyond ``limit``.
    """

    middle: Metres
    mean: Metres
    wobble: Metres
    high_arm: int
    departures: tuple[float | None, ...]
    sd: Metres
    limit: Metres
    left_out: tuple[int, ...]
    odd: tuple[int, ...]
    hub_wobbles: bool


def arms_past_one_place(
    readings: Sequence[Metres | None],
    floor_limit: Metres = FLOOR_LIMIT,
    wobble_limit: Metres = WOBBLE_LIMIT,
) -> Ring:
    """Find bent arms from the height of every arm at one and the same clock place.

    Tilt of the rotor and the floor cancel, as every arm stands at the same place; a hub that is not
    square makes one wave round the circle. The wave is fitted without the arm whose leaving out
    helps most, because otherwise a bent arm pulls the wave toward itself. As long as the rest still
    scatters so much that the limit would grow, one more arm is left out, up to a quarter of them.

        z_k = m + a cos t_k + b sin t_k ;  odd if |departure| > max(floor_limit, 4 sd)

    Args:
        readings: height of arm 1, 2, ... [m]; None for an arm not read.
        floor_limit: departure that is never called odd [m]; default 8 mm, a rule of thumb.
        wobble_limit: half height of the wave that speaks of the hub [m]; 6 mm, a rule of thumb.

    Returns:
        the :class:`Ring`.

    Raises:
        Impossible: fewer than six arms read, or a reading that is no number.

    Example:
        >>> ring = arms_past_one_place(
        ...     [z / 1000 for z in (14, 15, 16, 15, 15, 13, 13, 12, 11, 24, 12, 13)])
        >>> ring.odd, round(ring.departures[9] * 1000, 1), ring.high_arm
        ((10,), 12.7, 3)

    Source: harmonic analysis with one line left out; limits are rules of thumb.
    """
    count = len(readings)
    points = {k: _point(k, count, z) for k, z in enumerate(readings) if z is not None}
    if len(points) < 6:
        raise Impossible(msg("At least six arms must be read past one place to find an odd one."))
    for _, _, z in points.values():
        finite(z, msg("reading"))
    left_out: list[int] = []
    while True:
        left_out.append(_worst(points, left_out))
        plane = _without(points, left_out)
        sd = plane.sd or 0.0
        if sd * SD_FACTOR <= floor_limit or len(left_out) >= len(points) // 4:
            break
    limit = max(floor_limit, SD_FACTOR * sd)
    departures = tuple(points[k][2] - plane.at(*points[k][:2]) if k in points else None for k in range(count))
    wobble = math.hypot(plane.p, plane.q)
    crest = round(math.atan2(plane.q, plane.p) / (2 * math.pi) * count) % count
    return Ring(
        median(z for _, _, z in points.values()),
        plane.c,
        wobble,
        crest + 1,
        departures,
        sd,
        limit,
        tuple(k + 1 for k in sorted(left_out)),
        tuple(k + 1 for k, e in enumerate(departures) if e is not None and abs(e) > limit),
        wobble > wobble_limit,
    )


def _point(place: int, count: int, z: float) -> tuple[float, float, float]:
    turned = 2 * math.pi * place / count
    return math.cos(turned), math.sin(turned), z


def _without(points: Mapping[int, tuple[float, float, float]], left_out: Sequence[int]) -> Plane:
    return fit_plane([point for k, point in points.items() if k not in left_out])


def _worst(points: Mapping[int, tuple[float, float, float]], left_out: Sequence[int]) -> int:
    """The arm without which the others fit best."""

    def rest(place: int) -> float:
        return math.fsum(e * e for e in _without(points, [*left_out, place]).residuals)

    return min((k for k in points if k not in left_out), key=rest)
