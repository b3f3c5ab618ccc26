"""How soon the window is there, beside a bare window with a list; and what is not loaded for it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rakeprep import paths
from rakeprep.jobs.starting import new_job
from rakeprep.profiles import sample_machines, sample_tractors

pytestmark = pytest.mark.bench
pytest.importorskip("PySide6")

# The window reports the moment at which its first picture is complete: the first thing that Qt does after
# painting, be it a timer or the event that is posted from inside the painting. Then the process ends.
WATCH = """
import sys
if sys.argv[1] == "ours":
    from rakeprep import cli  # as __main__ does, before anything of Qt
import json, os, time
from PySide6.QtCore import QCoreApplication, QEvent, QObject
from PySide6.QtWidgets import QApplication, QMainWindow
from PySide6 import QtWidgets

class After(QObject):
    painted = False
    def eventFilter(self, watched, event):
        if event.type() is QEvent.Type.Paint:
            if not self.painted:
                QCoreApplication.postEvent(self, QEvent(QEvent.Type.User))
            self.painted = True
        elif self.painted and event.type() in {QEvent.Type.User, QEvent.Type.Timer, QEvent.Type.MetaCall}:
            at = time.monotonic_ns()
            try:
                import resource
                memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
            except ImportError:
                memory = 0
            print(json.dumps({"at": at, "memory": memory, "modules": sorted(sys.modules)}), flush=True)
            os._exit(0)
        return False

class Watched(QMainWindow):
    after = None
    def showEvent(self, event):
        super().showEvent(event)
        self.after = After()  # whatever is painted first: a page may cover the whole window
        QCoreApplication.instance().installEventFilter(self.after)
"""
OURS = """
QtWidgets.QMainWindow = Watched
cli.main([])
"""
BARE = """
from PySide6.QtWidgets import QListWidget
application = QApplication(sys.argv[:1])
application.setStyle("Fusion")
window = Watched()
shown = QListWidget()
shown.addItems([f"line {number}" for number in range(3)])
window.setCentralWidget(shown)
window.resize(1366, 768)
window.show()
application.exec()
"""
HEAVY = {"pint", "reportlab", "pikepdf", "pyhanko", "pyhanko_certvalidator", "cryptography", "PIL"}


class Starter:
    """Starts a window in a process of its own and waits for its first picture."""

    def __init__(self, folder: Path) -> None:
        kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        self._environment = kept | {
            "QT_QPA_PLATFORM": "offscreen",
            "DISPLAY": ":none",  # only named: the offscreen platform asks for none
            "RAKEPREP_DATA": str(folder / "data"),
            "PYTHONPATH": str(Path(paths.__file__).parents[1]),
            "PYTHONPYCACHEPREFIX": str(folder / "compiled"),  # users start compiled modules
        }
        self.last: dict[str, Any] = {}

    def __call__(self, which: str) -> float:
        code = WATCH + (OURS if which == "ours" else BARE)
        begun = time.monotonic_ns()
        done = subprocess.run(
            [sys.executable, "-c", code, which],
            env=self._environment,
            capture_output=True,
            encoding="utf-8",
            timeout=60,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        self.last = json.loads(done.stdout)
        return (int(self.last["at"]) - begun) / 1e6


@pytest.fixture
def start(tmp_path: Path, ticking: Callable[[], Any]) -> Starter:
    """With three jobs on the computer."""
    for number in range(3):
        new_job(
            tmp_path / "data" / "jobs",
            sample_machines()[0],
            sample_tractors()[0],
            customer=f"Customer {number}",
            order="SAMPLE-1",
            technician="Technician One",
            clock=ticking,
        ).close()
    return Starter(tmp_path)


def test_that_the_first_picture_comes_soon_after_that_of_a_bare_window(
    start: Starter, compare: Callable[..., float]
) -> None:
    ratio = compare("first picture", lambda: start("bare"), lambda: start("ours"), 9)
    # the goal is 1.5 (own decision); measured 1.4 to 1.5; with all imports at once it was 4.3
    assert ratio < 1.75


def test_that_a_start_takes_little_more_memory_than_a_bare_window(start: Starter) -> None:
    start("bare")
    bare = start.last["memory"]
    start("ours")
    if not bare:
        pytest.skip("this system does not tell how much memory a process took")
    assert start.last["memory"] / bare < 1.6  # goal of our own


def test_that_the_first_picture_waits_for_no_library_of_units_paper_or_keys(start: Starter) -> None:
    start("ours")
    loaded = {name.partition(".")[0] for name in start.last["modules"]}
    assert "PySide6" in loaded
    assert loaded & HEAVY == set()


def test_that_the_first_picture_waits_for_nothing_that_works_on_a_job(start: Starter) -> None:
    start("ours")
    ours = {name for name in start.last["modules"] if name.startswith("rakeprep.")}
    layers = {name.split(".")[1] for name in ours}
    assert layers & {"steps", "sums", "calculations", "drawing", "profiles", "practice", "handover"} == set()
    assert not {name for name in ours if name.startswith("rakeprep.ui.bodies")}


def test_that_opening_a_job_needs_no_library_of_paper_or_keys() -> None:
    code = "import json, sys, rakeprep.ui.job_page; print(json.dumps(sorted(sys.modules)))"
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=os.environ | {"PYTHONPATH": str(Path(paths.__file__).parents[1])},
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=True,
    )
    loaded = {name.partition(".")[0] for name in json.loads(done.stdout)}
    assert loaded & (HEAVY - {"pint"}) == set()
