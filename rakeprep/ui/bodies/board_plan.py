"""Boards, emblems, reflectors and signs: the size they have to mark, and each one that must be there."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF

from rakeprep.drawing.shapes import Box
from rakeprep.model.entry import Slot
from rakeprep.model.profile import Board, BoardKind
from rakeprep.model.source import Sourced
from rakeprep.steps._levelling_axle import axle_wheels
from rakeprep.steps._reading import shown
from rakeprep.text import Message, msg, verbatim
from rakeprep.ui.bodies.board_shapes import draw_board
from rakeprep.ui.bodies.body import Body
from rakeprep.ui.bodies.sheet import LEFT, MIDDLE, RIGHT, Sheet, split
from rakeprep.ui.plan_picture import fit

HIGHEST = 62.0  # px of one card in letters of 14 px
PAIRS = (BoardKind.BOARD, BoardKind.LAMP, BoardKind.REFLECTOR)  # one at either edge, from above down
SINGLE = (BoardKind.EMBLEM, BoardKind.SPEED)
GROUPS = (
    ("boards", True, msg("needed on the road")),
    ("other_boards", False, msg("other signs")),
)


def amount(value: Sourced) -> Message:
    """A value of the machine data with its unit."""
    return msg("{value}", value=shown(value))


class BoardPlan(Body):
    """The machine as it drives, seen from behind; below it a card for each board and sign."""

    TITLE = msg("What other drivers have to see")

    def draw(self, sheet: Sheet, area: QRectF) -> None:
        boards = sheet.job.profile.board
        rows = sum(1 + len([b for b in boards if b.road is road]) / 2 for _, road, _ in GROUPS)
        cards = min(area.height() * 0.68, rows * HIGHEST * max(1.0, sheet.base / 14))
        self._rear(sheet, area.adjusted(0, 0, 0, -cards - 8))
        box = QRectF(area.left(), area.bottom() - cards, area.width(), cards)
        groups = [(f, [b for b in boards if b.road is road], words) for f, road, words in GROUPS]
        groups = [each for each in groups if each[1]]
        if not groups:
            return
        shares = [(len(found) + 1) // 2 for _, found, _ in groups]
        for (field, found, words), room in zip(groups, split(box, shares, 6, down=True), strict=True):
            self._group(sheet, room, field, found, words)

    def _group(self, sheet: Sheet, box: QRectF, field: str, boards: list[Board], words: Message) -> None:
        """The cards of one kind, two in a row."""
        head = sheet.row(-1) + 2
        top = QRectF(box.left(), box.top(), box.width(), head)
        sheet.words(top, words, LEFT, change=-1, colour=sheet.theme.quiet)
        rows = split(box.adjusted(0, head, 0, 0), (1,) * ((len(boards) + 1) // 2), 5, down=True)
        for number, board in enumerate(boards):
            room = split(rows[number // 2], (1, 1), 8)[number % 2]
            self._card(sheet, room, Slot("lights", field, board.key), board)

    def _card(self, sheet: Sheet, box: QRectF, slot: Slot, board: Board) -> None:
        """One board: what it looks like, and its name."""
        sheet.plate(slot, box)
        side = min(box.height() - 8, 30.0)
        drawn = QRectF(box.left() + 6, box.center().y() - side / 2, side, side)
        draw_board(sheet, drawn, board.drawn_as)
        mark = min(16.0, box.height() - 6)
        sheet.symbol(sheet.verdict(slot), QPointF(box.right() - 5 - mark / 2, box.center().y()), mark)
        words = QRectF(drawn.right() + 6, box.top() + 2, box.width() - side - mark - 24, box.height() - 4)
        sheet.words(words, verbatim(board.name), LEFT, change=-1, lines=3)

    def _rear(self, sheet: Sheet, area: QRectF) -> None:
        """Outline in transport to scale, with the wheels of the axle and what the road needs."""
        facts, profile, theme = sheet.facts("width"), sheet.job.profile, sheet.theme
        wide, high = facts.value(profile.width.transport_width), facts.value(profile.width.transport_height)
        if wide is None or high is None or wide <= 0 or high <= 0 or area.height() < 60:
            return
        row = sheet.row(-1)
        room = area.adjusted(area.width() * 0.2, row + 2, -area.width() * 0.2, -2)
        on = fit(Box(-wide / 2, 0.0, wide / 2, high), room)
        outline = QRectF(on.point((-wide / 2, high)), on.point((wide / 2, 0.0)))
        sheet.fill(sheet.shade(0.08))
        sheet.pen(theme.quiet, 1.2, (4, 3))
        sheet.rounded(outline.adjusted(0, 0, 0, -outline.height() * 0.12), 8)
        sheet.pen(theme.line, 1.4)
        sheet.line((area.left(), outline.bottom()), (area.right(), outline.bottom()))
        sheet.fill(sheet.shade(0.6))
        for wheel in axle_wheels(profile):
            x, tyre = facts.value(wheel.right_of_middle), profile.tyre_of(wheel)
            broad, tall = facts.value(tyre.width), facts.value(tyre.diameter)
            if x is not None and broad is not None and tall is not None:
                sheet.rounded(QRectF(on.point((x - broad / 2, tall)), on.point((x + broad / 2, 0.0))), 3)
        self._on_the_rear(sheet, outline)
        head = QRectF(area.left(), area.top(), area.width(), row)
        sheet.words(head, amount(profile.width.transport_width), MIDDLE, change=-1, bold=True)
        beside = QRectF(area.left(), outline.center().y() - row / 2, outline.left() - area.left() - 8, row)
        sheet.words(beside, amount(profile.width.transport_height), RIGHT, change=-1, bold=True)

    def _on_the_rear(self, sheet: Sheet, outline: QRectF) -> None:
        """What the road needs, one of each kind: pairs at the edges, single ones in the middle."""
        kinds = {board.drawn_as for board in sheet.job.profile.board if board.road}
        side = min(outline.width() * 0.16, outline.height() * 0.2)
        at_edges = [kind for kind in PAIRS if kind in kinds]
        in_the_middle = [kind for kind in SINGLE if kind in kinds]
        for number, kind in enumerate(at_edges):
            y = outline.center().y() + (number - len(at_edges) / 2) * (side + 4)
            for x in (outline.left() + 5, outline.right() - side - 5):
                draw_board(sheet, QRectF(x, y, side, side), kind)
        for number, kind in enumerate(in_the_middle):
            y = outline.center().y() + (number - len(in_the_middle) / 2) * (side + 4)
            draw_board(sheet, QRectF(outline.center().x() - side / 2, y, side, side), kind)
