"""The carrier's notice: its last day, and whether it was sent in time."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.dates import days_left, notice_last_day
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.finding import Finding
from rakeprep.model.source import Source, SourceKind
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import day_of
from rakeprep.steps._reading import cannot_tell
from rakeprep.text import msg

CMR = Source(SourceKind.LAW, msg("CMR convention, Art. 30"))


def holidays_of(text: str) -> tuple[frozenset[dt.date], bool]:
    """The days of a list, and whether every word of it was one."""
    words = [word for word in re.split(r"[,;\s]+", text[:4000]) if word]
    days = [day_of(word) for word in words]
    return frozenset(day for day in days if day is not None), None not in days


def findings(facts: Facts, damaged: bool) -> Iterable[Finding]:
    """Tell the last day for the carrier's notice, and whether it was kept."""
    delivered = day_of(facts.text("delivered"))
    if delivered is None:
        return
    about = (facts.slot("delivered"), facts.slot("notice_sent"), facts.slot("holidays"))
    if delivered > facts.today:
        says = msg("The day of delivery, {day}, is still to come.", day=delivered)
        yield Finding(Verdict.MEASURE_AGAIN, about, says, msg("Look at the date again."))
        return
    holidays, readable = holidays_of(facts.text("holidays"))
    if not readable:
        says = msg("A word in the list of holidays is no date.")
        yield Finding(
            Verdict.MEASURE_AGAIN,
            (facts.slot("holidays"),),
            says,
            msg("Write each like 2026-04-03, with commas between."),
        )
    try:
        last = notice_last_day(delivered, holidays)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    yield judged_notice(facts, about, last, len(holidays), damaged)


def judged_notice(
    facts: Facts, about: tuple[Slot, ...], last: dt.date, holidays: int, damaged: bool
) -> Finding:
    """The finding about the last day; only damage makes a missed one a fault."""
    working = (
        msg(
            "Seven days from the day after delivery, without Sundays and {holidays} holidays entered. "
            "Haulage within one country may have shorter terms.",
            holidays=holidays,
        ),
    )
    sent = day_of(facts.text("notice_sent"))
    left = days_left(last, facts.today)
    if sent is not None and sent <= last:
        says = msg("Notice sent in time; the last day was {day}.", day=last)
        return Finding(Verdict.IN_ORDER, about, says, None, working, CMR)
    if sent is not None:
        says = msg("Notice sent too late; the last day was {day}.", day=last)
        return Finding(Verdict.PUT_RIGHT, about, says, msg("The office settles this."), working, CMR)
    if left < 0:
        says = msg("The last day for notice to the carrier was {day}.", day=last)
        verdict = Verdict.PUT_RIGHT if damaged else Verdict.IN_ORDER
        todo = msg("The office settles this.") if damaged else None
        return Finding(verdict, about, says, todo, working, CMR)
    says = msg("Last day for notice of hidden damage to the carrier: {day}.", day=last)
    todo = msg("Send it in writing and enter the day.")
    if damaged:
        return Finding(Verdict.PUT_RIGHT, about, says, todo, working, CMR)
    return Finding(Verdict.IN_ORDER, about, says, None, working, CMR)
