"""Paint small drawings of strokes in the colours of a theme."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from rakeprep.drawing.shapes import Box
from rakeprep.drawing.strokes import Mark, Sign, Stroke, Tone
from rakeprep.ui.plan_picture import fit, mixed
from rakeprep.ui.theme import Theme


def tones(theme: Theme) -> dict[Tone, QColor]:
    """The colour of every tone."""
    return {
        Tone.INK: QColor(theme.ink),
        Tone.QUIET: mixed(theme.quiet, theme.line, 0.4),
        Tone.BODY: mixed(theme.ground, theme.line, 0.22),
        Tone.DARK: mixed(theme.quiet, theme.line, 0.25),
        Tone.ACCENT: QColor(theme.accent),
        Tone.GROUND: QColor(theme.ground),
    }


def paint(
    painter: QPainter, marks: Iterable[Mark], sheet: Box, area: QRectF, colours: Mapping[Tone, QColor]
) -> None:
    """Paint marks of a sheet as large as the area allows."""
    place = fit(sheet, area)
    for mark in marks:
        if isinstance(mark, Sign):
            _write(painter, mark, place.point(mark.at), place.scale, colours[mark.tone])
        else:
            _draw(painter, mark, place.points(mark.points), place.scale, colours)


def _draw(
    painter: QPainter, mark: Stroke, points: QPolygonF, scale: float, colours: Mapping[Tone, QColor]
) -> None:
    if mark.width:
        pen = QPen(colours[mark.tone], mark.width * scale)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap if mark.dash else Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if mark.dash:
            pen.setDashPattern([3.0, 2.2])
        painter.setPen(pen)
    else:
        painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(Qt.BrushStyle.NoBrush if mark.fill is None else colours[mark.fill])
    if mark.closed:
        painter.drawPolygon(points)
    else:
        painter.drawPolyline(points)


def _write(painter: QPainter, mark: Sign, at: QPointF, scale: float, colour: QColor) -> None:
    font = QFont(painter.font())
    font.setPixelSize(max(6, round(mark.height * scale * 1.3)))
    font.setBold(True)
    painter.setFont(font)
    painter.setPen(colour)
    box = QFontMetricsF(font).boundingRect(mark.text).adjusted(-4, -4, 4, 4)
    box.moveCenter(at)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, mark.text)
