"""Counting what goes in and comes out, so that no shipping bolt stays and no pin is forgotten."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rakeprep.calculations import demand
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, plural, verbatim


@dataclass(frozen=True, slots=True)
class Difference:
    """A count that is not what it should be."""

    name: str
    expected: int
    found: int

    @property
    def surplus(self) -> int:
        """How many too many; below zero: how many are missing."""
        return self.found - self.expected

    @property
    def text(self) -> Message:
        """The difference in words."""
        name = verbatim(self.name)
        if self.surplus < 0:
            return plural("{name}: {count} missing", "{name}: {count} missing", -self.surplus, name=name)
        return plural("{name}: {count} too many", "{name}: {count} too many", self.surplus, name=name)


@dataclass(frozen=True, slots=True)
class Balance:
    """Whether the shipping bolts are all out and the pins all in, and what is open."""

    bolts_left: int
    holes_open: int
    reasons: tuple[Message, ...]

    @property
    def verdict(self) -> Verdict:
        """In order only if nothing is open."""
        return Verdict.PUT_RIGHT if self.reasons else Verdict.IN_ORDER


def compare_counts(expected: Mapping[str, int], found: Mapping[str, int]) -> tuple[Difference, ...]:
    """Every name whose count differs; a name on one side only counts as none on the other.

    Args:
        expected: how many there should be, by name.
        found: how many were counted.

    Returns:
        the differences, in the order of ``expected``, then what nobody expected.

    Raises:
        Impossible: a count below zero.

    Example:
        >>> [str(d.text) for d in compare_counts({"left": 6, "right": 6}, {"left": 7, "right": 5})]
        ['left: 1 too many', 'right: 1 missing']

    Source: arithmetic.
    """
    counts = (*expected.values(), *found.values())
    demand(all(count >= 0 for count in counts), msg("A count cannot be below zero."))
    names = dict.fromkeys((*expected, *found))
    pairs = (Difference(name, expected.get(name, 0), found.get(name, 0)) for name in names)
    return tuple(pair for pair in pairs if pair.surplus)


def fastener_balance(bolts_shipped: int, bolts_out: int, holes: int, pins_in: int) -> Balance:
    """Balance shipping bolts against bolts taken out, and holes against pins driven in.

        bolts out = bolts shipped ; pins in = holes

    Args:
        bolts_shipped: joints bolted for shipping only.
        bolts_out: bolts lying on the bench.
        holes: holes that need a pin.
        pins_in: pins driven in.

    Returns:
        what is open; no reasons means balanced.

    Raises:
        Impossible: a count below zero.

    Example:
        >>> [str(r) for r in fastener_balance(14, 13, 26, 26).reasons]
        ['1 shipping bolt is still in the machine']

    Source: arithmetic.
    """
    counts = (bolts_shipped, bolts_out, holes, pins_in)
    demand(all(count >= 0 for count in counts), msg("A count cannot be below zero."))
    bolts, pins = bolts_shipped - bolts_out, holes - pins_in
    reasons: list[Message] = []
    if bolts > 0:
        reasons.append(
            plural(
                "{count} shipping bolt is still in the machine",
                "{count} shipping bolts are still in the machine",
                bolts,
            )
        )
    elif bolts < 0:
        reasons.append(
            plural(
                "{count} bolt more came out than was shipped: one that belongs in, or a miscount",
                "{count} bolts more came out than were shipped: some that belong in, or a miscount",
                -bolts,
            )
        )
    if pins > 0:
        reasons.append(
            plural("{count} hole is without its pin", "{count} holes are without their pins", pins)
        )
    elif pins < 0:
        reasons.append(
            plural(
                "{count} pin more than there are holes: count again",
                "{count} pins more than there are holes: count again",
                -pins,
            )
        )
    return Balance(bolts, pins, tuple(reasons))
