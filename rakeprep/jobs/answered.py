"""What was answered, in a few words."""

from __future__ import annotations

from rakeprep.model.entry import Entry, How
from rakeprep.model.field import Ask, Field
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, verbatim

NONE = msg("none")
DONE = msg("done")


def shown_value(field: Field, entry: Entry | None) -> Message:
    """What was entered, as it was typed; options by their words."""
    if entry is None:
        return verbatim("")
    if entry.how is How.ABSENT:
        return Verdict.ABSENT.word
    if field.ask in {Ask.CHOICE, Ask.MANY}:
        labels = [o.label for o in field.options if o.key in entry.chosen]
        if not labels:
            return NONE
        return (
            labels[0] if len(labels) == 1 else msg("{first} + {more}", first=labels[0], more=len(labels) - 1)
        )
    if field.ask is Ask.DONE:
        return DONE
    if field.ask is Ask.PHOTO:
        return verbatim(entry.reason)
    return verbatim(with_unit(field, entry))


def with_unit(field: Field, entry: Entry) -> str:
    """A reading as it was typed, with the unit it was taken in even where that was only assumed."""
    bare = not any(c.isalpha() or c in "°'\"%" for c in entry.typed)
    if field.ask is Ask.QUANTITY and entry.unit and bare:
        return f"{entry.typed} {entry.unit}"
    return entry.typed
