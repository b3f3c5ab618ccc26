"""Plane fit against published data and numpy."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.planes import fit_plane

coordinate = st.floats(-5, 5)


def test_that_the_exact_textbook_plane_is_found() -> None:
    # Chapra and Canale, Numerical Methods for Engineers, multiple regression example (from memory)
    x1, x2, y = (0, 2, 2.5, 1, 4, 7), (0, 1, 2, 3, 6, 2), (5, 10, 9, 0, 3, 27)
    plane = fit_plane(list(zip(x1, x2, y, strict=True)))
    assert (plane.c, plane.p, plane.q) == (pytest.approx(5), pytest.approx(4), pytest.approx(-3))
    assert plane.sd == pytest.approx(0, abs=1e-12)


def test_that_a_published_regression_of_six_points_comes_out() -> None:
    # myhomeworkhelp.com, multiple regression: prints 9.7, 1.3 and 0.83
    x1, x2, y = (2, 4, 5, 6, 3, 1), (1, 2, 1, 3, 5, 2), (14, 16, 17, 20, 18, 12)
    plane = fit_plane(list(zip(x1, x2, y, strict=True)))
    assert round(plane.c, 1) == 9.7
    assert round(plane.p, 1) == 1.3
    assert round(plane.q, 2) == 0.83


def test_that_a_published_data_set_agrees_with_numpy() -> None:
    # data: vmstutorials.com, multiple linear regression; result by a second method, numpy lstsq
    y = np.array([140, 155, 159, 179, 192, 200, 212, 215.0])
    x1 = np.array([60, 62, 67, 70, 71, 72, 75, 78.0])
    x2 = np.array([22, 25, 24, 20, 15, 14, 14, 11.0])
    design = np.column_stack([np.ones(8), x1, x2])
    fitted, ssr, *_ = np.linalg.lstsq(design, y, rcond=None)
    plane = fit_plane(list(zip(x1.tolist(), x2.tolist(), y.tolist(), strict=True)))
    assert (plane.c, plane.p, plane.q) == pytest.approx(tuple(fitted))
    assert plane.sd == pytest.approx(math.sqrt(float(ssr[0]) / 5))
    assert np.array(plane.inverse) == pytest.approx(np.linalg.inv(design.T @ design), rel=1e-6)


@settings(max_examples=100)
@given(st.lists(st.tuples(coordinate, coordinate, coordinate), min_size=4, max_size=12), st.floats(-1e3, 1e3))
def test_that_numpy_agrees_wherever_the_points_lie(
    points: list[tuple[float, float, float]], far: float
) -> None:
    moved = np.array(points) + np.array([far, -far, 0])
    centred = moved[:, :2] - moved[:, :2].mean(axis=0)
    if np.linalg.svd(centred, compute_uv=False)[-1] < 0.05:
        return
    plane = fit_plane([tuple(row) for row in moved.tolist()])
    design = np.column_stack([np.ones(len(points)), centred])
    fitted = np.linalg.lstsq(design, moved[:, 2], rcond=None)[0]
    assert (plane.p, plane.q) == pytest.approx(tuple(fitted[1:]), abs=1e-6)
    assert plane.residuals == pytest.approx(tuple(moved[:, 2] - design @ fitted), abs=1e-6)


def test_that_three_points_have_no_scatter() -> None:
    assert fit_plane([(0, 0, 1), (1, 0, 1), (0, 1, 1)]).sd is None


@pytest.mark.parametrize(
    ("points", "part"),
    [
        ([(0, 0, 0), (1, 1, 0)], "at least three"),
        ([(0, 0, 0), (1, 1, 0), (2, 2, 5)], "one line"),
        ([(0, 0, 0)] * 4, "one line"),
        ([(0, 0, 0), (1, 0, 0), (0, math.inf, 5)], "reading"),
    ],
)
def test_that_no_plane_is_made_of_too_little(points: list[tuple[float, float, float]], part: str) -> None:
    with pytest.raises(Impossible, match=part):
        fit_plane(points)
