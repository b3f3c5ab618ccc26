"""The side of a step's page: its tasks as a list, the picture of the task in hand, or keys for a number."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.text import msg
from rakeprep.ui.bodies import body_for
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.fields.editor import key
from rakeprep.ui.fields.pad import Pad
from rakeprep.ui.session import Session
from rakeprep.ui.task_list import TaskList

LIST = msg("as a list")
PICTURE = msg("as a picture")
DIGITS = "123"
NUMBER_KEYS = msg("number keys")
LEAST = 322  # px; width


class Side(QWidget):
    """List and picture; ``chosen`` tells which task is wanted, in whichever way.

    ``keys`` choose between them; they stand where the page has room for them. The pad of keys for a number
    comes here where it has no room under the question.
    """

    chosen = Signal(object)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.tasks = TaskList(session)
        self.tasks.chosen.connect(self.chosen)
        self.body: Body | None = None
        self._shown: tuple[OpenJob, Slot] | None = None
        self._pad: Pad | None = None
        self._wants_pad = self._has_picture = False
        self._looks = self._pad_alone = False  # at list or picture, though the pad is wanted; instead of them
        self.keys = QWidget()
        self.keys.setMinimumHeight(session.size.row + 4)  # the frame of a chosen key is thicker
        row = QHBoxLayout(self.keys)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        self.picture_key = self._key(row, session.say(PICTURE), lambda: self._prefer(True))
        self.list_key = self._key(row, session.say(LIST), lambda: self._prefer(False))
        self.pad_key = self._key(row, DIGITS, self._back_to_pad)
        self.pad_key.setAccessibleName(session.say(NUMBER_KEYS))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        self._column.addWidget(self.tasks, 1)
        self.setMinimumWidth(LEAST)

    def _key(self, row: QHBoxLayout, words: str, action: Callable[[], None]) -> QPushButton:
        made = key(words, "small")
        made.setCheckable(True)
        made.clicked.connect(action)
        row.addWidget(made, 0, Qt.AlignmentFlag.AlignVCenter)
        return made

    def keep_keys(self) -> None:
        """The keys above what they choose, where no other place has room for them."""
        self._column.insertWidget(0, self.keys, 0, Qt.AlignmentFlag.AlignLeft)

    def lodges(self, pad: Pad, alone: bool) -> bool:
        """Whether the pad stands here already, and in this way."""
        return self._pad is pad and self._pad_alone is alone

    def lodge(self, pad: Pad, alone: bool) -> None:
        """Take the pad in: below list or picture, or ``alone`` instead of them where both have no room."""
        if self._pad is None:
            self._column.addWidget(pad, 0, Qt.AlignmentFlag.AlignTop)
        self._pad, self._pad_alone = pad, alone
        pad.set_upright(alone)
        self.setMinimumWidth(max(LEAST, pad.widest()))

    def show_pad(self, wanted: bool) -> None:
        """Bring the pad to the front where it stands here and a number is asked for, until another is."""
        self._looks = False
        self._wants_pad = wanted
        self._show_front()

    def _back_to_pad(self) -> None:
        self.show_pad(True)

    def _show_front(self) -> None:
        """Of picture, list and pad only what is in front."""
        lodged = self._pad is not None and self._wants_pad
        pad = lodged and self._pad_alone and not self._looks
        if self._pad is not None:
            self._pad.setVisible(pad or (lodged and not self._pad_alone))
        self.tasks.setVisible(not pad and self.body is None)
        if self.body is not None:
            self.body.setVisible(not pad)
        self.pad_key.setVisible(lodged and self._pad_alone)
        self.picture_key.setVisible(self._has_picture)
        self.keys.setVisible(not self.isHidden() and (self._has_picture or not self.pad_key.isHidden()))
        self.pad_key.setChecked(pad)
        self.picture_key.setChecked(not pad and self.body is not None)
        self.list_key.setChecked(not pad and self.body is None)

    @property
    def front(self) -> QWidget:
        """What is in front now: the list or the picture."""
        return self.tasks if self.body is None else self.body

    def show_job(self, job: OpenJob, slot: Slot) -> None:
        """Show the tasks of a step with one of them in hand."""
        self._shown = (job, slot)
        wanted = body_for(slot)
        self._has_picture = wanted is not None
        self._take(wanted if self._session.pictures else None)
        if self.body is None:
            self.tasks.show_states(job.assessment.of_step(slot.step), job.record, slot)
        else:
            self.body.show_job(job, slot)
        self._show_front()

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
            self._column.insertWidget(self._column.indexOf(self.tasks) + 1, self.body, 1)

    def _prefer(self, pictures: bool) -> None:
        self._session.pictures, self._looks = pictures, True
        if self._shown is not None:
            self.show_job(*self._shown)
