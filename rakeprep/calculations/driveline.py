"""Length of the telescoping driveline: nine places, the cut, and the proof after the cut.

Distances run from the locking groove of the tractor's stub to that of the machine's stub.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]

STEP = 0.005
FINE_STEP = 0.001
LEFT_RIGHT_LIMIT = 0.015
RESERVE_PER_DOUBT = 3.0


class Turn(StrEnum):
    """How the tractor stands to the machine."""

    LEFT = "full left"
    STRAIGHT = "straight"
    RIGHT = "full right"


class Height(StrEnum):
    """Where the lower links stand."""

    LOW = "links lowest"
    WORK = "links at work height"
    HIGH = "links highest"


Place = tuple[Turn, Height]


class CutAnswer(StrEnum):
    """What the arithmetic says about a shaft on one tractor."""

    NO_CUT = "no cut needed"
    CUT = "cut"
    TOO_SHORT = "too short"
    NO_ROOM = "no room"


@dataclass(frozen=True, slots=True)
class Places:
    """What the distances say together; ``places`` in the order of the nine-place map."""

    shortest: Metres
    shortest_at: tuple[Place, ...]
    longest: Metres
    longest_at: tuple[Place, ...]
    not_read: tuple[Place, ...]
    left_minus_right: Mapping[Height, float]
    uneven: bool


@dataclass(frozen=True, slots=True)
class GuardTubes:
    """Lengths of the two guard tubes, and how far each guard starts behind its groove."""

    half_a: Metres
    half_b: Metres
    inset: Metres = 0.095


@dataclass(frozen=True, slots=True)
class Cut:
    """The cut and everything that follows from it.

    ``least`` and ``most`` bound the cut; ``cut`` is the same length off both tubes and both guards,
    and 0 where none is to be made. The lengths after ``cut`` hold for that cut.
    """

    answer: CutAnswer
    why: Message
    least: Metres
    most: Metres
    cut: Metres
    closed: Metres
    half_a: Metres
    half_b: Metres
    gap_at_shortest: Metres
    overlap_at_longest_before: Metres
    overlap_at_longest: Metres
    overlap_at_shortest: Metres
    guard_overlap: Metres | None
    reserve: Metres
    reserve_raised: bool


@dataclass(frozen=True, slots=True)
class AfterCut:
    """What the measured gap and overlap after the cut say; departures are measured minus planned."""

    seen: Found
    says: Message
    gap_departure: Metres
    overlap_departure: Metres


class Found(StrEnum):
    """Which story fits a gap and an overlap measured after the cut."""

    AS_PLANNED = "as planned"
    NOT_CUT = "nothing cut"
    ONE_TUBE = "only one tube cut"
    CUT_TWICE = "cut twice"
    UNEXPLAINED = "fits nothing"


def nine_places(distances: Mapping[Place, Metres], left_right_limit: Metres = LEFT_RIGHT_LIMIT) -> Places:
    """Find the shortest and the longest of the distances, and where left differs from right.

    Places that could not be reached are left out of ``distances``. Left and right are compared at
    the same height only; more than ``left_right_limit`` between them means the PTO or the hitch is
    off centre, or that one stop was not reached.

    Args:
        distances: groove to groove by place [m].
        left_right_limit: largest difference that is not worth a word [m]; default 15 mm, a rule of
            thumb.

    Returns:
        the :class:`Places` [m]; a place shares the shortest (or longest) if it reads the same.

    Raises:
        Impossible: no distance at all, or one that is not above zero.

    Example:
        >>> read = {(Turn.STRAIGHT, Height.HIGH): 1.068, (Turn.LEFT, Height.LOW): 0.872}
        >>> places = nine_places(read)
        >>> places.shortest_at[0][0].value, places.longest, len(places.not_read)
        ('full left', 1.068, 7)

    Source: geometry.
    """
    demand(bool(distances), msg("No distance of the driveline has been read yet."))
    for distance in distances.values():
        positive(distance, msg("distance from groove to groove"))
    order = [(turn, height) for height in Height for turn in Turn]
    shortest, longest = min(distances.values()), max(distances.values())
    sides = {
        height: distances[Turn.LEFT, height] - distances[Turn.RIGHT, height]
        for height in Height
        if (Turn.LEFT, height) in distances and (Turn.RIGHT, height) in distances
    }
    return Places(
        shortest,
        tuple(place for place in order if distances.get(place) == shortest),
        longest,
        tuple(place for place in order if distances.get(place) == longest),
        tuple(place for place in order if place not in distances),
        sides,
        any(abs(difference) > left_right_limit for difference in sides.values()),
    )


def overlap_rule_of_thumb(inner: Metres) -> Metres:
    """Smallest overlap of the tubes where the machine's own book gives none.

        max(inner / 3, 150 mm)

    A rule of thumb, never a requirement.

    Args:
        inner: length of the inner tube [m].

    Returns:
        smallest overlap at the longest place [m].

    Raises:
        Impossible: a length not above zero.

    Example:
        >>> round(overlap_rule_of_thumb(0.78), 3), overlap_rule_of_thumb(0.3)
        (0.26, 0.15)

    Source: common workshop practice, no published source.
    """
    positive(inner, msg("length of the inner tube"))
    return max(inner / 3, 0.150)


def cut(
    closed: Metres,
    half_a: Metres,
    half_b: Metres,
    shortest: Metres,
    longest: Metres,
    reserve: Metres,
    min_overlap: Metres,
    doubt: Metres,
    *,
    step: Metres = STEP,
    fine_step: Metres = FINE_STEP,
    guards: GuardTubes | None = None,
) -> Cut:
    """How much to cut off both tubes (and both guards), or why no cut helps.

    The reserve exists for the doubt of the distances: a reserve below three doubts is raised to
    three, and the doubt is not taken off a second time. Every millimetre off both tubes takes two
    millimetres of overlap.

        least = max(0, closed + reserve - shortest)
        most  = (half_a + half_b - longest - min_overlap) / 2
        overlap(D) = half_a + half_b - 2 cut - D

    The cut is ``least`` rounded up to ``step``, to ``fine_step`` where that exceeds ``most``, and
    otherwise ``least`` itself.

    Args:
        closed: groove to groove with the shaft pushed home [m].
        half_a: tractor half, groove to the open end of its tube [m].
        half_b: machine half, likewise [m].
        shortest: shortest distance of the nine places [m].
        longest: longest distance of the nine places [m].
        reserve: travel that must be left at the shortest place [m].
        min_overlap: overlap that must be left at the longest place [m].
        doubt: 95 % half-width of the distances [m].
        step: what the cut is rounded up to [m].
        fine_step: the finer step, used only where the coarse one finds no room [m].
        guards: the guard tubes, cut by the same length.

    Returns:
        the :class:`Cut` [m].

    Raises:
        Impossible: a length not above zero, a longest place below the shortest, or a closed length
            that these two halves cannot have.

    Example:
        >>> plan = cut(0.905, 0.780, 0.760, 0.872, 1.068, 0.030, 0.250, 0.005)
        >>> plan.answer.value, round(plan.cut, 3), round(plan.overlap_at_longest, 3)
        ('cut', 0.065, 0.342)

    Source: geometry; three doubts of reserve is a rule of thumb.
    """
    _check_shaft(closed, half_a, half_b, shortest, longest)
    not_negative(reserve, msg("end reserve"))
    not_negative(min_overlap, msg("smallest overlap"))
    not_negative(doubt, msg("doubt of the distances"))
    positive(step, msg("step of the cut"))
    positive(fine_step, msg("finer step of the cut"))
    kept = max(reserve, RESERVE_PER_DOUBT * doubt)
    least = max(0.0, closed + kept - shortest)
    most = (half_a + half_b - longest - min_overlap) / 2
    if abs(most - least) <= NOISE:
        most = least
    answer, why = _answer(least, most)
    off = _rounded_up(least, most, (step, fine_step)) if answer is CutAnswer.CUT else 0.0
    both = half_a + half_b - 2 * off
    return Cut(
        answer,
        why,
        least,
        most,
        off,
        closed - off,
        half_a - off,
        half_b - off,
        shortest - (closed - off),
        half_a + half_b - longest,
        both - longest,
        both - shortest,
        None if guards is None else guard_overlap(guards, off, longest),
        kept,
        kept > reserve,
    )


def _check_shaft(closed: float, half_a: float, half_b: float, shortest: float, longest: float) -> None:
    positive(closed, msg("closed length"))
    positive(half_a, msg("length of the tractor half"))
    positive(half_b, msg("length of the machine half"))
    positive(shortest, msg("shortest distance"))
    finite(longest, msg("longest distance"))
    demand(shortest <= longest, msg("The longest distance is smaller than the shortest one."))
    demand(
        max(half_a, half_b) <= closed,
        msg("The closed length is smaller than one of the halves; one of them was measured wrongly."),
    )
    demand(
        closed <= half_a + half_b,
        msg("The closed length is larger than both halves together; one of them was measured wrongly."),
    )


NOISE = 1e-9  # m; limits that meet exactly must not miss each other by the last bit of a float


def _answer(least: float, most: float) -> tuple[CutAnswer, Message]:
    if most < -NOISE:
        return CutAnswer.TOO_SHORT, msg(
            "The tubes are too short: even uncut they overlap too little at the longest place. "
            "Order longer tubes."
        )
    if least == 0:
        return CutAnswer.NO_CUT, msg("The shaft fits as it is. Do not cut.")
    if least > most:
        return CutAnswer.NO_ROOM, msg(
            "No cut fits both ends: what the shortest place needs leaves too little overlap at the "
            "longest. Another shaft, or a limit to the steering lock or the lift, is needed."
        )
    return CutAnswer.CUT, msg("Cut the same length off both guard tubes first, then off both steel tubes.")


def _rounded_up(least: float, most: float, steps: tuple[float, ...]) -> float:
    for step in steps:
        # 1e-9 of a step: a length that already is a whole number of steps must not gain one more
        rounded = max(least, math.ceil(least / step - 1e-9) * step)
        if rounded <= most + NOISE:
            return min(rounded, most)
    return least


def guard_overlap(guards: GuardTubes, off: Metres, longest: Metres) -> Metres:
    """Overlap of the two guard tubes at the longest place.

        half_a + half_b - 2 off - (longest - 2 inset)

    Args:
        guards: the guard tubes as delivered [m].
        off: what is cut off each of them [m].
        longest: longest distance of the nine places [m].

    Returns:
        overlap, negative where the guards come apart [m].

    Raises:
        Impossible: a guard tube not above zero, an inset or a cut below zero.

    Example:
        >>> round(guard_overlap(GuardTubes(0.640, 0.620), 0.065, 1.068), 3)
        0.252

    Source: geometry.
    """
    positive(guards.half_a, msg("length of the tractor half's guard"))
    positive(guards.half_b, msg("length of the machine half's guard"))
    not_negative(guards.inset, msg("distance from groove to guard"))
    not_negative(off, msg("cut"))
    return guards.half_a + guards.half_b - 2 * off - (longest - 2 * guards.inset)


def after_cut(plan: Cut, gap: Metres, overlap: Metres, doubt: Metres) -> AfterCut:
    """Compare the measured gap at the shortest and overlap at the longest place with the plan.

    Four stories are tried: as planned, nothing cut, only one tube cut, cut twice. The nearest one is
    taken if both readings lie within two doubts of it.

    Args:
        plan: the cut as it was worked out.
        gap: measured travel left at the shortest place, below zero if the tubes met before [m].
        overlap: measured overlap at the longest place [m].
        doubt: 95 % half-width of both readings [m].

    Returns:
        the :class:`AfterCut`.

    Raises:
        Impossible: readings that are no numbers, a doubt below zero.

    Example:
        >>> plan = cut(0.905, 0.780, 0.760, 0.872, 1.068, 0.030, 0.250, 0.005)
        >>> after_cut(plan, gap=-0.033, overlap=0.407, doubt=0.005).seen.value
        'only one tube cut'

    Source: geometry.
    """
    finite(gap, msg("gap"))
    finite(overlap, msg("overlap"))
    not_negative(doubt, msg("doubt of the readings"))
    x, gap_before = plan.cut, plan.gap_at_shortest - plan.cut
    before = plan.overlap_at_longest_before
    stories = {
        Found.AS_PLANNED: (gap_before + x, before - 2 * x),
        Found.NOT_CUT: (gap_before, before),
        Found.ONE_TUBE: (gap_before, before - x),
        Found.CUT_TWICE: (gap_before + 2 * x, before - 4 * x),
    }
    distance = {
        story: max(abs(gap - planned_gap), abs(overlap - planned_overlap))
        for story, (planned_gap, planned_overlap) in stories.items()
    }
    best = min(distance, key=lambda story: distance[story])
    # 1e-12 m: two doubts away is still inside, whatever the last bit of a float says
    found = best if distance[best] <= 2 * doubt + 1e-12 else Found.UNEXPLAINED
    return AfterCut(
        found,
        AFTER_CUT_SAYS[found],
        gap - plan.gap_at_shortest,
        overlap - plan.overlap_at_longest,
    )


AFTER_CUT_SAYS = {
    Found.AS_PLANNED: msg("Gap and overlap are as worked out."),
    Found.NOT_CUT: msg("Gap and overlap are as before: nothing has been cut yet."),
    Found.ONE_TUBE: msg("The gap has not changed but the overlap has: only one of the tubes was cut."),
    Found.CUT_TWICE: msg("Twice the length is gone: the tubes were cut two times."),
    Found.UNEXPLAINED: msg("Gap and overlap do not belong together. Measure both again."),
}


def guard_chain(distances: Mapping[Place, Metres], spare: Annotated[float, "1"] = 0.10) -> Metres:
    """Length of the chain that keeps the guard from turning.

        longest distance from the guard's eye to its fixed point * (1 + spare)

    It must also be too short to reach the turning tube or to hang the shaft on it; that is looked
    at on the machine.

    Args:
        distances: eye to fixed point by place [m].
        spare: what is added [1]; default one tenth, a rule of thumb.

    Returns:
        chain length [m].

    Raises:
        Impossible: no distance, one not above zero, or spare below zero.

    Example:
        >>> round(guard_chain({(Turn.STRAIGHT, Height.HIGH): 0.50}), 3)
        0.55

    Source: common workshop practice, no published source.
    """
    not_negative(spare, msg("spare length of the chain"))
    return nine_places(distances).longest * (1 + spare)
