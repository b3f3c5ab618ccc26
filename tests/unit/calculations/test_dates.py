"""Days of notice, re-tightening points, follow-up, calls."""

from __future__ import annotations

import datetime as dt
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.dates import (
    HOUR,
    call_day,
    days_left,
    follow_up,
    hours_from_area,
    notice_last_day,
    retorque_points,
)

DAYS = st.dates(dt.date(2000, 1, 1), dt.date(2100, 1, 1))
THURSDAY = dt.date(2026, 4, 2)
GOOD_FRIDAY, EASTER_MONDAY = dt.date(2026, 4, 3), dt.date(2026, 4, 6)


def test_that_the_last_day_of_notice_skips_sundays_and_holidays() -> None:
    # Counted by hand on the calendar after CMR, article 30: 4, 7, 8, 9, 10, 11, 13 April.
    assert notice_last_day(THURSDAY, {GOOD_FRIDAY, EASTER_MONDAY}) == dt.date(2026, 4, 13)
    # Without Good Friday as a holiday: 3, 4, 7, 8, 9, 10, 11 April.
    assert notice_last_day(THURSDAY, [EASTER_MONDAY]) == dt.date(2026, 4, 11)


def test_that_sundays_may_count_under_other_terms() -> None:
    # By hand: seven plain days after 2 April.
    assert notice_last_day(THURSDAY, skip_sundays=False) == dt.date(2026, 4, 9)


@settings(max_examples=100)
@given(DAYS, st.sets(st.integers(0, 30), max_size=8))
def test_that_exactly_seven_counted_days_lie_up_to_the_last_one(
    delivered: dt.date, offsets: set[int]
) -> None:
    holidays = {delivered + dt.timedelta(days=each) for each in offsets}
    last = notice_last_day(delivered, holidays)
    # Second method: count the days of the span that are neither Sunday nor holiday.
    span = [delivered + dt.timedelta(days=n) for n in range(1, (last - delivered).days + 1)]
    counted = [day for day in span if day.isoweekday() != 7 and day not in holidays]
    assert len(counted) == 7
    assert counted[-1] == last


def test_that_days_left_count_down_to_zero_and_below() -> None:
    last = dt.date(2026, 4, 13)  # by hand
    assert days_left(last, dt.date(2026, 4, 10)) == 3
    assert days_left(last, last) == 0
    assert days_left(last, dt.date(2026, 4, 14)) == -1


def test_that_wheel_nuts_are_due_after_one_hour_at_road_speed() -> None:
    # Invented: 50 km at 25 km/h take 2 h, so the hour comes first; at 80 km/h 37.5 min come first. By hand.
    slow = retorque_points(25 / 3.6)
    assert [point.due / HOUR for point in slow] == [1, 10, 50]
    assert not any(point.by_distance for point in slow)
    fast = retorque_points(80 / 3.6)
    assert fast[0].due / 60 == pytest.approx(37.5)
    assert fast[0].by_distance
    assert fast[0].hours == 1


@pytest.mark.parametrize(
    ("hours", "per_day", "latest", "expected"),
    [
        # 18 May 2026 at 6 h a day, counted by hand on the calendar.
        (10, 6, None, dt.date(2026, 5, 19)),
        (50, 6, None, dt.date(2026, 5, 26)),
        (1, 6, None, dt.date(2026, 5, 18)),
        (12, 6, None, dt.date(2026, 5, 19)),
        (50, 1, 30, dt.date(2026, 6, 17)),
        (50, 6, 30, dt.date(2026, 5, 26)),
        (50, 6, 0, dt.date(2026, 5, 18)),
    ],
)
def test_that_follow_up_is_the_earlier_of_hours_and_calendar(
    hours: float, per_day: float, latest: int | None, expected: dt.date
) -> None:
    assert follow_up(dt.date(2026, 5, 18), hours * HOUR, per_day * HOUR, latest) == expected


@settings(max_examples=100)
@given(DAYS, st.floats(0.1, 500), st.floats(0.5, 24))
def test_that_the_running_time_is_reached_on_that_day_and_not_before(
    start: dt.date, hours: float, per_day: float
) -> None:
    day = follow_up(start, hours * HOUR, per_day * HOUR)
    before = (day - start).days
    assert before * per_day <= hours + 1e-6
    assert (before + 1) * per_day >= hours - 1e-6


def test_that_280_hectares_at_5_6_hectares_an_hour_are_50_hours() -> None:
    # By hand.
    assert hours_from_area(280e4, 5.6e4 / HOUR) / HOUR == pytest.approx(50)


def test_that_a_call_comes_three_working_days_ahead() -> None:
    # Tuesday 26 May 2026; back over the weekend by hand: 25, 22, 21 May; with the 25th a holiday one more.
    assert call_day(dt.date(2026, 5, 26)) == dt.date(2026, 5, 21)
    assert call_day(dt.date(2026, 5, 26), [dt.date(2026, 5, 25)]) == dt.date(2026, 5, 20)
    assert call_day(dt.date(2026, 5, 26), working_days=0) == dt.date(2026, 5, 26)


@settings(max_examples=100)
@given(DAYS, st.integers(1, 20))
def test_that_the_call_agrees_with_numpys_working_days(visit: dt.date, days: int) -> None:
    numpy = pytest.importorskip("numpy")
    # Second method: numpy counts the working days from the call up to the visit.
    assert numpy.busday_count(call_day(visit, working_days=days), visit) == days


def test_that_impossible_times_are_refused() -> None:
    day, never = dt.date(2026, 5, 18), dt.date(9999, 12, 30)
    for refused in (
        lambda: notice_last_day(day, counted_days=0),
        lambda: notice_last_day(day, counted_days=10**9),
        lambda: notice_last_day(never),
        lambda: retorque_points(0.0),
        lambda: retorque_points(1.0, first_distance=0.0),
        lambda: retorque_points(1.0, hours=()),
        lambda: retorque_points(1.0, hours=(10, 1)),
        lambda: retorque_points(1.0, hours=(0, 1)),
        lambda: hours_from_area(0.0, 1.0),
        lambda: hours_from_area(1.0, 0.0),
        lambda: follow_up(day, 0.0, HOUR),
        lambda: follow_up(day, HOUR, math.inf),
        lambda: follow_up(day, HOUR, 25 * HOUR),
        lambda: follow_up(day, 1e300, HOUR),
        lambda: follow_up(day, HOUR, HOUR, -1),
        lambda: follow_up(never, HOUR, HOUR),
        lambda: call_day(day, working_days=-1),
        lambda: call_day(dt.date.min),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_each_point_of_tightening_names_its_hours_and_what_comes_first() -> None:
    # by hand: 50 km at 25 km/h are 2 h, at 50 km/h exactly 1 h, at 100 km/h half an hour
    slow = retorque_points(25 / 3.6, (1, 10))
    assert [(p.hours, p.due / HOUR, p.by_distance) for p in slow] == [(1, 1.0, False), (10, 10.0, False)]
    assert retorque_points(50_000.0 / HOUR, (1, 10))[0].by_distance is False
    fast = retorque_points(100_000.0 / HOUR, (1, 10))
    assert (fast[0].hours, fast[0].due / HOUR, fast[0].by_distance) == (1, pytest.approx(0.5), True)
    assert (fast[1].hours, fast[1].by_distance) == (10, False)
