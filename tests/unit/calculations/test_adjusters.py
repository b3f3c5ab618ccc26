"""What one step of each adjuster does; PM-1 (invented) worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rakeprep.calculations import Impossible
from rakeprep.calculations.adjusters import (
    StepKind,
    crank_by_half_turns,
    headstock_by_notches,
    move_words,
    pins_by_holes,
    sure,
    turnbuckle_by_flats,
)
from rakeprep.text import msg


def test_that_steps_of_pm1_change_what_geometry_says() -> None:
    # by hand: 6/420 * 3500 / 6 = 8.33 mm; 15/1400 * 3500 = 37.5 mm; 5 * 0.62 / 2 = 1.55 mm;
    # 25/5600 * 3500 = 15.6 mm and 25 * (1 - 2.4/5.6) = 14.3 mm
    buckle = turnbuckle_by_flats(0.006, 0.420, 3.5, True, 12)
    assert [e.value * 1000 for e in buckle.effect] == pytest.approx([0, 8.333, 0], abs=1e-3)
    pins = pins_by_holes(0.015, 1.4, 3.5, 2)
    assert [e.value * 1000 for e in pins.effect] == pytest.approx([7.5, 0, 37.5])
    crank = crank_by_half_turns(0.005, 0.62, 20)
    assert [e.value * 1000 for e in crank.effect] == pytest.approx([1.55, 0, 0])
    head = headstock_by_notches(0.025, 5.6, 2.4, 3.5, 4)
    assert [e.value * 1000 for e in head.effect] == pytest.approx([14.286, 15.625, 0], abs=1e-3)
    assert (head.least, head.most) == (-4, 4)


def test_that_words_follow_the_sense() -> None:
    assert (
        str(move_words(turnbuckle_by_flats(0.006, 0.42, 3.5, True, 9), 2)) == "turnbuckle: 2 flats, shorter"
    )
    assert str(move_words(turnbuckle_by_flats(0.006, 0.42, 3.5, False, 9), 1)) == "turnbuckle: 1 flat, longer"
    assert str(move_words(crank_by_half_turns(0.005, 1, 9), -1)) == "height crank: 1 half turn, down"


@pytest.mark.parametrize("kind", list(StepKind))
def test_that_every_kind_of_step_has_words(kind: StepKind) -> None:
    adjuster = replace(crank_by_half_turns(0.005, 1, 9), kind=kind, name=msg("crank"))
    assert str(move_words(adjuster, 1)) == f"crank: 1 {kind}, up"
    assert str(move_words(adjuster, -3)).startswith(f"crank: 3 {kind}")


def test_that_impossible_adjusters_are_refused() -> None:
    for refused in (
        lambda: turnbuckle_by_flats(0, 1, 1, True, 1),
        lambda: turnbuckle_by_flats(1, 0, 1, True, 1),
        lambda: turnbuckle_by_flats(1, 1, 0, True, 1),
        lambda: turnbuckle_by_flats(1, 1, 1, True, 1, flats=0),
        lambda: turnbuckle_by_flats(1, 1, 1, True, -1),
        lambda: turnbuckle_by_flats(1, 1, 1, True, 101),
        lambda: pins_by_holes(0, 1, 1, 1),
        lambda: pins_by_holes(1, 0, 1, 1),
        lambda: pins_by_holes(1, 1, 0, 1),
        lambda: crank_by_half_turns(0, 1, 1),
        lambda: crank_by_half_turns(1, 0, 1),
        lambda: headstock_by_notches(0, 1, 1, 1, 1),
        lambda: headstock_by_notches(1, 0, 1, 1, 1),
        lambda: move_words(crank_by_half_turns(1, 1, 1), 0),
    ):
        with pytest.raises(Impossible):
            refused()
    assert all(each.doubt == 0 for each in sure(1, 2, 3))
