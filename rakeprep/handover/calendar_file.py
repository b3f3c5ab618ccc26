"""The visits after the handover as a calendar file (RFC 5545)."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterator

from rakeprep.handover.paper import Paper
from rakeprep.handover.visits import Visit, follow_ups
from rakeprep.text import msg

LONGEST = 75  # octets of a line without its end (RFC 5545, 3.1)
SPOKEN = ("SUMMARY", "DESCRIPTION")
PRODUCT = "-//rakeprep//handover record//EN"


def calendar(paper: Paper) -> bytes:
    """One entry of a whole day for each visit; the same job gives the same bytes."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN"]
    for visit in follow_ups(paper):
        if visit.day is not None:
            lines.extend(event(paper, visit, visit.day))
    lines.append("END:VCALENDAR")
    return b"".join(folded(line) + b"\r\n" for line in lines)


def days(file: bytes) -> list[str]:
    """All lines of a calendar file but those that speak to people, in whatever language."""
    lines = file.replace(b"\r\n ", b"").decode("utf-8").split("\r\n")
    return [line for line in lines if not line.startswith(SPOKEN)]


def event(paper: Paper, visit: Visit, day: dt.date) -> Iterator[str]:
    """One visit. The day is an estimate, so the time of the customer stays free."""
    machine, opening = paper.profile.machine.name, paper.record.opening
    summary = msg("{machine}: visit after {hours} h of work", machine=machine, hours=visit.hours)
    about = msg(
        "{work}. The day is an estimate; the hours of work count. Job {job}, record code {code}.",
        work=visit.work,
        job=opening.job,
        code=paper.code,
    )
    yield "BEGIN:VEVENT"
    yield f"UID:{identity(paper, visit)}"
    yield f"DTSTAMP:{paper.printed_at.astimezone(dt.UTC):%Y%m%dT%H%M%SZ}"
    yield f"DTSTART;VALUE=DATE:{day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{day + dt.timedelta(days=1):%Y%m%d}"
    yield f"SUMMARY:{escaped(paper.say(summary))}"
    yield f"DESCRIPTION:{escaped(paper.say(about))}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def identity(paper: Paper, visit: Visit) -> str:
    """The same for a visit of a job whenever it is written, so that a later file moves the entry."""
    opening = paper.record.opening
    words = "\n".join((opening.job, opening.opened.isoformat(), str(visit.hours)))
    return f"{hashlib.sha256(words.encode('utf-8')).hexdigest()[:32]}@rakeprep"


def escaped(text: str) -> str:
    """Text as a value (RFC 5545, 3.3.11)."""
    for sign in ("\\", ";", ","):
        text = text.replace(sign, f"\\{sign}")
    return text.replace("\n", "\\n")


def folded(line: str) -> bytes:
    """A line in pieces of at most ``LONGEST`` octets; no character is parted."""
    pieces, piece = [], b""
    for char in line:
        octets = char.encode("utf-8")
        if len(piece) + len(octets) > LONGEST:
            pieces.append(piece)
            piece = b" "
        piece += octets
    return b"\r\n".join((*pieces, piece))
