"""The record of a later chapter: what it follows, the old readings beside the new, the steps it touched."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator

from rakeprep.handover import blocks
from rakeprep.handover.answers_shown import entry_cell, limited
from rakeprep.handover.customer_page import follows
from rakeprep.handover.entry_table import verdict_cell, who_cell, who_lines
from rakeprep.handover.from_above import from_above
from rakeprep.handover.names_corrected import names_corrected
from rakeprep.handover.paper import NOTHING, Paper, Usual
from rakeprep.handover.places import listed
from rakeprep.handover.record_pages import about_job, codes, how_to_check, open_points, photos, step_pages
from rakeprep.jobs.assess import State
from rakeprep.jobs.chapters import kind_of
from rakeprep.model.entry import Entry
from rakeprep.model.place import WHOLE
from rakeprep.model.step import Step
from rakeprep.text import joined, msg


def chapter_record(paper: Paper) -> tuple[blocks.Block, ...]:
    """Everything behind page one of a visit, a repair or a change of owner or tractor."""
    return (
        *about_job(paper),
        *how_to_check(paper),
        *about_chapter(paper),
        *names_corrected(paper),
        *open_points(paper),
        *then_and_now(paper),
        *from_above(paper),
        *codes(paper),
        *(block for step in touched(paper) for block in step_pages(paper, step)),
        *photos(paper),
    )


def about_chapter(paper: Paper) -> Iterator[blocks.Block]:
    """Why there is this chapter, and where the rest stands."""
    chapter = paper.record.chapter
    kind = kind_of(chapter)
    yield blocks.Heading(
        2, paper.say(msg("Chapter {number}: {chapter}", number=chapter.number, chapter=kind.title))
    )
    said = [kind.about, msg("Begun by {who}: {reason}.", who=chapter.who, reason=chapter.reason)]
    if chapter.places:
        said.append(msg("It is about {places}.", places=", ".join(chapter.places)))
    yield blocks.Paragraph(" ".join(limited(paper, paper.say(each), 600) for each in said))
    named = follows(paper)
    if named is not None and chapter.before is not None:
        rest = msg(
            "What this chapter does not ask again stands there, in {document}, and in the entries attached.",
            document=paper.user(chapter.before.name),
        )
        yield blocks.Paragraph(f"{paper.say(named)} {paper.say(rest)}", "quiet")


def answered_here(paper: Paper) -> list[State]:
    """The questions that were answered in this chapter, in the order of the work."""
    since, entries = paper.record.chapter.seq, paper.record.entries
    return [
        state
        for slot, state in paper.assessment.states.items()
        if (entry := entries.get(slot)) is not None and entry.seq > since
    ]


def touched(paper: Paper) -> list[Step]:
    """The steps in which something was answered in this chapter."""
    keys = {state.task.step.key for state in answered_here(paper)}
    return [step for step in paper.assessment.steps if step.key in keys]


def then_and_now(paper: Paper) -> Iterator[blocks.Block]:
    """Each reading of this chapter beside the last one of the chapters before."""
    states = answered_here(paper)
    if not states:
        return
    usual, day = paper.usually(states), usual_day(paper, states)
    yield blocks.Heading(2, paper.say(msg("Then and now")))
    said = []
    if usual is not None:
        said.append(msg("Entries by {name} on {day} unless said otherwise.", name=usual[0], day=usual[1]))
    if day is not None:
        said.append(msg("Earlier answers are of {day} unless said otherwise.", day=day))
    yield blocks.Paragraph(paper.say(joined(said, " ")), "quiet")
    rows: list[tuple[blocks.Cell, ...] | blocks.Group] = []
    for step in touched(paper):
        rows.append(blocks.Group(paper.say(step.title)))
        alike: dict[tuple[object, ...], list[State]] = {}
        for state in states:
            if state.task.step.key == step.key:
                alike.setdefault((state.task.field.key, *said_of(paper, state, usual, day)), []).append(state)
        rows.extend(row(paper, several, usual, day) for several in alike.values())
    header = (msg("question, place"), msg("then"), msg("now"), msg("verdict"), msg("when, with"))
    yield blocks.Table(tuple(paper.say(h) for h in header), tuple(rows), (58, 36, 36, 26, 26))


def said_of(paper: Paper, state: State, usual: Usual | None, day: dt.date | None) -> tuple[object, ...]:
    """What must be the same for two answers to share a row."""
    now = paper.record.entries[state.task.slot]
    return (
        then_cell(paper, state, day),
        entry_cell(paper, state.task.field, now),
        verdict_cell(paper, state),
        who_lines(paper, now, usual),
    )


def row(
    paper: Paper, states: list[State], usual: Usual | None, day: dt.date | None
) -> tuple[blocks.Cell, ...]:
    """One reading, or several that are alike, then and now."""
    first = states[0]
    entries = [paper.record.entries[state.task.slot] for state in states]
    whole = first.task.place == WHOLE
    where = () if whole else (listed(paper, [state.task.place for state in states]),)
    return (
        blocks.Cell(limited(paper, paper.say(first.task.field.label), 200), where),
        then_cell(paper, first, day),
        entry_cell(paper, first.task.field, entries[0]),
        verdict_cell(paper, first),
        who_cell(paper, entries, usual),
    )


def earlier(paper: Paper, state: State) -> Entry | None:
    """The last answer of the chapters before."""
    since = paper.record.chapter.seq
    history = paper.record.history[state.task.slot]
    return next((entry for entry in reversed(history) if entry.seq < since), None)


def usual_day(paper: Paper, states: list[State]) -> dt.date | None:
    """The day on which most of the earlier answers were given."""
    found = (earlier(paper, state) for state in states)
    days = Counter(entry.at.date() for entry in found if entry is not None)
    return days.most_common(1)[0][0] if days else None


def then_cell(paper: Paper, state: State, usual: dt.date | None) -> blocks.Cell:
    """The last answer of the chapters before, with its day where it is not the usual one."""
    then = earlier(paper, state)
    if then is None:
        return blocks.Cell(NOTHING)
    cell, day = entry_cell(paper, state.task.field, then), then.at.date()
    more = () if day == usual else (paper.day(day),)
    return blocks.Cell(cell.text, (*cell.quiet, *more), beside=cell.beside)
