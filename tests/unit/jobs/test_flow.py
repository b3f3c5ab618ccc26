"""The next useful thing to do."""

from __future__ import annotations

from typing import Any

import pytest

from rakeprep.jobs.flow import latest, next_task, task_after, task_before
from rakeprep.model.entry import Slot
from rakeprep.model.field import Need

A, B, C = (Slot("s", key) for key in "abc")


@pytest.fixture(scope="module")
def step(bench: Any) -> Any:
    return bench.step("s", bench.field("a"), bench.field("b", need=Need.MAY), bench.field("c"))


def test_that_a_new_job_begins_at_the_beginning(bench: Any, step: Any) -> None:
    assert next_task(bench.assess(step)) == A


def test_that_the_next_task_comes_after_the_present_one_and_passes_over_what_nobody_misses(
    bench: Any, step: Any
) -> None:
    assert next_task(bench.assess(step), A) == C


def test_that_behind_the_last_task_the_search_goes_on_at_the_first(bench: Any, step: Any) -> None:
    assert next_task(bench.assess(step, bench.entry("s.c")), C) == A


def test_that_an_unknown_present_task_is_as_good_as_none(bench: Any, step: Any) -> None:
    assert next_task(bench.assess(step), Slot("s", "of an earlier tractor")) == A


def test_that_settled_tasks_are_passed_over(bench: Any, step: Any) -> None:
    assert next_task(bench.assess(step, bench.entry("s.a"), bench.absent("s.c"))) is None
    assert next_task(bench.assess(step, bench.entry("s.a"), bench.later("s.c"))) is None


def test_that_what_is_wrong_comes_up_again(bench: Any, step: Any) -> None:
    assert next_task(bench.assess(step, bench.entry("s.a", "again"), bench.entry("s.c"))) == A


def test_that_danger_comes_up_again_though_it_was_left(bench: Any, step: Any) -> None:
    bodies = (bench.entry("s.a", "danger"), bench.later("s.a"), bench.entry("s.c"))
    assert next_task(bench.assess(step, *bodies)) == A


def test_that_what_must_be_there_comes_up_again_though_it_was_called_absent(bench: Any) -> None:
    step = bench.step("s", bench.field("a", need=Need.MUST))
    assert next_task(bench.assess(step, bench.absent("s.a"))) == A


def test_that_no_task_is_left_exactly_when_the_gate_has_no_obstacle(bench: Any, step: Any) -> None:
    for word in ("good", "again", "wrong", "danger"):
        for later in ((), (bench.later("s.a"),)):
            assessment = bench.assess(step, bench.entry("s.a", word), *later, bench.entry("s.c"))
            assert (next_task(assessment) is None) == (not assessment.gate.obstacles)


def test_that_back_and_next_go_one_by_one(bench: Any, step: Any) -> None:
    assessment = bench.assess(step)
    assert (task_before(assessment, A), task_after(assessment, A)) == (None, B)
    assert (task_before(assessment, C), task_after(assessment, C)) == (B, None)


def test_that_the_latest_entry_tells_where_one_was(bench: Any, step: Any) -> None:
    assessment = bench.assess(step)
    assert latest(assessment, {A: 2, C: 7, B: 5}) == C
    assert latest(assessment, {Slot("s", "gone"): 9}) is None
    assert latest(assessment, {}) is None
