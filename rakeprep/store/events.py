"""One entry as it was stored."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from sys import intern

from rakeprep.store.canonical import canonical, parse

KEYS = frozenset({"seq", "at", "body", "previous", "hash"})
UNREADABLE = "unreadable"


@dataclass(frozen=True, slots=True)
class Stored:
    """An entry with its place in the chain.

    ``seq`` counts from 1; ``at`` is ISO 8601 with offset and microseconds; ``hash`` covers ``previous``,
    ``seq``, ``at`` and ``body`` (see ``chain.fingerprint``).
    """

    seq: int
    at: str
    body: Mapping[str, object]
    previous: str
    hash: str

    def to_json(self) -> dict[str, object]:
        """As a mapping that ``json`` and ``canonical`` can write."""
        return {
            "seq": self.seq,
            "at": self.at,
            "body": dict(self.body),
            "previous": self.previous,
            "hash": self.hash,
        }

    @classmethod
    def from_json(cls, data: object) -> Stored:
        """The entry that ``to_json`` gave; ValueError if it is misshapen. The chain is not checked."""
        if not isinstance(data, Mapping) or set(data) != KEYS:
            raise ValueError("an entry has exactly seq, at, body, previous and hash")
        seq, body = data["seq"], data["body"]
        if isinstance(seq, bool) or not isinstance(seq, int) or seq < 1:
            raise ValueError("seq is a whole number from 1")
        if not isinstance(body, Mapping):
            raise ValueError("body is a mapping")
        return cls(seq, _moment(data["at"]), body, _text(data["previous"]), _text(data["hash"]))


def dump(events: Iterable[Stored]) -> bytes:
    """All entries as UTF-8 text, one JSON object a line, for the attachment inside the document."""
    return b"".join(canonical(event.to_json()) + b"\n" for event in events)


def load(data: bytes) -> tuple[Stored, ...]:
    """The entries that ``dump`` wrote; ValueError naming the line that cannot be read."""
    found = []
    for number, line in enumerate(data.split(b"\n"), 1):
        if not line.strip():
            continue
        try:
            found.append(Stored.from_json(parse(line)))
        except ValueError as error:
            raise ValueError(f"line {number}: {error}") from None
    return tuple(found)


def from_row(row: tuple[object, ...]) -> Stored:
    """An entry from its table row; a body no longer readable is kept as text, for the chain to tell."""
    seq, at, text, previous, found = row
    try:
        body: Mapping[str, object] = parse(str(text))
    except ValueError:
        body = {UNREADABLE: str(text)}
    return Stored(int(str(seq)), str(at), body, intern(str(previous)), intern(str(found)))


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError("previous and hash are text")
    return value


def _moment(value: object) -> str:
    text = value if isinstance(value, str) else ""
    if dt.datetime.fromisoformat(text).tzinfo is None:
        raise ValueError("at needs an offset from UTC")
    return text
