"""Remaining work; sums worked by hand."""

from __future__ import annotations

import pytest

from rakeprep.calculations import Impossible
from rakeprep.calculations.progress import Stage, progress
from rakeprep.text import msg

HOUR = 3600.0


def test_that_the_next_stage_is_one_that_can_be_done() -> None:
    found = progress(
        [
            Stage("unload", HOUR, done=2 * HOUR, finished=True),
            Stage("arms", 2 * HOUR, done=0.5 * HOUR, blocked=HOUR, waits_for=("pins",)),
            Stage("level", HOUR, after=("arms",)),
            Stage("lights", 0.5 * HOUR, after=("unload",)),
        ]
    )
    assert found.next_stage == "lights"
    # by hand: (2 - 0.5) + 1 + 0.5 = 3 h by plan; at double time 3.5 + 2 + 1 = 6.5 h
    assert found.by_plan == pytest.approx(3 * HOUR)
    assert found.pace == pytest.approx(2)
    assert found.remaining == pytest.approx(6.5 * HOUR)
    assert found.blocked == HOUR
    assert found.held_up == ("pins",)
    assert str(found.says) == "Next: lights. Waiting for: pins."


def test_that_a_stage_beyond_its_plan_is_named_and_not_counted_below_zero() -> None:
    found = progress([Stage("level", HOUR, done=2 * HOUR), Stage("oil", HOUR)])
    assert found.longer == ("level",)
    assert found.remaining == HOUR
    assert str(found.says) == "Next: level."


def test_that_finished_stages_without_time_say_nothing_about_the_pace() -> None:
    assert progress([Stage("a", HOUR, finished=True), Stage("b", HOUR)]).pace == 1


@pytest.mark.parametrize(
    ("stages", "words"),
    [
        ([], "Everything is done."),
        ([Stage("a", HOUR, finished=True)], "Everything is done."),
        (
            [Stage("a", HOUR, waits_for=("shaft", "pins"))],
            "until this is here: shaft, pins.",
        ),
        ([Stage("a", HOUR, after=("b",)), Stage("b", HOUR, after=("a",))], "wait for one another"),
    ],
)
def test_that_standstill_is_told(stages: list[Stage], words: str) -> None:
    found = progress(stages)
    assert found.next_stage is None
    assert words in str(found.says)


def test_that_impossible_stages_are_refused() -> None:
    for stages in (
        [Stage("a", 0)],
        [Stage("a", HOUR, done=-1)],
        [Stage("a", HOUR, blocked=-1)],
        [Stage("a", HOUR), Stage("a", HOUR)],
        [Stage("a", HOUR, after=("x",))],
    ):
        with pytest.raises(Impossible):
            progress(stages)


def test_that_little_time_and_a_slow_pace_count_too() -> None:
    # by hand: half a second used of one planned is a pace of 0.5; of 10 s then 5 are left, 4 used
    found = progress([Stage("a", 1.0, 0.5, finished=True), Stage("b", 10.0, 4.0)])
    assert (found.pace, found.remaining, found.by_plan) == (0.5, 1.0, 6.0)
    # 5 s are used up at that pace although 10 were planned
    assert progress([Stage("a", 1.0, 0.5, finished=True), Stage("b", 10.0, 5.0)]).longer == ("b",)
    # by plan nothing is left of a stage that took longer, not a negative rest
    assert progress([Stage("b", 10.0, 12.0)]).by_plan == 0.0


def test_that_a_stage_is_called_by_its_name_where_it_has_one() -> None:
    assert str(progress([Stage("a", 1.0, name=msg("first"))]).says) == "Next: first."
    assert str(progress([Stage("a", 1.0)]).says) == "Next: a."
