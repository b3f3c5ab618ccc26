"""Page one drawn: the parts are measured first, then set closer or smaller until they fill one page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rakeprep.handover import blocks, symbols
from rakeprep.handover.fitting import Fitted, fit, width_of
from rakeprep.handover.fonts import BOLD
from rakeprep.handover.front_points import MOST_ROWS, Listed, draw_points, point_rows, remark, shortened, tall
from rakeprep.handover.pen import (
    ACCENT,
    BOTTOM,
    GUTTER,
    INK,
    INNER,
    LEFT,
    LINE,
    PANEL,
    QUIET,
    RIGHT,
    Pen,
    columns,
)
from rakeprep.handover.strokes import draw_strokes
from rakeprep.handover.tags import FormField


@dataclass(frozen=True, slots=True)
class Measure:
    """How close everything is set; ``value`` is the size of the values among settings and visits."""

    gap: float
    heading: float
    topic: float
    value: float
    box: float
    points: Listed


# From roomy to close; after the last one the list of open points is cut short.
MEASURES = (
    Measure(15, 21, 23, 11, 92, Listed(11, 2, 9, 2)),
    Measure(11, 20, 20.5, 11, 86, Listed(10, 2, 8.5, 2)),
    Measure(9, 19, 19, 11, 84, Listed(9.5, 2, 8)),
    Measure(7, 18, 18, 10.5, 82, Listed(9, 2, 8)),
    Measure(6, 17.5, 17.5, 10.5, 80, Listed(8.5, 4, 8, columns=2)),
    Measure(5, 17, 16, 10, 78, Listed(8, 3, 7.5, columns=2)),
    Measure(4, 16.5, 15.5, 9.5, 76, Listed(7.5, 3, 7.5, columns=2)),
    Measure(3, 16, 15, 9.5, 74, Listed(7.5, 2, 7, columns=2)),
    Measure(2.5, 15.5, 14, 9, 74, Listed(7, 2, 7, columns=2)),
)
WIDER = (30.0, -24.0, -6.0)  # the three columns of the settings
INSET, PAD = 9.0, 5.0
TOPIC_NUMBER, INITIALS = 20.0, 50.0
TWO_LINES = 17.5  # a row that two lines of a name fit into
GROWS_TO = 26.0  # largest gap where there is room left


def draw_front(canvas: Any, page: blocks.FrontPage) -> dict[str, tuple[float, float, float, float]]:
    """Draw page one; gives where the signature fields lie: left, bottom, right, top in points."""
    pen = Pen(canvas)
    head(pen, page)
    notice = notice_lines(page.notice)
    fixed = INNER_NOTICE + notice[0].height + notice[1].height
    for measure in MEASURES if len(page.points.points) <= MOST_ROWS else MEASURES[-1:]:
        rows = point_rows(page.points, measure.points)
        wanted = fixed + tall(rows, measure.points) + others(page, measure)
        if wanted <= pen.y - BOTTOM:
            break
    spare = pen.y - BOTTOM - wanted
    if spare < 0 or len(page.points.points) > MOST_ROWS:
        rows = shortened(rows, page.points, spare, measure.points)
        spare = 0.0
    gap = min(measure.gap + spare / GAPS, GROWS_TO)
    spare -= (gap - measure.gap) * GAPS
    draw_notice(pen, page.notice, notice)
    pen.y -= gap
    heading(pen, page.points.heading, measure.heading, remark(page.points, rows))
    draw_points(pen, page.points, rows, measure.points)
    pen.y -= gap
    draw_topics(pen, page.topics, measure, min(spare / 16, 4))
    pen.y -= gap
    draw_settings(pen, page.settings, measure)
    pen.y -= gap
    draw_visits(pen, page.visits, measure)
    draw_signatures(pen, page.signatures, measure, min(max(spare - 16, 0) / 2, 24))
    return pen.boxes


GAPS = 5
INNER_NOTICE = 21.0


def others(page: blocks.FrontPage, measure: Measure) -> float:
    """Height of everything that is neither head, notice nor open points."""
    topic_rows = (len(page.topics.topics) + 1) // 2
    return (
        GAPS * measure.gap
        + 5 * measure.heading
        + topic_rows * measure.topic
        + settings_height(page.settings, measure)
        + tallest(visit_columns(page.visits, measure))
        + measure.box
    )


def settings_height(settings: blocks.Settings, measure: Measure) -> float:
    """Height of the panel with the settings."""
    return PAD + sum(tallest(row) + PAD for row in settings_rows(settings, measure))


def heading(pen: Pen, text: str, room: float, aside: str = "") -> None:
    """A heading with a quiet remark at its right end."""
    fitted = fit(text, INNER - 150, 12.5, 1, 9, bold=True)
    with pen.tags.content(pen.tags.heading(2)):
        pen.lines(LEFT, pen.y, fitted)
    if aside:
        said = fit(aside, INNER - width_of(fitted.lines[0], fitted.size, bold=True) - GUTTER, 8.5, 1, 6.5)
        with pen.tags.block("P"):
            pen.ends(RIGHT, pen.y - 12.5, said.lines[0], said.size, QUIET)
    pen.y -= room


def head(pen: Pen, page: blocks.FrontPage) -> None:
    """Title, how left and right are meant, and who is who."""
    title = fit(page.title, INNER - 175, 21, 1, 12, bold=True)
    with pen.tags.content(pen.tags.heading(1)):
        pen.text(LEFT, pen.y - 19, title.lines[0], title.size, INK, bold=True)
    if page.tag:
        tag = fit(page.tag, 155, 10, 1, 7, bold=True)
        width = width_of(tag.lines[0], tag.size, bold=True) + 16
        pen.panel(RIGHT - width, pen.y - 2, width, 19, "#fdf0e4", "#7a2d00", 1)
        with pen.tags.block("P"):
            pen.text(RIGHT - width + 8, pen.y - 15.2, tag.lines[0], tag.size, "#7a2d00", bold=True)
    pen.y -= 26
    with pen.tags.block("P"):
        line = fit(page.line, INNER * 0.55, 9.5, 1, 7)
        pen.text(LEFT, pen.y - 10, line.lines[0], line.size, QUIET)
    with pen.tags.block("P"):
        aside = fit(page.aside, INNER * 0.42, 9.5, 1, 7)
        pen.ends(RIGHT, pen.y - 10, aside.lines[0], aside.size, QUIET)
    pen.y -= 18
    pen.rule(pen.y, 1.2, INK)
    pen.y -= 9
    row = who(page)
    for x, stack in row:
        draw_stacked(pen, stack, x, pen.y)
    pen.y -= max(tallest(row), 40) + 8


@dataclass(frozen=True, slots=True)
class Stacked:
    """A label, its value and the quiet lines below, each with its distance from what stands above it."""

    lines: tuple[tuple[float, Fitted, str], ...]

    @property
    def height(self) -> float:
        """Height of all of it."""
        return sum(above + fitted.height for above, fitted, _ in self.lines)


def stacked(pair: blocks.Pair, width: float, size: float, budget: int) -> Stacked:
    """A pair in at most ``budget`` lines below its label; a value gets smaller before it is cut."""
    small = max(size - 2, 7.5)
    lines = [(0.0, fit(pair.label, width, small, 1, 6.2), QUIET)]
    value = value_of(pair, width, size, budget)
    lines.append((1.0, value, INK))
    left = budget - len(value.lines)
    several = [line for line in pair.more if line]
    for number, more in enumerate(several, 1):
        if left <= 0:
            break
        fitted = fit(more, width, small, 1, 7)
        if not fitted.whole:
            fitted = fit(more, width, small, left if number == len(several) else 1, 6.2)
        left -= len(fitted.lines)
        lines.append((0.5 if number == 1 else 0.0, fitted, QUIET))
    return Stacked(tuple(lines))


def value_of(pair: blocks.Pair, width: float, size: float, budget: int) -> Fitted:
    """The value of a pair: on one line, on two, or on three."""
    value = fit(pair.value, width, size, 1, max(size - 2.5, 8), bold=True)
    if not value.whole:
        value = fit(pair.value, width, max(size - 2, 8), 2, 7.5, bold=True)
    if not value.whole and budget > 3:
        value = fit(pair.value, width, 8, 3, 6, bold=True)
    return value


def in_line(several: Sequence[tuple[float, float, blocks.Pair]], size: float, budget: int) -> list[Placed]:
    """Pairs side by side (left end, width, pair), their one-line values in one size."""
    sizes = [value_of(pair, width, size, budget) for _, width, pair in several]
    least = min((value.size for value in sizes if len(value.lines) == 1), default=size)
    return [(x, stacked(pair, width, max(least, size - 2.5), budget)) for x, width, pair in several]


def draw_stacked(pen: Pen, stack: Stacked, x: float, top: float) -> None:
    """A pair, from ``top`` downward."""
    with pen.tags.block("P"):
        for above, fitted, ink in stack.lines:
            top = pen.lines(x, top - above, fitted, ink)


Placed = tuple[float, Stacked]  # left end, and what stands there


def who(page: blocks.FrontPage) -> list[Placed]:
    """Who is who, in equal columns."""
    width, lefts = columns(page.who.columns)
    return [(x, stacked(pair, width, 11.5, 3)) for pair, x in zip(page.who.pairs, lefts, strict=False)]


def settings_rows(settings: blocks.Settings, measure: Measure) -> list[list[Placed]]:
    """The settings three in a row; the first column is the widest."""
    width, lefts = columns(3)
    cells: list[list[tuple[float, float, blocks.Pair]]] = [[] for _ in settings.pairs[::3]]
    for number, pair in enumerate(settings.pairs):
        column = number % 3
        x = lefts[column] + sum(WIDER[:column]) + INSET
        cells[number // 3].append((x, width + WIDER[column] - INSET - 3, pair))
    return [in_line(row, measure.value, 4 if measure.value > 10 else 3) for row in cells]


def visit_columns(visits: blocks.Visits, measure: Measure) -> list[Placed]:
    """The visits side by side; the last column is wider, a number must not be cut."""
    count = max(len(visits.pairs), 1)
    width, lefts = columns(count)
    less = 14.0 if count > 2 else 0.0
    last = width + less * (count - 1)
    cells = [
        (x - less * n, width - less if n < count - 1 else last, pair)
        for n, (pair, x) in enumerate(zip(visits.pairs, lefts, strict=False))
    ]
    return in_line(cells, measure.value, 4)


def tallest(row: Sequence[Placed]) -> float:
    """Height of what stands side by side."""
    return max((stack.height for _, stack in row), default=0.0)


def notice_lines(notice: blocks.Notice) -> tuple[Fitted, Fitted]:
    """The two texts of the notice."""
    width = INNER - 60
    strong = fit(notice.strong, width, 12.5, 1, 11, bold=True)
    if not strong.whole:
        strong = fit(notice.strong, width, 12.5, 2, 10, bold=True)
    if not strong.whole:
        strong = fit(notice.strong, width, 10, 3, 8, bold=True)
    return strong, fit(notice.small, width, 9, 2, 7.5)


def draw_notice(pen: Pen, notice: blocks.Notice, lines: tuple[Fitted, Fitted]) -> None:
    """What it may be used for, framed, with its symbol."""
    ink = symbols.INK[notice.verdict]
    height = INNER_NOTICE + lines[0].height + lines[1].height - 2
    pen.panel(LEFT, pen.y, INNER, height, symbols.GROUND[notice.verdict], ink, 1.1)
    with pen.tags.artifact():
        symbols.draw(pen.canvas, notice.verdict, LEFT + 25, pen.y - height / 2, 25)
    with pen.tags.block("P"):
        y = pen.lines(LEFT + 48, pen.y - 8, lines[0], ink)
    with pen.tags.block("P"):
        pen.lines(LEFT + 48, y - 3, lines[1], INK)
    pen.y -= height + 2


def draw_topics(pen: Pen, topics: blocks.Topics, measure: Measure, more: float) -> None:
    """What the customer did himself, with room for his initials."""
    heading(pen, topics.heading, measure.heading, topics.aside)
    row = measure.topic + more
    width, lefts = columns(2)
    half = (len(topics.topics) + 1) // 2
    names = topic_names(topics, width - TOPIC_NUMBER - INITIALS - 4, 2 if row >= TWO_LINES else 1)
    with pen.tags.within("L"):
        for index, (topic, name) in enumerate(zip(topics.topics, names, strict=True)):
            x, top = lefts[index // half], pen.y - (index % half) * row
            with pen.tags.within("LI"):
                draw_topic(pen, topic, name, x, top, width, row)
    pen.y -= half * row


def topic_names(topics: blocks.Topics, room: float, lines: int) -> list[Fitted]:
    """The topics' names, those on one line all in one size."""
    single = [fit(topic.name, room, 10.5, 1, 8 if lines > 1 else 6.5) for topic in topics.topics]
    least = min((name.size for name in single if name.whole), default=8.0)
    return [
        fit(topic.name, room, least, 1) if name.whole else fit(topic.name, room, min(least, 8), lines, 6.2)
        for topic, name in zip(topics.topics, single, strict=True)
    ]


def draw_topic(
    pen: Pen, topic: blocks.Topic, name: Fitted, x: float, top: float, width: float, row: float
) -> None:
    """One topic and the box for the initials."""
    middle = top - row / 2
    with pen.tags.block("Lbl"):
        pen.text(x + 3, middle - 3.4, str(topic.number), 10, ACCENT, bold=True)
    pen.panel(x + width - INITIALS, top - 1.5, INITIALS, row - 3.5, "#ffffff", LINE)
    with pen.tags.block("LBody"):
        pen.lines(x + TOPIC_NUMBER, middle + name.height / 2 + 0.5, name)
        if topic.initials:
            said = fit(topic.initials, INITIALS - 6, min(10.5, row * 0.6), 1, 6, bold=True)
            pen.canvas.setFont(BOLD, said.size)
            pen.ink(ACCENT)
            pen.canvas.drawCentredString(x + width - INITIALS / 2, middle - said.size * 0.36, said.lines[0])


def draw_settings(pen: Pen, settings: blocks.Settings, measure: Measure) -> None:
    """Numbers for the seat, on a quiet ground."""
    heading(pen, settings.heading, measure.heading, settings.aside)
    high = settings_height(settings, measure)
    pen.panel(LEFT, pen.y, INNER, high, PANEL)
    top = pen.y - PAD
    for row in settings_rows(settings, measure):
        for x, stack in row:
            draw_stacked(pen, stack, x, top)
        top -= tallest(row) + PAD
    pen.y -= high


def draw_visits(pen: Pen, visits: blocks.Visits, measure: Measure) -> None:
    """When somebody looks again, and whom to call."""
    heading(pen, visits.heading, measure.heading, visits.aside)
    row = visit_columns(visits, measure)
    for x, stack in row:
        draw_stacked(pen, stack, x, pen.y)
    pen.y -= tallest(row)


def draw_signatures(pen: Pen, signatures: blocks.SignatureBoxes, measure: Measure, more: float) -> None:
    """The signatures stand at the foot of the page, whatever stands above them."""
    height = measure.box + more
    pen.y = BOTTOM + height + measure.heading
    heading(pen, signatures.heading, measure.heading)
    count = max(len(signatures.boxes), 1)
    width, lefts = columns(count)
    for box, x in zip(signatures.boxes, lefts, strict=False):
        with pen.tags.within("Div"):
            draw_signature(pen, box, x, width, height)
    pen.y = BOTTOM


def draw_signature(pen: Pen, box: blocks.SignatureBox, x: float, width: float, height: float) -> None:
    """One signature: who declares what, the strokes, name and moment."""
    pen.panel(x, pen.y, width, height, "#ffffff", INK, 0.8)
    with pen.tags.block("P"):
        y = pen.lines(x + 7, pen.y - 5, fit(box.role, width - 14, 10, 1, 7, bold=True))
        y = pen.lines(x + 7, y, fit(box.declares, width - 14, 7.5, 3, 6.5), QUIET)
    foot = pen.y - height + 17
    area = (x + 10, foot + 2, width - 20, y - foot - 3)
    if box.strokes:
        where = (area[0], area[1], area[0] + area[2], area[1] + area[3])
        with pen.tags.block("Figure", alt=box.alt, box=where):
            draw_strokes(pen.canvas, box.strokes, area)
    elif box.typed:
        typed = fit(box.typed, area[2], min(14, area[3] * 0.8), 1, 7)
        with pen.tags.block("P"):
            pen.text(area[0], area[1] + 3, typed.lines[0], typed.size, ACCENT)
    pen.rule(foot, 0.5, LINE, x + 7, x + width - 7)
    with pen.tags.block("P"):
        pen.lines(x + 7, foot - 1.5, fit(box.below, width - 14, 8, 1, 6), QUIET)
    if box.field:
        pen.boxes[box.field] = (x, pen.y - height, x + width, pen.y)
        pen.tags.node("Form").kids.append(FormField(box.field))
