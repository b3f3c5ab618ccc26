"""Settings, visits and who is who on page one: a label, its value below, and what belongs to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rakeprep.handover import blocks
from rakeprep.handover.fitting import ELLIPSIS, MOST, Fitted, width_of
from rakeprep.handover.front_look import Look
from rakeprep.handover.pen import GUTTER, INK, INNER, LEFT, PANEL, QUIET, Pen

BLEED = 7.0  # how far a ground reaches beyond the text
NARROWEST = 0.6  # of an equal share
WRAPS = 0.57  # of a line that is broken in two
LONG = INNER * 0.5  # a value that may as well be broken


@dataclass(frozen=True, slots=True)
class Cell:
    """A pair as it will be drawn at ``x``."""

    x: float
    label: Fitted
    value: Fitted
    rest: Fitted | None

    @property
    def below(self) -> float:
        """Height of all but the label."""
        return self.value.height + (self.rest.height if self.rest else 0.0)


@dataclass(frozen=True, slots=True)
class Row:
    """Cells side by side; their values stand on one line."""

    cells: tuple[Cell, ...]

    @property
    def labels(self) -> float:
        """Height of the tallest label."""
        return max((cell.label.height for cell in self.cells), default=0.0)

    @property
    def height(self) -> float:
        """Height of all."""
        return self.labels + max((cell.below for cell in self.cells), default=0.0)


@dataclass(frozen=True, slots=True)
class Cells:
    """Rows of cells, perhaps on a quiet ground."""

    rows: tuple[Row, ...]
    look: Look
    ground: bool = False

    @property
    def edge(self) -> float:
        """Room above and below on a ground."""
        return self.look.pad + 1.5 if self.ground else 0.0

    @property
    def height(self) -> float:
        """Height of all of it."""
        between = self.look.pad * max(len(self.rows) - 1, 0)
        return sum(row.height for row in self.rows) + between + 2 * self.edge

    def draw(self, pen: Pen) -> None:
        """Row after row, in each from left to right."""
        bottom = pen.y - self.height
        if self.ground:
            pen.panel(LEFT - BLEED, pen.y, INNER + 2 * BLEED, self.height, PANEL)
        pen.y -= self.edge
        for row in self.rows:
            for cell in row.cells:
                draw_cell(pen, cell, row.labels)
            pen.y -= row.height + self.look.pad
        pen.y = bottom


def draw_cell(pen: Pen, cell: Cell, labels: float) -> None:
    """A pair, its label right above its value."""
    with pen.tags.block("P"):
        pen.lines(cell.x, pen.y - labels + cell.label.height, cell.label, QUIET)
        y = pen.lines(cell.x, pen.y - labels, cell.value, INK)
        if cell.rest:
            pen.lines(cell.x, y, cell.rest, QUIET)


def cells_of(pairs: Sequence[blocks.Pair], columns: int, look: Look, ground: bool = False) -> Cells:
    """Pairs in rows of so many columns, each as wide as what stands in it asks for."""
    widths = widths_of(pairs, columns, look)
    lefts = [LEFT + sum(widths[:n]) + n * GUTTER for n in range(columns)]
    cells = [
        cell_of(pair, lefts[n % columns], widths[n % columns] + 0.01, look) for n, pair in enumerate(pairs)
    ]
    rows = tuple(Row(tuple(cells[at : at + columns])) for at in range(0, len(cells), columns))
    return Cells(rows, look, ground)


def widths_of(pairs: Sequence[blocks.Pair], columns: int, look: Look) -> list[float]:
    """The page's width shared out by the longest line in each column, none much wider than the others."""
    room = INNER - GUTTER * (columns - 1)
    least, most = [0.0] * columns, [0.0] * columns
    for number, pair in enumerate(pairs):
        column, wanted = number % columns, wishes(pair, look)
        least[column], most[column] = max(least[column], wanted[0]), max(most[column], wanted[1])
    return shared(least, most, room)


def shared(least: Sequence[float], most: Sequence[float], room: float) -> list[float]:
    """The room among columns: each gets the least that it asks for, then a like part of what is wanted."""
    floor = room / len(least) * NARROWEST
    low = [max(each, floor) for each in least]
    high = [max(each, floor) for each in most]
    if sum(low) > room:
        return capped(low, room)
    if sum(high) <= room:
        return [each + (room - sum(high)) / len(high) for each in high]
    part = (room - sum(low)) / (sum(high) - sum(low))
    return [each + (more - each) * part for each, more in zip(low, high, strict=True)]


def capped(low: Sequence[float], room: float) -> list[float]:
    """Too wide in sum: the widest become narrower, those that ask for little get it."""
    rest, cap = room, 0.0
    for number, each in enumerate(sorted(low)):
        cap = rest / (len(low) - number)
        if each > cap:
            break
        rest -= each
    return [min(each, cap) for each in low]


def wishes(pair: blocks.Pair, look: Look) -> tuple[float, float]:
    """The least width of a pair, at which it takes more lines where that does no harm, and the best one."""
    value = width_of(pair.value[:MOST], look.side, bold=True)
    goes_on = f" {ELLIPSIS}" if len(pair.more) > 1 else ""
    first = max((width_of(each[:MOST] + goes_on, look.small) for each in pair.more[:1]), default=0.0)
    parts = max(width_of(each[:MOST], look.small) for each in (pair.label, *pair.more[1:]))
    least = max(value if value < LONG else value * WRAPS, first if first < LONG else 0.0, parts * WRAPS)
    return least + 0.5, max(value, first, parts) + 0.5


def cell_of(pair: blocks.Pair, x: float, width: float, look: Look) -> Cell:
    """One pair."""
    label = look.quiet(pair.label, width, min(look.cell, 2))
    value = look.even(pair.value, width, look.cell, bold=True)
    rest = look.pieces(pair.more, width, look.rest) if any(pair.more) and look.rest else None
    return Cell(x, label, value, rest)
