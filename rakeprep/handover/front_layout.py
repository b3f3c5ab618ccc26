"""Page one drawn: all is measured first, then set closer or smaller until it fills one page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Protocol

from rakeprep.handover import blocks, symbols
from rakeprep.handover.fitting import Fitted, fit, width_of
from rakeprep.handover.front_call import Call, call_of
from rakeprep.handover.front_cells import Cells, cells_of
from rakeprep.handover.front_look import LEAST, LOOKS, Look, below_heading
from rakeprep.handover.front_points import ROWS, Points, longer, points_of, within
from rakeprep.handover.front_signatures import Signatures, signatures_of
from rakeprep.handover.front_topics import Topics, topics_of
from rakeprep.handover.pen import BOTTOM, GUTTER, INK, INNER, LEFT, QUIET, RIGHT, Pen

GAPS = 6
GROWS_TO = 24.0  # largest gap where there is room left
STROKES_TO = 56.0
HEADING = 12.0
TITLE, TAG_HIGH, TAG_INK = 20.0, 19.0, "#7a2d00"
ICON = 46.0
INSIDE = 5.5  # above and below the words of the notice


class Part(Protocol):
    """A measured part of the page."""

    @property
    def height(self) -> float:
        """Height in points."""

    def draw(self, pen: Pen) -> None:
        """Draw it from the pen downward."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading, a quiet remark behind it and one at the right; ``kept`` is left free there."""

    text: str
    look: Look
    remark: str = ""
    right: str = ""
    kept: float = 0.0

    @property
    def height(self) -> float:
        """The same for all."""
        return HEADING + below_heading(self.look)

    def draw(self, pen: Pen) -> None:
        """On one line."""
        base, small = pen.y - HEADING, self.look.small
        right = self.kept or width_of(self.right, small) + 0.5
        fitted = fit(self.text, INNER - right - GUTTER, HEADING, 1, LEAST, bold=True)
        with pen.tags.content(pen.tags.heading(2)):
            pen.text(LEFT, base, fitted.lines[0], fitted.size, bold=True)
        used = width_of(fitted.lines[0], fitted.size, bold=True) + GUTTER
        if self.remark:
            said = fit(self.remark, INNER - used - right - GUTTER, small, 1)
            with pen.tags.block("P"):
                pen.text(LEFT + used, base, said.lines[0], small, QUIET)
        if self.right:
            said = fit(self.right, right, small, 1)
            with pen.tags.block("P"):
                pen.ends(RIGHT, base, said.lines[0], small, QUIET)
        pen.y -= self.height


@dataclass(frozen=True, slots=True)
class Head:
    """Title, mark, how left and right are meant, job and chapter."""

    page: blocks.FrontPage
    look: Look

    @property
    def height(self) -> float:
        """Down to the rule below it."""
        return TITLE + 4 + self.look.small * 1.25 + 6

    def draw(self, pen: Pen) -> None:
        """Two lines and a rule."""
        page, small = self.page, self.look.small
        tag = fit(page.tag, 160, LEAST, 1, bold=True)
        tagged = width_of(tag.lines[0], tag.size, bold=True) + 16 if page.tag else 0.0
        title = fit(page.title, INNER - tagged - GUTTER, TITLE, 1, 12, bold=True)
        with pen.tags.content(pen.tags.heading(1)):
            pen.text(LEFT, pen.y - TITLE + 2, title.lines[0], title.size, INK, bold=True)
        if page.tag:
            pen.panel(RIGHT - tagged, pen.y - 1, tagged, TAG_HIGH, "#fdf0e4", TAG_INK, 1)
            with pen.tags.block("P"):
                pen.text(RIGHT - tagged + 8, pen.y - 14, tag.lines[0], tag.size, TAG_INK, bold=True)
        base = pen.y - TITLE - 4 - small
        line = fit(page.line, INNER * 0.6, small, 1)
        with pen.tags.block("P"):
            pen.text(LEFT, base, line.lines[0], small, QUIET)
        room = INNER - width_of(line.lines[0], small) - GUTTER
        aside = fit(page.aside, room, small, 1)
        with pen.tags.block("P"):
            pen.ends(RIGHT, base, aside.lines[0], small, QUIET)
        pen.y -= self.height
        pen.rule(pen.y + 2, 1.2, INK)


@dataclass(frozen=True, slots=True)
class Notice:
    """What it may be used for, framed, with its symbol."""

    block: blocks.Notice
    strong: Fitted
    small: Fitted

    @property
    def height(self) -> float:
        """Height of the frame."""
        return self.strong.height + self.small.height + 2 * INSIDE

    def draw(self, pen: Pen) -> None:
        """Symbol left, words right."""
        verdict, high = self.block.verdict, self.height
        ink = symbols.INK[verdict]
        pen.panel(LEFT, pen.y, INNER, high, symbols.GROUND[verdict], ink, 1.1)
        with pen.tags.artifact():
            symbols.draw(pen.canvas, verdict, LEFT + ICON / 2, pen.y - high / 2, 25)
        with pen.tags.block("P"):
            y = pen.lines(LEFT + ICON, pen.y - INSIDE + 1, self.strong, ink)
        with pen.tags.block("P"):
            pen.lines(LEFT + ICON, y, self.small, INK)
        pen.y -= high


def notice_of(block: blocks.Notice, look: Look) -> Notice:
    """The notice in the measure of a look."""
    width = INNER - ICON - 10
    strong = look.text(block.strong, width, 4, bold=True)
    if not strong.whole:
        strong = fit(block.strong, width, LEAST, 6, bold=True, spread=look.spread)
    return Notice(block, strong, look.quiet(block.small, width, 2))


@dataclass(frozen=True, slots=True)
class Stack:
    """Parts one right below the other."""

    parts: tuple[Part, ...]

    @property
    def height(self) -> float:
        """Height of all."""
        return sum(part.height for part in self.parts)

    def draw(self, pen: Pen) -> None:
        """One after the other."""
        for part in self.parts:
            part.draw(pen)


@dataclass(frozen=True, slots=True)
class Sheet:
    """All parts of page one in one measure."""

    page: blocks.FrontPage
    look: Look
    head: Head
    who: Cells
    notice: Notice
    points: Points
    topics: Topics
    settings: Cells
    visits: Cells
    call: Call
    signatures: Signatures

    def sections(self) -> Iterator[tuple[Heading | None, Part]]:
        """The parts with their headings, from top to bottom."""
        page, look, points = self.page, self.look, self.points
        yield None, self.who
        yield None, self.notice
        yield points_heading(points), points
        yield Heading(page.topics.heading, look, right=page.topics.aside), self.topics
        yield Heading(page.settings.heading, look, right=page.settings.aside), self.settings
        yield Heading(page.visits.heading, look, right=page.visits.aside), Stack((self.visits, self.call))
        yield Heading(page.signatures.heading, look), self.signatures

    @property
    def height(self) -> float:
        """Height of the whole page with the gaps of its look."""
        parts = sum(part.height + (top.height if top else 0.0) for top, part in self.sections())
        return self.head.height + parts + GAPS * self.look.gap


def points_heading(points: Points) -> Heading:
    """The heading of the open points; the heading of their last column stands on its line."""
    return Heading(points.block.heading, points.look, points.remark, kept=points.when)


def sheet_of(page: blocks.FrontPage, look: Look) -> Sheet:
    """The page in one measure."""
    return Sheet(
        page,
        look,
        Head(page, look),
        cells_of(page.who.pairs, page.who.columns, look),
        notice_of(page.notice, look),
        points_of(page.points, look),
        topics_of(page.topics, look),
        cells_of(page.settings.pairs, 3, look, ground=True),
        cells_of(page.visits.pairs, max(len(page.visits.pairs), 1), look),
        call_of(page.visits.call, look),
        signatures_of(page.signatures.boxes, look, look.strokes),
    )


def draw_front(canvas: Any, page: blocks.FrontPage) -> dict[str, tuple[float, float, float, float]]:
    """Draw page one; gives where the signature fields lie: left, bottom, right, top in points."""
    pen = Pen(canvas)
    room = pen.y - BOTTOM
    for look in LOOKS if len(page.points.points) <= ROWS else LOOKS[-3:]:
        sheet = sheet_of(page, look)
        if sheet.height <= room:
            break
    spare = room - sheet.height
    if spare < 0:
        points = within(sheet.points, sheet.points.height + spare)
        sheet = replace(sheet, points=points)
        spare = max(room - sheet.height, 0.0)
    elif look.point == 1:
        sheet = replace(sheet, points=longer(sheet.points, spare))
        spare = room - sheet.height
    gap = min(look.gap + spare / GAPS, GROWS_TO)
    spare -= (gap - look.gap) * GAPS
    strokes = min(look.strokes + max(spare, 0.0) / 2, STROKES_TO)
    sheet = replace(sheet, signatures=signatures_of(page.signatures.boxes, look, strokes))
    draw_sheet(pen, sheet, gap)
    return pen.boxes


def draw_sheet(pen: Pen, sheet: Sheet, gap: float) -> None:
    """Part after part; the signatures stand at the foot, whatever stands above them."""
    sheet.head.draw(pen)
    for number, (top, part) in enumerate(sheet.sections()):
        if part is sheet.signatures:
            pen.y = BOTTOM + part.height + (top.height if top else 0.0)
        elif number:
            pen.y -= gap
        if top:
            top.draw(pen)
        part.draw(pen)
