"""What a reading is taken with: a line, the known instruments as keys, and until when they count."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.text import Message, msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session

WITH = msg("measured with")
NUMBER_AND_DATE = msg("number and date…")
OFFERED = 3  # keys beside one another


class MeasuredWith(QWidget):
    """Line and keys. ``picked`` tells that a known instrument is meant, ``entered`` that Enter was pressed,
    ``registering`` the name that is to be registered."""

    picked = Signal(object)
    entered = Signal()
    registering = Signal(str)

    def __init__(self, session: Session, name: str) -> None:
        super().__init__()
        self._session = session
        self._known: dict[str, OwnInstrument] = {}
        self.keys: list[QPushButton] = []
        self.line = QLineEdit(name)
        self.line.setMaxLength(80)
        self.line.setAccessibleName(session.say(WITH))
        self.line.returnPressed.connect(self.entered)
        self.line.textChanged.connect(self._show_note)
        register = key(session.say(NUMBER_AND_DATE), "small")
        register.clicked.connect(lambda: self.registering.emit(self.text()))
        named = QLabel(session.say(WITH))
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(named)
        row.addWidget(self.line, 1)
        row.addWidget(register)
        if session.size.gloved:  # so high that words have room in two lines
            named.setWordWrap(True)
            register.break_words()
        self._offered = QHBoxLayout()
        self._offered.setSpacing(6)
        self._note = wrapped("", "quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(row)
        column.addLayout(self._offered)
        column.addWidget(self._note)
        self._show_note()

    def text(self) -> str:
        """The name of the instrument."""
        return self.line.text().strip()

    def own(self) -> OwnInstrument | None:
        """The instrument of that name, if it is known."""
        return self._known.get(instrument_key(self.text()))

    def offer(self, found: Sequence[OwnInstrument]) -> None:
        """Offer the instruments that fit here, the likeliest first."""
        self._known = {instrument_key(own.name): own for own in found}
        for old in self.keys:
            old.hide()
            old.deleteLater()
        self.keys = [self._key(own) for own in found[:OFFERED]]
        for made in self.keys:
            self._offered.addWidget(made)
        self._show_note()

    def _key(self, own: OwnInstrument) -> QPushButton:
        made = key(own.name, "small")
        made.setAccessibleName(f"{self._session.say(WITH)}: {own.name}")
        made.clicked.connect(lambda: self._pick(own))
        return made

    def _pick(self, own: OwnInstrument) -> None:
        self.line.setText(own.name)
        self.picked.emit(own)

    def _show_note(self) -> None:
        """Until when the instrument counts; those that stand in the line already need no key."""
        own = self.own()
        for made in self.keys:
            made.setHidden(instrument_key(made.text()) == instrument_key(self.text()))
        said = None if own is None else note(own, self._session)
        self._note.setVisible(said is not None)
        self._note.setText("" if said is None else self._session.say(said))


def note(own: OwnInstrument, session: Session) -> Message | None:
    """Until when an instrument counts; nothing where no calibration is asked."""
    if own.until is None:
        return None
    if own.overdue(session.clock().date()):
        return msg("Calibrated until {until}: what it reads today is an indication only.", until=own.until)
    return msg("Calibrated until {until}.", until=own.until)
