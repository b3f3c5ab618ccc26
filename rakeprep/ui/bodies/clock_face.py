"""A rotor's clearances round the clock, the plane through them as level lines and from two sides."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainterPath

from rakeprep.drawing.clock import hour_of, in_gap, level_lines, widest_gap
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_known import Known
from rakeprep.steps._levelling_tilts import Tilt
from rakeprep.steps._reading import ROTOR_NAMES
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.rotor_plane import ADJUSTERS, known_of, to_do
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, RIGHT, TOP, Sheet, at_hour, split, usual_unit
from rakeprep.units import Amount

FORBIDDEN = msg("cam lifts the arm here: do not measure")
LEAST_FACE = 0.42  # of the height; with less left for it, what is to be done stands beside the picture only


@dataclass(frozen=True)
class Seen:
    """One view of a rotor: from where, its two ends, and what is said of its tilt.

    ``mirrored`` where the end that counts as positive stands at the left.
    """

    name: Message
    left: Message
    right: Message
    said: Callable[[Amount, bool], Message]
    mirrored: bool


class ClockFace(Body):
    """The face above, the tilt from the left side and from behind, and the adjusters by name."""

    TITLE = msg("Tine tip above the floor, seen from above")

    def title(self) -> Message:
        if self._job is None or self._slot is None:
            return self.TITLE
        unit, rotor = verbatim(_unit(self._job)), ROTOR_NAMES[self._side()]
        if self._slot.field == "floor":
            return msg("{rotor}: how much lower the floor is, in {unit}", rotor=rotor, unit=unit)
        return msg("{rotor}: tine tip above the floor, in {unit}", rotor=rotor, unit=unit)

    def _side(self) -> Side:
        """The rotor of the task in hand."""
        place = self._slot.place if self._slot is not None else ""
        return Side.RIGHT if place.startswith(Side.RIGHT.value) else Side.LEFT

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        side = self._side()
        known, wanted = known_of(sheet, side), to_do(sheet, side)
        slots = [Slot("levelling", key, side.value) for key in ADJUSTERS]
        slots = [slot for slot in slots if sheet.asked(slot)]
        line = sheet.row(-2) + 1
        chips = 2 * line + 4 if slots else 0.0
        room = area.width() - line - 6
        rows = 1 if not wanted else min(5, sum(sheet.lines(each.todo or "", room, -1) for each in wanted[:2]))
        words = rows * sheet.row(-1) + 6
        views = 3 * line + min(64.0, max(20.0, area.height() * 0.12))
        if area.height() - chips - words - views - 15 < LEAST_FACE * area.height():
            words = 0.0
        face = area.adjusted(0, 0, 0, -chips - words - views - 15)
        self._face(sheet, face, side, known)
        below = QRectF(area.left(), face.bottom() + 5, area.width(), views)
        self._views(sheet, below, known)
        under = QRectF(area.left(), below.bottom() + 5, area.width(), words)
        if words:
            self._to_do(sheet, under, known, wanted[:2])
        lower = QRectF(area.left(), area.bottom() - chips, area.width(), chips)
        for slot, box in zip(slots, split(lower, [1.0] * len(slots), 4), strict=True):
            self._adjuster(sheet, box, slot)

    # ------------------------------------------------------------------ the face

    def _face(self, sheet: Sheet, area: QRectF, side: Side, known: Known | None) -> None:
        """The tip circle with its readings; where the cam lifts the arm it is shaded and not asked.

        The circle is cut off below the lowest place that is read, so that the rest gets larger.
        """
        theme = sheet.theme
        hours = tuple(dict.fromkeys(sheet.job.profile.rotor_at(side).clock_places))
        lowest = max([-math.cos(math.radians(30 * hour)) for hour in hours], default=1.0)
        below = min(1.0, max(0.52, lowest))
        size = max(11.0, min(22.0, area.height() * 0.09))
        full = below >= 1.0
        radius = min(
            area.width() / 2 - size - 6,
            (area.height() - (2 if full or lowest > 0.3 else 1) * size - 2) / (1 + below),
        )
        centre = QPointF(area.center().x(), area.top() + size + radius)
        sheet.painter.save()
        sheet.painter.setClipRect(area)
        sheet.fill(sheet.shade(0.04))
        sheet.pen(theme.quiet, 1.4)
        sheet.disc(centre, radius)
        if known is not None:
            self._level_lines(sheet, centre, radius, known, radius - size - sheet.row(-2))
        self._shaded(sheet, centre, radius, hours, area)
        sheet.fill(None)
        sheet.pen(theme.quiet, 1.4)
        sheet.disc(centre, radius)
        sheet.painter.restore()
        row = sheet.row(-2)
        for way, align, words in ((-1, LEFT, msg("left")), (1, RIGHT, msg("right"))):
            x = area.left() if way < 0 else area.right() - 60
            sheet.words(QRectF(x, area.top(), 60, row), words, align, change=-2, colour=theme.quiet)
        for hour in hours:
            self._spot(sheet, centre, radius, size, side, hour)

    def _spot(self, sheet: Sheet, centre: QPointF, radius: float, size: float, side: Side, hour: int) -> None:
        """One reading at its place, the hour inside."""
        field = "floor" if sheet.slot.field == "floor" else "clearance"
        slot = Slot("levelling", field, f"{side}-{hour}")
        at = at_hour(centre, radius, hour)
        box = QRectF(at.x() - size, at.y() - size, 2 * size, 2 * size)
        sheet.plate(slot, box, size)
        value = sheet.value(slot, _unit(sheet.job))
        sheet.words(box.adjusted(2, 0, -2, 0), value, MIDDLE, change=2, bold=True)
        inward = at_hour(centre, radius - size - sheet.row(-2) * 0.62, hour)
        spot = QRectF(inward.x() - 14, inward.y() - 9, 28, 18)
        verdict = sheet.verdict(slot)
        if verdict in {Verdict.IN_ORDER, Verdict.NOT_YET}:
            sheet.words(spot, str(hour), MIDDLE, change=-2, colour=sheet.theme.quiet)
        else:
            sheet.symbol(verdict, inward, 15)

    def _shaded(
        self, sheet: Sheet, centre: QPointF, radius: float, hours: tuple[int, ...], area: QRectF
    ) -> None:
        """The part in which the cam holds the arm up, with the words that say so."""
        if not hours:
            return
        first, _, gap = widest_gap(hours)
        if gap < 3:
            return
        box = QRectF(centre.x() - radius, centre.y() - radius, 2 * radius, 2 * radius)
        margin = 0.5
        path = QPainterPath(centre)
        path.arcTo(box, 90 - 30 * (first + margin), -30 * (gap - 2 * margin))
        path.closeSubpath()
        sheet.painter.fillPath(path, sheet.shade(0.22))
        sheet.painter.fillPath(path, QBrush(sheet.shade(0.45), Qt.BrushStyle.BDiagPattern))
        middle = at_hour(centre, radius * 0.33, first + gap / 2)
        wide = min(radius * 1.2, 150.0 + radius * 0.2)
        rows = min(3, sheet.lines(FORBIDDEN, wide - 8, -2))
        high = sheet.row(-2) * rows + 4
        text = QRectF(middle.x() - wide / 2, middle.y() - high / 2, wide, high)
        text.moveBottom(min(text.bottom(), area.bottom() - 2))
        sheet.fill(sheet.theme.ground)
        sheet.no_pen()
        sheet.rounded(text, 6)
        sheet.words(text.adjusted(4, 1, -4, -1), FORBIDDEN, MIDDLE, change=-2, lines=rows)

    def _level_lines(self, sheet: Sheet, centre: QPointF, radius: float, known: Known, reach: float) -> None:
        """The plane as a map: lines of one height, each with its figure, and an arrow to the lowest point.

        Figures stand within ``reach`` of the centre, where the hours of the places leave room.
        """
        level_of = known.plane.level
        found = level_lines(level_of.centre.value, level_of.front_rear.value, level_of.right_left.value)
        if found is None:
            return
        uphill = QPointF(found.uphill[0], -found.uphill[1])
        level = QPointF(-uphill.y(), uphill.x())
        labels: list[tuple[QPointF, str]] = []
        sheet.fill(None)
        for height, share in found.lines:
            half = math.sqrt(max(0.0, 1 - share * share))
            middle = centre + uphill * radius * share
            sheet.pen(sheet.theme.accent, 1.3)
            sheet.line(middle - level * radius * half, middle + level * radius * half)
            amount = known.plane.length(height)
            sign = "−" if height < 0 else ""
            labels.append((middle, sign + sheet.say(msg("{amount}", amount=amount)).rsplit(" ", 1)[0]))
        start, end = centre + uphill * radius * 0.16, centre - uphill * radius * 0.22
        sheet.pen(sheet.theme.accent, 3.0)
        sheet.arrow(start, end, 9)
        self._figures(sheet, centre, (radius, reach), level if level.x() > 0 else -level, labels, known)
        words = msg("falls this way")
        wide = sheet.width(words, -2) + 4
        beside = QRectF(centre.x() + 11, centre.y() - radius * 0.2, wide, sheet.row(-2))
        if beside.width() < radius * 0.62 and radius > 90:
            sheet.no_pen()
            sheet.fill(sheet.theme.ground)
            sheet.rounded(beside, 4)
            sheet.words(beside, words, MIDDLE, change=-2, colour=sheet.theme.accent)

    def _figures(
        self,
        sheet: Sheet,
        centre: QPointF,
        reach: tuple[float, float],
        along: QPointF,
        labels: list[tuple[QPointF, str]],
        known: Known,
    ) -> None:
        """The height of each level line on it, where the arm can be read and nothing else stands."""
        last: QPointF | None = None
        for middle, text in labels:
            at = middle - along * reach[0] * 0.45
            wide = sheet.width(text, -2) + 6
            box = QRectF(at.x() - wide / 2, at.y() - sheet.row(-2) / 2, wide, sheet.row(-2))
            corners = (box.topLeft(), box.topRight(), box.bottomLeft(), box.bottomRight())
            far = max(math.dist((c.x(), c.y()), (centre.x(), centre.y())) for c in corners)
            hours = (hour_of((c.x() - centre.x(), centre.y() - c.y())) for c in corners)
            lifted = any(in_gap(known.plane.hours, hour) for hour in hours)
            near = last is not None and math.dist((at.x(), at.y()), (last.x(), last.y())) < sheet.row(-2) + 2
            if lifted or near or far > reach[1]:
                continue
            last = at
            sheet.no_pen()
            sheet.fill(sheet.theme.ground)
            sheet.rounded(box, 4)
            sheet.words(box, text, MIDDLE, change=-2, colour=sheet.theme.accent)

    # ------------------------------------------------------------------ from the side and from behind

    def _views(self, sheet: Sheet, area: QRectF, known: Known | None) -> None:
        """The tilt from the left side and from behind, exaggerated alike, over what is wanted."""
        left, right = split(area, (1, 1), 10)
        data, facts = sheet.job.profile.levelling, sheet.facts("levelling")
        lower = facts.value(data.front_lower) or 0.0
        views = (
            (left, known.front if known else None, -lower, facts.value(data.tolerance), FROM_LEFT),
            (right, known.right if known else None, 0.0, facts.value(data.cross_tolerance), FROM_BEHIND),
        )
        tallest = max(
            [abs(target) + (tolerance or 0.0) for _, _, target, tolerance, _ in views]
            + [abs(tilt.is_now.value) for _, tilt, _, _, _ in views if tilt]
        )
        for box, tilt, target, tolerance, words in views:
            self._view(sheet, box, tilt, (target, tolerance or 0.0), tallest, words, known)

    def _view(
        self,
        sheet: Sheet,
        box: QRectF,
        tilt: Tilt | None,
        wanted: tuple[float, float],
        tallest: float,
        seen: Seen,
        known: Known | None,
    ) -> None:
        """One view: the band that is wanted, the line that is there, which end is lower."""
        theme, row = sheet.theme, sheet.row(-2)
        top = QRectF(box.left(), box.top(), box.width(), row)
        sheet.words(top, seen.name, LEFT, change=-2, colour=theme.quiet)
        foot = QRectF(box.left(), box.bottom() - row - 2, box.width(), row + 2)
        ends = QRectF(box.left(), foot.top() - row, box.width(), row)
        room = QRectF(box.left() + 2, top.bottom() + 3, box.width() - 4, ends.top() - top.bottom() - 4)
        sheet.words(ends, seen.left, LEFT, change=-2, colour=theme.quiet)
        sheet.words(ends, seen.right, RIGHT, change=-2, colour=theme.quiet)
        y, scale = room.center().y(), room.height() * 0.46 / max(tallest / 2, 1e-9)

        def end(value: float) -> float:
            """How far above the middle the left end of the view stands; the right end mirrors it."""
            return (value if seen.mirrored else -value) / 2 * scale

        target, tolerance = wanted
        high, low = end(target + tolerance), end(target - tolerance)
        middle = QPointF(room.center().x(), y)
        sheet.fill(sheet.ground(Verdict.IN_ORDER))
        sheet.pen(sheet.ink(Verdict.IN_ORDER), 1.0, (3, 2.5))
        for way in (-1, 1):
            x = room.left() if way < 0 else room.right()
            sheet.shape(middle, (x, y + way * high), (x, y + way * low))
        sheet.pen(theme.line, 1.0, (1, 3))
        sheet.line((room.left(), y), (room.right(), y))
        if tilt is None or known is None:
            sheet.words(foot, msg("not enough readings yet"), LEFT, change=-2, colour=theme.quiet)
            return
        at = end(tilt.is_now.value)
        sheet.pen(sheet.ink(tilt.verdict) if tilt.verdict is not Verdict.IN_ORDER else theme.accent, 3.2)
        sheet.line((room.left(), y - at), (room.right(), y + at))
        self._said(sheet, foot, tilt, known, seen)

    def _said(self, sheet: Sheet, foot: QRectF, tilt: Tilt, known: Known, seen: Seen) -> None:
        """Which end is lower and by how much, with the verdict's symbol."""
        side = min(15.0, foot.height())
        sheet.symbol(tilt.verdict, QPointF(foot.left() + side / 2, foot.center().y()), side)
        lower = tilt.is_now.value <= 0
        said = seen.said(known.plane.length(tilt.is_now.value), lower)
        if sheet.say(said) == sheet.say(seen.said(known.plane.length(0.0), lower)):
            said = msg("level")
        sheet.words(
            foot.adjusted(side + 4, 0, 0, 0), said, LEFT, change=-1, bold=True, colour=sheet.ink(tilt.verdict)
        )

    # ------------------------------------------------------------------ the adjusters

    def _to_do(self, sheet: Sheet, box: QRectF, known: Known | None, wanted: list[Finding]) -> None:
        """What to turn now, in the words of the checks; or that there is nothing to turn."""
        if not wanted:
            words = msg("Four places or more, then the plane tells what to turn.")
            if known is not None:
                middle = known.plane.length(known.plane.level.centre.value)
                words = msg("Nothing to turn; {middle} in the middle.", middle=middle)
            sheet.words(box, words, LEFT, change=-1, colour=sheet.theme.quiet)
            return
        side = sheet.row(-1) + 1
        shares = [sheet.lines(each.todo or "", box.width() - side - 5, -1) for each in wanted]
        for each, part in zip(wanted, split(box, shares, 1, down=True), strict=True):
            sheet.symbol(each.verdict, QPointF(part.left() + side / 2, part.top() + side / 2), side)
            sheet.words(part.adjusted(side + 5, 0, 0, 0), each.todo or "", TOP, change=-1, lines=4)

    def _adjuster(self, sheet: Sheet, box: QRectF, slot: Slot) -> None:
        """One adjuster by name, and how far it was turned."""
        sheet.plate(slot, box, 6)
        inner, value = box.adjusted(3, 1, -3, -1), sheet.value(slot)
        if value:
            upper, inner = split(inner, (1, 1), down=True)
            sheet.words(upper, ADJUSTERS[slot.field], MIDDLE, change=-2)
            sheet.words(inner, msg("turned {value}", value=value), MIDDLE, change=-2, bold=True)
            return
        sheet.words(inner, ADJUSTERS[slot.field], MIDDLE, change=-2, lines=2)


def _front_said(now: Amount, lower: bool) -> Message:
    return msg("front {now} lower", now=now) if lower else msg("front {now} higher", now=now)


def _right_said(now: Amount, lower: bool) -> Message:
    return msg("right {now} lower", now=now) if lower else msg("right {now} higher", now=now)


# from where it is seen, the ends at the left and right of the view, and what is said of the tilt
FROM_LEFT = Seen(msg("from the left side"), msg("front"), msg("rear"), _front_said, mirrored=True)
FROM_BEHIND = Seen(msg("from behind"), msg("left"), msg("right"), _right_said, mirrored=False)


def _unit(job: OpenJob) -> str:
    """The unit of the rule."""
    return usual_unit(job, "levelling", "clearance", job.profile.levelling.front_lower.typed.unit)
