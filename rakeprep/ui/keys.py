"""Keys to press: they answer to Enter as to the space bar, and break their words where room is scarce."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics, QIcon, QPaintEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy

# QStyle is imported where a key has too little room: it takes 10 ms, and the first picture needs none of it.
ROOMY = 1 << 16  # px; more than any screen has
BESIDE_ICON = 4  # px


class Key(QPushButton):
    """A push button that can be narrower than its words in one line, and then is higher."""

    def __init__(self, text: str, name: str = "") -> None:
        super().__init__(text)
        self.setAutoDefault(True)
        if name:
            self.setObjectName(name)
        if " " in text:
            policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
            policy.setHeightForWidth(True)
            self.setSizePolicy(policy)

    def break_words(self) -> None:
        """Be no wider than the words in two lines."""
        words, metrics = self._said().split(" "), self.fontMetrics()
        ways = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]
        wide = min([max(map(metrics.horizontalAdvance, way)) for way in ways], default=0)
        beside = self.sizeHint().width() - metrics.horizontalAdvance(self.text())
        if wide:
            self.setMaximumWidth(max(self.minimumSizeHint().width(), beside + wide + 2))

    def _said(self) -> str:
        """The words; an arrow stays in the line of its word."""
        return self.text().replace(" ▸", "\u00a0▸").replace("◂ ", "◂\u00a0")

    def sizeHint(self) -> QSize:
        usual = super().sizeHint()
        # no narrower than high, and with room for the thicker frame of a key that is chosen or focused
        return QSize(max(usual.width() + 4, usual.height()), usual.height())

    def minimumSizeHint(self) -> QSize:
        whole = super().sizeHint()
        if " " not in self.text():
            return self.sizeHint()
        widest = max(self.fontMetrics().horizontalAdvance(word) for word in self._said().split(" "))
        beside = whole.width() - self.fontMetrics().horizontalAdvance(self.text())
        return QSize(min(whole.width(), max(beside + widest + 2, whole.height())), whole.height())

    def heightForWidth(self, width: int) -> int:
        usual = self.sizeHint()
        if usual.width() <= width:
            return usual.height()
        return max(usual.height(), self._words(self._inside(width)).height() + 8)

    def _inside(self, width: int) -> QRect:
        """Where the words stand."""
        from PySide6.QtWidgets import QStyle, QStyleOptionButton

        option = QStyleOptionButton()
        self.initStyleOption(option)
        option.rect = QRect(0, 0, width, max(self.height(), 20))
        inside = self.style().subElementRect(QStyle.SubElement.SE_PushButtonContents, option, self)
        if not self.icon().isNull():
            inside.setLeft(inside.left() + self.iconSize().width() + BESIDE_ICON)
        return inside

    def _words(self, inside: QRect) -> QRect:
        """The room that the words take in lines as long as ``inside``."""
        metrics: QFontMetrics = self.fontMetrics()
        return metrics.boundingRect(
            QRect(0, 0, max(1, inside.width()), ROOMY), int(Qt.TextFlag.TextWordWrap), self._said()
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        if " " not in self.text() or self.sizeHint().width() <= self.width():
            super().paintEvent(event)
            return
        inside = self._inside(self.width())
        if self.fontMetrics().horizontalAdvance(self.text()) <= inside.width():
            super().paintEvent(event)
            return
        from PySide6.QtWidgets import QStyle, QStyleOptionButton, QStylePainter

        painter = QStylePainter(self)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        option.text, option.icon = "", QIcon()
        painter.drawControl(QStyle.ControlElement.CE_PushButton, option)
        if not self.icon().isNull():
            side = self.iconSize()
            at = QRect(inside.left() - side.width() - BESIDE_ICON, 0, side.width(), self.height())
            self.icon().paint(painter, at)
        at_left = self.objectName() == "option" or bool(self.icon().availableSizes())
        across = Qt.AlignmentFlag.AlignLeft if at_left else Qt.AlignmentFlag.AlignHCenter
        painter.setPen(self.palette().buttonText().color())
        flags = int(Qt.TextFlag.TextWordWrap) | int(across) | int(Qt.AlignmentFlag.AlignVCenter)
        whole = QRect(inside.left(), 0, inside.width(), self.height())
        painter.drawText(whole, flags, self._said())
