"""Certificates of torque tools; dates counted by hand on the calendar."""

from __future__ import annotations

import datetime as dt

import pytest

from rakeprep.calculations import Impossible
from rakeprep.calculations.tools import due_date, tool_state
from rakeprep.model.verdict import Verdict

TODAY = dt.date(2026, 4, 14)


def test_that_a_certificate_counts_for_twelve_months() -> None:
    # by the calendar
    assert due_date(dt.date(2025, 4, 14)) == dt.date(2026, 4, 14)
    assert due_date(dt.date(2025, 12, 31), 2) == dt.date(2026, 2, 28)
    assert due_date(dt.date(2024, 2, 29)) == dt.date(2025, 2, 28)
    assert due_date(dt.date(2025, 12, 1), 1) == dt.date(2026, 1, 1)


def test_that_the_last_day_still_counts_and_the_next_does_not() -> None:
    state = tool_state(dt.date(2025, 4, 14), TODAY)
    assert state is not None
    assert (state.days_left, state.indication_only, state.verdict) == (0, False, Verdict.IN_ORDER)
    late = tool_state(dt.date(2025, 4, 13), TODAY)
    assert late is not None
    assert (late.days_left, late.indication_only, late.verdict) == (-1, True, Verdict.OUT_OF_DATE)
    assert "indication only" in str(late.says)


def test_that_pulls_end_the_interval_too() -> None:
    # ISO 6789: 5000 pulls
    full = tool_state(dt.date(2026, 1, 1), TODAY, pulls=5000)
    assert full is not None
    assert (full.pulls_left, full.indication_only) == (0, False)
    beyond = tool_state(dt.date(2026, 1, 1), TODAY, pulls=5001)
    assert beyond is not None
    assert (beyond.pulls_left, beyond.indication_only) == (-1, True)
    assert str(beyond.says).startswith("1 pull beyond")


def test_that_a_tool_without_certificate_has_no_state() -> None:
    assert tool_state(None, TODAY) is None


def test_that_impossible_certificates_are_refused() -> None:
    for refused in (
        lambda: tool_state(dt.date(2026, 4, 15), TODAY),
        lambda: tool_state(TODAY, TODAY, pulls=-1),
        lambda: tool_state(TODAY, TODAY, months=0),
        lambda: tool_state(TODAY, TODAY, months=121),
        lambda: tool_state(TODAY, TODAY, most_pulls=0),
        lambda: due_date(dt.date(9999, 1, 1)),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_a_tool_out_of_date_still_tells_its_day_and_its_pulls() -> None:
    # by hand: 12 months after 2025-03-01 is 2026-03-01; of 5000 pulls 100 are left, or -100
    late = tool_state(dt.date(2025, 3, 1), dt.date(2026, 3, 11), 4900, 12, 5000)
    assert late is not None
    assert (late.days_left, late.pulls_left, late.verdict) == (-10, 100, Verdict.OUT_OF_DATE)
    worn = tool_state(dt.date(2025, 3, 1), dt.date(2025, 3, 11), 5100, 12, 5000)
    assert worn is not None
    assert (worn.pulls_left, worn.verdict) == (-100, Verdict.OUT_OF_DATE)
    assert (worn.due, worn.days_left) == (late.due, (late.due - dt.date(2025, 3, 11)).days)
    fresh = tool_state(dt.date(2025, 3, 1), dt.date(2025, 3, 11), 10, 12, 5000)
    assert fresh is not None
    assert (fresh.due, fresh.verdict) == (late.due, Verdict.IN_ORDER)
    assert fresh.says is not None
    assert "Mar 2026" in str(fresh.says)
