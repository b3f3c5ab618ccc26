"""The drawing of the machine as a picture: painted once, and for each step only what looks otherwise."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFont, QPainter, QPixmap, QRegion

from rakeprep.drawing.plan import Plan
from rakeprep.drawing.shapes import Label
from rakeprep.text import Message
from rakeprep.ui.plan_picture import (
    Fit,
    inks_of,
    paint_shapes,
    placed,
    rotors_of,
    stands_out,
    write_label,
)
from rakeprep.ui.theme import Theme


@dataclass(frozen=True)
class Canvas:
    """What the picture follows from, besides the step. ``finish`` writes what stands above the drawing."""

    plan: Plan
    place: Fit
    theme: Theme
    font: QFont
    say: Callable[[Message], str]
    finish: Callable[[QPainter], None]


class Still:
    """The picture of one canvas in one size; nothing of a step that was left stays in it."""

    def __init__(self, canvas: Canvas, wide: int, high: int, ratio: float) -> None:
        self._canvas = canvas
        self._shapes = [placed(shape, canvas.place) for shape in canvas.plan.shapes]
        self._inks = inks_of(canvas.theme)
        self._quiet = QPixmap(round(wide * ratio), round(high * ratio))
        self._quiet.setDevicePixelRatio(ratio)
        self._paint(self._quiet, frozenset(), QRegion(0, 0, wide, high))
        self._shown = (frozenset[str](), self._quiet)

    def picture(self, current: frozenset[str]) -> QPixmap:
        """The picture in which the shapes of ``current`` parts stand out."""
        if self._shown[0] != current:
            picture = QPixmap(self._quiet)
            self._paint(picture, current, self._altered(current))
            self._shown = (current, picture)
        return self._shown[1]

    def _altered(self, current: frozenset[str]) -> QRegion:
        """Where the drawing looks otherwise because of a step."""
        plan, region, rotors = self._canvas.plan, QRegion(), rotors_of(current)
        for each in self._shapes:
            if stands_out(plan, each.shape, current, rotors):
                region += each.box
        return region

    def _paint(self, picture: QPixmap, current: frozenset[str], within: QRegion) -> None:
        """Paint all that lies in a region, in its order, so that the rest fits it pixel by pixel."""
        if within.isEmpty():
            return
        canvas = self._canvas
        painter = QPainter(picture)
        painter.setFont(canvas.font)
        painter.setClipRegion(within)
        painter.fillRect(QRectF(within.boundingRect()), QColor(canvas.theme.ground))
        touched = (each for each in self._shapes if within.intersects(each.box))
        paint_shapes(painter, canvas.plan, touched, self._inks, current, self._write)
        canvas.finish(painter)
        painter.end()

    def _write(self, painter: QPainter, label: Label, strong: bool) -> None:
        canvas = self._canvas
        write_label(painter, label, canvas.place, canvas.theme, strong, canvas.say)
