"""Working a sum out: from what was typed to an answer or to sentences why there is none."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate, propagate
from rakeprep.sums.reading import Problem, in_one, read
from rakeprep.sums.shape import Answer, Given, Result, Sum
from rakeprep.text import Message, msg

TOO_FAR = msg(
    "The sum runs out of all bounds with these values; look for a value far too large or far too small."
)


@dataclass(frozen=True, slots=True)
class Worked:
    """A sum with what was typed, what was understood, and its answer."""

    of: Sum
    typed: Mapping[str, str]
    given: Given
    answer: Answer


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a sum has no answer; ``impossible`` if everything could be read, but cannot be."""

    of: Sum
    reasons: tuple[Message, ...]
    impossible: bool
    problems: tuple[Problem, ...] = ()


def work_out(of: Sum, typed: Mapping[str, str]) -> Worked | Refused:
    """Work a sum out from values as typed; never raises, whatever they are."""
    given, problems = read(of, typed)
    if problems:
        return Refused(of, in_one(problems), False, problems)
    try:
        answer = of.work(given)
    except Impossible as refusal:
        return Refused(of, (refusal.message,), True)
    except (ArithmeticError, ValueError):  # beyond the range of floats, or of a function
        return Refused(of, (TOO_FAR,), True)
    if not all(is_finite(each) for each in answer.results):
        return Refused(of, (TOO_FAR,), True)
    return Worked(of, typed, given, answer)


def is_finite(each: Result) -> bool:
    """Whether a result can be shown."""
    numbers = (each.value, each.doubt)
    return all(math.isfinite(number) for number in numbers if isinstance(number, float))


def spread(function: Callable[..., float], *inputs: Estimate) -> Estimate:
    """Value and doubt of a function; refuses readings whose doubt reaches into what cannot be.

    ``Impossible`` of the function itself where the readings as they are cannot be.
    """
    value = function(*(each.value for each in inputs))
    if not any(each.doubt for each in inputs):
        return Estimate(value, 0.0)
    try:
        return propagate(function, inputs)
    except Impossible:
        raise Impossible(
            msg("The doubt of these readings is as large as what they read; take a finer instrument.")
        ) from None
