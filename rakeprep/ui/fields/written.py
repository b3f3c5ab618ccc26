"""Editors for what is typed: quantities, counts, words, dates."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
)

from rakeprep.jobs.assess import Task
from rakeprep.model.entry import Entry
from rakeprep.model.field import Ask
from rakeprep.model.instrument import OwnInstrument
from rakeprep.text import msg
from rakeprep.ui.fields.editor import Editor, key
from rakeprep.ui.fields.measured_with import MeasuredWith
from rakeprep.ui.session import Session
from rakeprep.units import other_unit, units_of

LONGEST_TYPED = 200
TODAY = msg("today")


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
        self.line.textEdited.connect(self.edited)
        self.first = self.line
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(8)

    def text(self) -> str:
        now = self.line.text().strip()
        return now if now != self._before.strip() else ""

    def touched(self) -> bool:
        return self.line.isModified()

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
    """A big number with its unit on it."""

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
        self.same_again: QPushButton | None = None
        self.measured_with = self._measured_with(entry) if task.field.instrument else None

    def _measured_with(self, entry: Entry | None) -> MeasuredWith:
        """What it is measured with; the answer of the last time stands there already."""
        used = self.session.instruments.get(self.task.field.instrument, "")
        row = MeasuredWith(self.session, entry.instrument if entry is not None and entry.instrument else used)
        row.entered.connect(self.enter)
        row.picked.connect(self._read_in)
        self.column.addWidget(row)
        return row

    @property
    def tool(self) -> QLineEdit | None:
        """The line for what it is measured with."""
        return None if self.measured_with is None else self.measured_with.line

    def instrument(self) -> str:
        return "" if self.measured_with is None else self.measured_with.text()

    def offer(self, found: Sequence[OwnInstrument]) -> None:
        """Offer instruments; the unit is the one that the instrument was last read in."""
        if self.measured_with is None:
            return
        self.measured_with.offer(found)
        own = self.measured_with.own()
        if own is not None and self.entry is None:
            self._read_in(own)
            self._first = self._chosen

    def _read_in(self, own: OwnInstrument) -> None:
        """Take the unit that an instrument was last read in, unless a number stands here already."""
        if not self.line.text().strip():
            self._set_unit(own.unit)
        self.line.setFocus()

    def offer_same(self, typed: str, unit: str, shown: str) -> None:
        """A key for the same reading as at the place before; Enter gives it, so that nobody does blindly."""
        self.same_again = key(self.session.say(msg("the same again: {value}", value=shown)), "small")
        self.same_again.clicked.connect(lambda: self._take_same(typed, unit))
        self.column.addWidget(self.same_again, 0, Qt.AlignmentFlag.AlignLeft)

    def _take_same(self, typed: str, unit: str) -> None:
        self.line.selectAll()
        self.line.insert(typed)
        self._set_unit(unit)
        self.edited.emit()
        self.line.setFocus()

    def text(self) -> str:
        now = self.line.text().strip()
        other_unit = self._chosen != self._first
        other_tool = self.entry is not None and self.instrument() not in {"", self.entry.instrument}
        return now if now and (other_unit or other_tool) else super().text()

    def show_draft(self, text: str, unit: str) -> None:
        super().show_draft(text, unit)
        self._set_unit(unit)

    def _set_unit(self, unit: str) -> None:
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

    def press(self, sign: str) -> None:
        """A key of the pad was pressed."""
        if sign == "←":
            self.line.backspace()
        elif sign == "1/16":
            self.line.insert(" 1/16" if self.line.text() and not self.line.hasSelectedText() else sign)
        else:
            self.line.insert(sign)
        self.edited.emit()
        self.line.setFocus()

    def unit(self) -> str:
        return self._chosen if self.units else ""
