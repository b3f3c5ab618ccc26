"""The drawing of the machine as a flowing piece. Importing this loads the layout library: import it late."""

from __future__ import annotations

from typing import Any

from reportlab.lib.colors import HexColor
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
from rakeprep.handover.fitting import width_of
from rakeprep.handover.flowables import place
from rakeprep.handover.fonts import PLAIN

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
}
HIGHEST, LOWEST = 345.0, 290.0  # points
MARK = 13.0


class Drawn(Flowable):  # type: ignore[misc]
    """Shapes to scale in the middle of the page, symbols on top."""

    def __init__(self, block: blocks.Drawing, width: float) -> None:
        super().__init__()
        self.block = block
        self.fill(width, HIGHEST)
        self.least = min(self.height, LOWEST)

    def fill(self, width: float, height: float) -> None:
        """Take the largest scale that fits."""
        bounds = self.block.bounds
        self.scale = min(width / max(bounds.width, 1.0), height / max(bounds.height, 1.0))
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
            self.canv.setStrokeColor(HexColor(line))
            self.canv.setFillColor(HexColor(filling))
            self.canv.setLineWidth(weight)
            self.canv.setLineCap(1)
            self.canv.setLineJoin(1)
            if shape.role is Role.HIDDEN:
                self.canv.setDash([3, 2])
            self.shape(shape, number)
            self.canv.restoreState()
        for x, y, verdict in self.block.symbols:
            symbols.draw(self.canv, verdict, *self.at((x, y)), MARK)

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
                self.canv.setFillColor(HexColor("#4a525c"))
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
