"""The closed table of units: what may be typed, and what goes with what.

A spelling is looked up among the units of the kind the field takes, so the same letters can stand
for different things in different fields ("C" in a temperature field), but never in one field.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache

from rakeprep.text import Message, msg, verbatim

JOINER = re.compile(r"[ ·⋅*.\-]+")


class Kind(StrEnum):
    """What is measured. Each field takes exactly one kind."""

    LENGTH = "length"
    PRESSURE = "pressure"
    TORQUE = "torque"
    MASS = "mass"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature difference"
    TIME = "time"
    SPEED = "speed"
    ROTATION = "rotational speed"
    ANGLE = "angle"
    FLOW = "flow"
    VOLUME = "volume"
    VOLTAGE = "voltage"
    CURRENT = "current"
    FORCE = "force"
    RATIO = "ratio"
    NUMBER = "number"
    AREA = "cross-section"
    DURATION = "running time"
    POWER = "power"

    @property
    def words(self) -> Message:
        """The kind within a sentence, with its article."""
        return KIND_WORDS[self]


KIND_WORDS = {
    Kind.LENGTH: msg("a length"),
    Kind.PRESSURE: msg("a pressure"),
    Kind.TORQUE: msg("a torque"),
    Kind.MASS: msg("a mass"),
    Kind.TEMPERATURE: msg("a temperature"),
    Kind.TEMPERATURE_DIFFERENCE: msg("a temperature difference"),
    Kind.TIME: msg("a time"),
    Kind.SPEED: msg("a speed"),
    Kind.ROTATION: msg("a rotational speed"),
    Kind.ANGLE: msg("an angle"),
    Kind.FLOW: msg("a flow"),
    Kind.VOLUME: msg("a volume"),
    Kind.VOLTAGE: msg("a voltage"),
    Kind.CURRENT: msg("a current"),
    Kind.FORCE: msg("a force"),
    Kind.RATIO: msg("a share"),
    Kind.NUMBER: msg("a plain number"),
    Kind.AREA: msg("a cross-section"),
    Kind.DURATION: msg("a running time"),
    Kind.POWER: msg("a power"),
}

BASE = {
    Kind.LENGTH: "m",
    Kind.PRESSURE: "Pa",
    Kind.TORQUE: "N·m",
    Kind.MASS: "kg",
    Kind.TEMPERATURE: "K",
    Kind.TEMPERATURE_DIFFERENCE: "K",
    Kind.TIME: "s",
    Kind.SPEED: "m/s",
    Kind.ROTATION: "rev/s",
    Kind.ANGLE: "°",
    Kind.FLOW: "m³/s",
    Kind.VOLUME: "m³",
    Kind.VOLTAGE: "V",
    Kind.CURRENT: "A",
    Kind.FORCE: "N",
    Kind.RATIO: "1",
    Kind.NUMBER: "1",
    Kind.AREA: "m²",
    Kind.DURATION: "s",
    Kind.POWER: "W",
}


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of the table; ``spellings`` are separated by commas, ``other`` is its partner."""

    symbol: str
    kinds: tuple[Kind, ...]
    step: Fraction
    other: str
    spellings: str = ""
    typed: bool = True


def unit(symbol: str, kinds: Kind | tuple[Kind, ...], step: str, other: str, spellings: str = "") -> Unit:
    """A row for a unit that may be typed."""
    return Unit(symbol, (kinds,) if isinstance(kinds, Kind) else kinds, Fraction(step), other, spellings)


def base(symbol: str, kind: Kind, step: str, other: str) -> Unit:
    """A row for a unit that only numbers kept by the program use."""
    return Unit(symbol, (kind,), Fraction(step), other, "", typed=False)


# The first kind named in a row is the one the bare symbol stands for.
UNITS = {
    row.symbol: row
    for row in (
        unit("mm", Kind.LENGTH, "1", "in", "millimetre, millimetres, millimeter, millimeters"),
        unit("cm", Kind.LENGTH, "1/10", "in", "centimetre, centimetres, centimeter, centimeters"),
        unit("m", Kind.LENGTH, "1/100", "ft in", "metre, metres, meter, meters"),
        unit("in", Kind.LENGTH, "1/16", "mm", "inch, inches, \", ''"),
        unit("ft", Kind.LENGTH, "1/100", "m", "foot, feet, '"),
        Unit("ft in", (Kind.LENGTH,), Fraction(1, 16), "m", "", typed=False),
        unit("bar", Kind.PRESSURE, "1/10", "psi", "bars"),
        unit("kPa", Kind.PRESSURE, "1", "psi", "kilopascal"),
        unit("MPa", Kind.PRESSURE, "1/10", "psi", "megapascal"),
        unit("psi", Kind.PRESSURE, "1", "bar", "lbf/in², lbf/in2"),
        base("Pa", Kind.PRESSURE, "1", "psi"),
        unit("N·m", Kind.TORQUE, "1", "lbf·ft", "Nm, newton metre, newton meter"),
        unit("kgf·m", Kind.TORQUE, "1/10", "lbf·ft", "kgfm, kg·m, kgm, m·kg, mkg, kp·m, kpm"),
        unit(
            "lbf·ft",
            Kind.TORQUE,
            "1",
            "N·m",
            "lbfft, ft·lbf, ftlbf, lb·ft, lbft, ft·lb, ftlb, ft·lbs",
        ),
        unit(
            "lbf·in",
            Kind.TORQUE,
            "1",
            "N·m",
            "lbfin, in·lbf, inlbf, lb·in, lbin, in·lb, inlb, in·lbs",
        ),
        unit("g", Kind.MASS, "1", "oz", "gram, grams, gramme"),
        unit("kg", Kind.MASS, "1", "lb", "kgs, kilo, kilos, kilogram, kilograms"),
        unit("t", Kind.MASS, "1/100", "lb", "tonne, tonnes, metric ton, metric tons"),
        unit("lb", Kind.MASS, "1", "kg", "lbs, pound, pounds"),
        unit("oz", Kind.MASS, "1/10", "g", "ounce, ounces"),
        unit("°C", Kind.TEMPERATURE, "1", "°F", "C, degC, deg C, ° C, celsius"),
        unit("°F", Kind.TEMPERATURE, "1", "°C", "F, degF, deg F, ° F, fahrenheit"),
        unit("K", (Kind.TEMPERATURE_DIFFERENCE, Kind.TEMPERATURE), "1", "Δ°F", "kelvin"),
        unit("Δ°C", Kind.TEMPERATURE_DIFFERENCE, "1", "Δ°F", "°C, C, degC, deg C, ° C, celsius"),
        unit("Δ°F", Kind.TEMPERATURE_DIFFERENCE, "1", "K", "°F, F, degF, deg F, ° F, fahrenheit"),
        unit("s", (Kind.TIME, Kind.DURATION), "1/10", "s", "sec, secs, second, seconds"),
        unit("min", (Kind.TIME, Kind.DURATION), "1/10", "min", "mins, minute, minutes"),
        unit("h", (Kind.DURATION, Kind.TIME), "1/10", "h", "hr, hrs, hour, hours"),
        unit("m/s", Kind.SPEED, "1/10", "mph", "mps, m s⁻¹"),
        unit("km/h", Kind.SPEED, "1/10", "mph", "kmh, kph, kmph"),
        unit("mph", Kind.SPEED, "1/10", "km/h", "mi/h, mile/h, miles/h"),
        unit("rpm", Kind.ROTATION, "1", "rpm", "1/min, min-1, min⁻¹, r/min, rev/min, u/min, tr/min, obr/min"),
        base("rev/s", Kind.ROTATION, "1/10", "rev/s"),
        unit("°", Kind.ANGLE, "1/10", "°", "deg, degs, degree, degrees"),
        unit("L/min", Kind.FLOW, "1/10", "gpm", "lpm, litre/min, litres/min, liter/min, liters/min"),
        unit("gpm", Kind.FLOW, "1/10", "L/min", "US gpm, US gal/min"),
        base("m³/s", Kind.FLOW, "1/1000", "gpm"),
        unit("mL", Kind.VOLUME, "1", "US fl oz", "millilitre, millilitres, milliliter, milliliters"),
        unit("cm³", Kind.VOLUME, "1", "US fl oz", "cm3, cc, ccm"),
        unit("L", Kind.VOLUME, "1/100", "US qt", "litre, litres, liter, liters, dm³, dm3"),
        unit("US fl oz", Kind.VOLUME, "1/10", "mL", "US floz, US fluid ounce, US fluid ounces"),
        unit("US pt", Kind.VOLUME, "1/100", "L", "US pint, US pints"),
        unit("US qt", Kind.VOLUME, "1/100", "L", "US quart, US quarts"),
        unit("US gal", Kind.VOLUME, "1/100", "L", "US gallon, US gallons"),
        unit(
            "Imp pt",
            Kind.VOLUME,
            "1/100",
            "L",
            "Imp pint, Imp pints, imperial pint, UK pt, UK pint",
        ),
        base("m³", Kind.VOLUME, "1/1000", "US gal"),
        unit("V", Kind.VOLTAGE, "1/10", "V", "volt, volts"),
        unit("mV", Kind.VOLTAGE, "1", "mV", "millivolt, millivolts"),
        unit("A", Kind.CURRENT, "1/10", "A", "amp, amps, ampere, amperes"),
        unit("N", Kind.FORCE, "1", "lbf", "newton, newtons"),
        unit("kN", Kind.FORCE, "1/10", "lbf", "kilonewton, kilonewtons"),
        unit("lbf", Kind.FORCE, "1", "N", "pound-force, pounds-force, pound force"),
        unit("%", Kind.RATIO, "1/10", "%", "percent, per cent, pct"),
        Unit("1", (Kind.NUMBER, Kind.RATIO), Fraction(1, 100), "1", "", typed=False),
        unit("mm²", Kind.AREA, "1/10", "mm²", "mm2, sq mm, qmm"),
        base("m²", Kind.AREA, "1/1000000", "m²"),
        unit("kW", Kind.POWER, "1", "hp", "kilowatt, kilowatts"),
        unit("PS", Kind.POWER, "1", "kW", "metric hp, metric horsepower"),
        unit("hp", Kind.POWER, "1", "kW", "bhp, horsepower"),
        unit("W", Kind.POWER, "1", "W", "watt, watts"),
    )
}

# Units whose symbol is not the same in every language.
WORDED = {"1": verbatim(""), "rpm": msg("rpm")}

# Spellings that mean several units, or one nobody can have meant; the answer is how to say which.
UNCLEAR = {
    Kind.VOLUME: {
        "pt": "US pt, Imp pt",
        "pts": "US pt, Imp pt",
        "pint": "US pt, Imp pt",
        "pints": "US pt, Imp pt",
        "qt": "US qt, L",
        "qts": "US qt, L",
        "quart": "US qt, L",
        "quarts": "US qt, L",
        "gal": "US gal, L",
        "gallon": "US gal, L",
        "gallons": "US gal, L",
        "oz": "US fl oz, mL",
        "fl~oz": "US fl oz, mL",
        "floz": "US fl oz, mL",
    },
    Kind.FLOW: {"gal/min": "US gal/min, L/min"},
    Kind.MASS: {"ton": "t, kg, lb", "tons": "t, kg, lb"},
}
# Written like this they are other units, a thousand million times as large or as small.
MEGA = {"Mm": "mm, m", "ML": "mL, L", "MV": "mV, V", "mPa": "MPa, kPa"}


def normal(word: str) -> str:
    """A spelling without differences of case and of the sign that joins two units."""
    return JOINER.sub("~", word.strip(" .").casefold()).replace("~/", "/").replace("/~", "/")


@cache
def spellings(kind: Kind) -> dict[str, str]:
    """Every accepted spelling of the units of ``kind`` and the unit's symbol."""
    return {
        normal(word): row.symbol
        for row in UNITS.values()
        if kind in row.kinds and row.typed
        for word in (row.symbol, *filter(None, row.spellings.split(", ")))
    }


def find_unit(word: str, kind: Kind) -> str | None:
    """The canonical symbol of a spelling in a field of ``kind``; ``None`` if unknown or unclear."""
    return None if word in MEGA else spellings(kind).get(normal(word))


def unclear(word: str, kind: Kind) -> str:
    """What to type instead of a spelling that can mean several units; empty if it cannot."""
    if word in MEGA and spellings(kind).get(normal(word)):
        return MEGA[word]
    return UNCLEAR.get(kind, {}).get(normal(word), "")


def kinds_of(word: str) -> list[Kind]:
    """The kinds a spelling is known in."""
    return [kind for kind in Kind if find_unit(word, kind) or unclear(word, kind)]


def units_of(kind: Kind) -> tuple[str, ...]:
    """The canonical symbols that may be typed for ``kind``, metric ones first."""
    typed = tuple(row.symbol for row in UNITS.values() if kind in row.kinds and row.typed)
    return typed or (BASE[kind],)


def kind_of(symbol: str) -> Kind:
    """The kind of a canonical symbol; ``KeyError`` if there is no such unit.

    Of the symbols with two kinds, "K" stands for a difference, "h" for a running time, "s" and "min"
    for a time.
    """
    return UNITS[symbol].kinds[0]


def base_unit(kind: Kind) -> str:
    """The symbol of the unit in which exact values of ``kind`` are kept."""
    return BASE[kind]


def in_kind(symbol: str, kind: Kind) -> str:
    """The symbol to calculate with: a difference of degrees is not a temperature."""
    return f"Δ{symbol}" if kind is Kind.TEMPERATURE_DIFFERENCE and symbol in {"°C", "°F"} else symbol


def shown_unit(symbol: str) -> Message:
    """The unit as it stands behind a number; nothing for plain numbers."""
    return WORDED.get(symbol) or verbatim(symbol.lstrip("Δ"))


def other_unit(kind: Kind, symbol: str) -> str:
    """The unit of the other family shown beside ``symbol``; ``symbol`` itself if there is none."""
    if kind is Kind.TEMPERATURE and symbol == "K":
        return "°F"
    return UNITS[in_kind(symbol, kind)].other


def closest_units(word: str, kind: Kind) -> list[str]:
    """At most three canonical symbols whose spelling is like ``word``, the likeliest first."""
    known = spellings(kind)
    near = difflib.get_close_matches(normal(word)[:40], known, n=6, cutoff=0.6)
    return list(dict.fromkeys(known[spelling] for spelling in near))[:3]
