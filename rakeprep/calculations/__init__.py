"""Pure engineering functions in SI units, one subject per file.

Quantities are floats whose unit stands in the annotation (``Annotated[float, "m"]``) and, in square
brackets, in the docstring. ``[any]`` means: whatever unit the caller uses, the same for all of them.
"""

from __future__ import annotations

import math

from rakeprep.text import Message, msg


class Impossible(ValueError):
    """An input that no machine can have; ``message`` says which, in one sentence."""

    def __init__(self, message: Message) -> None:
        super().__init__(str(message))
        self.message = message


def demand(holds: bool, otherwise: Message) -> None:
    """Raise ``Impossible(otherwise)`` unless ``holds``."""
    if not holds:
        raise Impossible(otherwise)


def finite(value: float, what: Message) -> None:
    """Refuse a value that is not a number or endless."""
    if not math.isfinite(value):  # asked so often that the sentence is made only when it is needed
        text = format(float(value), ".6g")
        raise Impossible(msg("The {what} must be a number; {value} is none.", what=what, value=text))


def positive(value: float, what: Message) -> None:
    """Refuse a value that is not a number above zero."""
    finite(value, what)
    if value <= 0:
        text = format(float(value), ".6g")
        raise Impossible(msg("The {what} must be above zero; {value} is not.", what=what, value=text))


def not_negative(value: float, what: Message) -> None:
    """Refuse a value that is not a number, or is below zero."""
    finite(value, what)
    if value < 0:
        text = format(float(value), ".6g")
        raise Impossible(msg("The {what} cannot be below zero; {value} is.", what=what, value=text))
