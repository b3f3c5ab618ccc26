"""A new job: machine, tractor, customer, order, technician, languages."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from rakeprep.jobs.open_job import OpenJob, UnreadableData
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.starting import DataRefused, new_job
from rakeprep.profiles import sample_machines, sample_tractors
from rakeprep.store.job_file import StoreError
from rakeprep.text import Message, msg
from rakeprep.ui.choice import Choice
from rakeprep.ui.data_files import file_box, own_files, with_browse
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session

MACHINE = msg("Machine data")
TRACTOR = msg("Customer's tractor")
CUSTOMER = msg("Customer")
ORDER = msg("Order number")
TECHNICIAN = msg("Technician (your name)")
SCREEN = msg("Language on the screen")
PAPER = msg("Language on the customer's paper")
LANGUAGE_NAMES = {"en": "English", "de": "Deutsch", "pl": "polski", "fr": "français"}


class NewJobPage(QWidget):
    """The form; ``opened`` hands on the job, ``given_up`` goes back."""

    opened = Signal(object)
    given_up = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        say = session.say
        title = QLabel(say(msg("New job")))
        title.setObjectName("title")
        self.machine = file_box([*own_files(session, "machines"), *sample_machines()])
        self.tractor = file_box([*own_files(session, "tractors"), *sample_tractors()])
        self.customer, self.order, self.technician = QLineEdit(), QLineEdit(), QLineEdit(session.who)
        self.screen_language = self._languages(session.language.code)
        self.paper_language = self._languages(session.language.code)
        form = QFormLayout()
        form.setVerticalSpacing(6)
        form.setHorizontalSpacing(20)
        form.addRow(self._label(MACHINE), with_browse(session, self.machine, MACHINE))
        form.addRow(self._label(TRACTOR), with_browse(session, self.tractor, TRACTOR))
        rows: tuple[tuple[Message, QWidget], ...] = (
            (CUSTOMER, self.customer),
            (ORDER, self.order),
            (TECHNICIAN, self.technician),
            (SCREEN, self.screen_language),
            (PAPER, self.paper_language),
        )
        for text, field in rows:
            field.setAccessibleName(say(text))
            form.addRow(self._label(text), field)
        self.refusal = wrapped("", "refusal")
        self.begin = key(say(msg("begin ▸")), "forward")
        self.begin.clicked.connect(self._begin)
        back = key(say(msg("◂ back")))
        back.clicked.connect(self.given_up)
        row = QHBoxLayout()
        row.addWidget(back)
        row.addStretch()
        row.addWidget(self.begin)
        column = QVBoxLayout(self)
        column.setContentsMargins(60, 14, 60, 14)
        column.setSpacing(8)
        column.addWidget(title)
        narrower = QHBoxLayout()  # names and numbers need no line across a whole screen
        narrower.addLayout(form, 2)
        narrower.addStretch(1)
        column.addLayout(narrower)
        column.addWidget(self.refusal)
        column.addStretch()
        column.addLayout(row)

    def _label(self, text: Message) -> QLabel:
        """A label as high as the field beside it, so that both stand on one line."""
        label = QLabel(self.session.say(text))
        label.setMinimumHeight(self.session.size.row)
        return label

    def focus_first(self) -> None:
        """Put the keyboard where the work begins."""
        self.machine.setFocus()

    def take_over(self, other: NewJobPage) -> None:
        """Put in what stands in another form."""
        for mine, its in zip(self._boxes(), other._boxes(), strict=True):
            mine.clear()
            for row in range(its.count()):
                mine.addItem(its.itemText(row), its.itemData(row))
            mine.setCurrentIndex(its.currentIndex())
        for line, its_line in zip(self._lines(), other._lines(), strict=True):
            line.setText(its_line.text())
        self.refusal.setText(other.refusal.text())

    def _boxes(self) -> tuple[QComboBox, ...]:
        return self.machine, self.tractor, self.screen_language, self.paper_language

    def _lines(self) -> tuple[QLineEdit, ...]:
        return self.customer, self.order, self.technician

    def _languages(self, chosen: str) -> QComboBox:
        box = Choice()
        for code in self.session.languages:
            box.addItem(LANGUAGE_NAMES.get(code, code), code)
        box.setCurrentIndex(max(box.findData(chosen), 0))
        return box

    def _begin(self) -> None:
        try:
            job = self._start()
        except (Refused, StoreError, UnreadableData, DataRefused) as error:
            self.refusal.setText(self.session.say(error.message))
            return
        self.opened.emit(job)

    def _start(self) -> OpenJob:
        machine: Path | None = self.machine.currentData()
        tractor: Path | None = self.tractor.currentData()
        if machine is None or tractor is None:
            raise Refused(msg("Choose the machine's data file and the tractor's."))
        return new_job(
            self.session.jobs,
            machine,
            tractor,
            customer=self.customer.text(),
            order=self.order.text(),
            technician=self.technician.text(),
            screen_language=self.screen_language.currentData(),
            paper_language=self.paper_language.currentData(),
            clock=self.session.clock,
        )
