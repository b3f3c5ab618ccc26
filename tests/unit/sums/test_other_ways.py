"""The ways through a sum that its example does not go; all worked by hand, invented practice machine."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable

import pytest

from rakeprep.sums import Answer, Given, Refused, Result, Worked, find, work_out
from rakeprep.text import msg
from rakeprep.units import Kind

WAVE = "30mm,28.7mm,25mm,20mm,15mm,11.3mm,10mm,11.3mm,15mm,20mm,25mm,28.7mm"  # 20 + 10 cos
LEVEL_FLOOR = "9=0mm 10=0mm 11=0mm 12=0mm 1=0mm 2=8mm 3=0mm"
SEEN = "9=31mm 10=24mm 11=17mm 12=12mm 1=11mm 2=23mm 3=22mm"  # 8 mm too much over the dip at 2 o'clock

# sum, what is typed beside its example ("" leaves it out), verdict, words of the answer or its working
CASES = [
    ("carrier-notice", {"today": "2026-04-14"}, "stop", "-1"),
    ("carrier-notice", {"today": "2026-04-10"}, "in order", "3"),
    ("carrier-notice", {"holidays": "2026-04-06"}, None, "11 Apr 2026"),  # only the 6th a holiday
    ("hours-from-area", {"area-unit": "ac"}, None, "50 h"),
    ("compare-numbers", {"paper": "pm1-0045 "}, "in order", "same"),
    ("year-of-construction", {"built": "2027"}, "measure again", "Ask"),
    ("fastener-balance", {"bolts-out": "14"}, "in order", "balance"),
    ("arm-hands", {"coils": "winds,winds,winds,winds,winds,winds,winds,opens,-,-,-,-"}, "put right", "RA08"),
    ("arm-hands", {"turns": "cw", "arms": "R,R,R,R,R,R,R,R,R,R,R,R"}, "put right", "Arms, coils or rotation"),
    ("arm-hands", {"arms": "R,R,R,R,R,R,R,R,R,R,R,R"}, "in order", "right hand"),
    ("pin-against-bolt", {"class": "8.8", "plane": "shank"}, None, "not weaker"),  # 108.6 against 104.1 kN
    ("spring-pin-fit", {"free": "8.65mm"}, "put right", "wrong"),  # an 8 mm pin in a 12 mm hole
    ("wrench-setting", {"step": "5Nm"}, None, "215 N·m"),  # 217.4 to the nearest mark
    ("wrench-setting", {"step": "5Nm", "maximum": "245Nm"}, None, "210 N·m"),  # 245 · 400/460 = 213.0
    ("recheck-angle", {"moved": "5°"}, "in order", ""),
    ("hitch-fit", {"tractor": "2"}, "in order", "fit"),  # 0.7 mm play
    ("pin-play", {"pin": "18mm"}, "put right", "does not fit"),
    ("hitch-load", {"capacity": "1500kg"}, "put right", "1243 kg"),  # 1554 kg are needed
    ("hitch-load", {"capacity": "3426lb"}, "in order", ""),  # 1554.0 kg
    (
        "axle-loads",
        {"front": "1150kg", "rear": "4050kg", "load": "2300kg", "ahead": "1.40m"},
        "put right",
        "ballast",
    ),
    ("driveline-cut", {"longest": "1310mm"}, "stop", ""),  # overlap uncut 230 below 250: too short
    ("hitch-weighed", {"worked": "1500kg"}, "measure again", "differ"),
    ("hitch-weighed", {"worked": ""}, None, "1240 kg"),
    ("wide-angle-end", {"fitted": "machine"}, "in order", "machine"),
    ("wide-angle-end", {"fitted": ""}, None, "machine"),
    ("driveline-cut", {"shortest": "1000mm"}, "in order", ""),  # 905 + 30 below 1000: no cut
    ("driveline-cut", {"reserve": "10mm"}, "in order", "raised to three times"),
    ("driveline-places", {"right-low": "900mm"}, "measure again", "Left and right differ"),
    ("guard-chain", {"fitted": "480mm", "to-tube": "200mm"}, "put right", ""),  # longest place 500
    ("pivot-curve", {"measured": "880mm"}, "in order", ""),  # 4 ± 5 mm off, 15 may stay
    ("pivot-curve", {"measured": "900mm"}, "measure again", "again"),  # 24 mm off
    ("joint-angle", {"angle": "3°"}, "in order", "small enough"),
    ("joint-angle", {"angle": "7°"}, "measure again", "too close"),
    ("two-joints", {"second": "12°"}, "in order", "nearly cancel"),
    ("two-joints", {"phased": "no"}, "put right", "out of line"),  # √(12² + 7²) = 13.9°
    ("holding-pressure", {"gauge": "33bar"}, "in order", ""),
    ("holding-pressure", {"gauge": ""}, None, "32.2 bar"),
    ("ram-leak", {"creep-shut": ""}, None, ""),
    ("ram-leak", {"creep": "1mm", "creep-shut": ""}, None, "Nothing sinks"),
    ("lowering-time", {"time": "5s"}, "in order", "slowly enough"),
    ("stroke-faults", {"out": "5.6s,5.7s,5.65s", "back": "3.7s,3.8s,3.7s"}, "in order", "as they should"),
    ("lift-faults", {"down": "6s,6.1s,5.9s"}, "in order", "as they should"),
    ("remote-match", {"remotes": "R1:double R3:double"}, "put right", "float"),
    ("one-rotor-hold", {"rises": "left"}, "in order", ""),
    ("lamp-functions", {"plate": "none"}, None, "Seven-pin"),
    ("wire-drop", {"measured": "0.6V"}, "in order", "No more is lost"),
    ("wire-drop", {"measured": ""}, None, "0.64 V"),
    ("wire-drop", {"earth-current": "7A", "earth-area": "2.5mm²", "measured": ""}, None, ""),
    ("lamp-pattern", {"left-turn": "left-turn", "right-turn": "right-turn", "fog": "fog"}, "in order", ""),
    ("lamp-pattern", {"left-turn": "left-turn-dim", "right-turn": "none", "lamps": "led"}, "put right", ""),
    ("tyre-sides", {"right": "2.0bar"}, "in order", "alike"),
    ("overrunning-clutch", {"drives-back": "", "runs-ahead": "", "drives": "yes"}, "not yet", ""),
    ("oil-level-tilt", {"tilt": "0.5°"}, "in order", "level enough"),
    ("oil-balance", {"drained": "0.80L"}, "in order", ""),
    ("gear-oil", {"grade": "80W"}, None, "name the edition"),
    ("gear-oil", {"grade": "140"}, None, "140"),
    ("grease-class", {"consistency": ""}, None, "Wheel bearings"),
    ("grease-class", {"class": ""}, None, "consistency 2"),
    ("tool-date", {"certified": ""}, "put right", "only an indication"),
    ("tool-date", {"certified": "2026-03-01", "pulls": "100"}, "in order", ""),
    ("time-left", {"used": "1.5h,0.75h,0h"}, None, "used up its plan"),
    ("rotor-plane", {"readings": SEEN, "floor": LEVEL_FLOOR}, None, "−29 mm"),  # the dip taken off again
    ("rotor-plane", {"wanted-front-rear": "-20mm", "tolerance": "5mm"}, "measure again", ""),  # 9 ± 6 off
    ("rotor-plane", {"readings": SEEN.replace("2=23", "2=60")}, "measure again", "Read again at 2"),
    ("turnbuckle", {"shorter": ""}, None, "1 flat"),
    ("turnbuckle", {"shorter": "lowers"}, None, "longer"),
    ("arms-past-one-place", {"readings": WAVE}, "put right", "one wave"),
    ("arms-past-one-place", {"readings": ",".join(["15mm"] * 12)}, "in order", "No arm"),
    ("level-plan", {"need-centre": "0mm±3mm", "need-front-rear": "0mm±6mm"}, "in order", "Leave it"),
    ("fork-capacity", {"load": "1900kg"}, "stop", ""),
    ("fork-capacity", {"load": ""}, None, "plate wins"),
    ("sling-leg", {"angle": ""}, None, "838 kg"),  # 2 m legs over 2 m: 30°, 837.2 kg, up
    ("transport-size", {"size": "3.90m"}, "in order", "Within"),
    ("line-clearance", {"height": "5.3m"}, "stop", "Do not drive"),
    ("axle-square", {"right": "5598mm"}, "in order", "square as far"),
    ("toe", {"rear": "1842mm"}, "in order", "straight enough"),
    ("headland-clearance", {"clearance": "500mm"}, "in order", "clear the windrow"),
    ("headland-clearance", {"clearance": "381mm"}, "measure again", "Too close"),
    ("field-height", {"wanted": "8mm"}, "in order", "8 mm"),
    ("windrow", {"throughput": ""}, None, "2.52 kg"),
    ("knocks", {"count": "5"}, "measure again", ""),  # 0.54 per turn is no whole number
    ("rotor-speed", {"arms": ""}, None, "56 rpm"),
    ("pto-by-count", {"working": "450rpm", "ceiling": "540rpm", "gearbox": "560rpm"}, "in order", ""),
    ("pto-gear", {"engine": "2400rpm"}, "measure again", "No gear"),
    ("pto-types", {"splines": "6"}, "in order", "belongs"),
    ("pto-types", {"splines": "", "machine": ""}, None, "clockwise"),
    ("decide", {"value": "34mm±20mm"}, "measure again", "finer instrument"),
    ("decide", {"value": "60mm±2mm", "least": ""}, "put right", "Outside"),
    ("decide-target", {"value": "20mm±1mm"}, "in order", ""),
    ("agree", {"first": "72°F±1°F", "second": "25°C"}, "measure again", "differ"),  # 22.2 °C ± 0.6 K
    ("convert", {"value": "80.6°F", "toward": "nearest"}, None, "80.6 °F"),
]


@pytest.mark.parametrize(("key", "typed", "verdict", "says"), CASES)
def test_that_a_sum_answers_in_its_other_ways(
    key: str, typed: dict[str, str], verdict: str | None, says: str
) -> None:
    of = find(key)
    assert of is not None
    answer = work_out(of, {**of.example, **typed})
    assert isinstance(answer, Worked), [str(reason) for reason in answer.reasons]
    found = answer.answer
    words = [
        str(found.says),
        *(str(line) for line in found.working),
        *(str(each.value) for each in found.results),
    ]
    assert (found.verdict.value if found.verdict else None) == verdict
    assert any(says in line for line in words), words


REFUSED = [
    ("arm-hands", {"coils": "winds"}, "as many coils"),
    ("rotor-plane", {"floor": "9=0mm"}, "no value at some"),
    ("pivot-fit", {"turns": "0°"}, "as many distances"),
    ("lamp-pattern", {"plate": "none", "stop": "plate"}, "does not have"),
    ("grease-class", {"consistency": "", "class": ""}, "Type a consistency"),
    ("time-left", {"finished": "yes"}, "same number"),
    ("decide-target", {"value": "20°C±1°C", "target": "20°C", "tolerance": "1°C"}, "two limits"),
    ("decide", {"least": "", "most": ""}, ""),
    ("learn-effect", {"after-front-rear": ""}, "at least one result"),
    ("learn-effect", {"after-front-rear": "-28mm"}, ""),  # 1 mm is within the doubt of ± 3 mm
    ("follow-up", {"per-day": "25h"}, ""),
    ("tyre-temperature", {"pressure": "-1bar"}, ""),
]


@pytest.mark.parametrize(("key", "typed", "says"), REFUSED, ids=[key for key, _, _ in REFUSED])
def test_that_a_sum_refuses_what_cannot_be_told(key: str, typed: dict[str, str], says: str) -> None:
    of = find(key)
    assert of is not None
    answer = work_out(of, {**of.example, **typed})
    assert isinstance(answer, Refused), [str(answer.answer.says)]
    assert answer.impossible
    assert says in str(answer.reasons[0])


def overflows(given: Given) -> Answer:
    raise OverflowError


def endless(given: Given) -> Answer:
    return Answer(msg("…"), (Result("x", msg("x"), math.inf, Kind.LENGTH, "m"),))


@pytest.mark.parametrize("work", [overflows, endless])
def test_that_a_sum_beyond_all_bounds_ends_in_a_sentence(work: Callable[[Given], Answer]) -> None:
    of = find("bolt")
    assert of is not None
    answer = work_out(dataclasses.replace(of, work=work), of.example)
    assert isinstance(answer, Refused)
    assert "out of all bounds" in str(answer.reasons[0])
