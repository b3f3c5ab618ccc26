"""Checks that are kept say what checks run anew would say."""

from __future__ import annotations

import datetime as dt
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rakeprep.jobs import events
from rakeprep.jobs.assess import assess, assess_tasks, tasks_of
from rakeprep.jobs.remembered import Checks
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.step import Step
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg, verbatim

WORDS = st.sampled_from(["good", "again", "wrong", "danger"])
SLOTS = st.sampled_from(["s.a", "s.b", "t.c"])


def steps(bench: Any) -> tuple[Step, ...]:
    """Two steps that judge their own words, and one that looks into another's."""
    s = bench.step("s", bench.field("a"), bench.field("b"))
    t = bench.step("t", bench.field("c"), order=2)

    def across(facts: Facts) -> list[Finding]:
        seen = facts.text("s.a")
        says = msg("There it is {word}.", word=seen)
        return [Finding(Verdict.IN_ORDER, (facts.slot("d"),), says)] if seen else []

    u = Step("u", 3, verbatim("u"), msg("About."), (), lambda p, q: (bench.field("d"),), across)
    return (s, t, u)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(SLOTS, WORDS), max_size=12))
def test_that_kept_checks_say_what_new_ones_would(bench: Any, given_words: list[tuple[str, str]]) -> None:
    asked = steps(bench)
    tasks = tasks_of(asked, bench.profile, bench.tractor)
    checks, today = Checks(bench.profile, bench.tractor), dt.date(2026, 4, 14)
    stored = bench.stored(*(bench.entry(slot, word) for slot, word in given_words))
    record = events.begin(stored[0])
    for event in stored[1:]:
        record = events.fold_one(record, event)
        kept = assess_tasks(asked, tasks, checks, record, today)
        assert kept == assess(asked, bench.profile, bench.tractor, record, today)


def test_that_a_check_is_only_run_again_when_what_it_looked_at_changed(bench: Any) -> None:
    runs: list[str] = []
    s = bench.step("s", bench.field("a"))
    t = bench.step("t", bench.field("c"), order=2)

    def counted(step: Step) -> Step:
        def check(facts: Facts) -> list[Finding]:
            runs.append(step.key)
            return list(step.check(facts))

        return Step(step.key, step.order, step.title, step.about, (), step.fields, check)

    asked = (counted(s), counted(t))
    tasks, checks = tasks_of(asked, bench.profile, bench.tractor), Checks(bench.profile, bench.tractor)
    for bodies in ((), (bench.entry("s.a"),)):
        assess_tasks(asked, tasks, checks, bench.record(*bodies), dt.date(2026, 4, 14))
    assert runs == ["s", "t", "s"]
