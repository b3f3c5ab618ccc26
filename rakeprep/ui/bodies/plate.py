"""A plate beside a picture: a question with its answer, tied to what it is about by a thin line."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF

from rakeprep.model.entry import Slot
from rakeprep.text import Message
from rakeprep.ui.bodies.sheet import LEFT, TOP, Sheet


def answer_plate(sheet: Sheet, slot: Slot, box: QRectF, name: Message | None = None) -> None:
    """The question (or ``name``) above, symbol and answer below; nothing for what this machine has not."""
    state = sheet.job.assessment.states.get(slot)
    if state is None:
        return
    sheet.plate(slot, box)
    inside = box.adjusted(7, 3, -5, -3)
    value, label = sheet.value(slot), name or state.task.field.label
    if not value:
        side = min(16.0, inside.height())
        sheet.symbol(sheet.verdict(slot), QPointF(inside.left() + side / 2, inside.center().y()), side)
        beside = inside.adjusted(side + 5, 0, 0, 0)
        rows = max(1, int(beside.height() // sheet.row(-2)))
        sheet.words(beside, label, LEFT, change=-2, colour=sheet.theme.quiet, lines=rows)
        return
    low = min(sheet.row(1) + 2, inside.height() * 0.5)
    upper = QRectF(inside.left(), inside.top(), inside.width(), inside.height() - low)
    lower = QRectF(inside.left(), upper.bottom(), inside.width(), low)
    rows = max(1, int(upper.height() // sheet.row(-2)))
    sheet.words(upper, label, TOP, change=-2, colour=sheet.theme.quiet, lines=rows)
    side = min(16.0, low - 2)
    sheet.symbol(sheet.verdict(slot), QPointF(lower.left() + side / 2, lower.center().y()), side)
    sheet.words(lower.adjusted(side + 5, 0, 0, 0), value, LEFT, change=1, bold=True)


def tie(sheet: Sheet, slot: Slot, box: QRectF, to: QPointF) -> None:
    """A line from a plate to what its question is about; strong for the task in hand."""
    if not sheet.asked(slot):
        return
    now = sheet.current(slot)
    start = QPointF(box.right() if to.x() > box.center().x() else box.left(), box.center().y())
    sheet.pen(sheet.theme.accent if now else sheet.theme.line, 1.8 if now else 1.0)
    sheet.line(start, to)
    sheet.no_pen()
    sheet.fill(sheet.theme.accent if now else sheet.theme.quiet)
    sheet.disc(to, 3.4 if now else 2.4)
