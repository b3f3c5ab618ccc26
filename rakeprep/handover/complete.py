"""The last act: from a job that is ready and signed to one sealed file that has been checked."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from rakeprep.handover.attached import CALENDAR, ENTRIES, FINDINGS, MACHINE, TRACTOR
from rakeprep.handover.calendar_file import calendar
from rakeprep.handover.document import Paper, build
from rakeprep.handover.fields import CUSTOMER, TECHNICIAN
from rakeprep.handover.files import (
    HandoverError,
    discard,
    free_name,
    kept,
    named,
    put_down,
    sha256_of,
    stem_of,
    unwritable,
    waiting,
)
from rakeprep.handover.findings import findings_file, judged_on
from rakeprep.handover.keys import Seal, SealError
from rakeprep.handover.quiet import short_pauses
from rakeprep.handover.seal import Signer, seal
from rakeprep.handover.verify import Outcome, verify
from rakeprep.jobs.assess import Assessment, Readiness
from rakeprep.jobs.open_job import ROLE_WORDS, OpenJob, judge
from rakeprep.model.field import Ask
from rakeprep.model.job import Record
from rakeprep.store.chain import short_code
from rakeprep.store.errors import StoreError
from rakeprep.store.events import Stored, dump
from rakeprep.text import ENGLISH, Language, Message, joined, msg

if TYPE_CHECKING:
    from rakeprep.handover.archive import Attachment

Progress = Callable[[Message], None]


@dataclass(frozen=True, slots=True)
class Draft:
    """All that a document is made from, taken from the job at one moment: no thread needs the job for it."""

    stored: tuple[Stored, ...]
    paper: Paper
    when: dt.datetime


def hand_over(
    job: OpenJob, seal_of: Seal, folder: Path, languages: Mapping[str, Language], progress: Progress
) -> Path:
    """Make, seal, check and keep the handover document of a job; gives its path.

    Takes a few seconds; a window calls ``draft``, ``sealed`` on another thread, then ``keep``. Raises
    ``HandoverError``; then nothing is left half-written and the job stays open. A handover that was cut
    short after the job was closed is finished.
    """
    path = finished(job, folder)
    if path is None:
        path = keep(job, sealed(draft(job, languages), seal_of, progress), folder)
    progress(msg("Handed over: {file}", file=path.name))
    return path


def draft(job: OpenJob, languages: Mapping[str, Language]) -> Draft:
    """Take everything out of a job that is ready and signed; raises ``HandoverError`` if it is not."""
    demand_ready(job)
    stored = tuple(job.file.events())
    day, today = judged_on(stored), job.clock().date()
    record, assessment = (job.record, job.assessment) if day == today else judge(stored, day)
    paper = Paper(
        record,
        assessment,
        job.profile,
        job.tractor,
        languages.get(record.opening.paper_language, ENGLISH),
        short_code(record.head),
        max(signature.at for signature in record.signatures.values()),
        photos=pictures(job, record, assessment),
    )
    return Draft(stored, paper, job.clock())


def sealed(drawn: Draft, seal_of: Seal, progress: Progress) -> bytes:
    """The document with both seals, checked; raises ``HandoverError``. Any thread may call it."""
    with short_pauses():
        progress(msg("The document is being written …"))
        pdf = unsealed(drawn, seal_of.workshop)
        progress(msg("The document is being sealed …"))
        pdf = with_seals(pdf, drawn, seal_of)
        progress(msg("The document is being checked …"))
        demand_verified(pdf, seal_of)
    return pdf


def keep(job: OpenJob, pdf: bytes, folder: Path) -> Path:
    """Write the document into a folder and close the job with it; raises ``HandoverError``.

    It lies there whole under a passing name before the job is closed with it, and gets its own name after.
    So wherever this is cut short, the job is open and has no document, or is closed and has it inside.
    """
    demand_open(job)
    part, stem = waiting(job, folder), stem_of(job)
    try:
        put_down(part, pdf)
        name = free_name(folder, stem).name
    except OSError as error:
        discard(part)
        raise HandoverError(unwritable(error, folder)) from error
    try:
        job.close_with(pdf, name)
    except BaseException as error:
        discard(part)
        if isinstance(error, StoreError):
            raise HandoverError(error.message) from error
        raise
    return named(part, folder / name)


def finished(job: OpenJob, folder: Path) -> Path | None:
    """The document of a closed job of which only the last act was cut short, with its name now."""
    closing, part = job.record.sealed, waiting(job, folder)
    if closing is None or not part.is_file() or sha256_of(part) != closing.sha256:
        return None
    return named(part, folder / closing.name)


def written_again(job: OpenJob, folder: Path) -> tuple[Path, ...]:
    """The documents of all closed chapters, byte for byte as they were sealed; raises ``HandoverError``.

    One that lies in the folder already is left there.
    """
    closings = [event.body for event in job.file.events() if event.body.get("is") == "sealed"]
    if not closings:
        raise HandoverError(msg("Nothing of this job is handed over yet, so it has no document."))
    return tuple(again(folder, str(body["name"]), job.file.blob(str(body["sha256"]))) for body in closings)


def again(folder: Path, name: str, pdf: bytes) -> Path:
    """One document, where it is not there already."""
    path = folder / name
    if path.is_file() and sha256_of(path) == hashlib.sha256(pdf).hexdigest():
        return path
    return kept(folder, path.stem, pdf)


def demand_open(job: OpenJob) -> None:
    """Raise ``HandoverError`` if the job is closed already."""
    if job.record.sealed:
        raise HandoverError(
            msg("This job is handed over already; its document is {file}.", file=job.record.sealed.name)
        )


def demand_ready(job: OpenJob) -> None:
    """Raise ``HandoverError`` unless the gate lets the job through and all three have signed."""
    demand_open(job)
    gate = job.assessment.gate
    if gate.readiness is Readiness.NOT_READY:
        first = gate.obstacles[0].says
        raise HandoverError(
            msg("Not ready: {obstacle} Settle this first, then everybody signs.", obstacle=first)
        )
    missing = job.missing_signatures()
    if missing:
        roles = joined([ROLE_WORDS[role] for role in missing])
        raise HandoverError(msg("Not signed yet by: {roles}. Let them sign, then hand over.", roles=roles))


def unsealed(drawn: Draft, workshop: str) -> bytes:
    """The document up to its signatures; the same job gives the same bytes, wherever it is made."""
    from rakeprep.handover.archive import finish
    from rakeprep.handover.layout import lay_out

    paper = replace(drawn.paper, workshop=workshop)
    language = paper.language
    document = build(paper)
    laid = lay_out(document)
    labels = {role: language.say(ROLE_WORDS[role]) for role in (TECHNICIAN, CUSTOMER)}
    files = attachments(drawn.stored, paper)
    return finish(
        laid.pdf, files, document.title, document.language, document.made, laid.boxes, labels, laid.tree
    )


def pictures(job: OpenJob, record: Record, assessment: Assessment) -> dict[str, bytes]:
    """The pictures of a job by their SHA-256; one that cannot be had is left out."""
    found = {}
    for state in assessment.states.values():
        entry = record.value(state.task.slot)
        if state.task.field.ask is Ask.PHOTO and entry is not None:
            with suppress(KeyError, StoreError):
                found[entry.typed] = job.file.blob(entry.typed)
    return found


def attachments(stored: Sequence[Stored], paper: Paper) -> list[Attachment]:
    """The files inside the document from which everything on it can be worked out again, and the visits."""
    from rakeprep.handover.archive import Attachment

    opening, language = paper.record.opening, paper.language
    about = {
        ENTRIES: ("application/x-ndjson", msg("all entries in their order, each with its check sum")),
        FINDINGS: ("application/json", msg("what the checks said")),
        MACHINE: ("text/plain", msg("machine data as used")),
        TRACTOR: ("text/plain", msg("tractor data as used")),
        CALENDAR: ("text/calendar", msg("the next visits for a calendar")),
    }
    data = {
        ENTRIES: dump(stored),
        FINDINGS: findings_file(stored, (paper.record, paper.assessment)),
        MACHINE: opening.profile_text.encode("utf-8"),
        TRACTOR: opening.tractor_text.encode("utf-8"),
        CALENDAR: calendar(paper),
    }
    return [
        Attachment(name, media_type, data[name], language.say(says))
        for name, (media_type, says) in about.items()
    ]


def with_seals(pdf: bytes, drawn: Draft, seal_of: Seal) -> bytes:
    """The document with the technician's and the customer's seal."""
    say, signatures = drawn.paper.language.say, drawn.paper.record.signatures
    signers = [
        Signer(signatures[role].name, say(ROLE_WORDS[role]), say(reason))
        for role, reason in (
            ("technician", msg("prepared and measured as recorded")),
            ("customer", msg("received with the open points listed; signed on the workshop's device")),
        )
    ]
    try:
        return seal(pdf, seal_of, signers[0], signers[1], drawn.when)
    except SealError as error:
        raise HandoverError(error.message) from error


def demand_verified(sealed: bytes, seal_of: Seal) -> None:
    """Raise ``HandoverError`` unless the document passes the check that anybody can make later."""
    report = verify(sealed, [seal_of.root], second_opinion=False)
    if report.outcome is not Outcome.VERIFIED:
        wrong = next((check.says for check in report.checks if not check.ok), report.outcome.word)
        raise HandoverError(
            msg("The finished document did not pass its own check and was not kept: {why}", why=wrong)
        )
