"""Instruments with number and calibration date, in a job and on this computer."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.calculations.instruments import INSTRUMENTS
from rakeprep.jobs import answers, own_instruments
from rakeprep.jobs.events import entered, instrument_known
from rakeprep.jobs.indications import indications
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.out_of_date import Asked
from rakeprep.jobs.reading import Refused
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Need
from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.model.verdict import Verdict

ONE = "Technician One"
TODAY = dt.date(2026, 4, 14)  # the day of the test's clock
PRESSURE = Slot("tyres", "pressure_set", "L1L")
GAUGE = OwnInstrument("dial gauge 7", "tyre-gauge", dt.date(2026, 3, 1))


def indicated(job: OpenJob) -> list[str]:
    findings = job.assessment.states[PRESSURE].findings
    return [str(f.says) for f in findings if "indication only" in str(f.says)]


def test_that_an_overdue_instrument_makes_a_reading_an_indication(job: OpenJob) -> None:
    job.register(GAUGE, ONE)
    job.commit(PRESSURE, "2.0 bar", ONE, instrument="Dial  gauge 7")
    state = job.assessment.states[PRESSURE]
    assert state.verdict is Verdict.MEASURE_AGAIN
    assert indicated(job) == [
        "dial gauge 7 was calibrated until 1 Mar 2026: its reading of 14 Apr 2026 is an indication only."
    ]
    with pytest.raises(Refused, match="must not leave without it"):
        job.leave(PRESSURE, "no other gauge here", ONE)


def test_that_an_indication_is_left_as_an_open_point_where_the_question_allows(job: OpenJob) -> None:
    slot = next(s for s, t in job.tasks.items() if t.field.need is Need.OPEN and t.field.instrument)
    kind = job.tasks[slot].field.instrument
    job.register(OwnInstrument("old one", kind, GAUGE.until), ONE)
    job.commit(slot, "12", ONE, instrument="old one")
    job.leave(slot, "no other here", ONE)
    state = job.assessment.states[slot]
    assert state.open_point
    (point,) = job.assessment.gate.open_points
    assert (point.slot, point.reason) == (slot, "no other here")


@pytest.mark.parametrize("until", [None, TODAY, TODAY + dt.timedelta(days=1)])
def test_that_an_instrument_in_date_says_nothing(job: OpenJob, until: dt.date | None) -> None:
    job.register(OwnInstrument(GAUGE.name, GAUGE.kind, until), ONE)
    job.commit(PRESSURE, "2.0 bar", ONE, instrument=GAUGE.name)
    assert indicated(job) == []


def test_that_a_new_calibration_date_vouches_for_earlier_readings(job: OpenJob) -> None:
    job.register(GAUGE, ONE)
    job.commit(PRESSURE, "2.0 bar", ONE, instrument=GAUGE.name)
    job.register(OwnInstrument(GAUGE.name, GAUGE.kind, dt.date(2027, 4, 1)), ONE)
    assert indicated(job) == []


def test_that_the_same_registration_is_stored_once(job: OpenJob) -> None:
    for _ in range(2):
        job.register(GAUGE, ONE)
    assert job.record.count == 2
    assert job.record.instruments[instrument_key("DIAL GAUGE 7")] == GAUGE


@pytest.mark.parametrize(
    ("own", "part"),
    [
        (OwnInstrument("  ", "tape"), "number or name"),
        (OwnInstrument("x" * 81, "tape"), "at most 80"),
        (OwnInstrument("yardstick", "yard"), "tape, driveline-tape"),
    ],
)
def test_that_an_instrument_needs_a_name_and_a_known_kind(
    job: OpenJob, own: OwnInstrument, part: str
) -> None:
    with pytest.raises(Refused, match=part):
        job.register(own, ONE)
    assert job.record.instruments == {}


@pytest.mark.parametrize("text", ["", "1.3.2026", "2026-13-01", "next year", "9" * 5000])
def test_that_a_calibration_date_is_a_day_or_never(text: str) -> None:
    assert own_instruments.calibrated_until(" Never ") is None
    assert own_instruments.calibrated_until("2026-03-01") == GAUGE.until
    with pytest.raises(Refused, match="year-month-day"):
        own_instruments.calibrated_until(text)


def test_that_an_answers_file_registers_and_uses_instruments(job: OpenJob) -> None:
    given_file = """
    [job]
    customer = "Customer One"
    order = "1"
    technician = "Technician One"
    [[instrument]]
    name = "dial gauge 7"
    kind = "tyre-gauge"
    calibrated_until = "today-1"
    [[instrument]]
    name = "lath"
    kind = "tape"
    calibrated_until = "never"
    who = "Foreman One"
    [answers.tyres]
    pressure_set = { L1L = { value = "2.0 bar", instrument = "dial gauge 7" } }
    """
    read = answers.read_answers(given_file)
    assert read.mistakes == []
    assert answers.apply(read, job) == []
    assert job.record.instruments["dial gauge 7"].until == TODAY - dt.timedelta(days=1)
    assert job.record.instruments["lath"].until is None
    assert len(indicated(job)) == 1


def test_that_mistakes_in_the_table_of_instruments_are_named(job: OpenJob) -> None:
    head = '[job]\ncustomer = "C"\norder = "1"\ntechnician = "T"\n'
    read = answers.read_answers(head + '[[instrument]]\nname = "g"\nkindd = "tape"\n')
    said = " ".join(str(m) for m in read.mistakes)
    assert "Did you mean “kind”?" in said
    assert "calibrated_until" in said
    wrong = '[[instrument]]\nname = "g"\nkind = "ruler"\ncalibrated_until = "never"\n'
    (refused,) = answers.apply(answers.read_answers(head + wrong), job)
    assert str(refused).startswith("instrument: There is no kind")
    assert answers.read_answers(head + "instrument = 3").mistakes != []


# ------------------------------------------------------------------------------- on this computer


def test_that_the_list_comes_back_with_the_unit_used_last(tmp_path: Path) -> None:
    known = own_instruments.used({}, GAUGE, "psi")
    known = own_instruments.used(known, OwnInstrument("tape 2", "tape"), "in")
    own_instruments.keep(tmp_path / "data", known.values())
    again = own_instruments.known_in(tmp_path / "data")
    assert [own.unit for own in again.values()] == ["psi", "in"]
    assert again["dial gauge 7"].until == GAUGE.until


@given(st.one_of(st.binary(max_size=60), st.from_regex(rb'\[\{"name": "a", "kind": "tape"[^}]*\}\]')))
def test_that_a_damaged_list_is_an_empty_one(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    folder = tmp_path_factory.getbasetemp()
    (folder / own_instruments.FILE).write_bytes(data)
    for own in own_instruments.known_in(folder).values():
        assert own.kind in INSTRUMENTS


def test_that_a_list_that_cannot_be_written_stops_nobody(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    own_instruments.keep(tmp_path / "file", [GAUGE])
    assert own_instruments.known_in(tmp_path / "file") == {}


def test_that_the_fitting_kind_comes_first_and_other_measures_never() -> None:
    names = ("tape 2", "rule", "calliper 2", "dial gauge 7", "tape 5")
    kinds = ("tape", "steel-rule", "calliper", "tyre-gauge", "tape")
    known: dict[str, OwnInstrument] = {n: OwnInstrument(n, k) for n, k in zip(names, kinds, strict=True)}
    assert [o.name for o in own_instruments.fitting(known, "tape")] == ["tape 5", "tape 2", "rule"]
    assert [o.name for o in own_instruments.fitting(known, "tyre-gauge")] == ["dial gauge 7"]


def test_that_the_jobs_own_date_goes_before_the_computers() -> None:
    on_computer = {"dial gauge 7": OwnInstrument("dial gauge 7", "tyre-gauge", None, "psi")}
    merged = own_instruments.together(on_computer, {"dial gauge 7": GAUGE})
    assert merged["dial gauge 7"] == OwnInstrument("dial gauge 7", "tyre-gauge", GAUGE.until, "psi")


# ------------------------------------------------------------------------------- the rule, whatever is known


@given(st.dates(), st.integers(-40, 40))
def test_that_only_the_day_decides(bench: Any, until: dt.date, shift: int) -> None:
    field = bench.field("a")
    moment = dt.datetime.combine(TODAY + dt.timedelta(days=shift), dt.time(23, 59), dt.UTC)
    entry = Entry(Slot("s", "a"), How.VALUE, "good", ONE, moment, 0, instrument="g")
    stored = bench.record(instrument_known(OwnInstrument("G", "tape", until), ONE), entered(entry))
    found = list(indications(Asked("s", field), stored))
    assert bool(found) == (stored.entries[Slot("s", "a")].at.date() > until)
