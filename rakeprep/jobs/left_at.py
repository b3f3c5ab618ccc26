"""Where a job was left: the task that was open, and what was being typed.

A small file of the program's, one a job, written whenever somebody moves on or types; what was entered is
in the job itself. A file that cannot be read or written costs no more than the reminder.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from rakeprep.jobs.answered import shown_value
from rakeprep.jobs.assess import Task
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.job import Record
from rakeprep.text import Message, msg

LONGEST_FILE = 200_000  # bytes
BLOCK = 1024  # bytes; the file keeps its length from one key to the next
Drafts = Mapping[Slot, tuple[str, str]]


@dataclass(frozen=True, slots=True)
class LeftAt:
    """The task that was open, every text that was typed and not stored, with its unit, and every reason
    for a change that was given before the change."""

    slot: Slot | None = None
    drafts: Drafts = field(default_factory=dict)
    reasons: Mapping[Slot, str] = field(default_factory=dict)


def file_for(folder: Path, job: Path) -> Path:
    """The file in which it is kept where a job was left."""
    return folder / "left" / f"{job.stem}.json"


def write(file: Path, job: str, left: LeftAt) -> None:
    """Keep where a job is left; quietly nothing where that is not possible.

    ``job`` is the hash of the job's first entry: another job of the same name was not left there.
    """
    told = {
        "job": job,
        "slot": "" if left.slot is None else str(left.slot),
        "drafts": {str(slot): list(draft) for slot, draft in left.drafts.items()},
        "reasons": {str(slot): reason for slot, reason in left.reasons.items()},
    }
    text = json.dumps(told).encode()
    whole = text.ljust(-(-len(text) // BLOCK) * BLOCK)
    with suppress(OSError):
        if not file.exists():
            file.parent.mkdir(parents=True, exist_ok=True)
            file.touch()
        # Written over in place: a new file under an old name costs several milliseconds, at each key.
        with file.open("r+b") as stream:
            stream.write(whole)
            stream.truncate()


def read(file: Path, job: str) -> LeftAt:
    """Where a job was left; nothing for a file that is missing or damaged."""
    try:
        with file.open("rb") as stream:
            text = stream.read(LONGEST_FILE + 1)
        told = json.loads(text) if len(text) <= LONGEST_FILE else {}
        if told["job"] != job:
            return LeftAt()
        slot = Slot.read(told["slot"]) if told["slot"] else None
        drafts = {Slot.read(at): (str(typed), str(unit)) for at, (typed, unit) in told["drafts"].items()}
        reasons = {Slot.read(at): str(reason) for at, reason in told.get("reasons", {}).items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return LeftAt()
    return LeftAt(slot, drafts, reasons)


def last_done(record: Record, tasks: Mapping[Slot, Task]) -> Entry | None:
    """The entry that was made last, of those that are asked on this machine."""
    known = (entry for slot, entry in record.entries.items() if slot in tasks)
    return max(known, key=lambda entry: entry.seq, default=None)


def you_were_here(task: Task, last: Entry | None, tasks: Mapping[Slot, Task]) -> Message:
    """Where somebody was when a job was left, and what was entered last."""
    here = msg("You were here: {task}.", task=named(task))
    if last is None:
        return here
    if last.slot == task.slot:
        here = msg("You were here.")
    return msg(
        "{here} Last done {at}: {task} = {value}.",
        here=here,
        at=f"{last.at.astimezone():%H:%M}",
        task=named(tasks[last.slot]),
        value=shown_value(tasks[last.slot].field, last),
    )


def named(task: Task) -> Message:
    """A task by its question and place."""
    if not task.place.key:
        return task.field.label
    return msg("{field}, {place}", field=task.field.label, place=task.place.name)
