"""Editors for what is picked: one option, several, a thing done."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QGridLayout, QPushButton, QVBoxLayout

from rakeprep.jobs.assess import Task
from rakeprep.model.entry import Entry
from rakeprep.model.field import Ask, Option
from rakeprep.text import msg
from rakeprep.ui.fields.editor import Editor, key
from rakeprep.ui.session import Session

STORE = msg("store")
NONE_OF_THEM = msg("none of them")


def columns(session: Session, labels: Sequence[str]) -> int:
    """How many keys stand beside each other: more where they are so high that words break."""
    longest = max(map(len, labels), default=0)
    if session.size.gloved and longest <= 18 and len(labels) > 4:
        return 3
    return 1 if longest > 26 else 2


class Picked(Editor):
    """Big keys, one for each option. Of one choice a press gives it; of many, ``store`` does."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        self._many = task.field.ask is Ask.MANY
        self._before = frozenset() if entry is None else entry.chosen
        self._touched = False
        self.keys: dict[str, QPushButton] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(8)
        options = task.field.options
        across = columns(session, [session.say(option.label) for option in options])
        for number, option in enumerate(options):
            grid.addWidget(self._key(option), number // across, number % across)
        if self._many:
            self._add_store(grid, len(options) // across + 1, across)
        grid.setRowStretch(grid.rowCount(), 1)
        if self.keys:
            chosen = [one for name, one in self.keys.items() if name in self._before]
            self.first = (chosen or list(self.keys.values()))[0]

    def _key(self, option: Option) -> QPushButton:
        made = key(self.session.say(option.label), "option")
        made.setCheckable(True)
        made.setChecked(option.key in self._before)
        made.setAccessibleName(f"{self.title}: {made.text()}")
        made.clicked.connect(lambda: self._pressed(option.key))
        self.keys[option.key] = made
        return made

    def _add_store(self, grid: QGridLayout, row: int, across: int) -> None:
        store = key(self.session.say(STORE))
        store.setAccessibleName(f"{self.title}: {store.text()}")
        store.clicked.connect(self._give_many)
        grid.addWidget(store, row, across - 1)
        none = key(self.session.say(NONE_OF_THEM))
        none.setAccessibleName(f"{self.title}: {none.text()}")
        none.clicked.connect(self._give_none)
        grid.addWidget(none, row + (across == 1), 0)

    def _pressed(self, option: str) -> None:
        self._touched = True
        if self._many:
            return
        self._check(frozenset({option}))
        self.given.emit(option, "")

    def _check(self, options: frozenset[str]) -> None:
        for name, one in self.keys.items():
            one.setChecked(name in options)

    def _picked(self) -> frozenset[str]:
        return frozenset(name for name, one in self.keys.items() if one.isChecked())

    def _give_many(self) -> None:
        self._touched = True
        self.given.emit(", ".join(sorted(self._picked())) or "none", "")

    def _give_none(self) -> None:
        self._touched = True
        self._check(frozenset())
        self.given.emit("none", "")

    def touched(self) -> bool:
        return self._touched

    def text(self) -> str:
        now = self._picked()
        if now == self._before or not (now or self._many):
            return ""
        return ", ".join(sorted(now)) or "none"

    def show_draft(self, text: str, unit: str) -> None:
        self._check(frozenset(word.strip() for word in text.split(",")))


class Done(Editor):
    """One key to say that a thing is done and seen."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.done = key(session.say(msg("done, and seen by {name}", name=session.who)), "option")
        self.done.setCheckable(True)
        self.done.setChecked(entry is not None)
        self.done.setAccessibleName(f"{self.title}: {self.done.text()}")
        self.done.clicked.connect(lambda: self.given.emit("done", ""))
        column.addWidget(self.done)
        column.addStretch()
        self.first = self.done

    def text(self) -> str:
        return "done" if self.entry is None and self.done.isChecked() else ""

    def show_draft(self, text: str, unit: str) -> None:
        self.done.setChecked(True)
