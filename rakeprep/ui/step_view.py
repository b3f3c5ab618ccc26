"""How the page of a step is laid out: head, cautions, tasks, the work on one of them, and keys."""

from __future__ import annotations

from contextlib import AbstractContextManager

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from rakeprep.model.step import Step
from rakeprep.text import Message, msg
from rakeprep.ui.cautions import CautionBand
from rakeprep.ui.fields.editor import key
from rakeprep.ui.fields.pad import Pad
from rakeprep.ui.findings_panel import FindingsPanel
from rakeprep.ui.flow import Upright, Yielding, laid_out_once
from rakeprep.ui.help_drawing import HelpDrawing
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session
from rakeprep.ui.side import Side
from rakeprep.ui.under_findings import UnderFindings

LATER = msg("leave for later…")
ABSENT = msg("not on this machine…")
BACK = msg("◂ back")
NEXT = msg("next ▸")
LARGE_LETTERS = 150  # percent; title and keys have no room beside each other
PAD_SHARE = 0.26  # of the height of a window; beside a pad with more there is no room for a picture
CONFIRM = msg("confirm with a second name…")


class StepView(QWidget):
    """The widgets of the page and where they stand; what they do is up to ``StepPage``."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._last = wrapped("", "quiet")
        self._band: CautionBand | None = None
        self._bands: dict[str, CautionBand] = {}
        self._build()

    def _build(self) -> None:
        self._title = QLabel()
        self._title.setObjectName("title")
        self._number = QLabel()
        self._number.setObjectName("quiet")
        self._about = wrapped("", "quiet")
        head = QHBoxLayout()
        head.setSpacing(14)
        named = QVBoxLayout()
        named.setSpacing(0)
        named.addStretch()
        named.addWidget(self._title)
        named.addWidget(self._number)
        named.addStretch()
        head.addLayout(named)
        head.addWidget(self._about, 1)
        self.side = Side(self.session)
        self.tasks = self.side.tasks
        if self.session.size.percent < LARGE_LETTERS:
            head.addWidget(self.side.keys)
        else:
            self.side.keep_keys()
        whole = Yielding()
        body = QHBoxLayout(whole)
        body.setContentsMargins(0, 0, 0, 0)
        body.setSpacing(12)
        body.addWidget(self.side, 5)
        body.addWidget(self._scrolled(), 7)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 14, 8)
        column.setSpacing(6)
        column.addLayout(head)
        self._band_place = QVBoxLayout()
        column.addLayout(self._band_place)
        column.addWidget(whole, 1)
        column.addLayout(self._buttons())
        self._build_work()

    def _scrolled(self) -> Upright:
        """The question with its editor and findings; it scrolls, so that no page widens the window."""
        inside = self._inside = QWidget()
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
        for widget in (self._refusal, self._findings, self.pad, self.under, self._last):
            self._work.addWidget(widget)
        self._work.addStretch(1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keys for gloves stand beside the question, so that it, its number and they are seen at once."""
        super().resizeEvent(event)
        size = self.session.size
        alone = 3 * size.key > PAD_SHARE * self.window().height()
        if size.gloved and not self.side.lodges(self.pad, alone):
            wanted = not self.pad.isHidden()
            self.side.lodge(self.pad, alone)
            self.show_pad(wanted)

    def show_pad(self, wanted: bool) -> None:
        """Show the keys for a number, or do not."""
        self.pad.setVisible(wanted)
        self.side.show_pad(wanted)

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

    def laid_out_once(self) -> AbstractContextManager[None]:
        """Lay the page out once, when all is done."""
        return laid_out_once(self._inside, self.area, self.side)

    def show_step(self, step: Step, number: int, of: int) -> None:
        """Title and cautions of a step."""
        say = self.session.say
        self._title.setText(say(step.title))
        self._number.setText(say(msg("{n} of {all}", n=number, all=of)))
        self._about.setText(say(step.about))
        if self._band is not None:
            self._band.hide()
        if step.key not in self._bands:  # kept, since they are long to lay out
            self._bands[step.key] = CautionBand(self.session, step)
            self._band_place.addWidget(self._bands[step.key])
        self._band = self._bands[step.key]
