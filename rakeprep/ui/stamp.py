"""Small pictures that a page shows many times: painted once, then stamped."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap, QPixmapCache


def stamp(painter: QPainter, box: QRectF, name: str, paint: Callable[[QPainter, QRectF], object]) -> None:
    """Put into ``box`` what ``paint`` paints; ``name`` tells all that it follows from, but the size.

    Qt keeps the stamps, as many as it has room for.
    """
    ratio = painter.device().devicePixelRatioF()
    key = f"{name} {box.width()} {box.height()} {ratio}"
    picture = QPixmap()
    if not QPixmapCache.find(key, picture):
        picture = QPixmap(math.ceil(box.width() * ratio), math.ceil(box.height() * ratio))
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        once = QPainter(picture)
        once.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint(once, QRectF(QPointF(0, 0), box.size()))
        once.end()
        QPixmapCache.insert(key, picture)
    painter.drawPixmap(box.topLeft(), picture)
