"""Lamp patterns; expected faults follow from the circuit (ISO 1724), worked by hand.

The patterns themselves come from the simulated wiring, which test_light_circuit holds against scipy.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.lamp_faults import (
    LampFault,
    State,
    _candidates,
    _simulated,
    faults,
    find,
    separating_test,
)
from rakeprep.calculations.light_circuit import Wiring
from rakeprep.calculations.lights import Board, Command, Lamp

OFF, DIM, ON = State.OFF, State.DIM, State.ON
BULBS, LEDS = Board(), Board(led=True, plate_pin=7)


def by_key(board: Board) -> dict[str, LampFault]:
    return {fault.key: fault for fault in faults(board)}


@pytest.mark.parametrize(
    ("seen", "key"),
    [
        (
            {
                Command.LEFT_TURN: {Lamp.LEFT_TURN: OFF, Lamp.RIGHT_TURN: ON},
                Command.RIGHT_TURN: {Lamp.LEFT_TURN: ON, Lamp.RIGHT_TURN: OFF},
            },
            "crossed 1/4",
        ),
        (
            {
                Command.STOP: {Lamp.FOG: ON, Lamp.LEFT_STOP: OFF, Lamp.RIGHT_STOP: OFF},
                Command.FOG: {Lamp.FOG: OFF, Lamp.LEFT_STOP: ON, Lamp.RIGHT_STOP: ON},
            },
            "crossed 2/6",
        ),
        ({Command.LEFT_TAIL: {Lamp.LEFT_TAIL: OFF, Lamp.RIGHT_TAIL: ON, Lamp.PLATE: ON}}, "crossed 5/7"),
        ({Command.RIGHT_TAIL: {Lamp.RIGHT_TAIL: OFF, Lamp.PLATE: OFF, Lamp.LEFT_TAIL: OFF}}, "open 5"),
        ({Command.STOP: {Lamp.LEFT_STOP: OFF, Lamp.RIGHT_STOP: OFF, Lamp.FOG: OFF}}, "open 6"),
        ({Command.STOP: {Lamp.LEFT_STOP: OFF, Lamp.RIGHT_STOP: ON}}, f"dead {Lamp.LEFT_STOP}"),
        (
            {Command.LEFT_TURN: {Lamp.LEFT_TURN: ON, Lamp.RIGHT_TURN: ON}},
            "short 1-4",
        ),
        (
            {Command.LEFT_TURN: {Lamp.LEFT_TURN: DIM, Lamp.RIGHT_TURN: DIM, Lamp.LEFT_STOP: DIM}},
            "earth 3",
        ),
    ],
)
def test_that_the_fault_behind_a_pattern_comes_first(
    seen: dict[Command, dict[Lamp, State]], key: str
) -> None:
    found = find(BULBS, seen)
    assert found.best[0].fault.key == key
    assert found.best[0].score == 0
    assert not found.healthy
    assert len(found.best) == 3
    assert found.gap == found.best[1].score - found.best[0].score


@pytest.mark.parametrize("board", [BULBS, LEDS])
def test_that_every_fault_explains_its_own_pattern(board: Board) -> None:
    for fault in faults(board):
        assert find(board, fault.pattern).best[0].score == 0


def test_that_a_lost_earth_looks_different_on_led_lamps() -> None:
    assert {s for lamps in by_key(LEDS)["earth 3"].pattern.values() for s in lamps.values()} == {OFF}
    bulbs = by_key(BULBS)["earth 3"].pattern
    # two 21 W lamps at once have no good way back: dim, and both turn lamps glow with them
    assert ON not in bulbs[Command.STOP].values()
    assert bulbs[Command.STOP][Lamp.LEFT_STOP] is bulbs[Command.STOP][Lamp.LEFT_TURN] is DIM


def test_that_a_cluster_s_earth_leaves_the_other_cluster_alone() -> None:
    left = by_key(BULBS)["earth left"].pattern
    assert left[Command.LEFT_TURN][Lamp.LEFT_TAIL] is DIM
    assert left[Command.RIGHT_TURN][Lamp.LEFT_TAIL] is OFF
    assert left[Command.RIGHT_TURN][Lamp.RIGHT_TURN] is ON


def test_that_weak_lamps_are_weak_and_nothing_else() -> None:
    pattern = by_key(BULBS)["weak"].pattern
    assert pattern[Command.STOP][Lamp.LEFT_STOP] is DIM
    assert pattern[Command.STOP][Lamp.FOG] is OFF


def test_that_a_healthy_board_is_healthy() -> None:
    found = find(BULBS, by_key(BULBS)["healthy"].pattern)
    assert found.healthy
    assert found.best[0].fault.key == "healthy"


def test_that_the_next_test_looks_where_nobody_has_looked() -> None:
    seen = {Command.RIGHT_TAIL: {Lamp.RIGHT_TAIL: OFF, Lamp.PLATE: OFF}}
    text = str(find(BULBS, seen).next_test)
    assert text.startswith("Switch on left tail alone")


def test_that_faults_alike_from_outside_are_told_apart_by_the_meter() -> None:
    keys = by_key(BULBS)
    text = str(separating_test(keys["open 2"], keys[f"dead {Lamp.FOG}"], {}))
    assert "plug out" in text
    assert "voltage" in text


def test_that_a_blown_fuse_is_told_from_an_open_contact_by_the_tractor_s_lamp() -> None:
    keys = by_key(BULBS)
    text = str(separating_test(keys["open 7"], keys["short 7-earth"], {}))
    assert "Switch on left tail and look at the tractor's own lamp: bright speaks for: Contact 7" in text
    # the fog contact has no lamp on the tractor to look at
    assert "voltage" in str(separating_test(keys["open 2"], keys["short 2-earth"], {}))


@pytest.mark.parametrize("board", [BULBS, LEDS, Board(plate_pin=None, without=frozenset({Lamp.FOG}))])
def test_that_leaving_out_untouched_commands_changes_nothing(board: Board) -> None:
    # second method: simulate every command of every fault anew
    sound = {command: _simulated(board, Wiring(), command) for command in Command}
    patterns = {fault.key: fault for fault in faults(board)}
    for candidate in _candidates(board):
        for command in Command:
            row, own = _simulated(board, candidate.wiring, command)
            assert patterns[candidate.key].pattern[command] == row, (candidate.key, command)
            assert patterns[candidate.key].own[command] == own
    assert patterns["healthy"].pattern[Command.STOP] == sound[Command.STOP][0]


@pytest.mark.parametrize("board", [BULBS, LEDS])
def test_that_every_fault_that_shows_is_found_among_the_first(board: Board) -> None:
    healthy = by_key(board)["healthy"]
    for fault in faults(board):
        found = find(board, fault.pattern)
        same = [other.key for other in faults(board) if other.pattern == fault.pattern]
        assert found.best[0].fault.key == same[0]
        assert found.healthy == (fault.pattern == healthy.pattern)


@settings(max_examples=60)
@given(st.sampled_from(["crossed 1/4", "crossed 2/6", "open 1", "open 4", "open 6", "open 7"]), st.data())
def test_that_a_pattern_seen_in_part_never_excludes_its_own_fault(key: str, data: st.DataObject) -> None:
    pattern = by_key(BULBS)[key].pattern
    some = data.draw(st.sets(st.sampled_from(list(Command)), min_size=1))
    found = find(BULBS, {command: pattern[command] for command in some})
    assert found.best[0].score == 0


def test_that_nothing_looked_at_and_strange_lamps_are_refused() -> None:
    with pytest.raises(Impossible, match="looked at"):
        find(BULBS, {Command.STOP: {}})
    with pytest.raises(Impossible, match="does not have"):
        find(Board(plate_pin=None), {Command.STOP: {Lamp.PLATE: ON}})
