"""The test run of the invented sample rake A; numbers worked by hand."""

from __future__ import annotations

from typing import Any

import pytest

from rakeprep.model.field import Ask, Need, Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.test_run import STEP


def test_that_everyone_clear_is_asked_first_and_cannot_be_left_out(
    machine_a: Profile, tractor: Tractor
) -> None:
    first = STEP.fields(machine_a, tractor)[0]
    assert (first.key, first.ask, first.need, first.bars) == ("clear", Ask.DONE, Need.MUST, {Use.PTO})


def test_that_a_rotor_turning_the_wrong_way_stops_the_work(bench: Any) -> None:
    # left clockwise, right anticlockwise, so that both sweep to the middle in front: practice machine
    findings = bench.found({"direction@left": "clockwise", "direction@right": "clockwise"})
    assert bench.at(findings, "direction@left").verdict is Verdict.IN_ORDER
    wrong = bench.at(findings, "direction@right")
    assert wrong.verdict is Verdict.STOP
    assert wrong.bars == {Use.PTO, Use.FIELD}


def test_that_a_run_too_short_is_run_again(bench: Any) -> None:
    assert bench.at(bench.found({"run_time": "15 min"}), "run_time").verdict is Verdict.IN_ORDER
    assert bench.at(bench.found({"run_time": "840 s"}), "run_time").verdict is Verdict.PUT_RIGHT  # 14 min


@pytest.mark.parametrize(
    ("noise", "verdict"),
    [("even", Verdict.IN_ORDER), ("regular", Verdict.PUT_RIGHT), ("irregular", Verdict.PUT_RIGHT)],
)
def test_that_noise_is_judged(bench: Any, noise: str, verdict: Verdict) -> None:
    assert bench.at(bench.found({"noise": noise}), "noise").verdict is verdict


@pytest.mark.parametrize(
    ("count", "time", "cause"),
    # rotor 450 / 8.06 / 60 = 0.930 1/s, PTO 7.5 1/s, twelve arms: worked by hand
    [
        ("9", "10 s", "one arm"),  # 0.9 / 0.930 = 0.97
        ("112", "10 s", "all arms"),  # 11.2 / 0.930 = 12.0
        ("75", "10 s", "bent or unbalanced shaft"),  # 7.5 / 7.5
        ("150", "10 s", "joint angle"),  # 15 / 7.5 = 2
    ],
)
def test_that_the_number_of_knocks_tells_the_part(bench: Any, count: str, time: str, cause: str) -> None:
    finding = bench.at(bench.found({"knocks": count, "knock_time": time}), "knocks")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert cause in str(finding.says)


def test_that_knocks_that_fit_no_part_are_counted_again(bench: Any) -> None:
    # 25 in 10 s: 2.7 in a rotor turn, worked by hand
    assert (
        bench.at(bench.found({"knocks": "25", "knock_time": "10 s"}), "knocks").verdict
        is Verdict.MEASURE_AGAIN
    )


def test_that_knocks_are_held_against_the_speed_that_was_read(bench: Any) -> None:
    # 400 / 8.06 / 60 = 0.827 1/s: 8 in 10 s are 0.97 in a turn, by hand
    answers = {"settings.pto_speed": "400 rpm", "knocks": "8", "knock_time": "10 s"}
    assert "0.97" in str(bench.at(bench.found(answers), "knocks").says)


def test_that_the_side_that_stops_first_drags(bench: Any) -> None:
    # 2.5 / 6.0 = 0.42 against 0.70: worked by hand
    finding = bench.at(
        bench.found({"coast_down@left": "6.0 s", "coast_down@right": "2.5 s"}), "coast_down@right"
    )
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "right rotor drags" in str(finding.says)
    assert "0.42" in str(finding.working[0])


def test_that_rotors_that_run_down_alike_are_in_order(bench: Any) -> None:
    findings = bench.found({"coast_down@left": "6.0 s", "coast_down@right": "5.6 s"})
    assert bench.at(findings, "coast_down@left").verdict is Verdict.IN_ORDER


def warm(left: str, right: str) -> dict[str, str]:
    """Both rotor gearboxes after the run, air at 24 °C."""
    return {
        "ambient": "24 °C",
        "surface_temperature@gearbox-left": left,
        "surface_temperature@gearbox-right": right,
    }


def test_that_one_gearbox_hotter_than_the_other_is_looked_at(bench: Any) -> None:
    # 62 − 41 = 21 K against 15 K, doubt √2 · 3 = 4.2 K; 62 − 24 = 38 K = 68.4 °F: worked by hand
    findings = bench.found(warm("41 °C", "62 °C"))
    sides = bench.at(findings, "surface_temperature@gearbox-right", "hotter")
    assert sides.verdict is Verdict.PUT_RIGHT
    assert "21 K" in str(sides.says)
    assert "68.4 °F" in str(bench.at(findings, "ambient").says)


def test_that_sides_are_compared_without_the_air_being_read(bench: Any) -> None:
    answers = warm("41 °C", "62 °C")
    del answers["ambient"]
    assert (
        bench.at(bench.found(answers), "surface_temperature@gearbox-right", "hotter").verdict
        is Verdict.PUT_RIGHT
    )


@pytest.mark.parametrize(
    ("read", "verdict"),
    # 80 °C of the sample's data, infra-red ± 3 K: worked by hand
    [("70 °C", Verdict.IN_ORDER), ("79 °C", Verdict.MEASURE_AGAIN), ("84 °C", Verdict.STOP)],
)
def test_that_any_gearbox_too_hot_stops_the_run(bench: Any, read: str, verdict: Verdict) -> None:
    answers = {"surface_temperature@splitter": read}
    assert bench.at(bench.found(answers), "surface_temperature@splitter").verdict is verdict


@pytest.mark.parametrize(
    ("seen", "verdict"),
    [("dry", Verdict.IN_ORDER), ("damp", Verdict.MEASURE_AGAIN), ("drips", Verdict.PUT_RIGHT)],
)
def test_that_leaks_are_asked_at_every_circuit_and_gearbox(bench: Any, seen: str, verdict: Verdict) -> None:
    for place in ("splitter", "gearbox-left", "gearbox-right", "width", "lift"):
        assert bench.at(bench.found({f"leaks@{place}": seen}), f"leaks@{place}").verdict is verdict


@pytest.mark.parametrize(
    ("angle", "verdict"),
    # below 10° noted, 10 to 30° again, above 30° apart: workshop custom, no source
    [("5°", Verdict.IN_ORDER), ("12°", Verdict.MEASURE_AGAIN), ("35°", Verdict.PUT_RIGHT)],
)
def test_that_the_angle_of_the_second_torque_tells_the_clamp(
    bench: Any, angle: str, verdict: Verdict
) -> None:
    assert (
        bench.at(bench.found({"second_torque@headstock": angle}), "second_torque@headstock").verdict
        is verdict
    )


def test_that_nuts_that_went_backwards_are_no_reading(bench: Any) -> None:
    finding = bench.at(bench.found({"second_torque@headstock": "-3°"}), "second_torque@headstock")
    assert finding.verdict is Verdict.MEASURE_AGAIN


def test_that_a_latch_that_crept_out_on_the_pull_stops_the_work(bench: Any) -> None:
    finding = bench.at(bench.found({"pull_latch@latch-left": "no"}), "pull_latch@latch-left")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.ROAD}


def test_that_wheel_nuts_are_pulled_again_for_each_set_of_wheels(
    bench: Any, machine_a: Profile, tractor: Tractor
) -> None:
    field = next(f for f in STEP.fields(machine_a, tractor) if f.key == "wheel_nuts")
    assert [p.key for p in field.places] == ["chassis", "transport"]
    finding = bench.at(bench.found({"wheel_nuts@chassis": "no"}), "wheel_nuts@chassis")
    assert (finding.verdict, finding.bars) == (Verdict.PUT_RIGHT, {Use.ROAD})


def test_that_only_the_wheels_of_the_axle_are_felt_after_the_pull(
    bench: Any, machine_a: Profile, tractor: Tractor
) -> None:
    field = next(f for f in STEP.fields(machine_a, tractor) if f.key == "pull_hub")
    assert [p.key for p in field.places] == ["XL", "XR"]
    assert bench.at(bench.found({"pull_hub@XL": "no"}), "pull_hub@XL").verdict is Verdict.PUT_RIGHT
