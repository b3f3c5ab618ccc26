"""Driveline length. PM-1 is an invented machine; its numbers are worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.driveline import (
    Cut,
    CutAnswer,
    Found,
    GuardTubes,
    Height,
    Turn,
    after_cut,
    cut,
    guard_chain,
    guard_overlap,
    nine_places,
    overlap_rule_of_thumb,
)

INCH = 0.0254  # definition of the international inch


def pm1(**changed: float) -> Cut:
    """PM-1 with some of its lengths changed."""
    given_lengths = {
        "closed": 0.905,
        "half_a": 0.780,
        "half_b": 0.760,
        "shortest": 0.872,
        "longest": 1.068,
        "reserve": 0.030,
        "min_overlap": 0.250,
        "doubt": 0.005,
    }
    return cut(**(given_lengths | changed))


def test_that_the_cut_of_pm1_is_65_mm() -> None:
    plan = cut(0.905, 0.780, 0.760, 0.872, 1.068, 0.030, 0.250, 0.005, guards=GuardTubes(0.640, 0.620))
    assert plan.answer is CutAnswer.CUT
    # worked by hand, PM-1: 905+30-872 ; (780+760-1068-250)/2 ; 63 up to the next 5
    assert plan.least == pytest.approx(0.063)
    assert plan.most == pytest.approx(0.111)
    assert plan.cut == pytest.approx(0.065)
    # worked by hand, PM-1: 905-65 ; 872-840 ; 1540-1068 ; 1540-130-1068 ; 1540-130-872
    assert plan.closed == pytest.approx(0.840)
    assert plan.gap_at_shortest == pytest.approx(0.032)
    assert plan.overlap_at_longest_before == pytest.approx(0.472)
    assert plan.overlap_at_longest == pytest.approx(0.342)
    assert plan.overlap_at_shortest == pytest.approx(0.538)
    assert (plan.half_a, plan.half_b) == (pytest.approx(0.715), pytest.approx(0.695))
    # worked by hand, PM-1: 640 + 620 - 130 - (1068 - 190)
    assert plan.guard_overlap == pytest.approx(0.252)
    assert not plan.reserve_raised


def test_that_a_tape_in_inches_gives_an_eighth_more_than_needed() -> None:
    plan = cut(
        35.63 * INCH,
        30.71 * INCH,
        29.92 * INCH,
        34.33 * INCH,
        42.05 * INCH,
        0.030,
        0.250,
        0.005,
        step=INCH / 8,
        fine_step=INCH / 16,
    )
    # worked by hand, PM-1 in inches: 2.48 in up to the next eighth is 2 1/2 in
    assert plan.cut / INCH == pytest.approx(2.5)
    assert plan.gap_at_shortest / INCH == pytest.approx(1.20, abs=0.005)
    assert plan.overlap_at_longest / INCH == pytest.approx(13.58, abs=0.01)


def test_that_a_whole_number_of_steps_gains_no_step() -> None:
    # worked by hand: 905 + 30 - 870 = 65 mm, already thirteen steps of 5 mm
    assert pm1(shortest=0.870).cut == pytest.approx(0.065)


def test_that_too_short_tubes_are_not_cut() -> None:
    plan = pm1(longest=1.310)
    assert plan.answer is CutAnswer.TOO_SHORT
    # worked by hand: (1540 - 1310 - 250)/2 = -10 ; overlap uncut 230
    assert plan.most == pytest.approx(-0.010)
    assert plan.overlap_at_longest_before == pytest.approx(0.230)
    assert plan.cut == 0
    assert "longer tubes" in str(plan.why)


def test_that_a_fitting_shaft_is_left_alone() -> None:
    plan = pm1(shortest=0.940)
    assert (plan.answer, plan.cut, plan.least) == (CutAnswer.NO_CUT, 0, 0)
    assert plan.guard_overlap is None


def test_that_no_cut_is_offered_where_both_ends_cannot_be_had() -> None:
    plan = pm1(longest=1.190)
    # worked by hand: least 63, most (1540 - 1190 - 250)/2 = 50
    assert (plan.answer, plan.cut) == (CutAnswer.NO_ROOM, 0)


@pytest.mark.parametrize(
    ("longest", "expected"),
    [
        (1.163, 0.063),  # worked by hand: most 63.5, the 5 mm step gives 65, the 1 mm step 63
        (1.16398, 0.063),  # worked by hand: most 63.01
    ],
)
def test_that_a_finer_step_is_taken_where_the_coarse_one_has_no_room(longest: float, expected: float) -> None:
    assert pm1(longest=longest).cut == pytest.approx(expected)


def test_that_the_bare_need_is_cut_where_no_step_has_room() -> None:
    # worked by hand: least 62.4, most 62.7; the 1 mm step would give 63
    plan = pm1(shortest=0.8726, longest=1.1646)
    assert plan.cut == pytest.approx(0.0624)


def test_that_a_small_reserve_is_raised_to_three_doubts_and_no_more() -> None:
    plan = pm1(reserve=0.010)
    # worked by hand: 3 * 5 = 15 ; 905 + 15 - 872 = 48
    assert plan.reserve_raised
    assert plan.reserve == pytest.approx(0.015)
    assert plan.least == pytest.approx(0.048)


@pytest.mark.parametrize(
    ("changed", "part"),
    [
        ({"closed": 0.0}, "closed length"),
        ({"half_a": -1.0}, "tractor half"),
        ({"half_b": math.nan}, "machine half"),
        ({"shortest": 0.0}, "shortest distance"),
        ({"longest": math.inf}, "longest distance"),
        ({"longest": 0.5}, "smaller than the shortest"),
        ({"closed": 0.7}, "smaller than one of the halves"),
        ({"closed": 1.6}, "larger than both halves"),
        ({"reserve": -0.01}, "end reserve"),
        ({"min_overlap": -0.01}, "smallest overlap"),
        ({"doubt": -0.01}, "doubt"),
    ],
)
def test_that_an_impossible_shaft_is_refused_by_name(changed: dict[str, float], part: str) -> None:
    with pytest.raises(Impossible, match=part):
        pm1(**changed)


lengths = st.floats(0.3, 1.5)


@settings(max_examples=150)
@given(lengths, lengths, st.floats(0, 1), lengths, st.floats(0, 0.8), st.floats(0, 0.06), st.floats(0, 0.4))
def test_that_a_cut_never_leaves_its_feasible_region(
    a: float, b: float, home: float, shortest: float, travel: float, reserve: float, overlap: float
) -> None:
    closed = max(a, b) + home * min(a, b)
    plan = cut(closed, a, b, shortest, shortest + travel, reserve, overlap, 0.002)
    if plan.answer is CutAnswer.CUT:
        assert plan.least <= plan.cut <= plan.most
        assert plan.gap_at_shortest >= plan.reserve - 1e-9
        assert plan.overlap_at_longest >= overlap - 1e-9
        assert min(plan.half_a, plan.half_b) > 0
    else:
        assert plan.cut == 0
    mirrored = cut(closed, b, a, shortest, shortest + travel, reserve, overlap, 0.002)
    assert (mirrored.answer, mirrored.cut) == (plan.answer, plan.cut)


def test_that_nine_places_name_shortest_and_longest_and_the_uneven_turn() -> None:
    read = {
        (Turn.LEFT, Height.LOW): 0.872,
        (Turn.RIGHT, Height.LOW): 0.890,
        (Turn.STRAIGHT, Height.LOW): 1.060,
        (Turn.STRAIGHT, Height.HIGH): 1.068,
    }
    places = nine_places(read)
    assert places.shortest_at == ((Turn.LEFT, Height.LOW),)
    assert places.longest_at == ((Turn.STRAIGHT, Height.HIGH),)
    assert len(places.not_read) == 5
    assert places.left_minus_right[Height.LOW] == pytest.approx(-0.018)  # by hand: 872 - 890
    assert places.uneven
    assert not nine_places(read, left_right_limit=0.020).uneven


def test_that_no_or_impossible_distances_are_refused() -> None:
    with pytest.raises(Impossible, match="No distance"):
        nine_places({})
    with pytest.raises(Impossible, match="groove to groove"):
        nine_places({(Turn.LEFT, Height.LOW): -1.0})


def test_that_mirrored_distances_mirror_their_places() -> None:
    read = {
        (turn, height): 0.9 + 0.01 * i
        for i, (turn, height) in enumerate((turn, height) for turn in Turn for height in Height)
    }
    swap = {Turn.LEFT: Turn.RIGHT, Turn.RIGHT: Turn.LEFT, Turn.STRAIGHT: Turn.STRAIGHT}
    mirrored = nine_places({(swap[turn], height): d for (turn, height), d in read.items()})
    plain = nine_places(read)
    assert [(swap[t], h) for t, h in plain.shortest_at] == list(mirrored.shortest_at)
    assert {h: -d for h, d in plain.left_minus_right.items()} == mirrored.left_minus_right
    assert plain.not_read == ()


@pytest.mark.parametrize(
    ("gap", "overlap", "found"),
    [
        # stories of PM-1 worked by hand from cut 65: gap -33 before and 32 after, overlap 472 before
        (0.032, 0.342, Found.AS_PLANNED),
        (0.038, 0.336, Found.AS_PLANNED),
        (-0.033, 0.472, Found.NOT_CUT),
        (-0.033, 0.407, Found.ONE_TUBE),
        (0.097, 0.212, Found.CUT_TWICE),
        (0.032, 0.472, Found.UNEXPLAINED),
    ],
)
def test_that_readings_after_the_cut_tell_their_story(gap: float, overlap: float, found: Found) -> None:
    told = after_cut(pm1(), gap, overlap, 0.005)
    assert told.seen is found
    assert told.gap_departure == pytest.approx(gap - 0.032)
    assert told.overlap_departure == pytest.approx(overlap - 0.342)
    assert str(told.says)


def test_that_thumb_rule_guard_and_chain_follow_from_geometry() -> None:
    assert overlap_rule_of_thumb(0.9) == pytest.approx(0.3)  # by hand: a third
    assert overlap_rule_of_thumb(0.2) == 0.150  # the rule's own floor
    assert guard_overlap(GuardTubes(0.4, 0.4, 0.0), 0.1, 0.9) == pytest.approx(-0.3)  # by hand
    assert guard_chain({(Turn.LEFT, Height.LOW): 0.4, (Turn.STRAIGHT, Height.LOW): 0.6}) == pytest.approx(
        0.66
    )


def test_that_a_departure_of_two_doubts_is_just_explained_and_more_is_not() -> None:
    # by hand: PM-1 leaves a gap of 32 mm and 342 mm of overlap; doubt 5 mm
    plan = pm1()
    assert after_cut(plan, 0.032 + 0.010, 0.342, 0.005).seen is Found.AS_PLANNED
    assert after_cut(plan, 0.032 + 0.012, 0.342, 0.005).seen is Found.UNEXPLAINED


def test_that_each_story_of_a_cut_is_told_in_its_own_words() -> None:
    plan = pm1()
    # by hand: uncut -33 and 472 mm; one tube -33 and 407; twice 97 and 212 mm
    told = [
        str(after_cut(plan, g, o, 0.005).says) for g, o in ((-0.033, 0.472), (-0.033, 0.407), (0.097, 0.212))
    ]
    assert [word in said for word, said in zip(("nothing", "only one", "two times"), told, strict=True)] == [
        True
    ] * 3


def test_that_left_and_right_at_the_limit_need_no_reason() -> None:
    # exactly representable: 0.875 - 0.75 = 0.125
    at = {(Turn.LEFT, Height.WORK): 0.75, (Turn.RIGHT, Height.WORK): 0.875}
    whole = at | {(Turn.STRAIGHT, Height.WORK): 1.0}
    assert not nine_places(whole, left_right_limit=0.125).uneven
    assert nine_places(whole, left_right_limit=0.124).uneven


def test_that_limits_of_the_cut_that_meet_leave_one_cut() -> None:
    # by hand: closed 905 + reserve 30 - shortest 872 = 63 mm; (780 + 760 - 1068 - 346) / 2 = 63 mm too
    plan = pm1(min_overlap=0.346)
    assert plan.answer is CutAnswer.CUT
    assert plan.cut == pytest.approx(0.063)
    # 2 mm more of least overlap, and 63 mm is more than the 62 mm there are
    assert pm1(min_overlap=0.348).answer is not CutAnswer.CUT


def test_that_halves_that_just_reach_round_the_closed_shaft_are_possible() -> None:
    # exactly representable: 0.5 + 0.5 = 1.0; the halves cannot be shorter together than the closed shaft
    assert pm1(closed=1.0, half_a=0.5, half_b=0.5).answer is not CutAnswer.CUT
    with pytest.raises(Impossible):
        pm1(closed=1.0, half_a=0.5, half_b=0.499)


def test_that_lengths_that_fit_to_the_last_bit_are_not_refused_for_it() -> None:
    # by hand: (780 + 760 - 1068 - 342) / 2 = 65 mm, and 63 mm rounded up to 5 mm are 65 mm
    assert pm1(min_overlap=0.342).cut == pytest.approx(0.065)
    # 905 + 30 = 935 mm need no cut, and 780 + 760 - 1068 = 472 mm of overlap are just enough uncut
    assert pm1(shortest=0.935, min_overlap=0.472).answer is CutAnswer.NO_CUT
    assert pm1(shortest=0.935, min_overlap=0.473).answer is CutAnswer.TOO_SHORT
