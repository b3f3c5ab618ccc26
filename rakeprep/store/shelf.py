"""All jobs in a folder, at a glance."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from rakeprep.store import connect
from rakeprep.store.errors import StoreError, damaged, explained
from rakeprep.store.events import UNREADABLE, Stored, from_row
from rakeprep.text import Message, msg

COLUMNS = "seq, at, body, previous, hash"
# Bodies are canonical JSON: what a person types cannot hold this text, for its quotation marks are escaped.
RENAMING = " OR ".join(f"""body LIKE '%"is":"{kind}"%'""" for kind in ("name", "tractor", "chapter"))


@dataclass(frozen=True, slots=True)
class JobSummary:
    """One job in a list: its first entry with the names it has now, when it was last added to, how many
    entries it has.

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
        first, last, since = _read(path)
    except StoreError as error:
        return JobSummary(path, {}, "", 0, error.message)
    if first is None or last is None or UNREADABLE in first.body:
        return JobSummary(path, {}, "", 0, damaged(str(path)))
    return JobSummary(path, {**first.body, **_names(since)}, last.at, last.seq)


def _names(since: Iterable[Stored]) -> dict[str, object]:
    """What a job's customer, order and tractor became after it was opened."""
    found: dict[str, object] = {}
    for stored in since:
        body = stored.body
        match body.get("is"):
            case "name":
                found[str(body.get("of"))] = body.get("became")
            case "tractor":
                found["tractor_name"] = body.get("name")
            case "chapter":
                found |= {key: body[key] for key in ("customer", "tractor_name") if key in body}
    return found


def _read(path: Path) -> tuple[Stored | None, Stored | None, list[Stored]]:
    """The first and the last entry, and those after which a job has another name in it."""
    opened = connect.for_reading(path)
    try:
        rows = opened.connection.execute(f"SELECT {COLUMNS} FROM events WHERE {RENAMING} ORDER BY seq")
        return _one(opened, "ASC"), _one(opened, "DESC"), [from_row(row) for row in rows]
    except sqlite3.Error as error:
        raise explained(error, path) from error
    finally:
        opened.close()


def _one(opened: connect.Opened, order: str) -> Stored | None:
    row = opened.connection.execute(f"SELECT {COLUMNS} FROM events ORDER BY seq {order} LIMIT 1").fetchone()
    return None if row is None else from_row(row)
