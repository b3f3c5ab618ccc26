"""The page of a step: its tasks, one of them open, and what the checks say about it."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractButton,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from rakeprep.jobs.assess import State
from rakeprep.jobs.flow import next_task, task_after, task_before, unsettled
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused, read
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.verdict import Verdict
from rakeprep.store.job_file import StoreError
from rakeprep.text import Message, joined, msg
from rakeprep.ui.cautions import CautionGate, caution_bar
from rakeprep.ui.fields.choose import editor_for
from rakeprep.ui.fields.editor import Editor, key
from rakeprep.ui.fields.picked import Picture
from rakeprep.ui.findings_panel import FindingsPanel
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session
from rakeprep.ui.side import Side

LATER = msg("leave for later…")
ABSENT = msg("not on this machine…")
BACK = msg("◂ back")
NEXT = msg("next ▸")
CONFIRM = msg("confirm with a second name…")
WHY_LATER = msg("Why is it left, and what happens with it? This stands on the customer's page.")
UNTIL_WHEN = msg("By when, and by whom? It may stay empty.")
WHY_ABSENT = msg("Why is there no such thing on this machine?")
WHO_CONFIRMS = msg("Who has looked at it with his own eyes?")


class StepPage(QWidget):
    """One step. Built when shown, deleted when left: it holds no value but the draft in its editor."""

    go = Signal(object)
    stored = Signal()
    moved = Signal()

    def __init__(self, session: Session, job: OpenJob, slot: Slot) -> None:
        super().__init__()
        self.setObjectName("page")
        self.session, self.job, self.slot = session, job, slot
        self.editor: Editor | None = None
        self._step = self.state.task.step
        self._last = wrapped("", "quiet")
        self._build()
        self.refresh()

    @property
    def state(self) -> State:
        """How the open task stands."""
        return self.job.assessment.states[self.slot]

    # ------------------------------------------------------------------ building

    def _build(self) -> None:
        say = self.session.say
        steps = self.job.assessment.steps
        title = QLabel(say(self._step.title))
        title.setObjectName("title")
        number = QLabel(say(msg("{n} of {all}", n=steps.index(self._step) + 1, all=len(steps))))
        number.setObjectName("quiet")
        about = wrapped(say(self._step.about), "quiet")
        head = QHBoxLayout()
        head.setSpacing(14)
        head.addWidget(title)
        head.addWidget(number, 0, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(about, 1, Qt.AlignmentFlag.AlignBottom)
        self.side = Side(self.session)
        self.side.chosen.connect(self.choose)
        self.tasks = self.side.tasks
        body = QHBoxLayout()
        body.setSpacing(12)
        body.addWidget(self.side, 5)
        body.addWidget(self._scrolled(), 7)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(8)
        column.addLayout(head)
        cautions = QHBoxLayout()
        cautions.setSpacing(8)
        for caution in self._step.cautions:
            cautions.addWidget(caution_bar(self.session, caution), 1)
        column.addLayout(cautions)
        column.addLayout(body, 1)
        column.addLayout(self._buttons())
        self._build_work()

    def _scrolled(self) -> QScrollArea:
        """The question with its editor and findings; it scrolls, so that no page widens the window."""
        inside = QWidget()
        inside.setObjectName("page")
        self._work = QVBoxLayout(inside)
        self._work.setContentsMargins(0, 0, 8, 0)
        self._work.setSpacing(8)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setAccessibleName(self.session.say(msg("The task in hand")))
        self.area.setWidget(inside)
        return self.area

    def _build_work(self) -> None:
        self._question = wrapped("", "question")
        self._where = wrapped("", "quiet")
        self._help = wrapped("")
        self._before = wrapped("", "quiet")
        self._refusal = wrapped("", "refusal")
        self._refusal.hide()
        self._editor_place = QVBoxLayout()
        self._findings = FindingsPanel(self.session)
        for label in (self._question, self._where, self._help):
            self._work.addWidget(label)
        self._work.addLayout(self._editor_place)
        self._below_place = QVBoxLayout()
        for widget in (self._refusal, self._before, self._findings):
            self._work.addWidget(widget)
        self._work.addLayout(self._below_place)
        self._work.addWidget(self._last)
        self._work.addStretch(1)

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        self._back = self._button(BACK, self.back)
        self._later = self._button(LATER, self.leave)
        self._absent = self._button(ABSENT, self.absent)
        self._confirm = self._button(CONFIRM, self.confirm)
        self._next = self._button(NEXT, self.forward)
        self._next.setObjectName("forward")
        self._back.setShortcut("Alt+Left")
        self._next.setShortcut("Alt+Right")
        for button in (self._back, self._later, self._absent):
            row.addWidget(button)
        row.addStretch()
        for button in (self._confirm, self._next):
            row.addWidget(button)
        return row

    def _button(self, text: Message, action: object) -> QPushButton:
        button = key(self.session.say(text))
        button.clicked.connect(action)
        return button

    # ------------------------------------------------------------------ showing

    def refresh(self) -> None:
        """Show what follows from the record now."""
        state = self.state
        self.side.show_job(self.job, self.slot)
        self._show_editor(state)
        self._show_findings()

    def _show_findings(self) -> None:
        state = self.state
        self._findings.show_state(state, self.job.assessment, self.job.record)
        self._confirm.setVisible(state.unconfirmed)
        self._back.setEnabled(task_before(self.job.assessment, self.slot) is not None)
        self._order_of_tab()

    def _order_of_tab(self) -> None:
        """The tabulator goes from the list to the editor, then to the findings and the buttons."""
        buttons = (self._back, self._later, self._absent, self._confirm, self._next)
        chain = [self.side.front, *takers(self.editor), *takers(self._findings), *buttons]
        for first, second in pairwise(chain):
            QWidget.setTabOrder(first, second)

    def _show_editor(self, state: State) -> None:
        say = self.session.say
        entry = self.job.record.entries.get(self.slot)
        self._take_editor_away()
        self._question.setText(say(state.task.field.label))
        self._where.setText(say(state.task.place.name) if state.task.place.key else "")
        self._where.setVisible(bool(state.task.place.key))
        self._help.setText(say(state.task.field.help))
        self._before.setText("" if entry is None else say(said_before(entry)))
        self._refuse(None)
        if self._unread():
            self.editor = CautionGate(self.session, state, self._step)
            self.editor.given.connect(self._caution_read)
        else:
            self.editor = editor_for(self.session, state.task, entry)
            self.editor.given.connect(self._given)
            if isinstance(self.editor, Picture):
                self.editor.picture.connect(self._picture)
            self._show_draft(state)
        self._editor_place.addWidget(self.editor)
        if self.editor.below is not None:
            self._below_place.addWidget(self.editor.below)
        self.focus_first()

    def _take_editor_away(self) -> None:
        if self.editor is None:
            return
        for widget in (self.editor, self.editor.below):
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.editor = None

    def _show_draft(self, state: State) -> None:
        """What could not be stored before stands in the editor again, and why."""
        draft = self.session.drafts.get(self.slot)
        if draft is None or self.editor is None:
            return
        self.editor.show_draft(*draft)
        try:
            read(state.task.field, *draft)
        except Refused as refusal:
            self._refuse(refusal)

    def _unread(self) -> bool:
        return bool(self._step.cautions) and self._step.key not in self.job.record.cautions_read

    def _refuse(self, refusal: Refused | None) -> None:
        self._refusal.setVisible(refusal is not None)
        self._refusal.setText("" if refusal is None else self.session.say(refusal.message))

    # ------------------------------------------------------------------ answering

    def _given(self, text: str, unit: str) -> None:
        """An answer was given: keep it, then go on if there is nothing to look at."""
        entry = self.job.record.entries.get(self.slot)
        as_before = entry is not None and text == entry.typed and unit in {"", entry.unit}
        if as_before and not unsettled(self.state):
            self.forward()
            return
        if not self._commit(text, unit):
            return
        if self._nothing_to_look_at():
            self._take_editor_away()  # it is done with; the next task brings its own
            if self._go_on():
                return
        self._show_taken()

    def _commit(self, text: str, unit: str) -> bool:
        """Take the answer through the job's door; what cannot be taken stays in the editor."""
        slot = self.slot
        tool = "" if self.editor is None else self.editor.instrument()
        try:
            entry = self.job.commit(slot, text, self.session.who, unit, tool)
        except Refused as refusal:
            self.session.drafts[slot] = (text, unit)
            self._refuse(refusal)
            return False
        except StoreError as error:
            self.session.drafts[slot] = (text, unit)
            self.session.dialogs.tell(error.message)
            return False
        self._taken(slot, entry)
        return True

    def _taken(self, slot: Slot, entry: Entry) -> None:
        self.session.drafts.pop(slot, None)
        state = self.job.assessment.states[slot]
        if entry.instrument:
            self.session.instruments[state.task.field.instrument] = entry.instrument
        self._last.setText(
            self.session.say(
                msg(
                    "Stored {at}: {field}, {place}: {typed}. {verdict}.",
                    at=f"{entry.at.astimezone():%H:%M:%S}",
                    field=state.task.field.label,
                    place=state.task.place.name,
                    typed=entry.reason or entry.typed,
                    verdict=state.verdict.word,
                )
            )
        )
        self.stored.emit()

    def _show_taken(self) -> None:
        """The page as it is after an answer, with what the checks say in view."""
        self.refresh()
        self._look_at_findings()

    def _look_at_findings(self) -> None:
        """Bring what the checks say into view, once the page has been laid out anew."""
        if self._findings.cards:
            self._work.activate()
            self.area.ensureWidgetVisible(self._findings.cards[0], 0, 8)

    def _picture(self, file: Path) -> None:
        try:
            entry = self.job.photo(self.slot, file.name, file.read_bytes(), self.session.who)
        except OSError as error:
            reason = error.strerror or type(error).__name__
            self.session.dialogs.tell(msg("{file} cannot be read: {reason}.", file=str(file), reason=reason))
        except (Refused, StoreError) as error:
            self.session.dialogs.tell(error.message)
        else:
            self._taken(self.slot, entry)
            self._show_taken()

    def _nothing_to_look_at(self) -> bool:
        about = [f for f in self.job.assessment.findings if self.slot in f.about]
        return all(f.verdict is Verdict.IN_ORDER for f in about)

    def _caution_read(self, text: str, unit: str) -> None:
        self._do(lambda: self.job.read_caution(self._step.key, self.session.who))

    def _do(self, action: object) -> bool:
        """Do one thing at the job's door; a refusal is said and nothing changes."""
        assert callable(action)
        try:
            action()
        except (Refused, StoreError) as error:
            self.session.dialogs.tell(error.message)
            return False
        self.refresh()
        self.stored.emit()
        return True

    def leave(self) -> None:
        """Leave the task, or the finding on it, as an open point."""
        reason = self.session.dialogs.reason(LATER, WHY_LATER)
        if reason is None:
            return
        due = self.session.dialogs.reason(LATER, UNTIL_WHEN) or ""
        if self._do(lambda: self.job.leave(self.slot, reason, self.session.who, due)):
            self._go_on()

    def absent(self) -> None:
        """Say that there is no such thing on this machine."""
        reason = self.session.dialogs.reason(ABSENT, WHY_ABSENT)
        if reason is not None and self._do(lambda: self.job.absent(self.slot, reason, self.session.who)):
            self._go_on()

    def confirm(self) -> None:
        """Let a second person confirm."""
        name = self.session.dialogs.name(CONFIRM, WHO_CONFIRMS, self.session.people)
        if name is not None and self._do(lambda: self.job.confirm(self.slot, name)):
            if name.strip() not in self.session.people:
                self.session.people.append(name.strip())
            self._go_on()

    # ------------------------------------------------------------------ moving

    def focus_first(self) -> None:
        """Put the keyboard where the work begins."""
        if self.editor is not None and self.editor.first is not None:
            self.editor.first.setFocus(Qt.FocusReason.OtherFocusReason)

    def put_away(self) -> None:
        """Before leaving: give what stands in the editor; what cannot be read is kept as a draft."""
        if self.editor is None:
            return
        text, unit = self.editor.text(), self.editor.unit()
        if text:
            if self._commit(text, unit):
                self._show_taken()
        else:
            self.session.drafts.pop(self.slot, None)

    def choose(self, slot: Slot) -> None:
        """Open another task, as a rule of this step; a picture may lead into another."""
        if slot == self.slot:
            return
        if slot.step != self.slot.step:
            self.put_away()
            self.go.emit(slot)
            return
        self.put_away()
        self.slot = slot
        self.refresh()
        self.moved.emit()

    def _go_on(self) -> bool:
        """To the next task of this step that is unsettled, else to the one that follows; whether there is
        anything to go to."""
        assessment = self.job.assessment
        following = next_task(assessment, self.slot)
        if following is not None and following.step == self.slot.step:
            self.choose(following)
        elif not unsettled(self.state):
            self.forward()
        else:
            return False
        return True

    def forward(self) -> None:
        """To the task that follows, whatever its state."""
        self._move(task_after(self.job.assessment, self.slot))

    def back(self) -> None:
        """To the task before."""
        self._move(task_before(self.job.assessment, self.slot))

    def _move(self, slot: Slot | None) -> None:
        if slot is not None and slot.step == self.slot.step:
            self.choose(slot)
        else:
            self.put_away()
            self.go.emit(slot)


def takers(widget: QWidget | None) -> list[QWidget]:
    """The fields and buttons inside that the tabulator reaches, in the order they were made."""
    if widget is None:
        return []
    inside = [w for w in widget.findChildren(QWidget) if isinstance(w, (QAbstractButton, QLineEdit))]
    return [w for w in inside if w.focusPolicy() & Qt.FocusPolicy.TabFocus]


def said_before(entry: Entry) -> Message:
    """Who entered what is there, and when."""
    parts = [msg("{who}, {at}", who=entry.who, at=entry.at.astimezone())]
    if entry.instrument:
        parts.append(msg("with {instrument}", instrument=entry.instrument))
    if entry.confirmed_by:
        parts.append(msg("confirmed by {name}", name=entry.confirmed_by))
    return joined(parts, by=" · ")
