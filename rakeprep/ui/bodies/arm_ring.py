"""The arms of a rotor in a ring: hand and coil of each, or how far each stands out of the row."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainterPath

from rakeprep.calculations import Impossible
from rakeprep.calculations.arms import Ring, arms_past_one_place
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.profile import Side, Turning
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_arms import length, unit_typed
from rakeprep.steps._reading import ROTOR_NAMES, reading, shown
from rakeprep.steps.arms import arm_keys
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, Sheet, at_hour, split, usual_unit

OTHER = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
HAND_WORDS = {"left": msg("LH"), "right": msg("RH")}
HANDS = {"left": -1, "right": 1}
TURNS = {Turning.CLOCKWISE: msg("clockwise"), Turning.ANTICLOCKWISE: msg("anticlockwise")}

ONE_LINE = 32  # heights of a line; the legend has room in one line in a wider picture


@dataclass(frozen=True)
class Round:
    """A rotor on the picture: its middle, the reach of its arms, and the ring of its marks."""

    side: Side
    centre: QPointF
    reach: float
    marks: float
    size: float


class ArmRing(Body):
    """One rotor in full, the arms of the other one in a row below it."""

    TITLE = msg("Arms from above, arm 1 ahead")

    def title(self) -> Message:
        if self._job is None or self._slot is None:
            return self.TITLE
        rotor = ROTOR_NAMES[self._side()]
        if self._slot.step == "levelling":
            unit = _unit(self._job)
            return msg("{rotor}, every arm past one place, in {unit}", rotor=rotor, unit=verbatim(unit))
        return msg("{rotor} from above, arm 1 at the paint mark", rotor=rotor)

    def _side(self) -> Side:
        """The rotor of the task in hand."""
        place = self._slot.place if self._slot is not None else ""
        return Side.RIGHT if place == Side.RIGHT.value or place.startswith("RA") else Side.LEFT

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        side = self._side()
        count = sheet.job.profile.rotor_at(side).arms
        strip = min(area.height() * 0.2, sheet.row(-1) + 36)
        levelling = sheet.slot.step == "levelling"
        legend = sheet.row(-2) * (1 if area.width() > ONE_LINE * sheet.row(-2) else 2) + 4
        room = area.adjusted(0, 0, 0, -strip - legend - 8)
        whole = min(room.width(), room.height()) / 2
        size = max(8.0, min(whole * 0.115, math.pi * whole * 0.85 / max(count, 1) - 2))
        ring = Round(side, room.center(), whole - 2 * size - 14, whole - size, size)
        under = QRectF(area.left(), room.bottom() + 3, area.width(), legend)
        if levelling:
            self._row_of_arms(sheet, ring, under)
        else:
            self._hands(sheet, ring, under)
        bottom = QRectF(area.left(), area.bottom() - strip, area.width(), strip)
        self._strip(sheet, bottom, OTHER[side])

    # ------------------------------------------------------------------ hand and coil

    def _hands(self, sheet: Sheet, ring: Round, under: QRectF) -> None:
        """Each arm with its tines on the side that its hand puts them, and its coil."""
        theme, rotor = sheet.theme, sheet.job.profile.rotor_at(ring.side)
        sheet.fill(sheet.shade(0.05))
        sheet.pen(theme.line, 1.2, (0.2, 3.2))
        sheet.disc(ring.centre, ring.reach)
        keys = arm_keys(sheet.job.profile, ring.side)
        for number, key in enumerate(keys):
            self._arm(sheet, ring, key, 12 * number / len(keys), rotor.tines_per_arm)
        self._hub(sheet, ring, ring.reach * 0.3)
        for number, key in enumerate(keys):
            self._mark(sheet, ring, key, 12 * number / len(keys))
        words = msg("LH, RH: hand. Closed coil: winds up; open: opens.")
        sheet.words(under, words, MIDDLE, change=-2, colour=theme.quiet, lines=2)

    def _arm(self, sheet: Sheet, ring: Round, key: str, hour: float, tines: int) -> None:
        """One arm: dotted while its hand is not known; tines trail to the side of its hand."""
        hand = _word(sheet, "hand", key)
        slot = asked_of(sheet, key)
        wrong = sheet.verdict(slot).rank >= Verdict.PUT_RIGHT.rank
        colour = sheet.ink(Verdict.PUT_RIGHT) if wrong else QColor(sheet.theme.quiet)
        if sheet.current(slot):
            colour = QColor(sheet.theme.accent)
        trail = HANDS.get(hand, 0)
        start, end = (at_hour(ring.centre, ring.reach * share, hour) for share in (0.3, 0.97))
        sheet.fill(None)
        sheet.pen(colour, 2.6 if trail else 1.4, () if trail else (0.5, 2.5))
        sheet.line(start, end)
        if trail:
            sheet.pen(colour, 1.5)
            for tine in range(tines):
                share = 0.62 + 0.33 * tine / max(1, tines - 1)
                root = at_hour(ring.centre, ring.reach * share, hour)
                way = at_hour(QPointF(0, 0), ring.reach * 0.11, hour + trail * 2.3)
                sheet.line(root, root + way)
        self._coil(sheet, ring, key, hour, trail, colour)

    def _coil(self, sheet: Sheet, ring: Round, key: str, hour: float, trail: int, colour: QColor) -> None:
        """The coil on the arm: closed where it winds up, open with an arrow outward where it opens."""
        coil = _word(sheet, "coil", key)
        if not coil:
            return
        at = at_hour(ring.centre, ring.reach * 0.47, hour)
        radius = max(4.0, min(7.5, ring.reach * 0.055))
        sheet.pen(colour, 1.7)
        sheet.fill(sheet.theme.ground)
        if coil == "winds":
            sheet.disc(at, radius)
            sheet.disc(at, radius * 0.45)
            return
        box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
        sheet.fill(None)
        sheet.painter.drawArc(box, 40 * 16, 250 * 16)
        sheet.arrow(at + QPointF(radius * 0.3, 0), at + QPointF(radius * 2.3, -radius * 1.2), 4)

    def _hub(self, sheet: Sheet, ring: Round, radius: float) -> None:
        """The hub with the sense in which the rotor turns, and what was asked of the whole rotor."""
        theme, rotor = sheet.theme, sheet.job.profile.rotor_at(ring.side)
        slot = next(
            (
                s
                for field in (sheet.slot.field, "turning")
                if sheet.asked(s := Slot("arms", field, ring.side.value))
            ),
            Slot("arms", "turning", ring.side.value),
        )
        box = QRectF(ring.centre.x() - radius, ring.centre.y() - radius, 2 * radius, 2 * radius)
        sheet.plate(slot, box, radius)
        way = 1 if rotor.turning is Turning.CLOCKWISE else -1
        sheet.fill(None)
        sheet.pen(theme.ink, 2.0)
        arc = radius - 6
        if arc > 6:
            path = QPainterPath()
            turn = QRectF(ring.centre.x() - arc, ring.centre.y() - arc, 2 * arc, 2 * arc)
            path.arcMoveTo(turn, 90 + way * 52)
            path.arcTo(turn, 90 + way * 52, -way * 104)
            sheet.painter.drawPath(path)
            tip = at_hour(ring.centre, arc, way * 52 / 30)
            back = at_hour(ring.centre, arc, way * 44 / 30)
            sheet.arrow(back, tip, 6)
        side = min(18.0, radius * 0.5)
        sheet.symbol(sheet.verdict(slot), ring.centre + QPointF(0, radius * 0.48), side)
        words = QRectF(
            box.left() + 4, ring.centre.y() - sheet.row(-2) * 0.9, box.width() - 8, sheet.row(-2) * 1.5
        )
        if sheet.fits(TURNS[rotor.turning], words.width(), -2):  # else the arrow says it alone
            sheet.words(words, TURNS[rotor.turning], MIDDLE, change=-2, colour=theme.ink)

    def _mark(self, sheet: Sheet, ring: Round, key: str, hour: float) -> None:
        """The number of an arm on its ring, with its hand; its verdict where something is wrong."""
        slot = asked_of(sheet, key)
        at = at_hour(ring.centre, ring.marks, hour)
        size = ring.size
        box = QRectF(at.x() - size, at.y() - size, 2 * size, 2 * size)
        sheet.plate(slot, box, size)
        word = HAND_WORDS.get(_word(sheet, "hand", key))
        number = str(int(key[2:]))
        if size < 12 or word is None:
            sheet.words(box, number, MIDDLE, change=-1, bold=True)
        else:
            upper, lower = split(box.adjusted(2, 3, -2, -3), (1.15, 1), down=True)
            sheet.words(upper, number, MIDDLE, change=-1, bold=True)
            sheet.words(lower, word, MIDDLE, change=-2, colour=sheet.theme.quiet)
        self._verdict(sheet, ring, slot, hour)

    def _verdict(self, sheet: Sheet, ring: Round, slot: Slot, hour: float) -> None:
        """A symbol beside an arm's mark, unless there is nothing to say."""
        verdict = sheet.verdict(slot)
        if verdict in {Verdict.NOT_YET, Verdict.IN_ORDER}:
            return
        inward = at_hour(ring.centre, ring.marks - ring.size - 7, hour)
        sheet.symbol(verdict, inward, 14)

    # ------------------------------------------------------------------ every arm past one place

    def _row_of_arms(self, sheet: Sheet, ring: Round, under: QRectF) -> None:
        """The wave of all arms as a circle, the limit as a band, and each arm as a bar in or out of it."""
        facts, theme = sheet.facts("levelling"), sheet.theme
        keys = arm_keys(sheet.job.profile, ring.side)
        read = [reading(facts, "arm_clearance", key, "steel-rule") for key in keys]
        limit = facts.value(facts.profile.levelling.arm_tolerance)
        found = fitted([None if each is None else each.value for each in read], limit)
        zero, band = ring.reach * 0.72, ring.reach * 0.17
        sheet.fill(sheet.ground(Verdict.IN_ORDER))
        sheet.pen(sheet.ink(Verdict.IN_ORDER), 1.0, (3, 2.5))
        sheet.disc(ring.centre, zero + band)
        sheet.fill(theme.ground)
        sheet.disc(ring.centre, zero - band)
        sheet.fill(None)
        sheet.pen(theme.quiet, 1.3)
        sheet.disc(ring.centre, zero)
        self._hub(sheet, ring, ring.reach * 0.34)
        for number, key in enumerate(keys):
            hour = 12 * number / len(keys)
            out = found.departures[number] if found is not None else None
            if out is not None and found is not None and found.limit > 0:
                self._bar(
                    sheet, ring, hour, zero, band * out / found.limit, Slot("levelling", "arm_clearance", key)
                )
            self._reading(sheet, ring, key, hour)
        words = self._says(sheet, found, keys)
        sheet.words(under, words, MIDDLE, change=-2, colour=theme.quiet, lines=2)

    def _bar(self, sheet: Sheet, ring: Round, hour: float, zero: float, out: float, slot: Slot) -> None:
        """How far one arm stands out: outward is above the row, inward is below it."""
        verdict = sheet.verdict(slot)
        colour = QColor(sheet.theme.accent)
        if verdict.rank >= Verdict.MEASURE_AGAIN.rank:
            colour = sheet.ink(verdict)
        most = ring.reach - zero - 7
        out = max(-zero * 0.5, min(most, out))
        sheet.pen(colour, 5.0, round_end=False)
        end = at_hour(ring.centre, zero + out, hour)
        sheet.line(at_hour(ring.centre, zero, hour), end)
        sheet.no_pen()
        sheet.fill(colour)
        sheet.disc(end, 4.5)

    def _reading(self, sheet: Sheet, ring: Round, key: str, hour: float) -> None:
        """What was read at one arm, and its number."""
        slot = Slot("levelling", "arm_clearance", key)
        at = at_hour(ring.centre, ring.marks, hour)
        size = ring.size
        box = QRectF(at.x() - size, at.y() - size, 2 * size, 2 * size)
        sheet.plate(slot, box, size)
        value = sheet.value(slot, _unit(sheet.job))
        sheet.words(box.adjusted(1, 0, -1, 0), value or "", MIDDLE, change=0, bold=True)
        inward = at_hour(ring.centre, ring.marks - size - 10, hour)
        name = QRectF(inward.x() - 12, inward.y() - 8, 24, 16)
        verdict = sheet.verdict(slot)
        if verdict in {Verdict.NOT_YET, Verdict.IN_ORDER}:
            sheet.words(name, str(int(key[2:])), MIDDLE, change=-2, colour=sheet.theme.quiet)
        else:
            sheet.symbol(verdict, inward, 14)

    def _says(self, sheet: Sheet, found: Ring | None, keys: tuple[str, ...]) -> Message:
        """What the circle and the band mean, in figures once they are known."""
        tolerance = sheet.job.profile.levelling.arm_tolerance
        if found is None:
            return msg("Outward: above the row. Band: ± {limit}.", limit=shown(tolerance))
        unit = unit_typed(sheet.facts("levelling"), keys[0])
        return msg(
            "Outward: above the row. Middle {middle}, band ± {limit}.",
            middle=length(found.middle, unit),
            limit=length(found.limit, unit),
        )

    # ------------------------------------------------------------------ the other rotor

    def _strip(self, sheet: Sheet, area: QRectF, side: Side) -> None:
        """The arms of the other rotor in a row, with their verdicts."""
        head = sheet.row(-1) + 2
        name = QRectF(area.left(), area.top() - 2, area.width(), head)
        sheet.words(name, ROTOR_NAMES[side], LEFT, change=-1, colour=sheet.theme.quiet)
        keys = arm_keys(sheet.job.profile, side)
        row = area.adjusted(0, head, 0, 0)
        for key, box in zip(keys, split(row, (1,) * len(keys), 3), strict=True):
            slot = asked_of(sheet, key)
            sheet.plate(slot, box, 5)
            upper, lower = split(box.adjusted(1, 2, -1, -2), (1, 1), down=True)
            side_of = min(14.0, upper.height(), upper.width())
            sheet.symbol(sheet.verdict(slot), upper.center(), side_of)
            if sheet.fits(number := str(int(key[2:])), lower.width(), -2):
                sheet.words(lower, number, MIDDLE, change=-2)


def _unit(job: OpenJob) -> str:
    """The unit of the rule."""
    return usual_unit(job, "levelling", "arm_clearance", job.profile.levelling.arm_tolerance.typed.unit)


def asked_of(sheet: Sheet, key: str) -> Slot:
    """What an arm's mark opens: the question in hand where it is asked of arms, else its hand."""
    slot = Slot(sheet.slot.step, sheet.slot.field, key)
    return slot if sheet.asked(slot) else Slot("arms", "hand", key)


def fitted(read: list[float | None], limit: float | None) -> Ring | None:
    """The row of all arms; None while too few are read."""
    if limit is None:
        return None
    try:
        return arms_past_one_place(read, limit)
    except Impossible:
        return None


def _word(sheet: Sheet, field: str, key: str) -> str:
    """The option chosen at an arm."""
    entry = sheet.entry(Slot("arms", field, key))
    return "" if entry is None else next(iter(entry.chosen), "")
