"""A later visit to a closed job: what it is for, and what it begins with."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from rakeprep.jobs.chapters import KINDS, Kind
from rakeprep.jobs.open_job import OpenJob, UnreadableData
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.refit import refit
from rakeprep.jobs.starting import DataRefused
from rakeprep.model.chapter import HANDOVER
from rakeprep.model.place import Place
from rakeprep.profiles import sample_tractors
from rakeprep.store.job_file import StoreError
from rakeprep.text import Message, msg
from rakeprep.ui.data_files import file_box, own_files, with_browse
from rakeprep.ui.fields.editor import key
from rakeprep.ui.flow import Flow
from rakeprep.ui.labels import beside, wrapped
from rakeprep.ui.session import Session

TRACTOR = msg("The other tractor")
OWNER = msg("The new owner")
WHERE = msg("At which arms")
WHY = msg("Why, in a few words")


class Kinds(QListWidget):
    """The kinds of visit; the chosen one stays in sight when the form below takes more room."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.currentItem() is not None:
            self.scrollToItem(self.currentItem())


class Places(QWidget):
    """The places among which a chapter is told where it happens: a key for each, as many as one likes."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.keys: dict[str, QPushButton] = {}
        self._flow = Flow(6)
        self._flow.setContentsMargins(0, 0, 0, 0)
        self.setLayout(self._flow)

    def offer(self, places: Sequence[Place]) -> None:
        """Offer these places, none of them chosen: nobody repairs an arm that was merely the first."""
        for old in self.keys.values():
            self._flow.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.keys = {place.key: key(place.key, "small") for place in places}
        for place in places:
            made = self.keys[place.key]
            made.setCheckable(True)
            made.setAccessibleName(self._session.say(place.name))
            self._flow.addWidget(made)

    def chosen(self) -> tuple[str, ...]:
        """The codes of those that are chosen."""
        return tuple(code for code, made in self.keys.items() if made.isChecked())


class ChapterPage(QWidget):
    """Choose what the visit is for; ``begun`` when the chapter has begun, ``closed`` goes back."""

    begun = Signal()
    closed = Signal()

    def __init__(self, session: Session, job: OpenJob) -> None:
        super().__init__()
        self.session, self.job = session, job
        say = session.say
        title = QLabel(say(msg("A later visit")))
        title.setObjectName("title")
        about = msg(
            "What was handed over stays as it is. A visit is a chapter of its own: only what it asks for is "
            "done again, the old reading stands beside the new one, and it gets its own document."
        )
        self.kinds = Kinds()
        self.kinds.setAccessibleName(say(msg("What the visit is for")))
        self.kinds.setWordWrap(True)
        self.kinds.setSpacing(2)
        self.kinds.setResizeMode(QListView.ResizeMode.Adjust)
        self.kinds.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.kinds.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for kind in KINDS.values():
            if kind.key != HANDOVER:
                line = msg("{kind}: {about}", kind=kind.title, about=kind.about)
                item = QListWidgetItem(say(line))
                item.setData(Qt.ItemDataRole.UserRole, kind.key)
                self.kinds.addItem(item)
        self.places, self.owner, self.reason = Places(session), QLineEdit(), QLineEdit()
        self.tractor = file_box([*own_files(session, "tractors"), *sample_tractors()])
        self._rows: dict[str, tuple[QLabel, QWidget]] = {}
        self.refusal = wrapped("", "refusal")
        self.begin = key(say(msg("begin ▸")), "forward")
        self.begin.clicked.connect(self._begin)
        back = key(say(msg("◂ back")))
        back.clicked.connect(self.closed)
        row = QHBoxLayout()
        row.addWidget(back)
        row.addStretch()
        row.addWidget(self.begin)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(10)
        column.addWidget(title)
        column.addWidget(wrapped(say(about)))
        column.addWidget(self.kinds, 1)
        column.addLayout(self._form())
        column.addWidget(self.refusal)
        column.addLayout(row)
        self.kinds.currentItemChanged.connect(self._show_rows)
        self.kinds.setCurrentRow(0)

    def _form(self) -> QFormLayout:
        form = QFormLayout()
        form.setVerticalSpacing(8)
        with_files = with_browse(self.session, self.tractor, TRACTOR)
        for name, text, named, shown in (
            ("places", WHERE, self.places, self.places),
            ("owner", OWNER, self.owner, self.owner),
            ("tractor", TRACTOR, self.tractor, with_files),
            ("reason", WHY, self.reason, self.reason),
        ):
            label = beside(self.session.say(text), self.session.size)
            label.setBuddy(named)
            named.setAccessibleName(self.session.say(text))
            form.addRow(label, shown)
            self._rows[name] = (label, shown)
        return form

    def focus_first(self) -> None:
        """Put the keyboard where the work begins."""
        self.kinds.setFocus()

    def put_away(self) -> None:
        """Nothing to keep: a chapter that was not begun is none."""

    @property
    def kind(self) -> Kind:
        """The kind of chapter that is chosen."""
        return KINDS[self.kinds.currentItem().data(Qt.ItemDataRole.UserRole)]

    def _show_rows(self) -> None:
        """Ask only for what this kind begins with."""
        kind = self.kind
        wanted = {
            "places": bool(kind.at_places),
            "owner": kind.customer,
            "tractor": kind.tractor,
            "reason": True,
        }
        for name, widgets in self._rows.items():
            for widget in widgets:
                widget.setVisible(wanted[name])
        self.places.offer(self.job.places_for(kind))
        self.refusal.setText("")

    def _begin(self) -> None:
        kind = self.kind
        try:
            self.job.begin_chapter(
                kind.key,
                self.session.who,
                self.reason.text().strip() or self.session.say(kind.title),
                self.places.chosen(),
                self.owner.text() if kind.customer else "",
                self._chosen_tractor() if kind.tractor else None,
            )
        except (Refused, StoreError, UnreadableData, DataRefused) as error:
            self._refuse(error.message)
            return
        self.begun.emit()

    def _chosen_tractor(self) -> tuple[str, str] | None:
        file: Path | None = self.tractor.currentData()
        if file is None:
            return None
        found = refit(self.job, file)
        return found.name, found.text

    def _refuse(self, message: Message) -> None:
        self.refusal.setText(self.session.say(message))
