"""Width and lift on the invented sample rake A; numbers worked by hand."""

from __future__ import annotations

from typing import Any

import pytest

from rakeprep.model.field import Need, Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.width import STEP


def test_that_a_steady_error_beyond_the_tolerance_shifts_the_pointer(bench: Any) -> None:
    # both ends 80 mm short, tolerance 50 mm, doubt of the mean 20 / √2 = 14 mm: worked by hand
    finding = bench.at(bench.found(gauge("6.28", "7.48")), "working@narrow")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "80 mm" in str(finding.says)
    assert "80 mm towards the larger" in str(finding.todo)


def gauge(narrow: str, wide: str) -> dict[str, str]:
    """The gauge at both ends of its scale, and what the tape shows there."""
    return {
        "gauge_reading@narrow": "6.20 m",
        "gauge_reading@wide": "7.40 m",
        "working@narrow": narrow,
        "working@wide": wide,
    }


def test_that_a_pointer_sixty_millimetres_out_at_one_end_shows_slope_shift_and_doubt(bench: Any) -> None:
    # slope (7.42 − 6.26) / 1.2 = 0.967, offset 0.267 m, mean error 40 mm: worked by hand. With a tape
    # of ± 20 mm neither 0.967 ± 0.024 against ± 0.03 nor 40 ± 14 mm against 50 mm can be decided.
    finding = bench.at(bench.found(gauge("6.26", "7.42")), "working@narrow")
    assert finding.verdict is Verdict.MEASURE_AGAIN
    assert "40 mm towards the larger" in str(finding.todo)
    assert "0.97" in str(finding.working[2])
    assert "267 mm" in str(finding.working[2])


def test_that_another_error_at_each_end_is_the_rod_and_not_the_pointer(bench: Any) -> None:
    # slope (7.34 − 6.26) / 1.2 = 0.9, doubt 0.024: beyond 1 ± 0.03, worked by hand
    finding = bench.at(bench.found(gauge("6.26", "7.34")), "working@narrow")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "rod" in str(finding.todo)


def test_that_a_true_gauge_is_in_order(bench: Any) -> None:
    assert bench.at(bench.found(gauge("6.20", "7.40")), "working@narrow").verdict is Verdict.IN_ORDER


def test_that_one_end_alone_asks_for_the_other(bench: Any) -> None:
    finding = bench.at(bench.found({"gauge_reading@wide": "7.40", "working@wide": "7.50"}), "working@wide")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "other end" in str(finding.todo)


def test_that_a_gauge_with_the_same_reading_at_both_ends_is_read_again(bench: Any) -> None:
    answers = gauge("6.26", "7.42") | {"gauge_reading@wide": "6.20 m"}
    assert bench.at(bench.found(answers), "working@narrow").verdict is Verdict.MEASURE_AGAIN


@pytest.mark.parametrize(
    ("clearance", "verdict"),
    # limit 380 mm of the invented book, rule at the tine ± 3 mm, worked by hand
    [("384 mm", Verdict.IN_ORDER), ("381 mm", Verdict.MEASURE_AGAIN), ("376 mm", Verdict.PUT_RIGHT)],
)
def test_that_tines_have_to_clear_the_windrow(bench: Any, clearance: str, verdict: Verdict) -> None:
    answers = {"headland_clearance@right": clearance}
    assert bench.at(bench.found(answers), "headland_clearance@right").verdict is verdict


def test_that_one_trial_gives_the_holes_of_the_limiter(bench: Any) -> None:
    # 140 / 50 = 2.8; 60 mm wanted / 2.8 = 21.4 mm, holes 20 mm apart: one hole gives 56 mm, by hand
    trial = {"limiter_change": "50 mm", "limiter_effect": "140 mm", "limiter_hole": "20 mm"}
    finding = bench.at(bench.found(trial | {"headland_clearance@left": "320 mm"}), "limiter_effect")
    assert "1 hole, the way of the trial" in str(finding.says)
    assert "56 mm" in str(finding.working[1])


def test_that_a_trial_that_changed_nothing_says_so(bench: Any) -> None:
    finding = bench.at(bench.found({"limiter_change": "50 mm", "limiter_effect": "0 mm"}), "limiter_effect")
    assert finding.verdict is Verdict.MEASURE_AGAIN


def test_that_a_machine_too_high_for_the_road_says_by_how_much_and_what_comes_off(bench: Any) -> None:
    # 4.08 m against 4.00 m of the invented entry: 80 mm over, worked by hand
    finding = bench.at(bench.found({"transport_height": "4.08 m"}), "transport_height", "limit")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert finding.bars == {Use.ROAD}
    assert "by 80 mm" in str(finding.says)
    assert "top arms" in str(finding.todo)
    assert "4 m (13 ft 1 7/16 in)" in str(finding.says)  # 157.48 in, rounded down as a maximum, by hand


def test_that_a_height_within_the_doubt_of_the_tape_is_measured_again(bench: Any) -> None:
    finding = bench.at(bench.found({"transport_height": "3.99 m"}), "transport_height", "limit")
    assert finding.verdict is Verdict.MEASURE_AGAIN


def test_that_the_air_under_the_lowest_line_is_told_and_rounded_down(bench: Any) -> None:
    # 5.2 m of HSE AIS8 less 4.08 m = 1.12 m, worked by hand
    finding = bench.at(bench.found({"transport_height": "4.08 m"}), "transport_height", "line")
    assert "1.12 m" in str(finding.says)
    assert "utility" in str(finding.todo)


def test_that_a_machine_that_would_touch_the_lowest_line_stops_the_work(bench: Any) -> None:
    finding = bench.at(bench.found({"transport_height": "5.30 m"}), "transport_height", "line")
    assert finding.verdict is Verdict.STOP


def test_that_width_is_judged_against_its_own_limit(bench: Any) -> None:
    finding = bench.at(bench.found({"transport_width": "3.10 m"}), "transport_width")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "3 m" in str(finding.says)  # limit of the invented entry


def test_that_a_missing_label_is_told_what_to_write_rounded_up(bench: Any) -> None:
    answers = {"transport_width": "2.95 m", "transport_height": "3.94 m", "cab_label": "no"}
    todo = str(bench.at(bench.found(answers), "cab_label").todo)
    assert "2.95 m (9 ft 8 3/16 in) wide" in todo  # 116.14 in, next 1/16 up, by hand
    assert "3.94 m (12 ft 11 1/8 in) high" in todo  # 155.118 in, next 1/16 up is 155 1/8, by hand


def test_that_a_tape_in_inches_gets_its_answer_in_inches(bench: Any, machine_b: Profile) -> None:
    # 13 ft 6 in is the limit of the invented entry of sample rake B; 2 in over, worked by hand
    finding = bench.at(
        bench.found({"transport_height": "13 ft 8 in"}, machine=machine_b), "transport_height", "limit"
    )
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "by 2 in" in str(finding.says)


def test_that_size_must_be_measured_before_any_road(machine_a: Profile, tractor: Tractor) -> None:
    fields = {f.key: f for f in STEP.fields(machine_a, tractor)}
    for key in ("transport_width", "transport_height"):
        assert fields[key].need is Need.MUST
        assert fields[key].bars == {Use.ROAD}
