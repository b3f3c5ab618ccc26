"""The chain of hashes and the canonical bytes under it."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.store.canonical import DEEPEST, parse
from rakeprep.store.chain import GENESIS, canonical, check_chain, fingerprint, link, short_code
from rakeprep.store.events import Stored, dump, load

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
values = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=8,
)
bodies = st.dictionaries(texts, values, max_size=4)


def chained(*found: dict[str, object]) -> list[Stored]:
    events: list[Stored] = []
    for seq, body in enumerate(found, 1):
        previous = events[-1].hash if events else GENESIS
        at = f"2031-03-04T09:41:{seq:02}.000000+01:00"
        events.append(Stored(seq, at, body, previous, fingerprint(previous, seq, at, body)))
    return events


def test_that_keys_are_sorted_and_nothing_is_escaped_that_need_not_be() -> None:
    # By hand, from RFC 8259 section 7 (only ", \ and control characters must be escaped).
    assert canonical({"b": ["é", True, None], "a": 'x"\n'}) == '{"a":"x\\"\\n","b":["é",true,null]}'.encode()


def test_that_a_link_is_the_hash_another_program_finds() -> None:
    # SHA-256 of the ASCII text "abc{}" worked out by a second program (coreutils sha256sum):
    # printf 'abc{}' | sha256sum
    assert link("abc", {}) == "98f50e6bf7b9a0dce0cdde1f0ce07a62e0266188e6b69d202dbfcfb9946e7b2c"


def test_that_the_hash_of_an_entry_covers_number_time_and_body() -> None:
    # By a second way: the bytes put together by hand.
    text = GENESIS + '{"at":"2031-03-04T09:41:00.000000+01:00","body":{"a":1},"seq":1}'
    assert fingerprint(GENESIS, 1, "2031-03-04T09:41:00.000000+01:00", {"a": 1}) == (
        hashlib.sha256(text.encode()).hexdigest()
    )


@pytest.mark.parametrize("value", [0.5, {"deep": [1.0]}, b"bytes", {1: "key"}, {1, 2}])
def test_that_a_value_without_one_exact_form_is_refused(value: object) -> None:
    with pytest.raises(TypeError):
        canonical({"value": value})


def nested(depth: int) -> dict[str, object]:
    found: dict[str, object] = {}
    for _ in range(depth):
        found = {"in": found}
    return found


@pytest.mark.parametrize("value", ["\ud800", 2**53, -(2**53), nested(DEEPEST + 1), nested(5000)])
def test_that_a_value_other_readers_could_not_keep_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        canonical({"value": value})


@pytest.mark.parametrize(
    "text", ['{"a":1.0}', '{"a":NaN}', '{"a":1e2}', '{"a":1,"a":2}', "[1]", "{", "[" * 100_000, ""]
)
def test_that_text_canonical_would_not_write_is_not_read(text: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        parse(text)


@given(bodies)
@settings(max_examples=100)
def test_that_canonical_bytes_do_not_depend_on_the_order_of_keys(body: dict[str, object]) -> None:
    turned = dict(reversed(list(body.items())))
    assert canonical(turned) == canonical(body)
    assert parse(canonical(body)) == json.loads(json.dumps(body))


@given(st.lists(bodies, max_size=5))
@settings(max_examples=60)
def test_that_an_untouched_chain_is_unbroken_also_after_the_trip_through_text(
    found: list[dict[str, object]],
) -> None:
    events = tuple(chained(*found))
    assert check_chain(events) is None
    assert load(dump(events)) == events
    assert check_chain(load(dump(events))) is None


@given(st.lists(bodies, min_size=2, max_size=6), st.data())
@settings(max_examples=100)
def test_that_any_one_change_is_found_at_its_entry(
    found: list[dict[str, object]], data: st.DataObject
) -> None:
    events = chained(*found)
    place = data.draw(st.integers(0, len(events) - 1))
    victim = events[place]
    changed = data.draw(
        st.sampled_from(
            [
                replace(victim, body={**victim.body, "added": "later"}),
                replace(victim, at="2031-03-05T09:41:00.000000+01:00"),
                replace(victim, hash="f" * 64),
                replace(victim, previous="e" * 64),
                replace(victim, body={"a": 0.5}),
            ]
        )
    )
    events[place] = changed
    problem = check_chain(events)
    assert problem is not None
    assert dict(problem.params)["seq"] == place + 1


@pytest.mark.parametrize(
    ("order", "sentence"),
    [
        ([1, 3], "Entry 2 is missing from the record: entry 3 stands in its place."),
        ([2, 3], "Entry 1 is missing from the record: entry 2 stands in its place."),
        ([1, 3, 2], "Entry 2 is missing from the record: entry 3 stands in its place."),
        ([1, 2, 2, 3], "Entry 3 is missing from the record: entry 2 stands in its place."),
    ],
)
def test_that_entries_taken_out_or_moved_are_named(order: list[int], sentence: str) -> None:
    events = chained({"a": 1}, {"a": 2}, {"a": 3})
    assert str(check_chain([events[seq - 1] for seq in order])) == sentence


def test_that_an_entry_rewritten_with_its_own_hash_breaks_the_next_one() -> None:
    events = chained({"a": 1}, {"a": 2}, {"a": 3})
    forged = fingerprint(events[0].hash, 2, events[1].at, {"a": 9})
    events[1] = replace(events[1], body={"a": 9}, hash=forged)
    problem = check_chain(events)
    assert str(problem).startswith("Entry 3 does not follow from the entry before it")


def test_that_no_entries_are_an_unbroken_chain() -> None:
    assert check_chain(()) is None


def test_that_the_code_for_paper_is_four_groups_of_four() -> None:
    # By hand: the first 16 of 64 digits.
    assert short_code("1a2b3c4d5e6f7081" + "9" * 48) == "1A2B-3C4D-5E6F-7081"
