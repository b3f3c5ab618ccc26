"""Short ways to write inputs, results and amounts in a sentence."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from rakeprep.calculations.decision import Estimate
from rakeprep.sums.shape import Choice, Form, Given, Input, Result
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind, from_si, other_unit
from rakeprep.units.amount import usual_step

YES_NO = (Choice("yes", msg("yes")), Choice("no", msg("no")))


def amount(
    key: str,
    label: Message,
    kind: Kind | None,
    unit: str,
    default: str = "",
    *,
    optional: bool = False,
    instrument: str = "",
    help: Message | None = None,
) -> Input:
    """An input that is one amount."""
    return Input(key, label, Form.AMOUNT, kind, unit, help, default, optional, (), instrument)


def length(
    key: str,
    label: Message,
    default: str = "",
    *,
    unit: str = "mm",
    optional: bool = False,
    instrument: str = "",
    help: Message | None = None,
) -> Input:
    """An input that is a length."""
    return amount(key, label, Kind.LENGTH, unit, default, optional=optional, instrument=instrument, help=help)


def plain(key: str, label: Message, default: str = "", help: Message | None = None) -> Input:
    """An input that is a number without unit."""
    return amount(key, label, Kind.NUMBER, "", default, help=help)


def several(
    key: str, label: Message, kind: Kind, unit: str, *, instrument: str = "", optional: bool = False
) -> Input:
    """An input that is a list of amounts."""
    return Input(key, label, Form.LIST, kind, unit, None, "", optional, (), instrument)


def count(key: str, label: Message, default: str = "", *, optional: bool = False) -> Input:
    """An input that is a whole number."""
    return Input(key, label, Form.COUNT, default=default, optional=optional)


def choice(
    key: str, label: Message, choices: tuple[Choice, ...], default: str = "", *, optional: bool = False
) -> Input:
    """An input that is one word of a list."""
    return Input(key, label, Form.CHOICE, default=default, optional=optional, choices=choices)


def yes_no(key: str, label: Message, default: str = "", *, optional: bool = False) -> Input:
    """A question."""
    return choice(key, label, YES_NO, default, optional=optional)


def name(key: str, label: Message, default: str = "", help: Message | None = None) -> Input:
    """An input that is a name, never converted."""
    return Input(key, label, Form.NAME, help=help, default=default)


def found(
    key: str,
    label: Message,
    value: float | Estimate,
    given: Given,
    kind: Kind,
    unit: str,
    toward: str = "nearest",
    step: Fraction | None = None,
) -> Result:
    """A result in the family of units that was typed; an estimate brings its doubt."""
    number, doubt = (value.value, value.doubt) if isinstance(value, Estimate) else (value, 0.0)
    mine = given.unit(kind, unit)
    return Result(key, label, number, kind, mine, doubt or None, toward, step if mine == unit else None)


def at(value: float, kind: Kind, unit: str) -> Amount:
    """An amount within the working."""
    return Amount(value, kind, unit)


def mm(value: float) -> Amount:
    """A length within the working."""
    return at(value, Kind.LENGTH, "mm")


def metres(value: float) -> Amount:
    """A long length within the working."""
    return at(value, Kind.LENGTH, "m")


def both(value: float, given: Given, kind: Kind, unit: str, toward: str = "nearest") -> Message | Amount:
    """An amount in a sentence of the answer, in both families of units."""
    return in_both(Amount(value, kind, given.unit(kind, unit), toward=toward))


def in_both(amount: Amount) -> Message | Amount:
    """An amount with the other family's unit behind it, rounded as that unit is usually read."""
    other = other_unit(amount.kind, amount.unit)
    if other == amount.unit:
        return amount
    step = None if amount.doubt else usual_step(from_si(amount.value, other), other)
    return msg("{mine} ({other})", mine=amount, other=replace(amount, unit=other, step=step))


def degrees(value: float) -> Amount:
    """An angle in degrees within a sentence."""
    return at(value, Kind.ANGLE, "°")


def number(value: float) -> Amount:
    """A plain number."""
    return at(value, Kind.NUMBER, "1")


def share(value: float) -> Amount:
    """A share in per cent."""
    return at(value, Kind.RATIO, "%")
