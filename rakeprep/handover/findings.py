"""What the checks said when a job was handed over, in one form that can be compared later."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

import rakeprep
from rakeprep.jobs.assess import Assessment
from rakeprep.jobs.open_job import judge
from rakeprep.model.job import Record
from rakeprep.store.canonical import canonical
from rakeprep.store.events import Stored

# The edition of the checks is told beside the findings: another edition may rightly judge otherwise.
EDITION = getattr(rakeprep, "__version__", "")


def judged_on(stored: Sequence[Stored]) -> dt.date:
    """The day of the last signature, or of the last entry where nobody has signed; raises ``ValueError``."""
    signatures = [event for event in stored if event.body.get("is") == "signature"]
    for event in (signatures or list(stored))[-1:]:
        return dt.datetime.fromisoformat(event.at).date()
    raise ValueError("no entries")


def canonical_findings(record: Record, assessment: Assessment, day: dt.date) -> dict[str, object]:
    """Findings, open points and readiness in English, sorted, with the chain's head they follow from."""
    gate = assessment.gate
    return {
        "program": EDITION,
        "head": record.head,
        "entries": record.count,
        "judged_on": day.isoformat(),
        "readiness": gate.readiness.value,
        "findings": _sorted(
            {"slot": str(found.about[0]), "verdict": found.verdict.value, "says": str(found.says)}
            for found in assessment.findings
        ),
        "open_points": _sorted(
            {
                "slot": str(point.slot),
                "says": str(point.says),
                "reason": point.reason,
                "due": point.due,
                "who": point.who,
                "bars": ", ".join(sorted(str(use.value) for use in point.bars)),
            }
            for point in gate.open_points
        ),
    }


def findings_of(stored: Sequence[Stored]) -> dict[str, object]:
    """Judge a chain of entries anew as on the day of its last signature; raises what ``judge`` raises."""
    day = judged_on(stored)
    return canonical_findings(*judge(stored, day), day)


def findings_file(stored: Sequence[Stored], judged: tuple[Record, Assessment] | None = None) -> bytes:
    """The attached file ``findings.json`` for a chain of entries, ``judged`` on that day already or not."""
    told = findings_of(stored) if judged is None else canonical_findings(*judged, judged_on(stored))
    return canonical(told) + b"\n"


def _sorted(rows: Iterable[dict[str, str]]) -> list[dict[str, str]]:
    return sorted(rows, key=lambda row: tuple(row.values()))
