"""From what somebody typed to an answer that can be stored, or a sentence that says what is wrong."""

from __future__ import annotations

import datetime as dt
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from rakeprep import units
from rakeprep.model.field import Ask, Field
from rakeprep.text import Message, joined, msg, verbatim

LONGEST_TEXT = 2000


class Refused(ValueError):
    """Something that cannot be taken: one sentence, and the character (from 1) where it starts."""

    def __init__(self, message: Message, position: int = 1) -> None:
        super().__init__(str(message))
        self.message = message
        self.position = position


@dataclass(frozen=True, slots=True)
class Understood:
    """An answer ready for the store."""

    typed: str
    unit: str = ""
    exact: Fraction | None = None
    division: Fraction | None = None


def read(field: Field, text: str, unit: str = "") -> Understood:
    """Understand ``text`` as an answer to ``field``; raises ``Refused``.

    ``unit`` is assumed where none was typed; the field's own unit where that is empty too. Readings
    outside any limit are taken: judging them is the checks' work.
    """
    match field.ask:
        case Ask.QUANTITY:
            return read_quantity(field, text, unit or field.unit)
        case Ask.COUNT:
            return read_count(text)
        case Ask.CHOICE | Ask.MANY:
            return read_options(field, text)
        case Ask.DATE:
            return read_date(text)
        case Ask.DONE:
            return read_done(text)
        case Ask.PHOTO:
            raise Refused(msg("A picture is asked for here; choose one instead of typing."))
    return read_words(text)


def read_quantity(field: Field, text: str, unit: str) -> Understood:
    """A number with a unit, by the grammar of ``units``."""
    assert field.kind is not None, field.key
    try:
        typed = units.parse(text, field.kind, unit or None)
    except units.EntryError as error:
        raise Refused(error.message, error.position) from error
    nothing = units.to_si(Fraction(0), typed.unit)
    return Understood(typed.text, typed.unit, typed.si, units.to_si(typed.division, typed.unit) - nothing)


def read_count(text: str) -> Understood:
    """A whole number."""
    try:
        count = units.parse_count(text)
    except units.EntryError as error:
        raise Refused(error.message, error.position) from error
    return Understood(str(count), "", Fraction(count), Fraction(0))


def read_options(field: Field, text: str) -> Understood:
    """One option word, or for ``MANY`` several with commas between; ``none`` for an empty pick."""
    words = [w.strip() for w in text[:LONGEST_TEXT].split(",") if w.strip()]
    known = [o.key for o in field.options]
    if not words:
        raise Refused(msg("Nothing is chosen; choose one of: {options}.", options=option_list(field)))
    if field.ask is Ask.MANY and words == ["none"]:
        return Understood("none")
    for word in words:
        if word not in known:
            raise Refused(
                msg(
                    "“{word}” is not one of the answers here; choose from: {options}.",
                    word=clean(word[:40]),
                    options=option_list(field),
                ),
                text.find(word) + 1,
            )
    if field.ask is Ask.CHOICE and len(words) > 1:
        raise Refused(msg("Only one answer can be given here, not {count}.", count=len(words)))
    return Understood(", ".join(k for k in known if k in words))


def option_list(field: Field) -> Message:
    """The option words of a field in a row."""
    words = [verbatim(o.key) for o in field.options]
    return joined([*words, verbatim("none")] if field.ask is Ask.MANY else words)


def read_date(text: str) -> Understood:
    """A date as year-month-day, the only order in which day and month cannot be confused (ISO 8601)."""
    try:
        day = dt.date.fromisoformat(text.strip())
    except ValueError as error:
        raise Refused(
            msg(
                "“{text}” is no date; type year-month-day, such as 2026-05-18.", text=clean(text.strip()[:40])
            )
        ) from error
    return Understood(day.isoformat())


def read_done(text: str) -> Understood:
    """The word for a thing done."""
    if text.strip().casefold() not in {"done", "yes"}:
        raise Refused(msg("Answer “done” when it is done and seen; otherwise leave it for later."))
    return Understood("done")


def read_words(text: str) -> Understood:
    """Free words: normalised, no control characters, not endless."""
    if len(text) > LONGEST_TEXT:
        raise Refused(
            msg(
                "The text is {count} characters long; at most {most} can be kept. Shorten it.",
                count=len(text),
                most=LONGEST_TEXT,
            ),
            LONGEST_TEXT + 1,
        )
    cleaned = clean(text)
    if not cleaned:
        raise Refused(msg("Nothing is written here yet."))
    return Understood(cleaned)


def clean(text: str) -> str:
    """Text in NFC without control, surrogate and invisible format characters; line breaks stay."""
    kept = (
        c
        if c == "\n" or unicodedata.category(c) not in {"Cc", "Cf", "Cs", "Co", "Cn"}
        else " "
        if c == "\t"
        else ""
        for c in text.replace("\r\n", "\n")
    )
    return unicodedata.normalize("NFC", "".join(kept)).strip()
