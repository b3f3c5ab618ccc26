"""One job's file in daily use."""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from rakeprep.store import connect, job_file
from rakeprep.store.chain import check_chain
from rakeprep.store.job_file import JobFile, StoreError

Clock = Callable[[], dt.datetime]


def raw(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, isolation_level=None)


def refusal(path: Path, clock: Clock, read_only: bool = False) -> str:
    with pytest.raises(StoreError) as caught:
        JobFile.open(path, clock, read_only).close()
    return str(caught.value)


def test_that_entries_come_back_in_order_after_reopening(path: Path, clock: Clock) -> None:
    with JobFile.create(path, {"kind": "opened"}, clock) as job:
        second = job.append({"value": "1/3", "list": ("a", 1, None)})
        assert second.body == {"value": "1/3", "list": ["a", 1, None]}
        assert job.head == second.hash
        before = job.events()
    with JobFile.open(path, clock) as job:
        assert job.events() == before
        assert [event.seq for event in before] == [1, 2]
        assert job.head == second.hash
        assert job.problem is None
        assert not job.read_only


def test_that_the_time_has_microseconds_and_an_offset(job: JobFile) -> None:
    # The test's clock starts at 09:41:00 +01:00 and moves on a second each time it is asked.
    assert job.append({}).at[:17] == "2031-03-04T09:41:"
    assert job.append({}).at[19:] == ".000000+01:00"


def test_that_a_clock_without_an_offset_is_a_programming_error(job: JobFile) -> None:
    job._clock = lambda: dt.datetime(2031, 3, 4)
    with pytest.raises(ValueError, match="offset"):
        job.append({})
    assert len(job.events()) == 1


def test_that_a_closed_job_is_one_file_and_nothing_else_a_user_sees(path: Path, clock: Clock) -> None:
    with JobFile.create(path, {}, clock) as job:
        job.append({"a": 1})
        job.add_blob("photo", "plate.jpg", "image/jpeg", b"x" * 10_000)
    with JobFile.open(path, clock, read_only=True) as job:
        assert len(job.events()) == 2
    assert [found.name for found in path.parent.iterdir() if not found.name.startswith(".")] == [path.name]


def test_that_each_commit_waits_for_the_disk(job: JobFile) -> None:
    # SQLite documentation, PRAGMA synchronous: 2 is FULL.
    assert job._open_connection().execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert job._open_connection().execute("PRAGMA synchronous").fetchone() == (2,)


def test_that_a_fraction_is_a_programming_error_and_adds_nothing(job: JobFile) -> None:
    with pytest.raises(TypeError):
        job.append({"value": 0.1})
    assert len(job.events()) == 1


@pytest.mark.parametrize("value", ["\ud800", 2**60])
def test_that_what_no_file_can_keep_is_refused_in_a_sentence(job: JobFile, value: object) -> None:
    with pytest.raises(StoreError, match="cannot be stored"):
        job.append({"value": value})
    assert job.append({"value": "fits"}).seq == 2


def test_that_an_entry_beyond_a_million_bytes_is_refused(job: JobFile) -> None:
    # The body {"t":"..."} has 8 bytes around its text, counted by hand.
    room = job_file.LARGEST_BODY - 8
    job.append({"t": "x" * room})
    with pytest.raises(StoreError, match="longer than 1 million"):
        job.append({"t": "x" * (room + 1)})
    assert len(job.events()) == 2


def test_that_changing_a_body_afterwards_does_not_change_the_record(job: JobFile) -> None:
    body: dict[str, object] = {"list": ["a"]}
    stored = job.append(body)
    body["list"] = ["b"]
    assert stored.body == job.events()[-1].body == {"list": ["a"]}
    assert check_chain(job.events()) is None


def test_that_photos_come_back_byte_for_byte_and_are_kept_once(path: Path, clock: Clock) -> None:
    data = bytes(range(256)) * 100
    with JobFile.create(path, {}, clock) as job:
        found = job.add_blob("photo", "plate.jpg", "image/jpeg", data)
        assert job.add_blob("photo", "same.jpg", "image/jpeg", data) == found
        job.add_blob("document", "empty", "application/pdf", b"")
    assert found == hashlib.sha256(data).hexdigest()
    with JobFile.open(path, clock, read_only=True) as job:
        assert job.blob(found) == data
        assert job.blobs()[0] == (found, "photo", "plate.jpg", "image/jpeg", len(data))
        assert [blob.name for blob in job.blobs()] == ["plate.jpg", "empty"]
        with pytest.raises(KeyError):
            job.blob("0" * 64)


def test_that_a_photo_too_large_is_refused(job: JobFile, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(job_file, "LARGEST_BLOB", 10)
    with pytest.raises(StoreError, match="larger than"):
        job.add_blob("photo", "big.jpg", "image/jpeg", b"x" * 11)
    assert job.blobs() == []


def test_that_a_photo_changed_inside_the_file_is_noticed(path: Path, clock: Clock) -> None:
    with JobFile.create(path, {}, clock) as job:
        found = job.add_blob("photo", "plate.jpg", "image/jpeg", b"needle" * 3)
    path.write_bytes(path.read_bytes().replace(b"needle" * 3, b"needlE" * 3))
    with JobFile.open(path, clock) as job, pytest.raises(StoreError, match=r"plate\.jpg .* was changed"):
        job.blob(found)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE events SET body = '{}'",
        "DELETE FROM events",
        "UPDATE blobs SET name = 'other'",
        "DELETE FROM blobs",
        "INSERT OR REPLACE INTO events SELECT seq, at, '{}', previous, hash FROM events",
        "INSERT OR REPLACE INTO blobs SELECT id, sha256, kind, 'b', media_type, at, size, data FROM blobs",
        "INSERT OR REPLACE INTO blobs SELECT 9, sha256, kind, 'b', media_type, at, size, data FROM blobs",
        "INSERT INTO events SELECT seq + 2, at, body, hash, hash FROM events",
        "INSERT INTO events SELECT seq + 1, at, body, previous, hash FROM events",
    ],
)
def test_that_the_database_itself_refuses_to_change_what_is_stored(
    path: Path, clock: Clock, statement: str
) -> None:
    with JobFile.create(path, {"a": 1}, clock) as job:
        job.add_blob("photo", "plate.jpg", "image/jpeg", b"data")
    connection = raw(path)
    try:
        with pytest.raises(sqlite3.IntegrityError):
            connection.execute(statement)
    finally:
        connection.close()
    with JobFile.open(path, clock) as job:
        assert [event.body for event in job.events()] == [{"a": 1}]
        assert [blob.name for blob in job.blobs()] == ["plate.jpg"]


def forge(path: Path, statement: str) -> None:
    """Change the file as someone would who knows how."""
    connection = raw(path)
    try:
        for trigger in ("events_stay", "events_kept", "events_follow"):
            connection.execute(f"DROP TRIGGER {trigger}")
        connection.execute(statement)
    finally:
        connection.close()


@pytest.mark.parametrize(
    ("statement", "sentence"),
    [
        ("UPDATE events SET body = '{\"a\":2}' WHERE seq = 2", "Entry 2 was changed after it was stored."),
        ("UPDATE events SET body = 'broken' WHERE seq = 2", "Entry 2 was changed after it was stored."),
        ("UPDATE events SET body = CAST(x'ff' AS TEXT) WHERE seq = 2", "Entry 2 was changed"),
        ("UPDATE events SET at = '2030' WHERE seq = 3", "Entry 3 was changed after it was stored."),
        ("DELETE FROM events WHERE seq = 2", "Entry 2 is missing from the record"),
        ("DELETE FROM events", "is damaged"),
    ],
)
def test_that_a_forged_job_opens_only_to_look_at_and_tells_where(
    path: Path, clock: Clock, statement: str, sentence: str
) -> None:
    with JobFile.create(path, {"a": 1}, clock) as job:
        job.append({"a": 1})
        job.append({"a": 1})
    forge(path, statement)
    said = refusal(path, clock)
    assert sentence in said
    assert "read-only" in said
    with JobFile.open(path, clock, read_only=True) as job:
        assert sentence in str(job.problem)
        job.events()
    assert job_file.holder(path) is None


def test_that_a_read_only_job_takes_no_entries(path: Path, clock: Clock, job: JobFile) -> None:
    with JobFile.open(path, clock, read_only=True) as other:
        assert other.read_only
        with pytest.raises(StoreError, match="read-only"):
            other.append({})
        with pytest.raises(StoreError, match="read-only"):
            other.add_blob("photo", "a", "b", b"c")


def test_that_a_read_only_job_sees_what_is_added_meanwhile(path: Path, clock: Clock, job: JobFile) -> None:
    with JobFile.open(path, clock, read_only=True) as other:
        job.append({"a": 1})
        assert other.events() == job.events()
        assert other.head == job.head
    job.append({"a": 2})
    job.close()
    with JobFile.open(path, clock) as again:
        assert len(again.events()) == 3


def test_that_a_writer_can_close_while_another_reads(path: Path, clock: Clock) -> None:
    job = JobFile.create(path, {}, clock)
    with JobFile.open(path, clock, read_only=True) as other:
        job.append({"a": 1})
        job.close()
        assert len(other.events()) == 2
        with JobFile.open(path, clock) as third:
            third.append({"a": 2})
            assert len(other.events()) == 3


def test_that_an_interruption_between_disk_and_memory_is_caught_up(job: JobFile) -> None:
    class Stopped(BaseException):
        pass

    def stop() -> dt.datetime:
        raise Stopped

    ticking, job._clock = job._clock, stop
    with pytest.raises(Stopped):
        job.append({"a": 1})
    job._clock = ticking
    job._events.clear()  # as if memory had fallen behind the disk
    assert job.append({"a": 2}).seq == 2
    assert check_chain(job.events()) is None


def test_that_another_program_writing_past_the_lock_does_not_break_the_chain(
    path: Path, clock: Clock, job: JobFile
) -> None:
    job._unsure = False
    before = len(job.events())
    connection = raw(path)
    row = ("x", "{}", job.head, "f" * 64)
    connection.execute("INSERT INTO events (seq, at, body, previous, hash) VALUES (2, ?, ?, ?, ?)", row)
    connection.close()
    with pytest.raises(StoreError, match="Another program has written"):
        job.append({"a": 1})
    assert before == 1


def test_that_a_job_waits_for_nobody_for_ever(path: Path, clock: Clock, job: JobFile) -> None:
    job._open_connection().execute("PRAGMA busy_timeout = 0")
    connection = raw(path)
    connection.execute("BEGIN IMMEDIATE")
    try:
        with pytest.raises(StoreError, match="Another program is using"):
            job.append({"a": 1})
    finally:
        connection.close()
    assert job.append({"a": 2}).seq == 2


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps an open file where it is")
@pytest.mark.parametrize("move", [Path.unlink, lambda path: path.rename(path.with_name("elsewhere"))])
def test_that_an_entry_into_a_file_that_is_gone_is_not_acknowledged(
    path: Path, job: JobFile, move: Callable[[Path], object]
) -> None:
    move(path)
    with pytest.raises(StoreError, match="moved, deleted or replaced"):
        job.append({"a": 1})


def test_that_a_closed_job_says_so_and_closes_twice(job: JobFile) -> None:
    job.close()
    job.close()
    with pytest.raises(StoreError, match="has been closed"):
        job.append({})
    with pytest.raises(StoreError, match="has been closed"):
        job.blobs()


def test_that_a_job_is_never_made_over_another(path: Path, clock: Clock) -> None:
    JobFile.create(path, {"a": 1}, clock).close()
    with pytest.raises(StoreError, match="already a job"):
        JobFile.create(path, {"a": 2}, clock)
    with JobFile.open(path, clock) as job:
        assert job.events()[0].body == {"a": 1}


def test_that_what_a_kill_left_of_making_a_job_is_cleared_away(path: Path, clock: Clock) -> None:
    path.with_name(path.name + ".part").write_bytes(b"half")
    with JobFile.create(path, {"a": 1}, clock) as job:
        assert len(job.events()) == 1


def test_that_a_job_that_cannot_be_made_leaves_nothing(path: Path, clock: Clock) -> None:
    with pytest.raises(TypeError):
        JobFile.create(path, {"a": 0.5}, clock)
    assert [found.name for found in path.parent.iterdir() if not found.name.startswith(".")] == []
    JobFile.create(path, {"a": "0.5"}, clock).close()


def test_that_a_missing_folder_is_named(tmp_path: Path, clock: Clock) -> None:
    path = tmp_path / "nowhere" / "demo.rakejob"
    assert "There is no folder" in refusal(path, clock)
    with pytest.raises(StoreError, match="There is no folder"):
        JobFile.create(path, {}, clock)


@pytest.mark.parametrize("read_only", [False, True])
def test_that_what_is_no_job_is_refused_in_one_sentence(
    tmp_path: Path, clock: Clock, read_only: bool
) -> None:
    path = tmp_path / "demo.rakejob"
    assert "There is no job" in refusal(path, clock, read_only)
    path.write_bytes(b"")
    assert "cut short" in refusal(path, clock, read_only)
    path.write_bytes(b"Dear customer,\n" * 1000)
    assert "is not a job" in refusal(path, clock, read_only)
    path.write_bytes(b"SQLite format 3\0" + b"\0" * 5000)
    assert refusal(path, clock, read_only)
    path.unlink()
    connection = raw(path)
    connection.execute("CREATE TABLE events (a)")
    connection.close()
    assert "is not a job" in refusal(path, clock, read_only)
    folder = tmp_path / "folder.rakejob"
    folder.mkdir()
    assert "is a folder" in refusal(folder, clock, read_only)
    assert refusal(tmp_path / ("x" * 5000), clock, read_only)
    assert refusal(tmp_path / "a\0b", clock, read_only)


@pytest.mark.parametrize("read_only", [False, True])
def test_that_a_newer_format_is_refused_and_left_alone(path: Path, clock: Clock, read_only: bool) -> None:
    JobFile.create(path, {}, clock).close()
    connection = raw(path)
    connection.execute("PRAGMA user_version = 99")
    connection.close()
    before = path.read_bytes()
    said = refusal(path, clock, read_only)
    assert "newer edition" in said
    assert "format 99" in said
    assert path.read_bytes() == before


@pytest.mark.parametrize("name", ["a b", "50%25", "who?", "no#1", "Grüße", "C:x" if os.name != "nt" else "c"])
def test_that_any_name_of_a_file_or_folder_will_do(tmp_path: Path, clock: Clock, name: str) -> None:
    if os.name == "nt" and "?" in name:
        pytest.skip("Windows has no such names")
    folder = tmp_path / name
    folder.mkdir()
    path = folder / f"{name}.rakejob"
    with JobFile.create(path, {"a": name}, clock) as job:
        job.append({"a": 1})
    with JobFile.open(path, clock, read_only=True) as job:
        assert len(job.events()) == 2
    assert path.is_file()


@pytest.mark.parametrize(
    ("name", "address"),
    [
        # SQLite documentation, "Uniform Resource Identifiers": forms for Unix, Windows and shares.
        ("/data/demo.db", "file:/data/demo.db?mode=ro"),
        ("C:/data/demo.db", "file:/C:/data/demo.db?mode=ro"),
        ("//server/share/demo.db", "file:////server/share/demo.db?mode=ro"),
    ],
)
def test_that_an_address_has_the_form_the_database_knows(name: str, address: str) -> None:
    class Named:
        def as_posix(self) -> str:
            return name

    assert connect._address(Named(), "ro") == address  # type: ignore[arg-type]
