"""The seven-pin light socket: pins, what each command should light, and voltage lost on the way."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Area = Annotated[float, "m²"]
Amperes = Annotated[float, "A"]
Volts = Annotated[float, "V"]
Kelvin = Annotated[float, "K"]

COPPER_20C = 1.7241e-8
COPPER_PER_KELVIN = 0.00393
ROOM = 293.15


@dataclass(frozen=True, slots=True)
class Pin:
    """One contact of the socket; ``code`` is its terminal designation."""

    number: int
    code: str
    function: Message
    colour: Message
    area: Area


# ISO 1724 (12 V, 7 pin); terminal designations DIN 72552; cross-sections as reprinted with that table
PINS = (
    Pin(1, "L", msg("left turn"), msg("yellow"), 1.5e-6),
    Pin(2, "54g", msg("rear fog"), msg("blue"), 1.5e-6),
    Pin(3, "31", msg("earth"), msg("white"), 2.5e-6),
    Pin(4, "R", msg("right turn"), msg("green"), 1.5e-6),
    Pin(5, "58R", msg("right tail"), msg("brown"), 1.5e-6),
    Pin(6, "54", msg("stop lamps"), msg("red"), 1.5e-6),
    Pin(7, "58L", msg("left tail"), msg("black"), 1.5e-6),
)


class Command(StrEnum):
    """One light function switched on alone."""

    LEFT_TURN = "left turn"
    RIGHT_TURN = "right turn"
    LEFT_TAIL = "left tail"
    RIGHT_TAIL = "right tail"
    STOP = "stop"
    FOG = "fog"


class Lamp(StrEnum):
    """One lamp on the machine."""

    LEFT_TURN = "left turn lamp"
    RIGHT_TURN = "right turn lamp"
    LEFT_TAIL = "left tail lamp"
    RIGHT_TAIL = "right tail lamp"
    LEFT_STOP = "left stop lamp"
    RIGHT_STOP = "right stop lamp"
    FOG = "fog lamp"
    PLATE = "plate lamp"


PIN_OF = {
    Command.LEFT_TURN: 1,
    Command.FOG: 2,
    Command.RIGHT_TURN: 4,
    Command.RIGHT_TAIL: 5,
    Command.STOP: 6,
    Command.LEFT_TAIL: 7,
}
LAMPS_OF = {
    Command.LEFT_TURN: (Lamp.LEFT_TURN,),
    Command.RIGHT_TURN: (Lamp.RIGHT_TURN,),
    Command.LEFT_TAIL: (Lamp.LEFT_TAIL,),
    Command.RIGHT_TAIL: (Lamp.RIGHT_TAIL,),
    Command.STOP: (Lamp.LEFT_STOP, Lamp.RIGHT_STOP),
    Command.FOG: (Lamp.FOG,),
}


@dataclass(frozen=True, slots=True)
class Board:
    """How this machine is lit: bulbs or LED, which lamps it has, and the plate lamp's pin (5 or 7)."""

    led: bool = False
    plate_pin: int | None = 5
    without: frozenset[Lamp] = frozenset()

    @property
    def lamps(self) -> tuple[Lamp, ...]:
        """Lamps that exist on the machine."""
        missing = set(self.without) | (set() if self.plate_pin else {Lamp.PLATE})
        return tuple(lamp for lamp in Lamp if lamp not in missing)


def expected(board: Board, command: Command) -> frozenset[Lamp]:
    """Lamps that one command alone should light.

    Args:
        board: how the machine is lit.
        command: what is switched on.

    Returns:
        the lamps.

    Raises:
        Impossible: a plate lamp wired to a pin other than 5 or 7.

    Example:
        >>> sorted(lamp.value for lamp in expected(Board(), Command.RIGHT_TAIL))
        ['plate lamp', 'right tail lamp']

    Source: ISO 1724; the plate lamp is on 5 or 7 as wired.
    """
    demand(board.plate_pin in {None, 5, 7}, msg("The plate lamp is wired to contact 5 or 7."))
    lamps = set(LAMPS_OF[command])
    if board.plate_pin == PIN_OF[command]:
        lamps.add(Lamp.PLATE)
    return frozenset(lamps & set(board.lamps))


@dataclass(frozen=True, slots=True)
class Drop:
    """Voltage lost on the way to the lamps, on the way back, and together."""

    feed: Volts
    back: Volts
    total: Volts


def resistivity(temperature: Kelvin = ROOM) -> Annotated[float, "Ω·m"]:
    """Specific resistance of copper wire.

        rho = 1.7241e-8 (1 + 0.00393 (T - 293.15))

    Valid from about -40 °C to 150 °C.

    Args:
        temperature: T of the wire [K].

    Returns:
        specific resistance [Ω·m].

    Raises:
        Impossible: a temperature outside 233 to 423 K.

    Example:
        >>> round(resistivity(313.15) * 1e6, 5)    # Ω·mm²/m at 40 °C
        0.0186

    Source: International Annealed Copper Standard, IEC 60028 (from memory).
    """
    demand(
        233 <= temperature <= 423, msg("No wire on a machine is colder than -40 °C or hotter than 150 °C.")
    )
    return COPPER_20C * (1 + COPPER_PER_KELVIN * (temperature - ROOM))


def wire_drop(
    length: Metres, current: Amperes, area: Area, rho: Annotated[float, "Ω·m"] = COPPER_20C
) -> Volts:
    """Voltage lost along one wire.

        dU = rho L I / A

    Args:
        length: L of this one wire [m].
        current: I [A].
        area: A of the copper [m²].
        rho: specific resistance [Ω·m].

    Returns:
        loss [V].

    Raises:
        Impossible: a length or current below zero, an area or resistance not above zero.

    Example:
        >>> round(wire_drop(50, 20, 4e-6, rho=0.017e-6), 2)
        4.25

    Source: Ohm's law.
    """
    not_negative(length, msg("length of the wire"))
    not_negative(current, msg("current"))
    positive(area, msg("cross-section of the wire"))
    positive(rho, msg("specific resistance"))
    return rho * length * current / area


def voltage_drop(
    length: Metres,
    feed_current: Amperes,
    feed_area: Area,
    earth_current: Amperes | None = None,
    earth_area: Area | None = None,
    temperature: Kelvin = ROOM,
) -> Drop:
    """Voltage lost on the feed and, apart from it, on the common earth.

    The earth carries the current of every lamp that burns, the feed only its own.

        dU = rho L I / A for each, and their sum

    Args:
        length: plug to lamps, one way [m].
        feed_current: in the feed [A].
        feed_area: of the feed's copper [m²].
        earth_current: in the earth [A]; None for the same as the feed.
        earth_area: of the earth's copper [m²]; None for the same as the feed.
        temperature: of the wires [K].

    Returns:
        the :class:`Drop` [V].

    Raises:
        Impossible: as :func:`wire_drop` and :func:`resistivity`.

    Example:
        >>> round(voltage_drop(8, 3.5, 1.5e-6).total, 2)
        0.64

    Source: Ohm's law.
    """
    rho = resistivity(temperature)
    feed = wire_drop(length, feed_current, feed_area, rho)
    back = wire_drop(
        length,
        feed_current if earth_current is None else earth_current,
        feed_area if earth_area is None else earth_area,
        rho,
    )
    return Drop(feed, back, feed + back)
