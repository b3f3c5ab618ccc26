"""Lamp patterns; expected faults follow from the circuit (ISO 1724), worked by hand.

The patterns themselves come from the simulated wiring, which test_light_circuit holds against scipy.
"""

from __future__ import annotations

import re
from itertools import combinations

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


FEEDS = (1, 2, 4, 5, 6, 7)  # ISO 1724: all contacts but the earth, 3


def test_that_every_fault_of_the_list_is_in_it_once() -> None:
    # by hand: six feeds, their fifteen pairs, eight lamps, three clusters besides the common earth
    pairs = list(combinations(FEEDS, 2))
    wanted = {"healthy", "weak", "24 V", "earth 3", "bad contact 3"}
    wanted |= {f"open {n}" for n in FEEDS} | {f"short {n}-earth" for n in FEEDS}
    wanted |= {f"bad contact {n}" for n in FEEDS}
    wanted |= {f"crossed {a}/{b}" for a, b in pairs} | {f"short {a}-{b}" for a, b in pairs}
    wanted |= {f"dead {lamp}" for lamp in BULBS.lamps} | {f"bad holder {lamp}" for lamp in BULBS.lamps}
    keys = [fault.key for fault in faults(BULBS)]
    assert len(keys) == len(set(keys))
    assert set(keys) - {key for key in keys if key.startswith("earth ")} == wanted - {"earth 3"}
    assert sum(key.startswith("earth ") for key in keys) == 4


def test_that_each_fault_is_called_by_its_contacts() -> None:
    unnumbered = ("dead", "bad holder", "earth ", "24", "weak", "healthy")
    for fault in faults(BULBS):
        said = str(fault.says)
        assert len(said) > 15
        assert ("hazard" in said) is (fault.key == "short 1-4")
        if not fault.key.startswith(unnumbered):
            assert all(number in said for number in re.findall(r"\d", fault.key)), said


@pytest.mark.parametrize("board", [BULBS, LEDS], ids=["bulbs", "LED"])
def test_that_a_fault_of_some_contacts_leaves_the_other_commands_alone(board: Board) -> None:
    sound = faults(board)[0].pattern
    command_of = {1: Command.LEFT_TURN, 4: Command.RIGHT_TURN, 7: Command.LEFT_TAIL, 5: Command.RIGHT_TAIL}
    command_of |= {6: Command.STOP, 2: Command.FOG}
    for fault in faults(board):
        if fault.key.startswith(("open", "crossed", "short", "bad contact")) and "3" not in fault.key:
            touched = {command_of[int(n)] for n in re.findall(r"\d", fault.key)}
            alone = set(Command) - touched
            assert all(fault.pattern[command] == sound[command] for command in alone), fault.key
            if fault.key.startswith(("open", "crossed")):
                assert any(fault.pattern[command] != sound[command] for command in touched), fault.key


def test_that_a_bad_contact_takes_half_the_voltage_of_its_bulbs_and_leaves_them_dim() -> None:
    found = by_key(BULBS)
    # by hand: a contact as large as its lamps' resistance halves the voltage; 6 of 12 V is dim
    for number, command, lamps in (
        (1, Command.LEFT_TURN, [Lamp.LEFT_TURN]),
        (6, Command.STOP, [Lamp.LEFT_STOP, Lamp.RIGHT_STOP]),
        (7, Command.LEFT_TAIL, [Lamp.LEFT_TAIL]),
    ):
        assert {found[f"bad contact {number}"].pattern[command][lamp] for lamp in lamps} == {DIM}
    assert found["bad contact 3"].pattern[Command.STOP][Lamp.LEFT_STOP] is DIM
    for lamp, command in ((Lamp.LEFT_TURN, Command.LEFT_TURN), (Lamp.FOG, Command.FOG)):
        assert found[f"bad holder {lamp}"].pattern[command][lamp] is DIM


def test_that_the_gap_and_the_next_test_are_those_of_the_first_two() -> None:
    seen = {Command.LEFT_TURN: {Lamp.LEFT_TURN: OFF, Lamp.RIGHT_TURN: ON}}
    found = find(BULBS, seen)
    assert found.gap == found.best[1].score - found.best[0].score
    assert str(found.next_test) == str(separating_test(found.best[0].fault, found.best[1].fault, seen))
    # where two fit, the test is at a lamp that nobody has looked at
    crossed, healthy = by_key(BULBS)["crossed 1/4"], by_key(BULBS)["healthy"]
    looked = {Command.LEFT_TURN: {Lamp.LEFT_TURN: OFF, Lamp.RIGHT_TURN: ON}}
    assert "right turn alone" in str(separating_test(healthy, crossed, looked))
