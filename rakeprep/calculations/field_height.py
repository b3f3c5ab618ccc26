"""Tine height: what is set on concrete is less in the field, by what the wheels sink in."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean
from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative
from rakeprep.calculations.decision import Estimate, combine, coverage_factor
from rakeprep.text import msg

Metres = Annotated[float, "m"]

RULE_DOUBT = 0.003


def sink(prints: Sequence[Metres], doubt: Metres = RULE_DOUBT) -> Estimate:
    """How deep the wheels go in: the mean of several wheel prints.

    The ground differs from place to place, so that the doubt is the larger of what the prints
    scatter and what the rule reads.

        mean ;  doubt = max( t s / sqrt(n), rule / sqrt(n) )

    Args:
        prints: depth of each print [m].
        doubt: 95 % half-width of one reading [m].

    Returns:
        sink with its doubt [m].

    Raises:
        Impossible: no print, a print above the ground, a doubt below zero.

    Example:
        >>> round(sink([0.011, 0.012, 0.013]).value, 4)
        0.012

    Source: JCGM 100:2008 (GUM), 4.2.3 and G.3.
    """
    demand(bool(prints), msg("No wheel print has been measured."))
    not_negative(doubt, msg("doubt of a reading"))
    for depth in prints:
        not_negative(depth, msg("depth of a wheel print"))
    count, mean = len(prints), fmean(prints)
    scatter = 0.0
    if count > 1:
        spread = sum((depth - mean) ** 2 for depth in prints)
        scatter = coverage_factor(count - 1) * (spread / (count - 1) / count) ** 0.5
    return Estimate(mean, max(scatter, doubt / count**0.5))


def field_height(concrete: Estimate, sunk: Estimate) -> Estimate:
    """Tine height in the field for a height on concrete.

        field = concrete - sink

    Args:
        concrete: height of the tips over hard ground, with doubt [m].
        sunk: what the wheels sink, with doubt [m].

    Returns:
        height in the field with doubt; below zero the tines dig [m].

    Raises:
        Impossible: a height that is no number, a sink or a doubt below zero.

    Example:
        >>> round(field_height(Estimate(0.020, 0.003), Estimate(0.012, 0.003)).value, 3)
        0.008

    Source: geometry; doubt by JCGM 100:2008, equation 10.
    """
    _check(concrete, sunk)
    doubt = combine([(1, concrete.doubt), (-1, sunk.doubt)])
    return Estimate(concrete.value - sunk.value, doubt)


def concrete_height(wanted: Metres, sunk: Estimate) -> Estimate:
    """Height to set on concrete for a wanted height in the field: ``wanted + sink``.

    Args:
        wanted: height of the tips in the field [m].
        sunk: what the wheels sink, with doubt [m].

    Returns:
        height to set on concrete [m].

    Raises:
        Impossible: a height that is no number, a sink or a doubt below zero.

    Example:
        >>> round(concrete_height(0.008, Estimate(0.012, 0.003)).value, 3)
        0.02

    Source: geometry.
    """
    _check(Estimate(wanted, 0.0), sunk)
    return Estimate(wanted + sunk.value, sunk.doubt)


def _check(height: Estimate, sunk: Estimate) -> None:
    finite(height.value, msg("tine height"))
    not_negative(height.doubt, msg("doubt of a reading"))
    not_negative(sunk.value, msg("sink of the wheels"))
    not_negative(sunk.doubt, msg("doubt of a reading"))
