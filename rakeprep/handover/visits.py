"""When somebody has to look at the machine again after the handover."""

from __future__ import annotations

import datetime as dt
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction

from rakeprep.calculations import Impossible, dates
from rakeprep.handover.paper import Paper
from rakeprep.jobs.chapters import kind_of
from rakeprep.text import Message, msg

HOUR = 3600  # seconds


@dataclass(frozen=True, slots=True)
class Visit:
    """A visit after so many hours of work; the day is an estimate, None where there can be none."""

    hours: int
    day: dt.date | None
    work: Message


def handed_over(paper: Paper) -> dt.date:
    """The day on which the customer took it over: as entered, else his signature's, else the paper's."""
    entered = paper.entry("handover", "start_date")
    if entered is not None:
        with suppress(ValueError):
            return dt.date.fromisoformat(entered.typed)
    signature = paper.record.signatures.get("customer")
    return (signature.at if signature else paper.printed_at).date()


def a_day(paper: Paper) -> Fraction:
    """Running time of a usual day in seconds: the customer's own, else what the machine data expect."""
    entry = paper.entry("handover", "hours_a_day")
    if entry is not None and entry.exact is not None and 0 < entry.exact <= 24 * HOUR:
        return entry.exact
    return Fraction(paper.profile.service.hours_a_day * HOUR)


def run_so_far(paper: Paper) -> tuple[Fraction, dt.date]:
    """Running time in seconds when it was last told, and the day from which the rest counts."""
    start, entry = handed_over(paper), paper.entry("visit", "hours")
    if entry is None or entry.exact is None or entry.exact <= 0:
        return Fraction(0), start
    return entry.exact, max(start, entry.at.date())


def follow_ups(paper: Paper) -> tuple[Visit, ...]:
    """The visits still to come by their hours, the first oil change among them."""
    service = paper.profile.service
    done = max(run_so_far(paper)[0] / HOUR, Fraction(kind_of(paper.record.chapter).hours))
    hours = sorted(each for each in {*service.visits, service.first_oil_change} if each > done)
    return tuple(
        Visit(each, day_of(paper, each), work(each, each >= service.first_oil_change)) for each in hours
    )


def day_of(paper: Paper, hours: int) -> dt.date | None:
    """The day on which the machine will have worked so long, at the customer's usual pace."""
    run, day = run_so_far(paper)
    try:
        return dates.follow_up(day, float(hours * HOUR - run), float(a_day(paper)))
    except Impossible:
        return None


def work(hours: int, oil_change: bool) -> Message:
    """What is done at a visit."""
    if oil_change:
        return msg("workshop: gearbox oil, all torques")
    if hours <= 2:
        return msg("you: nuts, bolts, leaks")
    return msg("you: nuts, pins, tines, hoses")
