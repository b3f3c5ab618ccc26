"""Editors for what is picked: one option, several, a thing done, a picture."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout

from rakeprep.jobs.assess import Task
from rakeprep.model.entry import Entry
from rakeprep.model.field import Ask, Option
from rakeprep.text import msg
from rakeprep.ui.fields.editor import Editor
from rakeprep.ui.session import Session

STORE = msg("store")
NONE_OF_THEM = msg("none of them")
CHOOSE_PICTURE = msg("choose a picture…")


class Picked(Editor):
    """Big keys, one for each option. Of one choice a press gives it; of many, ``store`` does."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        self._many = task.field.ask is Ask.MANY
        self._before = frozenset() if entry is None else entry.chosen
        self._answered = entry is not None
        self.keys: dict[str, QPushButton] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(8)
        options = task.field.options
        across = 1 if max((len(session.say(o.label)) for o in options), default=0) > 26 else 2
        for number, option in enumerate(options):
            grid.addWidget(self._key(option), number // across, number % across)
        if self._many:
            self._add_store(grid, len(options) // across + 1, across)
        grid.setRowStretch(grid.rowCount(), 1)
        if self.keys:
            chosen = [self.keys[k] for k in self._before if k in self.keys]
            self.setFocusProxy((chosen or list(self.keys.values()))[0])

    def _key(self, option: Option) -> QPushButton:
        key = QPushButton(self.session.say(option.label))
        key.setObjectName("option")
        key.setCheckable(True)
        key.setChecked(option.key in self._before)
        key.setAccessibleName(f"{self.title}: {key.text()}")
        key.setAutoDefault(True)
        key.clicked.connect(lambda: self._pressed(option.key))
        self.keys[option.key] = key
        return key

    def _add_store(self, grid: QGridLayout, row: int, across: int) -> None:
        store = QPushButton(self.session.say(STORE))
        store.setAccessibleName(f"{self.title}: {store.text()}")
        store.clicked.connect(self._give_many)
        grid.addWidget(store, row, across - 1)
        none = QPushButton(self.session.say(NONE_OF_THEM))
        none.setAccessibleName(f"{self.title}: {none.text()}")
        none.clicked.connect(self._give_none)
        grid.addWidget(none, row + (across == 1), 0)

    def _pressed(self, option: str) -> None:
        if self._many:
            return
        for name, key in self.keys.items():
            key.setChecked(name == option)
        self.given.emit(option, "")

    def _picked(self) -> frozenset[str]:
        return frozenset(name for name, key in self.keys.items() if key.isChecked())

    def _give_many(self) -> None:
        self.given.emit(", ".join(sorted(self._picked())) or "none", "")

    def _give_none(self) -> None:
        for key in self.keys.values():
            key.setChecked(False)
        self.given.emit("none", "")

    def text(self) -> str:
        now = self._picked()
        changed = self._many and now != self._before
        return (", ".join(sorted(now)) or "none") if changed else ""


class Done(Editor):
    """One key to say that a thing is done and seen."""

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        key = QPushButton(session.say(msg("done, and seen by {name}", name=session.who)))
        key.setObjectName("option")
        key.setCheckable(True)
        key.setChecked(entry is not None)
        key.setAccessibleName(f"{self.title}: {key.text()}")
        key.clicked.connect(lambda: self.given.emit("done", ""))
        column.addWidget(key)
        column.addStretch()
        self.setFocusProxy(key)


class Picture(Editor):
    """A picture from a file, such as a folder that a camera fills."""

    picture = Signal(object)

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__(session, task, entry)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        if entry is not None:
            column.addWidget(QLabel(entry.reason))
        key = QPushButton(session.say(CHOOSE_PICTURE))
        key.setAccessibleName(f"{self.title}: {key.text()}")
        key.clicked.connect(self._choose)
        column.addWidget(key, 0, Qt.AlignmentFlag.AlignTop)
        column.addStretch()
        self.setFocusProxy(key)

    def _choose(self) -> None:
        pictures = self.session.say(msg("Pictures"))
        found: Path | None = self.session.dialogs.open_file(
            self.task.field.label, Path.home(), f"{pictures} (*.jpg *.jpeg *.png)"
        )
        if found is not None:
            self.picture.emit(found)
