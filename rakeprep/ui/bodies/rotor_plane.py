"""What the clearances of a rotor say: its plane, both tilts, and what the checks ask to be done."""

from __future__ import annotations

from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_known import Known, known
from rakeprep.text import msg
from rakeprep.ui.bodies.sheet import Sheet

ADJUSTERS = {
    "chassis_pins": msg("chassis pins"),
    "turnbuckle": msg("turnbuckle"),
    "crank": msg("height crank"),
}
PLANE_FIELDS = frozenset({"clearance", "floor"})


def known_of(sheet: Sheet, side: Side) -> Known | None:
    """The plane of a rotor and its tilts; None while too few places are read."""
    return known(sheet.facts("levelling"), side)


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
