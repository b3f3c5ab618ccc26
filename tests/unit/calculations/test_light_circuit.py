"""The seven-pin wiring as a network, against numpy and scipy; signs and sizes worked by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import root

from rakeprep.calculations import Impossible
from rakeprep.calculations.light_circuit import (
    BAD_CONTACT,
    BATTERY,
    CLUSTER,
    CONTACT,
    EARTH_RETURN,
    LEFT,
    LENGTH,
    MIDDLE,
    OPEN,
    POWER,
    RIGHT,
    SOURCE,
    TRACTOR_POWER,
    TRUCK,
    State,
    Wiring,
    bulb_resistance,
    feed_of,
    lamp_state,
    simulate,
)
from rakeprep.calculations.lights import COPPER_20C, LAMPS_OF, PIN_OF, Board, Command, Lamp

BULBS, LEDS = Board(), Board(led=True)
FEED = COPPER_20C * LENGTH / 1.5e-6
EARTH = COPPER_20C * LENGTH / 2.5e-6


def seen(board: Board, wiring: Wiring, command: Command) -> dict[Lamp, State]:
    """What every lamp does."""
    solved = simulate(board, wiring, command)
    return {lamp: lamp_state(board, lamp, solved) for lamp in board.lamps}


def test_that_sound_wiring_lights_what_it_should() -> None:
    for board in (BULBS, LEDS, Board(plate_pin=7)):
        for command in Command:
            lit = {lamp for lamp, state in seen(board, Wiring(), command).items() if state is State.ON}
            plate = {Lamp.PLATE} if board.plate_pin == PIN_OF[command] else set()
            assert lit == set(LAMPS_OF[command]) | plate
            assert State.DIM not in seen(board, Wiring(), command).values()


def test_that_one_lamp_alone_is_a_voltage_divider() -> None:
    # by hand: battery, feed, filament, earth of the cluster and common earth in series
    filament = 144 / 21.0
    for _ in range(50):
        loop = SOURCE + CONTACT + FEED + filament + CONTACT + EARTH + CONTACT + EARTH_RETURN
        volts = BATTERY * filament / loop
        filament = 144 / 21.0 * (volts / 12) ** 0.45
    found = simulate(BULBS, Wiring(tractor_lamps=False), Command.FOG)
    assert found.volts[Lamp.FOG] == pytest.approx(volts, abs=0.01)
    assert found.amperes[Lamp.FOG] == pytest.approx(volts / filament, rel=2e-3)
    assert found.own is None


def network(wiring: Wiring, command: Command) -> dict[Lamp, float]:
    """Second method: all node equations of the bulbs at once by scipy's root finder."""
    pins = (1, 2, 4, 5, 6, 7)
    names = [f"t{p}" for p in pins] + [f"m{p}" for p in pins] + [LEFT, RIGHT, MIDDLE, "joint", "common"]
    at = {name: k for k, name in enumerate(names)}

    def balance(volts: np.ndarray) -> np.ndarray:
        v = {name: volts[k] for name, k in at.items()} | {"ground": 0.0}
        total = np.zeros(len(names))

        def branch(one: str, other: str, ohms: float) -> None:
            amperes = (v[one] - v[other]) / ohms
            for end, sign in ((one, 1.0), (other, -1.0)):
                if end != "ground":
                    total[at[end]] += sign * amperes

        for p in pins:
            branch(f"t{p}", f"m{wiring.crossed.get(p, p)}", wiring.contact.get(p, CONTACT) + FEED)
            if p in TRACTOR_POWER:
                branch(f"t{p}", "ground", bulb_resistance(TRACTOR_POWER[p], v[f"t{p}"]))
        for lamp, power in POWER.items():
            feed, cluster = f"m{feed_of(BULBS, lamp)}", CLUSTER[lamp]
            branch(feed, cluster, bulb_resistance(power, v[feed] - v[cluster]))
        for cluster in (LEFT, RIGHT, MIDDLE):
            branch("joint", cluster, wiring.earth.get(cluster, CONTACT))
        branch("common", "joint", EARTH)
        branch("common", "ground", wiring.contact.get(3, CONTACT) + EARTH_RETURN)
        for one, other in wiring.touching:
            branch(f"m{one}", f"m{other}", 0.02)
        total[at[f"t{PIN_OF[command]}"]] -= (BATTERY - v[f"t{PIN_OF[command]}"]) / SOURCE
        return total + volts / OPEN

    start = np.array([BATTERY * (n in {f"t{PIN_OF[command]}", f"m{PIN_OF[command]}"}) for n in names])
    solved = root(balance, start, method="hybr", tol=1e-11)
    assert np.abs(balance(solved.x)).max() < 1e-6
    return {lamp: solved.x[at[f"m{feed_of(BULBS, lamp)}"]] - solved.x[at[CLUSTER[lamp]]] for lamp in POWER}


@pytest.mark.parametrize(
    "wiring",
    [
        Wiring(),
        Wiring(contact={3: OPEN}),
        Wiring(earth={LEFT: OPEN}),
        Wiring(contact={3: BAD_CONTACT}),
        Wiring(touching=((1, 4),)),
        Wiring(crossed={5: 7, 7: 5}),
        Wiring(contact={6: 2.0}),
    ],
)
def test_that_the_whole_network_agrees_with_scipy(wiring: Wiring) -> None:
    for command in (Command.LEFT_TURN, Command.STOP, Command.RIGHT_TAIL):
        expected = network(wiring, command)
        found = simulate(BULBS, wiring, command)
        for lamp, volts in found.volts.items():
            assert volts == pytest.approx(expected[lamp], abs=0.02)


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(list(Command)), st.floats(0, 5), st.floats(0, 5), st.booleans())
def test_that_the_mirrored_machine_shows_the_mirrored_lamps(
    command: Command, earth: float, contact: float, led: bool
) -> None:
    names = {Command.LEFT_TURN: Command.RIGHT_TURN, Command.LEFT_TAIL: Command.RIGHT_TAIL}
    other = {**names, **{b: a for a, b in names.items()}}.get(command, command)
    board, far = Board(led=led, plate_pin=5), Board(led=led, plate_pin=7)
    plain = simulate(board, Wiring(earth={LEFT: earth}, contact={1: contact}), command)
    mirror = simulate(far, Wiring(earth={RIGHT: earth}, contact={4: contact}), other)
    pairs = {
        Lamp.LEFT_TURN: Lamp.RIGHT_TURN,
        Lamp.LEFT_TAIL: Lamp.RIGHT_TAIL,
        Lamp.LEFT_STOP: Lamp.RIGHT_STOP,
        Lamp.FOG: Lamp.FOG,
        Lamp.PLATE: Lamp.PLATE,
    }
    for one, two in pairs.items():
        assert plain.volts[one] == pytest.approx(mirror.volts[two], abs=1e-6)


def test_that_bulbs_without_earth_glow_through_one_another() -> None:
    lost = Wiring(contact={3: OPEN})
    stop = seen(BULBS, lost, Command.STOP)
    # two 21 W lamps feed back through all others: none is bright, both turn lamps glow backwards
    assert stop[Lamp.LEFT_STOP] is stop[Lamp.LEFT_TURN] is State.DIM
    assert State.ON not in stop.values()
    assert simulate(BULBS, lost, Command.STOP).volts[Lamp.LEFT_TURN] < -1
    # one 5 W lamp has so much more resistance than its way back that it looks right
    assert seen(BULBS, lost, Command.LEFT_TAIL)[Lamp.LEFT_TAIL] is State.ON


def test_that_led_lamps_and_test_boxes_stay_dark_without_earth() -> None:
    for board, wiring in (
        (LEDS, Wiring(contact={3: OPEN})),
        (BULBS, Wiring(contact={3: OPEN}, tractor_lamps=False)),
    ):
        for command in Command:
            assert set(seen(board, wiring, command).values()) == {State.OFF}


def test_that_a_short_to_the_frame_blows_the_fuse_and_takes_the_tractor_s_lamp_along() -> None:
    for board in (BULBS, LEDS):
        found = simulate(board, Wiring(grounded=frozenset({7})), Command.LEFT_TAIL)
        # by hand: 12.6 V over some 0.16 ohm is 79 A, the fuse has 15
        assert found.blown
        assert found.own is State.OFF
        assert lamp_state(board, Lamp.LEFT_TAIL, found) is State.OFF
        other = simulate(board, Wiring(grounded=frozenset({7})), Command.RIGHT_TAIL)
        assert not other.blown
        assert other.own is State.ON


def test_that_24_volts_are_far_too_bright() -> None:
    for board in (BULBS, LEDS):
        assert seen(board, Wiring(supply=TRUCK), Command.STOP)[Lamp.LEFT_STOP] is State.TOO_BRIGHT


def test_that_a_bad_holder_dims_its_own_lamp_only() -> None:
    for board, ohms in ((BULBS, 5.0), (LEDS, 40.0)):
        stop = seen(board, Wiring(lamp={Lamp.LEFT_STOP: ohms}), Command.STOP)
        assert (stop[Lamp.LEFT_STOP], stop[Lamp.RIGHT_STOP]) == (State.DIM, State.ON)
        dead = seen(board, Wiring(lamp={Lamp.LEFT_STOP: OPEN}), Command.STOP)
        assert (dead[Lamp.LEFT_STOP], dead[Lamp.RIGHT_STOP]) == (State.OFF, State.ON)


def test_that_a_filament_is_cold_in_the_dark() -> None:
    # by hand: 144/21 = 6.857 hot; a tenth of it cold; 6.857 * 0.5^0.45 = 5.02 at half voltage
    assert bulb_resistance(21, 12) == pytest.approx(6.857, abs=1e-3)
    assert bulb_resistance(21, 0) == pytest.approx(0.6857, abs=1e-4)
    assert bulb_resistance(21, -6) == pytest.approx(5.02, abs=0.01)


def test_that_impossible_wiring_is_refused() -> None:
    for refused in (
        lambda: simulate(BULBS, Wiring(contact={1: -1.0}), Command.STOP),
        lambda: simulate(BULBS, Wiring(earth={LEFT: -1.0}), Command.STOP),
        lambda: simulate(BULBS, Wiring(lamp={Lamp.FOG: -1.0}), Command.STOP),
        lambda: simulate(BULBS, Wiring(supply=0.0), Command.STOP),
        lambda: simulate(BULBS, Wiring(length=0.0), Command.STOP),
        lambda: simulate(Board(plate_pin=6), Wiring(), Command.STOP),
        lambda: bulb_resistance(0, 12),
    ):
        with pytest.raises(Impossible):
            refused()
