"""Answers in the cells of the record."""

from __future__ import annotations

import datetime as dt

from rakeprep.handover import blocks
from rakeprep.handover.clean import ended, one_line, shortened
from rakeprep.handover.paper import NOTHING, Paper
from rakeprep.handover.places import place_name
from rakeprep.jobs.assess import State
from rakeprep.model.entry import Entry, How
from rakeprep.model.field import Ask, Field
from rakeprep.text import msg

IN_A_CELL = 160  # characters; longer words stand in full below the table


def limited(paper: Paper, text: str, longest: int = 600) -> str:
    """Text that a cell can hold."""
    kept, rest = shortened(text, longest)
    return kept if rest is None else one_line(f"{kept} {paper.say(rest)}")


def entry_cell(paper: Paper, field: Field, entry: Entry | None) -> blocks.Cell:
    """The entry as typed, and below it in both unit families."""
    if entry is None:
        return blocks.Cell(NOTHING)
    if entry.how is How.ABSENT:
        return blocks.Cell(
            paper.say(msg("not on this machine")), (limited(paper, paper.user(entry.reason), 200),)
        )
    quiet = []
    if entry.reason and field.ask is not Ask.PHOTO:
        quiet.append(paper.say(msg("reason: {reason}", reason=limited(paper, paper.user(entry.reason), 200))))
    return blocks.Cell(answered(paper, field, entry), tuple(quiet), beside=converted(paper, field, entry))


def answered(paper: Paper, field: Field, entry: Entry) -> str:
    """What was answered, in words."""
    match field.ask:
        case Ask.CHOICE | Ask.MANY:
            labels = [field.option(word) for word in entry.typed.split(", ")]
            known = [paper.say(option.label) for option in labels if option is not None]
            return ", ".join(known) or paper.user(entry.typed)
        case Ask.DATE:
            try:
                return paper.day(dt.date.fromisoformat(entry.typed))
            except ValueError:
                return paper.user(entry.typed)
        case Ask.DONE:
            return paper.say(msg("done"))
        case Ask.PHOTO:
            return paper.say(msg("picture {name}", name=limited(paper, paper.user(entry.reason), 80)))
    text = paper.user(entry.typed)
    return ended(text, IN_A_CELL)


def converted(paper: Paper, field: Field, entry: Entry) -> str:
    """A reading in the other family's unit, after its own where none was typed."""
    if field.kind is None or entry.exact is None or not entry.unit:
        return ""
    own, other = paper.both(entry.exact, field.kind, entry.unit)
    if entry.typed[-1:].isdigit():
        return f"= {own} ({other})" if other else f"= {own}"
    return f"({other})" if other else ""


def place_of(paper: Paper, state: State) -> str:
    """Question and place in words."""
    task = state.task
    if task.place.key:
        return paper.say(msg("{field}, {place}", field=task.field.label, place=place_name(paper, task.place)))
    return paper.say(task.field.label)
