"""What all tests share. Nothing here imports Qt: tests/unit and tests/contract run without it."""

from __future__ import annotations

import datetime as dt
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

HERE = Path(__file__).parent
WITH_WINDOWS = (HERE / "ui", HERE / "whole")

# Windows of a test must not pop up on the desktop of whoever runs the tests.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# No deadline: the tests share a small machine with others, and a slow moment is no fault.
settings.register_profile("here", max_examples=100, deadline=None)
settings.register_profile(
    "ci",
    max_examples=100,
    deadline=None,
    derandomize=True,  # a submission must not fail by the luck of the draw
    database=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("ci" if os.environ.get("CI") else "here")

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))


def pytest_configure(config: pytest.Config) -> None:
    """Name the one harmless line that the offscreen platform prints."""
    if config.pluginmanager.hasplugin("pytest-qt"):
        config.addinivalue_line("qt_log_ignore", "This plugin does not support propagateSizeHints")


def pytest_itemcollected(item: pytest.Item) -> None:
    """Let a Qt warning fail each test that opens windows, unless the test says otherwise.

    A marker and not an ini option, since pytest refuses an option that no plugin knows.
    """
    if not item.config.pluginmanager.hasplugin("pytest-qt"):
        return
    opens_windows = any(folder in item.path.parents for folder in WITH_WINDOWS)
    if opens_windows and item.get_closest_marker("qt_log_level_fail") is None:
        item.add_marker(pytest.mark.qt_log_level_fail("WARNING"))


@pytest.fixture
def clock() -> Callable[[], dt.datetime]:
    """A clock that stands at noon on 14 April 2026, two hours ahead of UTC."""
    return lambda: NOON


@pytest.fixture(autouse=True)
def own_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep every test away from the records of whoever runs the tests."""
    monkeypatch.setenv("RAKEPREP_DATA", str(tmp_path / "data"))
