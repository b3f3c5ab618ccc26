"""Each entry carries the hash of the one before it, so a later change shows.

A chain without a secret does not stop someone who rewrites all of it; what makes it hold is the last
hash on signed paper, for which ``short_code`` gives the printed form.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence

from rakeprep.store.canonical import canonical
from rakeprep.store.events import Stored
from rakeprep.text import Message, msg

__all__ = ["GENESIS", "canonical", "check_chain", "fingerprint", "link", "short_code"]

GENESIS = "0" * 64
SHORT = 16


def link(previous: str, body: Mapping[str, object]) -> str:
    """SHA-256 (FIPS 180-4) over ``previous`` as ASCII and the canonical bytes of ``body``, in hex."""
    return hashlib.sha256(previous.encode("ascii") + canonical(body)).hexdigest()


def fingerprint(previous: str, seq: int, at: str, body: Mapping[str, object]) -> str:
    """The hash of one entry: ``link`` over a mapping of ``seq``, ``at`` and ``body``."""
    return link(previous, {"seq": seq, "at": at, "body": body})


def check_chain(events: Sequence[Stored]) -> Message | None:
    """None if every entry follows from the one before it, else a sentence naming the first that does not.

    Entries missing at the end do not show here; compare the last hash with the printed code.
    """
    previous = GENESIS
    for place, event in enumerate(events, 1):
        problem = _check(event, place, previous)
        if problem is not None:
            return problem
        previous = event.hash
    return None


def short_code(head: str) -> str:
    """The first 16 hex digits in groups of four, for paper: ``1A2B-3C4D-5E6F-7081``."""
    digits = head[:SHORT].upper()
    return "-".join(digits[i : i + 4] for i in range(0, len(digits), 4))


def _check(event: Stored, place: int, previous: str) -> Message | None:
    if event.seq != place:
        return msg(
            "Entry {place} is missing from the record: entry {seq} stands in its place.",
            place=place,
            seq=event.seq,
        )
    if event.previous != previous:
        return msg(
            "Entry {seq} does not follow from the entry before it: something was taken out, put in or "
            "changed between them.",
            seq=event.seq,
        )
    if event.hash != _worked_out(event):
        return msg("Entry {seq} was changed after it was stored.", seq=event.seq)
    return None


def _worked_out(event: Stored) -> str | None:
    try:
        return fingerprint(event.previous, event.seq, event.at, event.body)
    except (TypeError, ValueError):
        return None
