"""One job's file, open: add an entry, add a file, read them all."""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import sqlite3
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import NamedTuple

from rakeprep.store import connect, migrations
from rakeprep.store.canonical import canonical, parse
from rakeprep.store.chain import GENESIS, check_chain, fingerprint
from rakeprep.store.connect import SUFFIX, Opened
from rakeprep.store.errors import StoreError, damaged, explained
from rakeprep.store.events import Stored, from_row
from rakeprep.store.hold import Hold, Holder, holder, take
from rakeprep.store.shelf import JobSummary, jobs_in
from rakeprep.text import Message, msg

__all__ = ["SUFFIX", "BlobInfo", "Holder", "JobFile", "JobSummary", "StoreError", "holder", "jobs_in"]

Clock = Callable[[], dt.datetime]
LARGEST_BODY = 1_000_000  # bytes
LARGEST_BLOB = 100_000_000  # bytes
ORIGIN = "origin"  # the kind of the document from which a job was made anew


class BlobInfo(NamedTuple):
    """A photo or sealed document inside the job, without its bytes."""

    sha256: str
    kind: str
    name: str
    media_type: str
    size: int


class JobFile:
    """One job, open. Use it as a context manager, or call ``close``; from one thread only.

    ``problem`` says where the chain is broken; only a job opened read-only can have one. ``restored`` is
    true for a job made anew from its document, which is only for reading.
    """

    def __init__(self, path: Path, clock: Clock, opened: Opened, hold: Hold | None) -> None:
        self.path = path
        self.problem: Message | None = None
        self.restored = False
        self._clock = clock
        self._opened: Opened | None = opened
        self._hold = hold
        self._events: list[Stored] = []
        self._unsure = True
        self._identity = _identity(path)

    @classmethod
    def create(cls, path: Path, first: Mapping[str, object], clock: Clock) -> JobFile:
        """A new job whose entry 1 is ``first``, on the disk when this returns. StoreError if it cannot be
        made, also if there is a file of that name."""
        path = _resolved(path)
        connect.check_folder(path)
        hold = take(path, _now(clock))
        try:
            _build(path, [_next(None, _now(clock), _fit(first))])
            return cls._started(path, clock, connect.for_writing(path), hold)
        except BaseException:
            hold.release()
            raise

    @classmethod
    def restore(
        cls, path: Path, events: Sequence[Stored], name: str, document: bytes, clock: Clock
    ) -> JobFile:
        """A job made anew from the entries inside its document, for reading only; ``restored`` tells so.

        The document ``name`` is kept in it. StoreError if it cannot be made or the chain is broken.
        """
        problem = check_chain(events) if events else damaged(str(path))
        if problem is not None:
            raise StoreError(problem)
        path = _resolved(path)
        connect.check_folder(path)
        found = hashlib.sha256(document).hexdigest()
        origin = BlobInfo(found, ORIGIN, name, "application/pdf", len(document))
        _build(path, events, lambda connection: _insert_blob(connection, origin, document, clock))
        return cls.open(path, clock, read_only=True)

    @classmethod
    def open(cls, path: Path, clock: Clock, read_only: bool = False) -> JobFile:
        """The job at ``path``; StoreError if it cannot be used. Read-only needs no lock and accepts a broken
        chain, which ``problem`` then tells."""
        path = _resolved(path)
        connect.check_place(path)
        if read_only:
            return cls._started(path, clock, connect.for_reading(path), None)
        hold = take(path, _now(clock))
        try:
            return cls._started(path, clock, connect.for_writing(path), hold)
        except BaseException:
            hold.release()
            raise

    @classmethod
    def _started(cls, path: Path, clock: Clock, opened: Opened, hold: Hold | None) -> JobFile:
        try:
            job = cls(path, clock, opened, hold)
            job._check()
        except BaseException as error:
            opened.close()
            if isinstance(error, (sqlite3.Error, OSError)):
                raise explained(error, path) from error
            raise
        return job

    def _check(self) -> None:
        events = self.events()
        self.problem = check_chain(events) if events else damaged(str(self.path))
        self.restored = any(blob.kind == ORIGIN for blob in self.blobs())
        if self.problem is not None and self._hold is not None:
            raise StoreError(
                msg(
                    "{problem} Open {file} read-only to look at it; nothing can be added to it.",
                    problem=self.problem,
                    file=str(self.path),
                )
            )

    @property
    def read_only(self) -> bool:
        """Whether this job was opened only to look at."""
        return self._hold is None

    @property
    def head(self) -> str:
        """The hash of the last entry."""
        events = self.events()
        return events[-1].hash if events else GENESIS

    def events(self) -> tuple[Stored, ...]:
        """All entries in the order they were stored; a read-only job sees those another process adds."""
        if self._unsure or self.read_only:
            self._catch_up()
        return tuple(self._events)

    def append(self, body: Mapping[str, object]) -> Stored:
        """Store one entry. It is on the disk when this returns; after a StoreError nothing was added.

        TypeError if ``body`` holds a float or another thing without an exact form: keep it as text.
        """
        text = _fit(body)
        with self._writing() as connection:
            last = self._events[-1] if self._events else None
            stored = _next(last, _now(self._clock), text)
            _insert(connection, stored, text)
        self._events.append(stored)
        self._unsure = False
        return stored

    def add_blob(self, kind: str, name: str, media_type: str, data: bytes) -> str:
        """Store a photo or document and give its SHA-256, by which an entry should name it. The same bytes
        are kept once, under the name they had first. StoreError if it cannot be stored."""
        if len(data) > LARGEST_BLOB:
            raise StoreError(
                msg(
                    "{name} is larger than {limit} MB; make it smaller and add it again.",
                    name=name,
                    limit=LARGEST_BLOB // 1_000_000,
                )
            )
        found = hashlib.sha256(data).hexdigest()
        with self._writing() as connection:
            if connection.execute("SELECT 1 FROM blobs WHERE sha256 = ?", (found,)).fetchone() is None:
                _insert_blob(
                    connection, BlobInfo(found, kind, name, media_type, len(data)), data, self._clock
                )
        self._unsure = False
        return found

    def blobs(self) -> list[BlobInfo]:
        """All photos and documents, in the order they were added."""
        with self._reading() as connection:
            rows = connection.execute("SELECT sha256, kind, name, media_type, size FROM blobs ORDER BY id")
            return [BlobInfo(str(a), str(b), str(c), str(d), int(e)) for a, b, c, d, e in rows]

    def blob(self, sha256: str) -> bytes:
        """The bytes with this SHA-256; KeyError if there are none, StoreError if they were changed."""
        with self._reading() as connection:
            row = connection.execute("SELECT data, name FROM blobs WHERE sha256 = ?", (sha256,)).fetchone()
        if row is None:
            raise KeyError(sha256)
        data = row[0] if isinstance(row[0], bytes) else b""
        if hashlib.sha256(data).hexdigest() != sha256:
            raise StoreError(
                msg(
                    "{name} inside {file} was changed after it was stored; take it from an earlier copy of "
                    "the job.",
                    name=str(row[1]),
                    file=str(self.path),
                )
            )
        return data

    def close(self) -> None:
        """Close the file and let others write to it; does nothing the second time."""
        opened, self._opened = self._opened, None
        if opened is None:
            return
        try:
            if self._hold is not None:
                connect.settle(opened.connection)
            opened.close()
        finally:
            if self._hold is not None:
                self._hold.release()

    def __enter__(self) -> JobFile:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _open_connection(self) -> sqlite3.Connection:
        if self._opened is None:
            raise StoreError(msg("The job {file} has been closed; open it again.", file=str(self.path)))
        return self._opened.connection

    def _catch_up(self) -> None:
        last = self._events[-1].seq if self._events else 0
        with self._reading() as connection:
            rows = connection.execute(
                "SELECT seq, at, body, previous, hash FROM events WHERE seq > ? ORDER BY seq", (last,)
            ).fetchall()
        self._events.extend(from_row(row) for row in rows)
        self._unsure = False

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection]:
        connection = self._open_connection()
        try:
            yield connection
        except sqlite3.Error as error:
            raise explained(error, self.path) from error

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction: all of it on the disk, or none of it. The caller clears ``_unsure`` once its
        own list agrees with the file, so that an interruption in between is noticed."""
        connection = self._open_connection()
        if self._hold is None:
            raise StoreError(
                msg("The job {file} is open read-only; open it for work to add to it.", file=str(self.path))
            )
        self._check_still_there()
        if self._unsure:
            self._catch_up()
        self._unsure = True
        try:
            connection.execute("BEGIN IMMEDIATE")
            yield connection
            connection.execute("COMMIT")
        except BaseException as error:
            with suppress(sqlite3.Error):
                connection.execute("ROLLBACK")
            if isinstance(error, (sqlite3.Error, OSError)):
                raise explained(error, self.path) from error
            raise

    def _check_still_there(self) -> None:
        # A file deleted under an open handle takes writes without complaint and keeps none of them.
        if _identity(self.path) != self._identity:
            raise StoreError(
                msg(
                    "{file} was moved, deleted or replaced while it was open, so nothing was stored; put it "
                    "back and open it again.",
                    file=str(self.path),
                )
            )


def _build(
    path: Path, events: Sequence[Stored], then: Callable[[sqlite3.Connection], object] | None = None
) -> None:
    """Make the whole file beside its place, then give it its name: no half-made job is ever seen."""
    texts = [_fit(stored.body) for stored in events]
    if path.exists():
        raise StoreError(msg("There is already a job at {file}; choose another name.", file=str(path)))
    part = path.with_name(path.name + ".part")
    try:
        part.unlink(missing_ok=True)
        connection = connect.make(part)
        try:
            connection.execute("BEGIN IMMEDIATE")
            migrations.bring_up(connection)
            for stored, text in zip(events, texts, strict=True):
                _insert(connection, stored, text)
            if then is not None:
                then(connection)
            connection.execute("COMMIT")
        finally:
            connection.close()
        os.replace(part, path)
        connect.to_disk(path.parent)
    except (sqlite3.Error, OSError) as error:
        for left in (part, part.with_name(part.name + "-journal")):
            with suppress(OSError):
                left.unlink(missing_ok=True)
        raise explained(error, path) from error


def _insert_blob(connection: sqlite3.Connection, about: BlobInfo, data: bytes, clock: Clock) -> None:
    texts = (_clean(about.kind), _clean(about.name), _clean(about.media_type))
    at = _now(clock).isoformat(timespec="microseconds")
    connection.execute(
        "INSERT INTO blobs (sha256, kind, name, media_type, at, size, data) VALUES (?, ?, ?, ?, ?, ?, ?)",
        (about.sha256, *texts, at, about.size, data),
    )


def _next(last: Stored | None, now: dt.datetime, text: bytes) -> Stored:
    seq, previous = (last.seq + 1, last.hash) if last is not None else (1, GENESIS)
    at = now.isoformat(timespec="microseconds")
    body = parse(text)
    return Stored(seq, at, body, previous, fingerprint(previous, seq, at, body))


def _insert(connection: sqlite3.Connection, stored: Stored, text: bytes) -> None:
    connection.execute(
        "INSERT INTO events (seq, at, body, previous, hash) VALUES (?, ?, ?, ?, ?)",
        (stored.seq, stored.at, text.decode("utf-8"), stored.previous, stored.hash),
    )


def _fit(body: Mapping[str, object]) -> bytes:
    try:
        text = canonical(body)
    except ValueError as error:
        raise StoreError(
            msg(
                "This entry cannot be stored because it holds a character or number that no file can keep; "
                "type it again without it."
            )
        ) from error
    if len(text) > LARGEST_BODY:
        raise StoreError(
            msg(
                "This entry is longer than {limit} million characters; shorten it, or add a long text as "
                "a file.",
                limit=1,
            )
        )
    return text


def _clean(text: str) -> str:
    """Text that UTF-8 can hold; names of files may hold bytes that are none."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _now(clock: Clock) -> dt.datetime:
    now = clock()
    if now.utcoffset() is None:
        raise ValueError("the clock must give an offset from UTC")
    return now


def _resolved(path: Path) -> Path:
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise explained(error, path) from error


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
