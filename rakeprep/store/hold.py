"""Who has a job open for writing: a lock of the operating system, and a note that names the holder.

The lock is freed by the system however the process ends; the note is only believed while the lock is held.
"""

from __future__ import annotations

import datetime as dt
import getpass
import json
import os
import platform
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from filelock import BaseFileLock, FileLock, Timeout

from rakeprep.store.errors import StoreError, explained
from rakeprep.text import Message, msg

WAIT = 0.3  # seconds; longer than ``holder`` keeps the lock to look


@dataclass(frozen=True, slots=True)
class Holder:
    """The process that has a job open; all but ``pid`` 0 and empty texts if it left no readable note."""

    pid: int
    host: str
    user: str
    since: dt.datetime | None


@dataclass(frozen=True, slots=True)
class Hold:
    """The right to write into one job, until ``release``."""

    lock: BaseFileLock
    note: Path

    def release(self) -> None:
        """Give the right back."""
        with suppress(OSError):
            self.note.unlink(missing_ok=True)
        self.lock.release()


def take(path: Path, now: dt.datetime) -> Hold:
    """The right to write into the job at ``path``; StoreError naming who has it."""
    lock = _lock(path)
    try:
        lock.acquire(timeout=WAIT, poll_interval=0.02)
    except Timeout:
        raise StoreError(held(_read(path), now)) from None
    except OSError as error:
        raise explained(error, path) from error
    hold = Hold(lock, _note(path))
    with suppress(OSError):  # a full disk must not keep anyone from reading his job
        hold.note.write_text(_written(now), encoding="utf-8")
    return hold


def holder(path: Path) -> Holder | None:
    """Who has the job at ``path`` open for writing now; None if nobody."""
    path = path.resolve()
    if not _lock_path(path).exists():
        return None
    lock = _lock(path)
    try:
        lock.acquire(blocking=False)
    except Timeout:
        return _read(path)
    except OSError:
        return None
    lock.release()
    return None


def held(by: Holder, now: dt.datetime) -> Message:
    """The sentence for a second opener."""
    if by.since is None:
        return msg("This job is open in another window. Close it there, or open it here read-only.")
    since: object = by.since
    if by.since.date() == now.date():
        since = f"{by.since:%H:%M}"
    return msg(
        "This job is open in another window on {host} (process {pid}, since {since}). "
        "Close it there, or open it here read-only.",
        host=by.host,
        pid=by.pid,
        since=since,
    )


def _lock_path(path: Path) -> Path:
    return path.with_name(f".{path.name}.lock")


def _note(path: Path) -> Path:
    return path.with_name(f".{path.name}.holder")


def _lock(path: Path) -> BaseFileLock:
    return FileLock(_lock_path(path), thread_local=False)


def _written(now: dt.datetime) -> str:
    return json.dumps(
        {"pid": os.getpid(), "host": platform.node(), "user": _user(), "since": now.isoformat()},
        ensure_ascii=True,
    )


def _user() -> str:
    try:
        return getpass.getuser()
    except (ImportError, KeyError, OSError):
        return ""


def _read(path: Path) -> Holder:
    try:
        found = json.loads(_note(path).read_text(encoding="utf-8"))
        since = dt.datetime.fromisoformat(found["since"])
        return Holder(int(found["pid"]), str(found["host"]), str(found["user"]), since)
    except (OSError, ValueError, KeyError, TypeError):
        return Holder(0, "", "", None)
