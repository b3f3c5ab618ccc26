"""The one-rotor hold: which rotor should rise at each place of the switch, and which one did."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor

from rakeprep.calculations.remotes import RISES, Switch
from rakeprep.model.entry import Slot
from rakeprep.model.verdict import Verdict
from rakeprep.steps._hydraulics_hold import SWITCHES, WITHOUT_POWER
from rakeprep.steps._reading import ROTOR_NAMES, SIDES
from rakeprep.text import msg
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.plate import answer_plate
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, Sheet, split

SHARES = (0.36, 0.32, 0.32)  # of a row: the switch, the left rotor, the right rotor
UP, DOWN = msg("rises"), msg("stays")


class HoldTable(Body):
    """A row for each place of the switch: dashed what should rise, full what did."""

    TITLE = msg("Lever at up: which rotor rises")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        fitted = sheet.job.profile.hydraulics.rotor_hold
        if fitted is None:
            return
        foot = min(2 * sheet.row() + 12, area.height() * 0.2)
        head = sheet.row(-1) + 4
        table = area.adjusted(0, head, 0, -foot - 8)
        top = QRectF(area.left(), area.top(), area.width(), head)
        for side, box in zip(SIDES, split(top, SHARES, 6)[1:], strict=True):
            sheet.words(box, ROTOR_NAMES[side], MIDDLE, change=-1, colour=sheet.theme.quiet)
        rows = split(table, (1,) * len(SWITCHES), 6, down=True)
        for (key, (switch, _)), row in zip(SWITCHES.items(), rows, strict=True):
            expected = WITHOUT_POWER[fitted.unpowered] if switch is Switch.NO_POWER else RISES[switch]
            self._row(sheet, row, key, expected)
        below = QRectF(area.left(), area.bottom() - foot, area.width(), foot)
        for field, box in zip(("supply", "fuse"), split(below, (1.3, 1), 8), strict=True):
            answer_plate(sheet, Slot("hydraulics", field), box)

    def _row(self, sheet: Sheet, box: QRectF, key: str, expected: tuple[bool, bool]) -> None:
        """One place of the switch."""
        slot = Slot("hydraulics", "hold", key)
        entry = sheet.entry(slot)
        sheet.plate(slot, box)
        name, *rotors = split(box.adjusted(6, 2, -4, -2), SHARES, 6)
        side = min(18.0, name.height() - 2)
        sheet.symbol(sheet.verdict(slot), QPointF(name.left() + side / 2, name.center().y()), side)
        sheet.words(name.adjusted(side + 5, 0, 0, 0), SWITCHES[key][1], LEFT, change=-1, lines=4)
        for which, room, should in zip(SIDES, rotors, expected, strict=True):
            self._rotor(sheet, room, should, None if entry is None else which.value in entry.chosen)

    def _rotor(self, sheet: Sheet, box: QRectF, should: bool, did: bool | None) -> None:
        """A rotor from behind over the ground; the word says what should be."""
        theme = sheet.theme
        row = sheet.row(-2)
        words = QRectF(box.left(), box.bottom() - row, box.width(), row)
        sheet.words(words, UP if should else DOWN, MIDDLE, change=-2, colour=theme.quiet)
        ground, high = words.top() - 3, max(4.0, words.top() - 3 - box.top())
        sheet.pen(theme.line, 1.2)
        sheet.line((box.left() + 4, ground), (box.right() - 4, ground))
        lifted = ground - high * 0.42
        self._body(sheet, box, lifted if should else ground, high, theme.accent, dashed=True)
        if did is not None:
            ink = sheet.ink(Verdict.IN_ORDER if did == should else Verdict.PUT_RIGHT)
            self._body(sheet, box, lifted if did else ground, high, ink, dashed=False)

    def _body(
        self, sheet: Sheet, box: QRectF, foot: float, high: float, ink: QColor | str, dashed: bool
    ) -> None:
        """Hub, arms and tines that stand on ``foot``."""
        middle, reach, arms = box.center().x(), min(box.width() * 0.38, 70.0), foot - high * 0.3
        sheet.fill(None if dashed else ink)
        sheet.pen(ink, 1.2 if dashed else 2.2, (3, 2.5) if dashed else ())
        sheet.line((middle - reach, arms + 2), (middle, arms), (middle + reach, arms + 2))
        for share in (-1.0, -0.8, 0.8, 1.0):
            sheet.line((middle + reach * share, arms + 2), (middle + reach * share, foot - 1))
        hub = QRectF(middle - 5, arms - high * 0.12, 10, high * 0.24)
        sheet.rounded(hub, 2)
