"""The lights step on the invented sample rake A; wiring faults worked by hand from ISO 1724."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from fractions import Fraction

import pytest

from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Use
from rakeprep.model.finding import Finding
from rakeprep.model.job import Opening, Record
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.steps import all_steps
from rakeprep.steps.lights import STEP
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


HEALTHY = {
    "left-turn": "turn-left",
    "right-turn": "turn-right",
    "left-tail": "tail-left",
    "right-tail": "tail-right,plate",
    "stop": "stop-left,stop-right",
    "fog": "fog-left,fog-right",
}


def lamps(**changed: str) -> list[tuple[str, str]]:
    """Answers of a healthy machine with some functions changed."""
    wrong = {key.replace("_", "-"): value for key, value in changed.items()}
    return [(f"lit@{key}", wrong.get(key, value)) for key, value in HEALTHY.items()]


def test_that_only_functions_of_this_machine_are_asked() -> None:
    lit = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "lit")
    # sample rake A has lamps for all six commands; the plate lamp is no command of its own
    assert [p.key for p in lit.places] == list(HEALTHY)


def test_that_a_healthy_machine_is_in_order() -> None:
    findings = found(*lamps())
    assert {f.verdict for f in findings} == {Verdict.IN_ORDER}
    assert "Every function" in str(findings[-1].says)


def test_that_a_plate_lamp_on_the_left_tail_is_as_right_as_on_the_right_one() -> None:
    # ISO 1724: the plate lamp hangs on contact 5 or 7, as wired
    findings = found(*lamps(left_tail="tail-left,plate", right_tail="tail-right"))
    assert {f.verdict for f in findings} == {Verdict.IN_ORDER}


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        # practice cases 29 to 32, circuit logic worked by hand
        ({"left_turn": "turn-right", "right_turn": "turn-left"}, "Contacts 1 and 4 are crossed"),
        ({"left_tail": "tail-right,plate", "right_tail": "tail-left"}, "Contacts 5 and 7 are crossed"),
        ({"stop": "fog-left,fog-right", "fog": "stop-left,stop-right"}, "Contacts 2 and 6 are crossed"),
        ({"right_tail": "none"}, "Contact 5 (brown) is open"),
        ({"stop": "none"}, "Contact 6 (red) is open"),
        ({"stop": "stop-left"}, "right stop lamp itself is dead"),
    ],
)
def test_that_a_pattern_is_named(changed: dict[str, str], words: str) -> None:
    findings = found(*lamps(**changed))
    assert any(words in str(f.says) for f in findings), [str(f.says) for f in findings]
    wrong = {f.about[0].place for f in findings if f.verdict is Verdict.PUT_RIGHT}
    assert wrong == {key.replace("_", "-") for key in changed}
    assert all(Use.ROAD in f.bars for f in findings if f.verdict is Verdict.PUT_RIGHT)


def test_that_a_lost_earth_of_bulbs_shows_by_lamps_that_glow() -> None:
    # bulbs without earth feed back through one another: everything of the plug glows, nothing is bright
    every = "turn-left,turn-right,tail-left,tail-right,stop-left,stop-right,fog-left,fog-right,plate"
    answers = [(f"lit@{key}", "none") for key in HEALTHY] + [(f"dim@{key}", every) for key in HEALTHY]
    assert any("earth, contact 3, is open" in str(f.says) for f in found(*answers))


def test_that_a_wrong_function_is_told_lamp_by_lamp() -> None:
    finding = found(("lit@stop", "stop-left,fog-left"), ("dim@stop", "stop-right"))[0]
    wanted = "stop lamps alone: only glows: right stop lamp; should stay dark: left fog lamp."
    assert str(finding.says) == wanted


@pytest.mark.parametrize(
    ("lamp", "verdict"),
    [
        # limit 1.0 V of the sample data, doubt √2 · 0.1 V = 0.14 V by hand
        ("12.1", Verdict.IN_ORDER),
        ("11.6", Verdict.MEASURE_AGAIN),
        ("10.6", Verdict.PUT_RIGHT),
        ("13.5", Verdict.MEASURE_AGAIN),  # more than the battery has
    ],
)
def test_that_the_voltage_drop_is_judged_with_its_doubt(lamp: str, verdict: Verdict) -> None:
    assert at(found(("battery", "12.6 V"), ("worst_lamp", lamp)), "worst_lamp").verdict is verdict


@pytest.mark.parametrize(("earth", "side"), [("1.8", "earth side"), ("0.2", "feed side")])
def test_that_the_side_of_the_loss_is_named(earth: str, side: str) -> None:
    findings = found(("battery", "12.6"), ("worst_lamp", "10.6"), ("earth_loss", earth))
    assert side in str(at(findings, "worst_lamp").todo)


def test_that_a_24_volt_supply_is_refused() -> None:
    finding = at(found(("battery", "27.5 V"), ("worst_lamp", "27.0 V")), "battery")
    assert finding.verdict is Verdict.PUT_RIGHT


def test_that_another_socket_on_the_tractor_is_told_before_anybody_answers() -> None:
    other = replace(TRACTOR, electric=replace(TRACTOR.electric, lights="SAE J560"))
    finding = at(found(tractor=other), "socket")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "SAE J560" in str(finding.says)


def test_that_only_boards_of_the_road_bar_the_road() -> None:
    findings = found(("boards@speed", "no"), ("other_boards@sign-shaft", "no"))
    assert at(findings, "boards@speed").bars == {Use.ROAD}
    assert not at(findings, "other_boards@sign-shaft").bars


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


def test_that_the_tractors_own_lamp_tells_a_blown_fuse_from_an_open_contact() -> None:
    # by the circuit: an open contact leaves the tractor's lamp alone, a wire on the frame blows its fuse
    dark = lamps(stop="none")

    def cause(own: str) -> str:
        findings = found(*dark, ("own_lamp@stop", own))
        return next(str(f.says) for f in findings if "Contact 6" in str(f.says) or "contact 6" in str(f.says))

    assert "Contact 6 (red) is open" in cause("bright")
    assert "fuse has blown" in cause("dark")


def test_that_the_fog_lamp_is_asked_for_no_lamp_of_the_tractor() -> None:
    own = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "own_lamp")
    assert [place.key for place in own.places] == [key for key in HEALTHY if key != "fog"]
