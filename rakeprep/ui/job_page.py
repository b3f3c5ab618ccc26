"""A job: the machine as a map, the steps, the page of one of them, and what stands before the gate."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from rakeprep.drawing.plan import plan
from rakeprep.jobs.assess import Readiness
from rakeprep.jobs.flow import latest, next_task, unsettled
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import msg, plural
from rakeprep.ui.choice import Choice
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import Cut
from rakeprep.ui.plan_view import PlanView
from rakeprep.ui.session import Session
from rakeprep.ui.signing_page import SigningPage
from rakeprep.ui.step_keys import StepKeys
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.symbols import Symbol

if TYPE_CHECKING:
    from rakeprep.ui.sums_page import SumsPage

SHOWN = (Verdict.STOP, Verdict.PUT_RIGHT, Verdict.MEASURE_AGAIN, Verdict.OUT_OF_DATE, Verdict.NOT_YET)


class JobPage(QWidget):
    """Everything of one open job. ``closed`` goes back to the list of jobs."""

    closed = Signal()

    def __init__(self, session: Session, job: OpenJob, at: Slot | None = None) -> None:
        super().__init__()
        self.setObjectName("page")
        self.session, self.job = session, job
        self.page: StepPage | SigningPage | SumsPage | None = None
        self.plan_view = PlanView(session)
        self.plan_view.part_chosen.connect(self.open_part)
        self.step_keys = StepKeys(session, job.assessment)
        self.step_keys.chosen.connect(self.open_step)
        self._plan = plan(job.profile, job.tractor)
        self._names: dict[str, str] = {}
        for task in job.tasks.values():
            if task.place.part not in self._names:
                self._names[task.place.part] = session.say(task.place.name)
        self._place = QVBoxLayout()
        left = QVBoxLayout()
        left.setContentsMargins(12, 10, 0, 10)
        left.setSpacing(8)
        left.addWidget(self.plan_view, 1)
        left.addWidget(self.step_keys)
        holder = QWidget()
        holder.setLayout(left)
        holder.setFixedWidth(486)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(holder)
        middle.addLayout(self._place, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._head())
        column.addLayout(middle, 1)
        column.addWidget(self._foot())
        self.open(at or self._first())

    # ------------------------------------------------------------------ head and foot

    def _head(self) -> QFrame:
        say, opening = self.session.say, self.job.record.opening
        bar = QFrame()
        bar.setObjectName("bar")
        title = Cut(
            say(
                msg(
                    "Job {job} · {machine} · for {customer} · on {tractor}",
                    job=opening.job,
                    machine=opening.profile_name,
                    customer=opening.customer,
                    tractor=opening.tractor_name,
                )
            )
        )
        title.setStyleSheet("font-weight: bold;")
        self._stored = QLabel()
        self._who = Choice()
        self._who.setEditable(True)
        self._who.setMinimumWidth(170)
        self._who.setAccessibleName(say(msg("Who is working now")))
        self._who.setCompleter(None)  # type: ignore[arg-type]  # a name must not grow into another's
        self._who.addItems(self.session.people)
        self._who.setCurrentText(self.session.who)
        self._who.currentTextChanged.connect(self.session.works_as)
        close = key(say(msg("close the job")), "small")
        close.clicked.connect(self.leave)
        row = QHBoxLayout(bar)
        row.setContentsMargins(14, 5, 10, 5)
        row.setSpacing(12)
        row.addWidget(title, 1)
        row.addWidget(self._stored)
        row.addWidget(QLabel(say(msg("working now:"))))
        row.addWidget(self._who)
        row.addWidget(close)
        return bar

    def _foot(self) -> QFrame:
        say = self.session.say
        bar = QFrame()
        bar.setObjectName("foot")
        self._gate = QLabel()
        self._gate.setStyleSheet("font-weight: bold;")
        row = QHBoxLayout(bar)
        row.setContentsMargins(14, 6, 10, 6)
        row.setSpacing(10)
        row.addWidget(self._gate)
        self._counts: dict[Verdict, tuple[Symbol, QLabel]] = {}
        for verdict in SHOWN:
            symbol, label = Symbol(self.session.theme, self.session.language, 20), QLabel()
            symbol.show_verdict(verdict)
            row.addWidget(symbol)
            row.addWidget(label)
            self._counts[verdict] = (symbol, label)
        row.addStretch()
        sums = key(say(msg("work something out")), "small")
        sums.clicked.connect(self.open_sums)
        useful = key(say(msg("next useful thing ▸")), "small")
        useful.clicked.connect(self.open_next)
        sign = key(say(msg("handover ▸")), "small")
        sign.clicked.connect(self.open_signing)
        for button in (sums, useful, sign):
            row.addWidget(button)
        return bar

    # ------------------------------------------------------------------ moving

    def _first(self) -> Slot | None:
        """Where the last entry was made; in a new job, the first thing to do."""
        numbers = {slot: entry.seq for slot, entry in self.job.record.entries.items()}
        return latest(self.job.assessment, numbers) or next_task(self.job.assessment)

    def open(self, slot: Slot | None) -> None:
        """Open a task's page; None is what follows after the last task: the signing."""
        if slot is None:
            self.open_signing()
            return
        if isinstance(self.page, StepPage) and self.page.slot.step == slot.step:
            self.page.choose(slot)
        else:
            page = StepPage(self.session, self.job, slot)
            page.go.connect(self.open)
            page.stored.connect(self.refresh)
            page.moved.connect(self.refresh_map)
            self._show(page)
        self.refresh()

    def open_step(self, step: str) -> None:
        """Open a step at its first unsettled task."""
        states = self.job.assessment.of_step(step)
        first = next((s for s in states if unsettled(s)), states[0] if states else None)
        if first is not None:
            self.open(first.task.slot)

    def open_part(self, part: str) -> None:
        """Open what has to be done on a part of the machine: of the current step first."""
        states = [s for s in self.job.assessment.states.values() if s.task.place.part == part]
        current = self._current_step()
        states.sort(key=lambda s: (s.task.step.key != current, not unsettled(s)))
        if states:
            self.open(states[0].task.slot)

    def open_next(self) -> None:
        """Open the next useful thing."""
        self.open(next_task(self.job.assessment, self.at))

    def open_signing(self) -> None:
        """Open the page on which everybody signs."""
        page = SigningPage(self.session, self.job)
        page.go.connect(self.open)
        page.stored.connect(self.refresh)
        self._show(page)
        self.refresh()

    def open_sums(self) -> None:
        """Open the page on which any sum can be worked out, and come back to the task in hand."""
        from rakeprep.ui.sums_page import SumsPage

        at = self.at or self._first()
        page = SumsPage(self.session)
        page.closed.connect(lambda: self.open(at))
        self._show(page)
        self.refresh()

    def _show(self, page: StepPage | SigningPage | SumsPage) -> None:
        if self.page is not None:
            self.page.put_away()
            self._place.removeWidget(self.page)
            self.page.hide()
            self.page.deleteLater()
        self.page = page
        self._place.addWidget(page)
        page.focus_first()

    def focus_first(self) -> None:
        """Put the keyboard where the work begins."""
        if self.page is not None:
            self.page.focus_first()

    def leave(self) -> None:
        """Back to the list of jobs; what is in the editor is kept first."""
        if self.page is not None:
            self.page.put_away()
        drafts = len(self.session.drafts)
        question = plural(
            "One entry is not stored and would be lost. Close the job all the same?",
            "{count} entries are not stored and would be lost. Close the job all the same?",
            drafts,
        )
        if not drafts or self.session.dialogs.sure(question, msg("close"), msg("stay here")):
            self.session.drafts.clear()
            self.closed.emit()

    # ------------------------------------------------------------------ showing

    @property
    def at(self) -> Slot | None:
        """The task that is open, if one is."""
        return self.page.slot if isinstance(self.page, StepPage) else None

    def _current_step(self) -> str:
        return "" if self.at is None else self.at.step

    def refresh(self) -> None:
        """Show what follows from the record."""
        say, record = self.session.say, self.job.record
        assessment = self.job.assessment
        self.step_keys.show_job(assessment, self._current_step())
        self._stored.setText(
            say(
                msg(
                    "stored {at} · {count}",
                    at=f"{self.job.last_stored.astimezone():%H:%M:%S}",
                    count=plural("one entry", "{count} entries", record.count),
                )
            )
        )
        self._show_gate()
        self.refresh_map()

    def _show_gate(self) -> None:
        say, gate = self.session.say, self.job.assessment.gate
        before = {
            Readiness.NOT_READY: msg("Before this machine may go:"),
            Readiness.OPEN_POINTS: msg("Ready with open points"),
            Readiness.READY: msg("Ready"),
        }[gate.readiness]
        self._gate.setText(say(before))
        counted = Counter(obstacle.verdict for obstacle in gate.obstacles)
        for verdict, (symbol, label) in self._counts.items():
            label.setText(say(msg("{count} {word}", count=counted[verdict], word=verdict.word)))
            for widget in (symbol, label):
                widget.setVisible(counted[verdict] > 0)

    def refresh_map(self) -> None:
        """Show the verdict of every part on the machine."""
        assessment = self.job.assessment
        by_part: dict[str, list[Verdict]] = {}
        for state in assessment.states.values():
            by_part.setdefault(state.task.place.part, []).append(state.verdict)
        verdicts: Mapping[str, Verdict] = {part: worst(found) for part, found in by_part.items()}
        current = frozenset(s.task.place.part for s in assessment.of_step(self._current_step()))
        self.plan_view.show_job(self._plan, verdicts, current, self._names)
