"""Painting the machine from above: shapes to lines and colours of a theme, scaled to fit."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from rakeprep.drawing.plan import Plan
from rakeprep.drawing.shapes import (
    Arc,
    Box,
    Circle,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Role,
    RoundedBox,
    Shape,
    at_clock,
)
from rakeprep.text import Message
from rakeprep.ui.theme import Theme


@dataclass(frozen=True)
class Fit:
    """How millimetres of the drawing become pixels of the window."""

    scale: float
    left: float
    top: float

    def point(self, at: Point) -> QPointF:
        """A point of the drawing in the window."""
        return QPointF(self.left + at[0] * self.scale, self.top - at[1] * self.scale)

    def points(self, through: tuple[Point, ...]) -> QPolygonF:
        """Several points of the drawing in the window."""
        return QPolygonF([self.point(at) for at in through])


def fit(bounds: Box, area: QRectF) -> Fit:
    """The largest scale at which the drawing fits into the area, in its middle."""
    width, height = max(bounds.width, 1.0), max(bounds.height, 1.0)
    scale = max(1e-6, min(area.width() / width, area.height() / height))
    middle = area.center()
    return Fit(
        scale,
        middle.x() - (bounds.left + bounds.right) / 2 * scale,
        middle.y() + (bounds.bottom + bounds.top) / 2 * scale,
    )


def mixed(first: str, second: str, share: float) -> QColor:
    """A colour between two, ``share`` of the way to the second."""
    a, b = QColor(first), QColor(second)
    red, green, blue = (
        round(x + (y - x) * share)
        for x, y in ((a.red(), b.red()), (a.green(), b.green()), (a.blue(), b.blue()))
    )
    return QColor(red, green, blue)


RIM = 12.0  # px; no pen and no arrow head reaches further from the points of its shape
HEAD = 9.0  # px; length of an arrow head's sides
LETTERS = 40.0  # px; half the height that a line of words may have


@dataclass(frozen=True)
class Look:
    """Line and fill of one role."""

    pen: QPen
    fill: QColor | None = None


def looks(theme: Theme) -> dict[Role, Look]:
    """How every role looks where nothing has to be done now."""
    line, ground = QColor(theme.line), theme.ground
    soft = mixed(theme.line, ground, 0.25)
    body = mixed(ground, theme.line, 0.17)
    return {
        Role.DISC: Look(_pen(soft, 1.1, Qt.PenStyle.DotLine), mixed(ground, theme.line, 0.055)),
        Role.LIGHT: Look(_pen(soft, 1.1), mixed(ground, theme.line, 0.10)),
        Role.OUTLINE: Look(_pen(line, 1.2), body),
        Role.TYRE: Look(_pen(mixed(theme.line, theme.quiet, 0.4), 1.1), mixed(ground, theme.line, 0.50)),
        Role.STRONG: Look(
            _pen(mixed(theme.quiet, theme.line, 0.15), 1.0), mixed(theme.quiet, theme.line, 0.3)
        ),
        Role.ARM: Look(_pen(mixed(theme.line, ground, 0.1), 1.25)),
        Role.HOSE: Look(_pen(line, 1.7)),
        Role.HIDDEN: Look(_pen(mixed(theme.quiet, theme.line, 0.2), 1.5, Qt.PenStyle.DashLine)),
        Role.ARROW: Look(_pen(line, 1.8)),
    }


def current_look(theme: Theme, role: Role) -> Look:
    """How a shape looks whose part is worked on now."""
    accent = QColor(theme.accent)
    match role:
        case Role.DISC:
            return Look(_pen(accent, 2.2), mixed(theme.ground, theme.chosen, 0.8))
        case Role.STRONG:
            return Look(_pen(accent, 1.4), accent)
        case Role.ARM | Role.LIGHT:
            return Look(_pen(accent, 1.8), mixed(theme.chosen, theme.ground, 0.4))
        case Role.HIDDEN:
            return Look(_pen(accent, 2.6, Qt.PenStyle.DashLine))
        case Role.HOSE | Role.ARROW:
            return Look(_pen(accent, 2.6))
        case _:
            return Look(_pen(accent, 2.2), QColor(theme.chosen))


def rotors_of(current: frozenset[str]) -> frozenset[str]:
    """The rotors that are worked on as a whole: their arms are part of them."""
    return frozenset(part.partition("@")[0] for part in current if part.startswith("rotor-"))


def stands_out(plan: Plan, shape: Shape, current: frozenset[str], rotors: frozenset[str]) -> bool:
    """Whether a shape looks otherwise because ``current`` parts are worked on."""
    part = shape.part
    return part in current or part in rotors or (shape.role is Role.ARM and plan.groups.get(part) in rotors)


@dataclass(frozen=True)
class Placed:
    """A shape in the window: the pixels that it may touch, and how it is drawn with pen and brush."""

    shape: Shape
    box: QRect
    draw: Callable[[QPainter], object]


def placed(shape: Shape, place: Fit) -> Placed:
    """A shape where it stands, with all that can be worked out once."""
    return Placed(shape, box_of(shape, place), drawing_of(shape, place))


@dataclass(frozen=True)
class Inks:
    """How the shapes of every role look in a theme: at rest, worked on, and lit up with their rotor."""

    quiet: Mapping[Role, Look]
    strong: Mapping[Role, Look]
    awake: Look


def inks_of(theme: Theme) -> Inks:
    """The pens and brushes of a theme."""
    strong = {role: current_look(theme, role) for role in Role}
    return Inks(looks(theme), strong, Look(_pen(mixed(theme.accent, theme.line, 0.35), 1.4)))


def paint_shapes(
    painter: QPainter,
    plan: Plan,
    shapes: Iterable[Placed],
    inks: Inks,
    current: frozenset[str],
    write: Callable[[QPainter, Label, bool], None],
) -> None:
    """Paint shapes of the drawing; those of ``current`` parts stand out. ``write`` writes a label."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    rotors = rotors_of(current)
    nothing = Qt.BrushStyle.NoBrush
    for each in shapes:
        shape = each.shape
        emphasised = shape.part in current or shape.part in rotors
        if isinstance(shape, Label):
            write(painter, shape, emphasised)
            continue
        if emphasised:
            look = inks.strong[shape.role]
        elif stands_out(plan, shape, current, rotors):
            look = inks.awake
        else:
            look = inks.quiet[shape.role]
        painter.setPen(look.pen)
        painter.setBrush(nothing if look.fill is None else look.fill)
        each.draw(painter)


def box_of(shape: Shape, place: Fit) -> QRect:
    """The pixels that a shape may touch, with its pen and its arrow head."""
    if isinstance(shape, Label):
        at, wide = place.point(shape.centre), shape.room * place.scale
        box = QRectF(at.x() - wide / 2, at.y() - LETTERS, wide, 2 * LETTERS)
    else:
        box = place.points(shape.points()).boundingRect()
    return box.adjusted(-RIM, -RIM, RIM, RIM).toAlignedRect()


def drawing_of(shape: Shape, place: Fit) -> Callable[[QPainter], object]:
    """How one shape is drawn with the pen and brush that are set; labels are written, not drawn."""
    match shape:
        case Line():
            line = QLineF(place.point(shape.start), place.point(shape.end))
            return lambda painter: painter.drawLine(line)
        case Polyline():
            through = place.points(shape.through)
            return lambda painter: painter.drawPolyline(through)
        case Polygon():
            corners = place.points(shape.corners)
            return lambda painter: painter.drawPolygon(corners)
        case Circle():
            centre, radius = place.point(shape.centre), shape.radius * place.scale
            return lambda painter: painter.drawEllipse(centre, radius, radius)
        case RoundedBox():
            corner = shape.radius * place.scale
            box = QRectF(0, 0, shape.width * place.scale, shape.height * place.scale)
            box.moveCenter(place.point(shape.centre))
            return lambda painter: painter.drawRoundedRect(box, corner, corner)
        case Arc():
            path = arc_path(shape, place)
            return lambda painter: painter.strokePath(path, painter.pen())
        case Label():
            return lambda painter: None


def arc_path(arc: Arc, place: Fit) -> QPainterPath:
    """An arc, with an arrow head along its last bit."""
    path = QPainterPath()
    path.addPolygon(place.points(arc.points()))
    if not arc.arrow or not arc.span:
        return path
    end = place.point(at_clock(arc.centre, arc.radius, arc.start + arc.span))
    forward = math.radians(arc.start + arc.span + (90 if arc.span > 0 else -90))
    for turn in (150, -150):
        way = forward + math.radians(turn)
        path.moveTo(end)
        path.lineTo(end + QPointF(math.sin(way), -math.cos(way)) * HEAD)
    return path


def write_label(
    painter: QPainter, label: Label, place: Fit, theme: Theme, strong: bool, say: Callable[[Message], str]
) -> None:
    """The words of a label, centred."""
    font = QFont(painter.font())
    font.setBold(strong)
    painter.save()
    painter.setFont(font)
    painter.setPen(QColor(theme.accent if strong else theme.quiet))
    words = say(label.text)
    box = QFontMetricsF(font).boundingRect(words).adjusted(-4, -2, 4, 2)
    box.moveCenter(place.point(label.centre))
    if box.width() - 8 <= label.room * place.scale:
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
    painter.restore()


def _pen(colour: QColor, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    if style is Qt.PenStyle.DotLine:
        # square dots: round ones take three times as long to paint, and nobody sees the difference
        pen = QPen(colour, width, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([1.1, 2.2])
        return pen
    if style is Qt.PenStyle.DashLine:
        pen = QPen(colour, width, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([3.0, 2.0])
        return pen
    return QPen(colour, width, style, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
