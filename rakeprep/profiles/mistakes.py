"""What is wrong in a data file, and exactly where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

from rakeprep.text import ENGLISH, Language, Message

T = TypeVar("T")
WIDEST = 100


class ProfileError(Exception):
    """A data file that cannot be opened at all; ``message`` says why and what to do."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message

    def __str__(self) -> str:
        return str(self.message)


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing to put right; line and column count from 1."""

    file: str
    line: int
    column: int
    says: Message
    line_text: str = ""

    def lines(self, language: Language = ENGLISH) -> str:
        """``file:line:column: what is wrong``, and below it the line with a caret."""
        head = f"{self.file}:{self.line}:{self.column}: {language.say(self.says)}"
        start = max(0, self.column - WIDEST // 2) if len(self.line_text) > WIDEST else 0
        part = "".join(c if c.isprintable() else " " for c in self.line_text[start : start + WIDEST])
        if not part.strip():
            return head
        caret = " " * (self.column - 1 - start) + "^"
        return f"{head}\n{self.line:>6} | {part}\n{'':>6} | {caret}"


@dataclass(frozen=True, slots=True)
class Read(Generic[T]):
    """What came out of a data file: the value, or else what to put right.

    ``value`` is None when there is any mistake. ``conflicts`` do not stop a file: they name values
    printed twice that contradict each other beyond their rounding.
    """

    value: T | None
    mistakes: tuple[Mistake, ...] = ()
    conflicts: tuple[Mistake, ...] = ()
