"""The seven-pin wiring as an electrical network: what each lamp does at each command, fault by fault.

Nodes are the tractor's and the machine's side of every feed contact, one earth for each cluster of
lamps, and the machine's common earth behind contact 3. The tractor's own lamps hang on its side of
the feeds: through them current finds its way back when the machine's earth is lost.

Simplifications, all on purpose: a filament's resistance follows a power of its voltage and is never
below a tenth of its hot value; an LED lamp is a threshold with a resistor behind it and blocks
backwards; switches that are off are open; a fuse blows at its rating and stays blown.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import IntEnum
from typing import Annotated

from rakeprep.calculations import not_negative, positive
from rakeprep.calculations.lights import COPPER_20C, LAMPS_OF, PIN_OF, PINS, Board, Command, Lamp, expected
from rakeprep.calculations.network import solve
from rakeprep.text import msg

Ohms = Annotated[float, "Ω"]
Volts = Annotated[float, "V"]
Watts = Annotated[float, "W"]
Metres = Annotated[float, "m"]
Amperes = Annotated[float, "A"]

RATED = 12.0
BATTERY = 12.6
TRUCK = 25.2
SOURCE = 0.03  # Ω, battery to the tractor's side of a contact
CONTACT = 0.01  # Ω, a clean contact
EARTH_RETURN = 0.01  # Ω, tractor's side of contact 3 to its battery
BAD_CONTACT = 3.0  # Ω, a corroded one
TOUCHING = 0.02  # Ω, bare wires that touch
OPEN = 1e9
FUSE = 15.0
LENGTH = 8.0
SETTLED, MOST_ROUNDS = 0.01, 25  # V between two rounds; an LED lamp at its threshold may never settle

FILAMENT = 0.45  # exponent of resistance over voltage, hot down to dark
COLDEST = 0.1  # of the hot resistance
LED_THRESHOLD = 6.0
LED_POWER = 0.15  # of the bulb it replaces

ON_FROM, DIM_FROM, TOO_BRIGHT = 0.88, 0.07, 1.3  # bulbs, of the rated voltage
LED_ON_FROM, LED_DIM_FROM = 0.4, 0.02  # LED lamps, of the rated current

POWER = {
    Lamp.LEFT_TURN: 21.0,
    Lamp.RIGHT_TURN: 21.0,
    Lamp.LEFT_TAIL: 5.0,
    Lamp.RIGHT_TAIL: 5.0,
    Lamp.LEFT_STOP: 21.0,
    Lamp.RIGHT_STOP: 21.0,
    Lamp.FOG: 21.0,
    Lamp.PLATE: 5.0,
}
TRACTOR_POWER = {1: 42.0, 4: 42.0, 5: 5.0, 6: 42.0, 7: 5.0}  # W of the tractor's own lamps by contact
LEFT, RIGHT, MIDDLE = "left", "right", "middle"
CLUSTER = {
    Lamp.LEFT_TURN: LEFT,
    Lamp.LEFT_TAIL: LEFT,
    Lamp.LEFT_STOP: LEFT,
    Lamp.RIGHT_TURN: RIGHT,
    Lamp.RIGHT_TAIL: RIGHT,
    Lamp.RIGHT_STOP: RIGHT,
    Lamp.FOG: MIDDLE,
    Lamp.PLATE: MIDDLE,
}
FED_BY = {lamp: PIN_OF[command] for command, lamps in LAMPS_OF.items() for lamp in lamps}


class State(IntEnum):
    """What a lamp does; the distance between two states is their mismatch."""

    OFF = 0
    DIM = 1
    ON = 2
    TOO_BRIGHT = 3


@dataclass(frozen=True, slots=True)
class Wiring:
    """The wiring with its faults; without any argument it is sound.

    ``contact`` is the resistance of each contact 1 to 7, ``crossed`` what each feed contact of the
    tractor really meets, ``earth`` the resistance of each cluster's earth, ``lamp`` extra resistance
    in one lamp's holder, ``touching`` pairs of contacts whose wires touch, ``grounded`` contacts
    whose wire touches the frame.
    """

    contact: Mapping[int, Ohms] = field(default_factory=dict)
    crossed: Mapping[int, int] = field(default_factory=dict)
    earth: Mapping[str, Ohms] = field(default_factory=dict)
    lamp: Mapping[Lamp, Ohms] = field(default_factory=dict)
    touching: tuple[tuple[int, int], ...] = ()
    grounded: frozenset[int] = frozenset()
    supply: Volts = BATTERY
    length: Metres = LENGTH
    tractor_lamps: bool = True


@dataclass(frozen=True, slots=True)
class Solved:
    """Voltage over and current through each lamp, feeds whose fuse blew, and the tractor's own lamps.

    ``own`` is the state of the tractor's own lamps on the commanded contact, None where it has none
    there.
    """

    volts: Mapping[Lamp, Volts]
    amperes: Mapping[Lamp, Amperes]
    blown: bool
    own: State | None


Branch = tuple[str, str, float]


def bulb_resistance(power: Watts, volts: Volts) -> Ohms:
    """Resistance of a filament lamp at a voltage.

        R = 12^2 / P * (V / 12)^0.45, but not below a tenth of the hot resistance

    Args:
        power: at 12 V [W].
        volts: over the lamp, either sign [V].

    Returns:
        resistance [Ω].

    Raises:
        Impossible: a power not above zero.

    Example:
        >>> round(bulb_resistance(21.0, 12.0), 2), round(bulb_resistance(21.0, 0.0), 2)
        (6.86, 0.69)

    Source: current of tungsten lamps goes about as voltage^0.55 (lamp makers' rule, from memory).
    """
    positive(power, msg("power of the lamp"))
    return RATED**2 / power * max(COLDEST, math.pow(abs(volts) / RATED, FILAMENT))


def feed_of(board: Board, lamp: Lamp) -> int:
    """Contact that feeds a lamp.

    Args:
        board: how the machine is lit.
        lamp: the lamp.

    Returns:
        number of the contact.

    Raises:
        Impossible: nothing.

    Example:
        >>> feed_of(Board(plate_pin=7), Lamp.PLATE), feed_of(Board(), Lamp.FOG)
        (7, 2)

    Source: ISO 1724; the plate lamp is on 5 or 7 as wired.
    """
    return (board.plate_pin or 5) if lamp is Lamp.PLATE else FED_BY[lamp]


def simulate(board: Board, wiring: Wiring, command: Command) -> Solved:
    """Solve the network for one command switched on alone.

    Args:
        board: how the machine is lit.
        wiring: the wiring with its faults.
        command: what is switched on.

    Returns:
        the :class:`Solved` [V, A].

    Raises:
        Impossible: a resistance below zero, a supply or length not above zero, or as
            :func:`rakeprep.calculations.lights.expected`.

    Example:
        >>> found = simulate(Board(), Wiring(), Command.STOP)
        >>> found.volts[Lamp.LEFT_STOP] > 11.5, found.volts[Lamp.FOG] < 0.1
        (True, True)

    Source: Kirchhoff's laws, node voltages.
    """
    expected(board, command)
    _check(wiring)
    found = _solve(board, wiring, PIN_OF[command], fused=True)
    if found.blown:
        return replace(_solve(board, wiring, PIN_OF[command], fused=False), blown=True)
    return found


def _check(wiring: Wiring) -> None:
    for resistance in (*wiring.contact.values(), *wiring.earth.values(), *wiring.lamp.values()):
        not_negative(resistance, msg("resistance"))
    positive(wiring.supply, msg("supply voltage"))
    positive(wiring.length, msg("length of the wiring"))


def _fixed(wiring: Wiring) -> list[Branch]:
    """Wires and contacts: node, node, resistance."""
    branches: list[Branch] = [("common", "ground", wiring.contact.get(3, CONTACT) + EARTH_RETURN)]
    for pin in PINS:
        wire = COPPER_20C * wiring.length / pin.area
        if pin.number == 3:
            branches.append(("common", "joint", wire))
            continue
        there = f"m{wiring.crossed.get(pin.number, pin.number)}"
        branches.append((f"t{pin.number}", there, wiring.contact.get(pin.number, CONTACT) + wire))
    branches += [("joint", name, wiring.earth.get(name, CONTACT)) for name in (LEFT, RIGHT, MIDDLE)]
    branches += [(f"m{one}", f"m{other}", TOUCHING) for one, other in wiring.touching]
    branches += [(f"m{pin}", "ground", TOUCHING) for pin in sorted(wiring.grounded)]
    return branches


def _solve(board: Board, wiring: Wiring, pin: int, *, fused: bool) -> Solved:
    fixed = _fixed(wiring)
    lamps = [(lamp, f"m{feed_of(board, lamp)}", CLUSTER[lamp]) for lamp in board.lamps]
    own = TRACTOR_POWER if wiring.tractor_lamps else {}
    volts = dict.fromkeys(board.lamps, RATED)
    own_volts = dict.fromkeys(own, RATED)
    moved, rounds = math.inf, 0
    while moved > SETTLED and rounds < MOST_ROUNDS:
        rounds += 1
        branches, sources = list(fixed), dict[str, float]()
        for lamp, feed, earth in lamps:
            extra = wiring.lamp.get(lamp, 0.0)
            _add_lamp(branches, sources, board.led, lamp, (feed, earth), volts[lamp], extra)
        branches += [(f"t{at}", "ground", bulb_resistance(p, own_volts[at])) for at, p in own.items()]
        node = _nodes(branches, sources, f"t{pin}" if fused else None, wiring.supply)
        new = {lamp: node[feed] - node[earth] for lamp, feed, earth in lamps}
        moved = max((abs(new[lamp] - volts[lamp]) for lamp in volts), default=0.0)
        volts, own_volts = new, {at: node[f"t{at}"] for at in own}
    into = (wiring.supply - node[f"t{pin}"]) / SOURCE if fused else 0.0
    amperes = {lamp: _current(board.led, lamp, volts[lamp], wiring.lamp.get(lamp, 0.0)) for lamp in volts}
    across = {lamp: volts[lamp] - amperes[lamp] * wiring.lamp.get(lamp, 0.0) for lamp in volts}
    return Solved(across, amperes, into > FUSE, _bulb_state(own_volts[pin]) if pin in own else None)


def _led_resistance(lamp: Lamp) -> float:
    return (RATED - LED_THRESHOLD) * RATED / (POWER[lamp] * LED_POWER)


def _add_lamp(
    branches: list[Branch],
    sources: dict[str, float],
    led: bool,
    lamp: Lamp,
    ends: tuple[str, str],
    volts: float,
    extra: float,
) -> None:
    """A lamp as a resistor, and for an LED that conducts a current source that stands for its threshold."""
    feed, earth = ends
    if not led:
        branches.append((feed, earth, _bulb_with(lamp, volts, extra)))
        return
    if volts <= LED_THRESHOLD:
        branches.append((feed, earth, OPEN))
        return
    resistance = _led_resistance(lamp) + extra
    branches.append((feed, earth, resistance))
    sources[feed] = sources.get(feed, 0.0) + LED_THRESHOLD / resistance
    sources[earth] = sources.get(earth, 0.0) - LED_THRESHOLD / resistance


def _bulb_with(lamp: Lamp, volts: float, extra: float) -> float:
    """Filament and holder in series; the filament gets its share of the voltage."""
    filament = bulb_resistance(POWER[lamp], volts)
    if extra == 0:
        return filament
    for _ in range(20):
        filament = bulb_resistance(POWER[lamp], volts * filament / (filament + extra))
    return filament + extra


def _current(led: bool, lamp: Lamp, volts: float, extra: float) -> float:
    if not led:
        return volts / _bulb_with(lamp, volts, extra)
    return max(0.0, volts - LED_THRESHOLD) / (_led_resistance(lamp) + extra)


def _nodes(
    branches: list[Branch], sources: Mapping[str, float], fed: str | None, supply: float
) -> dict[str, float]:
    """Voltages of all nodes over ground, from conductances and currents."""
    names = sorted({end for one, other, _ in branches for end in (one, other)} - {"ground"})
    place = {name: at for at, name in enumerate(names)}
    matrix = [[0.0] * len(names) for _ in names]
    right = [sources.get(name, 0.0) for name in names]
    for at in range(len(names)):
        matrix[at][at] = 1 / OPEN  # a node cut off on all sides floats at ground
    for one, other, resistance in branches:
        flow = 1 / max(resistance, 1e-4)
        for end, far in ((one, other), (other, one)):
            if end == "ground":
                continue
            matrix[place[end]][place[end]] += flow
            if far != "ground":
                matrix[place[end]][place[far]] -= flow
    if fed is not None:
        matrix[place[fed]][place[fed]] += 1 / SOURCE
        right[place[fed]] += supply / SOURCE
    return dict(zip(names, solve(matrix, right), strict=True)) | {"ground": 0.0}


def _bulb_state(volts: float) -> State:
    share = abs(volts) / RATED
    if share >= TOO_BRIGHT:
        return State.TOO_BRIGHT
    return State.ON if share >= ON_FROM else State.DIM if share >= DIM_FROM else State.OFF


def lamp_state(board: Board, lamp: Lamp, found: Solved) -> State:
    """What a person sees of one lamp.

    A bulb is bright from 88 % of its rated voltage (two thirds of its light) and glows, in the shade,
    from 7 % (a filament of about 1000 K, dark red); an LED lamp is bright from 40 % of its rated
    current and glows from 2 %.

    Args:
        board: how the machine is lit.
        lamp: one of its lamps.
        found: the solved network.

    Returns:
        the state.

    Raises:
        Impossible: nothing.

    Example:
        >>> lamp_state(Board(), Lamp.FOG, simulate(Board(), Wiring(), Command.FOG)).name
        'ON'

    Source: light goes about as voltage^3.4 and filament temperature as voltage^0.36 (from memory);
        the bounds are own choice.
    """
    if not board.led:
        return _bulb_state(found.volts[lamp])
    share = found.amperes[lamp] * RATED / (POWER[lamp] * LED_POWER)
    if found.volts[lamp] >= TOO_BRIGHT * RATED:
        return State.TOO_BRIGHT
    return State.ON if share >= LED_ON_FROM else State.DIM if share >= LED_DIM_FROM else State.OFF
