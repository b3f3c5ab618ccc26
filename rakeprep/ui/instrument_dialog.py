"""Asking for an instrument: number or name, kind, until when its calibration counts."""

from __future__ import annotations

from PySide6.QtWidgets import QFormLayout, QLineEdit, QVBoxLayout, QWidget

from rakeprep.calculations.instruments import INSTRUMENTS
from rakeprep.jobs.own_instruments import NEVER
from rakeprep.text import Language, Message, msg
from rakeprep.ui.choice import Choice
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import level

INSTRUMENT = msg("Instrument")
NAME = msg("Number or name on it")
KIND = msg("What it is")
UNTIL = msg("Calibrated until")
WIDE = 36  # heights of a line; kinds of instruments have long names
NONE_ASKED = msg("no calibration is asked of it")
ABOUT = msg(
    "Said once for each instrument. What is read with one whose date has passed counts as an indication only."
)


class InstrumentForm(QWidget):
    """The form inside the dialog."""

    def __init__(self, language: Language, name: str, kind: str, until: str) -> None:
        super().__init__()
        say = language.say
        self.name, self.until = QLineEdit(name), QLineEdit("" if until == NEVER else until)
        self.until.setPlaceholderText(say(msg("year-month-day")))
        self.kind = Choice()
        for each in INSTRUMENTS.values():
            self.kind.addItem(say(each.name), each.kind)
        self.kind.setCurrentIndex(max(self.kind.findData(kind), 0))
        self.none_asked = key(say(NONE_ASKED), "small")
        self.none_asked.setCheckable(True)
        self.none_asked.toggled.connect(self.until.setDisabled)
        self.none_asked.setChecked(until == NEVER)
        rows: tuple[tuple[Message, QWidget], ...] = (
            (NAME, self.name),
            (KIND, self.kind),
            (UNTIL, self.until),
        )
        form = QFormLayout()
        for label, field in rows:
            field.setAccessibleName(say(label))
            form.addRow(level(say(label)), field)
        form.addRow("", self.none_asked)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(form)
        self.setMinimumWidth(WIDE * self.fontMetrics().height())
        self.setFocusProxy(self.until if name else self.name)

    def given(self) -> tuple[str, str, str]:
        """Name, kind, and the last day as typed or ``never``."""
        until = NEVER if self.none_asked.isChecked() else self.until.text()
        return self.name.text(), str(self.kind.currentData()), until
