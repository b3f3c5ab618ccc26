"""A new job from two data files."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from rakeprep.jobs.given_words import check_name, check_order
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.model.job import Opening
from rakeprep.profiles import Mistake, ProfileError, load_text, read_profile, read_tractor
from rakeprep.store.job_file import SUFFIX
from rakeprep.text import Message, msg


class DataRefused(Exception):
    """A data file with mistakes; ``message`` names the first, ``mistakes`` has all of them."""

    def __init__(self, mistakes: tuple[Mistake, ...]) -> None:
        first = mistakes[0]
        self.mistakes = mistakes
        self.message = msg(
            "{file}, line {line}: {says} Run “rakeprep profile check” on it to see every mistake.",
            file=first.file,
            line=first.line,
            says=first.says,
        )
        super().__init__(str(self.message))


def new_job(
    folder: Path,
    machine: Path,
    tractor: Path,
    *,
    customer: str,
    order: str,
    technician: str,
    clock: Callable[[], datetime],
    screen_language: str = "en",
    paper_language: str = "en",
) -> OpenJob:
    """Begin a job in ``folder``; raises ``DataRefused``, ``Refused`` or ``StoreError``."""
    machine_text, tractor_text = text_of(machine), text_of(tractor)
    profile, power = read_profile(machine_text, machine.name), read_tractor(tractor_text, tractor.name)
    mistakes = (*profile.mistakes, *power.mistakes)
    if mistakes:
        raise DataRefused(mistakes)
    assert profile.value is not None
    assert power.value is not None
    number = check_order(order)
    job, path = free_name(folder, number)
    opening = Opening(
        job=job,
        opened=clock(),
        technician=check_name(technician),
        customer=check_name(customer),
        order=number,
        profile_name=profile.value.name,
        profile_text=machine_text,
        tractor_name=power.value.name,
        tractor_text=tractor_text,
        screen_language=screen_language,
        paper_language=paper_language,
        sample=profile.value.machine.invented,
    )
    return OpenJob.start(path, opening, clock)


def text_of(path: Path) -> str:
    """The text of a data file; raises ``Refused``."""
    try:
        return load_text(path)
    except ProfileError as error:
        raise Refused(error.message) from error


def free_name(folder: Path, order: str) -> tuple[str, Path]:
    """A name for the job from its order number that no other job in the folder has."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refused(cannot_make(folder, error)) from error
    plain = unicodedata.normalize("NFKD", order).encode("ascii", "ignore").decode()
    base = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-") or "job"
    for number in range(1, 10_000):
        name = base if number == 1 else f"{base}-{number}"
        path = folder / f"{name}{SUFFIX}"
        if not path.exists():
            return name, path
    raise Refused(msg("There are too many jobs called {name}; choose another order number.", name=base))


def cannot_make(folder: Path, error: OSError) -> Message:
    """Why a folder cannot be made."""
    reason = error.strerror or type(error).__name__
    return msg(
        "The folder {folder} cannot be made: {reason}. Choose another one.", folder=str(folder), reason=reason
    )
