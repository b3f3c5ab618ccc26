"""The store beside a plain list: whatever is done to both, they agree."""

from __future__ import annotations

import datetime as dt
import shutil
import tempfile
from pathlib import Path
from unittest import mock

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from rakeprep.store import hold
from rakeprep.store.chain import check_chain
from rakeprep.store.job_file import JobFile, StoreError, jobs_in

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
bodies = st.dictionaries(texts, texts | st.integers(-1000, 1000) | st.lists(texts, max_size=2), max_size=3)


class StoreAgainstList(RuleBasedStateMachine):
    """Append, refuse, add photos, close, open again, open twice."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "demo.rakejob"
        self.now = dt.datetime(2031, 3, 4, tzinfo=dt.UTC)
        self.entries: list[dict[str, object]] = []
        self.photos: dict[str, bytes] = {}
        self.job: JobFile | None = None

    def clock(self) -> dt.datetime:
        self.now += dt.timedelta(seconds=7)
        return self.now

    @initialize(body=bodies)
    def create(self, body: dict[str, object]) -> None:
        self.job = JobFile.create(self.path, body, self.clock)
        self.entries.append(body)

    @precondition(lambda self: self.job is not None)
    @rule(body=bodies)
    def append(self, body: dict[str, object]) -> None:
        assert self.job is not None
        stored = self.job.append(body)
        self.entries.append(body)
        assert stored.seq == len(self.entries)

    @precondition(lambda self: self.job is not None)
    @rule(body=st.sampled_from([{"a": 0.5}, {"a": "\ud800"}, {"a": "x" * 1_000_000}]))
    def append_what_is_refused(self, body: dict[str, object]) -> None:
        assert self.job is not None
        with pytest.raises((StoreError, TypeError)):
            self.job.append(body)

    @precondition(lambda self: self.job is not None)
    @rule(data=st.binary(max_size=9000), name=texts)
    def add_photo(self, data: bytes, name: str) -> None:
        assert self.job is not None
        self.photos[self.job.add_blob("photo", name, "image/jpeg", data)] = data

    @precondition(lambda self: self.job is not None)
    @rule()
    def close(self) -> None:
        assert self.job is not None
        self.job.close()
        self.job = None

    @precondition(lambda self: self.job is None)
    @rule()
    def open(self) -> None:
        self.job = JobFile.open(self.path, self.clock)

    @precondition(lambda self: self.job is not None)
    @rule()
    def open_twice(self) -> None:
        with mock.patch.object(hold, "WAIT", 0), pytest.raises(StoreError, match="another window"):
            JobFile.open(self.path, self.clock)

    @precondition(lambda self: bool(self.entries))
    @rule()
    def look(self) -> None:
        with JobFile.open(self.path, self.clock, read_only=True) as other:
            assert [event.body for event in other.events()] == self.entries
            assert {blob.sha256: other.blob(blob.sha256) for blob in other.blobs()} == self.photos
        assert [summary.count for summary in jobs_in(self.folder)] == [len(self.entries)]

    @invariant()
    def the_open_job_agrees_with_the_list(self) -> None:
        if self.job is not None:
            events = self.job.events()
            assert [event.body for event in events] == self.entries
            assert check_chain(events) is None
            assert self.job.head == events[-1].hash

    def teardown(self) -> None:
        if self.job is not None:
            self.job.close()
        shutil.rmtree(self.folder)


TestStoreAgainstList = StoreAgainstList.TestCase
TestStoreAgainstList.settings = settings(
    max_examples=25, stateful_step_count=20, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
