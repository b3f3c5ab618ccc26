"""Default doubts of instruments."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.calculations import Impossible
from rakeprep.calculations.instruments import INSTRUMENTS, half_width, instrument, tape_error


# Common practice (no source) for the whole reading; the comment gives it as a workshop says it.
@pytest.mark.parametrize(
    ("kind", "value", "expected"),
    [
        ("tape", 1.0, 0.002),  # 2 mm
        ("driveline-tape", 1.0, 0.005),  # 5 mm
        ("width-tape", 7.0, 0.020),  # 20 mm
        ("steel-rule", 0.02, 0.003),  # 3 mm
        ("hitch-tape", 0.8, 0.004),  # 4 mm
        ("water-level", 0.0, 0.002),  # 1 mm and 1 mm
        ("digital-level", 0.1, 0.3 * math.pi / 180),  # 0.3 degrees
        ("click-wrench", -200.0, 10.0),  # 5 %
        ("tyre-gauge", 2e5, 0.1e5),  # 0.1 bar
        ("hydraulic-gauge", 1.8e7, 5e5),  # 5 bar
        ("stopwatch", 5.0, 0.25),
        ("tacho", 50.0, 10 / 60 * 2 * math.pi),  # 10 rpm
        ("counted-turns", 19.0, 0.5),
        ("infrared", 320.0, 3.0),
        ("weighbridge", 5200.0, 20.0),
        ("multimeter", 12.0, 0.1),
        ("calliper", 0.0125, 0.0001),  # 0.1 mm
        ("jug", 0.8e-3, 50e-6),  # 50 mL
        ("by eye", 4.0, 1.0),  # a quarter
    ],
)
def test_that_one_reading_has_the_doubt_of_the_table(kind: str, value: float, expected: float) -> None:
    assert half_width(kind, value) == pytest.approx(expected)


def test_that_every_instrument_is_named_and_its_steady_part_is_not_the_larger() -> None:
    for kind, each in INSTRUMENTS.items():
        assert each.kind == kind
        assert str(each.name)
        assert each.unit
        assert 0 <= each.steady <= each.half_width


def test_that_three_runs_with_the_stopwatch_halve_the_doubt() -> None:
    # 0.25 / sqrt(3) = 0.144, worked by hand.
    assert half_width("stopwatch", 5.0, repeats=3) == pytest.approx(0.1443, abs=1e-4)


def test_that_repeating_does_not_take_away_the_instruments_own_error() -> None:
    # Permitted error of 4 % stays (ISO 6789, above 10 N·m); by hand: sqrt(16 + 9/3) % = 4.359 %.
    assert half_width("click-wrench", 100.0, repeats=3) == pytest.approx(4.3589, abs=1e-4)
    assert half_width("weighbridge", 5000.0, repeats=9) == 20.0


def test_that_turns_counted_over_a_minute_are_good_to_four_rpm_of_the_shaft() -> None:
    # Invented machine, ratio 8.06, worked by hand: 0.5 turn in 60 s = 0.5 rpm, times 8.06 = 4.03;
    # in 20 s three times that.
    assert half_width("counted-turns", 57.0) * 8.06 == pytest.approx(4.03, abs=0.01)
    assert half_width("counted-turns", 19.0) / 20 * 60 * 8.06 == pytest.approx(12.1, abs=0.05)


@settings(max_examples=100)
@given(st.sampled_from(sorted(INSTRUMENTS)), st.floats(-1e6, 1e6), st.integers(1, 50))
def test_that_more_readings_never_mean_more_doubt(kind: str, value: float, repeats: int) -> None:
    more = half_width(kind, value, repeats + 1)
    assert 0 <= more <= half_width(kind, value, repeats) * (1 + 1e-12)


def test_that_unknown_instruments_and_impossible_readings_are_refused() -> None:
    with pytest.raises(Impossible, match="no kind of instrument"):
        instrument("thumb")
    with pytest.raises(Impossible):
        half_width("tape", 1.0, repeats=0)
    with pytest.raises(Impossible):
        half_width("tape", math.nan)


# Directive 2014/32/EU, Annex X: class II (0.3 + 0.2 L) mm, L rounded up to whole metres.
@pytest.mark.parametrize(
    ("length", "mm"), [(0.0, 0.3), (0.4, 0.5), (1.0, 0.5), (1.001, 0.7), (5.0, 1.3), (7.4, 1.9), (8.0, 1.9)]
)
def test_that_the_tape_error_follows_the_law(length: float, mm: float) -> None:
    assert tape_error(length, from_hook=False) * 1000 == pytest.approx(mm)
    assert tape_error(length) * 1000 == pytest.approx(mm + 0.2)  # 0.2 mm more from the hook, same source


def test_that_a_length_below_zero_is_refused() -> None:
    with pytest.raises(Impossible):
        tape_error(-0.1)


def test_that_two_readings_halve_the_square_of_the_hand_alone() -> None:
    # by hand: a stopwatch is all hand, 0.25 / √2; a rule 0.5 mm of its own, √(0.5² + (3² − 0.5²) / 2)
    assert half_width("stopwatch", 3.0, repeats=2) == pytest.approx(0.25 / math.sqrt(2))
    assert half_width("steel-rule", 0.03, repeats=2) == pytest.approx(0.0021506, abs=1e-7)
