"""What stands under the findings of a task: what was said before, why it is changed, which tractor it is."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Ask
from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.fields.why import Why
from rakeprep.ui.labels import wrapped
from rakeprep.ui.other_tractor import OTHER_TRACTOR
from rakeprep.ui.said_before import said_before
from rakeprep.ui.session import Session

TRACTOR = "tractor"  # what a question rests on whose answer is another one on another tractor


class UnderFindings(QWidget):
    """Of one task at a time; ``other_tractor`` is asked for where the answer rests on the tractor."""

    other_tractor = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.before = wrapped("", "quiet")
        self.why = Why(session)
        self._tractor = wrapped("", "quiet")
        change = key(session.say(OTHER_TRACTOR), "small")
        change.clicked.connect(self.other_tractor)
        self._tractor_row = QWidget()
        row = QHBoxLayout(self._tractor_row)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._tractor, 1)
        row.addWidget(change)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        for widget in (self.before, self.why, self._tractor_row):
            column.addWidget(widget)

    def show_task(self, job: OpenJob, slot: Slot, answerable: bool, reason: str = "") -> None:
        """Show what belongs to a task; ``answerable`` is false while its cautions are not read, ``reason``
        is what was begun to be said of a change."""
        field, entry = job.tasks[slot].field, job.record.entries.get(slot)
        self.before.setText(self._session.say(said_before(field, job.record.history.get(slot, ()))))
        self.before.setVisible(entry is not None)
        self.why.line.setText(reason)
        self.why.setVisible(answerable and changeable(field.ask, entry))
        self._tractor_row.setVisible(TRACTOR in field.rests_on and job.record.sealed is None)
        name = job.record.opening.tractor_name
        self._tractor.setText(self._session.say(msg("This rests on the tractor: {tractor}.", tractor=name)))

    def reason(self) -> str:
        """Why the answer is changed, where that is said."""
        return "" if self.why.isHidden() else self.why.text()


def changeable(ask: Ask, entry: Entry | None) -> bool:
    """Whether there is an answer that could be changed into another."""
    return entry is not None and entry.how is How.VALUE and ask not in {Ask.DONE, Ask.PHOTO}
