"""The table for the office: read back it gives what was entered, and no cell is a formula."""

from __future__ import annotations

import csv
import dataclasses
import datetime as dt
import io
from fractions import Fraction
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep import paths
from rakeprep.handover import papers
from rakeprep.handover.demo import MACHINE, TRACTOR
from rakeprep.handover.paper import Paper
from rakeprep.handover.table_file import (
    BYTE_ORDER_MARK,
    COLUMNS,
    PLAIN_NUMBER,
    decimal,
    defused,
    restored,
    table,
)
from rakeprep.model.chapter import Chapter
from rakeprep.model.entry import Entry, How, Later, Slot
from rakeprep.text import ENGLISH, languages

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
SURROGATES = ("Cs",)
TEXTS = st.text(st.characters(exclude_categories=SURROGATES), max_size=60) | st.sampled_from(
    [
        "=1+1",
        "-12 mm",
        "-12",
        "+49 30 1",
        "@x",
        "'",
        "''=1",
        '"',
        "a,b;c",
        "a\r\nb",
        "\t=1",
        "−5",
        " =1",
        "\x00",
    ]
)
LENGTH = Slot("driveline", "cut")
WORDS = Slot("hydraulics", "lever", "lift")


@cache
def blank() -> Paper:
    """The sample machine with nothing entered, and only two questions, for the sake of speed."""
    samples = paths.sample_profiles()
    paper = papers.of_data(samples / MACHINE, samples / TRACTOR, ENGLISH, lambda: NOON)
    few = {slot: paper.assessment.states[slot] for slot in (LENGTH, WORDS)}
    return dataclasses.replace(paper, assessment=dataclasses.replace(paper.assessment, states=few))


def with_entries(*entries: Entry, later: Later | None = None) -> Paper:
    record = dataclasses.replace(
        blank().record,
        entries={entry.slot: entry for entry in entries},
        later={} if later is None else {later.slot: later},
    )
    states = {
        slot: dataclasses.replace(state, open_point=slot in record.later)
        for slot, state in blank().assessment.states.items()
    }
    assessment = dataclasses.replace(blank().assessment, states=states)
    return dataclasses.replace(blank(), record=record, assessment=assessment)


def read(data: bytes) -> list[dict[str, str]]:
    """The rows as a program of the office reads them, apostrophes taken away again."""
    text = data.decode("utf-8-sig")
    found = csv.DictReader(io.StringIO(text, newline=""), strict=True)
    return [{column: restored(cell) for column, cell in row.items()} for row in found]


def test_that_the_file_is_comma_separated_values_with_a_byte_order_mark() -> None:
    # RFC 4180, 2: lines end in CRLF, all have the same number of fields, the first may name them.
    data = table(blank())
    assert data.startswith(BYTE_ORDER_MARK.encode("utf-8"))
    lines = data.decode("utf-8-sig").split("\r\n")
    assert lines[0].split(",") == list(COLUMNS)
    assert lines[-1] == ""
    assert "\n" not in "".join(lines)
    assert {len(row) for row in csv.reader(lines[:-1])} == {len(COLUMNS)}


@given(TEXTS, TEXTS, TEXTS)
def test_that_read_back_it_gives_the_words_that_were_entered(typed: str, who: str, reason: str) -> None:
    entry = Entry(WORDS, How.VALUE, typed, who, NOON, 7, reason=reason, instrument=reason)
    later = Later(LENGTH, reason, typed, who, NOON, 8)
    rows = {row["question"]: row for row in read(table(with_entries(entry, later=later)))}
    assert (rows["lever"]["typed"], rows["lever"]["who"]) == (typed, who)
    assert (rows["lever"]["reason"], rows["lever"]["instrument"]) == (reason, reason)
    assert (rows["cut"]["open_point"], rows["cut"]["open_until"]) == (reason, typed)
    assert rows["lever"]["when"] == "2026-04-14T12:00:00+02:00"


@given(TEXTS)
def test_that_no_cell_begins_like_a_formula_unless_it_is_a_plain_number(text: str) -> None:
    cell = defused(text)
    assert restored(cell) == text
    begins = cell.lstrip()[:1]
    assert begins not in set("=+-@＝＋－＠") or PLAIN_NUMBER.fullmatch(cell)
    assert not cell.startswith(("\t", "\r", "\n"))


def test_that_a_negative_number_stays_a_number_and_a_negative_reading_stays_readable() -> None:
    assert defused("-12.5") == "-12.5"
    assert defused("-12 mm") == "'-12 mm"  # a spreadsheet would try to work it out
    assert defused("-1+cmd|x") == "'-1+cmd|x"
    below = Entry(LENGTH, How.VALUE, "-12 mm", "T", NOON, 1, "mm", Fraction(-12, 1000))
    (row,) = (row for row in read(table(with_entries(below))) if row["question"] == "cut")
    assert (row["si_value"], row["si_unit"], row["typed"]) == ("-0.012", "m", "-12 mm")


@given(st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**6))
@settings(max_examples=200)
def test_that_a_value_keeps_all_digits_of_a_double_at_least(value: Fraction) -> None:
    cell = decimal(value)
    assert float(cell) == float(value)
    if value.denominator in {1, 2, 5, 10, 64, 1000}:  # decimals that end are exact
        assert Fraction(cell) == value


def test_that_every_question_of_a_machine_has_its_row_in_the_papers_language() -> None:
    samples = paths.sample_profiles()
    german = languages(paths.resources() / "translations")["de"]
    paper = papers.of_data(samples / MACHINE, samples / TRACTOR, german, lambda: NOON)
    rows = read(table(paper))
    assert {(row["step"], row["question"], row["place"]) for row in rows} == {
        (slot.step, slot.field, slot.place) for slot in paper.assessment.states
    }
    assert {row["verdict_key"] for row in rows} == {"not yet"}  # the key stays English
    assert {row["verdict_words"] for row in rows} == {
        german.say(state.verdict.word) for state in paper.states("oil")
    }


def test_that_an_entry_whose_question_is_not_asked_any_more_keeps_its_row() -> None:
    gone = Entry(Slot("driveline", "old_question"), How.VALUE, "5", "T", NOON, 3)
    assert "old_question" in {row["question"] for row in read(table(with_entries(gone)))}


def test_that_an_entry_tells_the_chapter_in_which_it_was_made() -> None:
    first, second = Chapter(), Chapter("ten-hours", 2, seq=5)
    old, new = (Entry(slot, How.VALUE, "5 mm", "T", NOON, seq) for slot, seq in ((LENGTH, 3), (WORDS, 11)))
    paper = with_entries(old, new)
    record = dataclasses.replace(paper.record, chapter=Chapter("repair", 3, seq=10), chapters=(first, second))
    assert [record.made_in(dataclasses.replace(old, seq=n)).number for n in (2, 6, 11)] == [1, 2, 3]
    rows = {row["question"]: row["chapter"] for row in read(table(dataclasses.replace(paper, record=record)))}
    assert rows == {"cut": "1", "lever": "3"}
    empty = dataclasses.replace(paper, record=dataclasses.replace(record, entries={}))
    assert {row["chapter"] for row in read(table(empty))} == {"3"}


def test_that_a_point_that_is_open_no_more_has_no_open_point_in_its_row() -> None:
    paper = with_entries(later=Later(LENGTH, "part ordered", "soon", "T", NOON, 8))
    states = {s: dataclasses.replace(state, open_point=False) for s, state in paper.assessment.states.items()}
    asked_again = dataclasses.replace(paper, assessment=dataclasses.replace(paper.assessment, states=states))
    assert {row["open_point"] for row in read(table(paper))} == {"", "part ordered"}
    assert {row["open_point"] for row in read(table(asked_again))} == {""}
