"""Beside the page of a step: the machine as a map and the steps, both at once or one of them."""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from rakeprep.text import msg
from rakeprep.ui.fields.editor import key
from rakeprep.ui.plan_view import PlanView
from rakeprep.ui.session import Session
from rakeprep.ui.step_keys import StepKeys


class Pane(Enum):
    """What can be in front where not all has room."""

    MACHINE = msg("the map")
    STEPS = msg("the steps")
    TASK = msg("the task")


class Guide(QWidget):
    """Map and step keys; ``turned`` tells that another pane is wanted."""

    turned = Signal()

    def __init__(self, session: Session, plan_view: PlanView, step_keys: StepKeys) -> None:
        super().__init__()
        self.pane = Pane.MACHINE
        self._plan_view, self._step_keys = plan_view, step_keys
        self._keys = QWidget()
        self._group = QButtonGroup(self)
        self._pane_keys: dict[Pane, QPushButton] = {}
        row = QHBoxLayout(self._keys)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for pane in Pane:
            one = key(session.say(pane.value), "small")
            one.setCheckable(True)
            one.clicked.connect(lambda _=False, wanted=pane: self.turn(wanted))
            self._group.addButton(one)
            self._pane_keys[pane] = one
            row.addWidget(one, 1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self._column.addWidget(self._keys)
        self._column.addWidget(plan_view, 1)
        self._column.addWidget(step_keys)

    def turn(self, pane: Pane) -> None:
        """Bring something to the front."""
        self.pane = pane
        self.turned.emit()

    def arrange(self, panes: int) -> None:
        """Show everything (1), map or steps (2), or map, steps or, elsewhere, the task (3)."""
        if panes < len(Pane) and self.pane is Pane.TASK:
            self.pane = Pane.MACHINE
        self._keys.setVisible(panes > 1)
        self._pane_keys[Pane.TASK].setVisible(panes > 2)
        self._pane_keys[self.pane].setChecked(True)
        self._plan_view.setVisible(panes == 1 or self.pane is Pane.MACHINE)
        self._step_keys.setVisible(panes == 1 or self.pane is Pane.STEPS)
        self._column.setStretchFactor(self._step_keys, 0 if panes == 1 else 1)
