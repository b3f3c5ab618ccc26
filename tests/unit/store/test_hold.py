"""One writer for each job, and everyone else is told who it is."""

from __future__ import annotations

import datetime as dt
import json
import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from rakeprep.store.hold import Holder, held
from rakeprep.store.job_file import JobFile, StoreError, holder, jobs_in

Clock = Callable[[], dt.datetime]
Start = Callable[..., "subprocess.Popen[str]"]
ZONE = dt.timezone(dt.timedelta(hours=1))
SINCE = dt.datetime(2031, 3, 4, 9, 41, tzinfo=ZONE)

KEEP_OPEN = """
with JobFile.open(path, clock) as job:
    job.append({"note": "held"})
    print(os.getpid(), flush=True)
    sys.stdin.readline()
print("closed", flush=True)
sys.stdin.readline()
"""

TRY = """
try:
    JobFile.open(path, clock).close()
    print("opened", flush=True)
except StoreError as error:
    print(error, flush=True)
"""


def read(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline().strip()


def test_that_another_process_is_refused_and_told_who_holds_the_job(
    path: Path, clock: Clock, start: Start
) -> None:
    JobFile.create(path, {}, clock).close()
    assert holder(path) is None
    first = start(KEEP_OPEN, path)
    pid = read(first)
    said = read(start(TRY, path))
    assert said.startswith("This job is open in another window on ")
    assert f"(process {pid}, since 09:41). Close it there, or open it here read-only." in said
    found = holder(path)
    assert found is not None
    assert (str(found.pid), found.since) == (pid, SINCE)
    with JobFile.open(path, clock, read_only=True) as job:
        assert len(job.events()) == 2
    assert jobs_in(path.parent)[0].count == 2
    first.stdin.write("\n")  # type: ignore[union-attr]
    first.stdin.flush()  # type: ignore[union-attr]
    assert read(first) == "closed"
    assert holder(path) is None
    assert read(start(TRY, path)) == "opened"


def test_that_a_killed_holder_frees_the_job_at_once(path: Path, clock: Clock, start: Start) -> None:
    JobFile.create(path, {}, clock).close()
    first = start(KEEP_OPEN, path)
    read(first)
    first.kill()
    first.communicate()
    assert path.with_name(f".{path.name}.holder").exists()  # the note outlives its writer and is not believed
    assert holder(path) is None
    with JobFile.open(path, clock) as job:
        assert len(job.events()) == 2


def test_that_a_second_window_of_the_same_process_is_refused(path: Path, clock: Clock, job: JobFile) -> None:
    with pytest.raises(StoreError, match=f"process {os.getpid()}"):
        JobFile.open(path, clock)
    with pytest.raises(StoreError, match="open in another window"):
        JobFile.create(path, {}, clock)
    assert job.append({}).seq == 2
    found = holder(path)
    assert found is not None
    assert found.pid == os.getpid()


def test_that_the_way_to_the_file_does_not_matter(path: Path, clock: Clock, job: JobFile) -> None:
    folder = path.parent / "sub"
    folder.mkdir()
    around = folder / ".." / path.name
    with pytest.raises(StoreError, match="open in another window"):
        JobFile.open(around, clock)
    assert holder(around) is not None


def test_that_a_job_left_open_overnight_is_told_with_its_day() -> None:
    by = Holder(123, "BENCH-2", "someone", SINCE)
    same_day = str(held(by, SINCE.replace(hour=15)))
    assert same_day == (
        "This job is open in another window on BENCH-2 (process 123, since 09:41). "
        "Close it there, or open it here read-only."
    )
    assert "since 4 Mar 2031 09:41" in str(held(by, SINCE + dt.timedelta(days=1)))


@pytest.mark.parametrize("note", ["", "{}", "[]", "null", json.dumps({"pid": "x", "since": "y"}), "\0" * 100])
def test_that_an_unreadable_note_still_refuses_a_second_writer(
    path: Path, clock: Clock, job: JobFile, note: str
) -> None:
    path.with_name(f".{path.name}.holder").write_text(note, encoding="utf-8")
    with pytest.raises(StoreError, match=r"open in another window\. Close it there"):
        JobFile.open(path, clock)
    assert holder(path) == Holder(0, "", "", None)


def test_that_a_refused_opening_leaves_the_job_free(path: Path, clock: Clock) -> None:
    path.write_bytes(b"no job")
    with pytest.raises(StoreError):
        JobFile.open(path, clock)
    assert holder(path) is None
