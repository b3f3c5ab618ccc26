"""Blocks onto pages: page one as a whole, the record in flowing tables. The same each time."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from rakeprep.handover import blocks
from rakeprep.handover.edges import SIDE, Edges
from rakeprep.handover.fonts import PLAIN, register
from rakeprep.handover.tags import Node

TOP, BOTTOM = 51.0, 39.0
Boxes = Mapping[str, tuple[float, float, float, float]]
SHORT_START = 120.0  # points; two rows under a heading are wanted, where they are not long
HELD = 300.0  # of pieces held together
FEW_ROWS, SHORT_TABLE = 6, 140.0  # a table of so few and low rows is not parted
BETWEEN = 22.0  # points between two columns


@dataclass(frozen=True, slots=True)
class LaidOut:
    """The pages; where on page one the signature fields lie (left, bottom, right, top in points); what
    every piece on the pages is."""

    pdf: bytes
    boxes: Boxes
    pages: int
    tree: Node


def pdf(document: blocks.Document) -> bytes:
    """The pages as a PDF file."""
    return lay_out(document).pdf


def lay_out(document: blocks.Document) -> LaidOut:
    """Lay out in one pass; how many pages there are is written at the feet in the end."""
    from reportlab.lib.pagesizes import A4
    from reportlab.platypus import BaseDocTemplate, Frame, NextPageTemplate, PageBreak, PageTemplate

    from rakeprep.handover.flowables import Front
    from rakeprep.handover.sheets import Sheets

    register()
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
        pageCompression=0,  # the file is packed when it is finished
    )
    nothing = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}
    high = height - TOP - BOTTOM
    half = (width - 2 * SIDE - BETWEEN) / 2
    frames = {
        "front": [Frame(0, 0, width, height, **nothing)],
        "1": [Frame(SIDE, BOTTOM, width - 2 * SIDE, high, **nothing)],
        "2": [Frame(left, BOTTOM, half, high, **nothing) for left in (SIDE, SIDE + half + BETWEEN)],
    }
    edges = Edges(document)
    template.addPageTemplates(
        [
            PageTemplate(name, each, onPage=edges.front if name == "front" else edges.record)
            for name, each in frames.items()
        ]
    )
    front = Front(document.front)
    story = [front, NextPageTemplate("1"), PageBreak(), *flow(document.record, width - 2 * SIDE)]
    made: list[Sheets] = []

    def sheets(*given: Any, **more: Any) -> Sheets:
        made.append(Sheets(*given, **more))
        return made[-1]

    template.build(story, canvasmaker=sheets)
    return LaidOut(out.getvalue(), dict(front.boxes), template.page, made[-1].tags.root)


def flow(several: Sequence[blocks.Block], width: float) -> Iterator[Any]:
    """Blocks as flowing pieces; a heading never stands alone at the foot of a page."""
    from reportlab.platypus import CondPageBreak, NextPageTemplate, PageBreak

    from rakeprep.handover.flowables import HeadingLine

    waiting: list[Any] = []
    whole = width
    for number, block in enumerate(unfolded(several)):
        if isinstance(block, blocks.Columns):
            yield from (NextPageTemplate(str(block.count)), PageBreak())
            width = whole if block.count == 1 else (whole - BETWEEN) / 2
            continue
        if isinstance(block, blocks.Heading):
            waiting.append(HeadingLine(block, f"h{number}"))
            continue
        pieces = list(placed(block, width))
        if waiting and belongs_below(block):
            waiting += pieces
            continue
        room = together(waiting, width)
        if waiting or isinstance(block, blocks.Table):
            yield CondPageBreak(room + start_of(pieces, width))
        yield from waiting
        waiting = []
        yield from pieces
    yield from waiting


def belongs_below(block: blocks.Block) -> bool:
    """A remark or a picture under a heading belongs to what comes after it."""
    if isinstance(block, blocks.Drawing):
        return block.to_size
    return isinstance(block, blocks.Paragraph) and block.style == "quiet"


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
        if len(rows) <= FEW_ROWS and height < SHORT_TABLE:
            return height + 4
        held = {command[1][1] + 1 for command in first._nosplitCmds}  # rows held to the one before
        ends = [end for end in range(head + 1, len(rows) + 1) if end not in held] or [head]
        one, two = (float(sum(rows[:end])) + 4 for end in (ends[0], ends[:2][-1]))
        return two if two < SHORT_START else one
    kept = [first]  # what is held to the piece after it moves with it as a whole
    for piece, following in pairwise(pieces):
        if not getattr(piece, "keepWithNext", 0):
            break
        kept.append(following)
    return min(height, 48.0) if len(kept) == 1 else min(together(kept, width), HELD)


def together(pieces: Sequence[Any], width: float) -> float:
    """Height of pieces one below the other with the room around them."""
    return float(sum(p.wrap(width, 1e6)[1] + p.getSpaceBefore() + p.getSpaceAfter() for p in pieces))


def placed(block: blocks.Block, width: float) -> Iterator[Any]:
    """One block as flowing pieces."""
    from reportlab.platypus import PageBreak

    from rakeprep.handover.flowables import paragraph
    from rakeprep.handover.tables import key_values, note, photos, table

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
