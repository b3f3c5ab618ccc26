"""Killed programs, torn and damaged files, full and protected disks: nothing acknowledged is lost."""

from __future__ import annotations

import datetime as dt
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from rakeprep.store.chain import check_chain
from rakeprep.store.errors import cut_short
from rakeprep.store.events import Stored
from rakeprep.store.job_file import JobFile, StoreError, jobs_in

Clock = Callable[[], dt.datetime]
Start = Callable[..., "subprocess.Popen[str]"]

WRITE_ON = """
with JobFile.open(path, clock) as job:
    while True:
        stored = job.append({"note": "n" * 300})
        print(stored.seq, stored.hash, flush=True)
"""

UNTIL_FULL = """
job = JobFile.open(path, clock)
if SIZE_ALLOWED:
    import resource
    resource.setrlimit(resource.RLIMIT_FSIZE, (SIZE_ALLOWED, resource.getrlimit(resource.RLIMIT_FSIZE)[1]))
last = job.head
try:
    while True:
        last = job.append({"note": "n" * 2000}).hash
except StoreError as error:
    print(error, flush=True)
try:
    job.add_blob("photo", "plate.jpg", "image/jpeg", b"x" * 2_000_000)
except StoreError as error:
    print(error, flush=True)
print(last, job.head == last, flush=True)
sys.stdin.readline()
print(job.append({"note": "after"}).seq, flush=True)
job.close()
"""


def written(path: Path, clock: Clock, count: int = 60) -> tuple[Stored, ...]:
    with JobFile.create(path, {"note": "first"}, clock) as job:
        for number in range(count):
            job.append({"note": f"{number} " + "x" * 200})
        job.add_blob("photo", "plate.jpg", "image/jpeg", bytes(range(256)) * 40)
        return job.events()


def read(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline().strip()


def answer(process: subprocess.Popen[str]) -> None:
    assert process.stdin is not None
    process.stdin.write("\n")
    process.stdin.flush()


def test_that_a_killed_writer_loses_nothing_it_acknowledged(path: Path, clock: Clock, start: Start) -> None:
    JobFile.create(path, {"note": "first"}, clock).close()
    chance = random.Random(1)
    before = 1
    for _ in range(10):
        writer = start(WRITE_ON, path)
        acknowledged = [read(writer) for _ in range(chance.randint(1, 60))]
        writer.kill()
        rest = writer.communicate()[0]
        acknowledged += [line for line in rest.split("\n")[:-1] if line]
        with JobFile.open(path, clock) as job:
            events = job.events()
        stored = {f"{event.seq} {event.hash}" for event in events}
        assert set(acknowledged) <= stored
        assert len(events) - before - len(acknowledged) in (0, 1)  # one may be on disk but not yet told
        assert check_chain(events) is None
        before = len(events)


def test_that_the_read_only_view_of_a_killed_job_is_whole(path: Path, clock: Clock, start: Start) -> None:
    JobFile.create(path, {"note": "first"}, clock).close()
    writer = start(WRITE_ON, path)
    acknowledged = [read(writer) for _ in range(20)]
    writer.kill()
    writer.communicate()
    with JobFile.open(path, clock, read_only=True) as job:
        assert len(job.events()) > len(acknowledged)
        assert job.problem is None
    assert jobs_in(path.parent)[0].count > len(acknowledged)


def test_that_a_torn_side_file_leaves_a_clean_beginning(tmp_path: Path, clock: Clock) -> None:
    there = tmp_path / "there"
    there.mkdir()
    path = there / "demo.rakejob"
    job = JobFile.create(path, {"note": "first"}, clock)
    for number in range(12):
        job.append({"note": number})
    main, side = path.read_bytes(), path.with_name(path.name + "-wal").read_bytes()
    events = job.events()
    job.close()
    lengths = sorted({*range(0, len(side), 1237), 1, 31, 32, 33, 55, 56, 57, len(side) - 1, len(side)})
    counts = []
    for length in lengths:
        torn = tmp_path / f"torn{length}"
        torn.mkdir()
        (torn / "demo.rakejob").write_bytes(main)
        (torn / "demo.rakejob-wal").write_bytes(side[:length])
        with JobFile.open(torn / "demo.rakejob", clock) as found:
            counts.append(len(found.events()))
            assert found.events() == events[: counts[-1]]
            assert found.append({"note": "goes on"}).seq == counts[-1] + 1
    assert counts == sorted(counts)
    assert counts[0] == 1
    assert counts[-1] == 13


def test_that_a_file_cut_anywhere_is_refused_in_a_sentence(path: Path, clock: Clock) -> None:
    written(path, clock)
    whole = path.read_bytes()
    for length in sorted({*range(0, len(whole), 997), 1, 15, 16, 99, 100, 4095, 4096, len(whole) - 1}):
        path.write_bytes(whole[:length])
        for read_only in (False, True):
            with pytest.raises(StoreError) as caught:
                JobFile.open(path, clock, read_only)
            assert str(path) in str(caught.value)
        assert jobs_in(path.parent)[0].problem is not None
    path.write_bytes(whole[:-1])
    with pytest.raises(StoreError) as caught:
        JobFile.open(path, clock)
    assert caught.value.message == cut_short(str(path))
    path.write_bytes(whole)
    JobFile.open(path, clock).close()


def test_that_no_flipped_byte_passes_for_the_record(path: Path, clock: Clock) -> None:
    events = written(path, clock, 12)
    whole = path.read_bytes()
    chance = random.Random(2)
    told = 0
    for place in [*range(100), *chance.sample(range(100, len(whole)), 250)]:
        spoilt = bytearray(whole)
        spoilt[place] ^= 1 << chance.randrange(8)
        path.write_bytes(spoilt)
        try:
            with JobFile.open(path, clock, read_only=True) as job:
                seen = job.events()
                if job.problem is None:
                    assert seen == events
                else:
                    told += 1
                for blob in job.blobs():
                    job.blob(blob.sha256)
        except (StoreError, KeyError):
            told += 1
    assert told > 20


def test_that_each_flipped_byte_of_a_body_is_told_with_its_entry(path: Path, clock: Clock) -> None:
    with JobFile.create(path, {"note": "first"}, clock) as job:
        job.append({"note": "needle 17 mm"})
        job.append({"note": "last"})
    whole = path.read_bytes()
    body = b'{"note":"needle 17 mm"}'
    at = whole.index(body)
    for place in range(at, at + len(body)):
        spoilt = bytearray(whole)
        spoilt[place] ^= 1
        path.write_bytes(spoilt)
        with JobFile.open(path, clock, read_only=True) as job:
            assert dict(job.problem.params)["seq"] == 2 if job.problem else False
        with pytest.raises(StoreError, match="Entry 2 was changed"):
            JobFile.open(path, clock)


def test_that_a_database_at_its_limit_refuses_and_goes_on_when_there_is_room(
    path: Path, clock: Clock, job: JobFile
) -> None:
    connection = job._open_connection()
    pages = connection.execute("PRAGMA page_count").fetchone()[0]
    connection.execute(f"PRAGMA max_page_count = {pages + 2}")
    acknowledged: list[int] = [1]
    with pytest.raises(StoreError, match="The disk is full"):
        acknowledged.extend(job.append({"note": "n" * 2000}).seq for _ in range(100))
    stored = acknowledged[-1]
    with pytest.raises(StoreError, match="The disk is full"):
        job.add_blob("photo", "plate.jpg", "image/jpeg", b"x" * 100_000)
    assert len(job.events()) == stored
    connection.execute("PRAGMA max_page_count = 100000")
    assert job.append({"note": "n" * 2000}).seq == stored + 1
    assert job.blobs() == []
    job.close()
    with JobFile.open(path, clock) as again:
        assert len(again.events()) == stored + 1


def full(process: subprocess.Popen[str]) -> tuple[str, str, str]:
    first, second = read(process), read(process)
    head, same = read(process).split()
    assert same == "True"
    return first, second, head


@pytest.mark.skipif(os.name == "nt", reason="needs a limit on the size of files, which Windows has not")
def test_that_a_disk_that_stops_writing_loses_nothing_acknowledged(
    path: Path, clock: Clock, start: Start
) -> None:
    JobFile.create(path, {"note": "first"}, clock).close()
    process = start(UNTIL_FULL.replace("SIZE_ALLOWED", "150_000"), path)
    first, second, head = full(process)
    assert "not stored" in first
    assert "not stored" in second
    process.kill()
    process.communicate()
    with JobFile.open(path, clock) as job:
        assert job.head == head
        assert job.append({"note": "goes on"}).seq > 2


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 600 kB."""
    if sys.platform != "linux" or os.geteuid() != 0 or shutil.which("mount") is None:
        pytest.skip("a small disk of its own can only be mounted by the administrator of a Linux system")
    place = tmp_path / "small"
    place.mkdir()
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=600k", "none", place], check=False)
    if made.returncode != 0:
        pytest.skip("this system does not let a small disk be mounted")
    yield place
    subprocess.run(["umount", "-l", place], check=True)


def test_that_a_full_disk_is_told_and_work_goes_on_after_space_is_freed(
    small_disk: Path, clock: Clock, start: Start
) -> None:
    path = small_disk / "demo.rakejob"
    JobFile.create(path, {"note": "first"}, clock).close()
    ballast = small_disk / "ballast"
    ballast.write_bytes(b"x" * 200_000)
    process = start(UNTIL_FULL.replace("SIZE_ALLOWED", "0"), path)
    first, second, head = full(process)
    assert first.startswith("The disk is full")
    assert "not stored" in second
    with JobFile.open(path, clock, read_only=True) as job:
        assert job.head == head
        count = len(job.events())
    with pytest.raises(StoreError, match="not stored"):
        JobFile.create(small_disk / "second.rakejob", {"note": "n" * 900_000}, clock)
    assert [found.path for found in jobs_in(small_disk)] == [path]
    ballast.unlink()
    answer(process)
    assert read(process) == str(count + 1)
    process.communicate()
    with JobFile.open(path, clock) as job:
        assert len(job.events()) == count + 1
        assert job.blobs() == []


def test_that_a_job_on_a_full_disk_can_still_be_read(small_disk: Path, clock: Clock) -> None:
    path = small_disk / "demo.rakejob"
    events = written(path, clock, 3)
    with pytest.raises(OSError, match="No space"):
        (small_disk / "ballast").write_bytes(b"x" * 1_000_000)
    with pytest.raises(OSError, match="No space"):
        (small_disk / "more").write_bytes(b"x")
    with JobFile.open(path, clock, read_only=True) as job:
        assert job.events() == events


LOOK = """
if os.name == "posix" and os.geteuid() == 0:
    os.setgroups([])
    os.setgid(65534)
    os.setuid(65534)
for read_only in (False, True):
    try:
        with JobFile.open(path, clock, read_only) as job:
            print(len(job.events()), flush=True)
    except StoreError as error:
        print(error, flush=True)
try:
    JobFile.create(path.with_name("new.rakejob"), {}, clock)
except StoreError as error:
    print(error, flush=True)
print(jobs_in(path.parent)[0].count, flush=True)
print(holder(path), flush=True)
"""


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that another user can reach, which pytest's own are not."""
    made = Path(tempfile.mkdtemp())
    made.chmod(0o755)
    yield made
    for found in (made, *made.iterdir()):
        found.chmod(0o755)
    shutil.rmtree(made)


def protect(path: Path) -> None:
    for found in path.parent.iterdir():
        found.chmod(0o444)
    path.parent.chmod(0o555)


@pytest.mark.skipif(os.name == "nt", reason="folders on Windows are not protected by their mode")
def test_that_a_protected_folder_is_told_and_its_job_can_be_read(
    open_folder: Path, clock: Clock, start: Start
) -> None:
    path = open_folder / "demo.rakejob"
    written(path, clock, 5)
    (path.with_name(f".{path.name}.lock")).unlink(missing_ok=True)
    protect(path)
    process = start(LOOK, path)
    assert read(process).startswith("Nothing can be written to")
    assert read(process) == "6"
    assert read(process).startswith("Nothing can be written to")
    assert read(process) == "6"
    assert read(process) == "None"
    assert sorted(found.name for found in open_folder.iterdir()) == [path.name]


@pytest.mark.skipif(os.name == "nt", reason="folders on Windows are not protected by their mode")
def test_that_a_killed_job_in_a_protected_folder_can_be_read_whole(
    open_folder: Path, clock: Clock, start: Start
) -> None:
    path = open_folder / "demo.rakejob"
    JobFile.create(path, {"note": "first"}, clock).close()
    writer = start(WRITE_ON, path)
    acknowledged = [read(writer) for _ in range(20)]
    writer.kill()
    writer.communicate()
    path.with_name(path.name + "-shm").unlink()  # as when the two files were copied to such a place
    protect(path)
    process = start(LOOK, path)
    assert read(process).startswith("Nothing can be written to")
    assert int(read(process)) > len(acknowledged)


@pytest.mark.skipif(os.name == "nt", reason="files on Windows are not protected by their mode")
def test_that_a_protected_file_in_an_open_folder_is_told(
    open_folder: Path, clock: Clock, start: Start
) -> None:
    path = open_folder / "demo.rakejob"
    written(path, clock, 5)
    path.chmod(0o444)
    path.with_name(f".{path.name}.lock").unlink(missing_ok=True)
    open_folder.chmod(0o777)
    process = start(LOOK, path)
    assert read(process).startswith("Nothing can be written to")
    assert read(process) == "6"
