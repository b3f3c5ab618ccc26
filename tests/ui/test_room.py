"""Everything on every page has room: no words are cut, no target is too small for a glove."""

from __future__ import annotations

import gettext
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QTextDocument
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSlider,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QScrollArea,
    QStyle,
    QStyleOptionButton,
    QStyleOptionFrame,
    QWidget,
)

from rakeprep.jobs.assess import Task
from rakeprep.model.field import Ask
from rakeprep.text import Language
from rakeprep.ui.fields.written import Number
from rakeprep.ui.flow import Roomy
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.labels import Cut
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.theme import DESK, DIM, GLOVES, Size
from rakeprep.ui.window import Window

GLOVE = 20 / 25.4 * 96  # px in 20 mm at 96 dots per inch, worked by hand


class Longest(gettext.NullTranslations):
    """A language in which every message is said in whichever catalogue needs most letters for it."""

    def __init__(self, known: list[Language]) -> None:
        super().__init__()
        self._known = [language.catalogue for language in known]

    def gettext(self, message: str) -> str:
        return max((one.gettext(message) for one in self._known), key=len)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return max((one.ngettext(msgid1, msgid2, n) for one in self._known), key=len)


@pytest.fixture(scope="module")
def longest(scenes) -> Language:  # type: ignore[no-untyped-def]
    return Language("en", Longest(list(scenes.known_languages().values())))


def seen(top: QWidget) -> Iterator[QWidget]:
    """Every widget that is shown, or would be after scrolling up or down."""
    for widget in top.findChildren(QWidget):
        name = widget.objectName()
        if widget.isVisible() and not name.startswith("qt_"):
            yield widget


def lacking(widget: QWidget) -> str:
    """What of a widget's words has no room; nothing if all has."""
    match widget:
        case Cut():
            return ""  # made to be cut: the title of the job, which every page of it has
        case QLabel() if widget.text():
            return label_lacks(widget)
        case QPushButton() if widget.text():
            return button_lacks(widget)
        case QLineEdit() if not isinstance(widget.parent(), QComboBox):
            return line_lacks(widget)
        case QComboBox():
            words = widget.currentText()
            room = widget.width() - 16 - 26 - 4  # padding and arrow of the style sheet, frame
            needed = widget.fontMetrics().horizontalAdvance(words)
            return f"{words!r} needs {needed} of {room}" if needed > room else ""
    return ""


def label_lacks(label: QLabel) -> str:
    inside = label.contentsRect()
    if label.textFormat() is Qt.TextFormat.RichText:
        document = QTextDocument()
        document.setDefaultFont(label.font())
        document.setHtml(label.text())
        document.setDocumentMargin(0)
        document.setTextWidth(inside.width())
        wide, high = document.idealWidth(), document.size().height()
    else:
        flags = Qt.TextFlag.TextWordWrap if label.wordWrap() else Qt.TextFlag.TextSingleLine
        room = QRect(0, 0, inside.width(), 1 << 16)
        if not label.wordWrap() and "\n" in label.text():
            flags = Qt.TextFlag(0)
        needed = label.fontMetrics().boundingRect(room, int(flags), label.text())
        wide, high = needed.width(), needed.height()
    if wide > inside.width() + 1 or high > inside.height() + 1:
        return f"{label.text()!r} needs {wide}×{high} of {inside.width()}×{inside.height()}"
    return ""


def button_lacks(button: QPushButton) -> str:
    option = QStyleOptionButton()
    button.initStyleOption(option)
    room = button.style().subElementRect(QStyle.SubElement.SE_PushButtonContents, option, button)
    wide = room.width() - (0 if button.icon().isNull() else button.iconSize().width() + 4)
    flags = int(Qt.TextFlag.TextWordWrap) if button.hasHeightForWidth() else 0
    needed = button.fontMetrics().boundingRect(QRect(0, 0, wide, 1 << 16), flags, button.text())
    if needed.width() > wide + 1 or needed.height() > button.height() - 2:
        return f"{button.text()!r} needs {needed.width()}×{needed.height()} of {wide}×{button.height()}"
    return ""


def line_lacks(line: QLineEdit) -> str:
    option = QStyleOptionFrame()
    line.initStyleOption(option)
    room = line.style().subElementRect(QStyle.SubElement.SE_LineEditContents, option, line)
    words = line.placeholderText()
    needed = line.fontMetrics().horizontalAdvance(words) + 4  # the cursor's margin at both ends
    if needed > room.width() or line.fontMetrics().height() > room.height() + 1:
        return f"{words!r} needs {needed} of {room.width()}×{room.height()}"
    return ""


def outside(widget: QWidget, window: Window) -> str:
    """Whether a widget is cut by what it stands in; up and down one can scroll."""
    parent = widget.parentWidget()
    box = QRect(QPoint(0, 0), widget.size())
    while parent is not None and parent is not window:
        box = QRect(widget.mapTo(parent, QPoint(0, 0)), widget.size())
        if box.left() < 0 or box.right() > parent.width():
            return f"{widget} stands out of {parent} by {max(-box.left(), box.right() - parent.width())} px"
        area = parent.parentWidget()
        if isinstance(area, QScrollArea) and area.viewport() is parent:
            widget, parent = area, area.parentWidget()
            continue
        if box.top() < 0 or box.bottom() > parent.height():
            return f"{widget} stands out of {parent} by {max(-box.top(), box.bottom() - parent.height())} px"
        parent = parent.parentWidget()
    return ""


def fields_of(window: Window, page: str) -> Iterator[None]:
    """Where the page is a step's: the question of which most is said, and of every kind of answer the first
    one, the one with most words, and the one with the longest of all options."""
    shown = window.page
    if not isinstance(shown, JobPage) or shown.at is None:
        yield
        return
    yield
    kinds: dict[Ask, list[Task]] = {}
    for state in shown.job.assessment.of_step(shown.at.step):
        kinds.setdefault(state.task.field.ask, []).append(state.task)
    say = shown.session.say
    for tasks in kinds.values():
        wordy = max(tasks, key=lambda task: len(say(task.field.label)) + len(say(task.field.help)))
        broad = max(tasks, key=lambda task: max([len(say(o.label)) for o in task.field.options], default=0))
        for slot in dict.fromkeys(task.slot for task in (tasks[0], wordy, broad)):
            shown.open(slot)
            yield


LARGER = {
    "desk": (DESK, (1366, 768)),
    "desk, 1.5 times the letters": (DESK.at(150), (1366, 768)),
    "desk, twice the letters": (DESK.at(200), (1920, 1080)),
    "gloves": (GLOVES, (1366, 768)),
    "gloves, twice the letters": (GLOVES.at(200), (1366, 768)),
}


@pytest.mark.parametrize("dress", LARGER)
def test_that_no_words_are_cut_in_the_longest_language(
    scenes, longest: Language, tmp_path: Path, qapp: QApplication, dress: str
) -> None:
    size, pixels = LARGER[dress]
    cut: dict[str, str] = {}
    with scenes.window(tmp_path, scenes.Look(size=size, pixels=pixels), longest) as window:
        for page in scenes.PAGES:
            scenes.show(window, page)
            for _ in fields_of(window, page):
                scenes.settle()
                assert (window.width(), window.height()) == pixels, page
                for widget in seen(window):
                    found = lacking(widget) or outside(widget, window)
                    if found:
                        cut.setdefault(found, page)
    assert cut == {}


@pytest.mark.parametrize("theme", [DIM])
def test_that_every_control_is_large_enough_for_a_glove(
    scenes, tmp_path: Path, qapp: QApplication, theme: object
) -> None:
    small: dict[str, str] = {}
    with scenes.window(tmp_path, scenes.Look(size=GLOVES)) as window:
        for page in scenes.PAGES:
            scenes.show(window, page)
            for _ in fields_of(window, page):
                scenes.settle()
                for widget in seen(window):
                    for name, high, wide in targets(widget):
                        if min(high, wide) < GLOVE:
                            small.setdefault(f"{name}: {wide}×{high}", page)
    assert small == {}


def targets(widget: QWidget) -> Iterator[tuple[str, int, int]]:
    """Name, height and width of what can be pressed; a bar beside a list only shows where one is."""
    match widget:
        case QAbstractSlider():
            return
        case QListWidget() if widget.count():
            box = widget.visualItemRect(widget.item(0))
            yield f"row of {widget.accessibleName()}", box.height(), box.width()
        case QAbstractButton() | QComboBox() | QLineEdit():
            if isinstance(widget.parent(), QComboBox):
                return
            name = widget.text() if isinstance(widget, QAbstractButton) else widget.accessibleName()
            yield f"{type(widget).__name__} {name}", widget.height(), widget.width()


@pytest.mark.parametrize("pixels", [(1366, 768), (1920, 1080)])
def test_that_gloves_find_question_number_and_keys_without_scrolling(
    scenes, tmp_path: Path, qapp: QApplication, pixels: tuple[int, int]
) -> None:
    hidden: dict[str, str] = {}
    look = scenes.Look(size=GLOVES, language=scenes.longest_language(), pixels=pixels)
    with scenes.window(tmp_path, look) as window:
        for page in scenes.TASKS:
            scenes.show(window, page)
            for _ in fields_of(window, page):
                scenes.settle()
                step = window.page.page  # type: ignore[union-attr]
                assert isinstance(step, StepPage)
                assert scrolled(window) == [], step.slot
                if isinstance(step.editor, Number):
                    for one in (step._question, step.editor.line, step.pad.store):
                        if one.visibleRegion().boundingRect() != one.rect():
                            hidden[str(step.slot)] = str(one)
    assert hidden == {}


def scrolled(window: Window) -> list[QSize]:
    """The sizes of pages that are larger than the window."""
    pages = [(area.widget(), area.viewport().size()) for area in window.findChildren(Roomy)]
    return [
        page.size() for page, room in pages if page.width() > room.width() or page.height() > room.height()
    ]


def test_that_letters_grow_with_the_screen_and_the_wish() -> None:
    # by hand: 14 px × 150 % = 21 px; 14 px × 120 / 96 = 17.5 px, rounded to even
    assert DESK.at(150).text == 21
    assert DESK.at(100, dots=120).text == 18
    # 20 mm at 120 dots per inch are 94.5 px
    assert GLOVES.at(100, dots=120).target >= 94
    assert all(isinstance(each, Size) and each.at(100) == each for each in (DESK, GLOVES))
