"""The papers beside the handover document, from a job or from data files, into a folder."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from rakeprep.handover.files import HandoverError, file_name, kept
from rakeprep.handover.form_blocks import Forms, OtherPaper
from rakeprep.handover.paper import Paper
from rakeprep.jobs.assess import assess
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.starting import DataRefused, text_of
from rakeprep.model.job import Opening, Record
from rakeprep.profiles import read_profile, read_tractor
from rakeprep.steps import all_steps
from rakeprep.store.chain import short_code
from rakeprep.text import ENGLISH, Language, Message, joined, msg, verbatim


class Which(StrEnum):
    """Which paper."""

    FORMS = "forms"
    STICKERS = "stickers"
    PARTS = "parts"
    CSV = "csv"


WHICH_WORDS = {
    Which.FORMS: msg("Forms to fill in"),
    Which.STICKERS: msg("Stickers for cab and machine"),
    Which.PARTS: msg("Parts that are missing, wrong or damaged"),
    Which.CSV: msg("All entries as a table for the office (CSV)"),
}


@dataclass(frozen=True, slots=True)
class Wish:
    """What is wanted: which paper, and of the forms which steps (none: all), perhaps only what is missing."""

    which: Which
    steps: tuple[str, ...] = ()
    missing: bool = False


def of_job(job: OpenJob, language: Language) -> Paper:
    """The job as it stands now; nobody has to be ready, and nothing is changed."""
    record, assessment = job.record, job.assessment
    return Paper(record, assessment, job.profile, job.tractor, language, short_code(record.head), job.clock())


def of_data(machine: Path, tractor: Path, language: Language, clock: Callable[[], dt.datetime]) -> Paper:
    """A machine on a tractor without a job; raises ``DataRefused`` or ``Refused``."""
    texts = text_of(machine), text_of(tractor)
    profile, power = read_profile(texts[0], machine.name), read_tractor(texts[1], tractor.name)
    mistakes = (*profile.mistakes, *power.mistakes)
    if mistakes:
        raise DataRefused(mistakes)
    assert profile.value is not None
    assert power.value is not None
    now = clock()
    opening = Opening(
        "", now, "", "", "", profile.value.name, texts[0], power.value.name, texts[1], "en", language.code
    )
    record = Record(opening)
    judged = assess(all_steps(), profile.value, power.value, record, now.date())
    return Paper(record, judged, profile.value, power.value, language, "", now)


def from_files(
    job: Path | None,
    data: tuple[Path | None, Path | None],
    wish: Wish,
    folder: Path,
    language: str,
    known: Mapping[str, Language],
    clock: Callable[[], dt.datetime],
) -> Path:
    """Write a paper of a job's file, or of the data of a machine and a tractor; gives its path.

    An empty ``language`` is the job's own. Raises ``Refused``, ``DataRefused``, ``StoreError`` or
    ``UnreadableData``.
    """
    chosen = language_of(language, known) if language else None
    machine, tractor = data
    if job is not None and machine is None and tractor is None:
        with OpenJob.resume(job, clock, read_only=True) as opened:
            if opened.file.problem is not None:
                raise Refused(opened.file.problem)
            own = known.get(opened.record.opening.paper_language, ENGLISH)
            return write(of_job(opened, chosen or own), wish, folder)
    if job is None and machine is not None and tractor is not None:
        return write(of_data(machine, tractor, chosen or ENGLISH, clock), wish, folder)
    raise Refused(msg("Name the file of a job, or --profile and --tractor together."))


def language_of(code: str, known: Mapping[str, Language]) -> Language:
    """A language of the paper by its code; raises ``Refused``."""
    found = known.get(code)
    if found is None:
        codes = joined([verbatim(each) for each in known])
        raise Refused(msg("There is no language “{code}”; choose from: {known}.", code=code, known=codes))
    return found


def made(paper: Paper, wish: Wish) -> bytes:
    """The bytes of a paper; raises ``Refused`` where nothing can be on it. Any thread may call it."""
    if wish.which is not Which.FORMS and not paper.record.opening.job:
        raise Refused(msg("This paper is made from a job; name its file."))
    match wish.which:
        case Which.CSV:
            from rakeprep.handover.table_file import table

            return table(paper)
        case Which.FORMS:
            return pdf(forms_of(paper, wish.steps, wish.missing))
        case Which.STICKERS:
            from rakeprep.handover.stickers import stickers

            return pdf(stickers(paper))
        case Which.PARTS:
            from rakeprep.handover.parts_wanted import parts

            return pdf(parts(paper))


def forms_of(paper: Paper, steps: Sequence[str], missing: bool) -> Forms:
    """The forms; raises ``Refused`` for an unknown step, or where nothing is left to fill in."""
    from rakeprep.handover.blank_forms import forms

    known = [step.key for step in paper.assessment.steps]
    for key in steps:
        if key not in known:
            keys = joined([verbatim(each) for each in known])
            raise Refused(msg("There is no step “{key}”; choose from: {known}.", key=key[:60], known=keys))
    found = forms(paper, steps, missing)
    if not found.steps:
        raise Refused(
            msg("Nothing is missing here, so there is no form to fill in.")
            if missing
            else msg("This step asks nothing of this machine, so there is no form.")
        )
    return found


def pdf(paper: OtherPaper) -> bytes:
    """The pages as PDF/A-3a and PDF/UA-1; nobody signs them."""
    from rakeprep.handover.archive import finish
    from rakeprep.handover.other_layout import lay_out
    from rakeprep.handover.quiet import short_pauses

    with short_pauses():
        pages, tree = lay_out(paper)
        about = paper.margins
        return finish(pages, (), about.title, about.language, about.made, tree=tree, to_sign=False)


def keep(folder: Path, data: bytes, paper: Paper, wish: Wish) -> Path:
    """Write a paper into a folder, never over another file; raises ``Refused``."""
    try:
        return kept(folder, stem(paper, wish), data, ".csv" if wish.which is Which.CSV else ".pdf")
    except HandoverError as error:
        raise Refused(unwritable(error, folder)) from error


def stem(paper: Paper, wish: Wish) -> str:
    """The name of the file without its ending: which paper, of which job or machine."""
    of = re.sub("-+", "-", file_name(paper.record.opening.job or paper.profile.name).partition("-")[2])
    one = f"-{wish.steps[0]}" if len(wish.steps) == 1 else ""
    kind = "entries" if wish.which is Which.CSV else wish.which.value
    return f"{kind}{one}-{of}"


def unwritable(error: HandoverError, folder: Path) -> Message:
    """The sentence for a paper that cannot be written."""
    cause = error.__cause__
    reason = (cause.strerror or str(cause)) if isinstance(cause, OSError) else str(error)
    return msg(
        "The paper cannot be written in {folder}; the system reports: {reason}. Choose another folder.",
        folder=str(folder),
        reason=reason,
    )


def write(paper: Paper, wish: Wish, folder: Path) -> Path:
    """Make a paper and keep it; raises ``Refused``."""
    return keep(folder, made(paper, wish), paper, wish)
