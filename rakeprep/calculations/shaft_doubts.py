"""The doubt of a driveline's cut: what gap and overlap are worth when all lengths come off one tape."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import Annotated

from rakeprep.calculations import demand, not_negative
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.driveline import Cut
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Ratio = Annotated[float, "1"]


@dataclass(frozen=True, slots=True)
class LengthDoubts:
    """95 % half-widths of the five lengths that a cut rests on, and of the saw."""

    closed: Metres
    half_a: Metres
    half_b: Metres
    shortest: Metres
    longest: Metres
    saw: Metres = 0.001


@dataclass(frozen=True, slots=True)
class SureCut:
    """Gap and overlap after the cut with their doubt, the bounds of the cut, and the verdict.

    ``gap`` is judged against zero, because the reserve exists for its doubt; ``overlap`` against the
    smallest overlap.
    """

    least: Estimate
    most: Estimate
    gap: Estimate
    overlap: Estimate
    verdict: Verdict
    says: Message


def sure_cut(plan: Cut, doubts: LengthDoubts, min_overlap: Metres, shared: Ratio = 0.0) -> SureCut:
    """What a cut leaves at both ends, with doubt, before the saw.

    The five lengths may share an error (one tape, one hand, the same habit at the grooves):
    ``shared`` is the correlation of any two of them. Shared errors partly cancel in the gap and add
    in the overlap.

        gap = shortest - closed + cut ;  overlap = half_a + half_b - 2 cut - longest

    Args:
        plan: the cut as worked out.
        doubts: of the lengths it was worked out from [m].
        min_overlap: overlap that must be left at the longest place [m].
        shared: correlation of any two lengths, 0 to 1 [1].

    Returns:
        the :class:`SureCut` [m].

    Raises:
        Impossible: a doubt or overlap below zero, a correlation outside 0 to 1.

    Example:
        >>> from rakeprep.calculations.driveline import cut
        >>> plan = cut(0.905, 0.780, 0.760, 0.872, 1.068, 0.030, 0.250, 0.005)
        >>> found = sure_cut(plan, LengthDoubts(0.002, 0.002, 0.002, 0.005, 0.005), 0.250)
        >>> round(found.gap.value, 3), round(found.gap.doubt, 4), found.verdict.value
        (0.032, 0.0055, 'in order')

    Source: geometry; JCGM 100:2008 (GUM), equation 16; JCGM 106:2012, 8.3.
    """
    not_negative(min_overlap, msg("smallest overlap"))
    demand(0 <= shared <= 1, msg("The share that two lengths have in common lies between 0 and 1."))
    d = doubts
    least = _mix([(1, d.closed), (-1, d.shortest)], [], shared)
    most = _mix([(0.5, d.half_a), (0.5, d.half_b), (-0.5, d.longest)], [], shared)
    gap = Estimate(plan.gap_at_shortest, _mix([(1, d.shortest), (-1, d.closed)], [(1, d.saw)], shared))
    overlap = Estimate(
        plan.overlap_at_longest,
        _mix([(1, d.half_a), (1, d.half_b), (-1, d.longest)], [(-1, d.saw), (-1, d.saw)], shared),
    )
    verdicts = [gap.within(low=0.0), overlap.within(low=min_overlap)]
    verdict = worst(verdicts)
    bounds = (Estimate(plan.least, least), Estimate(plan.most, most))
    return SureCut(*bounds, gap, overlap, verdict, _says(verdicts, verdict))


def _mix(lengths: list[tuple[float, float]], alone: list[tuple[float, float]], shared: float) -> float:
    """Doubt of a sum; the first terms have ``shared`` in common with one another."""
    pairs = combinations(range(len(lengths)), 2)
    return combine([*lengths, *alone], dict.fromkeys(pairs, shared))


def _says(verdicts: list[Verdict], verdict: Verdict) -> Message:
    if verdict is Verdict.IN_ORDER:
        return msg("Gap and overlap hold beyond the doubt of the lengths.")
    if verdicts[0] is verdict:
        return msg(
            "The gap at the shortest place is not sure: measure that distance and the closed length again."
        )
    return msg("The overlap at the longest place is not sure: measure that distance and both halves again.")
