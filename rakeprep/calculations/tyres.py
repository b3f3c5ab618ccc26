"""Tyre pressure by temperature, height and load."""

from __future__ import annotations

from typing import Annotated

from rakeprep.calculations import demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine, within
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg

Pascals = Annotated[float, "Pa"]
Kelvin = Annotated[float, "K"]
Ratio = Annotated[float, "1"]

SEA_LEVEL = 101_325.0
SIDE_LIMIT = 10_000.0


def ambient_pressure(altitude: Annotated[float, "m"]) -> Pascals:
    """Air pressure of the standard atmosphere at a height above the sea.

        p = 101325 (1 - 2.25577e-5 h)^5.25588

    Valid from -500 m to 11 000 m; the weather moves it by up to about 3 %.

    Args:
        altitude: h [m].

    Returns:
        air pressure [Pa].

    Raises:
        Impossible: a height outside that range.

    Example:
        >>> round(ambient_pressure(1500) / 1e5, 3)    # bar
        0.846

    Source: ISO 2533, troposphere.
    """
    demand(-500 <= altitude <= 11_000, msg("No machine works at this height above the sea."))
    return float(SEA_LEVEL * (1 - 2.25577e-5 * altitude) ** 5.25588)


def pressure_at(pressure: Pascals, now: Kelvin, then: Kelvin, ambient: Pascals = SEA_LEVEL) -> Pascals:
    """Gauge pressure at another temperature of the tyre.

    The air is shut in and the tyre keeps its volume.

        p2 = (p1 + pa) T2 / T1 - pa

    Turned round it also tells what to set now: take the wanted pressure and the temperature of use
    first, and the temperature now as ``then``; :func:`pressure_to_set` does that.

    Args:
        pressure: p1, gauge [Pa].
        now: T1, of the tyre at that pressure [K].
        then: T2 [K].
        ambient: pa, air pressure [Pa].

    Returns:
        p2, gauge [Pa].

    Raises:
        Impossible: a gauge pressure below zero, a temperature or air pressure not above zero.

    Example:
        >>> round(pressure_at(2.00e5, 295.15, 278.15) / 1e5, 2)    # bar
        1.83

    Source: gas law at constant volume.
    """
    not_negative(pressure, msg("tyre pressure"))
    positive(now, msg("absolute temperature"))
    positive(then, msg("absolute temperature"))
    positive(ambient, msg("air pressure"))
    return (pressure + ambient) * then / now - ambient


def pressure_to_set(wanted: Pascals, use: Kelvin, now: Kelvin, ambient: Pascals = SEA_LEVEL) -> Pascals:
    """Gauge pressure to set now so that the wanted one is there at the temperature of use.

        p_now = (p_wanted + pa) T_now / T_use - pa

    Args:
        wanted: gauge pressure at the temperature of use [Pa].
        use: temperature of the tyre in use [K].
        now: temperature of the tyre now [K].
        ambient: air pressure [Pa].

    Returns:
        gauge pressure to set [Pa].

    Raises:
        Impossible: as :func:`pressure_at`.

    Example:
        >>> round(pressure_to_set(2.00e5, use=278.15, now=295.15) / 1e5, 2)    # bar
        2.18

    Source: gas law at constant volume.
    """
    return pressure_at(wanted, use, now, ambient)


def pressure_elsewhere(pressure: Pascals, ambient_here: Pascals, ambient_there: Pascals) -> Pascals:
    """Gauge pressure of the same tyre where the air is thinner or thicker, at the same temperature.

        p2 = p1 + pa1 - pa2

    Args:
        pressure: p1, gauge, here [Pa].
        ambient_here: pa1 [Pa].
        ambient_there: pa2 [Pa].

    Returns:
        p2, gauge, there [Pa].

    Raises:
        Impossible: a gauge pressure below zero, an air pressure not above zero.

    Example:
        >>> round(pressure_elsewhere(2.00e5, 1.013e5, 0.848e5) / 1e5, 3)    # bar
        2.165

    Source: definition of gauge pressure.
    """
    not_negative(pressure, msg("tyre pressure"))
    positive(ambient_here, msg("air pressure"))
    positive(ambient_there, msg("air pressure"))
    return pressure + ambient_here - ambient_there


def pressure_for_load(
    load: Annotated[float, "N"],
    load_reference: Annotated[float, "N"],
    pressure_reference: Pascals,
    exponent: Ratio = 1.0,
    least: Pascals = 0.0,
) -> Pascals:
    """Pressure for a load, from one load and pressure that the tyre's data give.

    Exponent 1 asks for the most pressure at part load and is the careful choice; published tables
    follow 0.5 to 0.8. Never beyond the reference load, never below the tyre's or rim's least.

        p = p_ref (L / L_ref)^(1/n)

    Args:
        load: L on this tyre [N].
        load_reference: L_ref [N].
        pressure_reference: p_ref at that load, gauge [Pa].
        exponent: n, above 0 up to 1 [1].
        least: lowest pressure for tyre and rim [Pa].

    Returns:
        gauge pressure [Pa].

    Raises:
        Impossible: a load above the reference load or below zero, a reference not above zero, an
            exponent outside 0 to 1, a least pressure below zero.

    Example:
        >>> round(pressure_for_load(0.8, 1.0, 2.0e5, 0.7) / 1e5, 2)    # bar
        1.45

    Source: form of the load and inflation formulas of the tyre and rim associations.
    """
    not_negative(load, msg("load on the tyre"))
    positive(load_reference, msg("reference load"))
    positive(pressure_reference, msg("reference pressure"))
    demand(0 < exponent <= 1, msg("The exponent of load and pressure lies above 0 and not above 1."))
    not_negative(least, msg("least pressure"))
    demand(load <= load_reference, msg("The load is more than this tyre may carry; pressure cannot help."))
    return max(least, float(pressure_reference * (load / load_reference) ** (1 / exponent)))


def load_for_pressure(
    pressure: Pascals,
    load_reference: Annotated[float, "N"],
    pressure_reference: Pascals,
    exponent: Ratio = 1.0,
) -> Annotated[float, "N"]:
    """Load a tyre carries at a pressure; more pressure than the reference carries no more.

        L = L_ref min(1, p / p_ref)^n

    Args:
        pressure: p, gauge [Pa].
        load_reference: L_ref [N].
        pressure_reference: p_ref, gauge [Pa].
        exponent: n, above 0 up to 1 [1].

    Returns:
        load [N].

    Raises:
        Impossible: a pressure below zero, a reference not above zero, an exponent outside 0 to 1.

    Example:
        >>> load_for_pressure(1.0e5, 10_000, 2.0e5)
        5000.0

    Source: form of the load and inflation formulas of the tyre and rim associations.
    """
    not_negative(pressure, msg("tyre pressure"))
    positive(load_reference, msg("reference load"))
    positive(pressure_reference, msg("reference pressure"))
    demand(0 < exponent <= 1, msg("The exponent of load and pressure lies above 0 and not above 1."))
    return float(load_reference * min(1.0, pressure / pressure_reference) ** exponent)


def side_difference(
    left: Pascals, right: Pascals, doubt: Pascals, most: Pascals = SIDE_LIMIT
) -> tuple[Estimate, Verdict]:
    """Difference of two tyres that should read alike, and whether it matters.

    ``doubt`` is what one reading repeats to: with the same gauge its own error cancels.

        left - right, doubt sqrt(2) u ; in order while within +- most

    Args:
        left: left tyre, gauge [Pa].
        right: right tyre, gauge [Pa].
        doubt: u, 95 % half-width of one reading with the same gauge [Pa].
        most: difference that does not matter [Pa]; default 0.1 bar, common practice.

    Returns:
        difference left minus right with its doubt [Pa], and the verdict.

    Raises:
        Impossible: a reading that is no number, a doubt or limit below zero.

    Example:
        >>> side_difference(2.00e5, 1.20e5, 0.03e5)[1].value
        'put right'

    Source: JCGM 106:2012, 8.3; the limit is common practice, no published source.
    """
    finite(left, msg("tyre pressure"))
    finite(right, msg("tyre pressure"))
    not_negative(most, msg("limit of the difference"))
    difference = Estimate(left - right, combine([(1, doubt), (-1, doubt)]))
    return difference, within(difference.value, difference.doubt, -most, most)
