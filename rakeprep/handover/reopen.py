"""A job brought back from its document, to be read on another computer."""

from __future__ import annotations

from pathlib import Path

from rakeprep.handover.attached import ENTRIES, Unattached, read_attached
from rakeprep.handover.verify import Outcome, Report, verify_read
from rakeprep.jobs import events
from rakeprep.jobs.open_job import Clock
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.starting import free_name
from rakeprep.store.events import load
from rakeprep.store.job_file import JobFile
from rakeprep.text import Message, msg


def bring_back(file: Path, folder: Path, roots: list[bytes], clock: Clock) -> tuple[Path, Report]:
    """The job of the document ``file``, as a job for reading in ``folder``; gives its path and the check.

    Only a document that is unchanged is brought back, whether or not its seal is known here. Pictures stay
    where the job was made; the small ones are in the document, which is kept with the job. Raises
    ``Refused`` or ``StoreError``.
    """
    report, pdf = verify_read(file, roots)
    if report.outcome is Outcome.NOT_VERIFIED:
        wrong = next((check.says for check in report.checks if not check.ok), report.outcome.word)
        raise Refused(msg("{file} is not brought back: {why}", file=file.name, why=wrong))
    try:
        stored = load(read_attached(pdf, (ENTRIES,))[ENTRIES])
        name = events.fold(stored).opening.job
    except (Unattached, ValueError) as error:
        reason = str(getattr(error, "message", None) or error)
        raise Refused(msg("{file} cannot be read: {reason}", file=file.name, reason=reason)) from error
    _, path = free_name(folder, name)
    JobFile.restore(path, stored, file.name, pdf, clock).close()
    return path, report


def brought(path: Path, report: Report) -> list[Message]:
    """What to tell about a job that was brought back."""
    said = [msg("The job is in {file}. It can be read here, not changed.", file=str(path))]
    if report.outcome is Outcome.UNKNOWN_SEAL:
        said.append(
            msg(
                "The document is unchanged, but this computer does not know the workshop that sealed it: "
                "“{workshop}”.",
                workshop=report.workshop,
            )
        )
    return said
