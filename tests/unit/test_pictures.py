"""The pictures of readings as plain shapes: clock face, lamps, shaft."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep import paths
from rakeprep.drawing.clock import hour_of, in_gap, level_lines, widest_gap
from rakeprep.drawing.lamp_row import in_order, lamp, places
from rakeprep.drawing.rotor_face import face, figures, tilt
from rakeprep.drawing.shaft import Telescope, shaft
from rakeprep.drawing.shapes import Box, Line, Polygon, Role
from rakeprep.model.profile import Profile, Side
from rakeprep.profiles import load_text, read_profile

HOURS = (9, 10, 11, 12, 1, 2, 3)
FINITE = st.floats(-1, 1)


@pytest.fixture(scope="module")
def profile() -> Profile:
    path = paths.sample_profiles() / "machines" / "sample-rake-a.toml"
    found = read_profile(load_text(path), path.name).value
    assert found is not None
    return found


def test_that_level_lines_stand_at_round_heights_and_the_plane_falls_to_the_front() -> None:
    # By hand: middle 25 mm, front 20 mm lower than the rear: from 15 mm in front to 35 mm behind. Steps of
    # 1 mm and 2 mm would be more than nine lines, 5 mm gives 15, 20, 25, 30, 35.
    found = level_lines(0.025, -0.020, 0.0)
    assert found is not None
    assert [round(height * 1000) for height, _ in found.lines] == [15, 20, 25, 30, 35]
    assert [share for _, share in found.lines] == pytest.approx([-1, -0.5, 0, 0.5, 1])
    assert found.uphill == pytest.approx((0, -1))  # up toward the rear


@given(FINITE, FINITE, FINITE)
def test_that_every_level_line_lies_on_the_circle(centre: float, front: float, right: float) -> None:
    found = level_lines(centre, front, right)
    if found is None:
        assert math.hypot(front, right) / 2 < 1e-5
        return
    assert len(found.lines) <= 10
    # Second method: the height of the plane at the middle of each line.
    for height, share in found.lines:
        x, y = (share * part for part in found.uphill)
        assert height == pytest.approx(centre + y * front / 2 + x * right / 2, abs=1e-9)
        assert -1.000001 <= share <= 1.000001


@pytest.mark.parametrize(("point", "hour"), [((0, 1), 0), ((1, 0), 3), ((0, -1), 6), ((-1, 0), 9)])
def test_that_hours_go_round_as_on_a_clock(point: tuple[float, float], hour: float) -> None:
    assert hour_of(point) == pytest.approx(hour)


def test_that_the_rear_half_is_where_the_cam_lifts_the_arm() -> None:
    assert widest_gap(HOURS) == (3, 9, 6)  # by the hours of the list
    assert in_gap(HOURS, 6)
    assert not in_gap(HOURS, 12)
    assert not in_gap((2, 4, 6, 8, 10, 12), 7)  # never three hours without a reading


def test_that_figures_stand_apart_and_where_the_arm_is_read() -> None:
    plane = level_lines(0.025, -0.020, 0.001)
    assert plane is not None
    spots = [at for _, at in figures((0, 0), 21, HOURS, plane)]
    assert spots
    assert all(not in_gap(HOURS, hour_of(at)) for at in spots)
    assert all(math.dist(a, b) > 4 for a in spots for b in spots if a is not b)


def test_that_a_face_shades_the_gap_and_marks_each_place_read() -> None:
    shapes = list(face("rotor-left", (0, 0), 21, HOURS, None))
    assert sum(shape.role is Role.STRONG for shape in shapes) == len(HOURS)
    (barred,) = (s for s in shapes if isinstance(s, Polygon) and s.role is Role.BARRED)
    assert all(y <= 0.01 for _, y in barred.corners)  # nine and three o'clock are level with the middle


def test_that_a_tilt_is_drawn_as_steep_as_it_is() -> None:
    shapes = list(tilt("rotor-left", Box(0, 0, 40, 10), -0.020, (-0.020, 0.005), 200))
    (line,) = (s for s in shapes if isinstance(s, Polygon) and s.role is Role.ARROW)
    left = [y for x, y in line.corners if x < 1]
    # By hand: the left end is 20 mm lower than the right one, 10 mm below the middle: 0.010 · 200 = 2 mm.
    assert sum(left) / len(left) == pytest.approx(5 - 2, abs=0.05)


def test_that_lamps_stand_from_the_outside_inward_as_seen_from_behind(profile: Profile) -> None:
    order = [(each.side, each.function) for each in in_order(profile.lights.lamp)]
    assert order[0] == (Side.LEFT, "left-turn")
    assert order[-1] == (Side.RIGHT, "right-turn")
    at = places(profile.lights.lamp, 56)
    xs = [at[each.key] for each in in_order(profile.lights.lamp)]
    assert xs == sorted(xs)
    assert min(b - a for a, b in pairwise(xs)) > 2 * 1.7  # two radii: none overlap
    assert xs[0] + xs[-1] == pytest.approx(56)  # the row is symmetrical


@pytest.mark.parametrize(
    ("lit", "dim", "expected", "roles"),
    [
        (True, False, True, [Role.EXPECTED, Role.LIT]),
        (False, True, True, [Role.EXPECTED, Role.UNLIT, Role.LIT]),
        (False, False, False, [Role.UNLIT]),
    ],
)
def test_that_a_lamp_shows_what_it_did_and_what_it_should(
    lit: bool, dim: bool, expected: bool, roles: list[Role]
) -> None:
    assert [shape.role for shape in lamp("x", (0, 0), lit, dim, expected)] == roles


def test_that_the_shaft_is_to_scale() -> None:
    # By hand, the sample's answers: halves 780 and 760, closed 905, cut 65, at 872 mm; 0.1 mm to the mm.
    shapes = list(shaft(Telescope((0.780, 0.760), 0.905, 0.065, 0.872), (0, 0), 100))
    (outer,) = (s for s in shapes if s.role is Role.OUTLINE)
    assert max(x for x, _ in outer.points()) == pytest.approx(71.5)  # 780 - 65
    (inner,) = (s for s in shapes if s.role is Role.TYRE)
    assert min(x for x, _ in inner.points()) == pytest.approx(87.2 - 69.5)  # 872 - (760 - 65)
    yokes = [s for s in shapes if s.role is Role.STRONG]
    widths = [max(x for x, _ in y.points()) - min(x for x, _ in y.points()) for y in yokes]
    assert widths == pytest.approx([14.5, 12.5])  # 905 - 760 and 905 - 780
    hatched = [s for s in shapes if isinstance(s, Line) and s.role is Role.HOSE]
    assert min(s.start[0] for s in hatched) >= 17.7
    assert max(s.end[0] for s in hatched) <= 71.5 + 0.01


@given(st.floats(0.1, 2), st.floats(0, 0.3))
def test_that_any_shaft_stays_near_its_two_grooves(distance: float, cut: float) -> None:
    made = Telescope((0.78, 0.76), 0.905, cut, distance)
    for shape in shaft(made, (0, 0), 100):
        for x, _ in shape.points():
            assert -14.6 <= x <= distance * 100 + 14.6  # by no more than a yoke


def test_that_scales_do_not_change_shares() -> None:
    one, other = (level_lines(0.02 * k, 0.01 * k, 0.0) for k in (1, 10.0))
    assert one is not None
    assert other is not None
    assert [s for _, s in one.lines] == pytest.approx([s for _, s in other.lines])
