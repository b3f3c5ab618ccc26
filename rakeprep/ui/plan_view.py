"""The machine as a map: every part that has work on it carries its verdict and can be chosen."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QResizeEvent,
)
from PySide6.QtWidgets import QWidget

from rakeprep.drawing.plan import Plan, anchor_of, disc_of, group_of, known_part
from rakeprep.model.verdict import Verdict
from rakeprep.text import msg, verbatim
from rakeprep.ui.plan_layout import ABOVE, GAP, WAYS, Layout, lay_out
from rakeprep.ui.plan_marks import PLATE, Mark, Shown, apart, marks_of
from rakeprep.ui.plan_picture import Fit
from rakeprep.ui.plan_still import Canvas, Still
from rakeprep.ui.session import Session
from rakeprep.ui.symbols import draw_symbol

TITLE = msg("Machine from above")
HINT = msg("Touch a part, or arrow keys and Enter.")
BY_KEYBOARD = {
    Qt.FocusReason.TabFocusReason,
    Qt.FocusReason.BacktabFocusReason,
    Qt.FocusReason.ShortcutFocusReason,
}
ROW = 600.0  # mm; marks whose heights differ less than about this are read from left to right


class PlanView(QWidget):
    """Shows a plan with the verdict of its parts; ``part_chosen`` tells which part somebody opens."""

    part_chosen = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._plan: Plan | None = None
        self._verdicts: dict[str, Verdict] = {}
        self._current: frozenset[str] = frozenset()
        self._names: dict[str, str] = {}
        self._order: list[str] = []
        self._focused: str | None = None
        self._still: tuple[object, Still] | None = None
        self._layout: tuple[object, Layout] | None = None
        self._marks: dict[object, list[Mark]] = {}
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(300, 300)
        self._tell()

    def sizeHint(self) -> QSize:
        return QSize(430, 460)

    # ------------------------------------------------------------------ what is shown

    def show_job(
        self,
        plan: Plan,
        verdicts: Mapping[str, Verdict],
        current: frozenset[str],
        names: Mapping[str, str],
    ) -> None:
        """Show the verdict of every part; ``current`` are the parts of the step that is open."""
        if plan is self._plan and (verdicts, current, names) == (self._verdicts, self._current, self._names):
            return
        if plan is not self._plan or verdicts.keys() != self._verdicts.keys():
            self._order = reading_order(plan, list(verdicts))
        if plan is not self._plan or verdicts != self._verdicts:
            self._marks.clear()
        if plan is not self._plan:
            self.forget()
        self._plan, self._verdicts, self._names = plan, dict(verdicts), dict(names)
        self._current = current
        if self._focused not in self._verdicts:
            self._focused = None
        self._tell()
        self.update()

    def forget(self) -> None:
        """Let go of all that was worked out and painted before."""
        self._layout = self._still = None
        self._marks.clear()

    @property
    def focused_part(self) -> str | None:
        """The part that Enter would open."""
        return self._focused

    def name_of(self, part: str) -> str:
        """The name of a part; its key where no name is known."""
        return self._names.get(part) or part

    def line(self) -> str:
        """Name and verdict of the focused part, or how to choose one."""
        say = self.session.say
        if self._focused is None:
            return say(HINT) if self._verdicts else ""
        name, word = verbatim(self.name_of(self._focused)), self._verdicts[self._focused].word
        return say(msg("{name}: {verdict}", name=name, verdict=word))

    def marks(self) -> list[Mark]:
        """The symbols to draw: each part of the current step, and one, the worst, for each other group."""
        plan = self._plan
        if plan is None:
            return []
        layout = self._laid_out(plan)
        key = (self._key_of_layout(), self._current, self._focused)
        if key not in self._marks:
            shown = Shown(self._order, self._verdicts, self._current, self._focused)
            self._marks[key] = marks_of(plan, layout, shown, self.session.size)
        return self._marks[key]

    # ------------------------------------------------------------------ choosing

    def part_at(self, at: QPointF) -> str | None:
        """The part that a finger at this place means, if there is one near."""
        plan = self._plan
        if plan is None:
            return None
        reach = max(24.0, self.session.size.target / 2)
        place = self._laid_out(plan).place
        shown = [(apart(mark.at, at), mark.part) for mark in self.marks()]
        hidden = [(apart(place.point(anchor_of(plan, part)), at), part) for part in self._order]
        for found in (shown, hidden):
            distance, part = min(found, default=(math.inf, ""))
            if distance <= reach:
                return part
        return next((part for part in self._order if self._in_disc(plan, place, part, at)), None)

    @staticmethod
    def _in_disc(plan: Plan, place: Fit, part: str, at: QPointF) -> bool:
        """Whether a place lies in the circle of a rotor."""
        disc = disc_of(plan, part)
        return disc is not None and apart(place.point(disc.centre), at) <= disc.radius * place.scale

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        part = self.part_at(event.position())
        if part is not None:
            self._focus_on(part)
            self.part_chosen.emit(part)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space} and self._focused is not None:
            self.part_chosen.emit(self._focused)
        elif not self._moved(key):
            super().keyPressEvent(event)

    def _moved(self, key: int) -> bool:
        """Move the focus by a key: one part with left and right, one group with up and down."""
        if not self._order:
            return False
        here = self._order.index(self._focused) if self._focused is not None else -1
        match key:
            case Qt.Key.Key_Right:
                there = here + 1
            case Qt.Key.Key_Left:
                there = here - 1
            case Qt.Key.Key_Down | Qt.Key.Key_Up:
                there = self._next_group(here, 1 if key == Qt.Key.Key_Down else -1)
            case Qt.Key.Key_Home:
                there = 0
            case Qt.Key.Key_End:
                there = len(self._order) - 1
            case _:
                return False
        self._focus_on(self._order[min(max(there, 0), len(self._order) - 1)])
        return True

    def _next_group(self, here: int, way: int) -> int:
        """The first part of the next group, or of the one before."""
        plan = self._plan
        if plan is None or here < 0:
            return 0
        groups = [group_of(plan, part) for part in self._order]
        firsts = [n for n, group in enumerate(groups) if n == 0 or groups[n - 1] != group]
        nexts = [n for n in firsts if n > here] if way > 0 else [n for n in firsts if n < here][::-1]
        return nexts[0] if nexts else here

    def _focus_on(self, part: str | None) -> None:
        self._focused = part
        self._tell()
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        if self._focused is None and self._order and event.reason() in BY_KEYBOARD:
            now = [part for part in self._order if part in self._current]
            self._focus_on((now or self._order)[0])
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def _tell(self) -> None:
        """Tell a screen reader which part is focused, and its verdict."""
        say = self.session.say
        if self._focused is None:
            self.setAccessibleName(say(TITLE))
            self.setAccessibleDescription(say(HINT))
        else:
            self.setAccessibleName(self.name_of(self._focused))
            self.setAccessibleDescription(say(self._verdicts[self._focused].word))

    # ------------------------------------------------------------------ layout

    def _small(self) -> QFont:
        font = QFont(self.font())
        font.setPixelSize(max(11, self.session.size.text - 2))
        return font

    def _legend_verdicts(self) -> list[Verdict]:
        return sorted(set(self._verdicts.values()), key=lambda verdict: verdict.rank)

    def _key_of_layout(self) -> object:
        """What the layout follows from, besides the plan."""
        size, words = self.session.size, self.session.language.code
        return (self.width(), self.height(), size, words, tuple(self._legend_verdicts()))

    def _laid_out(self, plan: Plan) -> Layout:
        """The layout for the present size; words stand in the corners if the machine leaves them free."""
        key = self._key_of_layout()
        if self._layout is None or self._layout[0] != key:
            metrics, verdicts = QFontMetricsF(self._small()), self._legend_verdicts()
            laid = lay_out(plan, QRectF(self.rect()), metrics, self.session.say, verdicts)
            self._layout = (key, laid)
        return self._layout[1]

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.forget()

    # ------------------------------------------------------------------ painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        plan = self._plan
        if plan is None:
            painter.fillRect(self.rect(), QColor(self.session.theme.ground))
            return
        layout = self._laid_out(plan)
        painter.drawPixmap(0, 0, self._drawn(plan, layout))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._small())
        marks = self.marks()
        for mark in marks:
            self._lead(painter, mark)
        for mark in marks:
            self._mark(painter, mark)
        self._write_legend(painter, layout)
        self._write_foot(painter, layout.foot)
        if self.hasFocus() and self._focused is None:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self.session.theme.accent), 2.0))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))

    def _drawn(self, plan: Plan, layout: Layout) -> QPixmap:
        """The drawing without its marks."""
        theme, ratio, say = self.session.theme, self.devicePixelRatioF(), self.session.say
        key = (self.session.size, self.session.language.code, ratio, theme.name, layout.place)
        if self._still is None or self._still[0] != key:
            canvas = Canvas(
                plan,
                layout.place,
                theme,
                self._small(),
                say,
                partial(self._write_caption, box=layout.caption),
            )
            self._still = (key, Still(canvas, self.width(), self.height(), ratio))
        return self._still[1].picture(frozenset(known_part(plan, part) for part in self._current))

    def _lead(self, painter: QPainter, mark: Mark) -> None:
        """A thin line from a mark that had to move to the place where it belongs."""
        if apart(mark.home, mark.at) < mark.side * 0.75:
            return
        theme = self.session.theme
        colour = QColor(theme.accent if mark.plate else theme.quiet)
        painter.setPen(QPen(colour, 1.0))
        painter.drawLine(mark.home, mark.at)
        painter.setBrush(colour)
        painter.drawEllipse(mark.home, 2.0, 2.0)

    def _mark(self, painter: QPainter, mark: Mark) -> None:
        """One symbol: on a plate where it belongs to the open step, with a ring where it is focused."""
        theme = self.session.theme
        box = QRectF(0, 0, mark.side, mark.side)
        box.moveCenter(mark.at)
        if mark.part == self._focused and self.hasFocus():
            ring = box.adjusted(-7, -7, 7, 7)
            painter.setBrush(QColor(theme.ground))
            painter.setPen(QPen(QColor(theme.ink), 3.0))
            painter.drawRoundedRect(ring, 9, 9)
        painter.setBrush(QColor(theme.ground))
        if mark.plate:
            painter.setPen(QPen(QColor(theme.accent), 1.6))
            painter.drawRoundedRect(box.adjusted(-PLATE, -PLATE, PLATE, PLATE), 6, 6)
        else:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.drawEllipse(box.adjusted(-1, -1, 1, 1))
        draw_symbol(painter, box, mark.verdict, theme)

    def _write_caption(self, painter: QPainter, box: QRectF) -> None:
        """From where the machine is seen."""
        say, theme = self.session.say, self.session.theme
        bold = self._small()
        bold.setBold(True)
        painter.setPen(QColor(theme.quiet))
        painter.setFont(bold)
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft, say(ABOVE))
        painter.setFont(self._small())
        row = QFontMetricsF(self._small()).height() + 3
        painter.drawText(box.adjusted(0, row, 0, 4), int(Qt.TextFlag.TextWordWrap), say(WAYS))

    def _write_legend(self, painter: QPainter, layout: Layout) -> None:
        """What the symbols on this drawing mean, in words."""
        say, theme = self.session.say, self.session.theme
        side = QFontMetricsF(self._small()).height()
        painter.setPen(QColor(theme.quiet))
        for verdict, box in layout.legend:
            draw_symbol(painter, QRectF(box.left(), box.top() + 2, side, side), verdict, theme)
            words = box.adjusted(side + GAP, 0, 40, 0)
            painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, say(verdict.word))

    def _write_foot(self, painter: QPainter, box: QRectF) -> None:
        """The focused part in words."""
        font = self._small()
        font.setBold(self._focused is not None)
        painter.setFont(font)
        painter.setPen(QColor(self.session.theme.ink if self._focused else self.session.theme.quiet))
        words = QFontMetricsF(font).elidedText(self.line(), Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, words)


def reading_order(plan: Plan, parts: list[str]) -> list[str]:
    """Parts as one reads the drawing: group by group from the front, each from left to right."""
    rank = {part: number for number, part in enumerate(plan.anchors)}

    def key(part: str) -> tuple[int, float, str, int]:
        group = group_of(plan, part)
        x, y = plan.group_anchors[group]
        return -round(y / ROW), x, group, rank[known_part(plan, part)]

    return sorted(parts, key=key)
