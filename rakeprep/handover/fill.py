"""A whole job without a screen: from an answers file to the signed document."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from rakeprep.handover import complete
from rakeprep.handover.keys import Seal
from rakeprep.jobs import answers as given
from rakeprep.jobs.answers import Answers
from rakeprep.jobs.assess import Obstacle, Readiness
from rakeprep.jobs.open_job import ROLE_WORDS, Clock, OpenJob, UnreadableData
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.refit import refit as refitted
from rakeprep.jobs.starting import DataRefused, new_job, text_of
from rakeprep.model.job import Record
from rakeprep.store.job_file import StoreError
from rakeprep.text import Language, Message, joined, msg, plural

Begun = tuple[OpenJob, Path | None]


@dataclass(slots=True)
class Outcome:
    """What came of it: the document, or every reason why there is none. ``job`` is kept either way."""

    document: Path | None = None
    job: Path | None = None
    reasons: list[Message] = field(default_factory=list)


def fill(
    machine: Path,
    tractor: Path,
    answers: Path,
    out: Path,
    *,
    open_seal: Callable[[], Seal],
    languages: Mapping[str, Language],
    clock: Clock,
    progress: Callable[[Message], None],
) -> Outcome:
    """Do the job of ``answers`` in ``out``; refusals, obstacles and errors all end up in the outcome.

    ``open_seal`` is only called once the job is ready; what it raises is passed on.
    """

    def begun(read: Answers) -> Begun:
        if read.chapter:
            raise Refused(
                msg("This file is for a later chapter; give it to “rakeprep chapter” with its job.")
            )
        return started(machine, tractor, read, out, clock), None

    return through(answers, begun, out, open_seal, languages, progress)


def fill_chapter(
    path: Path,
    answers: Path,
    out: Path,
    *,
    open_seal: Callable[[], Seal],
    languages: Mapping[str, Language],
    clock: Clock,
    progress: Callable[[Message], None],
) -> Outcome:
    """Do the next chapter of the closed job at ``path`` from a file of answers; otherwise as ``fill``."""

    def begun(read: Answers) -> Begun:
        if not read.chapter:
            raise Refused(msg("This file has no table [chapter], so nobody can tell what the visit is for."))
        job = OpenJob.resume(path, clock)
        try:
            document = complete.finished(job, out)  # of a run of this very file that was cut short
            if document is None or job.record.chapter.kind != read.chapter["kind"]:
                document = None
                begin_named(job, read, answers)
        except BaseException:
            job.close()
            raise
        return job, document

    return through(answers, begun, out, open_seal, languages, progress)


def begin_named(job: OpenJob, read: Answers, file: Path) -> None:
    """The same as ``begin``; a refusal names the place in the file."""
    try:
        begin(job, read.chapter, file.parent)
    except Refused as error:
        where = {"file": file.name, "line": read.chapter_line}
        raise Refused(msg("{file}, line {line}: {says}", **where, says=error.message)) from error


def begin(job: OpenJob, chapter: Mapping[str, str], beside: Path) -> None:
    """Begin the chapter of an answers file, or go on with it; a tractor's data file lies ``beside`` it."""
    places = tuple(word.strip() for word in chapter.get("places", "").split(",") if word.strip())
    if job.record.sealed is None and job.record.chapter.kind == chapter["kind"]:
        demand_begun_so(job.record, chapter, places)
        return
    tractor = None
    if chapter.get("tractor"):
        refit = refitted(job, beside / chapter["tractor"])
        tractor = (refit.name, refit.text)
    job.begin_chapter(
        chapter["kind"], chapter["who"], chapter["reason"], places, chapter.get("customer", ""), tractor
    )


def demand_begun_so(record: Record, chapter: Mapping[str, str], places: tuple[str, ...]) -> None:
    """Raise ``Refused`` if a visit under way began at other places or for another owner than a file says.

    A name that was corrected since may stand in the file as it was written first.
    """
    owners = [c.was for c in record.corrections if c.of == "customer" and c.seq > record.chapter.seq]
    said_owner = chapter.get("customer", "")
    began = {
        "places": (sorted(record.chapter.places), sorted(places)),
        "customer": ([record.opening.customer], [said_owner]),
    }
    for key, (was, said) in began.items():
        if chapter.get(key) and was != said and not (key == "customer" and said_owner in owners):
            raise Refused(
                msg(
                    "The visit under way began with {key} = “{was}”, which this file cannot change; write it "
                    "so in the file, or finish that visit first.",
                    key=key,
                    was=", ".join(was),
                )
            )


def through(
    answers: Path,
    begun: Callable[[Answers], Begun],
    out: Path,
    open_seal: Callable[[], Seal],
    languages: Mapping[str, Language],
    progress: Callable[[Message], None],
) -> Outcome:
    """From a file of answers through an open job to the document in ``out``, unless that is there."""
    outcome = Outcome()
    try:
        read = given.read_answers(text_of(answers))
        if read.mistakes:
            outcome.reasons.extend(named(answers, mistake) for mistake in read.mistakes)
            return outcome
        opened, document = begun(read)
        with opened as job:
            outcome.job = job.file.path
            if document is not None:
                outcome.document = document
                return outcome
            progress(
                plural(
                    "Job {job}: one answer is entered …",
                    "Job {job}: {count} answers are entered …",
                    len(read.given),
                    job=job.record.opening.job,
                )
            )
            outcome.reasons.extend(named(answers, refusal) for refusal in given.apply(read, job))
            outcome.reasons.extend(standing(job))
            if not outcome.reasons:
                outcome.reasons.extend(named(answers, refusal) for refusal in given.sign(read, job))
                outcome.reasons.extend(unsigned(job))
            if not outcome.reasons:
                outcome.document = complete.hand_over(job, open_seal(), out, languages, progress)
    except (Refused, StoreError, UnreadableData, DataRefused) as error:
        outcome.reasons.append(error.message)
    return outcome


def started(machine: Path, tractor: Path, read: Answers, out: Path, clock: Clock) -> OpenJob:
    """The job of an answers file, just begun."""
    return new_job(
        out,
        machine,
        tractor,
        customer=read.job["customer"],
        order=read.job["order"],
        technician=read.job["technician"],
        screen_language=read.job.get("screen_language", "en"),
        paper_language=read.job.get("paper_language", "en"),
        clock=clock,
    )


def named(file: Path, message: Message) -> Message:
    """A sentence with the file it speaks of."""
    return msg("{file}: {says}", file=file.name, says=message)


def standing(job: OpenJob) -> list[Message]:
    """What stands between the job and the customer, worst first."""
    gate = job.assessment.gate
    if gate.readiness is not Readiness.NOT_READY:
        return []
    return [line_of(o) for o in sorted(gate.obstacles, key=lambda o: -o.verdict.rank)]


def line_of(obstacle: Obstacle) -> Message:
    """One obstacle with its verdict and address."""
    return msg(
        "{verdict}: {says} [{slot}]",
        verdict=obstacle.verdict.word,
        says=obstacle.says,
        slot=str(obstacle.slot),
    )


def unsigned(job: OpenJob) -> list[Message]:
    """Who has not signed."""
    missing = job.missing_signatures()
    if not missing:
        return []
    return [msg("Not signed yet by: {roles}.", roles=joined([ROLE_WORDS[r] for r in missing]))]
