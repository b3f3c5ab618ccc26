"""Whether a job can be handed over."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.jobs import events
from rakeprep.jobs.assess import Readiness
from rakeprep.model.entry import Slot
from rakeprep.model.field import Need, Use
from rakeprep.model.verdict import Verdict

A = Slot("s", "a")
WORST_FIRST = [Readiness.NOT_READY, Readiness.OPEN_POINTS, Readiness.READY]


def says(gate: Any) -> list[str]:
    return [str(obstacle.says) for obstacle in gate.obstacles]


@pytest.mark.parametrize("need", [Need.MUST, Need.OPEN])
def test_that_an_empty_answer_stands_in_the_way(bench: Any, need: Need) -> None:
    gate = bench.assess(bench.step("s", bench.field("a", need=need))).gate
    assert gate.readiness is Readiness.NOT_READY
    assert says(gate) == ["s, a: not entered yet."]


def test_that_nobody_misses_a_welcome_answer(bench: Any) -> None:
    assert bench.assess(bench.step("s", bench.field("a", need=Need.MAY))).gate.readiness is Readiness.READY


@pytest.mark.parametrize("need", list(Need))
@pytest.mark.parametrize(
    ("word", "verdict"),
    [("again", Verdict.MEASURE_AGAIN), ("wrong", Verdict.PUT_RIGHT), ("danger", Verdict.STOP)],
)
def test_that_what_is_not_in_order_stands_in_the_way(
    bench: Any, need: Need, word: str, verdict: Verdict
) -> None:
    gate = bench.assess(bench.step("s", bench.field("a", need=need)), bench.entry("s.a", word)).gate
    assert gate.readiness is Readiness.NOT_READY
    assert [(o.slot, o.verdict) for o in gate.obstacles] == [(A, verdict)]
    assert says(gate) == [f"It is {word}."]


def test_that_all_in_order_is_ready(bench: Any) -> None:
    gate = bench.assess(bench.step("s", bench.field("a", need=Need.MUST)), bench.entry("s.a")).gate
    assert (gate.readiness, gate.obstacles, gate.open_points) == (Readiness.READY, (), ())


@pytest.mark.parametrize("word", ["", "again", "wrong"])
def test_that_a_thing_left_for_later_is_an_open_point_with_its_reason(bench: Any, word: str) -> None:
    step = bench.step("s", bench.field("a", bars=frozenset({Use.ROAD})))
    given = (bench.entry("s.a", word),) if word else ()
    gate = bench.assess(step, *given, bench.later("s.a")).gate
    assert gate.readiness is Readiness.OPEN_POINTS
    (point,) = gate.open_points
    assert (point.slot, point.reason, point.due, point.who) == (
        A,
        "part is ordered",
        "2026-05-01",
        "Technician One",
    )
    assert str(point.says) == (f"It is {word}." if word else "s, a: not entered yet.")
    assert gate.barred == {Use.ROAD}


def test_that_an_open_point_bars_what_its_findings_bar_too(bench: Any) -> None:
    field = bench.field("a", bars=frozenset({Use.ROAD}))
    step = bench.step("s", field, bars=frozenset({Use.PTO}))
    gate = bench.assess(step, bench.entry("s.a", "wrong"), bench.later("s.a")).gate
    assert gate.barred == {Use.ROAD, Use.PTO}


def test_that_an_open_point_keeps_its_bars_when_it_is_out_of_date_besides(bench: Any) -> None:
    fields = (bench.field("a", rests_on=("s.b",)), bench.field("b", need=Need.MAY))
    step = bench.step("s", *fields, bars=frozenset({Use.PTO}))
    bodies = (bench.entry("s.a", "wrong"), bench.entry("s.b"), bench.later("s.a"))
    gate = bench.assess(step, *bodies).gate
    assert gate.readiness is Readiness.OPEN_POINTS
    assert gate.barred == {Use.PTO}


def test_that_a_thing_in_order_bars_nothing_of_its_findings(bench: Any) -> None:
    step = bench.step("s", bench.field("a"), bars=frozenset({Use.PTO}))
    assert bench.assess(step, bench.entry("s.a"), bench.later("s.a")).gate.barred == frozenset()


def test_that_a_new_value_closes_an_open_point(bench: Any) -> None:
    step = bench.step("s", bench.field("a"))
    gate = bench.assess(step, bench.entry("s.a", "wrong"), bench.later("s.a"), bench.entry("s.a")).gate
    assert gate.readiness is Readiness.READY


@pytest.mark.parametrize("need", list(Need))
def test_that_danger_cannot_be_left(bench: Any, need: Need) -> None:
    step = bench.step("s", bench.field("a", need=need))
    gate = bench.assess(step, bench.entry("s.a", "danger"), bench.later("s.a")).gate
    assert gate.readiness is Readiness.NOT_READY
    assert gate.open_points == ()


@pytest.mark.parametrize("word", ["", "again", "wrong", "danger", "absent"])
def test_that_what_must_be_there_cannot_be_left(bench: Any, word: str) -> None:
    step = bench.step("s", bench.field("a", need=Need.MUST))
    given = {"": (), "absent": (bench.absent("s.a"),)}.get(word, (bench.entry("s.a", word),))
    gate = bench.assess(step, *given, bench.later("s.a")).gate
    assert gate.readiness is Readiness.NOT_READY
    assert gate.open_points == ()


def test_that_what_must_be_there_cannot_be_absent(bench: Any) -> None:
    gate = bench.assess(bench.step("s", bench.field("a", need=Need.MUST)), bench.absent("s.a")).gate
    assert says(gate) == ["“Not on this machine” is no answer here: s, a."]


def test_that_another_thing_may_be_absent_with_a_reason(bench: Any) -> None:
    assessment = bench.assess(bench.step("s", bench.field("a")), bench.absent("s.a"))
    assert assessment.gate.readiness is Readiness.READY
    assert assessment.states[A].verdict is Verdict.ABSENT


@pytest.mark.parametrize("verdict", [Verdict.MEASURE_AGAIN, Verdict.PUT_RIGHT, Verdict.STOP])
@pytest.mark.parametrize("answer", ["", "absent"])
@pytest.mark.parametrize("need", list(Need))
def test_that_a_finding_about_an_empty_place_is_not_lost(
    bench: Any, verdict: Verdict, answer: str, need: Need
) -> None:
    """One finding may judge several answers; the first, where it is shown, need not have a value."""
    from dataclasses import replace

    from rakeprep.model.finding import Finding
    from rakeprep.text import msg

    step = replace(
        bench.step("s", bench.field("a", need=need)),
        checks=(lambda facts: [Finding(verdict, (A,), msg("Odd."))],),
    )
    assessment = bench.assess(step, *([bench.absent("s.a")] if answer else []))
    assert assessment.states[A].verdict is verdict
    assert says(assessment.gate) == ["Odd."]


@pytest.mark.parametrize("need", list(Need))
def test_that_what_cannot_be_undone_needs_a_second_name(bench: Any, need: Need) -> None:
    step = bench.step("s", bench.field("a", two_people=True, need=need))
    alone = bench.assess(step, bench.entry("s.a")).gate
    assert alone.readiness is Readiness.NOT_READY
    assert says(alone) == ["s, a: a second name is needed."]
    seen = (bench.entry("s.a"), events.confirmed(A, 2, "Technician Two"))
    assert bench.assess(step, *seen).gate.readiness is Readiness.READY
    assert bench.assess(step, *seen, bench.entry("s.a")).gate.readiness is Readiness.NOT_READY


def test_that_a_caution_must_be_read_where_work_was_done(bench: Any) -> None:
    step = bench.step("s", bench.field("a", need=Need.MAY), bench.field("b", need=Need.MAY), cautions=2)
    assert bench.assess(step).gate.readiness is Readiness.READY
    worked = (bench.entry("s.a"), bench.entry("s.b"))
    assert says(bench.assess(step, *worked).gate) == ["s: the caution was not read."]
    read = events.caution_read("s", "Technician One")
    assert bench.assess(step, *worked, read).gate.readiness is Readiness.READY


def test_that_a_step_is_as_bad_as_its_worst_answer(bench: Any) -> None:
    step = bench.step("s", bench.field("a"), bench.field("b"), bench.field("c", need=Need.MAY))
    given = (bench.entry("s.a"), bench.entry("s.b", "again"))
    assert bench.assess(step, *given).verdict("s") is Verdict.MEASURE_AGAIN
    assert bench.assess(step, bench.entry("s.a"), bench.entry("s.b")).verdict("s") is Verdict.IN_ORDER
    assert bench.assess(step, bench.entry("s.a")).verdict("s") is Verdict.NOT_YET


# ---------------------------------------------------------------------- properties

FIELDS = {"m": Need.MUST, "o": Need.OPEN, "w": Need.MAY, "two": Need.MUST}
WORDS = ["good", "again", "wrong", "danger"]
ACTS = st.lists(
    st.tuples(st.sampled_from(sorted(FIELDS)), st.sampled_from([*WORDS, "later", "absent", "confirm"])),
    max_size=14,
)


def bodies_of(bench: Any, acts: Any) -> list[Any]:
    bodies: list[Any] = [events.caution_read("s", "Technician One")]
    latest: dict[str, int] = {}
    for key, act in acts:
        slot = f"s.{key}"
        match act:
            case "later":
                bodies.append(bench.later(slot))
            case "confirm":
                bodies.append(events.confirmed(Slot.read(slot), latest.get(key, 0), "Technician Two"))
            case _:
                latest[key] = len(bodies) + 2  # the opening is number 1
                bodies.append(bench.absent(slot) if act == "absent" else bench.entry(slot, act))
    return bodies


def all_fields(bench: Any) -> Any:
    fields = [
        bench.field(key, need=need, two_people=key == "two", rests_on=("s.m",) if key == "o" else ())
        for key, need in FIELDS.items()
    ]
    return bench.step("s", *fields, cautions=1)


@given(ACTS)
def test_that_ready_means_that_nothing_stands_in_the_way(bench: Any, acts: Any) -> None:
    assessment = bench.assess(all_fields(bench), *bodies_of(bench, acts))
    gate = assessment.gate
    assert (gate.readiness is Readiness.NOT_READY) == bool(gate.obstacles)
    assert (gate.readiness is Readiness.OPEN_POINTS) == bool(not gate.obstacles and gate.open_points)
    if gate.readiness is Readiness.READY:
        found = {f.verdict for f in assessment.findings}
        assert found <= {Verdict.IN_ORDER}
        assert not any(s.stale or s.unconfirmed for s in assessment.states.values())


@given(ACTS)
def test_that_a_job_with_danger_in_it_is_never_ready(bench: Any, acts: Any) -> None:
    assessment = bench.assess(all_fields(bench), *bodies_of(bench, acts))
    if any(f.verdict is Verdict.STOP for f in assessment.findings):
        assert assessment.gate.readiness is Readiness.NOT_READY


@given(ACTS)
def test_that_a_job_is_never_ready_while_something_it_must_have_is_empty(bench: Any, acts: Any) -> None:
    bodies = bodies_of(bench, acts)
    record = bench.record(*bodies)
    if any(record.value(Slot("s", k)) is None for k, need in FIELDS.items() if need is Need.MUST):
        assert bench.assess(all_fields(bench), *bodies).gate.readiness is Readiness.NOT_READY


@given(ACTS, st.sampled_from(sorted(FIELDS)))
def test_that_danger_never_makes_a_job_readier(bench: Any, acts: Any, key: str) -> None:
    step, bodies = all_fields(bench), bodies_of(bench, acts)
    before = bench.assess(step, *bodies).gate.readiness
    after = bench.assess(step, *bodies, bench.entry(f"s.{key}", "danger")).gate.readiness
    assert WORST_FIRST.index(after) <= WORST_FIRST.index(before)
    assert after is Readiness.NOT_READY
