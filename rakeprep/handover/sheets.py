"""A canvas with tags, on which the number of pages can be written at the end. Import it late."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from rakeprep.handover.tags import Tags

Draw = Callable[[Any, int, int], None]  # canvas, page, pages
LINE_END = re.compile(r"(?<!\\)(\) Tj(?:[ .0-9]+rg)?\s+T\*)(?! ET)")  # a colour may change in between
KEPT_FREE = "% kept free for the foot"


class Sheets(Canvas):  # type: ignore[misc]
    """Pages that are drawn once: what hangs on their number is put in when all of them are there."""

    _code: list[str]

    def __init__(self, *given: Any, **more: Any) -> None:
        self.tags = Tags(self)
        self.waiting: dict[int, Draw] = {}
        self.drawn: dict[Hashable, list[str]] = {}
        super().__init__(*given, **more)

    def part_lines(self, since: int) -> None:
        """Part the lines drawn since a place in the code by spaces, or their words are read as one.

        Code 32 is a space in every part of a face (see ``ttfonts``).
        """
        for at in range(since, len(self._code)):
            piece = self._code[at]
            if piece.count("T*") > piece.count("T* ET"):  # most pieces have one line
                self._code[at] = LINE_END.sub(r" \1", piece)

    def once(self, what: Hashable, draw: Callable[[], None]) -> None:
        """Draw what comes again and again; from the second time on its code is written as it was."""
        known = self.drawn.get(what)
        if known is None:
            start = len(self._code)
            draw()
            self.drawn[what] = self._code[start:]
        else:
            self._code.extend(known)

    def at_end(self, draw: Draw) -> None:
        """Keep a place on this page that ``draw`` fills at the end."""
        self.waiting[self.getPageNumber()] = draw
        self.addLiteral(KEPT_FREE)

    def save(self) -> None:
        """Fill the places kept free, then write the file."""
        if self._code:
            self.showPage()
        pages = self._doc.Pages.pages
        for number, page in enumerate(pages, 1):
            draw = self.waiting.get(number)
            if draw is not None:
                self._code = []
                draw(self, number, len(pages))
                page.stream = page.stream.replace(KEPT_FREE, "\n".join(self._code))
        self._code = []
        self._doc.SaveToFile(self._filename, self)
