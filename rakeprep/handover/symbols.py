"""The symbol of every verdict, drawn on paper: ring, square, diamond, octagon, never colour alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rakeprep.handover.fonts import colour_of
from rakeprep.model.verdict import Verdict

INK = {
    Verdict.IN_ORDER: "#06512f",
    Verdict.ABSENT: "#3f4650",
    Verdict.NOT_YET: "#3f4650",
    Verdict.OUT_OF_DATE: "#4b2f7a",
    Verdict.MEASURE_AGAIN: "#523f00",
    Verdict.PUT_RIGHT: "#7a2d00",
    Verdict.STOP: "#85001a",
}
GROUND = {
    Verdict.IN_ORDER: "#e6f3ec",
    Verdict.ABSENT: "#f3f4f6",
    Verdict.NOT_YET: "#f3f4f6",
    Verdict.OUT_OF_DATE: "#f0eaf8",
    Verdict.MEASURE_AGAIN: "#fbf4d6",
    Verdict.PUT_RIGHT: "#fdf0e4",
    Verdict.STOP: "#fde6e9",
}
OCTAGON = ((-0.41, -1.0), (0.41, -1.0), (1.0, -0.41), (1.0, 0.41), (0.41, 1.0), (-0.41, 1.0), (-1.0, 0.41))


def draw(canvas: Any, verdict: Verdict, x: float, y: float, size: float) -> None:
    """Draw the symbol centred at (x, y), ``size`` points across."""
    canvas.saveState()
    canvas.transform(size / 2.3, 0, 0, size / 2.3, x, y)
    canvas.once(verdict, lambda: draw_large(canvas, verdict))
    canvas.restoreState()


def draw_large(canvas: Any, verdict: Verdict) -> None:
    """The symbol around the origin, a little more than two units across."""
    ink = colour_of(INK[verdict])
    canvas.setStrokeColor(ink)
    canvas.setFillColor(colour_of("#ffffff"))
    canvas.setLineWidth(0.2)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    DRAWN[verdict](canvas, ink)


def line(canvas: Any, points: tuple[tuple[float, float], ...], close: bool = False, fill: int = 0) -> None:
    """A line through points."""
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if close:
        path.close()
    canvas.drawPath(path, stroke=1, fill=fill)


def tick(canvas: Any, ink: Any) -> None:
    """A ring with a tick."""
    canvas.circle(0, 0, 1, stroke=1, fill=1)
    line(canvas, ((-0.45, -0.02), (-0.12, -0.38), (0.48, 0.35)))


def question(canvas: Any, ink: Any) -> None:
    """A square with a question mark."""
    canvas.roundRect(-0.95, -0.95, 1.9, 1.9, 0.2, stroke=1, fill=1)
    path = canvas.beginPath()
    path.moveTo(-0.32, 0.3)
    path.curveTo(-0.3, 0.75, 0.38, 0.72, 0.36, 0.25)
    path.curveTo(0.34, -0.02, 0, 0, 0, -0.25)
    canvas.drawPath(path, stroke=1, fill=0)
    line(canvas, ((0, -0.58), (0, -0.57)))


def diamond(canvas: Any, ink: Any) -> None:
    """A diamond with an arrow."""
    line(canvas, ((0, 1.1), (1.1, 0), (0, -1.1), (-1.1, 0)), close=True, fill=1)
    line(canvas, ((-0.45, 0), (0.45, 0)))
    line(canvas, ((0.12, 0.34), (0.46, 0), (0.12, -0.34)))


def bar(canvas: Any, ink: Any) -> None:
    """A filled octagon with a bar."""
    canvas.setFillColor(ink)
    line(canvas, (*OCTAGON, (-1.0, -0.41)), close=True, fill=1)
    canvas.setStrokeColor(colour_of("#ffffff"))
    canvas.setLineWidth(0.32)
    line(canvas, ((-0.5, 0), (0.5, 0)))


def turned(canvas: Any, ink: Any) -> None:
    """An open ring with an arrow."""
    canvas.arc(-0.85, -0.85, 0.85, 0.85, 60, 280)
    line(canvas, ((0.32, 1.12), (0.42, 0.72), (0.02, 0.55)))


def dotted(canvas: Any, ink: Any) -> None:
    """A dotted ring."""
    canvas.setDash([0.02, 0.45])
    canvas.circle(0, 0, 0.9, stroke=1, fill=1)


def dash(canvas: Any, ink: Any) -> None:
    """A ring with a dash."""
    canvas.circle(0, 0, 0.95, stroke=1, fill=1)
    line(canvas, ((-0.4, 0), (0.4, 0)))


DRAWN: dict[Verdict, Callable[[Any, Any], None]] = {
    Verdict.IN_ORDER: tick,
    Verdict.ABSENT: dash,
    Verdict.NOT_YET: dotted,
    Verdict.OUT_OF_DATE: turned,
    Verdict.MEASURE_AGAIN: question,
    Verdict.PUT_RIGHT: diamond,
    Verdict.STOP: bar,
}
