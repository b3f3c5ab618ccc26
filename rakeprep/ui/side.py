"""The side of a step's page: its tasks as a list, or the picture that goes with the task in hand."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.text import msg
from rakeprep.ui.bodies import body_for
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.fields.editor import key
from rakeprep.ui.session import Session
from rakeprep.ui.task_list import TaskList

LIST = msg("as a list")
PICTURE = msg("as a picture")


class Side(QWidget):
    """List and picture; ``chosen`` tells which task is wanted, in whichever way."""

    chosen = Signal(object)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.tasks = TaskList(session)
        self.tasks.chosen.connect(self.chosen)
        self.body: Body | None = None
        self._shown: tuple[OpenJob, Slot] | None = None
        self.picture_key, self.list_key = key(session.say(PICTURE), "small"), key(session.say(LIST), "small")
        self._keys = QWidget()
        self._keys.setMinimumHeight(session.size.row + 4)  # the frame of a chosen key is thicker
        row = QHBoxLayout(self._keys)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for button, pictures in ((self.picture_key, True), (self.list_key, False)):
            button.setCheckable(True)
            button.clicked.connect(lambda _=False, wanted=pictures: self._prefer(wanted))
            row.addWidget(button)
        row.addStretch()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._column.addWidget(self._keys)
        self._column.addWidget(self.tasks, 1)
        self.setMinimumWidth(322)

    @property
    def front(self) -> QWidget:
        """What is in front now: the list or the picture."""
        return self.tasks if self.body is None else self.body

    def show_job(self, job: OpenJob, slot: Slot) -> None:
        """Show the tasks of a step with one of them in hand."""
        self._shown = (job, slot)
        self.tasks.show_states(job.assessment.of_step(slot.step), job.record, slot)
        wanted = body_for(slot)
        self._keys.setVisible(wanted is not None)
        self._take(wanted if self._session.pictures else None)
        self.tasks.setVisible(self.body is None)
        self.picture_key.setChecked(self.body is not None)
        self.list_key.setChecked(self.body is None)
        if self.body is not None:
            self.body.show_job(job, slot)

    def _take(self, wanted: type[Body] | None) -> None:
        """Put the wanted picture in front, and the one before away."""
        if wanted is not None and type(self.body) is wanted:
            return
        if self.body is not None:
            self._column.removeWidget(self.body)
            self.body.hide()
            self.body.deleteLater()
            self.body = None
        if wanted is not None:
            self.body = wanted(self._session)
            self.body.chosen.connect(self.chosen)
            self._column.addWidget(self.body, 1)

    def _prefer(self, pictures: bool) -> None:
        self._session.pictures = pictures
        if self._shown is not None:
            self.show_job(*self._shown)
