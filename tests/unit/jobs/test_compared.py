"""The same reading by two people: kept twice and compared by one rule."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.jobs.assess import Assessment
from rakeprep.jobs.events import entered
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import read
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Ask, Field, Need
from rakeprep.model.finding import Finding
from rakeprep.model.step import Step
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg, verbatim
from rakeprep.units import Kind

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
ONE, TWO, THREE = "Technician One", "Technician Two", "Technician Three"
GAP = Field("gap", msg("Gap"), Ask.QUANTITY, msg("Measure."), kind=Kind.LENGTH, unit="mm", instrument="tape")
SIZE = Field("size", msg("Size"), Ask.QUANTITY, msg("Read."), kind=Kind.LENGTH, unit="mm")
WARM = Field(
    "warm", msg("Warm"), Ask.QUANTITY, msg("Read."), kind=Kind.TEMPERATURE, unit="°C", instrument="infrared"
)
BOLTS = Field("bolts", msg("Bolts"), Ask.COUNT, msg("Count."))
NOTE = Field("note", msg("Note"), Ask.TEXT, msg("Write."), need=Need.MAY)
SERIAL = Field("serial", msg("Serial"), Ask.TEXT, msg("Copy."))
LATER = Field("later", msg("Later"), Ask.COUNT, msg("Count."), rests_on=("s.bolts",))
FIELDS = {f.key: f for f in (GAP, SIZE, WARM, BOLTS, NOTE, SERIAL, LATER)}
WHOLE = tuple(FIELDS.values())
STEP = Step("s", 1, verbatim("s"), msg("About."), (), lambda p, t: WHOLE, (lambda facts: (),))
MAKE_SURE = Verdict.MEASURE_AGAIN


def said(who: str, field: str, text: str, reason: str = "") -> Mapping[str, Any]:
    """The event of an answer by somebody."""
    answer = read(FIELDS[field], text)
    return entered(
        Entry(
            Slot("s", field),
            How.VALUE,
            answer.typed,
            who,
            NOON,
            0,
            answer.unit,
            answer.exact,
            answer.division,
            reason=reason,
        )
    )


def found(assessed: Assessment, field: str) -> list[Finding]:
    return [f for f in assessed.findings if f.about == (Slot("s", field),)]


def verdicts(bench: Any, field: str, *events: Mapping[str, Any]) -> list[Verdict]:
    return [f.verdict for f in found(bench.assess(STEP, *events), field)]


def test_that_readings_too_far_apart_are_measured_again(bench: Any) -> None:
    assessed = bench.assess(STEP, said(ONE, "gap", "12 mm"), said(TWO, "gap", "15 mm"))
    (finding,) = found(assessed, "gap")
    # A tape's doubt is 2 mm for one reading (table of instruments, common practice): √(2² + 2²) = 2.83 mm by
    # hand, shown with two digits and rounded up.
    assert str(finding.says) == (
        "Technician One 12 mm, Technician Two 15 mm: 3 mm apart, more than the doubt of the two readings "
        "(± 2.9 mm)."
    )
    assert finding.verdict is MAKE_SURE
    assert assessed.states[Slot("s", "gap")].verdict is MAKE_SURE


def test_that_readings_within_their_doubt_agree_and_both_are_kept(bench: Any) -> None:
    record = bench.record(said(ONE, "gap", "12 mm"), said(TWO, "gap", "14 mm"))
    assert [e.who for e in record.history[Slot("s", "gap")]] == [ONE, TWO]
    assert verdicts(bench, "gap", said(ONE, "gap", "12 mm"), said(TWO, "gap", "14 mm")) == [Verdict.IN_ORDER]


def test_that_a_temperature_apart_is_a_difference(bench: Any) -> None:
    (finding,) = found(bench.assess(STEP, said(ONE, "warm", "20 °C"), said(TWO, "warm", "30 °C")), "warm")
    # Ten degrees apart, by hand; the doubt is √(3² + 3²) = 4.24 K with 3 K for an infra-red thermometer.
    assert "10 °C apart" in str(finding.says)
    assert "± 4.3 °C" in str(finding.says)


def test_that_without_an_instrument_a_whole_division_of_each_is_doubt(bench: Any) -> None:
    # √(1² + 1²) = 1.41 mm by hand
    assert verdicts(bench, "size", said(ONE, "size", "12"), said(TWO, "size", "13")) == [Verdict.IN_ORDER]
    assert verdicts(bench, "size", said(ONE, "size", "12"), said(TWO, "size", "14")) == [MAKE_SURE]


@pytest.mark.parametrize(
    ("field", "first", "second", "verdict"),
    [
        ("bolts", "12", "12", [Verdict.IN_ORDER]),
        ("bolts", "12", "11", [MAKE_SURE]),
        ("serial", "A 17", "A  17", [Verdict.IN_ORDER]),
        ("serial", "A17", "A71", [MAKE_SURE]),
        ("note", "scratch", "dent", []),
    ],
)
def test_that_all_else_is_equal_or_not(
    bench: Any, field: str, first: str, second: str, verdict: list[Verdict]
) -> None:
    assert verdicts(bench, field, said(ONE, field, first), said(TWO, field, second)) == verdict


def test_that_a_reason_replaces_instead_of_comparing(bench: Any) -> None:
    first, misread = said(ONE, "gap", "12 mm"), said(TWO, "gap", "40 mm", "was misread")
    assert verdicts(bench, "gap", first, misread) == []
    assert verdicts(bench, "gap", first, misread, said(ONE, "gap", "41 mm")) == [Verdict.IN_ORDER]


def test_that_one_who_agrees_is_enough(bench: Any) -> None:
    events = [said(ONE, "gap", "12 mm"), said(TWO, "gap", "40 mm"), said(THREE, "gap", "41 mm")]
    (finding,) = found(bench.assess(STEP, *events), "gap")
    assert finding.verdict is Verdict.IN_ORDER
    assert str(finding.says).startswith("Technician Two 40 mm, Technician Three 41 mm")


def test_that_nobody_is_compared_with_himself(bench: Any) -> None:
    assert verdicts(bench, "gap", said(ONE, "gap", "12 mm"), said("technician one", "gap", "40 mm")) == []


def test_that_a_reading_made_before_its_ground_changed_is_not_compared(bench: Any) -> None:
    before, changed = said(ONE, "later", "3"), said(ONE, "bolts", "9")
    assert verdicts(bench, "later", said(ONE, "bolts", "8"), before, changed, said(TWO, "later", "7")) == []
    assert verdicts(bench, "later", said(ONE, "bolts", "8"), before, said(TWO, "later", "7")) == [MAKE_SURE]


def test_that_measuring_once_more_settles_it(job: OpenJob) -> None:
    slot = Slot("tyres", "pressure_set", "L1L")
    job.commit(slot, "2.0 bar", ONE)
    job.commit(slot, "2.6 bar", TWO)
    assert any(
        "2.6 bar" in str(f.says) and f.verdict is MAKE_SURE for f in job.assessment.states[slot].findings
    )
    job.commit(slot, "2.0 bar", TWO)
    assert all("apart, more" not in str(f.says) for f in job.assessment.states[slot].findings)


millimetres = st.integers(-3000, 3000)
people = st.sampled_from([ONE, TWO, THREE])


@given(millimetres, millimetres)
def test_that_it_does_not_matter_who_comes_first(bench: Any, a: int, b: int) -> None:
    there = verdicts(bench, "gap", said(ONE, "gap", f"{a} mm"), said(TWO, "gap", f"{b} mm"))
    back = verdicts(bench, "gap", said(TWO, "gap", f"{b} mm"), said(ONE, "gap", f"{a} mm"))
    # The same bound by hand: two tapes of ± 2 mm.
    assert there == back == [Verdict.IN_ORDER if abs(a - b) <= math.sqrt(8) else MAKE_SURE]


@given(st.lists(st.tuples(people, millimetres), min_size=1, max_size=6), people, millimetres)
def test_that_a_correction_never_compares_and_the_standing_reading_never_hides(
    bench: Any, before: list[tuple[str, int]], who: str, last: int
) -> None:
    events = [said(name, "gap", f"{value} mm") for name, value in before]
    assert verdicts(bench, "gap", *events, said(who, "gap", f"{last} mm", "was misread")) == []
    latest = {name: value for name, value in before if name != who}
    expected = (
        []
        if not latest
        else [Verdict.IN_ORDER]
        if any(abs(value - last) <= math.sqrt(8) for value in latest.values())
        else [MAKE_SURE]
    )
    assert verdicts(bench, "gap", *events, said(who, "gap", f"{last} mm")) == expected


@given(st.text(max_size=30), st.text(max_size=30))
def test_that_nonsense_never_raises(bench: Any, first: str, second: str) -> None:
    events = []
    for who, text in ((ONE, first), (TWO, second)):
        for field in FIELDS:
            try:
                events.append(said(who, field, text))
            except ValueError:
                continue
    for finding in bench.assess(STEP, *events).findings:
        assert str(finding.says)
