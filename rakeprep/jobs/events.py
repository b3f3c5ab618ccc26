"""The events of a job as they lie in the store, and the record that follows from them.

Every event is a plain mapping with an ``is`` word; numbers that must be exact are text, so that the
hash chain never depends on how a machine writes a float.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict, replace
from fractions import Fraction
from typing import Any

from rakeprep.model.chapter import Chapter, Closing
from rakeprep.model.entry import Entry, How, Later, Slot
from rakeprep.model.instrument import OwnInstrument, instrument_key
from rakeprep.model.job import NAMES, Correction, Opening, Record, Signature, Stroke
from rakeprep.store.events import Stored

Body = Mapping[str, Any]
# Fraction would also take "1e999999999", a number in few letters that fills the memory.
EXACT = re.compile(r"-?[0-9]{1,400}(/[0-9]{1,400})?")
MISSHAPEN = (KeyError, TypeError, AttributeError, ArithmeticError)


def opened(opening: Opening) -> Body:
    """A job is opened."""
    return {"is": "opened", **asdict(opening), "opened": opening.opened.isoformat()}


def entered(entry: Entry) -> Body:
    """An answer is given."""
    body: dict[str, Any] = {
        "is": "entry",
        "slot": str(entry.slot),
        "how": entry.how.value,
        "typed": entry.typed,
        "who": entry.who,
    }
    optional = {
        "unit": entry.unit,
        "exact": "" if entry.exact is None else str(entry.exact),
        "division": "" if entry.division is None else str(entry.division),
        "instrument": entry.instrument,
        "reason": entry.reason,
    }
    return body | {key: value for key, value in optional.items() if value}


def confirmed(slot: Slot, of: int, who: str) -> Body:
    """A second person confirms the entry with number ``of``."""
    return {"is": "confirmed", "slot": str(slot), "of": of, "who": who}


def left_for_later(slot: Slot, reason: str, due: str, who: str) -> Body:
    """A question or a finding is left as an open point."""
    return {"is": "later", "slot": str(slot), "reason": reason, "due": due, "who": who}


def caution_read(step: str, who: str) -> Body:
    """The cautions of a step were read."""
    return {"is": "caution", "step": step, "who": who}


def instrument_known(own: OwnInstrument, who: str) -> Body:
    """An instrument is registered for the job, or has another calibration date now."""
    until = "" if own.until is None else own.until.isoformat()
    return {"is": "instrument", "name": own.name, "kind": own.kind, "until": until, "who": who}


def tractor_changed(name: str, text: str, reason: str, who: str) -> Body:
    """The job is for another tractor now."""
    return {"is": "tractor", "name": name, "text": text, "reason": reason, "who": who}


def name_corrected(of: str, was: str, became: str, reason: str, who: str) -> Body:
    """A name that was written wrong when the job was opened is put right."""
    return {"is": "name", "of": of, "was": was, "became": became, "reason": reason, "who": who}


def signed(signature: Signature) -> Body:
    """Somebody signed; coordinates in µm, time in ms, pressure in thousandths, all whole numbers."""
    strokes = [[[round(v * 1000) for v in point] for point in s.points] for s in signature.strokes]
    return {
        "is": "signature",
        "role": signature.role,
        "name": signature.name,
        "typed": signature.typed,
        "head": signature.head,
        "strokes": strokes,
    }


def sealed(sha256: str, name: str) -> Body:
    """The handover document is sealed."""
    return {"is": "sealed", "sha256": sha256, "name": name}


def chapter_begun(
    kind: str,
    who: str,
    reason: str,
    places: tuple[str, ...] = (),
    customer: str = "",
    tractor: tuple[str, str] | None = None,
) -> Body:
    """A new chapter begins, perhaps for another customer, or on another tractor (its name and data)."""
    body: dict[str, Any] = {"is": "chapter", "kind": kind, "who": who, "reason": reason}
    if places:
        body["places"] = list(places)
    if customer:
        body["customer"] = customer
    if tractor is not None:
        body |= {"tractor_name": tractor[0], "tractor_text": tractor[1]}
    return body


def fold(events: Iterable[Stored]) -> Record:
    """The record that a chain of events tells; raises ``ValueError`` unless it starts with the opening."""
    record: Record | None = None
    for event in events:
        record = begin(event) if record is None else fold_one(record, event)
    if record is None:
        raise ValueError("a job without its opening")
    return record


def begin(event: Stored) -> Record:
    """The record after the opening."""
    if event.body.get("is") != "opened":
        raise ValueError("a job without its opening")
    return Record(read_opening(event.body), count=event.seq, head=event.hash)


def fold_one(record: Record, event: Stored) -> Record:
    """The record after one more event; ``ValueError`` if it is misshapen, of a kind not known here, or behind
    the closing of a chapter."""
    kind = str(event.body.get("is"))
    if kind not in FOLDS:
        raise ValueError(f"unknown event {kind[:40]!r}")
    if record.sealed is not None and kind != "chapter":
        raise ValueError(f"event {event.seq} changes a chapter that is closed")
    try:
        after = FOLDS[kind](record, event.body, dt.datetime.fromisoformat(event.at), event.seq)
    except MISSHAPEN as error:
        raise ValueError(f"misshapen event {event.seq}") from error
    return replace(after, count=event.seq, head=event.hash)


def read_opening(body: Body) -> Opening:
    """The opening as stored; ``ValueError`` if it is misshapen."""
    kept = {key: value for key, value in body.items() if key != "is"}
    if not all(isinstance(value, bool if key == "sample" else str) for key, value in kept.items()):
        raise ValueError("misshapen opening")
    try:
        return Opening(**{**kept, "opened": dt.datetime.fromisoformat(body["opened"])})
    except MISSHAPEN as error:
        raise ValueError("misshapen opening") from error


def read_exact(text: str) -> Fraction:
    """An exact number as ``entered`` wrote it; ``ValueError`` for anything else."""
    if not EXACT.fullmatch(text):
        raise ValueError("no exact number")
    return Fraction(text)


def fold_entry(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """A new answer replaces the one before, takes an open point away, and lapses signatures."""
    slot = Slot.read(body["slot"])
    if not all(isinstance(value, str) for value in body.values()):
        raise TypeError("every part of an entry is text")
    entry = Entry(
        slot=slot,
        how=How(body["how"]),
        typed=body["typed"],
        who=body["who"],
        at=at,
        seq=seq,
        unit=body.get("unit", ""),
        exact=read_exact(body["exact"]) if "exact" in body else None,
        division=read_exact(body["division"]) if "division" in body else None,
        instrument=body.get("instrument", ""),
        reason=body.get("reason", ""),
    )
    history = dict(record.history)
    history[slot] = (*history.get(slot, ()), entry)
    later = {s: point for s, point in record.later.items() if s != slot}
    return replace(
        record, entries={**record.entries, slot: entry}, history=history, later=later, signatures={}
    )


def fold_confirmed(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """The second name stands as long as the entry it confirmed."""
    slot = Slot.read(body["slot"])
    entry = record.entries.get(slot)
    if entry is None or entry.seq != body["of"]:
        return record
    entry = replace(entry, confirmed_by=body["who"], confirmed_at=at)
    return replace(record, entries={**record.entries, slot: entry}, signatures={})


def fold_later(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """An open point is added; what was entered stays."""
    slot = Slot.read(body["slot"])
    point = Later(slot, body["reason"], body["due"], body["who"], at, seq)
    return replace(record, later={**record.later, slot: point}, signatures={})


def fold_caution(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """Who read the cautions of a step first."""
    return replace(record, cautions_read={body["step"]: body["who"], **record.cautions_read})


def fold_instrument(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """The latest that is said of an instrument counts; it may change what readings are worth."""
    name, kind, until = body["name"], body["kind"], body["until"]
    if not all(isinstance(value, str) for value in (name, kind, until)):
        raise TypeError("what is said of an instrument is text")
    own = OwnInstrument(name, kind, dt.date.fromisoformat(until) if until else None)
    return replace(record, instruments={**record.instruments, instrument_key(name): own}, signatures={})


def fold_tractor(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """The tractor changes; what rests on it becomes out of date."""
    opening = replace(record.opening, tractor_name=body["name"], tractor_text=body["text"])
    return replace(record, opening=opening, changes={**record.changes, "tractor": (seq, at)}, signatures={})


def fold_name(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """A name is another one from here on; the old one stays beside it, and everybody signs anew."""
    of, was, became, reason, who = (body[key] for key in ("of", "was", "became", "reason", "who"))
    if not all(isinstance(value, str) for value in body.values()):
        raise TypeError("every part of a correction is text")
    if of not in NAMES or was != getattr(record.opening, of):
        raise TypeError("no name that stood there")
    return replace(
        record,
        opening=replace(record.opening, **{of: became}),
        corrections=(*record.corrections, Correction(of, was, became, reason, who, at, seq)),
        signatures={},
    )


def fold_signature(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """One signature for each role; a later one replaces it."""
    strokes = tuple(
        Stroke(tuple((x / 1000, y / 1000, t / 1000, p / 1000) for x, y, t, p in stroke))
        for stroke in body["strokes"]
    )
    signature = Signature(body["role"], body["name"], at, body["head"], strokes, body["typed"], seq)
    return replace(record, signatures={**record.signatures, signature.role: signature})


def fold_sealed(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """A sealed document closes the chapter."""
    return replace(record, sealed=Closing(body["name"], body["sha256"], record.head, at))


def fold_chapter(record: Record, body: Body, at: dt.datetime, seq: int) -> Record:
    """A closed job is opened for one more chapter; what was entered stays, cautions are read anew."""
    if record.sealed is None:
        raise TypeError("a chapter can only follow a closed one")
    chapter = Chapter(
        kind=body["kind"],
        number=record.chapter.number + 1,
        seq=seq,
        who=body["who"],
        reason=body["reason"],
        begun=at,
        places=tuple(str(place) for place in body.get("places", ())),
        before=record.sealed,
    )
    after = replace(
        record,
        chapter=chapter,
        chapters=(*record.chapters, record.chapter),
        sealed=None,
        signatures={},
        cautions_read={},
    )
    if "customer" in body:
        after = replace(after, opening=replace(after.opening, customer=body["customer"]))
    if "tractor_text" in body:
        tractor = {"name": body["tractor_name"], "text": body["tractor_text"]}
        after = fold_tractor(after, tractor, at, seq)
    return after


FOLDS = {
    "entry": fold_entry,
    "confirmed": fold_confirmed,
    "later": fold_later,
    "caution": fold_caution,
    "instrument": fold_instrument,
    "tractor": fold_tractor,
    "name": fold_name,
    "signature": fold_signature,
    "sealed": fold_sealed,
    "chapter": fold_chapter,
}
