"""Finds the wiring fault behind a pattern of lamps by comparing it with what each simulated fault shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations

from rakeprep.calculations import demand
from rakeprep.calculations.light_circuit import (
    BAD_CONTACT,
    LED_POWER,
    LEFT,
    MIDDLE,
    OPEN,
    POWER,
    RATED,
    RIGHT,
    TRUCK,
    State,
    Wiring,
    feed_of,
    lamp_state,
    simulate,
)
from rakeprep.calculations.lights import PIN_OF, PINS, Board, Command, Lamp
from rakeprep.text import Message, msg

__all__ = [
    "COMMAND_WORDS",
    "LAMP_WORDS",
    "STATE_WORDS",
    "LampFault",
    "LampFinding",
    "Pattern",
    "Ranked",
    "State",
    "faults",
    "find",
    "separating_test",
]

SHOWN = 3
WEAK = 7.5  # V, where everything glows and nothing is bright

Pattern = Mapping[Command, Mapping[Lamp, State]]


@dataclass(frozen=True, slots=True)
class LampFault:
    """A fault: its key, its name, and the pattern it makes on this machine.

    ``own`` is what the tractor's own lamp on the same contact does; None where it has none.
    """

    key: str
    says: Message
    pattern: Pattern
    own: Mapping[Command, State | None]


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

    Source: ISO 1724 for the contacts; the patterns come from :mod:`rakeprep.calculations.light_circuit`.
    """
    return _library(board)


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

    Where the machine's lamps do the same in both, the tractor's own lamps may tell: a blown fuse
    takes them along.

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
        return _tractor_test(first, second) or msg(
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


def _tractor_test(first: LampFault, second: LampFault) -> Message | None:
    for command, state in first.own.items():
        other = second.own[command]
        if state is not None and other is not None and state != other:
            return msg(
                "Switch on {command} and look at the tractor's own lamp: {state_1} speaks for: {fault_1} "
                "{state_2} speaks for: {fault_2}",
                command=COMMAND_WORDS[command],
                state_1=STATE_WORDS[state],
                fault_1=first.says,
                state_2=STATE_WORDS[other],
                fault_2=second.says,
            )
    return None


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A fault as wiring; ``touches`` are the contacts whose commands it changes, None for all."""

    key: str
    says: Message
    wiring: Wiring
    touches: frozenset[int] | None = None


COMMON_CROSSINGS = ((1, 4), (2, 6), (5, 7))
FEEDS = tuple(sorted(PIN_OF.values()))


def _candidates(board: Board) -> Iterator[_Candidate]:
    """Faults as wiring, those met most often first: among equals the earlier one leads."""
    yield _Candidate("healthy", msg("All as it should be."), Wiring())
    yield from (_crossed(*pair) for pair in COMMON_CROSSINGS)
    yield from (_open(pin) for pin in FEEDS)
    yield from _earths()
    yield _touching(1, 4)
    yield _Candidate(
        "weak",
        msg("All are weak: too little voltage from the tractor, a bad plug or too thin a wire."),
        Wiring(supply=WEAK),
    )
    yield from (_dead(board, lamp) for lamp in board.lamps)
    yield from (_grounded(pin) for pin in (7, 5, 1, 4, 6, 2))
    yield _Candidate(
        "bad contact 3",
        msg("The earth, contact 3, has a bad contact: clean it."),
        Wiring(contact={3: BAD_CONTACT}),
    )
    yield from (_bad_contact(board, pin) for pin in FEEDS)
    yield from (_bad_holder(board, lamp) for lamp in board.lamps)
    rare = [pair for pair in combinations(FEEDS, 2) if pair not in COMMON_CROSSINGS]
    yield from (_crossed(*pair) for pair in rare)
    yield from (_touching(*pair) for pair in combinations(FEEDS, 2) if pair != (1, 4))
    yield _Candidate(
        "24 V",
        msg("The lamps get 24 V: unplug at once, this socket belongs to a truck."),
        Wiring(supply=TRUCK),
    )


def _crossed(one: int, other: int) -> _Candidate:
    return _Candidate(
        f"crossed {one}/{other}",
        msg("Contacts {one} and {other} are crossed.", one=one, other=other),
        Wiring(crossed={one: other, other: one}),
        frozenset({one, other}),
    )


def _open(pin: int) -> _Candidate:
    return _Candidate(
        f"open {pin}",
        msg("Contact {number} ({colour}) is open.", number=pin, colour=PINS[pin - 1].colour),
        Wiring(contact={pin: OPEN}),
        frozenset({pin}),
    )


def _earths() -> Iterator[_Candidate]:
    yield _Candidate("earth 3", msg("The earth, contact 3, is open."), Wiring(contact={3: OPEN}))
    for cluster, says in (
        (LEFT, msg("The earth of the left lamp cluster is open.")),
        (RIGHT, msg("The earth of the right lamp cluster is open.")),
        (MIDDLE, msg("The earth of the fog and plate lamps is open.")),
    ):
        yield _Candidate(f"earth {cluster}", says, Wiring(earth={cluster: OPEN}))


def _touching(one: int, other: int) -> _Candidate:
    says = (
        msg("Contacts 1 and 4 touch each other, or the hazard lights are on.")
        if (one, other) == (1, 4)
        else msg("The wires of contacts {one} and {other} touch each other.", one=one, other=other)
    )
    return _Candidate(f"short {one}-{other}", says, Wiring(touching=((one, other),)), frozenset({one, other}))


def _grounded(pin: int) -> _Candidate:
    return _Candidate(
        f"short {pin}-earth",
        msg(
            "The wire of contact {number} ({colour}) touches the frame and the fuse has blown: find it with "
            "a meter, never with a bigger fuse.",
            number=pin,
            colour=PINS[pin - 1].colour,
        ),
        Wiring(grounded=frozenset({pin})),
        frozenset({pin}),
    )


def _load(board: Board, lamps: Iterable[Lamp]) -> float:
    """Hot resistance of lamps in parallel: a bad contact of that size takes half the voltage of bulbs."""
    return RATED**2 / (sum(POWER[lamp] for lamp in lamps) * (LED_POWER if board.led else 1.0))


def _bad_contact(board: Board, pin: int) -> _Candidate:
    fed = [lamp for lamp in Lamp if feed_of(board, lamp) == pin]
    return _Candidate(
        f"bad contact {pin}",
        msg("Contact {number} ({colour}) is bad: clean it.", number=pin, colour=PINS[pin - 1].colour),
        Wiring(contact={pin: _load(board, fed)}),
        frozenset({pin}),
    )


def _dead(board: Board, lamp: Lamp) -> _Candidate:
    return _Candidate(
        f"dead {lamp}",
        msg("The {lamp} itself is dead, or its contact.", lamp=LAMP_WORDS[lamp]),
        Wiring(lamp={lamp: OPEN}),
        frozenset({feed_of(board, lamp)}),
    )


def _bad_holder(board: Board, lamp: Lamp) -> _Candidate:
    return _Candidate(
        f"bad holder {lamp}",
        msg("The {lamp} has a bad contact in its holder.", lamp=LAMP_WORDS[lamp]),
        Wiring(lamp={lamp: _load(board, [lamp])}),
        frozenset({feed_of(board, lamp)}),
    )


def _simulated(board: Board, wiring: Wiring, command: Command) -> tuple[dict[Lamp, State], State | None]:
    solved = simulate(board, wiring, command)
    return {lamp: lamp_state(board, lamp, solved) for lamp in board.lamps}, solved.own


@cache
def _library(board: Board) -> tuple[LampFault, ...]:
    """All faults with their simulated patterns; a fault of one feed leaves the other commands alone."""
    sound = {command: _simulated(board, Wiring(), command) for command in Command}
    made: list[LampFault] = []
    for candidate in _candidates(board):
        rows = {
            command: sound[command]
            if candidate.touches is not None and PIN_OF[command] not in candidate.touches
            else _simulated(board, candidate.wiring, command)
            for command in Command
        }
        pattern = {command: row for command, (row, _) in rows.items()}
        own = {command: state for command, (_, state) in rows.items()}
        made.append(LampFault(candidate.key, candidate.says, pattern, own))
    return tuple(made)


COMMAND_WORDS = {
    Command.LEFT_TURN: msg("left turn"),
    Command.RIGHT_TURN: msg("right turn"),
    Command.LEFT_TAIL: msg("left tail"),
    Command.RIGHT_TAIL: msg("right tail"),
    Command.STOP: msg("stop lamps"),
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
STATE_WORDS = {
    State.OFF: msg("dark"),
    State.DIM: msg("dim"),
    State.ON: msg("bright"),
    State.TOO_BRIGHT: msg("far too bright"),
}
