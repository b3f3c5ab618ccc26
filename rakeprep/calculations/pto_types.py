"""PTO stubs by type: size, splines and rated speed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import Impossible, demand, positive
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Turns = Annotated[float, "1/s"]


@dataclass(frozen=True, slots=True)
class PtoType:
    """One type of stub; seen from behind the tractor it turns clockwise."""

    number: int
    diameter: Metres
    splines: int
    involute: bool
    speed: Turns


PTO_TYPES = (
    PtoType(1, 0.0350, 6, False, 540 / 60),
    PtoType(2, 0.0350, 21, True, 1000 / 60),
    PtoType(3, 0.0450, 20, True, 1000 / 60),
    PtoType(4, 0.0575, 22, True, 1300 / 60),
)


def pto_type(number: int) -> PtoType:
    """A PTO stub by the number of its type.

    Args:
        number: 1 to 4.

    Returns:
        the :class:`PtoType` [m, 1/s].

    Raises:
        Impossible: no such type.

    Example:
        >>> pto_type(1).splines, round(pto_type(1).speed * 60)
        (6, 540)

    Source: ISO 500-1:2014 and ISO 500-3:2014 as reprinted.
    """
    demand(1 <= number <= len(PTO_TYPES), msg("There is no such PTO type; they run from 1 to 4."))
    return PTO_TYPES[number - 1]


def pto_by_splines(splines: int, diameter: Metres | None = None, doubt: Metres = 0.002) -> PtoType:
    """Which type a stub is, from its splines, and its diameter where that was measured too.

    Args:
        splines: counted.
        diameter: over the splines [m]; None where it was not measured.
        doubt: 95 % half-width of the diameter, and what nominal and real size may differ [m].

    Returns:
        the :class:`PtoType`.

    Raises:
        Impossible: no type has that many splines, or its diameter is another.

    Example:
        >>> pto_by_splines(21).number, pto_by_splines(20, 0.0445).number
        (2, 3)

    Source: ISO 500-1:2014 and ISO 500-3:2014 as reprinted.
    """
    found = next((each for each in PTO_TYPES if each.splines == splines), None)
    if found is None:
        raise Impossible(msg("No PTO stub has {count} splines; count again: 6, 20, 21 or 22.", count=splines))
    if diameter is not None:
        positive(diameter, msg("diameter of the stub"))
        demand(
            abs(diameter - found.diameter) <= doubt,
            msg("Splines and diameter of the stub do not belong together; measure both again."),
        )
    return found


def same_stub(machine: PtoType, tractor: PtoType) -> Message | None:
    """A sentence if a machine's shaft does not belong on a tractor's stub.

    Args:
        machine: type that the machine's shaft is made for.
        tractor: type of the tractor's stub.

    Returns:
        the sentence, or None.

    Raises:
        Impossible: nothing.

    Example:
        >>> same_stub(pto_type(1), pto_type(1)) is None
        True

    Source: HSE, safe use of power take-offs: no adaptor may let a 1000 rpm stub drive a 540 rpm machine.
    """
    if machine == tractor:
        return None
    if tractor.speed > machine.speed:
        return msg("The tractor's stub turns faster than this machine may: no adaptor, change the stub.")
    return msg("The shaft does not fit this stub: change the stub or the shaft's yoke.")
