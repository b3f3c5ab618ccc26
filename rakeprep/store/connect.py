"""Opening the database inside a job's file, for writing and for reading only."""

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from rakeprep.store import migrations
from rakeprep.store.errors import StoreError, cut_short, damaged, explained, not_a_job, primary
from rakeprep.text import msg

SUFFIX = ".rakejob"
PATIENCE = 5.0  # seconds to wait for a reader that stands in the way
WAL_KEPT = 4 * 2**20  # bytes; a photo may swell the side file, it shrinks back to this


@dataclass(frozen=True, slots=True)
class Opened:
    """An open database; ``copy`` is where it really lies if it had to be copied to be read."""

    connection: sqlite3.Connection
    copy: TemporaryDirectory[str] | None = None

    def close(self) -> None:
        """Close it and remove the copy."""
        self.connection.close()
        if self.copy is not None:
            self.copy.cleanup()


def check_place(path: Path) -> None:
    """StoreError if there is no file at ``path``. Looks at it without opening it: closing a second handle
    would drop the locks this process has on it (POSIX advisory locks)."""
    try:
        found = path.stat()
    except FileNotFoundError:
        check_folder(path)
        raise StoreError(
            msg("There is no job at {file}; it may have been moved or renamed.", file=str(path))
        ) from None
    except (OSError, ValueError) as error:
        raise explained(error, path) from error
    if stat.S_ISDIR(found.st_mode):
        raise StoreError(msg("{file} is a folder; choose a job inside it.", file=str(path)))
    if not stat.S_ISREG(found.st_mode):
        raise StoreError(not_a_job(str(path)))
    if found.st_size == 0:
        raise StoreError(cut_short(str(path)))


def check_folder(path: Path) -> None:
    """StoreError if the folder that should hold ``path`` does not exist."""
    if not path.parent.is_dir():
        raise StoreError(
            msg("There is no folder {folder}; make it or choose another one.", folder=str(path.parent))
        )


def for_writing(path: Path) -> Opened:
    """The database, each commit on the disk when it returns; StoreError otherwise."""
    connection = _connect(path, "rw")
    try:
        _identify(connection, path)
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("ROLLBACK")
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA fullfsync = ON")
        connection.execute(f"PRAGMA journal_size_limit = {WAL_KEPT}")
        migrations.bring_up(connection)
    except (sqlite3.Error, StoreError) as error:
        connection.close()
        raise explained(error, path) from error
    return Opened(connection)


def for_reading(path: Path) -> Opened:
    """The database, never written to; another process may be writing. StoreError otherwise.

    A file left by a killed program in a folder that cannot be written, or one of an older format,
    is read from a copy.
    """
    try:
        connection = _connect(path, "ro")
        try:
            _identify(connection, path)
            if migrations.version(connection) == migrations.FORMAT:
                return Opened(connection)
        except BaseException:
            connection.close()
            raise
        connection.close()
    except sqlite3.Error as error:
        if primary(error) not in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY):
            raise explained(error, path) from error
    return _from_copy(path)


def settle(connection: sqlite3.Connection) -> None:
    """Fold the side files into the one file, so that a closed job can be copied or read anywhere."""
    with suppress(sqlite3.Error):  # someone is reading: the next to open it will do it
        connection.execute("PRAGMA busy_timeout = 0")
        connection.execute("PRAGMA journal_mode = DELETE")


def make(path: Path) -> sqlite3.Connection:
    """A new database without tables at ``path``, still with a journal that leaves one file."""
    connection = _connect(path, "rwc")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA fullfsync = ON")
    return connection


def to_disk(path: Path) -> None:
    """Make a name in a folder outlast a power cut, where the system offers it."""
    if os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        with suppress(OSError):
            os.fsync(handle)
    finally:
        os.close(handle)


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    connection = sqlite3.connect(_address(path, mode), timeout=PATIENCE, isolation_level=None, uri=True)
    connection.text_factory = _lenient
    try:
        connection.execute("PRAGMA trusted_schema = OFF")
        connection.execute("PRAGMA cell_size_check = ON")
        connection.execute("PRAGMA recursive_triggers = ON")
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def _address(path: Path, mode: str) -> str:
    """The path as SQLite wants it: ``/folder/job``, ``/C:/folder/job``, ``////server/share/job``."""
    name = path.as_posix().replace("%", "%25").replace("?", "%3f").replace("#", "%23")
    front = "//" if name.startswith("//") else "" if name.startswith("/") else "/"
    return f"file:{front}{name}?mode={mode}"


def _lenient(data: bytes) -> str:
    return data.decode("utf-8", "replace")


def _identify(connection: sqlite3.Connection, path: Path) -> None:
    """StoreError unless this is a whole job of a format known here."""
    if connection.execute("PRAGMA application_id").fetchone()[0] != migrations.APPLICATION_ID:
        raise StoreError(not_a_job(str(path)))
    found = migrations.version(connection)
    if found > migrations.FORMAT:
        raise StoreError(
            msg(
                "The job {file} was written by a newer edition of this program (format {found}, this one "
                "knows up to {known}); open it with that edition.",
                file=str(path),
                found=found,
                known=migrations.FORMAT,
            )
        )
    if found < 1:
        raise StoreError(damaged(str(path)))
    _check_length(connection, path)


def _check_length(connection: sqlite3.Connection, path: Path) -> None:
    side = path.with_name(path.name + "-wal")
    if side.exists() and side.stat().st_size:
        return  # the side file may hold pages the main file does not have yet
    pages = int(connection.execute("PRAGMA page_count").fetchone()[0])
    size = int(connection.execute("PRAGMA page_size").fetchone()[0])
    if path.stat().st_size < pages * size:
        raise StoreError(cut_short(str(path)))


def _from_copy(path: Path) -> Opened:
    copy = TemporaryDirectory(prefix="rakeprep-", ignore_cleanup_errors=True)
    try:
        there = Path(copy.name) / "job"
        shutil.copyfile(path, there)
        side = path.with_name(path.name + "-wal")
        if side.exists():
            shutil.copyfile(side, there.with_name("job-wal"))
        connection = _connect(there, "rw")
        try:
            _identify(connection, there)
            migrations.bring_up(connection)
            connection.execute("PRAGMA query_only = ON")
        except BaseException:
            connection.close()
            raise
    except (OSError, sqlite3.Error, StoreError) as error:
        copy.cleanup()
        raise explained(error, path) from error
    return Opened(connection, copy)
