"""A permit for a machine that is larger on the road than the local limit allows."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.model.field import Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.verdict import Verdict
from rakeprep.steps.width import STEP

pytestmark = pytest.mark.parametrize("bench", ["width"], indirect=True)

# Sample rake A, invented: 3.00 m wide and 4.00 m high are the local limits. The bench's day is in its file.
HIGH = {"transport_height": "4.08 m"}
PERMIT = {"permit": "P-17", "permit_until": "2026-12-31", "permit_height": "4.20 m"}


def found(bench: Any, answers: dict[str, str], field: str) -> list[Finding]:
    return [f for f in bench.found(answers) if f.about[0].field == field]


def limits(bench: Any, answers: dict[str, str]) -> Verdict:
    """The verdict on the height; the finding about overhead lines is another one."""
    return next(f.verdict for f in found(bench, answers, "transport_height") if "line" not in str(f.says))


def test_that_a_permit_lets_the_machine_go_but_never_unsaid(bench: Any) -> None:
    assert limits(bench, HIGH) is Verdict.PUT_RIGHT
    assert limits(bench, HIGH | PERMIT) is Verdict.IN_ORDER
    (said,) = found(bench, HIGH | PERMIT, "permit")
    assert said.verdict is Verdict.PUT_RIGHT
    assert said.bars == {Use.ROAD}
    assert str(said.says) == (
        "Larger than the local limit: on the road only under permit P-17, until 31 Dec 2026."
    )


def test_that_a_permit_nobody_needs_says_nothing(bench: Any) -> None:
    answers = {"transport_height": "3.80 m"} | PERMIT
    assert limits(bench, answers) is Verdict.IN_ORDER
    assert found(bench, answers, "permit") == []


@pytest.mark.parametrize(
    "other",
    [
        {"permit_until": "2020-01-01"},
        {"permit_height": "4.00 m"},
        {"permit_height": "-9 m"},
        {"permit": " "},
    ],
)
def test_that_a_permit_that_does_not_allow_it_changes_nothing(bench: Any, other: dict[str, str]) -> None:
    assert limits(bench, HIGH | PERMIT | other) is Verdict.PUT_RIGHT


def test_that_a_permit_that_ended_is_said(bench: Any) -> None:
    (said,) = found(bench, HIGH | PERMIT | {"permit_until": "2020-01-01"}, "permit")
    assert "ended on 1 Jan 2020" in str(said.says)


def test_that_a_permit_for_the_height_allows_no_width(bench: Any) -> None:
    (wide,) = found(bench, {"transport_width": "3.20 m"} | PERMIT, "transport_width")
    assert wide.verdict is Verdict.PUT_RIGHT


def test_that_more_than_the_permit_allows_stays_wrong(bench: Any) -> None:
    answers = {"transport_height": "4.30 m"} | PERMIT
    assert limits(bench, answers) is Verdict.PUT_RIGHT
    # 4.30 m less 4.20 m, by hand
    assert any("permit allows by 100 mm" in str(f.says) for f in found(bench, answers, "transport_height"))


def test_that_nobody_has_to_answer_about_a_permit(machine_a: Any, tractor: Any, bench: Any) -> None:
    asked = [f for f in STEP.fields(machine_a, tractor) if f.key.startswith("permit")]
    assert [f.need for f in asked] == [Need.MAY] * 4


@given(st.integers(3000, 5000), st.integers(3000, 5000))
def test_that_a_permit_only_ever_helps(bench: Any, size: int, allowed: int) -> None:
    answers = {"transport_height": f"{size} mm"}
    without = limits(bench, answers)
    assert limits(bench, answers | PERMIT | {"permit_height": f"{allowed} mm"}).rank <= without.rank
