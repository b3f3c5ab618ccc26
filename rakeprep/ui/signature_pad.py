"""A pad to sign on with mouse, finger or pen; strokes are kept as vectors in millimetres."""

from __future__ import annotations

import time

from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QHideEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QTabletEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from rakeprep.model.job import Stroke
from rakeprep.text import Message
from rakeprep.ui.session import Session

PIXELS_PER_MM = 96 / 25.4
LONGEST = 4000  # points; a signature has a few hundred

Point = tuple[float, float, float, float]


class SignaturePad(QWidget):
    """The pad; ``changed`` tells when a stroke ends or all are wiped."""

    changed = Signal()

    def __init__(self, session: Session, name: Message) -> None:
        super().__init__()
        self._theme = session.theme
        self._done: list[Stroke] = []
        self._stroke: list[Point] = []
        self._pen_down = False
        self._start = 0.0
        self.setAttribute(Qt.WidgetAttribute.WA_AcceptTouchEvents, False)
        self.setMinimumSize(230, 110)
        self.setMaximumHeight(220)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setAccessibleName(session.say(name))

    @property
    def strokes(self) -> tuple[Stroke, ...]:
        """What was drawn: x to the right and y upward from the lower left corner, in mm."""
        return tuple(self._done)

    def show_strokes(self, strokes: tuple[Stroke, ...]) -> None:
        """Put strokes back; on a smaller pad than theirs they are drawn smaller."""
        self._done = list(strokes)
        self.update()

    def wipe(self) -> None:
        """Take all strokes away."""
        self._done.clear()
        self._stroke.clear()
        self._pen_down = False
        self.update()
        self.changed.emit()

    def sizeHint(self) -> QSize:
        return QSize(320, 130)

    def _point(self, where: QPointF, pressure: float) -> Point:
        height = self.height()
        seconds = time.monotonic() - self._start
        return (where.x() / PIXELS_PER_MM, (height - where.y()) / PIXELS_PER_MM, seconds, pressure)

    def begin(self, where: QPointF, pressure: float = 0.5) -> None:
        """A stroke begins."""
        if not self._done:
            self._start = time.monotonic()
        self._pen_down = True
        self._stroke = [self._point(where, pressure)]

    def draw_to(self, where: QPointF, pressure: float = 0.5) -> None:
        """The stroke goes on."""
        if self._pen_down and len(self._stroke) < LONGEST:
            self._stroke.append(self._point(where, pressure))
            self.update()

    def end(self) -> None:
        """The stroke ends."""
        if self._pen_down and len(self._stroke) > 1:
            self._done.append(Stroke(tuple(self._stroke)))
            self.changed.emit()
        self._stroke = []
        self._pen_down = False
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        # A pen's own events come through tabletEvent; those Qt makes of them would double each stroke.
        doubled = self._pen_down and event.source() is not Qt.MouseEventSource.MouseEventNotSynthesized
        if event.button() is Qt.MouseButton.LeftButton and not doubled:
            self.begin(event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.draw_to(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.end()

    def tabletEvent(self, event: QTabletEvent) -> None:
        match event.type():
            case QEvent.Type.TabletPress:
                self.begin(event.position(), event.pressure())
            case QEvent.Type.TabletMove:
                self.draw_to(event.position(), event.pressure())
            case QEvent.Type.TabletRelease:
                self.end()
        event.accept()

    def leaveEvent(self, event: QEvent) -> None:
        self.end()

    def hideEvent(self, event: QHideEvent) -> None:
        self.end()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._theme.ground))
        painter.setPen(QPen(QColor(self._theme.line), 1))
        painter.drawRoundedRect(self.rect().adjusted(0, 0, -1, -1), 6, 6)
        base = self.height() - 24
        painter.drawLine(16, base, self.width() - 16, base)
        painter.setPen(QPen(QColor(self._theme.ink), 2.2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        scale = PIXELS_PER_MM * self._shrunk()
        for points in (*(s.points for s in self._done), tuple(self._stroke)):
            line = [QPointF(x * scale, self.height() - y * scale) for x, y, _, _ in points]
            painter.drawPolyline(QPolygonF(line))

    def _shrunk(self) -> float:
        """How much smaller a given signature is drawn so that it stays on the pad; 1 while one draws."""
        if self.isEnabled():
            return 1.0
        points = [point for stroke in self._done for point in stroke.points]
        wide = max((x for x, _, _, _ in points), default=0.0) * PIXELS_PER_MM
        high = max((y for _, y, _, _ in points), default=0.0) * PIXELS_PER_MM
        return min(1.0, self.width() / max(wide, 1.0), self.height() / max(high, 1.0))
