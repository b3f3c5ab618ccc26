"""Checks that are only run again when an entry they looked at has changed.

A check is pure: what it says follows from the entries it asked for. So it is enough to note which ones
those were.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from rakeprep.jobs.out_of_date import Asked
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.job import Record
from rakeprep.model.profile import Profile
from rakeprep.model.step import Step
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
    """The checks of one machine on one tractor, each with what it said last."""

    def __init__(self, profile: Profile, tractor: Tractor) -> None:
        self._profile, self._tractor = profile, tractor
        self._said: dict[tuple[str, dt.date], Said] = {}
        self._asked: tuple[Mapping[Slot, Task], tuple[Asked, ...]] | None = None

    def asked_of(self, tasks: Mapping[Slot, Task]) -> tuple[Asked, ...]:
        """The questions of these tasks, each with its places; the same as long as the tasks are."""
        if self._asked is None or self._asked[0] is not tasks:
            found = {(t.step.key, t.field.key): Asked(t.step.key, t.field) for t in tasks.values()}
            self._asked = tasks, tuple(found.values())
        return self._asked[1]

    def findings(self, step: Step, record: Record, today: dt.date) -> tuple[Finding, ...]:
        """What the step's check says about the record on a day."""
        said = self._said.get((step.key, today))
        if said is None or not said.still_holds(record):
            said = self._said[step.key, today] = self._run(step, record, today)
        return said.findings

    def _run(self, step: Step, record: Record, today: dt.date) -> Said:
        seen: set[Slot] = set()
        entries, history = Watched(record.entries, seen), Watched(record.history, seen)
        watched = replace(record, entries=entries, history=history)
        findings = tuple(step.check(Facts(self._profile, self._tractor, watched, step.key, today)))
        rests_on = {slot: record.entries.get(slot) for slot in seen}
        return Said(rests_on, entries.whole or history.whole, findings)
