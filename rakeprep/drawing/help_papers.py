"""Small drawings for papers, days, hours of work and what people say."""

from __future__ import annotations

from rakeprep.drawing.help_paper_parts import (
    around_day,
    bubble,
    calendar,
    cell,
    clock,
    flag,
    hands,
    open_book,
    pen,
    person,
    scribble,
    sheet,
    spoken,
    tick,
)
from rakeprep.drawing.help_parts import Marks, Strokes, floor, hexagon, tyre_front
from rakeprep.drawing.shapes import Box
from rakeprep.drawing.strokes import (
    Sign,
    Stroke,
    Tone,
    around,
    arrow,
    block,
    body,
    line,
    measure,
    ring,
    solid,
    turning,
    waves,
)

MONTH = Box(84.0, 14.0, 150.0, 84.0)  # a calendar in the right half
PAPER = Box(14.0, 8.0, 86.0, 94.0)  # a sheet in the left half


def delivered() -> Marks:
    """The day on which the truck came."""
    return (
        *floor(4, 76),
        block(6, 20, 52, 24, fill=Tone.DARK),
        block(10, 24, 48, 50),
        body((54, 20), (74, 20), (74, 36), (68, 50), (54, 50)),
        body((60, 37), (70, 37), (66, 46), (60, 46), fill=Tone.GROUND, width=0.9),
        *(ring((x, 16), 6, fill=Tone.DARK) for x in (18, 32, 64)),
        *arrow((29, 78), (29, 54), width=2.2, head=8),
        *calendar(MONTH, (11,)),
        around_day(MONTH, 11),
    )


def holidays() -> Marks:
    """Every day since then on which nobody works."""
    return calendar(Box(26.0, 6.0, 134.0, 92.0), (9, 18, 22), (6, 13, 20, 27))


def letter_sent() -> Marks:
    """The letter has gone, and on which day."""
    return (
        block(6, 24, 66, 64, fill=Tone.GROUND),
        Stroke(((6, 64), (36, 42), (66, 64)), 1.2),
        line((6, 24), (27, 48), width=0.8, tone=Tone.QUIET),
        line((66, 24), (45, 48), width=0.8, tone=Tone.QUIET),
        *arrow((20, 80), (66, 80), width=2.2, head=8),
        *calendar(MONTH, (16,)),
        around_day(MONTH, 16),
    )


def same_number() -> Marks:
    """The declaration names the number on the plate, and is signed."""
    return (
        *sheet(PAPER, (78, 68)),
        Sign((44, 52), "1047", 10, Tone.ACCENT),
        line((22, 22), (78, 22), width=1.0),
        scribble((26, 24), 40, 7),
        block(102, 38, 154, 68),
        *(ring(at, 1.5) for at in ((106, 42), (150, 42), (106, 64), (150, 64))),
        Sign((128, 53), "1047", 10, Tone.ACCENT),
        *arrow((96, 52), (66, 52), head=6),
        *arrow((72, 52), (100, 52), head=6),
    )


def flag_on_sheet() -> Marks:
    """The declaration in the language of the country where it will work."""
    return (
        *sheet(PAPER, (80, 70, 60, 50, 40)),
        line((22, 18), (66, 18), width=1.0),
        scribble((26, 20), 32, 5),
        *flag((108, 12), 70),
        line((100, 12), (120, 12), width=2.4),
    )


def spoken_book() -> Marks:
    """The book speaks as the customer does."""
    return (
        *open_book(4, 10, 76, 60),
        *person(98, 8, 58),
        *bubble(Box(114, 56, 156, 92), (106, 56)),
        *spoken(120, 150, (83, 74, 65)),
        *(line((48, y), (74, y + 2), width=2.4, tone=Tone.ACCENT) for y in (23, 33, 43, 53)),
    )


def values_accepted() -> Marks:
    """Values from no book: somebody puts his name to them."""
    about = tuple(
        mark
        for y in (82, 65, 48)
        for mark in (
            Stroke(waves((22, y + 2.2), (36, y + 2.2), 1.5, 1), 1.8, Tone.ACCENT),
            Stroke(waves((22, y - 2.2), (36, y - 2.2), 1.5, 1), 1.8, Tone.ACCENT),
            line((44, y), (84, y), width=2.4, tone=Tone.QUIET, dash=True),
        )
    )
    return (
        *sheet(Box(14, 6, 98, 94)),
        *about,
        line((22, 22), (90, 22), width=1.0),
        scribble((28, 24), 42, 8),
        *pen((72, 26), 62, 38),
    )


def time_planned() -> Marks:
    """The time that is planned: a part of the day, drawn beforehand."""
    at = (46.0, 50.0)
    rows = tuple(
        mark
        for n, y in enumerate((74, 58, 42, 26))
        for mark in (
            line((108, y), (150, y), width=2.4, tone=Tone.QUIET, dash=True),
            ring((100, y), 3.4, width=1.4, tone=Tone.ACCENT if n == 0 else Tone.INK),
        )
    )
    border = around(at, 33, 90, -120)
    return (
        *clock(at, 38),
        Stroke((at, *border), 2.0, Tone.ACCENT, closed=True, dash=True),
        *sheet(Box(92, 12, 156, 90)),
        *rows,
    )


def time_used() -> Marks:
    """The hours worked so far."""
    at = (52.0, 50.0)
    return (
        *clock(at, 38, ((0, 2.6, Tone.ACCENT),)),
        *turning(at, 43, 88, -78, width=2.0),
        *(mark for x in (112, 146) for mark in person(x, 14, 58)),
        line((97, 12), (159, 12), width=1.4),
    )


def time_lost() -> Marks:
    """The hours in which nothing went on."""
    at = (52.0, 50.0)
    return (
        *clock(at, 38, ((2, 2.0, Tone.ACCENT), (0, 2.0, Tone.QUIET))),
        *(block(x, 30, x + 12, 70, fill=Tone.ACCENT) for x in (112, 134)),
    )


def waits_for() -> Marks:
    """The part that is not there, or the person."""
    missing = Stroke(hexagon((46, 50), 24).points, 1.8, Tone.ACCENT, closed=True, dash=True)
    figure = tuple(
        Stroke(m.points, 1.8, Tone.ACCENT, closed=True, dash=True) for m in person(122, 14, 68, Tone.ACCENT)
    )
    return (
        block(8, 14, 84, 86),
        Stroke(around((46, 50), 30)[:-1], 1.0, closed=True, fill=Tone.GROUND),
        missing,
        Sign((46, 50), "?", 16, Tone.ACCENT),
        *figure,
        line((98, 12), (148, 12), width=1.4),
    )


def permit_number() -> Marks:
    """The number of the permit and the authority's stamp."""
    return (
        *sheet(Box(36, 6, 124, 94), (56, 46)),
        Sign((74, 74), "417", 16, Tone.ACCENT),
        line((54, 64), (94, 64), width=1.4, tone=Tone.ACCENT),
        *_stamp(104, 26),
        line((44, 22), (78, 22), width=1.0),
    )


def permit_until() -> Marks:
    """The last day on which it holds."""
    month = Box(26.0, 6.0, 134.0, 92.0)
    last = cell(month, 17)
    end = last.right + 1
    return (
        *calendar(month, (17,), tuple(range(17))),
        line((end, last.bottom - 4), (end, last.top + 4), width=3.0, tone=Tone.ACCENT),
    )


def permit_width() -> Marks:
    """What the permit says about the width."""
    return (
        *_permit_with_machine(),
        *measure((48, 86), (106, 86)),
        *(line((x, 66), (x, 90), width=0.7, tone=Tone.QUIET) for x in (48, 106)),
    )


def permit_height() -> Marks:
    """What the permit says about the height."""
    return (
        *_permit_with_machine(),
        *measure((36, 22), (36, 76)),
        line((32, 76), (64, 76), width=0.7, tone=Tone.QUIET),
    )


def _permit_with_machine() -> Strokes:
    """A stamped permit with the folded machine on it."""
    return (
        *sheet(Box(18, 4, 142, 96)),
        line((26, 22), (116, 22), width=1.2),
        body((58, 29), (96, 29), (106, 66), (92, 76), (62, 76), (48, 66)),
        *tyre_front((63, 31), 10, 18),
        *tyre_front((91, 31), 10, 18),
        *_stamp(128, 20),
        line((26, 12), (104, 12), width=2.4, tone=Tone.QUIET, dash=True),
    )


def _stamp(x: float, y: float) -> Strokes:
    """An authority's round stamp."""
    return (
        ring((x, y), 10, width=1.4, tone=Tone.QUIET),
        ring((x, y), 6, width=0.9, tone=Tone.QUIET),
    )


def initials() -> Marks:
    """The customer has done it with his own hands, and writes his initials."""
    lines = tuple(line((40, y), (96, y), width=1.0) for y in (70, 48, 26))
    return (
        *sheet(Box(10, 6, 106, 94)),
        *lines,
        *(tick((26, y), 8) for y in (70, 48)),
        Stroke(((20, 26), (34, 26), (34, 36), (20, 36)), 1.0, Tone.QUIET, closed=True),
        scribble((46, 72), 24, 7),
        scribble((46, 50), 24, 7),
        scribble((46, 28), 24, 7),
        *pen((74, 29), 60, 40),
    )


def papers_given() -> Marks:
    """Book and papers go from hand to hand."""
    return (
        *person(20, 8, 74),
        *person(140, 8, 74),
        *sheet(Box(58, 42, 92, 84), (70, 60, 52), 6),
        block(66, 30, 104, 72, fill=Tone.ACCENT),
        line((72, 30), (72, 72), width=1.6),
        block(80, 54, 98, 62, fill=Tone.GROUND, width=0.8),
        line((32, 44), (58, 50), width=7),
        line((128, 44), (104, 50), width=7),
        *arrow((62, 18), (102, 18), width=2.2, head=8),
    )


def day_of_signature() -> Marks:
    """From the day under the customer's signature everything counts."""
    first = cell(MONTH, 10)
    return (
        *sheet(Box(6, 14, 70, 92), (76, 66, 56, 46)),
        line((12, 26), (64, 26), width=1.0),
        scribble((16, 28), 38, 6),
        *calendar(MONTH, (10,), (11, 12, 13, *range(14, 28))),
        around_day(MONTH, 10),
        *arrow((first.right, 6), (150, 6), head=6),
    )


def hours_a_day() -> Marks:
    """How many of a day's hours it works."""
    at = (116.0, 54.0)
    sun = (42.0, 66.0)
    rays = tuple(
        line(around(sun, 16, t, 1)[0], around(sun, 22, t, 1)[0], width=1.6) for t in range(0, 360, 45)
    )
    return (
        *floor(4, 76, 20),
        solid(*around((40, 20), 20, 0, 180), tone=Tone.QUIET),
        ring(sun, 12, fill=Tone.GROUND, width=1.6),
        *rays,
        *clock(at, 36, ((9, 6.0, Tone.ACCENT),)),
        *hands(at, 36, 3),
    )


def telephone() -> Marks:
    """A telephone that is answered in the season."""
    keys = tuple(
        block(x, y, x + 8, y + 6, fill=Tone.BODY, width=0.8) for x in (54, 66, 78) for y in (14, 23, 32, 41)
    )
    calls = tuple(Stroke(around((96, 70), r, -45, 90), 1.8, Tone.ACCENT) for r in (14, 24, 34))
    return (
        body((48, 4), (92, 4), (95, 8), (95, 92), (92, 96), (48, 96), (45, 92), (45, 8), width=1.6),
        block(51, 54, 89, 86, fill=Tone.GROUND, width=0.9),
        *keys,
        *calls,
        Sign((70, 70), "017", 12, Tone.ACCENT),
    )
