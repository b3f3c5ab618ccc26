"""The page of a step: its tasks, one of them open, and what the checks say about it."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import Qt, Signal

from rakeprep.jobs.answered import shown_value
from rakeprep.jobs.assess import State
from rakeprep.jobs.flow import next_task, task_after, task_before, unsettled
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused, read
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.verdict import Verdict
from rakeprep.store.job_file import StoreError
from rakeprep.text import Message, msg
from rakeprep.ui.cautions import CautionGate
from rakeprep.ui.fields.choose import editor_for
from rakeprep.ui.fields.editor import Editor
from rakeprep.ui.fields.picture import Picture
from rakeprep.ui.fields.written import Number, Written
from rakeprep.ui.offers import ask_instrument, keep_used, offer_all, offer_instruments, register_named
from rakeprep.ui.session import Session
from rakeprep.ui.step_view import ABSENT, CONFIRM, LATER, StepView
from rakeprep.ui.tab_order import put_in_order
from rakeprep.ui.welcome import Welcome

WHY_LATER = msg("Why is it left, and what happens with it? This stands on the customer's page.")
UNTIL_WHEN = msg("By when, and by whom? It may stay empty.")
WHY_ABSENT = msg("Why is there no such thing on this machine?")
WHO_CONFIRMS = msg("Who has looked at it with his own eyes?")


class StepPage(StepView):
    """A step, and after it the next one: it holds no value but the draft in its editor. ``go`` tells that
    the last task is done with, ``stored`` that something was entered, ``moved`` that another task is open.
    """

    go = Signal()
    stored = Signal()
    moved = Signal()
    other_tractor = Signal()

    def __init__(self, session: Session, job: OpenJob, slot: Slot) -> None:
        super().__init__(session)
        self.job, self.slot = job, slot
        self.editor: Editor | None = None
        self.welcome: Welcome | None = None
        self._step = self.state.task.step
        self._connect()
        self._show_step()
        self.refresh()

    @property
    def state(self) -> State:
        """How the open task stands."""
        return self.job.assessment.states[self.slot]

    def _connect(self) -> None:
        self.side.chosen.connect(self.choose)
        self.pad.pressed.connect(self._press)
        self.pad.entered.connect(self._enter)
        self.under.why.line.returnPressed.connect(self._enter)
        self.under.why.edited.connect(self._keep_reason)
        self.under.other_tractor.connect(self.other_tractor)
        for button, action in (
            (self._back, self.back),
            (self._later, self.leave),
            (self._absent, self.absent),
            (self._confirm, self.confirm),
            (self._next, self.forward),
        ):
            button.clicked.connect(action)

    # ------------------------------------------------------------------ showing

    def _show_step(self) -> None:
        """Title and cautions of the step of the open task."""
        steps = self.job.assessment.steps
        self._step = self.state.task.step
        self.show_step(self._step, steps.index(self._step) + 1, len(steps))

    def refresh(self) -> None:
        """Show what follows from the record now."""
        state = self.state
        with self.laid_out_once():
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
        put_in_order(self.side.front, (self.welcome, self.editor, self._findings, self.under), buttons)

    def _show_editor(self, state: State) -> None:
        say = self.session.say
        entry = self.job.record.entries.get(self.slot)
        self._take_editor_away()
        self._question.setText(say(state.task.field.label))
        self._where.setText(say(state.task.place.name) if state.task.place.key else "")
        self._where.setVisible(bool(state.task.place.key))
        self._help.setText(say(state.task.field.help))
        self._drawing.show_slot(self.slot)
        unread = self._unread()
        self._question.setHidden(unread)
        self._help.setHidden(unread)
        if unread:  # there is nothing to answer yet
            self._where.hide()
            self._drawing.hide()
        self.under.show_task(self.job, self.slot, not unread, self.session.reasons.get(self.slot, ""))
        self._refuse(None)
        if self._band is not None:
            self._band.setHidden(unread or not self._step.cautions)  # the gate says it larger
        self.side.setHidden(unread)
        if unread:
            self.editor = CautionGate(self.session, state, self._step)
            self.editor.given.connect(self._caution_read)
        else:
            self.editor = editor_for(self.session, state.task, entry)
            self.editor.given.connect(self._given)
            self.editor.edited.connect(self.keep_place)
            if isinstance(self.editor, Picture):
                self.editor.picture.connect(self._picture)
                self._show_stored(self.editor, entry)
            if isinstance(self.editor, Number):
                self._offer(self.editor)
            self._show_draft(state)
        self._editor_place.addWidget(self.editor)
        self._show_pad()
        self.keep_place()
        self.focus_first()

    def _show_pad(self) -> None:
        if isinstance(self.editor, Number):
            self.pad.show_for(self.editor.task.field.kind)
        self.show_pad(isinstance(self.editor, Number))

    def _press(self, sign: str) -> None:
        if isinstance(self.editor, Number):
            self.editor.press(sign)

    def _show_stored(self, editor: Picture, entry: Entry | None) -> None:
        if entry is not None and entry.how is How.VALUE:
            with suppress(KeyError, StoreError):
                editor.show_stored(self.job.file.blob(entry.typed))

    def _offer(self, editor: Number) -> None:
        offer_all(editor, self.session, self.job, self.slot)
        if editor.measured_with is not None:
            editor.measured_with.registering.connect(self._register)

    def _enter(self) -> None:
        """Enter in the line of the reason gives the answer with it."""
        if isinstance(self.editor, Written):
            self.editor.enter()

    def _take_editor_away(self) -> None:
        if self.editor is not None:
            self.editor.hide()
            self.editor.deleteLater()
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
        if as_before and not unsettled(self.state) and not self._meant():
            self.forward()
            return
        if not self._commit(text, unit):
            return
        if self._nothing_to_look_at():
            self._take_editor_away()  # it is done with; the next task brings its own
            if self._go_on():
                return
        self._show_taken()

    def _meant(self) -> bool:
        """Whether an answer as before is one of its own: another gave it, or it has a reason."""
        entry = self.job.record.entries.get(self.slot)
        other = entry is not None and entry.who.casefold() != self.session.who.casefold()
        return bool(self.under.reason()) or (other and self.editor is not None and self.editor.touched())

    def _commit(self, text: str, unit: str) -> bool:
        """Take the answer through the job's door; what cannot be taken stays in the editor."""
        slot = self.slot
        tool = "" if self.editor is None else self.editor.instrument()
        try:
            register_named(tool, self.session, self.job)
            entry = self.job.commit(slot, text, self.session.who, unit, tool, self.under.reason())
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
        self.session.reasons.pop(slot, None)
        state = self.job.assessment.states[slot]
        keep_used(entry, state.task.field.instrument, self.session, self.job)
        self._last.setText(
            self.session.say(
                msg(
                    "Stored {at}: {field}, {place}: {typed}. {verdict}.",
                    at=f"{entry.at.astimezone():%H:%M:%S}",
                    field=state.task.field.label,
                    place=state.task.place.name,
                    typed=shown_value(state.task.field, entry),
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

    def _register(self, name: str) -> None:
        """Register an instrument while a number may stand in the editor."""
        editor = self.editor
        assert isinstance(editor, Number)
        try:
            found = ask_instrument(name, editor.task.field.instrument, self.session, self.job)
        except (Refused, StoreError) as error:
            self.session.dialogs.tell(error.message)
            return
        if found is not None and editor.tool is not None:
            editor.tool.setText(found)
            offer_instruments(editor, self.session, self.job)
            self._show_findings()
            self.stored.emit()

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

    # ------------------------------------------------------------------ coming back

    def keep_place(self) -> None:
        """Keep on disk where the work is, and what is being typed."""
        if self.editor is None:
            return
        self.session.leave_at(self.job, self.slot, (self.editor.text(), self.editor.unit()))

    def _keep_reason(self, reason: str) -> None:
        """Keep why an answer is to be changed until it is."""
        if reason:
            self.session.reasons[self.slot] = reason
        else:
            self.session.reasons.pop(self.slot, None)
        self.keep_place()

    def welcome_back(self, says: Message, last: Slot | None) -> None:
        """Say where somebody was when the job was left, and offer to do the last thing once more."""
        self.welcome = Welcome(self.session, says, last is not None)
        self.welcome.go_on.connect(self._take_welcome_away)
        self.welcome.repeat.connect(lambda: self._once_more(last))
        self._work.insertWidget(0, self.welcome)
        self._order_of_tab()

    def _once_more(self, last: Slot | None) -> None:
        self._take_welcome_away()
        if last is not None:
            self.choose(last)

    def _take_welcome_away(self) -> None:
        if self.welcome is not None:
            self.welcome.hide()
            self.welcome.deleteLater()
            self.welcome = None
            self.focus_first()

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
        """Open another task, of this step or another."""
        if slot == self.slot:
            return
        self.put_away()
        self._take_welcome_away()
        self.slot = slot
        with self.laid_out_once():
            if self.state.task.step is not self._step:
                self._show_step()
            self.refresh()
            self.moved.emit()
        self.area.verticalScrollBar().setValue(0)  # a question is seen from its beginning

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
        if slot is not None:
            self.choose(slot)
        else:
            self.put_away()
            self.go.emit()
