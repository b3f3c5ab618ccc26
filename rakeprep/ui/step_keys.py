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
LETTERS = range(12, 8, -1)  # px, in every size: three keys stand beside each other
ROOM = 120  # px for the words of a key at the least width of the page


class StepKeys(QWidget):
    """Choose a step; any can be opened at any time."""

    chosen = Signal(str)

    def __init__(self, session: Session, assessment: Assessment) -> None:
        super().__init__()
        self._session = session
        self._keys: dict[str, QPushButton] = {}
        self._shown: dict[str, Verdict] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(4)
        down = -(-len(assessment.steps) // ACROSS)
        for number, step in enumerate(assessment.steps):
            words = f"{number + 1}  {session.say(step.title)}"
            one = key(words, "step")
            one.setCheckable(True)
            one.setIconSize(QSize(18, 18))
            one.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            letters, height = letters_for(words, self.font()), max(28, session.size.row - 2)
            one.setStyleSheet(
                "QPushButton#step { text-align: left; padding: 2px 3px; font-weight: normal;"
                f" font-size: {letters}px; min-height: {height}px; }}"
            )
            one.clicked.connect(lambda _=False, name=step.key: self.chosen.emit(name))
            self._keys[step.key] = one
            grid.addWidget(one, number % down, number // down)

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


def letters_for(words: str, font: QFont) -> int:
    """The largest size of letters in which the words have room."""
    fitting = QFont(font)
    for size in LETTERS:
        fitting.setPixelSize(size)
        if QFontMetrics(fitting).horizontalAdvance(words) <= ROOM:
            return size
    return LETTERS[-1]
