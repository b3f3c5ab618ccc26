"""A TOML text against the classes of the model: one walk that finds every mistake."""

from __future__ import annotations

import dataclasses
import types
import typing
from functools import cache
from typing import Any, TypeVar

from rakeprep.model.profile import Profile
from rakeprep.model.source import Sourced
from rakeprep.model.tractor import Tractor
from rakeprep.profiles.amounts import read_amount
from rakeprep.profiles.checks import contradictions
from rakeprep.profiles.document import Document, Enough, clipped
from rakeprep.profiles.limits import MOST_TABLES
from rakeprep.profiles.mistakes import Read
from rakeprep.profiles.plain import KEY, NOTHING, Place, Reader, missing_key, read_plain, unknown_key
from rakeprep.profiles.sources import read_sources
from rakeprep.text import msg

T = TypeVar("T", Profile, Tractor)


def read_profile(text: str, name: str) -> Read[Profile]:
    """A machine's data file; ``name`` stands in front of every mistake."""
    return read_as(Profile, text, name)


def read_tractor(text: str, name: str) -> Read[Tractor]:
    """A tractor's data file; ``name`` stands in front of every mistake."""
    return read_as(Tractor, text, name)


def read_either(text: str, name: str) -> Read[Profile] | Read[Tractor]:
    """A file of either sort, by whether it has ``[machine]`` or ``[tractor]``."""
    doc = Document(name, text)
    values = doc.toml()
    if values is not None and "machine" in values:
        return finish(Profile, doc, values)
    if values is not None and "tractor" in values:
        return finish(Tractor, doc, values)
    if values is not None:
        doc.wrong(0, msg("The file has neither [machine] nor [tractor]; begin with a copy of a sample file."))
    nothing: Read[Profile] = Read(None, tuple(doc.mistakes))
    return nothing


def read_as(cls: type[T], text: str, name: str) -> Read[T]:
    """A file that should hold a ``cls``."""
    doc = Document(name, text)
    values = doc.toml()
    return Read(None, tuple(doc.mistakes)) if values is None else finish(cls, doc, values)


def finish(cls: type[T], doc: Document, values: dict[str, Any]) -> Read[T]:
    """The object that the bare values stand for."""
    reader = Reader(doc)
    try:
        reader.sources = read_sources(reader, values.get("sources", {}))
        made = read_table(reader, cls, values, Place((), "", "", ""))
        check_tyres(reader, values)
    except Enough:
        made = NOTHING
    mistakes = sorted(doc.mistakes, key=lambda m: (m.line, m.column))
    value = made if isinstance(made, cls) and not mistakes else None
    return Read(value, tuple(mistakes), tuple(doc.conflicts))


@cache
def hints(cls: type) -> dict[str, Any]:
    """The types of a class's fields, without "or None"."""
    return {name: required(hint) for name, hint in typing.get_type_hints(cls).items()}


def required(hint: Any) -> Any:
    """A type without "or None"."""
    if isinstance(hint, types.UnionType):
        return next(one for one in typing.get_args(hint) if one is not type(None))
    return hint


def read_table(reader: Reader, cls: type, raw: object, place: Place) -> Any:
    """One table as an object of ``cls``; NOTHING if anything in it is wrong."""
    if not isinstance(raw, dict):
        reader.doc.wrong_value(
            place.path, msg("“{key}” is a table; write it as [{table}].", key=place.name, table=place.address)
        )
        return NOTHING
    fields = {f.name: f for f in dataclasses.fields(cls)}
    good = True
    for extra in raw:
        if extra not in fields:
            good = False
            unknown_key(reader, (*place.path, extra), list(fields))
    values = {}
    for name, declared in fields.items():
        inner = Place(
            (*place.path, name),
            f"{place.address}.{name}" if place.address else name,
            cls.__name__,
            str(declared.metadata.get("about", "")),
        )
        hint = hints(cls)[name]
        if name not in raw:
            if declared.default is dataclasses.MISSING:
                good = False
                missing_key(reader, place, inner, hint, declared.metadata.get("kind"))
            continue
        values[name] = read_value(reader, hint, raw[name], inner, declared.metadata.get("kind"))
        if declared.default is dataclasses.MISSING and values[name] == "" and hint is not str:
            reader.doc.wrong_value(
                inner.path, msg("“{key}” is empty; write: {about}.", key=name, about=inner.about)
            )
            values[name] = NOTHING
    if not good or any(value is NOTHING for value in values.values()):
        return NOTHING
    made = cls(**values)
    return made if agree(reader, made, place) else NOTHING


def agree(reader: Reader, made: object, place: Place) -> bool:
    """Note where entries of one table contradict each other."""
    good = True
    for name, says in contradictions(made):
        good = False
        path = (*place.path, name)
        if isinstance(reader.doc.positions.values.get((*path, "value")), int):
            path = (*path, "value")
        reader.doc.wrong_value(path, says)
    return good


def read_value(reader: Reader, hint: Any, raw: object, place: Place, kind: Any) -> Any:
    """One value of any declared type."""
    if hint is Sourced:
        found = read_amount(reader.doc, raw, place.path, place.address, kind, reader.sources)
        return NOTHING if found is None else found
    if typing.get_origin(hint) is dict:
        return reader.sources if None not in reader.sources.values() else NOTHING
    if typing.get_origin(hint) is tuple:
        return read_list(reader, typing.get_args(hint)[0], raw, place)
    if dataclasses.is_dataclass(hint):
        return read_table(reader, typing.cast(type, hint), raw, place)
    return read_plain(reader, hint, raw, place)


def read_list(reader: Reader, hint: Any, raw: object, place: Place) -> Any:
    """A list of tables, or of plain values."""
    tables = dataclasses.is_dataclass(hint)
    if not isinstance(raw, list):
        if tables:
            says = msg(
                "“{key}” is a list of tables; write [[{table}]] for each.",
                key=place.name,
                table=place.address,
            )
        else:
            says = msg("“{key}” is a list; put the values in [ ] with commas between them.", key=place.name)
        reader.doc.wrong_value(place.path, says) if not tables else reader.doc.wrong_key(place.path, says)
        return NOTHING
    if len(raw) > MOST_TABLES:
        reader.doc.wrong_key(
            place.path,
            msg("“{key}” has more than {most} entries; take some out.", key=place.name, most=MOST_TABLES),
        )
        return NOTHING
    good = not tables or unique_keys(reader, hint, raw, place)
    items = []
    for number, item in enumerate(raw):
        path = (*place.path, number)
        inner = Place(path, f"{place.address}.{item_name(item, number)}", place.owner, place.about)
        items.append(
            read_table(reader, hint, item, inner) if tables else read_plain(reader, hint, item, inner)
        )
    return NOTHING if not good or any(item is NOTHING for item in items) else tuple(items)


def item_name(item: object, number: int) -> str:
    """A list item's key, or its number from 1 if it has no proper one."""
    key = item.get("key") if isinstance(item, dict) else None
    return key if isinstance(key, str) and KEY.fullmatch(key) else str(number + 1)


def unique_keys(reader: Reader, hint: Any, raw: list[object], place: Place) -> bool:
    """Whether the short codes of a list are fit for use and all different."""
    if "key" not in hints(hint):
        return True
    good = True
    seen: set[str] = set()
    for number, item in enumerate(raw):
        key = item.get("key") if isinstance(item, dict) else None
        if not isinstance(key, str) or not key:
            continue  # said elsewhere
        path = (*place.path, number, "key")
        if not KEY.fullmatch(key):
            good = False
            says = msg("A key has at most 20 letters, digits, - or _; change “{key}”.", key=clipped(key))
            reader.doc.wrong_value(path, says)
        elif key in seen:
            good = False
            reader.doc.wrong_value(
                path,
                msg(
                    "The key “{key}” is used twice among [[{table}]]; give each its own.",
                    key=key,
                    table=place.address,
                ),
            )
        seen.add(key)
    return good


def check_tyres(reader: Reader, values: dict[str, Any]) -> None:
    """Note wheels whose tyre is not among the tyres."""
    tyres, wheels = values.get("tyre"), values.get("wheel")
    if not isinstance(tyres, list) or not isinstance(wheels, list) or len(tyres) > MOST_TABLES:
        return
    known = [t["key"] for t in tyres if isinstance(t, dict) and isinstance(t.get("key"), str)]
    for number, wheel in enumerate(wheels):
        tyre = wheel.get("tyre") if isinstance(wheel, dict) else None
        if isinstance(tyre, str) and tyre and tyre not in known:
            reader.doc.wrong_value(
                ("wheel", number, "tyre"),
                msg(
                    "There is no tyre “{tyre}”; the [[tyre]] tables have: {known}.",
                    tyre=clipped(tyre),
                    known=", ".join(clipped(one) for one in known[:12]),
                ),
            )
