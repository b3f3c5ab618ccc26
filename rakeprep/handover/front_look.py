"""How large and how close page one is set, and its texts in that measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rakeprep.handover.fitting import ELLIPSIS, MOST, Fitted, ended, fit, width_of, wrap

LEAST = 10.0  # points; no open point, name, value or topic is smaller
SMALLEST = 9.0  # nor any word above the foot of page one
BETWEEN = " · "
BELOW_HEADING = 2.8


@dataclass(frozen=True, slots=True)
class Look:
    """One measure for the whole page.

    ``size`` is that of what is read first, notice and open points, ``side`` that of names, values and topics,
    ``small`` that of what stands beside them; ``spread`` is the distance of lines in sizes; ``gap`` parts the
    sections, ``pad`` the rows; ``strokes`` is the room for a drawn signature. ``cell`` is how many lines a
    value may take, ``rest`` what stands below it, ``point`` an open point; ``whole`` says that points stand
    there as sentences and with their reasons.
    """

    size: float
    side: float
    small: float
    spread: float
    gap: float
    pad: float
    strokes: float
    cell: int
    rest: int
    point: int
    whole: bool = False

    def text(self, said: str, width: float, lines: int = 1, bold: bool = False) -> Fitted:
        """What is read first, in its size."""
        return fit(said, width, self.size, lines, None, bold, self.spread)

    def even(self, said: str, width: float, lines: int = 1, bold: bool = False) -> Fitted:
        """Names, values and topics."""
        return fit(said, width, self.side, lines, None, bold, self.spread)

    def quiet(self, said: str, width: float, lines: int = 1, bold: bool = False) -> Fitted:
        """What stands beside them."""
        return fit(said, width, self.small, lines, None, bold, self.spread)

    def pieces(self, several: Sequence[str], width: float, lines: int) -> Fitted:
        """Pieces beside them one after the other, parted where a line ends rather than within a piece."""
        packed = filled([each[:MOST] for each in several if each], width, self.small, lines + 1)
        kept = [line for line, _ in packed[:lines]] or [""]
        whole = len(packed) <= lines
        if not whole:
            rest, within = packed[lines]
            goes_on = f"{kept[-1]} {rest if within else ELLIPSIS}"
            fits = not within and width_of(goes_on, self.small) <= width
            kept[-1] = goes_on if fits else ended(goes_on, width, self.small, bold=False)
        return Fitted(tuple(kept), self.small, False, whole, self.spread)


def below_heading(look: Look) -> float:
    """Room between the line of a heading and what stands below it."""
    return BELOW_HEADING + look.pad / 2


def filled(pieces: Sequence[str], width: float, size: float, most: int) -> list[tuple[str, bool]]:
    """Lines of pieces with a dot between those that share one, and whether a line begins within a piece."""
    lines: list[tuple[str, bool]] = []
    for piece in pieces:
        joined = f"{lines[-1][0]}{BETWEEN}{piece}" if lines else ""
        if joined and width_of(joined, size) <= width:
            lines[-1] = (joined, lines[-1][1])
        elif len(lines) < most:
            wrapped = wrap(piece, width, size, False, most - len(lines))
            lines += [(line, number > 0) for number, line in enumerate(wrapped)]
    return lines


# From roomy to close. The open points get smaller only after all else has.
LOOKS = (
    #    size side small spread gap pad strokes cell rest point
    Look(12, 12, 10.5, 1.24, 14, 6, 40, 3, 3, 3, whole=True),
    Look(12, 12, 10.5, 1.2, 9, 4, 28, 3, 3, 3, whole=True),
    Look(12, 11.5, 10, 1.18, 6, 3, 22, 3, 3, 3, whole=True),
    Look(12, 11, 10, 1.15, 4, 2, 18, 3, 3, 3, whole=True),
    Look(12, 11, 10, 1.15, 4, 2, 18, 3, 3, 2),
    Look(12, 10.5, 9.5, 1.15, 3, 2, 18, 3, 3, 2),
    Look(12, 10, 9, 1.15, 3, 1.5, 17, 3, 3, 2),
    Look(12, 10, 9, 1.15, 3, 1.5, 17, 3, 3, 1),
    Look(11.5, 10, 9, 1.15, 3, 1.5, 17, 3, 3, 1),
    Look(11, 10, 9, 1.15, 2.5, 1.2, 16, 3, 3, 1),
    Look(10.5, 10, 9, 1.15, 2.5, 1, 16, 3, 3, 1),
    Look(10, 10, 9, 1.15, 2, 0.8, 16, 3, 3, 1),
    Look(10, 10, 9, 1.13, 1.5, 0.6, 15, 2, 2, 1),
    Look(10, 10, 9, 1.13, 1.5, 0.6, 15, 2, 1, 1),
    Look(10, 10, 9, 1.13, 1.5, 0.6, 15, 1, 1, 1),
)
