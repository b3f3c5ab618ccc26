"""The caution before the hazard: a bar on the page, and a gate in the place of the first question."""

from __future__ import annotations

import html

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from rakeprep.jobs.assess import State
from rakeprep.model.step import Caution, Step
from rakeprep.text import joined, msg
from rakeprep.ui.fields.editor import Editor, key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session

CAUTION_READ = msg("I have read this, and it is so")


class CautionGate(Editor):
    """Stands in the place of the editor until the cautions of the step were read."""

    def __init__(self, session: Session, state: State, step: Step) -> None:
        super().__init__(session, state.task, None)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        states = joined([caution.safe_state for caution in step.cautions], by="\n")
        column.addWidget(wrapped(session.say(msg("First: {states}", states=states)), "heading"))
        agree = key(session.say(CAUTION_READ), "forward")
        agree.clicked.connect(lambda: self.given.emit("read", ""))
        column.addWidget(agree)
        self.first = agree


def caution_bar(session: Session, caution: Caution) -> QFrame:
    """A hazard with its safe state; it stays as long as the page."""
    bar = QFrame()
    bar.setObjectName("caution")
    hazard, safe = session.say(caution.hazard), session.say(caution.safe_state)
    words = QLabel(f"<b>{html.escape(hazard)}</b> {html.escape(safe)}")
    words.setTextFormat(Qt.TextFormat.RichText)
    words.setWordWrap(True)
    row = QHBoxLayout(bar)
    row.setContentsMargins(10, 5, 10, 5)
    row.setSpacing(12)
    row.addWidget(CautionSign(session))
    row.addWidget(words, 1)
    bar.setAccessibleName(session.say(msg("Caution: {hazard} {safe}", hazard=hazard, safe=safe)))
    return bar


class CautionSign(QWidget):
    """The general caution sign of ISO 7010 (W001): a triangle with an exclamation mark."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._theme = session.theme
        self.setFixedSize(34, 32)
        self.setAccessibleName(session.say(msg("Caution")))

    def paintEvent(self, event: object) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = QColor(self._theme.caution)
        painter.setPen(
            QPen(ink, 2.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
        )
        painter.drawPolygon(QPolygonF([QPointF(17, 3), QPointF(32, 29), QPointF(2, 29)]))
        painter.drawLine(QPointF(17, 12), QPointF(17, 19))
        painter.drawPoint(QPointF(17, 24.5))
