"""A pen on page one: text, rules and panels in the paper's colours, in points from the lower left corner."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from rakeprep.handover.fitting import Fitted, width_of
from rakeprep.handover.fonts import BOLD, PLAIN, colour_of
from rakeprep.handover.tags import Tags

WIDTH, HEIGHT = 595.276, 841.89  # A4 in points
LEFT = 42.0
RIGHT = WIDTH - LEFT
INNER = RIGHT - LEFT
TOP = HEIGHT - 27
BOTTOM = 38.0  # above the foot
INK, QUIET, LINE, PANEL, ACCENT = "#12161c", "#4a525c", "#aab1ba", "#eef2f5", "#0a4a75"


GUTTER = 14.0  # between two columns


def columns(count: int) -> tuple[float, list[float]]:
    """Width and left ends of columns."""
    width = (INNER - GUTTER * (count - 1)) / count
    return width, [LEFT + i * (width + GUTTER) for i in range(count)]


@dataclass(slots=True)
class Pen:
    """A canvas, and how far down the page it is."""

    canvas: Any
    y: float = TOP
    boxes: dict[str, tuple[float, float, float, float]] = field(default_factory=dict)

    @property
    def tags(self) -> Tags:
        """What is drawn, for readers who do not see it."""
        tags: Tags = self.canvas.tags
        return tags

    def ink(self, colour: str) -> None:
        """Colour of text and fillings."""
        self.canvas.setFillColor(colour_of(colour))

    def text(self, x: float, y: float, text: str, size: float, colour: str = INK, bold: bool = False) -> None:
        """One line of text from its left end."""
        self.ink(colour)
        self.canvas.setFont(BOLD if bold else PLAIN, size)
        self.canvas.drawString(x, y, f"{text} ")  # a space parts it from what is read next

    def ends(self, x: float, y: float, text: str, size: float, colour: str = INK, bold: bool = False) -> None:
        """One line of text up to its right end."""
        self.text(x - width_of(text, size, bold), y, text, size, colour, bold)

    def lines(self, x: float, top: float, fitted: Fitted, colour: str = INK) -> float:
        """Several lines from ``top`` downward; gives where they end."""
        y = top
        for line in fitted.lines:
            self.text(x, y - fitted.size, line, fitted.size, colour, fitted.bold)
            y -= fitted.leading
        return y

    def rule(
        self, y: float, weight: float = 0.5, colour: str = LINE, left: float = LEFT, right: float = RIGHT
    ) -> None:
        """A line across."""
        self.canvas.setStrokeColor(colour_of(colour))
        self.canvas.setLineWidth(weight)
        with self.tags.artifact():
            self.canvas.line(left, y, right, y)

    def panel(
        self,
        left: float,
        top: float,
        width: float,
        height: float,
        fill: str,
        line: str = "",
        weight: float = 0.7,
    ) -> None:
        """A box with round corners."""
        self.canvas.setFillColor(colour_of(fill))
        if line:
            self.canvas.setStrokeColor(colour_of(line))
            self.canvas.setLineWidth(weight)
        with self.tags.artifact():
            self.canvas.roundRect(left, top - height, width, height, 3.5, stroke=1 if line else 0, fill=1)
