"""Three-point linkage: categories, fit of lower pins and span, and what pins out of level do."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from typing import Annotated

from rakeprep.calculations import Impossible, demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, propagate
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import Message, msg


class Origin(Enum):
    """Where a number of the table comes from; the standard's own tables were not at hand.

    Public pages print the pins in inches, which agree, and the N rule, ISO 730:2009, 3.1.5.
    """

    MEMORY = "from memory, sure"
    MEMORY_UNSURE = "from memory, to be checked against the standard"


@dataclass(frozen=True, slots=True)
class Known:
    """A length of the table and where it comes from."""

    value: Annotated[float, "m"]
    origin: Origin


@dataclass(frozen=True, slots=True)
class Category:
    """One category of ISO 730; the span is between the shoulders of the lower pins."""

    name: str
    upper_pin: Known
    lower_pin: Known
    ball_hole: Known
    span: Known
    mast: Known

    @property
    def narrow(self) -> bool:
        """Whether the span is that of the next smaller category."""
        return self.name.endswith("N")


@dataclass(frozen=True, slots=True)
class HitchFit:
    """How a machine's lower pins fit a tractor's lower links, and what is wrong with it."""

    slop: Annotated[float, "m"]
    gap: Annotated[float, "m"]
    reasons: tuple[tuple[Verdict, Message], ...]

    @property
    def verdict(self) -> Verdict:
        """The worst of the reasons; in order without any."""
        return worst([Verdict.IN_ORDER, *(verdict for verdict, _ in self.reasons)])


@dataclass(frozen=True, slots=True)
class PinLevel:
    """Slope of the line through both lower pins, and the height error it makes further out."""

    angle: Estimate
    error: Estimate


_SURE_SPAN = frozenset({"1", "2", "3", "3N", "4"})


def _category(name: str, *mm: float) -> Category:
    upper, lower, ball, span, mast = (each / 1000 for each in mm)
    span_origin = Origin.MEMORY if name in _SURE_SPAN else Origin.MEMORY_UNSURE
    return Category(
        name,
        Known(upper, Origin.MEMORY),
        Known(lower, Origin.MEMORY),
        Known(ball, Origin.MEMORY_UNSURE),
        Known(span, span_origin),
        Known(mast, Origin.MEMORY_UNSURE),
    )


CATEGORIES = {
    each.name: each
    for each in (
        _category("0", 15.9, 15.9, 17.0, 500, 305),
        _category("1N", 19.0, 22.0, 22.4, 400, 360),
        _category("1", 19.0, 22.0, 22.4, 683, 460),
        _category("2N", 25.4, 28.0, 28.7, 683, 610),
        _category("2", 25.4, 28.0, 28.7, 825, 610),
        _category("3N", 31.75, 36.6, 37.4, 825, 685),
        _category("3", 31.75, 36.6, 37.4, 965, 685),
        _category("4N", 45.0, 50.8, 51.0, 965, 685),
        _category("4", 45.0, 50.8, 51.0, 1166, 685),
    )
}


def category(name: str) -> Category:
    """A category by its name, such as "2" or "3N".

    Args:
        name: of the category.

    Returns:
        its dimensions [m], each with its origin.

    Raises:
        Impossible: there is none of that name.

    Example:
        >>> category("3N").span.value == category("2").span.value
        True

    Source: ISO 730 (from memory; the N rule is ISO 730:2009, 3.1.5).
    """
    found = CATEGORIES.get(name.strip().upper())
    if found is None:
        raise Impossible(
            msg("“{name}” is no hitch category; they run from 0 to 4, some with N.", name=name[:40])
        )
    return found


def pin_slop(hole: Annotated[float, "m"], pin: Annotated[float, "m"]) -> Annotated[float, "m"]:
    """Play of a pin in its ball, ``hole - pin``; below zero the pin does not go in.

    Args:
        hole: of the ball, above zero [m].
        pin: diameter, above zero [m].

    Returns:
        play [m].

    Raises:
        Impossible: an input not above zero.

    Example:
        >>> round(pin_slop(0.0287, 0.028) * 1000, 1)
        0.7

    Source: arithmetic.
    """
    positive(hole, msg("hole of the ball"))
    positive(pin, msg("diameter of the pin"))
    return hole - pin


def shoulder_gap(links: Annotated[float, "m"], pins: Annotated[float, "m"]) -> Annotated[float, "m"]:
    """Gap at each shoulder when the links stand at their span: half the difference of both spans.

    Args:
        links: span the lower links are built or set for, above zero [m].
        pins: distance between the machine's pin shoulders, above zero [m].

    Returns:
        gap on each side [m]; below zero the links must be pushed together.

    Raises:
        Impossible: an input not above zero.

    Example:
        >>> round(shoulder_gap(0.965, 0.825) * 1000)
        70

    Source: arithmetic.
    """
    positive(links, msg("span of the lower links"))
    positive(pins, msg("span of the pins"))
    return (links - pins) / 2


def hitch_fit(
    machine: Category,
    tractor: Category,
    most_slop: Annotated[float, "m"] = 0.002,
    most_gap: Annotated[float, "m"] = 0.005,
) -> HitchFit:
    """Whether a machine of one category goes onto the lower links of another.

    Args:
        machine: category of the machine's lower pins.
        tractor: category of the tractor's balls and span.
        most_slop: largest permitted play [m].
        most_gap: largest permitted gap at each shoulder, either way [m].

    Returns:
        play and gap [m] with what is wrong about them.

    Raises:
        Impossible: a limit below zero.

    Example:
        >>> fit = hitch_fit(category("2"), category("3"))
        >>> round(fit.slop * 1000, 1), fit.verdict.value
        (9.4, 'put right')

    Source: ISO 730 (dimensions, from memory); the limits are rules of thumb.
    """
    not_negative(most_slop, msg("permitted play"))
    not_negative(most_gap, msg("permitted gap"))
    slop = pin_slop(tractor.ball_hole.value, machine.lower_pin.value)
    gap = shoulder_gap(tractor.span.value, machine.span.value)
    names = {"machine": machine.name, "tractor": tractor.name}
    reasons: list[tuple[Verdict, Message]] = []
    if slop < 0:
        text = msg("pins of category {machine} do not go into balls of category {tractor}", **names)
        reasons.append((Verdict.PUT_RIGHT, text))
    elif slop > most_slop:
        text = msg(
            "pins of category {machine} have {mm} mm play in balls of category {tractor}: change the balls",
            **names,
            mm=round(slop * 1000, 1),
        )
        reasons.append((Verdict.PUT_RIGHT, text))
    if abs(gap) > most_gap:
        text = msg(
            "the spans of categories {machine} and {tractor} differ by {mm} mm on each side",
            **names,
            mm=round(abs(gap) * 1000, 1),
        )
        reasons.append((Verdict.PUT_RIGHT, text))
    return HitchFit(slop, gap, tuple(reasons))


def pin_level(left: Estimate, right: Estimate, span: Estimate, radius: Annotated[float, "m"]) -> PinLevel:
    """How far the lower pins are out of level and what that makes at a distance from the middle.

        angle = atan( (left - right) / span ) ; error = (left - right) * radius / span

    Valid for a machine that is rigid across; above zero the left pin is higher.

    Args:
        left: height of the left pin over a level floor [m].
        right: height of the right pin [m].
        span: between the two places measured, above zero beyond its doubt [m].
        radius: distance from the middle of the hitch outwards, not below zero [m].

    Returns:
        angle [rad] and height error [m], both with doubt.

    Raises:
        Impossible: span or radius as above not met.

    Example:
        >>> level = pin_level(Estimate(0.512, 0.0), Estimate(0.5, 0.0), Estimate(0.825, 0.0), 3.5)
        >>> round(level.error.value * 1000)
        51

    Source: geometry of the triangle; doubt by JCGM 100:2008, 5.1.3.
    """
    finite(left.value - right.value, msg("height of the pins"))
    not_negative(radius, msg("distance from the middle"))
    demand(span.low > 0, msg("The span of the pins must be above zero, beyond its doubt."))
    heights = [left, right, span]
    angle = propagate(lambda a, b, s: math.atan((a - b) / s), heights)
    error = propagate(lambda a, b, s: (a - b) * radius / s, heights)
    return PinLevel(angle, error)
