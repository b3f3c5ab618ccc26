"""Numbers and dates in the languages of the program; babel is the judge."""

from __future__ import annotations

import datetime as dt

import pytest
from babel import dates, numbers
from hypothesis import given
from hypothesis import strategies as st

from rakeprep import locales, paths

CODES = sorted({"en", *(file.stem for file in (paths.resources() / "translations").glob("*.po"))})


def test_that_the_table_has_the_languages_of_the_program() -> None:
    assert sorted(locales.KNOWN) == CODES


@pytest.mark.parametrize("code", CODES)
def test_that_the_table_says_what_babel_says(code: str) -> None:
    assert locales.KNOWN[code] == locales.from_babel(code)


def test_that_babel_is_asked_about_a_language_that_has_no_row() -> None:
    # Unicode CLDR, sv: decimal comma, the minus sign U+2212, "5 mars 2026"
    swedish = locales.locale_of("sv")
    assert swedish.name == "svenska"
    assert swedish.number(-2.5, 3) == "\N{MINUS SIGN}2,5"
    assert swedish.date(dt.date(2026, 3, 5)) == "5 mars 2026"


@given(st.sampled_from(CODES), st.integers(-(10**12), 10**12), st.integers(0, 4))
def test_that_numbers_are_written_as_babel_writes_them(code: str, digits: int, decimals: int) -> None:
    value, locale = digits / 10**decimals, locales.KNOWN[code]
    dot = "." if decimals else ""
    fixed = numbers.format_decimal(value, "0" + dot + "0" * decimals, locale=code)
    short = numbers.format_decimal(value, "0" + dot + "#" * decimals, locale=code)
    assert (locale.fixed(value, decimals), locale.number(value, decimals)) == (fixed, short)


@given(st.sampled_from(CODES), st.dates())
def test_that_dates_are_written_as_babel_writes_them(code: str, day: dt.date) -> None:
    assert locales.KNOWN[code].date(day) == dates.format_date(day, "d MMM yyyy", locale=code)
