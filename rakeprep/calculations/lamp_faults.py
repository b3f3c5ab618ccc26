"""Finds the wiring fault behind a pattern of lamps by comparing it with the mark each fault leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import IntEnum

from rakeprep.calculations import demand
from rakeprep.calculations.lights import PIN_OF, PINS, Board, Command, Lamp, expected
from rakeprep.text import Message, msg

SHOWN = 3


class State(IntEnum):
    """What a lamp does; the distance between two states is their mismatch."""

    OFF = 0
    DIM = 1
    ON = 2


Pattern = Mapping[Command, Mapping[Lamp, State]]


@dataclass(frozen=True, slots=True)
class LampFault:
    """A fault: its key, its name, and the pattern it makes on this machine."""

    key: str
    says: Message
    pattern: Pattern


@dataclass(frozen=True, slots=True)
class Ranked:
    """A fault with its mismatch against what was seen; 0 is a perfect fit."""

    fault: LampFault
    score: int


@dataclass(frozen=True, slots=True)
class LampFinding:
    """The best fits, how far the second lies behind the first, and the test that tells them apart."""

    healthy: bool
    best: tuple[Ranked, ...]
    gap: int
    next_test: Message


def faults(board: Board) -> tuple[LampFault, ...]:
    """Every fault in the list with the pattern it makes; the first one is a healthy machine.

    Args:
        board: how the machine is lit.

    Returns:
        the faults.

    Raises:
        Impossible: as :func:`rakeprep.calculations.lights.expected`.

    Example:
        >>> faults(Board())[0].key
        'healthy'

    Source: ISO 1724 for the contacts; the marks that faults leave are circuit logic.
    """
    return tuple(LampFault(key, says, pattern) for key, says, pattern in _signatures(board))


def find(board: Board, seen: Pattern) -> LampFinding:
    """Compare what was seen with every fault and name the three best fits.

    Only commands and lamps that were looked at count. Mismatch: on for off 2, dim for either 1.

    Args:
        board: how the machine is lit.
        seen: state of the lamps by single command.

    Returns:
        the :class:`LampFinding`.

    Raises:
        Impossible: nothing was looked at, or a lamp that this machine does not have.

    Example:
        >>> seen = {Command.LEFT_TURN: {Lamp.LEFT_TURN: State.OFF, Lamp.RIGHT_TURN: State.ON}}
        >>> find(Board(), seen).best[0].fault.key
        'crossed 1/4'

    Source: nearest pattern, sum of absolute differences.
    """
    demand(any(seen.values()), msg("No lamp has been looked at yet."))
    known = set(board.lamps)
    strange = any(lamp not in known for lamps in seen.values() for lamp in lamps)
    demand(not strange, msg("A lamp was reported that this machine does not have."))
    ranked = sorted(
        (Ranked(fault, _score(fault.pattern, seen)) for fault in faults(board)), key=lambda one: one.score
    )
    best = tuple(ranked[:SHOWN])
    healthy = best[0].fault.key == "healthy" and best[0].score == 0
    return LampFinding(
        healthy,
        best,
        best[1].score - best[0].score,
        separating_test(best[0].fault, best[1].fault, seen),
    )


def _score(pattern: Pattern, seen: Pattern) -> int:
    return sum(
        abs(pattern[command][lamp] - state)
        for command, lamps in seen.items()
        for lamp, state in lamps.items()
    )


def separating_test(first: LampFault, second: LampFault, seen: Pattern) -> Message:
    """The one look that tells two faults apart, first of all where nobody has looked yet.

    Args:
        first: one fault.
        second: another fault on the same board.
        seen: what was looked at.

    Returns:
        what to switch on, which lamp to watch, and what it means.

    Raises:
        Impossible: nothing.

    Example:
        >>> healthy, crossed = faults(Board())[:2]
        >>> str(separating_test(healthy, crossed, {}))[:50]
        'Switch on left turn alone and watch the left turn '

    Source: logic.
    """
    places = [
        (command, lamp)
        for command, lamps in first.pattern.items()
        for lamp in lamps
        if first.pattern[command][lamp] != second.pattern[command][lamp]
    ]
    if not places:
        return msg(
            "Seen from outside both look the same. Key off and plug out, change the lamp; if it stays dark, "
            "measure the voltage at its holder."
        )

    def telling(place: tuple[Command, Lamp]) -> tuple[bool, int]:
        command, lamp = place
        difference = abs(first.pattern[command][lamp] - second.pattern[command][lamp])
        return lamp not in seen.get(command, {}), difference

    command, lamp = max(places, key=telling)
    return msg(
        "Switch on {command} alone and watch the {lamp}: {state_1} speaks for: {fault_1} "
        "{state_2} speaks for: {fault_2}",
        command=COMMAND_WORDS[command],
        lamp=LAMP_WORDS[lamp],
        state_1=STATE_WORDS[first.pattern[command][lamp]],
        fault_1=first.says,
        state_2=STATE_WORDS[second.pattern[command][lamp]],
        fault_2=second.says,
    )


def _made(board: Board, rule: Callable[[Command, Lamp], State]) -> Pattern:
    return {command: {lamp: rule(command, lamp) for lamp in board.lamps} for command in Command}


def _signatures(board: Board) -> Iterator[tuple[str, Message, Pattern]]:
    lit = {command: expected(board, command) for command in Command}

    def well(command: Command, lamp: Lamp) -> State:
        return State.ON if lamp in lit[command] else State.OFF

    yield "healthy", msg("All as it should be."), _made(board, well)
    yield from _crossed(board, well)
    yield from _open(board, well)
    yield from _earths(board, well)
    joined = {Command.LEFT_TURN: Command.RIGHT_TURN, Command.RIGHT_TURN: Command.LEFT_TURN}
    yield (
        "short 1-4",
        msg("Contacts 1 and 4 touch each other, or the hazard lights are on."),
        _made(board, lambda c, lamp: max(well(c, lamp), well(joined.get(c, c), lamp))),
    )
    yield (
        "weak",
        msg("All are weak: bad contact or too thin a wire."),
        _made(board, lambda c, lamp: min(well(c, lamp), State.DIM)),
    )
    for dead in board.lamps:
        yield (
            f"dead {dead}",
            msg("The {lamp} itself is dead, or its contact.", lamp=LAMP_WORDS[dead]),
            _made(board, lambda c, lamp, dead=dead: State.OFF if lamp is dead else well(c, lamp)),  # type: ignore[misc]
        )


def _crossed(board: Board, well: Callable[[Command, Lamp], State]) -> Iterator[tuple[str, Message, Pattern]]:
    pairs = (
        (Command.LEFT_TURN, Command.RIGHT_TURN),
        (Command.FOG, Command.STOP),
        (Command.RIGHT_TAIL, Command.LEFT_TAIL),
    )
    for one, other in pairs:
        exchange = {one: other, other: one}
        yield (
            f"crossed {PIN_OF[one]}/{PIN_OF[other]}",
            msg("Contacts {one} and {other} are crossed.", one=PIN_OF[one], other=PIN_OF[other]),
            _made(board, lambda c, lamp, to=exchange: well(to.get(c, c), lamp)),  # type: ignore[misc]
        )


def _open(board: Board, well: Callable[[Command, Lamp], State]) -> Iterator[tuple[str, Message, Pattern]]:
    for gone, number in PIN_OF.items():
        yield (
            f"open {number}",
            msg(
                "Contact {number} ({colour}) is open.",
                number=number,
                colour=PINS[number - 1].colour,
            ),
            _made(board, lambda c, lamp, gone=gone: State.OFF if c is gone else well(c, lamp)),  # type: ignore[misc]
        )


def _earths(board: Board, well: Callable[[Command, Lamp], State]) -> Iterator[tuple[str, Message, Pattern]]:
    """Bulbs on a lost earth feed back through one another and glow; LED lamps stay dark."""
    clusters = (
        ("earth 3", msg("The earth, contact 3, is open."), frozenset(Lamp)),
        (
            "earth left",
            msg("The earth of the left lamp cluster is open."),
            frozenset({Lamp.LEFT_TURN, Lamp.LEFT_TAIL, Lamp.LEFT_STOP}),
        ),
        (
            "earth right",
            msg("The earth of the right lamp cluster is open."),
            frozenset({Lamp.RIGHT_TURN, Lamp.RIGHT_TAIL, Lamp.RIGHT_STOP}),
        ),
    )
    for key, says, members in clusters:

        def rule(command: Command, lamp: Lamp, members: frozenset[Lamp] = members) -> State:
            if lamp not in members:
                return well(command, lamp)
            fed = any(well(command, other) is State.ON for other in members & set(board.lamps))
            return State.DIM if fed and not board.led else State.OFF

        yield key, says, _made(board, rule)


COMMAND_WORDS = {
    Command.LEFT_TURN: msg("left turn"),
    Command.RIGHT_TURN: msg("right turn"),
    Command.LEFT_TAIL: msg("left tail"),
    Command.RIGHT_TAIL: msg("right tail"),
    Command.STOP: msg("stop"),
    Command.FOG: msg("fog"),
}
LAMP_WORDS = {
    Lamp.LEFT_TURN: msg("left turn lamp"),
    Lamp.RIGHT_TURN: msg("right turn lamp"),
    Lamp.LEFT_TAIL: msg("left tail lamp"),
    Lamp.RIGHT_TAIL: msg("right tail lamp"),
    Lamp.LEFT_STOP: msg("left stop lamp"),
    Lamp.RIGHT_STOP: msg("right stop lamp"),
    Lamp.FOG: msg("fog lamp"),
    Lamp.PLATE: msg("plate lamp"),
}
STATE_WORDS = {State.OFF: msg("dark"), State.DIM: msg("dim"), State.ON: msg("bright")}
