"""Counts of bolts, pins and parts."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.balance import compare_counts, fastener_balance
from rakeprep.model.verdict import Verdict

COUNTS = st.integers(0, 60)


# Invented machine: 12 arms and 2 axle parts bolted for shipping, 24 + 2 holes; worked by hand.
@pytest.mark.parametrize(
    ("bolts_out", "pins_in", "words"),
    [
        (14, 26, []),
        (13, 26, ["1 shipping bolt is still in the machine"]),
        (12, 24, ["2 shipping bolts are still in the machine", "2 holes are without their pins"]),
        (14, 25, ["1 hole is without its pin"]),
        (15, 27, ["1 bolt more came out than was shipped", "1 pin more than there are holes"]),
        (16, 28, ["2 bolts more came out than were shipped", "2 pins more than there are holes"]),
    ],
)
def test_that_only_all_bolts_out_and_all_pins_in_are_in_order(
    bolts_out: int, pins_in: int, words: list[str]
) -> None:
    found = fastener_balance(14, bolts_out, 26, pins_in)
    assert len(found.reasons) == len(words)
    assert all(str(text).startswith(word) for text, word in zip(found.reasons, words, strict=True))
    assert found.verdict is (Verdict.PUT_RIGHT if words else Verdict.IN_ORDER)
    assert (found.bolts_left, found.holes_open) == (14 - bolts_out, 26 - pins_in)


def test_that_a_crate_with_one_arm_of_the_wrong_hand_is_named() -> None:
    # Invented: 6 + 6 ordered, 7 + 5 in the crate.
    left, right = compare_counts(
        {"left-hand arm": 6, "right-hand arm": 6}, {"left-hand arm": 7, "right-hand arm": 5}
    )
    assert (left.name, left.surplus, str(left.text)) == ("left-hand arm", 1, "left-hand arm: 1 too many")
    assert (right.name, right.surplus, str(right.text)) == ("right-hand arm", -1, "right-hand arm: 1 missing")


def test_that_a_name_on_one_side_only_counts_as_none_on_the_other() -> None:
    assert [(d.name, d.surplus) for d in compare_counts({"key": 2}, {"chain": 1})] == [
        ("key", -2),
        ("chain", 1),
    ]


@settings(max_examples=100)
@given(st.dictionaries(st.sampled_from("abcde"), COUNTS), st.dictionaries(st.sampled_from("abcde"), COUNTS))
def test_that_swapping_sides_changes_the_sign_only(one: dict[str, int], other: dict[str, int]) -> None:
    there = {d.name: d.surplus for d in compare_counts(one, other)}
    back = {d.name: -d.surplus for d in compare_counts(other, one)}
    assert there == back
    assert compare_counts(one, one) == ()


@settings(max_examples=100)
@given(COUNTS, COUNTS, COUNTS, COUNTS)
def test_that_a_balance_is_in_order_exactly_when_both_counts_agree(a: int, b: int, c: int, d: int) -> None:
    assert (fastener_balance(a, b, c, d).verdict is Verdict.IN_ORDER) == (a == b and c == d)


def test_that_counts_below_zero_are_refused() -> None:
    with pytest.raises(Impossible):
        fastener_balance(1, -1, 1, 1)
    with pytest.raises(Impossible):
        compare_counts({"pin": 1}, {"pin": -1})
