"""The transport axle behind the tractor: its track, whether it stands square, its toe, its steering."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF

from rakeprep.drawing.shapes import Box
from rakeprep.model.entry import Slot
from rakeprep.model.profile import Wheel
from rakeprep.steps._levelling_axle import axle_wheels
from rakeprep.text import msg
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.plate import answer_plate, tie
from rakeprep.ui.bodies.sheet import MIDDLE, Sheet, split
from rakeprep.ui.plan_picture import Fit, fit

LEFT_SIDE = (("hub_length", "left"), ("follows", ""), ("steering_arm", ""), ("toe_rear", ""))
RIGHT_SIDE = (("hub_length", "right"), ("offset", ""), ("rod_per_turn", ""), ("toe_front", ""))
AHEAD = 2600.0  # mm of the tractor that are shown before the hitch pins
MOST_TURN = 14.0  # degrees; a wheel is not drawn further turned
LARGER = 12.0  # toe is drawn so many times as large


class AxlePlan(Body):
    """From above, to scale from the hitch to the axle; the questions stand beside it."""

    TITLE = msg("The axle from above, toe drawn larger")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        left, middle, right = split(area, (0.37, 0.26, 0.37), 6)
        found = self._machine(sheet, middle)
        for keys, box in ((LEFT_SIDE, left), (RIGHT_SIDE, right)):
            plates = split(box, (1,) * len(keys), 7, down=True)
            for (field, place), plate in zip(keys, plates, strict=True):
                slot = Slot("levelling", field, place)
                if (field, place) in found:
                    tie(sheet, slot, plate, found[field, place])
                answer_plate(sheet, slot, plate)

    def _machine(self, sheet: Sheet, area: QRectF) -> dict[tuple[str, str], QPointF]:
        """Tractor, pole and axle; gives where each question is about."""
        facts, theme = sheet.facts("levelling"), sheet.theme
        wheels = axle_wheels(sheet.job.profile)
        places = [(facts.value(w.right_of_middle), facts.value(w.behind_pins)) for w in wheels]
        known = [(x * 1000, y * 1000) for x, y in places if x is not None and y is not None]
        if not known:
            sheet.words(area, msg("none"), MIDDLE, colour=theme.quiet)
            return {}
        back = sum(y for _, y in known) / len(known)
        half = max(1100.0, *(abs(x) + 350 for x, _ in known))
        on = fit(Box(-half, -back - 900, half, AHEAD), area)
        sheet.pen(theme.line, 1.0, (6, 3))
        sheet.line(on.point((0, AHEAD)), on.point((0, -back - 800)))
        self._tractor(sheet, on)
        sheet.pen(theme.quiet, 3.0)
        sheet.line(on.point((0, 0)), on.point((0, -back)))
        xs = sorted(x for x, _ in known)
        sheet.line(on.point((xs[0], -back)), on.point((xs[-1], -back)))
        for wheel, (x, y) in zip(wheels, places, strict=True):
            if x is not None and y is not None:
                self._wheel(sheet, on, wheel, x * 1000, y * 1000)
        sheet.fill(theme.ground)
        sheet.pen(theme.ink, 1.6)
        sheet.disc(on.point((0, 0)), 4.0)
        return {
            ("hub_length", "left"): on.point((xs[0], -back)),
            ("hub_length", "right"): on.point((xs[-1], -back)),
            ("follows", ""): on.point((0, -back * 0.5)),
            ("offset", ""): on.point((0, -back * 0.35)),
            ("steering_arm", ""): on.point((xs[0] * 0.35, -back)),
            ("rod_per_turn", ""): on.point((xs[-1] * 0.35, -back)),
            ("toe_front", ""): on.point((xs[-1], -back + 450)),
            ("toe_rear", ""): on.point((xs[0], -back - 450)),
        }

    def _tractor(self, sheet: Sheet, on: Fit) -> None:
        """The rear wheels of the tractor and what is between them."""
        sheet.fill(sheet.shade(0.5))
        sheet.pen(sheet.theme.quiet, 1.1)
        for x in (-900.0, 900.0):
            corner = on.point((x - 240, 2400))
            sheet.rounded(QRectF(corner, on.point((x + 240, 800))), 4)
        sheet.fill(sheet.shade(0.2))
        sheet.rounded(QRectF(on.point((-330, AHEAD)), on.point((330, 600))), 4)
        sheet.line(on.point((-660, 1600)), on.point((660, 1600)))
        sheet.line(on.point((0, 600)), on.point((0, 0)))

    def _wheel(self, sheet: Sheet, on: Fit, wheel: Wheel, x: float, y: float) -> None:
        """A wheel of the axle to scale, turned by its share of the toe."""
        facts = sheet.facts("levelling")
        tyre = sheet.job.profile.tyre_of(wheel)
        wide, high = facts.value(tyre.width) or 0.3, facts.value(tyre.diameter) or 0.7
        turn = math.radians(toe_turn(sheet, high)) * (1 if x < 0 else -1)
        corners = []
        for across, along in ((-1, 1), (1, 1), (1, -1), (-1, -1)):
            dx, dy = across * wide * 500, along * high * 500
            corners.append(
                on.point(
                    (
                        x + dx * math.cos(turn) + dy * math.sin(turn),
                        -y - dx * math.sin(turn) + dy * math.cos(turn),
                    )
                )
            )
        sheet.fill(sheet.shade(0.6))
        sheet.pen(sheet.theme.ink, 1.3)
        sheet.shape(*corners)


def toe_turn(sheet: Sheet, rim: float) -> float:
    """Degrees by which a wheel is drawn turned inward; 0 until both readings are there. ``rim`` in metres."""
    facts = sheet.facts("levelling")
    front, rear = facts.number("toe_front"), facts.number("toe_rear")
    if front is None or rear is None or rim <= 0:
        return 0.0
    turn = math.degrees(math.atan2((rear - front) / 2, rim)) * LARGER
    return max(-MOST_TURN, min(MOST_TURN, turn))
