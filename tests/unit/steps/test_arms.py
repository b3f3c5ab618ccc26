"""Tine arms on the invented sample rake A; hands and counts worked by hand."""

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
from rakeprep.steps.arms import STEP
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


LEFT = [f"LA{n:02d}" for n in range(1, 13)]
RIGHT = [f"RA{n:02d}" for n in range(1, 13)]


def hands(*swapped: str) -> list[tuple[str, str]]:
    """Every arm with its right hand and a coil that winds up, except the swapped ones."""
    answers = []
    for key in (*LEFT, *RIGHT):
        left = (key[0] == "L") != (key in swapped)
        answers += [(f"hand@{key}", "left" if left else "right")]
        answers += [(f"coil@{key}", "opens" if key in swapped else "winds")]
    return answers


def test_that_every_arm_is_asked_by_its_number() -> None:
    hand = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "hand")
    assert [p.key for p in hand.places] == LEFT + RIGHT
    assert hand.need is Need.MUST
    assert hand.places[0].part == "arm-LA01"


def test_that_a_machine_put_together_right_is_in_order() -> None:
    findings = found(*hands(), ("turning@left", "clockwise"), ("turning@right", "anticlockwise"))
    assert {f.verdict for f in findings} == {Verdict.IN_ORDER}
    assert len(findings) == 24 + 2


def test_that_one_wrong_arm_is_named_and_counted() -> None:
    findings = found(*hands("RA07"))
    says = [str(f.says) for f in findings if f.verdict is Verdict.PUT_RIGHT]
    # invented case, counted by hand: 13 left-hand and 11 right-hand arms
    assert says == [
        "Arm RA07 is a left-hand arm.",
        "1 left-hand arm is among the right-hand ones; 11 right-hand found of 12.",
    ]


def test_that_two_wrong_arms_on_the_right_rotor_are_both_named() -> None:
    wrong = {str(f.about[0]) for f in found(*hands("RA03", "RA09")) if f.verdict is Verdict.PUT_RIGHT}
    assert wrong == {"arms.hand@RA03", "arms.hand@RA09"}  # practice case 8


def test_that_exchanged_sets_are_one_finding_for_each_rotor() -> None:
    findings = found(*hands(*LEFT, *RIGHT))  # practice case 9
    assert [str(f.says) for f in findings] == [
        "All arms on the left rotor have the wrong hand: the two sets are exchanged.",
        "All arms on the right rotor have the wrong hand: the two sets are exchanged.",
    ]


def test_that_the_first_wrong_arms_are_not_yet_called_a_set() -> None:
    says = [str(f.says) for f in found(("hand@RA01", "left"), ("hand@RA02", "left"))]
    assert says == ["Arm RA01 is a left-hand arm.", "Arm RA02 is a left-hand arm."]


def test_that_an_opening_coil_on_an_arm_of_the_right_hand_means_a_turned_tine() -> None:
    finding = at(found(("hand@RA04", "right"), ("coil@RA04", "opens")), "hand@RA04")  # practice case 7
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "tine" in str(finding.todo)
    assert finding.bars == {Use.FIELD}


@pytest.mark.parametrize(
    ("side", "seen", "verdict"),
    [
        ("left", "clockwise", Verdict.IN_ORDER),
        ("left", "anticlockwise", Verdict.PUT_RIGHT),
        ("right", "clockwise", Verdict.PUT_RIGHT),
    ],
)
def test_that_the_front_has_to_sweep_to_the_middle(side: str, seen: str, verdict: Verdict) -> None:
    finding = at(found((f"turning@{side}", seen)), f"turning@{side}")
    assert finding.verdict is verdict
    assert (Use.PTO in finding.bars) is (verdict is Verdict.PUT_RIGHT)


def test_that_data_that_sweep_outward_are_doubted() -> None:
    odd = replace(MACHINE, rotor=replace(MACHINE.rotor, left=MACHINE.rotor.right))
    finding = at(found(("turning@left", "anticlockwise"), machine=odd), "turning@left")
    assert finding.verdict is Verdict.MEASURE_AGAIN


@pytest.mark.parametrize(("count", "verdict"), [("4", Verdict.IN_ORDER), ("3", Verdict.PUT_RIGHT)])
def test_that_tines_are_counted_against_the_data(count: str, verdict: Verdict) -> None:
    assert at(found(("tines@LA01", count)), "tines@LA01").verdict is verdict


@pytest.mark.parametrize(
    ("play", "verdict"),
    [
        # rules of thumb: 0 to 3 mm well pinned, 10 mm and more loose
        ("2 mm", Verdict.IN_ORDER),
        ("6 mm", Verdict.MEASURE_AGAIN),
        ("14 mm", Verdict.PUT_RIGHT),  # practice case 43
        ("-1 mm", Verdict.MEASURE_AGAIN),
    ],
)
def test_that_play_after_pinning_is_judged(play: str, verdict: Verdict) -> None:
    assert at(found(("twist@LA03", play)), "twist@LA03").verdict is verdict


@pytest.mark.parametrize(("count", "verdict"), [("6", Verdict.IN_ORDER), ("7", Verdict.PUT_RIGHT)])
def test_that_loose_arms_are_counted(count: str, verdict: Verdict) -> None:
    # sample rake A: 12 arms a rotor, 6 fitted on delivery
    assert at(found(("loose@left", count)), "loose@left").verdict is verdict


def test_that_a_rotor_that_touches_bars_the_pto() -> None:
    finding = at(found(("free_turn@left", "no")), "free_turn@left")
    assert Use.PTO in finding.bars


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
