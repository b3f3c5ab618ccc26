"""Which joints are bolted for the journey only: the bolts that come out of each, the pins that go in."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF

from rakeprep.drawing.help_parts import bolt
from rakeprep.drawing.shapes import Box
from rakeprep.drawing.strokes import Mark, Tone, arrow, block, line
from rakeprep.model.entry import Slot
from rakeprep.model.profile import PinJoint
from rakeprep.text import msg
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, Sheet, split
from rakeprep.ui.small_drawing import paint, tones

HIGHEST = 120.0  # px of one joint
PICTURE = Box(0.0, 0.0, 50.0, 60.0)  # mm of a small drawing
BOLT: tuple[Mark, ...] = (
    block(8, 4, 42, 26),
    block(17, 4, 33, 26, fill=Tone.GROUND),
    *bolt((25, 20), 20, 9),
    *arrow((44, 32), (44, 56)),
)
PIN: tuple[Mark, ...] = (
    block(8, 4, 42, 26),
    block(17, 4, 33, 26, fill=Tone.GROUND),
    block(19, 16, 31, 52, fill=Tone.DARK),
    line((24, 18), (24, 52), tone=Tone.GROUND),
    *arrow((44, 56), (44, 32)),
)


class JointPlan(Body):
    """Every joint with its bolts and pins: counted against what the machine data say."""

    TITLE = msg("Shipping bolts out, spring pins in")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        joints = sheet.job.profile.pin_joint
        if not joints:
            return
        high = min(HIGHEST * max(1.0, sheet.base / 14), area.height() / len(joints))
        box = QRectF(area.left(), area.top(), area.width(), high * len(joints))
        for joint, row in zip(joints, split(box, (1,) * len(joints), 10, down=True), strict=True):
            self._joint(sheet, row, joint)

    def _joint(self, sheet: Sheet, box: QRectF, joint: PinJoint) -> None:
        """A joint's name, and below it what comes out and what goes in."""
        name = QRectF(box.left(), box.top(), box.width(), sheet.row())
        sheet.words(name, joint.name, LEFT, bold=True)
        plates = QRectF(box.left(), name.bottom() + 3, box.width(), box.bottom() - name.bottom() - 3)
        bolts, pins = split(plates, (1, 1), 10)
        self._counted(sheet, bolts, Slot("fasteners", "bolts_out", joint.key), joint.shipping_bolts, BOLT)
        self._counted(sheet, pins, Slot("fasteners", "pins_in", joint.key), joint.holes, PIN)

    def _counted(self, sheet: Sheet, box: QRectF, slot: Slot, wanted: int, drawn: tuple[Mark, ...]) -> None:
        """What was counted of how many; a joint not bolted for the journey has no bolts to take out."""
        if not sheet.asked(slot):
            sheet.words(box, msg("none"), MIDDLE, colour=sheet.theme.quiet)
            return
        sheet.plate(slot, box)
        picture = QRectF(
            box.left() + 6, box.top() + 4, min(box.height() * 0.8, box.width() * 0.34), box.height() - 8
        )
        paint(sheet.painter, drawn, PICTURE, picture, tones(sheet.theme))
        words = QRectF(
            picture.right() + 6, box.top() + 3, box.right() - picture.right() - 10, box.height() - 6
        )
        upper, lower = split(words, (1.2, 1), down=True)
        counted = msg("{read} of {full}", read=sheet.value(slot) or "–", full=str(wanted))
        sheet.words(upper, counted, LEFT, change=2, bold=True)
        side = min(18.0, lower.height() - 2)
        verdict = sheet.verdict(slot)
        sheet.symbol(verdict, QPointF(lower.left() + side / 2, lower.center().y()), side)
        sheet.words(
            lower.adjusted(side + 5, 0, 0, 0), verdict.word, LEFT, change=-1, colour=sheet.ink(verdict)
        )
