"""What the clearances of a rotor say: its plane, both tilts, and what the checks ask to be done."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_advice import Tilt, front_rear, right_left
from rakeprep.steps._levelling_plane import Measured, measured
from rakeprep.text import msg
from rakeprep.ui.bodies.sheet import Sheet

ADJUSTERS = {
    "chassis_pins": msg("chassis pins"),
    "turnbuckle": msg("turnbuckle"),
    "crank": msg("height crank"),
}
PLANE_FIELDS = frozenset({"clearance", "floor"})


@dataclass(frozen=True)
class Known:
    """What the readings of a rotor say: its plane and both tilts."""

    plane: Measured
    front: Tilt | None
    right: Tilt | None


def known_of(sheet: Sheet, side: Side) -> Known | None:
    """The plane of a rotor and its tilts; None while too few places are read."""
    facts = sheet.facts("levelling")
    try:
        plane = measured(facts, side)
        return None if plane is None else Known(plane, front_rear(facts, plane), right_left(facts, plane))
    except Impossible:
        return None


def to_do(sheet: Sheet, side: Side) -> list[Finding]:
    """What the checks ask to be done on a rotor, the worst first, the same words once."""
    found = [
        finding
        for finding in sheet.job.assessment.findings
        if finding.step == "levelling"
        and finding.about[0].field in PLANE_FIELDS
        and finding.about[0].place.startswith(side.value)
        and finding.verdict is not Verdict.IN_ORDER
        and finding.todo is not None
    ]
    found.sort(key=lambda each: -each.verdict.rank)
    return list({each.todo: each for each in reversed(found)}.values())[::-1]


def widest_gap(hours: tuple[int, ...]) -> tuple[int, int, int]:
    """Where the clock is not read: the hour before, the hour after, and how many hours lie between."""
    order = sorted({hour % 12 for hour in hours})
    gaps = [(order[(n + 1) % len(order)] - hour) % 12 or 12 for n, hour in enumerate(order)]
    widest = max(range(len(gaps)), key=lambda n: gaps[n])
    return order[widest], (order[widest] + gaps[widest]) % 12, gaps[widest]
