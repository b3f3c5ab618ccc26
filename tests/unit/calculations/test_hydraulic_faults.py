"""Suspicions from stroke times. PM-1 (invented): out 5.65 s, back 3.73 s; lift 9.05 s."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.hydraulic_faults import (
    Cause,
    diagnose,
    diagnose_lift,
    latched,
    mean_time,
    sinking,
)
from rakeprep.calculations.hydraulics import Times
from rakeprep.model.verdict import Verdict

PM1 = Times(5.65, 3.73, 5.65 / 3.73)


def three(time: float) -> list[float]:
    return [time, time + 0.1, time - 0.1]


@pytest.mark.parametrize(
    ("out", "back", "first"),
    [
        # patterns worked by hand from PM-1: exchanged, both twice, one twice, both half
        (3.73, 5.65, Cause.CROSSED),
        (11.3, 7.5, Cause.FLOW_LOW),
        (5.65, 11.0, Cause.BACK_THROTTLED),
        (12.0, 3.73, Cause.OUT_THROTTLED),
        (2.8, 1.9, Cause.FLOW_HIGH),
        (7.5, 11.3, Cause.CROSSED_AND_FLOW),
    ],
)
def test_that_the_right_cause_comes_first(out: float, back: float, first: Cause) -> None:
    found = diagnose(PM1, three(out), three(back))
    assert found.verdict is Verdict.PUT_RIGHT
    assert found.suspicions[0].cause is first
    assert str(found.suspicions[0].says)
    assert str(found.suspicions[0].next_test)
    assert found.ratio == pytest.approx(out / back)


def test_that_a_healthy_function_raises_no_suspicion() -> None:
    found = diagnose(PM1, three(5.6), three(3.8))
    assert found.verdict is Verdict.IN_ORDER
    assert found.suspicions == ()


def test_that_one_run_near_the_band_asks_for_more_runs() -> None:
    # worked by hand: band ends at 3.73 * 1.2 = 4.476; 4.4 + 0.25 lies beyond, 4.4 - 0.25 inside
    assert diagnose(PM1, [5.65], [4.4]).verdict is Verdict.MEASURE_AGAIN


def test_that_runs_getting_quicker_speak_of_air_and_others_of_sticking() -> None:
    air = diagnose(PM1, [8.1, 6.6, 5.9], three(3.73))
    assert Cause.AIR in [s.cause for s in air.suspicions]
    causes = [s.cause for s in diagnose(PM1, three(5.65), [3.4, 4.1, 3.6]).suspicions]
    assert causes.index(Cause.STICKING) < causes.index(Cause.AIR)
    assert diagnose(PM1, three(5.65), [3.4, 4.1, 3.6]).verdict is Verdict.PUT_RIGHT


@pytest.mark.parametrize(
    ("out", "back", "cause"),
    [
        ([], [], Cause.BLOCKED),
        ([5.6], [], Cause.BLOCKED_BACK),
        ([], [3.7], Cause.BLOCKED_OUT),
    ],
)
def test_that_no_movement_is_a_finding_of_its_own(out: list[float], back: list[float], cause: Cause) -> None:
    found = diagnose(PM1, out, back)
    assert (found.verdict, found.suspicions[0].cause, found.ratio) == (Verdict.PUT_RIGHT, cause, None)


def test_that_crossed_hoses_are_not_claimed_where_both_ways_take_alike() -> None:
    found = diagnose(Times(4.0, 4.0, 1.0), three(8.0), three(8.0))
    assert [s.cause for s in found.suspicions] == [Cause.FLOW_LOW]


@settings(max_examples=100)
@given(st.floats(1.3, 5))
def test_that_low_flow_of_any_size_is_recognised(factor: float) -> None:
    found = diagnose(PM1, [PM1.out * factor] * 3, [PM1.back * factor] * 3)
    assert found.suspicions[0].cause is Cause.FLOW_LOW


@pytest.mark.parametrize(
    ("up", "down", "verdict", "causes"),
    [
        ([9.0, 9.1], [5.0, 5.1], Verdict.IN_ORDER, []),
        ([14.2], [5.0], Verdict.PUT_RIGHT, [Cause.FLOW_LOW]),
        ([5.0], [5.0], Verdict.PUT_RIGHT, [Cause.FLOW_HIGH]),
        ([9.0], [1.6], Verdict.STOP, [Cause.THROTTLE_OPEN]),
        ([9.0], [], Verdict.PUT_RIGHT, [Cause.NO_FREE_RETURN]),
        ([], [5.0], Verdict.PUT_RIGHT, [Cause.BLOCKED_OUT]),
        ([], [], Verdict.PUT_RIGHT, [Cause.BLOCKED_OUT]),
    ],
)
def test_that_the_lift_is_judged_up_and_down(
    up: list[float], down: list[float], verdict: Verdict, causes: list[Cause]
) -> None:
    found = diagnose_lift(9.05, up, down)
    assert (found.verdict, [s.cause for s in found.suspicions]) == (verdict, causes)


def test_that_a_latch_shows_on_the_gauge() -> None:
    # worked by hand, PM-1: 32 bar hold the load; 1.5 times that is 48
    assert latched(Estimate(90e5, 5e5), 32e5) is not None
    assert latched(Estimate(50e5, 5e5), 32e5) is None


def test_that_the_tap_tells_where_the_oil_goes() -> None:
    still, sinks = Estimate(0.0005, 0.001), Estimate(0.005, 0.001)
    assert sinking(still) is None
    assert "Shut the stop tap" in str(sinking(sinks))
    assert "own seal" in str(sinking(sinks, sinks))
    assert "tractor" in str(sinking(sinks, still))


def test_that_impossible_times_are_refused() -> None:
    with pytest.raises(Impossible, match="No run"):
        mean_time([])
    with pytest.raises(Impossible, match="time"):
        diagnose(PM1, [-1.0], [3.0])
    with pytest.raises(Impossible, match="expected time"):
        diagnose(Times(0, 1, 0), [1.0], [1.0])


def test_that_the_means_are_handed_back_with_the_doubt_of_their_runs() -> None:
    # by hand: mean of three, doubt 0.4 / √3 s, and of one run 0.4 s
    found = diagnose(PM1, three(5.6), [3.8], one_run=0.4)
    assert found.out == Estimate(pytest.approx(5.6), pytest.approx(0.4 / 3**0.5))  # type: ignore[arg-type]
    assert found.back == Estimate(3.8, 0.4)
    assert diagnose(PM1, [5.6], [], one_run=0.4).out == Estimate(5.6, 0.4)
    assert diagnose(PM1, [], [3.8], one_run=0.4).back == Estimate(3.8, 0.4)
    assert diagnose(PM1, [5.6], []).back is None
    lift = diagnose_lift(9.05, [9.0], [5.0], one_run=0.4)
    assert (lift.out, lift.back) == (Estimate(9.0, 0.4), Estimate(5.0, 0.4))
    assert diagnose_lift(9.05, [], [5.0], one_run=0.4).back == Estimate(5.0, 0.4)
    assert diagnose_lift(9.05, [9.0], [], one_run=0.4).out == Estimate(9.0, 0.4)


def test_that_a_spread_at_its_limit_is_still_even() -> None:
    # exactly representable: 4.5 - 4.0 = 0.5
    causes = [s.cause for s in diagnose(Times(4.0, 4.0, 1.0), [4.0, 4.5], [4.0], spread=0.5).suspicions]
    assert Cause.AIR not in causes
    assert Cause.STICKING not in causes


@pytest.mark.parametrize(
    ("runs", "first"),
    [([8.1, 6.6, 5.9], Cause.AIR), ([8.1, 8.1, 5.9], Cause.STICKING), ([5.9, 8.1, 6.6], Cause.STICKING)],
)
def test_that_only_runs_that_all_get_quicker_put_air_first(runs: list[float], first: Cause) -> None:
    uneven = [s.cause for s in diagnose(PM1, runs, three(3.73)).suspicions]
    both = [cause for cause in uneven if cause in {Cause.AIR, Cause.STICKING}]
    assert both[0] is first
    assert len(both) == 2


@pytest.mark.parametrize(
    ("out", "back"),
    # by hand: an eighth too slow out stays inside the band of a fifth, and back is as it should be
    [(5.65 * 1.13, 3.73), (5.65, 3.73 * 1.13), (5.65 * 1.13, 3.73 * 1.13)],
)
def test_that_a_time_inside_the_band_suspects_no_throttle(out: float, back: float) -> None:
    causes = [s.cause for s in diagnose(PM1, [out] * 2, [back - 0.3, back + 0.3]).suspicions]
    assert not {Cause.OUT_THROTTLED, Cause.BACK_THROTTLED, Cause.FLOW_LOW} & set(causes)


def test_that_a_quick_function_is_never_called_slow() -> None:
    # by hand: ln(0.75) = -0.29 both ways, beyond ln(1.2) = 0.18; nothing is throttled or crossed
    causes = [s.cause for s in diagnose(PM1, [5.65 * 0.75] * 3, [3.73 * 0.75] * 3).suspicions]
    assert causes == [Cause.FLOW_HIGH]


def test_that_a_flow_a_quarter_low_is_low_and_a_tenth_is_not() -> None:
    # by hand: factor 1.25 is beyond 1.2; of o = b the mean is their value, not twice it
    assert diagnose(PM1, [5.65 * 1.25] * 3, [3.73 * 1.25] * 3).suspicions[0].cause is Cause.FLOW_LOW
    one_slow = diagnose(PM1, [5.65 * 1.45] * 3, [3.73] * 3)
    # by hand: ln 1.45 = 0.37, halves 0.186: unlike by more than ln 1.2 = 0.182, so that it is no flow
    assert [s.cause for s in one_slow.suspicions] == [Cause.OUT_THROTTLED]


def test_that_a_lift_too_slow_and_too_quick_down_names_the_danger_first() -> None:
    causes = [s.cause for s in diagnose_lift(9.05, [14.2], [1.6]).suspicions]
    assert causes == [Cause.THROTTLE_OPEN, Cause.FLOW_LOW]


def test_that_creep_as_small_as_its_doubt_is_none() -> None:
    edge = Estimate(0.001, 0.001)
    assert sinking(edge) is None
    assert "stays up" in str(sinking(Estimate(0.005, 0.001), edge))


def test_that_a_gauge_at_the_edge_of_its_doubt_accuses_no_latch() -> None:
    # by hand: 53 - 5 = 48 = 1.5 · 32 bar
    assert latched(Estimate(53e5, 5e5), 32e5) is None
