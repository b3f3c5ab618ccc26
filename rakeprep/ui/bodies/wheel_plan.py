"""Every wheel at its place, with its pressure as found and as set, or what else is asked of it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF

from rakeprep.calculations import Impossible
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.model.profile import Side, Wheel
from rakeprep.model.source import Sourced
from rakeprep.steps._reading import ROTOR_NAMES, shown
from rakeprep.steps.tyres import wanted_now
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, Sheet, split, usual_unit

PRESSURES = frozenset({"pressure_found", "pressure_set"})
NEAR_ROW = 0.25  # m; wheels closer than this one behind the other stand in one row
NARROW = 44.0  # pixels; a plate narrower than this has no room for its tyre
FULL = 2.0  # a tyre is drawn full at this multiple of the pressure wanted


@dataclass(frozen=True)
class Cell:
    """One wheel in its row and column."""

    wheel: Wheel
    row: int
    column: float


class WheelPlan(Body):
    """Wheels row by row from the front, left and right as seen from the seat."""

    TITLE = msg("Wheels from above")

    def title(self) -> Message:
        if self._job is None or self._slot is None or self._slot.field not in PRESSURES:
            return self.TITLE
        unit = _unit(self._job)
        return msg("Wheels from above, pressure found → set, in {unit}", unit=verbatim(unit))

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        cells, rows, columns = arranged(sheet.job.profile.wheel)
        if not cells:
            sheet.words(area, msg("This machine has no wheels."), MIDDLE)
            return
        head = sheet.row(-1) + 4
        legend = sheet.row(-2) + 6
        self._heads(sheet, QRectF(area.left(), area.top(), area.width(), head))
        if sheet.slot.field in PRESSURES:
            self._legend(sheet, QRectF(area.left(), area.bottom() - legend, area.width(), legend))
        else:
            legend = 0.0
        field = area.adjusted(0, head, 0, -legend - 2)
        bands = _bands(field, cells, rows)
        wide = field.width() / columns
        self._frame(sheet, field, cells, bands, wide)
        for cell in cells:
            band = bands[cell.row]
            left = field.left() + cell.column * wide
            self._wheel(sheet, QRectF(left + 3, band.top(), wide - 6, band.height()), cell.wheel)

    def _heads(self, sheet: Sheet, area: QRectF) -> None:
        """Which side belongs to which rotor, and where the front is."""
        boxes = split(area, (1, 0.8, 1))
        texts = (ROTOR_NAMES[Side.LEFT], msg("↑ front"), ROTOR_NAMES[Side.RIGHT])
        for box, text in zip(boxes, texts, strict=True):
            sheet.words(box, text, MIDDLE, change=-1, colour=sheet.theme.quiet)

    def _frame(
        self, sheet: Sheet, field: QRectF, cells: list[Cell], bands: list[QRectF], wide: float
    ) -> None:
        """Light lines that join the wheels of each chassis and of the axle."""
        for side in (Side.LEFT, Side.RIGHT, Side.NEITHER):
            spots = [
                (field.left() + (c.column + 0.5) * wide, bands[c.row].center().y())
                for c in cells
                if c.wheel.rotor is side
            ]
            if not spots:
                continue
            sheet.pen(sheet.shade(0.55), 5.0)
            middle = sum(x for x, _ in spots) / len(spots)
            ys = [y for _, y in spots]
            if side is not Side.NEITHER:
                centre = (max(ys) + min(ys)) / 2
                radius = min(wide * 1.02, centre - field.top() + 4, field.bottom() - centre)
                sheet.pen(sheet.theme.line, 1.4, (0.2, 3))
                sheet.fill(sheet.shade(0.09))
                sheet.disc(QPointF(middle, centre), radius)
                sheet.pen(sheet.shade(0.55), 5.0)
            sheet.line((middle, min(ys)), (middle, max(ys)))
            for y in set(ys):
                xs = [x for x, at in spots if at == y]
                sheet.line((min([*xs, middle]), y), (max([*xs, middle]), y))

    def _wheel(self, sheet: Sheet, box: QRectF, wheel: Wheel) -> None:
        """The plate of one wheel: tyre, code, value, verdict."""
        slot = asked_of(sheet, wheel)
        sheet.plate(slot, box)
        if not sheet.asked(slot):  # a wheel that is not asked about, such as one that is no castor
            sheet.fill(sheet.theme.ground)
            sheet.pen(sheet.shade(0.5), 1.0)
            sheet.rounded(box, 7)
        inner = box.adjusted(4, 3, -4, -3)
        if inner.width() < NARROW:
            self._narrow(sheet, inner, wheel, slot)
            return
        tyre = QRectF(inner.left(), inner.top() + 1, min(16.0, inner.width() * 0.19), inner.height() - 2)
        self._tyre(sheet, tyre, wheel)
        words = inner.adjusted(tyre.width() + 5, 0, 0, 0)
        upper, lower = split(words, (1, 1.05), 1, down=True)
        if sheet.asked(slot):
            side = min(15.0, upper.height())
            sheet.symbol(sheet.verdict(slot), QPointF(upper.right() - side / 2, upper.center().y()), side)
            upper = upper.adjusted(0, 0, -side - 2, 0)
        sheet.words(upper, wheel.key, LEFT, bold=True)
        if slot.field in PRESSURES:
            self._pressures(sheet, lower, wheel)
        elif sheet.asked(slot):
            sheet.words(lower, sheet.value(slot), LEFT, change=-1, lines=3)

    def _narrow(self, sheet: Sheet, box: QRectF, wheel: Wheel, slot: Slot) -> None:
        """Code, value and symbol one below the other, where many wheels stand side by side."""
        code, value, below = split(box, (1, 1, 1), down=True)
        sheet.words(code, wheel.key, MIDDLE, change=-1, bold=True)
        if sheet.asked(slot):
            said = sheet.value(slot, _unit(sheet.job) if slot.field in PRESSURES else "")
            sheet.words(value, said, MIDDLE, change=-1)
            sheet.symbol(sheet.verdict(slot), below.center(), min(15.0, below.height()))

    def _pressures(self, sheet: Sheet, box: QRectF, wheel: Wheel) -> None:
        """Pressure as found and as set; the one as found is left out where there is no room for both."""
        unit = _unit(sheet.job)
        found = sheet.value(Slot("tyres", "pressure_found", wheel.key), unit)
        now = sheet.value(Slot("tyres", "pressure_set", wheel.key), unit)
        before = sheet.say(msg("{found} →", found=found)) if found else ""
        wide = sheet.width(before, -3) + 3 if before else 0.0
        room = box.width() - (sheet.width(now, 0, bold=True) if now else 0.0)
        if before and (wide <= room or not now):
            sheet.words(
                QRectF(box.left(), box.top(), wide, box.height()), before, change=-3, colour=sheet.theme.quiet
            )
            box = box.adjusted(wide, 0, 0, 0)
        sheet.words(box, now, LEFT, bold=True, lines=2)

    def _tyre(self, sheet: Sheet, box: QRectF, wheel: Wheel) -> None:
        """A tyre as a gauge: the band wanted, a light mark as found, a strong one as set."""
        sheet.fill(sheet.shade(0.3))
        sheet.pen(sheet.theme.quiet, 1.2)
        sheet.rounded(box, box.width() * 0.35)
        if wheel.castor:
            sheet.fill(sheet.theme.ground)
            sheet.disc(QPointF(box.center().x(), box.top() + box.width() * 0.35), box.width() * 0.2)
        if sheet.slot.field not in PRESSURES:
            return
        facts, tyre = sheet.facts("tyres"), sheet.job.profile.tyre_of(wheel)
        tolerance = facts.value(tyre.tolerance)
        wanted = _wanted(sheet, wheel)
        if wanted is None or tolerance is None or wanted <= 0:
            return

        def height(pressure: float) -> float:
            share = min(1.0, max(0.0, pressure / (FULL * wanted)))
            return box.bottom() - 2 - share * (box.height() - 4)

        band = QRectF(box.left() + 1, 0, box.width() - 2, 0)
        band.setTop(height(wanted + tolerance))
        band.setBottom(max(band.top() + 3, height(wanted - tolerance)))
        sheet.no_pen()
        sheet.fill(sheet.theme.ground)
        sheet.painter.drawRect(band)
        found = facts.number("pressure_found", wheel.key)
        if found is not None:
            sheet.pen(sheet.theme.quiet, 1.3, (2, 1.5))
            sheet.line((box.left(), height(found)), (box.right(), height(found)))
        now = facts.number("pressure_set", wheel.key)
        if now is not None:
            sheet.pen(sheet.theme.accent, 2.8)
            sheet.line((box.left() - 2, height(now)), (box.right() + 2, height(now)))

    def _legend(self, sheet: Sheet, area: QRectF) -> None:
        """What is wanted of each kind of tyre."""
        used = {wheel.tyre for wheel in sheet.job.profile.wheel}
        tyres = [tyre for tyre in sheet.job.profile.tyre if tyre.key in used]
        for tyre, box in zip(tyres, split(area, (1,) * len(tyres), 6), strict=True):
            words = msg(
                "{tyre}: {wanted} ± {tolerance}", tyre=tyre.key, **_shown(tyre.pressure, tyre.tolerance)
            )
            sheet.words(box, words, LEFT, change=-2, colour=sheet.theme.quiet)


def _unit(job: OpenJob) -> str:
    """The unit of the gauge."""
    printed = job.profile.tyre[0].pressure.typed.unit if job.profile.tyre else "bar"
    return usual_unit(job, "tyres", "pressure_set", printed)


def _bands(field: QRectF, cells: list[Cell], rows: int) -> list[QRectF]:
    """The rows as far apart as on the machine, as far as there is room."""
    gap, at = 6.0, [0.0] * rows
    for cell in cells:
        at[cell.row] = cell.wheel.behind_pins.value
    high = max(10.0, min(74.0, (field.height() - gap * (rows - 1)) / rows))
    spare = max(0.0, field.height() - rows * high - gap * (rows - 1))
    whole = at[-1] - at[0]
    if whole <= 0:
        return [QRectF(field.left(), field.top() + spare / 2, field.width(), high)]
    return [
        QRectF(
            field.left(),
            field.top() + number * (high + gap) + spare * (place - at[0]) / whole,
            field.width(),
            high,
        )
        for number, place in enumerate(at)
    ]


def _shown(pressure: Sourced, tolerance: Sourced) -> dict[str, object]:
    return {"wanted": shown(pressure), "tolerance": shown(tolerance)}


def _wanted(sheet: Sheet, wheel: Wheel) -> float | None:
    """The pressure to be read now."""
    try:
        found = wanted_now(sheet.facts("tyres"), wheel)
    except Impossible:
        return None
    return None if found is None else found[0]


def asked_of(sheet: Sheet, wheel: Wheel) -> Slot:
    """The question in hand at a wheel."""
    return Slot("tyres", sheet.slot.field, wheel.key)


def arranged(wheels: tuple[Wheel, ...]) -> tuple[list[Cell], int, int]:
    """Each wheel's row from the front and column from the left, left ones left of the middle."""
    rows: list[list[Wheel]] = []
    for wheel in sorted(wheels, key=lambda each: each.behind_pins.value):
        if rows and wheel.behind_pins.value - rows[-1][0].behind_pins.value < NEAR_ROW:
            rows[-1].append(wheel)
        else:
            rows.append([wheel])
    half = 1
    for row in rows:
        sides = [each.right_of_middle.value for each in row]
        half = max(
            half, sum(x < 0 for x in sides), sum(x > 0 for x in sides), (1 + sum(x == 0 for x in sides)) // 2
        )
    cells: list[Cell] = []
    for number, row in enumerate(rows):
        row.sort(key=lambda each: each.right_of_middle.value)
        left = [each for each in row if each.right_of_middle.value < 0]
        middle = [each for each in row if each.right_of_middle.value == 0]
        right = [each for each in row if each.right_of_middle.value > 0]
        if middle:  # a wheel in the middle pushes the others outward
            half = max(half, max(len(left), len(right)) + (len(middle) + 1) // 2)
        cells += [Cell(each, number, n - len(left)) for n, each in enumerate(left)]
        cells += [Cell(each, number, n - len(middle) / 2) for n, each in enumerate(middle)]
        cells += [Cell(each, number, n) for n, each in enumerate(right)]
        if middle:
            shift = len(middle) / 2
            cells = [
                c
                if c.row != number or c.wheel in middle
                else Cell(c.wheel, c.row, c.column + (shift if c.wheel in right else -shift))
                for c in cells
            ]
    return [Cell(c.wheel, c.row, c.column + half) for c in cells], len(rows), 2 * half
