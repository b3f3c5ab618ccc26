"""What one step of an adjuster really changes, learned by measuring, turning, and measuring again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, agree, combine
from rakeprep.calculations.levelling import CannotTell
from rakeprep.text import msg

Metres = Annotated[float, "m"]
Ratio = Annotated[float, "1"]

MOST_STEPS = 1000


def learn(
    before: Sequence[Estimate], after: Sequence[Estimate], steps: float, shared: Ratio = 0.0
) -> tuple[Estimate, ...]:
    """Change per step of every result watched, with its doubt.

    An error that is alike in both sets of readings, such as a bent arm or the floor, cancels in the
    difference: ``shared`` is the correlation of before and after.

        J = (after - before) / steps ;  U(J) = sqrt(Ua^2 + Ub^2 - 2 r Ua Ub) / |steps|

    Args:
        before: results before the turn, such as centre, front minus rear, right minus left [m].
        after: the same results after it, in the same order [m].
        steps: turned in between, either sign, not zero.
        shared: r, -1 to 1 [1].

    Returns:
        change per step of each result [m].

    Raises:
        CannotTell: no result changed beyond its doubt; the adjuster does nothing or was not turned
            far enough.
        Impossible: no step, different numbers of results, or values that are no numbers.

    Example:
        >>> j = learn([Estimate(-0.029, 0.003)], [Estimate(0.019, 0.003)], 2)
        >>> round(j[0].value, 4), round(j[0].doubt, 4)
        (0.024, 0.0021)

    Source: difference quotient; doubt by JCGM 100:2008 (GUM), equation 16.
    """
    finite(steps, msg("number of steps"))
    demand(steps != 0, msg("Without a turn nothing can be learned from it."))
    demand(abs(steps) <= MOST_STEPS, msg("Nobody turns an adjuster by so many steps."))
    demand(
        bool(before) and len(before) == len(after),
        msg("The same results must be known before and after the turn."),
    )
    learned: list[Estimate] = []
    for old, new in zip(before, after, strict=True):
        finite(new.value - old.value, msg("reading"))
        doubt = combine([(1, new.doubt), (-1, old.doubt)], {(0, 1): shared})
        learned.append(Estimate((new.value - old.value) / steps, doubt / abs(steps)))
    if all(abs(each.value) <= each.doubt for each in learned):
        raise CannotTell(
            msg(
                "What this adjuster does cannot be told from these readings, because nothing moved beyond "
                "their doubt; look whether its pin is seated, or turn it further."
            )
        )
    return tuple(learned)


def steps_to_see(per_step: Metres, doubt: Metres) -> int:
    """Fewest steps whose effect cannot hide in the doubt of the readings before and after.

        steps = ceil( sqrt(2) doubt / per_step )

    Args:
        per_step: change that one step should make [m].
        doubt: 95 % half-width of the result before and after [m].

    Returns:
        whole steps, at least 1.

    Raises:
        Impossible: a change not above zero, a doubt below zero.

    Example:
        >>> steps_to_see(0.00833, 0.006)
        2

    Source: JCGM 100:2008 (GUM), equation 10, for a difference.
    """
    positive(per_step, msg("change per step"))
    not_negative(doubt, msg("doubt of the result"))
    steps = math.sqrt(2) * doubt / per_step
    demand(steps <= MOST_STEPS, msg("Nobody turns an adjuster by so many steps."))
    return max(1, math.ceil(steps - 1e-9))


def merged(known: Estimate, learned: Estimate) -> Estimate:
    """One sensitivity out of two that agree: the mean weighted by how sure each is.

        x = (x1/U1^2 + x2/U2^2) / (1/U1^2 + 1/U2^2) ;  U = 1 / sqrt(1/U1^2 + 1/U2^2)

    Args:
        known: kept from before [any].
        learned: just learned, independently [any].

    Returns:
        weighted mean [any].

    Raises:
        CannotTell: the two contradict each other beyond their common doubt.
        Impossible: a doubt not above zero.

    Example:
        >>> merged(Estimate(0.024, 0.002), Estimate(0.022, 0.002)).value
        0.023

    Source: weighted mean, JCGM 100:2008 (GUM), by least squares.
    """
    positive(known.doubt, msg("doubt of the change per step"))
    positive(learned.doubt, msg("doubt of the change per step"))
    if not agree(known, learned):
        raise CannotTell(
            msg(
                "What this adjuster does cannot be told from these readings, because it moved otherwise than "
                "before; look for play or a bent part, and learn it again."
            )
        )
    first, second = 1 / known.doubt**2, 1 / learned.doubt**2
    value = (known.value * first + learned.value * second) / (first + second)
    return Estimate(value, 1 / math.sqrt(first + second))
