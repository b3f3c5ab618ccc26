"""Field settings on the invented sample rake A and tractor A; numbers worked by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from rakeprep.model.field import Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.settings import STEP


@pytest.mark.parametrize(
    ("gear", "engine"),
    # 1938 · 450 / 540 = 1615 and 1550 · 450 / 540 = 1292, to the dial's 25: worked by hand
    [("540", "engine at 1625 rpm"), ("540E", "engine at 1300 rpm")],
)
def test_that_the_gear_gives_the_engine_speed_for_raking(bench: Any, gear: str, engine: str) -> None:
    finding = bench.at(bench.found({"pto_gear": gear}), "pto_gear")
    assert finding.verdict is Verdict.IN_ORDER
    assert engine in str(finding.says)


def test_that_the_ceiling_is_rounded_down_to_the_dial(bench: Any) -> None:
    # 1938 · 480 / 540 = 1722.7, down to 1700: worked by hand
    assert "never above 1700 rpm" in str(bench.at(bench.found({"pto_gear": "540"}), "pto_gear").says)


def test_that_the_fast_gear_stops_the_work_with_its_numbers(bench: Any) -> None:
    # 1000 / 8.06 = 124 rpm; π · 3.50 m · 124.07 / 60 = 22.7 m/s: worked by hand
    finding = bench.at(bench.found({"pto_gear": "1000"}), "pto_gear")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.PTO, Use.FIELD}
    assert "124 rpm" in str(finding.says)
    assert "22.7 m/s" in str(finding.says)


@pytest.mark.parametrize(
    ("speed", "verdict", "speaks"),
    # invented book: work 450 ± 5 % = 427.5 to 472.5, ceiling 480, rating 540; meter ± 10: by hand
    [
        ("452", Verdict.IN_ORDER, "is the working speed"),
        ("400", Verdict.PUT_RIGHT, "the working speed speaks"),
        ("468", Verdict.MEASURE_AGAIN, "edge of the working speed"),
        ("500", Verdict.PUT_RIGHT, "highest speed for raking speaks"),
        ("560", Verdict.STOP, "gearbox's rating speaks"),
        ("1000", Verdict.STOP, "gearbox's rating speaks"),
    ],
)
def test_that_only_one_of_the_three_limits_speaks(
    bench: Any, speed: str, verdict: Verdict, speaks: str
) -> None:
    finding = bench.at(bench.found({"pto_speed": speed}), "pto_speed")
    assert finding.verdict is verdict
    assert speaks in str(finding.says)


def test_that_the_limit_that_speaks_names_its_own_source(bench: Any) -> None:
    assert "plate" in str(bench.at(bench.found({"pto_speed": "560"}), "pto_speed").source)
    assert "p. 55" in str(bench.at(bench.found({"pto_speed": "500"}), "pto_speed").source)


def test_that_turns_counted_for_a_minute_decide_what_twenty_seconds_cannot(bench: Any) -> None:
    # 56 turns in 60 s · 8.06 = 451 ± 4 rpm; 19 in 20 s = 459 ± 13 rpm against 472.5: worked by hand
    minute = bench.at(bench.found({"turns_counted": "56", "turns_time": "60 s"}), "turns_counted")
    short = bench.at(bench.found({"turns_counted": "19", "turns_time": "20 s"}), "turns_counted")
    assert minute.verdict is Verdict.IN_ORDER
    assert short.verdict is Verdict.MEASURE_AGAIN


def test_that_a_display_that_contradicts_the_counted_turns_is_doubted(bench: Any) -> None:
    # 67 turns in 60 s are 540 rpm, the display says 450: worked by hand
    said = [
        str(f.says) for f in bench.found({"pto_speed": "450", "turns_counted": "67", "turns_time": "60 s"})
    ]
    assert any("one of them is wrong" in text for text in said)


def test_that_the_gear_that_is_really_in_is_recognised_from_both_speeds(bench: Any) -> None:
    # 840 / 1680 = 0.5 = 1000 / 2000: worked by hand
    finding = bench.at(
        bench.found({"pto_gear": "540", "pto_speed": "840", "engine_speed": "1680"}), "engine_speed"
    )
    assert finding.verdict is Verdict.STOP
    assert "gear 1000, not 540" in str(finding.says)


def test_that_speeds_that_fit_no_gear_are_read_again(bench: Any) -> None:
    # 450 / 1100 = 0.41; the gears give 0.28, 0.35 and 0.50: worked by hand
    finding = bench.at(
        bench.found({"pto_gear": "540", "pto_speed": "450", "engine_speed": "1100"}), "engine_speed"
    )
    assert finding.verdict is Verdict.MEASURE_AGAIN


@pytest.mark.parametrize(
    ("concrete", "verdict"),
    # less 12 mm sink; wanted 10 ± 5 mm; doubt √(3² + 1.8²) = 3.5 mm: worked by hand
    [("22 mm", Verdict.IN_ORDER), ("20 mm", Verdict.MEASURE_AGAIN), ("35 mm", Verdict.PUT_RIGHT)],
)
def test_that_the_wheels_sinking_in_brings_the_tines_down(
    bench: Any, concrete: str, verdict: Verdict
) -> None:
    finding = bench.at(
        bench.found({"tine_concrete@left": concrete, "tyre_sink": "12 mm"}), "tine_concrete@left"
    )
    assert finding.verdict is verdict


def test_that_the_height_to_set_on_concrete_is_told(bench: Any) -> None:
    # 10 mm wanted + 12 mm sink = 22 mm, worked by hand
    finding = bench.at(
        bench.found({"tine_concrete@left": "35 mm", "tyre_sink": "12 mm"}), "tine_concrete@left"
    )
    assert "22 mm" in str(finding.todo)


def test_that_without_a_wheel_print_a_high_reading_is_not_called_wrong(bench: Any) -> None:
    findings = bench.found({"tine_concrete@left": "22 mm", "tine_concrete@right": "1 mm"})
    assert bench.at(findings, "tine_concrete@left").verdict is Verdict.MEASURE_AGAIN
    assert bench.at(findings, "tine_concrete@right").verdict is Verdict.PUT_RIGHT  # it only gets lower


def test_that_travel_from_arm_to_arm_limits_the_ground_speed(bench: Any) -> None:
    # 10 km/h: 2.778 / (0.9305 · 12) = 0.249 m; 250 mm gives 10.05 km/h: worked by hand
    assert (
        bench.at(bench.found({"ground_speed": "10 km/h"}), "ground_speed", "arm to arm").verdict
        is Verdict.IN_ORDER
    )
    fast = bench.at(bench.found({"ground_speed": "14 km/h"}), "ground_speed", "arm to arm")
    assert fast.verdict is Verdict.PUT_RIGHT
    assert "349 mm" in str(fast.says)
    assert "10 km/h" in str(fast.todo)


def test_that_the_work_rate_is_an_if_and_no_promise(bench: Any) -> None:
    # 7.0 m · 10 km/h · 0.8 / 10 = 5.6 ha/h, worked by hand
    answers = {"ground_speed": "10 km/h", "width.working@wide": "7.00 m"}
    said = str(bench.at(bench.found(answers), "ground_speed", "ha/h").says)
    assert said.startswith("If ")
    assert "5.6 ± 0.6 ha/h" in said


def test_that_a_machine_without_a_longest_travel_is_not_judged_by_one(bench: Any, machine_b: Profile) -> None:
    said = [str(f.says) for f in bench.found({"ground_speed": "30 mph"}, machine=machine_b)]
    assert not any("arm to arm" in text for text in said)


def test_that_a_tractor_without_a_pto_gear_in_its_data_is_not_asked_for_one(
    machine_a: Profile, tractor: Tractor
) -> None:
    bare = replace(tractor, pto=())
    assert {"pto_gear", "engine_label"}.isdisjoint(f.key for f in STEP.fields(machine_a, bare))


def test_that_a_missing_label_is_told_what_to_write(bench: Any) -> None:
    todo = str(bench.at(bench.found({"pto_gear": "540", "engine_label": "no"}), "engine_label").todo)
    assert "engine 1625 rpm, never above 1700 rpm" in todo


def test_that_a_wheel_print_above_the_ground_is_asked_again(bench: Any) -> None:
    finding = bench.at(
        bench.found({"tine_concrete@left": "22 mm", "tyre_sink": "-3 mm"}), "tine_concrete@left"
    )
    assert finding.verdict is Verdict.MEASURE_AGAIN
    assert "sink" in str(finding.says)


def test_that_a_yield_tells_the_windrow_and_how_fast_a_baler_follows(bench: Any) -> None:
    answers = {"yield_expected": "3.5", "width.working@wide": "7.20 m"}
    alone = bench.at(bench.found(answers), "yield_expected")
    # by hand: 3.5 t/ha are 0.35 kg/m²; · 7.2 m = 2.52 kg/m, / 1.488 kg/m a lb/ft = 1.69 lb/ft
    assert "2.5 kg/m of windrow (1.7 lb/ft)" in str(alone.says)
    both = bench.at(bench.found(answers | {"follower_rate": "15"}), "yield_expected")
    # by hand: 15000 / 3600 / 2.52 = 1.653 m/s = 5.95 km/h, never more: 5.5 km/h
    assert "follows at 5.5 km/h" in str(both.says)
    assert any("3.5 t/ha · 7.2 m" in str(line) for line in both.working)
    assert not [f for f in bench.found({"follower_rate": "15"}) if "windrow" in str(f.says)]
