"""A bench for jobs: an invented machine and tractor, tiny invented steps, and records folded from events."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from rakeprep.jobs import events
from rakeprep.jobs.assess import Assessment, assess
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Option
from rakeprep.model.finding import Finding
from rakeprep.model.job import Opening, Record
from rakeprep.model.place import WHOLE, Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.store.events import Stored
from rakeprep.text import msg, verbatim

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
JUDGED = {
    "good": Verdict.IN_ORDER,
    "again": Verdict.MEASURE_AGAIN,
    "wrong": Verdict.PUT_RIGHT,
    "danger": Verdict.STOP,
}
PLACES = {
    "": WHOLE,
    "L": Place("L", msg("left rotor"), "rotor-left", "left"),
    "R": Place("R", msg("right rotor"), "rotor-right", "right"),
    "middle": Place("middle", msg("frame")),
}


def opening(machine: Path, tractor: Path) -> Opening:
    return Opening(
        job="SAMPLE-1",
        opened=NOON,
        technician="Technician One",
        customer="Customer One",
        order="SAMPLE-1",
        profile_name=machine.name,
        profile_text=load_text(machine),
        tractor_name=tractor.name,
        tractor_text=load_text(tractor),
        sample=True,
    )


@dataclass(frozen=True)
class Bench:
    """Makes steps that judge an answer by its own word, records, and what follows from both."""

    profile: Profile
    tractor: Tractor
    opening: Opening

    def field(self, key: str, *places: str, **more: Any) -> Field:
        """A question whose answers are ``good``, ``again``, ``wrong`` and ``danger``."""
        return Field(
            key,
            verbatim(key),
            Ask.CHOICE,
            msg("Choose a word."),
            places=tuple(PLACES[p] for p in places or ("",)),
            options=tuple(Option(word, verbatim(word)) for word in JUDGED),
            **more,
        )

    def step(self, key: str, *fields: Field, order: int = 1, cautions: int = 0, **bars: Any) -> Step:
        """A step that finds what its answers say; ``bars`` go into every finding."""

        def check(facts: Facts) -> Iterable[Finding]:
            for field in fields:
                for place in field.places:
                    word = facts.text(field.key, place.key)
                    if word in JUDGED:
                        slot = facts.slot(field.key, place.key)
                        yield Finding(JUDGED[word], (slot,), msg("It is {word}.", word=word), **bars)

        caution = Caution(msg("It turns."), msg("Shut it down."))
        return Step(
            key, order, verbatim(key), msg("About."), (caution,) * cautions, lambda p, t: fields, (check,)
        )

    def stored(self, *bodies: Mapping[str, Any]) -> tuple[Stored, ...]:
        """A chain of events behind the opening, one minute apart."""
        return tuple(
            Stored(seq, (NOON + dt.timedelta(minutes=seq)).isoformat(), body, f"h{seq - 1}", f"h{seq}")
            for seq, body in enumerate((events.opened(self.opening), *bodies), 1)
        )

    def record(self, *bodies: Mapping[str, Any]) -> Record:
        """The record that those events tell."""
        return events.fold(self.stored(*bodies))

    def assess(self, steps: Step | tuple[Step, ...], *bodies: Mapping[str, Any]) -> Assessment:
        """What follows from those events."""
        steps = steps if isinstance(steps, tuple) else (steps,)
        return assess(steps, self.profile, self.tractor, self.record(*bodies), NOON.date())

    def entry(self, slot: str, typed: str = "good", **more: Any) -> Mapping[str, Any]:
        """The event of an answer."""
        return events.entered(Entry(Slot.read(slot), How.VALUE, typed, "Technician One", NOON, 0, **more))

    def absent(self, slot: str) -> Mapping[str, Any]:
        """The event of "not on this machine"."""
        entry = Entry(Slot.read(slot), How.ABSENT, "", "Technician One", NOON, 0, reason="none fitted")
        return events.entered(entry)

    def later(self, slot: str) -> Mapping[str, Any]:
        """The event of an open point."""
        return events.left_for_later(Slot.read(slot), "part is ordered", "2026-05-01", "Technician One")


@pytest.fixture(scope="session")
def bench() -> Bench:
    machine, tractor = sample_machines()[0], sample_tractors()[0]
    profile = read_profile(load_text(machine), machine.name).value
    power = read_tractor(load_text(tractor), tractor.name).value
    assert profile is not None
    assert power is not None
    return Bench(profile, power, opening(machine, tractor))


class Ticking:
    """A clock that moves on by one second whenever it is asked."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> dt.datetime:
        self.now += dt.timedelta(seconds=1)
        return self.now


@pytest.fixture
def ticking() -> Ticking:
    return Ticking()


@pytest.fixture
def job_path(tmp_path: Path) -> Path:
    return tmp_path / "sample.rakejob"


@pytest.fixture
def job(bench: Bench, job_path: Path, ticking: Ticking) -> Iterable[OpenJob]:
    """A job on the first sample machine, with the real steps."""
    with OpenJob.start(job_path, bench.opening, ticking) as opened:
        yield opened
