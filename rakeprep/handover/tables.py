"""Tables, notes and rows of pictures as flowing pieces. Importing this loads the layout library."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from reportlab.platypus import Table

from rakeprep.handover import blocks
from rakeprep.handover.clean import ended
from rakeprep.handover.fitting import width_of
from rakeprep.handover.flowables import STYLES, Picture, cell, paragraph, quiet, with_symbol, worded
from rakeprep.handover.fonts import PLAIN, colour_of
from rakeprep.handover.grid import Grid, Loose
from rakeprep.handover.pen import PANEL, QUIET
from rakeprep.handover.runs import NEW_LINE, Run
from rakeprep.handover.small_signs import Ruler, Turned

CELLS = (1500, 720, 360, 180, 90, 45)  # characters in a cell
TALLEST_ROW = 560.0  # points
FEW = 3  # rows with the header
LAST_TWO = 120.0  # points, as high as two rows may be that are kept together
LEFT, RIGHT = 3, 5  # room around the words of a cell
PADDED = LEFT + RIGHT + 0.5
RULE = "#c3c8ce"
# An empty cell would otherwise name a face that is not inside the file.
QUIET_CELLS = (("VALIGN", (0, 0), (-1, -1), "TOP"), ("FONTNAME", (0, 0), (-1, -1), PLAIN))


def table(block: blocks.Table, width: float) -> Table:
    """A table whose rows all fit on a page; endless texts are cut: the attached entries have them."""
    for longest in CELLS:
        made = calm_table(block, width, longest)
        made.wrap(width, 1e6)
        if max(made._rowHeights) <= TALLEST_ROW:
            break
    rows = made._rowHeights
    if len(rows) > FEW and sum(rows[-2:]) < LAST_TWO:  # no last row stands alone on a page
        made.setStyle([("NOSPLIT", (0, len(rows) - 2), (0, len(rows) - 1))])
    made._argH = list(made._rowHeights)  # or each piece of it is measured anew on every page
    return made


def calm_table(block: blocks.Table, width: float, longest: int) -> Table:
    """A table with calm rules whose header comes again on every page."""
    count = len(block.header)
    size = "-small" if block.small else ""
    rows: list[list[Any]] = [[paragraph(text, f"header{size}", "") for text in block.header]]
    for column, turn in enumerate(block.turns):
        if turn is not None:
            rows[0][column] = [Turned(turn), rows[0][column]]
    above, below = (0.8, 1.7) if block.small else (1.4, 2.3)
    look: list[tuple[Any, ...]] = [
        *QUIET_CELLS,
        ("LEFTPADDING", (0, 0), (-1, -1), LEFT),
        ("RIGHTPADDING", (0, 0), (-1, -1), RIGHT),
        ("TOPPADDING", (0, 0), (-1, -1), above),
        ("BOTTOMPADDING", (0, 0), (-1, -1), below),
        ("LINEBELOW", (0, 0), (-1, 0), 0.9, colour_of(QUIET)),
        ("LINEBELOW", (0, 1), (-1, -1), 0.35, colour_of(RULE)),
    ]
    grid = Grid()
    for row in block.rows:
        at = len(rows)
        if isinstance(row, blocks.Group):
            heading = paragraph(ended(row.text, 200), f"group{size}", "")
            grid.wide[id(heading)] = count
            grid.kept.append(heading)
            rows.append([heading, *[""] * (count - 1)])
            look += [
                ("SPAN", (0, at), (-1, at)),
                ("BACKGROUND", (0, at), (-1, at), colour_of(PANEL)),
                ("NOSPLIT", (0, at), (0, at + 1)),
            ]
        else:
            rows.append([with_ruler(c, longest, block.small) for c in row])
    return Table(
        rows,
        colWidths=widths_of(block, width),
        repeatRows=1,
        style=look,
        hAlign="LEFT",
        spaceAfter=5,
        renderCB=grid,
    )


def widths_of(block: blocks.Table, width: float) -> list[float]:
    """The width by weight; no word of a header is broken while the widest column can spare some."""
    share = width / sum(block.weights)
    wide = [weight * share for weight in block.weights]
    size = STYLES["header-small" if block.small else "header"].fontSize
    for column, text in enumerate(block.header):
        longest = max((width_of(word, size, bold=True) for word in text.split()), default=0.0)
        missing = longest + PADDED - wide[column]
        widest = max(range(len(wide)), key=wide.__getitem__)
        if 0 < missing < wide[widest] - wide[column]:
            wide[column] += missing
            wide[widest] -= missing
    return wide


def with_ruler(content: blocks.Cell, longest: int, small: bool) -> Any:
    """A cell, and where its value lies among its kind."""
    words = cell(content, longest, small)
    return words if content.share is None else [words, Ruler(content.share)]


def note(block: blocks.FindingNote) -> Iterator[Any]:
    """A finding in full, its symbol before the verdict's word."""
    first = (Run(block.word, bold=True), Run(f" · {ended(block.where, 300)}"))
    opening = with_symbol(first, STYLES["note"], block.verdict)
    opening.keepWithNext = 1
    opening.spaceBefore = 5
    yield opening
    yield paragraph(" ".join(part for part in (block.says, block.todo) if part), "note")
    behind = " · ".join(part for part in (block.working, block.source) if part)
    if behind:
        yield paragraph(behind, "note-quiet")


def key_values(block: blocks.KeyValues, width: float) -> Table:
    """Labels over values, side by side."""
    cells: list[Any] = []
    for pair in block.pairs:
        runs = [quiet(ended(pair.label, 80)), NEW_LINE, Run(ended(pair.value, 160), bold=True)]
        for more in pair.more:
            runs += [NEW_LINE, quiet(ended(more, 120))]
        cells.append(worded(runs, STYLES["cell"]))
    cells += [""] * (-len(cells) % block.columns)
    rows = [cells[i : i + block.columns] for i in range(0, len(cells), block.columns)]
    look = [*QUIET_CELLS, ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    wide = [width / block.columns] * block.columns
    return Table(rows, colWidths=wide, style=look, spaceAfter=6, renderCB=Loose())


def photos(block: blocks.Photos, width: float) -> Table:
    """Pictures in rows of three."""
    each = width / 3 - 10
    cells: list[Any] = [
        [Picture(p, each, each * 0.75), paragraph(ended(p.caption, 200), "caption")] for p in block.photos
    ]
    cells += [""] * (-len(cells) % 3)
    rows = [cells[i : i + 3] for i in range(0, len(cells), 3)]
    look = [*QUIET_CELLS, ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    return Table(rows, colWidths=[width / 3] * 3, style=look, renderCB=Loose())
