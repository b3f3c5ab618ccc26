"""Shipping bolts, spring pins and torques on the invented practice machine."""

from __future__ import annotations

import dataclasses
from typing import Any

from rakeprep.model.field import Need, Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.fasteners import STEP

COUNTED = {"bolts_out@arms": "12", "pins_in@arms": "24", "bolts_out@axle": "2", "pins_in@axle": "2"}


def test_that_fourteen_bolts_out_and_twenty_six_pins_in_are_balanced(bench: Any) -> None:
    # invented practice machine: 12 + 2 shipping bolts, 24 + 2 pins; added by hand
    found = bench.found(COUNTED)
    assert {each.verdict for each in found} == {Verdict.IN_ORDER}
    assert any("14 bolts out of 14, 26 pins for 26 holes" in str(each.says) for each in found)


def test_that_one_shipping_bolt_left_stops_the_work(bench: Any) -> None:
    # fault case 42: one of 14 is still in; worked by hand
    found = bench.shown(bench.found(COUNTED | {"bolts_out@arms": "11"}), "bolts_out@arms")
    assert {each.verdict for each in found} == {Verdict.STOP}
    assert any("13 bolts out of 14" in str(each.says) for each in found)
    assert all("1 shipping bolt is still in the machine" in str(each.says) for each in found)


def test_that_a_right_sum_with_wrong_families_is_counted_again(bench: Any) -> None:
    found = bench.found(COUNTED | {"bolts_out@arms": "13", "bolts_out@axle": "1"})
    assert Verdict.MEASURE_AGAIN in bench.verdicts(found, "bolts_out@arms")
    assert Verdict.STOP in bench.verdicts(found, "bolts_out@axle")


def test_that_counts_need_two_people_and_are_musts(machine_a: Profile, tractor: Tractor) -> None:
    fields = {f.key: f for f in STEP.fields(machine_a, tractor)}
    for key in ("bolts_out", "pins_in"):
        assert fields[key].two_people
        assert fields[key].need is Need.MUST


def test_that_pin_and_shipping_bolt_are_compared(bench: Any) -> None:
    # ISO 8752: 12 mm pin 104.1 kN; M12 8.8 in the thread 2 · 0.6 · 800 MPa · 84.3 mm² = 80.9 kN, by hand
    working = " ".join(str(line) for line in bench.shown(bench.found(COUNTED), "bolts_out@arms")[0].working)
    assert "104" in working
    assert "80" in working


def test_that_an_eight_millimetre_pin_in_a_twelve_hole_is_put_right(bench: Any) -> None:
    # fault case 43: an 8 mm pin measures 8.5 to 8.8 mm loose (ISO 8752)
    found = bench.found(
        {"pin_free@arms": "8.65", "pin_hole@arms": "12.10", "by_hand@arms": "yes", "twist@arms": "14 mm"}
    )
    for address in ("pin_free@arms", "by_hand@arms", "twist@arms"):
        assert bench.verdicts(found, address) == {Verdict.PUT_RIGHT}, address


def test_that_a_right_pin_in_a_right_hole_is_in_order(bench: Any) -> None:
    # ISO 8752: 12.5 to 12.8 mm loose, hole 12.00 to 12.18; squeeze 0.55 mm ± 0.14 is above 0.32
    found = bench.found({"pin_free@arms": "12.65", "pin_hole@arms": "12.10"})
    assert bench.verdicts(found, "pin_free@arms") == {Verdict.IN_ORDER}


def test_that_play_at_the_tip_has_three_answers(bench: Any) -> None:
    # rule of thumb: up to 3 mm right, from 10 mm wrong
    for typed, verdict in (("2", Verdict.IN_ORDER), ("6", Verdict.MEASURE_AGAIN), ("10", Verdict.PUT_RIGHT)):
        assert bench.verdicts(bench.found({"twist@arms": typed}), "twist@arms") == {verdict}


def test_that_foot_pounds_dialled_as_newton_metres_are_recognised(bench: Any) -> None:
    # fault case 45: 410 N·m are 302.4 lbf·ft (1.355 818 N·m each, NIST SP 811); dialled as N·m, 26 % low
    found = bench.shown(bench.found({"torque@headstock": "302 N·m"}), "torque@headstock")[0]
    assert found.verdict is Verdict.PUT_RIGHT
    assert "lbf·ft dialled as N·m" in str(found.says)
    assert Use.ROAD in found.bars


def test_that_newton_metres_dialled_as_foot_pounds_are_recognised(bench: Any) -> None:
    # 410 lbf·ft are 556 N·m, 36 % high
    found = bench.shown(bench.found({"torque@headstock": "556 N·m"}), "torque@headstock")[0]
    assert "N·m dialled as lbf·ft" in str(found.says)


def test_that_a_torque_comes_with_class_friction_and_estimate(bench: Any) -> None:
    # second method: K d F by hand for M20 8.8 dry: 0.20 · 0.020 m · 0.75 · 600 MPa · 244.8 mm² = 441 N·m
    found = bench.shown(bench.found({"torque@headstock": "410 N·m"}), "torque@headstock")[0]
    assert found.verdict is Verdict.IN_ORDER
    working = " ".join(str(line) for line in found.working)
    for word in ("M20", "8.8", "dry", "410 N·m", "441 N·m", "0.2"):
        assert word in working, word


def test_that_an_overdue_wrench_only_indicates(bench: Any) -> None:
    # ISO 6789 custom: 12 months; the checks run on 14 Apr 2026
    entries = {"torque@headstock": "410 N·m", "wrench_certificate": "2025-03-01"}
    found = bench.found(entries)
    assert bench.verdicts(found, "wrench_certificate") == {Verdict.MEASURE_AGAIN}
    assert bench.verdicts(found, "torque@headstock") == {Verdict.MEASURE_AGAIN}
    valid = bench.found(entries | {"wrench_certificate": "2025-09-01"})
    assert bench.verdicts(valid, "torque@headstock") == {Verdict.IN_ORDER}


def test_that_a_crow_foot_in_line_changes_the_setting(bench: Any) -> None:
    # by hand: 410 N·m · 400 / (400 + 60) = 356.5 N·m
    found = bench.shown(bench.found({"wrench_length": "400 mm", "extension": "60 mm"}), "extension")
    assert any("357 N·m" in str(each.says) or "356 N·m" in str(each.says) for each in found)


def test_that_a_machine_in_inches_with_nested_pins_is_judged(bench: Any, machine_b: Profile) -> None:
    # invented machine B: 10 + 6 mm nested; ISO 8752: 70.16 + 26.04 = 96.2 kN, added by hand
    found = bench.found(
        {"bolts_out@sockets": "10", "pins_in@sockets": "20", "pin_size@sockets": "6 mm"}, machine=machine_b
    )
    assert bench.verdicts(found, "pin_size@sockets") == {Verdict.IN_ORDER}
    working = " ".join(str(line) for line in bench.shown(found, "bolts_out@sockets")[0].working)
    assert "96" in working


def test_that_a_machine_without_such_joints_is_asked_nothing_about_them(
    bench: Any, machine_a: Profile, tractor: Tractor
) -> None:
    bare = dataclasses.replace(machine_a, pin_joint=(), bolt_joint=())
    assert {f.key for f in STEP.fields(bare, tractor)} == {"shipping_parts"}
    assert bench.found({"shipping_parts": "no"}, machine=bare)[0].verdict is Verdict.PUT_RIGHT


def test_that_the_last_day_of_a_certificate_is_told_and_pulls_count_too(bench: Any) -> None:
    # ISO 6789: 12 months or 5000 pulls, whichever ends first; 1 Sep 2025 counts to 1 Sep 2026
    entries = {"torque@headstock": "410 N·m", "wrench_certificate": "2025-09-01"}
    valid = bench.shown(bench.found(entries | {"wrench_pulls": "4200"}), "wrench_certificate")[0]
    assert valid.verdict is Verdict.IN_ORDER
    assert "2026" in str(valid.says)
    assert [str(line) for line in valid.working] == ["800 pulls are left."]  # by hand: 5000 − 4200
    worn = bench.found(entries | {"wrench_pulls": "5100"})
    assert bench.verdicts(worn, "wrench_certificate") == {Verdict.MEASURE_AGAIN}
    assert "100 pulls beyond" in str(bench.shown(worn, "wrench_certificate")[0].says)
    assert bench.verdicts(worn, "torque@headstock") == {Verdict.MEASURE_AGAIN}
    assert bench.verdicts(bench.found({"wrench_certificate": "2027-01-01"}), "wrench_certificate") == {
        Verdict.MEASURE_AGAIN
    }
