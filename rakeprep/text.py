"""Messages with parameters, put into a language only when they are shown.

A ``Message`` keeps the English sentence (the catalogue's key) and its parameters apart, so the
same finding can stand on the technician's screen in one language and on the customer's paper in
another.
"""

from __future__ import annotations

import datetime as dt
import gettext
import re
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Protocol, runtime_checkable

from babel import Locale, dates, numbers

DOMAIN = "rakeprep"
BEYOND = 1e15  # a number this large is nonsense; it is still shown
GAP = re.compile(r"\{(\w+)\}")


@runtime_checkable
class Shown(Protocol):
    """A parameter that knows how to put itself into a language, such as an amount with its unit."""

    def shown(self, language: Language) -> str: ...


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence for a user: English text with ``{name}`` gaps, and what goes into them.

    ``many`` and ``count`` are set where the sentence has a singular and a plural.
    """

    text: str
    params: tuple[tuple[str, object], ...] = ()
    many: str = ""
    count: int = 0

    def __str__(self) -> str:
        return ENGLISH.say(self)


def msg(text: str, /, **params: object) -> Message:
    """Make a message; ``text`` must be a literal so that the catalogue can be extracted."""
    return Message(text, tuple(params.items()))


def plural(one: str, many: str, count: int, /, **params: object) -> Message:
    """Make a message whose wording depends on ``count``, which fills the gap ``{count}``."""
    return Message(one, (("count", count), *params.items()), many, count)


def joined(parts: tuple[Message, ...] | list[Message], by: str = ", ") -> Message:
    """Several messages in a row as one."""
    names = [f"p{i}" for i in range(len(parts))]
    return Message(by.join(f"{{{n}}}" for n in names), tuple(zip(names, parts, strict=True)))


def verbatim(text: str) -> Message:
    """Text that comes from a person or a data file and is never translated."""
    return Message("{verbatim}", (("verbatim", text),))


@dataclass(frozen=True)
class Language:
    """One language: its catalogue, its way with numbers and dates."""

    code: str
    catalogue: gettext.NullTranslations = field(default_factory=gettext.NullTranslations, repr=False)

    @property
    def locale(self) -> Locale:
        return Locale.parse(self.code)

    def say(self, message: Message) -> str:
        """The message in this language. Parameters are inserted as they are, never as format codes."""
        if message.many:
            pattern = self.catalogue.ngettext(message.text, message.many, message.count)
        else:
            pattern = self.catalogue.gettext(message.text) if message.text else ""
        params = dict(message.params)
        return GAP.sub(lambda gap: self.gap(gap, params), pattern)

    def gap(self, found: re.Match[str], params: dict[str, object]) -> str:
        """What stands in one gap; a gap without a parameter stays visible."""
        name = found.group(1)
        return self.show(params[name]) if name in params else found.group()

    def show(self, value: object) -> str:
        """One parameter as text."""
        match value:
            case Message():
                return self.say(value)
            case str():
                return value
            case bool():
                return self.say(YES if value else NO)
            case int() if abs(value) < BEYOND:
                return numbers.format_decimal(value, "0", locale=self.locale)
            case Fraction() | float() as number:
                return self.number(number)
            case dt.datetime():
                return f"{self.date(value)} {value:%H:%M}"
            case dt.date():
                return self.date(value)
            case Shown():
                return value.shown(self)
        return str(value)

    def number(self, value: Fraction | float, decimals: int = 3) -> str:
        """A plain number with at most ``decimals`` decimals and no grouping."""
        return self._formatted(value, decimals, "#")

    def fixed(self, value: Fraction | float, decimals: int) -> str:
        """A plain number with exactly ``decimals`` decimals."""
        return self._formatted(value, decimals, "0")

    def _formatted(self, value: Fraction | float, decimals: int, digit: str) -> str:
        if not -BEYOND < value < BEYOND:
            return f"{float(value):.3g}"
        rounded = round(float(value), decimals) + 0.0  # no "-0"
        pattern = "0" + ("." + digit * decimals if decimals else "")
        return numbers.format_decimal(rounded, pattern, locale=self.locale)

    def date(self, day: dt.date) -> str:
        """A date with the month in words, so that day and month cannot be confused."""
        return dates.format_date(day, "d MMM yyyy", locale=self.locale)


YES = msg("yes")
NO = msg("no")
ENGLISH = Language("en")


def languages(translations: Path) -> dict[str, Language]:
    """Every language with a compiled catalogue under ``translations``, English first."""
    found = {"en": ENGLISH}
    for file in sorted(translations.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")):
        code = file.parts[-3]
        with file.open("rb") as stream:
            found[code] = Language(code, gettext.GNUTranslations(stream))
    return found
