"""The fifteen steps as keys, each with the symbol of how it stands."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget

from rakeprep.jobs.assess import Assessment
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.session import Session
from rakeprep.ui.symbols import symbol_icon

ACROSS = 3
SMALLEST = 11  # px; letters of a key shrink to this before a word is broken
BESIDE = 36  # px of a key that its words cannot have: symbol, padding and frame


class StepKeys(QWidget):
    """Choose a step; any can be opened at any time."""

    chosen = Signal(str)

    def __init__(self, session: Session, assessment: Assessment, width: int) -> None:
        super().__init__()
        self._session = session
        self._keys: dict[str, QPushButton] = {}
        self._shown: dict[str, Verdict] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(4)
        down = -(-len(assessment.steps) // ACROSS)
        titles = [f"{step.order}  {session.say(step.title)}" for step in assessment.steps]
        room = (width - 4 * (ACROSS - 1)) // ACROSS - BESIDE
        letters = letters_for(titles, self.font(), round(session.size.text * 0.86), room)
        self.setStyleSheet(
            "QPushButton#step { text-align: left; padding: 1px 3px; font-weight: normal; min-width: 0px;"
            f" font-size: {letters}px; min-height: {max(session.size.row - 4, 26)}px; }}"
        )
        for number, (step, words) in enumerate(zip(assessment.steps, titles, strict=True)):
            one = key(words, "step")
            one.setCheckable(True)
            one.setIconSize(QSize(18, 18))
            policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.MinimumExpanding)
            policy.setHeightForWidth(True)
            one.setSizePolicy(policy)
            one.clicked.connect(lambda _=False, name=step.key: self.chosen.emit(name))
            self._keys[step.key] = one
            grid.addWidget(one, number % down, number // down)
        for column in range(ACROSS):
            grid.setColumnStretch(column, 1)

    def show_job(self, assessment: Assessment, current: str) -> None:
        """Show how every step stands, and which one is open."""
        say = self._session.say
        for step in assessment.steps:
            one, verdict = self._keys[step.key], assessment.verdict(step.key)
            one.setChecked(step.key == current)
            if self._shown.get(step.key) is verdict:
                continue
            self._shown[step.key] = verdict
            one.setIcon(symbol_icon(verdict, self._session.theme, 18))
            one.setAccessibleName(say(msg("{step}: {verdict}", step=step.title, verdict=verdict.word)))


def letters_for(titles: list[str], font: QFont, usual: int, room: int) -> int:
    """The largest size of letters, no larger than usual, in which every single word has room."""
    fitting = QFont(font)
    words = {word for title in titles for word in title.split()}
    for size in range(usual, SMALLEST, -1):
        fitting.setPixelSize(size)
        if max(QFontMetrics(fitting).horizontalAdvance(word) for word in words) <= room:
            return size
    return SMALLEST
