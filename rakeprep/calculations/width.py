"""Working width: the gauge against the tape, and the headland limiter."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Ratio = Annotated[float, "1"]

SLOPE_BAND = 0.03


@dataclass(frozen=True, slots=True)
class Line:
    """``y = offset + slope x`` with standard deviations, None where two points leave no scatter."""

    slope: float
    offset: float
    residuals: tuple[float, ...]
    sd: float | None
    slope_sd: float | None
    offset_sd: float | None

    def at(self, x: float) -> float:
        """Value of the line [unit of y]."""
        return self.offset + self.slope * x


def fit_line(points: Sequence[tuple[float, float]]) -> Line:
    """Straight line through points with the least sum of squared differences in y.

    Args:
        points: x [any], y [any], two or more with different x.

    Returns:
        the :class:`Line`.

    Raises:
        Impossible: fewer than two points, all at one x, or a coordinate that is no number.

    Example:
        >>> line = fit_line([(6.20, 6.26), (7.40, 7.42)])
        >>> round(line.slope, 3), round(line.offset, 3), round(line.at(6.80), 2)
        (0.967, 0.267, 6.84)

    Source: JCGM 100:2008 (GUM), H.3.
    """
    for point in points:
        for value in point:
            finite(value, msg("reading"))
    demand(len({x for x, _ in points}) >= 2, msg("A line needs readings at two different settings."))
    n = len(points)
    mx, my = fmean(x for x, _ in points), fmean(y for _, y in points)
    sxx = math.fsum((x - mx) ** 2 for x, _ in points)
    slope = math.fsum((x - mx) * (y - my) for x, y in points) / sxx
    residuals = tuple(y - my - slope * (x - mx) for x, y in points)
    if n == 2:
        return Line(slope, my - slope * mx, residuals, None, None, None)
    sd = math.sqrt(math.fsum(e * e for e in residuals) / (n - 2))
    return Line(
        slope,
        my - slope * mx,
        residuals,
        sd,
        sd / math.sqrt(sxx),
        sd * math.sqrt(1 / n + mx * mx / sxx),
    )


@dataclass(frozen=True, slots=True)
class Gauge:
    """What the gauge does: true width over shown width, how far to shift the pointer, and the verdict."""

    line: Line
    slope: Estimate
    shift: Estimate
    verdict: Verdict
    says: Message


def width_gauge(
    settings: Sequence[tuple[Metres, Metres]],
    doubt: Metres,
    shift_limit: Metres,
    slope_band: Ratio = SLOPE_BAND,
) -> Gauge:
    """Compare shown with measured widths at two or more settings.

    A slope off 1 is a wrong hole or a bent rod, which no shifting of the pointer cures; a steady
    error is the pointer.

        true = offset + slope * shown ;  shift = mean of (true - shown)

    Args:
        settings: shown and measured width [m].
        doubt: 95 % half-width of one measured width [m].
        shift_limit: mean error that may stay [m].
        slope_band: departure of the slope from 1 that may stay [1]; a rule of thumb.

    Returns:
        the :class:`Gauge`.

    Raises:
        Impossible: a width not above zero, one setting only, a doubt or limit below zero.

    Example:
        >>> gauge = width_gauge([(6.20, 6.26), (7.40, 7.42)], doubt=0.020, shift_limit=0.020)
        >>> round(gauge.shift.value, 3), gauge.verdict.value
        (0.04, 'put right')

    Source: least squares; the slope's band is a rule of thumb.
    """
    for shown, true in settings:
        positive(shown, msg("shown width"))
        positive(true, msg("measured width"))
    not_negative(doubt, msg("doubt of the width"))
    not_negative(shift_limit, msg("limit of the shift"))
    not_negative(slope_band, msg("band of the slope"))
    line = fit_line(settings)
    n = len(settings)
    mean = fmean(shown for shown, _ in settings)
    spread = math.sqrt(math.fsum((shown - mean) ** 2 for shown, _ in settings))
    slope = Estimate(line.slope, doubt / spread)
    shift = Estimate(fmean(true - shown for shown, true in settings), doubt / math.sqrt(n))
    bent = slope.within(1 - slope_band, 1 + slope_band)
    off = shift.within(-shift_limit, shift_limit)
    if bent is Verdict.PUT_RIGHT:
        return Gauge(line, slope, shift, bent, msg("The gauge's rod is in a wrong hole or bent."))
    if off is Verdict.PUT_RIGHT:
        return Gauge(line, slope, shift, off, msg("Shift the pointer by the mean error."))
    if Verdict.MEASURE_AGAIN in {bent, off}:
        says = msg("The widths are too uncertain to decide: measure them again.")
        return Gauge(line, slope, shift, Verdict.MEASURE_AGAIN, says)
    return Gauge(line, slope, shift, Verdict.IN_ORDER, msg("The gauge shows the true width."))


def headland_clearance(clearance: Estimate, windrow: Metres, spare: Metres = 0.0) -> Verdict:
    """Whether the raised tines clear the windrow.

        in order if clearance - doubt >= windrow + spare

    Args:
        clearance: tine to ground when raised, with doubt [m].
        windrow: height of the windrow [m].
        spare: what must be left above it [m].

    Returns:
        the verdict.

    Raises:
        Impossible: a windrow or spare below zero.

    Example:
        >>> headland_clearance(Estimate(0.300, 0.005), 0.380).value
        'put right'

    Source: JCGM 106:2012, 8.3.
    """
    not_negative(windrow, msg("height of the windrow"))
    not_negative(spare, msg("spare height"))
    return clearance.within(low=windrow + spare)


def widths_from_centres(distance: Metres, circle: Metres) -> tuple[Metres, Metres]:
    """Working width and gap between the tine circles from the distance of the rotor centres.

        working width = e + D ;  windrow gap = e - D

    Args:
        distance: e, of the rotor centres [m].
        circle: D, diameter of the tip circle [m].

    Returns:
        working width, gap [m]; the gap is negative where the circles overlap.

    Raises:
        Impossible: a length not above zero.

    Example:
        >>> [round(w, 2) for w in widths_from_centres(3.70, 3.50)]
        [7.2, 0.2]

    Source: geometry, delivery to the middle.
    """
    positive(distance, msg("distance of the rotor centres"))
    positive(circle, msg("diameter of the tip circle"))
    return distance + circle, distance - circle
