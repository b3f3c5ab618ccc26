"""Remotes, times, leaks and the one-rotor hold of the invented practice machine."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

from rakeprep.model.field import Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.hydraulics import STEP


def test_that_remotes_are_proposed_with_the_float_for_the_lift(bench: Any) -> None:
    # by hand: only remote 2 of the invented tractor A floats
    found = bench.found({})
    assert "remote 2" in str(bench.shown(found, "remote@lift")[0].says)
    assert "remote 1" in str(bench.shown(found, "remote@width")[0].says)


def test_that_a_lift_on_a_remote_without_float_is_put_right(bench: Any) -> None:
    # fault case 24
    found = bench.shown(bench.found({"remote@lift": "1", "remote@width": "3"}), "remote@lift")
    assert found[0].verdict is Verdict.PUT_RIGHT
    assert "float" in str(found[0].says)
    assert Use.FIELD in found[0].bars


def test_that_right_remotes_are_in_order_and_one_remote_is_not_two(bench: Any) -> None:
    right = bench.found({"remote@lift": "2", "remote@width": "1"})
    assert bench.verdicts(right, "remote@lift") == bench.verdicts(right, "remote@width") == {Verdict.IN_ORDER}
    same = bench.found({"remote@lift": "2", "remote@width": "2"})
    assert bench.verdicts(same, "remote@lift") == {Verdict.PUT_RIGHT}


def test_that_a_tractor_without_float_says_what_is_missing(
    bench: Any, tractors: Mapping[str, Tractor]
) -> None:
    found = bench.shown(bench.found({}, tractor=tractors["tractor-no-float"]), "remote@lift")
    assert found[0].verdict is Verdict.PUT_RIGHT
    assert "float" in str(found[0].says)


def test_that_times_as_expected_are_in_order(bench: Any) -> None:
    # by hand: two rams 60/35 × 500 mm at 30 L/min: 2.827 L → 5.65 s, 1.866 L → 3.73 s
    found = bench.found({"time_out@width": "5.7", "time_in@width": "3.8"})
    assert bench.verdicts(found, "time_out@width") == {Verdict.IN_ORDER}


def test_that_crossed_hoses_are_the_first_suspicion_when_times_are_exchanged(bench: Any) -> None:
    # fault case 21
    found = bench.shown(bench.found({"time_out@width": "3.7", "time_in@width": "5.7"}), "time_out@width")[0]
    assert found.verdict is Verdict.PUT_RIGHT
    assert "crossed" in str(found.says)


def test_that_both_times_doubled_speak_of_the_flow(bench: Any) -> None:
    # fault case 22: 15 instead of 30 L/min
    found = bench.shown(bench.found({"time_out@width": "11.3", "time_in@width": "7.5"}), "time_out@width")[0]
    assert "flow set low" in str(found.says)
    assert any("15" in str(line) and "L/min" in str(line) for line in found.working)


def test_that_one_way_slow_speaks_of_that_side(bench: Any) -> None:
    # fault case 23
    found = bench.shown(bench.found({"time_out@width": "5.6", "time_in@width": "11"}), "time_out@width")[0]
    assert "way back" in str(found.says)
    assert "Never crack a fitting" in str(found.todo)


def test_that_a_slow_lift_tells_the_flow_that_arrived(bench: Any) -> None:
    # by hand: 2 · 0.8 dm · 0.8 dm · π / 4 · 6 dm = 6.03 L in 14.2 s = 25.5 L/min
    found = bench.shown(bench.found({"time_out@lift": "14.2"}), "time_out@lift")[0]
    assert found.verdict is Verdict.PUT_RIGHT
    assert "25.5 L/min" in str(found.says)
    # 6.03 L at 40 L/min: 9.0 s
    assert bench.verdicts(bench.found({"time_out@lift": "9.1"}), "time_out@lift") == {Verdict.IN_ORDER}


def test_that_a_lift_that_comes_down_too_fast_stops_the_work(bench: Any) -> None:
    # fault case 25: 1.6 s; the invented data ask for 4 s
    found = bench.shown(bench.found({"time_in@lift": "1.6"}), "time_in@lift")[0]
    assert found.verdict is Verdict.STOP
    assert bench.verdicts(bench.found({"time_in@lift": "5.0"}), "time_in@lift") == {Verdict.IN_ORDER}


def test_that_a_lift_that_never_comes_down_needs_a_free_return(bench: Any) -> None:
    # fault case 24 as it is seen at the machine
    found = bench.shown(bench.found({"time_out@lift": "9.0", "stuck@lift": "in"}), "stuck@lift")[0]
    assert found.verdict is Verdict.PUT_RIGHT
    assert "float" in str(found.says)


def test_that_runs_that_differ_speak_of_air(bench: Any) -> None:
    # fault case 28: 8.1, 6.6, 5.9 s, so 2.2 s apart; rule of thumb 0.5 s
    found = bench.shown(bench.found({"time_spread@width": "2.2"}), "time_spread@width")[0]
    assert found.verdict is Verdict.PUT_RIGHT
    assert "air" in str(found.says)


def test_that_sinking_is_traced_with_the_tap(bench: Any) -> None:
    # fault case 26: 5 mm in 10 min, nothing with the tap shut; the invented limit is 3 mm
    found = bench.shown(bench.found({"drift@lift": "5 mm", "drift_shut@lift": "0 mm"}), "drift@lift")[0]
    assert found.verdict is Verdict.PUT_RIGHT
    assert "check valve" in str(found.todo)
    # by hand: 2 · 50.27 cm² · 0.5 cm = 50 mL
    assert any("50 mL" in str(line) for line in found.working)
    assert "Shut the stop tap" in str(bench.shown(bench.found({"drift@lift": "5 mm"}), "drift@lift")[0].todo)


def test_that_oil_under_pressure_stops_everything(bench: Any) -> None:
    found = bench.shown(bench.found({"leak@lift": "jet"}), "leak@lift")[0]
    assert found.verdict is Verdict.STOP
    assert found.bars == frozenset(Use)
    assert bench.verdicts(bench.found({"leak@lift": "dry"}), "leak@lift") == {Verdict.IN_ORDER}


def test_that_crossed_plugs_show_in_the_truth_table(bench: Any) -> None:
    # fault case 27: left only, and the right one rises
    found = bench.shown(bench.found({"hold@left-only": "right"}), "hold@left-only")[0]
    assert found.verdict is Verdict.PUT_RIGHT
    assert "crossed" in str(found.says)


def test_that_the_right_truth_table_is_in_order(bench: Any) -> None:
    # the invented machine lifts both without power
    table = {"hold@both": "left,right", "hold@left-only": "left", "hold@right-only": "right"}
    found = bench.found(table | {"hold@unpowered": "left,right"})
    for place in ("both", "left-only", "right-only", "unpowered"):
        assert bench.verdicts(found, f"hold@{place}") == {Verdict.IN_ORDER}, place
    assert bench.verdicts(bench.found({"hold@unpowered": "none"}), "hold@unpowered") == {Verdict.PUT_RIGHT}


def test_that_a_machine_without_hold_is_asked_nothing_about_it(machine_b: Profile, tractor: Tractor) -> None:
    fields = STEP.fields(machine_b, tractor)
    assert not {"hold", "supply", "fuse"} & {field.key for field in fields}


def test_that_a_fuse_too_small_for_the_coils_is_put_right(bench: Any) -> None:
    # by hand: 1.5 · 3.0 A = 4.5 A, a rule of thumb
    assert bench.verdicts(bench.found({"fuse": "4 A"}), "fuse") == {Verdict.PUT_RIGHT}
    assert bench.verdicts(bench.found({"fuse": "5 A"}), "fuse") == {Verdict.IN_ORDER}


def test_that_a_few_strokes_are_no_purge(bench: Any) -> None:
    # rule of thumb: 5 full strokes
    assert bench.verdicts(bench.found({"purge@width": "3"}), "purge@width") == {Verdict.MEASURE_AGAIN}
    assert bench.verdicts(bench.found({"purge@width": "5"}), "purge@width") == {Verdict.IN_ORDER}


def test_that_cold_oil_is_no_time_for_the_stopwatch(bench: Any) -> None:
    # rule of thumb: 40 °C
    assert bench.verdicts(bench.found({"oil_temperature": "22 °C"}), "oil_temperature") == {
        Verdict.MEASURE_AGAIN
    }
    assert bench.verdicts(bench.found({"oil_temperature": "45 °C"}), "oil_temperature") == {Verdict.IN_ORDER}


def test_that_a_tractor_without_remotes_is_told_so(bench: Any, machine_a: Profile, tractor: Tractor) -> None:
    bare = dataclasses.replace(tractor, remote=())
    profile = machine_a
    found = bench.found(machine=profile, tractor=bare)
    assert {each.verdict for each in found} == {Verdict.PUT_RIGHT}
    assert "remote" not in {field.key for field in STEP.fields(profile, bare)}


def test_that_the_flow_that_arrived_is_told_beside_the_one_wanted_with_its_doubt(bench: Any) -> None:
    # by hand: 6.03 L in 14.2 s = 25.5 L/min; stopwatch 0.25 s / √3 = 0.144 s of 14.2 s is 1.0 %, 0.26 L/min
    slow = bench.shown(bench.found({"time_out@lift": "14.2"}), "time_out@lift")[0]
    assert "The remote gives 25.5 L/min ± 0.3 L/min of 40 L/min." in str(slow.says)
    # by hand: 2.827 L in 11.3 s = 15.0 L/min of 30
    both = bench.shown(bench.found({"time_out@width": "11.3", "time_in@width": "7.5"}), "time_out@width")[0]
    assert "The remote gives 15 L/min" in str(both.says)
    # crossed hoses make the time out worth nothing as a flow
    crossed = bench.shown(bench.found({"time_out@width": "3.7", "time_in@width": "5.7"}), "time_out@width")[0]
    assert "The remote gives" not in str(crossed.says)
