"""The head of a job's page: which job it is, when something was stored last, who is working."""

from __future__ import annotations

import datetime as dt

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QFrame, QLabel, QVBoxLayout, QWidget

from rakeprep.model.job import Opening
from rakeprep.text import msg, plural
from rakeprep.ui.choice import Choice
from rakeprep.ui.fields.editor import key
from rakeprep.ui.flow import Flow
from rakeprep.ui.labels import Cut
from rakeprep.ui.look import LookKey
from rakeprep.ui.session import Session

LEAST_TITLE = 22  # heights of a letter; the title of the job beside what else stands in the head


class JobHead(QFrame):
    """``papers`` and ``close_job`` tell what was asked for."""

    papers = Signal()
    close_job = Signal()

    def __init__(self, session: Session, opening: Opening) -> None:
        super().__init__()
        self.session = session
        self.setObjectName("bar")
        say = session.say
        title = Cut(
            say(
                msg(
                    "Job {job} · {machine} · for {customer} · on {tractor}",
                    job=opening.job,
                    machine=opening.profile_name,
                    customer=opening.customer,
                    tractor=opening.tractor_name,
                )
            )
        )
        title.setStyleSheet("font-weight: bold;")
        self.stored = Cut()
        self.who = self._names()
        papers = key(say(msg("papers")), "small")
        papers.clicked.connect(self.papers)
        close = key(say(msg("close the job")), "small")
        close.clicked.connect(self.close_job)
        self._beside = QWidget()
        beside = Flow(12)
        beside.setContentsMargins(0, 0, 0, 0)
        self._beside.setLayout(beside)
        look = LookKey(session, "small")
        for widget in (QLabel(say(msg("working now:"))), self.who, look, papers, close):
            beside.addWidget(widget)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(14, 5, 10, 5)
        self._row.setSpacing(6)
        which = QVBoxLayout()
        which.setSpacing(1)
        which.addWidget(title)
        which.addWidget(self.stored)
        self._row.addLayout(which, 1)
        self._row.addWidget(self._beside)

    def _names(self) -> Choice:
        """Who works here: a name that was used before, or another."""
        who = Choice()
        who.setEditable(True)
        who.setMinimumWidth(max(170, 13 * self.session.size.text))
        who.setAccessibleName(self.session.say(msg("Who is working now")))
        who.setCompleter(None)  # type: ignore[arg-type]  # a name must not grow into another's
        who.addItems(self.session.people)
        who.setCurrentText(self.session.who)
        who.currentTextChanged.connect(self.session.works_as)
        return who

    def arrange(self, room: int) -> None:
        """Everything in one row where ``room`` pixels are enough, else the title above."""
        title_first = self._beside.sizeHint().width() + LEAST_TITLE * self.session.size.text > room
        way = QBoxLayout.Direction.TopToBottom if title_first else QBoxLayout.Direction.LeftToRight
        self._row.setDirection(way)

    def show_stored(self, at: dt.datetime, count: int) -> None:
        """When something was stored last, and how much there is."""
        self.stored.setText(
            self.session.say(
                msg(
                    "stored {at} · {count}",
                    at=f"{at.astimezone():%H:%M:%S}",
                    count=plural("one entry", "{count} entries", count),
                )
            )
        )
