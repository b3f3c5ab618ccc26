"""The visits for a calendar: RFC 5545, the same bytes each time."""

from __future__ import annotations

import dataclasses
import datetime as dt
from fractions import Fraction

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep import paths
from rakeprep.handover.calendar_file import LONGEST, calendar, escaped, folded
from rakeprep.handover.paper import Paper
from rakeprep.jobs.assess import assess
from rakeprep.model.chapter import Chapter, Closing
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.job import Opening, Record
from rakeprep.profiles import read_profile, read_tractor
from rakeprep.steps import handover
from rakeprep.text import ENGLISH

NOON = dt.datetime(2026, 5, 18, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))


def visited(kind: str, hours: int, day: int) -> Paper:
    """The same job at a later visit in May, with so many hours run."""
    first, at = paper("2026-05-18"), NOON.replace(day=day)
    slot = Slot("visit", "hours")
    entry = Entry(slot, How.VALUE, f"{hours} h", "One", at, 4, exact=Fraction(hours * 3600))
    chapter = Chapter(
        kind, 2, 3, "One", "as agreed", at, before=Closing("handover.pdf", "0" * 64, "0" * 64, NOON)
    )
    record = dataclasses.replace(
        first.record, chapter=chapter, entries={**first.record.entries, slot: entry}, count=4
    )
    return dataclasses.replace(first, record=record, printed_at=at)


def paper(start: str = "", job: str = "J-1", at: dt.datetime = NOON) -> Paper:
    """An invented job with the first sample machine and tractor."""
    samples = paths.sample_profiles()
    machine, tractor = (sorted((samples / kind).glob("*.toml"))[0] for kind in ("machines", "tractors"))
    texts = machine.read_text("utf-8"), tractor.read_text("utf-8")
    opening = Opening(job, NOON, "One", "Two", "O-1", machine.name, texts[0], tractor.name, texts[1])
    slot = Slot("handover", "start_date")
    entries = {slot: Entry(slot, How.VALUE, start, "One", NOON, 2)} if start else {}
    record = Record(opening, entries, {s: (e,) for s, e in entries.items()}, count=2, head="0" * 64)
    profile, power = read_profile(texts[0], "m").value, read_tractor(texts[1], "t").value
    assert profile is not None
    assert power is not None
    judged = assess((handover.STEP,), profile, power, record, NOON.date())
    return Paper(record, judged, profile, power, ENGLISH, "0000-0000-0000-0000", at)


def events(data: bytes) -> list[icalendar.Event]:
    """What a calendar program reads."""
    return list(icalendar.Calendar.from_ical(data).walk("VEVENT"))


def test_that_a_calendar_program_finds_a_whole_day_for_each_visit() -> None:
    found = events(calendar(paper("2026-05-18")))
    # Sample machine: visits at 1, 10 and 50 h, 6 h a day. By hand: day 1, day 2, day 9 from 18 May 2026.
    assert [event.decoded("dtstart") for event in found] == [
        dt.date(2026, 5, 18),
        dt.date(2026, 5, 19),
        dt.date(2026, 5, 26),
    ]
    for event in found:
        # RFC 5545, 3.6.1: the end of a whole day is the next day.
        assert event.decoded("dtend") - event.decoded("dtstart") == dt.timedelta(days=1)
        assert event["transp"] == "TRANSPARENT"
        assert "sample rake A" in event["summary"]
        assert "J-1" in event["description"]


@pytest.mark.parametrize(
    ("kind", "hours", "day", "left"),
    [
        # By hand, 6 h a day, the day of the visit counted: 10 h less 1 h is day 2, 50 h less 1 h is day 9.
        ("first-hour", 1, 20, [(5, 21), (5, 28)]),
        # A little early: 50 h less 9 h are 41 h, day 7 from 25 May.
        ("ten-hours", 9, 25, [(5, 31)]),
        ("fifty-hours", 52, 30, []),
        # No visit by its kind, but 12 h are run: 38 h are left, day 7 from 26 May.
        ("repair", 12, 26, [(6, 1)]),
    ],
)
def test_that_a_visit_that_was_made_is_not_announced_again(
    kind: str, hours: int, day: int, left: list[tuple[int, int]]
) -> None:
    found = [event.decoded("dtstart") for event in events(calendar(visited(kind, hours, day)))]
    assert found == [dt.date(2026, month, each) for month, each in left]


def test_that_the_stamp_is_the_papers_moment_in_utc() -> None:
    stamps = {event.decoded("dtstamp") for event in events(calendar(paper()))}
    assert stamps == {dt.datetime(2026, 5, 18, 10, 0, tzinfo=dt.UTC)}


def test_that_a_later_file_moves_the_same_entries() -> None:
    first, later = (events(calendar(paper(start))) for start in ("2026-05-18", "2026-06-01"))
    names = [event["uid"] for event in first]
    assert names == [event["uid"] for event in later]
    assert len(set(names)) == len(names)
    assert names != [event["uid"] for event in events(calendar(paper(job="J-2")))]


def test_that_a_machine_without_a_pace_has_no_days() -> None:
    still = paper()
    service = dataclasses.replace(still.profile.service, hours_a_day=0)
    still = dataclasses.replace(still, profile=dataclasses.replace(still.profile, service=service))
    data = calendar(still)
    assert events(data) == []
    assert data.endswith(b"END:VCALENDAR\r\n")


def test_that_every_line_ends_and_is_short_enough() -> None:
    data = calendar(paper(job="größe; " * 60))
    assert data.count(b"\n") == data.count(b"\r\n")
    # RFC 5545, 3.1: at most 75 octets without the line's end.
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert "größe; größe" in events(data)[0]["description"]


@given(st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=300))
def test_that_folding_parts_no_character_and_loses_none(text: str) -> None:
    pieces = folded(text).split(b"\r\n")
    assert all(len(piece) <= LONGEST for piece in pieces)
    assert "".join(piece.decode("utf-8")[bool(n) :] for n, piece in enumerate(pieces)) == text


@pytest.mark.parametrize(
    ("text", "value"),
    # RFC 5545, 3.3.11
    [
        ("a;b", r"a\;b"),
        ("a,b", r"a\,b"),
        ("a\\b", r"a\\b"),
        ("a\nb", r"a\nb"),
        (r"\;", r"\\\;"),
        ("a:b", "a:b"),
    ],
)
def test_that_signs_with_a_meaning_are_written_out(text: str, value: str) -> None:
    assert escaped(text) == value


def test_that_the_same_job_gives_the_same_bytes() -> None:
    assert calendar(paper()) == calendar(paper())
