"""Checks that are only run again when an entry they looked at has changed.

A check is pure: what it says follows from the entries it asked for. So it is enough to note which ones
those were.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from rakeprep.jobs.kept import Kept
from rakeprep.jobs.out_of_date import Asked
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.job import Record
from rakeprep.model.profile import Profile
from rakeprep.model.step import Check, Step
from rakeprep.model.tractor import Tractor

if TYPE_CHECKING:
    from rakeprep.jobs.assess import Task

V = TypeVar("V")


class Watched(Mapping[Slot, V]):
    """A mapping that notes in ``seen`` which addresses were asked for; ``whole`` is set if all were."""

    def __init__(self, inner: Mapping[Slot, V], seen: set[Slot]) -> None:
        self._inner, self._seen = inner, seen
        self.whole = False

    def __getitem__(self, slot: Slot) -> V:
        self._seen.add(slot)
        return self._inner[slot]

    def __iter__(self) -> Iterator[Slot]:
        self.whole = True
        return iter(self._inner)

    def __len__(self) -> int:
        self.whole = True
        return len(self._inner)


@dataclass(frozen=True, slots=True)
class Said:
    """What a check said, and the entries on which that rests."""

    seen: Mapping[Slot, Entry | None]
    whole: bool
    findings: tuple[Finding, ...]

    def still_holds(self, record: Record) -> bool:
        """Whether nothing it rests on has changed."""
        return not self.whole and all(record.entries.get(slot) is entry for slot, entry in self.seen.items())


class Checks:
    """The checks of one machine on one tractor, each with what it said last; ``kept`` has what else
    follows from the entries."""

    def __init__(self, profile: Profile, tractor: Tractor) -> None:
        self._profile, self._tractor = profile, tractor
        self._said: dict[tuple[Check, dt.date], Said] = {}
        self.kept = Kept()

    def asked_of(self, tasks: Mapping[Slot, Task]) -> tuple[Asked, ...]:
        """The questions of these tasks, each with its places; the same as long as the tasks are."""

        def questions() -> tuple[Asked, ...]:
            found = {(t.step.key, t.field.key): Asked(t.step.key, t.field) for t in tasks.values()}
            return tuple(found.values())

        return self.kept.get("asked", (tasks,), questions)

    def findings(self, step: Step, record: Record, today: dt.date) -> Iterator[Finding]:
        """What the step's checks say about the record on a day."""
        for check in step.checks:
            said = self._said.get((check, today))
            if said is None or not said.still_holds(record):
                said = self._said[check, today] = self._run(check, step.key, record, today)
            yield from said.findings

    def _run(self, check: Check, step: str, record: Record, today: dt.date) -> Said:
        seen: set[Slot] = set()
        entries, history = Watched(record.entries, seen), Watched(record.history, seen)
        watched = replace(record, entries=entries, history=history)
        findings = tuple(check(Facts(self._profile, self._tractor, watched, step, today)))
        rests_on = {slot: record.entries.get(slot) for slot in seen}
        return Said(rests_on, entries.whole or history.whole, findings)
