"""The papers beside the handover document onto pages, tagged; the same each time."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from rakeprep.handover.fitting import fit, width_of
from rakeprep.handover.fonts import PLAIN, register
from rakeprep.handover.form_blocks import Forms, Listing, Margins, OtherPaper, Stickers
from rakeprep.handover.pen import HEIGHT, INK, QUIET, WIDTH, Pen
from rakeprep.handover.tags import FOOTER, HEADER, Node

CLIP = 62.0  # points at the top that a clipboard covers
SIDE = 50.0
STRIP = 46.0  # name, day, serial number at the foot of a form
FOOT = 24.0
TAG = "#7a2d00"
MIDDLE, LARGE = 10.0, 13.0


@dataclass(frozen=True, slots=True)
class Frame:
    """What is left of a sheet between its edges: left, bottom, width, height in points."""

    left: float
    bottom: float
    width: float
    height: float


FORM = Frame(SIDE, FOOT + STRIP + 18, WIDTH - 2 * SIDE, HEIGHT - CLIP - 24 - FOOT - STRIP - 18)
CARDS = Frame(36.0, 40.0, WIDTH - 72.0, HEIGHT - 40.0 - 62.0)
LIST = Frame(42.0, 42.0, WIDTH - 84.0, HEIGHT - 42.0 - 66.0)


@dataclass
class Edges:
    """Head and foot of each sheet; ``parts`` notes which part (a step) every sheet belongs to."""

    margins: Margins
    frame: Frame
    parts: list[str] = field(default_factory=list)

    def begin(self, part: str, title: str) -> Callable[[Any, Any], None]:
        """What is drawn when a sheet of a part begins."""

        def draw(canvas: Any, template: Any) -> None:
            first = part not in self.parts
            self.parts.append(part)
            with canvas.tags.artifact(HEADER):
                self.head(Pen(canvas), "" if first else title)
            canvas.at_end(self.count)

        return draw

    def head(self, pen: Pen, title: str) -> None:
        """Invented or not, machine, tractor and job; on further sheets the step."""
        left, y = self.frame.left, self.frame.bottom + self.frame.height + 12
        running = fit(self.margins.running, self.frame.width - 92, MIDDLE, 1, 8)
        pen.text(left, y, running.lines[0], running.size, INK)
        if self.margins.tag:
            tag = fit(self.margins.tag, 200, MIDDLE, 1, 7, bold=True)
            pen.text(left, y + 14, tag.lines[0], tag.size, TAG, bold=True)
            left += width_of(tag.lines[0], tag.size, bold=True) + 10
        if title:
            words = fit(title, self.frame.left + self.frame.width - left, MIDDLE, 1, 8, bold=True)
            pen.text(left, y + 14, words.lines[0], words.size, INK, bold=True)

    def count(self, canvas: Any, page: int, pages: int) -> None:
        """Which sheet of how many of this part, at the top; the foot."""
        part = self.parts[page - 1]
        number, total = self.parts[:page].count(part), self.parts.count(part)
        words = self.margins.count.replace("{page}", str(number)).replace("{pages}", str(total))
        pen = Pen(canvas)
        with canvas.tags.artifact(FOOTER):
            fitted = fit(words, 88, LARGE, 1, 8, bold=True)
            right = self.frame.left + self.frame.width
            pen.ends(
                right, self.frame.bottom + self.frame.height + 12, fitted.lines[0], fitted.size, INK, True
            )
            foot = fit(self.margins.foot, self.frame.width, 8, 1, 6)
            pen.text(self.frame.left, FOOT, foot.lines[0], foot.size, QUIET)


def lay_out(paper: OtherPaper) -> tuple[bytes, Node]:
    """The pages as a PDF file, and what every piece on them is."""
    register()
    match paper:
        case Forms():
            return form_pages(paper)
        case Stickers():
            from rakeprep.handover.sticker_cards import sticker_story

            return pages(paper.margins, CARDS, list(sticker_story(paper, CARDS.width)))
        case Listing():
            from rakeprep.handover.layout import flow

            return pages(paper.margins, LIST, list(flow(paper.blocks, LIST.width)))


def pages(margins: Margins, frame: Frame, story: list[Any]) -> tuple[bytes, Node]:
    """Running pages that are all alike."""
    edges = Edges(margins, frame)
    return build(margins, [template("1", frame, edges.begin("1", ""))], story)


def form_pages(forms: Forms) -> tuple[bytes, Node]:
    """Step after step, each beginning a new sheet; at the foot of each who filled it in."""
    from reportlab.platypus import NextPageTemplate, PageBreak

    from rakeprep.handover.form_cards import Card, Cautions, Title

    edges = Edges(forms.margins, FORM)

    def strip(canvas: Any, made: Any) -> None:
        draw_strip(canvas, forms)

    def story() -> Iterator[Any]:
        for number, step in enumerate(forms.steps):
            if number:
                yield from (NextPageTemplate(step.key), PageBreak())
            yield Title(step)
            if step.cautions:
                yield Cautions(step.cautions)
            yield from (Card(question) for question in step.questions)

    templates = [template(s.key, FORM, edges.begin(s.key, s.title), strip) for s in forms.steps]
    return build(forms.margins, templates, list(story()))


def draw_strip(canvas: Any, forms: Forms) -> None:
    """Boxes for name, day and serial number at the foot of a form."""
    from rakeprep.handover.form_cells import box

    pen, words = Pen(canvas), forms.strip
    top, x, apart = FOOT + STRIP + 10, FORM.left, 6.0
    for label, share in ((words.name, 0.38), (words.when, 0.27), (words.serial, 0.35)):
        wide = (FORM.width - 2 * apart) * share
        with canvas.tags.block("P"):
            fitted = fit(label, wide, 10, 1, 7)
            pen.text(x, top - 10, fitted.lines[0], fitted.size)
            box(pen, x, top - 14, wide, STRIP - 16)
        x += wide + apart


def template(
    name: str, frame: Frame, begin: Callable[..., None], end: Callable[..., None] | None = None
) -> Any:
    """A sheet with one frame."""
    from reportlab.platypus import Frame as Room
    from reportlab.platypus import PageTemplate

    none = {"leftPadding": 0, "rightPadding": 0, "topPadding": 0, "bottomPadding": 0}
    room = Room(frame.left, frame.bottom, frame.width, frame.height, **none)
    more = {} if end is None else {"onPageEnd": end}
    return PageTemplate(name, [room], onPage=begin, **more)


def build(margins: Margins, templates: list[Any], story: list[Any]) -> tuple[bytes, Node]:
    """Lay the pieces out in one pass."""
    from reportlab.platypus import BaseDocTemplate

    from rakeprep.handover.sheets import Sheets

    out = io.BytesIO()
    book = BaseDocTemplate(
        out,
        pagesize=(WIDTH, HEIGHT),
        title=margins.title,
        author="",
        subject=margins.subject,
        creator="rakeprep",
        lang=margins.language,
        displayDocTitle=True,
        invariant=True,
        initialFontName=PLAIN,
        pageCompression=1,
    )
    book.addPageTemplates(templates)
    made: list[Sheets] = []

    def sheets(*given: Any, **more: Any) -> Sheets:
        made.append(Sheets(*given, **more))
        return made[-1]

    book.build(story, canvasmaker=sheets)
    return out.getvalue(), made[-1].tags.root
