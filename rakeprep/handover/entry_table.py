"""The table of a step: every question with what was answered at every place.

Answers to one question that are alike in everything but their place stand in one row.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import groupby

from rakeprep.handover import blocks
from rakeprep.handover.answers_shown import entry_cell, limited
from rakeprep.handover.clean import ended
from rakeprep.handover.machine_data import brief_source
from rakeprep.handover.paper import Paper, Usual
from rakeprep.handover.places import listed
from rakeprep.jobs.assess import State
from rakeprep.model.entry import Entry
from rakeprep.model.place import WHOLE
from rakeprep.text import msg, plural

Alike = tuple[blocks.Cell, blocks.Cell, tuple[str, ...]]
NAMED = 3  # places of a map that are named one by one
LONGEST_SOURCE = 42  # characters in a narrow column; the findings below and the list of sources have all


def entry_table(
    paper: Paper, states: list[State], usual: Usual | None, mapped: Collection[str] = ()
) -> blocks.Table:
    """Question, place, entry, source, verdict, who; of the fields ``mapped`` the readings follow in a map."""
    rows: list[tuple[blocks.Cell, ...] | blocks.Group] = []
    for _, same in groupby(states, key=lambda s: (s.task.field.label, s.task.field.places == (WHOLE,))):
        several = list(same)
        rows.extend(question(paper, several, usual, in_map=several[0].task.field.key in mapped))
    header = (
        msg("question, place"),
        msg("entry as typed"),
        msg("limit from"),
        msg("verdict"),
        msg("when, with"),
    )
    return blocks.Table(tuple(paper.say(h) for h in header), tuple(rows), (60, 38, 24, 26, 28))


def question(
    paper: Paper, states: list[State], usual: Usual | None, in_map: bool
) -> Iterator[tuple[blocks.Cell, ...] | blocks.Group]:
    """One question: a row where all places agree, else a heading and a row for each answer."""
    label = paper.say(states[0].task.field.label)
    if states[0].task.field.places == (WHOLE,):
        for state in states:
            yield row(paper, limited(paper, label, 200), "", [state], usual)
        return
    groups: dict[Alike, list[State]] = {}
    for state in states:
        groups.setdefault(alike(paper, state, usual, in_map), []).append(state)
    if len(groups) == 1:
        where = "" if in_map else listed(paper, [s.task.place for s in states])
        yield row(paper, label, where, states, usual, in_map)
        return
    yield blocks.Group(label)
    for several in groups.values():
        names = listed(paper, [s.task.place for s in several])
        if in_map and len(several) > NAMED:
            names = paper.say(msg("all other places"))
        yield row(paper, names, "", several, usual, in_map)


def alike(paper: Paper, state: State, usual: Usual | None, in_map: bool) -> Alike:
    """What must be the same for two answers to share a row."""
    entry = paper.record.entries.get(state.task.slot)
    said = blocks.Cell("") if in_map and entry else entry_cell(paper, state.task.field, entry)
    return said, verdict_cell(paper, state), who_lines(paper, entry, usual)


def row(
    paper: Paper, name: str, where: str, states: list[State], usual: Usual | None, in_map: bool = False
) -> tuple[blocks.Cell, ...]:
    """One row, for one place or for several with the same answer."""
    first = states[0]
    entries = [e for e in (paper.record.entries.get(s.task.slot) for s in states) if e is not None]
    said = entry_cell(paper, first.task.field, entries[0] if entries else None)
    if in_map and entries:
        said = blocks.Cell(
            paper.say(plural("{count} reading, see below", "{count} readings, see below", len(entries)))
        )
    sources = dict.fromkeys(
        paper.say(brief_source(f.source)) for s in states for f in s.findings if f.source is not None
    )
    return (
        blocks.Cell(limited(paper, name), (where,) if where else ()),
        said,
        blocks.Cell("", tuple(ended(s, LONGEST_SOURCE) for s in list(sources)[:2])),
        verdict_cell(paper, first),
        who_cell(paper, entries, usual),
    )


def verdict_cell(paper: Paper, state: State) -> blocks.Cell:
    """The verdict, and whether the customer takes it as an open point."""
    left = paper.record.later.get(state.task.slot) if state.open_point else None
    more = (paper.say(msg("open point")),) if left else ()
    return blocks.Cell(paper.say(state.verdict.word), more, state.verdict)


def who_cell(paper: Paper, entries: list[Entry], usual: Usual | None) -> blocks.Cell:
    """When entries were made, by whom where it was not the usual one, and with what."""
    if not entries:
        return blocks.Cell("")
    first, last = (f"{at:%H:%M}" for at in (min(e.at for e in entries), max(e.at for e in entries)))
    times = first if first == last else f"{first}–{last}"
    return blocks.Cell("", (" · ".join((times, *who_lines(paper, entries[0], usual))).replace("· +", "+"),))


def who_lines(paper: Paper, entry: Entry | None, usual: Usual | None) -> tuple[str, ...]:
    """What is to be said of an entry beside its time of day."""
    if entry is None:
        return ()
    lines = []
    if usual is None or usual[1] != entry.at.date():
        lines.append(paper.day(entry.at.date()))
    if usual is None or usual[0] != entry.who:
        lines.append(paper.user(entry.who))
    if entry.instrument:
        lines.append(limited(paper, paper.user(entry.instrument), 80))
    if entry.confirmed_by:
        lines.append(paper.say(msg("+ {name}", name=entry.confirmed_by)))
    return tuple(lines)
