"""Reading what a person typed: one number, one unit, no guessing.

Decimal point or comma, fractions of an inch, feet and inches. What can be read in two ways is asked
back; a value outside any limit is still read, because judging it is not the grammar's work.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from rakeprep.text import Message, msg
from rakeprep.units.convert import to_si
from rakeprep.units.table import UNITS, Kind, closest_units, find_unit, in_kind, kinds_of, unclear, units_of

LONGEST = 40
LARGEST_COUNT = 9999
SIGNS = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
VULGAR = {sign: unicodedata.normalize("NFKC", sign).split("\N{FRACTION SLASH}") for sign in SIGNS}
SAME = str.maketrans(
    {
        **dict.fromkeys("−–‐‑", "-"),
        **dict.fromkeys("’‘′ʹ", "'"),
        **dict.fromkeys("”“″", '"'),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("≈≃", "~"),
        **dict.fromkeys("º˚", "°"),
    }
)
ABOUT = re.compile(
    r"(?:(?:about|approximately|approx|circa|ca|c|etwa|environ|env|około|ok)(?![^\W\d_])\.?|~) *",
    re.IGNORECASE,
)
SIGN = re.compile(r"[+-] *")
FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)(?: +|-))?(?P<over>[0-9]+)/(?P<under>[0-9]+)")
WITH_VULGAR = re.compile(rf"(?:(?P<whole>[0-9]+)(?: *|-))?(?P<vulgar>[{SIGNS}])")
DECIMAL = re.compile(
    r"(?P<whole>[1-9][0-9]{0,2}(?: [0-9]{3})+(?![0-9])|[0-9]*)(?:(?P<mark>[.,])(?P<after>[0-9]+))?"
)
FEET = re.compile(
    rf"(?P<feet>[0-9][0-9.,/ {SIGNS}-]*?) *(?:ft\.?|foot|feet|') *-? *(?=[0-9.,{SIGNS}])", re.IGNORECASE
)


class EntryError(ValueError):
    """What was typed cannot be read; ``message`` says what, where and how to put it right."""

    def __init__(self, message: Message, position: int) -> None:
        super().__init__(message, position)
        self.message = message
        self.position = position

    def __str__(self) -> str:
        return str(self.message)


@dataclass(frozen=True)
class Typed:
    """A typed value, understood; ``number`` and ``division`` are in ``unit``."""

    text: str
    number: Fraction
    unit: str
    kind: Kind
    division: Fraction
    about: bool = False

    @cached_property
    def si(self) -> Fraction:
        """The exact value in the base unit of the kind."""
        return to_si(self.number, self.unit)


@dataclass(frozen=True, slots=True)
class Number:
    """A number read from a line: its value, what its last digit stands for, and where it ends."""

    value: Fraction
    division: Fraction
    end: int


def parse(text: str, kind: Kind, unit: str | None = None) -> Typed:
    """Read one value of ``kind``; a bare number is taken in ``unit``, if that is given.

    ``EntryError`` if it cannot be read or means two things, ``KeyError`` if ``unit`` is no unit of ``kind``.
    """
    clean = text.strip()
    start = len(text) - len(text.lstrip())
    line = readable(text, clean, start)
    about = ABOUT.match(line, start)
    sign = SIGN.match(line, about.end() if about else start)
    start = next((found.end() for found in (sign, about) if found), start)
    number = feet_and_inches(line, start) if kind is Kind.LENGTH else None
    symbol = "in"
    if number is None:
        number = number_at(line, start, kind)
        symbol = unit_at(line, number.end, kind, unit)
    value = -number.value if sign and sign.group().startswith("-") else number.value
    typed = Typed(clean, value, symbol, kind, number.division, about is not None)
    if kind is Kind.TEMPERATURE and typed.si < 0:
        raise refusal(
            msg("At character {at}: nothing is colder than −273.15 °C; check sign and unit.", at=start + 1)
        )
    return typed


def parse_count(text: str) -> int:
    """Read a whole number from 0 to 9999; ``EntryError`` for anything else."""
    clean = text.strip()
    digits = len(clean) - len(clean.lstrip("0123456789"))
    if clean and digits == len(clean) <= LONGEST and int(clean) <= LARGEST_COUNT:
        return int(clean)
    at = 1 + (digits if digits < len(clean) else 0) + len(text) - len(text.lstrip())
    raise refusal(
        msg(
            "At character {at}: type a whole number from 0 to {most}, digits only.", at=at, most=LARGEST_COUNT
        )
    )


def refusal(problem: Message) -> EntryError:
    """The error for a problem that names its place in the gap ``at``."""
    place = dict(problem.params)["at"]
    assert isinstance(place, int)
    return EntryError(problem, place)


def readable(text: str, clean: str, start: int) -> str:
    """The line with one kind of space, minus and quotation mark, every character at its old place."""
    if not clean:
        raise EntryError(msg("Nothing is typed; type a number and its unit."), 1)
    if len(clean) > LONGEST:
        problem = msg(
            "The entry has more than {most} characters; type one number and its unit.", most=LONGEST
        )
        raise EntryError(problem, start + LONGEST + 1)
    line = re.sub(r"\s", " ", text.rstrip()).translate(SAME)
    for at, char in enumerate(line[start:], start + 1):
        if unicodedata.category(char) == "Nd" and not char.isascii():
            raise refusal(
                msg("“{char}” at character {at} cannot be read; type digits 0 to 9.", char=char, at=at)
            )
        if not char.isprintable():
            code = f"U+{ord(char):04X}"
            raise refusal(
                msg("An invisible character ({code}) stands at character {at}; delete it.", code=code, at=at)
            )
    return line


def number_at(line: str, start: int, kind: Kind) -> Number:
    """The number that begins at ``start``."""
    if found := FRACTION.match(line, start) or WITH_VULGAR.match(line, start):
        return fraction(found)
    found = DECIMAL.match(line, start)
    if found is None or found.end() == start:
        unit = shown_units(kind).split(", ")[0]
        raise refusal(
            msg("At character {at} a number is expected, like 12.5 {unit}.", at=start + 1, unit=unit)
        )
    whole, mark, after = found["whole"], found["mark"] or "", found["after"] or ""
    refuse_more_digits(line, found.end(), bool(mark))
    if len(after) == 3 and len(whole) <= 3 and whole.strip("0"):
        raise refusal(
            msg(
                "“{typed}” at character {at} can be a decimal or thousands; type {decimal} or {thousands}.",
                typed=found.group(),
                at=start + 1,
                decimal=f"{found.group()}0",
                thousands=whole + after,
            )
        )
    unity = 10 ** len(after)
    return Number(Fraction(int(whole.replace(" ", "") + after), unity), Fraction(1, unity), found.end())


def fraction(found: re.Match[str]) -> Number:
    """A fraction, alone or behind a whole number."""
    parts = found.groupdict()
    over, under = VULGAR[parts["vulgar"]] if "vulgar" in parts else (parts["over"], parts["under"])
    if int(under) == 0:
        at = found.start("under") + 1
        raise refusal(msg("At character {at}: nothing can be divided by 0; correct the fraction.", at=at))
    if parts["whole"] and (len(over) > 2 or int(over) >= int(under)):
        at = found.start("over") + 1
        raise refusal(msg("At character {at}: type a fraction below 1 here, like 1 3/16.", at=at))
    refuse_more_digits(found.string, found.end(), True)
    value = int(parts["whole"] or 0) + Fraction(int(over), int(under))
    return Number(value, Fraction(1, int(under)), found.end())


def refuse_more_digits(line: str, end: int, complete: bool) -> None:
    """Refuse what looks as if the number went on: another mark, another number, a power of ten."""
    rest = line[end:]
    at = end + 1 + len(rest) - len(rest.lstrip())
    if re.match(r"[eE][+-]?[0-9]", rest):
        raise refusal(msg("At character {at}: write the number out, without “e” for a power of ten.", at=at))
    if re.match(r" *[.,/]", rest) and complete:
        raise refusal(
            msg("At character {at}: only one sign may divide a number, like 1234.5 or 3/16.", at=at)
        )
    if re.match(r" *[.,/]", rest):
        raise refusal(msg("At character {at}: digits are missing beside this sign.", at=at))
    if re.match(rf" *(?:[0-9](?!/[a-zA-Z])|[{SIGNS}])", rest):
        raise refusal(
            msg(
                "At character {at} a second number begins; type thousands as 1 234, fractions as 1 3/16.",
                at=at,
            )
        )


def feet_and_inches(line: str, start: int) -> Number | None:
    """Feet with inches behind them, in inches; nothing if the line is not of that form."""
    found = FEET.match(line, start)
    if found is None:
        return None
    if not found["feet"].isdecimal():
        at = start + 1
        raise refusal(msg("At character {at}: in front of inches, type whole feet, like 5 ft 6 in.", at=at))
    inches = number_at(line, found.end(), Kind.LENGTH)
    if unit_at(line, inches.end, Kind.LENGTH, "in") != "in":
        at = inches.end + 1
        raise refusal(msg("At character {at}: behind feet, only inches can follow, like 5 ft 6 in.", at=at))
    if inches.value >= 12:
        at = found.end() + 1
        raise refusal(msg("At character {at}: behind feet, inches must be below 12; check them.", at=at))
    return Number(int(found["feet"]) * 12 + inches.value, inches.division, len(line))


def unit_at(line: str, start: int, kind: Kind, assumed: str | None) -> str:
    """The symbol of the unit that fills the rest of the line, or the assumed one if nothing is there."""
    word = line[start:].strip()
    at = len(line) - len(line[start:].lstrip()) + 1
    if word:
        symbol = find_unit(word, kind)
        if symbol is None:
            raise refusal(unit_problem(word, kind, at))
        return symbol
    if assumed is not None and kind not in UNITS[in_kind(assumed, kind)].kinds:
        raise KeyError(assumed)
    if kind is Kind.NUMBER or (assumed is not None and assumed != "ft in"):
        return in_kind(assumed or "1", kind)
    raise refusal(
        msg("The unit is missing at character {at}; type one of: {units}.", at=at, units=shown_units(kind))
    )


def unit_problem(word: str, kind: Kind, at: int) -> Message:
    """Why ``word`` is no unit here, and what to type."""
    if choices := unclear(word, kind):
        return msg(
            "“{word}” at character {at} is not clear; type one of: {units}.", word=word, at=at, units=choices
        )
    if kind is Kind.NUMBER:
        return msg(
            "“{word}” at character {at} is too much; type a plain number without a unit.", word=word, at=at
        )
    units = shown_units(kind)
    if known := kinds_of(word):
        return msg(
            "“{word}” at character {at} is {other}; this field takes {kind}: {units}.",
            word=word,
            at=at,
            other=known[0].words,
            kind=kind.words,
            units=units,
        )
    if near := closest_units(word, kind):
        return msg(
            "“{word}” at character {at} is not a known unit; did you mean {near}? This field takes: {units}.",
            word=word,
            at=at,
            near=", ".join(symbol.lstrip("Δ") for symbol in near),
            units=units,
        )
    return msg(
        "“{word}” at character {at} is not a known unit; this field takes: {units}.",
        word=word,
        at=at,
        units=units,
    )


def shown_units(kind: Kind) -> str:
    """The units of a kind as they are typed, in a row."""
    return ", ".join(symbol.lstrip("Δ") for symbol in units_of(kind))
