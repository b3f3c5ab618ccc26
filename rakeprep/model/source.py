"""Values of machine data: what is printed, and where."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Typed


class SourceKind(StrEnum):
    """What sort of source a value comes from."""

    BOOK = "book"
    PLATE = "plate"
    STANDARD = "standard"
    LAW = "law"
    MEASURED = "measured"
    RULE = "rule of thumb"


SOURCE_WORDS = {
    SourceKind.BOOK: msg("the machine's book"),
    SourceKind.PLATE: msg("the plate"),
    SourceKind.STANDARD: msg("standard"),
    SourceKind.LAW: msg("law"),
    SourceKind.MEASURED: msg("measured"),
    SourceKind.RULE: msg("rule of thumb"),
}


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value is from: kind, title, edition, and the page or clause.

    What a data file says is text and stays as it was written; the program's own words are messages.
    """

    kind: SourceKind
    title: str | Message
    edition: str = ""
    where: str | Message = ""

    @property
    def titled(self) -> Message:
        """The title alone."""
        return as_message(self.title)

    @property
    def named(self) -> Message:
        """Title and page or clause."""
        return joined([as_message(part) for part in (self.title, self.where) if part], " ")

    @property
    def said(self) -> Message:
        """The source in one line; a rule of thumb always says that it is one."""
        if self.edition:
            return msg(
                "{kind}: {parts}, edition {edition}",
                kind=SOURCE_WORDS[self.kind],
                parts=self.named,
                edition=self.edition,
            )
        return msg("{kind}: {parts}", kind=SOURCE_WORDS[self.kind], parts=self.named)


def as_message(words: str | Message) -> Message:
    """Words of a data file untranslated, the program's own as they are."""
    return words if isinstance(words, Message) else verbatim(words)


@dataclass(frozen=True, slots=True)
class Sourced:
    """One value of machine data: as printed, exact, and with its source.

    ``also`` is a second printed value for the same thing (the other unit family, say). ``apart`` is
    how far the two lie apart beyond their rounding, in the base unit: not zero means a conflict, and
    then neither is used until somebody chooses.
    """

    path: str
    typed: Typed
    source: Source
    also: Typed | None = None
    apart: Fraction = Fraction(0)

    @property
    def exact(self) -> Fraction:
        """The first printed value in the base unit of its kind."""
        return self.typed.si

    @property
    def value(self) -> float:
        """The first printed value in the base unit of its kind, for drawing and sums."""
        return float(self.typed.si)

    @property
    def conflict(self) -> bool:
        """Whether the two printed values contradict each other."""
        return self.apart != 0
