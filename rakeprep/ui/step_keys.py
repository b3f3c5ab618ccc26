"""The fifteen steps as keys, each with the symbol of how it stands."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget

from rakeprep.jobs.assess import Assessment
from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.session import Session
from rakeprep.ui.symbols import symbol_icon

ACROSS = 3
LETTERS = 12  # px in every size: three keys stand beside each other


class StepKeys(QWidget):
    """Choose a step; any can be opened at any time."""

    chosen = Signal(str)

    def __init__(self, session: Session, assessment: Assessment) -> None:
        super().__init__()
        self._session = session
        self._keys: dict[str, QPushButton] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(4)
        down = -(-len(assessment.steps) // ACROSS)
        for number, step in enumerate(assessment.steps):
            one = key(f"{number + 1}  {session.say(step.title)}", "step")
            one.setCheckable(True)
            one.setIconSize(QSize(18, 18))
            one.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            one.setStyleSheet(
                "QPushButton#step { text-align: left; padding: 2px 3px; font-weight: normal;"
                f" font-size: {LETTERS}px; min-height: {max(28, session.size.row - 2)}px; }}"
            )
            one.clicked.connect(lambda _=False, name=step.key: self.chosen.emit(name))
            self._keys[step.key] = one
            grid.addWidget(one, number % down, number // down)

    def show_job(self, assessment: Assessment, current: str) -> None:
        """Show how every step stands, and which one is open."""
        say = self._session.say
        for step in assessment.steps:
            one, verdict = self._keys[step.key], assessment.verdict(step.key)
            one.setIcon(symbol_icon(verdict, self._session.theme, 18))
            one.setChecked(step.key == current)
            one.setAccessibleName(say(msg("{step}: {verdict}", step=step.title, verdict=verdict.word)))
