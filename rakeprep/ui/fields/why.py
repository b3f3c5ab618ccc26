"""Why an answer is changed: a line that may stay empty, and the two usual reasons as keys."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session

LONGEST = 500
USUAL = (msg("was misread"), msg("set anew since then"))


class Why(QWidget):
    """Shown while an answer stands; without a reason, another person's answer is compared with it.

    ``edited`` tells the reason as it is being typed or chosen.
    """

    edited = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        says = session.say(msg("Why it is changed, if it is (replaces the answer before)"))
        self.line = QLineEdit()
        self.line.setMaxLength(LONGEST)
        self.line.setAccessibleName(says)
        self.line.textEdited.connect(lambda: self.edited.emit(self.text()))
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(self.line, 1)
        for reason in USUAL:
            words = session.say(reason)
            made = key(words, "small")
            made.clicked.connect(lambda _=False, words=words: self._choose(words))
            if session.size.gloved:
                made.break_words()
            row.addWidget(made)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(wrapped(says, "quiet"))
        column.addLayout(row)

    def _choose(self, words: str) -> None:
        self.line.setText(words)
        self.edited.emit(self.text())

    def text(self) -> str:
        """The reason, if one is given."""
        return self.line.text().strip()
