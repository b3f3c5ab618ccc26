"""Which entries rest on something that changed after them.

Changing an entry never deletes another: what depends on it is marked, with the reason and the time.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rakeprep.model.entry import Entry, Slot
from rakeprep.model.field import Field
from rakeprep.model.job import Record
from rakeprep.model.place import Place
from rakeprep.text import Message, msg


@dataclass(frozen=True, slots=True)
class Asked:
    """A question of a step, with its places."""

    step: str
    field: Field

    def slots(self) -> Iterator[tuple[Slot, Place]]:
        """Every address of the question."""
        for place in self.field.places:
            yield Slot(self.step, self.field.key, place.key), place


def out_of_date(asked: tuple[Asked, ...], record: Record) -> Mapping[Slot, Message]:
    """For every entry that is out of date, why: what it rests on changed after it was made."""
    stale: dict[Slot, Message] = {}
    for question in asked:
        for slot, place in question.slots():
            entry = record.entries.get(slot)
            if entry is None:
                continue
            reason = newest_change(entry, place, question, asked, record)
            if reason is not None:
                stale[slot] = reason
    return stale


def newest_change(
    entry: Entry, place: Place, question: Asked, asked: tuple[Asked, ...], record: Record
) -> Message | None:
    """The latest change after ``entry`` of something it rests on, as a sentence."""
    found: tuple[int, Message] | None = None
    for basis in question.field.rests_on:
        for seq, sentence in changes(basis, entry, place, asked, record):
            if found is None or seq > found[0]:
                found = (seq, sentence)
    return None if found is None else found[1]


def changes(
    basis: str, entry: Entry, place: Place, asked: tuple[Asked, ...], record: Record
) -> Iterator[tuple[int, Message]]:
    """Changes of ``basis`` after ``entry``, each with its number in the chain."""
    if basis in record.changes:
        seq, at = record.changes[basis]
        if seq > entry.seq:
            yield (
                seq,
                msg("The tractor changed {later}, after this was entered {first}.", later=at, first=entry.at),
            )
        return
    step, _, name = basis.partition(".")
    for other in asked:
        if other.step != step or (name and other.field.key != name):
            continue
        for slot, where in other.slots():
            if slot == entry.slot or (place.rotor and where.rotor and place.rotor != where.rotor):
                continue
            seq = changed_after(slot, entry.seq, record)
            if seq:
                yield seq, why(other.field, where, record.entries[slot], entry)


def changed_after(slot: Slot, seq: int, record: Record) -> int:
    """Number of the entry that changed the value at ``slot`` after ``seq``, or 0 if it is as it was."""
    history = record.history.get(slot, ())
    before = [e for e in history if e.seq < seq]
    after = [e for e in history if e.seq > seq]
    if not after:
        return 0
    latest = after[-1]
    return latest.seq if not before or answer(before[-1]) != answer(latest) else 0


def answer(entry: Entry) -> tuple[object, ...]:
    """What an entry says, apart from how it was written."""
    return (entry.how, entry.exact if entry.exact is not None else entry.typed)


def why(field: Field, place: Place, newer: Entry, older: Entry) -> Message:
    """The reason in words."""
    if place.key:
        return msg(
            "{field}, {place}, was entered {later}, after this {first}.",
            field=field.label,
            place=place.name,
            later=newer.at,
            first=older.at,
        )
    return msg(
        "{field} was entered {later}, after this {first}.", field=field.label, later=newer.at, first=older.at
    )
