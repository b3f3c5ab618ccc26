"""Guards, latches and signs on the invented sample rake A; depths worked by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from rakeprep.model.field import Need, Use
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps.guards import STEP


@pytest.mark.parametrize(
    ("depth", "verdict"),
    [
        # 35 mm full depth, 3 mm tolerance: from 32 mm; tape ± 2 mm, so in order from 34, out below 30
        ("35 mm", Verdict.IN_ORDER),
        ("33 mm", Verdict.MEASURE_AGAIN),
        ("18 mm", Verdict.STOP),  # practice case 33: half down
    ],
)
def test_that_a_half_dropped_latch_stops_the_work(
    bench: Any, machine_a: Profile, depth: str, verdict: Verdict
) -> None:
    finding = bench.at(bench.found(("depth@latch-left", depth)), "depth@latch-left")
    assert finding.verdict is verdict
    assert finding.source == machine_a.latch[0].depth.source


def test_that_the_latch_needs_two_people_and_bars_the_road(machine_a: Profile, tractor: Tractor) -> None:
    depth = next(f for f in STEP.fields(machine_a, tractor) if f.key == "depth")
    assert depth.two_people
    assert depth.need is Need.MUST
    assert depth.bars == {Use.ROAD}


def test_that_an_open_guard_stops_the_run(bench: Any) -> None:
    finding = bench.at(bench.found(("closed@hoop-left", "no")), "closed@hoop-left")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.PTO}


def test_that_only_guards_of_turning_shafts_have_chains(machine_a: Profile, tractor: Tractor) -> None:
    chains = next(f for f in STEP.fields(machine_a, tractor) if f.key == "chain_holds")
    assert {p.key for p in chains.places} == {g.key for g in machine_a.guard if g.driveline}


@pytest.mark.parametrize("field", ["guard_free", "chain_holds"])
def test_that_a_guard_that_drags_or_is_loose_bars_the_pto(bench: Any, field: str) -> None:
    finding = bench.at(bench.found((f"{field}@pto-guard", "no")), f"{field}@pto-guard")
    assert finding.verdict is Verdict.PUT_RIGHT
    assert finding.bars == {Use.PTO}


def test_that_a_latch_that_gives_way_bars_the_road(bench: Any) -> None:
    finding = bench.at(bench.found(("pull_test@latch-right", "no")), "pull_test@latch-right")
    assert finding.verdict is Verdict.STOP
    assert finding.bars == {Use.ROAD}


@pytest.mark.parametrize(
    ("read", "verdict"),
    [
        # rule of thumb 50 mm, tape ± 2 mm
        ("55 mm", Verdict.IN_ORDER),
        ("2 in", Verdict.MEASURE_AGAIN),
        ("40 mm", Verdict.PUT_RIGHT),
    ],
)
def test_that_the_guard_reaches_far_enough_into_the_shield(bench: Any, read: str, verdict: Verdict) -> None:
    finding = bench.at(bench.found(("shield_overlap@tractor-end", read)), "shield_overlap@tractor-end")
    assert finding.verdict is verdict
    assert finding.source is not None
    assert "rule of thumb" in str(finding.source.said)


def test_that_what_is_right_is_said_too(bench: Any) -> None:
    findings = bench.found(("closed@hoop-left", "yes"), ("signs", "yes"), ("cord@latch-left", "yes"))
    assert [f.verdict for f in findings] == [Verdict.IN_ORDER] * 3


def test_that_a_machine_without_latches_is_not_asked_for_them(
    bench: Any, machine_a: Profile, tractor: Tractor
) -> None:
    bare = replace(machine_a, latch=(), guard=())
    assert {f.key for f in STEP.fields(bare, tractor)} == {"shield_overlap", "signs"}
    assert bench.found(machine=bare) == []
