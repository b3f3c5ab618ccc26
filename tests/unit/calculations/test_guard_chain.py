"""Guard chain: geometry by hand, reach by trying points of the chain."""

from __future__ import annotations

import math

import numpy as np
import pytest

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.driveline import Height, Place, Turn
from rakeprep.calculations.guard_chain import chain_reach, check_chain
from rakeprep.model.verdict import Verdict

READ: dict[Place, float] = {
    (Turn.STRAIGHT, Height.WORK): 0.50,
    (Turn.LEFT, Height.WORK): 0.46,
    (Turn.RIGHT, Height.WORK): 0.46,
}


def test_that_a_slack_chain_reaches_as_far_as_its_ellipse() -> None:
    # second method: the farthest of many points that split the chain in two
    split = np.linspace(0.0, 0.55, 20001)
    along = (split**2 - (0.55 - split) ** 2 + 0.5**2) / (2 * 0.5)
    across = np.sqrt(np.clip(split**2 - along**2, 0, None))
    assert chain_reach(0.55, 0.50) == pytest.approx(float(across.max()), abs=1e-6)
    assert chain_reach(0.50, 0.55) == 0


@pytest.mark.parametrize(
    ("length", "air", "verdict", "words"),
    [
        # by hand: sqrt(0.55^2 - 0.46^2) / 2 = 151 mm
        (0.55, 0.20, Verdict.IN_ORDER, "long enough"),
        (0.49, 0.20, Verdict.PUT_RIGHT, "too short"),
        (0.55, 0.10, Verdict.PUT_RIGHT, "too long"),
        (0.501, 0.20, Verdict.MEASURE_AGAIN, "measure it again"),
        (0.55, 0.152, Verdict.MEASURE_AGAIN, "measure it again"),
    ],
)
def test_that_a_chain_is_judged_at_both_ends(length: float, air: float, verdict: Verdict, words: str) -> None:
    found = check_chain(Estimate(length, 0.002), READ, air)
    assert found.verdict is verdict
    assert words in str(found.says)
    assert found.slack == pytest.approx(length - 0.50)
    assert found.advised == pytest.approx(0.55)
    assert found.reach == pytest.approx(math.sqrt(length**2 - 0.46**2) / 2)


def test_that_impossible_chains_are_refused() -> None:
    for refused in (
        lambda: chain_reach(0, 1),
        lambda: chain_reach(1, 0),
        lambda: check_chain(Estimate(0.5, 0.0), READ, -1),
        lambda: check_chain(Estimate(0.5, 0.0), {}, 1),
        lambda: check_chain(Estimate(0.5, -0.1), READ, 1),
    ):
        with pytest.raises(Impossible):
            refused()
