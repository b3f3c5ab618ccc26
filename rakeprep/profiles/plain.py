"""Single entries of a data file: texts, whole numbers, words; and keys too many or too few."""

from __future__ import annotations

import dataclasses
import difflib
import re
import typing
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from rakeprep.model.source import Source, Sourced
from rakeprep.profiles.amounts import example
from rakeprep.profiles.document import Document, clipped, shown
from rakeprep.profiles.limits import ANY_COUNT, COUNTS, WORDS
from rakeprep.profiles.positions import Path
from rakeprep.text import msg

KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,19}")
LONGEST_TEXT = 200
NOTHING: Any = object()


@dataclass(slots=True)
class Reader:
    """The file that is being read, and the sources found in it."""

    doc: Document
    sources: Mapping[str, Source | None] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Place:
    """One key: its path in the file, its address with list keys, its class, and what it is about."""

    path: Path
    address: str
    owner: str
    about: str

    @property
    def name(self) -> str:
        """The key itself."""
        return next(str(part) for part in reversed(self.path) if isinstance(part, str))

    @property
    def rule(self) -> str:
        """What ``limits`` call this key."""
        return f"{self.owner}.{self.name}"


def read_plain(reader: Reader, hint: Any, raw: object, place: Place) -> Any:
    """A text, a whole number, true or false, or one of a few words."""
    if hint is bool:
        if isinstance(raw, bool):
            return raw
        says = msg("“{key}” takes true or false, without quotation marks.", key=place.name)
    elif hint is int:
        return read_count(reader, raw, place)
    elif not isinstance(raw, str):
        says = msg("“{key}” takes a text in quotation marks: {about}.", key=place.name, about=place.about)
    elif issubclass(hint, StrEnum):
        return read_word(reader, raw, place, [str(word) for word in hint], hint)
    elif place.rule in WORDS:
        return read_word(reader, raw, place, list(WORDS[place.rule]), str)
    elif not raw.strip():
        says = msg("“{key}” is empty; write: {about}.", key=place.name, about=place.about)
    elif len(raw) > LONGEST_TEXT or not raw.isprintable():
        says = msg("“{key}” takes one line of at most {most} characters.", key=place.name, most=LONGEST_TEXT)
    else:
        return raw
    reader.doc.wrong_value(place.path, says)
    return NOTHING


def read_count(reader: Reader, raw: object, place: Place) -> Any:
    """A whole number within its range."""
    least, most = COUNTS.get(place.rule, ANY_COUNT)
    if isinstance(raw, bool) or not isinstance(raw, int):
        says = msg(
            "“{key}” takes a whole number without unit or quotation marks: {about}.",
            key=place.name,
            about=place.about,
        )
    elif not least <= raw <= most:
        says = msg(
            "“{key}” is a whole number from {least} to {most}; correct it.",
            key=place.name,
            least=least,
            most=most,
        )
    else:
        return raw
    reader.doc.wrong_value(place.path, says)
    return NOTHING


def read_word(reader: Reader, raw: str, place: Place, known: list[str], made: Any) -> Any:
    """One of a few words."""
    if raw in known:
        return made(raw)
    words = ", ".join(word for word in known if word)
    near = difflib.get_close_matches(raw[:40], known, n=1)
    if near:
        says = msg(
            "“{word}” is not known here; did you mean “{near}”? “{key}” takes: {words}.",
            word=clipped(raw),
            near=near[0],
            key=place.name,
            words=words,
        )
    else:
        says = msg(
            "“{word}” is not known here; “{key}” takes: {words}.",
            word=clipped(raw),
            key=place.name,
            words=words,
        )
    reader.doc.wrong_value(place.path, says)
    return NOTHING


def unknown_key(reader: Reader, path: Path, known: list[str]) -> None:
    """Note a key that does not belong here, with the one that was perhaps meant."""
    key = str(path[-1])
    near = difflib.get_close_matches(key[:40], known, n=1)
    if near:
        says = msg("Unknown key “{key}”; did you mean “{near}”?", key=clipped(key), near=near[0])
    elif path[:-1]:
        says = msg(
            "Unknown key “{key}”; “{table}” takes: {known}.",
            key=clipped(key),
            table=shown(path[:-1]),
            known=", ".join(known),
        )
    else:
        says = msg(
            "Unknown table “{key}”; the file takes: {known}.", key=clipped(key), known=", ".join(known)
        )
    reader.doc.wrong_key(path, says)


def missing_key(reader: Reader, table: Place, place: Place, hint: Any, kind: Any) -> None:
    """Note a key that should be there, with a line that could be added."""
    say = {"key": place.name, "about": place.about, "example": example_line(hint, kind, place)}
    if table.path:
        says = msg(
            "“{key}” is missing in “{table}” ({about}); add such as: {example}",
            **say,
            table=shown(table.path),
        )
    else:
        says = msg("“{key}” is missing ({about}); add such as: {example}", **say)
    reader.doc.wrong_key(table.path, says)


def example_line(hint: Any, kind: Any, place: Place) -> str:
    """A line that would put a missing key right."""
    if hint is Sourced:
        return example(place.path, kind)
    if typing.get_origin(hint) is dict:
        return "[sources.book]"
    if typing.get_origin(hint) is tuple:
        inner = typing.get_args(hint)[0]
        return f"[[{place.address}]]" if dataclasses.is_dataclass(inner) else f"{place.name} = [ … ]"
    if dataclasses.is_dataclass(hint):
        return f"[{place.address}]"
    if hint is bool:
        return f"{place.name} = true"
    if hint is int:
        return f"{place.name} = {max(1, COUNTS.get(place.rule, ANY_COUNT)[0])}"
    if issubclass(hint, StrEnum):
        return f'{place.name} = "{next(iter(hint))}"'
    return f'{place.name} = "{WORDS[place.rule][0] if place.rule in WORDS else "…"}"'
