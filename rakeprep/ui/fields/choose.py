"""The editor for a task."""

from __future__ import annotations

from rakeprep.jobs.assess import Task
from rakeprep.model.entry import Entry, How
from rakeprep.model.field import Ask
from rakeprep.ui.fields.editor import Editor
from rakeprep.ui.fields.picked import Done, Picked
from rakeprep.ui.fields.picture import Picture
from rakeprep.ui.fields.written import Day, Number, Words
from rakeprep.ui.session import Session

EDITORS: dict[Ask, type[Editor]] = {
    Ask.QUANTITY: Number,
    Ask.COUNT: Number,
    Ask.CHOICE: Picked,
    Ask.MANY: Picked,
    Ask.TEXT: Words,
    Ask.DATE: Day,
    Ask.DONE: Done,
    Ask.PHOTO: Picture,
}


def editor_for(session: Session, task: Task, entry: Entry | None) -> Editor:
    """The editor for a task, showing what was entered before."""
    shown = entry if entry is not None and entry.how is How.VALUE else None
    return EDITORS[task.field.ask](session, task, shown)
