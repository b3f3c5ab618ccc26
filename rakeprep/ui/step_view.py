"""How the page of a step is laid out: head, cautions, tasks, the work on one of them, and keys."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rakeprep.model.step import Step
from rakeprep.text import Message, msg
from rakeprep.ui.cautions import CautionBand
from rakeprep.ui.fields.editor import key
from rakeprep.ui.fields.pad import Pad
from rakeprep.ui.findings_panel import FindingsPanel
from rakeprep.ui.flow import Upright, Yielding
from rakeprep.ui.help_drawing import HelpDrawing
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session
from rakeprep.ui.side import Side
from rakeprep.ui.under_findings import UnderFindings

LATER = msg("leave for later…")
ABSENT = msg("not on this machine…")
BACK = msg("◂ back")
NEXT = msg("next ▸")
CONFIRM = msg("confirm with a second name…")


class StepView(QWidget):
    """The widgets of the page and where they stand; what they do is up to ``StepPage``."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("page")
        self.session = session
        self._last = wrapped("", "quiet")
        self._band: CautionBand | None = None
        self._build()

    def _build(self) -> None:
        self._title = QLabel()
        self._title.setObjectName("title")
        self._number = QLabel()
        self._number.setObjectName("quiet")
        self._about = wrapped("", "quiet")
        head = QHBoxLayout()
        head.setSpacing(14)
        head.addWidget(self._title)
        head.addWidget(self._number, 0, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self._about, 1, Qt.AlignmentFlag.AlignBottom)
        self.side = Side(self.session)
        self.tasks = self.side.tasks
        whole = Yielding()
        body = QHBoxLayout(whole)
        body.setContentsMargins(0, 0, 0, 0)
        body.setSpacing(12)
        body.addWidget(self.side, 5)
        body.addWidget(self._scrolled(), 7)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(8)
        column.addLayout(head)
        self._band_place = QVBoxLayout()
        column.addLayout(self._band_place)
        column.addWidget(whole, 1)
        column.addLayout(self._buttons())
        self._build_work()

    def _scrolled(self) -> Upright:
        """The question with its editor and findings; it scrolls, so that no page widens the window."""
        inside = QWidget()
        inside.setObjectName("page")
        self._work = QVBoxLayout(inside)
        self._work.setContentsMargins(0, 0, 8, 0)
        self._work.setSpacing(8)
        self.area = Upright(inside)
        self.area.setAccessibleName(self.session.say(msg("The task in hand")))
        return self.area

    def _build_work(self) -> None:
        self._question = wrapped("", "question")
        self._where = wrapped("", "quiet")
        self._help = wrapped("")
        self._refusal = wrapped("", "refusal")
        self._refusal.hide()
        self._editor_place = QVBoxLayout()
        self._findings = FindingsPanel(self.session)
        self.under = UnderFindings(self.session)
        self._drawing = HelpDrawing(self.session)
        words = QVBoxLayout()
        words.setSpacing(6)
        for label in (self._question, self._where, self._help):
            words.addWidget(label)
        words.addStretch()
        asked = QHBoxLayout()
        asked.setSpacing(10)
        asked.addLayout(words, 1)
        asked.addWidget(self._drawing, 0, Qt.AlignmentFlag.AlignTop)
        self._work.addLayout(asked)
        self._work.addLayout(self._editor_place)
        self.pad = Pad(self.session)
        for widget in (self._refusal, self._findings, self.under, self.pad, self._last):
            self._work.addWidget(widget)
        self._work.addStretch(1)

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        self._back = self._button(BACK)
        self._later = self._button(LATER)
        self._absent = self._button(ABSENT)
        self._confirm = self._button(CONFIRM)
        self._next = self._button(NEXT)
        self._next.setObjectName("forward")
        self._back.setShortcut("Alt+Left")
        self._next.setShortcut("Alt+Right")
        for button in (self._back, self._later, self._absent):
            row.addWidget(button)
        row.addStretch()
        for button in (self._confirm, self._next):
            row.addWidget(button)
        return row

    def _button(self, text: Message) -> QPushButton:
        return key(self.session.say(text))

    @contextmanager
    def laid_out_once(self) -> Iterator[None]:
        """Qt lays the whole page out for every widget that comes into sight; here once, when all is done."""
        layouts = (self._column, self._work)
        for layout in layouts:
            layout.setEnabled(False)
        try:
            yield
        finally:
            for layout in layouts:
                layout.setEnabled(True)

    def show_step(self, step: Step, number: int, of: int) -> None:
        """Title and cautions of a step."""
        say = self.session.say
        self._title.setText(say(step.title))
        self._number.setText(say(msg("{n} of {all}", n=number, all=of)))
        self._about.setText(say(step.about))
        if self._band is not None:
            self._band.hide()
            self._band.deleteLater()
        self._band = CautionBand(self.session, step)
        self._band_place.addWidget(self._band)
        self.area.verticalScrollBar().setValue(0)
