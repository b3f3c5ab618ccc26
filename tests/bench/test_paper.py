"""The whole sealed document of the sample job, beside a bare script with as many pages and rows."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rakeprep.handover import blocks, complete, demo
from rakeprep.handover.document import build
from rakeprep.handover.fonts import PLAIN, register
from rakeprep.handover.layout import lay_out, unfolded
from rakeprep.jobs.open_job import OpenJob
from rakeprep.text import ENGLISH

pytestmark = pytest.mark.bench
MARGIN = 40.0  # points
Timer = Callable[[Callable[[], object]], float]


def words_of(cell: Any) -> str:
    """All that stands in a cell."""
    return " ".join([cell.text, cell.beside, *cell.quiet]) if isinstance(cell, blocks.Cell) else str(cell)


def bare(document: blocks.Document) -> int:
    """The same tables with the same words and nothing else; gives how many pages that takes."""
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph, SimpleDocTemplate, Table

    register()
    style = ParagraphStyle("plain", fontName=PLAIN, fontSize=8, leading=9.5)
    story: list[Any] = []
    for block in unfolded(document.record):
        if isinstance(block, blocks.Table):
            rows = [list(block.header)]
            for row in block.rows:
                cells = [row.text] if isinstance(row, blocks.Group) else [words_of(cell) for cell in row]
                rows.append(cells + [""] * (len(block.header) - len(cells)))
            drawn = [[Paragraph(escaped(text), style) for text in row] for row in rows]
            share = (A4[0] - 2 * MARGIN) / sum(block.weights)
            widths = [share * weight for weight in block.weights]
            story.append(Table(drawn, widths, repeatRows=1, style=[("PADDING", (0, 0), (-1, -1), 2)]))
    out = io.BytesIO()
    margins = {f"{side}Margin": MARGIN for side in ("left", "right", "top", "bottom")}
    template = SimpleDocTemplate(out, pagesize=A4, **margins)
    template.build(story)
    return int(template.page)


def escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")


@pytest.fixture(scope="module")
def draft(signed_job: OpenJob) -> complete.Draft:
    return complete.draft(signed_job, {"en": ENGLISH})


def test_that_laying_out_the_document_takes_little_longer_than_a_bare_script(
    draft: complete.Draft, timed: Timer, compare: Callable[..., float]
) -> None:
    document = build(draft.paper)
    assert bare(document) == pytest.approx(lay_out(document).pages, rel=0.3)  # else it would be no floor
    ratio = compare(
        "laying out the document",
        lambda: timed(lambda: bare(document)),
        lambda: timed(lambda: lay_out(document)),
        5,
    )
    assert ratio < 2  # the goal (own decision) is 2.5; measured 1.2 to 1.4, the drawings included


def test_that_the_whole_sealed_document_takes_a_few_bare_scripts(
    draft: complete.Draft,
    ticking: Callable[[], Any],
    tmp_path: Path,
    timed: Timer,
    compare: Callable[..., float],
) -> None:
    seal = demo.practice_seal(tmp_path / "seal", ticking)
    document = build(draft.paper)
    ratio = compare(
        "writing, sealing and checking the document",
        lambda: timed(lambda: bare(document)),
        lambda: timed(lambda: complete.sealed(draft, seal, lambda _: None)),
        4,
    )
    assert ratio < 4  # measured 2.7 to 2.8: half is layout, a sixth the check at the end
