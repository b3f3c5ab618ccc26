"""The list of jobs in a folder."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from rakeprep.store.job_file import JobFile, StoreError, jobs_in

Clock = Callable[[], dt.datetime]


def test_that_jobs_are_listed_by_name_with_their_first_and_last_entry(tmp_path: Path, clock: Clock) -> None:
    with JobFile.create(tmp_path / "b.rakejob", {"machine": "B"}, clock) as job:
        last = job.append({"note": 1})
    JobFile.create(tmp_path / "a.rakejob", {"machine": "A"}, clock).close()
    (tmp_path / "notes.txt").write_text("not listed")
    found = jobs_in(tmp_path)
    assert [summary.path.name for summary in found] == ["a.rakejob", "b.rakejob"]
    assert [summary.first for summary in found] == [{"machine": "A"}, {"machine": "B"}]
    assert [summary.count for summary in found] == [1, 2]
    assert found[1].last_at == last.at
    assert [summary.problem for summary in found] == [None, None]


def test_that_an_open_job_is_listed_with_what_is_in_it_now(path: Path, job: JobFile) -> None:
    job.append({"note": 1})
    assert jobs_in(path.parent)[0].count == 2
    job.append({"note": 2})
    assert jobs_in(path.parent)[0].count == 3


def test_that_what_cannot_be_read_is_listed_with_its_reason(tmp_path: Path, clock: Clock) -> None:
    (tmp_path / "a.rakejob").mkdir()
    (tmp_path / "b.rakejob").write_bytes(b"")
    (tmp_path / "c.rakejob").write_bytes(b"text " * 1000)
    JobFile.create(tmp_path / "d.rakejob", {}, clock).close()
    found = jobs_in(tmp_path)
    assert len(found) == 4
    said = [str(summary.problem) for summary in found]
    assert "is a folder" in said[0]
    assert "cut short" in said[1]
    assert "is not a job" in said[2]
    assert found[3].problem is None


def test_that_listing_leaves_the_folder_as_it_was(tmp_path: Path, clock: Clock) -> None:
    JobFile.create(tmp_path / "a.rakejob", {}, clock).close()
    before = sorted(tmp_path.iterdir())
    jobs_in(tmp_path)
    assert sorted(tmp_path.iterdir()) == before


def test_that_a_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="There is no folder"):
        jobs_in(tmp_path / "nowhere")


def test_that_an_empty_folder_has_no_jobs(tmp_path: Path) -> None:
    assert jobs_in(tmp_path) == []
