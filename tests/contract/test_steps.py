"""What every step promises, on every sample machine with every sample tractor, whatever was entered."""

from __future__ import annotations

import datetime as dt
import string
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rakeprep import units
from rakeprep.calculations.instruments import INSTRUMENTS
from rakeprep.jobs.assess import assess
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
from rakeprep.text import GAP, Message
from rakeprep.units import Kind

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
CHOICES_OF_DATA = {"settings.pto_gear"}  # a tractor may have one gear only; choosing it confirms it
LONGEST_LABEL = 60  # characters that fit beside the entry
STEPS = all_steps()
MACHINES = {path.stem: path for path in sample_machines()}
TRACTORS = {path.stem: path for path in sample_tractors()}
OPENING = Opening("J", NOON, "Technician One", "Customer One", "O", "m.toml", "", "t.toml", "")


@dataclass(frozen=True)
class Case:
    """A machine with a tractor, and all the questions that all steps ask on them."""

    machine: str
    tractor: str
    profile: Profile
    power: Tractor
    asked: Mapping[Slot, Field]

    def __str__(self) -> str:
        return f"{self.machine} + {self.tractor}"

    def fields(self, step: Step) -> tuple[Field, ...]:
        return step.fields(self.profile, self.power)

    def check(self, step: Step, record: Record) -> list[Finding]:
        return list(step.check(Facts(self.profile, self.power, record, step.key, NOON.date())))


@cache
def case(machine: str, tractor: str) -> Case:
    profile = read_profile(load_text(MACHINES[machine]), machine).value
    power = read_tractor(load_text(TRACTORS[tractor]), tractor).value
    assert profile is not None
    assert power is not None
    asked = {
        Slot(step.key, field.key, place.key): field
        for step in STEPS
        for field in step.fields(profile, power)
        for place in field.places
    }
    return Case(machine, tractor, profile, power, asked)


CASES = [case(machine, tractor) for machine in MACHINES for tractor in TRACTORS]
every_case = pytest.mark.parametrize("case", CASES, ids=str)
every_step = pytest.mark.parametrize("step", STEPS, ids=lambda step: step.key)


def record_of(entries: Iterable[Entry]) -> Record:
    known = {entry.slot: entry for entry in entries}
    return Record(OPENING, known, {slot: (entry,) for slot, entry in known.items()}, count=9, head="h")


# ---------------------------------------------------------------------- what is declared


def test_that_steps_have_keys_and_places_of_their_own() -> None:
    keys = [step.key for step in STEPS]
    assert len(set(keys)) == len(keys)
    orders = [step.order for step in STEPS]
    assert len(set(orders)) == len(orders)
    visits = {step.order for step in STEPS if step.visits}
    assert set(orders) - visits <= set(range(1, 16))  # 15 stretches of work, from arrival to handover
    assert min(visits) > 15  # what comes after it


def test_that_no_step_of_the_work_is_missing() -> None:
    assert [step.order for step in STEPS if not step.visits] == list(range(1, 16))


@every_step
def test_that_a_step_says_what_it_is_about(step: Step) -> None:
    assert plain_key(step.key)
    assert 0 < len(str(step.title)) <= LONGEST_LABEL
    assert str(step.about).endswith(".")
    for caution in step.cautions:
        assert str(caution.hazard).endswith(".")
        assert str(caution.safe_state).endswith(".")
        assert plain_key(caution.sign)


@every_step
@every_case
def test_that_questions_and_their_places_have_keys_of_their_own(step: Step, case: Case) -> None:
    fields = case.fields(step)
    assert fields, "a step without questions on this machine"
    keys = [field.key for field in fields]
    assert len(set(keys)) == len(keys)
    for field in fields:
        places = [place.key for place in field.places]
        assert places, field.key
        assert len(set(places)) == len(places), field.key
        assert plain_key(field.key)
        for place in field.places:
            assert not set(place.key) & {" ", "@", ","}, (field.key, place.key)
            assert place.rotor in {"", "left", "right"}, (field.key, place.key)
            assert place.part, (field.key, place.key)
            assert str(place.name), (field.key, place.key)


def plain_key(key: str) -> bool:
    """Whether a key can stand in an address and in an answers file as it is."""
    return bool(key) and set(key) <= set(string.ascii_lowercase + string.digits + "_-")


@every_step
@every_case
def test_that_questions_are_worded_for_a_small_screen(step: Step, case: Case) -> None:
    for field in case.fields(step):
        label, said = str(field.label), str(field.help)
        assert 0 < len(label) <= LONGEST_LABEL, field.key
        assert not GAP.search(label + said), field.key
        assert said.strip(), field.key
        assert said.endswith((".", "?")), (field.key, said)


@every_step
@every_case
def test_that_questions_can_be_answered(step: Step, case: Case) -> None:
    for field in case.fields(step):
        if field.ask is Ask.QUANTITY:
            assert field.kind is not None, field.key
            assert units.parse("1", field.kind, field.unit).number == 1, field.key
        options = [option.key for option in field.options]
        few = 1 if f"{step.key}.{field.key}" in CHOICES_OF_DATA else 2
        assert len(options) >= {Ask.CHOICE: few, Ask.MANY: 1}.get(field.ask, 0), field.key
        assert len(set(options)) == len(options), field.key
        assert not options or field.ask in {Ask.CHOICE, Ask.MANY}, field.key
        for option in field.options:
            assert "," not in option.key, field.key
            assert option.key == option.key.strip() != "", field.key
            assert field.ask is not Ask.MANY or option.key != "none", field.key
            assert str(option.label), field.key
        assert field.instrument == "" or field.instrument in INSTRUMENTS, (field.key, field.instrument)


@every_case
def test_that_a_question_rests_on_questions_that_some_machine_asks(case: Case) -> None:
    known = {"tractor"}
    for each in CASES:
        known |= {slot.step for slot in each.asked} | {f"{slot.step}.{slot.field}" for slot in each.asked}
    missing = set()
    for slot, field in case.asked.items():
        for basis in field.rests_on:
            later_step = basis.partition(".")[0] not in {step.key for step in STEPS} | {"tractor"}
            if basis not in known and not (later_step and len(STEPS) < 15):
                missing.add((f"{slot.step}.{slot.field}", basis))
    assert missing == set()


@every_case
def test_that_no_question_rests_on_itself_by_a_round_about_way(case: Case) -> None:
    """A circle of questions, each of which puts the next out of date, could never be settled."""
    rests: dict[str, set[str]] = {}
    for slot, field in case.asked.items():
        name = f"{slot.step}.{slot.field}"
        grounds = {
            f"{other.step}.{other.field}"
            for other in case.asked
            for basis in field.rests_on
            if basis in {other.step, f"{other.step}.{other.field}"}
        }
        rests.setdefault(name, set()).update(grounds - {name})
    done: set[str] = set()
    while ready := {name for name, grounds in rests.items() if name not in done and grounds <= done}:
        done |= ready
    assert set(rests) - done == set()


# ---------------------------------------------------------------------- what checks find

EXTREME = [Fraction(0), Fraction(-1), Fraction(10) ** 30, -(Fraction(10) ** 30), Fraction(1, 10**30)]
USUAL = {
    Kind.LENGTH: Fraction(6, 10),
    Kind.PRESSURE: Fraction(200_000),
    Kind.TORQUE: Fraction(200),
    Kind.MASS: Fraction(1500),
    Kind.TEMPERATURE: Fraction(291),
    Kind.ROTATION: Fraction(9),
    Kind.RATIO: Fraction(1, 2),
}
WORDS = [
    "",
    "none",
    "yes",
    "no",
    "yes, no",
    "perhaps",
    "done",
    "0",
    "A1",
    "2026-05-18",
    "9999-12-31",
    "0001-01-01",
]


def entry_of(slot: Slot, typed: str, exact: Fraction | None, how: How = How.VALUE) -> Entry:
    division = None if exact is None else Fraction(1, 1000)
    return Entry(slot, how, typed, "Technician One", NOON, 2, exact=exact, division=division)


def filled(slot: Slot, field: Field, way: str) -> Entry:
    """One and the same way of answering every question."""
    if field.ask in {Ask.QUANTITY, Ask.COUNT}:
        usual = USUAL.get(field.kind, Fraction(5)) if field.kind else Fraction(4)
        numbers = dict(zip(("zero", "negative", "huge", "hugely negative", "tiny"), EXTREME, strict=True))
        return entry_of(slot, "1", numbers.get(way, usual))
    if field.options:
        place = {"usual": 0, "huge": -1}.get(way)
        words = [option.key for option in field.options]
        typed = "perhaps" if place is None else ", ".join(words) if way == "negative" else words[place]
        return entry_of(slot, typed, None)
    typed = {"usual": "2026-05-18" if field.ask is Ask.DATE else "done", "huge": "A" * 500}.get(way, "")
    return entry_of(slot, typed, None)


WAYS = ["nothing", "usual", "zero", "negative", "huge", "hugely negative", "tiny"]


def all_filled(case: Case, way: str) -> dict[Slot, Entry]:
    return {} if way == "nothing" else {slot: filled(slot, field, way) for slot, field in case.asked.items()}


NUMBERS = st.one_of(
    st.sampled_from(EXTREME),
    st.fractions(-1000, 1000, max_denominator=1000),
    st.integers(-(10**8), 10**8).map(Fraction),
)


Answers = tuple[str, dict[Slot, Entry]]


@st.composite
def nonsense(draw: st.DrawFn, case: Case, step: Step) -> Answers:
    """A way in which all is answered, or nothing, and some answers of any kind to put over it."""
    own = sorted(slot for slot in case.asked if slot.step == step.key)
    slots = st.one_of(st.sampled_from(own), st.sampled_from(sorted(case.asked)))
    entries = {}
    for slot in draw(st.lists(slots, max_size=12, unique=True)):
        options = [option.key for option in case.asked[slot].options]
        typed = draw(st.one_of(st.sampled_from([*WORDS, *options]), st.text("aZ0-,. é\n", max_size=12)))
        exact = draw(st.one_of(NUMBERS, st.none()))
        how = How.ABSENT if draw(st.integers(0, 9)) == 0 else How.VALUE
        entries[slot] = entry_of(slot, typed, exact, how)
    return draw(st.sampled_from(WAYS)), entries


def judge(case: Case, step: Step, record: Record) -> list[Finding]:
    """The findings of a step, after looking at each of them."""
    before = dict(record.entries)
    found = case.check(step, record)
    assert case.check(step, record) == found, "the same record gave other findings"
    assert dict(record.entries) == before, "the check changed the record"
    for finding in found:
        assert finding.about, finding.says
        assert set(finding.about) <= set(case.asked), (str(finding.says), list(map(str, finding.about)))
        for message in messages_of(finding):
            said = str(message)
            assert said.strip()
            assert not GAP.search(said), said
            assert "nan" not in said.split(), said
    return found


def messages_of(finding: Finding) -> Iterator[Message]:
    yield finding.says
    if finding.todo is not None:
        yield finding.todo
    yield from finding.working
    if finding.source is not None:
        yield finding.source.said


@every_step
@every_case
@pytest.mark.parametrize("way", WAYS)
def test_that_a_check_bears_answers_of_one_kind_throughout(step: Step, case: Case, way: str) -> None:
    judge(case, step, record_of(all_filled(case, way).values()))


@every_step
@pytest.mark.parametrize("machine", MACHINES)
@given(data=st.data())
@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
def test_that_a_check_bears_any_answers(step: Step, machine: str, data: st.DataObject) -> None:
    chosen = case(machine, data.draw(st.sampled_from(sorted(TRACTORS))))
    way, over = data.draw(nonsense(chosen, step))
    judge(chosen, step, record_of((all_filled(chosen, way) | over).values()))


@every_case
def test_that_nobody_is_told_to_measure_again_before_anything_was_measured(case: Case) -> None:
    assessment = assess(STEPS, case.profile, case.power, record_of(()), NOON.date())
    assert not [f for f in assessment.findings if f.verdict is Verdict.MEASURE_AGAIN]


@every_case
def test_that_a_whole_job_gets_few_findings_for_each_question(case: Case) -> None:
    record = record_of(all_filled(case, "usual").values())
    assessment = assess(STEPS, case.profile, case.power, record, NOON.date())
    assert len(assessment.findings) <= 3 * len(case.asked)
    later = {step.key for step in STEPS if step.visits}
    assert list(assessment.states) == [slot for slot in case.asked if slot.step not in later]
