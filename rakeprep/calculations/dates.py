"""Days that must not be missed: the carrier's notice, re-tightening points, follow-up visits, calls."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Collection
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, positive
from rakeprep.text import msg

HOUR = 3600.0  # s
SATURDAY, SUNDAY = 5, 6
LONGEST_WAIT = 36_525  # days; a follow-up further off than a century is a typing error
LAST_YEAR = 9000


@dataclass(frozen=True, slots=True)
class RetorquePoint:
    """When to tighten again: after so much running, counted from fitting."""

    hours: int
    due: Annotated[float, "s"]
    by_distance: bool


def notice_last_day(
    delivered: dt.date, holidays: Collection[dt.date] = (), counted_days: int = 7, skip_sundays: bool = True
) -> dt.date:
    """Last day for written notice of damage that could not be seen at delivery.

    Counts from the day after delivery and leaves out Sundays and public holidays. Valid for
    international road carriage; home carriage may have other terms.

    Args:
        delivered: day of delivery.
        holidays: public holidays at the place.
        counted_days: how many days count, 1 to 366.
        skip_sundays: whether Sundays are left out.

    Returns:
        the last day on which notice is in time.

    Raises:
        Impossible: no or too many days, a delivery in the far future.

    Example:
        >>> notice_last_day(dt.date(2026, 4, 2), {dt.date(2026, 4, 3), dt.date(2026, 4, 6)}).isoformat()
        '2026-04-13'

    Source: CMR convention, article 30.
    """
    demand(1 <= counted_days <= 366, msg("The time for notice is 1 to 366 days."))
    _check_day(delivered)
    free = frozenset(holidays)
    day, left = delivered, counted_days
    while left:
        day = _later(day, 1)
        if day not in free and not (skip_sundays and day.weekday() == SUNDAY):
            left -= 1
    return day


def days_left(last_day: dt.date, today: dt.date) -> int:
    """Days from today to a last day.

    Args:
        last_day: the last day on which it is in time.
        today: the day to count from.

    Returns:
        0 on the day itself, below zero when it is past.

    Raises:
        nothing.

    Example:
        >>> days_left(dt.date(2026, 4, 13), dt.date(2026, 4, 10))
        3

    Source: arithmetic.
    """
    return (last_day - today).days


def retorque_points(
    speed: Annotated[float, "m/s"],
    hours: tuple[int, ...] = (1, 10, 50),
    first_distance: Annotated[float, "m"] = 50_000.0,
) -> tuple[RetorquePoint, ...]:
    """When wheel nuts are tightened again; the first point also comes by distance, whichever is first.

        due_1 = min( hours_1, distance / speed ) ; due_n = hours_n

    Args:
        speed: on the road, above zero [m/s].
        hours: running hours of the points, rising.
        first_distance: at which the first point is due at the latest, above zero [m].

    Returns:
        the points, each with its running time from fitting [s].

    Raises:
        Impossible: speed or distance not above zero, hours missing or not rising from above zero.

    Example:
        >>> [point.due / 3600 for point in retorque_points(25 / 3.6)]
        [1.0, 10.0, 50.0]

    Source: common practice.
    """
    positive(speed, msg("road speed"))
    positive(first_distance, msg("distance to the first tightening"))
    rising = all(a < b for a, b in zip((0, *hours), hours, strict=False))
    demand(bool(hours) and rising, msg("The hours for tightening again must rise from above zero."))
    by_road = first_distance / speed
    points = [RetorquePoint(each, each * HOUR, by_distance=False) for each in hours]
    if by_road < points[0].due:
        points[0] = RetorquePoint(hours[0], by_road, by_distance=True)
    return tuple(points)


def hours_from_area(area: Annotated[float, "m²"], rate: Annotated[float, "m²/s"]) -> Annotated[float, "s"]:
    """Working time of a machine without an hour meter, from the area worked: ``t = A / rate``.

    Args:
        area: worked, above zero [m²].
        rate: work rate, above zero [m²/s].

    Returns:
        working time [s].

    Raises:
        Impossible: an input not above zero.

    Example:
        >>> round(hours_from_area(280e4, 5.6e4 / 3600) / 3600)
        50

    Source: arithmetic.
    """
    positive(area, msg("area worked"))
    positive(rate, msg("work rate"))
    return area / rate


def follow_up(
    start: dt.date,
    running: Annotated[float, "s"],
    per_day: Annotated[float, "s"],
    latest_days: int | None = None,
) -> dt.date:
    """Day on which a machine reaches so much running time, or the calendar limit if that is earlier.

    The start day is the first working day, and every day counts.

        day = start + ceil( running / per_day ) - 1

    Args:
        start: first day of work.
        running: time until the visit is due, above zero [s].
        per_day: running time of a day, above zero and at most 24 h [s].
        latest_days: calendar limit in days after the start, or None.

    Returns:
        the earlier day.

    Raises:
        Impossible: times out of range, or a day more than a century away.

    Example:
        >>> follow_up(dt.date(2026, 5, 18), 50 * 3600, 6 * 3600).isoformat()
        '2026-05-26'

    Source: arithmetic.
    """
    positive(running, msg("running time"))
    positive(per_day, msg("running time of a day"))
    demand(per_day <= 24 * HOUR, msg("A day has no more than 24 hours."))
    _check_day(start)
    days = min(running / per_day, LONGEST_WAIT + 2.0)
    wait = math.ceil(round(days, 9)) - 1
    if latest_days is not None:
        demand(latest_days >= 0, msg("The calendar limit cannot lie before the start."))
        wait = min(wait, latest_days)
    return _later(start, max(wait, 0))


def call_day(visit: dt.date, holidays: Collection[dt.date] = (), working_days: int = 3) -> dt.date:
    """Day to ring the customer: so many working days before the visit (Monday to Friday, no holiday).

    Args:
        visit: day of the visit.
        holidays: public holidays.
        working_days: 0 to 366.

    Returns:
        the day to ring.

    Raises:
        Impossible: a number of days out of range.

    Example:
        >>> call_day(dt.date(2026, 5, 26)).isoformat()
        '2026-05-21'

    Source: arithmetic.
    """
    demand(0 <= working_days <= 366, msg("A call is planned 0 to 366 working days ahead."))
    free = frozenset(holidays)
    day, left = visit, working_days
    while left:
        demand(day > dt.date.min, msg("That day lies before the calendar begins."))
        day -= dt.timedelta(days=1)
        if day.weekday() < SATURDAY and day not in free:
            left -= 1
    return day


def _check_day(day: dt.date) -> None:
    demand(day.year <= LAST_YEAR, msg("The year {year} is a typing error.", year=day.year))


def _later(day: dt.date, days: int) -> dt.date:
    demand(days <= LONGEST_WAIT, msg("That day is more than a century away; look for a typing error."))
    return day + dt.timedelta(days=days)
