"""Rotor level; PM-1 (invented) worked by hand, fits judged by numpy, scipy and Monte Carlo."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from rakeprep.calculations import Impossible
from rakeprep.calculations.levelling import (
    CannotTell,
    Reading,
    arc,
    best_direction,
    clock_angle,
    level,
    suspect_readings,
    without_floor,
)
from rakeprep.calculations.planes import fit_plane

PM1 = (31, 24, 17, 12, 11, 15, 22)
RADIUS = 1.75


def walk(heights: list[float], start: float = -90, step: float = 30) -> list[Reading]:
    """Readings in millimetres every ``step`` degrees as the function wants them."""
    return [(math.radians(start + k * step), z / 1000) for k, z in enumerate(heights)]


def test_that_the_left_rotor_of_pm1_comes_out() -> None:
    found = level(walk(list(PM1)), RADIUS)
    # worked by hand, PM-1: centre 26.6, front - rear -29.0, right - left -9.9, sd 0.5 mm
    assert found.centre.value == pytest.approx(0.0266, abs=5e-5)
    assert found.front_rear.value == pytest.approx(-0.0290, abs=5e-5)
    assert found.right_left.value == pytest.approx(-0.0099, abs=5e-5)
    assert found.sd == pytest.approx(0.0005, abs=5e-5)
    assert max(abs(e) for e in found.residuals) == pytest.approx(0.0006, abs=5e-5)
    # by hand: the instrument's 3 mm speaks; 2R * 3 / R * sqrt(1/(3 - 3.732^2/7)) = 5.97, and 3.00
    assert found.front_rear.doubt == pytest.approx(0.00597, abs=1e-5)
    assert found.right_left.doubt == pytest.approx(0.00300, abs=1e-5)
    assert found.suspects == ()
    assert found.says is None


def test_that_the_fit_s_own_scatter_speaks_where_the_instrument_is_better() -> None:
    found = level(walk(list(PM1)), RADIUS, instrument_doubt=0.0)
    # second method: numpy covariance and scipy's Student t (the table here has two decimals)
    t = np.radians(np.arange(-90, 91, 30))
    design = np.column_stack([np.ones(7), RADIUS * np.cos(t), RADIUS * np.sin(t)])
    _, ssr, *_ = np.linalg.lstsq(design, np.array(PM1) / 1000, rcond=None)
    cov = float(ssr[0]) / 4 * np.linalg.inv(design.T @ design)
    factor = stats.t.ppf(0.975, 4)
    assert found.front_rear.doubt == pytest.approx(2 * RADIUS * factor * math.sqrt(cov[1, 1]), rel=2e-3)
    assert found.centre.doubt == pytest.approx(factor * math.sqrt(cov[0, 0]), rel=2e-3)
    # PM-1, worked by hand: 2.9 and 1.5 mm
    assert found.front_rear.doubt == pytest.approx(0.0029, abs=1e-4)
    assert found.right_left.doubt == pytest.approx(0.0015, abs=1e-4)


def test_that_equal_spacing_round_the_circle_follows_the_closed_form() -> None:
    # closed form of harmonic analysis, worked by hand: a = (30-14)/(2*1500), b = (22-20)/(2*1500)
    found = level(walk([30, 22, 14, 20], start=0, step=90), 1.5)
    assert found.centre.value == pytest.approx(0.0215)
    assert found.front_rear.value == pytest.approx(0.016)
    assert found.right_left.value == pytest.approx(0.002)
    # by hand: twist 30 + 14 - 22 - 20 = 2, a quarter of it on each place
    assert [abs(e) for e in found.residuals] == pytest.approx([0.0005] * 4)


def test_that_the_doubts_cover_nineteen_of_twenty_machines() -> None:
    # second method: Monte Carlo with readings of sd 1.5 mm about a known plane
    random = np.random.default_rng(7)
    t = np.radians(np.arange(-90, 91, 30))
    true = 0.025 + 0.004 * np.cos(t) - 0.003 * np.sin(t)
    hits = 0
    for _ in range(400):
        heights = true + random.normal(0, 0.0015, 7)
        found = level(list(zip(t.tolist(), heights.tolist(), strict=True)), RADIUS)
        hits += abs(found.front_rear.value - 0.008) <= found.front_rear.doubt
    assert hits >= 0.93 * 400


@settings(max_examples=100)
@given(st.lists(st.floats(0, 60), min_size=5, max_size=12), st.floats(0.5, 3))
def test_that_the_mirrored_machine_leans_the_other_way(heights: list[float], radius: float) -> None:
    step = 180 / (len(heights) - 1)
    plain = level(walk(heights, step=step), radius)
    mirror = level([(-angle, z) for angle, z in walk(heights, step=step)], radius)
    assert mirror.front_rear.value == pytest.approx(plain.front_rear.value, abs=1e-9)
    assert mirror.right_left.value == pytest.approx(-plain.right_left.value, abs=1e-9)
    # a larger circle with the same readings leans by the same millimetres across it
    larger = level(walk(heights, step=step), 2 * radius)
    assert larger.front_rear.value == pytest.approx(plain.front_rear.value, abs=1e-9)
    assert larger.right_left.doubt == pytest.approx(plain.right_left.doubt)


def test_that_one_dip_in_the_floor_is_suspect_and_kept() -> None:
    level_floor = [20.0, 21, 20, 21, 20, 21, 20]
    dipped = level_floor.copy()
    dipped[5] += 14
    found = level(walk(dipped), RADIUS)
    assert found.suspects == (5,)
    assert "Read that place again" in str(found.says)
    assert len(found.residuals) == 7
    assert level(walk(level_floor), RADIUS).suspects == ()


def test_that_a_smaller_dip_on_a_tilted_rotor_is_suspect_too() -> None:
    dipped = list(PM1)
    dipped[5] += 8
    assert level(walk(dipped), RADIUS).suspects == (5,)


def test_that_two_readings_of_one_place_cannot_both_be_right() -> None:
    # worked by hand: four places at 20 mm; the fifth reading, taken twice, says 20 and 50
    angles = [math.radians(a) for a in (0, 90, 180, 270, 0)]
    found = level(list(zip(angles, [0.020, 0.020, 0.020, 0.020, 0.050], strict=True)), RADIUS)
    assert found.suspects == (4,)


def test_that_several_suspects_are_all_asked_for_again() -> None:
    # worked by hand: with only two readings at the front and three elsewhere on one level line across,
    # either front reading leaves a perfect plane when it is left out
    points = [(1.0, 0.0, 0.02), (1.0, 0.0, 0.05), (0.0, -1.0, 0.02), (0.0, 0.0, 0.02), (0.0, 1.0, 0.02)]
    assert suspect_readings(points, fit_plane(points)) == (0, 1)
    quarter = [(clock_angle(h), z) for h, z in ((12, 0.020), (12, 0.050), (3, 0.02), (9, 0.02))]
    near = [(math.radians(89.99), 0.02)]
    found = level([*quarter, *near], RADIUS)
    assert found.suspects == (0, 1)
    assert "cannot be told which" in str(found.says)


def test_that_a_point_whose_fellows_lie_on_one_line_is_not_judged() -> None:
    points = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (2.0, 0.0, 0.02), (3.0, 0.0, 0.0), (0.0, 1.0, 0.5)]
    assert 4 not in suspect_readings(points, fit_plane(points))


@pytest.mark.parametrize(
    ("readings", "part"),
    [
        ([], "only 0 places"),
        (walk([20, 20, 20]), "only 3 places"),
        ([(0.0, 0.02)] * 6, "only 1 place was"),
        (walk([20, 20, 20, 20], step=25), "quarter"),
    ],
)
def test_that_too_few_or_too_close_places_cannot_tell(readings: list[Reading], part: str) -> None:
    with pytest.raises(CannotTell, match=part) as caught:
        level(readings, RADIUS)
    assert "cannot be told from these readings, because" in str(caught.value.message)


def test_that_the_four_least_places_suffice() -> None:
    readings = [(clock_angle(hour), 0.02) for hour in (9, 11, 1, 3)]
    assert level(readings, RADIUS).front_rear.value == pytest.approx(0, abs=1e-12)


def test_that_the_clock_runs_from_straight_ahead() -> None:
    # definition: 30 degrees an hour, clockwise from straight ahead
    degrees = {0: 0, 12: 0, 1: 30, 3: 90, 6: 180, 9: -90, 11: -30}
    for hour, expected in degrees.items():
        assert math.degrees(clock_angle(hour)) == pytest.approx(expected)
    with pytest.raises(Impossible, match="clock face"):
        clock_angle(13)


def test_that_the_arc_is_the_smallest_that_holds_all_places() -> None:
    assert math.degrees(arc([clock_angle(h) for h in (9, 11, 1, 3)])) == pytest.approx(180)
    assert math.degrees(arc([clock_angle(h) for h in (8, 9, 10)])) == pytest.approx(60)
    assert math.degrees(arc([clock_angle(h) for h in (12, 3, 6, 9)])) == pytest.approx(270)
    assert arc([]) == arc([1.0]) == 0


def test_that_the_floor_is_taken_off_place_by_place() -> None:
    # by hand: 30 - 8 and 22 - (-2)
    z = without_floor({"2": 0.030, "3": 0.022}, {"2": 0.008, "3": -0.002, "4": 0.0})
    assert z == {"2": pytest.approx(0.022), "3": pytest.approx(0.024)}
    with pytest.raises(Impossible, match="floor has not been measured"):
        without_floor({"2": 0.030}, {})


@pytest.mark.parametrize(("radius", "doubt"), [(0.0, 0.003), (1.75, -0.001)])
def test_that_an_impossible_rotor_is_refused(radius: float, doubt: float) -> None:
    with pytest.raises(Impossible):
        level(walk(list(PM1)), radius, doubt)


def test_that_a_narrow_arc_tells_the_lean_along_its_chord_only() -> None:
    angles = [math.radians(a) for a in (-40, -15, 10, 40)]
    readings = [(a, 0.020 + 0.004 * math.cos(a) + 0.003 * math.sin(a)) for a in angles]
    found = best_direction(readings, RADIUS, 0.003)
    # by hand: the chord of places about 12 o'clock lies across, so that right minus left is told, 6 mm
    assert math.degrees(found.toward) == pytest.approx(90, abs=10)
    assert found.across.doubt < found.other.doubt / 3
    # second method: numpy, covariance of the slopes and its eigenvectors
    design = np.column_stack([np.ones(4), RADIUS * np.cos(angles), RADIUS * np.sin(angles)])
    cov = np.linalg.inv(design.T @ design)[1:, 1:] * 0.0015**2
    values, vectors = np.linalg.eigh(cov)
    assert found.across.doubt == pytest.approx(4 * RADIUS * math.sqrt(values[0]))
    assert found.other.doubt == pytest.approx(4 * RADIUS * math.sqrt(values[1]))
    towards = np.array([math.cos(found.toward), math.sin(found.toward)])
    assert abs(towards @ vectors[:, 0]) == pytest.approx(1)
    assert found.across.value == pytest.approx(2 * (0.004 * towards[0] + 0.003 * towards[1]))
    assert "cannot, because" in str(found.says)
    assert "3 o'clock" in str(found.says)


def test_that_a_narrow_arc_at_the_side_tells_front_minus_rear() -> None:
    readings = [(math.radians(a), 0.020 + 0.004 * math.cos(math.radians(a))) for a in (60, 75, 105, 120)]
    found = best_direction(readings, RADIUS)
    # by symmetry about 3 o'clock; 2 * 4 mm by hand
    assert math.degrees(found.toward) == pytest.approx(0, abs=1e-6)
    assert found.across.value == pytest.approx(0.008)
    assert "12 o'clock" in str(found.says)


def test_that_places_that_all_but_coincide_tell_no_direction() -> None:
    with pytest.raises(CannotTell, match="coincide"):
        best_direction([(k * 1e-5, 0.02) for k in range(5)], RADIUS)
    with pytest.raises(CannotTell, match="only 2 places"):
        best_direction([(0.0, 0.02), (0.1, 0.02)], RADIUS)
    for refused in (
        lambda: best_direction([(k * 0.1, math.nan) for k in range(5)], RADIUS),
        lambda: best_direction(walk(list(PM1)), 0),
    ):
        with pytest.raises(Impossible) as caught:
            refused()
        assert not isinstance(caught.value, CannotTell)


def test_that_the_whole_covariance_is_the_one_numpy_has() -> None:
    # unequal places, so that no entry of the matrix is like another; u = 1.5 mm, the instrument's
    angles = np.radians([-80, -35, 0, 20, 75, 100])
    readings = [(float(a), 0.020 + 0.004 * math.cos(a)) for a in angles]
    found = level(readings, RADIUS)
    design = np.column_stack([np.ones(6), RADIUS * np.cos(angles), RADIUS * np.sin(angles)])
    scale = np.array([1, 2 * RADIUS, 2 * RADIUS])  # front - rear = 2 R p
    expected = np.linalg.inv(design.T @ design) * 0.0015**2 * np.outer(scale, scale)
    assert np.array(found.covariance) == pytest.approx(expected)


def test_that_readings_all_alike_are_level_and_as_doubtful_as_the_rule() -> None:
    found = level(walk([20] * 7), RADIUS)
    assert found.sd == 0.0
    # by hand as for PM-1: the instrument's 3 mm give 5.97 and 3.00 mm, however well the readings fit
    assert (found.front_rear.value, found.right_left.value) == pytest.approx((0.0, 0.0))
    assert found.front_rear.doubt == pytest.approx(0.00597, abs=1e-5)


def test_that_four_readings_never_suspect_one_of_them() -> None:
    points = [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.1)]
    assert suspect_readings(points, fit_plane(points)) == ()


def test_that_a_point_not_judged_does_not_hide_the_ones_after_it() -> None:
    # the first point alone stands off the line of the next three, so that without it there is no plane
    line = [(0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), (-1.0, 0.1, 0.0), (-1.0, 0.2, 0.0), (-1.0, -0.1, 0.0)]
    points = [(1.0, 0.0, 0.0), *line[1:], (-1.0, -0.2, 0.03)]
    found = suspect_readings(points, fit_plane(points))
    assert found == (5,)


def test_that_a_quarter_of_the_circle_is_just_wide_enough() -> None:
    # four places on 90 degrees exactly are told, on 89.99 they are not
    assert level(walk([12, 11, 15, 22], start=0, step=30), RADIUS).front_rear.doubt > 0
    with pytest.raises(CannotTell, match="quarter"):
        level(walk([12, 11, 15, 22], start=0, step=29.996), RADIUS)
