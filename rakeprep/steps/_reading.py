"""What every step's check needs: readings with their doubt, amounts in sentences, plain answers."""

from __future__ import annotations

import math

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.instruments import half_width, instrument
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Side
from rakeprep.model.source import Source, Sourced, SourceKind
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg
from rakeprep.units import Amount

SIDES = (Side.LEFT, Side.RIGHT)
ROTOR_NAMES = {Side.LEFT: msg("left rotor"), Side.RIGHT: msg("right rotor")}
ROTORS = tuple(Place(side.value, ROTOR_NAMES[side], f"rotor-{side}", side.value) for side in SIDES)
LARGEST = 1e12  # beyond this no reading of a machine means anything, in any base unit

_TO_BASE = {"rad": math.degrees(1.0), "rad/s": 1 / (2 * math.pi)}


def rule_of_thumb(title: Message) -> Source:
    """The source of a workshop rule that no book or standard gives."""
    return Source(SourceKind.RULE, title)


def standard(title: str | Message, where: str | Message = "") -> Source:
    """A published standard as source; its number is no word of any language."""
    return Source(SourceKind.STANDARD, title, where=where)


def doubt_of(kind: str, value: float, repeats: int = 1) -> float:
    """Half-width of a reading by its kind of instrument, in the base unit of ``units``."""
    factor = _TO_BASE.get(instrument(kind).unit, 1.0)
    return half_width(kind, value / factor, repeats) * factor


def reading(facts: Facts, field: str, place: str, kind: str) -> Estimate | None:
    """A reading with its doubt in its base unit; None when there is none that could be meant.

    The doubt is that of the instrument, but never less than half a division of what was typed.
    """
    entry = facts.entry(field, place)
    if entry is None or entry.number is None or abs(entry.number) > LARGEST:
        return None
    half_division = float(entry.division or 0) / 2
    return Estimate(entry.number, max(doubt_of(kind, entry.number), half_division))


def shown(sourced: Sourced, both: bool = False) -> Amount:
    """A value of machine data for a sentence, in the unit of the data file."""
    typed = sourced.typed
    return Amount(typed.si, typed.kind, typed.unit, step=typed.division, both=both)


def cannot_tell(about: tuple[Slot, ...], reason: Impossible) -> Finding:
    """The finding when a sum refuses its readings."""
    return Finding(Verdict.MEASURE_AGAIN, about, reason.message, msg("Look at these readings again."))


def rotor_place(side: Side, key: str, name: Message, part: str = "") -> Place:
    """A place on one rotor; its words start with the rotor."""
    words = msg("{rotor}, {place}", rotor=ROTOR_NAMES[side], place=name)
    return Place(key, words, part or f"rotor-{side}", side.value)
