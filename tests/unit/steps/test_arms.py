"""Tine arms on the invented sample rake A; hands and counts worked by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from rakeprep.model.field import Need, Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.arms import STEP

LEFT = [f"LA{n:02d}" for n in range(1, 13)]
RIGHT = [f"RA{n:02d}" for n in range(1, 13)]


def hands(*swapped: str) -> list[tuple[str, str]]:
    """Every arm with its right hand and a coil that winds up, except the swapped ones."""
    answers = []
    for key in (*LEFT, *RIGHT):
        left = (key[0] == "L") != (key in swapped)
        answers += [(f"hand@{key}", "left" if left else "right")]
        answers += [(f"coil@{key}", "opens" if key in swapped else "winds")]
    return answers


def test_that_every_arm_is_asked_by_its_number(machine_a: Profile, tractor: Tractor) -> None:
    hand = next(f for f in STEP.fields(machine_a, tractor) if f.key == "hand")
    assert [p.key for p in hand.places] == LEFT + RIGHT
    assert hand.need is Need.MUST
    assert hand.places[0].part == "arm-LA01"


def test_that_a_machine_put_together_right_is_in_order(bench: Any) -> None:
    findings = bench.found(*hands(), ("turning@left", "clockwise"), ("turning@right", "anticlockwise"))
    assert {f.verdict for f in findings} == {Verdict.IN_ORDER}
    assert len(findings) == 24 + 2


def test_that_one_wrong_arm_is_named_and_counted(bench: Any) -> None:
    findings = bench.found(*hands("RA07"))
    says = [str(f.says) for f in findings if f.verdict is Verdict.PUT_RIGHT]
    # invented case, counted by hand: 13 left-hand and 11 right-hand arms
    assert says == [
        "Arm RA07 is a left-hand arm.",
        "1 left-hand arm is among the right-hand ones; 11 right-hand found of 12.",
    ]


def test_that_two_wrong_arms_on_the_right_rotor_are_both_named(bench: Any) -> None:
    wrong = {str(f.about[0]) for f in bench.found(*hands("RA03", "RA09")) if f.verdict is Verdict.PUT_RIGHT}
    assert wrong == {"arms.hand@RA03", "arms.hand@RA09"}  # practice case 8


def test_that_exchanged_sets_are_one_finding_for_each_rotor(bench: Any) -> None:
    findings = bench.found(*hands(*LEFT, *RIGHT))  # practice case 9
    assert [str(f.says) for f in findings] == [
        "All arms on the left rotor have the wrong hand: the two sets are exchanged.",
        "All arms on the right rotor have the wrong hand: the two sets are exchanged.",
    ]


def test_that_the_first_wrong_arms_are_not_yet_called_a_set(bench: Any) -> None:
    says = [str(f.says) for f in bench.found(("hand@RA01", "left"), ("hand@RA02", "left"))]
    assert says == ["Arm RA01 is a left-hand arm.", "Arm RA02 is a left-hand arm."]


def test_that_an_opening_coil_on_an_arm_of_the_right_hand_means_a_turned_tine(bench: Any) -> None:
    finding = bench.at(
        bench.found(("hand@RA04", "right"), ("coil@RA04", "opens")), "hand@RA04"
    )  # practice case 7
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "tine" in str(finding.todo)
    assert finding.bars == {Use.FIELD}


@pytest.mark.parametrize(
    ("side", "seen", "verdict"),
    [
        ("left", "clockwise", Verdict.IN_ORDER),
        ("left", "anticlockwise", Verdict.PUT_RIGHT),
        ("right", "clockwise", Verdict.PUT_RIGHT),
    ],
)
def test_that_the_front_has_to_sweep_to_the_middle(
    bench: Any, side: str, seen: str, verdict: Verdict
) -> None:
    finding = bench.at(bench.found((f"turning@{side}", seen)), f"turning@{side}")
    assert finding.verdict is verdict
    assert (Use.PTO in finding.bars) is (verdict is Verdict.PUT_RIGHT)


def test_that_data_that_sweep_outward_are_doubted(bench: Any, machine_a: Profile) -> None:
    odd = replace(machine_a, rotor=replace(machine_a.rotor, left=machine_a.rotor.right))
    finding = bench.at(bench.found(("turning@left", "anticlockwise"), machine=odd), "turning@left")
    assert finding.verdict is Verdict.MEASURE_AGAIN


@pytest.mark.parametrize(("count", "verdict"), [("4", Verdict.IN_ORDER), ("3", Verdict.PUT_RIGHT)])
def test_that_tines_are_counted_against_the_data(bench: Any, count: str, verdict: Verdict) -> None:
    assert bench.at(bench.found(("tines@LA01", count)), "tines@LA01").verdict is verdict


@pytest.mark.parametrize(
    ("play", "verdict"),
    [
        # rules of thumb: 0 to 3 mm well pinned, 10 mm and more loose
        ("2 mm", Verdict.IN_ORDER),
        ("6 mm", Verdict.MEASURE_AGAIN),
        ("14 mm", Verdict.PUT_RIGHT),  # practice case 43
        ("-1 mm", Verdict.MEASURE_AGAIN),
    ],
)
def test_that_play_after_pinning_is_judged(bench: Any, play: str, verdict: Verdict) -> None:
    assert bench.at(bench.found(("twist@LA03", play)), "twist@LA03").verdict is verdict


@pytest.mark.parametrize(("count", "verdict"), [("6", Verdict.IN_ORDER), ("7", Verdict.PUT_RIGHT)])
def test_that_loose_arms_are_counted(bench: Any, count: str, verdict: Verdict) -> None:
    # sample rake A: 12 arms a rotor, 6 fitted on delivery
    assert bench.at(bench.found(("loose@left", count)), "loose@left").verdict is verdict


def test_that_a_rotor_that_touches_bars_the_pto(bench: Any) -> None:
    finding = bench.at(bench.found(("free_turn@left", "no")), "free_turn@left")
    assert Use.PTO in finding.bars
