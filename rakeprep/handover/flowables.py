"""Pieces of the record as the layout library wants them. Importing this loads the library: import it late."""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterable
from functools import cache
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, Paragraph

from rakeprep.handover import blocks, symbols
from rakeprep.handover.clean import ended
from rakeprep.handover.fonts import BOLD, PLAIN, colour_of
from rakeprep.handover.front_layout import draw_front
from rakeprep.handover.pen import INK, QUIET
from rakeprep.handover.runs import NEW_LINE, Run, fragments
from rakeprep.handover.tags import Box, Node, Tags
from rakeprep.model.verdict import Verdict

SYMBOL = 8.6
LONGEST_HEADING = 240  # characters
ROOM_FOR_SYMBOL = 12.5
PHOTO_PIXELS = 640
SAME_WIDTH = 1e-6  # points; a table's widths differ in their last digit from one asking to the next
LARGEST_PHOTO = 120_000_000  # pixels


def style(name: str, size: float, bold: bool = False, colour: str = INK, **more: Any) -> ParagraphStyle:
    """A paragraph style of the paper."""
    return ParagraphStyle(
        name,
        fontName=BOLD if bold else PLAIN,
        fontSize=size,
        leading=more.pop("leading", size * 1.24),
        textColor=colour_of(colour),
        splitLongWords=1,
        **more,
    )


STYLES = {
    "h1": style("h1", 15, True, spaceBefore=4, spaceAfter=7),
    "h2": style("h2", 12, True, spaceBefore=9, spaceAfter=3),
    "h3": style("h3", 9.5, True, spaceBefore=4, spaceAfter=2),
    "plain": style("plain", 9, spaceAfter=5),
    "quiet": style("quiet", 8.5, colour=QUIET, spaceAfter=4),
    "strong": style("strong", 9, True, spaceAfter=5),
    "cell": style("cell", 8.5),
    "cell-strong": style("cell-strong", 8.5, True),
    "cell-small": style("cell-small", 8),
    "cell-strong-small": style("cell-strong-small", 8, True),
    "header": style("header", 8, True, QUIET),
    "header-small": style("header-small", 7.5, True, QUIET),
    "group": style("group", 8.5, True),
    "group-small": style("group-small", 8, True),
    "label": style("label", 8, colour=QUIET),
    "note": style("note", 9, leftIndent=16, spaceAfter=1),
    "note-quiet": style("note-quiet", 8.5, colour=QUIET, leftIndent=16, spaceAfter=1),
    "caption": style("caption", 8, colour=QUIET),
}


def quiet(text: str, small: bool = False) -> Run:
    """Quieter words in a cell."""
    return Run(text, 7.5 if small else 8, bold=False, colour=QUIET)


class Words(Paragraph):  # type: ignore[misc]
    """A tagged paragraph; without a ``kind`` its text belongs to what is around it, such as a cell.

    A paragraph that runs over pages stays one element: its pieces share a place for it.
    """

    kind = "P"

    def __init__(self, text: str | None, look: ParagraphStyle, **kw: Any) -> None:
        super().__init__(text, look, **kw)
        self.shared: list[Node] = []
        self.wrapped: tuple[float, tuple[float, float]] | None = None

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """The lines are broken once for each width: a table asks several times."""
        known = self.wrapped is not None and abs(self.wrapped[0] - width) < SAME_WIDTH
        if not known or not hasattr(self, "blPara"):
            self.wrapped = (width, super().wrap(width, height))
        assert self.wrapped is not None
        return self.wrapped[1]

    def split(self, width: float, height: float) -> list[Any]:
        """The pieces stay one element."""
        parts: list[Any] = super().split(width, height)
        for part in parts:
            part.kind, part.shared = self.kind, self.shared
        return parts

    def element(self, tags: Tags) -> Node:
        """The element this text belongs to, made when it is first drawn."""
        return tags.node(self.kind) if self.kind else tags.stack[-1]

    def draw(self) -> None:
        """The text, marked as what it is."""
        tags: Tags = self.canv.tags
        if tags.marking:
            super().draw()
            return
        if not self.shared:
            self.shared.append(self.element(tags))
        with tags.content(self.shared[0]):
            start = len(self.canv._code)
            super().draw()
            self.canv.part_lines(start)


def worded(runs: Iterable[Run], look: ParagraphStyle, kind: str = "P") -> Words:
    """Runs of text as a paragraph."""
    made = Words(None, look, frags=fragments(runs, look))
    made.kind = kind
    return made


def paragraph(text: str, name: str, kind: str = "P") -> Words:
    """Plain text as a paragraph."""
    return worded((Run(text),), STYLES[name], kind)


class WithSymbol(Words):
    """A paragraph with a verdict's symbol before its first line; the verdict's word is in the text."""

    verdict: Verdict | None = None

    def split(self, width: float, height: float) -> list[Any]:
        """The first piece keeps the symbol."""
        parts: list[Any] = super().split(width, height)
        for part in parts[:1]:
            part.verdict = self.verdict
        return parts

    def draw(self) -> None:
        """The symbol, then the text."""
        if self.verdict is not None:
            middle = self.height - self.style.fontSize * 0.62
            with self.canv.tags.artifact():
                symbols.draw(self.canv, self.verdict, SYMBOL / 2 + 0.5, middle, SYMBOL)
        super().draw()


def with_symbol(runs: Iterable[Run], look: ParagraphStyle, verdict: Verdict, kind: str = "P") -> WithSymbol:
    """Runs of text with a symbol before them."""
    made = WithSymbol(None, look, frags=fragments(runs, look))
    made.kind, made.verdict = kind, verdict
    return made


def cell(content: blocks.Cell, longest: int, small: bool = False) -> Words:
    """A table cell with at most about ``longest`` characters: a row must fit on a page."""
    runs: list[Run] = []
    if content.text or content.beside:
        runs.append(Run(ended(content.text, longest)))
    if content.beside:
        runs.append(quiet(f" {ended(content.beside, longest)}", small))
    left = longest - len(content.text)
    for line in content.quiet:
        if line and left > 0:
            runs += [NEW_LINE] if runs else []
            runs.append(quiet(ended(line, left), small))
            left -= len(line)
    look = STYLES[f"cell{'-strong' if content.strong else ''}{'-small' if small else ''}"]
    if content.verdict is None:
        return worded(runs, look, "")
    return with_symbol(runs, indented(look), content.verdict, "")


@cache
def indented(look: ParagraphStyle) -> ParagraphStyle:
    """A style with room for a symbol."""
    return ParagraphStyle(f"{look.name}-symbol", look, leftIndent=ROOM_FOR_SYMBOL)


class HeadingLine(Words):
    """A heading that is also a bookmark."""

    def __init__(self, heading: blocks.Heading, key: str) -> None:
        runs = [Run(ended(heading.text, LONGEST_HEADING))]
        if heading.aside:
            runs.append(Run(f" · {heading.aside}", 9, bold=False, colour=QUIET))
        look = STYLES[f"h{heading.level}"]
        super().__init__(None, look, frags=fragments(runs, look))
        self.heading = heading
        self.key = key

    def split(self, width: float, height: float) -> list[Any]:
        """A heading stays whole."""
        return []

    def element(self, tags: Tags) -> Node:
        """A heading of its level."""
        return tags.heading(self.heading.level)

    def draw(self) -> None:
        """The heading, and its place in the list of bookmarks."""
        if self.heading.level < 3:
            self.canv.bookmarkHorizontal(self.key, 0, self.height + 6)
            self.canv.addOutlineEntry(
                ended(self.heading.text, LONGEST_HEADING), self.key, self.heading.level - 1, closed=0
            )
        super().draw()


def place(canvas: Any, width: float, height: float) -> Box:
    """Where a piece of this size lies on the page that is drawn at the origin now."""
    left, bottom = canvas.absolutePosition(0, 0)
    return left, bottom, left + width, bottom + height


class Front(Flowable):  # type: ignore[misc]
    """Page one, drawn as a whole into its frame."""

    def __init__(self, page: blocks.FrontPage) -> None:
        super().__init__()
        self.page = page
        self.boxes: dict[str, tuple[float, float, float, float]] = {}

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """All the room there is."""
        return width, height

    def draw(self) -> None:
        """The frame lies on the page's corner, so places on it are places on the page."""
        self.canv.bookmarkPage("front")
        self.canv.addOutlineEntry(self.page.title, "front", 0, closed=0)
        self.boxes.update(draw_front(self.canv, self.page))


def thumbnail(data: bytes) -> ImageReader | None:
    """A small upright copy of a picture, without anything the camera wrote beside it; None if unreadable."""
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Image.open(io.BytesIO(data), formats=("JPEG", "PNG")) as picture:
                if picture.width * picture.height > LARGEST_PHOTO:
                    return None
                picture.draft("RGB", (PHOTO_PIXELS, PHOTO_PIXELS))
                upright = ImageOps.exif_transpose(picture).convert("RGB")
                upright.thumbnail((PHOTO_PIXELS, PHOTO_PIXELS))
    except (OSError, ValueError, SyntaxError, Warning, Image.DecompressionBombError, EOFError):
        return None
    small = io.BytesIO()
    upright.save(small, "JPEG", quality=82)
    small.seek(0)
    return ImageReader(small)


class Picture(Flowable):  # type: ignore[misc]
    """A thumbnail in a box of fixed size."""

    def __init__(self, photo: blocks.Photo, width: float, height: float) -> None:
        super().__init__()
        self.photo, self.width, self.height = photo, width, height

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """The same for every picture."""
        return self.width, self.height

    def draw(self) -> None:
        """The picture, or a sentence where it cannot be read."""
        tags: Tags = self.canv.tags
        with tags.block("Figure", alt=self.photo.caption, box=place(self.canv, self.width, self.height)):
            self.picture(thumbnail(self.photo.data))

    def picture(self, reader: ImageReader | None) -> None:
        """What can be seen."""
        if reader is None:
            self.canv.setStrokeColor(colour_of(QUIET))
            self.canv.rect(0, 0, self.width, self.height, stroke=1, fill=0)
            words = paragraph(self.photo.unreadable, "caption")
            words.wrapOn(self.canv, self.width - 12, self.height)
            words.drawOn(self.canv, 6, self.height / 2)
            return
        wide, high = reader.getSize()
        scale = min(self.width / wide, self.height / high)
        self.canv.drawImage(reader, 0, self.height - high * scale, wide * scale, high * scale)
