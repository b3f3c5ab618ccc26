"""All jobs in a folder, at a glance."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from rakeprep.store import connect
from rakeprep.store.errors import StoreError, damaged, explained
from rakeprep.store.events import UNREADABLE, Stored, from_row
from rakeprep.text import Message, msg

COLUMNS = "seq, at, body, previous, hash"


@dataclass(frozen=True, slots=True)
class JobSummary:
    """One job in a list: its first entry, when it was last added to, how many entries it has.

    ``problem`` says why the rest is empty. The chain is not checked here; opening the job does that.
    """

    path: Path
    first: Mapping[str, object]
    last_at: str
    count: int
    problem: Message | None = None


def jobs_in(folder: Path) -> list[JobSummary]:
    """Every job in ``folder``, by name, also those open elsewhere; StoreError if there is no such folder."""
    try:
        paths = sorted(path for path in folder.iterdir() if _is_job(path))
    except (FileNotFoundError, NotADirectoryError):
        raise StoreError(
            msg("There is no folder {folder}; make it or choose another one.", folder=str(folder))
        ) from None
    except OSError as error:
        raise explained(error, folder) from error
    return [_summary(path) for path in paths]


def _is_job(path: Path) -> bool:
    return path.suffix == connect.SUFFIX and not path.name.startswith(".")


def _summary(path: Path) -> JobSummary:
    try:
        connect.check_place(path)
        first, last = _ends(path)
    except StoreError as error:
        return JobSummary(path, {}, "", 0, error.message)
    if first is None or last is None or UNREADABLE in first.body:
        return JobSummary(path, {}, "", 0, damaged(str(path)))
    return JobSummary(path, first.body, last.at, last.seq)


def _ends(path: Path) -> tuple[Stored | None, Stored | None]:
    opened = connect.for_reading(path)
    try:
        return _one(opened, "ASC"), _one(opened, "DESC")
    except sqlite3.Error as error:
        raise explained(error, path) from error
    finally:
        opened.close()


def _one(opened: connect.Opened, order: str) -> Stored | None:
    row = opened.connection.execute(f"SELECT {COLUMNS} FROM events ORDER BY seq {order} LIMIT 1").fetchone()
    return None if row is None else from_row(row)
