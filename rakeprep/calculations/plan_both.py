"""One plan for both rotors, where one adjuster, the headstock, moves them together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand
from rakeprep.calculations.adjusters import Adjuster, move_words
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.plan_turns import LEAVE_COARSE, WORTH, Span, TurnPlan, Wanted, plan_turns
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]


@dataclass(frozen=True, slots=True)
class BothPlan:
    """Steps of the shared adjuster and what each rotor needs besides.

    ``rotors`` are the plans of the two rotors with the shared steps made; ``within`` says whether both
    come within what is allowed. ``effort`` counts the shared steps once; ``worst`` is the largest
    remainder in multiples of what is allowed.
    """

    steps: int
    rotors: tuple[TurnPlan, TurnPlan]
    within: bool
    effort: float
    worst: float
    says: Message

    @property
    def leave(self) -> bool:
        """Whether nothing is to be turned on the whole machine."""
        return self.steps == 0 and all(plan.leave for plan in self.rotors)


def plan_both(
    shared: tuple[Adjuster, Adjuster],
    own: tuple[Sequence[Adjuster], Sequence[Adjuster]],
    need: tuple[Wanted, Wanted],
    tolerance: tuple[Span, Span],
) -> BothPlan:
    """The least change over one shared adjuster and the adjusters that each rotor has of its own.

    Exact: once the shared steps are fixed the rotors no longer depend on each other, so each number of
    shared steps is tried with the best plan of either rotor. Where nothing comes within, that plan is
    taken which brings the worse rotor nearest, unless that is hardly nearer than leaving it.

        left = need_rotor - effect_rotor s - sum_j effect_j steps_j ;  least w |s| + effort_1 + effort_2

    Args:
        shared: the adjuster as either rotor feels it; kind, range, weight and words of the first count.
        own: the adjusters of either rotor; none is allowed.
        need: wanted change of centre, front minus rear, right minus left of either rotor [m].
        tolerance: what may be left of each [m]; endless where one does not matter.

    Returns:
        the :class:`BothPlan` [m].

    Raises:
        CannotTell: as :func:`plan_turns`.
        Impossible: as :func:`plan_turns`, or a range of the shared adjuster that leaves out leaving it.

    Example:
        >>> from rakeprep.calculations.adjusters import headstock_by_notches
        >>> head = headstock_by_notches(0.010, 5.60, 2.40, 3.50, 10)
        >>> high = (Estimate(0.0, 0.0), Estimate(-0.0375, 0.006), Estimate(0.0, 0.0))
        >>> plan = plan_both((head, head), ((), ()), (high, high), ((math.inf, 0.01, 0.02),) * 2)
        >>> plan.steps, str(plan.says)
        (-5, 'headstock: 5 notches, nose down')

    Source: integer programme, solved for every step of the shared adjuster.
    """
    one = shared[0]
    demand(one.least <= 0 <= one.most, msg("The range of the shared adjuster must include leaving it alone."))
    tried = [_tried(shared, own, need, tolerance, steps) for steps in range(one.least, one.most + 1)]
    best = min(
        tried, key=lambda plan: (not plan.within, plan.effort if plan.within else plan.worst, _cost(plan))
    )
    nothing = _worst([_alone((), n, t) for n, t in zip(need, tolerance, strict=True)], need, tolerance)
    if best.within or nothing - best.worst >= WORTH:
        return best
    left = tuple(
        TurnPlan((0,) * len(mine), n, False, 0.0, (LEAVE_COARSE,)) for mine, n in zip(own, need, strict=True)
    )
    return BothPlan(0, (left[0], left[1]), False, 0.0, nothing, LEAVE_COARSE)


def _cost(plan: BothPlan) -> tuple[float, float, int]:
    """Of plans equally good the easier one, then the nearer one, then the one that leaves more alone."""
    return plan.effort, plan.worst, abs(plan.steps)


def _tried(
    shared: tuple[Adjuster, Adjuster],
    own: tuple[Sequence[Adjuster], Sequence[Adjuster]],
    need: tuple[Wanted, Wanted],
    tolerance: tuple[Span, Span],
    steps: int,
) -> BothPlan:
    """The best plan of either rotor with so many shared steps made."""
    rotors = [
        _alone(mine, _moved(n, adjuster, steps), t)
        for mine, n, adjuster, t in zip(own, need, shared, tolerance, strict=True)
    ]
    one = shared[0]
    says = move_words(one, steps) if steps else msg("Leave the {name} as it is.", name=one.name)
    effort = one.weight * abs(steps) + math.fsum(plan.effort for plan in rotors)
    within = all(plan.within for plan in rotors)
    return BothPlan(steps, (rotors[0], rotors[1]), within, effort, _worst(rotors, need, tolerance), says)


def _moved(need: Wanted, shared: Adjuster, steps: int) -> Wanted:
    """What a rotor still needs once the shared steps are made."""
    left = tuple(
        Estimate(n.value - e.value * steps, combine([(1, n.doubt), (-steps, e.doubt)]))
        for n, e in zip(need, shared.effect, strict=True)
    )
    return left[0], left[1], left[2]


def _alone(own: Sequence[Adjuster], need: Wanted, tolerance: Span) -> TurnPlan:
    """The plan of one rotor by itself, also of one with nothing to turn."""
    if own:
        return plan_turns(own, need, tolerance)
    within = all(abs(n.value) <= max(t, n.doubt) for n, t in zip(need, tolerance, strict=True))
    return TurnPlan((), need, within, 0.0, ())


def _worst(rotors: Sequence[TurnPlan], need: Sequence[Wanted], tolerance: Sequence[Span]) -> float:
    """The largest remainder of both rotors, in multiples of what is allowed."""
    return max(
        abs(left.value) / max(t, n.doubt)
        for plan, wanted, span in zip(rotors, need, tolerance, strict=True)
        for left, n, t in zip(plan.left, wanted, span, strict=True)
    )
