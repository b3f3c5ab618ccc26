"""A drawn signature, fitted into its box; a pen that was pressed harder leaves a wider line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from rakeprep.handover.fonts import colour_of
from rakeprep.model.job import Stroke

POINTS_PER_MM = 72 / 25.4
MOST_POINTS = 20_000
Box = tuple[float, float, float, float]  # left, bottom, width, height in points


def draw_strokes(canvas: Any, strokes: Sequence[Stroke], box: Box) -> None:
    """Draw strokes (mm, y upward) at their own size, or smaller if the box asks for it; never larger."""
    lines = readable(strokes)
    if not lines:
        return
    left, bottom, width, height = box
    xs = [x for line in lines for x, _, _ in line]
    ys = [y for line in lines for _, y, _ in line]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min(
        POINTS_PER_MM, width / wide if wide else POINTS_PER_MM, height / high if high else POINTS_PER_MM
    )
    x0 = left + (width - wide * scale) / 2 - min(xs) * scale
    y0 = bottom + (height - high * scale) / 2 - min(ys) * scale
    canvas.saveState()
    canvas.setStrokeColor(colour_of("#0a3a66"))
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    for line in lines:
        pressure = sum(p for _, _, p in line) / len(line)
        canvas.setLineWidth(0.8 + 0.9 * min(max(pressure, 0.0), 1.0))
        path = canvas.beginPath()
        path.moveTo(x0 + line[0][0] * scale, y0 + line[0][1] * scale)
        for x, y, _ in line[1:] or line[:1]:
            path.lineTo(x0 + x * scale, y0 + y * scale)
        canvas.drawPath(path, stroke=1, fill=0)
    canvas.restoreState()


def readable(strokes: Sequence[Stroke]) -> list[list[tuple[float, float, float]]]:
    """Strokes with at least one finite point, and no more points than a hand can draw."""
    lines: list[list[tuple[float, float, float]]] = []
    left = MOST_POINTS
    for stroke in strokes:
        points = [
            (x, y, p)
            for x, y, _, p in stroke.points[:left]
            if math.isfinite(x) and math.isfinite(y) and abs(x) < 1e6 and abs(y) < 1e6
        ]
        left -= len(points)
        if points:
            lines.append(points)
    return lines
