"""What every editor offers, and the choice of the right one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from rakeprep.ui.keys import Key
from rakeprep.ui.session import Session

if TYPE_CHECKING:  # the first window has keys but no questions yet
    from rakeprep.jobs.assess import Task
    from rakeprep.model.entry import Entry


def key(text: str, name: str = "") -> Key:
    """A key that answers to Enter as well as to the space bar."""
    return Key(text, name)


class Editor(QWidget):
    """An editor of one answer.

    ``given`` tells a complete answer as text, with the unit assumed; ``text`` is what stands in the editor
    now, and ``edited`` tells that it is another one. An editor never judges: it hands on what was typed.
    """

    given = Signal(str, str)
    edited = Signal()
    first: QWidget | None = None  # where the keyboard begins

    def __init__(self, session: Session, task: Task, entry: Entry | None) -> None:
        super().__init__()
        self.session, self.task, self.entry = session, task, entry
        self.title = session.say(task.field.label)

    def text(self) -> str:
        """What stands in the editor and was not given yet; empty when there is nothing new."""
        return ""

    def unit(self) -> str:
        """The unit that is assumed where none was typed."""
        return ""

    def touched(self) -> bool:
        """Whether somebody typed or pressed here, even if it is what stood there before."""
        return False

    def instrument(self) -> str:
        """What it was measured with, if that is asked here."""
        return ""

    def show_draft(self, text: str, unit: str) -> None:
        """Put back what could not be stored before."""
