"""Page one drawn: the parts are measured first, then set closer or smaller until they fill one page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rakeprep.handover import blocks, symbols
from rakeprep.handover.fitting import Fitted, fit, width_of
from rakeprep.handover.fonts import BOLD
from rakeprep.handover.pen import ACCENT, BOTTOM, INK, INNER, LEFT, LINE, PANEL, QUIET, RIGHT, Pen
from rakeprep.handover.strokes import draw_strokes
from rakeprep.handover.tags import FormField
from rakeprep.model.verdict import Verdict

GUTTER = 14.0


@dataclass(frozen=True, slots=True)
class Measure:
    """How close everything is set; ``points`` are size, lines, size of the detail (0: beside), its lines."""

    gap: float
    heading: float
    topic: float
    setting: float
    visits: float
    box: float
    points: tuple[float, int, float, int]


# From roomy to close; after the last one the list of open points is cut short.
MEASURES = (
    Measure(15, 21, 23, 50, 52, 92, (11, 2, 9, 2)),
    Measure(11, 20, 20.5, 50, 50, 86, (10, 2, 8.5, 2)),
    Measure(9, 19, 19, 49, 48, 80, (9.5, 2, 8, 1)),
    Measure(7, 18, 17.5, 49, 47, 78, (9, 1, 8, 1)),
    Measure(6, 17.5, 17, 49, 47, 78, (8.5, 2, 0, 2)),
    Measure(5, 17, 16.5, 48, 46, 76, (8.5, 1, 0, 1)),
)
GROWS_TO = 26.0  # largest gap where there is room left


def draw_front(canvas: Any, page: blocks.FrontPage) -> dict[str, tuple[float, float, float, float]]:
    """Draw page one; gives where the signature fields lie: left, bottom, right, top in points."""
    pen = Pen(canvas)
    head(pen, page)
    notice = notice_lines(page.notice)
    fixed = INNER_NOTICE + notice[0].height + notice[1].height
    for measure in MEASURES if len(page.points.points) <= MOST_ROWS else MEASURES[-1:]:
        rows = point_rows(page.points, measure)
        wanted = fixed + sum(r.height for r in rows) + others(page, measure)
        if wanted <= pen.y - BOTTOM:
            break
    spare = pen.y - BOTTOM - wanted
    if spare < 0 or len(page.points.points) > MOST_ROWS:
        rows = shortened(rows, page.points, spare)
        spare = 0.0
    gap = min(measure.gap + spare / GAPS, GROWS_TO)
    spare -= (gap - measure.gap) * GAPS
    draw_notice(pen, page.notice, notice)
    pen.y -= gap
    draw_points(pen, page.points, rows, measure)
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
    """Height of everything whose height does not hang on its texts."""
    topic_rows = (len(page.topics.topics) + 1) // 2
    setting_rows = (len(page.settings.pairs) + 2) // 3
    return (
        GAPS * measure.gap
        + 5 * measure.heading
        + topic_rows * measure.topic
        + setting_rows * measure.setting
        + 8
        + measure.visits
        + measure.box
    )


def heading(pen: Pen, text: str, room: float, aside: str = "") -> None:
    """A heading with a quiet remark at its right end."""
    fitted = fit(text, INNER - 150, 12.5, 1, 9, bold=True)
    with pen.tags.content(pen.tags.heading(2)):
        pen.lines(LEFT, pen.y, fitted)
    if aside:
        with pen.tags.block("P"):
            pen.ends(RIGHT, pen.y - 12.5, fit(aside, 140, 8.5, 1, 7).lines[0], 8.5, QUIET)
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
        pen.text(LEFT, pen.y - 10, fit(page.line, INNER * 0.6, 9.5, 1, 7).lines[0], 9.5, QUIET)
    with pen.tags.block("P"):
        pen.ends(RIGHT, pen.y - 10, fit(page.aside, INNER * 0.38, 9.5, 1, 9.5).lines[0], 9.5, QUIET)
    pen.y -= 18
    pen.rule(pen.y, 1.2, INK)
    pen.y -= 9
    pairs(pen, page.who.pairs, page.who.columns, 11.5, pen.y)
    pen.y -= 62


def columns(count: int) -> tuple[float, list[float]]:
    """Width and left ends of columns."""
    width = (INNER - GUTTER * (count - 1)) / count
    return width, [LEFT + i * (width + GUTTER) for i in range(count)]


def pairs(
    pen: Pen,
    several: Sequence[blocks.Pair],
    count: int,
    size: float,
    top: float,
    inset: float = 0,
    budget: int = 3,
) -> None:
    """Labels over values, side by side; on a panel the first column is the widest."""
    width, lefts = columns(count)
    wider = 34.0 if inset and count > 1 else 0.0
    for index, (pair, x) in enumerate(zip(several, lefts, strict=False)):
        shift = wider - wider / (count - 1) * (index - 1) if wider and index else 0.0
        own = width + (wider if index == 0 else -wider / (count - 1)) if wider else width
        room = own - (2 * inset if not wider else inset + 3)
        with pen.tags.block("P"):
            draw_pair(pen, pair, x + shift + inset, room, size, top, budget)


def draw_pair(
    pen: Pen, pair: blocks.Pair, x: float, width: float, size: float, top: float, budget: int = 3
) -> None:
    """A label, its value on at most two lines, and the quiet lines below."""
    y = pen.lines(x, top, fit(pair.label, width, 8.5, 1, 6.5), QUIET) - 1
    value = fit(pair.value, width, size, 1, size - 2, bold=True)
    if not value.whole:
        value = fit(pair.value, width, size - 2, 2, 8, bold=True)
    if not value.whole and budget > 3:
        value = fit(pair.value, width, 8, 3, 6, bold=True)
    y = pen.lines(x, y, value) - 0.5
    left = budget - len(value.lines)
    for index, more in enumerate(line for line in pair.more if line):
        if left <= 0:
            break
        fitted = fit(more, width, 9, 1, 7.5)
        if not fitted.whole:
            alone = index == len(pair.more) - 1
            fitted = fit(more, width, 8.5, left if alone else 1, 7)
        left -= len(fitted.lines)
        y = pen.lines(x, y, fitted, QUIET)


def notice_lines(notice: blocks.Notice) -> tuple[Fitted, Fitted]:
    """The two texts of the notice."""
    width = INNER - 60
    strong = fit(notice.strong, width, 12.5, 1, 11, bold=True)
    if not strong.whole:
        strong = fit(notice.strong, width, 12.5, 2, 9, bold=True)
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


@dataclass(frozen=True, slots=True)
class PointRow:
    """One open point as it will be drawn; ``number`` 0 is the line that counts the rest."""

    number: int
    says: Fitted
    detail: Fitted | None
    aside: str
    height: float
    beside: bool = False


NUMBER = 24.0
MOST_ROWS = 24  # more never find room
SAYS = 0.6  # share of the line for what a point says, where its detail stands beside it
ASIDE = 92.0


def point_rows(points: blocks.OpenPoints, measure: Measure) -> list[PointRow]:
    """The open points in one measure."""
    size, lines, small, small_lines = measure.points
    if not points.points:
        says = fit(points.none, INNER - NUMBER, 10.5, 2, 8)
        return [PointRow(0, says, None, "", says.height + 7)]
    width = INNER - NUMBER - ASIDE
    rows = []
    for point in points.points[:MOST_ROWS]:
        if small:
            says = fit(point.says, width, size, lines, max(size - 1, 8))
            detail = fit(point.detail, width, small, small_lines, 7)
            height = says.height + detail.height + size * 0.55
            rows.append(PointRow(point.number, says, detail, point.aside, height))
        else:
            room = width if point.aside else INNER - NUMBER
            says = fit(point.says, room * SAYS - 8, size, lines, 7.5)
            detail = fit(point.short, room * (1 - SAYS) - 4, 7.5, small_lines, 7)
            height = max(says.height, detail.height) + 3.2
            rows.append(PointRow(point.number, says, detail, point.aside, height, beside=True))
    return rows


def shortened(rows: list[PointRow], points: blocks.OpenPoints, spare: float) -> list[PointRow]:
    """As many rows as fit when ``spare`` is missing (below zero), and a line that counts the rest."""
    kept, room = list(rows), -spare
    last_line = 14.0
    while kept and room + last_line > 0:
        room -= kept.pop().height
    rest = str(len(points.points) - len(kept))
    says = fit(points.more.replace("{count}", rest), INNER - NUMBER, 9, 1, 7, bold=True)
    return [*kept, PointRow(0, says, None, "", last_line)]


def draw_points(pen: Pen, points: blocks.OpenPoints, rows: list[PointRow], measure: Measure) -> None:
    """The list of open points."""
    heading(pen, points.heading, measure.heading)
    if not points.points:
        with pen.tags.block("P"):
            pen.lines(LEFT + 3, pen.y - 2.5, rows[0].says)
        pen.y -= rows[0].height
        return
    with pen.tags.within("L"):
        for row in rows:
            with pen.tags.within("LI"):
                draw_point(pen, row)
            pen.y -= row.height
            if row.number:
                pen.rule(pen.y + 1)


def draw_point(pen: Pen, row: PointRow) -> None:
    """One open point, or the line that counts the rest."""
    pad = 1.5 if row.beside else 2.5
    top = pen.y - pad
    if row.number:
        with pen.tags.block("Lbl"):
            pen.text(LEFT + 3, top - row.says.size, str(row.number), row.says.size, ACCENT, bold=True)
    with pen.tags.block("LBody"):
        y = pen.lines(LEFT + NUMBER, top, row.says, INK if row.number else symbols.INK[Verdict.PUT_RIGHT])
        if row.detail and row.beside:
            room = INNER - NUMBER - (ASIDE if row.aside else 0)
            pen.lines(LEFT + NUMBER + room * SAYS, top - 0.6, row.detail, QUIET)
        elif row.detail:
            pen.lines(LEFT + NUMBER, y, row.detail, QUIET)
        aside = fit(row.aside, ASIDE - 6, 8.5, 1 if row.beside else 2, 6.5, bold=True)
        for line in aside.lines if row.aside else ():
            pen.ends(RIGHT, top - aside.size, line, aside.size, symbols.INK[Verdict.PUT_RIGHT], True)
            top -= aside.leading


def draw_topics(pen: Pen, topics: blocks.Topics, measure: Measure, more: float) -> None:
    """What the customer did himself, with room for his initials."""
    heading(pen, topics.heading, measure.heading, topics.aside)
    row = measure.topic + more
    width, lefts = columns(2)
    half = (len(topics.topics) + 1) // 2
    with pen.tags.within("L"):
        for index, topic in enumerate(topics.topics):
            x, top = lefts[index // half], pen.y - (index % half) * row
            with pen.tags.within("LI"):
                draw_topic(pen, topic, x, top, width, row)
    pen.y -= half * row


def draw_topic(pen: Pen, topic: blocks.Topic, x: float, top: float, width: float, row: float) -> None:
    """One topic and the box for the initials."""
    middle = top - row / 2
    with pen.tags.block("Lbl"):
        pen.text(x + 3, middle - 3.4, str(topic.number), 10, ACCENT, bold=True)
    name = fit(topic.name, width - 20 - 58, 10.5, 1, 8.5)
    if not name.whole:
        name = fit(topic.name, width - 20 - 58, 8.5, 2, 7)
    pen.panel(x + width - 50, top - 1.5, 50, row - 3.5, "#ffffff", LINE)
    with pen.tags.block("LBody"):
        pen.lines(x + 20, middle + name.height / 2 + 0.5, name)
        if topic.initials:
            said = fit(topic.initials, 44, 10.5, 1, 6, bold=True)
            pen.canvas.setFont(BOLD, said.size)
            pen.ink(ACCENT)
            pen.canvas.drawCentredString(x + width - 25, middle - said.size * 0.36, said.lines[0])


def draw_settings(pen: Pen, settings: blocks.Settings, measure: Measure) -> None:
    """Numbers for the seat, on a quiet ground."""
    heading(pen, settings.heading, measure.heading, settings.aside)
    row = measure.setting
    rows = (len(settings.pairs) + 2) // 3
    pen.panel(LEFT, pen.y + 1, INNER, rows * row + 7, PANEL)
    for index in range(rows):
        pairs(pen, settings.pairs[3 * index : 3 * index + 3], 3, 11, pen.y - 5 - index * row, inset=9)
    pen.y -= rows * row + 8


def draw_visits(pen: Pen, visits: blocks.Visits, measure: Measure) -> None:
    """When somebody looks again, and whom to call: the last column is wider, a number must not be cut."""
    heading(pen, visits.heading, measure.heading, visits.aside)
    count = max(len(visits.pairs), 1)
    width, lefts = columns(count)
    less = 14.0 if count > 2 else 0.0
    for index, (pair, x) in enumerate(zip(visits.pairs, lefts, strict=False)):
        own = width - less if index < count - 1 else width + less * (count - 1)
        with pen.tags.block("P"):
            draw_pair(pen, pair, x - less * index, own, 10.5, pen.y + 2, budget=4)
    pen.y -= measure.visits


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
        y = pen.lines(x + 7, y, fit(box.declares, width - 14, 7.5, 3 if height > 82 else 2, 5.5), QUIET)
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
