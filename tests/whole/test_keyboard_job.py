"""One whole job through the real window by keyboard alone, from the list of jobs to the sealed document."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from rakeprep import paths
from rakeprep.handover import keys
from rakeprep.handover.verify import Outcome, verify_file
from rakeprep.jobs import answers as given
from rakeprep.jobs.answers import Answers, Given
from rakeprep.jobs.assess import Readiness
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import read
from rakeprep.model.entry import Slot
from rakeprep.model.field import Ask
from rakeprep.text import ENGLISH, Message
from rakeprep.ui.cautions import CautionGate
from rakeprep.ui.fields.picked import Done, Picked
from rakeprep.ui.fields.written import Number, Written
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.new_job_page import NewJobPage
from rakeprep.ui.session import Session
from rakeprep.ui.signing_page import SigningPage
from rakeprep.ui.start_page import StartPage
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.window import Window

PASSPHRASE = "four words that rhyme"
TECHNICIAN, CHECKER = "Technician One", "Technician Two"
# keys that a person needs at most to reach something on one page; more would mean that he is lost
PATIENCE = 60


class Answering:
    """Dialogs that are answered as a person would, by what they ask."""

    def __init__(self, folder: Path) -> None:
        self.told: list[str] = []
        self.confirms = ""
        self._folder = folder

    def tell(self, message: Message) -> None:
        self.told.append(str(message))

    def sure(self, question: Message, yes: Message, no: Message) -> bool:
        return True

    def reason(self, title: Message, question: Message) -> None:
        return None

    def name(self, title: Message, question: Message, known: list[str]) -> str:
        return self.confirms or "Invented Workshop"

    def passphrase(self, question: Message) -> str:
        return PASSPHRASE

    def open_file(self, title: Message, folder: Path, kinds: str) -> None:
        return None

    def folder(self, title: Message, folder: Path) -> Path:
        return self._folder


class Clock:
    """The real clock's day, a second later whenever it is asked: a seal must hold at the time of signing."""

    def __init__(self) -> None:
        self.now = dt.datetime.now().astimezone() - dt.timedelta(hours=1)

    def __call__(self) -> dt.datetime:
        self.now += dt.timedelta(milliseconds=200)
        return self.now


class Person:
    """Somebody with a keyboard and no mouse."""

    def __init__(self, qtbot: QtBot, window: Window) -> None:
        self.qtbot, self.window = qtbot, window

    @property
    def here(self) -> QWidget:
        now = QApplication.focusWidget()
        assert now is not None, "the keyboard is nowhere"
        return now

    def press(self, key: Qt.Key) -> None:
        self.qtbot.keyClick(self.here, key)
        QApplication.processEvents()  # a person is never faster than the window

    def tab_to(self, wanted: QWidget) -> None:
        for _ in range(PATIENCE):
            if self.here is wanted:
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f"{wanted.accessibleName() or wanted} is not reached with the tabulator")

    def write(self, text: str) -> None:
        """Type over what stands here; the test's keyboard has ASCII keys only, so other signs are pasted."""
        self.qtbot.keyClick(self.here, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        if text.isascii():
            self.qtbot.keyClicks(self.here, text)
            return
        QApplication.clipboard().setText(text)
        self.qtbot.keyClick(self.here, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)

    @property
    def job_page(self) -> JobPage:
        assert isinstance(self.window.page, JobPage)
        return self.window.page

    @property
    def page(self) -> StepPage:
        assert isinstance(self.job_page.page, StepPage)
        return self.job_page.page

    def go_to(self, slot: Slot) -> None:
        """Choose a step by its key, and a task in its list with the arrow keys."""
        at = self.job_page.page
        if not isinstance(at, StepPage) or at.slot.step != slot.step:
            self.tab_to(self.job_page.step_keys._keys[slot.step])
            self.press(Qt.Key.Key_Space)
        if isinstance(self.page.editor, CautionGate):
            assert self.page.editor.first is self.here
            self.press(Qt.Key.Key_Return)
        if self.page.slot == slot:
            return
        order = [state.task.slot for state in self.job_page.job.assessment.of_step(slot.step)]
        while self.page.slot != slot:
            if self.page.side.front is not self.page.tasks:
                self.tab_to(self.page.side.list_key)
                self.press(Qt.Key.Key_Space)
            self.tab_to(self.page.tasks)
            down = order.index(slot) > order.index(self.page.slot)
            self.press(Qt.Key.Key_Down if down else Qt.Key.Key_Up)

    def works(self, who: str) -> None:
        if self.window.session.who != who:
            self.tab_to(self.job_page.head.who)
            self.write(who)

    def answer(self, text: str, instrument: str) -> None:
        """Give one answer in the editor that stands there."""
        editor = self.page.editor
        assert editor is not None
        assert editor.first is not None
        self.tab_to(editor.first)
        match editor:
            case Picked():
                self.pick(editor, text)
            case Done():
                self.press(Qt.Key.Key_Space)
            case Number() if instrument and editor.tool is not None:
                self.write(text)
                self.tab_to(editor.tool)
                self.write(instrument)
                self.press(Qt.Key.Key_Return)
            case Written():
                self.write(text)
                self.press(Qt.Key.Key_Return)
            case _:
                raise AssertionError(editor)

    def pick(self, editor: Picked, text: str) -> None:
        many = editor.task.field.ask is Ask.MANY
        for word in (w.strip() for w in text.split(",")):
            if word != "none":
                self.tab_to(editor.keys[word])
                self.press(Qt.Key.Key_Space)
        if many:
            self.tab_to(self.key("none of them" if text == "none" else "store"))
            self.press(Qt.Key.Key_Return)

    def key(self, text: str) -> QPushButton:
        assert self.window.page is not None
        return next(
            k for k in self.window.page.findChildren(QPushButton) if k.text() == text and k.isVisible()
        )


@pytest.fixture
def session(tmp_path: Path, qapp: QApplication) -> Session:
    qapp.setStyle("Fusion")
    return Session(
        data=tmp_path / "data",
        resources=paths.resources(),
        profiles=paths.sample_profiles(),
        languages={"en": ENGLISH},
        language=ENGLISH,
        dialogs=Answering(tmp_path / "documents"),  # type: ignore[arg-type]
        clock=Clock(),
    )


@pytest.fixture
def person(qtbot: QtBot, session: Session) -> Iterator[Person]:
    window = Window(session)
    qtbot.addWidget(window)
    window.show_start()
    with qtbot.waitActive(window):
        window.show()
    yield Person(qtbot, window)
    if window.job is not None:
        window.job.close()
        window.job = None


@pytest.fixture
def file() -> Answers:
    read_file = given.read_answers((paths.sample_profiles() / "answers" / "healthy.toml").read_text("utf-8"))
    assert read_file.mistakes == []
    return read_file


def begin(person: Person, file: Answers) -> OpenJob:
    """From the list of jobs through the form to the first task."""
    assert isinstance(person.window.page, StartPage)
    person.press(Qt.Key.Key_Return)
    form = person.window.page
    assert isinstance(form, NewJobPage)
    assert person.here is form.machine
    person.tab_to(form.tractor)
    while form.tractor.currentData().name != "tractor-fits.toml":
        person.press(Qt.Key.Key_Down)
    for field, word in ((form.customer, "customer"), (form.order, "order"), (form.technician, "technician")):
        person.tab_to(field)
        person.write(file.job[word])
    person.tab_to(form.begin)
    person.press(Qt.Key.Key_Return)
    assert person.window.job is not None, form.refusal.text()
    return person.window.job


def work(person: Person, file: Answers, job: OpenJob) -> None:
    """Every answer of the file, in the order in which the steps ask."""
    dialogs = person.window.session.dialogs
    assert isinstance(dialogs, Answering)
    by_slot: dict[Slot, Given] = {}
    refused: list[Message] = []
    for one in file.given:
        for slot in given.slots(one, job, refused):
            by_slot[slot] = one
    assert refused == []
    for slot in [s for s in job.assessment.states if s in by_slot]:
        words = by_slot[slot].words
        field = job.field(slot)
        text = given.spelled_out(field.ask, words["value"], job.clock().date())
        person.works(words.get("who", TECHNICIAN))
        person.go_to(slot)
        person.answer(text, words.get("instrument", "") if field.instrument else "")
        entry = job.record.entries[slot]
        assert entry.typed == read(field, text).typed
        assert entry.who == words.get("who", TECHNICIAN)
        if "confirmed_by" in words:
            person.go_to(slot)
            dialogs.confirms = words["confirmed_by"]
            person.tab_to(person.page._confirm)
            person.press(Qt.Key.Key_Return)
            dialogs.confirms = ""
            assert job.record.entries[slot].confirmed_by == words["confirmed_by"]


def test_that_a_whole_job_is_done_by_keyboard_alone(
    qtbot: QtBot, person: Person, file: Answers, session: Session
) -> None:
    job = begin(person, file)
    work(person, file, job)
    dialogs = session.dialogs
    assert isinstance(dialogs, Answering)
    assert dialogs.told == []
    assert [str(o.says) for o in job.assessment.gate.obstacles] == []
    assert job.assessment.gate.readiness is Readiness.READY

    person.tab_to(person.key("handover ▸"))
    person.press(Qt.Key.Key_Return)
    page = person.job_page.page
    assert isinstance(page, SigningPage)
    for signature in file.signatures:
        box = page.boxes[signature.role]
        person.tab_to(box.name)
        person.write(signature.name)
        person.tab_to(box.typed)
        person.press(Qt.Key.Key_Space)
        person.tab_to(box.sign)
        person.press(Qt.Key.Key_Return)
    assert dialogs.told == []
    assert job.missing_signatures() == ()

    person.tab_to(page.seal)
    person.press(Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: bool(job.record.sealed) or bool(dialogs.told), timeout=60_000)
    assert dialogs.told == []
    (document,) = (page.session.data.parent / "documents").glob("*.pdf")
    assert document.name in page.result.text()
    assert verify_file(document, keys.trusted(session.seal)).outcome is Outcome.VERIFIED


def test_that_nothing_in_the_sample_is_out_of_reach(file: Answers) -> None:
    """The job above enters every step: the file must have answers for all of them."""
    steps: dict[str, int] = defaultdict(int)
    for one in file.given:
        steps[one.step] += 1
    assert len(steps) == 15  # design: the fifteen steps of the work
