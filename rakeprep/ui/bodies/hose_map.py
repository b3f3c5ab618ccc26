"""Which hose goes to which remote of the tractor: what was entered, what is proposed, what does not match."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from rakeprep.calculations import Impossible
from rakeprep.calculations.remotes import FEATURE_WORDS, Need, Remote, assign, lacking
from rakeprep.model.entry import Slot
from rakeprep.model.profile import Circuit
from rakeprep.model.tractor import Acting, RemoteValve
from rakeprep.model.verdict import Verdict
from rakeprep.steps._hydraulics_remotes import chosen, need_of, offer_of
from rakeprep.steps._reading import shown
from rakeprep.text import Message, joined, msg
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, RIGHT, Sheet, split

DOUBLE, SINGLE = msg("double acting"), msg("single acting")
FLOATS = msg("float")
PROPOSED, TAKEN = msg("proposed"), msg("taken twice")


@dataclass(frozen=True)
class Way:
    """One circuit with its remote, if it has one; ``wrong`` says what does not match."""

    circuit: Circuit
    remote: str | None
    entered: bool
    wrong: Message | None = None


class HoseMap(Body):
    """Remotes on the left, circuits with their hoses on the right, and the ways between them."""

    TITLE = msg("Hoses to the tractor's remotes")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        profile, valves = sheet.job.profile, sheet.job.tractor.remote
        circuits = profile.hydraulics.circuit
        head = sheet.row(-1) + 4
        left, between, right = split(area, (0.30, 0.24, 0.46))
        heads = split(area, (0.42, 0.58), 8)
        names = (
            (heads[0], msg("tractor, remotes"), LEFT),
            (heads[1], msg("machine, circuits and hoses"), RIGHT),
        )
        for box, words, align in names:
            top = QRectF(box.left(), box.top(), box.width(), head)
            sheet.words(top, words, align, change=-1, colour=sheet.theme.quiet)
        ways = ways_of(sheet)
        used = {way.remote for way in ways}
        plugs = self._remotes(sheet, left.adjusted(0, head, 0, 0), valves, used)
        ends = self._circuits(sheet, right.adjusted(0, head, 0, 0), circuits)
        for number, way in enumerate(ways):
            if way.remote in plugs:
                self._way(sheet, way, plugs[way.remote], ends[way.circuit.key], between, number)

    # ------------------------------------------------------------------ both sides

    def _remotes(
        self, sheet: Sheet, area: QRectF, valves: tuple[RemoteValve, ...], used: set[str | None]
    ) -> dict[str | None, QPointF]:
        """Each remote as a plate with its couplings; gives where its hoses leave."""
        plugs: dict[str | None, QPointF] = {}
        if not valves:
            words = msg("This tractor has no remote.")
            sheet.words(area, words, MIDDLE, colour=sheet.ink(Verdict.PUT_RIGHT), lines=4)
            return plugs
        for valve, room in zip(valves, _rows(area, len(valves), 104.0), strict=True):
            self._remote(sheet, room, valve, valve.key in used)
            plugs[valve.key] = QPointF(room.right(), room.center().y())
        return plugs

    def _remote(self, sheet: Sheet, box: QRectF, valve: RemoteValve, used: bool) -> None:
        theme = sheet.theme
        sheet.fill(sheet.shade(0.14 if used else 0.04))
        sheet.pen(theme.quiet if used else theme.line, 1.3)
        sheet.rounded(box, 7)
        side = min(26.0, box.height() * 0.46)
        badge = QRectF(box.left() + 7, box.top() + 6, side, side)
        sheet.fill(theme.ink)
        sheet.no_pen()
        sheet.rounded(badge, 6)
        sheet.words(badge, valve.key, MIDDLE, change=4, bold=True, colour=theme.ground)
        couplings = 2 if valve.acting is Acting.DOUBLE else 1
        step = min(12.0, badge.height() / 2)
        for number in range(couplings):
            at = QPointF(box.right(), box.center().y() + step * (number - (couplings - 1) / 2) * 1.3)
            sheet.pen(theme.quiet, 1.4)
            sheet.fill(theme.ground)
            sheet.disc(at, 4.2)
        if valve.float_position:
            _float_sign(sheet, QRectF(badge.right() + 5, badge.top(), 26, side))
        said = [DOUBLE if couplings == 2 else SINGLE]
        if valve.float_position:
            said.append(FLOATS)
        said += [msg("{flow}", flow=shown(valve.flow)), msg("{pressure}", pressure=shown(valve.pressure))]
        room = QRectF(box.left() + 7, badge.bottom() + 3, box.width() - 15, box.bottom() - badge.bottom() - 5)
        sheet.words(room, joined(said), LEFT, change=-2, colour=theme.quiet, lines=5)

    def _circuits(self, sheet: Sheet, area: QRectF, circuits: tuple[Circuit, ...]) -> dict[str, QPointF]:
        """Each circuit with what it needs; gives where its hoses begin."""
        ends: dict[str, QPointF] = {}
        if not circuits:
            sheet.words(area, msg("This machine has no hydraulic circuit."), MIDDLE, lines=4)
            return ends
        for circuit, room in zip(circuits, _rows(area, len(circuits), 150.0), strict=True):
            self._circuit(sheet, room, circuit)
            ends[circuit.key] = QPointF(room.left(), room.center().y())
        return ends

    def _circuit(self, sheet: Sheet, box: QRectF, circuit: Circuit) -> None:
        slot = asked_of(sheet, circuit)
        sheet.plate(slot, box)
        verdict = sheet.verdict(slot)
        inner = box.adjusted(10, 5, -8, -5)
        name, needs, hoses = split(inner, (1.0, 1.0, 1.05), 2, down=True)
        side = min(16.0, name.height())
        sheet.symbol(verdict, QPointF(name.right() - side / 2, name.center().y()), side)
        sheet.words(name.adjusted(0, 0, -side - 4, 0), circuit.name, LEFT, bold=True, lines=2)
        said = [DOUBLE if circuit.acting is Acting.DOUBLE else SINGLE]
        if circuit.float_needed:
            said.append(FLOATS)
        said += [msg("{flow}", flow=shown(circuit.flow)), msg("{pressure}", pressure=shown(circuit.pressure))]
        value = "" if slot.field == "remote" else sheet.value(slot)
        if value:  # the answer to the question in hand is worth more than what is needed of the remote
            sheet.words(needs, value, LEFT, change=3, bold=True, lines=2)
        else:
            words = msg("needs {what}", what=joined(said))
            sheet.words(needs, words, LEFT, change=-2, colour=sheet.theme.quiet, lines=3)
        for label, chip in zip(circuit.hoses, split(hoses, (1,) * len(circuit.hoses), 5), strict=True):
            self._hose(sheet, chip, label)

    def _hose(self, sheet: Sheet, box: QRectF, label: str) -> None:
        """A hose with its label, ticked once it is coupled."""
        slot = Slot("hydraulics", "connected", label)
        wide = min(box.width(), sheet.width(label, -1, bold=True) + 28)
        high = min(box.height(), sheet.row(-1) + 8)
        tag = QRectF(box.left(), box.center().y() - high / 2, wide, high)
        sheet.plate(slot, tag, high / 2)
        side = min(13.0, high - 3)
        sheet.symbol(sheet.verdict(slot), QPointF(tag.left() + 4 + side / 2, tag.center().y()), side)
        sheet.words(tag.adjusted(7 + side, 0, -3, 0), label, LEFT, change=-1, bold=True)

    # ------------------------------------------------------------------ the ways between

    def _way(
        self, sheet: Sheet, way: Way, start: QPointF, end: QPointF, between: QRectF, number: int
    ) -> None:
        """One line for each hose; light where it is only proposed, marked where it does not match."""
        theme = sheet.theme
        colour = theme.line if not way.entered else theme.accent
        ink = sheet.ink(Verdict.PUT_RIGHT) if way.wrong is not None else colour
        hoses = len(way.circuit.hoses)
        sheet.fill(None)
        for hose in range(hoses):
            off = 7.0 * (hose - (hoses - 1) / 2)
            sheet.pen(ink, 2.8 if way.entered else 2.0, () if way.entered else (2.6, 2.2))
            first, last = start + QPointF(5, off), end + QPointF(-1, off)
            path = QPainterPath(first)
            bend = (last.x() - first.x()) * 0.55
            path.cubicTo(first + QPointF(bend, 0), last - QPointF(bend, 0), last)
            sheet.painter.drawPath(path)
        # near the circuit, where no other way crosses
        middle = QPointF((start.x() + end.x()) / 2 + 3, start.y() + (end.y() - start.y()) * 0.86)
        if way.wrong is not None:
            self._sign(sheet, middle, between, way.wrong, wrong=True)
        elif not way.entered:
            self._sign(sheet, middle, between, PROPOSED, wrong=False)

    def _sign(self, sheet: Sheet, at: QPointF, between: QRectF, words: Message, wrong: bool) -> None:
        """What is said of a way, on its middle."""
        side = 20.0 if wrong else 0.0
        wide = min(between.width() - 10, sheet.width(words, -2, bold=wrong) + 12)
        rows = min(3, sheet.lines(words, wide - 6, -2)) if wrong else 1
        high = (rows + 0.5) * sheet.row(-2) + side + 6 if wrong else sheet.row(-2) + 6
        box = QRectF(at.x() - wide / 2, at.y() - high / 2, wide, high)
        sheet.fill(sheet.ground(Verdict.PUT_RIGHT) if wrong else sheet.theme.ground)
        if wrong:
            sheet.pen(sheet.ink(Verdict.PUT_RIGHT), 1.2)
        else:
            sheet.no_pen()
        sheet.rounded(box, 6)
        colour = sheet.ink(Verdict.PUT_RIGHT) if wrong else sheet.theme.quiet
        if wrong:
            sheet.symbol(Verdict.PUT_RIGHT, QPointF(box.center().x(), box.top() + 3 + side / 2), side - 2)
        room = box.adjusted(3, side + (2 if wrong else 0), -3, 0)
        sheet.words(room, words, MIDDLE, change=-2, bold=wrong, colour=colour, lines=rows)


def asked_of(sheet: Sheet, circuit: Circuit) -> Slot:
    """What the plate of a circuit opens: the question in hand where it is asked here, else its remote."""
    for field in (sheet.slot.field, "remote", "purge"):
        slot = Slot("hydraulics", field, circuit.key)
        if sheet.asked(slot):
            return slot
    return Slot("hydraulics", "remote", circuit.key)


def ways_of(sheet: Sheet) -> list[Way]:
    """Every circuit with its remote: the one entered, else the one proposed for what is left."""
    facts = sheet.facts("hydraulics")
    circuits = facts.profile.hydraulics.circuit
    offers = {valve.key: offer_of(facts, valve) for valve in facts.tractor.remote}
    needs = {circuit.key: need_of(facts, circuit) for circuit in circuits}
    entered = {circuit.key: chosen(facts, circuit.key, offers) for circuit in circuits}
    proposal = proposed(needs, offers, entered)
    ways = []
    for circuit in circuits:
        remote = entered[circuit.key]
        if remote is None:
            ways.append(Way(circuit, proposal.get(circuit.key), entered=False))
            continue
        twice = list(entered.values()).count(remote) > 1
        missing = lacking(needs[circuit.key], offers[remote])
        wrong = TAKEN if twice else None
        if missing:
            wrong = msg("no {what}", what=joined([FEATURE_WORDS[feature] for feature in missing]))
        ways.append(Way(circuit, remote, entered=True, wrong=wrong))
    return ways


def proposed(
    needs: dict[str, Need], offers: dict[str, Remote], entered: dict[str, str | None]
) -> dict[str, str]:
    """The best remotes for the circuits without one, among those that are not taken."""
    taken = set(entered.values())
    try:
        best = assign(
            [need for key, need in needs.items() if entered[key] is None],
            [offer for key, offer in offers.items() if key not in taken],
        )
    except Impossible:
        return {}
    return dict(best.pairs)


def _rows(area: QRectF, count: int, highest: float) -> list[QRectF]:
    """Boxes one below the other, not taller than ``highest``, spread over the height."""
    gap = 8.0
    high = min(highest, (area.height() - gap * (count - 1)) / count)
    free = (area.height() - high * count) / count
    return (
        [
            QRectF(area.left(), area.top() + free / 2 + n * (high + free), area.width(), high)
            for n in range(count)
        ]
        if free > gap
        else split(area, (1,) * count, gap, down=True)
    )


def _float_sign(sheet: Sheet, box: QRectF) -> None:
    """A wave over a line: oil may flow either way."""
    sheet.pen(sheet.theme.accent, 2.0)
    sheet.fill(None)
    y, half = box.center().y(), box.width() / 2
    path = QPainterPath(QPointF(box.left(), y))
    path.cubicTo(
        QPointF(box.left() + half * 0.5, y - 9),
        QPointF(box.left() + half * 0.5, y - 9),
        QPointF(box.left() + half, y),
    )
    path.cubicTo(
        QPointF(box.left() + half * 1.5, y + 9),
        QPointF(box.left() + half * 1.5, y + 9),
        QPointF(box.right(), y),
    )
    sheet.painter.drawPath(path)
