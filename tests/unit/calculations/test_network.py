"""The own elimination against numpy."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.network import solve


@settings(max_examples=100)
@given(st.integers(1, 12), st.integers(0, 2**32 - 1))
def test_that_elimination_agrees_with_numpy(size: int, seed: int) -> None:
    random = np.random.default_rng(seed)
    matrix = random.normal(size=(size, size)) + 4 * np.eye(size)[random.permutation(size)]
    right = random.normal(size=size)
    # second method: numpy.linalg.solve
    assert solve(matrix.tolist(), right.tolist()) == pytest.approx(
        np.linalg.solve(matrix, right).tolist(), rel=1e-7, abs=1e-9
    )


def test_that_a_zero_on_the_diagonal_is_no_hindrance() -> None:
    # by hand: y = 2, x = 3
    assert solve([[0.0, 1.0], [1.0, 0.0]], [2.0, 3.0]) == [3.0, 2.0]
    assert solve([], []) == []


def test_that_the_largest_coefficient_leads() -> None:
    # by hand: x = y = 1 to the last digit, which the tiny coefficient as leader would spoil
    assert solve([[1.0, 1.0], [1e-20, 1.0]], [2.0, 1.0]) == [1.0, 1.0]
    assert solve([[1e-20, 1.0], [1.0, 1.0]], [1.0, 2.0]) == [1.0, 1.0]
    # small numbers throughout are no singularity (by hand)
    assert solve([[1e-20]], [2e-20]) == [2.0]


def test_that_a_zero_below_the_leader_does_not_end_the_column() -> None:
    # by hand: x = 1, y = 2, z = 3 - 1
    assert solve([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [1.0, 0.0, 1.0]], [1.0, 2.0, 3.0]) == [1.0, 2.0, 2.0]


def test_that_equations_without_one_solution_are_refused() -> None:
    for matrix, right in (
        ([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0]),
        ([[1.0, 2.0]], [1.0, 2.0]),
        ([[1.0]], [1.0, 2.0]),
        ([[float("nan")]], [1.0]),
    ):
        with pytest.raises(Impossible):
            solve(matrix, right)
