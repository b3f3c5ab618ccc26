"""Tine arms; PM-1 (invented) worked by hand, waves judged by numpy."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.arms import (
    Coil,
    Hand,
    Rotor,
    Spin,
    arm_name,
    arms_past_one_place,
    check_crate,
    check_hands,
    check_spin,
    spin_for_centre_delivery,
)

PM1 = [z / 1000 for z in (14, 15, 16, 15, 15, 13, 13, 12, 11, 24, 12, 13)]


def full(hand: Hand, count: int = 12) -> dict[int, Hand]:
    return dict.fromkeys(range(1, count + 1), hand)


def test_that_both_rotors_must_sweep_to_the_middle() -> None:
    # geometry: at 12 o'clock the left rotor's tips go right, which is clockwise from above
    assert spin_for_centre_delivery(Rotor.LEFT) is Spin.CLOCKWISE
    assert spin_for_centre_delivery(Rotor.RIGHT) is Spin.ANTICLOCKWISE
    assert check_spin(Rotor.RIGHT, Spin.ANTICLOCKWISE) is None
    assert "left rotor" in str(check_spin(Rotor.LEFT, Spin.ANTICLOCKWISE))
    assert "right rotor" in str(check_spin(Rotor.RIGHT, Spin.CLOCKWISE))


def test_that_one_strange_arm_is_named() -> None:
    found = check_hands(Rotor.RIGHT, full(Hand.RIGHT) | {7: Hand.LEFT}, Hand.RIGHT, 12)
    assert (found.in_order, found.wrong) == (False, (7,))
    assert [str(s) for s in found.says] == ["Arm RA07 is a left-hand arm."]
    found = check_hands(Rotor.LEFT, full(Hand.LEFT) | {3: Hand.RIGHT}, Hand.LEFT, 12)
    assert [str(s) for s in found.says] == ["Arm LA03 is a right-hand arm."]


@pytest.mark.parametrize("rotor", list(Rotor))
def test_that_a_whole_exchanged_set_is_one_sentence(rotor: Rotor) -> None:
    found = check_hands(rotor, full(Hand.LEFT), Hand.LEFT.other, 12)
    assert len(found.says) == 1
    assert "exchanged" in str(found.says[0])
    assert len(found.wrong) == 12


def test_that_an_opening_coil_and_missing_arms_are_told() -> None:
    fitted = full(Hand.LEFT, 10)
    found = check_hands(Rotor.LEFT, fitted, Hand.LEFT, 12, {4: Coil.OPENS, 5: Coil.WINDS_UP})
    assert found.wrong == (4,)
    assert found.not_fitted == (11, 12)
    assert [str(s) for s in found.says] == [
        "The hay would open the coils of arm LA04: wrong hand or tine turned over.",
        "2 arms are not fitted yet.",
    ]


def test_that_an_arm_of_the_wrong_hand_with_opening_coils_is_told_once() -> None:
    found = check_hands(Rotor.RIGHT, full(Hand.RIGHT) | {7: Hand.LEFT}, Hand.RIGHT, 12, {7: Coil.OPENS})
    assert len(found.says) == 1


def test_that_a_healthy_rotor_raises_nothing() -> None:
    assert check_hands(Rotor.LEFT, full(Hand.LEFT), Hand.LEFT, 12).in_order
    assert Hand.RIGHT.other is Hand.LEFT


@settings(max_examples=60)
@given(st.dictionaries(st.integers(1, 12), st.sampled_from(list(Hand))), st.sampled_from(list(Hand)))
def test_that_hands_are_judged_alike_on_the_mirrored_machine(fitted: dict[int, Hand], wanted: Hand) -> None:
    plain = check_hands(Rotor.LEFT, fitted, wanted, 12)
    mirror = check_hands(Rotor.RIGHT, {n: h.other for n, h in fitted.items()}, wanted.other, 12)
    assert (plain.wrong, plain.not_fitted, len(plain.says)) == (
        mirror.wrong,
        mirror.not_fitted,
        len(mirror.says),
    )


def test_that_a_crate_is_counted_by_hand() -> None:
    seven_five = [Hand.LEFT] * 7 + [Hand.RIGHT] * 5
    # counted: seven and five against six and six
    assert [str(s) for s in check_crate(seven_five, 6, 6)] == [
        "1 left-hand arm too many.",
        "1 right-hand arm is missing.",
    ]
    assert [str(s) for s in check_crate(seven_five, 9, 3)] == [
        "2 left-hand arms are missing.",
        "2 right-hand arms too many.",
    ]
    assert check_crate(seven_five, 7, 5) == ()


def test_that_the_bent_arm_of_pm1_is_found_beside_the_wobble() -> None:
    ring = arms_past_one_place(PM1)
    assert ring.middle == pytest.approx(0.0135)  # by hand: half of 13 + 14
    assert ring.odd == ring.left_out == (10,)
    # second method: numpy least squares without arm 10
    t = 2 * np.pi * np.arange(12) / 12
    design = np.column_stack([np.ones(12), np.cos(t), np.sin(t)])
    keep = np.arange(12) != 9
    fitted, ssr, *_ = np.linalg.lstsq(design[keep], np.array(PM1)[keep], rcond=None)
    assert ring.departures[9] == pytest.approx(float(PM1[9] - design[9] @ fitted))
    assert ring.departures[9] == pytest.approx(0.0127, abs=5e-5)  # PM-1, worked by hand
    assert ring.wobble == pytest.approx(float(np.hypot(*fitted[1:])))
    assert ring.sd == pytest.approx(float(np.sqrt(ssr[0] / 8)))
    assert ring.high_arm == 3
    assert not ring.hub_wobbles


def test_that_a_wobbling_hub_is_not_blamed_on_arms() -> None:
    wave = [0.020 + 0.009 * math.cos(2 * math.pi * k / 12) for k in range(12)]
    ring = arms_past_one_place(wave)
    assert ring.odd == ()
    assert ring.hub_wobbles
    assert ring.wobble == pytest.approx(0.009)
    assert ring.high_arm == 1


def test_that_two_bent_arms_do_not_hide_each_other() -> None:
    heights = [0.015] * 12
    heights[2] += 0.030
    heights[7] -= 0.020
    ring = arms_past_one_place(heights)
    assert ring.odd == ring.left_out == (3, 8)


def test_that_arms_not_read_are_left_blank() -> None:
    ring = arms_past_one_place([None, *PM1[1:]])
    assert ring.departures[0] is None
    assert ring.odd == (10,)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 11), st.integers(0, 11))
def test_that_turning_the_numbers_turns_the_answer(bent: int, turn: int) -> None:
    heights = [0.015 + 0.001 * (k % 2) for k in range(12)]
    heights[bent] += 0.015
    moved = heights[-turn:] + heights[:-turn] if turn else heights
    assert arms_past_one_place(moved).odd == ((bent + turn) % 12 + 1,)


@pytest.mark.parametrize(
    ("call", "part"),
    [
        (lambda: arms_past_one_place([0.01] * 5 + [None] * 7), "six arms"),
        (lambda: arms_past_one_place([math.nan] * 12), "reading"),
        (lambda: arm_name(Rotor.LEFT, 0), "counted from 1"),
        (lambda: check_hands(Rotor.LEFT, {}, Hand.LEFT, 0), "at least one arm"),
        (lambda: check_hands(Rotor.LEFT, {13: Hand.LEFT}, Hand.LEFT, 12), "no arm of this number"),
        (lambda: check_crate([], -1, 0), "below zero"),
    ],
)
def test_that_impossible_arms_are_refused(call: object, part: str) -> None:
    with pytest.raises(Impossible, match=part):
        call()  # type: ignore[operator]


def test_that_one_or_two_fitted_arms_all_of_the_wrong_hand_are_told_apart() -> None:
    # one arm alone is named; two of two are an exchanged set
    one = check_hands(Rotor.LEFT, {1: Hand.RIGHT}, Hand.LEFT, 12)
    assert str(one.says[0]) == "Arm LA01 is a right-hand arm."
    two = check_hands(Rotor.LEFT, {1: Hand.RIGHT, 2: Hand.RIGHT}, Hand.LEFT, 12)
    assert "exchanged" in str(two.says[0])
    assert two.not_fitted == tuple(range(3, 13))
    assert check_hands(Rotor.LEFT, {2: Hand.LEFT}, Hand.LEFT, 2).not_fitted == (1,)


def test_that_an_exchanged_set_is_named_by_its_rotor() -> None:
    sides = {rotor: str(check_hands(rotor, full(Hand.LEFT), Hand.RIGHT, 12).says[0]) for rotor in Rotor}
    assert "left rotor" in sides[Rotor.LEFT]
    assert "right rotor" in sides[Rotor.RIGHT]


def test_that_two_strange_arms_are_both_named() -> None:
    found = check_hands(Rotor.RIGHT, full(Hand.RIGHT) | {7: Hand.LEFT, 9: Hand.LEFT}, Hand.RIGHT, 12)
    assert [str(s)[:8] for s in found.says] == ["Arm RA07", "Arm RA09"]


def test_that_a_ring_hands_back_mean_limit_and_crest() -> None:
    # by hand: a wave of 3 mm about 20 mm, highest at arm 5 of 12, a quarter turn on from arm 2
    wave = [0.020 + 0.003 * math.cos(2 * math.pi * (k - 4) / 12) for k in range(12)]
    ring = arms_past_one_place(wave)
    assert (ring.mean, ring.limit) == (pytest.approx(0.020), 0.008)
    assert ring.high_arm == 5
    # arms that scatter by 4 mm, alternately: four standard deviations are more than 8 mm
    rough = arms_past_one_place([0.020 + 0.004 * (-1) ** k for k in range(12)])
    assert rough.limit == pytest.approx(4 * rough.sd)
    assert rough.limit > 0.008


def test_that_six_arms_are_enough_to_find_an_odd_one() -> None:
    # by hand: five arms in a row and one 20 mm higher
    ring = arms_past_one_place([0.015, 0.015, 0.035, 0.015, 0.015, 0.015])
    assert ring.odd == ring.left_out == (3,)


def test_that_no_more_than_a_quarter_of_the_arms_is_left_out() -> None:
    random = [0.030, 0.002, 0.041, 0.013, 0.055, 0.008, 0.036, 0.060, 0.001, 0.049, 0.022, 0.017]
    assert len(arms_past_one_place(random).left_out) == 3
    assert len(arms_past_one_place(random[:10]).left_out) == 2


def test_that_one_right_hand_arm_too_many_is_told() -> None:
    assert [str(s) for s in check_crate([Hand.RIGHT] * 7, 0, 6)] == ["1 right-hand arm too many."]
