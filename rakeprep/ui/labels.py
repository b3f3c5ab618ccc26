"""Labels: one that breaks lines, one that is cut where there is no room."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy

from rakeprep.ui.theme import Size

LONGEST_BESIDE = 14  # heights of a letter; longer labels break into lines


def wrapped(text: str, name: str = "") -> QLabel:
    """A label that breaks lines and never reads its text as markup."""
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    if name:
        label.setObjectName(name)
    return label


def beside(text: str, size: Size) -> QLabel:
    """A label of a field, in one line where that leaves the field room.

    A form gives a label 7/4 of the height that it asks for; so its words stand in the middle of the field.
    """
    label = wrapped(text)
    wide = label.fontMetrics().horizontalAdvance(text) + 4
    label.setMinimumSize(min(wide, LONGEST_BESIDE * size.text), size.row * 4 // 7)
    return label


def level(text: str) -> QLabel:
    """A label of a form whose words stand in the middle of the field, however high that is."""
    label = QLabel(text)
    label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
    return label


class Line(QLabel):
    """One line of words. Others that are as wide move nothing around it, while Qt's own label has the whole
    window laid out anew for every new text."""

    def __init__(self, text: str = "") -> None:
        super().__init__()
        self._said = ""
        self.setText(text)

    def setText(self, text: str) -> None:
        if text == self._said:
            return
        before, self._said = self.sizeHint(), text
        self.setAccessibleName(text)
        self.update()
        if self.sizeHint() != before:
            self.updateGeometry()

    def text(self) -> str:
        return self._said

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self._said) + 2, metrics.height())

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        shown = self.fontMetrics().elidedText(self._said, Qt.TextElideMode.ElideRight, self.width())
        painter.setPen(self.palette().windowText().color())
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter, shown)


class Cut(Line):
    """One line that ends in an ellipsis where it would make its window wider."""

    def __init__(self, text: str = "") -> None:
        super().__init__(text)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def sizeHint(self) -> QSize:
        return QSize(80, super().sizeHint().height())
