"""Reading typed values, exact conversion, and showing amounts.

Where an expected number is from stands beside it. "definition" is an exact definition as printed in
NIST SP 811 (2008) appendix B; "by hand" was worked on paper from such definitions.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep import units
from rakeprep.text import ENGLISH, GAP, Language, msg
from rakeprep.units import Amount, EntryError, Kind, Typed, parse, parse_count
from rakeprep.units.convert import MEANING
from rakeprep.units.rounding import decade, decimals_of, halving, rounded
from rakeprep.units.table import MEGA, UNCLEAR, UNITS, Unit, normal, shown_unit, spellings, unclear

F = Fraction
GERMAN = Language("de")
LBF = F(44482216152605, 10**13)  # N, definition: 0.45359237 kg x 9.80665 m/s2

# ------------------------------------------------------------------------------- what can be read

READ = [
    # what is typed, number, unit, smallest division: all by hand
    ("15 mm", F(15), "mm", F(1)),
    ("45cm", F(45), "cm", F(1)),
    ("2.40 m", F(12, 5), "m", F(1, 100)),
    ("2,4 m", F(12, 5), "m", F(1, 10)),
    (".5 in", F(1, 2), "in", F(1, 10)),
    (",5 in", F(1, 2), "in", F(1, 10)),
    ("0.125 in", F(1, 8), "in", F(1, 1000)),
    ("0,125 in", F(1, 8), "in", F(1, 1000)),
    ("1.2340 m", F(617, 500), "m", F(1, 10000)),
    ("1234.567 mm", F(1234567, 1000), "mm", F(1, 1000)),
    ("1 3/16 in", F(19, 16), "in", F(1, 16)),
    ("1 2/16 in", F(9, 8), "in", F(1, 16)),
    ("17 3/4 in", F(71, 4), "in", F(1, 4)),
    ("17-3/4 in", F(71, 4), "in", F(1, 4)),
    ("17–3/4 in", F(71, 4), "in", F(1, 4)),
    ("3/4 in", F(3, 4), "in", F(1, 4)),
    ("3⁄4 in", F(3, 4), "in", F(1, 4)),
    ("½ in", F(1, 2), "in", F(1, 2)),
    ("1½ in", F(3, 2), "in", F(1, 2)),
    ("1 ½ in", F(3, 2), "in", F(1, 2)),
    ("1-⅞ in", F(15, 8), "in", F(1, 8)),
    ('5"', F(5), "in", F(1)),
    ("5”", F(5), "in", F(1)),
    ("5''", F(5), "in", F(1)),
    ("5 in.", F(5), "in", F(1)),
    ("5 ft", F(5), "ft", F(1)),
    ("5'", F(5), "ft", F(1)),
    ("1 ft 6 in", F(18), "in", F(1)),
    ("1'6\"", F(18), "in", F(1)),
    ("5 ft 6 in", F(66), "in", F(1)),
    ("5' 6 1/2\"", F(133, 2), "in", F(1, 2)),
    ("5’-6½”", F(133, 2), "in", F(1, 2)),
    ("5 FT. 6.5", F(133, 2), "in", F(1, 10)),
    ("-5 ft 6 in", F(-66), "in", F(1)),
    ("1 234 mm", F(1234), "mm", F(1)),
    ("1\u00a0234\u00a0mm", F(1234), "mm", F(1)),
    ("1\u202f234\u2009567,5 mm", F(2469135, 2), "mm", F(1, 10)),
    ("1 234.567 mm", F(1234567, 1000), "mm", F(1, 1000)),
    ("−5 m", F(-5), "m", F(1)),
    ("–5 m", F(-5), "m", F(1)),
    ("- 5 m", F(-5), "m", F(1)),
    ("+5 m", F(5), "m", F(1)),
    ("-½ in", F(-1, 2), "in", F(1, 2)),
    ("5 M", F(5), "m", F(1)),
    ("5 MM", F(5), "mm", F(1)),
    ("\t 5\tmm \n", F(5), "mm", F(1)),
    ("007 mm", F(7), "mm", F(1)),
]


@pytest.mark.parametrize(("text", "number", "unit", "division"), READ)
def test_that_a_length_is_read_as_it_was_meant(text: str, number: F, unit: str, division: F) -> None:
    assert parse(text, Kind.LENGTH) == Typed(text.strip(), number, unit, Kind.LENGTH, division)


@pytest.mark.parametrize(
    "text",
    [
        "about 5 mm",
        "approx. 5 mm",
        "approx 5 mm",
        "Approximately 5 mm",
        "≈5 mm",
        "~ 5 mm",
        "≃5 mm",
        "ca. 5 mm",
    ],
)
def test_that_about_is_kept(text: str) -> None:
    typed = parse(text, Kind.LENGTH)
    assert (typed.about, typed.number, typed.text) == (True, F(5), text)
    assert parse("≈ −5 mm", Kind.LENGTH).number == -5


OTHER_KINDS = [
    # what is typed, kind, unit, exact value in the base unit
    ("540 rpm", Kind.ROTATION, "rpm", F(9)),  # by hand: 540 / 60
    ("540 1/min", Kind.ROTATION, "rpm", F(9)),
    ("540 1/MIN", Kind.ROTATION, "rpm", F(9)),
    ("540 min-1", Kind.ROTATION, "rpm", F(9)),
    ("540 min⁻¹", Kind.ROTATION, "rpm", F(9)),
    ("540 r/min", Kind.ROTATION, "rpm", F(9)),
    ("10 Nm", Kind.TORQUE, "N·m", F(10)),
    ("10 N m", Kind.TORQUE, "N·m", F(10)),
    ("10 N*m", Kind.TORQUE, "N·m", F(10)),
    ("10 N.m", Kind.TORQUE, "N·m", F(10)),
    ("10 nm", Kind.TORQUE, "N·m", F(10)),
    ("10 kgf·m", Kind.TORQUE, "kgf·m", F(980665, 10000)),  # definition 9.80665 N
    ("1 ft-lb", Kind.TORQUE, "lbf·ft", LBF * F(3048, 10000)),
    ("1 lbft", Kind.TORQUE, "lbf·ft", LBF * F(3048, 10000)),
    ("1 lb-in", Kind.TORQUE, "lbf·in", LBF * F(254, 10000)),
    ("20 C", Kind.TEMPERATURE, "°C", F(29315, 100)),  # definition 0 °C = 273.15 K
    ("20 ºc", Kind.TEMPERATURE, "°C", F(29315, 100)),
    ("-40 degF", Kind.TEMPERATURE, "°F", F(23315, 100)),  # by hand: -40 °F = -40 °C
    ("68 F", Kind.TEMPERATURE, "°F", F(29315, 100)),  # by hand: 68 °F = 20 °C
    ("0 K", Kind.TEMPERATURE, "K", F(0)),
    ("27 °F", Kind.TEMPERATURE_DIFFERENCE, "Δ°F", F(15)),  # by hand: 27 x 5/9, no 32
    ("15 °C", Kind.TEMPERATURE_DIFFERENCE, "Δ°C", F(15)),
    ("-15 K", Kind.TEMPERATURE_DIFFERENCE, "K", F(-15)),
    ("36 km / h", Kind.SPEED, "km/h", F(10)),
    ("1 mph", Kind.SPEED, "mph", F(44704, 100000)),  # definition
    ("2 US fl. oz.", Kind.VOLUME, "US fl oz", F(231, 64) * F(254, 10000) ** 3),  # gallon of 231 in3 / 128
    ("2 cc", Kind.VOLUME, "cm³", F(2, 10**6)),
    ("2 ml", Kind.VOLUME, "mL", F(2, 10**6)),
    ("3 l/min", Kind.FLOW, "L/min", F(1, 20000)),
    ("3 US gal/min", Kind.FLOW, "gpm", F(231, 20) * F(254, 10000) ** 3),
    ("5 %", Kind.RATIO, "%", F(1, 20)),
    ("5 °", Kind.ANGLE, "°", F(5)),
    ("3,5", Kind.NUMBER, "1", F(7, 2)),
    ("1,5 mm²", Kind.AREA, "mm²", F(15, 10**7)),
    ("1.5 mm2", Kind.AREA, "mm²", F(15, 10**7)),
    ("50 h", Kind.DURATION, "h", F(180000)),
    ("10 min", Kind.TIME, "min", F(600)),
    ("12 mv", Kind.VOLTAGE, "mV", F(12, 1000)),
    ("5 mpa", Kind.PRESSURE, "MPa", F(5000000)),
]


@pytest.mark.parametrize(("text", "kind", "unit", "si"), OTHER_KINDS)
def test_that_every_kind_is_read_exactly(text: str, kind: Kind, unit: str, si: F) -> None:
    typed = parse(text, kind)
    assert (typed.unit, typed.si) == (unit, si)


def test_that_a_bare_number_is_taken_in_the_unit_of_the_field() -> None:
    assert parse("15", Kind.LENGTH, "mm").unit == "mm"
    assert parse("15 in", Kind.LENGTH, "mm").unit == "in"
    assert parse("27", Kind.TEMPERATURE_DIFFERENCE, "°F").si == 15  # by hand: 27 x 5/9
    assert parse("0,5", Kind.RATIO, "1").si == F(1, 2)
    assert parse("3", Kind.NUMBER, "1").si == 3
    with pytest.raises(KeyError):
        parse("15", Kind.LENGTH, "bar")
    with pytest.raises(EntryError, match="unit is missing"):
        parse("15", Kind.LENGTH, "ft in")


def test_that_an_inch_reading_sits_exactly_on_its_limit() -> None:
    """A float would make 17.75 in 450.84999999999997 mm."""
    assert parse("17.75 in", Kind.LENGTH).si * 1000 == F(9017, 20)  # by hand: 17.75 x 25.4 = 450.85
    assert parse("17 3/4 in", Kind.LENGTH).si == parse("450.85 mm", Kind.LENGTH).si


# ----------------------------------------------------------------------------- what is asked back

REFUSED = [
    # what is typed, place counted by hand, a part of the sentence
    ("", 1, "Nothing is typed"),
    ("   ", 1, "Nothing is typed"),
    ("2,4,5", 4, "only one sign"),
    ("1.2.3", 4, "only one sign"),
    ("3.5.1 m", 4, "only one sign"),
    ("1,234.5 mm", 6, "only one sign"),
    ("1/2/3 in", 4, "only one sign"),
    ("5. mm", 2, "digits are missing"),
    ("5 .mm", 3, "digits are missing"),
    ("1/ in", 2, "digits are missing"),
    ("9**9**9 m", 2, "not a known unit"),
    ("9**9**9**9 m", 2, "not a known unit"),
    ("10**10**8", 3, "not a known unit"),
    ("m**9**9", 1, "a number is expected"),
    ("nan m", 1, "a number is expected"),
    ("inf", 1, "a number is expected"),
    ("∞ m", 1, "a number is expected"),
    ("mm", 1, "a number is expected, like 12.5 mm"),
    ("--3 mm", 2, "a number is expected"),
    ("about", 6, "a number is expected"),
    ("1e5 m", 2, "power of ten"),
    ("1E+5 m", 2, "power of ten"),
    ("1e400 m", 2, "power of ten"),
    ("1,234", 1, "type 1,2340 or 1234"),
    ("1.234 mm", 1, "type 1.2340 or 1234"),
    ("  123,456 mm", 3, "type 123,4560 or 123456"),
    ("5 ft 1.250 in", 6, "type 1.2500 or 1250"),
    ("٥ mm", 1, "type digits 0 to 9"),
    ("1٢ mm", 2, "type digits 0 to 9"),
    ("５ mm", 1, "type digits 0 to 9"),
    ("5\x00mm", 2, "U+0000"),
    ("5\u202emm", 2, "U+202E"),
    ("5 \ud800", 3, "U+D800"),
    ("3/0 in", 3, "divided by 0"),
    ("1 0/0 in", 5, "divided by 0"),
    ("1 5/4 in", 3, "a fraction below 1"),
    ("1 234/1000 in", 3, "a fraction below 1"),
    ("1 23 mm", 3, "a second number begins"),
    ("1 2345 mm", 3, "a second number begins"),
    ("1 3 /16 in", 3, "a second number begins"),
    ("½½ in", 2, "a second number begins"),
    ("2.4½ in", 4, "a second number begins"),
    ("2.4 ± 0.1 m", 5, "“± 0.1 m”"),
    ("5 cm ; 3", 3, "“cm ; 3”"),
    ("5 m in", 3, "not a known unit"),
    ("5 Å", 3, "not a known unit; this field takes: mm, cm, m, in, ft."),
    ("5 milimetre", 3, "did you mean mm"),
    ("5", 2, "The unit is missing"),
    ("5 Mm", 3, "not clear; type one of: mm, m."),
    ("5 bar", 3, "“bar” at character 3 is a pressure; this field takes a length: mm, cm, m, in, ft."),
    ("1 000 kg", 7, "is a mass; this field takes a length"),
    ("5.5 ft 6 in", 1, "whole feet"),
    ("5½' 6\"", 1, "whole feet"),
    ("5 ft 12 in", 6, "below 12"),
    ("5 ft 6 cm", 7, "only inches"),
]


@pytest.mark.parametrize(("text", "position", "part"), REFUSED)
def test_that_what_cannot_be_read_is_refused_with_its_place(text: str, position: int, part: str) -> None:
    with pytest.raises(EntryError) as caught:
        parse(text, Kind.LENGTH)
    assert part in str(caught.value)
    assert caught.value.position == position
    assert str(caught.value).endswith(".")


REFUSED_ELSEWHERE = [
    ("2 qt", Kind.VOLUME, "US qt, L"),
    ("2 pt", Kind.VOLUME, "US pt, Imp pt"),
    ("2 gal.", Kind.VOLUME, "US gal, L"),
    ("2 ML", Kind.VOLUME, "mL, L"),
    ("2 gal/min", Kind.FLOW, "US gal/min, L/min"),
    ("2 tons", Kind.MASS, "t, kg, lb"),
    ("2 MV", Kind.VOLTAGE, "mV, V"),
    ("2 mPa", Kind.PRESSURE, "MPa, kPa"),
    ("3 barg", Kind.PRESSURE, "did you mean bar"),
    ("3 bar(g)", Kind.PRESSURE, "not a known unit"),
    ("5 lbs", Kind.FORCE, "is a mass; this field takes a force: N, kN, lbf"),
    ("5 Mm", Kind.PRESSURE, "is a length"),
    ("20 °C", Kind.LENGTH, "is a temperature; this field takes a length"),
    ("20 bar", Kind.TEMPERATURE_DIFFERENCE, "a temperature difference: K, °C, °F"),
    ("3 x", Kind.NUMBER, "without a unit"),
    ("x", Kind.NUMBER, "a number is expected"),
    ("5", Kind.RATIO, "type one of: %"),
    ("-274 °C", Kind.TEMPERATURE, "colder than"),  # definition: 0 K = -273.15 °C
    ("-460 F", Kind.TEMPERATURE, "colder than"),  # by hand: 0 K = -459.67 °F
]


@pytest.mark.parametrize(("text", "kind", "part"), REFUSED_ELSEWHERE)
def test_that_a_unit_with_two_meanings_or_of_another_kind_is_asked_back(
    text: str, kind: Kind, part: str
) -> None:
    with pytest.raises(EntryError) as caught:
        parse(text, kind)
    assert part in str(caught.value)


HUGE = ["9" * 10**6, "m*" * 50_000, "m" * 10**6, "9" * 41, "1" + "0" * 100_000 + " m", "½" * 10**6]


@pytest.mark.parametrize("text", HUGE, ids=range(len(HUGE)))
def test_that_an_endless_text_is_refused_at_once(text: str) -> None:
    with pytest.raises(EntryError, match="more than 40 characters") as caught:
        parse(text, Kind.LENGTH)
    assert caught.value.position == 41
    with pytest.raises(EntryError):
        parse_count(text)


def test_that_a_forty_digit_number_keeps_every_digit() -> None:
    assert parse("9" * 37 + " mm", Kind.LENGTH).number == 10**37 - 1
    assert parse(" " * 100_000 + "5 mm", Kind.LENGTH).text == "5 mm"


def read(text: str, kind: Kind) -> Typed | EntryError:
    try:
        return parse(text, kind)
    except EntryError as error:
        return error


TROUBLE = "0123456789 .,/-+'\"½¾−–≈~eEmMftinbarC°F%()*±\u00a0\u202f٥²"


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=90) | st.text(TROUBLE, max_size=50), st.sampled_from(Kind))
def test_that_any_text_is_read_or_refused_with_a_sentence(text: str, kind: Kind) -> None:
    typed = read(text, kind)
    if isinstance(typed, EntryError):
        assert 1 <= typed.position <= len(text) + 1
        assert set(GAP.findall(typed.message.text)) <= set(dict(typed.message.params))
        return
    assert typed.text == text.strip()
    assert typed.division > 0
    assert kind in UNITS[typed.unit].kinds
    assert parse(typed.text, kind) == typed


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 9999), st.integers(0, 99), st.sampled_from(".,"))
def test_that_a_decimal_is_read_digit_by_digit(whole: int, cents: int, mark: str) -> None:
    typed = parse(f"{whole}{mark}{cents:02d} mm", Kind.LENGTH)
    assert typed.number == whole + F(cents, 100)
    assert typed.division == F(1, 100)


# ------------------------------------------------------------------------------------------ counts


@pytest.mark.parametrize(("text", "count"), [("0", 0), (" 12 ", 12), ("9999", 9999), ("0012", 12)])
def test_that_a_whole_number_is_counted(text: str, count: int) -> None:
    assert parse_count(text) == count


@pytest.mark.parametrize(
    ("text", "position"),
    [
        ("", 1),
        (" ", 2),
        ("-1", 1),
        ("1.5", 2),
        ("10000", 1),
        (" 1 000", 3),
        ("١", 1),
        ("²", 1),
        ("1e3", 2),
        ("x", 1),
    ],
)
def test_that_anything_but_a_whole_number_to_9999_is_refused(text: str, position: int) -> None:
    with pytest.raises(EntryError, match="whole number from 0 to 9999") as caught:
        parse_count(text)
    assert caught.value.position == position


# -------------------------------------------------------------------------------------- conversion

DEFINED = [
    # unit, exact size of one in base units
    ("in", F(254, 10000)),  # definition
    ("ft", F(3048, 10000)),  # definition
    ("psi", LBF / F(254, 10000) ** 2),  # definition of lbf over in2
    ("bar", F(100000)),  # definition
    ("lbf", LBF),
    ("lbf·ft", LBF * F(3048, 10000)),
    ("lbf·in", LBF * F(254, 10000)),
    ("kgf·m", F(980665, 100000)),  # definition
    ("lb", F(45359237, 10**8)),  # definition
    ("oz", F(45359237, 16 * 10**8)),  # sixteenth of a pound
    ("mph", F(44704, 10**5)),  # definition
    ("US gal", 231 * F(254, 10000) ** 3),  # 231 in3, NIST SP 1038
    ("US qt", 231 * F(254, 10000) ** 3 / 4),
    ("US pt", 231 * F(254, 10000) ** 3 / 8),
    ("US fl oz", 231 * F(254, 10000) ** 3 / 128),
    ("Imp pt", F(56826125, 10**11)),  # eighth of 4.54609 L, by hand
    ("gpm", 231 * F(254, 10000) ** 3 / 60),
    ("hp", 550 * LBF * F(3048, 10000)),  # 550 ft·lbf/s
    ("PS", F(73549875, 100000)),  # 75 kgf·m/s, by hand: 75 x 9.80665
    ("rpm", F(1, 60)),
    ("km/h", F(1000, 3600)),
    ("h", F(3600)),
    ("%", F(1, 100)),
    ("mm²", F(1, 10**6)),
    ("Δ°F", F(5, 9)),
]


@pytest.mark.parametrize(("unit", "size"), DEFINED)
def test_that_a_unit_has_its_defined_size(unit: str, size: F) -> None:
    assert units.to_si(F(1), unit) == size
    assert units.from_si(size, unit) == 1


ROUNDED_IN_PRINT = [
    # unit, factor as printed in NIST SP 811 (2008) B.8, to seven digits
    ("psi", 6.894757e3),
    ("lbf·ft", 1.355818),
    ("lbf·in", 1.129848e-1),
    ("lbf", 4.448222),
    ("lb", 4.535924e-1),
    ("oz", 2.834952e-2),
    ("US gal", 3.785412e-3),
    ("US qt", 9.463529e-4),
    ("US pt", 4.731765e-4),
    ("US fl oz", 2.957353e-5),
    ("Imp pt", 5.682612e-4),
    ("gpm", 6.309020e-5),
    ("hp", 7.456999e2),
    ("PS", 7.354988e2),
]


@pytest.mark.parametrize(("unit", "factor"), ROUNDED_IN_PRINT)
def test_that_factors_agree_with_the_printed_table(unit: str, factor: float) -> None:
    assert float(units.to_si(F(1), unit)) == pytest.approx(factor, rel=5e-7)  # half of the last digit


def test_that_temperatures_are_exact() -> None:
    assert units.to_si(F(32), "°F") == F(27315, 100)  # definition: freezing point 0 °C = 32 °F
    assert units.from_si(F(37315, 100), "°F") == 212  # by hand: 100 °C
    assert units.to_si(F("-459.67"), "°F") == 0  # definition
    assert units.from_si(F(0), "°C") == F("-273.15")


ELSEWHERE = {
    # our symbol: the name of the same unit in pint's own default registry, an independent table
    "psi": "psi",
    "lbf·ft": "force_pound * foot",
    "lbf·in": "force_pound * inch",
    "kgf·m": "force_kilogram * meter",
    "t": "tonne",
    "lb": "pound",
    "oz": "ounce",
    "mph": "mile / hour",
    "km/h": "kilometer / hour",
    "gpm": "gallon / minute",
    "L/min": "liter / minute",
    "US fl oz": "fluid_ounce",
    "US pt": "pint",
    "US qt": "quart",
    "US gal": "gallon",
    "Imp pt": "imperial_pint",
    "mL": "milliliter",
    "cm³": "centimeter ** 3",
    "hp": "horsepower",
    "PS": "metric_horsepower",
    "kN": "kilonewton",
    "mm²": "millimeter ** 2",
    "MPa": "megapascal",
    "ft": "foot",
    "Δ°F": "delta_degF",
}


def test_that_an_independent_table_of_units_agrees() -> None:
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    for ours, theirs in ELSEWHERE.items():
        expected = registry.Quantity(1.0, theirs).to_base_units().magnitude
        assert float(units.to_si(F(1), ours)) == pytest.approx(expected, rel=1e-12), ours
    for fahrenheit in (-40.0, 0.0, 68.0, 212.0):
        expected = registry.Quantity(fahrenheit, "degF").to("kelvin").magnitude
        assert float(units.to_si(F(fahrenheit), "°F")) == pytest.approx(expected, rel=1e-12)


@settings(max_examples=100, deadline=None)
@given(st.fractions(-(10**9), 10**9), st.sampled_from(sorted(UNITS)))
def test_that_there_and_back_is_the_same_number(number: F, unit: str) -> None:
    assert units.from_si(units.to_si(number, unit), unit) == number
    assert units.to_si(units.from_si(number, unit), unit) == number


def test_that_a_value_kept_as_a_float_converts_too() -> None:
    assert units.from_si(0.5, "cm") == 50
    with pytest.raises(KeyError):
        units.to_si(F(1), "furlong")
    with pytest.raises(KeyError):
        units.from_si(1.0, "furlong")
    units.warm_up()


# -------------------------------------------------------------------------------- table of units


def test_that_every_unit_has_a_meaning_a_partner_and_a_base() -> None:
    assert set(UNITS) == set(MEANING)
    for symbol, row in UNITS.items():
        for kind in row.kinds:
            assert row.kinds == UNITS[row.other].kinds or kind in UNITS[units.other_unit(kind, symbol)].kinds
    for kind in Kind:
        assert units.to_si(F(1), units.base_unit(kind)) == 1
        assert units.units_of(kind)
        assert str(kind.words)


def test_that_no_spelling_stands_for_two_units_of_one_kind() -> None:
    for kind in Kind:
        words = [
            (normal(word), row.symbol)
            for row in UNITS.values()
            if kind in row.kinds and row.typed
            for word in {row.symbol, *filter(None, row.spellings.split(", "))}
        ]
        assert len({word for word, _ in set(words)}) == len(set(words)), kind
        assert not set(spellings(kind)) & set(UNCLEAR.get(kind, {}))


SPELLED = [
    (kind, word, row)
    for row in UNITS.values()
    if row.typed
    for kind in row.kinds
    for word in (row.symbol, *filter(None, row.spellings.split(", ")))
]


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(SPELLED),
    st.sampled_from([str, str.lower, str.upper, str.title]),
    st.sampled_from(["·", "⋅", "*", " ", ".", "-", " · "]),
    st.sampled_from(["", " "]),
)
def test_that_any_spelling_of_a_unit_gives_the_same_result(
    spelled: tuple[Kind, str, Unit], case: Callable[[str], str], joint: str, gap: str
) -> None:
    kind, word, unit = spelled
    word = case(word).replace("·", joint)
    if word in MEGA and unclear(word, kind):
        with pytest.raises(EntryError, match="not clear"):
            parse(f"7 {word}", kind)
    else:
        gap = " " if word[0].isdigit() else gap
        assert parse(f"7{gap}{word}", kind).si == units.to_si(F(7), unit.symbol)


def test_that_what_is_asked_for_instead_can_be_typed() -> None:
    asked = [
        (kind, choice)
        for kind, words in UNCLEAR.items()
        for choices in words.values()
        for choice in choices.split(", ")
    ]
    for kind, choice in asked:
        assert units.find_unit(choice, kind), choice


def test_that_kinds_and_partners_are_known() -> None:
    assert units.kind_of("in") is Kind.LENGTH
    assert units.kind_of("K") is Kind.TEMPERATURE_DIFFERENCE
    assert units.kind_of("h") is Kind.DURATION
    assert units.units_of(Kind.LENGTH) == ("mm", "cm", "m", "in", "ft")
    assert units.units_of(Kind.NUMBER) == ("1",)
    partners = {"mm": "in", "m": "ft in", "ft in": "m", "in": "mm"}
    assert {unit: units.other_unit(Kind.LENGTH, unit) for unit in partners} == partners
    assert units.other_unit(Kind.TEMPERATURE, "K") == "°F"
    assert units.other_unit(Kind.TEMPERATURE, "°F") == "°C"
    assert units.other_unit(Kind.TEMPERATURE_DIFFERENCE, "°F") == "K"
    assert units.other_unit(Kind.ANGLE, "°") == "°"
    assert units.closest_units("milimeter", Kind.LENGTH)[0] == "mm"
    assert units.closest_units("xyzzy", Kind.LENGTH) == []


# ---------------------------------------------------------------------------------------- rounding


def test_that_rounding_goes_where_it_is_told() -> None:
    # all by hand
    assert rounded(F(5, 2), F(1)) == 3
    assert rounded(F(-5, 2), F(1)) == -3
    assert rounded(F(0), F(1)) == 0
    assert rounded(F(12, 5), F(1), "up") == 3
    assert rounded(F(-12, 5), F(1), "down") == -3
    assert rounded(F(2.55), F(1, 100), "down") == F(254, 100)
    assert rounded(F(2.55), F(1, 100), "down", noisy=True) == F(255, 100)
    assert rounded(F(2.551), F(1, 100), "up", noisy=True) == F(256, 100)
    with pytest.raises(ValueError, match="sideways"):
        rounded(F(1), F(1), "sideways")
    with pytest.raises(ValueError, match="to 0"):
        rounded(F(1), F(0))


@settings(max_examples=100, deadline=None)
@given(st.fractions(-1000, 1000), st.sampled_from([F(1), F(1, 16), F(1, 100), F(5)]))
def test_that_limits_are_rounded_to_the_safe_side_by_less_than_a_step(value: F, step: F) -> None:
    assert 0 <= rounded(value, step, "up") - value < step
    assert 0 <= value - rounded(value, step, "down") < step
    assert abs(rounded(value, step) - value) <= step / 2


@settings(max_examples=100, deadline=None)
@given(
    st.integers(-5000, 5000),
    st.sampled_from([F(1), F(1, 16), F(1, 100), F(5)]),
    st.sampled_from(["up", "down", "nearest"]),
)
def test_that_a_float_is_the_multiple_it_was_made_from(times: int, step: F, toward: str) -> None:
    # Second method: the float nearest to an exact multiple stands for that multiple, whichever side it is on.
    assert rounded(F(float(times * step)), step, toward, noisy=True) == times * step


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 10**6), st.integers(0, 6))
def test_that_decimals_are_those_that_the_number_needs(parts: int, decimals: int) -> None:
    # Second method: the number written out with its decimals, without the zeros at its end.
    written = f"{parts / 10**decimals:.{decimals}f}" if decimals else str(parts)
    needed = len(written.partition(".")[2].rstrip("0"))
    assert decimals_of(F(parts, 10**decimals)) == needed


def test_that_a_division_is_found_for_a_doubt() -> None:
    assert [decade(F(v)) for v in (1, 10, 99, F(3, 10), F(1, 100))] == [1, 10, 10, F(1, 10), F(1, 100)]
    assert [halving(F(v)) for v in (2, 1, F(3, 4), F(1, 16))] == [1, 1, F(1, 2), F(1, 16)]
    assert decimals_of(F(1, 8)) == 3
    assert decimals_of(F(1, 3)) is None


# ----------------------------------------------------------------------------------------- amounts

SHOWN = [
    # limits in two units: by hand, mm / 25.4, then down or up to 1/16 in
    (Amount(F(255, 100), Kind.LENGTH, "m", toward="down", both=True), "2.55 m (8 ft 4 3/8 in)"),
    (Amount(2.55, Kind.LENGTH, "m", toward="down", both=True), "2.55 m (8 ft 4 3/8 in)"),
    (Amount(F(3), Kind.LENGTH, "m", F(1, 100), toward="down", both=True), "3.00 m (9 ft 10 1/16 in)"),
    (Amount(F(4), Kind.LENGTH, "m", F(1, 100), toward="down", both=True), "4.00 m (13 ft 1 7/16 in)"),
    (Amount(0.03, Kind.LENGTH, "mm", toward="up", both=True), "30 mm (1 3/16 in)"),
    (Amount(F(1, 4), Kind.LENGTH, "mm", toward="up", both=True), "250 mm (9 7/8 in)"),
    (Amount(F(15), Kind.TEMPERATURE_DIFFERENCE, "K", both=True), "15 K (27 °F)"),
    (Amount(F(15), Kind.TEMPERATURE_DIFFERENCE, "°F", both=True), "27 °F (15 K)"),
    (Amount(F(5863, 20), Kind.TEMPERATURE, "°C", both=True), "20 °C (68 °F)"),  # by hand
    (Amount(F(250), Kind.TORQUE, "N·m", both=True), "250 N·m (184 lbf·ft)"),  # by hand: 184.39
    (Amount(200e5, Kind.PRESSURE, "bar", both=True), "200 bar (2901 psi)"),  # by hand: 2900.75
    (Amount(F(100, 9), Kind.SPEED, "km/h", both=True), "40 km/h (24.9 mph)"),  # by hand: 24.855
    (Amount(0.8e-3, Kind.VOLUME, "L", both=True), "0.8 L (0.85 US qt)"),  # by hand: 0.8454
    (Amount(9.0, Kind.ROTATION, "rpm", both=True), "540 rpm"),
    # doubt: by hand; 2 mm is 0.079 in, so sixteenths; 20 mm is 0.79 in, so halves
    (Amount(0.853, Kind.LENGTH, "mm", doubt=0.002), "853 mm ± 2 mm"),
    (Amount(0.853, Kind.LENGTH, "mm", doubt=F(21, 10000)), "853 mm ± 3 mm"),
    (Amount(0.853, Kind.LENGTH, "mm", doubt=0.002, both=True), "853 mm ± 2 mm (33 9/16 in ± 1/8 in)"),
    (Amount(0.853, Kind.LENGTH, "mm", doubt=0.02, both=True), "850 mm ± 20 mm (33 1/2 in ± 1 in)"),
    (
        Amount(0.6, Kind.LENGTH, "m", F(1, 1000), doubt=0.0003, both=True),
        "0.600 m ± 0.001 m (23.62 in ± 0.02 in)",
    ),
    (Amount(293.15, Kind.TEMPERATURE, "°C", F(1, 10), doubt=2.0), "20.0 °C ± 2.0 °C"),
    (Amount(0.01, Kind.LENGTH, "mm", doubt=0.0), "10 mm"),
    # numbers as they are, if they are short; otherwise to the usual division of the unit
    (Amount(F(127, 10000), Kind.LENGTH, "mm"), "12.7 mm"),
    (Amount(0.0127, Kind.LENGTH, "mm", both=True), "12.7 mm (1/2 in)"),
    (Amount(-0.0127, Kind.LENGTH, "mm", both=True), "−12.7 mm (−1/2 in)"),
    (Amount(0.1 / 3, Kind.LENGTH, "mm"), "33 mm"),
    (Amount(0.01 / 3, Kind.LENGTH, "mm"), "3.3 mm"),
    (Amount(0.005, Kind.LENGTH, "mm", both=True), "5 mm (3/16 in)"),  # 0.1969 in, 6.3 of 32
    (Amount(0.0005, Kind.LENGTH, "mm", both=True), "0.5 mm (0.02 in)"),  # 0.0197 in
    (Amount(0, Kind.LENGTH, "mm", both=True), "0 mm (0 in)"),
    (Amount(F(1), Kind.LENGTH, "in", F(1, 3)), "39.333 in"),  # 39.370 in: 118 thirds
    (Amount(1.8288, Kind.LENGTH, "ft in"), "6 ft 0 in"),  # by hand: 6 x 0.3048
    (Amount(F(254, 1000), Kind.LENGTH, "ft in", both=True), "10 in (0.254 m)"),
    (Amount(1.0, Kind.LENGTH, "ft in", F(1, 100)), "39.37 in"),
    (Amount(F(5), Kind.ANGLE, "°"), "5°"),
    (Amount(0.05, Kind.RATIO, "%"), "5 %"),
    (Amount(F(7, 2), Kind.NUMBER, "1"), "3.5"),
    (Amount(F(1, 3), Kind.NUMBER, "1"), "0.33"),
]


@pytest.mark.parametrize(("amount", "expected"), SHOWN)
def test_that_an_amount_is_shown_rounded_once_with_its_unit(amount: Amount, expected: str) -> None:
    assert amount.shown(ENGLISH) == expected


def test_that_an_amount_stands_in_a_sentence_of_another_language() -> None:
    wide = Amount(2.55, Kind.LENGTH, "m", toward="down", both=True)
    assert GERMAN.say(msg("at most {wide}", wide=wide)) == "at most 2,55 m (8 ft 4 3/8 in)"
    assert GERMAN.say(shown_unit("Δ°F")) == "°F"


def test_that_a_number_that_is_none_is_never_shown() -> None:
    with pytest.raises(ValueError, match="NaN"):
        Amount(math.nan, Kind.LENGTH, "mm").shown(ENGLISH)
    with pytest.raises(OverflowError):
        Amount(math.inf, Kind.LENGTH, "mm").shown(ENGLISH)
