"""Every sum's own example against numbers worked by hand or printed by a published source.

Unless a row says otherwise: worked by hand, invented practice machine. The tolerance is half the last
digit of what was worked out.
"""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass, field

import pytest

from rakeprep.sums import Sum, Worked, all_sums, find, work_out
from rakeprep.sums.showing import answer_lines

BY_HAND = "worked by hand, invented practice machine"


@dataclass(frozen=True)
class Expected:
    """What an example has to give; results as (value in base units, tolerance)."""

    results: dict[str, tuple[float, float]] = field(default_factory=dict)
    verdict: str | None = None
    says: str = ""
    plain: dict[str, object] = field(default_factory=dict)
    source: str = BY_HAND


MM, KN, BAR, RPM, LITRE = 1e-3, 1e3, 1e5, 1 / 60, 1e-3
PIN_12 = "ISO 8752, row 12 mm: free 12.5 to 12.8, wall 2.5, double shear 104.1 kN; ISO 286-1, IT12 180 µm"

EXPECTED: dict[str, Expected] = {
    "carrier-notice": Expected(
        plain={"last-day": dt.date(2026, 4, 13)},
        source="CMR art. 30 on a calendar: 4, 7, 8, 9, 10, 11, 13 April (3rd and 6th are holidays)",
    ),
    "retorque-points": Expected({"point-1": (3600, 1), "point-2": (36000, 1), "point-3": (180000, 1)}),
    "follow-up": Expected(plain={"visit": dt.date(2026, 5, 26), "call": dt.date(2026, 5, 21)}),
    "hours-from-area": Expected({"worked": (50 * 3600, 1)}),
    "compare-numbers": Expected(verdict="stop", plain={"differences": 1}),
    "year-of-construction": Expected(verdict="in order", plain={"age": 0}),
    "fastener-balance": Expected(verdict="put right", plain={"bolts-left": 1, "holes-open": 0}),
    "arm-crate": Expected(verdict="put right", plain={"found": 2}),
    "arm-hands": Expected(verdict="put right", plain={"found": 1}),
    "spring-pin": Expected(
        {
            "free-least": (12.5 * MM, 1e-9),
            "free-most": (12.8 * MM, 1e-9),
            "hole-least": (12.0 * MM, 1e-9),
            "hole-most": (12.18 * MM, 1e-9),
            "squeeze-least": (0.32 * MM, 1e-9),
            "squeeze-most": (0.80 * MM, 1e-9),
            "wall": (2.5 * MM, 1e-9),
            "double-shear": (104.1 * KN, 1e-6),
        },
        source=PIN_12,
    ),
    "spring-pin-table": Expected(plain={"pins": 28}, source="ISO 8752: 28 sizes from 1 to 50 mm"),
    "spring-pin-fit": Expected({"squeeze": (0.55 * MM, 1e-9)}, verdict="in order"),
    "pin-against-bolt": Expected(
        {"pin": (104.1 * KN, 1e-6), "bolt": (40.5 * KN, 0.06 * KN), "ratio": (0.39, 0.005)},
        source="ISO 8752; 2 · 0.6 · 400 MPa · 84.3 mm² (EN 1993-1-8 table 3.4, ISO 898-1 stress area)",
    ),
    "nested-pins": Expected({"double-shear": (96.2 * KN, 0.05 * KN)}, source="ISO 8752: 70.16 + 26.04 kN"),
    "cross-pin-torque": Expected({"torque": (1403.2, 0.1)}, source="ISO 8752: 70.16 kN · 20 mm"),
    "torque-estimate": Expected({"torque": (88.0, 0.05), "preload": (36.7 * KN, 0.05 * KN)}),
    "torque-by-friction": Expected(
        {"torque": (93.0, 0.9), "preload": (41.9 * KN, 0.4 * KN)},
        source="VDI 2230 table, M12 8.8, µ 0.14: 41.9 kN and 93 N·m (from memory), within 1 %",
    ),
    "wrench-setting": Expected({"set": (217.4, 0.05)}),
    "recheck-angle": Expected(
        {
            "bolt-alone": (11.5, 0.05),
            "clamp-turn": (22.9, 0.1),
            "stretch": (0.064 * MM, 0.0005 * MM),
        },
        verdict="put right",
    ),
    "bolt": Expected(
        {
            "pitch": (1.75 * MM, 1e-9),
            "stress-area": (84.3e-6, 0.05e-6),
            "proof-load": (48.9 * KN, 0.05 * KN),
            "breaking-load": (67.4 * KN, 0.05 * KN),
            "shear-thread": (80.9 * KN, 0.05 * KN),
            "shear-shank": (108.6 * KN, 0.05 * KN),
            "hole": (13.5 * MM, 1e-9),
        },
        source="ISO 898-1:2013 tables 4 and 5, M12: 84.3 mm², 48 900 N, 67 400 N; ISO 273 medium 13.5",
    ),
    "wrench-doubt": Expected({"torque": (250.0, 1e-9)}),
    "hitch-category": Expected(
        {"lower-pin": (28 * MM, 1e-9), "span": (825 * MM, 1e-9)}, source="ISO 730, category 2 (from memory)"
    ),
    "hitch-fit": Expected({"slop": (9.4 * MM, 0.05 * MM), "gap": (70 * MM, 0.1 * MM)}, verdict="put right"),
    "pin-play": Expected({"slop": (0.7 * MM, 0.01 * MM)}, verdict="in order"),
    "pin-level": Expected({"angle": (0.83, 0.005), "error": (51 * MM, 0.5 * MM)}),
    "hitch-load": Expected({"hitch": (1243, 0.5), "axle": (1657, 0.5), "lift": (1554, 0.5)}),
    "hitch-weighed": Expected({"hitch": (1240, 1e-9)}, verdict="in order", says="agrees"),
    "axle-loads": Expected(
        {"front": (1637, 0.5), "rear": (4806, 0.6), "share": (0.315, 0.0005), "needed": (1040, 0.5)},
        verdict="in order",
    ),
    "driveline-cut": Expected(
        {
            "cut": (65 * MM, 1e-6),
            "least": (63 * MM, 1e-6),
            "most": (111 * MM, 1e-6),
            "gap": (32 * MM, 1e-6),
            "overlap-longest": (342 * MM, 1e-6),
            "overlap-before": (472 * MM, 1e-6),
            "overlap-shortest": (538 * MM, 1e-6),
            "closed": (840 * MM, 1e-6),
            "half-a": (715 * MM, 1e-6),
            "half-b": (695 * MM, 1e-6),
            "guards": (252 * MM, 1e-6),
        },
        verdict="in order",
        says="second person",
    ),
    "driveline-proof": Expected(
        {"gap": (-65 * MM, 1e-6), "overlap": (65 * MM, 1e-6)},
        verdict="put right",
        says="only one of the tubes",
    ),
    "driveline-places": Expected(
        {"shortest": (872 * MM, 1e-6), "longest": (1068 * MM, 1e-6), "travel": (196 * MM, 1e-6)},
        verdict="measure again",
    ),
    "driveline-overlap": Expected({"overlap": (260 * MM, 1e-6)}),
    "guard-chain": Expected({"chain": (550 * MM, 1e-6)}),
    "pivot-curve": Expected(
        {"distance": (876 * MM, 0.5 * MM), "tractor": (29.9, 0.05), "machine": (40.1, 0.05)}
    ),
    "joint-angle": Expected({"swing": (0.069, 0.0005)}, verdict="put right"),
    "two-joints": Expected({"equivalent": (9.7, 0.05), "swing": (0.029, 0.0005)}, verdict="put right"),
    "joint-phase": Expected(
        {"swing": (0.1245, 0.0005), "in-line": (0.0, 1e-9)},
        source="two joints at 20° a quarter turn out swing twice tan 20° · sin 20°; by sin 30° half of that",
    ),
    "wide-angle-end": Expected(verdict="put right", says="machine"),
    "joint-shake": Expected(
        {"acceleration": (3083.4, 0.1), "swing": (0.12448, 0.00005)},
        source="theory of machines textbook example, 20° at 1500 rpm (exact peak); swing tan 20° · sin 20°",
    ),
    "stroke-times": Expected(
        {
            "out": (5.65, 0.01),
            "back": (3.73, 0.005),
            "ratio": (1.52, 0.005),
            "volume-out": (2 * 1.414 * LITRE, 0.001 * LITRE),
            "volume-back": (2 * 0.933 * LITRE, 0.001 * LITRE),
        }
    ),
    "real-flow": Expected({"flow": (25.5e-3 / 60, 0.05e-3 / 60)}),
    "rod-speed": Expected(
        {"out": (0.08488, 0.00001)}, source="40 L/min over π/4 · 100² mm², a cylinder table's 84.88 mm/s"
    ),
    "ram-force": Expected({"push": (100.5 * KN, 0.05 * KN)}),
    "holding-pressure": Expected({"pressure": (32.2 * BAR, 0.05 * BAR)}, verdict="stop", says="latch"),
    "ram-leak": Expected({"leak": (2.5e-6, 0.05e-6)}, says="stays up"),
    "lowering-time": Expected({"time": (1.6, 1e-9)}, verdict="stop"),
    "stroke-faults": Expected(
        {"out": (3.733, 0.001), "back": (5.667, 0.001)}, verdict="put right", says="crossed"
    ),
    "lift-faults": Expected({"expected-out": (9.05, 0.01)}, verdict="put right", says="not down"),
    "remote-match": Expected(verdict="in order", plain={"served": 2, "missing": 0, "spare": 1}),
    "one-rotor-hold": Expected(verdict="put right", says="plugs are crossed"),
    "lamp-functions": Expected(plain={"contacts": 7}, source="ISO 1724: seven contacts"),
    "wire-drop": Expected(
        {"feed": (0.322, 0.001), "earth": (0.322, 0.001), "total": (0.644, 0.002)}, verdict="put right"
    ),
    "lamp-pattern": Expected(verdict="put right", says="1 and 4 are crossed", plain={"best": 0}),
    "tyre-temperature": Expected({"then": (1.83 * BAR, 0.005 * BAR), "set-now": (2.18 * BAR, 0.006 * BAR)}),
    "tyre-altitude": Expected(
        {"there": (2.17 * BAR, 0.005 * BAR), "air": (0.8456 * BAR, 0.0005 * BAR)},
        source="ISO 2533, standard atmosphere at 1500 m: 845.6 hPa",
    ),
    "tyre-load": Expected(
        {"pressure": (1.454 * BAR, 0.001 * BAR), "carries": (800, 0.1)}, source="2 · 0.8^(1/0.7) by hand"
    ),
    "tyre-sides": Expected({"difference": (0.8 * BAR, 1.0)}, verdict="put right"),
    "overrunning-clutch": Expected(verdict="put right", says="end for end"),
    "oil-level-tilt": Expected({"error": (12.6 * MM, 0.05 * MM)}, verdict="put right"),
    "oil-balance": Expected({"lost": (250e-6, 1e-9)}, verdict="put right"),
    "grease-shots": Expected({"gives": (0.0204, 1e-9)}, plain={"shots": 17}),
    "gear-oil": Expected(
        {"coldest": (247.15, 0.001), "least": (13.5, 1e-6), "below": (18.5, 1e-6)},
        source="SAE J306: 80W −26 °C at 150 000 mPa·s, 90 from 13.5 to below 18.5 mm²/s",
    ),
    "grease-class": Expected(
        {"least": (26.5 * MM, 1e-9), "most": (29.5 * MM, 1e-9)},
        source="NLGI 2: 265 to 295 tenths of a millimetre",
    ),
    "tool-date": Expected(
        verdict="out of date",
        plain={"due": dt.date(2026, 3, 1), "days-left": -44},
        source="ISO 6789: 12 months; calendar",
    ),
    "time-left": Expected({"remaining": (3 * 3600, 1), "by-plan": (2 * 3600, 1), "pace": (1.5, 1e-9)}),
    "rotor-plane": Expected(
        {
            "lean": (30.6 * MM, 0.1 * MM),  # √(29.0² + 9.9²)
            "high-at": (6.63, 0.02),  # rear and left: 180° + atan(9.9/29.0) = 198.8°, over 30
            "centre": (26.6 * MM, 0.05 * MM),
            "front-rear": (-29.0 * MM, 0.05 * MM),
            "right-left": (-9.9 * MM, 0.05 * MM),
            "sd": (0.5 * MM, 0.05 * MM),
        }
    ),
    "turnbuckle": Expected(
        {"per-step": (8.33 * MM, 0.01 * MM), "left": (0.67 * MM, 0.01 * MM), "exact": (1.08, 0.005)},
        says="1 flat, shorter",
        plain={"steps": 1},
    ),
    "chassis-pins": Expected(
        {"per-step": (37.5 * MM, 0.01 * MM), "exact": (0.26, 0.005)}, says="Leave it", plain={"steps": 0}
    ),
    "crank": Expected({"per-step": (1.55 * MM, 0.01 * MM)}, says="down", plain={"steps": -5}),
    "headstock": Expected(
        {"tilt": (4.5, 0.05), "centre": (14 * MM, 0.5 * MM), "front-rear": (15.6 * MM, 0.05 * MM)}
    ),
    "two-adjusters": Expected({"first": (1.85, 0.005), "second": (-0.70, 0.005)}),
    "arms-past-one-place": Expected(
        {
            "middle": (13.5 * MM, 1e-9),
            "departure": (12.7 * MM, 0.05 * MM),
            "wobble": (2.2 * MM, 0.05 * MM),
            "sd": (0.4 * MM, 0.05 * MM),
        },
        verdict="put right",
        says="arm 10",
        plain={"high-arm": 3, "worst-arm": 10, "odd": 1},
    ),
    "pivot-fit": Expected(
        {"front": (600 * MM, 5 * MM), "rear": (465 * MM, 5 * MM), "sideways": (0.0, 1 * MM)},
        verdict="in order",
    ),
    "level-plan": Expected(
        {"left-centre": (-1.8 * MM, 0.05 * MM), "left-front-rear": (0.67 * MM, 0.01 * MM)},
        plain={"flats": 1, "holes": 0, "half-turns": -4},
    ),
    "learn-effect": Expected({"front-rear": (24 * MM, 1e-9)}),
    "fork-capacity": Expected({"capacity": (1759, 0.5), "write-down": (1750, 1e-9)}, verdict="in order"),
    "sling-leg": Expected({"each": (1025, 0.5), "angle": (45, 1e-9)}),
    "transport-size": Expected({"over": (80 * MM, 1e-6)}, verdict="put right"),
    "line-clearance": Expected({"air": (1.12, 1e-6)}, verdict="in order"),
    "axle-tracking": Expected(
        {"angle": (0.61, 0.005), "rod": (1.93 * MM, 0.005 * MM), "turns": (1.29, 0.005)}, plain={"steps": 5}
    ),
    "off-track": Expected({"offset": (49 * MM, 0.5 * MM)}),
    "axle-square": Expected({"angle": (0.42, 0.005)}, verdict="put right"),
    "toe": Expected(
        {"toe-in": (9 * MM, 1e-6), "together": (0.75, 0.005), "each": (0.37, 0.005)}, verdict="put right"
    ),
    "width-gauge": Expected(
        {"slope": (0.967, 0.0005), "offset": (0.267, 0.0005), "shift": (0.04, 0.0005)}, verdict="put right"
    ),
    "both-rotors": Expected(
        # 60 mm too high over 5.6 m is 37.5 mm across 3.5 m: six steps of 10 mm, by hand
        {"left-left": (0.0, 1e-9), "left-right": (0.0, 1e-9)},
        plain={"notches": -6, "flats-left": 0, "flats-right": 0},
        says="nose down",
    ),
    "headland-limiter": Expected(
        {"ratio": (2.8, 1e-9), "move": (21.4 * MM, 0.05 * MM), "gives": (56 * MM, 1e-6)}, plain={"holes": 1}
    ),
    "headland-clearance": Expected({"room": (-80 * MM, 1e-6)}, verdict="put right"),
    "width-from-centres": Expected({"width": (7.2, 1e-9), "gap": (0.2, 1e-9)}),
    "field-height": Expected({"sink": (12 * MM, 1e-6), "field": (8 * MM, 1e-6)}),
    "work-rate": Expected({"hectares": (5.6, 0.001), "acres": (13.8, 0.05)}),
    "windrow": Expected({"windrow": (2.52, 1e-6), "speed": (6.0 / 3.6, 0.05 / 3.6)}),
    "heat": Expected({"left-rise": (38, 1e-6), "difference": (21, 1e-6)}, verdict="put right"),
    "knocks": Expected({"per-rotor-turn": (0.97, 0.005)}, says="Once per rotor turn", plain={"whole": 1}),
    "coast-down": Expected({"ratio": (0.42, 0.005)}, verdict="put right"),
    "engine-speed": Expected({"engine": (1615 * RPM, 1e-6), "mark": (1625 * RPM, 1e-6)}),
    "rotor-speed": Expected(
        {
            "rotor": (55.8 * RPM, 0.05 * RPM),
            "tip": (10.2, 0.05),
            "travel": (0.249, 0.0005),
            "tip-to-forward": (3.68, 0.01),
        }
    ),
    "pto-by-count": Expected({"pto": (459 * RPM, 0.5 * RPM), "rotor": (57 * RPM, 1e-6)}),
    "pto-gear": Expected(says="1000"),
    "pto-types": Expected(verdict="stop", source="ISO 500-1:2014: 21 splines are type 2, 1000 rpm"),
    "decide": Expected({"value": (34 * MM, 1e-9)}, verdict="in order"),
    "decide-target": Expected({"difference": (4 * MM, 1e-9)}, verdict="measure again"),
    "agree": Expected({"difference": (-3, 1e-9)}, verdict="in order"),
    "convert": Expected({"value": (2.55, 1e-12)}),
}


def worked(of: Sum) -> Worked:
    answer = work_out(of, of.example)
    assert isinstance(answer, Worked), [str(reason) for reason in answer.reasons]
    return answer


def test_that_every_sum_has_an_expectation_and_the_other_way_round() -> None:
    assert {each.key for each in all_sums()} == set(EXPECTED)


@pytest.mark.parametrize("of", all_sums(), ids=lambda each: each.key)
def test_that_a_sums_own_example_gives_what_was_worked_out_elsewhere(of: Sum) -> None:
    expected = EXPECTED[of.key]
    answer = worked(of).answer
    results = {each.key: each for each in answer.results}
    for key, (value, tolerance) in expected.results.items():
        number = results[key].value
        assert isinstance(number, int | float)
        assert math.isclose(number, value, rel_tol=1e-12, abs_tol=tolerance), (key, number, expected.source)
    for key, value in expected.plain.items():
        assert results[key].value == value, (key, expected.source)
    assert (answer.verdict.value if answer.verdict else None) == expected.verdict
    assert expected.says in str(answer.says)


# Doubts by GUM, equation 10, by hand; readings as instrumented in the tables of the program.
DOUBTS = {
    ("rotor-plane", "front-rear"): (6 * MM, 1 * MM),  # larger of fit and instrument, ± 6 mm
    ("driveline-cut", "gap"): (5.5 * MM, 0.05 * MM),  # √(2² + 5² + 1²) mm: closed, shortest, saw
    ("driveline-cut", "overlap-longest"): (
        5.92 * MM,
        0.05 * MM,
    ),  # √(2² + 2² + 5² + 1² + 1²) mm: halves, longest, saw twice
    ("hitch-weighed", "hitch"): (28.3, 0.05),  # √2 · 20 kg
    ("rotor-plane", "right-left"): (3 * MM, 0.5 * MM),
    ("pto-by-count", "pto"): (12.1 * RPM, 0.1 * RPM),  # 459 · 0.5 / 19
    ("coast-down", "ratio"): (0.045, 0.001),  # 0.4167 · √((0.25/6)² + (0.25/2.5)²)
    ("pin-level", "error"): (24 * MM, 0.5 * MM),  # √2 · 4 mm · 3.5 / 0.825
    ("toe", "toe-in"): (2.83 * MM, 0.01 * MM),  # √2 · 2 mm
    ("wrench-doubt", "torque"): (12.5, 1e-9),  # 5 % of 250 N·m
    ("real-flow", "flow"): (25.5e-3 / 60 * 0.25 / 14.2, 1e-8),  # relative doubt of the time
    ("agree", "difference"): (28, 1e-9),
}


@pytest.mark.parametrize("place", DOUBTS, ids="/".join)
def test_that_doubt_travels_through_a_sum(place: tuple[str, str]) -> None:
    of = find(place[0])
    assert of is not None
    doubt = next(each.doubt for each in worked(of).answer.results if each.key == place[1])
    value, tolerance = DOUBTS[place]
    assert doubt == pytest.approx(value, abs=tolerance)


IMPERIAL = [
    # the same practice machine in inches, pounds and psi: worked by hand with 25.4 mm, 0.45359237 kg
    (
        "driveline-cut",
        {
            "closed": "35.63in",
            "half-a": "30.71in",
            "half-b": "29.92in",
            "shortest": "34.33in",
            "longest": "42.05in",
            "reserve": "1.18in",
            "overlap": "9.84in",
        },
        "2 1/2 in (64 mm)",
    ),
    ("tyre-temperature", {"pressure": "29.0psi", "now": "72°F", "then": "41°F"}, "32 psi (2.2 bar)"),
    ("hitch-load", {"mass": "6393lb", "length": "18ft 4 1/2in", "gravity": "10ft 6in"}, "2740 lb (1243 kg)"),
    (
        "wrench-setting",
        {"torque": "184lbf·ft", "wrench": "15 3/4in", "extension": "2 3/8in"},
        "160 lbf·ft (217 N·m)",
    ),
    ("heat", {"left": "144°F", "right": "106°F", "ambient": "75°F"}, ""),
]


@pytest.mark.parametrize(
    ("key", "typed", "says"), IMPERIAL, ids=lambda value: value if isinstance(value, str) else ""
)
def test_that_an_imperial_entry_is_answered_in_both_families_its_own_first(
    key: str, typed: dict[str, str], says: str
) -> None:
    of = find(key)
    assert of is not None
    answer = work_out(of, typed)
    assert isinstance(answer, Worked)
    assert says in str(answer.answer.says)


def test_that_a_difference_of_degrees_fahrenheit_is_no_temperature() -> None:
    of = find("heat")
    assert of is not None
    answer = work_out(of, {"left": "144°F", "right": "106°F", "ambient": "75°F"})
    assert isinstance(answer, Worked)
    rise = next(each for each in answer.answer.results if each.key == "left-rise")
    # 144 - 75 = 69 °F of difference, by hand; as a temperature it would read 38 K = -391 °F
    assert rise.value == pytest.approx(69 * 5 / 9)
    assert rise.unit == "Δ°F"


def test_that_a_torque_never_stands_alone() -> None:
    for key in ("torque-estimate", "torque-by-friction"):
        of = find(key)
        assert of is not None
        answer = worked(of).answer
        assert {"thread", "class", "friction", "target", "torque"} <= {each.key for each in answer.results}
        for part in ("M12", "8.8", "0.", "%"):
            assert part in str(answer.says)


# All 28 rows, as suppliers' copies of ISO 8752 print them: nominal, free least and most, double shear kN.
PINS = """
1 1.2 1.3 0.7; 1.5 1.7 1.8 1.58; 2 2.3 2.4 2.82; 2.5 2.8 2.9 4.38; 3 3.3 3.5 6.32; 3.5 3.8 4.0 9.06;
4 4.4 4.6 11.24; 4.5 4.9 5.1 15.36; 5 5.4 5.6 17.54; 6 6.4 6.7 26.04; 8 8.5 8.8 42.76; 10 10.5 10.8 70.16;
12 12.5 12.8 104.1; 13 13.5 13.8 115.1; 14 14.5 14.8 144.7; 16 16.5 16.8 171; 18 18.5 18.9 222.5;
20 20.5 20.9 280.6; 21 21.5 21.9 298.2; 25 25.5 25.9 438.5; 28 28.5 28.9 542.6; 30 30.5 30.9 631.4;
32 32.5 32.9 684; 35 35.5 35.9 859; 38 38.5 38.9 1003; 40 40.5 40.9 1068; 45 45.5 45.9 1360; 50 50.5 50.9 1685
"""


@pytest.mark.parametrize("row", [row.split() for row in PINS.split(";")], ids=lambda row: f"{row[0]} mm")
def test_that_every_pin_of_the_table_is_found(row: list[str]) -> None:
    of = find("spring-pin")
    assert of is not None
    answer = work_out(of, {"pin": f"{row[0]} mm"})
    assert isinstance(answer, Worked)
    results = {each.key: each.value for each in answer.answer.results}
    wanted = [float(row[1]) * MM, float(row[2]) * MM, float(row[3]) * KN]
    assert [results[key] for key in ("free-least", "free-most", "double-shear")] == pytest.approx(wanted)


@pytest.mark.parametrize("key", ["turnbuckle", "chassis-pins", "crank"])
def test_that_what_remains_after_a_move_is_no_surer_than_the_need(key: str) -> None:
    of = find(key)
    assert of is not None
    worked = work_out(of, {**of.example, "need": "9mm±6mm"})
    assert isinstance(worked, Worked)
    found = {each.key: each for each in worked.answer.results}
    assert found["left"].doubt == pytest.approx(0.006)  # what was typed with the need
    step = found["per-step"].value
    assert isinstance(step, float)
    assert found["exact"].doubt == pytest.approx(0.006 / step)  # by hand: the sum is a division by the step


def test_that_the_flats_of_the_turnbuckle_show_their_doubt() -> None:
    of = find("turnbuckle")
    assert of is not None
    said = [str(line) for line in answer_lines(work_out(of, of.example))]
    # By hand: 6 mm / 8.33 mm a flat = 0.72 flats; a doubt is rounded up to one digit.
    assert any(line.startswith("  steps before rounding: ") and "± 0.8" in line for line in said)
    assert any(line.startswith("  need that remains: ") and "± 6 mm" in line for line in said)
