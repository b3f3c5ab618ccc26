"""Tyres on the invented sample rake A: 2.0 bar ± 0.2 bar on the chassis; gauge ± 0.1 bar."""

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
from rakeprep.steps.tyres import STEP
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


LEFT = ("L1L", "L1R", "L2L", "L2R", "L3L", "L3R")


def pressures(**changed: str) -> list[tuple[str, str]]:
    """Set pressures of the left chassis, with some changed."""
    return [(f"pressure_set@{key}", changed.get(key, "2.0 bar")) for key in LEFT]


@pytest.mark.parametrize(
    ("read", "verdict"),
    [
        # by hand: in order within ± 0.1 bar of 2.0, wrong beyond ± 0.3 bar, between measure again
        ("2.05 bar", Verdict.IN_ORDER),
        ("2.2 bar", Verdict.MEASURE_AGAIN),
        ("1.2 bar", Verdict.PUT_RIGHT),
        ("29 psi", Verdict.IN_ORDER),
        ("44 psi", Verdict.PUT_RIGHT),  # practice case 2: 3.0 bar from the truck
    ],
)
def test_that_a_pressure_is_judged_with_the_doubt_of_the_gauge(read: str, verdict: Verdict) -> None:
    finding = at(found(("pressure_set@L1R", read)), "pressure_set@L1R")
    assert finding.verdict is verdict
    assert finding.source == MACHINE.tyre[0].pressure.source


def test_that_what_to_set_now_follows_the_temperature_of_use() -> None:
    # by hand, gas law: 2.00 bar wanted at 5 °C is 2.18 bar at 22 °C
    answers = [
        ("workshop_temperature", "22 °C"),
        ("use_temperature", "5 °C"),
        ("pressure_set@L1L", "1.7 bar"),
    ]
    finding = at(found(*answers), "pressure_set@L1L")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "2.20 bar" in str(finding.says)
    assert (
        at(found(*answers[:2], ("pressure_set@L1L", "2.2")), "pressure_set@L1L").verdict is Verdict.IN_ORDER
    )


def test_that_one_soft_tyre_is_named_against_its_chassis() -> None:
    findings = found(*pressures(L1R="1.2 bar"))  # practice case 1
    alike = [f for f in findings if "on one chassis" in str(f.says)]
    assert [str(slot) for slot in alike[0].about] == ["tyres.pressure_set@L1R", "tyres.pressure_set@L1L"]
    assert "0.80 bar" in str(alike[0].says)


def test_that_a_chassis_is_compared_only_when_all_its_tyres_were_read() -> None:
    assert not [f for f in found(*pressures(L1R="1.2 bar")[:5]) if "on one chassis" in str(f.says)]


def test_that_tyres_of_another_size_are_not_compared_with_these() -> None:
    # a rear row that wants 3.5 bar is no fault of a front row that wants 2.0 bar
    mixed = tuple(replace(w, tyre="transport") if w.key.startswith("L3") else w for w in MACHINE.wheel)
    machine = replace(MACHINE, wheel=mixed)
    findings = found(*pressures(L3L="3.5 bar", L3R="3.5 bar"), machine=machine)
    assert {f.verdict for f in findings} == {Verdict.IN_ORDER}


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        ("16x6.50-8 6pr", Verdict.IN_ORDER),
        ("16x6.50-8  6PR", Verdict.IN_ORDER),
        ("18x8.50-8", Verdict.PUT_RIGHT),
    ],
)
def test_that_sizes_are_compared_without_case_and_blanks(typed: str, verdict: Verdict) -> None:
    assert at(found(("size@L1L", typed)), "size@L1L").verdict is verdict


def test_that_loose_nuts_stop_and_the_torque_is_named() -> None:
    finding = at(found(("nuts@XL", "no")), "nuts@XL")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.ROAD}
    assert "270 N·m" in str(finding.todo)  # sample data, transport tyre
    nuts = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "nuts")
    assert nuts.two_people
    assert nuts.need is Need.MUST


def test_that_only_castors_are_asked_about_swinging() -> None:
    castor = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "castor")
    assert {p.key for p in castor.places} == {w.key for w in MACHINE.wheel if w.castor}
    fixed = replace(MACHINE, wheel=tuple(replace(w, castor=False) for w in MACHINE.wheel))
    assert "castor" not in {f.key for f in STEP.fields(fixed, TRACTOR)}
    assert found(machine=fixed) == []


def test_that_the_unit_of_the_data_file_is_asked_for() -> None:
    asked = next(f for f in STEP.fields(INCHES, TRACTOR) if f.key == "pressure_set")
    assert asked.unit == "psi"  # sample rake B is written in psi


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
