"""What a step asks for."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum

from rakeprep.model.place import WHOLE, Place
from rakeprep.text import Message, msg
from rakeprep.units import Kind


class Ask(Enum):
    """How a question is answered."""

    QUANTITY = "quantity"  # a reading with a unit
    COUNT = "count"  # a whole number
    CHOICE = "choice"  # exactly one of the options
    MANY = "many"  # any of the options, or none of them
    TEXT = "text"  # words, a serial number, a name
    DATE = "date"
    DONE = "done"  # a thing done and seen, by the person who says so
    PHOTO = "photo"  # a picture kept with the job


class Need(Enum):
    """What an empty answer means for the handover."""

    MUST = "must"  # the machine does not leave without it
    OPEN = "open"  # it may leave with this as an open point, reason given
    MAY = "may"  # welcome, never missing


class Use(StrEnum):
    """What a customer may do with the machine; an open point can take one of these away."""

    FIELD = "field"
    ROAD = "road"
    PTO = "pto"


USE_WORDS = {
    Use.FIELD: msg("work in the field"),
    Use.ROAD: msg("drive on the road"),
    Use.PTO: msg("run the PTO"),
}


@dataclass(frozen=True, slots=True)
class Option:
    """One answer that can be chosen: the word that is stored, and the words that are shown."""

    key: str
    label: Message


YES_NO = (Option("yes", msg("yes")), Option("no", msg("no")))


@dataclass(frozen=True, slots=True)
class Field:
    """One question, asked at one or many places.

    ``bars`` says what the machine may not be used for while this is open. ``rests_on`` names the
    entries whose change makes an answer out of date: ``"step.field"``, ``"step"`` or ``"tractor"``.
    Two places on different rotors never rest on one another.
    ``instrument`` is a key of ``calculations.instruments``: it gives the doubt of a reading.
    ``two_people`` asks a second name to confirm, because the thing cannot be undone.
    """

    key: str
    label: Message
    ask: Ask
    help: Message
    places: tuple[Place, ...] = (WHOLE,)
    kind: Kind | None = None
    unit: str = ""
    options: tuple[Option, ...] = ()
    need: Need = Need.OPEN
    bars: frozenset[Use] = frozenset()
    instrument: str = ""
    two_people: bool = False
    rests_on: tuple[str, ...] = ()

    def place(self, key: str) -> Place | None:
        """The place with this code, if the question is asked there."""
        return next((p for p in self.places if p.key == key), None)

    def option(self, key: str) -> Option | None:
        """The option stored under this word."""
        return next((o for o in self.options if o.key == key), None)
