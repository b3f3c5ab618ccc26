"""The table of instruments in the record."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from rakeprep import paths
from rakeprep.handover import blocks
from rakeprep.handover.demo import HEALTHY, MACHINE, TRACTOR
from rakeprep.handover.fill import started
from rakeprep.handover.instruments_shown import instruments
from rakeprep.handover.paper import Paper
from rakeprep.jobs import answers
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.starting import text_of
from rakeprep.model.entry import Slot
from rakeprep.model.instrument import OwnInstrument
from rakeprep.model.verdict import Verdict
from rakeprep.text import ENGLISH

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))


@pytest.fixture
def job(tmp_path: Path) -> Any:
    samples = paths.sample_profiles()
    read = answers.read_answers(text_of(samples / HEALTHY))
    with started(samples / MACHINE, samples / TRACTOR, read, tmp_path, lambda: NOON) as made:
        yield made


def shown(job: OpenJob) -> list[blocks.Block]:
    paper = Paper(job.record, job.assessment, job.profile, job.tractor, ENGLISH, "code", NOON)
    return list(instruments(paper))


def test_that_a_job_without_instruments_has_no_table(job: OpenJob) -> None:
    assert shown(job) == []


def test_that_each_instrument_has_its_row_and_an_overdue_one_its_mark(job: OpenJob) -> None:
    job.register(OwnInstrument("dial gauge 7", "tyre-gauge", dt.date(2026, 3, 1)), "Technician One")
    job.register(OwnInstrument("lath", "tape"), "Technician One")
    for place, tool in (("L1L", "dial gauge 7"), ("L1R", "Dial gauge 7"), ("L2L", "pencil gauge")):
        job.commit(Slot("tyres", "pressure_set", place), "2 bar", "Technician One", instrument=tool)
    _, table = shown(job)
    assert isinstance(table, blocks.Table)
    rows = [row for row in table.rows if not isinstance(row, blocks.Group)]
    assert [[cell.text for cell in row] for row in rows] == [
        ["dial gauge 7", "tyre pressure gauge", "1 Mar 2026", "2"],
        ["lath", "tape, short length between hard edges", "none asked", "0"],
        ["pencil gauge", "—", "not stated", "1"],
    ]
    assert [row[2].verdict for row in rows] == [Verdict.MEASURE_AGAIN, None, None]
    assert rows[0][3].quiet == ("2 of them an indication only",)
