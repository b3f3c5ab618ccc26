"""Linear equations by elimination, for the small networks and fits of the other files."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

from rakeprep.calculations import Impossible, demand, finite
from rakeprep.text import msg

SMALLEST_PIVOT = 1e-13


def solve(
    matrix: Sequence[Sequence[Annotated[float, "any"]]], right: Sequence[Annotated[float, "any"]]
) -> list[Annotated[float, "any"]]:
    """Solve ``A x = b`` by Gaussian elimination with the largest pivot of each column.

    Args:
        matrix: A, square [any].
        right: b, as long as A has rows [any].

    Returns:
        x [any].

    Raises:
        Impossible: A is not square, does not match b, holds what is no number, or is singular.

    Example:
        >>> [round(x, 9) for x in solve([[2.0, 1.0], [1.0, 3.0]], [3.0, 5.0])]
        [0.8, 1.4]

    Source: Gaussian elimination with partial pivoting, any textbook on numerical methods.
    """
    n = len(right)
    demand(
        len(matrix) == n and all(len(row) == n for row in matrix),
        msg("The equations do not match their unknowns."),
    )
    rows = [[*row, b] for row, b in zip(matrix, right, strict=True)]
    for row in rows:
        for value in row:
            finite(value, msg("coefficient"))
    scale = max((abs(value) for row in matrix for value in row), default=1.0)
    for at in range(n):
        lead = max(range(at, n), key=lambda place: abs(rows[place][at]))
        if not abs(rows[lead][at]) > SMALLEST_PIVOT * scale:
            raise Impossible(msg("The equations have no single solution."))
        rows[at], rows[lead] = rows[lead], rows[at]
        head = rows[at]
        for place in range(at + 1, n):
            row = rows[place]
            if row[at] == 0:
                continue
            factor = row[at] / head[at]
            for column in range(at, n + 1):
                row[column] -= factor * head[column]
    x = [0.0] * n
    for at in reversed(range(n)):
        row = rows[at]
        x[at] = (row[n] - sum(row[k] * x[k] for k in range(at + 1, n))) / row[at]
    return x
