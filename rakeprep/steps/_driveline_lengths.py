"""The lengths that the shaft is drawn from, on screen and on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.model.facts import Facts
from rakeprep.steps._driveline_cut import Shaft, planned
from rakeprep.steps._driveline_read import TAPE, measured_or
from rakeprep.steps._judged import sane
from rakeprep.steps._reading import reading

TURNS = ("left", "straight", "right")
HEIGHTS = ("high", "work", "low")


@dataclass(frozen=True, slots=True)
class Lengths:
    """What the shaft is drawn from, in metres; ``cut`` is the one made, else the one proposed."""

    halves: tuple[float, float]
    closed: float
    cut: float
    proposed: bool
    unit: str

    def gap(self, distance: float) -> float:
        """How far it can still be pushed home."""
        return distance - (self.closed - self.cut)

    def overlap(self, distance: float) -> float:
        """How far the tubes reach into one another."""
        return self.halves[0] + self.halves[1] - 2 * self.cut - distance


def distances(facts: Facts) -> dict[str, Estimate]:
    """The distances that were read, by their places."""
    keys = [f"{turn}-{height}" for turn in TURNS for height in HEIGHTS]
    found = {key: reading(facts, "distance", key, TAPE) for key in keys}
    return {key: each for key, each in found.items() if each is not None}


def lengths_of(facts: Facts, read: Mapping[str, Estimate], unit: str) -> Lengths | None:
    """The lengths of the shaft: as measured, else by the machine data; None while they make no shaft."""
    data = facts.profile.driveline
    closed = measured_or(facts, "closed", "", data.closed)
    halves = (
        measured_or(facts, "half", "tractor", data.half_a),
        measured_or(facts, "half", "machine", data.half_b),
    )
    if closed is None or halves[0] is None or halves[1] is None:
        return None
    both = halves[0], halves[1]
    if not (0 < max(both) <= closed <= sum(both) < 1e3):
        return None
    made = sane(facts, "cut")
    if made is not None and 0 <= made < min(both):
        return Lengths(both, closed, made, False, unit)
    return Lengths(both, closed, _proposed(facts, read, closed, both, unit), True, unit)


def _proposed(
    facts: Facts, read: Mapping[str, Estimate], closed: float, halves: tuple[float, float], unit: str
) -> float:
    """The cut by the sums, once all nine places are read; else nothing."""
    if len(read) < len(TURNS) * len(HEIGHTS):
        return 0.0
    shortest, longest = (pick(read, key=lambda key: read[key].value) for pick in (min, max))
    doubt = max(read[shortest].doubt, read[longest].doubt)
    try:
        plan = planned(facts, Shaft(read, shortest, longest, closed, halves, doubt, unit))
    except Impossible:
        return 0.0
    return 0.0 if plan is None else max(0.0, plan.cut)
