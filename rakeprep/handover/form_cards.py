"""Pieces of a form as the layout library wants them. Importing this loads the library: import it late."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from reportlab.platypus import Flowable

from rakeprep.drawing import signs
from rakeprep.drawing.strokes import Tone
from rakeprep.handover.fitting import fit, width_of
from rakeprep.handover.form_blocks import Question, StepForm, Warned
from rakeprep.handover.form_cells import (
    BETWEEN,
    SMALL,
    SMALLEST,
    WORDS,
    Planned,
    alone,
    box,
    in_rows,
    row_height,
)
from rakeprep.handover.pen import INK, QUIET, Pen
from rakeprep.handover.tags import Tags

TITLE = 21.0
ADDRESS = 8.0
SIDE_BY_SIDE = 0.6  # share of the width for the words of a question with one place
GAP = 7.0
SECOND = 34.0
SIGN = 50.0  # width of a caution sign
MOST_LINES = 9


class Title(Flowable):  # type: ignore[misc]
    """The step's name on its first sheet, and its bookmark."""

    def __init__(self, form: StepForm) -> None:
        super().__init__()
        self.form = form

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """One line, or two."""
        self.words = fit(self.form.title, width, TITLE, 2, 15, bold=True)
        self.width, self.height = width, self.words.height + 6
        return self.width, self.height

    def draw(self) -> None:
        """A heading of the first level."""
        tags: Tags = self.canv.tags
        key = f"step-{self.form.key}"
        self.canv.bookmarkHorizontal(key, 0, self.height + 6)
        self.canv.addOutlineEntry(self.form.title, key, 0, closed=0)
        with tags.content(tags.heading(1)):
            Pen(self.canv).lines(0, self.height, self.words)


class Cautions(Flowable):  # type: ignore[misc]
    """The cautions of a step in a strong frame, each beside its sign, the safe state first."""

    def __init__(self, cautions: tuple[Warned, ...]) -> None:
        super().__init__()
        self.cautions = cautions

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """As high as its words."""
        room = width - SIGN - 30
        self.parts = [
            (
                fit(caution.safe, room, WORDS, MOST_LINES, 12, bold=True),
                fit(caution.hazard, room, 12, MOST_LINES, SMALL),
            )
            for caution in self.cautions
        ]
        self.heights = [max(safe.height + hazard.height, SIGN * 0.88) + 7 for safe, hazard in self.parts]
        self.width, self.height = width, sum(self.heights) + 10 + GAP
        return self.width, self.height

    def draw(self) -> None:
        """The frame, the signs, the sentences."""
        pen, tags = Pen(self.canv), self.canv.tags
        with tags.artifact():
            self.canv.setStrokeColorRGB(0, 0, 0)
            self.canv.setLineWidth(2.2)
            self.canv.rect(1, GAP, self.width - 2, self.height - GAP, stroke=1, fill=0)
        top = self.height - 8
        for caution, (safe, hazard), high in zip(self.cautions, self.parts, self.heights, strict=True):
            with tags.artifact():
                draw_sign(self.canv, caution.sign, 9, top - SIGN * 0.88, SIGN)
            with tags.block("P"):
                pen.lines(SIGN + 18, pen.lines(SIGN + 18, top, safe), hazard)
            top -= high


def draw_sign(canvas: Any, key: str, x: float, y: float, width: float) -> None:
    """A caution sign in black and white, as a wet sheet shows it best."""
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(width / signs.SHEET.width, width / signs.SHEET.width)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    for stroke in (signs.frame(key), *signs.sign(key)):
        path: Any = canvas.beginPath()
        path.moveTo(*stroke.points[0])
        for point in stroke.points[1:]:
            path.lineTo(*point)
        if stroke.closed:
            path.close()
        ink = 0 if stroke.tone is not Tone.GROUND else 1
        ground = 1 if stroke.fill is Tone.GROUND else 0
        canvas.setStrokeColorRGB(ink, ink, ink)
        canvas.setFillColorRGB(ground, ground, ground)
        canvas.setLineWidth(stroke.width)
        canvas.drawPath(path, stroke=1 if stroke.width else 0, fill=0 if stroke.fill is None else 1)
    canvas.restoreState()


class Card(Flowable):  # type: ignore[misc]
    """One question with its places; what does not fit any more runs over under its repeated name."""

    def __init__(self, question: Question, rest: bool = False, columns: int = 0) -> None:
        super().__init__()
        self.question, self.rest, self.columns = question, rest, columns

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Header, then rows of places, then the second name."""
        asked = self.question
        single = (
            alone(asked.blanks[0], width * (1 - SIDE_BY_SIDE) - 12)
            if len(asked.blanks) == 1 and not self.columns
            else None
        )
        room = width if single is None else width * SIDE_BY_SIDE
        address = 0.0 if self.rest else width_of(asked.address, ADDRESS) + 8
        self.single = single
        self.label = (
            fit(asked.again, room, 12, 2, 10, bold=True)
            if self.rest
            else fit(asked.text, room - (address if single is None else 0), WORDS, 4, 12, bold=True)
        )
        self.words = []
        if not self.rest:
            self.words = [
                fit(text, room, size, MOST_LINES, SMALLEST, bold)
                for text, size, bold in ((asked.note, 12.0, True), (asked.help, SMALL, False))
                if text
            ]
        self.rows: list[list[Planned]] = (
            [] if single is not None else in_rows(asked.blanks, width, self.columns)
        )
        self.header = self.label.height + sum(words.height + 2 for words in self.words) + 5
        if single is not None:
            self.header = max(self.header, single.height + ADDRESS + 6)
        self.second = SECOND if asked.second else 0.0
        self.width = width
        self.height = GAP + self.header + sum(map(row_height, self.rows)) + self.second + 4
        return self.width, self.height

    def split(self, width: float, height: float) -> list[Any]:
        """As many rows as there is room for, and a card for the others."""
        self.wrap(width, height)
        used, kept = GAP + self.header + 4, 0
        for row in self.rows:
            used += row_height(row)
            if used > height:
                break
            kept += 1
        if not kept or kept == len(self.rows):
            return []
        many = sum(len(row) for row in self.rows[:kept])
        blanks = self.question.blanks
        columns = len(self.rows[0])
        first = replace(self.question, blanks=blanks[:many], second="")
        others = replace(self.question, blanks=blanks[many:])
        return [Card(first, self.rest, columns), Card(others, rest=True, columns=columns)]

    def draw(self) -> None:
        """A rule above, then everything in reading order."""
        pen, tags = Pen(self.canv), self.canv.tags
        with tags.artifact():
            self.canv.setStrokeColorRGB(0, 0, 0)
            self.canv.setLineWidth(0.8)
            self.canv.line(0, self.height, self.width, self.height)
        top = self.height - GAP
        y = self.draw_header(pen, tags, top)
        if self.single is not None:
            left = self.width - self.single.width
            with tags.block("P"):
                pen.ends(self.width, top - ADDRESS, self.question.address, ADDRESS, QUIET)
                self.single.draw(pen, left, top - ADDRESS - 6)
            y = top - self.header
        for row in self.rows:
            x = 0.0
            for plan in row:
                with tags.block("P"):
                    plan.draw(pen, x, y - 2)
                x += plan.width + BETWEEN
            y -= row_height(row)
        if self.question.second:
            with tags.block("P"):
                words = fit(self.question.second, self.width * 0.45, WORDS, 1, 10)
                pen.lines(0, y - 8, words)
                box(pen, self.width * 0.48, y - 1, self.width * 0.52, SECOND - 6)

    def draw_header(self, pen: Pen, tags: Tags, top: float) -> float:
        """The question; on a further sheet its repeated name, which is not read twice."""
        if self.rest:
            with tags.artifact():
                return pen.lines(0, top, self.label) - 5
        with tags.content(tags.heading(2)):
            y = pen.lines(0, top, self.label)
        if self.single is None:
            with tags.block("P"):
                pen.ends(self.width, top - ADDRESS - 2, self.question.address, ADDRESS, QUIET)
        for words in self.words:
            with tags.block("P"):
                y = pen.lines(0, y - 2, words, INK)
        return y - 5
