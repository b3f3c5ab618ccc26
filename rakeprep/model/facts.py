"""What a check sees: machine, tractor and entries, with short ways to ask for them."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from rakeprep.model.entry import Entry, Slot
from rakeprep.model.job import Record
from rakeprep.model.profile import Profile
from rakeprep.model.source import Sourced
from rakeprep.model.tractor import Tractor

CHOICE_OF_PRINTED_VALUE = Slot("arrival", "printed_value")


@dataclass(frozen=True, slots=True)
class Facts:
    """The view of one step; addresses without a dot are fields of that step."""

    profile: Profile
    tractor: Tractor
    record: Record
    step: str
    today: dt.date

    def slot(self, field: str, place: str = "") -> Slot:
        """The address of a field of this step, or of another one as ``"step.field"``."""
        step, dot, name = field.partition(".")
        return Slot(step, name, place) if dot else Slot(self.step, field, place)

    def entry(self, field: str, place: str = "") -> Entry | None:
        """The value entered, or None when there is none (yet, for later, not on this machine)."""
        return self.record.value(self.slot(field, place))

    def number(self, field: str, place: str = "") -> float | None:
        """A quantity or count in its base unit."""
        entry = self.entry(field, place)
        return None if entry is None else entry.number

    def text(self, field: str, place: str = "") -> str:
        """What was typed, or an empty string."""
        entry = self.entry(field, place)
        return "" if entry is None else entry.typed

    def chosen(self, field: str, place: str = "") -> frozenset[str] | None:
        """The options chosen, or None when nothing was answered."""
        entry = self.entry(field, place)
        return None if entry is None else entry.chosen

    def value(self, sourced: Sourced | None) -> float | None:
        """A value of machine data in its base unit; None while its two printed values are in conflict."""
        if sourced is None:
            return None
        if not sourced.conflict:
            return sourced.value
        pick = self.record.value(
            Slot(CHOICE_OF_PRINTED_VALUE.step, CHOICE_OF_PRINTED_VALUE.field, sourced.path)
        )
        if pick is None or sourced.also is None:
            return None
        return float(sourced.also.si) if "second" in pick.chosen else sourced.value
