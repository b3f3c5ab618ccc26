"""The small drawing beside a question: what is measured, and where."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from rakeprep.drawing.help import drawing_for
from rakeprep.drawing.help_parts import SHEET, Marks
from rakeprep.model.entry import Slot
from rakeprep.ui.session import Session
from rakeprep.ui.small_drawing import paint, tones

WIDE = 11.0  # heights of a letter
MOST = 200  # px


class HelpDrawing(QWidget):
    """Shows the drawing of one question at a time; the words beside it say the same."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._marks: Marks = ()
        wide = min(MOST, round(session.size.text * WIDE))
        self.setFixedSize(QSize(wide, round(wide * SHEET.height / SHEET.width)))

    def show_slot(self, slot: Slot) -> None:
        """Show the drawing of another question, if it has one."""
        self._marks = drawing_for(slot.step, slot.field)
        self.setVisible(bool(self._marks))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self._session.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.line), 1.0))
        painter.setBrush(QColor(theme.ground))
        frame = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.drawRoundedRect(frame, 6, 6)
        paint(painter, self._marks, SHEET, frame.adjusted(3, 3, -3, -3), tones(theme))
