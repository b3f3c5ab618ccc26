"""What stands at a place, and what stood there before."""

from __future__ import annotations

from rakeprep.jobs.answered import shown_value
from rakeprep.model.entry import Entry
from rakeprep.model.field import Ask, Field
from rakeprep.text import Message, joined, msg, verbatim

SHOWN = 3  # earlier answers; all of them are on the paper


def said_before(field: Field, history: tuple[Entry, ...]) -> Message:
    """Who entered what is there, and when; then the answers before it, the latest first."""
    if not history:
        return verbatim("")
    lines = [circumstances(field, history[-1])]
    lines += [
        msg("before: {value} · {said}", value=shown_value(field, entry), said=circumstances(field, entry))
        for entry in reversed(history[:-1][-SHOWN:])
    ]
    return joined(lines, by="\n")


def circumstances(field: Field, entry: Entry) -> Message:
    """By whom, when, with what, confirmed by whom, and why."""
    parts = [msg("{who}, {at}", who=entry.who, at=entry.at.astimezone())]
    if entry.instrument:
        parts.append(msg("with {instrument}", instrument=entry.instrument))
    if entry.confirmed_by:
        parts.append(msg("confirmed by {name}", name=entry.confirmed_by))
    if entry.reason and field.ask is not Ask.PHOTO:
        parts.append(verbatim(entry.reason))
    return joined(parts, by=" · ")
