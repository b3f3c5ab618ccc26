"""The nine distances of the driveline as a map, and the shaft at the shortest and longest place to scale."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor

from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.verdict import Verdict
from rakeprep.steps._driveline_lengths import Lengths, distances, lengths_of
from rakeprep.steps.driveline import HEIGHTS, TURNS
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, RIGHT, Sheet, split, usual_unit
from rakeprep.units import Amount, Kind

COLUMNS = ("left", "straight", "right")
ROWS = ("high", "work", "low")
SHORTEST, LONGEST = msg("shortest"), msg("longest")
DRAWN_TURN = 38.0  # degrees; the small sign of a full turn
LOW = 4.5  # heights of a line; in a lower box the words of a shaft stand in one line


class ShaftMap(Body):
    """Nine cells as seen from above, left to right, links high to low; two shafts to one scale below."""

    TITLE = msg("Groove to groove in nine places")

    def title(self) -> Message:
        if self._job is None:
            return self.TITLE
        return msg("Groove to groove in nine places, in {unit}", unit=verbatim(_unit(self._job)))

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        cells, shafts = split(area, (0.61, 0.39), 8, down=True)
        read = distances(sheet.facts("driveline"))
        self._map(sheet, cells, {key: each.value for key, each in read.items()})
        lengths = lengths_of(sheet.facts("driveline"), read, _unit(sheet.job))
        if lengths is not None:
            self._shafts(sheet, shafts, {key: each.value for key, each in read.items()}, lengths)

    # ------------------------------------------------------------------ the nine places

    def _map(self, sheet: Sheet, area: QRectF, read: dict[str, float]) -> None:
        """The cells with their heads: how the tractor stands, how high the links are."""
        unit = _unit(sheet.job)
        side = min(area.width() * 0.22, max(sheet.width(HEIGHTS[h][1], -1) / 2 for h in ROWS) + 14)
        head = min(48.0, area.height() * 0.2)
        columns = split(area.adjusted(side, 0, 0, 0), (1, 1, 1), 6)
        for turn, column in zip(COLUMNS, columns, strict=True):
            self._turn(sheet, QRectF(column.left(), column.top(), column.width(), head), turn)
        rows = split(area.adjusted(0, head + 2, 0, 0), (1, 1, 1), 6, down=True)
        for height, row in zip(ROWS, rows, strict=True):
            name = QRectF(row.left(), row.top(), side - 8, row.height())
            sheet.words(name, HEIGHTS[height][1], LEFT, change=-1, colour=sheet.theme.quiet, lines=3)
            for turn, column in zip(COLUMNS, columns, strict=True):
                key = f"{turn}-{height}"
                box = QRectF(column.left(), row.top(), column.width(), row.height())
                self._cell(sheet, box, Slot("driveline", "distance", key), read, unit)

    def _turn(self, sheet: Sheet, box: QRectF, turn: str) -> None:
        """How tractor and drawbar stand to one another, and its words."""
        rows = min(2, sheet.lines(TURNS[turn][1], box.width(), -1))
        words = box.adjusted(0, box.height() - rows * sheet.row(-1), 0, 0)
        sheet.words(words, TURNS[turn][1], MIDDLE, change=-1, colour=sheet.theme.quiet, lines=rows)
        pivot = QPointF(box.center().x(), box.top() + (words.top() - box.top()) * 0.62)
        reach = (words.top() - box.top()) * 0.36
        sheet.pen(sheet.theme.quiet, 1.6)
        sheet.line(pivot, pivot + QPointF(0, reach))
        painter = sheet.painter
        painter.save()
        painter.translate(pivot)
        painter.rotate({"left": -DRAWN_TURN, "right": DRAWN_TURN}.get(turn, 0.0))
        sheet.fill(sheet.shade(0.3))
        sheet.rounded(QRectF(-reach * 0.5, -reach * 1.6, reach, reach * 1.3), 2)
        sheet.line((0, 0), (0, -reach * 0.3))
        painter.restore()
        sheet.fill(sheet.theme.ground)
        sheet.disc(pivot, 2.2)

    def _cell(self, sheet: Sheet, box: QRectF, slot: Slot, read: dict[str, float], unit: str) -> None:
        """One place: what was read, as figure and as bar between shortest and longest."""
        sheet.plate(slot, box)
        theme, key, value = sheet.theme, slot.place, sheet.value(slot, unit)
        if not value:
            sheet.symbol(Verdict.NOT_YET, box.center(), min(18.0, box.height() * 0.4))
            return
        verdict = sheet.verdict(slot)
        inner = box.adjusted(7, 3, -7, -3)
        extreme = _extreme(read, key)
        upper, lower = split(inner, (0.58, 0.42), down=True)
        sheet.words(upper, value, MIDDLE, change=5, bold=True)
        if verdict not in {Verdict.IN_ORDER, Verdict.NOT_YET}:
            sheet.symbol(verdict, QPointF(box.right() - 11, box.top() + 11), 15)
        if extreme is None:
            self._bar(sheet, lower, read, key)
            return
        inward = extreme is SHORTEST
        wide = min(box.width() - 4, sheet.width(extreme, -1, bold=True))
        words = QRectF(lower.center().x() - wide / 2, lower.top(), wide + 1, lower.height())
        sheet.words(words, extreme, MIDDLE, change=-1, bold=True, colour=theme.accent)
        reach = min(10.0, (inner.width() - wide) / 2 - 1)
        if reach < 4:
            return
        sheet.pen(theme.accent, 2.0)
        for way in (-1, 1):
            near = QPointF(words.center().x() + way * (words.width() / 2 + 2), lower.center().y())
            far = near + QPointF(way * reach, 0)
            sheet.arrow(far if inward else near, near if inward else far, min(4.0, reach * 0.6))

    def _bar(self, sheet: Sheet, box: QRectF, read: dict[str, float], key: str) -> None:
        """Where this distance lies between the shortest and the longest."""
        if key not in read or len(read) < 2:
            return
        low, high = min(read.values()), max(read.values())
        share = 0.5 if high <= low else (read[key] - low) / (high - low)
        y = box.center().y()
        left, right = box.left() + 4, box.right() - 4
        sheet.pen(sheet.theme.line, 1.4)
        sheet.line((left, y), (right, y))
        for x in (left, right):
            sheet.line((x, y - 3), (x, y + 3))
        sheet.no_pen()
        sheet.fill(sheet.theme.accent)
        sheet.disc(QPointF(left + (right - left) * share, y), 3.6)

    # ------------------------------------------------------------------ the shaft

    def _shafts(self, sheet: Sheet, area: QRectF, read: dict[str, float], lengths: Lengths) -> None:
        """The shaft at both ends of its travel, to one scale; the shaft pushed home until both are read."""
        ends: list[tuple[Message, float]] = []
        if read:
            ends = [(msg("at the shortest"), min(read.values())), (msg("at the longest"), max(read.values()))]
        else:
            ends = [(msg("pushed home, by the machine data"), lengths.closed)]
        chips = min(area.height() * 0.36, 2 * sheet.row(-1) + 12)
        rows = area.adjusted(0, 0, 0, -chips - 6)
        scale = (area.width() - 8) / max(distance for _, distance in ends)
        if not 0 < scale < math.inf:
            return
        for (name, distance), row in zip(ends, split(rows, (1,) * len(ends), 5, down=True), strict=True):
            self._shaft(sheet, row, name, distance, lengths, scale)
        self._chips(sheet, QRectF(area.left(), area.bottom() - chips, area.width(), chips))

    def _shaft(
        self, sheet: Sheet, box: QRectF, name: Message, distance: float, lengths: Lengths, scale: float
    ) -> None:
        """Both halves between their grooves: tube in tube, what is left to push, what is cut off."""
        theme = sheet.theme
        head = sheet.row(-1)
        gap, overlap = lengths.gap(distance), lengths.overlap(distance)
        text = joined([_gap_said(gap, lengths.unit), _overlap_said(overlap, lengths.unit)])
        bad = min(gap, overlap) < 0
        top = QRectF(box.left(), box.top(), box.width(), head)
        wide, said = sheet.width(name, -1, bold=True) + 1, sheet.width(text, -1, bold=bad) + 1
        colour = sheet.ink(Verdict.PUT_RIGHT) if bad else theme.quiet
        if wide + said + 8 <= top.width() or box.height() < LOW * head:
            wide = min(wide, top.width() * 0.6)
            said = min(said, top.width() - min(wide, top.width() * 0.4) - 8)
            sheet.words(
                QRectF(top.left(), top.top(), top.width() - said - 8, head), name, change=-1, bold=True
            )
            room = QRectF(top.right() - said, top.top(), said, head)
        else:  # one below the other
            sheet.words(top, name, change=-1, bold=True)
            room = top.translated(0, head)
        sheet.words(room, text, RIGHT, change=-1, bold=bad, colour=colour)
        self._tubes(sheet, box.adjusted(0, room.bottom() - box.top() + 2, 0, 0), distance, lengths, scale)

    def _tubes(self, sheet: Sheet, box: QRectF, distance: float, lengths: Lengths, scale: float) -> None:
        """The drawing of one shaft; grooves at both ends of the distance."""
        theme = sheet.theme
        left, y = box.left() + 4, box.center().y()
        thick = min(13.0, box.height() * 0.5)
        long = distance * scale
        a, b, closed = lengths.halves[0], lengths.halves[1], lengths.closed
        ends = ((a - lengths.cut) * scale, (b - lengths.cut) * scale)
        yokes = ((closed - b) * scale, (closed - a) * scale)
        bar_a = QRectF(left, y - thick / 2, max(0.0, min(ends[0], long + 4)), thick)
        bar_b = QRectF(left + max(-4.0, long - ends[1]), y - thick * 0.34, 0, thick * 0.68)
        bar_b.setRight(left + long)
        sheet.pen(theme.quiet, 1.2)
        sheet.fill(sheet.shade(0.22))
        sheet.painter.drawRect(bar_a)
        sheet.fill(sheet.shade(0.55))
        sheet.painter.drawRect(bar_b)
        self._overlapping(sheet, bar_a, bar_b)
        self._off(sheet, bar_a, bar_b, lengths.cut * scale, QRectF(left, y - thick / 2, long, thick))
        sheet.pen(theme.ink, 1.3)
        sheet.fill(sheet.shade(0.85))
        ends_of = ((left, yokes[0], "A"), (left + long - yokes[1], yokes[1], "B"))
        for x, wide, letter in ends_of:
            if wide <= 1:
                continue
            sheet.fill(sheet.shade(0.85))
            sheet.pen(theme.ink, 1.3)
            block = QRectF(x, y - thick * 0.78, wide, thick * 1.56)
            sheet.rounded(block, 3)
            if wide > 14 and block.height() > 13:
                sheet.fill(theme.ground)
                sheet.no_pen()
                sheet.disc(block.center(), block.height() * 0.42)
                sheet.words(block, letter, MIDDLE, change=-2, bold=True)
        sheet.pen(theme.accent, 1.6)
        for x in (left, left + long):
            sheet.line((x, y - thick), (x, y + thick))

    def _overlapping(self, sheet: Sheet, bar_a: QRectF, bar_b: QRectF) -> None:
        """Hatch where one tube is inside the other."""
        both = bar_a & QRectF(bar_b.left(), bar_a.top(), bar_b.width(), bar_a.height())
        if both.width() <= 1:
            return
        sheet.painter.fillRect(both, QColor(sheet.theme.chosen))
        sheet.painter.save()
        sheet.painter.setClipRect(both)
        sheet.pen(sheet.theme.accent, 1.2)
        x = both.left() - both.height()
        while x < both.right():
            sheet.line((x, both.bottom()), (x + both.height(), both.top()))
            x += 7
        sheet.painter.restore()
        sheet.fill(None)
        sheet.pen(sheet.theme.accent, 1.4)
        sheet.painter.drawRect(both)

    def _off(self, sheet: Sheet, bar_a: QRectF, bar_b: QRectF, cut: float, shaft: QRectF) -> None:
        """What is cut off each tube, dashed where it was."""
        if cut < 1:
            return
        sheet.fill(None)
        sheet.pen(sheet.ink(Verdict.PUT_RIGHT), 1.5, (2.2, 2.0))
        for box in (
            QRectF(bar_a.right(), shaft.top() - 3, cut, shaft.height() + 6),
            QRectF(bar_b.left() - cut, shaft.top() - 3, cut, shaft.height() + 6),
        ):
            sheet.painter.drawRect(box & shaft.adjusted(0, -4, 0, 4))

    def _chips(self, sheet: Sheet, area: QRectF) -> None:
        """The lengths that are entered: halves, closed, cut, and the proof after it."""
        slots = [slot for slot, _ in CHIPS if sheet.asked(slot)]
        if not slots:
            return
        words = dict(CHIPS)
        half = -(-len(slots) // 2)
        for row, band in zip((slots[:half], slots[half:]), split(area, (1, 1), 4, down=True), strict=True):
            shares = [sheet.width(words[slot], -2) + 60 for slot in row]
            for slot, box in zip(row, split(band, shares, 5), strict=True):
                sheet.plate(slot, box, 5)
                self._chip(sheet, box.adjusted(5, 1, -5, -1), slot, words[slot])

    def _chip(self, sheet: Sheet, box: QRectF, slot: Slot, words: Message) -> None:
        """The name of a length at the left, the length or its symbol at the right."""
        value = sheet.value(slot, _unit(sheet.job))
        wide = sheet.width(value, -1, bold=True) + 2 if value else min(12.0, box.height())
        name = QRectF(box.left(), box.top(), box.width() - wide - 4, box.height())
        sheet.words(name, words, LEFT, change=-2, colour=sheet.theme.quiet)
        if value:
            room = QRectF(name.right() + 4, box.top(), wide, box.height())
            sheet.words(room, value, RIGHT, change=-1, bold=True)
        else:
            sheet.symbol(sheet.verdict(slot), QPointF(box.right() - wide / 2, box.center().y()), wide)


CHIPS = (
    (Slot("driveline", "closed"), msg("closed")),
    (Slot("driveline", "half", "tractor"), msg("A tractor")),
    (Slot("driveline", "half", "machine"), msg("B machine")),
    (Slot("driveline", "cut"), msg("cut off")),
    (Slot("driveline", "gap_shortest"), msg("gap left")),
    (Slot("driveline", "overlap_longest"), msg("overlap")),
)


def _unit(job: OpenJob) -> str:
    """The unit of the tape."""
    return usual_unit(job, "driveline", "distance", job.profile.driveline.closed.typed.unit)


def _gap_said(gap: float, unit: str) -> Message:
    """What is left to push the shaft home, or by how much it is too long."""
    length = _length(gap, unit)
    return msg("gap {length}", length=length) if gap >= 0 else msg("too long by {length}", length=length)


def _overlap_said(overlap: float, unit: str) -> Message:
    """How far the tubes reach into one another, or how far apart they are."""
    length = _length(overlap, unit)
    return msg("overlap {length}", length=length) if overlap >= 0 else msg("apart by {length}", length=length)


def _length(value: float, unit: str) -> Amount:
    return Amount(abs(value), Kind.LENGTH, unit)


def _extreme(read: dict[str, float], key: str) -> Message | None:
    """Whether this place is the shortest or the longest of those read."""
    if key not in read or len(read) < 2 or max(read.values()) <= min(read.values()):
        return None
    if key == min(read, key=lambda each: read[each]):
        return SHORTEST
    return LONGEST if key == max(read, key=lambda each: read[each]) else None
