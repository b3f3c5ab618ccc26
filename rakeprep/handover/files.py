"""Documents and papers as files: their names, and that each is there as a whole or not at all."""

from __future__ import annotations

import hashlib
import os
import tempfile
from contextlib import suppress
from pathlib import Path

from rakeprep.jobs.chapters import kind_of
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.model.chapter import FIRST, Chapter
from rakeprep.store.errors import NO_RIGHT, NO_SPACE
from rakeprep.text import Message, msg

LONGEST_NAME = 80  # characters of a file's name
TRIES = 1000


class HandoverError(Refused):
    """Why there is no document: one sentence that says what to do."""


def file_name(job: str, chapter: Chapter = FIRST) -> str:
    """A name that every file system takes; later chapters have their number in it."""
    safe = "".join(c if c.isalnum() or c in "-_" else "-" for c in job)[:LONGEST_NAME].strip("-")
    kind = kind_of(chapter).key if chapter.before is None else f"{chapter.number}-{kind_of(chapter).key}"
    return f"{kind}-{safe or 'job'}"


def stem_of(job: OpenJob) -> str:
    """The name of the document of a job's present chapter, without its ending."""
    return file_name(job.record.opening.job, job.record.chapter)


def waiting(job: OpenJob, folder: Path) -> Path:
    """Where the document of a job lies until the job is closed with it; nobody else has the job open."""
    return folder / f".{stem_of(job)}.part"


def put_down(path: Path, data: bytes) -> None:
    """Write a whole file to the disk; raises ``OSError``."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def named(part: Path, path: Path) -> Path:
    """Give a file that waits its name; raises ``HandoverError`` of a job that is closed already."""
    try:
        return renamed(part, path.parent, path.stem)
    except OSError as error:
        discard(part)
        raise HandoverError(
            msg(
                "The job is closed and has its document inside, but it could not be put into {folder}: "
                "{reason}. Write the document once more.",
                folder=str(path.parent),
                reason=error.strerror or str(error),
            )
        ) from error


def renamed(part: Path, folder: Path, stem: str, suffix: str = ".pdf") -> Path:
    """Give a file a name that no file has yet, on the disk too; raises ``OSError``."""
    target = free_name(folder, stem, suffix)
    part.replace(target)
    settle(folder)
    return target


def discard(path: Path) -> None:
    """Take a file away, if that is possible."""
    with suppress(OSError):
        path.unlink()


def sha256_of(path: Path) -> str:
    """The check sum of a file; empty for one that cannot be read."""
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return ""


def kept(folder: Path, stem: str, data: bytes, suffix: str = ".pdf") -> Path:
    """Write a file that is there as a whole or not at all, never over another one."""
    temporary: Path | None = None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=".handover-", suffix=".part", dir=folder)
        os.close(handle)
        temporary = Path(name)
        put_down(temporary, data)
        temporary.chmod(0o644)
        return renamed(temporary, folder, stem, suffix)
    except OSError as error:
        raise HandoverError(unwritable(error, folder)) from error
    finally:
        if temporary is not None:
            discard(temporary)  # where it still has its passing name


def free_name(folder: Path, stem: str, suffix: str = ".pdf") -> Path:
    """A name that no file has yet."""
    for number in range(1, TRIES):
        path = folder / (f"{stem}{suffix}" if number == 1 else f"{stem}-{number}{suffix}")
        if not path.exists():
            return path
    raise OSError("too many documents of one job")


def settle(folder: Path) -> None:
    """Let the folder itself reach the disk, where the system can do that."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def unwritable(error: OSError, folder: Path) -> Message:
    """The sentence for a document that cannot be written."""
    place = str(folder)
    if error.errno in NO_SPACE:
        return msg(
            "The disk is full, so the document is not in {folder}; free some space and hand over again.",
            folder=place,
        )
    if error.errno in NO_RIGHT:
        return msg(
            "Nothing can be written in {folder}; choose a folder of your own and hand over again.",
            folder=place,
        )
    reason = error.strerror or str(error)
    return msg(
        "The document cannot be written in {folder} because the system reports: {reason}. Choose another "
        "folder and hand over again.",
        folder=place,
        reason=reason,
    )
