"""Little signs inside tables; the words beside them say the same. Importing this loads the layout library."""

from __future__ import annotations

from reportlab.platypus import Flowable

from rakeprep.handover.fonts import colour_of
from rakeprep.handover.pen import ACCENT, LINE, QUIET


class Ruler(Flowable):  # type: ignore[misc]
    """Where a value lies between the least and the greatest."""

    def __init__(self, share: float) -> None:
        super().__init__()
        self.share = min(max(share, 0.0), 1.0)
        self.width, self.height = 70.0, 7.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """The same for every value, so that they can be compared."""
        self.width = min(70.0, width)
        return self.width, self.height

    def draw(self) -> None:
        """A line with ends, and a point on it."""
        canvas, left, right, y = self.canv, 3.0, self.width - 3.0, 2.5
        with canvas.tags.artifact():
            canvas.setStrokeColor(colour_of(LINE))
            canvas.setLineWidth(0.7)
            canvas.lines([(left, y, right, y), (left, y - 2, left, y + 2), (right, y - 2, right, y + 2)])
            canvas.setFillColor(colour_of(ACCENT))
            canvas.circle(left + (right - left) * self.share, y, 2.1, stroke=0, fill=1)


class Turned(Flowable):  # type: ignore[misc]
    """A tractor from above, turned against the drawbar."""

    def __init__(self, degrees: float) -> None:
        super().__init__()
        self.degrees = degrees
        self.width, self.height = 34.0, 30.0

    def draw(self) -> None:
        """Drawbar below, tractor above, the pivot between them."""
        canvas = self.canv
        with canvas.tags.artifact():
            canvas.saveState()
            canvas.setStrokeColor(colour_of(QUIET))
            canvas.setFillColor(colour_of("#e4e9ee"))
            canvas.setLineWidth(0.8)
            canvas.translate(17, 9)
            canvas.line(0, 0, 0, -8)
            canvas.rotate(-self.degrees)
            canvas.line(0, 0, 0, 4)
            canvas.roundRect(-4, 4, 8, 14, 1.5, stroke=1, fill=1)
            for x in (-7, 4.6):
                canvas.rect(x, 4, 2.4, 6.5, stroke=1, fill=1)
                canvas.rect(x * 0.92, 13.5, 2, 4, stroke=1, fill=1)
            canvas.circle(0, 0, 1.3, stroke=1, fill=1)
            canvas.restoreState()
