"""Where every key and value of a TOML text stands.

The standard reader gives values without places, so this scanner walks the same text again and notes
them. It trusts that the text is well formed; on one that is not it stops with ``Lost``.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field

Path = tuple[str | int, ...]
BARE = re.compile(r"[A-Za-z0-9_-]+")
SPACE = re.compile(r"[ \t]*")
BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
PLAIN = re.compile(r"[^,\]}\n#]*")
TEXTS = tuple(
    re.compile(pattern, re.DOTALL)
    for pattern in (
        r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}',
        r"'''(?:[^']|'(?!''))*'{3,5}",
        r'"(?:[^"\\\n]|\\.)*"',
        r"'[^'\n]*'",
    )
)


class Lost(ValueError):
    """The text is no TOML at the place ``at``."""

    def __init__(self, at: int) -> None:
        super().__init__(at)
        self.at = at


@dataclass(slots=True)
class Positions:
    """Offsets of keys (or headers) and of values by path, and of keys that stand twice."""

    keys: dict[Path, int] = field(default_factory=dict)
    values: dict[Path, int] = field(default_factory=dict)
    twice: list[tuple[Path, int, int]] = field(default_factory=list)

    def note(self, path: Path, at: int) -> None:
        """A key that must be the only one of its path."""
        if path in self.keys:
            self.twice.append((path, self.keys[path], at))
        else:
            self.keys[path] = at

    def nearest(self, path: Path) -> int:
        """The place of a path, or else of the closest table around it."""
        while path and path not in self.keys:
            path = path[:-1]
        return self.keys.get(path, 0)


def scan(text: str) -> Positions:
    """Find the places of everything in ``text``; raises ``Lost`` where it is no TOML."""
    found = Positions()
    lists: dict[Path, int] = {}
    declared: set[Path] = set()
    table: Path = ()
    at = after(BLANK, text, 0)
    while at < len(text):
        if text[at] == "[":
            table, at = header(text, at, found, lists, declared)
        else:
            at = pair(text, at, table, found)
        at = after(SPACE, text, at)
        if at < len(text) and text[at] not in "\r\n#":
            raise Lost(at)
        at = after(BLANK, text, at)
    return found


def after(pattern: re.Pattern[str], text: str, at: int) -> int:
    """The end of a pattern that may also match nothing."""
    match = pattern.match(text, at)
    return match.end() if match else at


def header(
    text: str, at: int, found: Positions, lists: dict[Path, int], declared: set[Path]
) -> tuple[Path, int]:
    """A line ``[table]`` or ``[[table]]``: its path with list indices, and its end."""
    start = at
    double = text.startswith("[[", at)
    parts, at = key(text, after(SPACE, text, at + 1 + double))
    close = "]]" if double else "]"
    if not text.startswith(close, at):
        raise Lost(at)
    path: Path = ()
    for number, (name, _) in enumerate(parts, 1):
        path = (*path, name)
        last = number == len(parts)
        if last and double:
            lists[path] = lists.get(path, -1) + 1
            found.keys.setdefault(path, start)
        if path in lists and (double or not last):
            path = (*path, lists[path])
    if path in declared or path in found.values or (not double and path in lists):
        found.twice.append((path, found.keys.get(path, start), start))
    declared.add(path)
    found.keys.setdefault(path, start)
    return path, at + len(close)


def key(text: str, at: int) -> tuple[list[tuple[str, int]], int]:
    """A key, perhaps dotted: its parts with their places, and the end with the blanks behind it."""
    parts: list[tuple[str, int]] = []
    while True:
        at = after(SPACE, text, at)
        if bare := BARE.match(text, at):
            parts.append((bare.group(), at))
            at = bare.end()
        else:
            end = text_end(text, at)
            parts.append((unquoted(text[at:end]), at))
            at = end
        at = after(SPACE, text, at)
        if not text.startswith(".", at):
            return parts, at
        at += 1


def unquoted(raw: str) -> str:
    """The name inside a quoted key."""
    return raw[1:-1] if "\\" not in raw or raw[0] == "'" else str(tomllib.loads(f"k={raw}")["k"])


def text_end(text: str, at: int) -> int:
    """The end of the quoted text that begins at ``at``."""
    for pattern in TEXTS:
        if match := pattern.match(text, at):
            return match.end()
    raise Lost(at)


def pair(text: str, at: int, table: Path, found: Positions) -> int:
    """One ``key = value``; returns its end."""
    parts, end = key(text, at)
    if not text.startswith("=", end):
        raise Lost(end)
    path = table
    for name, place in parts[:-1]:
        path = (*path, name)
        if path in found.values:  # a finished value cannot be continued
            found.twice.append((path, found.keys[path], place))
        found.keys.setdefault(path, place)
    path = (*path, parts[-1][0])
    found.note(path, parts[-1][1])
    return value(text, after(SPACE, text, end + 1), path, found)


def value(text: str, at: int, path: Path, found: Positions) -> int:
    """A value of any sort; returns its end."""
    found.values.setdefault(path, at)
    if text.startswith("{", at):
        return inline(text, at, path, found)
    if text.startswith("[", at):
        return array(text, at, path, found)
    if text.startswith(('"', "'"), at):
        return text_end(text, at)
    end = after(PLAIN, text, at)
    if end == at:
        raise Lost(at)
    return at + len(text[at:end].rstrip())


def inline(text: str, at: int, path: Path, found: Positions) -> int:
    """A table in braces."""
    at = after(SPACE, text, at + 1)
    while not text.startswith("}", at):
        at = after(SPACE, text, pair(text, at, path, found))
        if text.startswith(",", at):
            at = after(SPACE, text, at + 1)
        elif not text.startswith("}", at):
            raise Lost(at)
    return at + 1


def array(text: str, at: int, path: Path, found: Positions) -> int:
    """A list in brackets."""
    at = after(BLANK, text, at + 1)
    number = 0
    while not text.startswith("]", at):
        element = (*path, number)
        found.keys.setdefault(element, at)
        at = after(BLANK, text, value(text, at, element, found))
        number += 1
        if text.startswith(",", at):
            at = after(BLANK, text, at + 1)
        elif not text.startswith("]", at):
            raise Lost(at)
    return at + 1
