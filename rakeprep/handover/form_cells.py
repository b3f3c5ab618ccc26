"""Empty places on a form: how wide and high each one is, and how it is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from rakeprep.handover.fitting import MOST, Fitted, fit, width_of
from rakeprep.handover.form_blocks import Blank, Way
from rakeprep.handover.pen import INK, Pen

CODE = 26.0  # size of a place's code
WORDS = 14.0  # size of everything that has to be read in the rain
SMALL, SMALLEST = 11.0, 9.0
TICK = 14.0  # side of a square to tick
BOX = 33.0  # height of a box to write in
NUMBER = 78.0  # width of a box for a number, at least
GAP = 18.0  # between two answers to tick
LEAST_NAME = 10.0
FEW = 3  # more answers than this stand in columns
BETWEEN = 14.0  # two places side by side
ANSWERS = 0.6  # share of the width for answers beside a name
MOST_ANSWERS = 0.73  # where that parts many answers into two columns
PAD = 6.0
STROKE = 1.1


@dataclass(frozen=True)
class Planned:
    """One empty place in a given width. With ``bare`` the question's own words stand for its name."""

    blank: Blank
    width: float

    @cached_property
    def code_width(self) -> float:
        """Room for the code, which is as large as the place allows."""
        return 0.0 if not self.blank.code else max(width_of(self.blank.code, CODE, bold=True) + 10, 62.0)

    @cached_property
    def beside(self) -> float:
        """Room for what is filled in, beside code or name."""
        if self.blank.code:
            return self.width - self.code_width
        return min(self.needed, self.share) if self.blank.name else self.width

    @cached_property
    def share(self) -> float:
        """Room beside a name at most: more where many answers then stand in two columns."""
        usual = self.width * ANSWERS
        if self.blank.way is not Way.TICKS or len(self.blank.choices) <= FEW:
            return usual
        two = 2 * self.tick_widths[0] - GAP
        return max(usual, two) if two <= self.width * MOST_ANSWERS else usual

    @cached_property
    def needed(self) -> float:
        """Width that is enough for what is filled in."""
        match self.blank.way:
            case Way.NUMBER:
                return NUMBER + min(max(self.width - 300.0, 0.0), 80.0) + self.units
            case Way.TICKS:
                return sum(self.tick_widths) - GAP
        return self.width * ANSWERS

    @cached_property
    def tick_widths(self) -> tuple[float, ...]:
        """Width of every answer to tick; many answers stand in columns of one width."""
        wide = [TICK + 6 + width_of(choice, WORDS) + GAP for choice in self.blank.choices]
        return tuple(wide) if len(wide) <= FEW else (max(wide),) * len(wide)

    @cached_property
    def name(self) -> Fitted | None:
        """The words of the place: large beside the box, or small below a code."""
        if not self.blank.name:
            return None
        if self.blank.code:
            return fit(self.blank.name, self.width, SMALL, 2, SMALLEST)
        return whole_words(self.blank.name, self.width - self.beside - 8)

    @cached_property
    def note(self) -> Fitted | None:
        """What holds at this place alone."""
        return fit(self.blank.note, self.width, SMALL, 3, SMALLEST) if self.blank.note else None

    @cached_property
    def units(self) -> float:
        """Width of the units behind a box."""
        if self.blank.way is not Way.NUMBER or not self.blank.choices:
            return 0.0
        widest = max(width_of(unit, WORDS) for unit in self.blank.choices)
        return widest + 8 + (TICK + 5 if len(self.blank.choices) > 1 else 0)

    @cached_property
    def ticks(self) -> tuple[tuple[tuple[Fitted, float], ...], ...]:
        """Answers to tick in lines: each with its left edge."""
        lines: list[list[tuple[Fitted, float]]] = [[]]
        x = 0.0
        choices = self.blank.choices if self.blank.way is Way.TICKS else ()
        for choice, wide in zip(choices, self.tick_widths, strict=False):
            if lines[-1] and x + wide - GAP > self.beside:
                lines.append([])
                x = 0.0
            words = fit(choice, self.beside - x - TICK - 6, WORDS, 3, 10)
            lines[-1].append((words, x))
            x += wide
        return tuple(tuple(line) for line in lines)

    @cached_property
    def answer_height(self) -> float:
        """Height of what is filled in."""
        if self.blank.way is Way.TICKS:
            return sum(self.line_height(line) for line in self.ticks)
        if self.blank.way is Way.NUMBER and len(self.blank.choices) > 1:
            return max(BOX, 2 * 17.0)
        return BOX

    def line_height(self, line: Sequence[tuple[Fitted, float]]) -> float:
        """Height of one line of answers."""
        return max((max(TICK, words.height) for words, _ in line), default=0.0) + 7

    @cached_property
    def height(self) -> float:
        """Height with everything."""
        below = self.name if self.blank.code else None
        beside = None if self.blank.code else self.name
        top = max(self.answer_height, CODE if self.blank.code else 0.0, beside.height if beside else 0.0)
        return top + sum(part.height + 2 for part in (below, self.note) if part is not None) + PAD

    @property
    def squeezed(self) -> bool:
        """Whether the name is too small or too long to be read at a glance, or has a broken word."""
        if self.name is None:
            return False
        broken = " ".join(self.name.lines).split() != self.blank.name.split()
        return self.name.size < WORDS - 1 or len(self.name.lines) > 3 or broken

    @property
    def comfortable(self) -> bool:
        """Whether nothing had to be squeezed."""
        if self.name is not None and (not self.name.whole or (not self.blank.code and self.squeezed)):
            return False
        if self.note is not None and not self.note.whole:
            return False
        if self.blank.way is Way.TICKS:
            return all(len(words.lines) == 1 for line in self.ticks for words, _ in line)
        return self.beside - self.units >= NUMBER * 0.8

    # -------------------------------------------------------------------------------- drawing

    def draw(self, pen: Pen, x: float, top: float) -> None:
        """Draw from its upper left corner."""
        y = top
        if self.blank.code:
            pen.text(x, top - CODE * 0.92, self.blank.code, CODE, INK, bold=True)
            inner = x + self.code_width
            y -= max(self.answer_height, CODE) + 2
        else:
            inner = x + self.width - self.beside
            if self.name is not None:
                pen.lines(x, top - 1, self.name)
            y -= max(self.answer_height, self.name.height if self.name else 0.0) + 2
        self.answer(pen, inner, top)
        for part in (self.name if self.blank.code else None, self.note):
            if part is not None:
                y = pen.lines(x, y, part) - 2

    def answer(self, pen: Pen, x: float, top: float) -> None:
        """The box, or the answers to tick."""
        match self.blank.way:
            case Way.TICKS:
                self.draw_ticks(pen, x, top)
            case Way.NUMBER:
                box(pen, x, top, self.beside - self.units, BOX)
                self.draw_units(pen, x + self.beside - self.units + 6, top)
            case Way.LINE:
                box(pen, x, top, self.beside, BOX)
            case Way.DATE:
                box(pen, x, top, min(self.beside, 190.0), BOX)
                if self.blank.choices:
                    words = fit(self.blank.choices[0], max(self.beside - 200.0, 60.0), SMALL, 2, SMALLEST)
                    pen.lines(x + 198, top - 8, words)

    def draw_ticks(self, pen: Pen, x: float, top: float) -> None:
        """Every answer with its square."""
        y = top
        for line in self.ticks:
            for words, left in line:
                box(pen, x + left, y - 1, TICK, TICK)
                pen.lines(x + left + TICK + 6, y + (WORDS - words.size) / 2 - 0.5, words)
            y -= self.line_height(line)

    def draw_units(self, pen: Pen, x: float, top: float) -> None:
        """One unit, or two of which one is ticked."""
        if len(self.blank.choices) == 1:
            pen.text(x, top - BOX / 2 - 5, self.blank.choices[0], WORDS)
        for number, unit in enumerate(self.blank.choices if len(self.blank.choices) > 1 else ()):
            y = top - number * 18.0
            box(pen, x, y - 1, TICK, TICK)
            pen.text(x + TICK + 5, y - 13.0, unit, WORDS)


def whole_words(text: str, width: float) -> Fitted:
    """A name as large as its longest word allows, where that can be read at all."""
    widest = max((width_of(word, 1.0, bold=True) for word in text[:MOST].split()), default=0.0)
    size = WORDS if widest * WORDS <= width else max(int(2 * width / widest) / 2, LEAST_NAME)
    return fit(text, width, size, 4, LEAST_NAME, bold=True)


def box(pen: Pen, x: float, top: float, width: float, height: float) -> None:
    """An empty box with a strong black edge."""
    from reportlab.lib.colors import black

    with pen.tags.artifact():
        pen.canvas.setStrokeColor(black)
        pen.canvas.setLineWidth(STROKE)
        pen.canvas.rect(x, top - height, width, height, stroke=1, fill=0)


def in_rows(blanks: Sequence[Blank], width: float, fixed: int = 0) -> list[list[Planned]]:
    """Places side by side in the columns that take the least height, as long as nothing gets squeezed.

    What runs over to another sheet keeps its columns, which are ``fixed`` then.
    """
    found: list[list[list[Planned]]] = []
    for columns in (1, 2, 3):
        each = (width - BETWEEN * (columns - 1)) / columns
        planned = [Planned(blank, each) for blank in blanks]
        if not fixed and columns > 1:
            if columns > len(blanks) or not all(plan.comfortable for plan in planned):
                continue
        elif fixed not in {0, columns}:
            continue
        found.append([planned[at : at + columns] for at in range(0, len(planned), columns)])
    return min(found, key=lambda rows: sum(map(row_height, rows)))


def row_height(row: Sequence[Planned]) -> float:
    """Height of places side by side."""
    return max(plan.height for plan in row) + 2


def alone(blank: Blank, width: float) -> Planned | None:
    """The only place of a question beside its words, where there is room; else nothing."""
    plan = Planned(blank, width)
    if blank.code or blank.name or blank.way is Way.LINE or blank.note:
        return None
    if blank.way is Way.TICKS and len(plan.ticks) > 1:
        return None
    return plan if blank.way is not Way.DATE else None
