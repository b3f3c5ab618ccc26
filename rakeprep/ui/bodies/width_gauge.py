"""What the width gauge shows against what the tape shows, at both ends."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor

from rakeprep.model.entry import Slot
from rakeprep.model.finding import Finding
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import reading, shown
from rakeprep.steps._width_gauge import small_unit
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, RIGHT, TOP, Sheet, split
from rakeprep.units import Amount, Kind

ENDS = (("narrow", msg("narrowest")), ("wide", msg("widest")))
GAUGE, TAPE = msg("gauge"), msg("tape")
REACH = 2.6  # the lens shows this many tolerances to either side


class WidthGauge(Body):
    """The machine from behind at both widths to scale; a lens on pointer and tape for each."""

    TITLE = msg("Gauge against tape, machine seen from behind")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        says = self._finding(sheet)
        high = 3 * sheet.row(-1) if says is not None else 0.0
        for (key, words), box in zip(
            ENDS, split(area.adjusted(0, 0, 0, -high), (1, 1), 10, down=True), strict=True
        ):
            self._end(sheet, box, key, words)
        if says is not None:
            foot = QRectF(area.left(), area.bottom() - high + 4, area.width(), high - 4)
            side = min(18.0, sheet.row())
            sheet.symbol(says.verdict, QPointF(foot.left() + side / 2, foot.top() + side / 2 + 1), side)
            sheet.words(foot.adjusted(side + 6, 0, 0, 0), says.says, TOP, change=-1, lines=3)

    def _finding(self, sheet: Sheet) -> Finding | None:
        """What the checks say about gauge and tape together."""
        about = Slot("width", "working", "narrow"), Slot("width", "working", "wide")
        found = [f for f in sheet.job.assessment.findings if f.about and f.about[0] in about]
        return max(found, key=lambda each: each.verdict.rank, default=None)

    def _end(self, sheet: Sheet, box: QRectF, key: str, words: Message) -> None:
        """One end: the machine, both readings, and the lens."""
        row = sheet.row(-1)
        machine = QRectF(
            box.left(), box.top(), box.width(), box.height() * (0.4 if box.height() > 120 else 0.32)
        )
        self._machine(sheet, machine, key, words)
        chips = QRectF(box.left(), machine.bottom() + 3, box.width(), min(2 * row + 6, box.height() * 0.26))
        fields = (("gauge_reading", GAUGE), ("working", TAPE))
        for (field, name), chip in zip(fields, split(chips, (1, 1), 8), strict=True):
            self._reading(sheet, chip, Slot("width", field, key), name)
        lens = QRectF(box.left(), chips.bottom() + 4, box.width(), box.bottom() - chips.bottom() - 4)
        self._lens(sheet, lens, key)

    def _reading(self, sheet: Sheet, box: QRectF, slot: Slot, name: Message) -> None:
        sheet.plate(slot, box)
        side = min(16.0, box.height() - 6)
        sheet.symbol(sheet.verdict(slot), QPointF(box.left() + 8 + side / 2, box.center().y()), side)
        words = box.adjusted(side + 14, 1, -6, -1)
        wide = sheet.width(name, -1) + 6
        sheet.words(QRectF(words.left(), words.top(), wide, words.height()), name, LEFT, change=-1)
        value = sheet.value(slot)
        sheet.words(words.adjusted(wide, 0, 0, 0), value or "–", RIGHT, change=1, bold=True)

    def _machine(self, sheet: Sheet, box: QRectF, key: str, words: Message) -> None:
        """Both rotors from behind as far apart as the data say, with the width from tip to tip."""
        facts, profile, theme = sheet.facts("width"), sheet.job.profile, sheet.theme
        printed = profile.width.narrow if key == "narrow" else profile.width.wide
        width, widest = facts.value(printed), facts.value(profile.width.wide)
        circles = facts.value(profile.rotor.left.tip_circle), facts.value(profile.rotor.right.tip_circle)
        row = sheet.row(-1)
        head = QRectF(box.left(), box.top(), box.width(), row)
        said = msg("{end}, {width} by the machine data", end=words, width=verbatim(printed.typed.text))
        sheet.words(head, said, LEFT, change=-1, bold=True)
        if width is None or widest is None or None in circles or min(width, widest) <= 0:
            return
        room = box.adjusted(0, row + 2, 0, 0)
        scale = (room.width() - 20) / max(widest, width)
        middle, ground = room.center().x(), room.bottom() - 4
        left, right = middle - width * scale / 2, middle + width * scale / 2
        y = room.top() + room.height() * 0.24
        sheet.pen(theme.accent, 1.7)
        sheet.measure(QPointF(left, y), QPointF(right, y), 6)
        for x in (left, right):
            sheet.pen(theme.accent, 1.0, (3, 3))
            sheet.line((x, y), (x, ground))
        sheet.pen(theme.line, 1.2)
        sheet.line((room.left(), ground), (room.right(), ground))
        for start, circle, way in ((left, circles[0] or 0.0, 1), (right, circles[1] or 0.0, -1)):
            self._rotor(sheet, start, start + way * circle * scale, y, ground)
        frame = QRectF(middle - 7, y + (ground - y) * 0.3, 14, (ground - y) * 0.5)
        sheet.fill(sheet.shade(0.6))
        sheet.pen(theme.quiet, 1.2)
        sheet.rounded(frame, 3)

    def _rotor(self, sheet: Sheet, start: float, end: float, top: float, ground: float) -> None:
        """One rotor from behind: hub, arms to both sides, tines down to the floor."""
        hub, middle = top + (ground - top) * 0.42, (start + end) / 2
        sheet.pen(sheet.theme.quiet, 2.0)
        sheet.line((start, hub + 4), (middle, hub), (end, hub + 4))
        sheet.pen(sheet.theme.quiet, 1.2)
        for share in (0.0, 0.07, 0.14, 0.86, 0.93, 1.0):
            x = start + (end - start) * share
            sheet.line((x, hub + 4), (x, ground - 3))
        sheet.fill(sheet.shade(0.5))
        sheet.rounded(QRectF(middle - 6, hub - 6, 12, 12), 3)

    def _lens(self, sheet: Sheet, box: QRectF, key: str) -> None:
        """The strip around the gauge's reading, enlarged: where the tape says it should point."""
        facts, theme = sheet.facts("width"), sheet.theme
        tolerance = facts.value(sheet.job.profile.width.gauge_tolerance)
        if tolerance is None or tolerance <= 0 or box.height() < 24:
            return
        row = sheet.row(-2)
        strip = QRectF(box.left() + 8, 0, box.width() - 16, min(30.0, box.height() - row - 10))
        strip.moveBottom(box.bottom() - row - 3)
        middle, scale = strip.center().x(), strip.width() / (2 * REACH * tolerance)
        sheet.fill(theme.panel)
        sheet.pen(theme.line, 1.1)
        sheet.rounded(strip, 4)
        sheet.fill(sheet.ground(Verdict.IN_ORDER))
        sheet.pen(sheet.ink(Verdict.IN_ORDER), 1.0, (3, 2.5))
        sheet.painter.drawRect(
            QRectF(middle - tolerance * scale, strip.top(), 2 * tolerance * scale, strip.height())
        )
        sheet.fill(theme.ink)
        sheet.no_pen()
        sheet.shape((middle - 6, strip.top() - 6), (middle + 6, strip.top() - 6), (middle, strip.top() + 5))
        pointer, tape = facts.number("gauge_reading", key), reading(facts, "working", key, "width-tape")
        foot = QRectF(box.left(), box.bottom() - row, box.width(), row)
        limit = shown(sheet.job.profile.width.gauge_tolerance)
        if pointer is None or tape is None or abs(pointer) > 1e6 or abs(tape.value) > 1e6:
            words = msg("band ± {limit} around the pointer", limit=limit)
            sheet.words(foot, words, MIDDLE, change=-2, colour=theme.quiet)
            return
        off = tape.value - pointer
        at = middle + max(-REACH, min(REACH, off / tolerance)) * tolerance * scale
        doubt = min(REACH * tolerance, tape.doubt) * scale
        inside = abs(off) <= tolerance
        colour = QColor(theme.accent) if inside else sheet.ink(Verdict.PUT_RIGHT)
        sheet.pen(colour, 2.0)
        y = strip.center().y() + 2
        sheet.line((max(strip.left(), at - doubt), y), (min(strip.right(), at + doubt), y))
        sheet.pen(colour, 3.4)
        sheet.line((at, strip.top() + 3), (at, strip.bottom()))
        entry = sheet.entry(Slot("width", "working", key))
        unit = small_unit(entry.unit if entry is not None else "m")
        amount = Amount(abs(off), Kind.LENGTH, unit)
        more = msg("tape {off} more than the gauge; band ± {limit}", off=amount, limit=limit)
        less = msg("tape {off} less than the gauge; band ± {limit}", off=amount, limit=limit)
        same = msg("tape and gauge agree; band ± {limit}", limit=limit)
        sheet.words(
            foot, same if abs(off) < 5e-4 else more if off > 0 else less, MIDDLE, change=-2, colour=colour
        )
