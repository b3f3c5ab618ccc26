"""The test run in the order in which it happens, with what was timed and read on the way."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor

from rakeprep.model.entry import Slot
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict, worst
from rakeprep.steps._reading import LARGEST, SIDES, reading, shown
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, RIGHT, Sheet, slots_of, split

STEP = "test_run"
LETTERS = {Side.LEFT: msg("left"), Side.RIGHT: msg("right")}
AFTER = (
    ("leaks", msg("dry")),
    ("second_torque", msg("torque")),
    ("wheel_nuts", msg("wheel nuts")),
    ("pull_latch", msg("latch")),
    ("pull_hub", msg("hubs")),
)
LOWEST = 16  # rows of words; a lower picture only has a plate for each station
Paint = Callable[[Sheet, QRectF], None]


@dataclass(frozen=True)
class Station:
    """One stretch of the run: its name, what is asked in it, how much height it wants, how it is drawn."""

    name: Message
    fields: tuple[str, ...]
    share: float
    paint: Paint


class RunTimeline(Body):
    """Down the left side the time, one station below the other; beside it what was seen."""

    TITLE = msg("The run from start to stop")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        stations = [s for s in self._stations(sheet) if any(_slots(sheet, field) for field in s.fields)]
        if area.height() < LOWEST * sheet.row(-1):
            self._in_short(sheet, area, stations)
            return
        boxes = split(area, [s.share for s in stations], 5, down=True)
        x = area.left() + 11
        sheet.pen(sheet.theme.line, 3.0)
        sheet.line((x, boxes[0].center().y()), (x, boxes[-1].center().y()))
        wide = min(area.width() * 0.27, self._names_room(sheet, stations))
        for station, box in zip(stations, boxes, strict=True):
            slots = [slot for field in station.fields for slot in _slots(sheet, field)]
            verdict = worst([sheet.verdict(slot) for slot in slots if not _missing_is_fine(sheet, slot)])
            now = sheet.slot.field in station.fields
            sheet.fill(sheet.theme.ground)
            sheet.no_pen()
            sheet.disc(QPointF(x, box.center().y()), 12)
            sheet.symbol(verdict, QPointF(x, box.center().y()), 19)
            name = QRectF(area.left() + 26, box.top(), wide, box.height())
            colour = sheet.theme.accent if now else sheet.theme.ink
            sheet.words(name, station.name, LEFT, change=-1, bold=now, colour=colour, lines=3)
            station.paint(
                sheet, QRectF(name.right() + 6, box.top(), area.right() - name.right() - 6, box.height())
            )

    def _in_short(self, sheet: Sheet, area: QRectF, stations: Sequence[Station]) -> None:
        """One plate for each station where there is no room for more; it opens what is next there."""
        for station, box in zip(stations, split(area, (1,) * len(stations), 4, down=True), strict=True):
            slots = [slot for field in station.fields for slot in _slots(sheet, field)]
            wanted = [slot for slot in slots if not _missing_is_fine(sheet, slot)] or slots
            now = sheet.slot if sheet.slot in slots else None
            todo = [slot for slot in wanted if sheet.verdict(slot) is not Verdict.IN_ORDER]
            slot = now or (todo or wanted)[0]
            sheet.plate(slot, box)
            side = min(19.0, box.height() - 4)
            verdict = worst([sheet.verdict(each) for each in wanted])
            sheet.symbol(verdict, QPointF(box.left() + 8 + side / 2, box.center().y()), side)
            done = msg("{n} of {all}", n=len(wanted) - len(todo), all=len(wanted))
            wide = sheet.width(done, -1) + 4
            room = box.adjusted(side + 16, 0, -wide - 10, 0)
            sheet.words(room, station.name, LEFT, change=-1, bold=now is not None)
            beside = QRectF(box.right() - wide - 6, box.top(), wide, box.height())
            sheet.words(beside, done, RIGHT, change=-1, colour=sheet.theme.quiet)

    def _names_room(self, sheet: Sheet, stations: Sequence[Station]) -> float:
        """Room for the names in two lines, and for their longest word."""
        names = [sheet.say(station.name) for station in stations]
        words = [word for name in names for word in name.split()]
        halves = max(sheet.width(name, -1, bold=True) for name in names) / 1.8
        return max(halves, *(sheet.width(word, -1, bold=True) for word in words)) + 4

    def _stations(self, sheet: Sheet) -> tuple[Station, ...]:
        gearboxes = max(1, len(sheet.job.profile.gearbox))
        return (
            Station(msg("everyone clear"), ("clear",), 0.9, self._clear),
            Station(msg("at idle: it turns"), ("direction",), 1.0, self._direction),
            Station(msg("working speed"), ("run_time", "noise", "knocks", "knock_time"), 1.9, self._running),
            Station(msg("runs down"), ("coast_down",), 1.7, self._coast),
            Station(
                msg("heat within 2 minutes"),
                ("ambient", "surface_temperature"),
                0.5 + 0.62 * gearboxes,
                self._heat,
            ),
            Station(msg("look, tighten, pull"), tuple(key for key, _ in AFTER), 1.9, self._after),
        )

    # ------------------------------------------------------------------ start

    def _clear(self, sheet: Sheet, box: QRectF) -> None:
        slot = Slot(STEP, "clear")
        entry = sheet.entry(slot)
        words: Message | str = (
            msg("by {who}", who=verbatim(entry.who)) if entry is not None else msg("not said yet")
        )
        _chip(sheet, box, slot, words)

    def _direction(self, sheet: Sheet, box: QRectF) -> None:
        """Both rotors with the sense that was seen."""
        for side, part in zip(SIDES, split(box, (1, 1), 6), strict=True):
            slot = Slot(STEP, "direction", side.value)
            entry = sheet.entry(slot)
            seen = "" if entry is None else next(iter(entry.chosen), "")
            sheet.plate(slot, part)
            radius = min(13.0, part.height() * 0.36)
            at = QPointF(part.left() + 8 + radius, part.center().y())
            self._sense(sheet, at, radius, seen)
            words = part.adjusted(2 * radius + 15, 1, -4, -1)
            sheet.words(words, LETTERS[side], LEFT, change=-1, bold=bool(seen))
            side_of = min(14.0, part.height() - 4)
            if sheet.verdict(slot) not in {Verdict.IN_ORDER, Verdict.NOT_YET}:
                sheet.symbol(sheet.verdict(slot), QPointF(part.right() - 11, part.center().y()), side_of)

    def _sense(self, sheet: Sheet, at: QPointF, radius: float, seen: str) -> None:
        """A circle with the arrow of a rotor that turns; dotted while nobody has looked."""
        sheet.fill(None)
        if not seen:
            sheet.pen(sheet.theme.quiet, 1.4, (0.5, 2.5))
            sheet.disc(at, radius)
            return
        way = 1 if seen == "clockwise" else -1
        sheet.pen(sheet.theme.ink, 2.2)
        box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
        # open in front; the head stands where the arc comes round to the front again
        sheet.painter.drawArc(box, (90 - way * 45) * 16, -way * 270 * 16)
        tip = at + QPointF(-way * 0.707, -0.707) * radius
        sheet.arrow(tip - QPointF(way * 2, -2), tip + QPointF(way * 3, -3), 6)

    # ------------------------------------------------------------------ running

    def _running(self, sheet: Sheet, box: QRectF) -> None:
        """How long it ran against how long it should, and what was heard."""
        upper, lower = split(box, (1, 1), 4, down=True)
        slot, facts = Slot(STEP, "run_time"), sheet.facts(STEP)
        sheet.plate(slot, upper)
        duration = sheet.job.profile.test_run.duration
        wanted, ran = facts.value(duration), facts.number("run_time")
        words = msg("{ran} of {wanted}", ran=sheet.value(slot) or "–", wanted=shown(duration))
        wide = min(upper.width() * 0.62, sheet.width(words, -1, bold=True) + 4)
        sheet.words(
            QRectF(upper.left() + 8, upper.top(), wide, upper.height()), words, LEFT, change=-1, bold=True
        )
        rail = QRectF(upper.left() + wide + 16, upper.center().y() - 5, upper.width() - wide - 26, 10)
        if wanted and rail.width() > 16:
            share = 0.0 if ran is None or ran < 0 else min(1.0, ran / wanted)
            sheet.fill(sheet.theme.ground)
            sheet.pen(sheet.theme.quiet, 1.2)
            sheet.rounded(rail, 4)
            sheet.no_pen()
            sheet.fill(sheet.theme.accent)
            sheet.rounded(QRectF(rail.left(), rail.top(), rail.width() * share, rail.height()), 4)
        slots = [slot for key in ("noise", "knocks", "knock_time") for slot in _slots(sheet, key)]
        names = {"noise": msg("noise"), "knocks": msg("knocks"), "knock_time": msg("in a time of")}
        shares = {
            "noise": 2.2 if sheet.value(Slot(STEP, "noise")) else 1.7,
            "knocks": 1.15,
            "knock_time": 1.25,
        }
        for slot, part in zip(slots, split(lower, [shares[s.field] for s in slots], 5), strict=True):
            value = sheet.value(slot)
            text: Message | str = value or names[slot.field]
            if value and slot.field == "knocks":
                text = msg("knocks: {count}", count=verbatim(value))
            _chip(sheet, part, slot, text)

    # ------------------------------------------------------------------ after the stop

    def _coast(self, sheet: Sheet, box: QRectF) -> None:
        """Both run-downs as bars of one scale; the shorter one must reach the mark."""
        facts = sheet.facts(STEP)
        least = facts.value(sheet.job.profile.test_run.coast_ratio)
        read = {side: reading(facts, "coast_down", side.value, "stopwatch") for side in SIDES}
        known = {
            side: each.value for side, each in read.items() if each is not None and 0 < each.value <= LARGEST
        }
        longest = max(known.values(), default=0.0)
        for side, part in zip(SIDES, split(box, (1, 1), 4, down=True), strict=True):
            slot = Slot(STEP, "coast_down", side.value)
            mark = least if len(known) == 2 and least is not None and known[side] < longest else None
            share = known[side] / longest if side in known and longest else None
            self._bar(
                sheet, part, slot, LETTERS[side], share, mark, _room_for(sheet, box, list(LETTERS.values()))
            )

    def _bar(
        self,
        sheet: Sheet,
        box: QRectF,
        slot: Slot,
        name: Message | str,
        share: float | None,
        mark: float | None,
        wide: float,
    ) -> None:
        """A bar with its name and value; ``mark`` is where it has to reach, or must not pass."""
        sheet.plate(slot, box, 6)
        theme = sheet.theme
        sheet.words(QRectF(box.left() + 7, box.top(), wide - 8, box.height()), name, LEFT, change=-2, lines=2)
        value = sheet.value(slot)
        said = max(34.0, sheet.width(value, -1, bold=True) + 4)
        sheet.words(
            QRectF(box.right() - said - 6, box.top(), said, box.height()),
            value or "–",
            RIGHT,
            change=-1,
            bold=True,
        )
        rail = QRectF(box.left() + wide, 0, box.width() - wide - said - 14, min(12.0, box.height() - 8))
        rail.moveCenter(QPointF(rail.center().x(), box.center().y()))
        if rail.width() < 12 or rail.height() < 3:
            return
        sheet.pen(theme.line, 1.0)
        sheet.line((rail.left(), rail.top() - 2), (rail.left(), rail.bottom() + 2))
        if share is not None:
            bad = sheet.verdict(slot).rank >= Verdict.MEASURE_AGAIN.rank
            sheet.no_pen()
            sheet.fill(sheet.ink(sheet.verdict(slot)) if bad else theme.accent)
            sheet.rounded(
                QRectF(rail.left(), rail.top(), max(3.0, rail.width() * min(1.0, share)), rail.height()), 3
            )
        if mark is not None:
            x = rail.left() + rail.width() * mark
            sheet.pen(theme.ink, 1.6)
            sheet.line((x, rail.top() - 3), (x, rail.bottom() + 3))
            sheet.fill(QColor(theme.ink))
            sheet.shape((x - 3.5, rail.top() - 5), (x + 3.5, rail.top() - 5), (x, rail.top()))

    def _heat(self, sheet: Sheet, box: QRectF) -> None:
        """Every gearbox over the air beside the machine, up to the hottest that is allowed."""
        facts, profile = sheet.facts(STEP), sheet.job.profile
        hottest = profile.test_run.hottest
        most, air = facts.value(hottest), facts.number("ambient")
        rows = split(box, (0.85, *(1.0 for _ in profile.gearbox)), 3, down=True)
        slot = Slot(STEP, "ambient")
        sheet.plate(slot, rows[0], 6)
        inner = rows[0].adjusted(7, 0, -6, 0)
        measured = msg("air {air}", air=sheet.value(slot) or "–")
        wide = min(inner.width() / 2, sheet.width(measured, -2) + 6)
        sheet.words(QRectF(inner.left(), inner.top(), wide, inner.height()), measured, LEFT, change=-2)
        sheet.words(
            inner.adjusted(wide, 0, 0, 0),
            msg("hottest allowed {limit} ▾", limit=shown(hottest)),
            RIGHT,
            change=-2,
            colour=sheet.theme.quiet,
        )
        names = [LETTERS.get(gearbox.rotor, gearbox.name) for gearbox in profile.gearbox]
        wide = _room_for(sheet, box, names)
        low = air if air is not None and 200 < air < 350 else 273.15
        for gearbox, part in zip(profile.gearbox, rows[1:], strict=True):
            each = Slot(STEP, "surface_temperature", gearbox.key)
            read = facts.number("surface_temperature", gearbox.key)
            share = None
            if read is not None and most is not None and most > low and abs(read) < 1e4:
                share = max(0.0, (read - low) / (most - low)) * 0.9
            name: Message | str = LETTERS.get(gearbox.rotor, gearbox.name)
            self._bar(sheet, part, each, name, share, 0.9 if most is not None else None, wide)

    def _after(self, sheet: Sheet, box: QRectF) -> None:
        """What is looked at after the stop: a place for each, under its word."""
        asked = [(words, slots) for key, words in AFTER if (slots := _slots(sheet, key))]
        half = len(asked) // 2
        rows = [row for row in (asked[:half], asked[half:]) if row]
        for row, part in zip(rows, split(box, (1,) * len(rows), 3, down=True), strict=True):
            self._after_row(sheet, part, row)

    def _after_row(self, sheet: Sheet, box: QRectF, asked: Sequence[tuple[Message, list[Slot]]]) -> None:
        head = min(sheet.row(-2), box.height() * 0.5)
        shares = [max(len(slots) * 16.0, sheet.width(words, -2) + 4) for words, slots in asked]
        for (words, slots), group in zip(asked, split(box, shares, 6), strict=True):
            name = QRectF(group.left(), group.top(), group.width(), head)
            sheet.words(name, words, LEFT, change=-2, colour=sheet.theme.quiet)
            row = group.adjusted(0, head + 1, 0, 0)
            for slot, part in zip(slots, split(row, (1,) * len(slots), 2), strict=True):
                sheet.plate(slot, part, 4)
                side = min(14.0, part.width() - 1, part.height() - 2)
                if side >= 5:
                    sheet.symbol(sheet.verdict(slot), part.center(), side)


def _room_for(sheet: Sheet, box: QRectF, names: Sequence[Message | str]) -> float:
    """Room at the left of bars for the longest of their names."""
    return min(box.width() * 0.5, max(44.0, *(sheet.width(name, -2) + 14 for name in names)))


def _chip(sheet: Sheet, box: QRectF, slot: Slot, words: Message | str) -> None:
    """A plate with a verdict's symbol and words."""
    sheet.plate(slot, box)
    side = min(15.0, box.height() - 6)
    if box.width() > 70:
        sheet.symbol(sheet.verdict(slot), QPointF(box.left() + 6 + side / 2, box.center().y()), side)
        box = box.adjusted(side + 8, 0, 0, 0)
    sheet.words(box.adjusted(3, 1, -3, -1), words, LEFT, change=-1, lines=2)


def _slots(sheet: Sheet, field: str) -> list[Slot]:
    """Every place at which a question is asked."""
    return slots_of(sheet.job, STEP, field)


def _missing_is_fine(sheet: Sheet, slot: Slot) -> bool:
    """An empty answer that nobody misses."""
    return sheet.job.assessment.states[slot].optional
