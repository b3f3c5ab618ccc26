"""What the customer did with his own hands, in two columns with room for his initials."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rakeprep.handover import blocks
from rakeprep.handover.fitting import MOST, Fitted, fit, width_of
from rakeprep.handover.front_cells import WRAPS, shared
from rakeprep.handover.front_look import LEAST, Look
from rakeprep.handover.pen import ACCENT, GUTTER, INNER, LEFT, LINE, Pen

NUMBER, INITIALS, APART = 16.0, 38.0, 5.0


@dataclass(frozen=True, slots=True)
class Topics:
    """The topics in the measure of a look."""

    block: blocks.Topics
    names: tuple[Fitted, ...]
    widths: Sequence[float]
    look: Look

    @property
    def half(self) -> int:
        """How many stand in the left column."""
        return (len(self.names) + 1) // 2

    @property
    def heights(self) -> list[float]:
        """Height of each row: that of its taller name."""
        look, half = self.look, self.half
        lines = [max(len(name.lines) for name in self.names[row::half]) for row in range(half)]
        return [look.side * look.spread * n + look.pad + 2.5 for n in lines]

    @property
    def height(self) -> float:
        """Height of all of it."""
        return sum(self.heights)

    def draw(self, pen: Pen) -> None:
        """Column after column."""
        lefts = (LEFT, LEFT + self.widths[0] + GUTTER)
        heights, top = self.heights, pen.y
        with pen.tags.within("L"):
            for index, (topic, name) in enumerate(zip(self.block.topics, self.names, strict=True)):
                row = index % self.half
                pen.y = top - sum(heights[:row])
                with pen.tags.within("LI"):
                    column = index // self.half
                    self.draw_topic(pen, topic, name, lefts[column], self.widths[column], heights[row])
        pen.y = top - self.height

    def draw_topic(
        self, pen: Pen, topic: blocks.Topic, name: Fitted, x: float, width: float, row: float
    ) -> None:
        """One topic and the box for the initials."""
        middle, size = pen.y - row / 2, self.look.side
        first = middle + (len(name.lines) - 1) * name.leading / 2 - size * 0.36
        with pen.tags.block("Lbl"):
            pen.text(x, first, str(topic.number), size, ACCENT, bold=True)
        high = size * self.look.spread + self.look.pad + 0.5
        pen.panel(x + width - INITIALS, middle + high / 2, INITIALS, high, "#ffffff", LINE)
        with pen.tags.block("LBody"):
            pen.lines(x + NUMBER, first + size, name)
            if topic.initials:
                said = fit(topic.initials, INITIALS - 6, size, 1, LEAST, bold=True)
                wide = width_of(said.lines[0], said.size, bold=True)
                left = x + width - (INITIALS + wide) / 2
                pen.text(left, middle - said.size * 0.36, said.lines[0], said.size, ACCENT, bold=True)


def topics_of(block: blocks.Topics, look: Look) -> Topics:
    """The topics with their names on one line or two."""
    half, beside = (len(block.topics) + 1) // 2, NUMBER + INITIALS + APART
    parts = block.topics[:half], block.topics[half:]
    asked = [max((width_of(topic.name[:MOST], look.side) for topic in part), default=0.0) for part in parts]
    most = [each + beside + 0.5 for each in asked]
    widths = shared([each * WRAPS for each in most], most, INNER - GUTTER)
    names = [
        look.even(topic.name, width - beside, 2)
        for part, width in zip(parts, widths, strict=True)
        for topic in part
    ]
    return Topics(block, tuple(names), widths, look)
