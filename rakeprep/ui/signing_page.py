"""What stands between this job and the customer, and the signatures under the open points."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QListWidget,
    QListWidgetItem,
    QProgressBar,
    QVBoxLayout,
    QWidget,
)

from rakeprep.handover.complete import written_again
from rakeprep.jobs.assess import Gate, Readiness
from rakeprep.jobs.chapters import kind_of, roles_of
from rakeprep.jobs.open_job import ROLE_WORDS, OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.model.chapter import HANDOVER
from rakeprep.model.field import USE_WORDS
from rakeprep.store.job_file import StoreError
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.ui.fields.editor import key
from rakeprep.ui.flow import RowOrColumn
from rakeprep.ui.labels import wrapped
from rakeprep.ui.sealing import Sealing
from rakeprep.ui.session import Session
from rakeprep.ui.signature_pad import SignaturePad
from rakeprep.ui.symbols import symbol_icon

DECLARES = {
    "technician": msg("I prepared and measured it as written."),
    "checker": msg("I looked at what cannot be undone."),
    "customer": msg("I received it, and know the open points."),
}
SEAL = msg("seal, and make the document")
LATER_VISIT = msg("a later visit ▸")


class SigningPage(QWidget):
    """The last page of a job."""

    go = Signal(object)
    stored = Signal()
    later = Signal()

    def __init__(self, session: Session, job: OpenJob) -> None:
        super().__init__()
        self.session, self.job = session, job
        self.sealing: Sealing | None = None
        say = session.say
        chapter = kind_of(job.record.chapter)
        handover = chapter.key == HANDOVER
        title = QLabel(say(msg("Handover") if handover else msg("Visit, {chapter}", chapter=chapter.title)))
        title.setObjectName("title")
        self._state = wrapped("", "heading")
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.setTextElideMode(Qt.TextElideMode.ElideNone)
        self.list.setSpacing(2)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.itemActivated.connect(self._activated)
        self.list.itemClicked.connect(self._activated)
        self.boxes = {role: SignatureBox(session, role) for role in roles_of(job.record.chapter)}
        self._signing = RowOrColumn(10)
        for role, box in self.boxes.items():
            box.sign.clicked.connect(lambda _=False, who=role: self.sign(who))
            self._signing.add(box)
        self.result = wrapped("", "heading")
        self.result.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.progress = QProgressBar()
        self.progress.setRange(0, 0)
        self.progress.hide()
        self.seal = key(say(SEAL), "forward")
        self.seal.clicked.connect(self.make)
        self.visit = key(say(LATER_VISIT), "forward")
        self.visit.clicked.connect(self.later)
        self.again = key(say(msg("the document once more…")))
        self.again.clicked.connect(self.write_again)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 14, 8)
        column.setSpacing(8)
        column.addWidget(title)
        column.addWidget(self._state)
        column.addWidget(self.list, 1)
        column.addWidget(self._signing, 1)
        column.addWidget(self.result)
        column.addWidget(self.progress)
        column.addStretch()
        last = QHBoxLayout()
        last.addStretch()
        for button in (self.again, self.seal, self.visit):
            last.addWidget(button)
        column.addLayout(last)
        self.refresh()

    def put_away(self) -> None:
        """Nothing to keep: a signature that was not given is not taken."""

    def focus_first(self) -> None:
        """Put the keyboard where the work begins."""
        if self.job.record.sealed:
            self.visit.setFocus()
        elif self.list.isHidden():
            self.boxes["technician"].name.setFocus()
        else:
            self.list.setFocus()

    def take_over(self, other: SigningPage) -> None:
        """Put in what stands unsigned on another page."""
        for role, box in self.boxes.items():
            its = other.boxes[role]
            box.name.setText(its.name.text())
            box.typed.setChecked(its.typed.isChecked())
            box.pad.show_strokes(its.pad.strokes)

    def refresh(self) -> None:
        """Show what follows from the record now."""
        say, gate = self.session.say, self.job.assessment.gate
        restored, sealed = self.job.file.restored, self.job.record.sealed is not None
        ready = gate.readiness is not Readiness.NOT_READY
        closed = BROUGHT_BACK if restored else CLOSED if sealed else None
        self._state.setText(say(closed or heading(gate)))
        self._fill(gate)
        self._signing.setVisible(ready)
        for role, box in self.boxes.items():
            box.show_signed(self.job.record.signatures.get(role), closed is not None)
        self.seal.setVisible(ready and closed is None)
        self.seal.setEnabled(not self.job.missing_signatures())
        self.visit.setVisible(sealed and not restored)
        self.again.setVisible(sealed and not restored)

    def _fill(self, gate: Gate) -> None:
        say, theme = self.session.say, self.session.theme
        self.list.clear()
        self.list.setVisible(bool(gate.obstacles or gate.open_points))
        ready = gate.readiness is not Readiness.NOT_READY
        self.list.setAccessibleName(
            say(msg("Open points") if ready else msg("What stands between this job and the customer"))
        )
        if ready:
            for number, point in enumerate(gate.open_points, start=1):
                item = QListWidgetItem(say(point_line(number, point.says, point.reason, point.due)))
                item.setData(Qt.ItemDataRole.UserRole, point.slot)
                self.list.addItem(item)
            return
        for obstacle in sorted(gate.obstacles, key=lambda o: -o.verdict.rank):
            line = say(msg("{verdict}: {says}", verdict=obstacle.verdict.word, says=obstacle.says))
            item = QListWidgetItem(symbol_icon(obstacle.verdict, theme), line)
            item.setData(Qt.ItemDataRole.UserRole, obstacle.slot)
            self.list.addItem(item)

    def _activated(self, item: QListWidgetItem) -> None:
        self.go.emit(item.data(Qt.ItemDataRole.UserRole))

    def sign(self, role: str) -> None:
        """Take the signature of one role."""
        box = self.boxes[role]
        typed = box.typed.isChecked()
        try:
            self.job.sign(role, box.name.text(), () if typed else box.pad.strokes, typed)
        except (Refused, StoreError) as error:
            self.session.dialogs.tell(error.message)
            return
        self.refresh()
        self.stored.emit()

    def make(self) -> None:
        """Seal the job and write the document, without stopping the window."""
        folder = self.session.dialogs.folder(FOLDER, self.session.data / "documents")
        if folder is None:
            return
        self.sealing = Sealing(self.session, self.job, folder)
        if not self.sealing.prepare():
            return
        self.seal.setEnabled(False)
        self.progress.show()
        self.sealing.said.connect(self._progress)
        self.sealing.finished.connect(self._made)
        self.sealing.failed.connect(self._failed)
        self.sealing.start()

    def write_again(self) -> None:
        """Put the documents of a closed job into a folder once more, as they were sealed."""
        folder = self.session.dialogs.folder(FOLDER, self.session.data / "documents")
        if folder is None:
            return
        try:
            paths = written_again(self.job, folder)
        except (Refused, StoreError) as error:
            self.result.setText(self.session.say(error.message))
            return
        files = joined([verbatim(str(path)) for path in paths])
        self.result.setText(self.session.say(msg("Written: {file}", file=files)))

    def _progress(self, message: Message) -> None:
        self.result.setText(self.session.say(message))

    def _made(self, path: Path) -> None:
        self.progress.hide()
        self.result.setText(self.session.say(msg("Signed, sealed and verified: {file}", file=str(path))))
        self.refresh()
        self.stored.emit()

    def _failed(self, message: Message) -> None:
        self.progress.hide()
        self.result.setText(self.session.say(message))
        self.refresh()


FOLDER = msg("Folder for the document")
CLOSED = msg("This job is handed over and closed. What comes later is a visit with its own document.")
BROUGHT_BACK = msg("This job was brought back from its document. It can be read here, not changed.")


def heading(gate: Gate) -> Message:
    """How the job stands at the gate."""
    if gate.readiness is Readiness.NOT_READY:
        return msg("This stands between the job and the customer. Choose a line to go there.")
    if gate.barred:
        uses = joined([USE_WORDS[use] for use in sorted(gate.barred)])
        return msg("Ready with open points. Until they are closed the customer may not: {uses}.", uses=uses)
    if gate.open_points:
        return msg("Ready with the open points below. Everybody signs under them.")
    return msg("Ready, and no open points. Everybody signs.")


def point_line(number: int, says: Message, reason: str, due: str) -> Message:
    """One open point."""
    line = msg("{number}. {says}\n{reason}", number=number, says=says, reason=reason)
    return joined([line, verbatim(f"({due})")], by=" ") if due else line


class SignatureBox(QFrame):
    """Name, declaration and pad of one role."""

    def __init__(self, session: Session, role: str) -> None:
        super().__init__()
        self.setObjectName("panel")
        self._session = session
        say = session.say
        head = QLabel(say(ROLE_WORDS[role]))
        head.setObjectName("heading")
        self.name = QLineEdit()
        name = msg("{role}: name in print", role=ROLE_WORDS[role])
        self.name.setPlaceholderText(say(msg("name in print")))
        self.name.setAccessibleName(say(name))
        self.pad = SignaturePad(session, msg("{role}: signature", role=ROLE_WORDS[role]))
        self.typed = key(say(msg("cannot sign: name typed")), "small")
        self.typed.setCheckable(True)
        self.typed.setAccessibleName(say(msg("{role}: the typed name stands", role=ROLE_WORDS[role])))
        self.typed.toggled.connect(lambda on: self.pad.setVisible(not on))
        self.sign = key(say(msg("sign")), "sign")
        self.sign.setAccessibleName(say(msg("{role}: sign", role=ROLE_WORDS[role])))
        self.again = key(say(msg("wipe")), "small")
        self.again.setAccessibleName(say(msg("{role}: wipe the pad", role=ROLE_WORDS[role])))
        self.again.clicked.connect(self.pad.wipe)
        self.done = wrapped("", "quiet")
        buttons = QHBoxLayout()
        buttons.addWidget(self.again)
        buttons.addStretch()
        buttons.addWidget(self.sign)
        column = QVBoxLayout(self)
        declares = wrapped(say(DECLARES[role]))
        declares.setMinimumHeight(2 * declares.fontMetrics().lineSpacing())  # so that all boxes are alike
        declares.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        for widget in (head, declares, self.name):
            column.addWidget(widget)
        column.addWidget(self.pad, 1)
        column.addWidget(self.typed)
        column.addLayout(buttons)
        column.addWidget(self.done)
        column.addStretch()

    def show_signed(self, signature: object, closed: bool) -> None:
        """Show that this role has signed, or has yet to."""
        from rakeprep.model.job import Signature

        given = isinstance(signature, Signature)
        self.done.setText("")
        if isinstance(signature, Signature):
            self.name.setText(signature.name)
            self.pad.show_strokes(signature.strokes)
            self.done.setText(
                self._session.say(
                    msg("signed by {name}, {at}", name=signature.name, at=signature.at.astimezone())
                )
            )
        for widget in (self.name, self.pad, self.typed, self.sign, self.again):
            widget.setEnabled(not given and not closed)
        for button in (self.typed, self.sign, self.again):
            button.setHidden(given or closed)
