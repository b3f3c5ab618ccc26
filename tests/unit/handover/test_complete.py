"""The last act: refusals, a verified document, and nothing half-written when something fails."""

from __future__ import annotations

import datetime as dt
import errno
import hashlib
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NoReturn

import pikepdf
import pytest

from rakeprep import paths
from rakeprep.handover import complete, files
from rakeprep.handover.complete import hand_over, keep, written_again
from rakeprep.handover.files import HandoverError, file_name
from rakeprep.handover.keys import Seal
from rakeprep.handover.verify import Outcome, Report, verify
from rakeprep.jobs import open_job
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.starting import new_job
from rakeprep.model.field import Ask
from rakeprep.model.job import Stroke
from rakeprep.steps import handover, tyres
from rakeprep.store.job_file import JobFile
from rakeprep.text import ENGLISH, Message

STROKE = (Stroke(((0.0, 0.0, 0.0, 0.5), (12.0, 6.0, 0.2, 0.5), (20.0, 1.0, 0.4, 0.5))),)
ANSWERS = {"temperature": "18 °C", "pressure": "2.0 bar", "running time": "6 h"}


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A job of two steps in which everything is answered or left open, not signed yet."""
    samples = paths.sample_profiles()
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(open_job, "all_steps", lambda: (tyres.STEP, handover.STEP))
        with new_job(
            tmp_path_factory.mktemp("jobs"),
            sorted((samples / "machines").glob("*.toml"))[0],
            sorted((samples / "tractors").glob("*.toml"))[0],
            customer="Customer One",
            order="Order/1 <b>",
            technician="Technician One",
            clock=ticking(),
        ) as opened:
            fill(opened)
            path = opened.file.path
        yield path


@pytest.fixture
def job(filled: Path, tmp_path: Path) -> Iterator[OpenJob]:
    """A copy of that job, open."""
    copy = tmp_path / filled.name
    shutil.copy(filled, copy)
    with OpenJob.resume(copy, ticking(hour=11)) as opened:
        yield opened


def ticking(hour: int = 9) -> Callable[[], dt.datetime]:
    """A clock that moves on by a second each time it is looked at, from the day after the seal was made."""
    now = [dt.datetime(2026, 4, 14, hour, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))]

    def clock() -> dt.datetime:
        now[0] += dt.timedelta(seconds=1)
        return now[0]

    return clock


def fill(job: OpenJob) -> None:
    """Answer every question; what is wrong then is left as an open point."""
    for step in ("tyres", "handover"):
        job.read_caution(step, "Technician One")
    for slot, state in list(job.assessment.states.items()):
        field = state.task.field
        match field.ask:
            case Ask.QUANTITY:
                assert field.kind is not None
                typed = ANSWERS[field.kind.value]
                if slot.field == "pressure_set":
                    wheel = next(w for w in job.profile.wheel if w.key == slot.place)
                    typed = job.profile.tyre_of(wheel).pressure.typed.text
            case Ask.CHOICE | Ask.MANY:
                typed = field.options[0].key
            case Ask.DATE:
                typed = "2026-04-14"
            case Ask.PHOTO:
                continue
            case _:
                typed = "done" if field.ask is Ask.DONE else "CO"
        job.commit(slot, typed, "Technician One")
        if field.two_people:
            job.confirm(slot, "Technician Two")
    for obstacle in list(job.assessment.gate.obstacles):
        job.leave(obstacle.slot, "part ordered", "Technician One", "2 May 2026")


def sign(job: OpenJob) -> None:
    """All three sign."""
    job.sign("technician", "Technician One", STROKE)
    job.sign("checker", "Technician Two", STROKE)
    job.sign("customer", "Customer One", typed=True)


def done(job: OpenJob, workshop: Seal, folder: Path) -> Path:
    """Hand over without listening to the progress."""
    return hand_over(job, workshop, folder, {"en": ENGLISH}, lambda message: None)


def left_in(folder: Path) -> list[str]:
    """What lies in a folder, hidden files too."""
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


def test_that_an_unsigned_job_is_refused_by_name(job: OpenJob, workshop: Seal, tmp_path: Path) -> None:
    job.sign("technician", "Technician One", STROKE)
    with pytest.raises(HandoverError) as refusal:
        done(job, workshop, tmp_path / "out")
    assert "Second checker, Customer" in str(refusal.value)
    assert left_in(tmp_path / "out") == []


def test_that_a_job_with_an_obstacle_is_refused_with_the_obstacle(
    job: OpenJob, workshop: Seal, tmp_path: Path
) -> None:
    sign(job)
    slot = next(s for s in job.assessment.states if s.field == "pressure_set")
    job.commit(slot, "9 bar", "Technician One")
    with pytest.raises(HandoverError, match=r"Not ready: .*9\.00 bar is wrong"):
        done(job, workshop, tmp_path / "out")


def test_that_a_signed_job_becomes_a_document_that_verifies(
    job: OpenJob, workshop: Seal, tmp_path: Path
) -> None:
    sign(job)
    said: list[Message] = []
    path = hand_over(job, workshop, tmp_path / "out", {"en": ENGLISH}, said.append)
    assert left_in(tmp_path / "out") == [path.name]
    report = verify(path.read_bytes(), [workshop.root])
    assert report.outcome is Outcome.VERIFIED, report.lines()
    assert job.record.sealed is not None
    assert job.record.sealed.name == path.name
    assert any(path.name in str(message) for message in said)
    stored = next(blob for blob in job.file.blobs() if blob.kind == "document")
    assert stored.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    with pikepdf.open(path) as pdf:
        assert set(pdf.attachments) == {
            "entries.jsonl",
            "findings.json",
            "machine.toml",
            "tractor.toml",
            "visits.ics",
        }


def test_that_a_closed_job_takes_no_second_document(job: OpenJob, workshop: Seal, tmp_path: Path) -> None:
    sign(job)
    done(job, workshop, tmp_path / "out")
    before = left_in(tmp_path / "out")
    with pytest.raises(HandoverError, match="handed over already"):
        done(job, workshop, tmp_path / "out")
    assert left_in(tmp_path / "out") == before


def test_that_another_file_of_that_name_stays(job: OpenJob, workshop: Seal, tmp_path: Path) -> None:
    sign(job)
    out = tmp_path / "out"
    out.mkdir()
    other = out / f"{file_name(job.record.opening.job)}.pdf"
    other.write_bytes(b"mine")
    path = done(job, workshop, out)
    assert path != other
    assert other.read_bytes() == b"mine"


def test_that_the_document_before_signing_is_the_same_each_time(job: OpenJob) -> None:
    sign(job)
    first, second = (
        complete.unsealed(complete.draft(job, {"en": ENGLISH}), "Invented Workshop") for _ in range(2)
    )
    assert first == second


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (errno.ENOSPC, "disk is full"),
        (errno.EACCES, "choose a folder of your own"),
        (errno.EROFS, "cannot|Nothing"),
        (errno.EIO, "reports"),
    ],
)
def test_that_a_failing_disk_leaves_nothing_behind(
    number: int, says: str, job: OpenJob, workshop: Seal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sign(job)
    out = tmp_path / "out"

    def failing(*args: object) -> NoReturn:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as patched:
        patched.setattr(files.os, "fsync", failing)
        with pytest.raises(HandoverError, match=says):
            done(job, workshop, out)
    assert left_in(out) == []
    assert job.record.sealed is None
    done(job, workshop, out)


class PowerCut(BaseException):
    """The computer stops here; nothing is tidied up."""


def cut(*args: object, **kw: object) -> NoReturn:
    raise PowerCut


POINTS = {  # every place between the finished bytes and the end
    "before the file is on the disk": (files.os, "fsync"),
    "before the job has the document": (JobFile, "add_blob"),
    "before the job is closed": (JobFile, "append"),
    "before the file has its name": (Path, "replace"),
    "before the folder is on the disk": (files, "settle"),
}


@pytest.mark.parametrize("point", POINTS)
def test_that_a_power_cut_leaves_one_document_of_a_closed_job(
    point: str, job: OpenJob, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out, path = tmp_path / "out", job.file.path
    with monkeypatch.context() as patched:
        patched.setattr(*POINTS[point], cut)
        patched.setattr(Path, "unlink", cut)
        with pytest.raises(PowerCut):
            keep(job, b"%PDF-1.7 first", out)
    job.close()
    with OpenJob.resume(path, ticking(hour=12)) as again:
        closed = again.record.sealed is not None
        assert closed == (point in list(POINTS)[3:])
        shown = [name for name in left_in(out) if not name.startswith(".")]
        assert shown == ([f"{file_name(again.record.opening.job)}.pdf"] if point == list(POINTS)[-1] else [])
        if not closed:
            keep(again, b"%PDF-1.7 second", out)
        elif not shown:
            assert complete.finished(again, out) == out / f"{file_name(again.record.opening.job)}.pdf"
        assert complete.finished(again, out) is None
        (document,) = out.iterdir()
        assert document.read_bytes() == (b"%PDF-1.7 first" if closed else b"%PDF-1.7 second")
        assert again.record.sealed is not None
        assert again.record.sealed.sha256 == hashlib.sha256(document.read_bytes()).hexdigest()


def test_that_a_document_that_got_lost_is_written_again_as_it_was(job: OpenJob, tmp_path: Path) -> None:
    out = tmp_path / "out"
    with pytest.raises(HandoverError, match="no document"):
        written_again(job, out)
    path = keep(job, b"%PDF-1.7 stand-in", out)
    assert written_again(job, out) == (path,)
    path.write_bytes(b"mine")
    (again,) = written_again(job, out)
    assert (path.read_bytes(), again.read_bytes()) == (b"mine", b"%PDF-1.7 stand-in")
    path.unlink()
    assert written_again(job, out) == (path,)


def test_that_a_document_that_cannot_get_its_name_stays_in_the_closed_job(
    job: OpenJob, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        patched.setattr(files, "free_name", lambda *a: (_ for _ in ()).throw(OSError(errno.EIO, "gone")))
        with pytest.raises(HandoverError, match="has its document inside"):
            keep(job, b"%PDF-1.7 stand-in", tmp_path / "out")
    assert left_in(tmp_path / "out") == []
    (path,) = written_again(job, tmp_path / "out")
    assert path.read_bytes() == b"%PDF-1.7 stand-in"


def test_that_a_document_that_fails_its_own_check_is_not_kept(
    job: OpenJob, workshop: Seal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sign(job)
    monkeypatch.setattr(complete, "verify", lambda *a, **k: Report(Outcome.NOT_VERIFIED, ()))
    with pytest.raises(HandoverError, match="did not pass its own check"):
        done(job, workshop, tmp_path / "out")
    assert left_in(tmp_path / "out") == []
    assert job.record.sealed is None


def test_that_a_jobs_name_makes_a_name_for_every_file_system() -> None:
    assert file_name("2026/014: a<b") == "handover-2026-014--a-b"
    assert file_name("///") == "handover-job"
    assert len(file_name("x" * 500)) < 100
