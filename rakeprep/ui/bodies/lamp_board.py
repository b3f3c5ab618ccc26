"""The rear of the machine with its lamps: what one command should light, and what it lit."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor

from rakeprep.calculations.lamp_faults import State
from rakeprep.calculations.lights import PINS
from rakeprep.model.entry import Slot
from rakeprep.model.profile import Lamp, Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._lights_lamps import command_places, plate_contact, seen_at, wanted
from rakeprep.text import Message, msg
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, RIGHT, Sheet, split

SEEN = {State.ON: msg("lit"), State.DIM: msg("glows"), State.OFF: msg("dark")}
SHORT = {
    "left-turn": msg("left turn"),
    "right-turn": msg("right turn"),
    "left-tail": msg("left tail"),
    "right-tail": msg("right tail"),
    "stop": msg("stop lamps"),
    "fog": msg("fog"),
    "plate": msg("plate lamp"),
}
CONTACTS = {"left-turn": 1, "fog": 2, "right-turn": 4, "right-tail": 5, "stop": 6, "left-tail": 7}  # ISO 1724
SHOULD = msg("expected")
ORDER = ("left-turn", "right-turn", "left-tail", "right-tail", "stop", "fog", "plate")


@dataclass(frozen=True)
class Spot:
    """Where a lamp is drawn, how large, the room for it and its words, and for its name if that stands
    above or below it."""

    at: QPointF
    radius: float
    box: QRectF
    name: QRectF | None


class LampBoard(Body):
    """Lamps on their sides as seen from behind; one command at a time."""

    TITLE = msg("The rear, seen from behind")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        places = command_places(sheet.job.profile)
        keys = [place.key for place in places]
        command = sheet.slot.place if sheet.slot.place in keys else (keys[0] if keys else "")
        high = min(area.height() * 0.3, 2 * (sheet.row(-1) + 26) + 6)
        rear = area.adjusted(0, 0, 0, -high - 8)
        commands = QRectF(area.left(), area.bottom() - high, area.width(), high)
        self._rear(sheet, rear, command)
        self._commands(sheet, commands, keys, command)

    # ------------------------------------------------------------------ the rear

    def _rear(self, sheet: Sheet, area: QRectF, command: str) -> None:
        """Lamps by side, and the plug's contacts with the way of the current from the one that is fed."""
        theme, lamps = sheet.theme, sheet.job.profile.lights.lamp
        sides = {
            side: sorted((lamp for lamp in lamps if lamp.side is side), key=_rank)
            for side in (Side.LEFT, Side.NEITHER, Side.RIGHT)
        }
        boxes = dict(zip(sides, split(area, (1.0, 0.98, 1.0), 12), strict=True))
        head = sheet.row(-1) + 4
        for side, words in ((Side.LEFT, msg("left")), (Side.RIGHT, msg("right"))):
            box = boxes[side]
            name = QRectF(box.left(), area.top(), box.width(), sheet.row(-1))
            sheet.words(name, words, MIDDLE, change=-1, colour=theme.quiet)
        middle = boxes[Side.NEITHER]
        rows = sheet.lines(self._contact(command), middle.width(), -2)
        plug = QRectF(middle.left(), area.top(), middle.width(), rows * sheet.row(-2) + 36)
        places: dict[str, Spot] = {}
        for side, box in boxes.items():
            top = plug.bottom() + 12 if side is Side.NEITHER else area.top() + head
            room = QRectF(box.left(), top, box.width(), area.bottom() - top)
            places |= self._houses(sheet, room, sides[side], side)
        self._wires(sheet, plug, places, command)
        for lamp in lamps:
            self._lamp(sheet, places[lamp.key], lamp, command)

    def _houses(self, sheet: Sheet, box: QRectF, lamps: list[Lamp], side: Side) -> dict[str, Spot]:
        """The housing of one side, and where its lamps are in it: inward, so that the wires are short."""
        if not lamps:
            return {}
        high = min(74.0, box.height() / len(lamps))
        house = QRectF(box.left(), box.top(), box.width(), high * len(lamps))
        house.moveCenter(QPointF(box.center().x(), min(house.center().y() + 14, box.center().y())))
        sheet.fill(sheet.theme.panel)
        sheet.pen(sheet.theme.quiet, 1.3)
        sheet.rounded(house, 9)
        places: dict[str, Spot] = {}
        for lamp, room in zip(lamps, split(house, (1,) * len(lamps), down=True), strict=True):
            radius = min(15.0, high * 0.3)
            x = room.right() - radius - 8 if side is Side.LEFT else room.left() + radius + 8
            inside = room.adjusted(5, 3, -5, -3)
            places[lamp.key] = self._spot(sheet, QPointF(x, room.center().y()), radius, inside, lamp)
        return places

    def _spot(self, sheet: Sheet, at: QPointF, radius: float, box: QRectF, lamp: Lamp) -> Spot:
        """A lamp with its name on the side from which no wire comes, if the box is high enough for that."""
        high = sheet.row(-1) * min(2, sheet.lines(_name(lamp), box.width(), -1))
        both = high + 2 * radius + 8
        if both > box.height():
            return Spot(at, radius, box, None)
        top = box.center().y() - both / 2
        name = QRectF(box.left(), top, box.width(), high)
        at.setY(name.bottom() + 5 + radius)
        if lamp.side is Side.NEITHER:
            at.setY(top + radius + 3)
            name.moveTop(at.y() + radius + 5)
        return Spot(at, radius, box, name)

    def _lamp(self, sheet: Sheet, spot: Spot, lamp: Lamp, command: str) -> None:
        """One lamp: a ring where it should light, filled as far as it did, marked where these differ."""
        theme, at, radius, box = sheet.theme, spot.at, spot.radius, spot.box
        seen = seen_at(sheet.facts("lights"), command)
        should = self._should(sheet, lamp, command)
        saw = None if seen is None else seen[lamp.key]
        wrong = saw is not None and ((saw is State.ON) != should or saw is State.DIM)
        if should:
            sheet.fill(theme.panel)
            sheet.pen(theme.accent, 2.2)
            sheet.disc(at, radius + 3.5)
        sheet.pen(theme.ink, 1.4)
        sheet.fill(theme.ground)
        sheet.disc(at, radius)
        if saw is State.ON:
            _shine(sheet, at, radius)
        elif saw is State.DIM:
            sheet.no_pen()
            sheet.fill(theme.ink)
            whole = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
            sheet.painter.drawPie(whole, 180 * 16, 180 * 16)
        left = lamp.side is Side.LEFT
        words = QRectF(box)
        if left:
            words.setRight(at.x() - radius - 6)
        else:
            words.setLeft(at.x() + radius + 6)
        if spot.name is not None:
            align = RIGHT if left else LEFT
            sheet.words(spot.name, _name(lamp), align, change=-1, colour=theme.quiet, lines=2)
            words.setTop(at.y() - radius)
            words.setBottom(at.y() + radius)
        self._state(sheet, words, lamp, (saw, should, wrong), named=spot.name is not None)

    def _state(
        self, sheet: Sheet, words: QRectF, lamp: Lamp, seen: tuple[State | None, bool, bool], named: bool
    ) -> None:
        """Which lamp it is, unless it is ``named`` already, and what it did or should do: ``seen`` is what
        it did, whether it should be on, and whether these differ."""
        saw, should, wrong = seen
        align = RIGHT if lamp.side is Side.LEFT else LEFT
        name, quiet = "" if named else _name(lamp), sheet.theme.quiet
        if saw is None and not should:
            sheet.words(words, name, align, change=-1, colour=quiet, lines=2)
            return
        many = 0 if named else min(2, sheet.lines(name, words.width(), -1))
        row = min(words.height() / (many + 1), sheet.row(-1) + 1)
        upper = QRectF(words.left(), words.center().y() - row * (many + 1) / 2, words.width(), row * many)
        sheet.words(upper, name, align, change=-1, colour=quiet, lines=many)
        lower = QRectF(upper.left(), upper.bottom(), upper.width(), row)
        said = SEEN[saw] if saw is not None else SHOULD
        colour = sheet.ink(Verdict.PUT_RIGHT) if wrong else sheet.theme.ink
        if wrong:
            side = min(15.0, row)
            wide = min(lower.width() - side - 3, sheet.width(said, -1, bold=True) + 1)
            x = lower.right() - wide - side - 3 if align is RIGHT else lower.left()
            sheet.symbol(Verdict.PUT_RIGHT, QPointF(x + side / 2, lower.center().y()), side)
            lower = QRectF(x + side + 3, lower.top(), wide, row)
        sheet.words(lower, said, align, change=-1, bold=wrong or should, colour=colour)

    def _should(self, sheet: Sheet, lamp: Lamp, command: str) -> bool:
        """Whether a lamp should light at a command."""
        plate = plate_contact(sheet.facts("lights"))
        return bool(command) and wanted(command, lamp.function, plate) is State.ON

    def _wires(self, sheet: Sheet, box: QRectF, places: dict[str, Spot], command: str) -> None:
        """The seven contacts, and the way from the one this command feeds to the lamps it should light."""
        theme, fed = sheet.theme, CONTACTS.get(command)
        pitch = box.width() / len(PINS)
        size = min(9.0, pitch * 0.44)
        text = QRectF(box.left(), box.top(), box.width(), box.height() - 34)
        y = text.bottom() + size + 4
        at = {pin.number: QPointF(box.left() + pitch * (n + 0.5), y) for n, pin in enumerate(PINS)}
        lit = [lamp for lamp in sheet.job.profile.lights.lamp if self._should(sheet, lamp, command)]
        sheet.fill(None)
        for lamp in lit if fed is not None else ():
            end = places[lamp.key].at
            way = {Side.LEFT: box.left() - 5, Side.RIGHT: box.right() + 5}.get(lamp.side, end.x())
            bus = y + size + 8
            sheet.pen(theme.accent, 2.4)
            sheet.line(at[fed or 0], (at[fed or 0].x(), bus), (way, bus), (way, end.y()), (end.x(), end.y()))
        for pin in PINS:
            on = pin.number == fed
            sheet.fill(theme.accent if on else theme.ground)
            sheet.pen(theme.accent if on else theme.line, 1.3)
            sheet.disc(at[pin.number], size)
            spot = QRectF(0, 0, 2 * pitch, 2 * size + 4)
            spot.moveCenter(at[pin.number])
            colour = theme.on_accent if on else theme.quiet
            sheet.words(spot, str(pin.number), MIDDLE, change=-2, bold=on, colour=colour)
        words = self._contact(command)
        sheet.words(text, words, MIDDLE, change=-2, colour=theme.quiet, lines=3)

    @staticmethod
    def _contact(command: str) -> Message:
        """Which contact a command feeds, and the colour of its wire."""
        pin = next((each for each in PINS if each.number == CONTACTS.get(command)), None)
        if pin is None:
            return msg("seven contacts")
        return msg("contact {number}, {colour} wire", number=pin.number, colour=pin.colour)

    # ------------------------------------------------------------------ the commands

    def _commands(self, sheet: Sheet, area: QRectF, keys: list[str], command: str) -> None:
        """The commands that this machine has lamps for, each with what came of it."""
        if not keys:
            sheet.words(area, msg("This machine has no lamps."), MIDDLE)
            return
        field = "dim" if sheet.slot.field == "dim" else "lit"
        per_row = len(keys) if area.width() >= 110 * len(keys) else math.ceil(len(keys) / 2)
        rows = [keys[n : n + per_row] for n in range(0, len(keys), per_row)]
        for row, band in zip(rows, split(area, (1,) * len(rows), 6, down=True), strict=True):
            for key, box in zip(row, split(band, (1,) * per_row, 6), strict=False):
                self._command(sheet, box, Slot("lights", field, key), key == command)

    def _command(self, sheet: Sheet, box: QRectF, slot: Slot, now: bool) -> None:
        sheet.plate(slot, box)
        if now:
            sheet.fill(QColor(sheet.theme.chosen))
            sheet.pen(sheet.theme.accent, 2.4)
            sheet.rounded(box, 7)
        side = min(17.0, box.height() * 0.55)
        sheet.symbol(sheet.verdict(slot), QPointF(box.left() + 8 + side / 2, box.center().y()), side)
        words = box.adjusted(12 + side, 2, -2, -2)
        sheet.words(words, SHORT.get(slot.place, slot.place), LEFT, bold=now, lines=2)


def _name(lamp: Lamp) -> Message | str:
    """A lamp in few words."""
    return SHORT.get(lamp.function, lamp.name)


def _rank(lamp: Lamp) -> int:
    return ORDER.index(lamp.function) if lamp.function in ORDER else len(ORDER)


def _shine(sheet: Sheet, at: QPointF, radius: float) -> None:
    """A lamp that is lit: full, with rays."""
    sheet.no_pen()
    sheet.fill(sheet.theme.ink)
    sheet.disc(at, radius)
    sheet.fill(sheet.theme.ground)
    sheet.disc(at, radius * 0.52)
    sheet.fill(sheet.theme.ink)
    sheet.disc(at, radius * 0.26)
    sheet.pen(sheet.theme.ground, 1.6)
    for turn in range(0, 360, 45):
        way = QPointF(math.sin(math.radians(turn)), -math.cos(math.radians(turn)))
        sheet.line(at + way * radius * 0.62, at + way * radius * 0.9)
