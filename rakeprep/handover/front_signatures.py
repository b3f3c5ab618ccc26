"""The signatures at the foot of page one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rakeprep.handover import blocks
from rakeprep.handover.fitting import Fitted, fit
from rakeprep.handover.front_look import LEAST, Look
from rakeprep.handover.pen import ACCENT, INK, LINE, QUIET, Pen, columns
from rakeprep.handover.strokes import draw_strokes
from rakeprep.handover.tags import FormField

INSET = 6.0
DECLARES = 4  # lines


@dataclass(frozen=True, slots=True)
class Box:
    """One signature with its texts."""

    block: blocks.SignatureBox
    role: Fitted
    declares: Fitted
    below: Fitted

    @property
    def height(self) -> float:
        """Height of its texts."""
        return self.role.height + self.declares.height + self.below.height


@dataclass(frozen=True, slots=True)
class Signatures:
    """All who sign, side by side; ``strokes`` is the room above the line."""

    boxes: tuple[Box, ...]
    look: Look
    strokes: float

    @property
    def height(self) -> float:
        """Height of all of it."""
        return max((box.height for box in self.boxes), default=0.0) + self.strokes + 2 * INSET

    def draw(self, pen: Pen) -> None:
        """The boxes in a row, their lines at one height."""
        width, lefts = columns(max(len(self.boxes), 1))
        below = max((box.below.height for box in self.boxes), default=0.0)
        for box, x in zip(self.boxes, lefts, strict=False):
            with pen.tags.within("Div"):
                draw_box(pen, box, x, width, self.height, below)
        pen.y -= self.height


def signatures_of(several: Sequence[blocks.SignatureBox], look: Look, strokes: float) -> Signatures:
    """The signatures in the measure of a look."""
    width = columns(max(len(several), 1))[0] - 2 * INSET
    below = [look.pieces((each.below, each.when), width, 1) for each in several]
    if not all(each.whole for each in below):  # then they are alike: the name, and the moment below it
        below = [joined(look.quiet(each.below, width), look.quiet(each.when, width)) for each in several]
    boxes = tuple(
        Box(each, look.quiet(each.role, width, bold=True), look.quiet(each.declares, width, DECLARES), foot)
        for each, foot in zip(several, below, strict=True)
    )
    return Signatures(boxes, look, strokes)


def joined(name: Fitted, moment: Fitted) -> Fitted:
    """Two lines."""
    return replace(name, lines=(*name.lines, *moment.lines), whole=name.whole and moment.whole)


def draw_box(pen: Pen, box: Box, x: float, width: float, height: float, below: float) -> None:
    """Who declares what, the strokes, name and moment."""
    block, inner = box.block, width - 2 * INSET
    pen.panel(x, pen.y, width, height, "#ffffff", INK, 0.8)
    with pen.tags.block("P"):
        y = pen.lines(x + INSET, pen.y - INSET + 1, box.role)
        y = pen.lines(x + INSET, y, box.declares, QUIET)
    foot = pen.y - height + INSET + below
    area = (x + INSET + 4, foot + 1, inner - 8, y - foot - 1)
    if block.strokes:
        where = (area[0], area[1], area[0] + area[2], area[1] + area[3])
        with pen.tags.block("Figure", alt=block.alt, box=where):
            draw_strokes(pen.canvas, block.strokes, area)
    elif block.typed:
        typed = fit(block.typed, area[2], max(min(14, area[3] * 0.8), LEAST), 1, LEAST)
        with pen.tags.block("P"):
            pen.text(area[0], area[1] + 3, typed.lines[0], typed.size, ACCENT)
    pen.rule(foot, 0.5, LINE, x + INSET, x + width - INSET)
    with pen.tags.block("P"):
        pen.lines(x + INSET, foot - 1.5, box.below, QUIET)
    if block.field:
        pen.boxes[block.field] = (x, pen.y - height, x + width, pen.y)
        pen.tags.node("Form").kids.append(FormField(block.field))
