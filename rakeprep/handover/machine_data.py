"""All values of machine and tractor that were used, each with its source and edition."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator, Mapping
from itertools import groupby

from rakeprep.handover import blocks
from rakeprep.handover.clean import ended
from rakeprep.handover.paper import Paper
from rakeprep.model.profile import Profile, Wheel
from rakeprep.model.source import SOURCE_WORDS, Source, Sourced, SourceKind, as_message
from rakeprep.model.tractor import Tractor
from rakeprep.model.values import Meant, values
from rakeprep.text import Message, msg, verbatim

SHORT = {
    SourceKind.BOOK: msg("book"),
    SourceKind.PLATE: msg("plate"),
    SourceKind.MEASURED: msg("measured"),
}
OF = " · "
LONGEST_WHERE = 20  # characters in a narrow cell
STANDARD = re.compile(r"[A-Z]+(/[A-Z]+| [A-Z]+)* ?\d[\w./-]*\w")  # what issued it, and its number


def data_tables(paper: Paper) -> Iterator[blocks.Block]:
    """Machine data, then tractor data."""
    machine, tractor = paper.profile.machine, paper.tractor.tractor
    yield blocks.Heading(1, paper.say(msg("Data used")))
    for title, thing in (
        (
            msg("Machine data: {name}, edition {edition}", name=machine.name, edition=machine.edition),
            paper.profile,
        ),
        (
            msg("Tractor data: {name}, edition {edition}", name=tractor.name, edition=tractor.edition),
            paper.tractor,
        ),
    ):
        yield from data_table(paper, title, thing)


def data_table(paper: Paper, title: Message, thing: Profile | Tractor) -> Iterator[blocks.Block]:
    """All values of one data file, under the names of their tables."""
    numbers = numbered(thing)
    yield blocks.Heading(2, paper.say(title))
    yield source_table(paper, numbers)
    rows: list[tuple[blocks.Cell, ...] | blocks.Group] = []
    for table, under in groupby(values(thing), key=lambda meant: heading(paper, meant)):
        rows.append(blocks.Group(table))
        rows.extend(value_rows(paper, list(under), numbers))
    header = (msg("what"), msg("value"), msg("source"))
    yield blocks.Table(tuple(paper.say(h) for h in header), tuple(rows), (98, 32, 46), small=True)


def named(source: Source) -> Source:
    """A source without its page."""
    return dataclasses.replace(source, where="")


def numbered(thing: Profile | Tractor) -> dict[Source, int]:
    """The sources of a data file, without their pages, and their numbers from 1."""
    found = dict.fromkeys(
        named(s) for s in (*thing.sources.values(), *(meant.value.source for meant in values(thing)))
    )
    return {source: number for number, source in enumerate(found, 1)}


def source_table(paper: Paper, numbers: Mapping[Source, int]) -> blocks.Table:
    """Every source in full, with its edition; the values below name it by its number."""
    header = (msg("no."), msg("kind of source"), msg("title"), msg("edition"))
    rows = tuple(
        (
            blocks.Cell(str(number)),
            blocks.Cell(
                paper.say(SHORT.get(source.kind, SOURCE_WORDS[source.kind])),
                strong=source.kind is SourceKind.RULE,
            ),
            blocks.Cell(paper.say(source.titled)),
            blocks.Cell(paper.user(source.edition)),
        )
        for source, number in numbers.items()
    )
    return blocks.Table(tuple(paper.say(h) for h in header), rows, (19, 38, 71, 48), small=True)


def short_source(source: Source) -> Message:
    """A source within a sentence: what is printed on the machine's own papers by its page alone."""
    if source.kind in SHORT:
        kind = SHORT[source.kind]
        return msg("{kind}, {where}", kind=kind, where=source.where) if source.where else kind
    if source.kind is SourceKind.STANDARD:
        return source.named
    return dataclasses.replace(source, edition="").said


def brief_source(source: Source) -> Message:
    """A source in a narrow cell: its kind and page; a standard by its number."""
    if source.kind is SourceKind.STANDARD:
        whole = str(source.named)
        number = STANDARD.match(whole)
        if len(whole) <= LONGEST_WHERE:
            return source.named
        return verbatim(ended(number[0] if number else whole, LONGEST_WHERE))
    kind = SHORT.get(source.kind, SOURCE_WORDS[source.kind])
    if source.where and len(str(source.where)) <= LONGEST_WHERE:
        return msg("{kind}, {where}", kind=kind, where=source.where)
    return kind


def value_rows(
    paper: Paper, found: list[Meant], numbers: Mapping[Source, int]
) -> Iterator[tuple[blocks.Cell, ...]]:
    """Values as printed, with where they are printed; of several things alike in one row."""
    alike: dict[tuple[str, blocks.Cell, blocks.Cell], list[str]] = {}
    for each in found:
        key = (paper.say(each.about), *value_cells(paper, each.value, numbers))
        alike.setdefault(key, []).append(one_of(paper, each))
    for (about, value, source), of in alike.items():
        names = OF.join(name for name in of if name)
        yield blocks.Cell(about, (names,) if names else ()), value, source


def value_cells(
    paper: Paper, sourced: Sourced, numbers: Mapping[Source, int]
) -> tuple[blocks.Cell, blocks.Cell]:
    """Value, and its source by number and page; a rule of thumb always says that it is one."""
    second = (paper.user(sourced.also.text),) if sourced.also is not None else ()
    if sourced.conflict:
        second = (*second, paper.say(msg("two printed values that disagree")))
    source = sourced.source
    number = numbers[named(source)]
    page = source.kind in SHORT and source.where
    brief = as_message(source.where) if page else brief_source(source)
    said = msg("{number}, {source}", number=number, source=brief)
    return (
        blocks.Cell(paper.user(sourced.typed.text), second),
        blocks.Cell(paper.say(said), strong=source.kind is SourceKind.RULE),
    )


def heading(paper: Paper, meant: Meant) -> str:
    """The name of the table in which a value stands; its own where it stands in none."""
    around = [paper.say(table.about) for table in meant.within]
    return ", ".join(around) or paper.say(meant.about)


def one_of(paper: Paper, meant: Meant) -> str:
    """Of which of several things it is a value."""
    names = (name_of(paper, table.one_of) for table in reversed(meant.within) if table.one_of is not None)
    return next((name for name in names if name), "")


def name_of(paper: Paper, item: object) -> str:
    """What one of several things of a kind is called; wheels by their code."""
    names = ("key",) if isinstance(item, Wheel) else ("name", "size", "key")
    own = next((str(getattr(item, name)) for name in names if getattr(item, name, "")), "")
    return paper.user(own) if own else ""
