"""What boards, emblems, reflectors, lamps and signs look like, each in a square."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from PySide6.QtCore import QPointF, QRectF

from rakeprep.model.profile import BoardKind
from rakeprep.ui.bodies.sheet import Sheet


def draw_board(sheet: Sheet, box: QRectF, kind: BoardKind) -> None:
    """Draw one of these into a square."""
    SHAPES[kind](sheet, box)


def striped(sheet: Sheet, box: QRectF) -> None:
    """A board with slanting stripes."""
    painter = sheet.painter
    sheet.fill(sheet.theme.ground)
    sheet.pen(sheet.theme.ink, 1.4)
    painter.drawRect(box)
    painter.save()
    painter.setClipRect(box)
    sheet.pen(sheet.theme.ink, box.width() / 6, round_end=False)
    for share in (-0.5, 0.0, 0.5, 1.0):
        x = box.left() + box.width() * share
        sheet.line((x, box.bottom() + 3), (x + box.width(), box.top() - 3))
    painter.restore()


def emblem(sheet: Sheet, box: QRectF) -> None:
    """A triangle with its corners off, and a smaller one in it: a slow vehicle."""
    sheet.fill(sheet.theme.ground)
    sheet.pen(sheet.theme.ink, 1.6)
    sheet.shape(*triangle(box, cut=0.16))
    sheet.fill(sheet.shade(0.8))
    sheet.no_pen()
    inner = box.width() * 0.2
    sheet.shape(*triangle(box.adjusted(inner, inner * 1.25, -inner, -inner * 0.75), cut=0.0))


def triangle(box: QRectF, cut: float) -> list[QPointF]:
    """A triangle that stands on a side, ``cut`` of each side taken off at each corner."""
    top = QPointF(box.center().x(), box.top() + box.height() * 0.06)
    low = box.bottom() - box.height() * 0.08
    corners = [top, QPointF(box.right(), low), QPointF(box.left(), low)]
    if not cut:
        return corners
    sides = [(corners[n], corners[(n + 1) % 3]) for n in range(3)]
    return [start + (end - start) * share for start, end in sides for share in (cut, 1 - cut)]


def reflector(sheet: Sheet, box: QRectF) -> None:
    """A plate of small prisms."""
    plate = box.adjusted(0, box.height() * 0.2, 0, -box.height() * 0.2)
    sheet.fill(sheet.shade(0.25))
    sheet.pen(sheet.theme.ink, 1.4)
    sheet.rounded(plate, min(4.0, plate.height() / 4))
    sheet.pen(sheet.theme.ink, 0.9)
    inner = plate.adjusted(3, 3, -3, -3)
    step = inner.width() / 3
    for column in range(3):
        left = inner.left() + column * step
        sheet.line((left, inner.top()), (left + step, inner.bottom()))
        sheet.line((left, inner.bottom()), (left + step, inner.top()))


def lamp(sheet: Sheet, box: QRectF) -> None:
    """A lamp that shines."""
    centre, radius = box.center(), box.width() / 2
    sheet.fill(sheet.shade(0.25))
    sheet.pen(sheet.theme.ink, 1.6)
    sheet.disc(centre, radius * 0.5)
    for number in range(8):
        way = QPointF(math.cos(number * math.pi / 4), math.sin(number * math.pi / 4))
        sheet.line(centre + way * radius * 0.7, centre + way * radius)


def speed(sheet: Sheet, box: QRectF) -> None:
    """A round sign with a needle on its scale."""
    centre, radius = box.center(), box.width() / 2
    sheet.fill(sheet.theme.ground)
    sheet.pen(sheet.theme.ink, 3.0)
    sheet.disc(centre, radius - 1.5)
    sheet.pen(sheet.theme.ink, 1.4)
    for degrees in (200, 245, 295, 340):
        way = QPointF(math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
        sheet.line(centre + way * radius * 0.55, centre + way * radius * 0.72)
    needle = QPointF(math.cos(math.radians(305)), math.sin(math.radians(305)))
    sheet.line(centre + QPointF(0, radius * 0.25), centre + needle * radius * 0.5)


def safety(sheet: Sheet, box: QRectF) -> None:
    """A sign that warns."""
    sheet.fill(sheet.theme.ground)
    sheet.pen(sheet.theme.ink, 2.4)
    middle = box.center().x()
    sheet.shape(
        (middle, box.top() + 2), box.bottomLeft() + QPointF(1, -3), box.bottomRight() + QPointF(-1, -3)
    )
    sheet.pen(sheet.theme.ink, 2.6)
    sheet.line((middle, box.top() + box.height() * 0.38), (middle, box.top() + box.height() * 0.62))
    sheet.line((middle, box.top() + box.height() * 0.76), (middle, box.top() + box.height() * 0.77))


def plain(sheet: Sheet, box: QRectF) -> None:
    """A plate of which nobody has said what it is."""
    sheet.fill(sheet.theme.ground)
    sheet.pen(sheet.theme.ink, 1.6)
    sheet.rounded(box.adjusted(1, box.height() * 0.15, -1, -box.height() * 0.15), 3)


SHAPES: Mapping[BoardKind, Callable[[Sheet, QRectF], None]] = {
    BoardKind.BOARD: striped,
    BoardKind.EMBLEM: emblem,
    BoardKind.REFLECTOR: reflector,
    BoardKind.LAMP: lamp,
    BoardKind.SPEED: speed,
    BoardKind.SAFETY: safety,
    BoardKind.NOT_SAID: plain,
}
