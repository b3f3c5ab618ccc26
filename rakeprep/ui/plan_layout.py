"""Where drawing, caption, legend and foot line stand in the window of the plan view."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF

from rakeprep.drawing.plan import Plan
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg
from rakeprep.ui.plan_picture import Fit, fit

ABOVE = msg("seen from above")
WAYS = msg("↑ driving direction, left and right as seen from the seat")
PAD = 10.0  # pixels around everything
GAP = 7.0  # pixels between a symbol and its word

Say = Callable[[Message], str]
Legend = tuple[tuple[Verdict, QRectF], ...]


@dataclass(frozen=True)
class Layout:
    """Everything in pixels: ``area`` is what the drawing and its marks may fill."""

    place: Fit
    area: QRectF
    caption: QRectF
    legend: Legend
    foot: QRectF


def lay_out(
    plan: Plan, window: QRectF, metrics: QFontMetricsF, say: Say, verdicts: Sequence[Verdict]
) -> Layout:
    """The layout of a window: words in the corners if the machine leaves them free, else in strips."""
    row = metrics.height() + 5
    whole = window.adjusted(PAD, PAD, -PAD, -PAD)
    foot = QRectF(whole.left(), whole.bottom() - row, whole.width(), row)
    area = whole.adjusted(0, 0, 0, -row - 4)
    words = [
        (verdict, metrics.height() + GAP + metrics.horizontalAdvance(say(verdict.word)))
        for verdict in verdicts
    ]
    return _cornered(plan, area, foot, metrics, say, words) or _stripped(
        plan, area, foot, metrics, say, words
    )


def _cornered(
    plan: Plan,
    area: QRectF,
    foot: QRectF,
    metrics: QFontMetricsF,
    say: Say,
    words: list[tuple[Verdict, float]],
) -> Layout | None:
    """Caption in the free upper corner, the legend in another one or in a strip below; None if something of
    the machine lies where the caption should stand."""
    row = metrics.height() + 5
    heading = metrics.horizontalAdvance(say(ABOVE)) * 1.15  # in bold letters
    caption = _caption(area, max(heading, min(area.width() * 0.34, 9.5 * metrics.height())), metrics, say)
    width, height = max((wide for _, wide in words), default=0.0), len(words) * row
    place = fit(plan.bounds, area)
    if _covered(plan, place, caption):
        return None
    corners = (
        QPointF(area.right() - width, area.top()),
        QPointF(area.left(), area.bottom() - height),
    )
    for corner in corners:
        if not _covered(plan, place, QRectF(corner.x(), corner.y(), width, height)):
            legend = tuple(
                (verdict, QRectF(corner.x(), corner.y() + number * row, wide, row))
                for number, (verdict, wide) in enumerate(words)
            )
            return Layout(place, area, caption, legend, foot)
    legend, top = _in_a_strip(area, row, words)
    above = QRectF(area)
    above.setBottom(max(top - 4, area.center().y() + 1))
    place = fit(plan.bounds, above)
    return None if _covered(plan, place, caption) else Layout(place, above, caption, legend, foot)


def _stripped(
    plan: Plan,
    area: QRectF,
    foot: QRectF,
    metrics: QFontMetricsF,
    say: Say,
    words: list[tuple[Verdict, float]],
) -> Layout:
    """The caption in a strip above the drawing, the legend in one below."""
    row = metrics.height() + 5
    caption = _caption(area, area.width(), metrics, say)
    legend, top = _in_a_strip(area, row, words)
    between = QRectF(area)
    between.setTop(min(caption.bottom() + 4, area.center().y()))
    between.setBottom(max(top - 4, area.center().y() + 1))
    return Layout(fit(plan.bounds, between), between, caption, legend, foot)


def _in_a_strip(area: QRectF, row: float, words: list[tuple[Verdict, float]]) -> tuple[Legend, float]:
    """The legend along the lower edge, in as many lines as it needs; and where it begins."""
    flowing: list[tuple[Verdict, float, float, int]] = []
    x, line = 0.0, 0
    for verdict, wide in words:
        if x and x + wide > area.width():
            x, line = 0.0, line + 1
        flowing.append((verdict, x, wide, line))
        x += wide + 2 * GAP
    top = area.bottom() - (line + 1) * row
    legend = tuple(
        (verdict, QRectF(area.left() + left, top + at * row, wide, row))
        for verdict, left, wide, at in flowing
    )
    return legend, top


def _caption(area: QRectF, width: float, metrics: QFontMetricsF, say: Say) -> QRectF:
    """Room for the caption's heading and its wrapped words, at the upper left."""
    wrapped = metrics.boundingRect(QRectF(0, 0, width, 1000), int(Qt.TextFlag.TextWordWrap), say(WAYS))
    return QRectF(area.left(), area.top(), width, metrics.height() + 5 + wrapped.height())


def _covered(plan: Plan, place: Fit, box: QRectF) -> bool:
    """Whether something of the machine lies in a corner that words should have."""
    roomy = box.adjusted(-4, -4, 4, 4)
    return any(roomy.contains(place.point(at)) for shape in plan.shapes for at in shape.points())
