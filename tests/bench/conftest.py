"""How times are compared: never with a clock's number, always with a floor measured in the same run.

Floor and candidate take turns, so that a busy machine slows both; what counts is the ratio of their medians.
The bounds stand well above what was measured when they were set, and well below what a user would notice.
"""

from __future__ import annotations

import datetime as dt
import gc
import statistics
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction

import pytest

from rakeprep import paths
from rakeprep.handover import demo
from rakeprep.handover.fill import started
from rakeprep.jobs import answers as given
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.starting import text_of

Timed = Callable[[], float]
SAMPLES = paths.sample_profiles()
TERMS = 10_500  # plain Python for about one frame of a 60 Hz screen, on the machine where bounds were set
MEASURED = pytest.StashKey[list[str]]()


@dataclass
class Compared:
    """What was measured beside each other, in milliseconds."""

    floor: list[float] = field(default_factory=list)
    ours: list[float] = field(default_factory=list)

    @property
    def ratio(self) -> float:
        return statistics.median(self.ours) / statistics.median(self.floor)

    def line(self, name: str) -> str:
        """For the eye: the ratio, and the medians on this machine."""
        ours, floor = statistics.median(self.ours), statistics.median(self.floor)
        return f"{name}: {self.ratio:.2f} times the floor ({ours:.3g} ms, floor {floor:.3g} ms)"


def milliseconds(work: Callable[[], object]) -> float:
    """How long something takes, without the collector of garbage coming in between."""
    gc.collect(0)
    gc.disable()
    try:
        begun = time.perf_counter()
        work()
        return (time.perf_counter() - begun) * 1e3
    finally:
        gc.enable()


def one_frame() -> Fraction:
    """Plain Python that takes about as long as one picture of a 60 Hz screen stands."""
    total = Fraction(0)
    for number in range(1, TERMS):
        total += Fraction(number % 7, 8)
    return total


@pytest.fixture(autouse=True)
def no_tracing() -> None:
    """A tracer slows our lines and not the libraries' ones: nothing can be compared under it."""
    if sys.gettrace() is not None:
        pytest.skip("times cannot be compared while lines are traced")


@pytest.fixture
def compare(request: pytest.FixtureRequest) -> Callable[[str, Timed, Timed, int], float]:
    """Let floor and candidate take turns; gives the ratio of the medians. Each gives its own time."""

    def comparing(name: str, floor: Timed, ours: Timed, turns: int) -> float:
        found = Compared()
        floor(), ours()  # the first turn warms up
        for _ in range(turns):
            found.floor.append(floor())
            found.ours.append(ours())
        request.config.stash.setdefault(MEASURED, []).append(found.line(name))
        return found.ratio

    return comparing


@pytest.fixture
def frame() -> Timed:
    """The floor for what a user waits for: about one frame's worth of plain Python."""
    return lambda: milliseconds(one_frame)


@pytest.fixture
def timed() -> Callable[[Callable[[], object]], float]:
    """How long something takes, in milliseconds."""
    return milliseconds


class Ticking:
    """A clock that moves on by one second whenever it is asked."""

    def __init__(self) -> None:
        self.now = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))

    def __call__(self) -> dt.datetime:
        self.now += dt.timedelta(seconds=1)
        return self.now


@pytest.fixture(scope="module")
def ticking() -> Ticking:
    return Ticking()


@pytest.fixture(scope="module")
def full_job(tmp_path_factory: pytest.TempPathFactory, ticking: Ticking) -> Iterator[OpenJob]:
    """The sample machine with the most questions, everything answered."""
    read = given.read_answers(text_of(SAMPLES / demo.HEALTHY))
    folder = tmp_path_factory.mktemp("jobs")
    with started(SAMPLES / demo.MACHINE, SAMPLES / demo.TRACTOR, read, folder, ticking) as job:
        assert given.apply(read, job) == []
        yield job


@pytest.fixture(scope="module")
def signed_job(full_job: OpenJob) -> OpenJob:
    """The same, signed by everybody."""
    read = given.read_answers(text_of(SAMPLES / demo.HEALTHY))
    assert given.sign(read, full_job) == []
    return full_job


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Show what was measured."""
    lines = config.stash.get(MEASURED, [])
    if lines:
        terminalreporter.section("beside the floor")
        for line in lines:
            terminalreporter.line(line)
