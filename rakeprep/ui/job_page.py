"""A job: the machine as a map, the steps, the page of one of them, and what stands before the gate."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from rakeprep.drawing.plan import plan
from rakeprep.jobs.assess import Assessment
from rakeprep.jobs.flow import latest, next_task, unsettled
from rakeprep.jobs.left_at import last_done, you_were_here
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.text import msg, plural
from rakeprep.ui.guide import Guide, Pane
from rakeprep.ui.job_foot import JobFoot
from rakeprep.ui.job_head import JobHead
from rakeprep.ui.other_tractor import put_on_another
from rakeprep.ui.plan_view import PlanView
from rakeprep.ui.session import Session
from rakeprep.ui.step_keys import StepKeys
from rakeprep.ui.step_page import StepPage

if TYPE_CHECKING:
    from rakeprep.ui.chapter_page import ChapterPage
    from rakeprep.ui.papers_page import PapersPage
    from rakeprep.ui.signing_page import SigningPage
    from rakeprep.ui.sums_page import SumsPage

LEAST_PAGE = 55  # widths of a letter's height; the page of a step is not narrower beside the map
ONLY_ONE = 60  # px; with rows as high as this, map and steps have no room one below the other
MOST = (1 << 24) - 1  # what Qt calls no limit


def guide_width(session: Session) -> int:
    """Width of map and step keys in pixels."""
    return 486 if session.size.row < ONLY_ONE else 438


class JobPage(QWidget):
    """Everything of one open job. ``closed`` goes back to the list of jobs; ``anew`` asks for a new page,
    since the job has other questions now."""

    closed = Signal()
    anew = Signal()

    def __init__(self, session: Session, job: OpenJob, at: Slot | None = None) -> None:
        super().__init__()
        self.session, self.job = session, job
        self._begins_at: Slot | None = None
        self.page: StepPage | SigningPage | SumsPage | ChapterPage | PapersPage | None = None
        self.plan_view = PlanView(session)
        self.plan_view.part_chosen.connect(self.open_part)
        self.step_keys = StepKeys(session, job.assessment, guide_width(session) - 12)
        self.step_keys.chosen.connect(self.open_step)
        self.guide = Guide(session, self.plan_view, self.step_keys)
        self.guide.turned.connect(self._show_panes)
        self._panes = 0
        self._plan = plan(job.profile, job.tractor)
        self._mapped: tuple[Assessment, str] | None = None
        self._names: dict[str, str] = {}
        for task in job.tasks.values():
            if task.place.part not in self._names:
                self._names[task.place.part] = session.say(task.place.name)
        self._page_holder = QWidget()
        self._place = QVBoxLayout(self._page_holder)
        self._place.setContentsMargins(0, 0, 0, 0)
        self._side = QWidget()
        self._below_guide = QVBoxLayout(self._side)
        self._below_guide.setContentsMargins(12, 10, 0, 10)
        self._below_guide.setSpacing(8)
        self._below_guide.addWidget(self.guide, 1)
        self._middle = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._middle.setSpacing(0)
        self._middle.addWidget(self._side)
        self._middle.addWidget(self._page_holder, 1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self._head_bar())
        self._column.addLayout(self._middle, 1)
        self._foot = self._foot_bar()
        self._column.addWidget(self._foot)
        self._arrange(self.size())
        if at is None or at not in job.tasks:
            self._come_back()
        else:
            self.open(at)

    def _head_bar(self) -> JobHead:
        self.head = JobHead(self.session, self.job.record.opening)
        self.head.papers.connect(self.open_papers)
        self.head.close_job.connect(self.leave)
        return self.head

    def _foot_bar(self) -> JobFoot:
        foot = JobFoot(self.session)
        foot.sums.connect(self.open_sums)
        foot.useful.connect(self.open_next)
        foot.sign.connect(self.open_signing)
        return foot

    # ------------------------------------------------------------------ room

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange(event.size())

    def _arrange(self, room: QSize) -> None:
        """Everything side by side where it has room; map or steps for gloves; else one thing at a time."""
        least = guide_width(self.session) + LEAST_PAGE * self.session.size.text
        wide = room.width() >= least
        panes = 3 if not wide else 1 if self.session.size.row < ONLY_ONE else 2
        self.head.arrange(room.width())
        if panes == self._panes:
            return
        self._panes = panes
        down = QBoxLayout.Direction.TopToBottom if panes == 3 else QBoxLayout.Direction.LeftToRight
        self._middle.setDirection(down)
        self._foot.arrange(panes == 1)
        self._below_guide.setContentsMargins(12, 10, 12 if panes == 3 else 0, 10 if panes < 3 else 0)
        (self._below_guide if panes == 2 else self._column).addWidget(self._foot)
        if panes == 3:
            self.guide.pane = Pane.TASK
        self._show_panes()

    def _show_panes(self) -> None:
        """Show what is in front."""
        alone = self._panes == 3
        task = self.guide.pane is Pane.TASK
        self.guide.arrange(self._panes)
        self._page_holder.setVisible(not alone or task)
        self._middle.setStretch(0, 0 if task or not alone else 1)
        beside = guide_width(self.session)
        if self._panes == 2:
            beside = max(beside, self._foot.minimumSizeHint().width() + 12)
        self._side.setMinimumWidth(0 if alone else beside)
        self._side.setMaximumWidth(MOST if alone else beside)
        self._side.setSizePolicy(
            QSizePolicy.Policy.Preferred,
            QSizePolicy.Policy.Maximum if alone and task else QSizePolicy.Policy.Preferred,
        )

    def _to_task(self) -> None:
        """Bring the page to the front, where only one thing has room."""
        if self._panes == 3 and self.guide.pane is not Pane.TASK:
            self.guide.turn(Pane.TASK)

    # ------------------------------------------------------------------ moving

    def _come_back(self) -> None:
        """Open the task at which the job was left, with what was being typed, and say where that is."""
        left, tasks = self.session.left(self.job), self.job.tasks
        if not self.session.drafts:
            self.session.drafts.update({at: typed for at, typed in left.drafts.items() if at in tasks})
        if not self.session.reasons:
            self.session.reasons.update({at: why for at, why in left.reasons.items() if at in tasks})
        last = last_done(self.job.record, tasks)
        at = left.slot if left.slot in tasks else self._first()
        self.open(at)
        if isinstance(self.page, StepPage) and at is not None and (last is not None or left.slot is not None):
            self.page.welcome_back(you_were_here(tasks[at], last, tasks), None if last is None else last.slot)

    def _first(self) -> Slot | None:
        """Where the last entry was made; in a new job, the first thing to do."""
        numbers = {slot: entry.seq for slot, entry in self.job.record.entries.items()}
        return latest(self.job.assessment, numbers) or next_task(self.job.assessment)

    def open(self, slot: Slot | None) -> None:
        """Open a task's page; None is what follows after the last task: the signing."""
        if slot is None:
            self.open_signing()
            return
        self._to_task()
        if isinstance(self.page, StepPage):
            self.page.choose(slot)
        else:
            page = StepPage(self.session, self.job, slot)
            page.go.connect(self.open_signing)
            page.stored.connect(self.refresh)
            page.moved.connect(self.refresh_map)
            page.other_tractor.connect(self.other_tractor)
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

    def other_tractor(self) -> None:
        """Put the job on another tractor."""
        if self.page is not None:
            self.page.put_away()
        if put_on_another(self.session, self.job):
            self.anew.emit()

    def open_signing(self) -> None:
        """Open the page on which everybody signs."""
        from rakeprep.ui.signing_page import SigningPage

        page = SigningPage(self.session, self.job)
        page.go.connect(self.open)
        page.stored.connect(self.refresh)
        page.later.connect(self.open_chapter)
        self._show(page)
        self.refresh()

    def sign_on(self, before: JobPage) -> None:
        """Go on with the signatures begun on the page ``before``, if it stood there."""
        from rakeprep.ui.signing_page import SigningPage

        if isinstance(before.page, SigningPage):
            self.open_signing()
            if isinstance(self.page, SigningPage):
                self.page.take_over(before.page)

    def open_chapter(self) -> None:
        """Open the page on which a later visit begins; with it the job asks for other things."""
        from rakeprep.ui.chapter_page import ChapterPage

        page = ChapterPage(self.session, self.job)
        page.begun.connect(self._chapter_begun)
        page.closed.connect(self.open_signing)
        self._show(page)
        self.refresh()

    def _chapter_begun(self) -> None:
        """Go to the first thing that the new chapter asks for, on a page built for it."""
        self._begins_at = next_task(self.job.assessment)
        self.anew.emit()

    def open_sums(self) -> None:
        """Open the page on which any sum can be worked out, and come back to the task in hand."""
        from rakeprep.ui.sums_page import SumsPage

        at = self.at or self._first()
        page = SumsPage(self.session)
        page.closed.connect(lambda: self.open(at))
        self._show(page)
        self.refresh()

    def open_papers(self) -> None:
        """Open the page on which other papers are made, and come back to the task in hand."""
        from rakeprep.ui.papers_page import PapersPage

        at = self.at or self._first()
        page = PapersPage(self.session, self.job, self._current_step())
        page.renamed.connect(self.anew)
        page.closed.connect(lambda: self.open(at))
        self._show(page)
        self.refresh()

    def _show(self, page: StepPage | SigningPage | SumsPage | ChapterPage | PapersPage) -> None:
        if self.page is not None:
            self.page.put_away()
            self._place.removeWidget(self.page)
            self.page.hide()
            self.page.deleteLater()
        self.page = page
        self._place.addWidget(page)
        self._to_task()
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
            self.session.let_go(self.job, self.at)
            self.closed.emit()

    # ------------------------------------------------------------------ showing

    @property
    def at(self) -> Slot | None:
        """The task that is open, if one is."""
        return self.page.slot if isinstance(self.page, StepPage) else self._begins_at

    def _current_step(self) -> str:
        return "" if self.at is None else self.at.step

    def refresh(self) -> None:
        """Show what follows from the record."""
        self.head.show_stored(self.job.last_stored, self.job.record.count)
        self._foot.show_gate(self.job.assessment.gate)
        self.refresh_map()

    def refresh_map(self) -> None:
        """Show the verdict of every part on the machine, and of every step."""
        assessment, step = self.job.assessment, self._current_step()
        if self._mapped is not None and self._mapped[0] is assessment and self._mapped[1] == step:
            return
        self._mapped = (assessment, step)
        self.step_keys.show_job(assessment, step)
        current = frozenset(s.task.place.part for s in assessment.of_step(step))
        self.plan_view.show_job(self._plan, assessment.parts, current, self._names)
