"""An amount as it stands in a sentence: rounded once, with its unit, its doubt and the other unit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from rakeprep.text import Language
from rakeprep.units.convert import from_si, size_of
from rakeprep.units.rounding import NOISE, decade, decimals_of, halving, rounded
from rakeprep.units.table import UNITS, Kind, in_kind, other_unit, shown_unit

INCHES = {"in", "ft in"}
FINEST_TAPE = Fraction(1, 64)
THOUSANDTH = Fraction(1, 1000)
FINEST = Fraction(1, 10**9)
EIGHTH = Fraction(1, 8)


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount to be shown; ``value`` and ``doubt`` (half-width) in the base unit of ``kind``.

    ``step`` is in ``unit``. Without it the doubt decides, then the digits an exact value has, then
    the usual division of the unit. ``toward`` is "down" for an upper limit and "up" for a lower one.
    ``both`` adds the other family's unit, converted from ``value`` and rounded to the same side.
    """

    value: float | Fraction
    kind: Kind
    unit: str
    step: Fraction | None = None
    toward: str = "nearest"
    both: bool = False
    doubt: float | Fraction | None = None

    def shown(self, language: Language) -> str:
        """The amount as a language writes it. ``ValueError`` for NaN, ``OverflowError`` for infinity."""
        text = self.in_unit(language, in_kind(self.unit, self.kind), self.step)
        other = other_unit(self.kind, self.unit)
        if not self.both or other == self.unit:
            return text
        return f"{text} ({self.in_unit(language, other, None)})"

    def in_unit(self, language: Language, unit: str, step: Fraction | None) -> str:
        """Value and doubt in one unit."""
        value = from_si(self.value, unit)
        noisy = isinstance(self.value, float)
        doubt = None if self.doubt is None else abs(Fraction(self.doubt)) / size_of(unit)
        short = short_form(value, unit, noisy) if step is None and not doubt else None
        division = step or (doubt_step(doubt, unit) if doubt else usual_step(value, unit))
        near = rounded(value, division, self.toward, noisy) if short is None else short
        text = written(language, near, unit, None if step is None else division)
        if not doubt:
            return text
        width = rounded(doubt, division, "up", isinstance(self.doubt, float))
        return f"{text} ± {written(language, width, unit, None if step is None else division)}"


def short_form(value: Fraction, unit: str, noisy: bool) -> Fraction | None:
    """The value as it is, if it needs no more than 1/64 in or three decimals; else ``None``."""
    for step in (FINEST_TAPE, THOUSANDTH) if unit in INCHES else (THOUSANDTH,):
        near = rounded(value, step)
        if near == value or (noisy and near and abs(value - near) * NOISE <= abs(near)):
            return near
    return None


def usual_step(value: Fraction, unit: str) -> Fraction:
    """The division a unit is usually read to, finer for small values so that they keep two digits."""
    size, step = abs(value), UNITS[unit].step
    if unit in INCHES:
        if size >= 1 or not size:
            return step
        return THOUSANDTH if size < EIGHTH else Fraction(1, 32)
    if size:
        while size < 10 * step and step > FINEST:
            step /= 10
    return step


def doubt_step(doubt: Fraction, unit: str) -> Fraction:
    """The division that suits a doubt: its leading decimal, or on a tape the halving of an inch."""
    if unit in INCHES and doubt >= FINEST_TAPE:
        return halving(doubt)
    return decade(doubt)


def written(language: Language, value: Fraction, unit: str, step: Fraction | None) -> str:
    """A rounded number with its unit; trailing zeros only where a step asks for them."""
    minus = "−" if value < 0 else ""
    size = abs(value)
    if unit in INCHES and all((part / FINEST_TAPE).denominator == 1 for part in (size, step or size)):
        return minus + on_tape(size, split=unit == "ft in")
    decimals = decimals_of(size if step is None else step)
    number = language.fixed(size, 3 if decimals is None else decimals)
    symbol = language.say(shown_unit("in" if unit == "ft in" else unit))
    return f"{minus}{number}{'' if symbol in {'', '°'} else ' '}{symbol}"


def on_tape(inches: Fraction, split: bool) -> str:
    """A length as a tape shows it: whole inches and a fraction, behind feet if ``split`` and long enough."""
    feet, rest = divmod(inches, 12) if split else (0, inches)
    whole, part = divmod(rest, 1)
    pieces = [str(whole)] if whole or not part else []
    pieces += [f"{part.numerator}/{part.denominator}"] if part else []
    return (f"{feet} ft " if feet else "") + " ".join(pieces) + " in"
