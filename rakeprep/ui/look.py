"""How the window looks: a key for it that a gloved finger can press, and the choice of last time."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QMenu

from rakeprep.text import msg
from rakeprep.ui.keys import Key
from rakeprep.ui.session import Session
from rakeprep.ui.theme import BRIGHT, DESK, LETTERS, SIZES, THEMES, Size, Theme

LONGEST_FILE = 1000  # bytes
LOOK = msg("look…")


@dataclass(frozen=True)
class Look:
    """Theme and size; the size is for a screen of 96 dots per inch."""

    theme: Theme = BRIGHT
    size: Size = DESK


class LookKey(Key):
    """Opens a menu of what its window can do about its looks."""

    def __init__(self, session: Session, name: str = "") -> None:
        super().__init__(session.say(LOOK), name)
        self.menu_of_looks = QMenu(self)
        self.menu_of_looks.setAccessibleName(session.say(LOOK))
        self.clicked.connect(self._open)

    def _open(self) -> None:
        self.menu_of_looks.clear()
        self.menu_of_looks.addActions(self.window().actions())
        self.menu_of_looks.popup(self.mapToGlobal(QPoint(0, self.height())))


def file_in(folder: Path) -> Path:
    """Where the looks are kept."""
    return folder / "look.json"


def read(folder: Path) -> Look:
    """The looks of last time; the usual ones for a file that is missing or damaged."""
    import json

    try:
        with file_in(folder).open("rb") as stream:
            text = stream.read(LONGEST_FILE + 1)
        told = json.loads(text) if len(text) <= LONGEST_FILE else {}
        theme, size, letters = THEMES[told["theme"]], SIZES[told["size"]], told["letters"]
        return Look(theme, size.at(LETTERS[LETTERS.index(letters)]))
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return Look()


def keep(folder: Path, theme: Theme, size: Size) -> None:
    """Keep the looks for the next time; quietly nothing where that is not possible."""
    import json

    told = {"theme": theme.name, "size": size.name, "letters": size.percent}
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        file_in(folder).write_text(json.dumps(told), encoding="utf-8")
