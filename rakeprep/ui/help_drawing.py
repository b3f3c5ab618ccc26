"""The small drawing beside a question: what is measured, and where."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from rakeprep.drawing.help import drawing_for
from rakeprep.drawing.help_parts import SHEET, Marks
from rakeprep.model.entry import Slot
from rakeprep.ui.session import Session
from rakeprep.ui.small_drawing import paint, tones

WIDE = 11.0  # heights of a letter
MOST, GLOVED = 200, 160  # px; beside keys for gloves there is less room


class HelpDrawing(QWidget):
    """Shows the drawing of one question at a time; the words beside it say the same."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._marks: Marks = ()
        self._drawn: tuple[tuple[str, float], QPixmap] | None = None  # look and picture
        most = GLOVED if session.size.gloved else MOST
        wide = min(most, round(session.size.text * WIDE))
        self.setFixedSize(QSize(wide, round(wide * SHEET.height / SHEET.width)))

    def show_slot(self, slot: Slot) -> None:
        """Show the drawing of another question, if it has one."""
        marks = drawing_for(slot.step, slot.field)
        if marks != self._marks:
            self._marks, self._drawn = marks, None
        self.setVisible(bool(self._marks))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        look = (self._session.theme.name, self.devicePixelRatioF())
        if self._drawn is None or self._drawn[0] != look:
            self._drawn = (look, self._picture())
        QPainter(self).drawPixmap(0, 0, self._drawn[1])

    def _picture(self) -> QPixmap:
        """The drawing in its frame; the next place of a question has the same."""
        theme, ratio = self._session.theme, self.devicePixelRatioF()
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.line), 1.0))
        painter.setBrush(QColor(theme.ground))
        frame = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.drawRoundedRect(frame, 6, 6)
        painter.setFont(self.font())
        paint(painter, self._marks, SHEET, frame.adjusted(3, 3, -3, -3), tones(theme))
        painter.end()
        return picture
