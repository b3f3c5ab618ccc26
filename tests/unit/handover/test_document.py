"""From a job to blocks: what stands on the customer's page and in the record."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping
from fractions import Fraction

import pytest

from rakeprep import paths
from rakeprep.handover import blocks, places
from rakeprep.handover.document import Paper, build
from rakeprep.handover.names_corrected import names_corrected
from rakeprep.handover.paper import NOTHING
from rakeprep.jobs.assess import Gate, OpenPoint, Readiness, assess
from rakeprep.model.chapter import Chapter
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Use
from rakeprep.model.job import Correction, Opening, Record, Signature, Stroke
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import read_profile, read_tractor
from rakeprep.steps import arrival, driveline, handover, hitch, tyres, width
from rakeprep.text import ENGLISH, verbatim
from rakeprep.units import Kind, parse

NOON = dt.datetime(2026, 5, 18, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
STEPS = (arrival.STEP, hitch.STEP, driveline.STEP, tyres.STEP, width.STEP, handover.STEP)
READY = Gate(Readiness.READY, (), ())


def said(slot: str, typed: str, **more: object) -> Entry:
    """An entry in words."""
    return dataclasses.replace(Entry(Slot.read(slot), How.VALUE, typed, "Technician One", NOON, 2), **more)


def read(slot: str, typed: str, kind: Kind, **more: object) -> Entry:
    """An entry with a unit."""
    found = parse(typed, kind, None)
    return said(slot, typed, unit=found.unit, exact=found.si, division=Fraction(0), **more)


ENTRIES = (
    said("arrival.serial@plate", "SR-0007"),
    said("handover.topic@safe-stop", "CO"),
    said("handover.call", "service desk, 000 000"),
    read("width.transport_width", "2951 mm", Kind.LENGTH),
    read("width.transport_height", "3.96 m", Kind.LENGTH),
    read("tyres.pressure_set@L1L", "29 psi", Kind.PRESSURE, instrument="dial gauge 7"),
    said("tyres.nuts@L1L", "yes", confirmed_by="Technician Two", confirmed_at=NOON),
)


def paper(
    entries: tuple[Entry, ...] = ENTRIES,
    gate: Gate | None = READY,
    signatures: Mapping[str, Signature] | None = None,
    history: Mapping[Slot, tuple[Entry, ...]] | None = None,
    **opening: object,
) -> Paper:
    """A paper of an invented job with the first sample machine and tractor."""
    samples = paths.sample_profiles()
    machine, tractor = (sorted((samples / kind).glob("*.toml"))[0] for kind in ("machines", "tractors"))
    begun = Opening(
        "J-1",
        NOON,
        "Technician One",
        "Customer One",
        "O-1",
        machine.name,
        machine.read_text("utf-8"),
        tractor.name,
        tractor.read_text("utf-8"),
    )
    record = Record(
        dataclasses.replace(begun, **opening),
        {e.slot: e for e in entries},
        history or {e.slot: (e,) for e in entries},
        signatures=signatures or {},
        count=len(entries) + 1,
        head="0" * 64,
    )
    profile = read_profile(begun.profile_text, machine.name).value
    power = read_tractor(begun.tractor_text, tractor.name).value
    assert profile is not None
    assert power is not None
    judged = assess(STEPS, profile, power, record, NOON.date())
    if gate is not None:
        judged = dataclasses.replace(judged, gate=gate)
    return Paper(record, judged, profile, power, ENGLISH, "0000-0000-0000-0000", NOON, "Invented Workshop")


def point(says: str, *bars: Use) -> OpenPoint:
    """An open point."""
    slot = Slot("tyres", "pressure_set", "L1L")
    return OpenPoint(slot, verbatim(says), "part ordered", "2 June 2026", "Technician One", frozenset(bars))


def values(pairs: tuple[blocks.Pair, ...]) -> dict[str, blocks.Pair]:
    """Pairs by their label."""
    return {pair.label: pair for pair in pairs}


def tables(document: blocks.Document) -> list[blocks.Table]:
    """Every table of the record."""
    return [block for block in document.record if isinstance(block, blocks.Table)]


def words(document: blocks.Document) -> str:
    """All the words of all blocks."""
    return repr(document)


def test_that_the_customers_page_names_machine_customer_and_tractor() -> None:
    machine, customer, tractor = build(paper()).front.who.pairs
    assert machine.value == "sample rake A, 2 × 12"
    assert "SR-0007" in machine.more[0]
    assert customer.value == "Customer One"
    assert tractor.value == "Tractor A (invented)"


def test_that_a_serial_number_nobody_read_is_a_dash() -> None:
    assert NOTHING in build(paper(entries=())).front.who.pairs[0].more[0]


def test_that_invented_data_say_so() -> None:
    document = build(paper())
    assert document.tag == document.front.tag == "Invented sample data"


def test_that_a_job_that_is_not_ready_is_a_draft_and_must_not_be_used() -> None:
    front = build(paper(gate=None)).front
    assert front.notice.verdict is Verdict.STOP
    assert "must not be used" in front.notice.strong


def test_that_a_ready_machine_may_do_everything() -> None:
    notice = build(paper()).front.notice
    assert notice.verdict is Verdict.IN_ORDER
    assert notice.strong == "You may now: work in the field, drive on the road, run the PTO."
    assert "own book" in notice.small
    assert "road law" in notice.small


def test_that_an_open_point_takes_its_use_away_by_number() -> None:
    gate = Gate(
        Readiness.OPEN_POINTS, (), (point("lamp dark", Use.ROAD), point("sticker"), point("x", Use.ROAD))
    )
    front = build(paper(gate=gate)).front
    assert front.notice.verdict is Verdict.PUT_RIGHT
    assert "Not before open points 1, 3 are closed: drive on the road." in front.notice.strong
    assert [p.aside for p in front.points.points] == ["not on the road", "", "not on the road"]
    first = front.points.points[0]
    assert (first.reason, first.due, first.who) == ("part ordered", "2 June 2026", "Technician One")


def test_that_all_open_points_stand_in_full_in_the_record() -> None:
    many = tuple(point(f"point number {n}") for n in range(1, 26))
    document = build(paper(gate=Gate(Readiness.OPEN_POINTS, (), many)))
    listed = next(table for table in tables(document) if table.header[1] == "open point")
    assert len(listed.rows) == len(many)


def test_that_the_eight_topics_show_the_initials_given() -> None:
    topics = build(paper()).front.topics.topics
    assert [topic.number for topic in topics] == [1, 2, 3, 4, 5, 6, 7, 8]
    assert topics[0].initials == "CO"
    assert topics[1].initials == ""


def test_that_engine_speeds_are_those_of_this_tractor_and_the_ceiling_is_rounded_down() -> None:
    pto = values(build(paper()).front.settings.pairs)["PTO speed for raking"]
    assert pto.value == "450, never above 480 rpm"
    # Worked by hand, invented tractor A: 1938 · 450 / 540 = 1615, nearest 25 is 1625;
    # 1938 · 480 / 540 = 1722.7, down to 1700. 1550 · 450 / 540 = 1291.7 → 1300; 1377.8 → 1375.
    assert pto.more == (
        "540: engine 1625, at most 1700 rpm",
        "540E: engine 1300, at most 1375 rpm",
    )


def test_that_width_and_height_are_the_measured_ones_rounded_up() -> None:
    road = values(build(paper()).front.settings.pairs)["On the road"]
    # 2.951 m up to the centimetre is 2.96 m; by hand.
    assert road.value == "2.96 m wide, 3.96 m high"
    # 2.951 m = 116.181 in = 9 ft 8.181 in, up to 1/16 in 9 ft 8 3/16 in; 3.96 m = 155.906 in = 12 ft
    # 11.906 in, up to 12 ft 11 15/16 in (25.4 mm to the inch, NIST SP 811).
    assert road.more[0] == "9 ft 8 3/16 in × 12 ft 11 15/16 in"


def test_that_settings_stand_in_both_unit_families() -> None:
    pressure = values(build(paper()).front.settings.pairs)["Tyre pressure, cold"]
    assert pressure.value == "2 bar / 3.5 bar"
    # 2.0 bar = 29.0 psi, 3.5 bar = 50.8 psi (6894.757 Pa to the psi, NIST SP 811).
    assert pressure.more[0] == "29 psi / 51 psi"


def test_that_visits_count_from_the_day_of_handover() -> None:
    visits = build(paper()).front.visits
    pairs = values(visits.pairs)
    # 50 h at 6 h a day from 18 May 2026: ninth day of work, 26 May 2026; worked by hand.
    assert pairs["after 50 h of work"].value == "about 26 May 2026"
    assert visits.call.value == "service desk, 000 000"


def test_that_the_workshop_is_called_where_nobody_else_is_named() -> None:
    assert build(paper(entries=())).front.visits.call.value == "Invented Workshop"


def test_that_signatures_are_drawn_or_typed_or_still_missing() -> None:
    stroke = Stroke(((0.0, 0.0, 0.0, 0.5), (9.0, 3.0, 0.1, 0.5)))
    signed = {
        "technician": Signature("technician", "Technician One", NOON, "", (stroke,)),
        "checker": Signature("checker", "Technician Two", NOON, "", typed=True),
    }
    technician, checker, customer = build(paper(signatures=signed)).front.signatures.boxes
    assert technician.strokes == (stroke,)
    assert technician.field == "technician"
    assert checker.typed == "Technician Two"
    assert checker.field == ""
    assert customer.below == "not signed yet"
    assert customer.field == "customer"


def test_that_readings_stand_as_typed_with_the_other_unit_beside() -> None:
    rows = [row for table in tables(build(paper())) for row in table.rows if isinstance(row, tuple)]
    row = next(r for r in rows if r[1].text == "29 psi")
    # 29 psi = 199 948 Pa = 2.0 bar to the bar's usual tenth (NIST SP 811).
    assert row[1].beside == "(2 bar)"
    assert "dial gauge 7" in row[4].quiet[0]


def test_that_a_second_name_stands_with_its_entry() -> None:
    assert "+ Technician Two" in words(build(paper()))


def test_that_a_changed_entry_shows_what_it_was_and_why() -> None:
    slot = Slot("arrival", "serial", "plate")
    old, new = said(str(slot), "SR-0001"), said(str(slot), "SR-0007", seq=9, reason="read once more")
    document = build(paper(history={slot: (old, new)}))
    table = next(t for t in tables(document) if t.header[1] == "was")
    assert (table.rows[0][1].text, table.rows[0][2].text) == ("SR-0001", "SR-0007")
    assert table.rows[0][4].quiet == ("read once more",)


def test_that_every_value_of_the_machine_data_stands_with_its_source() -> None:
    document = build(paper())
    data = [t for t in tables(document) if t.header == ("what", "value", "source")]
    listed = [row for table in data for row in table.rows if isinstance(row, tuple)]
    # Lines with a source in the two invented data files, counted by their key word.
    opening = paper().record.opening
    wanted = (opening.profile_text + opening.tractor_text).count("source =")
    # Values that are alike share a row, which names what they belong to.
    assert sum(1 + sum(line.count(" · ") for line in row[0].quiet) for row in listed) == wanted
    assert any(row[2].strong and "rule of thumb" in row[2].text for row in listed)


def test_that_the_nine_distances_have_a_map_of_their_own() -> None:
    entry = read("driveline.distance@left-low", "872 mm", Kind.LENGTH)
    map_of_nine = next(t for t in tables(build(paper((entry,)))) if t.header[1] == "full left")
    assert [len(row) for row in map_of_nine.rows] == [4, 4, 4]
    assert map_of_nine.rows[2][1].text == "872 mm"


def test_that_what_is_not_in_order_is_told_in_full() -> None:
    entry = read("tyres.pressure_set@L1L", "4 bar", Kind.PRESSURE)
    notes = [b for b in build(paper((entry,))).record if isinstance(b, blocks.FindingNote)]
    found = next(n for n in notes if n.where == "Pressure as set")
    assert found.verdict is Verdict.PUT_RIGHT
    assert found.todo
    assert found.working


def test_that_the_code_stands_at_the_foot_and_in_the_record() -> None:
    document = build(paper())
    assert "0000-0000-0000-0000" in document.foot
    assert "rakeprep verify" in document.foot
    assert any(isinstance(b, blocks.KeepTogether) and "0000-0000" in repr(b) for b in document.record)


@pytest.mark.parametrize("nasty", ["<b>bold</b>", "\u202egnirts", "\U0001f600", "x" * 10_000, "a\nb\tc"])
def test_that_no_name_can_break_the_document(nasty: str) -> None:
    entries = (said("arrival.serial@plate", nasty), said("handover.call", nasty))
    document = build(paper(entries, customer=nasty, order=nasty, technician=nasty, job=nasty))
    assert "\u202e" not in words(document)
    assert document.front.who.pairs[1].value


def test_that_the_same_job_gives_the_same_blocks() -> None:
    assert build(paper()) == build(paper())


# ------------------------------------------------------------------------ a calm table loses nothing


WHEELS = ("L1L", "L1R", "L2L", "L2R")
LATER = NOON + dt.timedelta(minutes=7)


def rows_of(document: blocks.Document, label: str) -> list[tuple[blocks.Cell, ...]]:
    """The rows of a question: under its heading, or the one row that names it."""
    found: list[tuple[blocks.Cell, ...]] = []
    within = False
    for table in tables(document):
        for row in table.rows:
            if isinstance(row, blocks.Group):
                within = row.text == label
            elif len(row) == 5 and (within or row[0].text == label):
                found.append(row)
        within = False
    return found


def pressures(*typed: str, **more: object) -> list[tuple[blocks.Cell, ...]]:
    """The rows of the pressures as set, of the first wheels."""
    entries = tuple(
        read(f"tyres.pressure_set@{wheel}", said_so, Kind.PRESSURE, **more)
        for wheel, said_so in zip(WHEELS, typed, strict=False)
    )
    return [row for row in rows_of(build(paper(entries)), "Pressure as set") if row[1].text != NOTHING]


def test_that_equal_answers_share_a_row_that_lists_their_places() -> None:
    (row,) = pressures("2.0 bar", "2.0 bar", "2.0 bar", "2.0 bar", instrument="gauge 7")
    assert row[0].text == "L1L, L1R, L2L, L2R"
    assert row[1].text == "2.0 bar"
    assert row[4].quiet == ("12:00 · gauge 7",)


def test_that_another_reading_or_another_verdict_has_a_row_of_its_own() -> None:
    rows = pressures("2.0 bar", "2.05 bar", "2.0 bar", "4 bar")
    assert next((row[0].text, row[1].text) for row in rows) == ("L1L, L2L", "2.0 bar")
    assert {row[1].text for row in rows} == {"2.0 bar", "2.05 bar", "4 bar"}
    assert len({row[3].text for row in rows}) == 2


@pytest.mark.parametrize(
    "other",
    [{"instrument": "gauge 8"}, {"who": "Technician Two"}, {"confirmed_by": "Two"}, {"reason": "read again"}],
)
def test_that_who_and_with_what_keep_rows_apart(other: dict[str, object]) -> None:
    one = read("tyres.pressure_set@L1L", "2.0 bar", Kind.PRESSURE, instrument="gauge 7")
    two = dataclasses.replace(one, slot=Slot.read("tyres.pressure_set@L1R"), **other)
    rows = [r for r in rows_of(build(paper((one, two))), "Pressure as set") if r[1].text != NOTHING]
    assert len(rows) == 2


def test_that_a_shared_row_tells_from_when_to_when() -> None:
    entries = tuple(
        said(f"tyres.nuts@{wheel}", "yes", at=at) for wheel, at in zip(WHEELS, (NOON, LATER), strict=False)
    )
    row = next(r for r in rows_of(build(paper(entries)), "Wheel nuts tight, in star order") if r[4].quiet)
    assert row[4].quiet == ("12:00–12:07",)


def test_that_readings_of_a_map_are_not_told_twice() -> None:
    turns, heights = ("left", "straight", "right"), ("high", "work", "low")
    entries = tuple(
        read(f"driveline.distance@{turn}-{height}", f"{870 + n} mm", Kind.LENGTH, seq=n)
        for n, (turn, height) in enumerate((t, h) for t in turns for h in heights)
    )
    document = build(paper(entries))
    (row,) = rows_of(document, "Distance from groove to groove")
    assert row[1].text == "9 readings, see below"
    for entry in entries:
        assert (
            sum(cell.text == entry.typed for t in tables(document) for r in t.rows for cell in cells(r)) == 1
        )


def cells(row: tuple[blocks.Cell, ...] | blocks.Group) -> tuple[blocks.Cell, ...]:
    """The cells of a row, none of a heading."""
    return () if isinstance(row, blocks.Group) else row


def test_that_the_codes_of_wheels_and_arms_are_explained() -> None:
    said_so = next(
        b.text for b in build(paper()).record if isinstance(b, blocks.Paragraph) and b.text[:6] == "Codes:"
    )
    assert "L1L = left rotor, front row, left-hand wheel" in said_so


def test_that_a_step_whose_cautions_nobody_read_says_so() -> None:
    quiet = [b.text for b in build(paper()).record if isinstance(b, blocks.Paragraph)]
    assert any("Nobody has confirmed" in text for text in quiet)


@pytest.mark.parametrize(
    ("codes", "listed"),
    [
        (("LA01", "LA02", "LA03", "LA04"), ["LA01–LA04"]),
        (("LA01", "LA02", "LA04"), ["LA01", "LA02", "LA04"]),
        (("LA09", "LA10", "LA11", "RA12"), ["LA09–LA11", "RA12"]),
        (("L1L", "L1R", "L2L"), ["L1L", "L1R", "L2L"]),
        (("XL", "XR"), ["XL", "XR"]),
        ((), []),
    ],
)
def test_that_codes_that_count_up_are_a_run(codes: tuple[str, ...], listed: list[str]) -> None:
    assert places.runs(codes) == listed


def test_that_a_corrected_name_stands_in_the_record_beside_the_old_one() -> None:
    made = paper()
    fixed = Correction("customer", "Custmer One", "Customer One", "misheard", "Technician Two", NOON, 3)
    record = dataclasses.replace(made.record, corrections=(fixed,))
    table = next(
        each for each in tables(build(dataclasses.replace(made, record=record))) if len(each.rows) == 1
    )
    (cells,) = table.rows
    assert not isinstance(cells, blocks.Group)
    assert [cell.text for cell in cells[:3]] == ["Customer", "Custmer One", "Customer One"]
    assert cells[3].quiet[0] == "Technician Two"
    assert "18 May 2026" in cells[3].quiet[1]  # NOON above
    assert cells[4].quiet == ("misheard",)
    later = dataclasses.replace(record, chapter=Chapter("ten-hours", 2, seq=4))
    assert not list(names_corrected(dataclasses.replace(made, record=later)))
