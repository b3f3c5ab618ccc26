"""Tyre pressure by temperature, height, load and side."""

from __future__ import annotations

from fractions import Fraction

from rakeprep.calculations import tyres
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, both, found, length, plain
from rakeprep.sums.shape import Answer, Given, Input, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

HUNDREDTH = Fraction(1, 100)
GAS = msg("Gas law at constant volume.")


def bar(value: float) -> Amount:
    """A pressure."""
    return Amount(value, Kind.PRESSURE, "bar", step=HUNDREDTH)


def celsius(value: float) -> Amount:
    """A temperature."""
    return at(value, Kind.TEMPERATURE, "°C")


def air(given: Given) -> float:
    """Air pressure at the place."""
    return tyres.ambient_pressure(given.number("altitude"))


def temperature(given: Given) -> Answer:
    """C16, both ways."""
    ambient = air(given)
    pressure, now, then = (given.estimate(key) for key in ("pressure", "now", "then"))
    later = spread(lambda p, t1, t2: tyres.pressure_at(p, t1, t2, ambient), pressure, now, then)
    set_now = spread(lambda p, t1, t2: tyres.pressure_to_set(p, t2, t1, ambient), pressure, now, then)
    results = (
        found("then", msg("pressure at the other temperature"), later, given, Kind.PRESSURE, "bar"),
        found("set-now", msg("set now to have that pressure then"), set_now, given, Kind.PRESSURE, "bar"),
    )
    says = msg(
        "At {then} it will read {later}; to have {pressure} then, set {now} now.",
        then=celsius(then.value),
        later=bar(later.value),
        pressure=bar(pressure.value),
        now=both(set_now.value, given, Kind.PRESSURE, "bar"),
    )
    working = (
        msg(
            "p2 = (p1 + pa) · T2 / T1 − pa, p1 = {p}, T1 = {t1}, T2 = {t2}, pa = {pa}; in kelvin.",
            p=bar(pressure.value),
            t1=celsius(now.value),
            t2=celsius(then.value),
            pa=bar(ambient),
        ),
    )
    return Answer(says, results, None, working)


def altitude(given: Given) -> Answer:
    """C16, thinner air."""
    here = air(given)
    there = tyres.ambient_pressure(given.number("there"))
    pressure = spread(lambda p: tyres.pressure_elsewhere(p, here, there), given.estimate("pressure"))
    results = (
        found("there", msg("pressure there"), pressure, given, Kind.PRESSURE, "bar"),
        found("air", msg("air pressure there"), there, given, Kind.PRESSURE, "bar"),
    )
    says = msg("There it reads {p}.", p=both(pressure.value, given, Kind.PRESSURE, "bar"))
    working = (msg("p2 = p1 + pa1 − pa2 = p1 + {here} − {there}.", here=bar(here), there=bar(there)),)
    return Answer(says, results, None, working)


def for_load(given: Given) -> Answer:
    """Pressure for a load."""
    exponent, least = given.number("exponent"), given.number("least")
    weight = given.number("gravity")
    load, reference = given.number("load") * weight, given.number("load-reference") * weight
    pressure = tyres.pressure_for_load(load, reference, given.number("pressure-reference"), exponent, least)
    carries = (
        tyres.load_for_pressure(pressure, reference, given.number("pressure-reference"), exponent) / weight
    )
    results = (
        found("pressure", msg("least pressure"), pressure, given, Kind.PRESSURE, "bar", "up"),
        found("carries", msg("load it carries then"), carries, given, Kind.MASS, "kg", "down"),
    )
    says = msg("Not below {p} at this load.", p=both(pressure, given, Kind.PRESSURE, "bar", "up"))
    return Answer(says, results, None, (msg("p = p_ref · (L / L_ref)^(1/n); n = 1 is the careful choice."),))


def sides(given: Given) -> Answer:
    """Two tyres that should read alike."""
    left, right = given.reading("left"), given.reading("right")
    repeat = given.number("repeat")
    difference, verdict = tyres.side_difference(left.value, right.value, repeat, given.number("most"))
    results = (found("difference", msg("left less right"), difference, given, Kind.PRESSURE, "bar"),)
    says = {
        Verdict.IN_ORDER: msg("Both tyres read alike."),
        Verdict.MEASURE_AGAIN: msg("The difference is too close to its limit to tell."),
    }.get(verdict, msg("The tyres differ: set them alike before anything is levelled."))
    return Answer(says, results, verdict, (msg("With the same gauge its own error cancels."),))


def pressure_in(key: str, label: Message, default: str = "", *, gauge: bool = False) -> Input:
    """An input that is a pressure."""
    return amount(key, label, Kind.PRESSURE, "bar", default, instrument="tyre-gauge" if gauge else "")


HERE = length("altitude", msg("height above the sea here"), "0 m", unit="m")
SUMS = (
    Sum(
        "tyre-temperature",
        msg("tyre pressure at another temperature"),
        msg("And what to set now to have it right then."),
        (
            pressure_in("pressure", msg("pressure now, or the one wanted then"), gauge=True),
            amount("now", msg("temperature of the tyre now"), Kind.TEMPERATURE, "°C"),
            amount("then", msg("temperature of the tyre in use"), Kind.TEMPERATURE, "°C"),
            HERE,
        ),
        temperature,
        {"pressure": "2.00bar", "now": "22°C", "then": "5°C"},
        msg("The tyre keeps its volume; all tyres at the same temperature."),
        GAS,
    ),
    Sum(
        "tyre-altitude",
        msg("tyre pressure where the air is thinner"),
        msg("At the same temperature of the tyre."),
        (
            pressure_in("pressure", msg("pressure here"), gauge=True),
            length("there", msg("height above the sea there"), unit="m"),
            HERE,
        ),
        altitude,
        {"pressure": "2.00bar", "there": "1500m"},
        msg("−500 m to 11 000 m; the weather moves the air by up to 3 %."),
        msg("Definition of gauge pressure; ISO 2533 for the air."),
    ),
    Sum(
        "tyre-load",
        msg("least tyre pressure for a load"),
        msg("From one load and pressure that the tyre's own data give."),
        (
            amount("load", msg("load on this tyre"), Kind.MASS, "kg"),
            amount("load-reference", msg("load in the tyre's data"), Kind.MASS, "kg"),
            pressure_in("pressure-reference", msg("pressure in the tyre's data for it")),
            plain("exponent", msg("exponent: 1 is careful, tables follow 0.5 to 0.8"), "1"),
            pressure_in("least", msg("lowest pressure for tyre and rim"), "0 bar"),
            plain("gravity", msg("newtons to a kilogram"), "9.80665"),
        ),
        for_load,
        {"load": "800kg", "load-reference": "1000kg", "pressure-reference": "2.0bar", "exponent": "0.7"},
        msg("Up to the load of the tyre's data."),
        msg("Form of the load and inflation formulas of the tyre and rim associations."),
    ),
    Sum(
        "tyre-sides",
        msg("two tyres that should read alike"),
        msg("Read with the same gauge, at the same temperature."),
        (
            pressure_in("left", msg("left tyre")),
            pressure_in("right", msg("right tyre")),
            pressure_in("repeat", msg("doubt of one reading with the same gauge"), "0.03 bar"),
            pressure_in("most", msg("difference that does not matter"), "0.1 bar"),
        ),
        sides,
        {"left": "2.0bar", "right": "1.2bar"},
        msg("Same gauge, same temperature."),
        msg("JCGM 106:2012, 8.3; the limit is common practice."),
    ),
)
