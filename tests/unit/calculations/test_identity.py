"""Serial numbers, character by character."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.identity import Difference, compare, compare_papers, normalised, year_verdict
from rakeprep.model.verdict import Verdict

SERIALS = st.text("ABO0I1S5B8Z2 -", max_size=12)


def shown(plate: str, other: str) -> list[tuple[int, str, str, bool]]:
    return [(d.position, d.first, d.second, d.look_alike) for d in compare(plate, other)]


def test_that_blanks_and_capitals_make_no_difference() -> None:
    assert compare(" pm1 0045\t", "PM1-0045".replace("-", "")) == ()


# Serials are invented, differences found by eye.
@pytest.mark.parametrize(
    ("plate", "paper", "expected"),
    [
        ("PM10045", "PM1004S", [(7, "5", "S", True)]),
        ("PM10045", "PMI0O45", [(3, "1", "I", True), (5, "0", "O", True)]),
        (
            "B8Z2",
            "8B2Z",
            [(1, "B", "8", True), (2, "8", "B", True), (3, "Z", "2", True), (4, "2", "Z", True)],
        ),
        ("PM10045", "PM10047", [(7, "5", "7", False)]),
        ("PM10045", "PM1045", [(4, "0", "", False)]),
        ("PM1045", "PM10045", [(4, "", "0", False)]),
        ("PM10045", "PM100455", [(7, "", "5", False)]),
        ("", "A", [(1, "", "A", False)]),
        ("AB", "", [(1, "A", "", False), (2, "B", "", False)]),
        ("PM1-45", "PM145", [(4, "-", "", False)]),
    ],
)
def test_that_each_differing_character_is_found_with_its_position(
    plate: str, paper: str, expected: list[tuple[int, str, str, bool]]
) -> None:
    assert shown(plate, paper) == expected


def test_that_each_kind_of_difference_has_its_sentence() -> None:
    assert str(Difference(7, "5", "S").text) == "character 7: “5” or “S”? They look alike"
    assert str(Difference(7, "5", "7").text) == "character 7: “7” instead of “5”"
    assert str(Difference(7, "5", "").text) == "character 7: “5” is missing"
    assert str(Difference(7, "", "5").text) == "before character 7: “5” is too many"


@settings(max_examples=100)
@given(SERIALS, SERIALS)
def test_that_no_difference_means_equal_and_the_differences_turn_one_into_the_other(a: str, b: str) -> None:
    found = compare(a, b)
    assert (not found) == (normalised(a) == normalised(b))
    # Second method: carry the differences out on the first number, from the right.
    letters = list(normalised(a))
    for each in reversed(found):
        place = each.position - 1
        letters[place : place + len(each.first)] = list(each.second)
    assert "".join(letters) == normalised(b)


@settings(max_examples=100)
@given(SERIALS, SERIALS)
def test_that_laying_out_is_never_dearer_than_comparing_place_by_place(a: str, b: str) -> None:
    # Second method: place by place every character counts whole, at most as many as the longer number has.
    cost = sum(0.5 if each.look_alike else 1 for each in compare(a, b))
    assert cost <= max(len(normalised(a)), len(normalised(b)))


def test_that_only_papers_that_differ_are_named() -> None:
    papers = {"note": "pm1 0045", "declaration": "PM1004S", "order": "PM10045"}
    found = compare_papers("PM10045", papers)
    assert list(found) == ["declaration"]
    assert found["declaration"][0].look_alike


def test_that_endless_numbers_are_refused_at_once() -> None:
    assert compare("A" * 100, "A" * 99) != ()
    with pytest.raises(Impossible, match="100 characters"):
        compare("A" * 10_000_000, "A")
    with pytest.raises(Impossible, match="100 characters"):
        compare_papers("A", {"note": "A" * 101})


# Common practice (no source): this year and up to two back are believed.
@pytest.mark.parametrize(
    ("built", "verdict"),
    [
        (2026, Verdict.IN_ORDER),
        (2024, Verdict.IN_ORDER),
        (2023, Verdict.MEASURE_AGAIN),
        (2027, Verdict.MEASURE_AGAIN),
    ],
)
def test_that_a_year_to_come_or_long_past_is_asked_about(built: int, verdict: Verdict) -> None:
    assert year_verdict(built, 2026) is verdict


def test_that_what_looks_unlike_costs_more_than_what_looks_alike() -> None:
    # by eye: "A5" against "5A5": one character is too many in front, none is exchanged
    assert shown("A5", "5A5") == [(1, "", "5", False)]
    # by hand: exchanging X for Y is one difference, and not as cheap as 5 for S
    assert shown("5XA", "SYA") == [(1, "5", "S", True), (2, "X", "Y", False)]
    # by hand: leaving out A and adding C is two whole differences, as are A for B and B for C; but with
    # look-alikes in place S for 5 and 5 for S are one whole one, so that they stay in place
    assert shown("S5", "5S") == [(1, "S", "5", True), (2, "5", "S", True)]
    assert shown("AB", "BA")[0][3] is False


@pytest.mark.parametrize(("plate", "paper"), [("ACDF", "CDFG"), ("ACD", "CDG")])
def test_that_a_row_moved_by_one_is_one_left_out_and_one_too_many(plate: str, paper: str) -> None:
    # by hand: two differences, the second behind the last character; one against one all would differ
    assert shown(plate, paper) == [(1, "A", "", False), (len(plate) + 1, "", "G", False)]
