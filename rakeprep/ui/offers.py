"""What an editor of numbers is offered: instruments that fit, and the reading of the place before."""

from __future__ import annotations

from rakeprep.jobs.answered import with_unit
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.own_instruments import NEVER, calibrated_until, fitting, together
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.ui.fields.written import Number
from rakeprep.ui.session import Session


def offer_all(editor: Number, session: Session, job: OpenJob, slot: Slot) -> None:
    """Offer everything there is for a task."""
    offer_instruments(editor, session, job)
    last = reading_before(job, slot)
    if last is not None and editor.entry is None:
        editor.offer_same(last.typed, last.unit, with_unit(job.tasks[slot].field, last))


def offer_instruments(editor: Number, session: Session, job: OpenJob) -> None:
    """Offer the instruments of the job and of this computer that measure what is asked."""
    kind = editor.task.field.instrument
    if kind:
        editor.offer(fitting(together(session.known_instruments(), job.record.instruments), kind))


def reading_before(job: OpenJob, slot: Slot) -> Entry | None:
    """The reading that was entered last for the same question at another place."""
    entries = (job.record.value(Slot(slot.step, slot.field, place.key)) for place in job.field(slot).places)
    return max((e for e in entries if e is not None), key=lambda e: e.seq, default=None)


def register_named(name: str, session: Session, job: OpenJob) -> None:
    """Make an instrument of this computer known to the job before it is used there; raises ``Refused``."""
    key = instrument_key(name)
    own = session.known_instruments().get(key) if name else None
    if own is not None and key not in job.record.instruments:
        job.register(own, session.who)


def keep_used(entry: Entry, kind: str, session: Session, job: OpenJob) -> None:
    """Remember what was measured with, and in which unit."""
    if not entry.instrument:
        return
    session.instruments[kind] = entry.instrument
    own = job.record.instruments.get(instrument_key(entry.instrument))
    if own is not None:
        session.used(own, entry.unit)


def ask_instrument(name: str, kind: str, session: Session, job: OpenJob) -> str | None:
    """Ask for an instrument and register it; gives its name. Raises ``Refused`` or ``StoreError``."""
    known = together(session.known_instruments(), job.record.instruments)
    own = known.get(instrument_key(name), OwnInstrument(name, kind))
    until = own.until.isoformat() if own.until is not None else ""
    if until == "" and instrument_key(name) in known:
        until = NEVER
    given = session.dialogs.instrument(own.name, own.kind, until)
    if given is None:
        return None
    asked = OwnInstrument(given[0], given[1], calibrated_until(given[2]))
    job.register(asked, session.who)
    registered = job.record.instruments[instrument_key(asked.name)]
    session.used(registered)
    return registered.name
