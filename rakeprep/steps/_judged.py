"""Answers that carry their verdict with them, and readings held against one limit."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import within
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field, Use
from rakeprep.model.finding import Finding
from rakeprep.model.source import Source, Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import LARGEST, cannot_tell, reading, shown
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind, units_of

NOWHERE: frozenset[Use] = frozenset()
DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


@dataclass(frozen=True, slots=True)
class Answer:
    """What choosing one option means; ``says`` may use the gap ``{place}``."""

    verdict: Verdict
    says: Message
    todo: Message | None = None
    bars: frozenset[Use] = NOWHERE


YES = Answer(Verdict.IN_ORDER, msg("{place}: in order."))


@dataclass(frozen=True, slots=True)
class Limit:
    """A reading that has to stay on one side of a value of the machine data.

    The three sentences may use ``{place}``, ``{read}`` and ``{limit}``; ``from_below`` is true where
    the value is the smallest that is allowed.
    """

    right: Message
    unsure: Message
    wrong: Message
    todo: Message
    from_below: bool = False
    bars: frozenset[Use] = NOWHERE


def with_gaps(message: Message, **params: object) -> Message:
    """A message with more of its gaps filled."""
    return Message(message.text, (*message.params, *params.items()), message.many, message.count)


def judged(
    facts: Facts, field: Field, answers: Mapping[str, Answer], source: Source | None = None
) -> Iterator[Finding]:
    """The finding of the option chosen at each place; words that are no option say nothing."""
    for place in field.places:
        chosen = facts.chosen(field.key, place.key) or frozenset()
        about = (facts.slot(field.key, place.key),)
        for key, answer in answers.items():
            if key in chosen:
                says = with_gaps(answer.says, place=place.name)
                yield Finding(answer.verdict, about, says, answer.todo, (), source, answer.bars)
                break


def answered_no(
    facts: Facts,
    field: Field,
    says: Message,
    todo: Message,
    verdict: Verdict = Verdict.PUT_RIGHT,
    bars: Iterable[Use] = (),
) -> Iterator[Finding]:
    """The finding at each place where a yes-or-no question was answered: ``says`` and ``todo`` are of no.

    ``says`` may use the gap ``{place}``.
    """
    return judged(facts, field, {"no": Answer(verdict, says, todo, frozenset(bars)), "yes": YES})


def sane(facts: Facts, field: str, place: str = "") -> float | None:
    """A number in its base unit; None when there is none that could be meant."""
    number = facts.number(field, place)
    return None if number is None or abs(number) > LARGEST else number


def whole(facts: Facts, field: str, place: str = "") -> int | None:
    """A count as a whole number; None when there is none that could be meant."""
    number = sane(facts, field, place)
    if number is None or number != int(number):
        return None
    return int(number)


def day_of(text: str) -> dt.date | None:
    """A date as it is stored, or None."""
    try:
        return dt.date.fromisoformat(text.strip()) if DAY.fullmatch(text.strip()) else None
    except ValueError:
        return None


def against(
    facts: Facts,
    field: Field,
    place: str,
    limit: Sourced,
    words: Limit,
    *also: Slot,
) -> Iterator[Finding]:
    """Judge the reading at one place against a limit, with the doubt of its instrument."""
    read = reading(facts, field.key, place, field.instrument)
    bound = facts.value(limit)
    at = field.place(place)
    if read is None or bound is None or at is None or field.kind is None:
        return
    about = (facts.slot(field.key, place), *also)
    try:
        low, high = (bound, None) if words.from_below else (None, bound)
        verdict = within(read.value, read.doubt, low, high)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    says = {
        Verdict.IN_ORDER: words.right,
        Verdict.MEASURE_AGAIN: words.unsure,
        Verdict.PUT_RIGHT: words.wrong,
    }[verdict]
    amount = Amount(read.value, field.kind, unit_of(facts, field, place), both=True)
    says = with_gaps(says, place=at.name, read=amount, limit=shown(limit))
    right = verdict is Verdict.IN_ORDER
    yield Finding(
        verdict,
        about,
        says,
        None if right else words.todo,
        (doubt_said(field.kind, read.doubt, unit_of(facts, field, place)),),
        limit.source,
        NOWHERE if right else words.bars,
    )


def unit_of(facts: Facts, field: Field, place: str = "") -> str:
    """The unit in which the reader typed, so that the answer comes in what his tape shows."""
    entry = facts.entry(field.key, place)
    if entry is None or field.kind is None or entry.unit not in units_of(field.kind):
        return field.unit
    return entry.unit


def doubt_said(kind: Kind, doubt: float, unit: str) -> Message:
    """The line of the working that names the doubt of a reading."""
    return msg("Doubt of this reading: ± {doubt}.", doubt=Amount(doubt, kind, unit, toward="up"))
