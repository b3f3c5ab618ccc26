"""What is kept from one entry to the next is what would be worked out anew."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rakeprep.jobs import events
from rakeprep.jobs.assess import assess, assess_tasks, tasks_of
from rakeprep.jobs.remembered import Checks
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.instrument import OwnInstrument
from rakeprep.model.step import Step
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg, verbatim

WORDS = st.sampled_from(["good", "again", "wrong", "danger"])
SLOTS = st.sampled_from(["s.a", "s.b@L", "s.b@R", "t.c@L", "t.c@R", "u.d"])
TODAY = dt.date(2026, 4, 14)
PEOPLE = st.sampled_from(["Technician One", "Technician Two"])
WHAT = st.sampled_from(["entered", "left", "confirmed", "tractor", "instrument"])


def steps(bench: Any) -> tuple[Step, ...]:
    """Two steps that judge their own words and rest on each other, and one that looks into another's."""
    s = bench.step(
        "s",
        bench.field("a", two_people=True),
        bench.field("b", "L", "R", rests_on=("s.a", "tractor")),
    )
    t = bench.step("t", bench.field("c", "L", "R", rests_on=("s",)), order=2)

    def across(facts: Facts) -> list[Finding]:
        seen = facts.text("s.a")
        says = msg("There it is {word}.", word=seen)
        return [Finding(Verdict.IN_ORDER, (facts.slot("d"),), says)] if seen else []

    d = bench.field("d", rests_on=("t.c",))
    u = Step("u", 3, verbatim("u"), msg("About."), (), lambda p, q: (d,), (across, lambda facts: ()))
    return (s, t, u)


def event(bench: Any, what: str, slot: str, word: str, who: str, number: int) -> Mapping[str, Any]:
    """One thing that can happen to a job; ``number`` is that of the event before."""
    match what:
        case "left":
            return events.left_for_later(Slot.read(slot), "Tomorrow.", "", who)
        case "confirmed":
            return events.confirmed(Slot.read(slot), number, who)
        case "tractor":
            opening = bench.opening
            return events.tractor_changed(opening.tractor_name, opening.tractor_text, "Sold.", who)
        case "instrument":
            until = TODAY + dt.timedelta(days=1 if word == "good" else -1)
            return events.instrument_known(OwnInstrument("Gauge", "tape", until), who)
    return {**bench.entry(slot, word, instrument="gauge"), "who": who}


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(WHAT, SLOTS, WORDS, PEOPLE), max_size=14))
def test_that_what_is_kept_is_what_would_be_worked_out_anew(
    bench: Any, happened: list[tuple[str, str, str, str]]
) -> None:
    asked = steps(bench)
    tasks = tasks_of(asked, bench.profile, bench.tractor)
    checks = Checks(bench.profile, bench.tractor)
    stored = bench.stored(*(event(bench, *one, number) for number, one in enumerate(happened, 1)))
    record = events.begin(stored[0])
    for one in stored[1:]:
        record = events.fold_one(record, one)
        kept = assess_tasks(asked, tasks, checks, record, TODAY)
        assert kept == assess(asked, bench.profile, bench.tractor, record, TODAY)


def test_that_states_that_did_not_change_are_the_very_same(bench: Any) -> None:
    asked = steps(bench)
    tasks, checks = tasks_of(asked, bench.profile, bench.tractor), Checks(bench.profile, bench.tractor)
    before, after = (
        assess_tasks(asked, tasks, checks, bench.record(*bodies), TODAY).states
        for bodies in ((bench.entry("t.c@L"),), (bench.entry("t.c@L"), bench.entry("u.d")))
    )
    assert after[Slot.read("t.c@L")] is before[Slot.read("t.c@L")]
    assert after[Slot.read("u.d")] is not before[Slot.read("u.d")]


def test_that_a_check_is_only_run_again_when_what_it_looked_at_changed(bench: Any) -> None:
    runs: list[str] = []
    s = bench.step("s", bench.field("a"))
    t = bench.step("t", bench.field("c"), order=2)

    def counted(step: Step) -> Step:
        def check(facts: Facts) -> list[Finding]:
            runs.append(step.key)
            return list(step.check(facts))

        return Step(step.key, step.order, step.title, step.about, (), step.fields, (check,))

    asked = (counted(s), counted(t))
    tasks, checks = tasks_of(asked, bench.profile, bench.tractor), Checks(bench.profile, bench.tractor)
    for bodies in ((), (bench.entry("s.a"),)):
        assess_tasks(asked, tasks, checks, bench.record(*bodies), TODAY)
    assert runs == ["s", "t", "s"]
