"""The same reading by two people: both are kept, and compared here and nowhere else.

The rule. The standing answer is held against the latest answer of everybody else at the same place. It is
good as soon as one of these agrees with it, whatever a third one read; if none does, it is to be measured
again. Not compared is what

- was entered before a correction: an answer with a reason replaces all before it, whoever gave it;
- belongs to an earlier chapter;
- was measured before something it rests on changed: the machine is another one since;
- cannot be compared: pictures, things done, and free words that nobody needs.

Quantities agree within the doubt of the two readings together; everything else is equal or not.
"""

from __future__ import annotations

from fractions import Fraction

from rakeprep.calculations.decision import Estimate, agree, combine
from rakeprep.jobs.answered import shown_value
from rakeprep.jobs.out_of_date import Asked, Grounds, newest_change
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.field import Ask, Field, Need
from rakeprep.model.finding import Finding
from rakeprep.model.job import Record
from rakeprep.model.place import Place
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import LARGEST, doubt_of
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Amount, Kind

AGAIN = msg(
    "Measure once more, each for himself. If something was changed in between, enter it again with that as "
    "the reason."
)
LOOK_AGAIN = msg("Look at it again together, and enter what is there; if the first was an error, say so.")
LONGEST = 60  # characters of an answer within a sentence


def comparisons(question: Asked, record: Record, grounds: Grounds) -> tuple[Finding, ...]:
    """A finding at every place of a question where somebody else's answer can be compared with the standing
    one."""
    if not comparable(question.field):
        return ()
    return tuple(
        compared(question.field, slot, record.entries[slot], found)
        for slot, place in question.slots
        if (found := standing_others(slot, place, question.field, grounds, record))
    )


def standing_others(slot: Slot, place: Place, field: Field, grounds: Grounds, record: Record) -> list[Entry]:
    """The answers of others at an address that can be compared with the standing one."""
    others = of_others(record.history.get(slot, ()), record.chapter.seq)
    return [other for other in others if holds(other, field, place, grounds, record)]


def comparable(field: Field) -> bool:
    """Whether two answers to a question must say the same."""
    if field.ask in {Ask.DONE, Ask.PHOTO}:
        return False
    return field.ask is not Ask.TEXT or field.need is not Need.MAY


def of_others(history: tuple[Entry, ...], since: int) -> tuple[Entry, ...]:
    """The latest answer of everybody but the one whose answer stands, oldest first.

    An answer with a reason replaces all before it. ``since`` is the number in the chain after which the
    present chapter began.
    """
    if len(history) < 2 or history[-1].how is not How.VALUE:
        return ()
    standing = history[-1]
    latest: dict[str, Entry] = {}
    for entry in reversed(history):
        if entry.seq <= since or entry.how is not How.VALUE:
            break
        latest.setdefault(entry.who.casefold(), entry)
        if entry.reason:
            break
    latest.pop(standing.who.casefold(), None)
    return tuple(sorted(latest.values(), key=lambda entry: entry.seq))


def holds(entry: Entry, field: Field, place: Place, grounds: Grounds, record: Record) -> bool:
    """Whether nothing it rests on has changed since an answer was given."""
    changes = (newest_change(basis, entry, place, grounds, record) for basis in field.rests_on)
    return all(change is None for change in changes)


def compared(field: Field, slot: Slot, standing: Entry, others: list[Entry]) -> Finding:
    """What follows from the standing answer and those of others, of which there is at least one."""
    agreeing = [other for other in others if same(field, other, standing)]
    other = (agreeing or others)[-1]
    verdict = Verdict.IN_ORDER if agreeing else Verdict.MEASURE_AGAIN
    measured = measurable(field, other) and measurable(field, standing)
    says = distance(field, other, standing, bool(agreeing)) if measured else words(field, other, standing)
    todo = AGAIN if measured else LOOK_AGAIN
    return Finding(verdict, (slot,), says, None if agreeing else todo)


def same(field: Field, first: Entry, second: Entry) -> bool:
    """Whether two answers agree."""
    if measurable(field, first) and measurable(field, second):
        return agree(estimate(field, first), estimate(field, second))
    if first.exact is not None and second.exact is not None:
        return first.exact == second.exact
    if field.ask in {Ask.CHOICE, Ask.MANY}:
        return first.chosen == second.chosen
    return first.typed.split() == second.typed.split()


def measurable(field: Field, entry: Entry) -> bool:
    """Whether an answer is a quantity of a size that means something."""
    return field.kind is not None and entry.exact is not None and abs(entry.exact) < LARGEST


def estimate(field: Field, entry: Entry) -> Estimate:
    """A reading with its doubt: the instrument's and the hand's, but never below half a division.

    Where no kind of instrument is known, one whole division stands for both.
    """
    division = float(min(entry.division or Fraction(0), Fraction(LARGEST)))
    value = float(entry.exact or 0)
    doubt = max(doubt_of(field.instrument, value), division / 2) if field.instrument else division
    return Estimate(value, doubt)


def distance(field: Field, first: Entry, second: Entry, agreed: bool) -> Message:
    """Two readings, how far they are apart, and how far they may be."""
    assert field.kind is not None
    kind = Kind.TEMPERATURE_DIFFERENCE if field.kind is Kind.TEMPERATURE else field.kind
    one, two = estimate(field, first), estimate(field, second)
    unit = second.unit or field.unit
    apart = abs((first.exact or Fraction(0)) - (second.exact or Fraction(0)))
    said = {
        **both(field, first, second),
        "apart": Amount(apart, kind, unit),
        "doubt": Amount(combine([(1, one.doubt), (-1, two.doubt)]), kind, unit, toward="up"),
    }
    if agreed:
        return msg(
            "{first} {a}, {second} {b}: {apart} apart, within the doubt of the two readings (± {doubt}).",
            **said,
        )
    return msg(
        "{first} {a}, {second} {b}: {apart} apart, more than the doubt of the two readings (± {doubt}).",
        **said,
    )


def words(field: Field, first: Entry, second: Entry) -> Message:
    """Two answers that are equal or not."""
    if same(field, first, second):
        return msg("{first} {a}, {second} {b}: they agree.", **both(field, first, second))
    return msg("{first} {a}, {second} {b}: they do not agree.", **both(field, first, second))


def both(field: Field, first: Entry, second: Entry) -> dict[str, object]:
    """Who said what."""
    return {
        "first": verbatim(first.who),
        "second": verbatim(second.who),
        "a": answer(field, first),
        "b": answer(field, second),
    }


def answer(field: Field, entry: Entry) -> Message:
    """One answer within a sentence."""
    if field.ask is Ask.TEXT and len(entry.typed) > LONGEST:
        return verbatim(f"{entry.typed[:LONGEST]}…")
    return shown_value(field, entry)
