"""Metric bolts: geometry, strength and shear.

Thread names ("M12", "M16x1.5") and property classes ("8.8") are names, not lengths or numbers.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Annotated, Literal

from rakeprep.calculations import Impossible, demand, positive
from rakeprep.text import msg

Plane = Literal["thread", "shank"]


@dataclass(frozen=True, slots=True)
class Thread:
    """ISO metric thread with a hexagon head (ISO 4014) in a medium hole (ISO 273)."""

    name: str
    diameter: Annotated[float, "m"]
    pitch: Annotated[float, "m"]
    bearing: Annotated[float, "m"]
    hole: Annotated[float, "m"]

    @property
    def pitch_diameter(self) -> Annotated[float, "m"]:
        """d2 = d - 0.649519 P [m] (ISO 724)."""
        return self.diameter - 0.649519 * self.pitch

    @property
    def root_diameter(self) -> Annotated[float, "m"]:
        """d3 = d - 1.226869 P [m] (ISO 898-1)."""
        return self.diameter - 1.226869 * self.pitch

    @property
    def stress_diameter(self) -> Annotated[float, "m"]:
        """d0 = (d2 + d3) / 2 [m] (ISO 898-1)."""
        return (self.pitch_diameter + self.root_diameter) / 2

    @property
    def stress_area(self) -> Annotated[float, "m²"]:
        """As = pi/4 d0² [m²] (ISO 898-1, 9.1.6.1)."""
        return math.pi / 4 * self.stress_diameter**2

    @property
    def shank_area(self) -> Annotated[float, "m²"]:
        """A = pi/4 d² [m²]."""
        return math.pi / 4 * self.diameter**2


@dataclass(frozen=True, slots=True)
class Strength:
    """Minimum strengths of a property class at one diameter (ISO 898-1:2013, table 3)."""

    tensile: Annotated[float, "Pa"]
    yielding: Annotated[float, "Pa"]
    proof: Annotated[float, "Pa"]


# nominal mm: coarse pitch, least bearing diameter of the head, medium clearance hole (mm)
_SIZES = {
    6: (1.0, 8.88, 6.6),
    8: (1.25, 11.63, 9.0),
    10: (1.5, 14.63, 11.0),
    12: (1.75, 16.63, 13.5),
    14: (2.0, 19.64, 15.5),
    16: (2.0, 22.49, 17.5),
    18: (2.5, 25.34, 20.0),
    20: (2.5, 28.19, 22.0),
    22: (2.5, 31.71, 24.0),
    24: (3.0, 33.61, 26.0),
    27: (3.0, 38.00, 30.0),
}
# MPa: tensile, yield, proof
_CLASSES = {
    "4.6": (400, 240, 225),
    "4.8": (420, 340, 310),
    "5.6": (500, 300, 280),
    "5.8": (520, 420, 380),
    "6.8": (600, 480, 440),
    "8.8": (800, 640, 580),
    "9.8": (900, 720, 650),
    "10.9": (1040, 940, 830),
    "12.9": (1220, 1100, 970),
}
_THICK_8_8 = (830, 660, 600)  # above 16 mm
_DUCTILE = frozenset({"4.6", "5.6", "8.8"})
_NAME = re.compile(r"M(\d{1,2})(?:\s?[x×]\s?(\d(?:[.,]\d{1,2})?))?", re.IGNORECASE)


def thread(name: str) -> Thread:
    """The thread called ``name``, coarse pitch if none is given.

    Valid for M6 to M27.

    Args:
        name: such as "M12" or "M12x1.25".

    Returns:
        its geometry.

    Raises:
        Impossible: not a thread of the table, or a pitch coarser than the coarse one.

    Example:
        >>> round(thread("M12").stress_area * 1e6, 1)
        84.3

    Source: ISO 261 and ISO 724 (pitches), ISO 4014 and ISO 273 (head and hole, from memory).
    """
    found = _NAME.fullmatch(name.strip())
    size = int(found.group(1)) if found else 0
    if found is None or size not in _SIZES:
        raise Impossible(
            msg("“{name}” is no thread known here; write it like M12 or M12x1.25.", name=name[:40])
        )
    coarse, bearing, hole = _SIZES[size]
    pitch = float(found.group(2).replace(",", ".")) if found.group(2) else coarse
    demand(
        0.5 <= pitch <= coarse,
        msg("A pitch of {pitch} mm does not belong to M{size}.", pitch=pitch, size=size),
    )
    label = f"M{size}" if pitch == coarse else f"M{size}x{pitch:g}"
    return Thread(label, size / 1e3, pitch / 1e3, bearing / 1e3, hole / 1e3)


def strength(property_class: str, diameter: Annotated[float, "m"]) -> Strength:
    """Minimum strengths of a property class.

    Args:
        property_class: such as "8.8".
        diameter: nominal thread diameter; 8.8 is stronger above 16 mm, 9.8 ends there [m].

    Returns:
        tensile strength, yield (or 0.2 % proof) strength and proof stress [Pa].

    Raises:
        Impossible: an unknown class, 9.8 above 16 mm, a diameter not above zero.

    Example:
        >>> strength("8.8", 0.020).proof
        600000000.0

    Source: ISO 898-1:2013, table 3.
    """
    positive(diameter, msg("thread diameter"))
    known = property_class in _CLASSES
    demand(known, msg("“{name}” is no property class; read it from the bolt head.", name=property_class[:40]))
    thick = diameter > 0.016
    demand(not (thick and property_class == "9.8"), msg("Property class 9.8 ends at M16."))
    row = _THICK_8_8 if thick and property_class == "8.8" else _CLASSES[property_class]
    return Strength(*(value * 1e6 for value in row))


def proof_load(bolt: Thread, property_class: str) -> Annotated[float, "N"]:
    """Load a bolt must carry without lasting stretch: ``F = Sp * As``.

    Args:
        bolt: its thread.
        property_class: such as "8.8".

    Returns:
        proof load [N].

    Raises:
        Impossible: as :func:`strength`.

    Example:
        >>> round(proof_load(thread("M12"), "8.8"), -2)
        48900.0

    Source: ISO 898-1:2013, tables 5 and 7.
    """
    return strength(property_class, bolt.diameter).proof * bolt.stress_area


def ultimate_load(bolt: Thread, property_class: str) -> Annotated[float, "N"]:
    """Least load at which a bolt may break when pulled: ``F = Rm * As``.

    Args:
        bolt: its thread.
        property_class: such as "8.8".

    Returns:
        minimum ultimate tensile load [N].

    Raises:
        Impossible: as :func:`strength`.

    Example:
        >>> round(ultimate_load(thread("M12"), "8.8"), -2)
        67400.0

    Source: ISO 898-1:2013, tables 4 and 6.
    """
    return strength(property_class, bolt.diameter).tensile * bolt.stress_area


def shear_load(bolt: Thread, property_class: str, plane: Plane, planes: int = 2) -> Annotated[float, "N"]:
    """Estimated load at which a bolt breaks across.

        F = planes * alpha * Rm * A ; alpha 0.6, but 0.5 in the thread of brittle classes

    The classes 9.8 and 12.9 are not in the source and are taken like 10.9. No safety is included.

    Args:
        bolt: its thread.
        property_class: such as "8.8".
        plane: whether thread or plain shank lies where the parts slide past one another.
        planes: how many cuts, 1 or 2.

    Returns:
        breaking load across [N].

    Raises:
        Impossible: as :func:`strength`; another number of planes.

    Example:
        >>> round(shear_load(thread("M12"), "8.8", "thread") / 1000, 1)
        80.9

    Source: EN 1993-1-8, table 3.4 (factors), ISO 898-1:2013, table 3 (minimum Rm).
    """
    demand(planes in (1, 2), msg("A bolt is sheared in one plane or in two."))
    area = bolt.stress_area if plane == "thread" else bolt.shank_area
    return planes * _alpha(property_class, plane) * strength(property_class, bolt.diameter).tensile * area


def design_shear(
    bolt: Thread, property_class: str, plane: Plane, partial_factor: Annotated[float, "1"] = 1.25
) -> Annotated[float, "N"]:
    """Shear resistance of one plane with the safety that steelwork asks for.

        F = alpha * f_ub * A / gamma ; f_ub = first number of the class * 100 MPa

    Args:
        bolt: its thread.
        property_class: such as "8.8".
        plane: thread or plain shank in the shear plane.
        partial_factor: gamma_M2, above zero [1].

    Returns:
        design resistance of one shear plane [N].

    Raises:
        Impossible: as :func:`strength`; a factor not above zero.

    Example:
        >>> round(design_shear(thread("M12"), "8.8", "thread") / 1000, 2)
        32.36

    Source: EN 1993-1-8, tables 3.1 and 3.4.
    """
    positive(partial_factor, msg("partial factor"))
    strength(property_class, bolt.diameter)
    nominal = float(property_class.split(".", maxsplit=1)[0]) * 100e6
    area = bolt.stress_area if plane == "thread" else bolt.shank_area
    return _alpha(property_class, plane) * nominal * area / partial_factor


def _alpha(property_class: str, plane: Plane) -> float:
    return 0.6 if plane == "shank" or property_class in _DUCTILE else 0.5
