"""What becomes out of date, why, and what does not."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from rakeprep.jobs import events
from rakeprep.model.entry import Slot
from rakeprep.model.field import Need
from rakeprep.model.verdict import Verdict

B = Slot("s", "b")


@pytest.fixture(scope="module")
def steps(bench: Any) -> Any:
    """``s.b`` rests on ``s.a``; ``t.c``, at both rotors and the frame, on the whole of step ``s``."""
    s = bench.step("s", bench.field("a", "", "L", "R"), bench.field("b", "", "L", rests_on=("s.a",)))
    t = bench.step(
        "t",
        bench.field("c", "L", "R", "middle", rests_on=("s", "tractor")),
        bench.field("n", "L", "R", rests_on=("t.n",)),
        order=2,
    )
    return (s, t)


def stale(bench: Any, steps: Any, *bodies: Any) -> set[str]:
    states = bench.assess(steps, *bodies).states
    return {str(slot) for slot, state in states.items() if state.stale is not None}


def test_that_an_answer_is_out_of_date_once_its_basis_changed(bench: Any, steps: Any) -> None:
    bodies = (bench.entry("s.a", "good"), bench.entry("s.b"), bench.entry("s.a", "wrong"))
    state = bench.assess(steps, *bodies).states[B]
    assert state.verdict is Verdict.OUT_OF_DATE
    # the events are stored one minute apart from 12:01; times by counting
    assert str(state.stale) == "a changed 12:04; this was entered 12:03."


def test_that_the_reason_names_the_place_and_the_latest_change(bench: Any, steps: Any) -> None:
    bodies = (bench.entry("s.b"), bench.entry("s.a@R"), bench.entry("s.a@L"), bench.entry("s.a@R", "wrong"))
    reason = str(bench.assess(steps, *bodies).states[B].stale)
    assert reason == "a, right rotor, changed 12:05; this was entered 12:02."


def test_that_a_basis_entered_for_the_first_time_afterwards_counts(bench: Any, steps: Any) -> None:
    assert stale(bench, steps, bench.entry("s.b"), bench.entry("s.a")) == {"s.b"}


def test_that_the_same_value_again_changes_nothing(bench: Any, steps: Any) -> None:
    assert not stale(bench, steps, bench.entry("s.a"), bench.entry("s.b"), bench.entry("s.a"))


def test_that_one_value_typed_in_two_units_is_the_same(bench: Any, steps: Any) -> None:
    metre = bench.entry("s.a", "25.4 mm", exact=Fraction(254, 10000))  # 1 in = 25.4 mm (ISO 31-1)
    inch = bench.entry("s.a", "1 in", exact=Fraction(254, 10000))
    assert not stale(bench, steps, metre, bench.entry("s.b"), inch)


def test_that_a_value_changed_there_and_back_changes_nothing(bench: Any, steps: Any) -> None:
    there = (bench.entry("s.a"), bench.entry("s.b"), bench.entry("s.a", "wrong"))
    assert stale(bench, steps, *there) == {"s.b"}
    assert not stale(bench, steps, *there, bench.entry("s.a", "good"))


def test_that_not_on_this_machine_is_a_change(bench: Any, steps: Any) -> None:
    assert stale(bench, steps, bench.entry("s.a"), bench.entry("s.b"), bench.absent("s.a")) == {"s.b"}


def test_that_entering_it_anew_makes_it_fresh(bench: Any, steps: Any) -> None:
    assert not stale(bench, steps, bench.entry("s.b"), bench.entry("s.a"), bench.entry("s.b"))


def test_that_the_left_rotor_does_not_rest_on_the_right_one(bench: Any, steps: Any) -> None:
    bodies = [bench.entry(f"t.c@{place}") for place in ("L", "R", "middle")]
    assert stale(bench, steps, *bodies, bench.entry("s.a@L")) == {"t.c@L", "t.c@middle"}
    assert stale(bench, steps, *bodies, bench.entry("s.a@R")) == {"t.c@R", "t.c@middle"}
    assert stale(bench, steps, *bodies, bench.entry("s.a")) == {"t.c@L", "t.c@R", "t.c@middle"}


def test_that_a_question_at_many_places_may_rest_on_itself(bench: Any, steps: Any) -> None:
    assert not stale(bench, steps, bench.entry("t.n@L"), bench.entry("t.n@L", "wrong"))


def test_that_another_tractor_makes_out_of_date_what_rests_on_it(bench: Any, steps: Any) -> None:
    opening = bench.opening
    change = events.tractor_changed(opening.tractor_name, opening.tractor_text, "traded", "Technician One")
    bodies = (bench.entry("t.c@L"), bench.entry("s.b"), change)
    assert stale(bench, steps, *bodies) == {"t.c@L"}
    reason = str(bench.assess(steps, *bodies).states[Slot("t", "c", "L")].stale)
    assert reason == "The tractor changed 14 Apr 2026 12:04; this was entered 14 Apr 2026 12:02."
    assert not stale(bench, steps, *bodies, bench.entry("t.c@L"))


def test_that_no_answer_is_ever_deleted_by_another(bench: Any, steps: Any) -> None:
    record = bench.record(bench.entry("s.b", "again"), bench.entry("s.a"), bench.entry("s.a", "wrong"))
    assert record.entries[B].typed == "again"


def test_that_danger_is_shown_before_out_of_date(bench: Any, steps: Any) -> None:
    assessment = bench.assess(steps, bench.entry("s.b", "danger"), bench.entry("s.a"))
    assert assessment.states[B].verdict is Verdict.STOP


def test_that_out_of_date_is_an_obstacle_that_says_why(bench: Any) -> None:
    step = bench.step("s", bench.field("a"), bench.field("b", rests_on=("s.a",), need=Need.MUST))
    gate = bench.assess(step, bench.entry("s.b"), bench.entry("s.a")).gate
    assert [str(o.says) for o in gate.obstacles] == [
        "s, b: out of date. a changed 12:03; this was entered 12:02."
    ]


def test_that_an_answer_rests_on_its_own_place_where_both_are_asked_there(bench: Any) -> None:
    step = bench.step("s", bench.field("a", "L", "R"), bench.field("b", "L", "R", rests_on=("s.a",)))
    entries = (bench.entry("s.b@L"), bench.entry("s.b@R"), bench.entry("s.a@R", "wrong"))
    assert stale(bench, step, *entries) == {"s.b@R"}
