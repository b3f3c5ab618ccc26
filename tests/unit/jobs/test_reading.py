"""From what somebody typed to an answer, or a sentence that says what is wrong."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.jobs.reading import LONGEST_TEXT, Refused, Understood, clean, read
from rakeprep.model.field import YES_NO, Ask, Field
from rakeprep.text import msg
from rakeprep.units import Kind

DEFAULT_UNIT = {Kind.LENGTH: "mm", Kind.PRESSURE: "bar", Kind.TEMPERATURE: "°C"}
LENGTH = Field("x", msg("Length"), Ask.QUANTITY, msg("Measure it."), kind=Kind.LENGTH, unit="mm")
COUNT = Field("n", msg("How many"), Ask.COUNT, msg("Count them."))
YES = Field("y", msg("Is it"), Ask.CHOICE, msg("Look at it."), options=YES_NO)
MANY = Field("m", msg("Which"), Ask.MANY, msg("Choose any."), options=YES_NO)
WORDS = Field("t", msg("Serial number"), Ask.TEXT, msg("Read it off."))
DAY = Field("d", msg("Day"), Ask.DATE, msg("From the paper."))
DONE = Field("o", msg("Done"), Ask.DONE, msg("Say so."))
PHOTO = Field("p", msg("Picture"), Ask.PHOTO, msg("Take one."))
FIELDS = [
    *(Field("q", msg("Q"), Ask.QUANTITY, msg("H"), kind=k, unit=DEFAULT_UNIT.get(k, "")) for k in Kind),
    *(COUNT, YES, MANY, WORDS, DAY, DONE, PHOTO),
]


def refusal(field: Field, text: str, unit: str = "") -> str:
    with pytest.raises(Refused) as caught:
        read(field, text, unit)
    return str(caught.value.message)


@pytest.mark.parametrize(
    "text",
    ["2,4,5", "1.2.3", "9**9**9 m", "NaN", "inf", "1e5 mm", "0x10 mm", "1_000 mm", "", " ", "mm", "1 / 0 in"],
)
def test_that_what_is_no_number_is_refused_with_its_place(text: str) -> None:
    with pytest.raises(Refused) as caught:
        read(LENGTH, text)
    assert 1 <= caught.value.position <= len(text) + 1
    said = str(caught.value.message)
    assert said.endswith(".")
    assert "Error" not in said


def test_that_a_megabyte_is_refused_in_one_short_sentence() -> None:
    for field in FIELDS:
        assert len(refusal(field, "9" * 1_000_000)) < 300


def test_that_a_number_that_means_two_things_is_asked_back_with_both() -> None:
    said = refusal(LENGTH, "1,234 mm")
    assert "1,2340" in said
    assert "1234" in said


def test_that_the_wrong_unit_is_named_with_what_it_measures() -> None:
    said = refusal(LENGTH, "2 bar")
    assert "a pressure" in said
    assert "mm" in said


def test_that_a_mistyped_unit_gets_a_suggestion() -> None:
    assert "did you mean psi" in refusal(
        Field("p", msg("P"), Ask.QUANTITY, msg("H"), kind=Kind.PRESSURE, unit="bar"), "30 spi"
    )


@pytest.mark.parametrize("sign", ["-", "−", "–", "‐"])
def test_that_every_minus_a_keyboard_has_is_a_minus(sign: str) -> None:
    assert read(LENGTH, f"{sign}5 mm").exact == Fraction(-5, 1000)


def test_that_a_reading_keeps_text_unit_value_and_division() -> None:
    found = read(LENGTH, " 1 3/16 in ")
    # 19/16 in and 1/16 in with 25.4 mm to the inch (exact by definition, 1959), by hand
    inch = Fraction(254, 10000)
    assert found == Understood("1 3/16 in", "in", inch * 19 / 16, inch / 16)


def test_that_the_division_of_a_temperature_is_a_difference() -> None:
    field = Field("t", msg("T"), Ask.QUANTITY, msg("H"), kind=Kind.TEMPERATURE, unit="°C")
    found = read(field, "18.5")
    assert (found.exact, found.division) == (Fraction(29165, 100), Fraction(1, 10))  # 273.15 K by definition


def test_that_the_unit_on_the_screen_counts_where_none_is_typed() -> None:
    assert read(LENGTH, "2").exact == Fraction(2, 1000)
    assert read(LENGTH, "2", "m").exact == 2
    assert read(LENGTH, "2 mm", "m").exact == Fraction(2, 1000)


def test_that_a_reading_outside_any_limit_is_taken() -> None:
    assert read(LENGTH, "99999999999999 m").exact == 99999999999999


def test_that_options_are_kept_in_their_own_order() -> None:
    assert read(MANY, "no,yes, no").typed == "yes, no"
    assert read(MANY, "none").typed == "none"


def test_that_an_unknown_option_is_named_with_the_known_ones() -> None:
    assert refusal(YES, "perhaps") == "“perhaps” is not one of the answers here; choose from: yes, no."
    assert refusal(YES, "none") == "“none” is not one of the answers here; choose from: yes, no."
    assert refusal(YES, "yes, no") == "Only one answer can be given here, not 2."
    assert refusal(MANY, ",") == "Nothing is chosen; choose one of: yes, no, none."


@pytest.mark.parametrize("text", ["18.5.2026", "05/18/2026", "2026-02-30", "tomorrow", ""])
def test_that_a_date_has_one_order_only(text: str) -> None:
    assert "2026-05-18" in refusal(DAY, text)


def test_that_a_date_is_kept_as_iso_8601_has_it() -> None:
    assert read(DAY, " 2026-05-18 ").typed == "2026-05-18"


def test_that_a_thing_is_done_only_when_somebody_says_so() -> None:
    assert read(DONE, "Yes").typed == "done"
    assert "leave it for later" in refusal(DONE, "almost")


def test_that_nobody_types_a_picture() -> None:
    assert "picture" in refusal(PHOTO, "0" * 64)


def test_that_text_is_cleaned_of_what_cannot_be_seen() -> None:
    # U+202E turns the direction of writing, U+200B has no width, U+0007 rings; e and U+0301 are one letter
    assert read(WORDS, " SN\u202e-\u200b1\x07e\u0301\r\nbelow\t8 ").typed == "SN-1é\nbelow 8"
    assert refusal(WORDS, "\u200b\x00") == "Nothing is written here yet."


def test_that_an_endless_text_is_refused() -> None:
    assert read(WORDS, "x" * LONGEST_TEXT).typed == "x" * LONGEST_TEXT
    assert str(LONGEST_TEXT) in refusal(WORDS, "x" * (LONGEST_TEXT + 1))


ANY_TEXT = st.one_of(
    st.text(max_size=60),
    st.text("0123456789.,/ -+e'\"½−°", max_size=20),
    st.text(st.characters(), max_size=10),  # with surrogates
    st.sampled_from(["yes", "none", "done", "2026-05-18", "5 mm", "1 in", "12"]),
)


@given(st.sampled_from(FIELDS), ANY_TEXT)
def test_that_any_text_is_either_understood_or_refused_in_a_sentence(field: Field, text: str) -> None:
    found = understood_or_refused(field, text)
    if isinstance(found, Refused):
        said = str(found.message)
        assert said.encode("utf-8")  # a refusal must be printable whatever was typed
        assert len(said) < 600
        assert found.position >= 1
        return
    assert found.typed
    assert found.typed.encode("utf-8")
    assert (found.exact is not None) == (field.ask in {Ask.QUANTITY, Ask.COUNT})
    assert read(field, found.typed, found.unit) == found  # what is kept reads as the same again


def understood_or_refused(field: Field, text: str) -> Understood | Refused:
    try:
        return read(field, text)
    except Refused as refused:
        return refused


@given(st.text(st.characters(), max_size=60))
def test_that_cleaning_twice_changes_nothing(text: str) -> None:
    assert clean(clean(text)) == clean(text)
