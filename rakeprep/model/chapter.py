"""A job in its chapters: the handover first, then every later visit."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

HANDOVER = "handover"


@dataclass(frozen=True, slots=True)
class Closing:
    """How a chapter ended: its sealed document, and the head of the chain that is printed on it."""

    name: str
    sha256: str
    head: str
    at: dt.datetime


@dataclass(frozen=True, slots=True)
class Chapter:
    """One chapter of a job.

    ``kind`` is a key of ``jobs.chapters.KINDS``; ``seq`` the number of the entry that began it (0 for the
    handover); ``before`` how the chapter before it ended. ``places`` narrows what is asked again to
    these codes, such as the one arm that was exchanged.
    """

    kind: str = HANDOVER
    number: int = 1
    seq: int = 0
    who: str = ""
    reason: str = ""
    begun: dt.datetime | None = None
    places: tuple[str, ...] = ()
    before: Closing | None = None


FIRST = Chapter()
