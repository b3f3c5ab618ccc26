"""How much memory the window takes with a full job open, beside a bare window with a list."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from rakeprep import paths
from rakeprep.handover import demo
from rakeprep.handover.fill import started
from rakeprep.jobs import answers as given
from rakeprep.jobs.starting import text_of

pytestmark = pytest.mark.bench
pytest.importorskip("PySide6")

ROLLED_UP = Path("/proc/self/smaps_rollup")
SAMPLES = paths.sample_profiles()

# Libraries that only the tests install are kept away: pint imports them when they are there.
TELL = """
import sys
from pathlib import Path

class Absent:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {"numpy", "scipy", "uncertainties"}:
            raise ImportError(name)

sys.meta_path.insert(0, Absent())

def told():
    lines = Path("/proc/self/smaps_rollup").read_text().splitlines()
    print(next(line.split()[1] for line in lines if line.startswith("Rss:")), flush=True)
"""
BARE = """
from PySide6.QtWidgets import QApplication, QListWidget, QMainWindow
application = QApplication(sys.argv[:1])
application.setStyle("Fusion")
window, shown = QMainWindow(), QListWidget()
shown.addItems([f"line {number}" for number in range(3)])
window.setCentralWidget(shown)
window.resize(1366, 768)
window.show()
for _ in range(5):
    application.processEvents()
told()
"""
OURS = """
from rakeprep import cli  # as __main__ does, before anything of Qt
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from rakeprep.ui.app import make_session
from rakeprep.ui.window import Window
application = QApplication(sys.argv[:1])
application.setStyle("Fusion")
window = Window(make_session(Path(sys.argv[1])))
window.show_start()
window.show()
window.soon()
for _ in range(200):
    application.processEvents()
window.open_job(Path(sys.argv[2]))
for step in window.page.job.assessment.steps if "steps" in sys.argv else ():
    window.page.open_step(step.key)
    application.processEvents()
    application.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # as in exec(): the page left is deleted
for _ in range(5):
    application.processEvents()
told()
window.page.job.close()
"""


def kilobytes(code: str, *words: str) -> int:
    """What stays in memory of a process that runs this code, when it tells."""
    kept = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    done = subprocess.run(
        [sys.executable, "-c", TELL + code, *words],
        env=kept | {"QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(Path(paths.__file__).parents[1])},
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return int(done.stdout.split()[-1])


@pytest.fixture
def full(tmp_path: Path, ticking: Any) -> tuple[str, str]:
    """The program's folder, and in it the sample machine with the most questions, everything answered."""
    read = given.read_answers(text_of(SAMPLES / demo.HEALTHY))
    folder = tmp_path / "jobs"
    with started(SAMPLES / demo.MACHINE, SAMPLES / demo.TRACTOR, read, folder, ticking) as job:
        assert given.apply(read, job) == []
        return str(tmp_path), str(job.file.path)


@pytest.mark.skipif(not ROLLED_UP.exists(), reason="this system does not tell how much memory a process has")
def test_that_the_window_with_a_full_job_takes_less_than_some_bare_windows(full: tuple[str, str]) -> None:
    bare = kilobytes(BARE)
    opened, everywhere = kilobytes(OURS, *full), kilobytes(OURS, *full, "steps")
    # The goal for the first is 1.6 (own decision); measured 1.73 and 1.82. Of the 41 MB above the bare
    # window 7 are pint, 11 pages of the files of Qt, SQLite and libcrypto, 15 code and Qt's classes for
    # Python, 8 the page and its job. A table of what pint makes of our units would meet the goal; but then
    # the library would no longer convert what people measure.
    assert opened / bare < 1.85
    assert everywhere / bare < 1.95
