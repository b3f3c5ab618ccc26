"""Every value with a source inside the data of a machine or a tractor."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from rakeprep.model.schema import meaning
from rakeprep.model.source import Source, Sourced
from rakeprep.text import Message


@dataclasses.dataclass(frozen=True, slots=True)
class Table:
    """A table around a value: what it is, and the thing itself where it is one of several."""

    about: Message
    one_of: object = None


@dataclasses.dataclass(frozen=True, slots=True)
class Meant:
    """A value, what it is the value of, and the tables around it from the outermost in."""

    value: Sourced
    about: Message
    within: tuple[Table, ...] = ()


def values(thing: object, within: tuple[Table, ...] = ()) -> Iterator[Meant]:
    """Every value inside a data class, however deep, in the order of its fields."""
    if not dataclasses.is_dataclass(thing):
        return
    for field in dataclasses.fields(thing):
        inner, about = getattr(thing, field.name), meaning(field)
        several = isinstance(inner, tuple)
        for item in inner if several else (inner,):
            if isinstance(item, Sourced):
                yield Meant(item, about, within)
            elif not isinstance(item, Source):
                yield from values(item, (*within, Table(about, item if several else None)))
