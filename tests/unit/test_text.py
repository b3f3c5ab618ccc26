from __future__ import annotations

import datetime as dt
import gettext
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.text import ENGLISH, Language, Message, joined, languages, msg, plural, verbatim

GERMAN = Language("de")
POLISH = Language("pl")
FRENCH = Language("fr")


HEADER = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n\n'


@pytest.fixture
def translations(tmp_path: Path) -> Path:
    """A folder with an invented German and an invented Polish catalogue."""
    german = {"Tyre {place} holds {amount}.": "{amount} im Reifen {place}.", "left": "links", "yes": "ja"}
    entries = "".join(f'msgid "{key}"\nmsgstr "{text}"\n\n' for key, text in german.items())
    (tmp_path / "de.po").write_text(HEADER + entries, "utf-8")
    forms = ("Brakuje {count} sworznia.", "Brakuje {count} sworzni (kilka).", "Brakuje {count} sworzni.")
    lines = "".join(f'msgstr[{n}] "{form}"\n' for n, form in enumerate(forms))
    one, many = "{count} pin is missing.", "{count} pins are missing."
    (tmp_path / "pl.po").write_text(f'{HEADER}msgid "{one}"\nmsgid_plural "{many}"\n{lines}', "utf-8")
    return tmp_path


def test_that_gaps_are_filled_by_name() -> None:
    said = msg("Tyre {place} holds {amount}.", amount="1.8 bar", place="L1")
    assert str(said) == "Tyre L1 holds 1.8 bar."


def test_that_a_gap_may_be_used_twice_and_a_spare_parameter_not_at_all() -> None:
    assert str(msg("{a} and {a}", a="one", b="two")) == "one and one"


def test_that_a_gap_without_a_parameter_stays_visible() -> None:
    assert str(msg("{a} and {b}", a="one")) == "one and {b}"


def test_that_messages_are_equal_by_content_so_that_findings_can_be_compared() -> None:
    assert msg("{a}", a=1) == msg("{a}", a=1)
    assert msg("{a}", a=1) != msg("{a}", a=2)
    assert len({msg("{a}", a=1), msg("{a}", a=1)}) == 1


@pytest.mark.parametrize(
    "typed", ["{amount}", "{place}", "{}", "{0}", "{place!r}", "{place.__class__}", "%s", "\\1", "\\g<0>"]
)
def test_that_braces_and_format_codes_in_a_persons_text_stay_as_typed(typed: str) -> None:
    assert str(msg("Note: {place}", place=typed, amount="secret")) == f"Note: {typed}"
    assert str(verbatim(typed)) == typed


@given(st.text())
def test_that_any_text_of_a_person_comes_out_as_it_went_in(typed: str) -> None:
    assert str(msg("<{note}>", note=typed, other="x")) == f"<{typed}>"
    assert str(verbatim(typed)) == typed
    assert GERMAN.say(verbatim(typed)) == typed


@pytest.mark.parametrize(
    ("count", "said"), [(0, "0 pins are missing."), (1, "1 pin is missing."), (2, "2 pins are missing.")]
)
def test_that_english_has_one_and_many(count: int, said: str) -> None:
    assert str(plural("{count} pin is missing.", "{count} pins are missing.", count)) == said


# GNU gettext manual, "Additional functions for plural forms", Polish: 1 / ends in 2 to 4 but not in
# 12 to 14 / the rest.
@pytest.mark.parametrize(
    ("count", "said"),
    [
        (1, "Brakuje 1 sworznia."),
        (2, "Brakuje 2 sworzni (kilka)."),
        (5, "Brakuje 5 sworzni."),
        (12, "Brakuje 12 sworzni."),
        (22, "Brakuje 22 sworzni (kilka)."),
    ],
)
def test_that_a_language_with_three_plurals_gets_the_right_one(
    translations: Path, count: int, said: str
) -> None:
    polish = languages(translations)["pl"]
    assert polish.say(plural("{count} pin is missing.", "{count} pins are missing.", count)) == said


def test_that_one_message_is_said_in_each_language_with_its_parts(translations: Path) -> None:
    spoken = languages(translations)
    message = msg("Tyre {place} holds {amount}.", place=msg("left"), amount=Fraction(9, 5))
    assert spoken["en"].say(message) == "Tyre left holds 1.8."
    assert spoken["de"].say(message) == "1,8 im Reifen links."


def test_that_english_comes_first_and_needs_no_catalogue(translations: Path, tmp_path: Path) -> None:
    assert list(languages(translations)) == ["en", "de", "pl"]
    assert list(languages(tmp_path / "nowhere")) == ["en"]


def test_that_an_untranslated_sentence_falls_back_to_english(translations: Path) -> None:
    assert languages(translations)["de"].say(msg("Not in the catalogue")) == "Not in the catalogue"


def test_that_an_empty_sentence_does_not_print_the_catalogues_header(translations: Path) -> None:
    """gettext answers the empty key with the header of the file."""
    assert languages(translations)["de"].say(msg("")) == ""


def test_that_messages_can_be_nested_and_joined() -> None:
    inner = joined([msg("left"), plural("{count} pin", "{count} pins", 3), verbatim("{x}")])
    assert str(msg("Look at {where}.", where=inner)) == "Look at left, 3 pins, {x}."
    assert str(joined([msg("a"), msg("b")], by="; ")) == "a; b"
    assert str(joined([])) == ""


def test_that_yes_and_no_are_words_and_are_translated(translations: Path) -> None:
    assert str(msg("{fitted}", fitted=True)) == "yes"
    assert str(msg("{fitted}", fitted=False)) == "no"
    assert languages(translations)["de"].say(msg("{fitted}", fitted=True)) == "ja"


# Decimal signs: Unicode CLDR, "numbers / symbols / decimal": en ".", de "," pl "," fr ",".
@pytest.mark.parametrize(
    ("language", "said"), [(ENGLISH, "1234.5"), (GERMAN, "1234,5"), (POLISH, "1234,5"), (FRENCH, "1234,5")]
)
def test_that_numbers_have_the_languages_decimal_sign_and_no_grouping(language: Language, said: str) -> None:
    assert language.number(Fraction(2469, 2)) == said
    assert language.say(msg("{n}", n=Fraction(2469, 2))) == said


@pytest.mark.parametrize("language", [ENGLISH, GERMAN, POLISH, FRENCH])
def test_that_whole_numbers_are_never_grouped(language: Language) -> None:
    """A group sign looks like a decimal sign of the neighbouring country: 1.234 or 1,234."""
    assert language.say(msg("{n}", n=1234567)) == "1234567"
    assert language.number(1234567.0) == "1234567"


# Rounded by hand: 2/3 = 0.666…; 1/3 = 0.333…; 2 = 2.
def test_that_decimals_are_at_most_or_exactly_as_many_as_asked() -> None:
    assert GERMAN.number(Fraction(2, 3)) == "0,667"
    assert GERMAN.number(Fraction(2, 3), 1) == "0,7"
    assert GERMAN.number(Fraction(1, 3), 0) == "0"
    assert GERMAN.number(Fraction(2)) == "2"
    assert GERMAN.fixed(Fraction(2), 2) == "2,00"
    assert GERMAN.fixed(Fraction(2, 3), 1) == "0,7"
    assert GERMAN.fixed(Fraction(2, 3), 0) == "1"


def test_that_a_negative_number_keeps_its_sign() -> None:
    assert POLISH.number(Fraction(-5, 2)) == "-2,5"
    assert POLISH.fixed(Fraction(-5, 2), 2) == "-2,50"


@given(st.fractions(min_value=-100_000, max_value=100_000), st.integers(min_value=0, max_value=4))
def test_that_a_shown_number_is_within_half_its_last_digit(value: Fraction, decimals: int) -> None:
    """What a user reads may differ from the exact value by half a digit, and by no more."""
    shown = Fraction(ENGLISH.fixed(value, decimals))
    # one part in 10^9 for the passage through binary floating point
    assert abs(shown - value) <= Fraction(1, 2 * 10**decimals) + Fraction(1, 10**9)


# Month names from Unicode CLDR, "calendars / gregorian / months / format / abbreviated".
@pytest.mark.parametrize(
    ("language", "said"),
    [(ENGLISH, "4 Mar 2026"), (GERMAN, "4 März 2026"), (POLISH, "4 mar 2026"), (FRENCH, "4 mars 2026")],
)
def test_that_the_month_stands_in_words(language: Language, said: str) -> None:
    assert language.date(dt.date(2026, 3, 4)) == said
    assert language.say(msg("{day}", day=dt.date(2026, 3, 4))) == said


def test_that_a_moment_is_shown_with_hours_and_minutes_of_its_own_zone() -> None:
    zone = dt.timezone(dt.timedelta(hours=2))
    assert str(msg("{at}", at=dt.datetime(2026, 3, 4, 7, 5, 59, tzinfo=zone))) == "4 Mar 2026 07:05"


def test_that_a_parameter_may_show_itself() -> None:
    class Amount:
        def shown(self, language: Language) -> str:
            return f"{language.fixed(1.5, 1)} bar"

    message = msg("{pressure}", pressure=Amount())
    assert ENGLISH.say(message) == "1.5 bar"
    assert GERMAN.say(message) == "1,5 bar"


def test_that_any_other_parameter_is_shown_as_python_writes_it() -> None:
    assert str(msg("{p}", p=Path("a") / "b")) == str(Path("a") / "b")


def test_that_a_message_without_parameters_is_only_its_text() -> None:
    assert Message("Ready.") == msg("Ready.")
    assert Language("en", gettext.NullTranslations()).say(msg("Ready.")) == "Ready."


def test_that_a_tiny_negative_number_is_no_minus_zero() -> None:
    assert ENGLISH.fixed(-0.0001, 2) == "0.00"
    assert ENGLISH.number(-0.0001, 2) == "0"


def test_that_a_nonsense_number_is_shown_all_the_same() -> None:
    assert ENGLISH.fixed(1e30, 1) == "1e+30"
