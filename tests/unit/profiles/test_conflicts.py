"""Two printed values for one thing."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rakeprep.profiles import load_text, read_profile, sample_machines
from rakeprep.profiles.amounts import apart, interval
from rakeprep.text import ENGLISH
from rakeprep.units import Kind, Typed, parse

A = load_text(next(p for p in sample_machines() if p.stem == "sample-rake-a"))


def length(text: str) -> Typed:
    return parse(text, Kind.LENGTH)


def test_that_half_the_last_digit_is_the_interval():
    # Worked by hand: 60 cm is 595 to 605 mm; 1 ft 10 in is 21.5 to 22.5 in, 546.1 to 571.5 mm.
    assert interval(length("60 cm")) == (Fraction("0.595"), Fraction("0.605"))
    assert interval(length("1 ft 10 in")) == (Fraction("0.5461"), Fraction("0.5715"))


def test_that_two_values_lie_apart_by_the_gap_between_their_intervals():
    # By hand: 595 − 571.5 = 23.5 mm, whichever stands first.
    assert apart(length("60 cm"), length("1 ft 10 in")) == Fraction("0.0235")
    assert apart(length("1 ft 10 in"), length("60 cm")) == Fraction("0.0235")


def test_that_about_widens_to_the_whole_last_digit():
    # By hand: 1 ft 10 in ± 1 in ends at 23 in = 584.2 mm; 595 − 584.2 = 10.8 mm.
    assert apart(length("60 cm"), length("about 1 ft 10 in")) == Fraction("0.0108")
    assert apart(length("about 60 cm"), length("about 1 ft 10 in")) == Fraction("0.0058")


@pytest.mark.parametrize(
    ("first", "second"), [("3.00 m", "9 ft 10 1/8 in"), ("20 mm", "3/4 in"), ("1 m", "1.4 m")]
)
def test_that_values_within_their_rounding_agree(first: str, second: str):
    # By hand: 3000 ± 5 and 3000.4 ± 1.6 mm; 20 ± 0.5 and 19.05 ± 3.2 mm; 1 ± 0.5 and 1.4 ± 0.05 m.
    assert apart(length(first), length(second)) == 0


def test_that_temperatures_are_compared_on_one_scale():
    # By hand: 80 °C ± 0.5 is 175.1 to 176.9 °F and 175 °F ends at 175.5: no gap.
    # 170 °F ends at 170.5 °F; 79.5 °C is 175.1 °F; 4.6 °F apart is 4.6 × 5/9 K.
    assert apart(parse("80 °C", Kind.TEMPERATURE), parse("175 °F", Kind.TEMPERATURE)) == 0
    assert (
        apart(parse("80 °C", Kind.TEMPERATURE), parse("170 °F", Kind.TEMPERATURE)) == Fraction("4.6") * 5 / 9
    )


def test_that_a_conflict_is_told_and_does_not_stop_the_file():
    old = 'tine_clearance = { value = "10 mm", source = "book p. 54" }'
    assert old in A
    text = A.replace(old, 'tine_clearance = { value = "60 cm", also = "1 ft 10 in", source = "book p. 54" }')
    read = read_profile(text, "m.toml")
    assert read.mistakes == ()
    assert read.value is not None
    clearance = read.value.settings.tine_clearance
    assert clearance.conflict
    assert clearance.apart == Fraction("0.0235")
    (told,) = read.conflicts
    assert told.line == A[: A.index(old)].count("\n") + 1
    assert told.column == 1
    said = ENGLISH.say(told.says)
    assert "23.5 mm" in said
    assert "60 cm" in said
    assert "1 ft 10 in" in said


def test_that_a_conflict_of_temperatures_is_told_as_a_difference():
    old = 'hottest = { value = "80 °C"'
    assert old in A
    (told,) = read_profile(A.replace(old, old + ', also = "170 °F"'), "m.toml").conflicts
    assert "2.6 K" in ENGLISH.say(told.says)  # 4.6 × 5/9 = 2.56 K, see above
