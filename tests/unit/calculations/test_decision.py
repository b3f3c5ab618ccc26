"""Decisions with doubt, and how doubt spreads."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible, finite, not_negative, positive
from rakeprep.calculations.decision import (
    Estimate,
    agree,
    combine,
    coverage_factor,
    decidable,
    division_doubt,
    near,
    propagate,
    within,
)
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg

stats = pytest.importorskip("scipy.stats")
uncertainties = pytest.importorskip("uncertainties")

NUMBERS = st.integers(-1000, 1000).map(lambda n: Fraction(n, 8))
DOUBTS = st.integers(0, 400).map(lambda n: Fraction(n, 8))


# Tolerance 5, doubt 2: pass within 3, fail beyond 7, between again. Worked by hand from the guarded
# acceptance and rejection of JCGM 106:2012, 8.3.
@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        (0, Verdict.IN_ORDER),
        (3, Verdict.IN_ORDER),
        (-3, Verdict.IN_ORDER),
        (Fraction(301, 100), Verdict.MEASURE_AGAIN),
        (7, Verdict.MEASURE_AGAIN),
        (-7, Verdict.MEASURE_AGAIN),
        (Fraction(701, 100), Verdict.PUT_RIGHT),
        (-8, Verdict.PUT_RIGHT),
    ],
)
def test_that_a_tolerance_of_five_with_doubt_two_passes_to_three_and_fails_beyond_seven(
    value: Fraction, verdict: Verdict
) -> None:
    assert within(value, 2, -5, 5) is verdict
    assert near(value + 20, 2, target=20, tolerance=5) is verdict


def test_that_one_limit_alone_is_enough() -> None:
    # By hand: 30 - 3 lies below 28, 30 + 3 lies below 34.
    assert within(30.0, 3.0, low=28.0) is Verdict.MEASURE_AGAIN
    assert within(30.0, 3.0, high=34.0) is Verdict.IN_ORDER
    assert within(40.0, 3.0, high=34.0) is Verdict.PUT_RIGHT


def test_that_endless_doubt_decides_nothing() -> None:
    assert within(0.0, math.inf, -1.0, 1.0) is Verdict.MEASURE_AGAIN


def test_that_typed_values_are_compared_exactly() -> None:
    # 0.1 + 0.2 is above 0.3 in floats and equal in fractions (IEEE 754).
    assert within(Fraction(1, 10), Fraction(2, 10), high=Fraction(3, 10)) is Verdict.IN_ORDER
    assert within(Fraction(10**400), Fraction(0), high=Fraction(10**400)) is Verdict.IN_ORDER


@settings(max_examples=100)
@given(NUMBERS, DOUBTS, DOUBTS, NUMBERS, DOUBTS)
def test_that_more_doubt_never_makes_a_decision_out_of_measure_again(
    value: Fraction, doubt: Fraction, more: Fraction, low: Fraction, width: Fraction
) -> None:
    before = within(value, doubt, low, low + width)
    after = within(value, doubt + more, low, low + width)
    assert after in (before, Verdict.MEASURE_AGAIN)


@settings(max_examples=100)
@given(NUMBERS, DOUBTS, NUMBERS, DOUBTS)
def test_that_the_verdict_is_the_same_in_a_mirror(
    value: Fraction, doubt: Fraction, low: Fraction, width: Fraction
) -> None:
    assert within(value, doubt, low, low + width) is within(-value, doubt, -low - width, -low)
    assert within(value, doubt, low=low) is within(-value, doubt, high=-low)


@settings(max_examples=100)
@given(NUMBERS, NUMBERS, DOUBTS)
def test_that_without_doubt_there_is_always_a_decision(
    value: Fraction, low: Fraction, width: Fraction
) -> None:
    inside = low <= value <= low + width
    assert within(value, 0, low, low + width) is (Verdict.IN_ORDER if inside else Verdict.PUT_RIGHT)


@settings(max_examples=100)
@given(NUMBERS, DOUBTS, NUMBERS, DOUBTS)
def test_that_in_order_is_found_only_where_it_can_be_decided(
    value: Fraction, doubt: Fraction, low: Fraction, width: Fraction
) -> None:
    if within(value, doubt, low, low + width) is Verdict.IN_ORDER:
        assert decidable(doubt, low, low + width)
    if decidable(doubt, low, low + width):
        assert within(low + width / 2, doubt, low, low + width) is Verdict.IN_ORDER


@pytest.mark.parametrize(
    ("value", "doubt", "low", "high"),
    [
        (math.nan, 1.0, 0.0, 1.0),
        (math.inf, 1.0, 0.0, 1.0),
        (1.0, -0.1, 0.0, 1.0),
        (1.0, math.nan, 0.0, 1.0),
        (1.0, 0.1, None, None),
        (1.0, 0.1, 2.0, 1.0),
    ],
)
def test_that_what_cannot_be_judged_is_refused(
    value: float, doubt: float, low: float | None, high: float | None
) -> None:
    with pytest.raises(Impossible) as refused:
        within(value, doubt, low, high)
    assert str(refused.value.message) == str(refused.value)
    assert str(refused.value).endswith(".")


def test_that_a_tolerance_below_zero_is_refused() -> None:
    with pytest.raises(Impossible):
        near(1.0, 0.1, 1.0, -1.0)


def test_that_an_estimate_knows_its_interval_and_can_be_judged() -> None:
    reading = Estimate(10.0, 2.0)
    assert (reading.low, reading.high) == (8.0, 12.0)  # by hand
    assert reading.within(low=8.0) is Verdict.IN_ORDER
    assert reading.within(high=11.0) is Verdict.MEASURE_AGAIN


def test_that_doubts_add_as_squares() -> None:
    # 3-4-5 triangle; full correlation adds plainly, full counter-correlation takes off (JCGM 100, eq. 16).
    assert combine([(1, 3), (1, 4)]) == pytest.approx(5)
    assert combine([(1, 3), (1, 4)], {(0, 1): 1}) == pytest.approx(7)
    assert combine([(1, 3), (1, 4)], {(0, 1): -1}) == pytest.approx(1)
    assert combine([(2, 3), (-2, 3)], {(0, 1): 1}) == 0
    assert combine([]) == 0


def test_that_the_difference_of_two_weighings_has_28_kilograms_of_doubt() -> None:
    # 20 * sqrt(2) = 28.28, worked by hand.
    assert combine([(1, 20), (-1, 20)]) == pytest.approx(28.28, abs=0.01)


# JCGM 100:2008, H.2 (rounded inputs, standard uncertainties): V, I, phi and their correlations.
H2 = [Estimate(4.999, 3.2e-3), Estimate(19.661e-3, 9.5e-6), Estimate(1.04446, 7.5e-4)]
H2_CORRELATIONS = {(0, 1): -0.36, (0, 2): 0.86, (1, 2): -0.65}


def test_that_the_published_example_of_correlated_inputs_comes_out() -> None:
    resistance = propagate(lambda v, i, phi: v / i * math.cos(phi), H2, H2_CORRELATIONS)
    reactance = propagate(lambda v, i, phi: v / i * math.sin(phi), H2, H2_CORRELATIONS)
    impedance = propagate(lambda v, i, phi: v / i, H2, H2_CORRELATIONS)
    # JCGM 100:2008, H.2, table H.3 (values), uncertainties for the rounded inputs 0.070, 0.296, 0.237.
    assert resistance.value == pytest.approx(127.732, abs=5e-4)
    assert resistance.doubt == pytest.approx(0.070, abs=6e-4)
    assert reactance.value == pytest.approx(219.847, abs=5e-4)
    assert reactance.doubt == pytest.approx(0.296, abs=6e-4)
    assert impedance.value == pytest.approx(254.260, abs=5e-4)
    assert impedance.doubt == pytest.approx(0.237, abs=6e-4)


@settings(max_examples=50)
@given(
    st.floats(1, 100), st.floats(1, 100), st.floats(1e-4, 0.01), st.floats(1e-4, 0.01), st.floats(-0.9, 0.9)
)
def test_that_spreading_agrees_with_an_independent_package(
    a: float, b: float, ua: float, ub: float, r: float
) -> None:
    ours = propagate(lambda x, y: x * x * y + x / (1 + y), [Estimate(a, ua), Estimate(b, ub)], {(0, 1): r})
    # Second method: the package "uncertainties" (exact derivatives, covariance matrix).
    cov = [[ua * ua, r * ua * ub], [r * ua * ub, ub * ub]]
    x, y = uncertainties.correlated_values([a, b], cov)
    theirs = x * x * y + x / (1 + y)
    assert ours.value == pytest.approx(theirs.nominal_value)
    assert ours.doubt == pytest.approx(theirs.std_dev, rel=1e-3, abs=1e-6)


@pytest.mark.parametrize(
    ("terms", "correlations"),
    [
        ([(1, -1)], None),
        ([(1, math.nan)], None),
        ([(1, 1), (1, 1)], {(0, 1): 1.1}),
        ([(1, 1), (1, 1)], {(0, 2): 0.5}),
        ([(1, 1), (1, 1)], {(1, 1): 0.5}),
        ([(1, 1), (1, 1), (1, 1)], {(0, 1): -1, (0, 2): -1, (1, 2): -1}),
    ],
)
def test_that_impossible_doubts_and_correlations_are_refused(
    terms: list[tuple[float, float]], correlations: dict[tuple[int, int], float] | None
) -> None:
    with pytest.raises(Impossible):
        combine(terms, correlations)


def test_that_a_doubt_below_zero_is_not_propagated() -> None:
    with pytest.raises(Impossible):
        propagate(lambda x: x, [Estimate(1.0, -1.0)])


def test_that_a_scale_and_a_sum_may_agree() -> None:
    # Invented machine, worked by hand: 6440 - 5200 = 1240 +- 28 kg against 1243 kg; 1270 lies outside.
    weighed = propagate(lambda a, b: a - b, [Estimate(6440.0, 20.0), Estimate(5200.0, 20.0)])
    assert agree(weighed, Estimate(1243.0, 0.0))
    assert not agree(weighed, Estimate(1270.0, 0.0))


def test_that_a_division_is_a_rectangle() -> None:
    # JCGM 100:2008, F.2.2.1: u = 0.29 of the division; doubled.
    assert division_doubt(1.0) == pytest.approx(2 * 0.29, abs=0.005)
    with pytest.raises(Impossible):
        division_doubt(-1.0)


@pytest.mark.parametrize("freedom", [*range(1, 21), 25, 30, 35, 40, 45, 50, 100])
def test_that_the_coverage_factor_is_students(freedom: int) -> None:
    # Second method: scipy's inverse of Student's distribution; the printed table has two decimals.
    assert coverage_factor(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), abs=0.0067)


def test_that_between_rows_the_wider_factor_is_taken() -> None:
    assert coverage_factor(24) == coverage_factor(20)
    assert coverage_factor(5000) == 1.984  # JCGM 100:2008, table G.2, row 100
    with pytest.raises(Impossible):
        coverage_factor(0)


def test_that_guards_name_the_value_and_the_thing() -> None:
    finite(1.0, msg("length"))
    positive(1.0, msg("length"))
    not_negative(0.0, msg("length"))
    with pytest.raises(Impossible, match="length must be a number; nan"):
        finite(math.nan, msg("length"))
    with pytest.raises(Impossible, match="length must be above zero; 0"):
        positive(0.0, msg("length"))
    with pytest.raises(Impossible, match=r"length cannot be below zero; -0\.5"):
        not_negative(-0.5, msg("length"))


def test_that_a_reading_whose_doubt_just_reaches_the_limit_is_in_order_in_floats_too() -> None:
    # By hand: 52 mm less 2 mm is 50 mm, the limit itself; in floats 0.052 - 0.002 comes out below 0.05.
    assert within(0.052, 0.002, low=0.050) is Verdict.IN_ORDER
    assert within(Fraction(52, 1000), Fraction(2, 1000), low=Fraction(50, 1000)) is Verdict.IN_ORDER


def test_that_the_calibration_line_of_the_gum_is_read_with_its_correlation() -> None:
    # JCGM 100:2008, H.3: b(30) = y1 + 10 y2, u 0.00288 and 0.000668, r -0.930; u(b(30)) = 0.0041
    doubt = combine([(1, 0.00288), (10, 0.000668)], {(0, 1): -0.930})
    assert doubt == pytest.approx(0.0041, abs=5e-5)
    line = propagate(
        lambda y1, y2: y1 + 10 * y2,
        [Estimate(-0.17120, 0.00288), Estimate(0.002183, 0.000668)],
        {(0, 1): -0.930},
    )
    assert (line.value, line.doubt) == pytest.approx((-0.1494, 0.0041), abs=5e-5)


@settings(max_examples=100)
@given(st.floats(-10, 10), st.floats(0, 5), st.floats(0, 5), st.floats(0, 5))
def test_that_more_doubt_never_turns_measure_again_into_in_order(
    value: float, doubt: float, more: float, tolerance: float
) -> None:
    before, after = near(value, doubt, 0, tolerance), near(value, doubt + more, 0, tolerance)
    if before is not Verdict.IN_ORDER:
        assert after is not Verdict.IN_ORDER
    if before is not Verdict.PUT_RIGHT:
        assert after is not Verdict.PUT_RIGHT


def test_that_exact_and_float_limits_mix() -> None:
    # a sum whose float noise is above 0.3 by 5e-17, against an exact limit, still counts as inside
    assert within(0.1 + 0.2, 0.0, None, Fraction(3, 10)) is Verdict.IN_ORDER
    assert within(Fraction(3, 10), 0.0, None, 0.1 + 0.2) is Verdict.IN_ORDER


def test_that_a_correlation_may_name_its_inputs_in_either_order() -> None:
    # by hand: 3 and 4 fully alike are 7 together
    assert combine([(1, 3), (1, 4)], {(1, 0): 1.0}) == pytest.approx(7.0)
    for pair in ((2, 0), (0, 2), (-1, 0), (0, -1), (1, 1)):
        with pytest.raises(Impossible, match="does not exist"):
            combine([(1, 3), (1, 4)], {pair: 1.0})


@pytest.mark.parametrize(
    ("apart", "alike"),
    # by hand: 3 and 4 are 5 together; with 4 counted twice it would be 8.5
    [(5.0, True), (5.1, False), (-5.0, True), (-5.1, False)],
)
def test_that_two_results_agree_up_to_their_common_doubt(apart: float, alike: bool) -> None:
    assert agree(Estimate(10.0, 3.0), Estimate(10.0 + apart, 4.0)) is alike


def test_that_a_doubt_of_half_the_span_can_just_decide() -> None:
    # by hand: 2 · 5 = 10, the whole span
    assert decidable(5.0, 0.0, 10.0)
    assert not decidable(5.1, 0.0, 10.0)
