"""Text from people and data files on its way to the paper."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from rakeprep.handover.clean import LONGEST, clean, ended, one_line, shortened
from rakeprep.handover.fonts import characters


def test_that_marks_of_direction_and_byte_order_are_dropped() -> None:
    # U+202E, U+200F, U+FEFF: Unicode category Cf.
    assert clean("a\u202eb\u200fc\ufeff") == "abc"


def test_that_controls_and_lone_surrogates_are_dropped() -> None:
    assert clean("a\x00b\ud800c\x07") == "abc"


def test_that_a_sign_the_faces_lack_stands_as_its_code() -> None:
    # Grinning face is U+1F600, the two Han signs U+6F22 and U+5B57 (Unicode code charts).
    assert clean("x \U0001f600 漢字") == "x [U+1F600] [U+6F22][U+5B57]"


def test_that_letters_of_the_workshops_languages_stay() -> None:
    words = "Größe żółć příliš Čeština être ёлка їжак Ωμέγα"
    assert clean(words) == words


def test_that_composed_and_decomposed_letters_become_the_same() -> None:
    assert clean("e\u0301") == clean("é") == "é"


def test_that_a_long_text_says_how_much_is_left_out() -> None:
    kept, remark = shortened("x" * (LONGEST + 3))
    assert len(kept) == LONGEST
    assert "3 more characters" in str(remark)


def test_that_a_short_text_is_whole() -> None:
    assert shortened("as it is") == ("as it is", None)


def test_that_an_ellipsis_counts_as_a_character() -> None:
    assert ended("abcdef", 4) == "abc…"
    assert ended("abcd", 4) == "abcd"


@given(st.text(max_size=200))
def test_that_nothing_is_left_that_the_faces_cannot_show(text: str) -> None:
    assert {ord(char) for char in clean(text)} <= characters() | {ord("\n")}


@given(st.text(max_size=200))
def test_that_one_line_is_one_line(text: str) -> None:
    line = one_line(text)
    assert "\n" not in line
    assert "  " not in line
    assert one_line(line) == line
