"""A job filled in from a file."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.jobs.answers import LONGEST_FILE, apply, day_of, read_answers, sign
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.verdict import Verdict

HEAD = """
[job]
customer = "Customer One"
order = "SAMPLE-1"
technician = "Technician One"
"""


def mistakes(text: str) -> list[str]:
    return [str(m) for m in read_answers(text).mistakes]


def refused(job: OpenJob, text: str) -> list[str]:
    answers = read_answers(HEAD + text)
    assert answers.mistakes == []
    return [str(m) for m in apply(answers, job)]


def test_that_a_file_goes_through_the_same_door_as_the_screen(job: OpenJob) -> None:
    text = """
    [answers.tyres]
    cautions_read_by = "Technician One"
    workshop_temperature = "18 °C"
    use_temperature = { value = 15, unit = "°C", instrument = "infrared 2", who = "Technician Two" }
    [answers.tyres.pressure_set]
    "L1L L1R" = "2.00 bar"
    [answers.tyres.nuts]
    L1L = { value = true, confirmed_by = "Technician Two" }
    [answers.tyres.castor]
    "L1L" = { later = "part is ordered", due = "2026-05-01" }
    """
    places = {slot.place for slot in job.assessment.states if slot.field == "castor"}
    text = text.replace('"L1L" = { later', f'"{min(places)}" = {{ later')
    assert refused(job, text) == []
    entries = job.record.entries
    assert entries[Slot("tyres", "pressure_set", "L1R")].typed == "2.00 bar"
    assert entries[Slot("tyres", "use_temperature")].who == "Technician Two"
    assert entries[Slot("tyres", "nuts", "L1L")].confirmed_by == "Technician Two"
    assert job.record.cautions_read == {"tyres": "Technician One"}
    assert [point.due for point in job.record.later.values()] == ["2026-05-01"]


def test_that_every_mistake_is_named_at_once_with_what_was_likely_meant(job: OpenJob) -> None:
    text = """
    [answers.tires]
    nuts = "yes"
    [answers.tyres]
    workshop_temprature = "18 °C"
    use_temperature = "18 bar"
    size = "x"
    [answers.tyres.pressure_set]
    L1X = "2.00 bar"
    L1L = "1,234 bar"
    [answers.tyres.nuts]
    L1L = { value = "yes", confirmed_by = "technician one" }
    """
    said = refused(job, text)
    wanted = [
        "“answers.tires” is not known here. Did you mean “tyres”?",
        "“answers.tyres.workshop_temprature” is not known here. Did you mean “workshop_temperature”?",
        "answers.tyres.size is asked at several places; name them: ",
        "“answers.tyres.pressure_set.L1X” is not known here. Did you mean “",
        "tyres.use_temperature: “bar” at character 4 is a pressure; this field takes a temperature",
        "tyres.pressure_set@L1L: “1,234” at character 1 can be a decimal or thousands",
        "tyres.nuts@L1L: technician one entered this; somebody else has to look at it and confirm.",
    ]
    assert len(said) == len(wanted)
    for start in wanted:
        assert [s for s in said if s.startswith(start)], start
    assert set(job.record.entries) == {Slot("tyres", "nuts", "L1L")}


def test_that_what_may_be_left_is_judged_once_everything_is_entered(job: OpenJob) -> None:
    """A size is first seen as wrong, and left, whatever the order of the lines."""
    text = '[answers.tyres.size]\nL1L = { later = "not readable", value = "9.9/99-9" }\n'
    assert refused(job, text) == []
    state = job.assessment.states[Slot("tyres", "size", "L1L")]
    assert (state.verdict, state.open_point) == (Verdict.PUT_RIGHT, True)


@pytest.mark.parametrize(
    ("text", "start"),
    [
        ("[job", "This is no readable answers file"),
        ("x = " + "9" * 5000, "This is no readable answers file"),
        ("x = " + "[" * 100_000, "This is no readable answers file"),
        ("#" * (LONGEST_FILE + 1), "This answers file is longer"),
        (HEAD + "[answer.tyres]", "“answer” is not known here. Did you mean “answers”?"),
        (HEAD.replace("order", "ordre"), "“job.ordre” is not known here. Did you mean “order”?"),
        (HEAD.replace('"SAMPLE-1"', "7"), "job.order must be text"),
        ("", "[job] has no “customer”"),
        ("job = 7", "“job” must be a table"),
        (HEAD + "[answers]\ntyres = 7", "“answers.tyres” must be a table."),
        ("answers = 7\n" + HEAD, "“answers” must be tables"),
        (HEAD + "[answers.tyres]\ncautions_read_by = 7", "answers.tyres.cautions_read_by must be a name."),
        (HEAD + '[answers.tyres]\nsize = { value = "x", reson = "y" }', "“answers.tyres.size.reson” is not"),
        (HEAD + "[answers.tyres]\nsize = { value = [1] }", "answers.tyres.size: “value” must be text"),
        (HEAD + "[answers.tyres]\nsize = 07:30:00", "answers.tyres.size: “value” must be text"),
        (HEAD + '[answers.tyres]\nsize = { who = "x" }', "answers.tyres.size: nothing is answered"),
        (HEAD + "signature = 7", "“job.signature” is not known here"),
        ("signature = 7\n" + HEAD, "Signatures are tables"),
        (HEAD + "[[signature]]\nrol = 'x'", "“signature.rol” is not known here. Did you mean “role”?"),
        (HEAD + "[[signature]]\nstrokes = [[7]]", "signature.strokes is a list"),
        (HEAD + "[[signature]]\nstrokes = 7", "signature.strokes is a list"),
    ],
)
def test_that_a_mistake_of_shape_is_a_sentence(text: str, start: str) -> None:
    said = mistakes(text)
    assert [s for s in said if s.startswith(start)], said
    assert all(len(s) < 400 for s in said)


def test_that_all_mistakes_of_shape_are_told_together() -> None:
    assert len(mistakes("[job]\ncolour = 'red'\n[anwsers]\n[[signature]]\nink = 'blue'")) == 6


def test_that_plain_values_may_be_written_as_toml_has_them() -> None:
    text = HEAD + "[answers.s]\na = 12\nb = 1.5\nc = false\nd = 2026-05-18\ne = ['x', 'y']\nf = []"
    given = {g.field: g.words["value"] for g in read_answers(text).given}
    assert given == {"a": "12", "b": "1.5", "c": "no", "d": "2026-05-18", "e": "x, y", "f": "none"}


def test_that_signatures_of_a_file_are_refused_in_sentences_too(job: OpenJob) -> None:
    text = HEAD + "[[signature]]\nrole = 'technician'\nname = 'Technician One'\nstrokes = [[[nan, 5]]]"
    assert [str(m)[:22] for m in sign(read_answers(text), job)] == ["signature: Not ready f"]


@given(st.text(max_size=200))
def test_that_any_file_is_read_without_an_error(text: str) -> None:
    assert read_answers(text).mistakes  # no text this short and random names customer, order, technician


VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(), st.text("ab7 ", max_size=4)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=2),
        st.dictionaries(st.sampled_from(["value", "who", "L1L"]), inner, max_size=2),
    ),
    max_leaves=4,
)


@given(st.dictionaries(st.sampled_from(["size", "nuts", "cautions_read_by", "x"]), VALUES, max_size=3))
def test_that_any_shape_of_answer_is_read_without_an_error(fields: dict[str, Any]) -> None:
    from rakeprep.jobs.answers_file import Answers, read_step

    answers = Answers()
    read_step("tyres", fields, answers)
    for given_one in answers.given:
        assert all(isinstance(word, str) for word in given_one.words.values())


def test_that_answers_are_entered_in_the_order_of_the_work(job: OpenJob) -> None:
    """So that nothing is out of date only because a table of the file stands before another."""
    text = """
    [answers.tyres.pressure_set]
    L1L = "2.00 bar"
    [answers.tyres]
    workshop_temperature = "18 °C"
    """
    assert refused(job, text) == []
    assert job.assessment.states[Slot("tyres", "pressure_set", "L1L")].stale is None


def test_that_a_day_may_be_told_from_today(job: OpenJob) -> None:
    day = dt.date(2026, 4, 14)
    assert day_of("today", day) == "2026-04-14"
    assert day_of(" today-30 ", day) == "2026-03-15"  # 14 days back is 31 March, 16 more; by hand
    # 27 years with the 7 leap days of 2028 to 2052 are 9862 days, 137 more lead to 29 August; by hand
    assert day_of("today+9999", day) == "2053-08-29"
    assert day_of("2026-05-18", day) == "2026-05-18"
    assert day_of("today-99999", day) == "today-99999"
    assert refused(job, '[answers.arrival]\ndelivered = "today-1"') == []
    assert job.record.entries[Slot("arrival", "delivered")].typed == "2026-04-13"


def test_that_the_year_may_be_this_one(job: OpenJob) -> None:
    assert refused(job, '[answers.arrival]\nyear = "this year"') == []
    # the clock of these tests stands in 2026
    assert job.record.entries[Slot.read("arrival.year")].typed == "2026"
