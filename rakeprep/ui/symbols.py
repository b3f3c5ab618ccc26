"""The symbol of every verdict, drawn: meaning never hangs on colour alone."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QIcon,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from rakeprep.model.verdict import Verdict
from rakeprep.text import Language
from rakeprep.ui.stamp import stamp
from rakeprep.ui.theme import Theme

RIM = 2.0  # pixels around a symbol: its corners and lines reach a little beyond its box
_OCTAGON = ((-0.41, -1), (0.41, -1), (1, -0.41), (1, 0.41), (0.41, 1), (-0.41, 1), (-1, 0.41), (-1, -0.41))


def draw_symbol(painter: QPainter, box: QRectF, verdict: Verdict, theme: Theme, filled: bool = True) -> None:
    """Draw one verdict into ``box``; ``filled`` puts the page's ground behind it, for use on drawings."""
    side = min(box.width(), box.height())
    whole = QRectF(0, 0, side + 2 * RIM, side + 2 * RIM)
    whole.moveCenter(box.center())
    ink = theme.verdicts[verdict][0]
    name = f"{verdict.name} {ink} {theme.ground} {filled}"
    stamp(painter, whole, name, lambda once, room: _draw(once, room, verdict, theme, filled))


def _draw(painter: QPainter, room: QRectF, verdict: Verdict, theme: Theme, filled: bool) -> None:
    """A symbol with a rim around it."""
    side = room.width() - 2 * RIM
    painter.translate(room.center())
    painter.scale(side / 2.3, side / 2.3)
    ink = QColor(theme.verdicts[verdict][0])
    painter.setPen(QPen(ink, 0.17, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin))
    painter.setBrush(QColor(theme.ground) if filled else Qt.BrushStyle.NoBrush)
    _DRAWN[verdict](painter, ink, theme)


def _polygon(points: tuple[tuple[float, float], ...]) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points])


def _tick(painter: QPainter, ink: QColor, theme: Theme) -> None:
    painter.drawEllipse(QPointF(0, 0), 1, 1)
    painter.drawPolyline(_polygon(((-0.45, 0.02), (-0.12, 0.38), (0.48, -0.35))))


def _question(painter: QPainter, ink: QColor, theme: Theme) -> None:
    painter.drawRoundedRect(QRectF(-0.95, -0.95, 1.9, 1.9), 0.2, 0.2)
    hook = QPainterPath(QPointF(-0.32, -0.3))
    hook.cubicTo(QPointF(-0.3, -0.75), QPointF(0.38, -0.72), QPointF(0.36, -0.25))
    hook.cubicTo(QPointF(0.34, 0.02), QPointF(0.0, 0.0), QPointF(0.0, 0.28))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(hook)
    painter.drawPoint(QPointF(0, 0.58))


def _diamond(painter: QPainter, ink: QColor, theme: Theme) -> None:
    painter.drawPolygon(_polygon(((0, -1.1), (1.1, 0), (0, 1.1), (-1.1, 0))))
    painter.drawLine(QPointF(-0.45, 0), QPointF(0.45, 0))
    painter.drawPolyline(_polygon(((0.12, -0.34), (0.46, 0), (0.12, 0.34))))


def _bar(painter: QPainter, ink: QColor, theme: Theme) -> None:
    painter.setBrush(ink)
    painter.drawPolygon(_polygon(_OCTAGON))
    painter.setPen(QPen(QColor(theme.ground), 0.3, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawLine(QPointF(-0.5, 0), QPointF(0.5, 0))


def _turned(painter: QPainter, ink: QColor, theme: Theme) -> None:
    painter.drawArc(QRectF(-0.85, -0.85, 1.7, 1.7), 60 * 16, 280 * 16)
    painter.drawPolyline(_polygon(((0.32, -1.12), (0.42, -0.72), (0.02, -0.55))))


def _dotted(painter: QPainter, ink: QColor, theme: Theme) -> None:
    pen = QPen(ink, 0.17, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.RoundCap)
    pen.setDashPattern([0.1, 2.9])
    painter.setPen(pen)
    painter.drawEllipse(QPointF(0, 0), 0.9, 0.9)


def _dash(painter: QPainter, ink: QColor, theme: Theme) -> None:
    painter.drawEllipse(QPointF(0, 0), 0.95, 0.95)
    painter.drawLine(QPointF(-0.4, 0), QPointF(0.4, 0))


_DRAWN = {
    Verdict.IN_ORDER: _tick,
    Verdict.ABSENT: _dash,
    Verdict.NOT_YET: _dotted,
    Verdict.OUT_OF_DATE: _turned,
    Verdict.MEASURE_AGAIN: _question,
    Verdict.PUT_RIGHT: _diamond,
    Verdict.STOP: _bar,
}


def symbol_icon(verdict: Verdict, theme: Theme, side: int = 22) -> QIcon:
    """A verdict's symbol as an icon."""
    picture = QPixmap(side * 2, side * 2)
    picture.setDevicePixelRatio(2)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    draw_symbol(painter, QRectF(0, 0, side, side), verdict, theme, filled=False)
    painter.end()
    return QIcon(picture)


class Symbol(QWidget):
    """A verdict's symbol, which tells its word to a screen reader."""

    def __init__(self, theme: Theme, language: Language, side: int = 26) -> None:
        super().__init__()
        self._theme, self._language, self._side = theme, language, side
        self._verdict = Verdict.NOT_YET
        self.setFixedSize(side, side)

    def show_verdict(self, verdict: Verdict) -> None:
        """Show another verdict."""
        self._verdict = verdict
        self.setAccessibleName(self._language.say(verdict.word))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._side, self._side)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        draw_symbol(painter, QRectF(self.rect()), self._verdict, self._theme, filled=False)
