"""The tasks of a step in a list: symbol, question, place, and what was entered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from rakeprep.jobs.answered import shown_value
from rakeprep.jobs.assess import State
from rakeprep.model.entry import Slot
from rakeprep.model.job import Record
from rakeprep.model.verdict import Verdict
from rakeprep.text import Language, msg
from rakeprep.ui.flow import viewport
from rakeprep.ui.session import Session
from rakeprep.ui.symbols import draw_symbol

Index = QModelIndex | QPersistentModelIndex
STATE = Qt.ItemDataRole.UserRole
VALUE = Qt.ItemDataRole.UserRole + 1
INDENT = 18
OPTIONAL = msg("if wanted")
SIDE = 20  # px; a verdict's symbol
MARGIN = 10  # px at the right


@dataclass(frozen=True)
class Row:
    """A heading over the places of one question, or a task."""

    text: str
    state: State | None = None
    value: str = ""
    under: bool = False


def rows_of(states: tuple[State, ...], record: Record, language: Language) -> list[Row]:
    """The rows of a step: a heading where a question has several places."""
    rows: list[Row] = []
    last = ""
    for state in states:
        field, place = state.task.field, state.task.place
        value = language.say(shown_value(field, record.entries.get(state.task.slot)))
        if not value and state.optional:
            value = language.say(OPTIONAL)
        if not place.key:
            rows.append(Row(language.say(field.label), state, value))
            continue
        if field.key != last:
            rows.append(Row(language.say(field.label)))
        rows.append(Row(language.say(place.name), state, value, under=True))
        last = field.key
    return rows


class TaskModel(QAbstractListModel):
    """Rows for the view; the text of a row is complete for a screen reader."""

    def __init__(self, language: Language) -> None:
        super().__init__()
        self._language = language
        self.rows: list[Row] = []

    def show_rows(self, rows: list[Row]) -> None:
        """Other rows, or the same with other values."""
        if [r.text for r in rows] == [r.text for r in self.rows]:
            self.rows = rows
            self.dataChanged.emit(self.index(0), self.index(len(rows) - 1))
            return
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def rowCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.rows[index.row()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return row.text
            case Qt.ItemDataRole.AccessibleTextRole:
                return self._spoken(row)
            case _ if role == STATE:
                return row.state
            case _ if role == VALUE:
                return row.value
        return None

    def _spoken(self, row: Row) -> str:
        if row.state is None:
            return row.text
        word = self._language.say(row.state.verdict.word)
        return ", ".join(part for part in (row.text, row.value, word) if part)

    def flags(self, index: Index) -> Qt.ItemFlag:
        if self.rows[index.row()].state is None:
            return Qt.ItemFlag.ItemIsEnabled
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable


class Asked(NamedTuple):
    """What decides how a row is laid out."""

    text: str
    value: str
    under: bool
    task: bool
    width: int


class TaskDelegate(QStyledItemDelegate):
    """Draws a row, in two lines where one is too short. ``width`` tells how wide the list is."""

    def __init__(self, session: Session, model: TaskModel, width: Callable[[], int]) -> None:
        super().__init__()
        self._session, self._model, self._width = session, model, width
        self._heights: dict[Asked, int] = {}

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        row = self._model.rows[index.row()]
        asked = Asked(row.text, row.value, row.under, row.state is not None, self._width())
        if asked not in self._heights:
            self._heights[asked] = self._height(asked, option.font)
        return QSize(100, self._heights[asked])

    def _height(self, asked: Asked, font: QFont) -> int:
        """Height of a row in bold letters, so that it stays the same when it is chosen."""
        letters = QFont(font)
        letters.setBold(True)
        metrics = QFontMetrics(letters)
        room = asked.width - 12 - MARGIN - (INDENT if asked.under else 0)
        if asked.task:
            room -= SIDE + 8
            room -= min(metrics.horizontalAdvance(asked.value), room // 2) + 10
        two_lines = 2 * metrics.height() + 8
        # a heading is no target, so it need not be as high as one
        least = self._session.size.row if asked.task else min(self._session.size.row, two_lines)
        return least if metrics.horizontalAdvance(asked.text) <= room else max(least, two_lines)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        theme = self._session.theme
        row = self._model.rows[index.row()]
        box = option.rect
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(box, QColor(theme.chosen))
            painter.fillRect(box.x(), box.y(), 5, box.height(), QColor(theme.accent))
        font = option.font
        font.setBold(row.state is None or chosen)
        painter.setFont(font)
        metrics, ink = QFontMetrics(font), QColor(theme.ink)
        left = box.x() + 12 + (INDENT if row.under else 0)
        room = box.right() - MARGIN - left
        painter.setPen(ink)
        if row.state is not None:
            symbol = QRectF(left, box.y() + (box.height() - SIDE) / 2, SIDE, SIDE)
            draw_symbol(painter, symbol, row.state.verdict, theme, filled=False)
            left, room = left + SIDE + 8, room - SIDE - 8
            value = metrics.elidedText(row.value, Qt.TextElideMode.ElideRight, room // 2)
            width = metrics.horizontalAdvance(value)
            if value and row.state.verdict is Verdict.NOT_YET:
                painter.setPen(QColor(theme.quiet))
            write(painter, box.right() - MARGIN - width, box, metrics, [value])
            painter.setPen(ink)
            room -= width + 10
        write(painter, left, box, metrics, in_two_lines(row.text, metrics, room))


def write(painter: QPainter, left: int, box: QRect, metrics: QFontMetrics, lines: list[str]) -> None:
    """Lines in the middle of a row, from the left; by their base lines, which is the quickest way."""
    top = box.y() + (box.height() - metrics.height() * len(lines)) // 2
    for number, line in enumerate(lines):
        painter.drawText(left, top + number * metrics.height() + metrics.ascent(), line)


def in_two_lines(text: str, metrics: QFontMetrics, width: int) -> list[str]:
    """Words in one line or two; the second ends in an ellipsis where even that is too long."""
    if metrics.horizontalAdvance(text) <= width:
        return [text]
    first, rest = "", text.split()
    while rest and metrics.horizontalAdvance(f"{first} {rest[0]}".strip()) <= width:
        first = f"{first} {rest.pop(0)}".strip()
    second = metrics.elidedText(" ".join(rest), Qt.TextElideMode.ElideRight, width)
    return [first, second] if first else [second]


class TaskList(QListView):
    """The list; ``chosen`` tells which task is wanted."""

    chosen = Signal(object)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setViewport(viewport())
        self._session = session
        self._model = TaskModel(session.language)
        self._delegate = TaskDelegate(session, self._model, lambda: self.viewport().width())
        self.setModel(self._model)
        self.setItemDelegate(self._delegate)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(session.say(msg("Tasks of this step")))
        self.selectionModel().currentChanged.connect(self._moved)

    def show_states(self, states: tuple[State, ...], record: Record, current: Slot | None) -> None:
        """Show a step's tasks with one of them chosen, without telling anybody."""
        self.selectionModel().blockSignals(True)
        self._model.show_rows(rows_of(states, record, self._session.language))
        for number, row in enumerate(self._model.rows):
            if row.state is not None and row.state.task.slot == current:
                self.setCurrentIndex(self._model.index(number))
                break
        self.selectionModel().blockSignals(False)
        self.viewport().update()
        self.scrollTo(self.currentIndex())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.scheduleDelayedItemsLayout()  # other rows take two lines now
        self.scrollTo(self.currentIndex())

    def _moved(self, new: QModelIndex, old: QModelIndex) -> None:
        if new.isValid():
            state = self._model.rows[new.row()].state
            if state is not None:
                self.chosen.emit(state.task.slot)
