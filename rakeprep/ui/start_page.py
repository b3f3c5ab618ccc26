"""The first page: jobs on this computer, and a new one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rakeprep.store.errors import StoreError
from rakeprep.store.shelf import JobSummary, jobs_in
from rakeprep.text import Message, msg, plural, verbatim
from rakeprep.ui.fields.editor import key
from rakeprep.ui.flow import Flow
from rakeprep.ui.labels import wrapped
from rakeprep.ui.look import LookKey
from rakeprep.ui.session import Session

if TYPE_CHECKING:
    from rakeprep.ui.making import Making

SAFETY = msg(
    "This program helps to think; it does not replace the machine's own book, local law, or somebody "
    "licensed where the law asks for one. If they differ, they come first."
)
FROM_DOCUMENT = msg("from a document…")


class StartPage(QWidget):
    """Choose a job, or begin one."""

    open_job = Signal(object)
    new_job = Signal()
    work_out = Signal()
    from_document = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        say = session.say
        title = wrapped(say(msg("Which machine are you working on?")), "title")
        self.list = QListWidget()
        self.list.setAccessibleName(say(msg("Jobs on this computer")))
        self.list.setWordWrap(True)
        self.list.setSpacing(3)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.itemActivated.connect(self._activated)
        self.open_button = key(say(msg("continue this job")), "forward")
        self.open_button.clicked.connect(self._continue)
        self.new_button = key(say(msg("new job…")))
        self.new_button.clicked.connect(self.new_job)
        sums = key(say(msg("work something out")))
        sums.clicked.connect(self.work_out)
        document = key(say(FROM_DOCUMENT))
        document.clicked.connect(self.from_document)
        self.forms = key(say(msg("empty forms…")))
        self.forms.clicked.connect(self._empty_forms)
        self.making: Making | None = None
        self.result = wrapped("", "heading")
        self.result.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.result.hide()
        row = Flow(10, at_end=1)
        row.setContentsMargins(0, 0, 0, 0)
        for button in (self.new_button, sums, document, self.forms, self.open_button):
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(60, 30, 60, 24)
        column.setSpacing(14)
        top = QHBoxLayout()
        top.addWidget(title, 1)
        top.addWidget(LookKey(session))
        column.addLayout(top)
        column.addWidget(self.list, 1)
        column.addWidget(self.result)
        column.addLayout(row)
        column.addWidget(wrapped(say(SAFETY), "quiet"))
        self._fill()

    def _fill(self) -> None:
        say = self.session.say
        try:
            found = jobs_in(self.session.jobs) if self.session.jobs.is_dir() else []
        except StoreError as error:
            self._say_only(error.message)
            return
        for summary in sorted(found, key=lambda s: s.last_at or "", reverse=True):
            item = QListWidgetItem(say(described(summary)))
            item.setData(Qt.ItemDataRole.UserRole, summary.path)
            self.list.addItem(item)
        self.open_button.setEnabled(bool(found))
        if found:
            self.list.setCurrentRow(0)
        else:
            self._say_only(msg("No job on this computer yet. Begin with “new job”."))

    def focus_first(self) -> None:
        """Put the keyboard where the work begins."""
        (self.list if self.open_button.isEnabled() else self.new_button).setFocus()

    def _empty_forms(self) -> None:
        """Make the forms of a machine without a job."""
        from rakeprep.ui.empty_forms import asked
        from rakeprep.ui.making import BEING_WRITTEN

        making = asked(self.session)
        if making is None:
            return
        self.making = making
        self.forms.setEnabled(False)
        self._show_result(BEING_WRITTEN)
        making.ended.connect(self._forms_made)
        making.start()

    def _forms_made(self, says: Message) -> None:
        self.forms.setEnabled(True)
        self._show_result(says)

    def _show_result(self, says: Message) -> None:
        self.result.setText(self.session.say(says))
        self.result.show()

    def _say_only(self, message: Message) -> None:
        """A sentence in place of jobs."""
        item = QListWidgetItem(self.session.say(message))
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        self.list.addItem(item)
        self.open_button.setEnabled(False)

    def _activated(self, item: QListWidgetItem) -> None:
        path: Path | None = item.data(Qt.ItemDataRole.UserRole)
        if path is not None:
            self.open_job.emit(path)

    def _continue(self) -> None:
        item = self.list.currentItem()
        if item is not None:
            self._activated(item)


def described(summary: JobSummary) -> Message:
    """A job in one or two lines."""
    if summary.problem is not None:
        return msg("{name}: {problem}", name=summary.path.name, problem=summary.problem)
    first = summary.first or {}
    return msg(
        "{job} · {machine} · for {customer} · on {tractor}\n{count}, last {last}",
        job=str(first.get("job", summary.path.stem)),
        machine=str(first.get("profile_name", "")),
        customer=str(first.get("customer", "")),
        tractor=str(first.get("tractor_name", "")),
        count=plural("one entry", "{count} entries", summary.count),
        last=verbatim((summary.last_at or "").replace("T", " ")[:16]),
    )
