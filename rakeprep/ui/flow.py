"""Rows that break where the window is too narrow, and pages that scroll where it is too low."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QLayout, QLayoutItem, QScrollArea, QWidget


class Broken(QLayout):
    """Items in their order, in rows that are broken by the width: what such layouts have in common."""

    def __init__(self) -> None:
        super().__init__()
        self._items: list[QLayoutItem] = []

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True


class Flow(Broken):
    """Widgets side by side; those that have no room go on in the next row.

    The last ``at_end`` of them stand at the right.
    """

    def __init__(self, spacing: int = 8, at_end: int = 0) -> None:
        super().__init__()
        self._at_end = at_end
        self.setSpacing(spacing)

    def heightForWidth(self, width: int) -> int:
        return self._lay_out(QRect(0, 0, width, 0), moving=False)

    def sizeHint(self) -> QSize:
        hints = [item.sizeHint() for item in self._shown()]
        wide = sum(h.width() for h in hints) + self.spacing() * max(0, len(hints) - 1)
        return self._with_margins(QSize(wide, max((h.height() for h in hints), default=0)))

    def minimumSize(self) -> QSize:
        smallest = QSize(0, 0)
        for item in self._shown():
            smallest = smallest.expandedTo(item.minimumSize())
        return self._with_margins(smallest)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._lay_out(rect, moving=True)

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _with_margins(self, size: QSize) -> QSize:
        margins = self.contentsMargins()
        return size + QSize(margins.left() + margins.right(), margins.top() + margins.bottom())

    def _lay_out(self, rect: QRect, moving: bool) -> int:
        """Put everything into rows; gives the height that they take."""
        margins = self.contentsMargins()
        inside = rect.marginsRemoved(margins)
        top = inside.top()
        for row in self._rows(inside.width()):
            high = max(size.height() for _, size in row)
            if moving:
                self._place(row, QRect(inside.left(), top, inside.width(), high))
            top += high + self.spacing()
        used = top - inside.top() - self.spacing() if self._shown() else 0
        return max(0, used) + margins.top() + margins.bottom()

    def _rows(self, width: int) -> list[list[tuple[QLayoutItem, QSize]]]:
        rows: list[list[tuple[QLayoutItem, QSize]]] = []
        left = 0
        for item in self._shown():
            size = item.sizeHint().boundedTo(QSize(width, 1 << 20)).expandedTo(item.minimumSize())
            if rows and size.width() + self.spacing() <= left:
                left -= size.width() + self.spacing()
                rows[-1].append((item, size))
            else:
                rows.append([(item, size)])
                left = width - size.width()
        return rows

    def _place(self, row: list[tuple[QLayoutItem, QSize]], box: QRect) -> None:
        ending = (
            {id(item) for item in self._items[len(self._items) - self._at_end :]} if self._at_end else set()
        )
        spare = box.width() - sum(size.width() for _, size in row) - self.spacing() * (len(row) - 1)
        x, pushed = box.left(), False
        for item, size in row:
            if id(item) in ending and not pushed:
                x, pushed = x + spare, True
            at = QPoint(x, box.top() + (box.height() - size.height()) // 2)
            item.setGeometry(QRect(at, size))
            x += size.width() + self.spacing()


class RowOrColumn(QWidget):
    """Widgets side by side, or one below the other where each would be narrower than ``least``."""

    def __init__(self, spacing: int = 8, least: int = 0) -> None:
        super().__init__()
        self._least = least
        self._line = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(spacing)

    def add(self, widget: QWidget, share: int = 1) -> None:
        """One more; ``share`` is its part of the width, as against the others."""
        widget.setMinimumWidth(self._least)
        self._line.addWidget(widget, share)

    def minimumSizeHint(self) -> QSize:
        return QSize(max(self._widths(), default=0), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        widths = self._widths()
        room = event.size().width() - self._line.spacing() * max(0, len(widths) - 1)
        fits = sum(widths) <= room
        way = QBoxLayout.Direction.LeftToRight if fits else QBoxLayout.Direction.TopToBottom
        if way is not self._line.direction():
            self._line.setDirection(way)
        super().resizeEvent(event)

    def _widths(self) -> list[int]:
        """What each needs at least."""
        items = (self._line.itemAt(number) for number in range(self._line.count()))
        return [item.minimumSize().width() for item in items if item is not None and not item.isEmpty()]


class Roomy(QScrollArea):
    """A page as large as the window, or as high as it needs; then it scrolls up and down."""

    def __init__(self, page: QWidget) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setViewport(viewport())
        self.setWidget(page)
        page.installEventFilter(self)

    def minimumSizeHint(self) -> QSize:
        return QSize(320, 240)

    def sizeHint(self) -> QSize:
        return QSize(1366, 768)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.LayoutRequest and watched is self.widget():
            self._fit()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        page = self.widget()
        if page is None:
            return
        whole = self.maximumViewportSize()
        if least_height(page, whole.width()) > whole.height():
            wide = whole.width() - self.verticalScrollBar().sizeHint().width()
            page.resize(max(wide, page.minimumSizeHint().width()), least_height(page, wide))
        else:
            page.resize(whole)


class Yielding(QWidget):
    """Takes what height the others leave over, and needs no more than its least one."""

    def hasHeightForWidth(self) -> bool:
        return False

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()


class Upright(QScrollArea):
    """Scrolls up and down only, and is never narrower than what is in it."""

    def __init__(self, inside: QWidget) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setViewport(viewport())
        self._least = 0
        self.setWidget(inside)

    def setWidget(self, inside: QWidget) -> None:
        super().setWidget(inside)
        inside.installEventFilter(self)
        self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        inside = self.widget()
        if inside is None:
            return super().minimumSizeHint()
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(inside.minimumSizeHint().width() + bar, 100)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.LayoutRequest and watched is self.widget():
            least = self.minimumSizeHint().width()
            if least != self._least:  # of its height nothing depends on what is in it
                self._least = least
                self.updateGeometry()
        return super().eventFilter(watched, event)


def viewport() -> QWidget:
    """A widget to scroll in, made by us: where that made by Qt is asked for, PySide builds the classes of all
    kinds of widgets, 28 ms and 0.7 MB."""
    made = QWidget()
    made.setAutoFillBackground(True)
    return made


def least_height(page: QWidget, width: int) -> int:
    """The height below which a page of this width would be cut."""
    layout = page.layout()
    if layout is not None and layout.hasHeightForWidth():
        return layout.minimumHeightForWidth(width)
    return page.minimumSizeHint().height()


@contextmanager
def laid_out_once(*widgets: QWidget) -> Iterator[None]:
    """Lay these widgets and all around them out once, when everything is done.

    Without it Qt lays out a whole window for every single widget that comes into sight.
    """
    found = {id(layout): layout for widget in widgets for layout in layouts_around(widget)}
    paused = [layout for layout in found.values() if layout.isEnabled()]
    for layout in paused:
        layout.setEnabled(False)
    try:
        yield
    finally:
        for layout in paused:
            layout.setEnabled(True)


def layouts_around(widget: QWidget | None) -> Iterator[QLayout]:
    """The layouts of a widget and of all in which it stands."""
    while widget is not None:
        layout = widget.layout()
        if layout is not None:
            yield layout
        widget = None if widget.isWindow() else widget.parentWidget()
