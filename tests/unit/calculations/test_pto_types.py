"""PTO stubs against ISO 500-1:2014 and ISO 500-3:2014 as reprinted."""

from __future__ import annotations

import pytest

from rakeprep.calculations import Impossible
from rakeprep.calculations.pto_types import pto_by_splines, pto_type, same_stub


@pytest.mark.parametrize(
    ("number", "mm", "splines", "rpm"),
    # ISO 500-1:2014 as cited by the encyclopedia article "Power take-off"
    [(1, 35, 6, 540), (2, 35, 21, 1000), (3, 45, 20, 1000), (4, 57.5, 22, 1300)],
)
def test_that_types_are_as_published(number: int, mm: float, splines: int, rpm: float) -> None:
    found = pto_type(number)
    assert found.diameter == pytest.approx(mm / 1000)
    assert found.splines == splines
    assert found.speed * 60 == pytest.approx(rpm)
    assert found.involute == (number > 1)
    assert pto_by_splines(splines) == pto_by_splines(splines, mm / 1000) == found


def test_that_inch_sizes_belong_to_their_types() -> None:
    # 1 3/8 in and 1 3/4 in, same source
    assert pto_by_splines(6, 1.375 * 0.0254).number == 1
    assert pto_by_splines(20, 1.75 * 0.0254).number == 3


def test_that_no_adaptor_is_advised() -> None:
    assert same_stub(pto_type(1), pto_type(1)) is None
    assert "no adaptor" in str(same_stub(pto_type(1), pto_type(2)))
    assert "does not fit" in str(same_stub(pto_type(2), pto_type(3)))


def test_that_stubs_that_do_not_exist_are_refused() -> None:
    for refused in (
        lambda: pto_type(0),
        lambda: pto_type(5),
        lambda: pto_by_splines(8),
        lambda: pto_by_splines(6, 0.045),
        lambda: pto_by_splines(6, 0.0),
    ):
        with pytest.raises(Impossible):
            refused()


def test_that_a_diameter_off_by_just_its_doubt_still_fits() -> None:
    # exactly the table's diameter and a doubt of nothing
    known = pto_by_splines(6)
    assert pto_by_splines(6, known.diameter, 0.0) == known
