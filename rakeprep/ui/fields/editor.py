"""What every editor offers, and the choice of the right one."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from rakeprep.jobs.assess import Task
from rakeprep.model.entry import Entry
from rakeprep.ui.session import Session


class Editor(QWidget):
    """An editor of one answer.

    ``given`` tells a complete answer as text, with the unit assumed; ``text`` is what stands in the editor
    now. An editor never judges: it hands on what was typed.
    """

    given = Signal(str, str)

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

    def show_draft(self, text: str) -> None:
        """Put back what could not be read before."""

    def give(self) -> None:
        """Give what stands here now, if anything new does."""
        text = self.text()
        if text:
            self.given.emit(text, self.unit())
