"""Is the rotor level: a plane through one arm's heights at several clock places."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, TypeVar

from rakeprep.calculations import Impossible, demand, finite, not_negative, positive
from rakeprep.calculations.decision import Estimate, coverage_factor
from rakeprep.calculations.planes import Matrix, Plane, fit_plane
from rakeprep.text import Message, msg, plural

Metres = Annotated[float, "m"]
Radians = Annotated[float, "rad"]
Reading = tuple[Radians, Metres]

Key = TypeVar("Key", bound=Hashable)

FEWEST_PLACES = 4
NARROWEST_ARC = math.pi / 2
INSTRUMENT_DOUBT = 0.003
SUSPECT_LIMIT = 0.005
SUSPECT_FACTOR = 3.0
READABLE = 0.001
COVERAGE = 2.0


class CannotTell(Impossible):
    """The readings are possible but do not decide the question; the message says why."""


@dataclass(frozen=True, slots=True)
class Level:
    """The rotor's plane across its tip circle.

    ``front_rear`` is front minus rear, ``right_left`` right minus left, ``centre`` the height in the
    middle, each with its 95 % doubt. ``covariance`` holds the squared standard uncertainties of
    (centre, front_rear, right_left). ``suspects`` are places of the readings that may be wrong: one
    means that one, several that it cannot be told which.
    """

    centre: Estimate
    front_rear: Estimate
    right_left: Estimate
    residuals: tuple[float, ...]
    sd: Metres
    covariance: Matrix
    suspects: tuple[int, ...]
    says: Message | None


def clock_angle(hour: float) -> Radians:
    """Angle of a place on the clock face seen from above, 12 straight ahead, clockwise.

    Args:
        hour: 0 to 12.

    Returns:
        angle from straight ahead, above -180° up to 180° [rad].

    Raises:
        Impossible: an hour outside 0 to 12.

    Example:
        >>> [round(math.degrees(clock_angle(h))) for h in (9, 12, 3, 6)]
        [-90, 0, 90, 180]

    Source: definition.
    """
    demand(0 <= hour <= 12, msg("A place on the clock face lies between 0 and 12."))
    turned = hour % 12
    return (turned if turned <= 6 else turned - 12) * math.pi / 6


def without_floor(readings: Mapping[Key, Metres], floor: Mapping[Key, Metres]) -> dict[Key, Metres]:
    """Take the floor's own height off each reading.

    The tips are read above the floor; a floor that is high there makes the reading small, so that
    height over a true plane is reading plus floor. A floor map is kept as *depth below* the true
    plane, which is subtracted.

        z = reading - depth

    Args:
        readings: tip above floor by place [m].
        floor: depth of the floor below a true plane by place [m].

    Returns:
        heights by place [m].

    Raises:
        Impossible: a place without a floor value, or a value that is no number.

    Example:
        >>> {k: round(z, 3) for k, z in without_floor({2: 0.030}, {2: 0.008}).items()}
        {2: 0.022}

    Source: geometry.
    """
    demand(
        all(place in floor for place in readings), msg("The floor has not been measured at every place read.")
    )
    for value in (*readings.values(), *floor.values()):
        finite(value, msg("reading"))
    return {place: reading - floor[place] for place, reading in readings.items()}


def arc(angles: Sequence[Radians]) -> Radians:
    """Smallest arc of the circle that holds all places.

    Args:
        angles: of the places [rad].

    Returns:
        arc [rad], 0 for fewer than two places.

    Raises:
        Impossible: an angle that is no number.

    Example:
        >>> round(math.degrees(arc([math.radians(350), math.radians(10)])))
        20

    Source: geometry.
    """
    for angle in angles:
        finite(angle, msg("clock place"))
    turn = 2 * math.pi
    around = sorted({round(angle % turn, 9) % turn for angle in angles})
    if len(around) < 2:
        return 0.0
    gaps = [later - earlier for earlier, later in pairwise(around)]
    return turn - max(*gaps, turn - around[-1] + around[0])


def level(readings: Sequence[Reading], radius: Metres, instrument_doubt: Metres = INSTRUMENT_DOUBT) -> Level:
    """Tilt of a rotor from one and the same arm walked round to several clock places.

    Readings that happen to lie well give too small a doubt; therefore the doubt of each result is
    the larger of the fit's own (its scatter times Student's t) and the instrument's.

        z = c + p x + q y, x = R cos f (ahead), y = R sin f (right)
        front - rear = 2 R p ;  right - left = 2 R q

    A reading is suspect if the plane through all others misses it by more than 5 mm and by more than
    three times what it misses any other; it stays in the result until somebody reads it again.

    Args:
        readings: clock angle [rad] and height with the floor taken off [m].
        radius: of the tip circle [m].
        instrument_doubt: 95 % half-width of one reading [m].

    Returns:
        the :class:`Level` [m].

    Raises:
        CannotTell: fewer than four different places, or all within less than a quarter turn.
        Impossible: a radius not above zero, a doubt below zero, a reading that is no number.

    Example:
        >>> heights = [31, 24, 17, 12, 11, 15, 22]
        >>> found = level([(math.radians(30 * k - 90), z / 1000) for k, z in enumerate(heights)], 1.75)
        >>> round(found.front_rear.value, 4), round(found.right_left.value, 4)
        (-0.029, -0.0099)

    Source: least squares and its covariance, JCGM 100:2008 (GUM), H.3; limits are rules of thumb.
    """
    _check(radius, instrument_doubt)
    angles = [angle for angle, _ in readings]
    _enough_places(angles)
    _wide_enough(angles)
    points, plane, u = _fitted(readings, radius, instrument_doubt)
    scale = (1.0, 2 * radius, 2 * radius)
    rows = [tuple(u * u * scale[i] * scale[j] * plane.inverse[i][j] for j in range(3)) for i in range(3)]
    covariance: Matrix = (
        (rows[0][0], rows[0][1], rows[0][2]),
        (rows[1][0], rows[1][1], rows[1][2]),
        (rows[2][0], rows[2][1], rows[2][2]),
    )
    doubts = [COVERAGE * math.sqrt(covariance[i][i]) for i in range(3)]
    suspects = suspect_readings(points, plane)
    return Level(
        Estimate(plane.c, doubts[0]),
        Estimate(scale[1] * plane.p, doubts[1]),
        Estimate(scale[2] * plane.q, doubts[2]),
        plane.residuals,
        plane.sd or 0.0,
        covariance,
        suspects,
        _suspicion(suspects),
    )


def _check(radius: float, instrument_doubt: float) -> None:
    positive(radius, msg("radius of the tip circle"))
    not_negative(instrument_doubt, msg("doubt of a reading"))


def _fitted(
    readings: Sequence[Reading], radius: float, instrument_doubt: float
) -> tuple[list[tuple[float, float, float]], Plane, float]:
    """Points, the plane through them, and one standard deviation of a reading, whichever speaks."""
    points = [(radius * math.cos(angle), radius * math.sin(angle), z) for angle, z in readings]
    plane = fit_plane(points)
    by_fit = coverage_factor(len(points) - 3) * (plane.sd or 0.0)
    return points, plane, max(by_fit, instrument_doubt) / COVERAGE


def _enough_places(angles: Sequence[float]) -> None:
    places = len({round(math.cos(angle), 6) + 1j * round(math.sin(angle), 6) for angle in angles})
    if places < FEWEST_PLACES:
        raise CannotTell(
            plural(
                "The rotor's level cannot be told from these readings, because only {count} place was "
                "read; read at least four.",
                "The rotor's level cannot be told from these readings, because only {count} places were "
                "read; read at least four.",
                places,
            )
        )


def _wide_enough(angles: Sequence[float]) -> None:
    if arc(angles) < NARROWEST_ARC - 1e-6:
        raise CannotTell(
            msg(
                "The rotor's level cannot be told from these readings, because they all lie within a quarter "
                "of the circle; read further round."
            )
        )


@dataclass(frozen=True, slots=True)
class OneDirection:
    """The one lean that readings from a narrow arc tell.

    ``across`` is the height toward ``toward`` minus the height opposite, over the whole circle;
    ``other`` the lean a quarter turn further, whose doubt says why it does not count.
    """

    toward: Radians
    across: Estimate
    other: Estimate
    says: Message


def best_direction(
    readings: Sequence[Reading], radius: Metres, instrument_doubt: Metres = INSTRUMENT_DOUBT
) -> OneDirection:
    """The lean that is told best where all places lie close together, such as within a quarter turn.

    Places on a narrow arc determine the lean along their chord far better than the lean across it.
    The directions are those in which the doubt of the plane's slope is smallest and largest.

    Args:
        readings: clock angle [rad] and height with the floor taken off [m].
        radius: of the tip circle [m].
        instrument_doubt: 95 % half-width of one reading [m].

    Returns:
        the :class:`OneDirection` [rad, m]; ``toward`` lies between -45° and 135°.

    Raises:
        CannotTell: fewer than four different places, or places that all but coincide.
        Impossible: a radius not above zero, a doubt below zero, a reading that is no number.

    Example:
        >>> front = [(math.radians(a), 0.020 + 0.003 * math.sin(math.radians(a))) for a in (-40, -15, 15, 40)]
        >>> found = best_direction(front, 1.75)
        >>> round(math.degrees(found.toward)), round(found.across.value, 4)
        (90, 0.006)

    Source: least squares and its covariance, JCGM 100:2008 (GUM), H.3; principal axes of the covariance.
    """
    _check(radius, instrument_doubt)
    _enough_places([angle for angle, _ in readings])
    try:
        _, plane, u = _fitted(readings, radius, instrument_doubt)
    except Impossible as reason:
        if any(not math.isfinite(value) for reading in readings for value in reading):
            raise
        raise CannotTell(
            msg("The rotor's lean cannot be told from these readings, because all places all but coincide.")
        ) from reason
    vpp, vqq, vpq = plane.inverse[1][1], plane.inverse[2][2], plane.inverse[1][2]
    # the axis of the largest variance, then a quarter turn on; 0 where both are alike
    worst = math.atan2(2 * vpq, vpp - vqq) / 2
    toward = worst + math.pi / 2
    # named so that it reads as front minus rear or right minus left
    toward = toward - math.pi if toward > 0.75 * math.pi else toward
    across, other = (_lean(plane, u, radius, angle) for angle in (toward, worst))
    hour = round(toward / math.pi * 6 * 2) / 2 % 12 or 12
    says = msg(
        "Only the lean toward {hour} o'clock can be told. The other cannot, because all places lie too close "
        "together; read further round.",
        hour=hour,
    )
    return OneDirection(toward, across, other, says)


def _lean(plane: Plane, u: float, radius: float, angle: float) -> Estimate:
    cos, sin = math.cos(angle), math.sin(angle)
    (_, vpp, vpq), (_, _, vqq) = plane.inverse[1], plane.inverse[2]
    variance = cos * cos * vpp + 2 * cos * sin * vpq + sin * sin * vqq
    slope = plane.p * cos + plane.q * sin
    return Estimate(2 * radius * slope, COVERAGE * u * 2 * radius * math.sqrt(max(variance, 0.0)))


def suspect_readings(
    points: Sequence[tuple[float, float, float]],
    plane: Plane,
    limit: Metres = SUSPECT_LIMIT,
    factor: float = SUSPECT_FACTOR,
) -> tuple[int, ...]:
    """Readings that the plane through all the others misses by far.

    With fewer than five readings the others always fit and nothing can be said. Of several such
    readings those count whose leaving out makes the others fit about as well as the best one does:
    within twice, and not finer than a tape reads.

    Args:
        points: x, y, z [m].
        plane: the plane through all of them.
        limit: a miss that is never suspect [m].
        factor: how many times the largest miss of the others it must be.

    Returns:
        places in ``points``.

    Raises:
        Impossible: as :func:`rakeprep.calculations.planes.fit_plane`.

    Example:
        >>> square = [(1, 0, 0), (0, 1, 0), (-1, 0, 0), (0, -1, 0), (0.7, 0.7, 0), (0.7, -0.7, 0.02)]
        >>> suspect_readings(square, fit_plane(square))
        (5,)

    Source: deletion residuals; limits are rules of thumb.
    """
    if len(points) < 5 or max(abs(e) for e in plane.residuals) == 0:
        return ()
    found: dict[int, float] = {}
    for place, (x, y, z) in enumerate(points):
        try:
            rest = fit_plane([point for at, point in enumerate(points) if at != place])
        except Impossible:  # the others lie on one line
            continue
        miss, left = abs(z - rest.at(x, y)), max(abs(e) for e in rest.residuals)
        if miss > limit and miss > factor * left:
            found[place] = left
    tenable = 2 * max(min(found.values(), default=0.0), READABLE)
    return tuple(place for place, left in found.items() if left <= tenable)


def _suspicion(suspects: Sequence[int]) -> Message | None:
    if not suspects:
        return None
    if len(suspects) == 1:
        return msg("One reading does not fit the others. Read that place again.")
    return msg("The readings do not lie on one plane, and it cannot be told which is wrong. Read them again.")
