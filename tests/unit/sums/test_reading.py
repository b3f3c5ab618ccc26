"""What is typed for a sum: any spelling of a unit, lists, clock places, and every mistake at once."""

from __future__ import annotations

import json
import math
import string
import time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations.instruments import INSTRUMENTS
from rakeprep.sums import Form, Input, Refused, Sum, Worked, all_sums, find, work_out
from rakeprep.sums.reading import Unreadable, how_to_type, read, read_one
from rakeprep.sums.shape import Given, Reading
from rakeprep.sums.showing import answer_lines, description, description_data, refused_data, worked_data
from rakeprep.text import Message, msg
from rakeprep.units import Kind, from_si, units_of
from rakeprep.units.table import spellings

ANY_SUM = st.sampled_from(all_sums())


def sum_of(key: str) -> Sum:
    of = find(key)
    assert of is not None
    return of


def one(
    form: Form, text: str, kind: Kind | None = Kind.LENGTH, unit: str = "mm", instrument: str = ""
) -> object:
    return read_one(Input("x", msg("x"), form, kind, unit, instrument=instrument), text, None)


def readings(value: object) -> list[Reading | None]:
    assert isinstance(value, tuple)
    return list(value)


# ---------------------------------------------------------------------- the sums as data


def test_that_no_two_sums_share_a_name() -> None:
    keys = [each.key for each in all_sums()]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize("of", all_sums(), ids=lambda each: each.key)
def test_that_a_sum_says_all_it_has_to_say(of: Sum) -> None:
    keys = [each.key for each in of.inputs]
    assert len(set(keys)) == len(keys)
    assert set(of.example) <= set(keys)
    assert {each.key for each in of.inputs if each.needed} <= set(of.example)
    for text in (of.title, of.about, of.range, of.source):
        assert str(text).strip()
    for each in of.inputs:
        assert not each.key[0].isdigit()  # else a clock place would be taken for a key
        assert each.key == each.key.casefold()
        assert not each.instrument or each.instrument in INSTRUMENTS
        assert each.kind is None or each.kind is Kind.NUMBER or each.unit in units_of(each.kind)
        assert (each.form in {Form.CHOICE, Form.WORDS, Form.CIRCUITS}) == bool(each.choices)
        assert str(how_to_type(each))
        if each.default:
            read_one(each, each.default, None)


@pytest.mark.parametrize("of", all_sums(), ids=lambda each: each.key)
def test_that_a_sum_shows_itself_and_its_answer(of: Sum) -> None:
    answer = work_out(of, of.example)
    assert isinstance(answer, Worked)
    lines = [str(line) for line in (*description(of), *answer_lines(answer))]
    assert not any("{" in line for line in lines)  # no gap stays open
    for data in (description_data(of), worked_data(answer)):
        json.dumps(data, allow_nan=False)


# ---------------------------------------------------------------------- units


def typed_again(text: str, kind: Kind, spelling: str, symbol: str) -> str | None:
    """The same amount in another unit; None where this unit cannot show it exactly in few digits."""
    from rakeprep.units import parse

    number = from_si(parse(text, kind).si, symbol)
    shown = f"{float(number):.9f}"  # nine decimals, so that no division widens a doubt
    return f"{shown} {spelling}" if Fraction(shown) == number and len(shown) < 20 else None


@given(ANY_SUM, st.data())
@settings(max_examples=100, deadline=None)
def test_that_units_in_any_spelling_give_the_same_result(of: Sum, data: st.DataObject) -> None:
    amounts = [
        each for each in of.inputs if each.form is Form.AMOUNT and each.kind and each.key in of.example
    ]
    amounts = [each for each in amounts if each.kind is not Kind.NUMBER and "±" not in of.example[each.key]]
    if not amounts:
        return
    each = data.draw(st.sampled_from(amounts))
    assert each.kind is not None
    spelling, symbol = data.draw(st.sampled_from(sorted(spellings(each.kind).items())))
    text = typed_again(of.example[each.key], each.kind, spelling.replace("~", " "), symbol)
    if text is None or spelling in {"'", "''", '"'}:
        return
    before, after = work_out(of, of.example), work_out(of, {**of.example, each.key: text})
    assert isinstance(before, Worked), of.key
    assert isinstance(after, Worked), (of.key, text)
    first = {result.key: result.value for result in before.answer.results}
    second = {result.key: result.value for result in after.answer.results}
    assert before.answer.verdict is after.answer.verdict
    for key, value in first.items():
        if isinstance(value, float):
            # a cut is rounded to what the tape shows, so that inches may give the next step
            coarse = 0.004 if of.key.startswith("driveline") else 1e-9
            assert second[key] == pytest.approx(value, rel=1e-9, abs=coarse), (of.key, key, text)


def test_that_metric_and_imperial_may_be_mixed() -> None:
    of = sum_of("wrench-setting")
    answer = work_out(of, {"torque": "250 Nm", "wrench": "15 3/4 in", "extension": "6 cm"})
    assert isinstance(answer, Worked)
    # by hand: 250 · 400.05 / 460.05
    assert answer.answer.results[0].value == pytest.approx(217.395, abs=0.001)


@pytest.mark.parametrize(
    ("text", "value", "doubt"),
    [
        ("31mm ± 2 mm", 0.031, 0.002),
        ("31±2mm", 0.031, 0.002),
        ("31 mm ± 2", 0.031, 0.002),
        ("31 mm +- 1/16 in", 0.031, 0.0015875),
        ("1 3/16in+/-1/16in", 0.0301625, 0.0015875),
        ("31 mm", 0.031, 0.0),
    ],
)
def test_that_a_doubt_may_be_typed_behind_a_value(text: str, value: float, doubt: float) -> None:
    typed = one(Form.AMOUNT, text)
    assert isinstance(typed, Reading)
    assert (typed.value, typed.doubt) == pytest.approx((value, doubt))


def test_that_the_doubt_of_a_temperature_is_a_difference() -> None:
    typed = one(Form.AMOUNT, "62 °C ± 3 °C", Kind.TEMPERATURE, "°C")
    assert isinstance(typed, Reading)
    assert (typed.value, typed.doubt) == pytest.approx((335.15, 3.0))
    for text in ("62 °C ± 3 °C", "62 ± 3 °C", "62°C ± 3"):
        free = one(Form.AMOUNT, text, None, "")
        assert isinstance(free, Reading)
        assert (free.value, free.doubt) == pytest.approx((335.15, 3.0))


def test_that_a_plain_number_may_have_a_doubt() -> None:
    typed = one(Form.AMOUNT, "19 ± 0.5", Kind.NUMBER, "")
    assert isinstance(typed, Reading)
    assert (typed.value, typed.doubt) == (19.0, 0.5)


def test_that_a_typed_doubt_replaces_the_instruments() -> None:
    by_rule = one(Form.AMOUNT, "31 mm", instrument="steel-rule")
    by_hand = one(Form.AMOUNT, "31 mm ± 1 mm", instrument="steel-rule")
    assert isinstance(by_rule, Reading)
    assert isinstance(by_hand, Reading)
    assert by_rule.doubt == pytest.approx(0.003)  # the table of instruments: 3 mm, common practice
    assert by_hand.doubt == pytest.approx(0.001)


def test_that_a_coarse_division_widens_the_doubt() -> None:
    typed = one(Form.AMOUNT, "1 in", instrument="steel-rule")
    assert isinstance(typed, Reading)
    assert typed.doubt == pytest.approx(0.0127)  # half of one inch, by hand


# ---------------------------------------------------------------------- lists


@pytest.mark.parametrize(
    "text",
    [
        "14mm,15mm,16.5mm",
        "14 mm, 15 mm, 16,5 mm",
        "14mm 15mm 16.5mm",
        "14; 15; 16.5 mm",
        "14, 15, 16.5 mm",
        "1.4 cm; 15 mm; 0.0165 m",
    ],
)
def test_that_lists_may_be_typed_in_many_ways(text: str) -> None:
    values = [each.value for each in readings(one(Form.LIST, text)) if each]
    assert values == pytest.approx([0.014, 0.015, 0.0165])


def test_that_feet_and_inches_stay_together_in_a_list() -> None:
    values = [each.value for each in readings(one(Form.LIST, "20 ft 6 in, 24 ft 4 in")) if each]
    assert values == pytest.approx([246 * 0.0254, 292 * 0.0254])  # by hand: 246 in and 292 in


def test_that_an_entry_not_read_keeps_its_place() -> None:
    found = readings(one(Form.LIST, "14mm, -, 16mm"))
    assert [each is None for each in found] == [False, True, False]


@pytest.mark.parametrize(
    "text",
    ["9=31mm 10=24mm 12=1 1/4in", "9 = 31 mm, 10 = 24 mm, 12 = 1 1/4 in", "9=31mm;10=24mm;12=1 1/4in"],
)
def test_that_clock_places_may_be_typed_in_many_ways(text: str) -> None:
    value = one(Form.CLOCK, text)
    assert isinstance(value, tuple)
    assert [hour for hour, _ in value] == [9, 10, 12]
    assert [each.value for _, each in value] == pytest.approx([0.031, 0.024, 0.03175])


def test_that_clock_readings_without_a_unit_take_that_of_the_last() -> None:
    value = one(Form.CLOCK, "9=31 10=24 12=12 mm")
    assert isinstance(value, tuple)
    assert [each.value for _, each in value] == pytest.approx([0.031, 0.024, 0.012])


@pytest.mark.parametrize(
    ("form", "text"),
    [
        (Form.CLOCK, "31mm 24mm"),
        (Form.CLOCK, "13=31mm"),
        (Form.CLOCK, "9="),
        (Form.LIST, " , ,"),
        (Form.LIST, "-, -"),
        (Form.LIST, "1 mm, 2 qq"),
        (Form.LIST, ",".join(["1mm"] * 61)),
        (Form.COUNT, "-1"),
        (Form.COUNT, "1.5"),
        (Form.DAY, "2.4.2026"),
        (Form.DAY, "2026-02-30"),
        (Form.DAYS, "2026-04-03, soon"),
        (Form.NAME, "M1\u202e2"),
        (Form.AMOUNT, "31mm ± -2mm"),
        (Form.AMOUNT, "1e400 mm"),
        (Form.AMOUNT, "9" * 39),
        (Form.AMOUNT, "9999999999999999 m"),
        (Form.AMOUNT, "31mm" + " " * 3000 + "x"),
    ],
)
def test_that_what_cannot_be_read_is_refused_with_a_sentence(form: Form, text: str) -> None:
    with pytest.raises(Unreadable) as refused:
        one(form, text)
    assert str(refused.value.message)


# ---------------------------------------------------------------------- all at once


def test_that_every_mistake_is_named_and_not_only_the_first() -> None:
    of = sum_of("driveline-cut")
    typed = {"clsed": "905mm", "half-a": "780 mn", "shortest": "872", "reserve": "30 bar", "colour": "red"}
    _, problems = read(of, typed)
    said = {each.key: str(each.says) for each in problems}
    assert "closed" in said["clsed"]
    assert "mm" in said["half-a"]
    assert "unit is missing" in said["shortest"]
    assert "a pressure" in said["reserve"]
    assert "takes:" in said["colour"]
    assert "missing" in said["closed"]
    assert "missing" in said["half-b"]
    assert "missing" in said["longest"]
    assert "missing" in said["overlap"]


def test_that_amounts_of_any_kind_must_still_be_of_one_kind() -> None:
    answer = work_out(sum_of("decide"), {"value": "34 mm", "least": "2 bar"})
    assert isinstance(answer, Refused)
    assert "a pressure" in str(answer.reasons[0])


def test_that_a_doubt_larger_than_the_reading_asks_for_a_finer_instrument() -> None:
    answer = work_out(sum_of("coast-down"), {"left": "0.1 s ± 5 s", "right": "2 s"})
    assert isinstance(answer, Refused | Worked)
    answer = work_out(sum_of("real-flow"), {"bore": "80mm", "stroke": "600mm", "time": "0.1s"})
    assert isinstance(answer, Refused)
    assert "finer instrument" in str(answer.reasons[0])


IMPOSSIBLE = [
    ("hitch-load", {"gravity": "6 m"}),
    ("driveline-cut", {"closed": "-905mm"}),
    ("spring-pin", {"pin": "11mm"}),
    ("bolt", {"class": "7.7"}),
    ("sling-leg", {"angle": "61°"}),
    ("rotor-plane", {"readings": "9=31mm 10=24mm 11=17mm"}),
    ("stroke-times", {"rod": "60mm"}),
    ("two-adjusters", {"second-centre": "-3.1mm", "second-tilt": "1.5mm"}),
    ("wire-drop", {"area": "0 mm²"}),
    ("carrier-notice", {"days": "0"}),
    ("width-gauge", {"shown": "6.20m"}),
]


@pytest.mark.parametrize(("key", "typed"), IMPOSSIBLE, ids=[key for key, _ in IMPOSSIBLE])
def test_that_the_impossible_ends_in_the_sums_own_sentence(key: str, typed: dict[str, str]) -> None:
    of = sum_of(key)
    answer = work_out(of, {**of.example, **typed})
    assert isinstance(answer, Refused)
    assert answer.impossible
    assert len(answer.reasons) == 1
    assert not answer.problems


# ---------------------------------------------------------------------- garbage

WORDS = [
    "",
    "-",
    "0",
    "0 mm",
    "-1 mm",
    "1e9",
    "999999999 m",
    "0.000000001 mm",
    "9=1mm",
    "NaN",
    "inf",
    "½",
    "1/0 in",
]
WORDS += [
    "1 bar",
    "360°",
    "-90°",
    "0 °C",
    "-273.15 °C",
    "0%",
    "100%",
    "0 s",
    "0.001 s",
    "2026-04-02",
    "9999-12-31",
]
WORDS += [
    "0001-01-01",
    "yes",
    "none",
    "left",
    "M12",
    "8.8",
    "R1:double",
    "9999",
    "0 rpm",
    "1 mm ± 1000 m",
    "±",
    "=,;",
]
GARBAGE = st.one_of(
    st.sampled_from(WORDS),
    st.text(max_size=60),
    st.text(string.digits + " .,/-=±:;+mkgbarsft'\"°%", max_size=30),
    st.lists(st.sampled_from(WORDS), max_size=70).map(",".join),
)


@given(ANY_SUM, st.data())
@settings(max_examples=300, deadline=None)
def test_that_garbage_never_raises(of: Sum, data: st.DataObject) -> None:
    keys = st.sampled_from([each.key for each in of.inputs] or ["x"]) | st.text(max_size=20)
    typed = {**of.example, **data.draw(st.dictionaries(keys, GARBAGE, max_size=4))}
    answer = work_out(of, typed)
    if isinstance(answer, Refused):
        assert answer.reasons
        lines: list[Message] = list(answer.reasons)
        json.dumps(refused_data(answer), allow_nan=False)
    else:
        lines = list(answer_lines(answer))
        json.dumps(worked_data(answer), allow_nan=False)
    assert all(str(line).isprintable() or not str(line) for line in lines)


def fitting(each: Input) -> st.SearchStrategy[str]:
    """Text that can be read for an input, of any size that may be typed."""
    sizes = st.sampled_from(["0", "0.001", "-3", "1", "2.5", "17", "400", "-80000", "123456789", "0.000001"])
    units = (
        st.sampled_from(units_of(each.kind or Kind.LENGTH)) if each.kind is not Kind.NUMBER else st.just("")
    )
    amount = st.builds(lambda n, u: f"{n} {u.lstrip('Δ')}", sizes, units)
    words = st.sampled_from([choice.key for choice in each.choices] or ["x"])
    days = st.dates().map(lambda day: day.isoformat())
    counts = st.integers(0, 9999).map(str)
    return {
        Form.AMOUNT: amount,
        Form.LIST: st.lists(amount, min_size=1, max_size=14).map("; ".join),
        Form.CLOCK: st.lists(amount, min_size=1, max_size=12).map(
            lambda parts: " ".join(f"{n}={part}" for n, part in enumerate(parts, 1))
        ),
        Form.COUNT: st.one_of(st.sampled_from(["0", "1", "2", "6"]), counts),
        Form.CHOICE: words,
        Form.WORDS: st.lists(words, min_size=1, max_size=14).map(",".join),
        Form.DAY: days,
        Form.DAYS: st.lists(days, max_size=5).map(",".join),
        Form.NAME: st.sampled_from(["M6", "M27", "M99", "8.8", "12.9", "0", "80W", "2", "GC-LB", "x" * 200]),
        Form.CIRCUITS: st.lists(words, min_size=1, max_size=14).map(
            lambda parts: " ".join(f"c{n}:{part}" for n, part in enumerate(parts))
        ),
    }[each.form]


@given(ANY_SUM, st.data())
@settings(max_examples=300, deadline=None)
def test_that_values_of_any_size_end_in_an_answer_or_a_sentence(of: Sum, data: st.DataObject) -> None:
    typed = dict(of.example)
    for each in of.inputs:
        if data.draw(st.booleans()):
            typed[each.key] = data.draw(fitting(each))
    answer = work_out(of, typed)
    if isinstance(answer, Worked):
        for line in answer_lines(answer):
            assert "{" not in str(line)
        for result in answer.answer.results:
            assert not isinstance(result.value, float) or math.isfinite(result.value)
        json.dumps(worked_data(answer), allow_nan=False)
    else:
        assert all(str(reason) for reason in answer.reasons)


def test_that_a_huge_entry_ends_within_a_moment() -> None:
    of = sum_of("arms-past-one-place")
    started = time.process_time()
    for text in ("1mm," * 500_000, "9=" * 500_000, "x" * 2_000_000, "," * 2_000_000, " " * 2_000_000 + "q"):
        answer = work_out(of, {"readings": text, text[:1000]: text})
        assert isinstance(answer, Refused)
        assert all(len(str(reason)) < 500 for reason in answer.reasons)
    # ten readings' worth of work, not minutes; far above what it takes
    assert time.process_time() - started < 20


@pytest.mark.parametrize(
    "getter", ["number", "readings", "clock", "count", "word", "words", "day", "circuits"]
)
def test_that_a_sum_asking_for_another_form_is_caught(getter: str) -> None:
    wrong = Given({"x": 1.5})  # type: ignore[dict-item]
    with pytest.raises(TypeError):
        getattr(wrong, getter)("x")
