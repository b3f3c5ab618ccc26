"""Rows of boxes full of words, broken where all of them together are lowest."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QWidget

from rakeprep.ui.flow import Broken

WRAP_LOSS = 1.12  # lines end a little before the edge
NARROWEST = 10  # letters; a box is not narrower


@dataclass(frozen=True)
class Words:
    """How much is written in a box: widths of its paragraphs in one line, px, and heights of their lines."""

    paragraphs: tuple[tuple[float, float], ...]
    beside: int  # px that the words cannot have: sign, padding and frame
    least: int  # px of height without any words

    @property
    def wide(self) -> float:
        """The longest paragraph in one line."""
        return max(wide for wide, _ in self.paragraphs)

    def height(self, width: float) -> float:
        """About how high a box of that width is."""
        room = max(1.0, width - self.beside)
        lines = sum(math.ceil(wide * WRAP_LOSS / room) * high for wide, high in self.paragraphs)
        return max(self.least, lines)


class Bars(Broken):
    """Boxes in their order, in as many rows as make them lowest; those of a row are equally high."""

    def __init__(self, spacing: int = 8) -> None:
        super().__init__()
        self._words: list[Words] = []
        self._laid: dict[int, tuple[list[list[QRect]], int]] = {}
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(spacing)

    def add(self, widget: QWidget, words: Words) -> None:
        """One more box, with what is written in it."""
        self._words.append(words)
        self.addWidget(widget)

    def invalidate(self) -> None:
        self._laid.clear()
        super().invalidate()

    def heightForWidth(self, width: int) -> int:
        return self._lay(width)[1]

    def minimumSize(self) -> QSize:
        least = [item.minimumSize().width() for item in self._items]
        return QSize(max(least, default=0), 0)

    def sizeHint(self) -> QSize:
        wide = sum(round(words.wide) + words.beside for words in self._words)
        return QSize(wide, max((words.least for words in self._words), default=0))

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        boxes = [box for row in self._lay(rect.width())[0] for box in row]
        for item, box in zip(self._items, boxes, strict=True):
            item.setGeometry(box.translated(rect.topLeft()))

    def _lay(self, width: int) -> tuple[list[list[QRect]], int]:
        """The boxes row by row, and the height of all."""
        if width not in self._laid:
            self._laid[width] = self._rows(width)
        return self._laid[width]

    def _rows(self, width: int) -> tuple[list[list[QRect]], int]:
        rows: list[list[QRect]] = []
        top, number = 0, 0
        for many in lowest(tuple(self._words), width, self.spacing()):
            widths = shares(self._words[number : number + many], width, self.spacing())
            items = self._items[number : number + many]
            high = max(
                item.heightForWidth(wide) if item.hasHeightForWidth() else item.sizeHint().height()
                for item, wide in zip(items, widths, strict=True)
            )
            lefts = [sum(widths[:n]) + n * self.spacing() for n in range(many)]
            rows.append([QRect(x, top, wide, high) for x, wide in zip(lefts, widths, strict=True)])
            top, number = top + high + self.spacing(), number + many
        return rows, max(0, top - self.spacing())


@lru_cache(maxsize=64)
def lowest(words: tuple[Words, ...], width: int, spacing: int) -> tuple[int, ...]:
    """How many boxes each row has, so that all rows together are lowest."""

    def height(rows: tuple[int, ...]) -> float:
        high, number = 0.0, 0
        for many in rows:
            row = words[number : number + many]
            widths = shares(row, width, spacing)
            if many > 1 and any(
                wide - each.beside < NARROWEST * letter(each) for wide, each in zip(widths, row, strict=True)
            ):
                return math.inf
            high += spacing + max(each.height(wide) for each, wide in zip(row, widths, strict=True))
            number += many
        return high

    return min(broken(len(words)), key=lambda rows: (height(rows), len(rows)), default=())


def letter(words: Words) -> float:
    """About the width of a letter."""
    return words.paragraphs[0][1] * 0.5


def broken(many: int) -> Iterator[tuple[int, ...]]:
    """All ways to break so many boxes into rows."""
    for ways in range(1 << max(0, many - 1)):
        ends = [0, *(n for n in range(1, many) if ways >> (n - 1) & 1), many]
        yield tuple(after - before for before, after in pairwise(ends)) if many else ()


def shares(row: Sequence[Words], width: int, spacing: int) -> list[int]:
    """The widths of the boxes of a row: as wide as their words ask for, none narrower than it can be."""
    room = width - spacing * (len(row) - 1) - sum(each.beside for each in row)
    least = [min(NARROWEST * letter(each), room / len(row)) for each in row]
    spare = max(0.0, room - sum(least))
    asked = sum(max(0.0, each.wide - few) for each, few in zip(row, least, strict=True)) or 1.0
    widths = [
        each.beside + round(few + spare * max(0.0, each.wide - few) / asked)
        for each, few in zip(row, least, strict=True)
    ]
    widths[-1] += width - spacing * (len(row) - 1) - sum(widths)
    return widths
