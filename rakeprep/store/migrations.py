"""The tables of a job's file, and the steps that bring an older file to the present format.

The format is the number of steps taken. A step is never changed once a file with it is in use; a new
format is a new step at the end, with a sample file of the old format in the tests.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from contextlib import suppress

Step = Callable[[sqlite3.Connection], None]

APPLICATION_ID = 0x72616B65

VERSION_1 = (
    """CREATE TABLE events (
        seq INTEGER PRIMARY KEY,
        at TEXT NOT NULL,
        body TEXT NOT NULL,
        previous TEXT NOT NULL,
        hash TEXT NOT NULL
    ) STRICT""",
    """CREATE TABLE blobs (
        id INTEGER PRIMARY KEY,
        sha256 TEXT NOT NULL UNIQUE,
        kind TEXT NOT NULL,
        name TEXT NOT NULL,
        media_type TEXT NOT NULL,
        at TEXT NOT NULL,
        size INTEGER NOT NULL,
        data BLOB NOT NULL
    ) STRICT""",
    """CREATE TRIGGER events_stay BEFORE UPDATE ON events
        BEGIN SELECT RAISE(ABORT, 'entries are only added'); END""",
    """CREATE TRIGGER events_kept BEFORE DELETE ON events
        BEGIN SELECT RAISE(ABORT, 'entries are only added'); END""",
    """CREATE TRIGGER blobs_stay BEFORE UPDATE ON blobs
        BEGIN SELECT RAISE(ABORT, 'files are only added'); END""",
    """CREATE TRIGGER blobs_kept BEFORE DELETE ON blobs
        BEGIN SELECT RAISE(ABORT, 'files are only added'); END""",
    # These two also stop INSERT OR REPLACE, which would delete without calling the triggers above,
    # and a second program that appends with what it knew before.
    """CREATE TRIGGER events_follow BEFORE INSERT ON events
        WHEN NEW.seq <> (SELECT COALESCE(MAX(seq), 0) + 1 FROM events)
        OR NEW.previous <> COALESCE((SELECT hash FROM events ORDER BY seq DESC LIMIT 1), printf('%064d', 0))
        BEGIN SELECT RAISE(ABORT, 'the entry does not follow the last one'); END""",
    """CREATE TRIGGER blobs_once BEFORE INSERT ON blobs
        WHEN EXISTS (SELECT 1 FROM blobs WHERE sha256 = NEW.sha256 OR id = NEW.id)
        BEGIN SELECT RAISE(ABORT, 'this file is stored already'); END""",
)


def version_1(connection: sqlite3.Connection) -> None:
    """Entries, files beside them, and the rule that both are only ever added."""
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    for statement in VERSION_1:
        connection.execute(statement)


STEPS: tuple[Step, ...] = (version_1,)
FORMAT = len(STEPS)


def version(connection: sqlite3.Connection) -> int:
    """The format of an open file; 0 is a file without tables."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def bring_up(connection: sqlite3.Connection, steps: Sequence[Step] = STEPS) -> None:
    """Take the steps the file lacks, all or none. Its own transaction, unless one is open already."""
    start = version(connection)
    if start >= len(steps):
        return
    inside = connection.in_transaction
    if not inside:
        connection.execute("BEGIN IMMEDIATE")
    try:
        for step in steps[start:]:
            step(connection)
        connection.execute(f"PRAGMA user_version = {len(steps)}")
        if not inside:
            connection.execute("COMMIT")
    except BaseException:
        if not inside:
            with suppress(sqlite3.Error):
                connection.execute("ROLLBACK")
        raise
