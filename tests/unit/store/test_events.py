"""Entries on their way out of a file and back."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from rakeprep.store.events import Stored, load

GOOD: dict[str, object] = {
    "seq": 1,
    "at": "2031-03-04T09:41:00.000000+01:00",
    "body": {"a": "1/3"},
    "previous": "0" * 64,
    "hash": "1" * 64,
}


def test_that_an_entry_survives_the_trip_through_its_mapping() -> None:
    assert Stored.from_json(GOOD).to_json() == GOOD


@pytest.mark.parametrize(
    "spoil",
    [
        lambda good: [good],
        lambda good: {**good, "more": 1},
        lambda good: {key: value for key, value in good.items() if key != "at"},
        lambda good: {**good, "seq": 0},
        lambda good: {**good, "seq": True},
        lambda good: {**good, "seq": "1"},
        lambda good: {**good, "at": "yesterday"},
        lambda good: {**good, "at": "2031-03-04T09:41:00"},
        lambda good: {**good, "at": None},
        lambda good: {**good, "body": "text"},
        lambda good: {**good, "hash": 5},
        lambda good: {**good, "previous": None},
    ],
)
def test_that_a_misshapen_entry_is_refused(spoil: Callable[[dict[str, object]], object]) -> None:
    with pytest.raises(ValueError, match=r"."):
        Stored.from_json(spoil(GOOD))


@pytest.mark.parametrize("data", [b"{}\n", b"\xff\n", b"not json\n", b"[]\n", b"[" * 100_000])
def test_that_a_line_that_is_no_entry_is_named(data: bytes) -> None:
    with pytest.raises(ValueError, match="line 2"):
        load(b"\n" + data)


def test_that_empty_text_holds_no_entries() -> None:
    assert load(b"") == ()
