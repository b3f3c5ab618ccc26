"""Choosing a machine's or a tractor's data file in a form."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QWidget

from rakeprep.text import Message, msg
from rakeprep.ui.choice import Choice
from rakeprep.ui.fields.editor import key
from rakeprep.ui.session import Session

OTHER_FILE = msg("other file…")


def own_files(session: Session, kind: str) -> list[Path]:
    """The workshop's own data files, which come before the samples."""
    folder = session.data / kind
    return sorted(folder.glob("*.toml")) if folder.is_dir() else []


def file_box(paths: Iterable[Path]) -> QComboBox:
    """A box with these files; the data of each row is its path."""
    box = Choice()
    for path in paths:
        box.addItem(path.stem.replace("-", " "), path)
    return box


def with_browse(session: Session, box: QComboBox, name: Message) -> QWidget:
    """The box with a key beside it that puts any other file in front."""
    box.setAccessibleName(session.say(name))
    button = key(session.say(OTHER_FILE), "small")
    button.setAccessibleName(f"{session.say(name)}: {button.text()}")

    def browse() -> None:
        found = session.dialogs.open_file(name, session.profiles, "TOML (*.toml)")
        if found is not None:
            box.insertItem(0, found.name, found)
            box.setCurrentIndex(0)

    button.clicked.connect(browse)
    whole = QWidget()
    row = QHBoxLayout(whole)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(box, 1)
    row.addWidget(button)
    return whole
