"""Guards, latches and signs on the invented sample rake A; depths worked by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest

from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.job import Opening, Record
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.steps import all_steps
from rakeprep.steps.guards import STEP
from rakeprep.units import Kind, Typed, parse, parse_count
from rakeprep.units.convert import size_of

FIELDS = {step.key: step.fields for step in all_steps()}

TODAY = dt.date(2026, 4, 14)
NOW = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.UTC)
MACHINE = read_profile(load_text(sample_machines()[0]), "a").value
INCHES = read_profile(load_text(sample_machines()[1]), "b").value
TRACTOR = read_tractor(load_text(sample_tractors()[0]), "t").value
assert MACHINE is not None
assert INCHES is not None
assert TRACTOR is not None
OPENING = Opening("job", NOW, "Technician One", "Customer One", "1", "a", "", "t", "", sample=True)


def found(*answers: tuple[str, str], machine: Profile = MACHINE, tractor: Tractor = TRACTOR) -> list[Finding]:
    """What the step says to answers at ``field@place``, or ``step.field@place``, in the order given."""
    entries: dict[Slot, Entry] = {}
    history: dict[Slot, tuple[Entry, ...]] = {}
    for seq, (address, typed) in enumerate(answers, 1):
        field, _, place = address.partition("@")
        step = field.partition(".")[0] if "." in field else STEP.key
        slot = Slot(step, field.rpartition(".")[2], place)
        asked = next(f for f in FIELDS[step](machine, tractor) if f.key == slot.field)
        assert asked.place(place) is not None, f"{slot} is no question of this machine"
        value = None
        if asked.ask is Ask.QUANTITY and asked.kind is not None:
            value = parse(typed, asked.kind, asked.unit)
        elif asked.ask is Ask.COUNT:
            value = parse_count(typed)
        entries[slot] = Entry(
            slot,
            How.VALUE,
            typed,
            "Technician One",
            NOW,
            seq,
            value.unit if isinstance(value, Typed) else "",
            value.si if isinstance(value, Typed) else None if value is None else Fraction(value),
            value.division * size_of(value.unit) if isinstance(value, Typed) else None,
        )
        history[slot] = (*history.get(slot, ()), entries[slot])
    record = Record(OPENING, entries, history)
    return list(STEP.check(Facts(machine, tractor, record, STEP.key, TODAY)))


def at(findings: list[Finding], address: str) -> Finding:
    """The one finding shown at ``field@place``."""
    shown = [f for f in findings if str(f.about[0]) == f"{STEP.key}.{address}"]
    assert len(shown) == 1, [str(f.says) for f in shown]
    return shown[0]


@pytest.mark.parametrize(
    ("depth", "verdict"),
    [
        # 35 mm full depth, 3 mm tolerance: from 32 mm; tape ± 2 mm, so in order from 34, out below 30
        ("35 mm", Verdict.IN_ORDER),
        ("33 mm", Verdict.MEASURE_AGAIN),
        ("18 mm", Verdict.STOP),  # practice case 33: half down
    ],
)
def test_that_a_half_dropped_latch_stops_the_work(depth: str, verdict: Verdict) -> None:
    finding = at(found(("depth@latch-left", depth)), "depth@latch-left")
    assert finding.verdict is verdict
    assert finding.source == MACHINE.latch[0].depth.source


def test_that_the_latch_needs_two_people_and_bars_the_road() -> None:
    depth = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "depth")
    assert depth.two_people
    assert depth.need is Need.MUST
    assert depth.bars == {Use.ROAD}


def test_that_an_open_guard_stops_the_run() -> None:
    finding = at(found(("closed@hoop-left", "no")), "closed@hoop-left")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.PTO}


def test_that_only_guards_of_turning_shafts_have_chains() -> None:
    chains = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "chain_holds")
    assert {p.key for p in chains.places} == {g.key for g in MACHINE.guard if g.driveline}


@pytest.mark.parametrize("field", ["guard_free", "chain_holds"])
def test_that_a_guard_that_drags_or_is_loose_bars_the_pto(field: str) -> None:
    finding = at(found((f"{field}@pto-guard", "no")), f"{field}@pto-guard")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert finding.bars == {Use.PTO}


def test_that_a_latch_that_gives_way_bars_the_road() -> None:
    finding = at(found(("pull_test@latch-right", "no")), "pull_test@latch-right")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.ROAD}


@pytest.mark.parametrize(
    ("read", "verdict"),
    [
        # rule of thumb 50 mm, tape ± 2 mm
        ("55 mm", Verdict.IN_ORDER),
        ("2 in", Verdict.MEASURE_AGAIN),
        ("40 mm", Verdict.PUT_RIGHT),
    ],
)
def test_that_the_guard_reaches_far_enough_into_the_shield(read: str, verdict: Verdict) -> None:
    finding = at(found(("shield_overlap@tractor-end", read)), "shield_overlap@tractor-end")
    assert finding.verdict is verdict
    assert finding.source is not None
    assert "rule of thumb" in str(finding.source.said)


def test_that_what_is_right_is_said_too() -> None:
    findings = found(("closed@hoop-left", "yes"), ("signs", "yes"), ("cord@latch-left", "yes"))
    assert [f.verdict for f in findings] == [Verdict.IN_ORDER] * 3


def test_that_a_machine_without_latches_is_not_asked_for_them() -> None:
    bare = replace(MACHINE, latch=(), guard=())
    assert {f.key for f in STEP.fields(bare, TRACTOR)} == {"shield_overlap", "signs"}
    assert found(machine=bare) == []


NONSENSE = ["-1000000000", "0", "99999999999999999999", "-0.001"]


@pytest.mark.parametrize("typed", NONSENSE)
@pytest.mark.parametrize("machine", [MACHINE, INCHES])
def test_that_nonsense_everywhere_is_judged_without_a_crash(typed: str, machine: Profile) -> None:
    answers = []
    for field in STEP.fields(machine, TRACTOR):
        coldest = field.kind is Kind.TEMPERATURE and typed.startswith("-1")  # the grammar refuses those
        number = "-273" if coldest else typed
        word = number if field.ask is Ask.QUANTITY else "9999" if field.ask is Ask.COUNT else "no, perhaps,"
        answers += [(f"{field.key}@{place.key}", word) for place in field.places]
    slots = {(f.key, place.key) for f in STEP.fields(machine, TRACTOR) for place in f.places}
    for finding in found(*answers, machine=machine):
        assert str(finding.says)
        assert all((slot.field, slot.place) in slots for slot in finding.about if slot.step == STEP.key)
