"""The handover step on the invented sample rake A; days worked by hand from a calendar."""

from __future__ import annotations

from typing import Any

import pytest

from rakeprep.model.field import Ask, Need
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.handover import STEP


def test_that_the_eight_topics_are_asked_in_their_order(machine_a: Profile, tractor: Tractor) -> None:
    topics = next(f for f in STEP.fields(machine_a, tractor) if f.key == "topic")
    assert [p.key for p in topics.places] == [
        "safe-stop",
        "hitching",
        "latch-and-size",
        "lights",
        "tine-height",
        "speed",
        "headland",
        "daily-care",
    ]
    assert (topics.ask, topics.need) == (Ask.TEXT, Need.OPEN)


def test_that_initials_at_a_topic_count_as_done(bench: Any) -> None:
    assert bench.at(bench.found({"topic@lights": "C.O."}), "topic@lights").verdict is Verdict.IN_ORDER


def test_that_the_days_of_the_visits_follow_from_the_signature(bench: Any) -> None:
    # from Monday 18 May 2026 at 6 h a day: 10 h on the second day, 50 h on the ninth, by hand
    said = str(bench.at(bench.found({"start_date": "2026-05-18"}), "start_date").says)
    assert "begin 18 May 2026" in said
    assert "1 h about 18 May 2026" in said
    assert "10 h about 19 May 2026" in said
    assert "50 h about 26 May 2026 (first oil change)" in said


def test_that_the_call_comes_three_working_days_before(bench: Any) -> None:
    # Tuesday 26 May 2026 less Monday 25, Friday 22, Thursday 21: by hand
    assert "21 May 2026" in str(bench.at(bench.found({"start_date": "2026-05-18"}), "start_date").todo)


def test_that_the_customers_own_hours_go_before_the_machine_data(bench: Any) -> None:
    # 50 h at 10 h a day are five days: Friday 22 May 2026, by hand
    said = str(bench.at(bench.found({"start_date": "2026-05-18", "hours_a_day": "10 h"}), "start_date").says)
    assert "50 h about 22 May 2026" in said


@pytest.mark.parametrize("hours", ["0 h", "25 h", "-6 h"])
def test_that_a_day_of_impossible_length_is_asked_again(bench: Any, hours: str) -> None:
    finding = bench.at(bench.found({"start_date": "2026-05-18", "hours_a_day": hours}), "hours_a_day")
    assert finding.verdict is Verdict.MEASURE_AGAIN


def test_that_the_area_stands_in_for_an_hour_meter(bench: Any) -> None:
    # 7.0 m · 10 km/h · 0.8 = 5.6 ha/h; 50 h are 280 ha, a tenth of it is the doubt: by hand
    answers = {"start_date": "2026-05-18", "width.working@wide": "7.00 m", "settings.ground_speed": "10 km/h"}
    working = " ".join(str(w) for w in bench.at(bench.found(answers), "start_date").working)
    assert "280 ± 30 ha" in working


def test_that_a_paper_not_given_is_put_right(bench: Any) -> None:
    finding = bench.at(bench.found({"papers@declaration": "no"}), "papers@declaration")
    assert finding.verdict is Verdict.PUT_RIGHT


def test_that_the_day_of_the_signature_cannot_be_left_out(machine_a: Profile, tractor: Tractor) -> None:
    start = next(f for f in STEP.fields(machine_a, tractor) if f.key == "start_date")
    assert (start.ask, start.need) == (Ask.DATE, Need.MUST)


def test_that_the_other_machines_visits_are_its_own(bench: Any, machine_b: Profile) -> None:
    # 1, 8 and 40 h at 8 h a day: first, first and fifth day, by hand
    said = str(bench.at(bench.found({"start_date": "2026-05-18"}, machine=machine_b), "start_date").says)
    assert "8 h about 18 May 2026" in said
    assert "40 h about 22 May 2026" in said
