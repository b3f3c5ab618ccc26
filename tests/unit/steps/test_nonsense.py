"""What steps hold whatever is entered, on both invented machines."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Ask
from rakeprep.model.profile import Profile
from rakeprep.model.step import Step
from rakeprep.model.tractor import Tractor
from rakeprep.steps import arms, guards, handover, levelling, lights, oil, test_run, tyres, width
from rakeprep.steps import settings as field_settings
from rakeprep.units import Kind

NOW = dt.datetime(2026, 5, 18, 12, 0, tzinfo=dt.UTC)
LATER = (width.STEP, field_settings.STEP, test_run.STEP, handover.STEP)
MIDDLE = (lights.STEP, tyres.STEP, arms.STEP, guards.STEP, oil.STEP, levelling.STEP)
STEP = LATER[0]  # what the shared bench starts from

NONSENSE = st.one_of(
    st.sampled_from([0, 1, -1, 10**30, -(10**30), Fraction(1, 10**30), Fraction(1, 10**200), 10**200]),
    st.fractions(min_value=-(10**6), max_value=10**6),
    st.none(),
)
WORDS = st.sampled_from(
    ["", "yes", "no", "none", "purple", "540", "1000", "even", "2026-05-18", "9999-12-31"]
)


@pytest.fixture(scope="module", params=LATER, ids=lambda step: step.key)
def step(request: pytest.FixtureRequest) -> Step:
    """Each of the later steps in turn."""
    found: Step = request.param
    return found


@pytest.fixture(scope="module")
def later_bench(bench: Any, step: Step) -> Any:
    """The shared bench with a later step on it."""
    return replace(bench, step=step)


@given(data=st.data())
@settings(max_examples=100, deadline=None)
def test_that_nonsense_never_raises_and_every_finding_stands_at_a_question(
    later_bench: Any, step: Step, tractor: Tractor, data: st.DataObject, machine: Profile
) -> None:
    fields = step.fields(machine, tractor)
    entries = {}
    for field in fields:
        for place in field.places:
            slot = Slot(step.key, field.key, place.key)
            if data.draw(st.booleans()):
                exact, typed = data.draw(NONSENSE), data.draw(WORDS)
                number = None if exact is None else Fraction(exact)
                entries[slot] = Entry(slot, How.VALUE, typed, "x", NOW, 1, field.unit, number, Fraction(0))
    asked = {Slot(step.key, f.key, p.key) for f in fields for p in f.places}
    for finding in later_bench.judge(entries, machine):
        assert set(finding.about) <= asked
        assert str(finding.says)
        assert "{" not in " ".join(str(m) for m in (finding.says, finding.todo or "", *finding.working))


def test_that_every_label_fits_and_nothing_is_said_before_anything_is_answered(
    later_bench: Any, step: Step, tractor: Tractor, machine: Profile
) -> None:
    fields = step.fields(machine, tractor)
    assert len({f.key for f in fields}) == len(fields)
    assert all(f.places for f in fields)
    assert max(len(str(f.label)) for f in fields) <= 40
    assert later_bench.judge({}, machine) == []


@pytest.mark.parametrize("typed", ["-1000000000", "0", "99999999999999999999", "-0.001"])
@pytest.mark.parametrize("middle", MIDDLE, ids=lambda step: step.key)
def test_that_nonsense_everywhere_is_judged_without_a_crash(
    bench: Any, middle: Step, tractor: Tractor, typed: str, machine: Profile
) -> None:
    answers = []
    for field in middle.fields(machine, tractor):
        coldest = field.kind is Kind.TEMPERATURE and typed.startswith("-1")  # the grammar refuses those
        number = "-273" if coldest else typed
        word = number if field.ask is Ask.QUANTITY else "9999" if field.ask is Ask.COUNT else "no, perhaps,"
        answers += [(f"{field.key}@{place.key}", word) for place in field.places]
    slots = {(f.key, place.key) for f in middle.fields(machine, tractor) for place in f.places}
    for finding in replace(bench, step=middle).found(*answers, machine=machine):
        assert str(finding.says)
        assert all((slot.field, slot.place) in slots for slot in finding.about if slot.step == middle.key)
