"""The shipped data files."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from rakeprep.model.profile import Profile, Side
from rakeprep.model.source import SourceKind
from rakeprep.model.tractor import Acting, Tractor
from rakeprep.profiles import (
    load_text,
    read_either,
    read_profile,
    read_tractor,
    sample_machines,
    sample_tractors,
)

ALL = [*sample_machines(), *sample_tractors()]


def machine(name: str) -> Profile:
    path = next(p for p in sample_machines() if p.stem == name)
    value = read_profile(load_text(path), path.name).value
    assert value is not None
    return value


def tractor(name: str) -> Tractor:
    path = next(p for p in sample_tractors() if p.stem == name)
    value = read_tractor(load_text(path), path.name).value
    assert value is not None
    return value


@pytest.mark.parametrize("path", ALL, ids=lambda p: p.stem)
def test_that_samples_have_no_mistake_and_no_conflict(path: Path):
    read = read_either(load_text(path), path.name)
    assert [m.lines() for m in (*read.mistakes, *read.conflicts)] == []
    assert read.value is not None


@pytest.mark.parametrize("path", ALL, ids=lambda p: p.stem)
def test_that_samples_say_they_are_invented(path: Path):
    text = load_text(path)
    value = read_either(text, path.name).value
    assert value is not None
    assert "INVENTED" in "".join(text.splitlines()[:2])
    head = value.machine if isinstance(value, Profile) else value.tractor
    assert head.invented


def test_that_there_are_two_machines_and_three_tractors():
    assert len(sample_machines()) == 2
    assert len(sample_tractors()) == 3


def test_that_rake_a_has_14_wheels_and_26_pins_for_14_bolts():
    # Counts by hand: 6 + 6 + 2 wheels; 2 × 12 arms and 2 at the axle; 12 arms shipped bolted and 2 bolts.
    a = machine("sample-rake-a")
    assert len(a.wheel) == 14
    assert sum(j.holes for j in a.pin_joint) == 26
    assert sum(j.shipping_bolts for j in a.pin_joint) == 14
    assert [w.key for w in a.wheel if w.castor] == ["L1L", "L1R", "R1L", "R1R"]


def test_that_values_arrive_exact_with_their_source_and_address():
    a = machine("sample-rake-a")
    circle = a.rotor.left.tip_circle
    assert circle.path == "rotor.left.tip_circle"
    assert circle.typed.text == "3.50 m"
    assert (circle.source.kind, circle.source.where) == (SourceKind.BOOK, "p. 8")
    assert circle.value == 3.5
    assert a.wheel[0].behind_pins.path == "wheel.L1L.behind_pins"
    assert a.hitch.front_axle_share.source.where == "a law in some countries"
    assert a.hydraulics.circuit[1].flow.path == "hydraulics.circuit.lift.flow"


def test_that_a_key_left_out_takes_its_default():
    a = machine("sample-rake-a")
    assert a.wheel[-1].rotor is Side.NEITHER
    assert a.package[0].pieces == 1
    assert machine("sample-rake-b").hydraulics.rotor_hold is None


def test_that_inches_and_millimetres_that_agree_are_no_conflict():
    # By hand: 9 ft 10 1/8 in = 118.125 × 25.4 = 3000.375 mm ± 1.6 mm; 3.00 m ± 5 mm.
    width = machine("sample-rake-b").width.transport_width
    assert width.also is not None
    assert not width.conflict
    assert float(width.exact) == pytest.approx(3.000375, abs=1e-12)


@pytest.mark.parametrize("name", ["sample-rake-a", "sample-rake-b"])
def test_that_rotors_do_not_overlap_and_hold_their_wheels(name: str):
    profile = machine(name)
    left, right = profile.rotor.left, profile.rotor.right
    apart = left.beside_middle.value + right.beside_middle.value
    assert apart > (left.tip_circle.value + right.tip_circle.value) / 2
    for wheel in profile.wheel:
        if wheel.rotor is Side.NEITHER:
            assert wheel.behind_pins.value == profile.machine.pins_to_axle.value
            continue
        rotor = profile.rotor_at(wheel.rotor)
        sign = -1 if wheel.rotor is Side.LEFT else 1
        across = wheel.right_of_middle.value - sign * rotor.beside_middle.value
        along = wheel.behind_pins.value - rotor.behind_pins.value
        assert math.hypot(across, along) < rotor.tip_circle.value / 2


def test_that_the_fitting_tractor_has_a_remote_for_every_circuit():
    fits = tractor("tractor-fits")
    for name in ("sample-rake-a", "sample-rake-b"):
        circuits = machine(name).hydraulics.circuit
        assert len(fits.remote) >= len(circuits)
        assert any(r.float_position for r in fits.remote)
        for one in circuits:
            assert max(r.flow.value for r in fits.remote) >= one.flow.value
            assert max(r.pressure.value for r in fits.remote) >= one.pressure.value
        assert sum(c.acting is Acting.DOUBLE for c in circuits) <= 2


def test_that_the_second_tractor_has_no_float():
    assert not any(r.float_position for r in tractor("tractor-no-float").remote)


def test_that_the_third_tractor_is_too_light_in_front():
    # Lever rule by hand: load 2900 × (5.60 − 3.20) / 5.60 = 1242.9 kg on the links;
    # front 1150 − 1242.9 × 1.00 / 2.40 = 632 kg; 20 % of 3800 kg is 760 kg.
    own = tractor("tractor-light-in-front").tractor
    a = machine("sample-rake-a").machine
    length = a.pins_to_axle.value
    load = a.mass.value * (length - a.centre_of_gravity.value) / length
    front = own.front_axle.value - load * own.links_behind_axle.value / own.wheelbase.value
    assert load == pytest.approx(1242.9, abs=0.1)
    assert front == pytest.approx(632.1, abs=0.1)
    assert front < 0.20 * (own.front_axle.value + own.rear_axle.value)
