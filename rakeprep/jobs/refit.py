"""Another tractor under the same machine: what it would do to a job, before anybody decides."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from rakeprep.jobs.assess import assess
from rakeprep.jobs.open_job import OpenJob, understood
from rakeprep.jobs.starting import DataRefused, text_of
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import read_tractor
from rakeprep.steps import all_steps
from rakeprep.text import Message, joined, plural


@dataclass(frozen=True, slots=True)
class Refit:
    """Another tractor for a job: its name, the text of its file, and how many answers it touches.

    ``out_of_date`` answers have to be given again, ``dropped`` ones belong to questions that the new
    tractor does not raise, and ``added`` questions come with it.
    """

    name: str
    text: str
    out_of_date: int
    dropped: int
    added: int

    @property
    def says(self) -> Message:
        """What would happen, in words."""
        said = [
            plural(
                "On {tractor} one answer becomes out of date.",
                "On {tractor} {count} answers become out of date.",
                self.out_of_date,
                tractor=self.name,
            )
        ]
        if self.dropped:
            said.append(
                plural(
                    "One answer is to a question that it does not raise.",
                    "{count} answers are to questions that it does not raise.",
                    self.dropped,
                )
            )
        if self.added:
            said.append(plural("One question comes with it.", "{count} questions come with it.", self.added))
        return joined(said, " ")


def refit(job: OpenJob, file: Path) -> Refit:
    """What the tractor in a data file would do to a job; raises ``Refused`` or ``DataRefused``."""
    text = text_of(file)
    read = read_tractor(text, file.name)
    if read.mistakes:
        raise DataRefused(tuple(read.mistakes))
    assert read.value is not None
    record = job.record
    opening = replace(record.opening, tractor_name=read.value.name, tractor_text=text)
    changes = {**record.changes, "tractor": (record.count + 1, job.clock())}
    profile, tractor = understood(opening)
    after = assess(
        all_steps(),
        profile,
        tractor,
        replace(record, opening=opening, changes=changes),
        job.clock().date(),
    )
    before = job.assessment.states
    return Refit(
        read.value.name,
        text,
        sum(
            state.verdict is Verdict.OUT_OF_DATE
            and slot in record.entries
            and (slot not in before or before[slot].verdict is not Verdict.OUT_OF_DATE)
            for slot, state in after.states.items()
        ),
        sum(slot not in after.states for slot in before if slot in record.entries),
        sum(slot not in before for slot in after.states),
    )


def fit_on(job: OpenJob, found: Refit, reason: str, who: str) -> None:
    """Put the job on the tractor; raises ``Refused`` or ``StoreError``."""
    job.change_tractor(found.name, found.text, reason, who)
