"""The adjusters of a rotor and what one real step of each changes, from geometry."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from rakeprep.calculations import demand, positive
from rakeprep.calculations.adjusting import headstock_effect
from rakeprep.calculations.decision import Estimate
from rakeprep.text import Message, msg, plural

Metres = Annotated[float, "m"]
Ratio = Annotated[float, "1"]
Effect = tuple[Estimate, Estimate, Estimate]

MOST_STEPS = 100


class StepKind(StrEnum):
    """What a person can really turn or move by: nothing finer exists."""

    FLAT = "flat"
    HOLE = "hole"
    HALF_TURN = "half turn"
    QUARTER_TURN = "quarter turn"
    TURN = "turn"
    NOTCH = "notch"


@dataclass(frozen=True, slots=True)
class Adjuster:
    """One adjuster: what a positive step changes, how far it may go either way, and its words.

    ``effect`` is the change per step of centre height, front minus rear and right minus left, each
    with doubt. ``weight`` says how much trouble a step is compared with others.
    """

    name: Message
    kind: StepKind
    effect: Effect
    least: int
    most: int
    plus: Message
    minus: Message
    weight: Ratio = 1.0


def sure(centre: Metres = 0.0, front_rear: Metres = 0.0, right_left: Metres = 0.0) -> Effect:
    """An effect that comes from geometry and has no doubt of its own.

    Args:
        centre: change of the centre height per step [m].
        front_rear: change of front minus rear per step [m].
        right_left: change of right minus left per step [m].

    Returns:
        the effect [m].

    Raises:
        Impossible: nothing.

    Example:
        >>> sure(front_rear=0.00833)[1]
        Estimate(value=0.00833, doubt=0.0)

    Source: definition.
    """
    return Estimate(centre, 0.0), Estimate(front_rear, 0.0), Estimate(right_left, 0.0)


def turnbuckle_by_flats(
    pitches: Metres, lever: Metres, circle: Metres, shorter_raises_front: bool, range_: int, flats: int = 6
) -> Adjuster:
    """A turnbuckle that tilts the rotor, in flats of its body; a positive step raises the front.

        per flat = pitches / lever * circle / flats

    Args:
        pitches: left-hand and right-hand pitch together [m].
        lever: arm on which it tilts the rotor [m].
        circle: diameter of the tip circle [m].
        shorter_raises_front: its sense, from the machine's data.
        range_: flats it may be turned either way.
        flats: of its body.

    Returns:
        the :class:`Adjuster`.

    Raises:
        Impossible: a length not above zero, fewer than one flat, a range outside 0 to 100.

    Example:
        >>> buckle = turnbuckle_by_flats(0.006, 0.420, 3.5, True, 12)
        >>> round(buckle.effect[1].value, 5)
        0.00833

    Source: geometry, small angles.
    """
    positive(pitches, msg("pitch of the thread"))
    positive(lever, msg("lever of the turnbuckle"))
    positive(circle, msg("diameter of the tip circle"))
    demand(flats >= 1, msg("A turnbuckle has at least one mark to turn by."))
    per_flat = pitches / lever * circle / flats
    shorter, longer = msg("shorter"), msg("longer")
    words = (shorter, longer) if shorter_raises_front else (longer, shorter)
    effect = sure(front_rear=per_flat)
    return Adjuster(msg("turnbuckle"), StepKind.FLAT, effect, *_both_ways(range_), *words)


def pins_by_holes(hole_step: Metres, track: Metres, circle: Metres, range_: int) -> Adjuster:
    """Chassis pins, in holes; a positive step raises the right side, the left one stays.

        right - left per hole = hole_step / track * circle ;  centre per hole = hole_step / 2

    Args:
        hole_step: height from one hole to the next [m].
        track: distance between left and right wheels [m].
        circle: diameter of the tip circle [m].
        range_: holes there are either way.

    Returns:
        the :class:`Adjuster`.

    Raises:
        Impossible: a length not above zero, a range outside 0 to 100.

    Example:
        >>> pins = pins_by_holes(0.015, 1.4, 3.5, 2)
        >>> round(pins.effect[2].value, 4), pins.effect[0].value
        (0.0375, 0.0075)

    Source: geometry, small angles, rotor in the middle between the wheels.
    """
    positive(hole_step, msg("distance of the holes"))
    positive(track, msg("track width"))
    positive(circle, msg("diameter of the tip circle"))
    effect = sure(centre=hole_step / 2, right_left=hole_step / track * circle)
    words = (msg("right side up"), msg("right side down"))
    return Adjuster(msg("chassis pins"), StepKind.HOLE, effect, *_both_ways(range_), *words, weight=3.0)


def crank_by_half_turns(pitch: Metres, ratio: Ratio, range_: int) -> Adjuster:
    """The height crank, in half turns; a positive step raises the tines.

        per half turn = pitch * ratio / 2

    Args:
        pitch: of the spindle [m].
        ratio: height at the tines per height at the spindle [1].
        range_: half turns it may be turned either way.

    Returns:
        the :class:`Adjuster`.

    Raises:
        Impossible: a pitch or ratio not above zero, a range outside 0 to 100.

    Example:
        >>> round(crank_by_half_turns(0.005, 0.62, 20).effect[0].value, 5)
        0.00155

    Source: geometry.
    """
    positive(pitch, msg("pitch of the spindle"))
    positive(ratio, msg("ratio of tine to spindle"))
    effect = sure(centre=pitch * ratio / 2)
    words = (msg("up"), msg("down"))
    return Adjuster(msg("height crank"), StepKind.HALF_TURN, effect, *_both_ways(range_), *words, weight=0.5)


def headstock_by_notches(
    notch: Metres, length: Metres, behind: Metres, circle: Metres, range_: int
) -> Adjuster:
    """Headstock height, in steps in which it can be set; a positive step raises the nose.

    Only for a rotor that hangs rigidly on the frame; otherwise learn the effect from the machine.

    Args:
        notch: smallest change of the pins' height that can be set [m].
        length: hitch pins to transport axle [m].
        behind: rotor centre behind the hitch pins [m].
        circle: diameter of the tip circle [m].
        range_: notches either way.

    Returns:
        the :class:`Adjuster`.

    Raises:
        Impossible: a length not above zero, a range outside 0 to 100.

    Example:
        >>> head = headstock_by_notches(0.025, 5.60, 2.40, 3.50, 4)
        >>> round(head.effect[0].value, 3), round(head.effect[1].value, 4)
        (0.014, 0.0156)

    Source: geometry, small angles.
    """
    positive(notch, msg("step of the headstock"))
    _, centre, front = headstock_effect(notch, length, behind, circle)
    effect = sure(centre=centre, front_rear=front)
    words = (msg("nose up"), msg("nose down"))
    # the links are moved from the seat, and one setting serves both rotors
    return Adjuster(msg("headstock"), StepKind.NOTCH, effect, *_both_ways(range_), *words, weight=0.5)


def _both_ways(range_: int) -> tuple[int, int]:
    demand(0 <= range_ <= MOST_STEPS, msg("An adjuster can be moved by 0 to {most} steps.", most=MOST_STEPS))
    return -range_, range_


def move_words(adjuster: Adjuster, steps: int) -> Message:
    """A move in words: name, count and kind of step, sense.

    Args:
        adjuster: the adjuster.
        steps: with their sign, not zero.

    Returns:
        the sentence.

    Raises:
        Impossible: no step at all.

    Example:
        >>> str(move_words(turnbuckle_by_flats(0.006, 0.420, 3.5, True, 12), 1))
        'turnbuckle: 1 flat, shorter'

    Source: wording.
    """
    demand(steps != 0, msg("Without a step there is nothing to say."))
    count, sense = abs(steps), adjuster.plus if steps > 0 else adjuster.minus
    gaps = {"name": adjuster.name, "sense": sense}
    match adjuster.kind:
        case StepKind.FLAT:
            return plural("{name}: {count} flat, {sense}", "{name}: {count} flats, {sense}", count, **gaps)
        case StepKind.HOLE:
            return plural("{name}: {count} hole, {sense}", "{name}: {count} holes, {sense}", count, **gaps)
        case StepKind.HALF_TURN:
            return plural(
                "{name}: {count} half turn, {sense}", "{name}: {count} half turns, {sense}", count, **gaps
            )
        case StepKind.QUARTER_TURN:
            return plural(
                "{name}: {count} quarter turn, {sense}",
                "{name}: {count} quarter turns, {sense}",
                count,
                **gaps,
            )
        case StepKind.TURN:
            return plural("{name}: {count} turn, {sense}", "{name}: {count} turns, {sense}", count, **gaps)
        case _:
            return plural("{name}: {count} notch, {sense}", "{name}: {count} notches, {sense}", count, **gaps)
