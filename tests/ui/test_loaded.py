"""What is loaded when: the next things after the first picture, nothing that an open job does not need."""

from __future__ import annotations

import datetime as dt
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from rakeprep import paths
from rakeprep.jobs.starting import new_job
from rakeprep.profiles import sample_machines, sample_tractors

NOON = dt.datetime(2026, 4, 14, 12, tzinfo=dt.UTC)
TELL = """
import json, sys
from pathlib import Path
from rakeprep import cli  # as __main__ does, before anything of Qt
from PySide6.QtWidgets import QApplication, QWidget
from rakeprep.ui.app import make_session
from rakeprep.ui.window import Window

def kinds(of):
    return {of.__name__}.union(*map(kinds, of.__subclasses__()))

application = QApplication(sys.argv[:1])
window = Window(make_session(Path(sys.argv[1])))
window.show_start()
window.show()
window.soon()
for _ in range(200):
    application.processEvents()
soon = sorted(sys.modules)
window.open_job(Path(sys.argv[2]))
for _ in range(5):
    application.processEvents()
assert window.page.job.record
print(json.dumps({"soon": soon, "opened": sorted(sys.modules), "kinds": sorted(kinds(QWidget))}))
window.page.job.close()
"""
# What the window once held for nothing: facts of all languages (babel's) 4 MB, the rest less.
NEEDLESS = {
    "babel.dates",
    "html",
    "rakeprep.handover",
    "rakeprep.practice",
    "rakeprep.sums",
    "rakeprep.ui.chapter_page",
    "rakeprep.ui.papers_page",
    "rakeprep.ui.sealing",
    "rakeprep.ui.signing_page",
    "rakeprep.ui.sums_page",
}


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    """What a window of its own process has loaded, after its first picture and with a job open."""
    folder = tmp_path_factory.mktemp("window")
    job = new_job(
        folder / "jobs",
        sample_machines()[0],
        sample_tractors()[0],
        customer="Customer",
        order="SAMPLE-1",
        technician="Technician One",
        clock=lambda: NOON,
    )
    job.close()
    done = subprocess.run(
        [sys.executable, "-c", TELL, str(folder), str(job.file.path)],
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(Path(paths.__file__).parents[1])},
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=True,
    )
    found: dict[str, list[str]] = json.loads(done.stdout)
    return found


def test_that_a_job_opens_with_what_was_loaded_after_the_first_picture(
    told: dict[str, list[str]],
) -> None:
    assert "rakeprep.ui.job_page" in told["soon"]
    late = {name for name in set(told["opened"]) - set(told["soon"]) if name.startswith("rakeprep.")}
    assert {name for name in late if not name.startswith("rakeprep.ui.bodies")} == set()


def test_that_nothing_is_loaded_that_an_open_job_does_not_need(told: dict[str, list[str]]) -> None:
    assert NEEDLESS.intersection(told["opened"]) == set()


def test_that_no_class_is_built_of_a_kind_of_widget_that_nobody_uses(told: dict[str, list[str]]) -> None:
    # PySide builds them all when it is asked for a widget that Qt made for itself: 28 ms and 0.7 MB.
    assert "QListView" in told["kinds"]
    assert {"QMdiArea", "QSplashScreen", "QWizard"}.intersection(told["kinds"]) == set()
