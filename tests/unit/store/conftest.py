from __future__ import annotations

import datetime as dt
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from rakeprep.store.job_file import JobFile

ROOT = Path(__file__).resolve().parents[3]
START = dt.datetime(2031, 3, 4, 9, 41, tzinfo=dt.timezone(dt.timedelta(hours=1)))

CLOCK_SOURCE = """
import datetime as dt, os, sys
from pathlib import Path
from rakeprep.store.job_file import JobFile, StoreError, holder, jobs_in
path = Path(sys.argv[1])
def clock():
    return dt.datetime(2031, 3, 4, 9, 41, tzinfo=dt.timezone(dt.timedelta(hours=1)))
"""


class Ticking:
    """A clock that moves on by one second whenever it is asked."""

    def __init__(self) -> None:
        self.now = START

    def __call__(self) -> dt.datetime:
        self.now += dt.timedelta(seconds=1)
        return self.now


Start = Callable[..., "subprocess.Popen[str]"]


@pytest.fixture
def clock() -> Ticking:
    return Ticking()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "demo.rakejob"


@pytest.fixture
def job(path: Path, clock: Ticking) -> Iterator[JobFile]:
    with JobFile.create(path, {"kind": "opened"}, clock) as made:
        yield made


@pytest.fixture
def start() -> Iterator[Start]:
    """Start another process that runs the given lines with ``path`` and ``clock`` at hand."""
    running: list[subprocess.Popen[str]] = []

    def begin(source: str, path: Path) -> subprocess.Popen[str]:
        process = subprocess.Popen(
            [sys.executable, "-c", CLOCK_SOURCE + source, str(path)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        running.append(process)
        return process

    yield begin
    for process in running:
        process.kill()
        process.communicate()
