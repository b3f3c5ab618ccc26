"""What each command does; all that is heavy is imported when it is asked for."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from rakeprep import paths
from rakeprep.cli import seals
from rakeprep.cli.surroundings import (
    DONE,
    FAILED,
    NO_DISPLAY,
    data,
    display,
    known_languages,
    now,
    put,
    say,
    say_all,
    say_error,
)
from rakeprep.text import ENGLISH, msg

if TYPE_CHECKING:
    from rakeprep.handover.fill import Outcome

NOTHING_WRONG = msg(
    "Nothing is another name than what stands there; give --customer, --order or --technician."
)


def window(asked: argparse.Namespace) -> int:
    """Open the window."""
    if not display():
        say_error(NO_DISPLAY)
        return FAILED
    from rakeprep.ui.app import run

    return run(data())


def run_demo(asked: argparse.Namespace) -> int:
    """The sample job."""
    from rakeprep.handover import demo

    out: Path = asked.out
    if display() and not asked.headless:
        from rakeprep.jobs.reading import Refused
        from rakeprep.store.job_file import StoreError

        try:
            job = demo.half_done(paths.sample_profiles(), out / "jobs", now)
        except (Refused, StoreError) as error:
            say_error(error.message)
            return FAILED
        from rakeprep.ui.app import run

        return run(out.absolute(), job)
    from rakeprep.handover.quiet import one_act

    with one_act():
        outcome = demo.demo(paths.sample_profiles(), out.absolute(), known_languages(), now, say)
    if outcome.document is None:
        say_all(outcome.reasons)
        return FAILED
    say(msg("Document: {file}", file=str(outcome.document)))
    return verified(outcome.document, out.absolute() / "seal", as_json=False)


def run_fill(asked: argparse.Namespace) -> int:
    """A whole job from an answers file."""
    from rakeprep.handover.fill import fill

    return filled(asked, partial(fill, asked.profile, asked.tractor, asked.answers))


def run_chapter(asked: argparse.Namespace) -> int:
    """A later chapter of a job from an answers file."""
    from rakeprep.handover.fill import fill_chapter

    return filled(asked, partial(fill_chapter, asked.job, asked.answers))


def filled(asked: argparse.Namespace, work: Callable[..., Outcome]) -> int:
    """Do what leads from answers to a document, and say what came of it."""
    from rakeprep.handover import keys
    from rakeprep.handover.quiet import one_act

    folder: Path = asked.seal or data() / "seal"
    try:
        with one_act():
            outcome = work(
                asked.out.absolute(),
                open_seal=lambda: keys.load(folder, seals.passphrase(asked.passphrase_file)),
                languages=known_languages(),
                clock=now,
                progress=say,
            )
    except keys.SealError as error:
        say_error(error.message)
        return FAILED
    if outcome.document is None:
        say_all(outcome.reasons)
        return FAILED
    say(msg("Document: {file}", file=str(outcome.document)))
    return DONE


def run_open(asked: argparse.Namespace) -> int:
    """Bring a job back from its document, and show it where there is a display."""
    from rakeprep.handover import keys
    from rakeprep.handover.reopen import bring_back, brought
    from rakeprep.jobs.reading import Refused
    from rakeprep.store.job_file import StoreError

    home = data()
    try:
        roots = list(keys.trusted(asked.seal or home / "seal"))
        path, report = bring_back(asked.file, asked.out or home / "brought-back", roots, now)
    except (Refused, StoreError) as error:
        say_error(error.message)
        return FAILED
    say_all(brought(path, report), sys.stdout)
    if asked.out is not None or not display():
        return report.code
    from rakeprep.ui.app import run

    return run(home, path)


def run_tractor(asked: argparse.Namespace) -> int:
    """Put an open job on another tractor, and say what that makes out of date."""
    from rakeprep.jobs.open_job import OpenJob, UnreadableData
    from rakeprep.jobs.reading import Refused
    from rakeprep.jobs.refit import fit_on, refit
    from rakeprep.jobs.starting import DataRefused
    from rakeprep.store.job_file import StoreError

    try:
        with OpenJob.resume(asked.job, now) as job:
            found = refit(job, asked.tractor)
            fit_on(job, found, asked.reason, asked.who)
    except (Refused, DataRefused, UnreadableData, StoreError) as error:
        say_error(error.message)
        return FAILED
    say(found.says)
    return DONE


def run_names(asked: argparse.Namespace) -> int:
    """Put names right that were written wrong when a job was opened."""
    from rakeprep.jobs.names import NAME_WORDS, correct_names
    from rakeprep.jobs.open_job import OpenJob, UnreadableData
    from rakeprep.jobs.reading import Refused
    from rakeprep.store.job_file import StoreError

    given = {of: getattr(asked, of) for of in NAME_WORDS}
    try:
        with OpenJob.resume(asked.job, now) as job:
            done = correct_names(job, given, asked.reason, asked.who)
            if not done:
                raise Refused(NOTHING_WRONG)
    except (Refused, UnreadableData, StoreError) as error:
        say_error(error.message)
        return FAILED
    for each in done:
        say(msg("{name}: {was} → {became}", name=NAME_WORDS[each.of], was=each.was, became=each.became))
    return DONE


def run_verify(asked: argparse.Namespace) -> int:
    """Check a handover document."""
    return verified(asked.file, asked.seal or data() / "seal", asked.json)


def verified(file: Path, seal: Path, as_json: bool) -> int:
    """Check a document and print the answer."""
    from rakeprep.handover import keys
    from rakeprep.handover.verify import verify_file

    report = verify_file(file, keys.trusted(seal))
    if as_json:
        put([json.dumps(report.to_json(), ensure_ascii=False, indent=2)], sys.stdout)
    else:
        put(report.lines(ENGLISH), sys.stdout)
    return report.code


def run_paper(asked: argparse.Namespace) -> int:
    """Write one of the papers beside the document."""
    from rakeprep.handover import papers
    from rakeprep.jobs.open_job import UnreadableData
    from rakeprep.jobs.reading import Refused
    from rakeprep.jobs.starting import DataRefused
    from rakeprep.store.job_file import StoreError

    if asked.paper == "document":
        return run_document(asked)
    wish = papers.Wish(papers.Which(asked.paper), tuple(asked.step), asked.missing)
    data = (asked.profile, asked.tractor)
    try:
        path = papers.from_files(
            asked.job, data, wish, asked.out.absolute(), asked.language, known_languages(), now
        )
    except (Refused, DataRefused, StoreError, UnreadableData) as error:
        say_error(error.message)
        return FAILED
    say(msg("Written: {file}", file=str(path)))
    return DONE


def run_document(asked: argparse.Namespace) -> int:
    """Write the documents of a closed job once more."""
    from rakeprep.handover.complete import written_again
    from rakeprep.jobs.open_job import OpenJob, UnreadableData
    from rakeprep.jobs.reading import Refused
    from rakeprep.store.job_file import StoreError

    try:
        if asked.job is None:
            raise Refused(msg("This paper is made from a job; name its file."))
        with OpenJob.resume(asked.job, now, read_only=True) as job:
            paths = written_again(job, asked.out.absolute())
    except (Refused, StoreError, UnreadableData) as error:
        say_error(error.message)
        return FAILED
    for path in paths:
        say(msg("Written: {file}", file=str(path)))
    return DONE


def run_check(asked: argparse.Namespace) -> int:
    """List every mistake in data files."""
    from rakeprep.profiles import ProfileError, load_text, read_either

    code = DONE
    for path in asked.files:
        try:
            read = read_either(load_text(path), str(path))
        except ProfileError as error:
            say_error(error.message)
            code = FAILED
            continue
        put([str(mistake.lines()) for mistake in (*read.mistakes, *read.conflicts)], sys.stdout)
        if read.mistakes:
            code = FAILED
        elif read.conflicts:
            say(msg("{file}: usable; the values above are printed twice and differ.", file=str(path)))
        else:
            say(msg("{file}: no mistakes.", file=str(path)))
    return code


def run_calc(asked: argparse.Namespace) -> int:
    """Work one sum out."""
    from rakeprep.sums.command import run

    out: list[str] = []
    err: list[str] = []
    code = run(asked.words, asked.json, out.append, err.append, ENGLISH.say)
    put(out, sys.stdout)
    put(err, sys.stderr)
    return code
