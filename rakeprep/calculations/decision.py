"""Decisions that take the doubt of a reading into account, and how doubt spreads through a sum.

"Doubt" is everywhere the half-width of the interval that holds the true value 95 times in 100.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg

Number = float | Fraction


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its doubt, both in the same unit."""

    value: Annotated[float, "any"]
    doubt: Annotated[float, "any"]

    @property
    def low(self) -> Annotated[float, "any"]:
        """Lower end of the interval [any]."""
        return self.value - self.doubt

    @property
    def high(self) -> Annotated[float, "any"]:
        """Upper end of the interval [any]."""
        return self.value + self.doubt

    def within(
        self, low: Annotated[float, "any"] | None = None, high: Annotated[float, "any"] | None = None
    ) -> Verdict:
        """The verdict of :func:`within` for this estimate; limits in its unit [any]."""
        return within(self.value, self.doubt, low, high)


def within(
    value: Annotated[Number, "any"],
    doubt: Annotated[Number, "any"],
    low: Annotated[Number, "any"] | None = None,
    high: Annotated[Number, "any"] | None = None,
) -> Verdict:
    """Judge a value with doubt against one or two limits.

    Guarded acceptance together with guarded rejection: the limits themselves still count as inside.
    Fractions are compared exactly; floats to their own precision.

        in order       low <= value - doubt  and  value + doubt <= high
        put right      value + doubt < low   or   value - doubt > high
        measure again  everything between

    Args:
        value: the reading or result [any].
        doubt: its 95 % half-width, not below zero [any]; endless doubt is allowed and decides nothing.
        low: lower limit [any], or None where there is none.
        high: upper limit [any], or None where there is none.

    Returns:
        ``IN_ORDER``, ``PUT_RIGHT`` or ``MEASURE_AGAIN``.

    Raises:
        Impossible: a value that is no number, doubt below zero, no limit at all, or low above high.

    Example:
        >>> [within(x, 2, -5, 5).value for x in (3, 4, 8)]
        ['in order', 'measure again', 'put right']

    Source: JCGM 106:2012, 8.3.2 (guarded acceptance) and 8.3.3 (guarded rejection).
    """
    if isinstance(value, float):  # a Fraction is always finite, and may be too long for a float
        finite(value, msg("reading"))
    demand(doubt >= 0, msg("The doubt of a reading cannot be below zero."))
    demand(low is not None or high is not None, msg("Without any limit there is nothing to judge by."))
    if low is not None and high is not None:
        demand(low <= high, msg("The lower limit lies above the upper limit."))
    below, above = value - doubt, value + doubt
    if (low is not None and not _reaches(above, low)) or (high is not None and not _reaches(high, below)):
        return Verdict.PUT_RIGHT
    if (low is None or _reaches(below, low)) and (high is None or _reaches(high, above)):
        return Verdict.IN_ORDER
    return Verdict.MEASURE_AGAIN


def _reaches(first: Number, second: Number) -> bool:
    """``first >= second``; floats that only differ by their own noise count as equal."""
    if isinstance(first, float) or isinstance(second, float):
        return first >= second or math.isclose(first, second, rel_tol=1e-12, abs_tol=1e-15)
    return first >= second


def near(
    value: Annotated[Number, "any"],
    doubt: Annotated[Number, "any"],
    target: Annotated[Number, "any"],
    tolerance: Annotated[Number, "any"],
) -> Verdict:
    """Judge a value with doubt against a target and what may be missing to it on either side.

        in order if |value - target| <= tolerance - doubt ; put right if > tolerance + doubt

    Args:
        value: the reading or result [any].
        doubt: its 95 % half-width [any].
        target: the wanted value [any].
        tolerance: the permitted deviation, not below zero [any].

    Returns:
        ``IN_ORDER``, ``PUT_RIGHT`` or ``MEASURE_AGAIN``.

    Raises:
        Impossible: as :func:`within`; a tolerance below zero.

    Example:
        >>> near(23, 2, target=20, tolerance=5).value
        'in order'

    Source: JCGM 106:2012, 8.3.
    """
    demand(tolerance >= 0, msg("A tolerance cannot be below zero."))
    return within(value - target, doubt, -tolerance, tolerance)


def decidable(
    doubt: Annotated[Number, "any"], low: Annotated[Number, "any"], high: Annotated[Number, "any"]
) -> bool:
    """Whether a reading of this doubt could ever be found in order between two limits.

        2 * doubt <= high - low

    If not, measuring again with the same instrument is pointless and a finer one is needed.

    Args:
        doubt: 95 % half-width of the instrument [any].
        low: lower limit [any].
        high: upper limit [any].

    Returns:
        True if some value can be accepted.

    Raises:
        nothing.

    Example:
        >>> decidable(0.003, 0.0, 0.005)
        False

    Source: JCGM 106:2012, 8.3.2, the acceptance interval must not be empty.
    """
    return 2 * doubt <= high - low


def combine(
    terms: Sequence[tuple[Annotated[float, "any"], Annotated[float, "any"]]],
    correlations: Mapping[tuple[int, int], Annotated[float, "1"]] | None = None,
) -> Annotated[float, "any"]:
    """Doubt of a result from the doubts of what went into it, to first order.

    Valid while the result is nearly straight over each input's doubt. All doubts must have the same
    coverage; then the result has it too.

        U = sqrt( sum_i (c_i U_i)^2 + 2 sum_{i<j} c_i U_i c_j U_j r_ij )

    Args:
        terms: for each input its sensitivity c_i (change of the result per change of the input) and
            its doubt U_i [any].
        correlations: r_ij [1] between -1 and 1 by the pair of places in ``terms``; left out means
            independent.

    Returns:
        doubt of the result [any].

    Raises:
        Impossible: a doubt below zero, a correlation beyond -1 to 1 or of unknown inputs, or
            correlations that contradict one another.

    Example:
        >>> round(combine([(1, 20), (-1, 20)]), 1)    # difference of two weighings of 20 kg each
        28.3
        >>> combine([(1, 3), (1, 4)], {(0, 1): 1.0})
        7.0

    Source: JCGM 100:2008 (GUM), equations 10, 13 and 16.
    """
    for _, doubt in terms:
        not_negative(doubt, msg("doubt"))
    parts = [sensitivity * doubt for sensitivity, doubt in terms]
    total = math.fsum(part * part for part in parts)
    for (i, j), r in (correlations or {}).items():
        known = i != j and 0 <= i < len(parts) and 0 <= j < len(parts)
        demand(known, msg("A correlation names an input that does not exist."))
        demand(-1 <= r <= 1, msg("A correlation lies between -1 and 1."))
        total += 2 * parts[i] * parts[j] * r
    smallest = -1e-9 * math.fsum(part * part for part in parts)
    demand(total >= smallest, msg("The correlations given contradict one another."))
    return math.sqrt(max(total, 0.0))


def propagate(
    function: Callable[..., Annotated[float, "any"]],
    inputs: Sequence[Estimate],
    correlations: Mapping[tuple[int, int], Annotated[float, "1"]] | None = None,
) -> Estimate:
    """Value and doubt of ``function(x1, x2, ...)`` when every input has doubt.

    Each input is moved by its doubt up and down; half the difference of the results is its share.
    Valid to first order, and where the function exists on the whole of every input's interval.

        Z_i = ( f(.., x_i + U_i, ..) - f(.., x_i - U_i, ..) ) / 2 ;  U = sqrt( sum Z_i^2 + ... )

    Args:
        function: takes as many floats as there are inputs [any].
        inputs: the inputs with their doubts.
        correlations: as in :func:`combine` [1].

    Returns:
        the result as an :class:`Estimate`.

    Raises:
        Impossible: as :func:`combine`.

    Example:
        >>> propagate(lambda a, b: a - b, [Estimate(6440, 20), Estimate(5200, 20)])
        Estimate(value=1240, doubt=28.284271247461902)

    Source: JCGM 100:2008 (GUM), 5.1.3 note 2, and equations 10 and 16.
    """
    values = [each.value for each in inputs]
    shares: list[tuple[float, float]] = []
    for place, each in enumerate(inputs):
        not_negative(each.doubt, msg("doubt"))
        up = function(*values[:place], each.high, *values[place + 1 :])
        down = function(*values[:place], each.low, *values[place + 1 :])
        shares.append(((up - down) / 2, 1.0))
    return Estimate(function(*values), combine(shares, correlations))


def agree(first: Estimate, second: Estimate) -> bool:
    """Whether two independent results may stand for the same thing.

        |a - b| <= sqrt( U_a^2 + U_b^2 )

    Args:
        first: one result.
        second: the other, in the same unit.

    Returns:
        True unless they differ beyond their common doubt.

    Raises:
        Impossible: a doubt below zero.

    Example:
        >>> agree(Estimate(1240, 28), Estimate(1243, 0))
        True

    Source: ISO 13528, zeta score and E_n number with |E_n| <= 1 (from memory).
    """
    return abs(first.value - second.value) <= combine([(1, first.doubt), (-1, second.doubt)])


def division_doubt(division: Annotated[float, "any"]) -> Annotated[float, "any"]:
    """Doubt that only comes from reading to the nearest mark of a scale.

    The true value lies anywhere within half a division: a rectangle of half-width q/2.

        U = 2 * q / sqrt(12) = q / sqrt(3)

    Args:
        division: distance q between two marks, above zero [any].

    Returns:
        half-width with coverage factor 2 [any].

    Raises:
        Impossible: a division below zero.

    Example:
        >>> round(division_doubt(0.001), 6)
        0.000577

    Source: JCGM 100:2008 (GUM), F.2.2.1.
    """
    not_negative(division, msg("division of the scale"))
    return division / math.sqrt(3)


def coverage_factor(freedom: int) -> Annotated[float, "1"]:
    """Factor from a standard deviation to a 95 % half-width, by degrees of freedom.

    Between table rows the next row with fewer degrees of freedom is used, which is the wider one.

    Args:
        freedom: readings minus fitted numbers, at least 1.

    Returns:
        Student's t for 95 %, two sides [1].

    Raises:
        Impossible: fewer than one degree of freedom.

    Example:
        >>> coverage_factor(4)
        2.78

    Source: JCGM 100:2008 (GUM), table G.2, column 95 %.
    """
    demand(freedom >= 1, msg("With as few readings as unknowns the scatter cannot be told."))
    return STUDENT_T[bisect_right(STUDENT_ROWS, freedom) - 1]


STUDENT_ROWS = (*range(1, 21), 25, 30, 35, 40, 45, 50, 100)
STUDENT_T = (
    *(12.71, 4.30, 3.18, 2.78, 2.57, 2.45, 2.36, 2.31, 2.26, 2.23),
    *(2.20, 2.18, 2.16, 2.14, 2.13, 2.12, 2.11, 2.10, 2.09, 2.09),
    *(2.06, 2.04, 2.03, 2.02, 2.01, 2.01, 1.984),
)
