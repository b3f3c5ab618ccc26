"""Every sum of the trade, usable alone: what it needs, how it is worked out, and what it answers."""

from __future__ import annotations

from rakeprep.sums.shape import Answer, Choice, Form, Given, Input, Reading, Result, Sum
from rakeprep.sums.working import Refused, Worked, work_out

__all__ = [
    "Answer",
    "Choice",
    "Form",
    "Given",
    "Input",
    "Reading",
    "Refused",
    "Result",
    "Sum",
    "Worked",
    "all_sums",
    "find",
    "work_out",
]


def all_sums() -> tuple[Sum, ...]:
    """Every sum, in the order of the work."""
    from rakeprep.sums import (
        arrival,
        counts,
        fasteners,
        field,
        joint,
        judging,
        linkage,
        pins,
        planning,
        rams,
        road,
        rotor,
        service,
        shaft,
        turning,
        tyres,
        wiring,
    )

    return (
        *(*arrival.SUMS, *counts.SUMS, *pins.SUMS, *fasteners.SUMS, *linkage.SUMS, *shaft.SUMS, *joint.SUMS),
        *(*rams.SUMS, *wiring.SUMS, *tyres.SUMS, *service.SUMS, *rotor.SUMS, *planning.SUMS, *road.SUMS),
        *(*field.SUMS, *turning.SUMS, *judging.SUMS),
    )


def find(key: str) -> Sum | None:
    """The sum of that name, or None."""
    return next((each for each in all_sums() if each.key == key), None)
