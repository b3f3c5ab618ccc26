"""The lights step on the invented sample rake A; wiring faults worked by hand from ISO 1724."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from rakeprep.model.field import Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.lights import STEP

HEALTHY = {
    "left-turn": "turn-left",
    "right-turn": "turn-right",
    "left-tail": "tail-left",
    "right-tail": "tail-right,plate",
    "stop": "stop-left,stop-right",
    "fog": "fog-left,fog-right",
}


def lamps(**changed: str) -> list[tuple[str, str]]:
    """Answers of a healthy machine with some functions changed."""
    wrong = {key.replace("_", "-"): value for key, value in changed.items()}
    return [(f"lit@{key}", wrong.get(key, value)) for key, value in HEALTHY.items()]


def test_that_only_functions_of_this_machine_are_asked(machine_a: Profile, tractor: Tractor) -> None:
    lit = next(f for f in STEP.fields(machine_a, tractor) if f.key == "lit")
    # sample rake A has lamps for all six commands; the plate lamp is no command of its own
    assert [p.key for p in lit.places] == list(HEALTHY)


def test_that_a_healthy_machine_is_in_order(bench: Any) -> None:
    findings = bench.found(*lamps())
    assert {f.verdict for f in findings} == {Verdict.IN_ORDER}
    assert "Every function" in str(findings[-1].says)


def test_that_a_plate_lamp_on_the_left_tail_is_as_right_as_on_the_right_one(bench: Any) -> None:
    # ISO 1724: the plate lamp hangs on contact 5 or 7, as wired
    findings = bench.found(*lamps(left_tail="tail-left,plate", right_tail="tail-right"))
    assert {f.verdict for f in findings} == {Verdict.IN_ORDER}


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        # practice cases 29 to 32, circuit logic worked by hand
        ({"left_turn": "turn-right", "right_turn": "turn-left"}, "Contacts 1 and 4 are crossed"),
        ({"left_tail": "tail-right,plate", "right_tail": "tail-left"}, "Contacts 5 and 7 are crossed"),
        ({"stop": "fog-left,fog-right", "fog": "stop-left,stop-right"}, "Contacts 2 and 6 are crossed"),
        ({"right_tail": "none"}, "Contact 5 (brown) is open"),
        ({"stop": "none"}, "Contact 6 (red) is open"),
        ({"stop": "stop-left"}, "right stop lamp itself is dead"),
    ],
)
def test_that_a_pattern_is_named(bench: Any, changed: dict[str, str], words: str) -> None:
    findings = bench.found(*lamps(**changed))
    assert any(words in str(f.says) for f in findings), [str(f.says) for f in findings]
    wrong = {f.about[0].place for f in findings if f.verdict is Verdict.PUT_RIGHT}
    assert wrong == {key.replace("_", "-") for key in changed}
    assert all(Use.ROAD in f.bars for f in findings if f.verdict is Verdict.PUT_RIGHT)


def test_that_a_lost_earth_of_bulbs_shows_by_lamps_that_glow(bench: Any) -> None:
    # bulbs without earth feed back through one another: everything of the plug glows, nothing is bright
    every = "turn-left,turn-right,tail-left,tail-right,stop-left,stop-right,fog-left,fog-right,plate"
    answers = [(f"lit@{key}", "none") for key in HEALTHY] + [(f"dim@{key}", every) for key in HEALTHY]
    assert any("earth, contact 3, is open" in str(f.says) for f in bench.found(*answers))


def test_that_a_wrong_function_is_told_lamp_by_lamp(bench: Any) -> None:
    finding = bench.found(("lit@stop", "stop-left,fog-left"), ("dim@stop", "stop-right"))[0]
    wanted = "stop lamps alone: only glows: right stop lamp; should stay dark: left fog lamp."
    assert str(finding.says) == wanted


@pytest.mark.parametrize(
    ("lamp", "verdict"),
    [
        # limit 1.0 V of the sample data, doubt √2 · 0.1 V = 0.14 V by hand
        ("12.1", Verdict.IN_ORDER),
        ("11.6", Verdict.MEASURE_AGAIN),
        ("10.6", Verdict.PUT_RIGHT),
        ("13.5", Verdict.MEASURE_AGAIN),  # more than the battery has
    ],
)
def test_that_the_voltage_drop_is_judged_with_its_doubt(bench: Any, lamp: str, verdict: Verdict) -> None:
    assert bench.at(bench.found(("battery", "12.6 V"), ("worst_lamp", lamp)), "worst_lamp").verdict is verdict


@pytest.mark.parametrize(("earth", "side"), [("1.8", "earth side"), ("0.2", "feed side")])
def test_that_the_side_of_the_loss_is_named(bench: Any, earth: str, side: str) -> None:
    findings = bench.found(("battery", "12.6"), ("worst_lamp", "10.6"), ("earth_loss", earth))
    assert side in str(bench.at(findings, "worst_lamp").todo)


def test_that_a_24_volt_supply_is_refused(bench: Any) -> None:
    finding = bench.at(bench.found(("battery", "27.5 V"), ("worst_lamp", "27.0 V")), "battery")
    assert finding.verdict is Verdict.PUT_RIGHT


def test_that_another_socket_on_the_tractor_is_told_before_anybody_answers(
    bench: Any, tractor: Tractor
) -> None:
    other = replace(tractor, electric=replace(tractor.electric, lights="SAE J560"))
    finding = bench.at(bench.found(tractor=other), "socket")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert "SAE J560" in str(finding.says)


def test_that_only_boards_of_the_road_bar_the_road(bench: Any) -> None:
    findings = bench.found(("boards@speed", "no"), ("other_boards@sign-shaft", "no"))
    assert bench.at(findings, "boards@speed").bars == {Use.ROAD}
    assert not bench.at(findings, "other_boards@sign-shaft").bars


def test_that_the_tractors_own_lamp_tells_a_blown_fuse_from_an_open_contact(bench: Any) -> None:
    # by the circuit: an open contact leaves the tractor's lamp alone, a wire on the frame blows its fuse
    dark = lamps(stop="none")

    def cause(own: str) -> str:
        findings = bench.found(*dark, ("own_lamp@stop", own))
        return next(str(f.says) for f in findings if "Contact 6" in str(f.says) or "contact 6" in str(f.says))

    assert "Contact 6 (red) is open" in cause("bright")
    assert "fuse has blown" in cause("dark")


def test_that_the_fog_lamp_is_asked_for_no_lamp_of_the_tractor(machine_a: Profile, tractor: Tractor) -> None:
    own = next(f for f in STEP.fields(machine_a, tractor) if f.key == "own_lamp")
    assert [place.key for place in own.places] == [key for key in HEALTHY if key != "fog"]
