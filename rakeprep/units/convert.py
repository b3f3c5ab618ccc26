"""Exact conversion. pint does it, from definitions of our own, and never sees a user's text."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

# Factors are exact: ISO 80000 and NIST SP 811 (2008), appendix B; gallon and pint from NIST SP 1038.
DEFINITIONS = """
metre = [length]
kilogram = [mass]
second = [time]
kelvin = [temperature]; offset: 0
turn = [turn]
volt = [voltage]
ampere = [current]
degree = [angle]
one = [number]
percent = one / 100
newton = kilogram * metre / second ** 2
pascal = newton / metre ** 2
watt = newton * metre / second
celsius = kelvin; offset: 273.15
fahrenheit = 5 / 9 * kelvin; offset: 459.67 * 5 / 9
millimetre = metre / 1000
inch = 25.4 * millimetre
foot = 12 * inch
mile = 5280 * foot
minute = 60 * second
hour = 60 * minute
pound = 0.45359237 * kilogram
gravity = 9.80665 * metre / second ** 2
poundforce = pound * gravity
litre = metre ** 3 / 1000
gallon = 231 * inch ** 3
imperialgallon = 4.54609 * litre
"""

# Each symbol as a product of the definitions above; powers as "name ** n".
MEANING = {
    "mm": "millimetre",
    "cm": "10 * millimetre",
    "m": "metre",
    "in": "inch",
    "ft": "foot",
    "ft in": "inch",
    "Pa": "pascal",
    "bar": "100000 * pascal",
    "kPa": "1000 * pascal",
    "MPa": "1000000 * pascal",
    "psi": "poundforce / inch ** 2",
    "N·m": "newton * metre",
    "lbf·ft": "poundforce * foot",
    "lbf·in": "poundforce * inch",
    "kgf·m": "kilogram * gravity * metre",
    "g": "kilogram / 1000",
    "kg": "kilogram",
    "t": "1000 * kilogram",
    "lb": "pound",
    "oz": "pound / 16",
    "K": "kelvin",
    "°C": "celsius",
    "°F": "fahrenheit",
    "Δ°C": "delta_celsius",
    "Δ°F": "delta_fahrenheit",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "m/s": "metre / second",
    "km/h": "1000 * metre / hour",
    "mph": "mile / hour",
    "rev/s": "turn / second",
    "rpm": "turn / minute",
    "°": "degree",
    "m³/s": "metre ** 3 / second",
    "L/min": "litre / minute",
    "gpm": "gallon / minute",
    "m³": "metre ** 3",
    "mL": "litre / 1000",
    "cm³": "litre / 1000",
    "L": "litre",
    "US fl oz": "gallon / 128",
    "US pt": "gallon / 8",
    "US qt": "gallon / 4",
    "US gal": "gallon",
    "Imp pt": "imperialgallon / 8",
    "V": "volt",
    "mV": "volt / 1000",
    "A": "ampere",
    "N": "newton",
    "kN": "1000 * newton",
    "lbf": "poundforce",
    "%": "percent",
    "1": "one",
    "m²": "metre ** 2",
    "mm²": "millimetre ** 2",
    "W": "watt",
    "kW": "1000 * watt",
    "hp": "550 * poundforce * foot / second",
    "PS": "75 * kilogram * gravity * metre / second",
}


@cache
def registry() -> Any:
    """The one registry, built when first needed; importing pint takes longer than the first window may."""
    import pint

    units: Any = pint.UnitRegistry(None, non_int_type=Fraction)
    units.load_definitions(DEFINITIONS.strip().splitlines())
    return units


@cache
def line(unit: str) -> tuple[Fraction, Fraction]:
    """Zero and size of a unit: value in base units = zero + size * number. ``KeyError`` if unknown."""
    units = registry()
    meaning = MEANING[unit]
    if meaning in {"celsius", "fahrenheit"}:
        zero, one = (units.Quantity(Fraction(n), meaning).to("kelvin").magnitude for n in (0, 1))
        return zero, one - zero
    return Fraction(0), Fraction(units.parse_expression(meaning).to_base_units().magnitude)


def to_si(number: Fraction, unit: str) -> Fraction:
    """A number in ``unit`` as an exact number of base units of its kind. ``KeyError`` if unknown."""
    zero, size = line(unit)
    return zero + size * Fraction(number)


def from_si(value: Fraction | float, unit: str) -> Fraction:
    """A number of base units as an exact number in ``unit``. ``KeyError`` if unknown."""
    zero, size = line(unit)
    number = value if isinstance(value, Fraction) else Fraction(value)
    return (number - zero if zero else number) / size


def size_of(unit: str) -> Fraction:
    """One ``unit`` in base units, without the zero of a temperature scale."""
    return line(unit)[1]


def warm_up() -> None:
    """Import pint and build the registry, so that the first entry does not wait for it."""
    registry()
