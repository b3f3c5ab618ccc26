"""A pad of keys for fingers, for everything that a number is written with."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QWidget

from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.session import Session
from rakeprep.units import Kind

SIGNS = (("7", "8", "9", "←"), ("4", "5", "6", "."), ("1", "2", "3", "0"))
FRACTIONS = ("½", "¼", "⅛", "1/16")
MINUS = "−"
BESIDE = {Kind.LENGTH: FRACTIONS, Kind.TEMPERATURE: (MINUS,), Kind.ANGLE: (MINUS,)}
SPOKEN = {
    "←": msg("take back the last character"),
    "½": msg("one half"),
    "¼": msg("one quarter"),
    "⅛": msg("one eighth"),
    "1/16": msg("one sixteenth"),
    ".": msg("decimal point"),
    MINUS: msg("minus"),
}


class Pad(QWidget):
    """The keys; ``pressed`` tells the sign. One pad serves all questions, since many keys take their time."""

    pressed = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(6)
        for row, signs in enumerate(SIGNS):
            for column, sign in enumerate(signs):
                self._grid.addWidget(self._key(sign), row, column)
                self._grid.setColumnStretch(column, 1)
        self._beside = {sign: self._key(sign) for sign in (*FRACTIONS, MINUS)}
        for number, sign in enumerate(FRACTIONS):
            self._grid.addWidget(self._beside[sign], number // 2, 4 + number % 2)
        self._grid.addWidget(self._beside[MINUS], 2, 4)

    def show_for(self, kind: Kind | None) -> None:
        """Show the keys that readings of this kind are written with; None is a count."""
        signs = () if kind is None else BESIDE.get(kind, ())
        for sign, one in self._beside.items():
            one.setVisible(sign in signs)
        for column in (4, 5):
            self._grid.setColumnStretch(column, int(len(signs) > column - 4))

    def _key(self, sign: str) -> QPushButton:
        made = key(sign, "key")
        made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        made.setAccessibleName(self._session.say(SPOKEN[sign]) if sign in SPOKEN else sign)
        made.clicked.connect(lambda: self.pressed.emit(sign))
        return made
