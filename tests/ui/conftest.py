"""A window's circumstances for tests: a clock that moves, dialogs that answer, sample jobs."""

from __future__ import annotations

import datetime as dt
import gettext
import importlib.util
import re
import sys
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from types import ModuleType

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rakeprep import paths
from rakeprep.jobs import answers
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.starting import new_job
from rakeprep.profiles import sample_machines, sample_tractors
from rakeprep.text import ENGLISH, Language, Message, verbatim
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.session import Session
from rakeprep.ui.theme import BRIGHT, DESK, load_font, palette, style_sheet

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))


class Ticking:
    """A clock that moves on by one second whenever it is asked."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> dt.datetime:
        self.now += dt.timedelta(seconds=1)
        return self.now


class FakeDialogs:
    """Answers every question from ``answers``, by its kind, and keeps what was said and asked."""

    def __init__(self) -> None:
        self.told: list[str] = []
        self.asked: list[tuple[str, str]] = []
        self.answers: dict[str, list[object]] = defaultdict(list)

    def _answer(self, kind: str, question: Message) -> object:
        self.asked.append((kind, str(question)))
        return self.answers[kind].pop(0) if self.answers[kind] else None

    def tell(self, message: Message) -> None:
        self.told.append(str(message))

    def sure(self, question: Message, yes: Message, no: Message) -> bool:
        return bool(self._answer("sure", question))

    def reason(self, title: Message, question: Message) -> object:
        return self._answer("reason", question)

    def name(self, title: Message, question: Message, known: list[str]) -> object:
        return self._answer("name", question)

    def instrument(self, name: str, kind: str, until: str) -> object:
        return self._answer("instrument", verbatim(f"{name}, {kind}, {until}"))

    def names(self, now: Mapping[str, str]) -> object:
        return self._answer("names", verbatim(", ".join(now.values())))

    def passphrase(self, question: Message) -> object:
        return self._answer("passphrase", question)

    def open_file(self, title: Message, folder: Path, kinds: str) -> object:
        return self._answer("open_file", title)

    def folder(self, title: Message, folder: Path) -> object:
        return self._answer("folder", title)


class Wrapping(gettext.NullTranslations):
    """A language of its own: the words of every message stand in ⟦⟧, and what fills its gaps does not."""

    def gettext(self, message: str) -> str:
        return "".join(
            part if re.fullmatch(r"\{\w+\}", part) or not re.search(r"\w", part) else f"⟦{part}⟧"
            for part in re.split(r"(\{\w+\})", message)
        )

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


@pytest.fixture(scope="session")
def scenes(qapp: QApplication) -> ModuleType:
    """Every page as a scene: ``scenes.py`` beside this file."""
    return loaded("scenes")


@pytest.fixture(scope="session")
def likeness() -> ModuleType:
    """How like two pictures are: ``likeness.py`` beside this file."""
    return loaded("likeness")


def loaded(name: str) -> ModuleType:
    """A module of this folder that is no test."""
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
        assert spec is not None
        assert spec.loader is not None
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


@pytest.fixture
def pseudo() -> Language:
    return Language("en", Wrapping())


@pytest.fixture
def ticking() -> Ticking:
    return Ticking()


@pytest.fixture
def dialogs() -> FakeDialogs:
    return FakeDialogs()


@pytest.fixture
def session(tmp_path: Path, dialogs: FakeDialogs, ticking: Ticking, qapp: QApplication) -> Iterator[Session]:
    """Somebody works at a desk in the bright theme."""
    made = Session(
        data=tmp_path / "data",
        resources=paths.resources(),
        profiles=paths.sample_profiles(),
        languages={"en": ENGLISH},
        language=ENGLISH,
        dialogs=dialogs,
        clock=ticking,
    )
    if qapp.styleSheet() != style_sheet(BRIGHT, DESK):
        qapp.setStyle("Fusion")
        qapp.setFont(load_font(made.resources, DESK.text))
        qapp.setPalette(palette(BRIGHT))
        qapp.setStyleSheet(style_sheet(BRIGHT, DESK))
    made.works("Technician One")
    yield made
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.fixture
def start(session: Session, ticking: Ticking) -> Iterator[Callable[..., OpenJob]]:
    """Starts jobs on a sample machine, optionally filled in from a sample answers file."""
    opened: list[OpenJob] = []

    def make(machine: int = 0, filled: str = "") -> OpenJob:
        job = new_job(
            session.jobs,
            sample_machines()[machine],
            sample_tractors()[0],
            customer="Customer One",
            order="SAMPLE-1",
            technician="Technician One",
            clock=ticking,
        )
        opened.append(job)
        if filled:
            read = answers.read_answers((session.profiles / "answers" / filled).read_text("utf-8"))
            assert answers.apply(read, job) == []
        return job

    yield make
    for job in opened:
        job.close()


@pytest.fixture
def job(start: Callable[..., OpenJob]) -> OpenJob:
    """A new job on the first sample machine."""
    return start()


@pytest.fixture
def page(qtbot: QtBot, session: Session, job: OpenJob) -> JobPage:
    """A new job's page, shown, with every caution read."""
    for step in job.assessment.steps:
        if step.cautions:
            job.read_caution(step.key, "Technician One")
    made = JobPage(session, job)
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
    return made
