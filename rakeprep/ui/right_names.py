"""Putting right the names that were written wrong when the job was opened."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtWidgets import QFormLayout, QLineEdit, QWidget

from rakeprep.jobs.names import NAME_WORDS, correct_names
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.store.job_file import StoreError
from rakeprep.text import Language, Message, msg
from rakeprep.ui.labels import level
from rakeprep.ui.session import Session

CORRECT_NAMES = msg("correct names…")
ABOUT = msg("The old name stays in the record beside the new one, and everybody signs anew.")
WHY = msg("Why, in a few words")


class NamesForm(QWidget):
    """The form inside the dialog: each name as it stands, and why it is changed."""

    def __init__(self, language: Language, now: Mapping[str, str]) -> None:
        super().__init__()
        self.lines = {of: QLineEdit(name) for of, name in now.items()}
        self.reason = QLineEdit()
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        rows: list[tuple[Message, QLineEdit]] = [(NAME_WORDS[of], line) for of, line in self.lines.items()]
        for label, line in (*rows, (WHY, self.reason)):
            line.setAccessibleName(language.say(label))
            form.addRow(level(language.say(label)), line)
        self.setMinimumWidth(460)
        self.setFocusProxy(next(iter(self.lines.values())))

    def given(self) -> tuple[dict[str, str], str]:
        """The names, and the reason."""
        return {of: line.text() for of, line in self.lines.items()}, self.reason.text()


def put_right(session: Session, job: OpenJob) -> bool:
    """Ask for the right names and store them; whether any name is another one now."""
    asked = session.dialogs.names({of: str(getattr(job.record.opening, of)) for of in NAME_WORDS})
    if asked is None:
        return False
    names, reason = asked
    try:
        return bool(correct_names(job, names, reason, session.who))
    except (Refused, StoreError) as error:
        session.dialogs.tell(error.message)
        return False
