"""Every page of every step on both sample machines: it builds, names its controls, and leaves nothing."""

from __future__ import annotations

import html
import re
import threading
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt, QTimer
from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QListView,
    QMainWindow,
    QWidget,
)
from pytestqt.qtbot import QtBot

from rakeprep.jobs.chapters import KINDS
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.verdict import Verdict
from rakeprep.steps import all_steps
from rakeprep.text import Language
from rakeprep.ui.chapter_page import ChapterPage
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.new_job_page import NewJobPage
from rakeprep.ui.session import Session
from rakeprep.ui.signing_page import SigningPage
from rakeprep.ui.start_page import StartPage
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.theme import DESK, DIM, GLOVES, style_sheet
from rakeprep.ui.window import Window
from rakeprep.units import Kind, units_of

STEPS = [step.key for step in all_steps() if not step.visits]
INPUTS = {
    QAccessible.Role.Button,
    QAccessible.Role.CheckBox,
    QAccessible.Role.ComboBox,
    QAccessible.Role.EditableText,
    QAccessible.Role.List,
    QAccessible.Role.RadioButton,
    QAccessible.Role.SpinBox,
}
WORD = re.compile(r"[^\W\d_]{2,}")
SCREEN = (1366, 768)  # the smallest screen of common portable computers (common practice, no source)


def some_of_each_field(job: OpenJob, step: str) -> list[Slot]:
    """The first, a middle and the last place of every question."""
    by_field: dict[str, list[Slot]] = {}
    for state in job.assessment.of_step(step):
        by_field.setdefault(state.task.field.key, []).append(state.task.slot)
    return [
        slot
        for slots in by_field.values()
        for slot in dict.fromkeys((slots[0], slots[len(slots) // 2], slots[-1]))
    ]


def tree(top: QAccessibleInterface) -> Iterator[QAccessibleInterface]:
    """What a screen reader walks through; the rows of lists are looked at in a test of their own."""
    yield top
    for number in range(0 if top.role() == QAccessible.Role.List else top.childCount()):
        child = top.child(number)
        if child is not None and child.isValid():
            yield from tree(child)


def unnamed(widget: QWidget) -> list[str]:
    """Everything that can be focused or filled in and has no name."""
    found = []
    for one in tree(QAccessible.queryAccessibleInterface(widget)):
        takes_input = one.role() in INPUTS or (one.state().focusable and not one.state().invisible)
        if takes_input and not one.text(QAccessible.Text.Name).strip():
            found.append(f"{one.role()} {one.object()}")
    return found


def settle() -> None:
    """Let everything that was deleted later be deleted now."""
    for _ in range(3):
        QCoreApplication.processEvents()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.mark.parametrize("machine", [0, 1])
@pytest.mark.parametrize("step", STEPS)
def test_that_every_page_builds_and_names_its_controls(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], step: str, machine: int
) -> None:
    job = start(machine)
    for read in (False, True):
        if read:
            job.read_caution(step, "Technician One")
        slots = some_of_each_field(job, step)
        for slot in slots if read else slots[:1]:
            page = StepPage(session, job, slot)
            page.show()
            assert page.state.task.slot == slot
            assert unnamed(page) == []
            page.close()
            page.deleteLater()


@pytest.mark.parametrize("filled", ["healthy.toml", "half-done.toml"])
def test_that_pages_with_answers_and_findings_name_their_controls(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], filled: str
) -> None:
    page = JobPage(session, start(0, filled))
    qtbot.addWidget(page)
    page.show()
    for step in STEPS:
        page.open_step(step)
        assert unnamed(page) == []
    page.open_signing()
    assert unnamed(page) == []


@pytest.fixture
def visited(start: Callable[..., OpenJob]) -> Callable[[str], OpenJob]:
    """A job handed over with a stand-in for its document, in a later chapter."""

    def begin(kind: str) -> OpenJob:
        job = start(0, "healthy.toml")
        for role, name in (("technician", "One"), ("checker", "Two"), ("customer", "C")):
            job.sign(role, name, (), typed=True)
        job.close_with(b"%PDF-1.7 stand-in", "handover.pdf")
        places = tuple(place.key for place in job.places_for(KINDS[kind])[:1])
        job.begin_chapter(kind, "Technician One", "as agreed", places)
        return job

    return begin


VISITS = [("visit", "fifty-hours"), ("visit", "first-hour"), ("repair", "repair")]


@pytest.mark.parametrize(("step", "kind"), VISITS)
def test_that_the_pages_of_a_visit_name_their_controls_in_any_language(
    qtbot: QtBot,
    session: Session,
    visited: Callable[[str], OpenJob],
    pseudo: Language,
    step: str,
    kind: str,
) -> None:
    session.language = pseudo
    job = visited(kind)
    known = data_words(job, session)
    job.read_caution(step, "Technician One")
    for slot in some_of_each_field(job, step):
        page = StepPage(session, job, slot)
        page.show()
        assert unnamed(page) == []
        assert untranslated(page, known) == set()
        page.close()
        page.deleteLater()


def test_that_the_page_of_a_later_visit_names_its_controls_in_any_language(
    qtbot: QtBot, session: Session, job: OpenJob, pseudo: Language
) -> None:
    session.language = pseudo
    page = ChapterPage(session, job)
    qtbot.addWidget(page)
    page.show()
    for row in range(page.kinds.count()):
        page.kinds.setCurrentRow(row)
        assert unnamed(page) == []
        assert untranslated(page, data_words(job, session)) == set()


def test_that_the_other_pages_name_their_controls(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    start()
    for page in (StartPage(session), NewJobPage(session)):
        qtbot.addWidget(page)
        page.show()
        assert unnamed(page) == []


@pytest.mark.parametrize("step", STEPS)
def test_that_the_tabulator_goes_from_the_list_to_the_editor_and_the_buttons(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], step: str
) -> None:
    job = start(0)
    job.read_caution(step, "Technician One")
    slot = job.assessment.of_step(step)[1].task.slot
    page = StepPage(session, job, slot)
    qtbot.addWidget(page)
    with qtbot.waitActive(page):
        page.show()
    front = page.side.front
    front.setFocus()
    qtbot.keyClick(front, Qt.Key.Key_Tab)
    seen = []
    while (now := QApplication.focusWidget()) is not front and len(seen) < 40:
        assert now is not None
        seen.append(now)
        qtbot.keyClick(now, Qt.Key.Key_Tab)
    assert page.editor is not None
    inside = [page.editor.isAncestorOf(one) for one in seen]
    buttons = [one.text() for one in seen if isinstance(one, QAbstractButton) and one.parent() is page]
    assert inside[0]
    assert buttons == ["◂ back", "leave for later…", "not on this machine…", "next ▸"]
    assert inside == sorted(inside, reverse=True)


def test_that_a_step_with_a_picture_can_be_had_as_a_list(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    page = StepPage(session, start(0), Slot.read("levelling.clearance@left-12"))
    qtbot.addWidget(page)
    assert page.side.front is page.side.body
    qtbot.keyClick(page.side.list_key, Qt.Key.Key_Space)
    assert page.side.front is page.tasks
    page.choose(Slot.read("levelling.clearance@left-1"))
    assert page.side.front is page.tasks
    qtbot.keyClick(page.side.picture_key, Qt.Key.Key_Space)
    assert page.side.front is page.side.body


def test_that_choosing_in_a_picture_opens_the_task(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    page = StepPage(session, start(0), Slot.read("tyres.pressure_set@L1L"))
    qtbot.addWidget(page)
    assert page.side.body is not None
    page.side.body.chosen.emit(Slot.read("tyres.pressure_set@R2L"))
    assert page.slot == Slot.read("tyres.pressure_set@R2L")


def test_that_a_page_leaves_nothing_behind(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob]
) -> None:
    job = start(0, "half-done.toml")
    page = JobPage(session, job)
    qtbot.addWidget(page)
    page.show()

    def visited() -> None:
        for number in range(50):
            page.open_step(STEPS[number % 14])
        page.open_signing()
        for state in job.assessment.of_step("arms")[:30]:
            page.open(state.task.slot)
        page.open_step("levelling")

    def counted() -> tuple[int, int, int, int]:
        visited()
        settle()
        timers = sum(len(w.findChildren(QTimer)) for w in QApplication.topLevelWidgets())
        return (
            len(QApplication.allWidgets()),
            len(QApplication.topLevelWidgets()),
            timers,
            threading.active_count(),
        )

    assert counted() == counted()


@pytest.mark.parametrize("size", [DESK, GLOVES])
@pytest.mark.parametrize("filled", ["healthy.toml", "half-done.toml"])
def test_that_no_page_makes_the_window_larger_than_a_small_screen(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], filled: str, size: object
) -> None:
    session.size, session.theme = size, DIM  # type: ignore[assignment]
    window = Window(session)
    qtbot.addWidget(window)
    window.take_job(start(0, filled))
    window.show()
    page = window.page
    assert isinstance(page, JobPage)
    for step in STEPS:
        for slot in some_of_each_field(page.job, step):
            page.open(slot)
        assert fits(window), step
    page.open_signing()
    assert fits(window)
    window.close_job()
    assert fits(window)
    window.show_new_job()
    assert fits(window)


def fits(window: QMainWindow) -> bool:
    QCoreApplication.processEvents()
    smallest = window.minimumSizeHint()
    return smallest.width() <= SCREEN[0] and smallest.height() <= SCREEN[1]


def test_that_all_words_of_a_step_key_can_be_read(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], qapp: QApplication
) -> None:
    session.size = GLOVES
    qapp.setStyleSheet(style_sheet(session.theme, GLOVES))
    page = JobPage(session, start())
    qtbot.addWidget(page)
    page.resize(*SCREEN)
    page.show()
    for one in page.step_keys.findChildren(QAbstractButton):
        needed = one.fontMetrics().horizontalAdvance(one.text()) + one.iconSize().width() + 4
        assert needed <= one.width() - 2 * 4, one.text()  # frame and padding of the style sheet: 1 + 3 px


# ------------------------------------------------------------------------------- through the catalogue


def shown(widget: QWidget) -> Iterator[str]:
    """Every text of a widget that is seen or read out."""
    yield from (widget.accessibleName(), widget.accessibleDescription(), widget.toolTip())
    match widget:
        case QLabel():
            markup = widget.textFormat() is Qt.TextFormat.RichText
            yield html.unescape(re.sub(r"<[^>]+>", "", widget.text())) if markup else widget.text()
        case QAbstractButton():
            yield widget.text()
        case QLineEdit():
            yield widget.placeholderText()
        case QComboBox():
            pass  # names of people, files and languages
        case QListView():
            model = widget.model()
            for row in range(model.rowCount()):
                index = model.index(row, 0)
                for role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
                    yield str(index.data(role) or "")


def bare(text: str) -> set[str]:
    """The words of a text that stand outside every ⟦⟧."""
    depth, left = 0, []
    for char in text:
        if char == "⟦":
            depth += 1
        elif char == "⟧":
            depth -= 1
            left.append(" ")
        elif depth == 0:
            left.append(char)
    return set(WORD.findall("".join(left)))


def data_words(job: OpenJob, session: Session) -> set[str]:
    """Words that come from people, data files, units and the calendar, which no catalogue translates."""
    opening = job.record.opening
    words = f"{opening.profile_text} {opening.tractor_text} {opening.customer} {session.who} SAMPLE "
    words += " ".join(file.read_text("utf-8") for file in (session.profiles / "answers").glob("*.toml"))
    words += " ".join(slot.place for slot in job.assessment.states)  # codes such as LA07
    words += " ".join(file.stem for file in session.profiles.rglob("*.toml"))
    # units of the closed table, the month of the clock, languages by their own names
    words += " ha Apr English Deutsch français polski " + " ".join(u for kind in Kind for u in units_of(kind))
    # a standard is cited by the title it has
    words += " ISO DIN EN contacts of the seven-pin connector"
    return set(WORD.findall(words))


def untranslated(page: QWidget, known: set[str]) -> set[tuple[str, str]]:
    widgets = [page, *page.findChildren(QWidget)]
    return {
        (word, text[:90])
        for widget in widgets
        if not (widget.objectName() or "").startswith("qt_")
        for text in shown(widget)
        for word in bare(text) - known
    }


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("machine", [0, 1])
def test_that_every_text_of_a_step_goes_through_the_catalogue(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], pseudo: Language, step: str, machine: int
) -> None:
    session.language = pseudo
    job = start(machine, "" if machine else "half-done.toml")
    known = data_words(job, session)
    missed: set[tuple[str, str]] = set()
    for read in (False, True):
        if read:
            job.read_caution(step, "Technician One")
        for slot in some_of_each_field(job, step) if read else some_of_each_field(job, step)[:1]:
            page = StepPage(session, job, slot)
            missed |= untranslated(page, known)
            page.deleteLater()
    assert missed == set()


@pytest.mark.parametrize("filled", ["healthy.toml", "half-done.toml"])
def test_that_every_text_around_the_steps_goes_through_the_catalogue(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], pseudo: Language, filled: str
) -> None:
    session.language = pseudo
    job = start(0, filled)
    known = data_words(job, session)
    page = JobPage(session, job)
    qtbot.addWidget(page)
    signing = SigningPage(session, job)
    qtbot.addWidget(signing)
    page.plan_view.setFocus(Qt.FocusReason.TabFocusReason)
    for one in (page, signing):
        assert untranslated(one, known) == set()
    assert bare(page.plan_view.line()) - known == set()


def test_that_every_text_of_the_first_pages_goes_through_the_catalogue(
    qtbot: QtBot, session: Session, start: Callable[..., OpenJob], pseudo: Language
) -> None:
    session.language = pseudo
    job = start()
    for page in (StartPage(session), NewJobPage(session)):
        qtbot.addWidget(page)
        assert untranslated(page, data_words(job, session)) == set()


def test_that_every_verdict_is_told_in_words(qtbot: QtBot, session: Session, job: OpenJob) -> None:
    page = StepPage(session, job, next(iter(job.assessment.states)))
    qtbot.addWidget(page)
    spoken = page.tasks.model().index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert str(spoken).endswith(str(Verdict.NOT_YET.word))
