"""Where on the machine an entry belongs."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.text import Message, msg


@dataclass(frozen=True, slots=True)
class Place:
    """One place with its short code, its words, and the drawn part that stands for it.

    ``rotor`` is ``"left"``, ``"right"`` or empty for places that belong to neither. Left and right
    are always as seen from the tractor seat.
    """

    key: str
    name: Message
    part: str = "machine"
    rotor: str = ""


WHOLE = Place("", msg("whole machine"))
