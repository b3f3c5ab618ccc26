"""Whom to call, over the whole width of page one: a number must never be cut."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.handover import blocks
from rakeprep.handover.fitting import Fitted, width_of
from rakeprep.handover.front_look import Look
from rakeprep.handover.pen import INK, INNER, LEFT, QUIET, Pen

APART = 7.0
LINES = 3


@dataclass(frozen=True, slots=True)
class Call:
    """Label, who, and when to call: on one line where they fit."""

    label: Fitted
    value: Fitted
    rest: Fitted
    look: Look

    @property
    def indent(self) -> float:
        """Where the value begins."""
        return width_of(self.label.lines[0], self.label.size) + APART

    @property
    def beside(self) -> float:
        """Where the rest begins on the value's line, or 0 where it stands below."""
        start = self.indent + width_of(self.value.lines[0], self.value.size, bold=True) + APART
        room = INNER - start - width_of(self.rest.lines[0], self.rest.size)
        return start if len(self.value.lines) == len(self.rest.lines) == 1 and room >= 0 else 0.0

    @property
    def height(self) -> float:
        """Height of all of it."""
        return self.value.height + (0.0 if self.beside else self.rest.height) + self.look.pad

    def draw(self, pen: Pen) -> None:
        """From left to right, as far as it goes."""
        top = pen.y - self.look.pad
        base = top - self.value.size
        with pen.tags.block("P"):
            pen.lines(LEFT, base + self.label.size, self.label, QUIET)
            y = pen.lines(LEFT + self.indent, top, self.value, INK)
            x, top = (self.beside, base + self.rest.size) if self.beside else (self.indent, y)
            pen.lines(LEFT + x, top, self.rest, QUIET)
        pen.y -= self.height


def call_of(pair: blocks.Pair, look: Look) -> Call:
    """Whom to call in the measure of a look."""
    label = look.quiet(pair.label, INNER / 3)
    room = INNER - width_of(label.lines[0], label.size) - APART
    return Call(label, look.even(pair.value, room, LINES, bold=True), look.pieces(pair.more, room, 2), look)
