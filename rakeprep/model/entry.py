"""Answers, and where they go."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from sys import intern
from typing import NamedTuple


class Slot(NamedTuple):
    """The address of an entry, written ``step.field`` or ``step.field@place``.

    A tuple, because tuples are found in a mapping several times faster than other classes.
    """

    step: str
    field: str
    place: str = ""

    def __str__(self) -> str:
        return f"{self.step}.{self.field}" + (f"@{self.place}" if self.place else "")

    @staticmethod
    def read(text: str) -> Slot:
        """The address written in ``text``; raises ``ValueError`` when it has no step or field."""
        path, _, place = text.partition("@")
        step, _, field = path.partition(".")
        if not step or not field:
            raise ValueError(text)
        return Slot(intern(step), intern(field), intern(place))  # a job has a thousand of them


class How(StrEnum):
    """In what way a question was answered."""

    VALUE = "value"
    ABSENT = "absent"  # not on this machine, with a reason


@dataclass(frozen=True, slots=True)
class Entry:
    """One answer as it was given.

    ``typed`` is kept for ever as typed. A quantity has ``unit``, ``exact`` (the exact value in the
    base unit of its kind) and ``division`` (the smallest division of the reading, base unit).
    ``seq`` is its number in the job's chain; ``confirmed_by`` the second name, where one was asked.
    """

    slot: Slot
    how: How
    typed: str
    who: str
    at: dt.datetime
    seq: int
    unit: str = ""
    exact: Fraction | None = None
    division: Fraction | None = None
    instrument: str = ""
    reason: str = ""
    confirmed_by: str = ""
    confirmed_at: dt.datetime | None = None

    @property
    def number(self) -> float | None:
        """The value in the base unit of its kind, for sums."""
        return None if self.exact is None else float(self.exact)

    @property
    def chosen(self) -> frozenset[str]:
        """The option words of a choice; ``none`` stands for an empty pick of many."""
        words = (w.strip() for w in self.typed.split(","))
        return frozenset(w for w in words if w and w != "none")


@dataclass(frozen=True, slots=True)
class Later:
    """A question, or a finding on it, that was left as an open point: why, and until when."""

    slot: Slot
    reason: str
    due: str
    who: str
    at: dt.datetime
    seq: int
