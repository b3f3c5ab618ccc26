"""Gear oil and grease by their class marks: SAE J306 in two editions, NLGI, ASTM D4950."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Annotated

from rakeprep.calculations import Impossible, positive
from rakeprep.text import Message, msg

Viscosity = Annotated[float, "m²/s"]
Kelvin = Annotated[float, "K"]
Metres = Annotated[float, "m"]

ZERO_C = 273.15
MM2_S = 1e-6
TENTH_MM = 1e-4


class Edition(Enum):
    """Edition of SAE J306; they differ in the least viscosity of some grades."""

    SAE_J306_2005 = "SAE J306:2005"
    SAE_J306_2019 = "SAE J306:2019"


@dataclass(frozen=True, slots=True)
class GearOil:
    """What a grade promises: coldest temperature at which it still flows (150 000 mPa·s), and the
    viscosity at 100 °C, at least ``least`` and below ``below``; None where the grade says nothing.
    """

    grade: str
    edition: Edition
    coldest: Kelvin | None
    least: Viscosity | None
    below: Viscosity | None


# grade: low temperature °C, mm²/s at least (2019), at least (2005), below
_WINTER = {
    "70W": (-55, 3.8, 4.1),
    "75W": (-40, 3.8, 4.1),
    "80W": (-26, 8.5, 7.0),
    "85W": (-12, 11.0, 11.0),
}
_SUMMER = {
    "80": (8.5, 7.0, 11.0),
    "85": (11.0, 11.0, 13.5),
    "90": (13.5, 13.5, 18.5),
    "110": (18.5, 18.5, 24.0),
    "140": (24.0, 24.0, 32.5),
    "190": (32.5, 32.5, 41.0),
}


def gear_oil(grade: str, edition: Edition = Edition.SAE_J306_2019) -> GearOil:
    """What a viscosity grade of gear oil promises, single ("90", "80W") or multigrade ("80W-90").

    Of a multigrade oil the winter grade gives the cold limit and the summer grade the viscosity.

    Args:
        grade: as printed on the can, with or without SAE in front.
        edition: of the standard.

    Returns:
        the :class:`GearOil` [K, m²/s].

    Raises:
        Impossible: no such grade.

    Example:
        >>> oil = gear_oil("SAE 80W-90")
        >>> round(oil.coldest - 273.15), oil.least, oil.below
        (-26, 1.35e-05, 1.85e-05)

    Source: SAE J306, editions 2005 and 2019 as reprinted by lubricant data sheets.
    """
    name = grade.upper().replace("SAE", "").replace(" ", "")
    winter, _, summer = name.partition("-") if "W" in name else ("", "", name)
    known = (not winter or winter in _WINTER) and (not summer or summer in _SUMMER)
    if not known or not name or name.endswith("-"):
        raise _no_grade(grade)
    place = 0 if edition is Edition.SAE_J306_2019 else 1
    cold = _WINTER[winter][0] + ZERO_C if winter else None
    if not summer:
        return GearOil(name, edition, cold, _mm2(_WINTER[winter][1 + place]), None)
    return GearOil(name, edition, cold, _mm2(_SUMMER[summer][place]), _mm2(_SUMMER[summer][2]))


def _mm2(value: float) -> float:
    return round(value * MM2_S, 9)


def _no_grade(grade: str) -> Impossible:
    return Impossible(msg("“{grade}” is no viscosity grade of gear oil.", grade=grade[:40]))


def editions_differ(grade: str) -> bool:
    """Whether the two editions promise something different for a grade.

    Args:
        grade: as :func:`gear_oil`.

    Returns:
        True if the editions must be named.

    Raises:
        Impossible: no such grade.

    Example:
        >>> editions_differ("80W"), editions_differ("80W-90")
        (True, False)

    Source: SAE J306, editions 2005 and 2019.
    """
    return gear_oil(grade, Edition.SAE_J306_2019).least != gear_oil(grade, Edition.SAE_J306_2005).least


def summer_grade(viscosity: Viscosity, edition: Edition = Edition.SAE_J306_2019) -> str | None:
    """Grade that an oil's viscosity at 100 °C belongs to.

    Args:
        viscosity: kinematic, at 100 °C [m²/s].
        edition: of the standard.

    Returns:
        the grade, or None where it is thinner or thicker than all.

    Raises:
        Impossible: a viscosity not above zero.

    Example:
        >>> summer_grade(14e-6)
        '90'

    Source: SAE J306.
    """
    positive(viscosity, msg("viscosity"))
    place = 0 if edition is Edition.SAE_J306_2019 else 1
    for grade, limits in _SUMMER.items():
        if _mm2(limits[place]) <= viscosity < _mm2(limits[2]):
            return grade
    return None


# worked penetration at 25 °C in tenths of a millimetre
NLGI = {
    "000": (445, 475),
    "00": (400, 430),
    "0": (355, 385),
    "1": (310, 340),
    "2": (265, 295),
    "3": (220, 250),
    "4": (175, 205),
}


def grease_penetration(consistency: str) -> tuple[Metres, Metres]:
    """How deep the standard cone sinks into a worked grease of a consistency number, 25 °C.

    Args:
        consistency: NLGI number, "000" to "4".

    Returns:
        least and largest penetration [m].

    Raises:
        Impossible: no such number.

    Example:
        >>> grease_penetration("2")
        (0.0265, 0.0295)

    Source: NLGI consistency numbers (ASTM D217 penetration).
    """
    found = NLGI.get(consistency.strip())
    if found is None:
        raise Impossible(
            msg(
                "“{number}” is no consistency number of grease; they run from 000 to 4.",
                number=consistency[:40],
            )
        )
    return round(found[0] * TENTH_MM, 6), round(found[1] * TENTH_MM, 6)


def grease_number(penetration: Metres) -> str | None:
    """NLGI number of a grease by its worked penetration; between two numbers there is none.

    Args:
        penetration: at 25 °C [m].

    Returns:
        the number, or None.

    Raises:
        Impossible: a penetration not above zero.

    Example:
        >>> grease_number(0.0280), grease_number(0.0300)
        ('2', None)

    Source: NLGI consistency numbers.
    """
    positive(penetration, msg("penetration"))
    for number, (least, most) in NLGI.items():
        if least * TENTH_MM - 1e-9 <= penetration <= most * TENTH_MM + 1e-9:
            return number
    return None


GREASE_CLASSES = {
    "LA": msg("Chassis and universal joints, mild duty."),
    "LB": msg("Chassis and universal joints, severe duty."),
    "GA": msg("Wheel bearings, mild duty."),
    "GB": msg("Wheel bearings, moderate duty."),
    "GC": msg("Wheel bearings, severe duty."),
    "GC-LB": msg("Wheel bearings, chassis and universal joints, severe duty."),
}


def grease_class(mark: str) -> Message:
    """What a service class of automotive grease is made for.

    Args:
        mark: "LA", "LB", "GA", "GB", "GC" or "GC-LB".

    Returns:
        the sentence.

    Raises:
        Impossible: no such class.

    Example:
        >>> str(grease_class("gc-lb"))
        'Wheel bearings, chassis and universal joints, severe duty.'

    Source: ASTM D4950 (GC-LB from memory).
    """
    found = GREASE_CLASSES.get(mark.strip().upper())
    if found is None:
        raise Impossible(msg("“{mark}” is no service class of grease.", mark=mark[:40]))
    return found
