"""What to turn to level a rotor, and how far; the sensitivity learned from the machine itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.levelling import CannotTell
from rakeprep.text import Message, msg, plural

Metres = Annotated[float, "m"]
Ratio = Annotated[float, "1"]
Pair = tuple[float, float]
Square = tuple[Pair, Pair]


@dataclass(frozen=True, slots=True)
class Move:
    """Whole steps of an adjuster: flats, holes or half turns; 0 means leave it.

    ``exact`` is the number of steps before rounding, ``left`` the need that remains after the whole
    steps, ``per_step`` what one step changes. ``steps`` is positive where the need is.
    """

    steps: int
    exact: float
    left: Metres
    per_step: Metres
    says: Message

    @property
    def leave(self) -> bool:
        """Whether nothing is to be turned."""
        return self.steps == 0


LEAVE_DOUBT = msg("Leave it: the need is smaller than the doubt of the readings.")
LEAVE_STEP = msg("Leave it: the need is less than half a step.")


def steps_for(need: Estimate, per_step: Metres) -> tuple[int, Message | None]:
    """Whole steps for a need, or the reason to leave it.

        steps = need / per_step, rounded to the nearest; 0 if |need| < doubt or < half a step

    Args:
        need: wanted change with its doubt [m].
        per_step: change per step, above zero [m].

    Returns:
        steps with the sign of the need, and the sentence where there are none.

    Raises:
        Impossible: a need that is no number, a doubt below zero, a step not above zero.

    Example:
        >>> steps_for(Estimate(0.009, 0.006), 0.00833)[0]
        1

    Source: arithmetic.
    """
    finite(need.value, msg("need"))
    not_negative(need.doubt, msg("doubt of the need"))
    positive(per_step, msg("change per step"))
    if abs(need.value) < need.doubt:
        return 0, LEAVE_DOUBT
    if abs(need.value) < per_step / 2 * (1 - 1e-9):
        return 0, LEAVE_STEP
    whole = math.floor(abs(need.value) / per_step + 0.5 + 1e-9)
    return (whole if need.value > 0 else -whole), None


def turnbuckle(
    need: Estimate,
    pitch_left: Metres,
    pitch_right: Metres,
    lever: Metres,
    circle: Metres,
    flats: int = 6,
    shorter_raises_front: bool | None = None,
) -> Move:
    """Flats of the turnbuckle for a change of front minus rear.

        per turn = (left pitch + right pitch) / lever * circle ;  per flat = per turn / flats

    Args:
        need: wanted change of front minus rear, positive raises the front [m].
        pitch_left: pitch of the left-hand thread [m].
        pitch_right: pitch of the right-hand thread [m].
        lever: arm on which the turnbuckle tilts the rotor [m].
        circle: diameter of the tip circle [m].
        flats: of the turnbuckle's body.
        shorter_raises_front: from the machine's data; None where it is not known.

    Returns:
        the :class:`Move` in flats.

    Raises:
        Impossible: a length not above zero, fewer than one flat, or as :func:`steps_for`.

    Example:
        >>> move = turnbuckle(Estimate(0.009, 0.006), 0.003, 0.003, 0.420, 3.5, shorter_raises_front=True)
        >>> str(move.says), round(move.left, 4)
        ('Turn the turnbuckle 1 flat, shorter.', 0.0007)

    Source: geometry, small angles.
    """
    positive(pitch_left, msg("pitch of the thread"))
    positive(pitch_right, msg("pitch of the thread"))
    positive(lever, msg("lever of the turnbuckle"))
    positive(circle, msg("diameter of the tip circle"))
    demand(flats >= 1, msg("A turnbuckle has at least one mark to turn by."))
    per_flat = (pitch_left + pitch_right) / lever * circle / flats
    steps, leave = steps_for(need, per_flat)
    if shorter_raises_front is None:
        says = plural(
            "Turn the turnbuckle {count} flat either way and measure again: its sense is not known.",
            "Turn the turnbuckle {count} flats either way and measure again: its sense is not known.",
            abs(steps),
        )
    elif (steps > 0) == shorter_raises_front:
        says = plural(
            "Turn the turnbuckle {count} flat, shorter.",
            "Turn the turnbuckle {count} flats, shorter.",
            abs(steps),
        )
    else:
        says = plural(
            "Turn the turnbuckle {count} flat, longer.",
            "Turn the turnbuckle {count} flats, longer.",
            abs(steps),
        )
    return _move(need, steps, per_flat, leave or says)


def chassis_pins(need: Estimate, hole_step: Metres, track: Metres, circle: Metres) -> Move:
    """Holes of the chassis pins for a change of right minus left.

        per hole = hole_step / track * circle

    Args:
        need: wanted change of right minus left, positive raises the right side [m].
        hole_step: height from one hole to the next [m].
        track: distance between left and right wheels [m].
        circle: diameter of the tip circle [m].

    Returns:
        the :class:`Move` in holes.

    Raises:
        Impossible: a length not above zero, or as :func:`steps_for`.

    Example:
        >>> str(chassis_pins(Estimate(0.0099, 0.003), 0.015, 1.4, 3.5).says)
        'Leave it: the need is less than half a step.'

    Source: geometry, small angles.
    """
    positive(hole_step, msg("distance of the holes"))
    positive(track, msg("track width"))
    positive(circle, msg("diameter of the tip circle"))
    per_hole = hole_step / track * circle
    steps, leave = steps_for(need, per_hole)
    if steps > 0:
        says = plural(
            "Raise the right side by {count} hole.", "Raise the right side by {count} holes.", abs(steps)
        )
    else:
        says = plural(
            "Lower the right side by {count} hole.", "Lower the right side by {count} holes.", abs(steps)
        )
    return _move(need, steps, per_hole, leave or says)


def crank(need: Estimate, pitch: Metres, ratio: Ratio = 1.0) -> Move:
    """Half turns of the height crank for a change of the centre height.

        per turn = pitch * ratio

    Args:
        need: wanted change of the tine height, positive raises [m].
        pitch: of the spindle [m].
        ratio: height at the tines per height at the spindle [1].

    Returns:
        the :class:`Move` in half turns.

    Raises:
        Impossible: a pitch or ratio not above zero, or as :func:`steps_for`.

    Example:
        >>> str(crank(Estimate(-0.008, 0.003), 0.005, 0.62).says)
        'Turn the crank 5 half turns, down.'

    Source: geometry.
    """
    positive(pitch, msg("pitch of the spindle"))
    positive(ratio, msg("ratio of tine to spindle"))
    half = pitch * ratio / 2
    steps, leave = steps_for(need, half)
    if steps > 0:
        says = plural(
            "Turn the crank {count} half turn, up.", "Turn the crank {count} half turns, up.", abs(steps)
        )
    else:
        says = plural(
            "Turn the crank {count} half turn, down.", "Turn the crank {count} half turns, down.", abs(steps)
        )
    return _move(need, steps, half, leave or says)


def _move(need: Estimate, steps: int, per_step: float, says: Message) -> Move:
    return Move(steps, need.value / per_step, need.value - steps * per_step, per_step, says)


def headstock_effect(
    rise: Metres, length: Metres, behind: Metres, circle: Metres
) -> tuple[Ratio, Metres, Metres]:
    """What raising the headstock does to a rotor that hangs rigidly on the frame.

    A rotor on its own chassis in a gimbal moves less: learn it from the machine instead.

        tilt = rise / length ;  rotor rises rise (1 - behind / length) ;  front - rear = tilt * circle

    Args:
        rise: of the hitch pins [m].
        length: hitch pins to transport axle [m].
        behind: rotor centre behind the hitch pins [m].
        circle: diameter of the tip circle [m].

    Returns:
        tilt nose up [1], rise of the rotor's centre [m], change of front minus rear [m].

    Raises:
        Impossible: a length not above zero, or values that are no numbers.

    Example:
        >>> tilt, centre, front = headstock_effect(0.025, 5.60, 2.40, 3.50)
        >>> round(tilt * 1000, 1), round(centre * 1000), round(front * 1000, 1)
        (4.5, 14, 15.6)

    Source: geometry, small angles.
    """
    finite(rise, msg("rise of the headstock"))
    positive(length, msg("distance from hitch to axle"))
    finite(behind, msg("place of the rotor"))
    positive(circle, msg("diameter of the tip circle"))
    tilt = rise / length
    return tilt, rise * (1 - behind / length), tilt * circle


def sensitivity(before: Pair, after: Pair, turns: float) -> Pair:
    """What one turn of an adjuster really changes on this machine.

        J = (after - before) / turns

    Args:
        before: centre height, front minus rear before [m].
        after: the same after the turn [m].
        turns: turned in between, either sign, not zero.

    Returns:
        change of each per turn [m].

    Raises:
        Impossible: no turn, or values that are no numbers.

    Example:
        >>> [round(j, 4) for j in sensitivity((0.030, -0.029), (0.0308, 0.019), 2)]
        [0.0004, 0.024]

    Source: difference quotient.
    """
    for value in (*before, *after, turns):
        finite(value, msg("reading"))
    demand(turns != 0, msg("Without a turn nothing can be learned from it."))
    return (after[0] - before[0]) / turns, (after[1] - before[1]) / turns


def turns_for(first: Pair, second: Pair, need: Pair) -> Pair:
    """Turns of two adjusters that together make two wanted changes.

        [first second] [t1 t2] = need

    Args:
        first: change of centre height and of front minus rear per turn of the first adjuster [m].
        second: the same for the second adjuster [m].
        need: wanted changes [m].

    Returns:
        turns of the first and of the second adjuster.

    Raises:
        CannotTell: one adjuster moves nothing, or both move the same.
        Impossible: values that are no numbers.

    Example:
        >>> turns = turns_for((-0.0031, 0.0015), (0.0004, 0.0240), (-0.006, -0.014))
        >>> [round(t, 2) for t in turns]
        [1.85, -0.7]

    Source: Cramer's rule.
    """
    for value in (*first, *second, *need):
        finite(value, msg("reading"))
    det = first[0] * second[1] - first[1] * second[0]
    size = math.hypot(*first) * math.hypot(*second)
    # 1e-4 m: an adjuster whose turn moves the tines less than that moves nothing
    if min(math.hypot(*first), math.hypot(*second)) < 1e-4 or abs(det) < 0.02 * size:
        raise CannotTell(
            msg(
                "The turns cannot be told, because an adjuster moves nothing or both move the same; look "
                "whether a pin is not seated."
            )
        )
    return (
        (need[0] * second[1] - need[1] * second[0]) / det,
        (first[0] * need[1] - first[1] * need[0]) / det,
    )
