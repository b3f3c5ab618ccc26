"""A plane through heights by least squares, without any library."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import Impossible, demand, finite
from rakeprep.text import msg

Row = tuple[float, float, float]
Matrix = tuple[Row, Row, Row]

FLAT = 1e-9


@dataclass(frozen=True, slots=True)
class Plane:
    """``z = c + p x + q y`` with residuals (reading minus plane) and the inverse normal matrix.

    The standard deviation is None with three readings, which any plane fits. Covariances are the
    square of a standard deviation times ``inverse`` (order c, p, q).
    """

    c: Annotated[float, "m"]
    p: Annotated[float, "1"]
    q: Annotated[float, "1"]
    residuals: tuple[float, ...]
    sd: Annotated[float, "m"] | None
    inverse: Matrix

    def at(self, x: Annotated[float, "m"], y: Annotated[float, "m"]) -> Annotated[float, "m"]:
        """Height of the plane at a point [m]."""
        return self.c + self.p * x + self.q * y


def fit_plane(points: Sequence[tuple[float, float, float]]) -> Plane:
    """Plane through points (x, y, z) with the least sum of squared height differences.

    Normal equations about the middle of the points and scaled to their spread, so that they are well
    conditioned wherever the origin lies.

        z = c + p x + q y ;  sd = sqrt( sum e^2 / (n - 3) )

    Args:
        points: x, y, z [m], three or more that do not lie on one line seen from above.

    Returns:
        the :class:`Plane`.

    Raises:
        Impossible: fewer than three points, points on one line, or a coordinate that is no number.

    Example:
        >>> plane = fit_plane([(0, 0, 5), (2, 1, 10), (2.5, 2, 9), (1, 3, 0), (4, 6, 3), (7, 2, 27)])
        >>> round(plane.c, 9), round(plane.p, 9), round(plane.q, 9)
        (5.0, 4.0, -3.0)

    Source: JCGM 100:2008 (GUM), H.3, carried to two directions.
    """
    demand(len(points) >= 3, msg("A plane needs at least three readings."))
    reading = msg("reading")
    for point in points:
        for value in point:
            finite(value, reading)
    n = len(points)
    mx, my, mz = (math.fsum(point[axis] for point in points) / n for axis in range(3))
    near = [(x - mx, y - my, z - mz) for x, y, z in points]
    sxx = math.fsum(x * x for x, _, _ in near)
    syy = math.fsum(y * y for _, y, _ in near)
    sxy = math.fsum(x * y for x, y, _ in near)
    sxz = math.fsum(x * z for x, _, z in near)
    syz = math.fsum(y * z for _, y, z in near)
    det = sxx * syy - sxy * sxy
    if not det > FLAT * (sxx + syy) ** 2:
        raise Impossible(msg("All readings lie on one line; no plane can be told from them."))
    p = (syy * sxz - sxy * syz) / det
    q = (sxx * syz - sxy * sxz) / det
    residuals = tuple(z - p * x - q * y for x, y, z in near)
    spread = math.fsum(e * e for e in residuals)
    sd = math.sqrt(spread / (n - 3)) if n > 3 else None
    return Plane(mz - p * mx - q * my, p, q, residuals, sd, _inverse(n, mx, my, sxx, syy, sxy))


def _inverse(n: int, mx: float, my: float, sxx: float, syy: float, sxy: float) -> Matrix:
    """Inverse of the normal matrix of (1, x, y) from the centred sums."""
    det = sxx * syy - sxy * sxy
    vpp, vqq, vpq = syy / det, sxx / det, -sxy / det
    vcp, vcq = -(mx * vpp + my * vpq), -(mx * vpq + my * vqq)
    vcc = 1 / n + mx * mx * vpp + 2 * mx * my * vpq + my * my * vqq
    return (vcc, vcp, vcq), (vcp, vpp, vpq), (vcq, vpq, vqq)
