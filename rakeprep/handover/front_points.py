"""The open points on page one: one below the other, or in two columns where there are many."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rakeprep.handover import blocks, symbols
from rakeprep.handover.fitting import Fitted, ended, fit, width_of
from rakeprep.handover.pen import ACCENT, INNER, LEFT, QUIET, RIGHT, Pen, columns
from rakeprep.model.verdict import Verdict


@dataclass(frozen=True, slots=True)
class Listed:
    """How open points are set: size and lines of what each says, and of its detail below.

    In two columns day and name end the last line.
    """

    size: float
    lines: int
    small: float
    small_lines: int = 1
    columns: int = 1


@dataclass(frozen=True, slots=True)
class PointRow:
    """One open point as it will be drawn; ``number`` 0 is a line that is no point.

    ``beside`` where the detail stands at the end of the last line.
    """

    number: int
    says: Fitted
    detail: Fitted | None
    aside: str
    height: float
    beside: bool = False

    @property
    def whole(self) -> bool:
        """Whether nothing was left out."""
        return self.says.whole and (self.detail is None or self.detail.whole)


def remark(points: blocks.OpenPoints, rows: Sequence[PointRow]) -> str:
    """What is to be said where something was shortened."""
    return "" if all(row.whole for row in rows if row.number) else points.full


NUMBER = 24.0
NARROW_NUMBER = 17.0
MOST_ROWS = 24  # more never find room
BETWEEN = 8.0  # what a point says and its day, on one line
ASIDE = 100.0
NOTE = 11.0


def point_rows(points: blocks.OpenPoints, listed: Listed) -> list[PointRow]:
    """The open points in one measure."""
    if not points.points:
        says = fit(points.none, INNER - NUMBER, 10.5, 2, 8)
        return [PointRow(0, says, None, "", says.height + 7)]
    make = narrow_row if listed.columns > 1 else wide_row
    return [make(point, listed) for point in points.points[:MOST_ROWS]]


def wide_row(point: blocks.Point, listed: Listed) -> PointRow:
    """A point over the whole page, its detail below."""
    width = INNER - NUMBER - ASIDE
    says = fit(point.says, width, listed.size, listed.lines, max(listed.size - 1, 8))
    detail = fit(point.detail, width, listed.small, listed.small_lines, 7)
    high = max(says.height + detail.height, aside_of(point.aside).height + 2)
    return PointRow(point.number, says, detail, point.aside, high + listed.size * 0.55)


def aside_of(text: str) -> Fitted:
    """What may not be done meanwhile, at the right end of a row."""
    return fit(text, ASIDE - 6, 8.5, 3, 6.5, bold=True)


def narrow_row(point: blocks.Point, listed: Listed) -> PointRow:
    """A point in a column, its day and name at the end of its last line or below it."""
    width = columns(listed.columns)[0] - NARROW_NUMBER
    pad = 2.4 + max(listed.size - 7, 0)
    detail = fit(point.brief, width * 0.66, listed.small, 1, 6.5)
    own = width_of(detail.lines[0], detail.size) + BETWEEN
    says = fit(point.says, width, listed.size, listed.lines, listed.size)
    ends = width_of(says.lines[-1], says.size) + own <= width
    if not ends and len(says.lines) < listed.lines:
        detail = fit(point.brief, width, listed.small, 1, 6.5)
        return PointRow(point.number, says, detail, "", says.height + detail.height + pad)
    if not ends:
        last = ended(says.lines[-1], width - own, says.size, bold=False)
        says = replace(says, lines=(*says.lines[:-1], last), whole=False)
    return PointRow(point.number, says, detail, "", says.height + pad, beside=True)


def in_columns(rows: Sequence[PointRow], listed: Listed) -> list[list[PointRow]]:
    """The rows of each column, about equally long; lines that are no point stand below."""
    points = [row for row in rows if row.number]
    half = -(-len(points) // listed.columns) or 1
    return [points[at : at + half] for at in range(0, len(points), half)]


def tall(rows: Sequence[PointRow], listed: Listed) -> float:
    """How much of the page the list takes."""
    below = sum(row.height for row in rows if not row.number)
    return max((sum(row.height for row in each) for each in in_columns(rows, listed)), default=0.0) + below


def shortened(
    rows: list[PointRow], points: blocks.OpenPoints, spare: float, listed: Listed
) -> list[PointRow]:
    """As many rows as fit when ``spare`` is missing (below zero), and a line that counts the rest."""
    kept = [row for row in rows if row.number]
    room = tall(rows, listed) + min(spare, 0.0) - NOTE
    while kept and tall(kept, listed) > room:
        kept.pop()
    rest = str(len(points.points) - len(kept))
    says = fit(points.more.replace("{count}", rest), INNER - NUMBER, 8.5, 1, 7, bold=True)
    return [*kept, PointRow(0, says, None, "", NOTE)]


def draw_points(pen: Pen, points: blocks.OpenPoints, rows: list[PointRow], listed: Listed) -> None:
    """The list of open points."""
    if not points.points:
        with pen.tags.block("P"):
            pen.lines(LEFT + 3, pen.y - 2.5, rows[0].says)
        pen.y -= rows[0].height
        return
    count, top = listed.columns, pen.y
    width, lefts = columns(count)
    with pen.tags.within("L"):
        for left, column in zip(lefts, in_columns(rows, listed), strict=False):
            pen.y = top
            for row in column:
                with pen.tags.within("LI"):
                    draw_point(pen, row, left, width, NUMBER if count == 1 else NARROW_NUMBER)
                pen.y -= row.height
                pen.rule(pen.y + 1, left=left, right=left + width)
    pen.y = top - tall([row for row in rows if row.number], listed)
    for row in rows:
        if not row.number:
            with pen.tags.block("P"):
                pen.lines(LEFT + 3, pen.y - 1, row.says, symbols.INK[Verdict.PUT_RIGHT])
            pen.y -= row.height


def draw_point(pen: Pen, row: PointRow, left: float, width: float, indent: float) -> None:
    """One open point."""
    top = pen.y - (1.0 if indent < NUMBER else 2.5)
    with pen.tags.block("Lbl"):
        pen.text(left + 3, top - row.says.size, str(row.number), row.says.size, ACCENT, bold=True)
    with pen.tags.block("LBody"):
        y = pen.lines(left + indent, top, row.says)
        if row.detail and row.beside:
            last = y + row.says.leading - row.says.size
            pen.ends(left + width, last, row.detail.lines[0], row.detail.size, QUIET)
        elif row.detail:
            pen.lines(left + indent, y, row.detail, QUIET)
        aside = aside_of(row.aside)
        for line in aside.lines if row.aside else ():
            pen.ends(RIGHT, top - aside.size, line, aside.size, symbols.INK[Verdict.PUT_RIGHT], True)
            top -= aside.leading
