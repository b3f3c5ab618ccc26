"""One data file as text: its bare TOML values, the places in it, and the mistakes found in it."""

from __future__ import annotations

import bisect
import contextlib
import re
import tomllib
from dataclasses import dataclass, field
from typing import Any

from rakeprep.profiles.mistakes import Mistake
from rakeprep.profiles.positions import Lost, Path, Positions, scan
from rakeprep.text import Message, msg

LARGEST = 1_000_000
LONGEST_LINE = 1000
MOST = 100
WHERE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
# The standard reader's time grows with the cube of a key's parts.
LONG_KEY = re.compile(
    r"""^[ \t]*\[{0,2}[ \t]*(?:(?:[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*')[ \t]*\.[ \t]*){8}""",
    re.MULTILINE,
)
CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
TOO_DEEP = msg("Lists or tables stand in one another too deeply; this file needs no more than two levels.")
SPOILT = msg("The file cannot be read from here on; write each line as key = value or as [table].")
STRAY = msg(
    "What stands here does not belong to the value; put texts in quotation marks and a comma between entries."
)
# The standard reader's words for a fault, and ours.
FAULTS = {
    "Invalid statement": msg(
        "This line is neither key = value nor a table such as [machine]; correct or delete it."
    ),
    "Expected '=' after": msg("After a key an equals sign is expected; write key = value."),
    "Invalid value": msg('The value cannot be read; put it in quotation marks, such as "35 mm".'),
    "Expected newline": msg(
        "Something stands behind the value; write one value a line, and put texts in quotation marks."
    ),
    "Unclosed array": msg("A list is not closed; put ] behind its last value."),
    "Unclosed inline table": msg("Braces are not closed; put } behind the last value, on the same line."),
    "Expected ']": msg("The name of a table is not closed; write [name]."),
    'Expected "\'"': msg("The quotation mark at the end is missing; add it."),
    "Expected '\"": msg("The quotation mark at the end is missing; add it."),
    "Unterminated string": msg("The quotation mark at the end is missing; add it."),
    "Illegal character '\\n'": msg("The quotation mark at the end of the line is missing; add it."),
    "Illegal character": msg("A character that cannot be seen stands here; delete it."),
    "Found invalid character": msg("A character that cannot be seen stands here; delete it."),
    "Unescaped '\\'": msg("A backslash stands in the text; write two of them, or put the text in '…'."),
    "Invalid initial character": msg(
        "A key is expected here; take away a comma too many, or put the key in quotation marks."
    ),
    "Cannot overwrite": msg("A key or table of this name stands further up already; delete one of them."),
    "Cannot declare": msg(
        "A table of this name stands further up already; delete one, or write [[name]] for a list."
    ),
    "Cannot redefine": msg("A table of this name stands further up already; delete one of them."),
    "Cannot mutate": msg("This table is closed already; put all its keys in one place."),
    "Duplicate inline": msg("A key stands twice in these braces; delete one of them."),
}


class Enough(Exception):
    """So many mistakes that more would not help anyone."""


@dataclass(slots=True)
class Document:
    """A text that is being read, and what is wrong in it so far."""

    name: str
    text: str
    positions: Positions = field(default_factory=Positions)
    mistakes: list[Mistake] = field(default_factory=list)
    conflicts: list[Mistake] = field(default_factory=list)
    line_starts: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.text = self.text.removeprefix("\ufeff").replace("\r\n", "\n")
        self.line_starts = [0, *(found.end() for found in re.finditer("\n", self.text))]

    def mistake(self, at: int, says: Message) -> Mistake:
        """A mistake at an offset of the text."""
        line = bisect.bisect_right(self.line_starts, at)
        start = self.line_starts[line - 1]
        end = self.text.find("\n", start)
        shown = self.text[start : end if end >= 0 else len(self.text)]
        return Mistake(self.name, line, at - start + 1, says, shown)

    def wrong(self, at: int, says: Message) -> None:
        """Note a mistake; raises ``Enough`` when there are very many."""
        self.mistakes.append(self.mistake(at, says))
        if len(self.mistakes) == MOST:
            raise Enough

    def wrong_key(self, path: Path, says: Message) -> None:
        """Note a mistake at a key, or at the table that should hold it."""
        self.wrong(self.positions.nearest(path), says)

    def wrong_value(self, path: Path, says: Message, character: int | None = None) -> None:
        """Note a mistake at a value, or at a character (from 1) of the text it holds."""
        at = self.positions.values.get(path)
        if at is None:
            self.wrong_key(path, says)
            return
        plain = character is not None and "\\" not in self.text[at : at + character]
        self.wrong(at + character if plain and character else at, says)

    def toml(self) -> dict[str, Any] | None:
        """The bare values; None, with a mistake noted, when the text is no TOML."""
        if self.unfit():
            return None
        try:
            values = tomllib.loads(self.text)
            self.positions = scan(self.text)
        except tomllib.TOMLDecodeError as error:
            with contextlib.suppress(Enough):
                self.no_toml(str(error))
        except RecursionError:
            self.wrong(self.deepest(), TOO_DEEP)
        except ValueError:  # a number of thousands of digits, and the like
            self.wrong(0, SPOILT)
        else:
            return values
        return None

    def unfit(self) -> bool:
        """Whether the text is not even worth a try."""
        if len(self.text) > LARGEST:
            self.wrong(
                0, msg("The file is larger than 1 MB; machine data take a few kB. Is it the right file?")
            )
        elif not self.text.strip():
            self.wrong(0, msg("The file is empty; begin with a copy of a sample file."))
        elif found := CONTROL.search(self.text):
            self.wrong(found.start(), msg("This is no text file; choose a machine or tractor file (.toml)."))
        elif found := LONG_KEY.search(self.text):
            self.wrong(
                found.start(), msg("This name has more than 8 parts; no table of these files is so deep.")
            )
        else:
            ends = [*self.line_starts[1:], len(self.text) + 1]
            for start, end in zip(self.line_starts, ends, strict=True):
                if end - start > LONGEST_LINE:
                    self.wrong(
                        start, msg("This line has more than {most} characters; divide it.", most=LONGEST_LINE)
                    )
                    break
        return bool(self.mistakes)

    def no_toml(self, error: str) -> None:
        """Say in our words what the standard reader found."""
        if self.doubles():
            return
        found = WHERE.search(error)
        at = len(self.text.rstrip())
        if found and found.group(1):
            at = self.line_starts[int(found.group(1)) - 1] + int(found.group(2)) - 1
        if error.startswith("Unclosed") and self.text[at : at + 1].strip():
            self.wrong(at, STRAY)
            return
        says = next((ours for theirs, ours in FAULTS.items() if error.startswith(theirs)), SPOILT)
        self.wrong(min(at, len(self.text)), says)

    def doubles(self) -> bool:
        """Note keys and tables that stand twice, if that is what is wrong."""
        try:
            twice = scan(self.text).twice
        except (Lost, RecursionError, ValueError):
            return False
        for path, first, at in twice:
            line = self.mistake(first, SPOILT).line
            self.wrong(
                at,
                msg("“{key}” stands in line {line} already; delete one of them.", key=shown(path), line=line),
            )
        return bool(twice)

    def deepest(self) -> int:
        """About where the nesting begins: the longest row of brackets."""
        rows = re.finditer(r"(?:[\[{]\s*)+", self.text)
        return max(rows, key=lambda row: len(row.group()), default=re.match("", self.text)).start()  # type: ignore[union-attr]


def shown(path: Path) -> str:
    """A path in words: names with dots between them, list items counted from 1."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f" {part + 1}"
        else:
            text += ("." if text else "") + clipped(part)
    return text


def clipped(text: str, most: int = 40) -> str:
    """A piece of the file, fit to stand in a sentence."""
    clean = "".join(c if c.isprintable() else "?" for c in text)
    return clean if len(clean) <= most else clean[: most - 1] + "…"
