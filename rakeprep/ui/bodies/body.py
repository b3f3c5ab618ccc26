"""A step's own picture: drawn from the record, chosen in by finger, mouse and keyboard."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from rakeprep.jobs.answered import shown_value
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.sheet import LEFT, Sheet, Target, Written
from rakeprep.ui.session import Session

HINT = msg("Choose a place: touch it, or arrow keys and Enter.")
PAD = 8.0  # pixels around everything
USUAL_TEXT = 14.0  # pixels; larger text asks for a larger picture
ENTER = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space})


@dataclass(frozen=True)
class Drawn:
    """The picture as it was painted, and where things are on it."""

    key: object
    picture: QPixmap
    targets: tuple[Target, ...]
    written: tuple[Written, ...]


class Body(QWidget):
    """A picture of one step; ``chosen`` tells which task somebody opens. It holds no value of its own."""

    chosen = Signal(object)
    TITLE: Message = HINT

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._job: OpenJob | None = None
        self._slot: Slot | None = None
        self._focused: Slot | None = None
        self._drawn: Drawn | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(320, 300 * session.size.percent // 100)  # larger letters need a larger picture
        self._tell()

    def sizeHint(self) -> QSize:
        larger = max(1.0, self.session.size.text / USUAL_TEXT)
        return QSize(round(400 * larger), round(460 * larger))

    # ------------------------------------------------------------------ for each picture

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        """Draw the picture into the area and name its targets; to be given by each picture."""
        raise NotImplementedError

    def title(self) -> Message:
        """What the picture shows, in a few words."""
        return self.TITLE

    # ------------------------------------------------------------------ what is shown

    def show_job(self, job: OpenJob, slot: Slot) -> None:
        """Draw anew from the record, with ``slot`` as the task in hand."""
        self._job, self._slot = job, slot
        self._drawn = None
        if self._focused not in job.assessment.states:
            self._focused = None
        self._tell()
        self.update()

    @property
    def targets(self) -> tuple[Target, ...]:
        """The places that can be chosen, in the order of the keyboard."""
        return self._still().targets

    @property
    def written(self) -> tuple[Written, ...]:
        """The words on the picture, and where they stand."""
        return self._still().written

    @property
    def focused(self) -> Slot | None:
        """The task that Enter would open."""
        return self._focused

    def _told(self) -> Slot | None:
        """The task that the foot line tells about: the focused one, else the one in hand."""
        return self._focused or self._slot

    def _name(self, slot: Slot, full: bool) -> str:
        """A task by its place, in full with its question too."""
        assert self._job is not None
        task = self._job.assessment.states[slot].task
        if not task.place.key:
            return self.session.say(task.field.label)
        if full:
            return self.session.say(
                msg("{question}, {place}", question=task.field.label, place=task.place.name)
            )
        return self.session.say(task.place.name)

    def _stands(self, slot: Slot) -> str:
        """Value and verdict of a task in words."""
        assert self._job is not None
        state = self._job.assessment.states[slot]
        value = self.session.say(shown_value(state.task.field, self._job.record.entries.get(slot)))
        word = state.verdict.word
        if not value or state.verdict is Verdict.ABSENT:
            return self.session.say(word)
        return self.session.say(msg("{value}: {verdict}", value=verbatim(value), verdict=word))

    def _tell(self) -> None:
        """Tell a screen reader which place is focused, what was entered there, and its verdict."""
        say = self.session.say
        if self._focused is None or self._job is None:
            self.setAccessibleName(say(self.title()))
            self.setAccessibleDescription(say(HINT))
        else:
            self.setAccessibleName(self._name(self._focused, full=True))
            self.setAccessibleDescription(self._stands(self._focused))

    # ------------------------------------------------------------------ choosing

    def slot_at(self, at: QPointF) -> Slot | None:
        """The task that a finger at this place means: the nearest one, if it is near."""
        reach = max(44.0, float(self.session.size.target))
        found = [(_apart(target.box, at), n) for n, target in enumerate(self.targets)]
        distance, number = min(found, default=(math.inf, 0))
        return self.targets[number].slot if distance <= reach else None

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        slot = self.slot_at(event.position())
        if slot is not None:
            self._focus_on(slot)
            self.chosen.emit(slot)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ENTER and self._focused is not None:
            self.chosen.emit(self._focused)
        elif not self._moved(Qt.Key(event.key())):
            super().keyPressEvent(event)

    def _moved(self, key: Qt.Key) -> bool:
        """Move the focus: left and right in the order of the places, up and down to the nearest there."""
        targets = self.targets
        here = self._place()
        match key:
            case _ if not targets:
                return False
            case Qt.Key.Key_Home:
                there = 0
            case Qt.Key.Key_End:
                there = len(targets) - 1
            case Qt.Key.Key_Right | Qt.Key.Key_Left | Qt.Key.Key_Up | Qt.Key.Key_Down if here is None:
                there = self._first()
            case Qt.Key.Key_Right:
                there = min((here or 0) + 1, len(targets) - 1)
            case Qt.Key.Key_Left:
                there = max((here or 0) - 1, 0)
            case Qt.Key.Key_Up | Qt.Key.Key_Down:
                there = beyond(targets, here or 0, -1 if key == Qt.Key.Key_Up else 1)
            case _:
                return False
        self._focus_on(targets[there].slot)
        return True

    def _place(self) -> int | None:
        """The number of the focused place."""
        return next((n for n, t in enumerate(self.targets) if t.slot == self._focused), None)

    def _first(self) -> int:
        """Where the keyboard starts: at the task in hand, if it is on the picture."""
        return next((n for n, t in enumerate(self.targets) if t.slot == self._slot), 0)

    def _focus_on(self, slot: Slot | None) -> None:
        self._focused = slot
        self._tell()
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        if self._focused is None and self._job is not None and event.reason() in _BY_KEYBOARD:
            targets = self.targets
            if targets:
                self._focus_on(targets[self._first()].slot)
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    # ------------------------------------------------------------------ painting

    def _still(self) -> Drawn:
        """The picture without focus and foot line, painted once for each size, theme, task and entry."""
        ratio, job, slot = self.devicePixelRatioF(), self._job, self._slot
        key = (
            self.size(),
            ratio,
            self.session.theme.name,
            self.session.size,
            self.session.language,
            slot,
            job and (job.record.count, job.record.head),
        )
        if self._drawn is not None and self._drawn.key == key:
            return self._drawn
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(QColor(self.session.theme.ground))
        targets: tuple[Target, ...] = ()
        written: tuple[Written, ...] = ()
        if job is not None and slot is not None:
            painter = QPainter(picture)
            painter.setFont(self.font())
            sheet = Sheet(painter, self.session, job, slot, self.size())
            self.draw(sheet, self._headed(sheet))
            self._write_foot(sheet)
            painter.end()
            targets, written = tuple(sheet.targets), tuple(sheet.written)
        self._drawn = Drawn(key, picture, targets, written)
        return self._drawn

    def _headed(self, sheet: Sheet) -> QRectF:
        """Write the title; gives what is left between it and the foot line."""
        inside = QRectF(self.rect()).adjusted(PAD, PAD, -PAD, -PAD)
        row = sheet.row()
        head = QRectF(inside.left(), inside.top(), inside.width(), row)
        sheet.words(head, self.title(), LEFT, bold=True, colour=self.session.theme.quiet)
        return inside.adjusted(0, row + 6, 0, -self._foot(sheet).height() - 5)

    def _foot(self, sheet: Sheet) -> QRectF:
        """Room for the foot line."""
        inside = QRectF(self.rect()).adjusted(PAD, PAD, -PAD, -PAD)
        height = 2 * sheet.row() + 7
        return QRectF(inside.left(), inside.bottom() - height, inside.width(), height)

    def _write_foot(self, sheet: Sheet) -> None:
        """The focused place, or the task in hand, in words: its name, its value, its verdict."""
        box = self._foot(sheet)
        theme = self.session.theme
        sheet.pen(theme.line, 1.0)
        sheet.line(box.topLeft(), box.topRight())
        upper = QRectF(box.left(), box.top() + 5, box.width(), sheet.row())
        lower = upper.translated(0, sheet.row() + 1)
        slot = self._told()
        if self._job is None or slot is None or slot not in self._job.assessment.states:
            sheet.words(upper, HINT, colour=theme.quiet)
            return
        verdict = self._job.assessment.states[slot].verdict
        sheet.words(upper, self._name(slot, full=False), bold=True)
        side = sheet.row()
        sheet.symbol(verdict, QPointF(lower.left() + side / 2, lower.center().y()), side)
        stands = lower.adjusted(side + 6, 0, 0, 0)
        sheet.words(stands, self._stands(slot), colour=sheet.ink(verdict))

    def paintEvent(self, event: QPaintEvent) -> None:
        drawn = self._still()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, drawn.picture)
        if not self.hasFocus() or self._job is None or self._slot is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        theme = self.session.theme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        place = self._place()
        if place is None:
            painter.setPen(QPen(QColor(theme.accent), 2.0))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
            return
        self._ring(painter, drawn.targets[place])
        painter.setFont(self.font())
        sheet = Sheet(painter, self.session, self._job, self._slot, self.size())
        painter.fillRect(self._foot(sheet), QColor(theme.ground))
        self._write_foot(sheet)

    def _ring(self, painter: QPainter, target: Target) -> None:
        """The ring round the focused place: dark on a light rim, so that it shows on every ground."""
        theme = self.session.theme
        box = target.box.adjusted(-3.5, -3.5, 3.5, 3.5) & QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        round_corner = target.ring + 3
        for colour, width in ((theme.ground, 5.0), (theme.ink, 2.6)):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawRoundedRect(box, round_corner, round_corner)


_BY_KEYBOARD = frozenset(
    {Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason, Qt.FocusReason.ShortcutFocusReason}
)


def beyond(targets: tuple[Target, ...], here: int, way: int) -> int:
    """The nearest place above (way −1) or below (way 1); the same where there is none."""
    start = targets[here].box.center()

    def far(number: int) -> float:
        middle = targets[number].box.center()
        return abs(middle.y() - start.y()) + 2 * abs(middle.x() - start.x())

    near = [n for n, t in enumerate(targets) if (t.box.center().y() - start.y()) * way > 4]
    return min(near, key=far, default=here)


def _apart(box: QRectF, at: QPointF) -> float:
    """How far a point lies outside a box; inside, a little less than nothing, so that the middle wins."""
    across = max(box.left() - at.x(), 0.0, at.x() - box.right())
    down = max(box.top() - at.y(), 0.0, at.y() - box.bottom())
    if across or down:
        return math.hypot(across, down)
    middle = box.center()
    return -1 / (1 + math.hypot(at.x() - middle.x(), at.y() - middle.y()))
