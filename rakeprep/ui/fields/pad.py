"""A pad of keys for fingers, for everything that a number is written with."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget

from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.session import Session
from rakeprep.units import Kind

SIGNS = (("7", "8", "9", "←"), ("4", "5", "6", "."), ("1", "2", "3", "0"))
NARROW = (("7", "8", "9", "←"), ("4", "5", "6", "0", "."), ("1", "2", "3"))
ENTER = "store"
Place = tuple[int, int, int, int]  # row, column, rows, columns
FRACTIONS = ("½", "¼", "⅛", "1/16")
MINUS = "−"
STORE = msg("store")
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
    """The keys; ``pressed`` tells the sign, ``entered`` that the number is complete.

    One pad serves all questions, since many keys take their time. It is broad, with the fractions beside
    the digits, or upright, with them above.
    """

    pressed = Signal(str)
    entered = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._upright = False
        self._kind: Kind | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(4 if session.size.gloved else 6)
        self._keys = {sign: self._key(sign) for row in SIGNS for sign in row}
        self._beside = {sign: self._key(sign) for sign in (*FRACTIONS, MINUS)}
        self.store = key(session.say(STORE), "store")
        self.store.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Expanding)
        self.store.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.store.clicked.connect(self.entered)
        self._arrange()

    def set_upright(self, upright: bool) -> None:
        """Beside the question there is more height than width, under it more width than height."""
        if upright is not self._upright:
            self._upright = upright
            self._arrange()

    def show_for(self, kind: Kind | None) -> None:
        """Show the keys that readings of this kind are written with; None is a count."""
        if kind is not self._kind:
            self._kind = kind
            self._arrange()

    def widest(self) -> int:
        """Pixels across when it has all its keys."""
        across = 5 if self._upright else 6
        return across * self._session.size.key + (across - 1) * self._grid.spacing()

    def _arrange(self) -> None:
        """Put every key in its place."""
        beside = () if self._kind is None else BESIDE.get(self._kind, ())
        places = upright(beside) if self._upright else broad(beside)
        for sign, one in self._beside.items():
            one.setVisible(sign in beside)
        for sign, place in places.items():
            one = self.store if sign == ENTER else self._beside.get(sign) or self._keys[sign]
            self._grid.addWidget(one, *place)
        for column in range(6):
            wanted = any(left <= column < left + wide for _, left, _, wide in places.values())
            self._grid.setColumnStretch(column, int(wanted))

    def _key(self, sign: str) -> QPushButton:
        made = key(sign, "key")
        made.setMinimumWidth(self._session.size.key)  # it is never chosen, so it needs no thicker frame
        made.setParent(self)  # not all of them have a place from the beginning
        made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        made.setAccessibleName(self._session.say(SPOKEN[sign]) if sign in SPOKEN else sign)
        made.clicked.connect(lambda: self.pressed.emit(sign))
        return made


def broad(beside: Sequence[str]) -> dict[str, Place]:
    """Three rows: the digits, beside them what else is needed, and the last key below that."""
    places = {s: (row, column, 1, 1) for row, signs in enumerate(SIGNS) for column, s in enumerate(signs)}
    for number, sign in enumerate(beside):
        places[sign] = (number // 2, 4 + number % 2, 1, 1)
    above = -(-len(beside) // 2)
    places[ENTER] = (above, 4, len(SIGNS) - above, 2)
    return places


def upright(beside: Sequence[str]) -> dict[str, Place]:
    """As narrow as five keys: fractions above, the last key below at the right."""
    fractions = len(beside) > 1
    top = int(fractions)
    places = {s: (row + top, n, 1, 1) for row, signs in enumerate(NARROW) for n, s in enumerate(signs)}
    for number, sign in enumerate(beside):
        places[sign] = (0, number if fractions else 4, 1, 1)
    if fractions:
        places[beside[-1]] = (0, len(beside) - 1, 1, 6 - len(beside))
    if fractions or not beside:
        places["←"] = (top, 3, 1, 2)
    places[ENTER] = (2 + top, 3, 1, 2)
    return places
