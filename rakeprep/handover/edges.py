"""What stands at the edges of the pages, outside of what is read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rakeprep.handover.blocks import Document
from rakeprep.handover.fitting import fit, width_of
from rakeprep.handover.fonts import BOLD, PLAIN, colour_of
from rakeprep.handover.pen import LINE, QUIET
from rakeprep.handover.tags import FOOTER, HEADER

SIDE = 42.0
TAG = "#7a2d00"


@dataclass(frozen=True, slots=True)
class Edges:
    """Head and foot of each page."""

    document: Document

    def front(self, canvas: Any, template: Any) -> None:
        """Page one has only a foot."""
        canvas.at_end(lambda sheets, page, pages: self.foot(sheets, page, pages, SIDE))

    def record(self, canvas: Any, template: Any) -> None:
        """The record says at the top what it belongs to, and how left and right are meant."""
        with canvas.tags.artifact(HEADER):
            canvas.once(HEADER, lambda: self.head(canvas))
        canvas.at_end(lambda sheets, page, pages: self.foot(sheets, page, pages, SIDE))

    def head(self, canvas: Any) -> None:
        """The mark of invented data, machine and job, the tractor seat, a rule."""
        width, height = canvas._pagesize
        canvas.saveState()
        start = SIDE
        if self.document.tag:
            tag = fit(self.document.tag, 130, 8, 1, 6.5, bold=True)
            canvas.setFillColor(colour_of(TAG))
            canvas.setFont(BOLD, tag.size)
            canvas.drawString(start, height - 35, tag.lines[0])
            start += width_of(tag.lines[0], tag.size, bold=True) + 9
        canvas.setFillColor(colour_of(QUIET))
        right = fit(self.document.seat, width * 0.34, 7.5, 1, 7)
        room = width - SIDE - width_of(right.lines[0], right.size) - 12 - start
        left = fit(self.document.running, room, 7.5, 1, 6.5)
        canvas.setFont(PLAIN, left.size)
        canvas.drawString(start, height - 35, left.lines[0])
        canvas.setFont(PLAIN, right.size)
        canvas.drawRightString(width - SIDE, height - 35, right.lines[0])
        canvas.setStrokeColor(colour_of(LINE))
        canvas.setLineWidth(0.6)
        canvas.line(SIDE, height - 41, width - SIDE, height - 41)
        canvas.restoreState()

    def foot(self, canvas: Any, page: int, pages: int, side: float) -> None:
        """Code, how to check, and which page of how many."""
        width = canvas._pagesize[0]
        words = self.document.page_words.replace("{page}", str(page)).replace("{pages}", str(pages))
        with canvas.tags.artifact(FOOTER):
            canvas.saveState()
            canvas.setFillColor(colour_of(QUIET))
            canvas.setFont(PLAIN, 8)
            canvas.drawRightString(width - side, 25, words)
            room = width - 2 * side - width_of(words, 8) - 14
            foot = fit(self.document.foot, room, 8, 1, 6)
            canvas.setFont(PLAIN, foot.size)
            canvas.drawString(side, 25, foot.lines[0])
            canvas.restoreState()
