"""Rounding to a step, once, in the direction that is safe."""

from __future__ import annotations

from fractions import Fraction

NOISE = 10**9  # what a float adds to a number is less than one part in so many


def rounded(value: Fraction, step: Fraction, toward: str = "nearest", noisy: bool = False) -> Fraction:
    """``value`` as a multiple of ``step``: "nearest" (half away from zero), "up" or "down".

    A ``noisy`` value came from a float: within 1e-9 of a multiple it is that multiple, so that
    2.55 m stays 2.55 m when rounded down. ``ValueError`` for another word or a step of 0 or less.
    """
    if step <= 0 or toward not in {"nearest", "up", "down"}:
        raise ValueError(f"cannot round {toward} to {step}")
    # value / step as a fraction of whole numbers: a page rounds thousands of times, and Fraction is slow.
    over, under = value.numerator * step.denominator, value.denominator * step.numerator
    near = (2 * abs(over) + under) // (2 * under) * (1 if over > 0 else -1)
    if toward == "nearest" or (noisy and abs(over - near * under) * NOISE <= under * max(1, abs(near))):
        return near * step
    return (-(-over // under) if toward == "up" else over // under) * step


def decade(value: Fraction) -> Fraction:
    """The largest power of ten not above ``value``, which is positive."""
    ten = Fraction(1)
    while ten > value:
        ten /= 10
    while ten * 10 <= value:
        ten *= 10
    return ten


def halving(value: Fraction) -> Fraction:
    """The largest of 1, 1/2, 1/4 … not above ``value``, which is positive."""
    step = Fraction(1)
    while step > value:
        step /= 2
    return step


def decimals_of(step: Fraction, most: int = 12) -> int | None:
    """How many decimals a multiple of ``step`` needs; ``None`` if more than ``most``."""
    return next((n for n in range(most + 1) if 10**n % step.denominator == 0), None)
