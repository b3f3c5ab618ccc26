"""Blocks onto pages: page one as a whole, the record in flowing tables. The same each time."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rakeprep.handover import blocks
from rakeprep.handover.fonts import BOLD, PLAIN, register

if TYPE_CHECKING:
    from reportlab.platypus import Table

SIDE = 42.0
TOP, BOTTOM = 54.0, 44.0
Boxes = Mapping[str, tuple[float, float, float, float]]
CELLS = (720, 360, 180, 90, 45)  # characters in a cell
TALLEST_ROW = 560.0  # points
SHORT_START = 250.0  # points; two rows under a heading are wanted, where they are not endless
# An empty cell would otherwise name a face that is not inside the file.
QUIET_CELLS = (("VALIGN", (0, 0), (-1, -1), "TOP"), ("FONTNAME", (0, 0), (-1, -1), PLAIN))
LINE, PANEL = "#c3c8ce", "#eef2f5"


@dataclass(frozen=True, slots=True)
class LaidOut:
    """The pages, and where on page one the signature fields lie (left, bottom, right, top in points)."""

    pdf: bytes
    boxes: Boxes
    pages: int


def pdf(document: blocks.Document) -> bytes:
    """The pages as a PDF file."""
    return lay_out(document).pdf


def lay_out(document: blocks.Document) -> LaidOut:
    """Lay out twice: the first time tells how many pages there are."""
    register()
    counted = one_pass(document, 0)
    return one_pass(document, counted.pages)


def one_pass(document: blocks.Document, pages: int) -> LaidOut:
    """Lay out once, with a number of pages to print at their feet."""
    from reportlab.lib.pagesizes import A4
    from reportlab.platypus import BaseDocTemplate, Frame, NextPageTemplate, PageBreak, PageTemplate

    from rakeprep.handover.flowables import Front

    out = io.BytesIO()
    width, height = A4
    template = BaseDocTemplate(
        out,
        pagesize=A4,
        title=document.title,
        author="",
        subject=document.job,
        creator="rakeprep",
        lang=document.language,
        displayDocTitle=True,
        invariant=True,
        initialFontName=PLAIN,
        pageCompression=1,
    )
    nothing = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}
    whole = Frame(0, 0, width, height, id="whole", **nothing)
    record = Frame(SIDE, BOTTOM, width - 2 * SIDE, height - TOP - BOTTOM, id="record", **nothing)
    feet = Feet(document, pages)
    template.addPageTemplates(
        [
            PageTemplate("front", [whole], onPage=feet.front),
            PageTemplate("record", [record], onPage=feet.record),
        ]
    )
    front = Front(document.front)
    story = [front, NextPageTemplate("record"), PageBreak(), *flow(document.record, width - 2 * SIDE)]
    template.build(story)
    return LaidOut(out.getvalue(), dict(front.boxes), template.page)


@dataclass(frozen=True, slots=True)
class Feet:
    """What stands at the edges of each page."""

    document: blocks.Document
    pages: int

    def front(self, canvas: Any, template: Any) -> None:
        """Page one has only a foot."""
        self.foot(canvas, template.page, 48.0)

    def record(self, canvas: Any, template: Any) -> None:
        """The record says at the top what it belongs to, and how left and right are meant."""
        from reportlab.lib.colors import HexColor

        from rakeprep.handover.fitting import fit, width_of

        width, height = canvas._pagesize
        canvas.saveState()
        canvas.setFillColor(HexColor("#4a525c"))
        start = SIDE
        if self.document.tag:
            tag = fit(self.document.tag, 130, 8, 1, 6.5, bold=True)
            canvas.setFillColor(HexColor("#7a2d00"))
            canvas.setFont(BOLD, tag.size)
            canvas.drawString(start, height - 35, tag.lines[0])
            start += width_of(tag.lines[0], tag.size, bold=True) + 9
            canvas.setFillColor(HexColor("#4a525c"))
        left = fit(self.document.running, width * 0.62 - start, 8, 1, 6.5)
        canvas.setFont(PLAIN, left.size)
        canvas.drawString(start, height - 35, left.lines[0])
        right = fit(self.document.seat, width * 0.34, 8, 1, 6.5)
        canvas.setFont(PLAIN, right.size)
        canvas.drawRightString(width - SIDE, height - 35, right.lines[0])
        canvas.setStrokeColor(HexColor(LINE))
        canvas.setLineWidth(0.6)
        canvas.line(SIDE, height - 41, width - SIDE, height - 41)
        canvas.restoreState()
        self.foot(canvas, template.page, SIDE)

    def foot(self, canvas: Any, page: int, side: float) -> None:
        """Code, how to check, and which page of how many."""
        from reportlab.lib.colors import HexColor

        from rakeprep.handover.fitting import fit, width_of

        width = canvas._pagesize[0]
        words = self.document.page_words.replace("{page}", str(page)).replace("{pages}", str(self.pages))
        canvas.saveState()
        canvas.setFillColor(HexColor("#4a525c"))
        canvas.setFont(PLAIN, 8)
        canvas.drawRightString(width - side, 25, words)
        room = width - 2 * side - width_of(words, 8) - 14
        foot = fit(self.document.foot, room, 8, 1, 6)
        canvas.setFont(PLAIN, foot.size)
        canvas.drawString(side, 25, foot.lines[0])
        canvas.restoreState()


def flow(several: Sequence[blocks.Block], width: float) -> Iterator[Any]:
    """Blocks as flowing pieces; a heading never stands alone at the foot of a page."""
    from reportlab.platypus import CondPageBreak

    from rakeprep.handover.flowables import HeadingLine

    waiting: list[Any] = []
    for number, block in enumerate(unfolded(several)):
        if isinstance(block, blocks.Heading):
            waiting.append(HeadingLine(block, f"h{number}"))
            continue
        pieces = list(placed(block, width))
        if waiting and isinstance(block, blocks.Paragraph) and block.style == "quiet":
            waiting += pieces  # a remark under a heading belongs to what comes after it
            continue
        if waiting:
            room = sum(h.wrap(width, 1e6)[1] + h.getSpaceBefore() + h.getSpaceAfter() for h in waiting)
            yield CondPageBreak(room + start_of(pieces, width))
            yield from waiting
            waiting = []
        yield from pieces
    yield from waiting


def unfolded(several: Sequence[blocks.Block]) -> Iterator[blocks.Block]:
    """Blocks kept together come one by one: headings hold on to what follows them anyway."""
    for block in several:
        if isinstance(block, blocks.KeepTogether):
            yield from unfolded(block.blocks)
        else:
            yield block


def start_of(pieces: list[Any], width: float) -> float:
    """Height of what must stand under a heading at least: three lines, or a table's first rows."""
    from reportlab.platypus import Table

    if not pieces:
        return 0.0
    first = pieces[0]
    if hasattr(first, "least"):
        return float(first.least)
    height = float(first.wrap(width, 1e6)[1])
    if isinstance(first, Table):
        rows, head = first._rowHeights, first.repeatRows
        two = float(sum(rows[: head + 2]))
        return (two if two < SHORT_START else float(sum(rows[: head + 1]))) + 4
    return min(height, 48.0)


def placed(block: blocks.Block, width: float) -> Iterator[Any]:
    """One block as flowing pieces."""
    from reportlab.platypus import PageBreak

    from rakeprep.handover.flowables import paragraph

    match block:
        case blocks.Paragraph():
            yield paragraph(block.text, block.style)
        case blocks.Table():
            yield table(block, width)
        case blocks.FindingNote():
            yield from note(block)
        case blocks.KeyValues():
            yield key_values(block, width)
        case blocks.Photos():
            yield photos(block, width)
        case blocks.Drawing():
            from rakeprep.handover.drawn import Drawn

            yield Drawn(block, width)
        case blocks.PageBreak():
            yield PageBreak()


def table(block: blocks.Table, width: float) -> Table:
    """A table whose rows all fit on a page; endless texts are cut: the attached entries have them."""
    for longest in CELLS:
        made = calm_table(block, width, longest)
        made.wrap(width, 1e6)
        if max(made._rowHeights) <= TALLEST_ROW:
            break
    return made


def calm_table(block: blocks.Table, width: float, longest: int) -> Table:
    """A table with calm rules whose header comes again on every page."""
    from reportlab.lib.colors import HexColor
    from reportlab.platypus import Table

    from rakeprep.handover.clean import ended
    from rakeprep.handover.flowables import cell, paragraph

    count = len(block.header)
    rows: list[list[Any]] = [[paragraph(text, "header") for text in block.header]]
    look: list[tuple[Any, ...]] = [
        *QUIET_CELLS,
        ("LEFTPADDING", (0, 0), (-1, -1), 3),
        ("RIGHTPADDING", (0, 0), (-1, -1), 5),
        ("TOPPADDING", (0, 0), (-1, -1), 2.2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 3.2),
        ("LINEBELOW", (0, 0), (-1, 0), 0.9, HexColor("#4a525c")),
        ("LINEBELOW", (0, 1), (-1, -1), 0.35, HexColor(LINE)),
    ]
    for row in block.rows:
        at = len(rows)
        if isinstance(row, blocks.Group):
            rows.append([paragraph(ended(row.text, 200), "group"), *[""] * (count - 1)])
            look += [
                ("SPAN", (0, at), (-1, at)),
                ("BACKGROUND", (0, at), (-1, at), HexColor(PANEL)),
                ("NOSPLIT", (0, at), (0, at + 1)),
            ]
        else:
            rows.append([cell(c, longest) for c in row])
    share = width / sum(block.weights)
    return Table(
        rows,
        colWidths=[weight * share for weight in block.weights],
        repeatRows=1,
        style=look,
        hAlign="LEFT",
        spaceAfter=8,
    )


def note(block: blocks.FindingNote) -> Iterator[Any]:
    """A finding in full, its symbol before the verdict's word."""
    from rakeprep.handover.clean import ended, markup
    from rakeprep.handover.flowables import STYLES, WithSymbol, paragraph

    first = f'<font face="{BOLD}">{markup(block.word)}</font> · {markup(ended(block.where, 300))}'
    opening = WithSymbol(first, STYLES["note"], block.verdict)
    opening.keepWithNext = 1
    opening.spaceBefore = 5
    yield opening
    yield paragraph(" ".join(part for part in (block.says, block.todo) if part), "note")
    quiet = " · ".join(part for part in (block.working, block.source) if part)
    if quiet:
        yield paragraph(quiet, "note-quiet")


def key_values(block: blocks.KeyValues, width: float) -> Table:
    """Labels over values, side by side."""
    from reportlab.platypus import Paragraph, Table

    from rakeprep.handover.clean import ended, markup
    from rakeprep.handover.flowables import QUIET_IN_CELL, STYLES

    cells = []
    for pair in block.pairs:
        lines = [
            f"{QUIET_IN_CELL}{markup(ended(pair.label, 80))}</font>",
            f'<font face="{BOLD}">{markup(ended(pair.value, 160))}</font>',
        ]
        lines += [f"{QUIET_IN_CELL}{markup(ended(more, 120))}</font>" for more in pair.more]
        cells.append(Paragraph("<br/>".join(lines), STYLES["cell"]))
    cells += [""] * (-len(cells) % block.columns)
    rows = [cells[i : i + block.columns] for i in range(0, len(cells), block.columns)]
    look = [*QUIET_CELLS, ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    return Table(rows, colWidths=[width / block.columns] * block.columns, style=look, spaceAfter=6)


def photos(block: blocks.Photos, width: float) -> Table:
    """Pictures in rows of three."""
    from reportlab.platypus import Table

    from rakeprep.handover.clean import ended
    from rakeprep.handover.flowables import Picture, paragraph

    each = width / 3 - 10
    cells: list[Any] = [
        [Picture(p, each, each * 0.75), paragraph(ended(p.caption, 200), "caption")] for p in block.photos
    ]
    cells += [""] * (-len(cells) % 3)
    rows = [cells[i : i + 3] for i in range(0, len(cells), 3)]
    look = [*QUIET_CELLS, ("LEFTPADDING", (0, 0), (-1, -1), 0)]
    return Table(rows, colWidths=[width / 3] * 3, style=look)
