"""What is known about a job right now: findings, the state of every question, and the gate."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cached_property, partial

from rakeprep.jobs.chapters import question
from rakeprep.jobs.compared import comparisons
from rakeprep.jobs.indications import indications
from rakeprep.jobs.out_of_date import (
    Asked,
    Grounds,
    asked_again,
    bases,
    grounds_of,
    left_open,
    stale_answers,
)
from rakeprep.jobs.remembered import Checks
from rakeprep.model.chapter import FIRST, Chapter
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.job import Record
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import Message, msg


class Readiness(Enum):
    """Whether a job can be handed over."""

    READY = "ready"
    OPEN_POINTS = "ready with open points"
    NOT_READY = "not ready"

    @property
    def word(self) -> Message:
        """The word for the screen and the paper."""
        return READINESS_WORDS[self]


READINESS_WORDS = {
    Readiness.READY: msg("ready"),
    Readiness.OPEN_POINTS: msg("ready with open points"),
    Readiness.NOT_READY: msg("not ready"),
}


@dataclass(frozen=True)
class Task:
    """One question at one place."""

    step: Step
    field: Field
    place: Place

    @cached_property
    def slot(self) -> Slot:
        """Its address."""
        return Slot(self.step.key, self.field.key, self.place.key)


@dataclass(frozen=True)
class State:
    """How one task stands; ``open_point`` is set while it was left for later."""

    task: Task
    verdict: Verdict
    findings: tuple[Finding, ...] = ()
    stale: Message | None = None
    unconfirmed: bool = False
    open_point: bool = False

    @cached_property
    def optional(self) -> bool:
        """An empty answer that nobody misses; one of an earlier visit is as good as empty."""
        verdict = self.verdict
        empty = verdict is Verdict.NOT_YET or (verdict is Verdict.OUT_OF_DATE and self.task.step.visits)
        return empty and self.task.field.need is Need.MAY and not self.unconfirmed

    @cached_property
    def trouble(self) -> Message | None:
        """What is wrong, or None."""
        verdict, task = self.verdict, self.task
        if verdict is Verdict.IN_ORDER or self.optional:
            return None
        if verdict is Verdict.ABSENT:
            if task.field.need is Need.MUST:
                return msg("“Not on this machine” is no answer here: {task}.", task=task_name(task))
            return None
        bad = [f for f in self.findings if f.verdict is verdict]
        if bad:
            return bad[0].says
        if self.stale is not None:
            return msg("{task}: out of date. {why}", task=task_name(task), why=self.stale)
        if self.unconfirmed:
            return msg("{task}: a second name is needed.", task=task_name(task))
        return msg("{task}: not entered yet.", task=task_name(task))

    @property
    def cannot_be_left(self) -> bool:
        """What is no open point: danger, and what the machine must not leave without."""
        must = self.task.field.need is Need.MUST
        return self.verdict is Verdict.STOP or (must and self.trouble is not None)

    @cached_property
    def obstacle(self) -> Message | None:
        """What keeps the task from the handover, or None; an open point does not, where one is allowed."""
        return None if self.open_point and not self.cannot_be_left else self.trouble


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One thing between this job and the customer."""

    slot: Slot
    verdict: Verdict
    says: Message


@dataclass(frozen=True, slots=True)
class OpenPoint:
    """One thing the customer takes the machine with, and what may not be done until it is closed."""

    slot: Slot
    says: Message
    reason: str
    due: str
    who: str
    bars: frozenset[Use]


@dataclass(frozen=True, slots=True)
class Gate:
    """Whether the job can be handed over, and for what use."""

    readiness: Readiness
    obstacles: tuple[Obstacle, ...]
    open_points: tuple[OpenPoint, ...]

    @property
    def barred(self) -> frozenset[Use]:
        """What the machine may not be used for until its open points are closed."""
        return frozenset(use for point in self.open_points for use in point.bars)


@dataclass(frozen=True)
class Assessment:
    """Everything that follows from profile, tractor and record."""

    steps: tuple[Step, ...]
    states: Mapping[Slot, State]
    findings: tuple[Finding, ...]
    gate: Gate

    def of_step(self, step: str) -> tuple[State, ...]:
        """The states of one step in the order of its questions."""
        return self._by_step.get(step, ())

    @cached_property
    def _by_step(self) -> Mapping[str, tuple[State, ...]]:
        found: dict[str, list[State]] = defaultdict(list)
        for state in self.states.values():
            found[state.task.step.key].append(state)
        return {step: tuple(states) for step, states in found.items()}

    @cached_property
    def parts(self) -> Mapping[str, Verdict]:
        """The worst verdict of every part of the machine, among what has to be answered."""
        found: dict[str, list[Verdict]] = {}
        for state in self.states.values():
            counted = found.setdefault(state.task.place.part, [])
            if not state.optional:
                counted.append(state.verdict)
        return {part: worst(verdicts) for part, verdicts in found.items()}

    def verdict(self, step: str) -> Verdict:
        """The worst verdict of a step, among what has to be answered."""
        return self._verdicts[step]

    @cached_property
    def _verdicts(self) -> Mapping[str, Verdict]:
        answered = {step.key: [s for s in self.of_step(step.key) if not s.optional] for step in self.steps}
        return {step: worst([s.verdict for s in counted]) for step, counted in answered.items()}


def tasks_of(
    steps: tuple[Step, ...], profile: Profile, tractor: Tractor, chapter: Chapter = FIRST
) -> Mapping[Slot, Task]:
    """Every task of a machine on a tractor in a chapter, by its address, in the order of the work.

    A later chapter begins with the questions that only it asks, such as how a machine is made safe.
    """
    tasks = (
        Task(step, asked, place)
        for step in sorted(steps, key=lambda step: not step.visits)
        for field in step.fields(profile, tractor)
        if (asked := question(step, field, chapter)) is not None
        for place in asked.places
    )
    return {task.slot: task for task in tasks}


def assess(
    steps: tuple[Step, ...], profile: Profile, tractor: Tractor, record: Record, today: dt.date
) -> Assessment:
    """Run every check and judge every task; pure."""
    tasks = tasks_of(steps, profile, tractor, record.chapter)
    return assess_tasks(steps, tasks, Checks(profile, tractor), record, today)


def assess_tasks(
    steps: tuple[Step, ...], tasks: Mapping[Slot, Task], checks: Checks, record: Record, today: dt.date
) -> Assessment:
    """The same with tasks and checks that are kept from one entry to the next."""
    asked, kept = checks.asked_of(tasks), checks.kept
    grounds = grounds_of(asked, record, kept)
    open_steps = tuple({task.step.key: task.step for task in tasks.values()}.values())
    found = [
        finding
        for step in open_steps
        for finding in findings_of(step, record, checks, today)
        if finding.about[0] in tasks
    ]
    about: dict[Slot, list[Finding]] = defaultdict(list)
    for finding in found:
        about[finding.about[0]].append(finding)
    marks = Marks(about, asked_again(asked, record), left_open(asked, record))
    states: dict[Slot, State] = {}
    for one in asked:
        given = one.answers(record), record.instruments, *bases(one, record, grounds)
        now = (tasks, record.chapter.seq, marks.at(one), *given)
        besides, stand = kept.get(one.name, now, partial(judged, one, tasks, record, grounds, marks))
        found += besides
        states |= stand
    return Assessment(open_steps, states, tuple(found), gate(states, record))


@dataclass(frozen=True, slots=True)
class Marks:
    """What is said at the addresses, besides the entries: findings, what is asked again, what was left."""

    findings: Mapping[Slot, list[Finding]]
    again: Mapping[Slot, Message]
    left: frozenset[Slot]

    def at(self, asked: Asked) -> list[object]:
        """All that is said at the addresses of one question."""
        return [(self.findings.get(s), self.again.get(s), s in self.left) for s, _ in asked.slots]


def judged(
    asked: Asked, tasks: Mapping[Slot, Task], record: Record, grounds: Grounds, marks: Marks
) -> tuple[tuple[Finding, ...], Mapping[Slot, State]]:
    """What is found in the answers to one question besides its step's checks, and how its tasks stand."""
    besides = (*indications(asked, record), *comparisons(asked, record, grounds))
    stale = stale_answers(asked, record, grounds)
    states = {}
    for slot, _ in asked.slots:
        findings = (*marks.findings.get(slot, ()), *(f for f in besides if f.about[0] == slot))
        out_of_date = stale.get(slot) or marks.again.get(slot)
        entry = record.entries.get(slot)
        states[slot] = state_of(tasks[slot], entry, findings, out_of_date, slot in marks.left)
    return besides, states


def findings_of(step: Step, record: Record, checks: Checks, today: dt.date) -> Iterator[Finding]:
    """What a check says. A later chapter does not judge anew what it leaves alone: an answer from before it
    is judged as on the day on which the chapter before was closed."""
    chapter = record.chapter
    if chapter.before is None:
        yield from checks.findings(step, record, today)
        return

    def given_since(finding: Finding) -> bool:
        entries = (record.entries.get(slot) for slot in finding.about)
        return any(entry is not None and entry.seq > chapter.seq for entry in entries)

    then = chapter.before.at.date()
    yield from (f for f in checks.findings(step, record, then) if not given_since(f))
    yield from (f for f in checks.findings(step, record, today) if given_since(f))


def state_of(
    task: Task, entry: Entry | None, findings: tuple[Finding, ...], stale: Message | None, later: bool
) -> State:
    """How one task stands; ``later`` says that it was left as an open point."""
    found = worst([f.verdict for f in findings], Verdict.IN_ORDER)
    if entry is None or entry.how is How.ABSENT:
        # A finding may judge several answers; the one where it is shown need not have a value itself.
        empty = Verdict.NOT_YET if entry is None else Verdict.ABSENT
        bad = found.rank >= Verdict.MEASURE_AGAIN.rank
        return State(task, found if bad else empty, findings, open_point=later)
    unconfirmed = task.field.two_people and not entry.confirmed_by
    verdict = found
    if stale is not None and found is not Verdict.STOP:
        verdict = Verdict.OUT_OF_DATE
    elif unconfirmed and found is Verdict.IN_ORDER:
        verdict = Verdict.NOT_YET
    return State(task, verdict, findings, stale, unconfirmed, later)


def gate(states: Mapping[Slot, State], record: Record) -> Gate:
    """Decide whether the job can be handed over.

    Nothing passes that must be there and is not, that is out of date, to be measured again or to be put
    right, unless it was left as an open point by name; danger and what must not be left never pass.
    """
    obstacles: list[Obstacle] = []
    points: list[OpenPoint] = []
    for slot, state in states.items():
        if state.obstacle is not None:
            obstacles.append(Obstacle(slot, state.verdict, state.obstacle))
        elif state.open_point:
            points.append(open_point(slot, state, record))
    obstacles.extend(unread_cautions(states, record))
    handed_over = Readiness.OPEN_POINTS if points else Readiness.READY
    readiness = Readiness.NOT_READY if obstacles else handed_over
    return Gate(readiness, tuple(obstacles), tuple(points))


def open_point(slot: Slot, state: State, record: Record) -> OpenPoint:
    """The open point as the customer reads it."""
    later = record.later[slot]
    standing = (f.bars for f in state.findings if f.verdict is not Verdict.IN_ORDER)
    bars = state.task.field.bars.union(*standing)
    says = state.trouble or msg("{task}: still to be looked at.", task=task_name(state.task))
    return OpenPoint(slot, says, later.reason, later.due, later.who, bars)


def unread_cautions(states: Mapping[Slot, State], record: Record) -> list[Obstacle]:
    """A step that was worked on without its cautions being read."""
    missing: dict[str, Obstacle] = {}
    for slot, state in states.items():
        step = state.task.step
        if not step.cautions or step.key in record.cautions_read:
            continue
        entry = record.entries.get(slot)
        if entry is None or entry.seq <= record.chapter.seq:
            continue
        says = msg("{step}: the caution was not read.", step=step.title)
        missing.setdefault(step.key, Obstacle(slot, Verdict.NOT_YET, says))
    return list(missing.values())


def task_name(task: Task) -> Message:
    """A task in words: step, question, place."""
    if task.place.key:
        return msg(
            "{step}, {field}, {place}", step=task.step.title, field=task.field.label, place=task.place.name
        )
    return msg("{step}, {field}", step=task.step.title, field=task.field.label)
