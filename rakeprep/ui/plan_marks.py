"""The symbols on the map: which part has one of its own, how large it is, and where it stands."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF

from rakeprep.drawing.plan import Plan, anchor_of, group_of, home_of
from rakeprep.drawing.shapes import Box
from rakeprep.drawing.spread import spread
from rakeprep.model.verdict import Verdict
from rakeprep.ui.plan_layout import Layout
from rakeprep.ui.theme import Size

PLATE = 3.0  # pixels around a symbol
CROWD = 3  # so many marks may lie on others before all get smaller
FULL = 0.16  # of the drawing may be covered by marks of the open step


@dataclass(frozen=True)
class Mark:
    """One symbol on the drawing: the part that it opens, its verdict, its place, and its width in pixels.

    ``home`` is where it belongs, ``at`` where it stands, ``plate`` whether it belongs to the open step.
    """

    part: str
    verdict: Verdict
    home: QPointF
    at: QPointF
    side: float
    plate: bool


@dataclass(frozen=True)
class Shown:
    """What the map shows: its parts in reading order, their verdicts, those of the open step, and the one
    that the keyboard stands on."""

    order: Sequence[str]
    verdicts: Mapping[str, Verdict]
    current: frozenset[str]
    focused: str | None


def marks_of(plan: Plan, layout: Layout, shown: Shown, size: Size) -> list[Mark]:
    """One symbol for each part of the open step, and one, the worst, for each other group."""
    alone = standing_alone(plan, layout, shown, size)
    if shown.focused is not None and shown.focused not in alone:
        alone.append(shown.focused)
    groups: dict[str, list[str]] = {}
    for part in shown.order:
        if part not in alone:
            groups.setdefault(group_of(plan, part), []).append(part)
    place = layout.place.point
    wanted = [(p, place(home_of(plan, p)), place(anchor_of(plan, p))) for p in alone]
    for group, members in groups.items():
        # of several equally bad ones the first, which the order gives
        worst = max(members, key=lambda part: shown.verdicts[part].rank)
        at = place(plan.group_anchors[group])
        wanted.append((worst, at, at))
    side = largest([at for _, _, at in wanted], size)
    room = layout.area.adjusted(side / 2, side / 2, -side / 2, -side / 2)
    spots = spread(
        [(at.x(), at.y()) for _, _, at in wanted],
        side + (2 * PLATE + 2 if shown.current else 2),
        Box(room.left(), room.top(), room.right(), room.bottom()),
    )
    return [
        Mark(
            part,
            shown.verdicts[part],
            home,
            QPointF(*spot),
            side if part in shown.current else min(side, size.text + 4.0),
            part in shown.current,
        )
        for (part, home, _), spot in zip(wanted, spots, strict=True)
    ]


def standing_alone(plan: Plan, layout: Layout, shown: Shown, size: Size) -> list[str]:
    """The parts of the open step that have marks of their own: all, but in a small drawing none of a group of
    many, such as the arms of a rotor, which would hide it."""
    parts = [part for part in shown.order if part in shown.current]
    each = (size.text + 6.0 + 2 * PLATE) ** 2
    room = plan.bounds.width * plan.bounds.height * layout.place.scale**2
    if len(parts) * each <= FULL * room:
        return parts
    many = Counter(group_of(plan, part) for part in parts)
    return [part for part in parts if many[group_of(plan, part)] <= CROWD]


def largest(homes: list[QPointF], size: Size) -> float:
    """Width of the symbols in pixels: smaller, but never below 18, where many stand close together."""
    side = size.text + 6.0
    close = sum(
        any(apart(home, other) < side for other in homes[:number]) for number, home in enumerate(homes)
    )
    return side if close <= CROWD else max(18.0, side - 2.0)


def apart(first: QPointF, second: QPointF) -> float:
    """Pixels between two points."""
    return math.dist((first.x(), first.y()), (second.x(), second.y()))
