"""What the checks say about the task in hand: verdict, sentence, what to do, and the working."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from rakeprep.jobs.assess import Assessment, State
from rakeprep.model.finding import Finding
from rakeprep.model.job import Record
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.labels import wrapped
from rakeprep.ui.session import Session
from rakeprep.ui.symbols import Symbol
from rakeprep.ui.theme import finding_name

SHOW_WORKING = msg("show the working")
HIDE_WORKING = msg("hide the working")


class FindingCard(QFrame):
    """One finding."""

    def __init__(self, session: Session, finding: Finding) -> None:
        super().__init__()
        self.setObjectName(finding_name(finding.verdict))
        symbol = Symbol(session.theme, session.language)
        symbol.show_verdict(finding.verdict)
        said = session.say(msg("{verdict}: {says}", verdict=finding.verdict.word, says=finding.says))
        says = wrapped(said[:1].upper() + said[1:], "verdict")
        column = QVBoxLayout()
        column.setSpacing(4)
        column.addWidget(says)
        if finding.todo is not None:
            column.addWidget(wrapped(session.say(finding.todo)))
        row = QHBoxLayout(self)
        row.setContentsMargins(10, 8, 10, 8)
        row.setSpacing(10)
        row.addWidget(symbol, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(column, 1)
        self._add_working(session, finding, column)
        self.setAccessibleName(says.text())

    def _add_working(self, session: Session, finding: Finding, column: QVBoxLayout) -> None:
        if not finding.working and finding.source is None:
            return
        working = wrapped("", "quiet")
        working.hide()
        column.addWidget(working)
        button = key(session.say(SHOW_WORKING), "small")
        button.setCheckable(True)

        def toggled(shown: bool) -> None:
            working.setText("\n".join(session.say(line) for line in worked_out(finding)))
            working.setVisible(shown)
            button.setText(session.say(HIDE_WORKING if shown else SHOW_WORKING))

        button.toggled.connect(toggled)
        column.addWidget(button, 0, Qt.AlignmentFlag.AlignRight)


def worked_out(finding: Finding) -> list[Message]:
    """The working of a finding, and where its limit is from."""
    source = finding.source
    return [*finding.working, *([] if source is None else [msg("Limit from: {source}", source=source.said)])]


class FindingsPanel(QWidget):
    """All that is said about one task."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self.cards: list[FindingCard] = []
        self.setAccessibleName(session.say(msg("What the checks say")))

    def show_state(self, state: State, assessment: Assessment, record: Record) -> None:
        """Show a task's findings, why it is out of date, and what was left or is still missing."""
        for card in self.cards:
            self._column.removeWidget(card)
            card.hide()
            card.deleteLater()
        self.cards = [FindingCard(self._session, found) for found in cards(state, assessment, record)]
        for card in self.cards:
            self._column.addWidget(card)


def cards(state: State, assessment: Assessment, record: Record) -> list[Finding]:
    """What there is to show, worst first; marks of the record are shown in the same way."""
    slot = state.task.slot
    found = [f for f in assessment.findings if slot in f.about]
    if state.stale is not None:
        again = msg("Enter it again; press Enter if the reading is the same.")
        found.append(Finding(Verdict.OUT_OF_DATE, (slot,), state.stale, again))
    if state.unconfirmed:
        found.append(Finding(Verdict.NOT_YET, (slot,), SECOND_NAME, SECOND_LOOK))
    later = record.later.get(slot)
    if later is not None and state.open_point:
        says: Message = msg("Left as an open point by {who}: {reason}", who=later.who, reason=later.reason)
        due = msg("Due: {due}", due=later.due) if later.due else None
        found.append(Finding(Verdict.NOT_YET, (slot,), says, due))
    entry = record.entries.get(slot)
    if state.verdict is Verdict.ABSENT and entry is not None:
        found.append(
            Finding(Verdict.ABSENT, (slot,), msg("{who}: {reason}", who=entry.who, reason=entry.reason))
        )
    return sorted(found, key=lambda f: -f.verdict.rank)


SECOND_NAME = msg("A second name is needed: this cannot be undone.")
SECOND_LOOK = msg("Let somebody else look at it with his own eyes and confirm.")
