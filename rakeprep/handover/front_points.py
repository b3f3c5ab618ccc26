"""The open points on page one: a table that gets shorter lines where there are many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rakeprep.handover import blocks, symbols
from rakeprep.handover.fitting import MOST, Fitted, ended, width_of
from rakeprep.handover.front_look import BETWEEN, Look, below_heading
from rakeprep.handover.pen import ACCENT, GUTTER, INK, INNER, LEFT, QUIET, RIGHT, Pen
from rakeprep.model.verdict import Verdict

NUMBER = 21.0
WHEN = (90.0, 0.34)  # of the page's width at most
RISES = 0.92  # from the top of a row to its first line, in sizes
ROWS = 30  # more never find room
WARNS = symbols.INK[Verdict.PUT_RIGHT]


@dataclass(frozen=True, slots=True)
class Row:
    """One open point as it will be drawn: what, why, what it bars, and by when and who."""

    number: int
    says: Fitted
    below: tuple[Fitted, ...]
    when: Fitted
    height: float


@dataclass(frozen=True, slots=True)
class Points:
    """The table; ``left_out`` counts those without room, ``short`` says that something was shortened."""

    block: blocks.OpenPoints
    rows: tuple[Row, ...]
    look: Look
    when: float
    short: bool
    left_out: int = 0

    @property
    def more(self) -> Fitted | None:
        """The line that counts what found no room."""
        if not self.left_out:
            return None
        return self.look.quiet(self.block.more.replace("{count}", str(self.left_out)), INNER, bold=True)

    @property
    def height(self) -> float:
        """Height of all of it."""
        more = self.more
        below = more.height + self.look.pad if more else 0.0
        return sum(row.height for row in self.rows) + below + (0 if self.block.points else self.none.height)

    @property
    def none(self) -> Fitted:
        """What is written where there are no points."""
        return self.look.text(self.block.none, INNER, 2)

    @property
    def remark(self) -> str:
        """Where the points stand in full."""
        return self.block.full if self.short else ""

    def draw(self, pen: Pen) -> None:
        """The table, or the line instead of it."""
        if not self.block.points:
            with pen.tags.block("P"):
                pen.y = pen.lines(LEFT, pen.y, self.none)
            return
        pen.rule(pen.y + 0.5)
        with pen.tags.within("Table"):
            with pen.tags.within("THead"), pen.tags.within("TR"):
                self.draw_head(pen)
            with pen.tags.within("TBody"):
                for row in self.rows:
                    with pen.tags.within("TR"):
                        self.draw_row(pen, row)
                    pen.y -= row.height
                    pen.rule(pen.y + 0.5)
        more = self.more
        if more:
            with pen.tags.block("P"):
                pen.lines(LEFT, pen.y - 1, more, WARNS)
            pen.y -= more.height + self.look.pad

    def draw_head(self, pen: Pen) -> None:
        """What the last column is, on the line of the section's heading, which heads the others."""
        pen.tags.node("TH", scope="Column", span=2)
        head = self.look.quiet(self.block.when, self.when)
        base = pen.y + below_heading(self.look)
        with pen.tags.block("TH", scope="Column"):
            pen.text(RIGHT - self.when, base, head.lines[0], head.size, QUIET)

    def draw_row(self, pen: Pen, row: Row) -> None:
        """One open point."""
        base = pen.y - self.look.pad / 2 - self.look.size * RISES
        with pen.tags.block("TH", scope="Row"):
            pen.text(LEFT, base, str(row.number), self.look.size, ACCENT, bold=True)
        with pen.tags.block("TD"):
            y = pen.lines(LEFT + NUMBER, base + row.says.size, row.says, INK)
            for below in row.below:
                y = pen.lines(LEFT + NUMBER, y + self.look.size * 0.05, below, WARNS if below.bold else QUIET)
        with pen.tags.block("TD"):
            pen.lines(RIGHT - self.when, base + row.when.size, row.when, QUIET)


def points_of(block: blocks.OpenPoints, look: Look) -> Points:
    """The open points in the measure of a look."""
    shown = block.points[:ROWS]
    when = max((width_of(whole_when(point), look.small) for point in shown), default=0.0)
    when = min(max(when, WHEN[0], width_of(block.when, look.small)), WHEN[1] * INNER) + 1
    rows = tuple(row_of(point, INNER - NUMBER - GUTTER - when, when, look) for point in shown)
    short = not look.whole or not all(row.says.whole and row.when.whole for row in rows)
    left_out = len(block.points) - len(shown)
    return Points(block, rows, look, when, bool(rows) and short, left_out)


def row_of(point: blocks.Point, width: float, when: float, look: Look) -> Row:
    """One open point: in full with its reason, or in short."""
    says = look.text(point.says if look.whole else point.short, width, look.point)
    below = []
    if look.whole:
        if point.reason:
            below.append(look.quiet(point.reason, width, 2))
        if point.aside:
            below.append(look.quiet(point.aside, width, bold=True))
    beside = look.pieces((point.due, point.who), when, max(look.point + look.whole, len(says.lines)))
    if not beside.whole or (look.point == 1 and len(beside.lines) > 1):
        beside = on_lines(point, when, look)
    left = says.height + sum(each.height for each in below)
    deepest = max(left, look.size - look.small + beside.height)
    return Row(point.number, says, tuple(below), beside, deepest + look.pad)


def whole_when(point: blocks.Point) -> str:
    """By when and who in one line."""
    return f"{point.due[:MOST]}{BETWEEN}{point.who[:MOST]}"


def on_lines(point: blocks.Point, width: float, look: Look) -> Fitted:
    """By when and who, each shortened so that something of both remains."""
    size = look.small
    if look.point > 1:
        lines = [shortened(each, width, size) for each in (point.due, point.who)]
        return Fitted(tuple(lines), size, False, False, look.spread)
    room = width - width_of(BETWEEN, size)
    who = shortened(point.who, max(room / 2, room - width_of(point.due, size)), size)
    due = shortened(point.due, room - width_of(who, size), size)
    return Fitted((f"{due}{BETWEEN}{who}",), size, False, False, look.spread)


def shortened(text: str, width: float, size: float) -> str:
    """A text on one line."""
    return text if width_of(text[:MOST], size) <= width else ended(text, width, size, bold=False)


def longer(points: Points, room: float) -> Points:
    """Points that were cut to one line get a second one, as long as there is room for it."""
    taller = points_of(points.block, replace(points.look, point=2)).rows
    rows = []
    for row, more in zip(points.rows, taller, strict=True):
        asked = more.height - row.height
        better = not row.says.whole and asked <= room
        room -= asked if better else 0.0
        rows.append(more if better else row)
    return replace(points, rows=tuple(rows))


def within(points: Points, room: float) -> Points:
    """As many points as there is room for, and a line that counts the rest."""
    block, look = points.block, points.look
    kept: Sequence[Row] = points.rows
    made = points
    while kept and made.height > room:
        kept = kept[:-1]
        made = Points(block, tuple(kept), look, points.when, True, len(block.points) - len(kept))
    return made
