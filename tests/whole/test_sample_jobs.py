"""The sample jobs: a healthy one passes the gate, the same with faults is refused with each of them named.

Machine, tractors and readings are invented; which answers are faults follows from the practice of the trade
(no published source). What each sentence must speak of was written down before the program was run.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from rakeprep import paths
from rakeprep.jobs import answers as given
from rakeprep.jobs.assess import Gate, Readiness
from rakeprep.jobs.starting import new_job, text_of
from rakeprep.model.field import Use
from rakeprep.model.verdict import Verdict

Clock = Callable[[], dt.datetime]
SAMPLES = paths.sample_profiles()


def gate_of(folder: Path, clock: Clock, answers: str, tractor: str = "tractor-fits") -> Gate:
    read = given.read_answers(text_of(SAMPLES / "answers" / f"{answers}.toml"))
    assert read.mistakes == []
    machine, power = SAMPLES / "machines/sample-rake-a.toml", SAMPLES / f"tractors/{tractor}.toml"
    words = {key: read.job[key] for key in ("customer", "order", "technician")}
    with new_job(folder, machine, power, clock=clock, **words) as job:
        assert given.apply(read, job) == []
        return job.assessment.gate


def test_that_the_healthy_job_is_ready_without_open_points(tmp_path: Path, clock: Clock) -> None:
    gate = gate_of(tmp_path, clock, "healthy")
    assert [str(o.says) for o in gate.obstacles] == []
    assert gate.readiness is Readiness.READY


@pytest.mark.parametrize("year", [2027, 2040])
def test_that_the_healthy_job_is_ready_in_later_years_too(tmp_path: Path, year: int) -> None:
    later = dt.datetime(year, 6, 3, 9, 0, tzinfo=dt.UTC)
    assert gate_of(tmp_path, lambda: later, "healthy").readiness is Readiness.READY


FAULTS = [
    ("fasteners.bolts_out@arms", Verdict.STOP, "still in the machine"),  # one shipping bolt left
    ("hydraulics.time_in@lift", Verdict.STOP, "1.6 s"),  # comes down in a rush
    ("guards.depth@latch-left", Verdict.STOP, "18 mm"),  # latch half down
    ("settings.pto_gear", Verdict.STOP, "1000"),  # wrong PTO gear
    ("arrival.serial@declaration", Verdict.PUT_RIGHT, "5"),  # S and 5 exchanged
    ("fasteners.pin_free@arms", Verdict.PUT_RIGHT, "8 mm"),  # a pin of the wrong size
    ("hitch.height@left", Verdict.PUT_RIGHT, "12 mm"),  # lower links uneven
    ("hydraulics.remote@lift", Verdict.PUT_RIGHT, "float"),  # lift on a remote without float
    ("hydraulics.time_out@width", Verdict.PUT_RIGHT, "crossed"),  # hoses crossed
    ("hydraulics.hold@left-only", Verdict.PUT_RIGHT, "crossed"),  # plugs of the hold crossed
    ("lights.lit@right-tail", Verdict.PUT_RIGHT, "right tail"),  # a wire open
    ("tyres.pressure_set@L1R", Verdict.PUT_RIGHT, "1.20 bar"),  # a soft tyre
    ("arms.hand@RA07", Verdict.PUT_RIGHT, "RA07"),  # an arm of the wrong hand
    ("oil.vent@gearbox-right", Verdict.PUT_RIGHT, "transport plug"),
    ("levelling.arm_clearance@LA10", Verdict.PUT_RIGHT, "LA10"),  # a bent arm
    ("width.transport_height", Verdict.PUT_RIGHT, "80 mm"),  # over the height limit
    ("test_run.coast_down@right", Verdict.PUT_RIGHT, "right rotor"),  # something drags
    ("test_run.surface_temperature@gearbox-right", Verdict.PUT_RIGHT, "21 K"),  # 62 − 41 °C
    ("test_run.surface_temperature@gearbox-left", Verdict.MEASURE_AGAIN, "indication only"),  # overdue
]


@pytest.fixture(scope="module")
def faulty(tmp_path_factory: pytest.TempPathFactory) -> Gate:
    noon = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
    return gate_of(tmp_path_factory.mktemp("faulty"), lambda: noon, "faulty")


@pytest.mark.parametrize(("slot", "verdict", "words"), FAULTS)
def test_that_the_gate_refuses_each_fault_by_name(
    faulty: Gate, slot: str, verdict: Verdict, words: str
) -> None:
    found = [o for o in faulty.obstacles if str(o.slot) == slot and o.verdict is verdict]
    assert any(words in str(o.says) for o in found), [str(o.says) for o in found]


def test_that_the_faulty_job_is_not_ready(faulty: Gate) -> None:
    assert faulty.readiness is Readiness.NOT_READY


def test_that_a_front_rotor_far_too_low_is_among_the_faults(faulty: Gate) -> None:
    levelling = [str(o.says) for o in faulty.obstacles if o.slot.field == "clearance"]
    assert any("left rotor" in says and "front" in says for says in levelling)


def test_that_a_tractor_without_float_is_told_for_the_lift(tmp_path: Path, clock: Clock) -> None:
    gate = gate_of(tmp_path, clock, "healthy", "tractor-no-float")
    assert ["float" in str(o.says) for o in gate.obstacles if o.slot.step == "hydraulics"] == [True]


def test_that_a_tractor_too_light_in_front_is_told(tmp_path: Path, clock: Clock) -> None:
    gate = gate_of(tmp_path, clock, "healthy", "tractor-light-in-front")
    assert ["front axle" in str(o.says) for o in gate.obstacles if o.slot.step == "hitch"] == [True]


def test_that_a_dark_lamp_left_as_an_open_point_keeps_the_machine_off_the_road(
    tmp_path: Path, clock: Clock
) -> None:
    gate = gate_of(tmp_path, clock, "half-done")
    point = next(p for p in gate.open_points if str(p.slot) == "lights.lit@right-tail")
    assert Use.ROAD in point.bars
    assert "ordered" in point.reason
