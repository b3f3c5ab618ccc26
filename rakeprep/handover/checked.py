"""One thing that was looked at in a document, and what was found."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.text import Message


@dataclass(frozen=True, slots=True)
class Check:
    """``key`` names the check for machines; ``says`` is for people."""

    key: str
    ok: bool
    says: Message
