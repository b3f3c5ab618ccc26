"""How far each kind of instrument is to be trusted in a workshop, if nothing better is known.

The half-widths are those of the whole reading (instrument and hand) at about 95 %. Only the errors of
class II tapes, of hand torque tools and of pressure gauges come from a standard or law; the rest is
common practice and may be replaced by a calibration.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import Impossible, demand, finite, not_negative
from rakeprep.text import Message, msg

RPM = 2 * math.pi / 60  # rad/s
BAR = 1e5  # Pa


@dataclass(frozen=True, slots=True)
class Instrument:
    """A kind of instrument; ``half_width`` and ``steady`` are shares of the reading if ``relative``.

    ``steady`` is the part of the half-width that stays however often the reading is repeated.
    """

    kind: str
    name: Message
    unit: str
    half_width: float
    steady: float
    relative: bool = False


_ALL = (
    Instrument("tape", msg("tape, short length between hard edges"), "m", 0.002, 0.0015),
    Instrument("driveline-tape", msg("tape, groove to groove, two people"), "m", 0.005, 0.0007),
    Instrument("width-tape", msg("tape over the working width"), "m", 0.020, 0.0019),
    Instrument("steel-rule", msg("steel rule or step block at the tine tip"), "m", 0.003, 0.0005),
    Instrument("hitch-tape", msg("tape from hitch pin to floor"), "m", 0.004, 0.0007),
    Instrument("water-level", msg("water level or line laser over the floor"), "m", 0.002, 0.001),
    Instrument("digital-level", msg("digital level"), "rad", math.radians(0.3), math.radians(0.2)),
    Instrument("click-wrench", msg("click torque wrench"), "N·m", 0.05, 0.04, relative=True),
    Instrument("tyre-gauge", msg("tyre pressure gauge"), "Pa", 0.1 * BAR, 0.07 * BAR),
    Instrument("hydraulic-gauge", msg("hydraulic gauge, class 1.6, 250 bar"), "Pa", 5 * BAR, 4 * BAR),
    Instrument("stopwatch", msg("stopwatch"), "s", 0.25, 0.0),
    Instrument("tacho", msg("shaft speed meter or cab display"), "rad/s", 10 * RPM, 9 * RPM),
    Instrument("counted-turns", msg("turns counted by eye"), "1", 0.5, 0.0),
    Instrument("infrared", msg("infra-red thermometer on paint"), "K", 3.0, 2.0),
    Instrument("weighbridge", msg("weighbridge"), "kg", 20.0, 20.0),
    Instrument("multimeter", msg("multimeter"), "V", 0.1, 0.06),
    Instrument("calliper", msg("calliper"), "m", 0.0001, 0.00003),
    Instrument("jug", msg("marked jug"), "m³", 50e-6, 30e-6),
    Instrument("by eye", msg("judged by eye"), "any", 0.25, 0.25, relative=True),
)
INSTRUMENTS = {each.kind: each for each in _ALL}


def instrument(kind: str) -> Instrument:
    """The instrument called ``kind`` in the table.

    Args:
        kind: key of :data:`INSTRUMENTS`.

    Returns:
        its name, unit and half-widths.

    Raises:
        Impossible: there is none of that name.

    Example:
        >>> instrument("tape").unit
        'm'

    Source: common practice for this job.
    """
    try:
        return INSTRUMENTS[kind]
    except KeyError:
        raise Impossible(msg("There is no kind of instrument called “{kind}”.", kind=kind)) from None


def half_width(kind: str, value: Annotated[float, "any"], repeats: int = 1) -> Annotated[float, "any"]:
    """Default doubt of a reading by the kind of instrument.

    Valid for the mean of ``repeats`` independent readings; each must really be set up anew. Repeating
    makes the hand's scatter smaller, not the instrument's own error:

        U = sqrt( steady^2 + (half_width^2 - steady^2) / repeats )

    and, for an instrument whose error is a share of the reading, that share times ``|value|``.

    Args:
        kind: key of :data:`INSTRUMENTS`.
        value: the reading, in the unit of that instrument (SI) [any].
        repeats: how many readings were averaged, at least 1.

    Returns:
        95 % half-width in the same unit [any].

    Raises:
        Impossible: unknown instrument, fewer than one reading, a value that is no number.

    Example:
        >>> half_width("click-wrench", 250.0)
        12.5
        >>> round(half_width("stopwatch", 2.83, repeats=3), 2)
        0.14

    Source: common practice for this job; ISO 6789 (click wrench, 4 % of it), 2014/32/EU Annex X (tape).
    """
    finite(value, msg("reading"))
    demand(repeats >= 1, msg("At least one reading is needed."))
    found = instrument(kind)
    scale = abs(value) if found.relative else 1.0
    if repeats == 1:
        return found.half_width * scale
    steady = found.steady**2
    return math.sqrt(steady + (found.half_width**2 - steady) / repeats) * scale


def tape_error(length: Annotated[float, "m"], from_hook: bool = True) -> Annotated[float, "m"]:
    """Largest permitted error of a class II tape alone, without the hand that holds it.

        e = ( 0.3 + 0.2 * L ) mm, L rounded up to whole metres; 0.2 mm more from a hook at the end

    Args:
        length: measured length, not below zero [m].
        from_hook: measured from the end hook, not from a mark on the tape.

    Returns:
        permitted error either way [m].

    Raises:
        Impossible: a length below zero or no number.

    Example:
        >>> round(tape_error(4.2, from_hook=False) * 1000, 3)
        1.3

    Source: Directive 2014/32/EU, Annex X, chapter I, table 1 and point 4.
    """
    not_negative(length, msg("length"))
    metres = math.ceil(round(length, 9))
    return (0.3 + 0.2 * metres + (0.2 if from_hook else 0.0)) / 1000
