"""The papers beside the document: empty forms, stickers, a list for the parts counter, a table."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rakeprep.handover import papers
from rakeprep.handover.papers import WHICH_WORDS, Which, Wish
from rakeprep.jobs.open_job import OpenJob
from rakeprep.text import ENGLISH, Message, msg
from rakeprep.ui.choice import Choice
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import beside, wrapped
from rakeprep.ui.making import BEING_WRITTEN, Making
from rakeprep.ui.right_names import CORRECT_NAMES, put_right
from rakeprep.ui.session import Session

FOLDER = msg("Folder for the paper")
STEP, LANGUAGE = msg("Forms of which step"), msg("Language of the paper")


class PapersPage(QWidget):
    """Choose a paper and make it; ``closed`` goes back to the task in hand, ``renamed`` tells that a name of
    the job is another one now."""

    closed = Signal()
    renamed = Signal()

    def __init__(self, session: Session, job: OpenJob, step: str = "") -> None:
        super().__init__()
        self.session, self.job = session, job
        self.making: Making | None = None
        say = session.say
        title = QLabel(say(msg("Papers")))
        title.setObjectName("title")
        self.list = QListWidget()
        self.list.setAccessibleName(say(msg("Papers")))
        self.list.setWordWrap(True)
        self.list.setSpacing(2)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for which, words in WHICH_WORDS.items():
            item = QListWidgetItem(say(words))
            item.setData(Qt.ItemDataRole.UserRole, which)
            self.list.addItem(item)
        self.step, self.language = self._steps(step), self._languages()
        self.missing = QCheckBox(say(msg("only what is still missing")))
        self.result = wrapped("", "heading")
        self.result.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.make = key(say(msg("make the paper")), "forward")
        self.make.clicked.connect(self.begin)
        back = key(say(msg("◂ back")))
        back.clicked.connect(self.closed)
        self.names = key(say(CORRECT_NAMES), "small")
        self.names.clicked.connect(self._correct_names)
        self.names.setVisible(job.record.sealed is None and not job.file.restored)
        self._form = QFormLayout()
        self._form.setVerticalSpacing(8)
        for text, box in ((LANGUAGE, self.language), (STEP, self.step)):
            box.setAccessibleName(say(text))
            label = beside(say(text), session.size)
            label.setBuddy(box)
            self._form.addRow(label, box)
        self._form.addRow("", self.missing)
        row = QHBoxLayout()
        row.addWidget(back)
        row.addWidget(self.names)
        row.addStretch()
        row.addWidget(self.make)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(10)
        column.addWidget(title)
        column.addWidget(self.list, 1)
        column.addLayout(self._form)
        column.addWidget(self.result)
        column.addLayout(row)
        self.list.currentItemChanged.connect(self._show_rows)
        self.list.setCurrentRow(0)

    def _steps(self, now: str) -> Choice:
        """All steps, or one; the one in hand is chosen."""
        box = Choice()
        box.addItem(self.session.say(msg("all steps")), "")
        for each in self.job.assessment.steps:
            box.addItem(self.session.say(each.title), each.key)
        box.setCurrentIndex(max(box.findData(now), 0))
        return box

    def _languages(self) -> Choice:
        """Every language that the program knows, by its own name; the job's is chosen."""
        box = Choice()
        for code, language in self.session.languages.items():
            box.addItem(language.locale.name, code)
        box.setCurrentIndex(max(box.findData(self.job.record.opening.paper_language), 0))
        return box

    def focus_first(self) -> None:
        """Put the keyboard where the work begins."""
        self.list.setFocus()

    def put_away(self) -> None:
        """Nothing to keep: a paper that is being made is written all the same."""

    def _show_rows(self) -> None:
        """Only forms are made step by step."""
        forms = self.which is Which.FORMS
        self._form.setRowVisible(self.step, forms)
        self._form.setRowVisible(self.missing, forms)
        self.result.setText("")

    @property
    def which(self) -> Which:
        """The paper that is chosen."""
        return Which(self.list.currentItem().data(Qt.ItemDataRole.UserRole))

    @property
    def wish(self) -> Wish:
        """What is wanted."""
        if self.which is not Which.FORMS:
            return Wish(self.which)
        step: str = self.step.currentData()
        return Wish(self.which, (step,) if step else (), self.missing.isChecked())

    def _correct_names(self) -> None:
        if put_right(self.session, self.job):
            self.renamed.emit()

    def begin(self) -> None:
        """Make the paper on another thread; the job itself is only touched on this one."""
        folder = self.session.dialogs.folder(FOLDER, self.session.data / "documents")
        if folder is None:
            return
        language = self.session.languages.get(self.language.currentData(), ENGLISH)
        paper = papers.of_job(self.job, language)
        self.make.setEnabled(False)
        self.result.setText(self.session.say(BEING_WRITTEN))
        wish = self.wish
        self.making = Making(lambda: papers.write(paper, wish, folder))
        self.making.ended.connect(self._ended)
        self.making.start()

    def _ended(self, says: Message) -> None:
        self.make.setEnabled(True)
        self.result.setText(self.session.say(says))
