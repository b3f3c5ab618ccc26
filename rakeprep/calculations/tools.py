"""Whether a torque tool still counts: certificate date, pulls since then, and what a reading is worth."""

from __future__ import annotations

import calendar
import datetime as dt
from dataclasses import dataclass

from rakeprep.calculations import demand
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, plural

MONTHS = 12
PULLS = 5000
LONGEST = 120  # months; a longer interval is a typing error


@dataclass(frozen=True, slots=True)
class ToolState:
    """Last day it counts, pulls and days left (None where not known), and what its reading is worth."""

    due: dt.date
    days_left: int
    pulls_left: int | None
    indication_only: bool
    verdict: Verdict
    says: Message


def due_date(certified: dt.date, months: int = MONTHS) -> dt.date:
    """Last day on which a certificate still counts.

    The same day of the month some months later, or the last day of a shorter month.

    Args:
        certified: day of the certificate.
        months: how long it counts, 1 to 120.

    Returns:
        the day.

    Raises:
        Impossible: a number of months outside that range, or a day beyond the calendar.

    Example:
        >>> due_date(dt.date(2024, 2, 29))
        datetime.date(2025, 2, 28)

    Source: calendar; twelve months is the interval of ISO 6789 where a workshop has none of its own.
    """
    demand(1 <= months <= LONGEST, msg("A certificate counts for at least one and at most 120 months."))
    demand(certified.year < 9900, msg("The day lies beyond any calendar in use."))
    count = certified.year * 12 + certified.month - 1 + months
    year, month = divmod(count, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return dt.date(year, month + 1, min(certified.day, last))


def tool_state(
    certified: dt.date | None,
    today: dt.date,
    pulls: int | None = None,
    months: int = MONTHS,
    most_pulls: int = PULLS,
) -> ToolState | None:
    """Whether a tool is still in its interval, by time or by pulls, whichever ends first.

    An overdue tool may still be used, but its reading is only an indication and the record says so.

    Args:
        certified: day of the certificate; None if there is none.
        today: the day of use.
        pulls: since the certificate, where somebody counts them.
        months: interval in months.
        most_pulls: interval in pulls.

    Returns:
        the :class:`ToolState`, or None where there is no certificate at all (treat as overdue).

    Raises:
        Impossible: a certificate dated after today, pulls below zero, an interval below one.

    Example:
        >>> state = tool_state(dt.date(2025, 3, 1), dt.date(2026, 4, 14))
        >>> state.indication_only, state.due.isoformat()
        (True, '2026-03-01')

    Source: ISO 6789, 12 months or 5000 pulls unless the workshop's own control says otherwise.
    """
    if certified is None:
        return None
    demand(certified <= today, msg("The certificate is dated later than today."))
    demand(pulls is None or pulls >= 0, msg("A count of pulls cannot be below zero."))
    demand(most_pulls >= 1, msg("An interval of pulls is at least one."))
    due = due_date(certified, months)
    days = (due - today).days
    left = None if pulls is None else most_pulls - pulls
    if days < 0:
        says = msg("Overdue since {day}: its readings count as an indication only.", day=due)
        return ToolState(due, days, left, True, Verdict.OUT_OF_DATE, says)
    if left is not None and left < 0:
        says = plural(
            "{count} pull beyond its interval: its readings count as an indication only.",
            "{count} pulls beyond its interval: its readings count as an indication only.",
            -left,
        )
        return ToolState(due, days, left, True, Verdict.OUT_OF_DATE, says)
    says = msg("Its certificate counts to {day}.", day=due)
    return ToolState(due, days, left, False, Verdict.IN_ORDER, says)
