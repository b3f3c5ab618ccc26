"""The record behind page one: step by step, readings as typed and converted, verdicts, history."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise

from rakeprep.handover import blocks
from rakeprep.handover.clean import LONGEST, ended, one_line, shortened
from rakeprep.handover.from_above import from_above
from rakeprep.handover.machine_data import data_tables, short_source
from rakeprep.handover.maps import maps
from rakeprep.handover.paper import NOTHING, Paper
from rakeprep.jobs.assess import State, optional
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import USE_WORDS, Ask, Field
from rakeprep.model.finding import Finding
from rakeprep.model.place import WHOLE
from rakeprep.model.step import Step
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, joined, msg, plural, verbatim

Usual = tuple[str, dt.date]
IN_A_ROW = 6  # results with the same arithmetic; a row must fit on a page
LONGEST_SOURCE = 42  # characters in a narrow column; the findings below and the list of sources have all
IN_A_CELL = 160  # characters; longer words stand in full below the table


def record(paper: Paper) -> tuple[blocks.Block, ...]:
    """Everything behind page one."""
    return (
        *about_job(paper),
        *open_points(paper),
        *from_above(paper),
        *(block for step in paper.assessment.steps for block in step_pages(paper, step)),
        *photos(paper),
        *data_tables(paper),
        *history(paper),
        *closing(paper),
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
    yield blocks.Paragraph(
        paper.say(
            msg(
                "Each entry stands here as it was typed, with its value in both unit families. A verdict is "
                "a symbol with its word. All entries are attached to this file in the order in which they "
                "were made, each with a check sum over the one before."
            )
        ),
        "quiet",
    )


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
    yield blocks.Table(tuple(paper.say(h) for h in header), rows, (9, 58, 52, 28, 29))


def limited(paper: Paper, text: str, longest: int = 600) -> str:
    """Text that a cell can hold."""
    kept, rest = shortened(text, longest)
    return kept if rest is None else one_line(f"{kept} {paper.say(rest)}")


def step_pages(paper: Paper, step: Step) -> Iterator[blocks.Block]:
    """One step: heading, cautions read, questions and entries, findings, arithmetic."""
    states = [s for s in paper.states(step.key) if not (optional(s) and not s.findings)]
    if not states:
        return
    title = msg("{number}. {step}", number=step.order, step=step.title)
    yield blocks.Heading(2, paper.say(title), paper.say(paper.assessment.verdict(step.key).word))
    reader = paper.record.cautions_read.get(step.key)
    usual = usually(paper, states)
    said = [msg("Cautions read by {name}.", name=reader)] if reader else []
    if usual:
        said.append(msg("Entries by {name} on {day} unless said otherwise.", name=usual[0], day=usual[1]))
    if any(s.task.field.two_people for s in states):
        said.append(msg("A name after + has looked again and confirmed."))
    if said:
        yield blocks.Paragraph(paper.say(joined(said, " ")), "quiet")
    yield entry_table(paper, states, usual)
    yield from long_texts(paper, states)
    yield from maps(paper, step.key)
    yield from findings(paper, states)


def usually(paper: Paper, states: list[State]) -> Usual | None:
    """Who made most of a step's entries, and on which day."""
    found = [paper.record.entries.get(s.task.slot) for s in states]
    counted = Counter((e.who, e.at.date()) for e in found if e is not None)
    return counted.most_common(1)[0][0] if counted else None


def entry_table(paper: Paper, states: list[State], usual: Usual | None) -> blocks.Table:
    """Question, place, entry, source, verdict, who."""
    rows: list[tuple[blocks.Cell, ...] | blocks.Group] = []
    for (label, many), same in groupby(
        states, key=lambda s: (s.task.field.label, s.task.field.places != (WHOLE,))
    ):
        if many:
            rows.append(blocks.Group(paper.say(label)))
        rows.extend(entry_row(paper, state, many, usual) for state in same)
    header = (
        msg("question, place"),
        msg("entry as typed"),
        msg("limit from"),
        msg("verdict"),
        msg("when, with"),
    )
    return blocks.Table(tuple(paper.say(h) for h in header), tuple(rows), (50, 42, 28, 26, 30))


def entry_row(paper: Paper, state: State, in_group: bool, usual: Usual | None) -> tuple[blocks.Cell, ...]:
    """One question at one place."""
    task = state.task
    entry = paper.record.entries.get(task.slot)
    name = paper.say(task.place.name if in_group else task.field.label)
    sources = dict.fromkeys(paper.say(short_source(f.source)) for f in state.findings if f.source is not None)
    left = paper.record.later.get(task.slot) if state.open_point else None
    more = (paper.say(msg("open point")),) if left else ()
    return (
        blocks.Cell(limited(paper, name, 200)),
        entry_cell(paper, task.field, entry),
        blocks.Cell("", tuple(ended(s, LONGEST_SOURCE) for s in list(sources)[:2])),
        blocks.Cell(paper.say(state.verdict.word), more, state.verdict),
        who_cell(paper, entry, usual),
    )


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


def who_cell(paper: Paper, entry: Entry | None, usual: Usual | None = None) -> blocks.Cell:
    """When an entry was made, by whom where it was not the usual one, and with what."""
    if entry is None:
        return blocks.Cell("")
    same = usual == (entry.who, entry.at.date())
    lines = [f"{entry.at:%H:%M}"] if same else [paper.user(entry.who), paper.moment(entry.at)]
    if entry.instrument:
        lines.append(limited(paper, paper.user(entry.instrument), 80))
    if entry.confirmed_by:
        lines.append(paper.say(msg("+ {name}", name=entry.confirmed_by)))
    return blocks.Cell("", tuple(lines))


def long_texts(paper: Paper, states: list[State]) -> Iterator[blocks.Block]:
    """Words that were too long for their cell."""
    for state in states:
        entry = paper.record.entries.get(state.task.slot)
        if entry is None or state.task.field.ask is not Ask.TEXT or len(one_line(entry.typed)) <= IN_A_CELL:
            continue
        yield blocks.Heading(3, place_of(paper, state))
        yield blocks.Paragraph(limited(paper, one_line(entry.typed), LONGEST))


def place_of(paper: Paper, state: State) -> str:
    """Question and place in words."""
    task = state.task
    if task.place.key:
        return paper.say(msg("{field}, {place}", field=task.field.label, place=task.place.name))
    return paper.say(task.field.label)


def findings(paper: Paper, states: list[State]) -> Iterator[blocks.Block]:
    """Findings that are not simply in order, in full; then the arithmetic of those that are."""
    told = [(s, f) for s in states for f in s.findings]
    stale = [s for s in states if s.stale is not None]
    bad = [(s, f) for s, f in told if f.verdict is not Verdict.IN_ORDER]
    if bad or stale:
        yield blocks.Heading(3, paper.say(msg("What is not in order")))
    for state in stale:
        word = paper.say(Verdict.OUT_OF_DATE.word)
        yield blocks.FindingNote(Verdict.OUT_OF_DATE, word, place_of(paper, state), paper.say(state.stale))
    for state, finding in bad:
        yield finding_note(paper, state, finding)
    rows = worked_out(paper, [f for _, f in told if f.verdict is Verdict.IN_ORDER and f.working])
    if rows:
        yield blocks.Heading(3, paper.say(msg("Worked out and in order")))
        header = (paper.say(msg("result")), paper.say(msg("arithmetic")))
        yield blocks.Table(header, rows, (86, 90))


def worked_out(paper: Paper, good: list[Finding]) -> tuple[tuple[blocks.Cell, ...], ...]:
    """Results that are in order with their arithmetic; the same arithmetic is written once."""
    by_working: dict[str, list[str]] = {}
    for finding in good:
        working = limited(paper, in_a_row(paper.say(line) for line in finding.working))
        if finding.source is not None:
            working = f"{working} · {paper.say(short_source(finding.source))}"
        by_working.setdefault(working, []).append(limited(paper, paper.say(finding.says), 300))
    rows = []
    for working, says in by_working.items():
        shown = list(dict.fromkeys(says))
        for at in range(0, len(shown), IN_A_ROW):
            result = " ".join(shown[at : at + IN_A_ROW])
            rows.append(
                (blocks.Cell(result, (), Verdict.IN_ORDER), blocks.Cell("", (working if not at else "",)))
            )
    return tuple(rows)


def in_a_row(lines: Iterable[str]) -> str:
    """Lines of arithmetic one behind the other; those that are no sentences are set apart."""
    return "".join(f"{line} " if line.endswith((".", ":", ";")) else f"{line} · " for line in lines).strip(
        " ·"
    )


def finding_note(paper: Paper, state: State, finding: Finding) -> blocks.FindingNote:
    """A finding in full; the place is not said twice."""
    says = limited(paper, paper.say(finding.says), LONGEST)
    place = paper.say(state.task.place.name)
    where = paper.say(state.task.field.label) if place in says else place_of(paper, state)
    return blocks.FindingNote(
        finding.verdict,
        paper.say(finding.verdict.word),
        where,
        says,
        limited(paper, paper.say(finding.todo), LONGEST),
        limited(paper, in_a_row(paper.say(line) for line in finding.working[:40]), LONGEST),
        paper.say(short_source(finding.source)) if finding.source else "",
    )


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


def closing(paper: Paper) -> Iterator[blocks.Block]:
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
        (blocks.Heading(1, paper.say(msg("How to check this record"))), blocks.Paragraph(paper.say(text)))
    )
