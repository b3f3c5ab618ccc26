"""A job as its entries tell it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from rakeprep.model.chapter import Chapter, Closing
from rakeprep.model.entry import Entry, How, Later, Slot
from rakeprep.model.instrument import OwnInstrument


@dataclass(frozen=True, slots=True)
class Opening:
    """What is known when a job is opened. Profile and tractor are frozen copies of their files' text."""

    job: str
    opened: dt.datetime
    technician: str
    customer: str
    order: str
    profile_name: str
    profile_text: str
    tractor_name: str
    tractor_text: str
    screen_language: str = "en"
    paper_language: str = "en"
    sample: bool = False


NAMES = ("customer", "order", "technician")  # of the opening, which may be corrected while a chapter is open


@dataclass(frozen=True, slots=True)
class Correction:
    """A name of the opening that was written wrong: which of ``NAMES``, what it was, what it became."""

    of: str
    was: str
    became: str
    reason: str
    who: str
    at: dt.datetime
    seq: int = 0


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke of a pen: points (x, y, seconds since the first, pressure 0 to 1), x and y in mm."""

    points: tuple[tuple[float, float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Signature:
    """What one person declared at the end, drawn or, where somebody cannot sign, typed.

    ``role`` is ``technician``, ``checker`` or ``customer``. ``head`` is the chain's head that was
    shown when it was given: any later entry makes the signature lapse.
    """

    role: str
    name: str
    at: dt.datetime
    head: str
    strokes: tuple[Stroke, ...] = ()
    typed: bool = False
    seq: int = 0


@dataclass(frozen=True, slots=True)
class Record:
    """All entries of a job: the latest at each address, and every earlier one.

    ``later`` holds what was left as an open point; a new value at the address takes it away again.
    ``changes`` notes when something other than an entry changed, such as the tractor.
    ``instruments`` are those registered for the job, by ``instrument_key`` of their names.
    ``chapters`` are those before the present one, in their order.
    ``corrections`` are the names that were written wrong at the opening, in their order.
    ``signatures`` are those that still stand, by role. ``sealed`` is set once the present chapter is closed.
    """

    opening: Opening
    entries: Mapping[Slot, Entry] = field(default_factory=dict)
    history: Mapping[Slot, tuple[Entry, ...]] = field(default_factory=dict)
    later: Mapping[Slot, Later] = field(default_factory=dict)
    changes: Mapping[str, tuple[int, dt.datetime]] = field(default_factory=dict)
    cautions_read: Mapping[str, str] = field(default_factory=dict)
    instruments: Mapping[str, OwnInstrument] = field(default_factory=dict)
    corrections: tuple[Correction, ...] = ()
    signatures: Mapping[str, Signature] = field(default_factory=dict)
    chapter: Chapter = field(default_factory=Chapter)
    chapters: tuple[Chapter, ...] = ()
    sealed: Closing | None = None
    count: int = 0
    head: str = ""

    def made_in(self, entry: Entry) -> Chapter:
        """The chapter in which an entry was made."""
        begun = (each for each in reversed((*self.chapters, self.chapter)) if each.seq < entry.seq)
        return next(begun, self.chapter)

    def value(self, slot: Slot) -> Entry | None:
        """The entry at ``slot`` if it holds a value (not "not on this machine")."""
        entry = self.entries.get(slot)
        return entry if entry is not None and entry.how is How.VALUE else None
