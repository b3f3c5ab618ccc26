"""What a sum is: data about its inputs, and one function that works it out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from rakeprep.calculations.decision import Estimate
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg
from rakeprep.units import Kind, other_unit

IMPERIAL = frozenset({"in", "ft", "ft in", "psi", "lbf·ft", "lbf·in", "lb", "oz", "°F", "Δ°F", "mph", "gpm"})
IMPERIAL |= {"US fl oz", "US pt", "US qt", "US gal", "Imp pt", "lbf", "hp"}


class Form(Enum):
    """How an input is typed."""

    AMOUNT = "one value with its unit"
    LIST = "values with their units, separated by commas"
    CLOCK = "clock places with their values, like 9=31mm 10=24mm"
    COUNT = "a whole number"
    CHOICE = "one word of a list"
    WORDS = "words of a list, separated by commas"
    DAY = "a date, like 2026-04-02"
    DAYS = "dates, separated by commas"
    NAME = "a name or number, as it is written"
    CIRCUITS = "names with their features, like R1:double+float R2:double"


@dataclass(frozen=True, slots=True)
class Choice:
    """A word that may be typed, and what it means."""

    key: str
    name: Message


@dataclass(frozen=True, slots=True)
class Input:
    """One thing a sum has to know.

    ``kind`` of an amount is None where any quantity will do, the same for all such inputs of the sum.
    ``default`` is read as if it had been typed; without one, and not ``optional``, the input is needed.
    ``instrument`` names the kind of instrument whose doubt counts unless one is typed.
    """

    key: str
    label: Message
    form: Form = Form.AMOUNT
    kind: Kind | None = None
    unit: str = ""
    help: Message | None = None
    default: str = ""
    optional: bool = False
    choices: tuple[Choice, ...] = ()
    instrument: str = ""

    @property
    def needed(self) -> bool:
        """Whether the sum cannot be worked out without it."""
        return not self.default and not self.optional


@dataclass(frozen=True, slots=True)
class Reading:
    """A value as typed: in the base unit of its kind, with its doubt and the unit it was typed in."""

    value: float
    doubt: float
    kind: Kind
    unit: str

    @property
    def estimate(self) -> Estimate:
        """Value and doubt."""
        return Estimate(self.value, self.doubt)


Value = (
    Reading
    | tuple[Reading | None, ...]
    | tuple[tuple[float, Reading], ...]
    | int
    | str
    | tuple[str, ...]
    | dt.date
    | tuple[dt.date, ...]
    | tuple[tuple[str, tuple[str, ...]], ...]
)


@dataclass(frozen=True, slots=True)
class Given:
    """The values of one sum, by key; what was left out is not there.

    The getters raise ``KeyError`` for what was left out and ``TypeError`` for another form: both are
    mistakes in a sum, never in what was typed.
    """

    values: Mapping[str, Value]

    def has(self, key: str) -> bool:
        """Whether this was given."""
        return key in self.values

    def reading(self, key: str) -> Reading:
        """An amount with all that is known of it."""
        value = self.values[key]
        if isinstance(value, Reading):
            return value
        raise TypeError(key)

    def number(self, key: str) -> float:
        """An amount in its base unit."""
        return self.reading(key).value

    def estimate(self, key: str) -> Estimate:
        """An amount with its doubt, in its base unit."""
        return self.reading(key).estimate

    def readings(self, key: str) -> tuple[Reading | None, ...]:
        """A list of amounts; None for one that was not read."""
        value = self.values[key]
        if isinstance(value, tuple) and all(each is None or isinstance(each, Reading) for each in value):
            return value  # type: ignore[return-value]
        raise TypeError(key)

    def all_read(self, key: str) -> list[float]:
        """The amounts of a list that were read."""
        return [each.value for each in self.readings(key) if each is not None]

    def clock(self, key: str) -> tuple[tuple[float, Reading], ...]:
        """Clock hours with their amounts."""
        value = self.values[key]
        if isinstance(value, tuple):
            return value  # type: ignore[return-value]
        raise TypeError(key)

    def count(self, key: str) -> int:
        """A whole number."""
        value = self.values[key]
        if isinstance(value, int):
            return value
        raise TypeError(key)

    def word(self, key: str) -> str:
        """The key of a choice, or a name as typed."""
        value = self.values[key]
        if isinstance(value, str):
            return value
        raise TypeError(key)

    def words(self, key: str) -> tuple[str, ...]:
        """Keys of choices, in the order typed."""
        value = self.values[key]
        if isinstance(value, tuple):
            return value  # type: ignore[return-value]
        raise TypeError(key)

    def day(self, key: str) -> dt.date:
        """A date."""
        value = self.values[key]
        if isinstance(value, dt.date):
            return value
        raise TypeError(key)

    def days(self, key: str) -> tuple[dt.date, ...]:
        """Dates; none if left out."""
        value = self.values.get(key, ())
        if isinstance(value, tuple):
            return value  # type: ignore[return-value]
        raise TypeError(key)

    def circuits(self, key: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """Names with their features."""
        value = self.values[key]
        if isinstance(value, tuple):
            return value  # type: ignore[return-value]
        raise TypeError(key)

    def imperial(self, kind: Kind) -> bool:
        """Whether the amounts of this kind were typed in inches, pounds and their like."""
        units = [each.unit for each in self._all_readings() if each.kind is kind]
        return 2 * sum(unit in IMPERIAL for unit in units) > len(units)

    def unit(self, kind: Kind, metric: str) -> str:
        """The unit to answer in: ``metric``, or its partner where the technician works with that."""
        return other_unit(kind, metric) if self.imperial(kind) else metric

    def _all_readings(self) -> list[Reading]:
        found: list[Reading] = []
        for value in self.values.values():
            if isinstance(value, Reading):
                found.append(value)
            elif isinstance(value, tuple):
                parts = [part[1] if isinstance(part, tuple) else part for part in value]
                found += [part for part in parts if isinstance(part, Reading)]
        return found


@dataclass(frozen=True, slots=True)
class Result:
    """One result: an amount in the base unit of ``kind`` shown in ``unit``, or a count, date or words.

    ``toward`` is "down" for what may not be exceeded, "up" for what may not be fallen short of.
    """

    key: str
    label: Message
    value: float | int | dt.date | Message
    kind: Kind | None = None
    unit: str = ""
    doubt: float | None = None
    toward: str = "nearest"
    step: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """What a sum gives: results, a verdict if there is one to give, a sentence, and the working."""

    says: Message
    results: tuple[Result, ...] = ()
    verdict: Verdict | None = None
    working: tuple[Message, ...] = ()
    rows: tuple[tuple[Message, ...], ...] = ()


Work = Callable[[Given], Answer]


@dataclass(frozen=True, slots=True)
class Sum:
    """One sum of the trade; ``example`` is of the invented practice machine, worked by hand."""

    key: str
    title: Message
    about: Message
    inputs: tuple[Input, ...]
    work: Work
    example: Mapping[str, str]
    range: Message
    source: Message

    def input(self, key: str) -> Input | None:
        """The input of that key."""
        return next((each for each in self.inputs if each.key == key), None)


RULE_OF_THUMB = msg("Rule of thumb, no published source.")
