"""The machine from above: to scale, complete, and never upset by an odd machine."""

from __future__ import annotations

import dataclasses
import math
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.drawing.plan import APART, Plan, anchor_of, disc_of, group_of, home_of, known_part, plan
from rakeprep.drawing.shapes import (
    Arc,
    Box,
    Circle,
    Line,
    Polyline,
    Role,
    RoundedBox,
    at_clock,
    bar,
    box_around,
)
from rakeprep.drawing.spread import spread
from rakeprep.model.profile import Profile, Rotor, Side, Turning, Wheel
from rakeprep.model.source import Sourced
from rakeprep.model.tractor import Tractor
from rakeprep.profiles import load_text, read_profile, read_tractor, sample_machines, sample_tractors

MACHINES = tuple(path.name for path in sample_machines())


@cache
def machine(name: str) -> Profile:
    path = next(path for path in sample_machines() if path.name == name)
    made = read_profile(load_text(path), path.name).value
    assert made is not None
    return made


@cache
def tractor() -> Tractor:
    path = sample_tractors()[0]
    made = read_tractor(load_text(path), path.name).value
    assert made is not None
    return made


@cache
def drawn(name: str) -> Plan:
    return plan(machine(name), tractor())


def metres(like: Sourced, value: float) -> Sourced:
    """The same value of a data file with another length."""
    typed = dataclasses.replace(like.typed, number=Fraction(value), unit="m")
    return dataclasses.replace(like, typed=typed)


def keys(profile: Profile) -> set[str]:
    """Every part that a profile names."""
    arms = {
        f"arm-{letter}A{number:02d}"
        for letter, rotor in (("L", profile.rotor.left), ("R", profile.rotor.right))
        for number in range(1, rotor.arms + 1)
    }
    circuits = profile.hydraulics.circuit
    return (
        arms
        | {f"wheel-{one.key}" for one in profile.wheel}
        | {f"lamp-{one.key}" for one in profile.lights.lamp}
        | {f"board-{one.key}" for one in profile.board}
        | {f"shaft-{one.key}" for one in profile.driveline.side_shaft}
        | {f"gearbox-{one.key}" for one in profile.gearbox}
        | {f"latch-{one.key}" for one in profile.latch}
        | {f"guard-{one.key}" for one in profile.guard}
        | {f"circuit-{one.key}" for one in circuits}
        | {f"hose-{label}" for one in circuits for label in one.hoses}
        | {"rotor-left", "rotor-right", "hitch", "driveline", "frame", "axle", "tractor", "machine"}
    )


def sound(made: Plan, profile: Profile) -> None:
    """What must hold for every drawing."""
    for shape in made.shapes:
        for x, y in shape.points():
            assert math.isfinite(x)
            assert math.isfinite(y)
            assert made.bounds.holds((x, y), slack=0.001)
    assert set(made.anchors) == keys(profile) == set(made.homes) == set(made.groups)
    assert set(made.group_anchors) == set(made.groups.values())
    for spot in (*made.anchors.values(), *made.group_anchors.values()):
        assert made.bounds.holds(spot)
    spots = list(made.anchors.values())
    for number, spot in enumerate(spots):
        assert all(math.dist(spot, other) >= APART for other in spots[:number])


# ---------------------------------------------------------------------------------- samples


@pytest.mark.parametrize("name", MACHINES)
def test_that_every_part_of_a_sample_machine_has_its_own_place(name: str) -> None:
    sound(drawn(name), machine(name))


def test_that_the_rotors_are_to_scale() -> None:
    # sample-rake-a.toml: centres 1.95 m beside the middle, 2.40 m behind the pins, tip circle 3.50 m
    made = drawn("sample-rake-a.toml")
    left, right = disc_of(made, "rotor-left"), disc_of(made, "rotor-right")
    assert left is not None
    assert right is not None
    assert left.centre == pytest.approx((-1950, -2400))
    assert right.centre == pytest.approx((1950, -2400))
    assert left.radius == right.radius == pytest.approx(1750)


def test_that_a_wheel_is_to_scale() -> None:
    # sample-rake-a.toml: L1L 1.35 m behind the pins, 2.65 m left of the middle, tyre 165 mm × 410 mm
    made = drawn("sample-rake-a.toml")
    tyre = next(s for s in made.shapes if isinstance(s, RoundedBox) and s.part == "wheel-L1L")
    assert tyre.centre == pytest.approx((-2650, -1350))
    assert (tyre.width, tyre.height) == pytest.approx((165, 410))
    assert made.homes["wheel-L1L"] == pytest.approx((-2650, -1350))


def test_that_a_castor_has_a_fork_and_another_wheel_has_none() -> None:
    # sample-rake-a.toml: L1L is a castor, L2L is not
    made = drawn("sample-rake-a.toml")
    assert any(isinstance(s, Polyline) and s.part == "wheel-L1L" for s in made.shapes)
    assert not any(isinstance(s, Polyline) and s.part == "wheel-L2L" for s in made.shapes)


def test_that_the_axle_is_where_the_data_file_says() -> None:
    # sample-rake-a.toml: hitch pins to transport axle 5.60 m
    assert drawn("sample-rake-a.toml").homes["axle"] == pytest.approx((0, -5600))


def test_that_every_arm_has_all_its_tines() -> None:
    # sample-rake-b.toml: 10 arms with 3 double tines each
    made = drawn("sample-rake-b.toml")
    tines = [s for s in made.shapes if isinstance(s, Line) and s.part == "arm-RA10"]
    assert len(tines) == 3
    assert "arm-RA11" not in made.anchors


def test_that_left_and_right_arms_are_mirror_images() -> None:
    # worked by hand: mirrored at the middle line, arm n of twelve on the left is arm 14 - n on the right
    # (both are counted clockwise from straight ahead, so arm 2 at 30° becomes arm 12 at 330°)
    made = drawn("sample-rake-a.toml")

    def points(part: str, hand: int) -> list[tuple[float, float]]:
        return [(hand * x, y) for s in made.shapes if s.part == part for x, y in s.points()]

    for left, right in ((2, 12), (5, 9), (7, 7)):
        for one, other in zip(points(f"arm-LA{left:02d}", 1), points(f"arm-RA{right:02d}", -1), strict=True):
            assert one == pytest.approx(other)


def test_that_arms_are_counted_clockwise_on_both_rotors() -> None:
    # trade rule of this project: counted clockwise seen from above; arm 4 of twelve is a quarter turn on
    made = drawn("sample-rake-a.toml")
    for letter, x in (("L", -1950), ("R", 1950)):
        ahead, quarter = made.homes[f"arm-{letter}A01"], made.homes[f"arm-{letter}A04"]
        assert ahead[0] == pytest.approx(x)
        assert ahead[1] > -2400
        assert quarter[0] > x
        assert quarter[1] == pytest.approx(-2400)


@pytest.mark.parametrize("turning", list(Turning))
@pytest.mark.parametrize("side", ["left", "right"])
def test_that_the_arrow_points_the_way_the_rotor_turns(turning: Turning, side: str) -> None:
    # worked by hand: clock degrees grow clockwise, so a clockwise arrow has a positive span
    profile = machine("sample-rake-a.toml")
    rotors = dataclasses.replace(
        profile.rotor, **{side: dataclasses.replace(getattr(profile.rotor, side), turning=turning)}
    )
    made = plan(dataclasses.replace(profile, rotor=rotors), tractor())
    arrow = next(s for s in made.shapes if isinstance(s, Arc) and s.part == f"rotor-{side}" and s.arrow)
    assert (arrow.span > 0) == (turning is Turning.CLOCKWISE)
    outer = -1 if side == "left" else 1
    assert all(outer * (x - arrow.centre[0]) > 0 for x, _ in arrow.points())


def test_that_the_tines_stay_in_the_tip_circle() -> None:
    made = drawn("sample-rake-a.toml")
    for shape in made.shapes:
        if shape.role is Role.ARM and shape.part.startswith("arm-L"):
            assert all(math.dist(point, (-1950, -2400)) <= 1750.001 for point in shape.points())


# -------------------------------------------------------------------------- parts that are not there


def test_that_a_clock_place_lies_on_the_tip_circle() -> None:
    # worked by hand from centre (-1950, -2400) and radius 1750: 3 o'clock is to the right, 12 ahead
    made = drawn("sample-rake-a.toml")
    assert anchor_of(made, "rotor-left@3") == pytest.approx((-200, -2400))
    assert anchor_of(made, "rotor-left@12") == pytest.approx((-1950, -650))
    assert home_of(made, "rotor-left@6") == pytest.approx((-1950, -4150))


@pytest.mark.parametrize(
    ("part", "known"),
    [
        ("wheel-L1L", "wheel-L1L"),
        ("wheel-L9X", "rotor-left"),
        ("wheel-R9X", "rotor-right"),
        ("wheel-X9", "axle"),
        ("arm-RA99", "rotor-right"),
        ("rotor-left@noon", "rotor-left"),
        ("rotor-left@²", "rotor-left"),
        ("lamp-none", "axle"),
        ("hose-none", "hitch"),
        ("gearbox-none", "driveline"),
        ("something else", "machine"),
        ("", "machine"),
    ],
)
def test_that_an_unknown_part_falls_back_to_the_nearest(part: str, known: str) -> None:
    made = drawn("sample-rake-a.toml")
    assert known_part(made, part) == known
    assert anchor_of(made, part) == made.anchors[known]
    assert group_of(made, part) == made.groups[known]


# ---------------------------------------------------------------------------------- odd machines

LENGTH = st.floats(-40, 40)  # the loader takes no length above 40 m
SIZE = st.floats(0.001, 40)
SIDES = st.sampled_from(list(Side))


@st.composite
def rotors(draw: st.DrawFn, like: Rotor) -> Rotor:
    return dataclasses.replace(
        like,
        turning=draw(st.sampled_from(list(Turning))),
        arms=draw(st.integers(1, 40)),
        tines_per_arm=draw(st.integers(1, 20)),
        tip_circle=metres(like.tip_circle, draw(SIZE)),
        behind_pins=metres(like.behind_pins, draw(LENGTH)),
        beside_middle=metres(like.beside_middle, draw(LENGTH)),
    )


@st.composite
def wheels(draw: st.DrawFn, like: Wheel, number: int) -> Wheel:
    return dataclasses.replace(
        like,
        key=f"W{number}",
        rotor=draw(SIDES),
        castor=draw(st.booleans()),
        behind_pins=metres(like.behind_pins, draw(LENGTH)),
        right_of_middle=metres(like.right_of_middle, draw(LENGTH)),
    )


@st.composite
def odd_machines(draw: st.DrawFn) -> Profile:
    """A machine as odd as a data file may describe it."""
    like = machine(draw(st.sampled_from(MACHINES)))
    few = st.integers(0, 12)

    def sided(items: tuple[object, ...], field: str) -> tuple[object, ...]:
        return tuple(
            dataclasses.replace(items[0], key=f"k{n}", **{field: draw(SIDES)})  # type: ignore[type-var]
            for n in range(draw(few))
        )

    left, right = draw(rotors(like.rotor.left)), draw(rotors(like.rotor.right))
    circuits = tuple(
        dataclasses.replace(like.hydraulics.circuit[0], key=f"c{n}", hoses=(f"{n}a", f"{n}b"))
        for n in range(draw(few))
    )
    span, closed = metres(like.hitch.span, draw(SIZE)), metres(like.driveline.closed, draw(SIZE))
    shafts = sided(like.driveline.side_shaft, "rotor")
    return dataclasses.replace(
        like,
        machine=dataclasses.replace(like.machine, pins_to_axle=metres(like.machine.pins_to_axle, draw(SIZE))),
        rotor=dataclasses.replace(like.rotor, left=left, right=right),
        hitch=dataclasses.replace(like.hitch, span=span),
        driveline=dataclasses.replace(like.driveline, closed=closed, side_shaft=shafts),
        hydraulics=dataclasses.replace(like.hydraulics, circuit=circuits),
        lights=dataclasses.replace(like.lights, lamp=sided(like.lights.lamp, "side")),
        wheel=tuple(draw(wheels(like.wheel[0], n)) for n in range(draw(few))),
        gearbox=sided(like.gearbox, "rotor"),
        latch=sided(like.latch, "rotor"),
        guard=tuple(
            dataclasses.replace(like.guard[0], key=key, driveline=draw(st.booleans()))
            for key in draw(st.sets(st.sampled_from(["left", "a-right", "LEFT_b", "x", "y", "z", "w"])))
        ),
        board=tuple(dataclasses.replace(like.board[0], key=f"b{n}") for n in range(draw(few))),
    )


@given(odd_machines(), SIZE, SIZE)
def test_that_every_odd_machine_can_be_drawn(profile: Profile, wheelbase: float, links: float) -> None:
    like = tractor()
    odd = dataclasses.replace(
        like.tractor,
        wheelbase=metres(like.tractor.wheelbase, wheelbase),
        links_behind_axle=metres(like.tractor.links_behind_axle, links),
    )
    made = plan(profile, dataclasses.replace(like, tractor=odd))
    sound(made, profile)
    for part in ("rotor-left@7", "wheel-none", "none"):
        assert all(math.isfinite(one) for one in anchor_of(made, part))


# ---------------------------------------------------------------------------------- spreading

POINT = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


@given(st.lists(POINT, max_size=60), st.floats(0.5, 80))
def test_that_spread_marks_never_cover_each_other(homes: list[tuple[float, float]], least: float) -> None:
    spots = spread(homes, least)
    assert len(spots) == len(homes)
    for number, spot in enumerate(spots):
        assert all(math.dist(spot, other) >= least for other in spots[:number])


@given(st.lists(POINT, min_size=1, max_size=20), st.floats(1, 40))
def test_that_spread_marks_stay_inside_where_there_is_room(
    homes: list[tuple[float, float]], least: float
) -> None:
    inside = Box(-510, -510, 510, 510)
    assert all(inside.holds(spot) for spot in spread(homes, least, inside))


def test_that_marks_with_room_are_not_moved() -> None:
    homes = [(0.0, 0.0), (30.0, 0.0), (0.0, 30.0)]
    assert spread(homes, 30.0) == homes


def test_that_marks_on_one_point_stay_near_it() -> None:
    # worked by hand: seven discs of diameter d fit into a circle of diameter 3 d, so the centres of a
    # tight cluster lie within d; the coarse rings may need twice that
    spots = spread([(5.0, 5.0)] * 7, 10.0)
    assert all(math.dist(spot, (5.0, 5.0)) <= 20.0 for spot in spots)


def test_that_marks_overflow_a_box_that_is_too_small() -> None:
    spots = spread([(0.0, 0.0)] * 9, 10.0, Box(-1, -1, 1, 1))
    assert len(set(spots)) == 9


# ---------------------------------------------------------------------------------- shapes


def test_that_the_clock_runs_clockwise_from_straight_ahead() -> None:
    # worked by hand: sin and cos of 0°, 90°, 180°, 270°
    for degrees, point in ((0, (1, 12)), (90, (11, 2)), (180, (1, -8)), (270, (-9, 2))):
        assert at_clock((1, 2), 10, degrees) == pytest.approx(point)


def test_that_a_bar_has_its_width_all_along() -> None:
    # worked by hand: 10 wide along y
    box = box_around(bar("frame", Role.OUTLINE, (0, 0), (0, 100), 10).corners)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-5, 0, 5, 100))


def test_that_a_bar_without_length_is_a_square() -> None:
    box = box_around(bar("frame", Role.OUTLINE, (3, 4), (3, 4), 10).corners)
    assert (box.width, box.height) == pytest.approx((10, 10))


def test_that_the_points_of_a_circle_reach_its_edges() -> None:
    box = box_around(Circle("frame", Role.OUTLINE, (1, 2), 5).points())
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((-4, -3, 6, 7))
