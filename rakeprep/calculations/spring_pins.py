"""Slotted spring pins, heavy duty: size, fit in the hole, strength, and comparison with a bolt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import Impossible, demand, positive
from rakeprep.calculations.bolts import Plane, Thread, shear_load
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import Message, msg


@dataclass(frozen=True, slots=True)
class SpringPin:
    """One row of the table: sizes before driving in, least breaking load in double shear."""

    nominal: Annotated[float, "m"]
    free_min: Annotated[float, "m"]
    free_max: Annotated[float, "m"]
    wall: Annotated[float, "m"]
    double_shear: Annotated[float, "N"]


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing seen about a fit."""

    verdict: Verdict
    text: Message


@dataclass(frozen=True, slots=True)
class Fit:
    """A pin against its hole: how much it is squeezed, and what that means."""

    squeeze: Estimate
    squeeze_min: Annotated[float, "m"]
    squeeze_max: Annotated[float, "m"]
    reasons: tuple[Reason, ...]

    @property
    def verdict(self) -> Verdict:
        """The worst of the reasons."""
        return worst([reason.verdict for reason in self.reasons])


@dataclass(frozen=True, slots=True)
class Comparison:
    """A spring pin against a bolt in the same joint, both in double shear."""

    pin: Annotated[float, "N"]
    bolt: Annotated[float, "N"]

    @property
    def ratio(self) -> Annotated[float, "1"]:
        """Strength of the bolt as a share of the pin's [1]."""
        return self.bolt / self.pin

    @property
    def bolt_is_weaker(self) -> bool:
        """Whether the bolt breaks first."""
        return self.bolt < self.pin


# nominal, free diameter least and largest, wall (mm), least double shear (kN).
# Reprints differ for 1 mm (least free diameter 1.02, a misprint), 6 mm (wall 1.25, which is what the
# load fits) and 14 mm (least free diameter 14.4, against d + 0.5 of all its neighbours).
_ROWS = (
    (1, 1.2, 1.3, 0.2, 0.70),
    (1.5, 1.7, 1.8, 0.3, 1.58),
    (2, 2.3, 2.4, 0.4, 2.82),
    (2.5, 2.8, 2.9, 0.5, 4.38),
    (3, 3.3, 3.5, 0.6, 6.32),
    (3.5, 3.8, 4.0, 0.75, 9.06),
    (4, 4.4, 4.6, 0.8, 11.24),
    (4.5, 4.9, 5.1, 1.0, 15.36),
    (5, 5.4, 5.6, 1.0, 17.54),
    (6, 6.4, 6.7, 1.2, 26.04),
    (8, 8.5, 8.8, 1.5, 42.76),
    (10, 10.5, 10.8, 2.0, 70.16),
    (12, 12.5, 12.8, 2.5, 104.1),
    (13, 13.5, 13.8, 2.5, 115.1),
    (14, 14.5, 14.8, 3.0, 144.7),
    (16, 16.5, 16.8, 3.0, 171.0),
    (18, 18.5, 18.9, 3.5, 222.5),
    (20, 20.5, 20.9, 4.0, 280.6),
    (21, 21.5, 21.9, 4.0, 298.2),
    (25, 25.5, 25.9, 5.0, 438.5),
    (28, 28.5, 28.9, 5.5, 542.6),
    (30, 30.5, 30.9, 6.0, 631.4),
    (32, 32.5, 32.9, 6.0, 684.0),
    (35, 35.5, 35.9, 7.0, 859.0),
    (38, 38.5, 38.9, 7.5, 1003.0),
    (40, 40.5, 40.9, 7.5, 1068.0),
    (45, 45.5, 45.9, 8.5, 1360.0),
    (50, 50.5, 50.9, 9.5, 1685.0),
)
PINS = tuple(SpringPin(d / 1e3, lo / 1e3, hi / 1e3, s / 1e3, f * 1e3) for d, lo, hi, s, f in _ROWS)
NESTS = frozenset({(3.5, 2.0), (5.0, 3.0), (6.0, 3.5), (8.0, 5.0), (10.0, 6.0), (12.0, 7.0)})  # mm
# up to and including mm: tolerance grade IT12 in micrometres
_IT12 = ((3, 100), (6, 120), (10, 150), (18, 180), (30, 210), (50, 250), (80, 300))


def lookup(nominal: Annotated[float, "m"]) -> SpringPin:
    """The row of the table for a nominal diameter.

    Args:
        nominal: as drawn, equal to the hole [m].

    Returns:
        the pin.

    Raises:
        Impossible: no pin of that size is made.

    Example:
        >>> lookup(0.012).double_shear
        104100.0

    Source: ISO 8752 (earlier DIN 1481), loads tested to ISO 8749.
    """
    for pin in PINS:
        if abs(pin.nominal - nominal) < 1e-6:
            return pin
    shown = format(float(nominal) * 1000, ".6g")
    raise Impossible(msg("There is no slotted spring pin of {mm} mm nominal diameter.", mm=shown))


def possible_sizes(free: Estimate) -> tuple[SpringPin, ...]:
    """Pins that a measured free diameter may belong to.

    Args:
        free: outer diameter of the loose pin with its doubt [m].

    Returns:
        the pins whose free diameter overlaps ``free``, smallest first; none if nothing fits.

    Raises:
        nothing.

    Example:
        >>> [pin.nominal for pin in possible_sizes(Estimate(0.01265, 0.0001))]
        [0.012]

    Source: ISO 8752.
    """
    return tuple(pin for pin in PINS if free.low <= pin.free_max and free.high >= pin.free_min)


def grade_12(size: Annotated[float, "m"]) -> Annotated[float, "m"]:
    """Width of tolerance grade IT12; a size on a boundary belongs to the range below it.

    Args:
        size: nominal size, above zero and up to 80 mm [m].

    Returns:
        tolerance [m].

    Raises:
        Impossible: a size outside the table.

    Example:
        >>> round(grade_12(0.012) * 1e6)
        180

    Source: ISO 286-1, table 1.
    """
    positive(size, msg("hole diameter"))
    for limit, microns in _IT12:
        if size <= limit / 1000 + 1e-9:
            return microns / 1e6
    raise Impossible(msg("Hole limits are known up to 80 mm only."))


def hole_limits(nominal: Annotated[float, "m"]) -> tuple[Annotated[float, "m"], Annotated[float, "m"]]:
    """Smallest and largest hole for a pin: its nominal diameter in tolerance class H12.

    Args:
        nominal: of the pin [m].

    Returns:
        the two limits [m].

    Raises:
        Impossible: as :func:`grade_12`.

    Example:
        >>> [round(limit * 1000, 2) for limit in hole_limits(0.012)]
        [12.0, 12.18]

    Source: ISO 8752 (H12), ISO 286-1.
    """
    return nominal, nominal + grade_12(nominal)


def squeeze_limits(nominal: Annotated[float, "m"]) -> tuple[Annotated[float, "m"], Annotated[float, "m"]]:
    """Least and greatest squeeze of a right pin in a right hole.

        least = free_min - hole_max ; greatest = free_max - hole_min

    Args:
        nominal: of the pin [m].

    Returns:
        the two squeezes [m].

    Raises:
        Impossible: as :func:`lookup`.

    Example:
        >>> [round(squeeze * 1000, 2) for squeeze in squeeze_limits(0.012)]
        [0.32, 0.8]

    Source: ISO 8752, ISO 286-1.
    """
    pin, (low, high) = lookup(nominal), hole_limits(nominal)
    return pin.free_min - high, pin.free_max - low


def fit(nominal: Annotated[float, "m"], free: Estimate, hole: Estimate) -> Fit:
    """Judge a measured pin against its measured hole.

    The squeeze decides whether the pin holds: it must reach, doubt included, what the loosest right
    pair has. Size and hole are put right only where they are wrong beyond doubt, because a calliper
    cannot prove them right.

    Args:
        nominal: pin size that belongs here [m].
        free: measured outer diameter of the loose pin with its doubt [m].
        hole: measured hole with its doubt [m].

    Returns:
        squeeze with doubt, its limits [m], and the reasons for the verdict.

    Raises:
        Impossible: no such nominal size; a measured diameter not above zero.

    Example:
        >>> fit(0.012, Estimate(0.01265, 0.0001), Estimate(0.0121, 0.0001)).verdict.value
        'in order'

    Source: ISO 8752, ISO 286-1; decision by JCGM 106:2012, 8.3.
    """
    positive(free.value, msg("diameter of the pin"))
    positive(hole.value, msg("hole diameter"))
    least, greatest = squeeze_limits(nominal)
    squeeze = Estimate(free.value - hole.value, combine([(1, free.doubt), (-1, hole.doubt)]))
    found = [
        _size_reason(lookup(nominal), free),
        _hole_reason(nominal, hole),
        _squeeze_reason(squeeze, least),
    ]
    reasons = [reason for reason in found if reason is not None]
    if not reasons:
        reasons = [Reason(Verdict.IN_ORDER, msg("right size, and it will be squeezed in its hole"))]
    return Fit(squeeze, least, greatest, tuple(reasons))


def _mm(value: float) -> float:
    return round(value * 1000, 2)


def _size_reason(pin: SpringPin, free: Estimate) -> Reason | None:
    possible = possible_sizes(free)
    size, wanted = _mm(free.value), _mm(pin.nominal)
    if pin not in possible:
        if len(possible) == 1:
            other = _mm(possible[0].nominal)
            text = msg(
                "wrong size: {size} mm loose is a {other} mm pin, not {wanted} mm",
                size=size,
                other=other,
                wanted=wanted,
            )
        else:
            text = msg("wrong size: {size} mm loose is no {wanted} mm pin", size=size, wanted=wanted)
        return Reason(Verdict.PUT_RIGHT, text)
    if len(possible) > 1:
        text = msg("{size} mm loose may be more than one pin size; measure finer", size=size)
        return Reason(Verdict.MEASURE_AGAIN, text)
    return None


def _hole_reason(nominal: float, hole: Estimate) -> Reason | None:
    low, high = hole_limits(nominal)
    size = _mm(hole.value)
    if hole.low > high:
        text = msg("worn hole: {size} mm, at most {limit} mm", size=size, limit=_mm(high))
        return Reason(Verdict.PUT_RIGHT, text)
    if hole.high < low:
        text = msg(
            "hole too small: {size} mm, at least {limit} mm; look for paint or a burr",
            size=size,
            limit=_mm(low),
        )
        return Reason(Verdict.PUT_RIGHT, text)
    return None


def _squeeze_reason(squeeze: Estimate, least: float) -> Reason | None:
    # the half micrometre keeps a reading exactly on the limit from falling to either side by rounding
    verdict = squeeze.within(low=least - 5e-7)
    if verdict is Verdict.IN_ORDER:
        return None
    size = _mm(squeeze.value)
    if verdict is Verdict.MEASURE_AGAIN:
        text = msg("a squeeze of {size} mm is too close to the least one to tell", size=size)
        return Reason(verdict, text)
    if squeeze.value <= 0:
        return Reason(verdict, msg("falls in by hand: wrong pin or worn hole"))
    text = msg("loose: squeezed only {size} mm, needs {least} mm", size=size, least=_mm(least))
    return Reason(verdict, text)


def nested(outer: Annotated[float, "m"], inner: Annotated[float, "m"]) -> Annotated[float, "N"]:
    """Least double shear load of a pin driven into another, slots on opposite sides.

        F = F_outer + F_inner

    Args:
        outer: nominal diameter of the outer pin [m].
        inner: nominal diameter of the inner pin [m].

    Returns:
        the sum of both loads [N].

    Raises:
        Impossible: a pair that does not fit into one another. The pair 12 + 7 is made, but the table
            has no strength for the 7 mm pin.

    Example:
        >>> round(nested(0.010, 0.006) / 1000, 1)
        96.2

    Source: ISO 8752 (loads); that they add up is from memory.
    """
    pair = (round(outer * 1000, 3), round(inner * 1000, 3))
    text = msg("A {inner} mm pin is not made to go into a {outer} mm pin.", inner=pair[1], outer=pair[0])
    demand(pair in NESTS, text)
    return lookup(outer).double_shear + lookup(inner).double_shear


def cross_pin_torque(
    double_shear: Annotated[float, "N"], shaft: Annotated[float, "m"]
) -> Annotated[float, "N·m"]:
    """Torque at which one pin through hub and shaft breaks: ``T = F * D / 2``, no safety included.

    Args:
        double_shear: load of the pin in double shear, above zero [N].
        shaft: diameter of the shaft, above zero [m].

    Returns:
        breaking torque [N·m].

    Raises:
        Impossible: an input not above zero.

    Example:
        >>> round(cross_pin_torque(70_160, 0.040))
        1403

    Source: moments about the shaft's axis.
    """
    positive(double_shear, msg("strength of the pin"))
    positive(shaft, msg("shaft diameter"))
    return double_shear * shaft / 2


def against_bolt(
    nominal: Annotated[float, "m"], bolt: Thread, property_class: str, plane: Plane
) -> Comparison:
    """A spring pin and a bolt compared as the only cross member of a joint.

    Args:
        nominal: of the pin [m].
        bolt: thread of the bolt.
        property_class: of the bolt, such as "8.8".
        plane: whether the bolt's thread or its plain shank lies where the parts slide.

    Returns:
        both breaking loads in double shear [N].

    Raises:
        Impossible: as :func:`lookup` and :func:`rakeprep.calculations.bolts.shear_load`.

    Example:
        >>> from rakeprep.calculations.bolts import thread
        >>> round(against_bolt(0.012, thread("M12"), "4.6", "thread").ratio, 2)
        0.39

    Source: ISO 8752 (pin); EN 1993-1-8 table 3.4 with ISO 898-1 (bolt).
    """
    return Comparison(lookup(nominal).double_shear, shear_load(bolt, property_class, plane))
