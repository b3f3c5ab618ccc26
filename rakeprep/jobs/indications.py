"""Readings that were taken with an instrument whose calibration had run out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.jobs.out_of_date import Asked
from rakeprep.model.entry import How, Slot
from rakeprep.model.finding import Finding
from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.model.job import Record
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg, verbatim

TODO = msg(
    "Measure again with an instrument that is in date; if this one was calibrated since, enter its new date."
)


def indications(question: Asked, record: Record) -> Iterator[Finding]:
    """A finding on every reading that is an indication only; its task is at best “measure again”.

    An instrument's newest date counts, for earlier readings too: a calibration that finds it right
    vouches for what was measured with it before.
    """
    for slot, _ in question.slots:
        own = used_at(slot, record)
        if own is not None and own.overdue(record.entries[slot].at.date()):
            yield indication(slot, own, record)


def used_at(slot: Slot, record: Record) -> OwnInstrument | None:
    """The instrument that the reading at an address was taken with, if it is known to the job."""
    entry = record.entries.get(slot)
    if entry is None or entry.how is not How.VALUE or not entry.instrument:
        return None
    known: Mapping[str, OwnInstrument] = record.instruments
    return known.get(instrument_key(entry.instrument))


def indication(slot: Slot, own: OwnInstrument, record: Record) -> Finding:
    """What is said of a reading with an overdue instrument."""
    says = msg(
        "{instrument} was calibrated until {until}: its reading of {day} is an indication only.",
        instrument=verbatim(own.name),
        until=own.until,
        day=record.entries[slot].at.date(),
    )
    return Finding(Verdict.MEASURE_AGAIN, (slot,), says, TODO)
