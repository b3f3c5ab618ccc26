"""A bench for steps: the invented machines and tractors, and a record made from answers as typed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

import pytest

from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field
from rakeprep.model.finding import Finding
from rakeprep.model.job import Opening, Record
from rakeprep.model.profile import Profile
from rakeprep.model.step import Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.steps import all_steps
from rakeprep.units import parse, parse_count, to_si

WHO = "Technician One"
NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.UTC)
OPENING = Opening("job", NOON, WHO, "Customer One", "1", "a", "", "t", "", sample=True)

Answer = tuple[str, str]  # address and what was typed


def understood(field: Field, slot: Slot, typed: str, seq: int) -> Entry:
    """One answer, understood as its question asks."""
    if field.ask is Ask.QUANTITY and field.kind is not None:
        read = parse(typed, field.kind, field.unit)
        # less the zero of the scale: a division of 1 °C is 1 K and not 274.15 K
        division = to_si(read.division, read.unit) - to_si(Fraction(0), read.unit)
        return Entry(slot, How.VALUE, typed, WHO, NOON, seq, read.unit, read.si, division)
    exact = Fraction(parse_count(typed)) if field.ask is Ask.COUNT else None
    return Entry(slot, How.VALUE, typed, WHO, NOON, seq, "", exact)


@dataclass(frozen=True)
class Bench:
    """Asks one step what it says to answers.

    An address is ``field@place`` of that step or ``step.field@place`` of another one.
    """

    step: Step
    steps: Mapping[str, Step]
    machine: Profile
    tractor: Tractor

    def slot(self, address: str) -> Slot:
        """The slot that an address means."""
        of_another = "." in address.partition("@")[0]  # the place may be a path with dots of its own
        return Slot.read(address if of_another else f"{self.step.key}.{address}")

    def found(
        self,
        *answers: Answer | Mapping[str, str],
        machine: Profile | None = None,
        tractor: Tractor | None = None,
        absent: Iterable[str] = (),
    ) -> list[Finding]:
        """What the step says to answers in the order given, each a pair or a mapping of several.

        An address answered again keeps its earlier answer in the history; ``absent`` are the
        addresses that are not on this machine.
        """
        asked_of = (machine or self.machine, tractor or self.tractor)
        pairs = [pair for each in answers for pair in (each.items() if isinstance(each, Mapping) else [each])]
        fields: dict[str, dict[str, Field]] = {}
        entries: dict[Slot, Entry] = {}
        history: dict[Slot, tuple[Entry, ...]] = {}
        for seq, (address, typed) in enumerate(pairs, 1):
            slot = self.slot(address)
            if slot.step not in fields:
                fields[slot.step] = {field.key: field for field in self.steps[slot.step].fields(*asked_of)}
            field = fields[slot.step][slot.field]
            assert field.place(slot.place) is not None, f"{slot} is no question of this machine"
            entries[slot] = understood(field, slot, typed, seq)
            history[slot] = (*history.get(slot, ()), entries[slot])
        for address in absent:
            slot = self.slot(address)
            entries[slot] = Entry(slot, How.ABSENT, "", WHO, NOON, 1, reason="not on this machine")
        return self.judge(entries, *asked_of, history=history)

    def judge(
        self,
        entries: Mapping[Slot, Entry],
        machine: Profile | None = None,
        tractor: Tractor | None = None,
        history: Mapping[Slot, tuple[Entry, ...]] | None = None,
    ) -> list[Finding]:
        """What the step says to entries that need not be answers anybody could type."""
        record = Record(OPENING, entries, history or {})
        facts = Facts(machine or self.machine, tractor or self.tractor, record, self.step.key, NOON.date())
        return list(self.step.check(facts))

    def shown(self, findings: Iterable[Finding], address: str) -> list[Finding]:
        """The findings shown at an address."""
        return [each for each in findings if each.about[0] == self.slot(address)]

    def at(self, findings: Iterable[Finding], address: str, about: str = "") -> Finding:
        """The one finding shown at an address, the one that says ``about`` where there are several."""
        shown = [each for each in self.shown(findings, address) if about in str(each.says)]
        assert len(shown) == 1, [str(each.says) for each in shown]
        return shown[0]

    def verdicts(self, findings: Iterable[Finding], address: str) -> set[Verdict]:
        """What is said at an address."""
        return {each.verdict for each in self.shown(findings, address)}


@pytest.fixture(scope="session")
def machines() -> Mapping[str, Profile]:
    """The invented machines by the name of their file."""
    read = {path.stem: read_profile(load_text(path), path.stem).value for path in sample_machines()}
    assert all(read.values())
    return {name: made for name, made in read.items() if made is not None}


@pytest.fixture(scope="session")
def tractors() -> Mapping[str, Tractor]:
    """The invented tractors by the name of their file."""
    read = {path.stem: read_tractor(load_text(path), path.stem).value for path in sample_tractors()}
    assert all(read.values())
    return {name: made for name, made in read.items() if made is not None}


@pytest.fixture(scope="session")
def machine_a(machines: Mapping[str, Profile]) -> Profile:
    """Sample rake A, in metric units: the machine of every test that names no other."""
    return machines["sample-rake-a"]


@pytest.fixture(scope="session")
def machine_b(machines: Mapping[str, Profile]) -> Profile:
    """Sample rake B, in inches."""
    return machines["sample-rake-b"]


@pytest.fixture(scope="session")
def tractor(tractors: Mapping[str, Tractor]) -> Tractor:
    """The tractor that fits: that of every test that names no other."""
    return tractors["tractor-fits"]


@pytest.fixture(scope="module", params=["sample-rake-a", "sample-rake-b"], ids=["machine0", "machine1"])
def machine(request: pytest.FixtureRequest, machines: Mapping[str, Profile]) -> Profile:
    """Each invented machine in turn."""
    return machines[request.param]


@pytest.fixture(scope="module")
def bench(request: pytest.FixtureRequest, machine_a: Profile, tractor: Tractor) -> Bench:
    """The bench with the module's own ``STEP`` on it."""
    return Bench(request.module.STEP, {step.key: step for step in all_steps()}, machine_a, tractor)
