"""Overrunning clutches: the truth table of a one-way clutch, worked by hand."""

from __future__ import annotations

from itertools import product

import pytest

from rakeprep.calculations.overrunning import PATTERNS, Clutch, overrunning
from rakeprep.model.verdict import Verdict


@pytest.mark.parametrize(
    ("tests", "clutch", "verdict"),
    [
        ((True, False, True), Clutch.RIGHT, Verdict.IN_ORDER),
        ((False, True, False), Clutch.REVERSED, Verdict.PUT_RIGHT),
        ((True, True, False), Clutch.SEIZED, Verdict.PUT_RIGHT),
        ((False, False, True), Clutch.WORN, Verdict.PUT_RIGHT),
        ((False, False, False), Clutch.UNCLEAR, Verdict.MEASURE_AGAIN),
        ((False, True, None), Clutch.REVERSED, Verdict.PUT_RIGHT),
        ((True, None, None), Clutch.NOT_YET, Verdict.NOT_YET),
        ((None, None, None), Clutch.NOT_YET, Verdict.NOT_YET),
    ],
)
def test_that_three_hand_tests_tell_the_clutch(
    tests: tuple[bool | None, bool | None, bool | None], clutch: Clutch, verdict: Verdict
) -> None:
    found = overrunning(*tests)
    assert (found.clutch, found.verdict) == (clutch, verdict)
    assert str(found.says)


def test_that_every_full_answer_is_decided() -> None:
    known = set(PATTERNS.values())
    for tests in product([True, False], repeat=3):
        assert (overrunning(*tests).clutch is Clutch.UNCLEAR) == (tests not in known)


@pytest.mark.parametrize(
    ("tests", "words"),
    [
        ((True, False, True), "lets the rotor run on"),
        ((False, True, False), "end for end"),
        ((True, True, False), "seized"),
        ((False, False, True), "worn"),
        ((True, None, None), "left"),
        ((False, False, False), "contradict"),
    ],
)
def test_that_each_state_has_its_sentence(tests: tuple[bool | None, ...], words: str) -> None:
    assert words in str(overrunning(*tests).says)
