"""Editors for what is typed: quantities, counts, words, dates."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from rakeprep.jobs.assess import Task
from rakeprep.model.entry import Entry
from rakeprep.model.field import Ask
from rakeprep.text import Message, msg
from rakeprep.ui.fields.editor import Editor, key
from rakeprep.ui.session import Session
from rakeprep.units import Kind, other_unit, units_of

PAD = (("7", "8", "9", "⌫"), ("4", "5", "6", "."), ("1", "2", "3", "0"))
EXTRA = {Kind.LENGTH: ("½", "¼", "⅛", "1/16")}
SPOKEN = {
    "⌫": msg("take back the last character"),
    "½": msg("one half"),
    "¼": msg("one quarter"),
    "⅛": msg("one eighth"),
    "1/16": msg("one sixteenth"),
    ".": msg("decimal point"),
    "−": msg("minus"),
}
LONGEST_TYPED = 200
MINUS = (Kind.TEMPERATURE, Kind.LENGTH, Kind.ANGLE)
TODAY = msg("today")
WITH = msg("measured with")


class Written(Editor):
    """A line to type in; Enter gives the answer, and so does leaving it."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        self.line = QLineEdit()
        self.line.setMaxLength(LONGEST_TYPED if task.field.ask is not Ask.TEXT else 2500)
        self.line.setAccessibleName(self.title)
        self.line.setAccessibleDescription(session.say(task.field.help))
        self._before = "" if entry is None else entry.typed
        self.line.setText(self._before)
        self.line.selectAll()
        self.line.returnPressed.connect(self.enter)
        self.first = self.line
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(8)

    def text(self) -> str:
        now = self.line.text().strip()
        return now if now != self._before.strip() else ""

    def show_draft(self, text: str, unit: str) -> None:
        self.line.setText(text)
        self.line.selectAll()

    def enter(self) -> None:
        """Enter: give what stands here, even when it is as before (the same reading once more)."""
        now = self.line.text().strip()
        self.given.emit(now, self.unit())


class Words(Written):
    """Free words."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        self.column.addWidget(self.line)


class Day(Written):
    """A date, year first."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        self.line.setPlaceholderText(session.say(msg("year-month-day")))
        row = QHBoxLayout()
        today = key(session.say(TODAY), "small")
        today.clicked.connect(self._today)
        row.addWidget(self.line)
        row.addWidget(today)
        self.column.addLayout(row)

    def _today(self) -> None:
        self.line.setText(self.session.clock().date().isoformat())
        self.enter()


class Number(Written):
    """A big number with its unit on it and a pad for fingers."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        self.line.setObjectName("big")
        self.line.setInputMethodHints(Qt.InputMethodHint.ImhPreferNumbers)
        self.units = self._units(entry)
        self._unit_keys = QButtonGroup(self)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(self.line, 1)
        for unit in self.units:
            row.addWidget(self._unit_key(unit))
        self.column.addLayout(row)
        self.below = QWidget()
        self.below.setLayout(self._pad())
        self.tool = self._tool(entry) if task.field.instrument else None

    def _tool(self, entry: Entry | None) -> QLineEdit:
        """A line for what it is measured with; the answer of the last time stands there already."""
        used = self.session.instruments.get(self.task.field.instrument, "")
        line = QLineEdit(entry.instrument if entry is not None and entry.instrument else used)
        line.setMaxLength(80)
        line.setAccessibleName(self.session.say(WITH))
        line.returnPressed.connect(self.enter)
        row = QHBoxLayout()
        row.addWidget(QLabel(self.session.say(WITH)))
        row.addWidget(line, 1)
        self.column.addLayout(row)
        return line

    def instrument(self) -> str:
        return "" if self.tool is None else self.tool.text().strip()

    def text(self) -> str:
        now = self.line.text().strip()
        other_unit = self._chosen != self._first
        other_tool = self.entry is not None and self.instrument() not in {"", self.entry.instrument}
        return now if now and (other_unit or other_tool) else super().text()

    def show_draft(self, text: str, unit: str) -> None:
        super().show_draft(text, unit)
        for one in self._unit_keys.buttons():
            if one.text() == unit:
                one.setChecked(True)
                self._chosen = unit

    def _units(self, entry: Entry | None) -> tuple[str, ...]:
        kind = self.task.field.kind
        self._first = self._chosen = ""
        if kind is None:
            return ()
        own = self.task.field.unit or units_of(kind)[0]
        partner = other_unit(kind, own)
        both = (own, "in" if partner == "ft in" else partner)
        self._first = entry.unit if entry is not None and entry.unit in both else own
        self._chosen = self._first
        return tuple(dict.fromkeys(both))

    def _unit_key(self, unit: str) -> QPushButton:
        made = key(unit, "unit")
        made.setCheckable(True)
        made.setChecked(unit == self._chosen)
        made.setAccessibleName(self.session.say(msg("typed in {unit}", unit=unit)))
        made.clicked.connect(lambda: self._choose(unit))
        self._unit_keys.addButton(made)
        return made

    def _choose(self, unit: str) -> None:
        """Another unit converts nothing: the reading was taken in it."""
        self._chosen = unit
        self.line.setFocus()

    def _pad(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(6)
        kind = self.task.field.kind
        extra = EXTRA.get(kind, ("−",) if kind in MINUS else ()) if kind else ()
        for row, signs in enumerate(PAD):
            for column, sign in enumerate(signs):
                grid.addWidget(self._key(sign), row, column)
        for number, sign in enumerate(extra):
            grid.addWidget(self._key(sign), number // 2, 4 + number % 2)
        for column in range(grid.columnCount()):
            grid.setColumnStretch(column, 1)
        return grid

    def _key(self, sign: str) -> QPushButton:
        made = key(sign, "key")
        made.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        name: Message | None = SPOKEN.get(sign)
        made.setAccessibleName(sign if name is None else self.session.say(name))
        made.clicked.connect(lambda: self._press(sign))
        return made

    def _press(self, sign: str) -> None:
        if sign == "⌫":
            self.line.backspace()
        elif sign == "1/16":
            self.line.insert(" 1/16" if self.line.text() and not self.line.hasSelectedText() else sign)
        else:
            self.line.insert(sign)
        self.line.setFocus()

    def unit(self) -> str:
        return self._chosen if self.units else ""
