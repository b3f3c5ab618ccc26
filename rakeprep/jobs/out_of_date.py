"""Which entries rest on something that changed after them.

Changing an entry never deletes another: what depends on it is marked, with the reason and the time.
"""

from __future__ import annotations

from bisect import bisect
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, partial

from rakeprep.jobs.chapters import kind_of, narrowed
from rakeprep.jobs.kept import Kept
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.field import Field
from rakeprep.model.job import Record
from rakeprep.model.place import Place
from rakeprep.text import Message, msg


@dataclass(frozen=True)
class Asked:
    """A question of a step, with its places."""

    step: str
    field: Field

    @cached_property
    def slots(self) -> tuple[tuple[Slot, Place], ...]:
        """Every address of the question."""
        return tuple((Slot(self.step, self.field.key, place.key), place) for place in self.field.places)

    @cached_property
    def name(self) -> str:
        """The name by which others rest on it."""
        return f"{self.step}.{self.field.key}"

    def answers(self, record: Record) -> tuple[Entry | None, ...]:
        """What stands at its addresses."""
        return tuple([record.entries.get(slot) for slot, _ in self.slots])


@dataclass(frozen=True, slots=True)
class Ground:
    """An entry that others may rest on."""

    field: Field
    place: Place
    entry: Entry


Grounds = Mapping[str, tuple[Ground, ...]]


def bases(question: Asked, record: Record, grounds: Grounds) -> Iterator[object]:
    """All that the answers to a question rest on, as it stands now."""
    for basis in question.field.rests_on:
        yield record.changes.get(basis)
        yield grounds.get(basis)


def stale_answers(question: Asked, record: Record, grounds: Grounds) -> Mapping[Slot, Message]:
    """For every answer that is out of date, why: what it rests on changed after it was given."""
    stale: dict[Slot, Message] = {}
    if not question.field.rests_on:
        return stale
    for slot, place in question.slots:
        entry = record.entries.get(slot)
        if entry is None:
            continue
        changes = (newest_change(basis, entry, place, grounds, record) for basis in question.field.rests_on)
        newest = max((c for c in changes if c is not None), key=lambda c: c[0], default=None)
        if newest is not None:
            stale[slot] = newest[1]
    return stale


def asked_again(asked: tuple[Asked, ...], record: Record) -> Mapping[Slot, Message]:
    """What the present chapter asks for once more, and nobody has answered in it yet."""
    chapter = record.chapter
    stale = {}
    for slot in named_by_chapter(asked, record):
        entry = record.entries.get(slot)
        if entry is not None and entry.seq < chapter.seq:
            stale[slot] = msg(
                "Asked again, {chapter}; the last answer is of {first}.",
                chapter=kind_of(chapter).title,
                first=entry.at,
            )
    return stale


def left_open(asked: tuple[Asked, ...], record: Record) -> frozenset[Slot]:
    """The open points that stand: one from before the present chapter does not, where this asks again."""
    if record.chapter.before is None:
        return frozenset(record.later)
    named = {slot for slot in record.later if record.later[slot].seq < record.chapter.seq}
    return frozenset(record.later.keys() - named.intersection(named_by_chapter(asked, record)))


def named_by_chapter(asked: tuple[Asked, ...], record: Record) -> Iterator[Slot]:
    """Every address at which the present chapter asks for a new answer; the first asks for none."""
    chapter = record.chapter
    if chapter.before is None:
        return
    kind = kind_of(chapter)
    rotors = {p.rotor for q in asked for p in q.field.places if p.key in chapter.places and p.rotor}
    for question in asked:
        if kind.asks_for(Slot(question.step, question.field.key)):
            for place in narrowed(question.field.places, chapter.places, rotors):
                yield Slot(question.step, question.field.key, place.key)


def grounds_of(asked: tuple[Asked, ...], record: Record, kept: Kept) -> Grounds:
    """The entries under every name that something rests on, ``step`` or ``step.field``, the newest first."""
    rested_on = kept.get("rested on", asked, lambda: members(asked))
    return {
        name: kept.get(
            ("grounds", name),
            (questions, *[question.answers(record) for question in questions]),
            partial(newest_first, questions, record),
        )
        for name, questions in rested_on.items()
    }


def members(asked: tuple[Asked, ...]) -> Mapping[str, tuple[Asked, ...]]:
    """The questions that belong to every name that something rests on."""
    names = {basis for question in asked for basis in question.field.rests_on}
    return {name: tuple(q for q in asked if name in {q.step, q.name}) for name in sorted(names)}


def newest_first(questions: tuple[Asked, ...], record: Record) -> tuple[Ground, ...]:
    """All that was entered for some questions."""
    given = ((q.field, place, record.entries.get(slot)) for q in questions for slot, place in q.slots)
    found = [Ground(field, place, entry) for field, place, entry in given if entry is not None]
    return tuple(sorted(found, key=lambda ground: ground.entry.seq, reverse=True))


def newest_change(
    basis: str, entry: Entry, place: Place, grounds: Grounds, record: Record
) -> tuple[int, Message] | None:
    """The latest change of ``basis`` after ``entry``: its number in the chain, and a sentence.

    Where both questions are asked at the same places, each answer rests on the one at its own place.
    """
    if basis in record.changes:
        seq, at = record.changes[basis]
        says = msg("The tractor changed {later}; this was entered {first}.", later=at, first=entry.at)
        return (seq, says) if seq > entry.seq else None
    for ground in grounds.get(basis, ()):
        if ground.entry.seq <= entry.seq:
            break
        own_place = ground.field.place(place.key) is not None
        if place.key and own_place and ground.place.key not in {"", place.key}:
            continue
        other_rotor = place.rotor and ground.place.rotor and place.rotor != ground.place.rotor
        if not other_rotor and changed_after(ground.entry.slot, entry.seq, record):
            return ground.entry.seq, why(ground.field, ground.place, ground.entry, entry)
    return None


def changed_after(slot: Slot, seq: int, record: Record) -> bool:
    """Whether the latest answer at ``slot``, given after ``seq``, differs from what stood there then."""
    history = record.history[slot]
    before = bisect(history, seq, key=lambda entry: entry.seq)
    return before == 0 or answer(history[before - 1]) != answer(history[-1])


def answer(entry: Entry) -> tuple[object, ...]:
    """What an entry says, apart from how it was written."""
    return (entry.how, entry.exact if entry.exact is not None else entry.typed)


def why(field: Field, place: Place, newer: Entry, older: Entry) -> Message:
    """The reason in words; on one day the hour is enough."""
    same_day = newer.at.date() == older.at.date()
    said = {
        "field": field.label,
        "place": place.name,
        "later": f"{newer.at:%H:%M}" if same_day else newer.at,
        "first": f"{older.at:%H:%M}" if same_day else older.at,
    }
    if place.key:
        return msg("{field}, {place}, changed {later}; this was entered {first}.", **said)
    return msg("{field} changed {later}; this was entered {first}.", **said)
