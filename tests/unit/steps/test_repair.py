"""What a repair in the season finds. Machine and readings are invented; what each must lead to is common
practice of the trade, without a published source."""

from __future__ import annotations

from typing import Any

import pytest

from rakeprep.model.source import SourceKind
from rakeprep.model.verdict import Verdict
from rakeprep.steps.repair import STEP  # noqa: F401  # the bench takes it from here


@pytest.mark.parametrize(
    ("out", "put_in", "verdict"),
    [("4", "4", Verdict.IN_ORDER), ("4", "3", Verdict.PUT_RIGHT), ("0", "0", Verdict.PUT_RIGHT)],
)
def test_that_as_many_bolts_go_in_as_came_out(bench: Any, out: str, put_in: str, verdict: Verdict) -> None:
    findings = bench.found({"bolts_out@LA07": out, "bolts_in@LA07": put_in})
    assert bench.verdicts(findings, "bolts_in@LA07") == {verdict}


@pytest.mark.parametrize(
    ("pulled", "verdict"),
    # 90 N·m wanted, 10 % allowed, a wrench within 4 % (ISO 6789): 81 to 99 N·m less the doubt at either end
    [("90 N·m", Verdict.IN_ORDER), ("66 lbf·ft", Verdict.IN_ORDER), ("66 N·m", Verdict.PUT_RIGHT)],
)
def test_that_the_torque_is_held_against_the_book_by_a_rule_that_says_so(
    bench: Any, pulled: str, verdict: Verdict
) -> None:
    findings = bench.found({"book_torque@LA07": "90 N·m", "torque@LA07": pulled})
    found = bench.at(findings, "torque@LA07")
    assert found.verdict is verdict
    assert found.source is not None
    assert found.source.kind is SourceKind.RULE
