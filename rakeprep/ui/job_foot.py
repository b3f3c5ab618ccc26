"""The foot of a job's page: what stands before the gate, and where to go next."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from rakeprep.jobs.assess import Gate, Readiness
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.flow import Flow
from rakeprep.ui.labels import Line
from rakeprep.ui.session import Session
from rakeprep.ui.symbols import Symbol

SHOWN = (Verdict.STOP, Verdict.PUT_RIGHT, Verdict.MEASURE_AGAIN, Verdict.OUT_OF_DATE, Verdict.NOT_YET)
READINESS = {
    Readiness.NOT_READY: msg("Before this machine may go:"),
    Readiness.OPEN_POINTS: msg("Ready with open points"),
    Readiness.READY: msg("Ready"),
}


class JobFoot(QFrame):
    """``sums``, ``useful`` and ``sign`` tell where somebody wants to go."""

    sums = Signal()
    useful = Signal()
    sign = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.setObjectName("foot")
        self._gate = QLabel()
        self._gate.setStyleSheet("font-weight: bold;")
        before = Flow(10)
        before.setContentsMargins(0, 0, 0, 0)
        before.addWidget(self._gate)
        self._counts = {verdict: self._count(verdict) for verdict in SHOWN}
        for pair, _ in self._counts.values():
            before.addWidget(pair)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(14, 6, 10, 6)
        self._row.setSpacing(8)
        middle = QVBoxLayout()
        middle.addStretch()
        middle.addLayout(before)
        middle.addStretch()
        self._row.addLayout(middle, 1)
        self._keys = QHBoxLayout()
        self._keys.setSpacing(8)
        for words, wanted in (
            (msg("work something out"), self.sums),
            (msg("next useful thing ▸"), self.useful),
            (msg("handover ▸"), self.sign),
        ):
            button = key(session.say(words), "small")
            button.clicked.connect(wanted)
            self._keys.addWidget(button)
        self._row.addLayout(self._keys)

    def _count(self, verdict: Verdict) -> tuple[QWidget, Line]:
        """Room for how often a verdict stands before the gate."""
        pair, symbol, label = QWidget(), Symbol(self.session.theme, self.session.language, 20), Line()
        symbol.show_verdict(verdict)
        beside = QHBoxLayout(pair)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(8)
        beside.addWidget(symbol)
        beside.addWidget(label)
        return pair, label

    def arrange(self, across: bool) -> None:
        """The keys beside what stands before the gate, or below it over the whole width."""
        way = QBoxLayout.Direction.LeftToRight if across else QBoxLayout.Direction.TopToBottom
        self._row.setDirection(way)
        for number in range(self._keys.count()):
            self._keys.setStretch(number, 0 if across else 1)

    def show_gate(self, gate: Gate) -> None:
        """Whether the machine may go, and how much of what stands before it."""
        say = self.session.say
        self._gate.setText(say(READINESS[gate.readiness]))
        counted = Counter(obstacle.verdict for obstacle in gate.obstacles)
        for verdict, (pair, label) in self._counts.items():
            label.setText(say(msg("{count} {word}", count=counted[verdict], word=verdict.word)))
            pair.setVisible(counted[verdict] > 0)
