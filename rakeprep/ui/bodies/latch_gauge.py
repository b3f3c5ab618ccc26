"""How deep each transport latch has dropped, against its full depth and tolerance."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor

from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.profile import Latch
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import reading, shown
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, TOP, Sheet, split, usual_unit
from rakeprep.units import Amount, Kind

CHECKS = (("pull_test", msg("pull test")), ("cord", msg("cord")))
BEYOND = 1.25  # the scale reaches this far beyond full depth


class LatchGauge(Body):
    """Every latch as a bolt in its bore, cut open, drawn to the scale of its full depth."""

    TITLE = msg("How deep the latch has dropped")

    def title(self) -> Message:
        if self._job is None:
            return self.TITLE
        return msg("How deep the latch has dropped, in {unit}", unit=verbatim(_unit(self._job)))

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        latches = sheet.job.profile.latch
        if not latches:
            sheet.words(area, msg("This machine has no transport latch."), MIDDLE)
            return
        for latch, box in zip(latches, split(area, (1,) * len(latches), 14), strict=True):
            wide = min(box.width(), 280.0)
            self._latch(sheet, QRectF(box.center().x() - wide / 2, box.top(), wide, box.height()), latch)

    def _latch(self, sheet: Sheet, box: QRectF, latch: Latch) -> None:
        """Name, bolt in its bore, reading with verdict, and what else is asked of this latch."""
        row = sheet.row()
        name = QRectF(box.left(), box.top(), box.width(), 2 * row)
        sheet.words(name, latch.name, MIDDLE, change=-1, lines=2)
        checks = [(Slot("guards", key, latch.key), words) for key, words in CHECKS]
        checks = [(slot, words) for slot, words in checks if sheet.asked(slot)]
        high = min(30.0, max(row + 4, box.height() * 0.09))
        foot = QRectF(
            box.left(), box.bottom() - (high + 5) * len(checks), box.width(), (high + 5) * len(checks)
        )
        for (slot, words), line in zip(checks, split(foot, (1,) * len(checks), 5, down=True), strict=True):
            self._check(sheet, line, slot, words)
        plate = QRectF(box.left(), foot.top() - 2 * row - 14, box.width(), 2 * row + 8)
        self._bore(
            sheet, QRectF(box.left(), name.bottom() + 4, box.width(), plate.top() - name.bottom() - 10), latch
        )
        self._reading(sheet, plate, latch)

    def _check(self, sheet: Sheet, box: QRectF, slot: Slot, words: Message) -> None:
        sheet.plate(slot, box, 6)
        side = min(16.0, box.height() - 4)
        sheet.symbol(sheet.verdict(slot), QPointF(box.left() + 7 + side / 2, box.center().y()), side)
        sheet.words(box.adjusted(side + 12, 1, -4, -1), words, LEFT, change=-1, lines=2)

    def _reading(self, sheet: Sheet, box: QRectF, latch: Latch) -> None:
        """The depth read, of the full one, with the verdict's word."""
        slot = Slot("guards", "depth", latch.key)
        sheet.plate(slot, box)
        verdict, value = sheet.verdict(slot), sheet.value(slot, _unit(sheet.job))
        side = min(20.0, box.height() - 6)
        sheet.symbol(verdict, QPointF(box.left() + 9 + side / 2, box.center().y()), side)
        words = box.adjusted(side + 15, 2, -5, -2)
        upper, lower = split(words, (1.15, 1), down=True)
        of = msg("{read} of {full}", read=value or "–", full=shown(latch.depth))
        sheet.words(upper, of, LEFT, change=1, bold=True)
        sheet.words(lower, verdict.word, LEFT, change=-1, colour=sheet.ink(verdict))

    def _bore(self, sheet: Sheet, box: QRectF, latch: Latch) -> None:
        """The bolt as deep as it was read, the full depth as a line, the tolerance as a band."""
        facts, theme = sheet.facts("guards"), sheet.theme
        full, tolerance = facts.value(latch.depth), facts.value(latch.tolerance)
        if full is None or tolerance is None or full <= 0 or box.height() < 30:
            return
        read = reading(facts, "depth", latch.key, "tape")
        head = box.height() * 0.24
        top, scale = box.top() + head, (box.height() - head) / (full * BEYOND)
        bore = min(64.0, box.width() * 0.27)
        x = box.left() + box.width() * 0.3

        def level(depth: float) -> float:
            return min(box.bottom(), max(box.top() + 6, top + depth * scale))

        wall = min(20.0, box.width() * 0.12)
        sheet.fill(sheet.shade(0.32))
        sheet.pen(theme.quiet, 1.2)
        for left in (x - bore / 2 - wall, x + bore / 2):
            sheet.painter.drawRect(QRectF(left, top, wall, box.bottom() - top))
        self._band(sheet, QRectF(x - bore / 2, level(full - tolerance), bore + wall + 7, 0), level(full))
        depth = 0.0 if read is None else min(full * BEYOND, max(-full * 0.2, read.value))
        end = level(depth)
        self._bolt(
            sheet, x, bore, QRectF(box.left(), box.top(), box.width(), end - box.top()), read is not None
        )
        row = sheet.row(-2)
        room = QRectF(x + bore / 2 + wall + 9, 0, box.right() - x - bore / 2 - wall - 9, row)
        least = Amount(full - tolerance, Kind.LENGTH, latch.depth.typed.unit, toward="up")
        over = room.translated(0, level(full - tolerance) - row * 0.75)
        under = room.translated(0, max(level(full) - row * 0.25, over.bottom()))
        sheet.words(over, msg("from {depth}", depth=least), LEFT, change=-2, colour=theme.quiet)
        words = msg("full {depth}", depth=shown(latch.depth))
        under.setHeight(min(2, sheet.lines(words, under.width(), -2)) * row)
        sheet.words(under, words, TOP, change=-2, colour=theme.quiet, lines=2)
        if read is not None:
            sheet.pen(theme.accent, 1.6)
            start = QPointF(box.left() + 4, end)
            sheet.line(start, (x - bore / 2, end))
            sheet.measure(QPointF(box.left() + 8, top), QPointF(box.left() + 8, end))

    def _band(self, sheet: Sheet, box: QRectF, bottom: float) -> None:
        """The depths that count as fully in."""
        box.setBottom(max(bottom, box.top() + 2))
        sheet.fill(sheet.ground(Verdict.IN_ORDER))
        sheet.pen(sheet.ink(Verdict.IN_ORDER), 1.0, (3, 2.5))
        sheet.painter.drawRect(box)

    def _bolt(self, sheet: Sheet, x: float, bore: float, box: QRectF, read: bool) -> None:
        """The bolt with its handle; dashed while nothing was read."""
        theme = sheet.theme
        wide = bore - 6
        sheet.fill(QColor(theme.quiet) if read else None)
        sheet.pen(theme.ink, 1.4, () if read else (3, 2.5))
        sheet.rounded(QRectF(x - wide / 2, box.top() + 5, wide, max(4.0, box.height() - 5)), 3)
        sheet.fill(theme.ground)
        sheet.rounded(QRectF(x - wide * 0.95, box.top(), wide * 1.9, 9), 4)


def _unit(job: OpenJob) -> str:
    """The unit of the rule."""
    printed = job.profile.latch[0].depth.typed.unit if job.profile.latch else "mm"
    return usual_unit(job, "guards", "depth", printed)
