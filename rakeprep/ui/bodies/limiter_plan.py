"""Both rotors lifted over the windrow at the headland, and the limiter that decides how high."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from rakeprep.model.entry import Slot
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import SIDES, shown
from rakeprep.text import msg
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.plate import answer_plate, tie
from rakeprep.ui.bodies.sheet import LEFT, Sheet, split

HOLES = 9
TRIAL = (("limiter_hole", ""), ("limiter_change", ""), ("limiter_effect", ""))


class LimiterPlan(Body):
    """From behind: the windrow as high as the tines must clear it, the tines as high as they were read."""

    TITLE = msg("The headland, seen from behind")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        rear, plates, strip, trial = split(area, (1.5, 0.8, 0.55, 0.95), 8, down=True)
        boxes = split(plates, (1, 1), 10)
        tines = self._rear(sheet, rear)
        for side, box, at in zip(SIDES, boxes, tines, strict=True):
            slot = Slot("width", "headland_clearance", side.value)
            if sheet.asked(slot):
                now = sheet.current(slot)
                sheet.pen(sheet.theme.accent if now else sheet.theme.line, 1.8 if now else 1.0)
                sheet.line((at.x(), box.top()), at)
            name = sheet.job.assessment.states[slot].task.place.name if sheet.asked(slot) else None
            answer_plate(sheet, slot, box, name)
        pins = self._strip(sheet, strip)
        for (field, place), box, to in zip(TRIAL, split(trial, (1, 1, 1), 7), pins, strict=True):
            slot = Slot("width", field, place)
            if to is not None:
                upward = QRectF(box.center().x(), box.top(), 0, 0)
                tie(sheet, slot, upward, to)
            answer_plate(sheet, slot, box)

    # ------------------------------------------------------------------ from behind

    def _rear(self, sheet: Sheet, area: QRectF) -> list[QPointF]:
        """Rotors, ground and windrow to scale; gives where the clearance of each rotor is."""
        facts, profile, theme = sheet.facts("width"), sheet.job.profile, sheet.theme
        wanted = facts.value(profile.width.headland_clearance) or 0.0
        wide = facts.value(profile.width.wide) or 0.0
        circles = [facts.value(r.tip_circle) or 0.0 for r in (profile.rotor.left, profile.rotor.right)]
        row = sheet.row(-1)
        head = QRectF(area.left(), area.top(), area.width(), row)
        limit = msg("at least {limit} under the tines", limit=shown(profile.width.headland_clearance))
        sheet.words(head, limit, LEFT, change=-1)
        ground = area.bottom() - 4
        sheet.pen(theme.line, 1.4)
        sheet.line((area.left(), ground), (area.right(), ground))
        wide = max(wide, sum(circles), 1.0)
        scale = min((area.width() - 16) / wide, (area.height() - row) * 0.5 / max(wanted, 0.1))
        middle = area.center().x()
        self._windrow(sheet, QPointF(middle, ground), wanted * scale)
        top = area.top() + row + 6
        found = []
        for side, circle, way in zip(SIDES, circles, (-1, 1), strict=True):
            read = facts.number("headland_clearance", side.value)
            least = min(0.0 if read is None else max(0.0, read), 1e3)
            lift = min((wanted if read is None else least) * scale, ground - top - 12)
            outer = middle + way * min(wide * scale / 2, area.width() / 2 - 8)
            self._rotor(sheet, outer, outer - way * circle * scale, ground - lift, top, read is not None)
            at = QPointF(outer - way * 6, ground)
            verdict = sheet.verdict(Slot("width", "headland_clearance", side.value))
            sheet.pen(theme.accent if verdict is Verdict.NOT_YET else sheet.ink(verdict), 1.8)
            sheet.measure(at, QPointF(at.x(), ground - lift))
            found.append(at)
        return found

    def _windrow(self, sheet: Sheet, foot: QPointF, high: float) -> None:
        """The heap between the rotors, as high as has to be cleared."""
        half = max(12.0, high * 1.4)
        path = QPainterPath(foot - QPointF(half, 0))
        path.cubicTo(
            foot - QPointF(half * 0.4, high * 1.33),
            foot + QPointF(half * 0.4, -high * 1.33),
            foot + QPointF(half, 0),
        )
        sheet.fill(sheet.shade(0.35))
        sheet.pen(sheet.theme.quiet, 1.2)
        sheet.painter.drawPath(path)

    def _rotor(self, sheet: Sheet, start: float, end: float, tips: float, top: float, read: bool) -> None:
        """A rotor whose tines end at ``tips``; dashed where nothing was read."""
        arms = max(top + 4, tips - 22)
        sheet.fill(None)
        sheet.pen(
            sheet.theme.ink if read else sheet.theme.quiet, 1.8 if read else 1.2, () if read else (4, 3)
        )
        sheet.line((start, arms + 3), ((start + end) / 2, arms), (end, arms + 3))
        for share in (0.0, 0.06, 0.12, 0.88, 0.94, 1.0):
            x = start + (end - start) * share
            sheet.line((x, arms + 3), (x, tips))
        sheet.fill(sheet.shade(0.5))
        sheet.rounded(QRectF((start + end) / 2 - 6, arms - 6, 12, 12), 3)

    # ------------------------------------------------------------------ the limiter

    def _strip(self, sheet: Sheet, area: QRectF) -> tuple[QPointF | None, ...]:
        """The row of holes with the pin, and where it went in the trial; gives what the plates are about."""
        theme = sheet.theme
        bar = QRectF(area.left() + 6, area.center().y() - 9, area.width() - 12, 18)
        sheet.fill(sheet.shade(0.2))
        sheet.pen(theme.quiet, 1.3)
        sheet.rounded(bar, 9)
        apart = bar.width() / HOLES
        holes = [QPointF(bar.left() + apart * (n + 0.5), bar.center().y()) for n in range(HOLES)]
        sheet.fill(theme.ground)
        sheet.pen(theme.ink, 1.2)
        for hole in holes:
            sheet.disc(hole, 5.0)
        sheet.fill(theme.ink)
        sheet.disc(holes[HOLES // 2], 5.0)
        moved = sheet.facts("width").number("limiter_change")
        if moved:
            way = 1 if moved > 0 else -1
            sheet.pen(theme.accent, 2.0)
            start = holes[HOLES // 2] - QPointF(0, 12)
            sheet.arrow(start, start + QPointF(way * 2 * apart, 0))
        return (holes[1], holes[HOLES // 2], None)
