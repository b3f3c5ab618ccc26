"""Serial numbers compared character by character, with the look-alikes a plate invites."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rakeprep.calculations import demand
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, verbatim

LONGEST = 100
LOOK_ALIKES = frozenset(frozenset(pair) for pair in ("O0", "I1", "S5", "B8", "Z2"))


@dataclass(frozen=True, slots=True)
class Difference:
    """One place where two numbers differ; ``""`` where one of them has no character.

    ``position`` counts from 1 in the first number without its blanks; what the first number lacks
    stands at the position before which it belongs.
    """

    position: int
    first: str
    second: str

    @property
    def look_alike(self) -> bool:
        """Whether the two characters are easily taken for one another."""
        return frozenset((self.first, self.second)) in LOOK_ALIKES

    @property
    def text(self) -> Message:
        """The difference in words."""
        first, second = verbatim(self.first), verbatim(self.second)
        if not self.second:
            return msg("character {n}: “{first}” is missing", n=self.position, first=first)
        if not self.first:
            return msg("before character {n}: “{second}” is too many", n=self.position, second=second)
        if self.look_alike:
            return msg(
                "character {n}: “{first}” or “{second}”? They look alike",
                n=self.position,
                first=first,
                second=second,
            )
        return msg(
            "character {n}: “{second}” instead of “{first}”", n=self.position, first=first, second=second
        )


def normalised(number: str) -> str:
    """A number without blanks and in capitals; nothing else is changed.

    Args:
        number: as typed.

    Returns:
        what is compared.

    Raises:
        Impossible: more than 100 characters.

    Example:
        >>> normalised(" pm1 00 5s ")
        'PM1005S'

    Source: common practice.
    """
    demand(len(number) <= LONGEST, msg("A serial number has no more than {n} characters.", n=LONGEST))
    return "".join(number.split()).upper()


def compare(plate: str, other: str) -> tuple[Difference, ...]:
    """Differences between the number on the plate and the one on a paper; none means equal.

    The two are laid against one another so that the fewest characters differ; among equally good ways
    the one that changes characters in place is taken, and look-alikes count as half a difference.

    Args:
        plate: as read from the plate.
        other: as printed on the paper.

    Returns:
        every difference, from left to right.

    Raises:
        Impossible: a number of more than 100 characters.

    Example:
        >>> [(d.position, d.first, d.second, d.look_alike) for d in compare("PM1-0045", "pm1-004S")]
        [(8, '5', 'S', True)]

    Source: edit distance after Wagner and Fischer (1974), with half cost for look-alikes.
    """
    first, second = normalised(plate), normalised(other)
    cost = _costs(first, second)
    found: list[Difference] = []
    i, j = len(first), len(second)
    while i or j:
        if i and j and cost[i][j] == cost[i - 1][j - 1] + _change(first[i - 1], second[j - 1]):
            i, j = i - 1, j - 1
            if first[i] != second[j]:
                found.append(Difference(i + 1, first[i], second[j]))
        elif i and cost[i][j] == cost[i - 1][j] + WHOLE:
            i -= 1
            found.append(Difference(i + 1, first[i], ""))
        else:
            j -= 1
            found.append(Difference(i + 1, "", second[j]))
    return tuple(reversed(found))


HALF, WHOLE = 1, 2  # whole numbers, so that costs compare exactly


def _change(a: str, b: str) -> int:
    if a == b:
        return 0
    return HALF if frozenset((a, b)) in LOOK_ALIKES else WHOLE


def _costs(first: str, second: str) -> list[list[int]]:
    """Least cost to turn each beginning of ``first`` into each beginning of ``second``."""
    table = [[WHOLE * j for j in range(len(second) + 1)]]
    for i, a in enumerate(first, start=1):
        row, above = [WHOLE * i], table[-1]
        for j, b in enumerate(second, start=1):
            row.append(min(above[j] + WHOLE, row[j - 1] + WHOLE, above[j - 1] + _change(a, b)))
        table.append(row)
    return table


def compare_papers(plate: str, papers: Mapping[str, str]) -> dict[str, tuple[Difference, ...]]:
    """The papers whose number differs from the plate's, each with its differences.

    Args:
        plate: as read from the plate.
        papers: number on each paper, by the paper's name.

    Returns:
        only what differs, by the paper's name.

    Raises:
        Impossible: as :func:`compare`.

    Example:
        >>> list(compare_papers("X5", {"note": "x 5", "declaration": "XS"}))
        ['declaration']

    Source: as :func:`compare`.
    """
    differing = ((name, compare(plate, number)) for name, number in papers.items())
    return {name: differences for name, differences in differing if differences}


def year_verdict(built: int, this_year: int, oldest: int = 2) -> Verdict:
    """Whether a year of construction is believable; if not, somebody has to look again.

    Args:
        built: year on the plate.
        this_year: year of today.
        oldest: how many years back nobody wonders.

    Returns:
        ``IN_ORDER`` or ``MEASURE_AGAIN``.

    Raises:
        nothing.

    Example:
        >>> year_verdict(2027, 2026).value
        'measure again'

    Source: common practice.
    """
    return Verdict.IN_ORDER if this_year - oldest <= built <= this_year else Verdict.MEASURE_AGAIN
