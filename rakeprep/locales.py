"""How languages write numbers and dates: the few facts of Unicode CLDR that every page asks for.

They stand here for the languages of the program because babel, which knows them for all languages, holds 4 MB
of other facts beside them. A test compares them with babel's.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Locale:
    """What a language calls itself, its signs in numbers, and its months as they stand behind a day."""

    name: str
    decimal: str
    minus: str
    months: tuple[str, ...]

    def fixed(self, value: float, decimals: int) -> str:
        """A number with exactly ``decimals`` decimals and no grouping."""
        return f"{value:.{decimals}f}".replace("-", self.minus).replace(".", self.decimal)

    def number(self, value: float, decimals: int) -> str:
        """A number with at most ``decimals`` decimals and no grouping."""
        whole, _, part = f"{value:.{decimals}f}".partition(".")
        part = part.rstrip("0")
        return whole.replace("-", self.minus) + (self.decimal + part if part else "")

    def date(self, day: dt.date) -> str:
        """A date with the month in words, so that day and month cannot be confused."""
        return f"{day.day} {self.months[day.month - 1]} {day.year:04d}"


def row(name: str, decimal: str, months: str) -> Locale:
    """A row of the table; the months stand with spaces between them."""
    return Locale(name, decimal, "-", tuple(months.split()))


KNOWN = {
    "en": row("English", ".", "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec"),
    "de": row("Deutsch", ",", "Jan. Feb. März Apr. Mai Juni Juli Aug. Sept. Okt. Nov. Dez."),
    "fr": row("français", ",", "janv. févr. mars avr. mai juin juil. août sept. oct. nov. déc."),
    "pl": row("polski", ",", "sty lut mar kwi maj cze lip sie wrz paź lis gru"),
}


def locale_of(code: str) -> Locale:
    """What is known of a language; babel is asked where the table has no row."""
    return KNOWN.get(code) or from_babel(code)


def from_babel(code: str) -> Locale:
    """What babel knows of a language; raises its ``UnknownLocaleError``."""
    import babel

    found = babel.Locale.parse(code)
    signs = found.number_symbols["latn"]
    months = found.months["format"]["abbreviated"]
    name = found.get_display_name() or code
    return Locale(name, signs["decimal"], signs["minusSign"], tuple(months[n] for n in range(1, 13)))
