"""Files of an older format are brought up in one go, or left as they were."""

from __future__ import annotations

import datetime as dt
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from rakeprep.store import migrations
from rakeprep.store.chain import check_chain
from rakeprep.store.job_file import JobFile

Clock = Callable[[], dt.datetime]


def add_label(connection: sqlite3.Connection) -> None:
    connection.execute("ALTER TABLE blobs ADD COLUMN label TEXT NOT NULL DEFAULT ''")


def fail(connection: sqlite3.Connection) -> None:
    connection.execute("CREATE TABLE half (a)")
    raise sqlite3.OperationalError("stopped half-way")


LATER = (migrations.version_1, add_label)


@pytest.fixture
def old(path: Path, clock: Clock) -> Path:
    with JobFile.create(path, {"note": "first"}, clock) as job:
        job.append({"note": "second"})
    return path


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch, old: Path) -> Path:
    """A file of today seen by an edition with one format more."""
    monkeypatch.setattr(migrations, "STEPS", LATER)
    monkeypatch.setattr(migrations, "FORMAT", len(LATER))
    bring_up = migrations.bring_up
    monkeypatch.setattr(migrations, "bring_up", lambda connection: bring_up(connection, LATER))
    return old


def test_that_every_step_counts_one_format() -> None:
    connection = sqlite3.connect(":memory:", isolation_level=None)
    migrations.bring_up(connection)
    assert migrations.version(connection) == migrations.FORMAT == len(migrations.STEPS)
    migrations.bring_up(connection)
    connection.close()


def test_that_an_older_file_is_brought_up_when_opened_for_work(later: Path, clock: Clock) -> None:
    with JobFile.open(later, clock) as job:
        assert job.append({"note": "third"}).seq == 3
        assert check_chain(job.events()) is None
    connection = sqlite3.connect(later)
    assert migrations.version(connection) == 2
    connection.execute("SELECT label FROM blobs")
    connection.close()


def test_that_an_older_file_is_read_without_being_changed(later: Path, clock: Clock) -> None:
    before = later.read_bytes()
    with JobFile.open(later, clock, read_only=True) as job:
        assert len(job.events()) == 2
        job._open_connection().execute("SELECT label FROM blobs")
    assert later.read_bytes() == before


def test_that_a_step_that_fails_leaves_the_file_as_it_was(old: Path) -> None:
    connection = sqlite3.connect(old, isolation_level=None)
    with pytest.raises(sqlite3.OperationalError, match="half-way"):
        migrations.bring_up(connection, (migrations.version_1, add_label, fail))
    assert migrations.version(connection) == 1
    names = {row[0] for row in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    assert names == {"events", "blobs"}
    connection.close()
