"""A box to choose from that shows its arrow in every theme and that no mouse wheel changes by accident."""

from __future__ import annotations

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QComboBox


class Choice(QComboBox):
    """A combo box of the style sheet's colours."""

    def setAccessibleName(self, name: str) -> None:
        super().setAccessibleName(name)
        self.view().setAccessibleName(name)
        line = self.lineEdit()
        if line is not None:
            line.setAccessibleName(name)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().buttonText().color(), 1.8))
        middle = QPointF(self.width() - 15, self.height() / 2)
        corners = (QPointF(-4.5, -2), QPointF(0, 2.5), QPointF(4.5, -2))
        painter.drawPolyline([middle + corner for corner in corners])
