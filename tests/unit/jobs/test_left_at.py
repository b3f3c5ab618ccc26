"""Where a job was left: remembered beside the job, never needed."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.jobs import left_at
from rakeprep.jobs.left_at import LeftAt, last_done, you_were_here
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot

HERE, THERE = Slot("levelling", "clearance", "left-1"), Slot("levelling", "clearance", "left-12")


def test_that_task_and_half_typed_text_come_back(tmp_path: Path) -> None:
    file = left_at.file_for(tmp_path, Path("jobs/SAMPLE-1.rakejob"))
    left = LeftAt(HERE, {HERE: ("2,4,5 ½", "in"), THERE: ("12", "mm")})
    left_at.write(file, "first", left)
    assert left_at.read(file, "first") == left
    left_at.write(file, "first", LeftAt(None, {}))
    assert left_at.read(file, "first") == LeftAt()


def test_that_another_job_of_the_same_name_was_not_left_there(tmp_path: Path) -> None:
    file = left_at.file_for(tmp_path, Path("SAMPLE-1.rakejob"))
    left_at.write(file, "first", LeftAt(HERE))
    assert left_at.read(file, "another") == LeftAt()


@given(
    st.one_of(
        st.binary(max_size=80),
        st.sampled_from(["{}", "[]", "null", '{"job": "x"}', '{"job": "x", "slot": 3, "drafts": {}}']).map(
            str.encode
        ),
        st.text(max_size=20).map(lambda t: f'{{"job": "x", "slot": "", "drafts": {{"{t}": 1}}}}'.encode()),
    )
)
def test_that_a_damaged_file_is_nothing(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    file = tmp_path_factory.getbasetemp() / "left.json"
    file.write_bytes(data)
    assert left_at.read(file, "x").drafts == {}


def test_that_a_file_that_cannot_be_written_stops_nobody(tmp_path: Path) -> None:
    (tmp_path / "left").write_text("in the way")
    file = left_at.file_for(tmp_path, Path("a.rakejob"))
    left_at.write(file, "x", LeftAt(HERE))
    assert left_at.read(file, "x") == LeftAt()


def test_that_the_sentence_names_both_places_and_the_last_value(job: OpenJob) -> None:
    job.commit(THERE, "12 mm", "Technician One")
    last = last_done(job.record, job.tasks)
    assert last is not None
    said = str(you_were_here(job.tasks[HERE], last, job.tasks))
    label = str(job.tasks[HERE].field.label)
    at = f"{last.at.astimezone():%H:%M}"
    assert said == (
        f"You were here: {label}, left rotor, 1 o'clock. "
        f"Last done {at}: {label}, left rotor, 12 o'clock = 12 mm."
    )


def test_that_without_an_entry_only_the_place_is_named(job: OpenJob) -> None:
    assert last_done(job.record, job.tasks) is None
    assert "Last done" not in str(you_were_here(job.tasks[HERE], None, job.tasks))


def test_that_a_reason_begun_comes_back_and_an_older_file_has_none(tmp_path: Path) -> None:
    file = left_at.file_for(tmp_path, Path("SAMPLE-1.rakejob"))
    left_at.write(file, "first", LeftAt(HERE, {}, {HERE: "was misread"}))
    assert left_at.read(file, "first").reasons == {HERE: "was misread"}
    file.write_text('{"job": "first", "slot": "", "drafts": {}}')
    assert left_at.read(file, "first") == LeftAt()
