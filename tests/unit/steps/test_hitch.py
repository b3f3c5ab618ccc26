"""Fit, level, clearances and loads of the invented practice machine on invented tractors."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rakeprep.model.field import Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.hitch import STEP


def test_that_category_two_pins_in_category_three_balls_are_refused(bench: Any) -> None:
    # fault case 13; by hand: 37.4 − 28.0 = 9.4 mm of play (ISO 730 sizes, from memory)
    found = bench.shown(bench.found({"category": "3"}), "category")
    wrong = [each for each in found if each.verdict is Verdict.PUT_RIGHT]
    assert "9.4 mm" in str(wrong[0].says)
    assert Use.ROAD in wrong[0].bars


def test_that_the_right_category_is_in_order(bench: Any) -> None:
    assert bench.verdicts(bench.found({"category": "2"}), "category") == {Verdict.IN_ORDER}


def test_that_measured_play_is_judged_with_the_doubt_of_the_calliper(bench: Any) -> None:
    # by hand: 28.7 − 28.0 = 0.7 mm; 37.4 − 28.0 = 9.4 mm; doubt 0.14 mm, limit 2 mm (rule of thumb)
    right = bench.found({"pin@left": "28.0", "ball@left": "28.7"})
    assert bench.verdicts(right, "ball@left") == {Verdict.IN_ORDER}
    loose = bench.found({"pin@left": "28.0", "ball@left": "37.4"})
    assert bench.verdicts(loose, "ball@left") == {Verdict.PUT_RIGHT}


def test_that_pins_out_of_level_say_what_it_makes_at_the_tines(bench: Any) -> None:
    # fault case 12: 12 mm over 825 mm; by hand: tips reach 1.95 + 3.50 / 2 = 3.70 m;
    # 12 · 3700 / 825 = 53.8 mm
    found = [
        each
        for each in bench.shown(bench.found({"height@left": "656", "height@right": "644"}), "height@left")
        if len(each.about) == 2
    ]
    assert found[0].verdict is Verdict.PUT_RIGHT
    assert "54 mm" in str(found[0].says)
    assert "left lower link is" in str(found[0].says)


def test_that_a_headstock_sixty_millimetres_high_is_put_right(bench: Any) -> None:
    # fault case 11; invented nominal height 650 ± 10 mm
    found = bench.found({"height@left": "710 mm"})
    assert bench.verdicts(found, "height@left") == {Verdict.PUT_RIGHT}
    assert bench.verdicts(bench.found({"height@left": "652 mm"}), "height@left") == {Verdict.IN_ORDER}


def test_that_axle_loads_are_told_before_anything_was_entered(bench: Any) -> None:
    # by hand, moments about the rear axle: G 2900 · 2.4 / 5.6 = 1243 kg;
    # front 2100 − 1243 · 0.95 / 2.55 = 1637 kg
    said = " ".join(str(each.says) for each in bench.shown(bench.found({}), "axle_loads_seen"))
    assert "1636 kg" in said or "1637 kg" in said
    assert "1040 kg" in said  # 0.20 · 5200
    assert "1554 kg" in said  # 1.25 · 1243


def test_that_a_tractor_too_light_in_front_gets_its_ballast(
    bench: Any, tractors: Mapping[str, Tractor]
) -> None:
    # tractor C by hand: front 1150 − 1243 · 1.00 / 2.40 = 632 kg, wanted 0.2 · 3800 = 760 kg;
    # ballast (760 − 632) · 2.40 / (2.40 + 1.30) = 83 kg, so 100 kg in plates of 50
    found = [
        each
        for each in bench.found({}, tractor=tractors["tractor-light-in-front"])
        if "steer" in str(each.says)
    ]
    assert found[0].verdict is Verdict.PUT_RIGHT
    assert Use.ROAD in found[0].bars
    assert "83 kg" in str(found[0].todo)
    assert "100 kg" in str(found[0].todo)


def test_that_ballast_fitted_puts_it_right(bench: Any, tractors: Mapping[str, Tractor]) -> None:
    # by hand: 150 kg · (1.30 + 2.40) / 2.40 = 231 kg more in front, so 863 kg: far above 760 kg
    found = bench.shown(
        bench.found({"ballast": "150 kg"}, tractor=tractors["tractor-light-in-front"]), "axle_loads_seen"
    )
    assert {each.verdict for each in found} == {Verdict.IN_ORDER}


def test_that_the_weighbridge_checks_the_worked_hitch_load(bench: Any) -> None:
    # 6440 − 5200 = 1240 ± 28 kg agrees with 1243 kg; 6800 does not
    assert bench.verdicts(bench.found({"both_weighed": "6440 kg"}), "both_weighed") == {Verdict.IN_ORDER}
    assert bench.verdicts(bench.found({"both_weighed": "6800 kg"}), "both_weighed") == {Verdict.MEASURE_AGAIN}


def test_that_a_front_axle_weighed_too_light_bars_the_road(bench: Any) -> None:
    # least 1040 kg, doubt of the scale 20 kg
    for typed, verdict in (
        ("1060 kg", Verdict.IN_ORDER),
        ("1050 kg", Verdict.MEASURE_AGAIN),
        ("1000 kg", Verdict.PUT_RIGHT),
    ):
        assert bench.verdicts(bench.found({"front_weighed": typed}), "front_weighed") == {verdict}, typed


def test_that_a_missing_clip_stops_the_work(bench: Any) -> None:
    assert bench.verdicts(bench.found({"clip@right": "no"}), "clip@right") == {Verdict.STOP}


def test_that_a_tyre_too_near_in_a_full_turn_is_put_right(bench: Any) -> None:
    # rule of thumb in the invented data: 100 mm; tape ± 2 mm
    found = bench.found({"tyre_clearance@left": "60 mm", "tyre_clearance@right": "140 mm"})
    assert bench.verdicts(found, "tyre_clearance@left") == {Verdict.PUT_RIGHT}
    assert bench.verdicts(found, "tyre_clearance@right") == {Verdict.IN_ORDER}


def test_that_answers_about_the_tractor_rest_on_it(machine_a: Profile, tractor: Tractor) -> None:
    fields = {f.key: f for f in STEP.fields(machine_a, tractor)}
    assert "tractor" in fields["height"].rests_on
    assert "hitch.height" in fields["tyre_clearance"].rests_on


def test_that_the_weighed_hitch_load_shows_both_ways_of_finding_it(bench: Any) -> None:
    # by hand: 6440 − 5200 = 1240 kg, √(20² + 20²) = 28 kg
    found = bench.shown(bench.found({"both_weighed": "6440 kg"}), "both_weighed")[0]
    assert "agrees with 1243 kg" in str(found.says)
    working = " ".join(str(line) for line in found.working)
    for number in ("6440 kg", "5200 kg", "1240 kg"):
        assert number in working, working
