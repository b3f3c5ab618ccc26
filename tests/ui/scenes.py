"""Every page of the window as a scene: for the tests that look at all pages, and for the pictures of them.

The same scenes are compared with the pictures in ``tests/ui/pictures``; ``tests/whole/make_pictures.py``
makes those anew. Clock, time zone, fonts and sizes are fixed, so that a picture shows what was built and
nothing else.
"""

from __future__ import annotations

import datetime as dt
import os
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from unittest import mock

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from rakeprep import paths
from rakeprep.handover import demo
from rakeprep.jobs import answers
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.starting import new_job, text_of
from rakeprep.model.entry import Slot
from rakeprep.store.connect import SUFFIX
from rakeprep.text import Catalogue, Language, languages
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.session import Session
from rakeprep.ui.theme import BRIGHT, DESK, DIM, Size, Theme
from rakeprep.ui.window import Window

SMALL, LARGE = (1366, 768), (1920, 1080)  # px: common screens of portable and of desk computers
MORNING = dt.datetime(2026, 4, 14, 9, 0, tzinfo=dt.UTC)

# A page of each step that shows most: its picture, if it has one, and something that a check says.
TASKS = {
    "arrival": "arrival.serial_plate",
    "fasteners": "fasteners.bolts_out",
    "hitch": "hitch.top_link",
    "driveline": "driveline.distance",
    "hydraulics": "hydraulics.time_out",
    "lights": "lights.lit",
    "tyres": "tyres.pressure_found",
    "arms": "arms.hand",
    "guards": "guards.depth",
    "oil": "oil.level",
    "levelling": "levelling.clearance",
    "width": "width.gauge_reading",
    "settings": "settings.clearance",
    "test_run": "test_run.heat",
    "handover": "handover.topic",
}
OTHER_PAGES = ("start", "new-job", "sums", "cautions", "obstacles", "signing")
UNREAD = "test_run"  # a step of the sample job whose cautions nobody has read yet
PAGES = (*OTHER_PAGES, *TASKS)


@dataclass(frozen=True)
class Look:
    """How a window is dressed."""

    theme: Theme = BRIGHT
    language: str = "en"
    size: Size = DESK
    pixels: tuple[int, int] = SMALL


class Clock:
    """A clock that moves on by a minute whenever it is asked."""

    def __init__(self) -> None:
        self.now = MORNING

    def __call__(self) -> dt.datetime:
        self.now += dt.timedelta(minutes=1)
        return self.now


class NoDialogs:
    """Nobody answers: no page may ask while its picture is taken."""

    def __getattr__(self, name: str) -> Callable[..., None]:
        raise AssertionError(f"a page asked for {name}")


def known_languages() -> dict[str, Language]:
    """Every language of the screen."""
    return languages(paths.resources() / "translations")


def longest_language() -> str:
    """The code of the language that needs most letters for the same messages."""

    def letters(language: Language) -> int:
        catalogue = language.catalogue
        return sum(len(f[0]) for f in catalogue._said.values()) if isinstance(catalogue, Catalogue) else 0

    known = known_languages()
    return max(known, key=lambda code: letters(known[code]))


LOOKS: dict[str, Callable[[], Look]] = {
    "bright": Look,
    "dim": lambda: Look(DIM),
    "longest": lambda: Look(language=longest_language()),
}


@contextmanager
def greenwich() -> Iterator[None]:
    """The time zone of the pictures."""
    with mock.patch.dict(os.environ, {"TZ": "UTC0"}):
        time.tzset()
        yield
    time.tzset()


@contextmanager
def window(folder: Path, look: Look, spoken: Language | None = None) -> Iterator[Window]:
    """A window dressed like this, on the half-done sample job; ``spoken`` instead of the look's language."""
    application = QApplication.instance() or QApplication(["rakeprep"])
    assert isinstance(application, QApplication)
    application.setStyle("Fusion")
    dressed = application.font(), application.palette(), application.styleSheet()
    flash = application.cursorFlashTime()
    application.setCursorFlashTime(0)  # a cursor that is there in every picture
    clock = Clock()
    known = known_languages() if spoken is None else {"en": spoken}
    session = Session(
        data=folder,
        resources=paths.resources(),
        profiles=paths.sample_profiles(),
        languages=known,
        language=known[look.language if spoken is None else "en"],
        dialogs=NoDialogs(),  # type: ignore[arg-type]
        clock=clock,
        theme=look.theme,
        size=look.size,
    )
    with greenwich():
        session.jobs.mkdir(parents=True)
        path = session.jobs / f"sample{SUFFIX}"
        path.write_bytes(half_done_job())
        made = Window(session)
        made.resize(*look.pixels)
        speaks = session.language
        made.take_job(OpenJob.resume(path, clock))
        session.language = speaks  # not the one that the job was opened in
        session.works("Technician One")
        try:
            yield made
        finally:
            made.close_job()
            made.close()
            made.deleteLater()
            settle()
    application.setFont(dressed[0])
    application.setPalette(dressed[1])
    application.setStyleSheet(dressed[2])
    application.setCursorFlashTime(flash)


def show(window: Window, page: str) -> None:
    """Bring a page before the eyes."""
    job = window.job
    assert job is not None
    match page:
        case "start":
            window.show_start()
        case "new-job":
            window.show_new_job()
        case "sums":
            window.show_sums()
            window.page.show_example()  # type: ignore[union-attr]
        case "signing":
            with ready_job(window) as ready:
                window._show_job(ready, None)
                assert isinstance(window.page, JobPage)
                window.page.open_signing()
        case _:
            window._show_job(job, None)
            _show_of_job(window, page)
    window.show()
    settle()


def _show_of_job(window: Window, page: str) -> None:
    shown, job = window.page, window.job
    assert isinstance(shown, JobPage)
    assert job is not None
    if page == "obstacles":
        shown.open_signing()
        return
    if page == "cautions":
        assert UNREAD not in job.record.cautions_read
        shown.open(job.assessment.of_step(UNREAD)[0].task.slot)
        return
    if page not in job.record.cautions_read:
        job.read_caution(page, "Technician One")
    shown.open(telling(job, TASKS[page]))


@contextmanager
def ready_job(window: Window) -> Iterator[OpenJob]:
    """A job at which nothing stands before the signatures; it is read once and let go."""
    path = window.session.data / f"ready{SUFFIX}"
    path.write_bytes(healthy_job())
    with OpenJob.resume(path, window.session.clock) as job:
        yield job


@cache
def half_done_job() -> bytes:
    """The file of the sample job in the middle of its work; to fill it in takes its time."""
    with tempfile.TemporaryDirectory() as folder:
        return demo.half_done(paths.sample_profiles(), Path(folder), Clock()).read_bytes()


@cache
def healthy_job() -> bytes:
    """The file of a sample job with nothing left to do but to sign."""
    samples, clock = paths.sample_profiles(), Clock()
    with tempfile.TemporaryDirectory() as folder:
        people = {"customer": "Customer One", "order": "SAMPLE-1", "technician": "Technician One"}
        with new_job(
            Path(folder), samples / demo.MACHINE, samples / demo.TRACTOR, clock=clock, **people
        ) as job:
            given = answers.read_answers(text_of(samples / demo.HEALTHY))
            assert answers.apply(given, job) == []
        return job.file.path.read_bytes()


def telling(job: OpenJob, field: str) -> Slot:
    """The place of a question about which most is said."""
    step, key = field.split(".")
    states = job.assessment.of_step(step)
    found = [s for s in states if s.task.field.key == key] or list(states)
    return max(found, key=lambda s: (s.verdict.rank, len(s.findings))).task.slot


def settle() -> None:
    """Let everything that was put off happen now; a scroll bar that comes or goes takes some turns."""
    for _ in range(6):
        QCoreApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def picture(window: Window) -> QImage:
    """The window as it looks now."""
    return window.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
