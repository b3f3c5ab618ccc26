"""What the pictures of the steps share: a sheet to draw on, with words that fit and targets to choose."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from rakeprep.jobs.answered import shown_value
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message
from rakeprep.ui.plan_picture import mixed
from rakeprep.ui.session import Session
from rakeprep.ui.symbols import draw_symbol

USUAL = 400  # pixels; the side of a picture from which words grow with it
SMALLEST = 10  # pixels; below this nothing is written, it is cut off instead
NOT_AFTER_DIGIT = re.compile(r"(?<!\d)\s+")
# Where words stand in their box: how much of the spare width lies at their left, of the spare height above.
LEFT, MIDDLE, RIGHT, TOP = (0.0, 0.5), (0.5, 0.5), (1.0, 0.5), (0.0, 0.0)


@dataclass(frozen=True)
class Target:
    """One place of the picture that opens a task; ``ring`` is how round its corners are."""

    slot: Slot
    box: QRectF
    ring: float = 8.0


@dataclass(frozen=True)
class Written:
    """Words as they stand on the picture; ``cut`` if not all of them had room."""

    text: str
    box: QRectF
    cut: bool = False


@dataclass(frozen=True)
class Letters:
    """A font with what is known of its widths."""

    font: QFont
    metrics: QFontMetricsF


class Sheet:
    """One painting of one picture: it asks the record and draws; nothing is kept but where things are."""

    def __init__(self, painter: QPainter, session: Session, job: OpenJob, slot: Slot, size: QSize) -> None:
        self.painter, self.session, self.job, self.slot = painter, session, job, slot
        self.theme = session.theme
        # larger pictures have larger words, as they are looked at from farther away
        spare = (min(size.width(), size.height() - 60) - USUAL) / 60
        self.base = max(12.0, session.size.text - 2) + min(4.0, max(0.0, spare))
        self.targets: list[Target] = []
        self.written: list[Written] = []
        self._letters: dict[tuple[int, bool], Letters] = {}
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    # ------------------------------------------------------------------ asking

    def say(self, text: Message | str) -> str:
        """A message in the screen's language."""
        return text if isinstance(text, str) else self.session.say(text)

    def facts(self, step: str) -> Facts:
        """What the checks of a step see."""
        return Facts(
            self.job.profile, self.job.tractor, self.job.record, step, self.job.record.opening.opened.date()
        )

    def asked(self, slot: Slot) -> bool:
        """Whether this machine has the question."""
        return slot in self.job.assessment.states

    def entry(self, slot: Slot) -> Entry | None:
        """The value entered, if there is one."""
        return self.job.record.value(slot)

    def verdict(self, slot: Slot) -> Verdict:
        """How the question stands."""
        state = self.job.assessment.states.get(slot)
        return Verdict.NOT_YET if state is None else state.verdict

    def value(self, slot: Slot, unit: str = "") -> str:
        """What was entered, as typed; without its unit where that is ``unit``, which the caption names."""
        state, entry = self.job.assessment.states.get(slot), self.job.record.entries.get(slot)
        if state is None or entry is None:
            return ""
        if unit and entry.unit == unit and entry.exact is not None:
            return entry.typed.removesuffix(unit).strip()
        return self.say(shown_value(state.task.field, entry))

    def lines(self, text: Message | str, width: float, change: float = 0) -> int:
        """How many lines words take in a width."""
        return len(wrapped(self.say(text), self.letters(change).metrics, width))

    def fits(self, text: Message | str, width: float, change: float = 0, bold: bool = False) -> bool:
        """Whether words have room in one line."""
        return self.width(text, change, bold) <= width

    def current(self, slot: Slot) -> bool:
        """Whether this is the task in hand."""
        return slot == self.slot

    # ------------------------------------------------------------------ colours and pens

    def shade(self, share: float) -> QColor:
        """A colour between ground (0) and line (1)."""
        return mixed(self.theme.ground, self.theme.line, share)

    def ink(self, verdict: Verdict) -> QColor:
        """The colour that goes with a verdict's symbol and word."""
        return QColor(self.theme.verdicts[verdict][0])

    def ground(self, verdict: Verdict) -> QColor:
        """The ground that goes with a verdict's symbol and word."""
        return QColor(self.theme.verdicts[verdict][1])

    def pen(
        self, colour: QColor | str, width: float = 1.2, dash: Sequence[float] = (), round_end: bool = True
    ) -> None:
        """Draw with this line from now on; ``dash`` in widths of the line."""
        pen = QPen(QColor(colour), width)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap if round_end and not dash else Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if dash:
            pen.setDashPattern(list(dash))
        self.painter.setPen(pen)

    def fill(self, colour: QColor | str | None) -> None:
        """Fill with this from now on, or not at all."""
        self.painter.setBrush(Qt.BrushStyle.NoBrush if colour is None else QColor(colour))

    def no_pen(self) -> None:
        """Fill without an outline from now on."""
        self.painter.setPen(Qt.PenStyle.NoPen)

    # ------------------------------------------------------------------ shapes

    def line(self, *points: tuple[float, float] | QPointF) -> None:
        """A line through points."""
        self.painter.drawPolyline(QPolygonF([p if isinstance(p, QPointF) else QPointF(*p) for p in points]))

    def shape(self, *corners: tuple[float, float] | QPointF) -> None:
        """A closed shape with the pen and fill that are set."""
        self.painter.drawPolygon(QPolygonF([p if isinstance(p, QPointF) else QPointF(*p) for p in corners]))

    def arrow(self, start: QPointF, end: QPointF, head: float = 6.0) -> None:
        """A line with a head at its end."""
        self.painter.drawLine(start, end)
        way = math.atan2(end.y() - start.y(), end.x() - start.x())
        barbs = [QPointF(math.cos(way + turn) * head, math.sin(way + turn) * head) for turn in (2.6, -2.6)]
        self.line(end + barbs[0], end, end + barbs[1])

    def measure(self, start: QPointF, end: QPointF, head: float = 4.5) -> None:
        """A dimension line with a head at each end, or none where there is no room for two."""
        if math.dist((start.x(), start.y()), (end.x(), end.y())) < 2.5 * head:
            self.painter.drawLine(start, end)
            return
        middle = (start + end) / 2
        self.arrow(middle, start, head)
        self.arrow(middle, end, head)

    def rounded(self, box: QRectF, radius: float = 6.0) -> None:
        """A box with round corners, with the pen and fill that are set."""
        self.painter.drawRoundedRect(box, radius, radius)

    def disc(self, centre: QPointF, radius: float) -> None:
        """A circle with the pen and fill that are set."""
        self.painter.drawEllipse(centre, radius, radius)

    def symbol(self, verdict: Verdict, centre: QPointF, side: float = 16.0) -> None:
        """A verdict's symbol."""
        box = QRectF(0, 0, side, side)
        box.moveCenter(centre)
        draw_symbol(self.painter, box, verdict, self.theme)

    def plate(self, slot: Slot, box: QRectF, radius: float = 7.0) -> None:
        """The ground of a place that can be chosen, in its verdict's colours; strong for the task in hand."""
        verdict = self.verdict(slot)
        empty = verdict in {Verdict.NOT_YET, Verdict.ABSENT}
        self.fill(self.theme.ground if empty else self.ground(verdict))
        if self.current(slot):
            self.fill(self.theme.chosen)
            self.pen(self.theme.accent, 2.4)
        elif empty:
            self.pen(self.theme.line, 1.1, (3, 2.5))
        else:
            self.pen(self.ink(verdict), 1.3)
        self.rounded(box, radius)
        self.target(slot, box, radius)

    def target(self, slot: Slot, box: QRectF, ring: float = 8.0) -> None:
        """A place of the picture that opens a task, if the machine has it; each once."""
        if self.asked(slot) and all(known.slot != slot for known in self.targets):
            self.targets.append(Target(slot, QRectF(box), ring))

    # ------------------------------------------------------------------ words

    def letters(self, change: float = 0, bold: bool = False) -> Letters:
        """The sheet's font, larger or smaller by some pixels."""
        key = (max(SMALLEST, round(self.base + change)), bold)
        if key not in self._letters:
            font = QFont(self.painter.font())
            font.setPixelSize(key[0])
            font.setBold(bold)
            self._letters[key] = Letters(font, QFontMetricsF(font))
        return self._letters[key]

    def row(self, change: float = 0) -> float:
        """Height of a line of words."""
        return self.letters(change).metrics.height()

    def width(self, text: Message | str, change: float = 0, bold: bool = False) -> float:
        """Width of words in one line."""
        return self.letters(change, bold).metrics.horizontalAdvance(self.say(text))

    def words(
        self,
        box: QRectF,
        text: Message | str,
        align: tuple[float, float] = LEFT,
        *,
        change: float = 0,
        bold: bool = False,
        colour: QColor | str | None = None,
        lines: int = 1,
    ) -> float:
        """Write into ``box``, smaller where it must be, cut off where even that is too long.

        Gives the height that the words took.
        """
        said = self.say(text)
        if not said or box.width() < 4:
            return 0.0
        letters, rows, cut = self._fitted(said, box, change, bold, lines)
        metrics = letters.metrics
        high = metrics.height()
        top = box.top() + align[1] * (box.height() - high * len(rows))
        self.painter.setFont(letters.font)
        self.painter.setPen(QColor(colour if colour is not None else self.theme.ink))
        for number, row in enumerate(rows):
            if not row:  # not even one letter had room
                continue
            wide = metrics.horizontalAdvance(row)
            place = QRectF(box.left() + align[0] * (box.width() - wide), top + number * high, wide, high)
            self.painter.drawText(QPointF(place.left(), place.top() + metrics.ascent()), row)
            self.written.append(Written(row, place, cut))
        return high * len(rows)

    def _fitted(
        self, said: str, box: QRectF, change: float, bold: bool, lines: int
    ) -> tuple[Letters, list[str], bool]:
        """The largest letters in which the words fit, and the words line by line."""
        size = round(self.base + change)
        while True:
            letters = self.letters(size - self.base, bold)
            metrics = letters.metrics
            if metrics.horizontalAdvance(said) <= box.width() and said.isprintable():
                return letters, [said.strip()], False
            rows = wrapped(said, metrics, box.width())
            room = max(1, min(lines, int((box.height() + 0.5) // metrics.height())))
            fits = len(rows) <= room and all(metrics.horizontalAdvance(r) <= box.width() + 0.5 for r in rows)
            if fits:
                return letters, rows, False
            if size <= SMALLEST:
                kept = [*rows[: room - 1], " ".join(rows[room - 1 :])]
                elided = [metrics.elidedText(r, Qt.TextElideMode.ElideRight, box.width()) for r in kept]
                return letters, elided, True
            size -= 1


def usual_unit(job: OpenJob, step: str, field: str, printed: str) -> str:
    """The unit most readings of a question were typed in; the one of the machine data before any was."""
    entries = job.record.entries
    given = (entries.get(slot) for slot in slots_of(job, step, field))
    typed = [entry.unit for entry in given if entry is not None and entry.unit]
    return max(dict.fromkeys(typed), key=typed.count, default=printed)


def slots_of(job: OpenJob, step: str, field: str) -> list[Slot]:
    """Every place at which a question of a step is asked."""
    states = job.assessment.of_step(step)
    return [state.task.slot for state in states if state.task.field.key == field]


def wrapped(text: str, metrics: QFontMetricsF, width: float) -> list[str]:
    """Words in lines no wider than ``width`` where spaces allow; a number stays with its unit."""
    rows: list[str] = []
    whole = NOT_AFTER_DIGIT.split(text.strip())
    for word in (w for part in whole for w in _kept(part, metrics, width)):
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and metrics.horizontalAdvance(longer) <= width:
            rows[-1] = longer
        else:
            rows.append(word)
    return rows


def _kept(part: str, metrics: QFontMetricsF, width: float) -> list[str]:
    """A number with its unit in one piece, unless that is wider than a line."""
    return [part] if metrics.horizontalAdvance(part) <= width else part.split()


def split(box: QRectF, shares: Sequence[float], gap: float = 0.0, down: bool = False) -> list[QRectF]:
    """A box divided by shares, side by side or one below the other."""
    whole = (box.height() if down else box.width()) - gap * (len(shares) - 1)
    at, boxes = (box.top() if down else box.left()), []
    for share in shares:
        size = max(0.0, whole * share / sum(shares))
        boxes.append(
            QRectF(box.left(), at, box.width(), size) if down else QRectF(at, box.top(), size, box.height())
        )
        at += size + gap
    return boxes


def at_hour(centre: QPointF, radius: float, hour: float) -> QPointF:
    """A point on a clock face, 12 up."""
    turn = math.radians(hour * 30)
    return centre + QPointF(math.sin(turn), -math.cos(turn)) * radius
