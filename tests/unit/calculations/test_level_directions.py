"""Lean in any direction, against numpy's covariance and Monte Carlo."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.level_directions import across, rim_height, steepest
from rakeprep.calculations.levelling import level

RADIUS = 1.75
ANGLES = np.radians(np.arange(-90, 91, 30))
PM1 = np.array([31, 24, 17, 12, 11, 15, 22]) / 1000
FOUND = level(list(zip(ANGLES.tolist(), PM1.tolist(), strict=True)), RADIUS)


@settings(max_examples=60)
@given(st.floats(-math.pi, math.pi))
def test_that_doubt_in_every_direction_follows_the_covariance(direction: float) -> None:
    # second method: numpy, u = 1.5 mm of one reading because the instrument speaks
    design = np.column_stack([np.ones(7), RADIUS * np.cos(ANGLES), RADIUS * np.sin(ANGLES)])
    cov = np.linalg.inv(design.T @ design) * 0.0015**2
    beta, *_ = np.linalg.lstsq(design, PM1, rcond=None)
    lean = np.array([0, 2 * RADIUS * math.cos(direction), 2 * RADIUS * math.sin(direction)])
    rim = np.array([1, RADIUS * math.cos(direction), RADIUS * math.sin(direction)])
    for found, row in ((across(FOUND, direction), lean), (rim_height(FOUND, direction), rim)):
        assert found.value == pytest.approx(float(row @ beta), abs=1e-12)
        assert found.doubt == pytest.approx(2 * math.sqrt(row @ cov @ row))


def test_that_main_directions_are_the_level_s_own() -> None:
    assert across(FOUND, 0).doubt == pytest.approx(FOUND.front_rear.doubt)
    assert across(FOUND, math.pi / 2).value == pytest.approx(FOUND.right_left.value)


def test_that_the_steepest_lean_is_found_with_its_direction() -> None:
    found = steepest(FOUND)
    # by hand: sqrt(29.0^2 + 9.9^2) = 30.6 mm; atan2(-9.9, -29.0) = -161 degrees: high at the left rear
    assert found.rise.value == pytest.approx(0.0306, abs=5e-5)
    assert math.degrees(found.toward) == pytest.approx(-161.1, abs=0.2)
    # second method: numpy's covariance at right angles to the lean
    design = np.column_stack([np.ones(7), RADIUS * np.cos(ANGLES), RADIUS * np.sin(ANGLES)])
    cov = np.linalg.inv(design.T @ design) * 0.0015**2
    side = np.array([0, -2 * RADIUS * math.sin(found.toward), 2 * RADIUS * math.cos(found.toward)])
    assert math.tan(found.toward_doubt) == pytest.approx(2 * math.sqrt(side @ cov @ side) / found.rise.value)
    # third method: Monte Carlo over readings of sd 1.5 mm
    random = np.random.default_rng(3)
    fitted = np.array([rim_height(FOUND, a).value for a in ANGLES])
    design = np.column_stack([np.ones(7), np.cos(ANGLES), np.sin(ANGLES)])
    slopes = np.linalg.pinv(design) @ (fitted[:, None] + random.normal(0, 0.0015, (7, 4000)))
    turned = np.angle(np.exp(1j * (np.arctan2(slopes[2], slopes[1]) - found.toward)))
    assert found.toward_doubt == pytest.approx(2 * float(np.std(turned)), rel=0.1)


def test_that_a_level_rotor_leans_nowhere() -> None:
    flat = level([(float(a), 0.02) for a in ANGLES], RADIUS)
    found = steepest(flat)
    assert found.rise.value <= found.rise.doubt
    assert found.toward_doubt == math.pi
    assert math.isfinite(found.toward)


def test_that_a_direction_must_be_a_number() -> None:
    with pytest.raises(Impossible):
        across(FOUND, math.inf)
