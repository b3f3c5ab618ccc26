"""The arrival: identity, papers, packages, damage, notice, and the machine data themselves."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rakeprep.model.field import Need, Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import read_profile
from rakeprep.steps.arrival import STEP

SAMPLES = Path(__file__).parents[3] / "sample_profiles"


def test_that_a_letter_instead_of_a_digit_on_the_note_is_named_with_its_place(bench: Any) -> None:
    # fault case 46 of the invented practice machine: S and 5 change places; counted by hand
    found = bench.found({"serial@plate": "PM1-0045", "serial_paper@note": "pm1 - 004S"})
    assert bench.verdicts(found, "serial_paper@note") == {Verdict.PUT_RIGHT}
    says = str(bench.shown(found, "serial_paper@note")[0].says)
    assert "character 8" in says
    assert "look alike" in says


def test_that_blanks_and_case_make_no_other_number(bench: Any) -> None:
    found = bench.found({"serial@plate": "PM1-0045", "serial@declaration": "pm1-00 45"})
    assert bench.verdicts(found, "serial@declaration") == {Verdict.IN_ORDER}


def test_that_data_for_another_machine_stop_the_work(bench: Any) -> None:
    assert bench.verdicts(bench.found({"designation": "SAMPLE-B-210"}), "designation") == {Verdict.STOP}
    assert bench.verdicts(bench.found({"designation": "sample-a-212"}), "designation") == {Verdict.IN_ORDER}


def test_that_a_declaration_for_a_sister_machine_takes_every_use_away(bench: Any) -> None:
    found = bench.shown(bench.found({"declaration": "other"}), "declaration")
    assert found[0].verdict is Verdict.PUT_RIGHT
    assert found[0].bars == frozenset(Use)


def test_that_serial_number_and_declaration_are_musts(machine_a: Profile, tractor: Tractor) -> None:
    need = {f.key: f.need for f in STEP.fields(machine_a, tractor)}
    assert need["serial"] is need["declaration"] is need["rules_accepted_by"] is Need.MUST


def test_that_the_last_day_for_notice_leaves_out_sundays_and_holidays(bench: Any) -> None:
    # counted by hand on a calendar: 2 Apr 2026 is a Thursday; 3 and 6 Apr are holidays in many places
    entries = {"delivered": "2026-04-02", "holidays": "2026-04-03, 2026-04-06", "damage@paint": "cosmetic"}
    found = bench.shown(bench.found(entries), "delivered")
    assert "13 Apr 2026" in str(found[0].says)
    # the day of the check, 14 April, is one day late
    assert found[0].verdict is Verdict.PUT_RIGHT


def test_that_the_last_day_is_earlier_without_the_holidays(bench: Any) -> None:
    # counted by hand: 3, 4, 6, 7, 8, 9, 10 April; the 5th is a Sunday
    found = bench.shown(bench.found({"delivered": "2026-04-02"}), "delivered")
    assert "10 Apr 2026" in str(found[0].says)
    assert found[0].verdict is Verdict.IN_ORDER


def test_that_a_notice_sent_in_time_is_in_order(bench: Any) -> None:
    entries = {"delivered": "2026-04-02", "notice_sent": "2026-04-09", "damage@paint": "repair"}
    assert bench.verdicts(bench.found(entries), "delivered") == {Verdict.IN_ORDER}


def test_that_a_word_among_the_holidays_is_asked_back(bench: Any) -> None:
    found = bench.found({"delivered": "2026-04-02", "holidays": "Good Friday"})
    assert bench.verdicts(found, "holidays") == {Verdict.MEASURE_AGAIN}


def test_that_a_missing_bundle_is_named(bench: Any) -> None:
    found = bench.shown(bench.found({"packages@guards": "3"}), "packages@guards")
    assert found[0].verdict is Verdict.PUT_RIGHT
    assert "3 of 4" in str(found[0].says)  # four by the invented machine's data


def test_that_a_rejected_part_stops_the_work(bench: Any) -> None:
    assert bench.verdicts(bench.found({"damage@left-rotor": "reject"}), "damage@left-rotor") == {Verdict.STOP}
    assert bench.verdicts(bench.found({"damage@left-rotor": "sound"}), "damage@left-rotor") == {
        Verdict.IN_ORDER
    }


def test_that_a_year_to_come_is_looked_at_again(bench: Any) -> None:
    # the checks run on 14 Apr 2026
    assert bench.verdicts(bench.found({"year": "2027"}), "year") == {Verdict.MEASURE_AGAIN}
    assert bench.verdicts(bench.found({"year": "2025"}), "year") == {Verdict.IN_ORDER}


def test_that_every_rule_of_thumb_is_counted_and_accepted_by_name(bench: Any) -> None:
    text = (SAMPLES / "machines" / "sample-rake-a.toml").read_text("utf-8")
    many = text.count('source = "rule')  # second method: counted in the file's text
    waiting = bench.shown(bench.found({}), "rules_accepted_by")[0]
    assert waiting.verdict is Verdict.NOT_YET
    assert str(waiting.says).startswith(f"{many} values")
    accepted = bench.shown(bench.found({"rules_accepted_by": "Foreman One"}), "rules_accepted_by")[0]
    assert accepted.verdict is Verdict.IN_ORDER
    lines = [str(line) for line in accepted.working]
    assert 0 < len(lines) <= many  # equal values of equal things, such as three gearboxes, share a line
    assert not [line for line in lines if "_" in line]  # words, no keys of the data file


def torn() -> Profile:
    """The invented machine with a mass that is printed twice, 100 kg apart."""
    text = (SAMPLES / "machines" / "sample-rake-a.toml").read_text("utf-8")
    text = text.replace('mass = { value = "2900 kg",', 'mass = { value = "2900 kg", also = "6614 lb",')
    found = read_profile(text, "torn").value
    assert found is not None
    return found


def test_that_two_printed_values_in_conflict_have_to_be_chosen_from(bench: Any, tractor: Tractor) -> None:
    # 6614 lb are 3000 kg (0.453 592 37 kg each, NIST SP 811), not 2900 kg
    field = {f.key: f for f in STEP.fields(torn(), tractor)}["printed_value"]
    assert field.need is Need.MUST
    assert [place.key for place in field.places] == [torn().machine.mass.path]
    name = str(field.places[0].name)
    assert "2900 kg" in name
    assert "6614 lb" in name
    address = f"printed_value@{torn().machine.mass.path}"
    assert bench.verdicts(bench.found({}, machine=torn()), address) == {Verdict.NOT_YET}
    assert "6614 lb" in str(bench.shown(bench.found({address: "second"}, machine=torn()), address)[0].says)


def test_that_nothing_is_asked_about_printed_values_that_agree(machine_a: Profile, tractor: Tractor) -> None:
    fields = STEP.fields(machine_a, tractor)
    assert "printed_value" not in {field.key for field in fields}


FORK = {"lift_with": "fork", "truck_capacity": "2500 kg", "truck_centre": "500 mm", "load_centre": "900 mm"}


def test_that_nothing_is_lifted_without_a_mass(bench: Any) -> None:
    # two printed masses of the invented machine contradict each other, so that none is known
    found = bench.shown(bench.found({"lift_with": "fork"}, machine=torn()), "lift_with")
    assert found[0].verdict is Verdict.STOP
    assert "No lift without a mass" in str(found[0].todo)
    assert not bench.shown(
        bench.found({"lift_with": "fork", "lift_mass": "1450 kg"}, machine=torn()), "lift_with"
    )


def test_that_a_fork_lifts_less_where_the_load_lies_farther_out(bench: Any) -> None:
    # moments by hand: 2500 · (500 + 450) / (900 + 450) = 1759 kg, down to 1750 kg
    light = bench.shown(bench.found(FORK | {"lift_mass": "1450 kg"}), "lift_with")[0]
    assert light.verdict is Verdict.IN_ORDER
    assert "1750 kg" in str(light.says)
    assert bench.shown(bench.found(FORK | {"lift_mass": "1800 kg"}), "lift_with")[0].verdict is Verdict.STOP
    # the whole invented machine is 2900 kg, and counts where nothing else is known
    assert bench.shown(bench.found(FORK), "lift_with")[0].verdict is Verdict.STOP


def test_that_wide_legs_carry_more_than_half(bench: Any) -> None:
    # by hand: 2.0 m legs, 2.0 m apart, 30° from the vertical: 1450 / (2 cos 30°) = 837 kg
    sling = {"lift_with": "sling", "lift_mass": "1450 kg", "leg": "2000 mm", "leg_spread": "2000 mm"}
    found = bench.shown(bench.found(sling | {"leg_capacity": "1000 kg"}), "lift_with")[0]
    assert found.verdict is Verdict.IN_ORDER
    assert "838 kg" in str(found.says) or "837.2 kg" in str(found.says)
    assert (
        bench.shown(bench.found(sling | {"leg_capacity": "800 kg"}), "lift_with")[0].verdict is Verdict.STOP
    )
    # beyond 60° no sling is used: 3.6 m apart on 2.0 m legs are 64°
    wide = bench.shown(
        bench.found(sling | {"leg_capacity": "4000 kg", "leg_spread": "3600 mm"}), "lift_with"
    )[0]
    assert "60°" in str(wide.says)


def hours(**planned: str) -> dict[str, str]:
    """The time planned for stretches of the work."""
    return {f"time_planned@{stretch}": typed for stretch, typed in planned.items()}


def test_that_a_missing_part_leaves_something_else_to_do(bench: Any) -> None:
    waits = {"waits_for@build": "spring pins", "time_lost@build": "1.5 h"}
    answers = hours(build="4 h", wheels="2 h", level="3 h") | waits
    finding = bench.at(bench.found(answers), "time_planned@build")
    assert finding.verdict is Verdict.IN_ORDER
    # by hand: 4 + 2 + 3 h; levelling comes after the wheels, so that the wheels are next
    assert str(finding.says) == (
        "9.0 h left at the pace so far. Next: Tyres and wheels, Oil and grease. Waiting for: spring pins."
    )
    assert "Lost by waiting: 1.5 h." in [str(line) for line in finding.working]


def test_that_time_used_comes_off_the_plan_and_is_rounded_up(bench: Any) -> None:
    answers = hours(build="4 h", level="3 h") | {"time_used@build": "100 min", "time_used@level": "4 h"}
    finding = bench.at(bench.found(answers), "time_planned@build")
    # by hand: 4 h less 1 h 40 min is 2 h 20 min, in half hours 2.5 h; levelling has used up its 3 h
    assert str(finding.says).startswith("2.5 h left")
    assert any("used up" in str(line) and "Levelling" in str(line) for line in finding.working)


def test_that_a_stretch_all_answered_is_finished(bench: Any) -> None:
    run = bench.steps["test_run"]
    asked = [
        bench.slot(f"test_run.{field.key}@{place.key}")
        for field in run.fields(bench.machine, bench.tractor)
        if field.need is not Need.MAY
        for place in field.places
    ]
    absent = [str(slot) for slot in asked]
    done = bench.found(hours(run="2 h"), absent=absent)
    assert "Everything is done" in str(bench.at(done, "time_planned@run").says)
    open_yet = bench.found(hours(run="2 h"), absent=absent[1:])
    assert "2.0 h left" in str(bench.at(open_yet, "time_planned@run").says)


def test_that_without_a_plan_nothing_is_said_of_time(bench: Any) -> None:
    assert not [f for f in bench.found({"time_used@build": "1 h"}) if "pace" in str(f.says)]
    wrong = bench.at(bench.found(hours(build="0 h")), "time_planned@build")
    assert wrong.verdict is Verdict.MEASURE_AGAIN
