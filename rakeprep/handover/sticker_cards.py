"""Stickers as the layout library wants them. Importing this loads the library: import it late."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from reportlab.platypus import Flowable

from rakeprep.handover import blocks
from rakeprep.handover.fitting import Fitted, fit
from rakeprep.handover.form_blocks import Sticker, Stickers
from rakeprep.handover.layout import flow
from rakeprep.handover.pen import INK, QUIET, Pen

HIGH = 168.0  # points of one sticker
BAND = 26.0
INSIDE = 14.0
LARGE, MIDDLE, LEAST = 50.0, 24.0, 11.0
READABLE = 14.0
SMALL, SMALL_LEAST = 10.5, 8.0
ORIGIN = 8.0


class Pair(Flowable):  # type: ignore[misc]
    """Two stickers side by side with the lines to cut along."""

    def __init__(self, stickers: tuple[Sticker, ...]) -> None:
        super().__init__()
        self.stickers = stickers

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """All are of one size."""
        self.width, self.height = width, HIGH
        return width, HIGH

    def draw(self) -> None:
        """Cut lines, then each sticker."""
        half = self.width / 2
        with self.canv.tags.artifact():
            self.canv.saveState()
            self.canv.setStrokeColorRGB(0.35, 0.35, 0.35)
            self.canv.setLineWidth(0.6)
            self.canv.setDash([5, 4])
            for number in range(len(self.stickers)):
                self.canv.rect(number * half, 0, half, HIGH, stroke=1, fill=0)
            self.canv.restoreState()
        for number, sticker in enumerate(self.stickers):
            self.sticker(sticker, number * half, half)

    def sticker(self, sticker: Sticker, left: float, width: float) -> None:
        """The name on a black band, what it says as large as there is room."""
        pen, tags = Pen(self.canv), self.canv.tags
        inner, x = width - 2 * INSIDE, left + INSIDE
        with tags.artifact():
            self.canv.setFillColorRGB(0, 0, 0)
            self.canv.roundRect(left + 7, HIGH - 8 - BAND, width - 14, BAND, 3, stroke=0, fill=1)
        title = fit(sticker.title, inner, 13, 1, 8, bold=True)
        with tags.content(tags.heading(2)):
            pen.lines(x, HIGH - 8 - BAND / 2 + title.height / 2 - 1, title, "#ffffff")
        top, bottom = HIGH - 8 - BAND - 5, 6.0
        origin = fit(sticker.origin, inner, ORIGIN, 1, 6.5)
        parts = in_size(sticker, inner, top - bottom - origin.height - 3)
        used = sum(part.height for part in parts)
        y = top - max(top - bottom - origin.height - 3 - used, 0.0) / 2
        for part in parts:
            with tags.block("P"):
                y = pen.lines(x, y, part, INK)
        with tags.block("P"):
            pen.lines(x, bottom + origin.height, origin, QUIET)


def in_size(sticker: Sticker, width: float, height: float) -> list[Fitted]:
    """All lines as large as width and height allow; the large ones give way first."""
    large = LARGE
    while True:
        parts = [
            *(fit(words, width, large, 1, LEAST, bold=True) for words in sticker.large),
            *(middle(words, width, min(MIDDLE, max(large * 0.6, READABLE))) for words in sticker.middle),
            *(fit(words, width, SMALL, 2, SMALL_LEAST) for words in sticker.small),
        ]
        if sum(part.height for part in parts) <= height or large <= LEAST:
            return parts
        large -= 2


def middle(words: str, width: float, size: float) -> Fitted:
    """On one line, unless it would be too small for that."""
    one = fit(words, width, size, 1, min(size, READABLE), bold=True)
    return one if one.whole else fit(words, width, min(size, READABLE), 2, LEAST, bold=True)


def sticker_story(paper: Stickers, width: float) -> Iterator[Any]:
    """The stickers two in a row, then what is not among them and why."""
    above: list[blocks.Block] = [blocks.Heading(1, paper.heading), blocks.Paragraph(paper.how)]
    yield from flow(above, width)
    for at in range(0, len(paper.stickers), 2):
        yield Pair(paper.stickers[at : at + 2])
    if paper.absent:
        below: list[blocks.Block] = [blocks.Heading(2, paper.absent_heading)]
        below += [blocks.Paragraph(f"{name}: {why}") for name, why in paper.absent]
        yield from flow(below, width)
