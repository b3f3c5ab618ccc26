"""One job open: the only door for changes.

How an answer flows: typed text → ``reading.read`` → an event → the store (on disk) → the record folded
anew → checks → findings, out-of-date marks, gate. Nothing else changes a job.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from types import TracebackType

from rakeprep.jobs import events
from rakeprep.jobs.assess import (
    Assessment,
    Readiness,
    Task,
    assess,
    assess_tasks,
    task_name,
    tasks_of,
)
from rakeprep.jobs.beginning import demand_closed, demand_owner_and_tractor, demand_places, known_kind
from rakeprep.jobs.chapters import CHECKER, CUSTOMER, TECHNICIAN, Kind, roles_of
from rakeprep.jobs.given_words import LONGEST_NAME, check_name, check_reason, check_strokes
from rakeprep.jobs.names import corrected
from rakeprep.jobs.own_instruments import registration
from rakeprep.jobs.reading import Refused, clean, read
from rakeprep.jobs.remembered import Checks
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Ask, Field, Need
from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.model.job import Opening, Record, Signature, Stroke
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import read_profile, read_tractor
from rakeprep.steps import all_steps
from rakeprep.store.events import Stored
from rakeprep.store.job_file import JobFile
from rakeprep.text import Message, msg

Clock = Callable[[], dt.datetime]
ROLES = (TECHNICIAN, CHECKER, CUSTOMER)
ROLE_WORDS = {
    TECHNICIAN: msg("Technician"),
    CHECKER: msg("Second checker"),
    CUSTOMER: msg("Customer"),
}
LARGEST_PHOTO = 40_000_000  # bytes; larger than any camera of a telephone makes
PICTURES = {b"\x89PNG\r\n\x1a\n": "image/png", b"\xff\xd8\xff": "image/jpeg"}


class UnreadableData(Exception):
    """The machine's or tractor's data inside a job cannot be read; ``message`` names the first mistake."""

    def __init__(self, message: Message) -> None:
        super().__init__(str(message))
        self.message = message


def understood(opening: Opening) -> tuple[Profile, Tractor]:
    """Machine and tractor as their frozen texts tell; raises ``UnreadableData``."""
    return data_of((opening.profile_text, opening.profile_name), (opening.tractor_text, opening.tractor_name))


@lru_cache(maxsize=4)  # of the job that is open, asked again for each document and its check
def data_of(machine: tuple[str, str], tractor: tuple[str, str]) -> tuple[Profile, Tractor]:
    """What two texts tell, each with the name of its file; raises ``UnreadableData``."""
    profile, power = read_profile(*machine), read_tractor(*tractor)
    for found in (*profile.mistakes, *power.mistakes):
        raise UnreadableData(
            msg("{file}, line {line}: {says}", file=found.file, line=found.line, says=found.says)
        )
    if profile.value is None or power.value is None:
        raise UnreadableData(msg("The data of the machine or of the tractor is empty."))
    return profile.value, power.value


def judge(stored: Iterable[Stored], today: dt.date) -> tuple[Record, Assessment]:
    """Record and assessment of a chain of events; used for a job and to recompute a document."""
    record = events.fold(stored)
    profile, tractor = understood(record.opening)
    return record, assess(all_steps(), profile, tractor, record, today)


class OpenJob:
    """A job that is open. ``record`` and ``assessment`` always follow from what is on disk."""

    def __init__(self, file: JobFile, clock: Clock) -> None:
        self.file = file
        self.clock = clock
        self.profile: Profile
        self.tractor: Tractor
        self.record: Record
        self.tasks: Mapping[Slot, Task]
        self._checks: Checks
        self._assessed: tuple[Record, dt.date, Assessment] | None = None
        self.refresh()

    @classmethod
    def start(cls, path: Path, opening: Opening, clock: Clock) -> OpenJob:
        """Open a new job; raises ``UnreadableData``, ``Refused`` or ``StoreError``."""
        understood(opening)
        for name in (opening.technician, opening.customer):
            check_name(name)
        return cls.on(JobFile.create(path, events.opened(opening), clock), clock)

    @classmethod
    def resume(cls, path: Path, clock: Clock, read_only: bool = False) -> OpenJob:
        """Open a job where it was left; raises ``StoreError`` or ``UnreadableData``."""
        return cls.on(JobFile.open(path, clock, read_only), clock)

    @classmethod
    def on(cls, file: JobFile, clock: Clock) -> OpenJob:
        """The job in ``file``, which is let go again if it cannot be understood."""
        try:
            return cls(file, clock)
        except BaseException:
            file.close()
            raise

    def refresh(self) -> None:
        """Fold the events on disk anew and run all checks."""
        try:
            self.record = events.fold(self.file.events())
        except ValueError as error:
            raise UnreadableData(
                msg(
                    "{file} has entries that this edition of the program cannot read ({reason}). Open it "
                    "with the edition that wrote it, or open a copy made earlier.",
                    file=str(self.file.path),
                    reason=str(error),
                )
            ) from error
        self._understand()

    def _understand(self) -> None:
        """Work out what this machine asks on this tractor."""
        self.profile, self.tractor = understood(self.record.opening)
        self.tasks = tasks_of(all_steps(), self.profile, self.tractor, self.record.chapter)
        self._checks = Checks(self.profile, self.tractor)
        self._assessed = None

    @property
    def assessment(self) -> Assessment:
        """What follows from the record today; worked out when somebody asks."""
        today = self.clock().date()
        if self._assessed is None or self._assessed[0] is not self.record or self._assessed[1] != today:
            found = assess_tasks(all_steps(), self.tasks, self._checks, self.record, today)
            self._assessed = (self.record, today, found)
        return self._assessed[2]

    def _store(self, body: events.Body) -> Stored:
        """Put one event on disk, then let everything follow from it."""
        self._still_open()
        return self._append(body)

    def _append(self, body: events.Body) -> Stored:
        stored = self.file.append(body)
        self.record = events.fold_one(self.record, stored)
        if body["is"] in {"tractor", "chapter"}:
            self._understand()
        return stored

    def _still_open(self) -> None:
        if self.file.restored:
            raise Refused(
                msg(
                    "This job was brought back from its document and can only be read; go on with it where "
                    "it was made."
                )
            )
        if self.record.sealed:
            raise Refused(
                msg(
                    "This chapter is handed over and closed; nothing in it can be changed any more. A later "
                    "visit is a new chapter."
                )
            )

    def field(self, slot: Slot) -> Field:
        """The question at an address; raises ``Refused`` if this machine has none there."""
        task = self.tasks.get(slot)
        if task is None:
            raise Refused(msg("There is no question “{slot}” on this machine.", slot=str(slot)))
        return task.field

    def commit(
        self, slot: Slot, text: str, who: str, unit: str = "", instrument: str = "", reason: str = ""
    ) -> Entry:
        """Take an answer. It is on disk when this returns; raises ``Refused`` or ``StoreError``."""
        field = self.field(slot)
        answer = read(field, text, unit)
        entry = Entry(
            slot=slot,
            how=How.VALUE,
            typed=answer.typed,
            who=check_name(who),
            at=self.clock(),
            seq=0,
            unit=answer.unit,
            exact=answer.exact,
            division=answer.division,
            instrument=clean(instrument)[:LONGEST_NAME],
            reason=check_reason(reason) if reason else "",
        )
        self._store(events.entered(entry))
        return self.record.entries[slot]

    def photo(self, slot: Slot, name: str, data: bytes, who: str) -> Entry:
        """Keep a picture at a place; the original goes into the job's file."""
        if self.field(slot).ask is not Ask.PHOTO:
            raise Refused(msg("No picture is asked for here."))
        self._still_open()
        kind = next((k for start, k in PICTURES.items() if data.startswith(start)), None)
        if kind is None:
            raise Refused(msg("{name} is no JPEG or PNG picture; choose another file.", name=name))
        if len(data) > LARGEST_PHOTO:
            raise Refused(msg("{name} is larger than 40 MB; choose a smaller picture.", name=name))
        taken_by = check_name(who)
        sha256 = self.file.add_blob("photo", name, kind, data)
        entry = Entry(slot, How.VALUE, sha256, taken_by, self.clock(), 0, reason=clean(name))
        self._store(events.entered(entry))
        return self.record.entries[slot]

    def absent(self, slot: Slot, reason: str, who: str) -> None:
        """Say that a thing is not on this machine, and why; not where the machine must have it."""
        if self.field(slot).need is Need.MUST:
            raise Refused(
                msg(
                    "{task} must be answered: “not on this machine” is no answer here.",
                    task=task_name(self.tasks[slot]),
                )
            )
        entry = Entry(slot, How.ABSENT, "", check_name(who), self.clock(), 0, reason=check_reason(reason))
        self._store(events.entered(entry))

    def leave(self, slot: Slot, reason: str, who: str, due: str = "") -> None:
        """Leave a question, or a finding on it, as an open point; danger cannot be left."""
        self.field(slot)
        state = self.assessment.states[slot]
        if state.cannot_be_left:
            task = task_name(state.task)
            if state.verdict is Verdict.STOP:
                raise Refused(
                    msg("{task} cannot be left as an open point: it is dangerous. Put it right.", task=task)
                )
            raise Refused(
                msg(
                    "{task} cannot be left as an open point: the machine must not leave without it.",
                    task=task,
                )
            )
        until = check_name(due) if due.strip() else ""
        self._store(events.left_for_later(slot, check_reason(reason), until, check_name(who)))

    def confirm(self, slot: Slot, who: str) -> None:
        """A second person confirms what another has entered."""
        self.field(slot)
        entry = self.record.entries.get(slot)
        if entry is None:
            raise Refused(msg("There is nothing entered here that could be confirmed."))
        name = check_name(who)
        if name.casefold() == entry.who.casefold():
            raise Refused(msg("{name} entered this; somebody else has to look at it and confirm.", name=name))
        self._store(events.confirmed(slot, entry.seq, name))

    def read_caution(self, step: str, who: str) -> None:
        """Note who read the cautions of a step."""
        if step not in {known.key for known in self.assessment.steps}:
            raise Refused(msg("There is no step “{step}” in this work.", step=clean(step[:LONGEST_NAME])))
        self._store(events.caution_read(step, check_name(who)))

    def register(self, own: OwnInstrument, who: str) -> None:
        """Register an instrument for this job, or its new calibration date; nothing if it is known so."""
        own = registration(own)
        if self.record.instruments.get(instrument_key(own.name)) != own:
            self._store(events.instrument_known(own, check_name(who)))

    def change_tractor(self, name: str, text: str, reason: str, who: str) -> None:
        """Put the job on another tractor; what rests on it becomes out of date."""
        understood(replace(self.record.opening, tractor_name=name, tractor_text=text))
        self._store(events.tractor_changed(name, text, check_reason(reason), check_name(who)))

    def correct_name(self, of: str, name: str, reason: str, who: str) -> None:
        """Put right a name that was written wrong at the opening, one of ``model.job.NAMES``."""
        became = corrected(self.record.opening, of, name)
        was = str(getattr(self.record.opening, of))
        self._store(events.name_corrected(of, was, became, check_reason(reason), check_name(who)))

    def begin_chapter(
        self,
        kind: str,
        who: str,
        reason: str,
        places: tuple[str, ...] = (),
        customer: str = "",
        tractor: tuple[str, str] | None = None,
    ) -> None:
        """Begin the next chapter of a closed job; ``tractor`` is its name and the text of its data file.

        Raises ``Refused``, ``UnreadableData`` or ``StoreError``; the chapters before stay as they are.
        """
        known = known_kind(kind)
        if self.file.restored:
            self._still_open()
        demand_closed(self.record)
        demand_places(known, self.places_for(known), places)
        demand_owner_and_tractor(known, customer, tractor is not None)
        if tractor is not None:
            understood(replace(self.record.opening, tractor_name=tractor[0], tractor_text=tractor[1]))
        self._append(
            events.chapter_begun(
                kind,
                check_name(who),
                check_reason(reason),
                places,
                check_name(customer) if customer.strip() else "",
                tractor,
            )
        )

    def places_for(self, kind: Kind) -> tuple[Place, ...]:
        """The places among which a chapter of this kind is told where it happens."""
        asked = (
            field.places
            for step in all_steps()
            for field in step.fields(self.profile, self.tractor)
            if f"{step.key}.{field.key}" == kind.at_places
        )
        return next(asked, ())

    def sign(self, role: str, name: str, strokes: tuple[Stroke, ...] = (), typed: bool = False) -> None:
        """Take a signature under the open points; only when nothing stands between job and customer."""
        if role not in roles_of(self.record.chapter):
            raise Refused(msg("Nobody signs as “{role}” here.", role=role))
        if self.assessment.gate.readiness is Readiness.NOT_READY:
            raise Refused(
                msg("Not ready for signing: first settle what stands between this job and the customer.")
            )
        check_strokes(strokes, typed)
        name = check_name(name)
        others = {s.name.casefold() for r, s in self.record.signatures.items() if r != role}
        if name.casefold() in others:
            raise Refused(msg("{name} has signed already; each role needs another person.", name=name))
        signature = Signature(role, name, self.clock(), self.record.head, strokes, typed)
        self._store(events.signed(signature))

    def missing_signatures(self) -> tuple[str, ...]:
        """The roles that have not signed what stands there now."""
        return tuple(role for role in roles_of(self.record.chapter) if role not in self.record.signatures)

    def close_with(self, document: bytes, name: str) -> None:
        """Keep the sealed document in the job and close the chapter."""
        self._still_open()
        sha256 = self.file.add_blob("document", name, "application/pdf", document)
        self._store(events.sealed(sha256, name))

    @property
    def last_stored(self) -> dt.datetime:
        """When the last event was put on disk."""
        return dt.datetime.fromisoformat(self.file.events()[-1].at)

    def close(self) -> None:
        """Let the file go."""
        self.file.close()

    def __enter__(self) -> OpenJob:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
