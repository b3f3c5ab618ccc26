"""The least change over all adjusters together, in steps that can really be made."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.adjusters import MOST_STEPS, Adjuster, move_words
from rakeprep.calculations.adjusting import LEAVE_DOUBT
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.levelling import CannotTell
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]

MOST_ADJUSTERS = 8
MOST_LOOKS = 60_000
ROUNDS = 12
WORTH = 0.1  # of a tolerance; an improvement smaller than that is not worth a wrench
NOISE = 1e-9

Wanted = tuple[Estimate, Estimate, Estimate]
Span = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class TurnPlan:
    """Steps of every adjuster in the order given, what is left, and the sentences, one for each move.

    ``left`` is the need that remains for centre, front minus rear and right minus left, with the
    doubt of need and effects. ``effort`` is the sum of steps times weight.
    """

    steps: tuple[int, ...]
    left: Wanted
    within: bool
    effort: float
    says: tuple[Message, ...]

    @property
    def leave(self) -> bool:
        """Whether nothing is to be turned."""
        return not any(self.steps)


LEAVE_WITHIN = msg("Leave it: it is already within what is allowed.")
LEAVE_COARSE = msg("Leave it: no step that can be made brings it nearer.")


def plan_turns(adjusters: Sequence[Adjuster], need: Wanted, tolerance: Span) -> TurnPlan:
    """The smallest total change that brings height and lean within tolerance, or as near as steps reach.

    Exact: every combination of whole steps is considered, those that cannot lead within are cut off
    early. A need smaller than its own doubt counts as met. Where no combination comes within, the one
    that comes nearest is taken, unless it is hardly nearer than leaving it.

        left_d = need_d - sum_j effect_jd steps_j ;  |left_d| <= max(tolerance_d, doubt_d)
        least sum_j weight_j |steps_j|

    Args:
        adjusters: at most 8, none of more than 100 steps either way.
        need: wanted change of centre, front minus rear, right minus left, with doubt [m].
        tolerance: what may be left of each [m]; endless where one does not matter.

    Returns:
        the :class:`TurnPlan` [m].

    Raises:
        CannotTell: so many combinations that they cannot be weighed in a moment.
        Impossible: no adjuster or too many, a range that does not include leaving it, a weight or
            tolerance not above zero, values that are no numbers.

    Example:
        >>> from rakeprep.calculations.adjusters import crank_by_half_turns, turnbuckle_by_flats
        >>> buckle = turnbuckle_by_flats(0.006, 0.420, 3.5, True, 12)
        >>> need = (Estimate(-0.008, 0.003), Estimate(0.009, 0.006), Estimate(0.0, 0.003))
        >>> plan = plan_turns([buckle, crank_by_half_turns(0.005, 0.62, 20)], need, (0.003, 0.005, 0.005))
        >>> [str(said) for said in plan.says]
        ['turnbuckle: 1 flat, shorter', 'height crank: 4 half turns, down']

    Source: integer programme solved by branch and bound.
    """
    _check(adjusters, need, tolerance)
    allowed = tuple(max(t, each.doubt) for t, each in zip(tolerance, need, strict=True))
    start = [each.value for each in need]
    search = _Search(adjusters)
    found = search.least(start, allowed)
    if found is not None:
        return _told(adjusters, need, found, within=True)
    return _told(adjusters, need, _nearest(search, start, allowed), within=False)


def _nearest(search: _Search, start: Sequence[float], allowed: Sequence[float]) -> tuple[int, ...]:
    """Steps for the smallest multiple of all tolerances that can be met, then single ones kept to once."""
    nothing = max(abs(n) / a for n, a in zip(start, allowed, strict=True))
    low, high, best = 1.0, nothing, (0,) * len(search.adjusters)
    for _ in range(ROUNDS):
        middle = (low + high) / 2
        found = search.least(start, [a * middle for a in allowed])
        if found is None:
            low = middle
        else:
            high, best = middle, found
    if nothing - high < WORTH:
        return (0,) * len(search.adjusters)
    wide = [a * high for a in allowed]
    for d, once in enumerate(allowed):
        found = search.least(start, [*wide[:d], once, *wide[d + 1 :]])
        if found is not None:
            wide[d], best = once, found
    return best


def _check(adjusters: Sequence[Adjuster], need: Wanted, tolerance: Span) -> None:
    demand(
        1 <= len(adjusters) <= MOST_ADJUSTERS,
        msg("A plan is made over 1 to {most} adjusters.", most=MOST_ADJUSTERS),
    )
    for each in need:
        finite(each.value, msg("need"))
        not_negative(each.doubt, msg("doubt of the need"))
    for most_left in tolerance:
        demand(most_left > 0, msg("A tolerance must be above zero."))
    for adjuster in adjusters:
        positive(adjuster.weight, msg("weight of a step"))
        demand(
            -MOST_STEPS <= adjuster.least <= 0 <= adjuster.most <= MOST_STEPS,
            msg("An adjuster can be moved by 0 to {most} steps.", most=MOST_STEPS),
        )
        for effect in adjuster.effect:
            finite(effect.value, msg("change per step"))
            not_negative(effect.doubt, msg("doubt of the change per step"))


class _Search:
    """Branch and bound over whole steps; counts its looks over all searches of one plan."""

    def __init__(self, adjusters: Sequence[Adjuster]) -> None:
        self.effects = [tuple(each.value for each in adjuster.effect) for adjuster in adjusters]
        self.adjusters = adjusters
        self.looks = 0
        # what the adjusters from each one on can still change, downward and upward, and at what effort
        reach = [self._reach(place) for place in range(len(adjusters) + 1)]
        self.down = [[low for low, _ in spans] for spans in reach]
        self.up = [[high for _, high in spans] for spans in reach]
        self.cheapest = [self._cheapest(place) for place in range(len(adjusters) + 1)]

    def _reach(self, place: int) -> list[tuple[float, float]]:
        rest = list(zip(self.adjusters, self.effects, strict=True))[place:]
        ends = [[sorted((e[d] * a.least, e[d] * a.most)) for a, e in rest] for d in range(3)]
        return [(math.fsum(low for low, _ in of), math.fsum(high for _, high in of)) for of in ends]

    def _cheapest(self, place: int) -> list[float]:
        """Largest change per effort that any adjuster from this one on makes."""
        rest = list(zip(self.adjusters, self.effects, strict=True))[place:]
        return [max((abs(e[d]) / a.weight for a, e in rest), default=0.0) for d in range(3)]

    def least(self, need: Sequence[float], allowed: Sequence[float]) -> tuple[int, ...] | None:
        """Steps of least effort that leave no more than allowed; among equals those that leave least."""
        self.best: tuple[float, float] = (math.inf, math.inf)
        self.steps: tuple[int, ...] | None = None
        self._walk(0, list(need), allowed, 0.0, [])
        return self.steps

    def _walk(
        self, place: int, need: list[float], allowed: Sequence[float], effort: float, taken: list[int]
    ) -> None:
        self.looks += 1
        if self.looks > MOST_LOOKS:
            raise CannotTell(
                msg(
                    "The plan cannot be told, because too many combinations would do; give fewer adjusters "
                    "or fewer steps."
                )
            )
        if place == len(self.adjusters):
            worst = max(abs(n) / a for n, a in zip(need, allowed, strict=True))
            if (effort, worst) < self.best:
                self.best, self.steps = (effort, worst), tuple(taken)
            return
        adjuster, effect = self.adjusters[place], self.effects[place]
        for step in self._choices(place, need, allowed):
            cost = effort + adjuster.weight * abs(step)
            left = [n - e * step for n, e in zip(need, effect, strict=True)]
            if cost + self._still(place + 1, left, allowed) > self.best[0] + NOISE:
                continue
            self._walk(place + 1, left, allowed, cost, [*taken, step])

    def _choices(self, place: int, need: Sequence[float], allowed: Sequence[float]) -> list[int]:
        """Steps after which the remaining adjusters can still come within, the smallest first."""
        low, high = float(self.adjusters[place].least), float(self.adjusters[place].most)
        for d, effect in enumerate(self.effects[place]):
            most = need[d] + allowed[d] - self.down[place + 1][d]
            least = need[d] - allowed[d] - self.up[place + 1][d]
            slack = NOISE * (abs(need[d]) + allowed[d]) if math.isfinite(allowed[d]) else 0.0
            if effect == 0:
                if least > slack or most < -slack:
                    return []
                continue
            ends = sorted(((least - slack) / effect, (most + slack) / effect))
            low, high = max(low, ends[0]), min(high, ends[1])
        if low > high:
            return []
        return sorted(range(math.ceil(low), math.floor(high) + 1), key=abs)

    def _still(self, place: int, need: Sequence[float], allowed: Sequence[float]) -> float:
        """Effort that the remaining adjusters cannot do without."""
        most = 0.0
        for n, a, per_effort in zip(need, allowed, self.cheapest[place], strict=True):
            missing = abs(n) - a
            if missing > 0 and per_effort > 0:
                most = max(most, missing / per_effort)
        return most * (1 - 1e-6)


def _told(adjusters: Sequence[Adjuster], need: Wanted, steps: tuple[int, ...], *, within: bool) -> TurnPlan:
    moves = list(zip(adjusters, steps, strict=True))
    left = tuple(
        Estimate(
            each.value - math.fsum(a.effect[d].value * s for a, s in moves),
            combine([(1, each.doubt), *((s, a.effect[d].doubt) for a, s in moves)]),
        )
        for d, each in enumerate(need)
    )
    says = tuple(move_words(a, s) for a, s in moves if s)
    if not says:
        drowned = all(abs(each.value) <= each.doubt for each in need)
        says = (LEAVE_COARSE if not within else LEAVE_DOUBT if drowned else LEAVE_WITHIN,)
    effort = math.fsum(a.weight * abs(s) for a, s in moves)
    return TurnPlan(steps, (left[0], left[1], left[2]), within, effort, says)
