"""Messages with parameters, put into a language only when they are shown.

A ``Message`` keeps the English sentence (the catalogue's key) and its parameters apart, so the
same finding can stand on the technician's screen in one language and on the customer's paper in
another.
"""

from __future__ import annotations

import datetime as dt
import gettext
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Protocol

from rakeprep.locales import Locale, locale_of

BEYOND = 1e15  # a number this large is nonsense; it is still shown
GAP = re.compile(r"\{(\w+)\}")


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

    @cached_property
    def locale(self) -> Locale:
        return locale_of(self.code)

    def say(self, message: Message) -> str:
        """The message in this language. Parameters are inserted as they are, never as format codes."""
        if message.many:
            pattern = self.catalogue.ngettext(message.text, message.many, message.count)
        else:
            pattern = self.catalogue.gettext(message.text) if message.text else ""
        if not message.params:
            return pattern
        params, pieces = dict(message.params), list(pieces_of(pattern))
        pieces[1::2] = [self.gap(name, params) for name in pieces[1::2]]
        return "".join(pieces)

    def gap(self, name: str, params: dict[str, object]) -> str:
        """What stands in one gap; a gap without a parameter stays visible."""
        return self.show(params[name]) if name in params else f"{{{name}}}"

    def show(self, value: object) -> str:
        """One parameter as text."""
        match value:
            case Message():
                return self.say(value)
            case str():
                return value
            case bool():
                return self.say(YES if value else NO)
            case int() if 0 <= value < BEYOND:
                return str(value)  # without sign and grouping it is the same in every language
            case int() if -BEYOND < value < 0:
                return self.number(value)
            case Fraction() | float() as number:
                return self.number(number)
            case dt.datetime():
                return f"{self.date(value)} {value:%H:%M}"
            case dt.date():
                return self.date(value)
        own = getattr(value, "shown", None)  # of a ``Shown``; asking for the protocol takes ten times as long
        return str(value if own is None else own(self))

    def number(self, value: Fraction | float, decimals: int = 3) -> str:
        """A plain number with at most ``decimals`` decimals and no grouping."""
        return self._formatted(value, decimals, self.locale.number)

    def fixed(self, value: Fraction | float, decimals: int) -> str:
        """A plain number with exactly ``decimals`` decimals."""
        return self._formatted(value, decimals, self.locale.fixed)

    def _formatted(self, value: Fraction | float, decimals: int, written: Callable[[float, int], str]) -> str:
        near = float(value)
        if not -BEYOND < near < BEYOND:
            return f"{near:.3g}"
        return written(round(near, decimals) + 0.0, decimals)  # + 0.0: no "-0"

    def date(self, day: dt.date) -> str:
        """A date with the month in words, so that day and month cannot be confused."""
        return self.locale.date(day)


@lru_cache(maxsize=4096)  # a page says some hundred sentences
def pieces_of(pattern: str) -> tuple[str, ...]:
    """The words of a sentence and the names of its gaps in turn."""
    return tuple(GAP.split(pattern))


YES = msg("yes")
NO = msg("no")
ENGLISH = Language("en")


def languages(translations: Path) -> dict[str, Language]:
    """Every language with a catalogue ``CODE.po`` under ``translations``, English first."""
    files = sorted(translations.glob("*.po"))
    return {"en": ENGLISH} | {file.stem: Language(file.stem, Catalogue(file)) for file in files}


class Catalogue(gettext.NullTranslations):
    """A catalogue that is read from its file when the first message is said in it."""

    def __init__(self, file: Path) -> None:
        super().__init__()
        self._file = file

    @cached_property
    def _said(self) -> dict[str, tuple[str, ...]]:
        from babel.messages.pofile import read_po

        with self._file.open("rb") as stream:
            found = read_po(stream, locale=self._file.stem)
        return {key_of(entry.id): forms_of(entry.string) for entry in found if entry.id and entry.string}

    @cached_property
    def _plural(self) -> Callable[[int], int]:
        form: Callable[[int], int] = gettext.c2py(plural_rule(self._file.stem))
        return form

    def gettext(self, message: str) -> str:
        forms = self._said.get(message)
        return forms[0] if forms and forms[0] else message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        forms = self._said.get(msgid1, ())
        which = self._plural(n)
        if which < len(forms) and forms[which]:
            return forms[which]
        return super().ngettext(msgid1, msgid2, n)


def key_of(msgid: str | Sequence[str]) -> str:
    """What a message is found by: its text, or its singular."""
    return msgid if isinstance(msgid, str) else msgid[0]


def forms_of(said: str | Sequence[str]) -> tuple[str, ...]:
    """All forms of a translation."""
    return (said,) if isinstance(said, str) else tuple(said)


def plural_rule(code: str) -> str:
    """Which of its forms a language takes for a number, as a gettext expression."""
    from babel.messages.plurals import get_plural

    return str(get_plural(code).plural_expr)
