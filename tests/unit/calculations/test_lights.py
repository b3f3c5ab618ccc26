"""Socket, commands and voltage drop."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.lights import (
    PIN_OF,
    PINS,
    Board,
    Command,
    Lamp,
    expected,
    resistivity,
    voltage_drop,
    wire_drop,
)


def test_that_the_pins_are_those_of_the_standard() -> None:
    # ISO 1724 with the terminal designations of DIN 72552, as reprinted in the public encyclopedia
    # article on trailer connectors in Europe
    assert [(pin.number, pin.code, str(pin.colour)) for pin in PINS] == [
        (1, "L", "yellow"),
        (2, "54g", "blue"),
        (3, "31", "white"),
        (4, "R", "green"),
        (5, "58R", "brown"),
        (6, "54", "red"),
        (7, "58L", "black"),
    ]
    assert [round(pin.area * 1e6, 3) for pin in PINS] == [1.5, 1.5, 2.5, 1.5, 1.5, 1.5, 1.5]
    assert sorted(PIN_OF.values()) == [1, 2, 4, 5, 6, 7]


def test_that_every_command_lights_its_own_lamps_only() -> None:
    board = Board()
    lit = [lamp for command in Command for lamp in expected(board, command)]
    assert sorted(lit) == sorted(board.lamps)  # each lamp exactly once


def test_that_the_plate_lamp_follows_its_wiring() -> None:
    assert Lamp.PLATE in expected(Board(plate_pin=7), Command.LEFT_TAIL)
    assert Lamp.PLATE not in expected(Board(plate_pin=7), Command.RIGHT_TAIL)
    assert Lamp.PLATE not in Board(plate_pin=None).lamps
    assert expected(Board(without=frozenset({Lamp.FOG})), Command.FOG) == frozenset()
    with pytest.raises(Impossible, match="plate lamp"):
        expected(Board(plate_pin=3), Command.STOP)


def test_that_the_published_voltage_drop_comes_out() -> None:
    # REDARC, how to calculate voltage drop: 50 m of wire in all, 4 mm2, 20 A, 0.017 ohm mm2/m: 4.25 V
    assert wire_drop(50, 20, 4e-6, rho=0.017e-6) == pytest.approx(4.25)


def test_that_copper_warms_as_the_annealed_copper_standard_says() -> None:
    # IACS (from memory): 0.017241 at 20 deg C, 0.00393 per kelvin; by hand 0.01589 at 0, 0.01995 at 60
    assert resistivity() * 1e6 == pytest.approx(0.017241)
    assert resistivity(273.15) * 1e6 == pytest.approx(0.01589, abs=5e-6)
    assert resistivity(333.15) * 1e6 == pytest.approx(0.01995, abs=5e-6)
    with pytest.raises(Impossible, match="hotter"):
        resistivity(500)


def test_that_feed_and_earth_are_counted_apart() -> None:
    # worked by hand: 0.017241*8*1.75/1.5 = 0.1609 ; 0.017241*8*7/2.5 = 0.3862
    drop = voltage_drop(8, 1.75, 1.5e-6, earth_current=7.0, earth_area=2.5e-6)
    assert drop.feed == pytest.approx(0.1609, abs=1e-4)
    assert drop.back == pytest.approx(0.3862, abs=1e-4)
    assert drop.total == pytest.approx(drop.feed + drop.back)


@given(st.floats(0, 30), st.floats(0, 20), st.floats(5e-7, 1e-5))
def test_that_the_drop_grows_in_step_with_length_and_current(
    length: float, current: float, area: float
) -> None:
    one = voltage_drop(length, current, area).total
    assert voltage_drop(2 * length, current, area).total == pytest.approx(2 * one)
    assert voltage_drop(length, 2 * current, area).total == pytest.approx(2 * one)
    assert voltage_drop(length, current, 2 * area).total == pytest.approx(one / 2)


def test_that_impossible_wires_are_refused() -> None:
    with pytest.raises(Impossible, match="cross-section"):
        wire_drop(1, 1, 0)
    with pytest.raises(Impossible, match="length"):
        wire_drop(-1, 1, 1e-6)


def test_that_warm_wires_lose_more_on_both_ways() -> None:
    # copper at 0.00393 a kelvin over 20 °C: the loss goes with the resistivity, on feed and earth alike
    cool = voltage_drop(8.0, 3.5, 1.5e-6, 7.0, 2.5e-6, temperature=293.15)
    warm = voltage_drop(8.0, 3.5, 1.5e-6, 7.0, 2.5e-6, temperature=333.15)
    grown = resistivity(333.15) / resistivity(293.15)
    assert grown == pytest.approx(1 + 0.00393 * 40, rel=1e-3)
    assert warm.feed / cool.feed == pytest.approx(grown)
    assert warm.back / cool.back == pytest.approx(grown)
