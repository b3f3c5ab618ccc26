"""What a later visit finds. Machine and readings are invented; what each must lead to is common
practice of the trade, without a published source."""

from __future__ import annotations

from typing import Any

import pytest

from rakeprep.model.field import Use
from rakeprep.model.verdict import Verdict
from rakeprep.steps.visit import STEP  # noqa: F401  # the bench takes it from here


@pytest.mark.parametrize(
    ("address", "typed", "verdict"),
    [
        ("windrow", "even", Verdict.IN_ORDER),
        ("windrow", "soil", Verdict.PUT_RIGHT),
        ("windrow", "strips", Verdict.PUT_RIGHT),
        ("hoses@lift", "sound", Verdict.IN_ORDER),
        ("hoses@lift", "rubs", Verdict.PUT_RIGHT),
        ("hoses@lift", "braid", Verdict.STOP),
        ("magnet@splitter", "fine", Verdict.IN_ORDER),
        ("magnet@splitter", "chips", Verdict.PUT_RIGHT),
        ("hours", "11 h", Verdict.IN_ORDER),
        ("hours", "0 h", Verdict.MEASURE_AGAIN),
        # sample rake A wants 10 mm ± 5 mm in the field
        ("field_clearance@left", "10 mm", Verdict.IN_ORDER),
        ("field_clearance@left", "25 mm", Verdict.PUT_RIGHT),
    ],
)
def test_that_a_visit_tells_wear_from_running_in(
    bench: Any, address: str, typed: str, verdict: Verdict
) -> None:
    findings = bench.found({address: typed})
    assert bench.verdicts(findings, address) == {verdict}


def test_that_chips_in_the_oil_keep_the_machine_from_running(bench: Any) -> None:
    (found,) = bench.shown(bench.found({"magnet@splitter": "chips"}), "magnet@splitter")
    assert found.bars == {Use.FIELD, Use.PTO}
