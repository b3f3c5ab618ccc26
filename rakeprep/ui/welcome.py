"""What a page says when a job is opened again: where you were, and that the last thing is done once more."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout

from rakeprep.text import Message, msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session

AGAIN = msg(
    "Do the last thing once more before you go on: what was in hand when the work stopped is what goes "
    "missing."
)


class Welcome(QFrame):
    """A card over the task; ``repeat`` leads to what was done last, ``go_on`` takes the card away."""

    repeat = Signal()
    go_on = Signal()

    def __init__(self, session: Session, says: Message, can_repeat: bool) -> None:
        super().__init__()
        self.setObjectName("welcome")
        words = wrapped(session.say(says), "verdict")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.setSpacing(6)
        column.addWidget(words)
        row = QHBoxLayout()
        row.setSpacing(8)
        if can_repeat:
            column.addWidget(wrapped(session.say(AGAIN)))
            self.again = key(session.say(msg("the last thing once more ▸")), "small")
            self.again.clicked.connect(self.repeat)
            row.addWidget(self.again)
        self.on = key(session.say(msg("go on here")), "small")
        self.on.clicked.connect(self.go_on)
        row.addWidget(self.on)
        row.addStretch()
        column.addLayout(row)
        self.setAccessibleName(words.text())
