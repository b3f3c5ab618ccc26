"""The test run of the invented sample rake A; numbers worked by hand."""

from __future__ import annotations

import datetime as dt
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.job import Opening, Record
from rakeprep.model.profile import Profile
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.steps import all_steps
from rakeprep.steps.test_run import STEP
from rakeprep.units import parse, parse_count, to_si

NOW = dt.datetime(2026, 5, 18, 12, 0, tzinfo=dt.UTC)
MACHINE = read_profile(load_text(sample_machines()[0]), "a").value
INCHES = read_profile(load_text(sample_machines()[1]), "b").value
TRACTOR = read_tractor(load_text(sample_tractors()[0]), "t").value
assert MACHINE is not None
assert INCHES is not None
assert TRACTOR is not None
OPENING = Opening("job", NOW, "Technician One", "Customer One", "1", "a", "", "t", "", sample=True)
STEPS = {step.key: step for step in all_steps()}


def entry(slot: Slot, typed: str, machine: Profile) -> Entry:
    """One answer, understood as its question asks."""
    field = next(f for f in STEPS[slot.step].fields(machine, TRACTOR) if f.key == slot.field)
    assert field.place(slot.place) is not None, f"{slot} is no question of this machine"
    if field.ask is Ask.QUANTITY and field.kind is not None:
        read = parse(typed, field.kind, field.unit)
        division = to_si(read.division, read.unit) - to_si(Fraction(0), read.unit)
        return Entry(slot, How.VALUE, typed, "Technician One", NOW, 1, read.unit, read.si, division)
    exact = Fraction(parse_count(typed)) if field.ask is Ask.COUNT else None
    return Entry(slot, How.VALUE, typed, "Technician One", NOW, 1, "", exact)


def judge(entries: dict[Slot, Entry], machine: Profile = MACHINE) -> list[Finding]:
    """What the step says to these entries."""
    record = Record(OPENING, entries)
    return list(STEP.check(Facts(machine, TRACTOR, record, STEP.key, NOW.date())))


def found(answers: dict[str, str], machine: Profile = MACHINE) -> list[Finding]:
    """What the step says to answers at ``field@place`` or ``step.field@place``."""
    entries = {}
    for address, typed in answers.items():
        slot = Slot.read(address if "." in address.partition("@")[0] else f"{STEP.key}.{address}")
        entries[slot] = entry(slot, typed, machine)
    return judge(entries, machine)


def at(findings: list[Finding], address: str, about: str = "") -> Finding:
    """The finding shown at ``field@place``, the one that names ``about`` where there are several."""
    shown = [f for f in findings if str(f.about[0]) == f"{STEP.key}.{address}" and about in str(f.says)]
    assert len(shown) == 1, [str(f.says) for f in shown]
    return shown[0]


def test_that_everyone_clear_is_asked_first_and_cannot_be_left_out() -> None:
    first = STEP.fields(MACHINE, TRACTOR)[0]
    assert (first.key, first.ask, first.need, first.bars) == ("clear", Ask.DONE, Need.MUST, {Use.PTO})


def test_that_a_rotor_turning_the_wrong_way_stops_the_work() -> None:
    # left clockwise, right anticlockwise, so that both sweep to the middle in front: practice machine
    findings = found({"direction@left": "clockwise", "direction@right": "clockwise"})
    assert at(findings, "direction@left").verdict is Verdict.IN_ORDER
    wrong = at(findings, "direction@right")
    assert wrong.verdict is Verdict.STOP
    assert wrong.bars == {Use.PTO, Use.FIELD}


def test_that_a_run_too_short_is_run_again() -> None:
    assert at(found({"run_time": "15 min"}), "run_time").verdict is Verdict.IN_ORDER
    assert at(found({"run_time": "840 s"}), "run_time").verdict is Verdict.PUT_RIGHT  # 14 min


@pytest.mark.parametrize(
    ("noise", "verdict"),
    [("even", Verdict.IN_ORDER), ("regular", Verdict.PUT_RIGHT), ("irregular", Verdict.PUT_RIGHT)],
)
def test_that_noise_is_judged(noise: str, verdict: Verdict) -> None:
    assert at(found({"noise": noise}), "noise").verdict is verdict


@pytest.mark.parametrize(
    ("count", "time", "cause"),
    # rotor 450 / 8.06 / 60 = 0.930 1/s, PTO 7.5 1/s, twelve arms: worked by hand
    [
        ("9", "10 s", "one arm"),  # 0.9 / 0.930 = 0.97
        ("112", "10 s", "all arms"),  # 11.2 / 0.930 = 12.0
        ("75", "10 s", "bent or unbalanced shaft"),  # 7.5 / 7.5
        ("150", "10 s", "joint angle"),  # 15 / 7.5 = 2
    ],
)
def test_that_the_number_of_knocks_tells_the_part(count: str, time: str, cause: str) -> None:
    finding = at(found({"knocks": count, "knock_time": time}), "knocks")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert cause in str(finding.says)


def test_that_knocks_that_fit_no_part_are_counted_again() -> None:
    # 25 in 10 s: 2.7 in a rotor turn, worked by hand
    assert at(found({"knocks": "25", "knock_time": "10 s"}), "knocks").verdict is Verdict.MEASURE_AGAIN


def test_that_knocks_are_held_against_the_speed_that_was_read() -> None:
    # 400 / 8.06 / 60 = 0.827 1/s: 8 in 10 s are 0.97 in a turn, by hand
    answers = {"settings.pto_speed": "400 rpm", "knocks": "8", "knock_time": "10 s"}
    assert "0.97" in str(at(found(answers), "knocks").says)


def test_that_the_side_that_stops_first_drags() -> None:
    # 2.5 / 6.0 = 0.42 against 0.70: worked by hand
    finding = at(found({"coast_down@left": "6.0 s", "coast_down@right": "2.5 s"}), "coast_down@right")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "right rotor drags" in str(finding.says)
    assert "0.42" in str(finding.working[0])


def test_that_rotors_that_run_down_alike_are_in_order() -> None:
    findings = found({"coast_down@left": "6.0 s", "coast_down@right": "5.6 s"})
    assert at(findings, "coast_down@left").verdict is Verdict.IN_ORDER


def warm(left: str, right: str) -> dict[str, str]:
    """Both rotor gearboxes after the run, air at 24 °C."""
    return {
        "ambient": "24 °C",
        "surface_temperature@gearbox-left": left,
        "surface_temperature@gearbox-right": right,
    }


def test_that_one_gearbox_hotter_than_the_other_is_looked_at() -> None:
    # 62 − 41 = 21 K against 15 K, doubt √2 · 3 = 4.2 K; 62 − 24 = 38 K = 68.4 °F: worked by hand
    findings = found(warm("41 °C", "62 °C"))
    sides = at(findings, "surface_temperature@gearbox-right", "hotter")
    assert sides.verdict is Verdict.PUT_RIGHT
    assert "21 K" in str(sides.says)
    assert "68.4 °F" in str(at(findings, "ambient").says)


def test_that_sides_are_compared_without_the_air_being_read() -> None:
    answers = warm("41 °C", "62 °C")
    del answers["ambient"]
    assert at(found(answers), "surface_temperature@gearbox-right", "hotter").verdict is Verdict.PUT_RIGHT


@pytest.mark.parametrize(
    ("read", "verdict"),
    # 80 °C of the sample's data, infra-red ± 3 K: worked by hand
    [("70 °C", Verdict.IN_ORDER), ("79 °C", Verdict.MEASURE_AGAIN), ("84 °C", Verdict.STOP)],
)
def test_that_any_gearbox_too_hot_stops_the_run(read: str, verdict: Verdict) -> None:
    answers = {"surface_temperature@splitter": read}
    assert at(found(answers), "surface_temperature@splitter").verdict is verdict


@pytest.mark.parametrize(
    ("seen", "verdict"),
    [("dry", Verdict.IN_ORDER), ("damp", Verdict.MEASURE_AGAIN), ("drips", Verdict.PUT_RIGHT)],
)
def test_that_leaks_are_asked_at_every_circuit_and_gearbox(seen: str, verdict: Verdict) -> None:
    for place in ("splitter", "gearbox-left", "gearbox-right", "width", "lift"):
        assert at(found({f"leaks@{place}": seen}), f"leaks@{place}").verdict is verdict


@pytest.mark.parametrize(
    ("angle", "verdict"),
    # below 10° noted, 10 to 30° again, above 30° apart: workshop custom, no source
    [("5°", Verdict.IN_ORDER), ("12°", Verdict.MEASURE_AGAIN), ("35°", Verdict.PUT_RIGHT)],
)
def test_that_the_angle_of_the_second_torque_tells_the_clamp(angle: str, verdict: Verdict) -> None:
    assert at(found({"second_torque@headstock": angle}), "second_torque@headstock").verdict is verdict


def test_that_nuts_that_went_backwards_are_no_reading() -> None:
    finding = at(found({"second_torque@headstock": "-3°"}), "second_torque@headstock")
    assert finding.verdict is Verdict.MEASURE_AGAIN


def test_that_a_latch_that_crept_out_on_the_pull_stops_the_work() -> None:
    finding = at(found({"pull_latch@latch-left": "no"}), "pull_latch@latch-left")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.ROAD}


def test_that_wheel_nuts_are_pulled_again_for_each_set_of_wheels() -> None:
    field = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "wheel_nuts")
    assert [p.key for p in field.places] == ["chassis", "transport"]
    finding = at(found({"wheel_nuts@chassis": "no"}), "wheel_nuts@chassis")
    assert (finding.verdict, finding.bars) == (Verdict.PUT_RIGHT, {Use.ROAD})


def test_that_only_the_wheels_of_the_axle_are_felt_after_the_pull() -> None:
    field = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "pull_hub")
    assert [p.key for p in field.places] == ["XL", "XR"]
    assert at(found({"pull_hub@XL": "no"}), "pull_hub@XL").verdict is Verdict.PUT_RIGHT


NONSENSE = st.one_of(
    st.sampled_from([0, 1, -1, 10**30, -(10**30), Fraction(1, 10**30), Fraction(1, 10**200), 10**200]),
    st.fractions(min_value=-(10**6), max_value=10**6),
    st.none(),
)
WORDS = st.sampled_from(
    ["", "yes", "no", "none", "purple", "540", "1000", "even", "2026-05-18", "9999-12-31"]
)


@pytest.mark.parametrize("machine", [MACHINE, INCHES])
@given(data=st.data())
@settings(max_examples=100, deadline=None)
def test_that_nonsense_never_raises_and_every_finding_stands_at_a_question(
    data: st.DataObject, machine: Profile
) -> None:
    fields = STEP.fields(machine, TRACTOR)
    entries = {}
    for field in fields:
        for place in field.places:
            slot = Slot(STEP.key, field.key, place.key)
            if data.draw(st.booleans()):
                exact, typed = data.draw(NONSENSE), data.draw(WORDS)
                number = None if exact is None else Fraction(exact)
                entries[slot] = Entry(slot, How.VALUE, typed, "x", NOW, 1, field.unit, number, Fraction(0))
    asked = {Slot(STEP.key, f.key, p.key) for f in fields for p in f.places}
    for finding in judge(entries, machine):
        assert set(finding.about) <= asked
        assert str(finding.says)
        assert "{" not in " ".join(str(m) for m in (finding.says, finding.todo or "", *finding.working))


@pytest.mark.parametrize("machine", [MACHINE, INCHES])
def test_that_every_label_fits_and_nothing_is_said_before_anything_is_answered(machine: Profile) -> None:
    fields = STEP.fields(machine, TRACTOR)
    assert len({f.key for f in fields}) == len(fields)
    assert all(f.places for f in fields)
    assert max(len(str(f.label)) for f in fields) <= 40
    assert judge({}, machine) == []
