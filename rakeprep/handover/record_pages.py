"""The record behind page one: step by step, readings as typed and converted, verdicts, history."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from rakeprep.handover import blocks
from rakeprep.handover.answers_shown import IN_A_CELL, entry_cell, limited, place_of
from rakeprep.handover.clean import LONGEST, one_line
from rakeprep.handover.entry_table import entry_table
from rakeprep.handover.findings_shown import findings
from rakeprep.handover.from_above import from_above
from rakeprep.handover.instruments_shown import instruments
from rakeprep.handover.machine_data import data_tables
from rakeprep.handover.maps import mapped, maps
from rakeprep.handover.names_corrected import names_corrected
from rakeprep.handover.paper import NOTHING, Paper, Usual
from rakeprep.handover.places import legend
from rakeprep.jobs.assess import State
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.field import USE_WORDS, Ask
from rakeprep.model.step import Step
from rakeprep.text import Message, joined, msg, plural, verbatim


def record(paper: Paper) -> tuple[blocks.Block, ...]:
    """Everything behind page one."""
    return (
        *about_job(paper),
        *how_to_check(paper),
        *names_corrected(paper),
        *open_points(paper),
        *from_above(paper),
        *codes(paper),
        *instruments(paper),
        *(block for step in paper.assessment.steps for block in step_pages(paper, step)),
        *photos(paper),
        *history(paper),
        blocks.Columns(2),
        *data_tables(paper),
    )


def about_job(paper: Paper) -> Iterator[blocks.Block]:
    """What the record is about."""
    opening = paper.record.opening
    machine, tractor = paper.profile.machine, paper.tractor.tractor
    yield blocks.Heading(1, paper.say(msg("The record")))
    yield blocks.KeyValues(
        (
            pair(paper, msg("Job"), opening.job, msg("opened {at}", at=opening.opened)),
            pair(paper, msg("Customer"), opening.customer, msg("order {order}", order=opening.order)),
            pair(paper, msg("Technician"), opening.technician, verbatim(paper.workshop)),
            pair(paper, msg("Machine"), machine.name, edition(machine.edition)),
            pair(paper, msg("Tractor"), tractor.name, edition(tractor.edition)),
            pair(
                paper,
                msg("Record code"),
                paper.code,
                plural("{count} entry in the chain", "{count} entries in the chain", paper.record.count),
            ),
        )
    )
    yield blocks.Paragraph(how_to_read(paper), "quiet")


def how_to_read(paper: Paper) -> str:
    """What holds for every page of the record."""
    said = [
        msg(
            "Each entry stands here as it was typed, with its value in both unit families. A verdict is "
            "a symbol with its word; a name after + has looked again and confirmed. All entries are "
            "attached to this file in the order in which they were made, each with a check sum over the "
            "one before."
        ),
        msg(
            "A rule of thumb is workshop custom: no book and no standard stands behind it. A standard is "
            "named by its number, the machine's book by its page."
        ),
    ]
    usual = paper.usual
    if usual is not None:
        said.append(
            msg(
                "Where nothing else is said, {name} read the cautions of a step and made its entries "
                "on {day}.",
                name=usual[0],
                day=usual[1],
            )
        )
    return paper.say(joined(said, " "))


def edition(said: str) -> Message:
    """Which edition of a data file was used."""
    return msg("data file of edition {edition}", edition=said)


def pair(paper: Paper, label: Message, value: str, more: Message) -> blocks.Pair:
    """A label with its value and one line more."""
    line = paper.say(more)
    return blocks.Pair(paper.say(label), paper.user(value), (line,) if line else ())


def open_points(paper: Paper) -> Iterator[blocks.Block]:
    """All open points in full; page one may have had to shorten them."""
    points = paper.assessment.gate.open_points
    if not points:
        return
    yield blocks.Heading(2, paper.say(msg("Open points in full")))
    rows: tuple[tuple[blocks.Cell, ...], ...] = tuple(
        (
            blocks.Cell(str(number), strong=True),
            blocks.Cell(limited(paper, paper.say(p.says))),
            blocks.Cell(limited(paper, paper.user(p.reason))),
            blocks.Cell(paper.user(p.due), (paper.user(p.who),)),
            blocks.Cell(paper.say(joined([USE_WORDS[use] for use in USE_WORDS if use in p.bars])) or NOTHING),
        )
        for number, p in enumerate(points, 1)
    )
    header = (msg("no."), msg("open point"), msg("reason"), msg("by when, who"), msg("not before it"))
    yield blocks.Table(tuple(paper.say(h) for h in header), rows, (9, 56, 46, 40, 25))


def codes(paper: Paper) -> Iterator[blocks.Block]:
    """What the codes of wheels and arms stand for."""
    said = legend(paper, (state.task.place for state in paper.assessment.states.values()))
    if said:
        yield blocks.Paragraph(said, "quiet")


def step_pages(paper: Paper, step: Step) -> Iterator[blocks.Block]:
    """One step: heading, cautions read, questions and entries, findings, arithmetic."""
    states = [s for s in paper.states(step.key) if not (s.optional and not s.findings)]
    if not states:
        return
    title = msg("{number}. {step}", number=step.order, step=step.title)
    yield blocks.Heading(2, paper.say(title), paper.say(paper.assessment.verdict(step.key).word))
    usual = paper.usually(states)
    said = step_note(paper, step, usual)
    if said:
        yield blocks.Paragraph(said, "quiet")
    yield entry_table(paper, states, usual, mapped(paper, step.key))
    yield from long_texts(paper, states)
    yield from maps(paper, step.key)
    yield from findings(paper, states)


def long_texts(paper: Paper, states: list[State]) -> Iterator[blocks.Block]:
    """Words that were too long for their cell."""
    for state in states:
        entry = paper.record.entries.get(state.task.slot)
        if entry is None or state.task.field.ask is not Ask.TEXT or len(one_line(entry.typed)) <= IN_A_CELL:
            continue
        yield blocks.Heading(3, place_of(paper, state))
        yield blocks.Paragraph(limited(paper, one_line(entry.typed), LONGEST))


def step_note(paper: Paper, step: Step, usual: Usual | None) -> str:
    """Who read the cautions and who made the entries of a step, where it was not who it mostly was."""
    everywhere = paper.usual
    reader = paper.record.cautions_read.get(step.key)
    said = []
    if step.cautions and not reader:
        said.append(msg("Nobody has confirmed that the cautions of this step were read."))
    elif reader and (everywhere is None or reader != everywhere[0]):
        said.append(msg("Cautions read by {name}.", name=reader))
    if usual and usual != everywhere:
        said.append(msg("Entries by {name} on {day} unless said otherwise.", name=usual[0], day=usual[1]))
    return paper.say(joined(said, " "))


def photos(paper: Paper) -> Iterator[blocks.Block]:
    """Pictures, small; the originals stay in the job."""
    shown = []
    for state in paper.assessment.states.values():
        entry = paper.record.value(state.task.slot)
        if entry is None or state.task.field.ask is not Ask.PHOTO or entry.typed not in paper.photos:
            continue
        caption = msg("{what} · {who} · {at}", what=place_of(paper, state), who=entry.who, at=entry.at)
        unreadable = paper.say(msg("This picture cannot be read; its file is in the job."))
        shown.append(blocks.Photo(paper.photos[entry.typed], paper.say(caption), unreadable))
    if shown:
        yield blocks.Heading(1, paper.say(msg("Pictures")))
        yield blocks.Photos(tuple(shown))


def history(paper: Paper) -> Iterator[blocks.Block]:
    """Entries that were changed: old, new, who, why."""
    rows: list[tuple[blocks.Cell, ...] | blocks.Group] = []
    for slot, entries in sorted(paper.record.history.items(), key=lambda item: item[1][-1].seq):
        rows.extend(change_row(paper, slot, old, new) for old, new in pairwise(entries))
    if not rows:
        return
    yield blocks.Heading(1, paper.say(msg("Entries that were changed")))
    header = (msg("question, place"), msg("was"), msg("became"), msg("by whom, when"), msg("why"))
    yield blocks.Table(tuple(paper.say(h) for h in header), tuple(rows), (50, 36, 36, 30, 24))


def change_row(paper: Paper, slot: Slot, old: Entry, new: Entry) -> tuple[blocks.Cell, ...]:
    """One change."""
    state = paper.assessment.states.get(slot)
    cells = [
        blocks.Cell(paper.user(e.typed)[:IN_A_CELL])
        if state is None
        else entry_cell(paper, state.task.field, e)
        for e in (old, new)
    ]
    was = blocks.Cell(cells[0].text, (*cells[0].quiet, paper.user(old.who), paper.moment(old.at)))
    step = next((s.title for s in paper.assessment.steps if s.key == slot.step), verbatim(slot.step))
    name = str(slot) if state is None else place_of(paper, state)
    return (
        blocks.Cell(limited(paper, name, 200), (paper.say(step),)),
        was,
        cells[1],
        blocks.Cell("", (paper.user(new.who), paper.moment(new.at))),
        blocks.Cell("", (limited(paper, paper.user(new.reason), 200),)),
    )


def how_to_check(paper: Paper) -> Iterator[blocks.Block]:
    """The code, and how anybody can check the file."""
    text = msg(
        "This record ends with entry {count}; its code is {code}. The same code stands at the bottom of "
        "every page. Whoever has the file can check it: rakeprep verify reads the signatures, follows the "
        "attached entries from the first to the last, and works out all findings again. The signatures were "
        "given on the workshop's device, and all times are by its clock.",
        count=paper.record.count,
        code=paper.code,
    )
    yield blocks.KeepTogether(
        (blocks.Heading(2, paper.say(msg("How to check this record"))), blocks.Paragraph(paper.say(text)))
    )
