"""The record that a chain of events tells."""

from __future__ import annotations

import datetime as dt
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.jobs import events
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.job import Signature, Stroke
from rakeprep.store.canonical import canonical

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
SLOT = Slot("s", "a")


def signature(role: str = "technician") -> Signature:
    stroke = Stroke(((0.0, 1.5, 0.0, 0.5), (10.0, 2.25, 0.01, 1.0)))
    return Signature(role, "Technician One", NOON, "h1", (stroke,))


def test_that_an_entry_comes_back_as_it_was_given(bench: Any) -> None:
    given = Entry(
        SLOT, How.VALUE, "1 3/16 in", "Technician One", NOON, 0, "in", Fraction(603, 20000), Fraction(1, 640)
    )
    entry = bench.record(events.entered(given)).entries[SLOT]
    assert (entry.typed, entry.unit, entry.exact, entry.division, entry.seq) == (
        "1 3/16 in",
        "in",
        Fraction(603, 20000),  # 19/16 × 0.0254 m, worked by hand
        Fraction(1, 640),
        2,
    )


def test_that_the_opening_comes_back_as_it_was_given(bench: Any) -> None:
    assert bench.record().opening == bench.opening


def test_that_every_earlier_answer_is_kept(bench: Any) -> None:
    record = bench.record(bench.entry("s.a", "good"), bench.entry("s.a", "wrong"), bench.entry("s.a", "good"))
    assert [e.typed for e in record.history[SLOT]] == ["good", "wrong", "good"]
    assert record.entries[SLOT].seq == 4


def test_that_absent_is_no_value(bench: Any) -> None:
    record = bench.record(bench.absent("s.a"))
    assert record.value(SLOT) is None
    assert record.entries[SLOT].reason == "none fitted"


def test_that_a_new_value_takes_an_open_point_away(bench: Any) -> None:
    left = (bench.entry("s.a", "wrong"), bench.later("s.a"), bench.later("s.b"))
    assert set(bench.record(*left).later) == {SLOT, Slot("s", "b")}
    assert set(bench.record(*left, bench.entry("s.a")).later) == {Slot("s", "b")}


def test_that_a_second_name_lapses_on_a_new_value(bench: Any) -> None:
    seen = (bench.entry("s.a"), events.confirmed(SLOT, 2, "Technician Two"))
    assert bench.record(*seen).entries[SLOT].confirmed_by == "Technician Two"
    assert bench.record(*seen, bench.entry("s.a")).entries[SLOT].confirmed_by == ""


def test_that_a_second_name_for_an_earlier_value_says_nothing_of_the_new_one(bench: Any) -> None:
    record = bench.record(
        bench.entry("s.a"), bench.entry("s.a", "wrong"), events.confirmed(SLOT, 2, "Technician Two")
    )
    assert record.entries[SLOT].confirmed_by == ""


@pytest.mark.parametrize(
    "body",
    [
        events.confirmed(SLOT, 2, "Technician Two"),
        events.left_for_later(SLOT, "why", "", "Technician One"),
        events.tractor_changed("t.toml", "", "sold", "Technician One"),
        events.entered(Entry(SLOT, How.ABSENT, "", "Technician One", NOON, 0, reason="none")),
        events.entered(Entry(Slot("s", "b"), How.VALUE, "good", "Technician One", NOON, 0)),
    ],
    ids=lambda body: str(body["is"]),
)
def test_that_signatures_lapse_after_any_later_entry(bench: Any, body: events.Body) -> None:
    signed = (bench.entry("s.a"), events.signed(signature()))
    assert set(bench.record(*signed).signatures) == {"technician"}
    assert bench.record(*signed, body).signatures == {}


def test_that_a_signature_comes_back_to_the_micrometre(bench: Any) -> None:
    record = bench.record(events.signed(signature()))
    assert record.signatures["technician"].strokes == signature().strokes
    assert record.signatures["technician"].seq == 2


def test_that_the_first_reader_of_a_caution_stays(bench: Any) -> None:
    record = bench.record(
        events.caution_read("s", "Technician One"), events.caution_read("s", "Technician Two")
    )
    assert record.cautions_read == {"s": "Technician One"}


def test_that_every_event_can_be_stored_exactly(bench: Any) -> None:
    bodies = [
        bench.entry("s.a", exact=Fraction(1, 3), division=Fraction(1, 1000)),
        events.signed(signature()),
        events.sealed("0" * 64, "handover.pdf"),
        events.opened(bench.opening),
    ]
    assert all(canonical(body) for body in bodies)  # TypeError if there were a float in one


def test_that_a_chain_must_begin_with_the_opening(bench: Any) -> None:
    with pytest.raises(ValueError, match="opening"):
        events.fold(())
    with pytest.raises(ValueError, match="opening"):
        events.fold(bench.stored(bench.entry("s.a"))[1:])


@pytest.mark.parametrize(
    "body",
    [
        {},
        {"is": "of a later edition"},
        {"is": "entry"},
        {"is": "entry", "slot": 7},
        {"is": "entry", "slot": "s.a", "how": "guessed", "typed": "", "who": ""},
        {"is": "entry", "slot": "nothing", "how": "value", "typed": "", "who": ""},
        {"is": "entry", "slot": "s.a", "how": "value", "typed": "1", "who": "", "exact": "1/0"},
        {"is": "entry", "slot": "s.a", "how": "value", "typed": "1", "who": "", "exact": "nan"},
        # a power of ten in few letters would fill the memory
        {"is": "entry", "slot": "s.a", "how": "value", "typed": "1", "who": "", "exact": "1e999999999999"},
        {"is": "entry", "slot": "s.a", "how": "value", "typed": "1", "who": "", "exact": "9" * 5000},
        {"is": "entry", "slot": "s.a", "how": "value", "typed": 1, "who": ""},
        {"is": "signature", "role": "customer", "name": "", "typed": False, "head": "", "strokes": [[[1]]]},
        {"is": "signature", "role": "customer", "name": "", "typed": False, "head": "", "strokes": 7},
        {
            "is": "signature",
            "role": "customer",
            "name": "",
            "typed": False,
            "head": "",
            "strokes": [[[10**400, 0, 0, 0]]],
        },
    ],
)
def test_that_a_misshapen_event_is_a_value_error(bench: Any, body: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=r"."):
        bench.record(body)


@pytest.mark.parametrize("change", [{"opened": 7}, {"opened": "noon"}, {"extra": "x"}, {"customer": 7}])
def test_that_a_misshapen_opening_is_a_value_error(bench: Any, change: dict[str, Any]) -> None:
    first = bench.stored()[0]
    body = {**first.body, **change}
    with pytest.raises(ValueError, match=r"."):
        events.fold([type(first)(1, first.at, body, "", "h1")])


SOME = st.lists(
    st.tuples(
        st.sampled_from(["good", "again", "later", "confirm", "sign", "absent"]), st.sampled_from("abc")
    ),
    max_size=12,
)


@given(SOME)
def test_that_folding_all_at_once_and_one_by_one_gives_the_same(bench: Any, acts: Any) -> None:
    bodies = []
    for number, (act, key) in enumerate(acts, 2):
        slot = f"s.{key}"
        match act:
            case "later":
                bodies.append(bench.later(slot))
            case "absent":
                bodies.append(bench.absent(slot))
            case "confirm":
                bodies.append(events.confirmed(Slot.read(slot), number - 1, "Technician Two"))
            case "sign":
                bodies.append(events.signed(signature()))
            case _:
                bodies.append(bench.entry(slot, act))
    stored = bench.stored(*bodies)
    record = events.begin(stored[0])
    for length, event in enumerate(stored[1:], 2):
        before = record
        record = events.fold_one(before, event)
        assert record == events.fold(stored[:length])
        assert (record.count, record.head) == (event.seq, event.hash)
        assert before == events.fold(stored[: length - 1])  # the earlier record was not touched
