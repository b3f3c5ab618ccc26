"""Boxes full of words stand in as many rows as make them lowest."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QRect
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from rakeprep.ui.bars import Bars, Words, broken, lowest, shares

BOXES = st.lists(
    st.floats(10, 4000).map(lambda wide: Words(((wide, 20.0),), beside=70, least=40)), min_size=1, max_size=4
)


def words(wide: float) -> Words:
    return Words(((wide, 20.0),), beside=0, least=0)


def test_that_boxes_are_broken_into_rows_in_every_way() -> None:
    # by hand: between three boxes there are two places to break or not
    assert set(broken(3)) == {(3,), (1, 2), (2, 1), (1, 1, 1)}
    assert list(broken(0)) == [()]


def test_that_the_lowest_way_is_taken() -> None:
    # by hand, with 12 % lost at the ends of lines: side by side each is 500 px wide and has
    # 1000 · 1.12 / 500 = 2.24, so 3 lines of 20 px; one below the other each has 2 lines, 80 px in all
    assert lowest((words(1000), words(1000)), 1000, 0) == (2,)
    # side by side 100 + 900 px: 900 px of words take 2 lines in 810 px or more; below each other 2 + 1 lines
    assert lowest((words(100), words(900)), 1000, 0) == (2,)
    # 120 px are too narrow for two boxes of 10 letters (half a line's height each, 100 px)
    assert lowest((words(300), words(300)), 120, 0) == (1, 1)


@settings(max_examples=100)
@given(BOXES, st.integers(500, 2000))
def test_that_a_row_is_filled_exactly(row: list[Words], width: int) -> None:
    assert sum(shares(row, width, 8)) + 8 * (len(row) - 1) == width
    assert min(shares(row, width, 8)) >= 70


def test_that_boxes_neither_overlap_nor_stand_out(qtbot: QtBot) -> None:
    page = QWidget()
    qtbot.addWidget(page)
    bars = Bars(8)
    labels = [QLabel("word " * many) for many in (60, 30, 5, 8)]
    for label in labels:
        label.setWordWrap(True)
        wide = label.fontMetrics().horizontalAdvance(label.text())
        bars.add(label, Words(((wide, label.fontMetrics().height()),), beside=0, least=10))
    page.setLayout(bars)
    for width in (300, 640, 1200):
        whole = QRect(0, 0, width, bars.heightForWidth(width))
        bars.setGeometry(whole)
        boxes = [label.geometry() for label in labels]
        assert all(whole.contains(box) for box in boxes)
        assert not any(a.intersects(b) for n, a in enumerate(boxes) for b in boxes[:n])
        assert max(box.bottom() for box in boxes) == whole.bottom()
