"""The instruments of a job on paper: which they are, until when they count, and what was read with them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from rakeprep.calculations.instruments import INSTRUMENTS
from rakeprep.handover import blocks
from rakeprep.handover.paper import NOTHING, Paper
from rakeprep.model.entry import Entry, How
from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.model.job import Record
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg, plural


@dataclass(frozen=True, slots=True)
class Used:
    """An instrument with its readings; ``own`` is None where nothing but its name is known."""

    name: str
    own: OwnInstrument | None
    readings: int
    overdue: int


def instruments_used(record: Record) -> list[Used]:
    """Every instrument of a job by its name: those registered, and those only named with a reading."""
    read: dict[str, list[Entry]] = defaultdict(list)
    for entry in record.entries.values():
        if entry.instrument and entry.how is How.VALUE:
            read[instrument_key(entry.instrument)].append(entry)
    names = {key: entries[0].instrument for key, entries in read.items()}
    names |= {key: own.name for key, own in record.instruments.items()}
    found = []
    for key, name in sorted(names.items()):
        own = record.instruments.get(key)
        late = [e for e in read[key] if own is not None and own.overdue(e.at.date())]
        found.append(Used(name, own, len(read[key]), len(late)))
    return found


def instruments(paper: Paper) -> Iterator[blocks.Block]:
    """A heading and a table of the instruments; nothing where none was named."""
    rows = tuple(row(paper, used) for used in instruments_used(paper.record))
    if not rows:
        return
    yield blocks.Heading(2, paper.say(msg("Instruments")))
    header = (msg("number"), msg("kind"), msg("calibrated until"), msg("readings"))
    yield blocks.Table(tuple(paper.say(h) for h in header), rows, (44, 62, 34, 36))


def row(paper: Paper, used: Used) -> tuple[blocks.Cell, ...]:
    """One instrument; the mark stands where readings are an indication only."""
    kind = INSTRUMENTS.get(used.own.kind) if used.own is not None else None
    late = (
        paper.say(
            plural("one of them an indication only", "{count} of them an indication only", used.overdue)
        )
        if used.overdue
        else ""
    )
    return (
        blocks.Cell(paper.user(used.name), strong=True),
        blocks.Cell(NOTHING if kind is None else paper.say(kind.name)),
        blocks.Cell(until(paper, used.own), verdict=Verdict.MEASURE_AGAIN if late else None),
        blocks.Cell(str(used.readings), (late,) if late else ()),
    )


def until(paper: Paper, own: OwnInstrument | None) -> str:
    """The last day of the calibration in words."""
    if own is None:
        return paper.say(msg("not stated"))
    return paper.say(msg("none asked")) if own.until is None else paper.day(own.until)
