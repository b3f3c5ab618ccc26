"""A drawing as a flowing piece. Importing this loads the layout library: import it late."""

from __future__ import annotations

from typing import Any

from reportlab.platypus import Flowable

from rakeprep.drawing.shapes import (
    Arc,
    Circle,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Role,
    RoundedBox,
    Shape,
)
from rakeprep.handover import blocks, symbols
from rakeprep.handover.fitting import fit, width_of
from rakeprep.handover.flowables import place
from rakeprep.handover.fonts import PLAIN, colour_of
from rakeprep.handover.pen import INK, QUIET
from rakeprep.handover.strokes import POINTS_PER_MM

# Line, filling, line width in points.
LOOKS: dict[Role, tuple[str, str, float]] = {
    Role.DISC: ("#c9d3dc", "#f1f5f8", 0.5),
    Role.LIGHT: ("#b4bcc6", "#f7f8fa", 0.5),
    Role.OUTLINE: ("#5b6672", "#e4e9ee", 0.7),
    Role.TYRE: ("#4a525c", "#cfd5dc", 0.5),
    Role.STRONG: ("#2b333d", "#5b6672", 0.6),
    Role.ARM: ("#76818d", "#ffffff", 0.6),
    Role.HOSE: ("#0a4a75", "#ffffff", 0.7),
    Role.HIDDEN: ("#4a525c", "#ffffff", 0.7),
    Role.ARROW: ("#0a4a75", "#0a4a75", 1.0),
    Role.PLANE: ("#0a4a75", "#ffffff", 0.5),
    Role.WANTED: ("#06512f", "#e6f3ec", 0.4),
    Role.BARRED: ("#b4bcc6", "#e1e5ea", 0.5),
    Role.LIT: ("#12161c", "#12161c", 0.8),
    Role.UNLIT: ("#12161c", "#ffffff", 0.8),
    Role.EXPECTED: ("#0a4a75", "#ffffff", 1.2),
    Role.CUT_OFF: ("#7a2d00", "#ffffff", 0.8),
}
DASHED = frozenset({Role.HIDDEN, Role.CUT_OFF})
HIGHEST, LOWEST = 345.0, 290.0  # points
MARK, SMALL_MARK = 13.0, 8.6


class Drawn(Flowable):  # type: ignore[misc]
    """Shapes to scale in the middle of the page, symbols and words on top."""

    def __init__(self, block: blocks.Drawing, width: float) -> None:
        super().__init__()
        self.block = block
        self.fill(width, HIGHEST)
        self.least = self.height if block.to_size else min(self.height, LOWEST)
        self.spaceAfter = 6 if block.to_size else 0

    def fill(self, width: float, height: float) -> None:
        """Take the largest scale that fits, or that of the paper."""
        bounds = self.block.bounds
        self.scale = width / max(bounds.width, 1.0)
        if self.block.to_size:
            self.scale = min(self.scale, POINTS_PER_MM)
        else:
            self.scale = min(self.scale, height / max(bounds.height, 1.0))
        self.width, self.height = width, bounds.height * self.scale
        self.shift = (width - bounds.width * self.scale) / 2

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """The rest of the page, unless that is too little: then its usual size, on the next page."""
        self.fill(width, min(height - 6, HIGHEST) if height >= self.least + 6 else HIGHEST)
        return self.width, self.height

    def at(self, point: Point) -> Point:
        """A point of the machine on the page."""
        bounds = self.block.bounds
        return self.shift + (point[0] - bounds.left) * self.scale, (point[1] - bounds.bottom) * self.scale

    def draw(self) -> None:
        """One figure, described in words."""
        with self.canv.tags.block(
            "Figure", alt=self.block.alt, box=place(self.canv, self.width, self.height)
        ):
            self.figure()

    def figure(self) -> None:
        """All shapes from the lowest to the topmost, then the symbols."""
        for number, shape in enumerate(self.block.shapes):
            line, filling, weight = LOOKS[shape.role]
            self.canv.saveState()
            self.canv.setStrokeColor(colour_of(line))
            self.canv.setFillColor(colour_of(filling))
            self.canv.setLineWidth(weight)
            self.canv.setLineCap(1)
            self.canv.setLineJoin(1)
            if shape.role in DASHED:
                self.canv.setDash([3, 2])
            self.shape(shape, number)
            self.canv.restoreState()
        size = SMALL_MARK if self.block.to_size else MARK
        for x, y, verdict in self.block.symbols:
            symbols.draw(self.canv, verdict, *self.at((x, y)), size)
        for words in self.block.words:
            self.words(words)

    def words(self, words: blocks.Words) -> None:
        """Words around their place, smaller where they must be."""
        fitted = fit(words.text, words.room * self.scale, words.size, words.lines, 6, words.strong)
        x, y = self.at(words.at)
        wide = max(width_of(line, fitted.size, words.strong) for line in fitted.lines)
        if words.plate:
            self.canv.setFillColor(colour_of("#ffffff"))
            left = x - wide * (1 + words.align) / 2
            self.canv.rect(left - 1, y - fitted.height / 2, wide + 2, fitted.height, stroke=0, fill=1)
        self.canv.setFillColor(colour_of(QUIET if words.quiet else INK))
        self.canv.setFont(fitted.face, fitted.size)
        y += fitted.height / 2 - fitted.leading * 0.8
        for line in fitted.lines:
            own = width_of(line, fitted.size, words.strong)
            self.canv.drawString(x - own * (1 + words.align) / 2, y, f"{line} ")
            y -= fitted.leading

    def shape(self, shape: Shape, number: int) -> None:
        """One shape."""
        match shape:
            case Line():
                self.canv.line(*self.at(shape.start), *self.at(shape.end))
            case Polyline():
                self.path(shape.through, close=False)
            case Polygon():
                self.path(shape.corners, close=True)
            case Circle():
                self.canv.circle(*self.at(shape.centre), shape.radius * self.scale, stroke=1, fill=1)
            case RoundedBox():
                x, y = self.at((shape.centre[0] - shape.width / 2, shape.centre[1] - shape.height / 2))
                size = shape.width * self.scale, shape.height * self.scale
                self.canv.roundRect(
                    x, y, *size, min(shape.radius * self.scale, *(s / 2 for s in size)), fill=1
                )
            case Arc():
                points = shape.points()
                self.path(points, close=False)
                if shape.arrow:
                    self.head(points[-2], points[-1])
            case Label():
                self.canv.setFillColor(colour_of("#4a525c"))
                self.canv.setFont(PLAIN, 7.5)
                x, y = self.at(shape.centre)
                words = self.block.labels.get(number, "")
                self.canv.drawString(x - width_of(words, 7.5) / 2, y - 2.7, f"{words} ")

    def path(self, points: tuple[Point, ...], close: bool) -> None:
        """Straight lines through points."""
        path: Any = self.canv.beginPath()
        path.moveTo(*self.at(points[0]))
        for point in points[1:]:
            path.lineTo(*self.at(point))
        if close:
            path.close()
        self.canv.drawPath(path, stroke=1, fill=1 if close else 0)

    def head(self, before: Point, end: Point) -> None:
        """An arrow head at the end of an arc."""
        (ax, ay), (bx, by) = self.at(before), self.at(end)
        length = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1e-6)
        ux, uy = (bx - ax) / length, (by - ay) / length
        path: Any = self.canv.beginPath()
        path.moveTo(bx + ux * 4, by + uy * 4)
        path.lineTo(bx - ux * 3 - uy * 3, by - uy * 3 + ux * 3)
        path.lineTo(bx - ux * 3 + uy * 3, by - uy * 3 - ux * 3)
        path.close()
        self.canv.drawPath(path, stroke=0, fill=1)
