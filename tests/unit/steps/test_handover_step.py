"""The handover step on the invented sample rake A; days worked by hand from a calendar."""

from __future__ import annotations

import datetime as dt
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Need
from rakeprep.model.finding import Finding
from rakeprep.model.job import Opening, Record
from rakeprep.model.profile import Profile
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors
from rakeprep.steps import all_steps
from rakeprep.steps.handover import STEP
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


def test_that_the_eight_topics_are_asked_in_their_order() -> None:
    topics = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "topic")
    assert [p.key for p in topics.places] == [
        "safe-stop",
        "hitching",
        "latch-and-size",
        "lights",
        "tine-height",
        "speed",
        "headland",
        "daily-care",
    ]
    assert (topics.ask, topics.need) == (Ask.TEXT, Need.OPEN)


def test_that_initials_at_a_topic_count_as_done() -> None:
    assert at(found({"topic@lights": "C.O."}), "topic@lights").verdict is Verdict.IN_ORDER


def test_that_the_days_of_the_visits_follow_from_the_signature() -> None:
    # from Monday 18 May 2026 at 6 h a day: 10 h on the second day, 50 h on the ninth, by hand
    said = str(at(found({"start_date": "2026-05-18"}), "start_date").says)
    assert "begin 18 May 2026" in said
    assert "1 h about 18 May 2026" in said
    assert "10 h about 19 May 2026" in said
    assert "50 h about 26 May 2026 (first oil change)" in said


def test_that_the_call_comes_three_working_days_before() -> None:
    # Tuesday 26 May 2026 less Monday 25, Friday 22, Thursday 21: by hand
    assert "21 May 2026" in str(at(found({"start_date": "2026-05-18"}), "start_date").todo)


def test_that_the_customers_own_hours_go_before_the_machine_data() -> None:
    # 50 h at 10 h a day are five days: Friday 22 May 2026, by hand
    said = str(at(found({"start_date": "2026-05-18", "hours_a_day": "10 h"}), "start_date").says)
    assert "50 h about 22 May 2026" in said


@pytest.mark.parametrize("hours", ["0 h", "25 h", "-6 h"])
def test_that_a_day_of_impossible_length_is_asked_again(hours: str) -> None:
    finding = at(found({"start_date": "2026-05-18", "hours_a_day": hours}), "hours_a_day")
    assert finding.verdict is Verdict.MEASURE_AGAIN


def test_that_the_area_stands_in_for_an_hour_meter() -> None:
    # 7.0 m · 10 km/h · 0.8 = 5.6 ha/h; 50 h are 280 ha, a tenth of it is the doubt: by hand
    answers = {"start_date": "2026-05-18", "width.working@wide": "7.00 m", "settings.ground_speed": "10 km/h"}
    working = " ".join(str(w) for w in at(found(answers), "start_date").working)
    assert "280 ± 30 ha" in working


def test_that_a_paper_not_given_is_put_right() -> None:
    finding = at(found({"papers@declaration": "no"}), "papers@declaration")
    assert finding.verdict is Verdict.PUT_RIGHT


def test_that_the_day_of_the_signature_cannot_be_left_out() -> None:
    start = next(f for f in STEP.fields(MACHINE, TRACTOR) if f.key == "start_date")
    assert (start.ask, start.need) == (Ask.DATE, Need.MUST)


def test_that_the_other_machines_visits_are_its_own() -> None:
    # 1, 8 and 40 h at 8 h a day: first, first and fifth day, by hand
    said = str(at(found({"start_date": "2026-05-18"}, INCHES), "start_date").says)
    assert "8 h about 18 May 2026" in said
    assert "40 h about 22 May 2026" in said


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
