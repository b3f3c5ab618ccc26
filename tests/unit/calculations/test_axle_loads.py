"""Axle loads and ballast, against an independent solution of the equations of statics."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from rakeprep.calculations import Impossible
from rakeprep.calculations.axle_loads import (
    EmptyTractor,
    axle_loads,
    front_axle,
    front_ballast,
    hitch_load,
    lift_needed,
    weighed_hitch_load,
)
from rakeprep.calculations.decision import Estimate
from rakeprep.model.verdict import Verdict

numpy = pytest.importorskip("numpy")

SOLO = EmptyTractor(2100, 3100, 2.55)  # invented tractor
HITCHED = 2900 * 2.40 / 5.60  # invented machine, worked by hand: 1242.86 kg


def test_that_the_invented_machine_puts_1243_kilograms_on_the_hitch() -> None:
    # 2900 * (5.60 - 3.20) / 5.60, by hand; 1657 kg stay on its own axle.
    assert hitch_load(2900, 5.60, 3.20) == pytest.approx(1242.86, abs=0.01)
    assert 2900 - hitch_load(2900, 5.60, 3.20) == pytest.approx(1657.14, abs=0.01)
    # 1900 * 1.10 / 4.60 = 454.3 kg, by hand, with the distance 1.10 m from the machine's axle.
    assert hitch_load(1900, 4.60, 4.60 - 1.10) == pytest.approx(454.3, abs=0.1)


def test_that_the_invented_pair_keeps_enough_on_the_front_axle() -> None:
    # By hand: 2100 - 1242.86 * 0.95 / 2.55 = 1637.0; 5200 + 1242.86 - 1637.0 = 4805.9; 1637 / 5200 = 31.5 %.
    found = axle_loads(SOLO, HITCHED, 0.95)
    assert found.front == pytest.approx(1637.0, abs=0.1)
    assert found.rear == pytest.approx(4805.9, abs=0.1)
    assert found.front_share == pytest.approx(0.315, abs=5e-4)
    assert found.total == pytest.approx(5200 + HITCHED)
    assert front_ballast(SOLO, HITCHED, 0.95, 1.40) == 0.0


def test_that_the_invented_bad_pair_needs_482_kilograms_of_ballast() -> None:
    # By hand: 1150 - 2300 * 0.95 / 2.55 = 293.1; (0.2 * 5200 - 293.1) * 2.55 / 3.95 = 482.2 kg.
    light = EmptyTractor(1150, 4050, 2.55)
    assert axle_loads(light, 2300, 0.95).front == pytest.approx(293.1, abs=0.1)
    assert front_ballast(light, 2300, 0.95, 1.40) == pytest.approx(482.2, abs=0.1)


def test_that_the_lift_needs_a_quarter_more_than_the_load() -> None:
    # 1.25 * 1242.86 = 1553.6 kg, by hand; the reserve is a rule of thumb.
    assert lift_needed(HITCHED) == pytest.approx(1553.6, abs=0.1)


def test_that_a_machine_wholly_on_the_links_comes_out_as_worked_by_hand() -> None:
    # Invented: T 4200 (1900 / 2300), b 2.35, machine 1400 kg at 0.95 + 1.60 m, ballast at 1.20 m; the general
    # ballast formula from moments, by hand.
    tractor = EmptyTractor(1900, 2300, 2.35)
    assert front_ballast(tractor, 1400, 2.55, 1.20) == pytest.approx(303.9, abs=0.1)
    bare = axle_loads(tractor, 1400, 2.55)
    assert (bare.front, bare.rear) == pytest.approx((380.9, 5219.1), abs=0.1)
    assert bare.front_share == pytest.approx(0.091, abs=5e-4)
    with_500 = axle_loads(tractor, 1400, 2.55, 500, 1.20)
    assert (with_500.front, with_500.rear, with_500.total) == pytest.approx((1136.2, 4963.8, 6100), abs=0.1)
    with_600 = axle_loads(tractor, 1400, 2.55, 600, 1.20)
    assert (with_600.front, with_600.rear, with_600.total) == pytest.approx((1287.2, 4912.8, 6200), abs=0.1)


def test_that_a_drawbar_load_comes_out_as_worked_by_hand() -> None:
    # 1900 - 800 * 0.85 / 2.35 = 1610.6 and 2300 + 800 * (1 + 0.85 / 2.35) = 3389.4, by hand.
    found = axle_loads(EmptyTractor(1900, 2300, 2.35), 800, 0.85)
    assert (found.front, found.rear) == pytest.approx((1610.6, 3389.4), abs=0.1)


LOADS = st.floats(100, 8000)
ARMS = st.floats(0.1, 4)


@settings(max_examples=100)
@given(LOADS, LOADS, st.floats(1.5, 3.5), LOADS, ARMS, LOADS, ARMS)
def test_that_the_loads_solve_the_equations_of_statics(
    front: float, rear: float, base: float, load: float, behind: float, ballast: float, ahead: float
) -> None:
    found = axle_loads(EmptyTractor(front, rear, base), load, behind, ballast, ahead)
    # Second method: sum of forces and sum of moments about the front axle, solved as a linear system. The
    # empty tractor acts in its centre of gravity, base * rear / (front + rear) behind the front axle.
    gravity = base * rear / (front + rear)
    matrix = [[1, 1], [0, base]]
    right = [
        front + rear + load + ballast,
        (front + rear) * gravity + load * (base + behind) - ballast * ahead,
    ]
    assert (found.front, found.rear) == pytest.approx(
        tuple(numpy.linalg.solve(matrix, right)), rel=1e-6, abs=1e-6
    )


@settings(max_examples=100)
@given(LOADS, st.floats(1, 10), st.floats(0, 1))
def test_that_hitch_and_axle_of_the_machine_solve_the_equations_of_statics(
    mass: float, length: float, part: float
) -> None:
    x = part * length
    # Second method: forces, and moments about the hitch, as a linear system.
    on_hitch, _ = numpy.linalg.solve([[1, 1], [0, length]], [mass, mass * x])
    assert hitch_load(mass, length, x) == pytest.approx(on_hitch, abs=1e-6 * mass)


@settings(max_examples=100)
@given(LOADS, LOADS, st.floats(1.5, 3.5), LOADS, ARMS, ARMS, st.floats(0, 1))
def test_that_the_ballast_is_just_enough(
    front: float, rear: float, base: float, load: float, behind: float, ahead: float, share: float
) -> None:
    tractor = EmptyTractor(front, rear, base)
    ballast = front_ballast(tractor, load, behind, ahead, share)
    found = axle_loads(tractor, load, behind, ballast, ahead).front_share
    if ballast > 0:
        assert found == pytest.approx(share, abs=1e-9)
    else:
        assert found >= share - 1e-9


def test_that_impossible_loads_are_refused() -> None:
    for refused in (
        lambda: hitch_load(0, 5.6, 3.2),
        lambda: hitch_load(2900, 0, 0),
        lambda: hitch_load(2900, 5.6, 5.7),
        lambda: hitch_load(2900, 5.6, math.nan),
        lambda: axle_loads(EmptyTractor(0, 1, 1), 1, 1),
        lambda: axle_loads(EmptyTractor(1, 0, 1), 1, 1),
        lambda: axle_loads(EmptyTractor(1, 1, 0), 1, 1),
        lambda: axle_loads(SOLO, -1, 1),
        lambda: axle_loads(SOLO, 1, -1),
        lambda: axle_loads(SOLO, 1, 1, -1, 1),
        lambda: axle_loads(SOLO, 1, 1, 1, -1),
        lambda: front_ballast(SOLO, 1, 1, 1, 1.1),
        lambda: lift_needed(-1),
        lambda: lift_needed(1, 0.9),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_two_weighings_tell_the_hitch_load_with_doubt() -> None:
    # by hand: 6440 - 5200 = 1240, sqrt(2) * 20 = 28.3; an error that is alike both times cancels
    found = weighed_hitch_load(Estimate(6440, 20), Estimate(5200, 20))
    assert (found.value, found.doubt) == pytest.approx((1240, 28.28), abs=0.01)
    assert weighed_hitch_load(Estimate(6440, 20), Estimate(5200, 20), shared=1.0).doubt == pytest.approx(0)


@settings(max_examples=60)
@given(
    LOADS, LOADS, st.floats(1.5, 3.5), LOADS, ARMS, st.lists(st.floats(0.001, 0.01), min_size=5, max_size=5)
)
def test_that_the_doubt_of_the_front_axle_follows_the_package_uncertainties(
    front: float, rear: float, base: float, load: float, behind: float, parts: list[float]
) -> None:
    values = (front, rear, base, load, behind)
    doubts = [value * part for value, part in zip(values, parts, strict=True)]
    estimates = [Estimate(value, doubt) for value, doubt in zip(values, doubts, strict=True)]
    found = front_axle((estimates[0], estimates[1]), estimates[2], estimates[3], estimates[4])
    # second method: uncertainties, from the moments about the rear axle
    f, r, b, g, e = (ufloat(value, doubt) for value, doubt in zip(values, doubts, strict=True))
    left = f - g * e / b
    for mine, second in ((found.front, left), (found.rear, f + r + g - left), (found.share, left / (f + r))):
        assert mine.value == pytest.approx(second.nominal_value, rel=1e-9, abs=1e-6)
        assert mine.doubt == pytest.approx(second.std_dev, rel=2e-3, abs=1e-6)


@pytest.mark.parametrize(
    ("load", "share", "verdict", "words"),
    [
        # by hand, PM-1's tractor: (2100 - G * 0.95 / 2.55) / 5200
        (1243, 0.315, Verdict.IN_ORDER, "Enough"),
        (2840, 0.2004, Verdict.MEASURE_AGAIN, "weigh"),
        (3500, 0.153, Verdict.PUT_RIGHT, "ballast"),
        (6000, -0.026, Verdict.STOP, "lift off"),
    ],
)
def test_that_the_share_on_the_front_axle_is_decided_with_doubt(
    load: float, share: float, verdict: Verdict, words: str
) -> None:
    bridge = (Estimate(2100, 20), Estimate(3100, 20))
    found = front_axle(bridge, Estimate(2.55, 0.01), Estimate(load, 28), Estimate(0.95, 0.01))
    assert found.share.value == pytest.approx(share, abs=1e-3)
    assert found.verdict is verdict
    assert words in str(found.says)


def test_that_impossible_weighings_are_refused() -> None:
    one = Estimate(1000, 10)
    for refused in (
        lambda: weighed_hitch_load(Estimate(0, 1), one),
        lambda: weighed_hitch_load(one, Estimate(0, 1)),
        lambda: weighed_hitch_load(one, Estimate(1, -1)),
        lambda: weighed_hitch_load(one, one, shared=-0.1),
        lambda: front_axle((one, one), Estimate(2.5, 0), one, Estimate(1, 0), least_share=1.1),
        lambda: front_axle((one, one), Estimate(0.01, 0.02), one, Estimate(1, 0)),
    ):
        with pytest.raises(Impossible):
            refused()


@pytest.mark.parametrize(("load", "stop"), [(999.5, False), (1000.0, True), (1001.0, True)])
def test_that_an_axle_without_any_load_is_danger(load: float, stop: bool) -> None:
    # by hand: 1000 kg in front, the load 1 m behind a wheelbase of 1 m takes off as much as it weighs
    found = front_axle(
        (Estimate(1000.0, 0.0), Estimate(3000.0, 0.0)),
        Estimate(1.0, 0.0),
        Estimate(load, 0.0),
        Estimate(1.0, 0.0),
        least_share=0.2,
    )
    assert found.front.value == pytest.approx(1000.0 - load)
    assert (found.verdict is Verdict.STOP) is stop
