"""What every entry costs: reading what was typed, and putting it on the disk."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from rakeprep.store.canonical import canonical
from rakeprep.store.job_file import JobFile
from rakeprep.units import EntryError, Kind, parse

pytestmark = pytest.mark.bench
Timer = Callable[[Callable[[], object]], float]
TYPED = ("12.5 mm", "1 3/8 in", "5 ft 6 in", "12,5", "0.35 m")
BODY = {"is": "entered", "slot": "levelling.clearance@left-12", "typed": "12.5", "unit": "mm", "who": "T"}


def test_that_reading_a_typed_value_costs_few_floats(timed: Timer, compare: Callable[..., float]) -> None:
    numbers = ("12.5", "1.375", "5.5", "12.5", "0.35")

    def floats() -> None:
        for _ in range(400):
            for text in numbers:
                float(text)

    def read() -> None:
        for _ in range(20):
            for text in TYPED:
                parse(text, Kind.LENGTH, "mm")

    ratio = compare("reading a value (20 against 400 floats)", lambda: timed(floats), lambda: timed(read), 15)
    assert ratio * 20 < 250  # one value beside one float; measured 65


def test_that_endless_text_is_refused_as_quickly_as_a_value_is_read(
    timed: Timer, compare: Callable[..., float]
) -> None:
    endless = ["9" * 100_000, "1 " * 50_000, "½" * 100_000, "mm" * 50_000]

    def refuse() -> None:
        for text in endless:
            with pytest.raises(EntryError):
                parse(text, Kind.LENGTH, "mm")

    def read() -> None:
        for _ in range(20):
            for text in TYPED:
                parse(text, Kind.LENGTH, "mm")

    ratio = compare("refusing endless text", lambda: timed(read), lambda: timed(refuse), 9)
    assert ratio < 1  # four refusals beside a hundred readings; measured 0.03


@pytest.fixture
def file(tmp_path: Path, ticking: Callable[[], object]) -> Iterator[JobFile]:
    with JobFile.create(tmp_path / "bench.rakejob", BODY, ticking) as made:  # type: ignore[arg-type]
        yield made


def test_that_storing_an_entry_costs_little_more_than_the_disk(
    tmp_path: Path, file: JobFile, timed: Timer, compare: Callable[..., float]
) -> None:
    line = canonical(BODY)
    data = line if isinstance(line, bytes) else line.encode()
    plain = os.open(tmp_path / "plain", os.O_CREAT | os.O_APPEND | os.O_WRONLY)

    def on_disk() -> None:
        for _ in range(10):
            os.write(plain, data)
            os.fsync(plain)

    def store() -> None:
        for _ in range(10):
            file.append(BODY)

    try:
        ratio = compare("storing ten entries", lambda: timed(on_disk), lambda: timed(store), 25)
    finally:
        os.close(plain)
    assert ratio < 8  # the chain, the lock and the database's own pages come on top; measured 2 to 3
