"""All values of machine and tractor that were used, each with its source and edition."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from rakeprep.handover import blocks
from rakeprep.handover.paper import Paper
from rakeprep.model.profile import Profile
from rakeprep.model.source import SOURCE_WORDS, Source, Sourced, SourceKind
from rakeprep.model.tractor import Tractor
from rakeprep.text import Message, msg, verbatim

SHORT = {
    SourceKind.BOOK: msg("book"),
    SourceKind.PLATE: msg("plate"),
    SourceKind.MEASURED: msg("measured"),
}
Found = tuple[str, str, Sourced]  # heading, what it is, the value


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
    rows: list[tuple[blocks.Cell, ...] | blocks.Group] = []
    last = ""
    for heading, about, sourced in values(paper, thing):
        if heading != last:
            rows.append(blocks.Group(heading))
            last = heading
        rows.append(value_row(paper, about, sourced))
    yield blocks.Heading(2, paper.say(title))
    yield source_table(paper, thing)
    header = (msg("what"), msg("value"), msg("source"))
    yield blocks.Table(tuple(paper.say(h) for h in header), tuple(rows), (86, 28, 62))


def source_table(paper: Paper, thing: Profile | Tractor) -> blocks.Table:
    """Every source in full, with its edition; the values below name it in short."""
    header = (msg("kind of source"), msg("title"), msg("edition"))
    rows = tuple(
        (
            blocks.Cell(
                paper.say(SHORT.get(source.kind, SOURCE_WORDS[source.kind])),
                strong=source.kind is SourceKind.RULE,
            ),
            blocks.Cell(paper.user(source.title)),
            blocks.Cell(paper.user(source.edition)),
        )
        for source in dict.fromkeys(thing.sources.values())
    )
    return blocks.Table(tuple(paper.say(h) for h in header), rows, (36, 100, 40))


def short_source(source: Source) -> Message:
    """A source within a table: what is printed on the machine's own papers by its page alone."""
    if source.kind in SHORT:
        kind = SHORT[source.kind]
        return msg("{kind}, {where}", kind=kind, where=source.where) if source.where else kind
    if source.kind is SourceKind.STANDARD:
        return verbatim(" ".join(part for part in (source.title, source.where) if part))
    return dataclasses.replace(source, edition="").said


def value_row(paper: Paper, about: str, sourced: Sourced) -> tuple[blocks.Cell, ...]:
    """One value as printed, with where it is printed."""
    second = (paper.user(sourced.also.text),) if sourced.also is not None else ()
    if sourced.conflict:
        second = (*second, paper.say(msg("two printed values that disagree")))
    source = sourced.source
    rule = source.kind is SourceKind.RULE
    return (
        blocks.Cell(about),
        blocks.Cell(paper.user(sourced.typed.text), second),
        blocks.Cell(paper.say(short_source(source)), strong=rule),
    )


def values(paper: Paper, thing: object, heading: str = "", name: str = "") -> Iterator[Found]:
    """Every value with a source inside a data class, in the order of its fields."""
    if not dataclasses.is_dataclass(thing):
        return
    for field in dataclasses.fields(thing):
        value = getattr(thing, field.name)
        about = paper.say(Message(str(field.metadata.get("about", field.name))))
        items = value if isinstance(value, tuple) else (value,)
        for item in items:
            if isinstance(item, Sourced):
                yield heading or about, f"{name}{about}", item
            elif not isinstance(item, Source) and dataclasses.is_dataclass(item):
                own = str(getattr(item, "name", "") or getattr(item, "size", "") or getattr(item, "key", ""))
                inner = f"{paper.user(own)}: " if isinstance(value, tuple) and own else name
                yield from values(paper, item, about if not heading else f"{heading}, {about}", inner)
