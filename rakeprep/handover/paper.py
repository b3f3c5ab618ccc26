"""What the paper is made from, and how its texts are said."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from rakeprep.handover.clean import one_line
from rakeprep.jobs.assess import Assessment, State
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.job import Record
from rakeprep.model.profile import Profile
from rakeprep.model.source import Sourced
from rakeprep.model.tractor import Tractor
from rakeprep.text import Language, Message
from rakeprep.units import Amount, Kind, other_unit

NOTHING = "—"
Usual = tuple[str, dt.date]


@dataclass(frozen=True)
class Paper:
    """A job at one moment, for one reader; ``photos`` holds the bytes of each picture by its SHA-256."""

    record: Record
    assessment: Assessment
    profile: Profile
    tractor: Tractor
    language: Language
    code: str
    printed_at: dt.datetime
    workshop: str = ""
    photos: Mapping[str, bytes] = field(default_factory=dict, repr=False)

    @property
    def invented(self) -> bool:
        """Whether machine or job are no real ones."""
        return self.record.opening.sample or self.profile.machine.invented

    @cached_property
    def usual(self) -> Usual | None:
        """Who made most of all entries, and on which day."""
        return self.usually(self.assessment.states.values())

    def usually(self, states: Iterable[State]) -> Usual | None:
        """Who made most of these entries, and on which day."""
        found = [self.record.entries.get(s.task.slot) for s in states]
        counted = Counter((e.who, e.at.date()) for e in found if e is not None)
        return counted.most_common(1)[0][0] if counted else None

    def say(self, message: Message | None) -> str:
        """A message in the paper's language, clean, on one line."""
        return "" if message is None else one_line(self.language.say(message))

    def user(self, text: str) -> str:
        """What a person or a data file wrote, or a dash."""
        return one_line(text) or NOTHING

    def day(self, moment: dt.date) -> str:
        """A day, with its month in words."""
        return one_line(self.language.date(moment))

    def moment(self, at: dt.datetime) -> str:
        """Day and time."""
        return one_line(self.language.show(at))

    def entry(self, step: str, name: str, place: str = "") -> Entry | None:
        """The value entered at an address."""
        return self.record.value(Slot(step, name, place))

    def facts(self, step: str) -> Facts:
        """What the checks of a step see."""
        return Facts(self.profile, self.tractor, self.record, step, self.printed_at.date())

    def states(self, step: str, name: str = "") -> tuple[State, ...]:
        """The questions of a step, or one question at all its places."""
        return tuple(s for s in self.assessment.of_step(step) if not name or s.task.field.key == name)

    def shown(self, amount: Amount) -> str:
        """An amount in the paper's language; a dash for one that no paper can hold."""
        try:
            return one_line(amount.shown(self.language))
        except (ValueError, OverflowError, KeyError):
            return NOTHING

    def both(
        self,
        value: Fraction | float,
        kind: Kind,
        unit: str,
        toward: str = "nearest",
        step: Fraction | None = None,
    ) -> tuple[str, str]:
        """An amount in its own unit and in the other family's, each rounded once; the second may be empty."""
        first = self.shown(Amount(value, kind, unit, step=step, toward=toward))
        other = other_unit(kind, unit)
        return first, "" if other == unit else self.shown(Amount(value, kind, other, toward=toward))

    def both_of(self, sourced: Sourced, toward: str = "nearest") -> tuple[str, str]:
        """A value of machine data in both unit families."""
        return self.both(sourced.exact, sourced.typed.kind, sourced.typed.unit, toward)
