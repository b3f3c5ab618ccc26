"""In which order the tabulator goes through a page."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QWidget


def put_in_order(first: QWidget, inside: Iterable[QWidget | None], last: Iterable[QWidget]) -> None:
    """From ``first`` through everything ``inside`` these widgets to ``last``."""
    chain = [first, *(one for widget in inside for one in takers(widget)), *last]
    for one, following in pairwise(chain):
        QWidget.setTabOrder(one, following)


def takers(widget: QWidget | None) -> list[QWidget]:
    """The fields and buttons inside that the tabulator reaches, in the order they were made."""
    if widget is None:
        return []
    inside = [w for w in widget.findChildren(QWidget) if isinstance(w, (QAbstractButton, QLineEdit))]
    return [w for w in inside if w.focusPolicy() & Qt.FocusPolicy.TabFocus]
