"""Small drawings for arrival, fasteners and hitch: what is measured, and where."""

from __future__ import annotations

from rakeprep.drawing.help_parts import (
    Marks,
    bolt,
    calliper,
    eye,
    floor,
    hexagon,
    level_line,
    rule,
    spring_pin,
    tine,
    tractor_wheels,
    tyre_front,
)
from rakeprep.drawing.strokes import (
    Sign,
    Stroke,
    Tone,
    arrow,
    block,
    body,
    disc,
    line,
    measure,
    ring,
    turned,
    turning,
    waves,
)


def sling() -> Marks:
    """A load on two legs: their length, and how far apart they are fixed."""
    return (
        ring((80, 91), 5, width=2.2),
        line((80, 86), (48, 42), width=2.0),
        line((80, 86), (112, 42), width=2.0),
        block(34, 18, 126, 40),
        disc((48, 41), 2.2),
        disc((112, 41), 2.2),
        *measure((48, 42), (80, 86), 9),
        *measure((112, 12), (48, 12)),
        line((48, 39), (48, 9), width=0.7, tone=Tone.QUIET),
        line((112, 39), (112, 9), width=0.7, tone=Tone.QUIET),
    )


def fork_truck() -> Marks:
    """From the fork's face to the centre of the load."""
    cross = (line((86, 38), (94, 38), width=1.0), line((90, 34), (90, 42), width=1.0))
    return (
        *floor(),
        block(10, 17, 40, 46),
        ring((18, 16), 6, fill=Tone.DARK),
        ring((36, 16), 6, fill=Tone.DARK),
        block(44, 12, 49, 92),
        block(50, 20, 53, 34),
        block(50, 18, 122, 21, fill=Tone.DARK),
        block(54, 22, 126, 54),
        *cross,
        ring((90, 38), 3, tone=Tone.ACCENT),
        *measure((53, 64), (90, 64)),
        line((53, 34), (53, 68), width=0.7, tone=Tone.QUIET),
        line((90, 42), (90, 68), width=0.7, tone=Tone.QUIET),
    )


def plate() -> Marks:
    """A plate, read square on."""
    rows = tuple(
        Stroke(((22, y), (22 + length, y)), 3.2, Tone.QUIET, dash=True)
        for y, length in ((66, 70), (54, 44), (30, 58))
    )
    return (
        block(12, 18, 106, 78),
        *(ring(at, 2.0) for at in ((17, 23), (101, 23), (17, 73), (101, 73))),
        *rows,
        block(19, 37, 99, 47, fill=Tone.GROUND, width=1.6),
        Sign((59, 42), "0O · 1I · 8B", 6.5, Tone.ACCENT),
        *eye((140, 42), 11),
        line((126, 42), (112, 42), width=0.9, tone=Tone.ACCENT, dash=True),
    )


def dent() -> Marks:
    """Damage with a rule beside it."""
    tube = body((8, 60), (64, 60), (72, 50), (84, 50), (92, 60), (152, 60), (152, 84), (8, 84))
    beside = turned(rule((120, 22), 96, 10), (120, 22), 90)
    return (tube, *arrow((78, 74), (78, 54)), *beside, ring((78, 55), 17, tone=Tone.ACCENT))


def bundles() -> Marks:
    """Pieces on the truck, each with its number."""
    boxes = ((12, 20, 58, 50), (62, 20, 104, 38), (62, 41, 104, 58), (108, 20, 148, 64))
    numbers = tuple(
        Sign(((left + right) / 2, (low + top) / 2), str(n), 9, Tone.ACCENT)
        for n, (left, low, right, top) in enumerate(boxes, start=1)
    )
    wheels = tuple(ring((x, 9), 6, fill=Tone.DARK) for x in (24, 40, 128))
    return (*(block(*box) for box in boxes), block(6, 15, 154, 19, fill=Tone.DARK), *wheels, *numbers)


def over_pin() -> Marks:
    """A calliper over a loose pin, twice, a quarter turn apart."""
    return (
        *calliper(46, 78, 40, 72),
        *spring_pin((62, 42), 16),
        *turning((62, 42), 24, 200, 130),
        *measure((46, 12), (78, 12)),
    )


def in_hole() -> Marks:
    """A hole, measured along and across."""
    return (
        block(24, 10, 136, 90),
        ring((80, 50), 24, fill=Tone.GROUND, width=1.6),
        *measure((56, 50), (104, 50)),
        *measure((80, 26), (80, 74)),
    )


def stands_out() -> Marks:
    """How far a pin stands out of the surface."""
    return (
        block(14, 14, 112, 56),
        block(54, 14, 74, 70, fill=Tone.DARK),
        line((60, 14), (60, 70), width=0.8, tone=Tone.GROUND),
        *measure((92, 56), (92, 70)),
        line((76, 70), (100, 70), width=0.7, tone=Tone.QUIET),
        *rule((104, 56), 38, 8),
    )


def bolt_and_pin() -> Marks:
    """The bolt of the journey comes out, the spring pin goes in."""
    return (
        block(20, 16, 72, 44),
        block(38, 16, 54, 44, fill=Tone.GROUND),
        *bolt((46, 40), 26, 11),
        *arrow((24, 58), (24, 86)),
        block(90, 16, 142, 44),
        block(108, 16, 124, 44, fill=Tone.GROUND),
        block(110, 34, 122, 76, fill=Tone.DARK),
        line((114, 36), (114, 76), width=1.2, tone=Tone.GROUND),
        *arrow((134, 84), (134, 54)),
    )


def twisted() -> Marks:
    """Play at the tip of a part that is twisted by hand."""
    return (
        ring((26, 66), 12, fill=Tone.BODY),
        ring((26, 66), 4, fill=Tone.DARK),
        block(36, 62, 128, 70),
        *tine((120, 60), (134, 18)),
        *tuple(
            Stroke(mark.points, 1.0, Tone.QUIET, mark.closed, dash=True)
            for mark in turned(tine((120, 60), (134, 18)), (26, 66), 6)
        ),
        *measure((134, 18), (138.4, 29.5), -9),
        *turning((26, 66), 20, 60, 80),
        *turning((26, 66), 20, 130, -80),
    )


def wrench() -> Marks:
    """A torque wrench, pulled slowly at the middle of its grip."""
    return (
        hexagon((30, 40), 12),
        ring((30, 40), 18, width=4),
        block(47, 36, 112, 44),
        block(112, 33, 150, 47, fill=Tone.DARK),
        *arrow((131, 34), (131, 10), width=2.2, head=8),
        *turning((30, 40), 30, 150, -90),
        *measure((30, 70), (131, 70)),
        line((30, 58), (30, 74), width=0.7, tone=Tone.QUIET),
        line((131, 47), (131, 74), width=0.7, tone=Tone.QUIET),
    )


def crow_foot() -> Marks:
    """A crow-foot in line with the wrench: both lengths."""
    return (
        hexagon((22, 46), 9),
        body((14, 58), (30, 58), (36, 50), (56, 50), (56, 42), (36, 42), (30, 34), (14, 34)),
        hexagon((22, 46), 8, fill=Tone.GROUND),
        block(46, 40, 58, 52, fill=Tone.DARK),
        block(58, 42, 116, 50),
        block(116, 39, 150, 53, fill=Tone.DARK),
        *measure((22, 70), (52, 70)),
        *measure((52, 22), (133, 22)),
        line((22, 60), (22, 74), width=0.7, tone=Tone.QUIET),
        line((52, 18), (52, 74), width=0.7, tone=Tone.QUIET),
        line((133, 18), (133, 38), width=0.7, tone=Tone.QUIET),
    )


def paint_line() -> Marks:
    """One line of paint across nut and part; broken, it shows that the nut has turned."""
    return (
        block(8, 12, 72, 88),
        hexagon((40, 50), 20),
        ring((40, 50), 9, fill=Tone.GROUND),
        line((40, 59), (40, 84), width=3.4, tone=Tone.ACCENT),
        block(88, 12, 152, 88),
        hexagon((120, 50), 20, 20),
        ring((120, 50), 9, fill=Tone.GROUND),
        line((120, 71), (120, 84), width=3.4, tone=Tone.ACCENT),
        line((127, 58), (132.5, 66), width=3.4, tone=Tone.ACCENT),
        *turning((120, 50), 29, 80, -42),
    )


def bolt_class() -> Marks:
    """Class and friction decide: read the head, look whether it is dry."""
    return (
        hexagon((50, 52), 34),
        Sign((50, 52), "8.8", 15, Tone.ACCENT),
        *bolt((120, 12), 44, 16),
        Stroke(waves((108, 34), (134, 34), 2.5, 2), 1.4, Tone.ACCENT),
    )


def balls() -> Marks:
    """Between the inner faces of both balls; the hole of a ball, the pin in it."""
    ball = tuple(
        mark
        for x in (26, 134)
        for mark in (
            block(x - 7, 44, x + 7, 92),
            ring((x, 36), 17, fill=Tone.BODY),
            ring((x, 36), 9, fill=Tone.GROUND),
        )
    )
    return (*ball, *measure((43, 36), (117, 36)), *measure((17, 12), (35, 12)))


def pin_height() -> Marks:
    """The middle of the lower-link pin above a level floor."""
    return (
        *floor(),
        *level_line(30, 140, 26),
        body((60, 66), (124, 78), (124, 86), (60, 78)),
        ring((64, 70), 12, fill=Tone.BODY),
        ring((64, 70), 5.5, fill=Tone.DARK),
        *measure((100, 10), (100, 70)),
        line((70, 70), (106, 70), width=0.7, tone=Tone.QUIET),
    )


def link_clip() -> Marks:
    """Pin through, clip closed."""
    return (
        block(20, 30, 60, 76),
        ring((40, 53), 16, fill=Tone.GROUND),
        block(28, 46, 116, 60, fill=Tone.DARK),
        ring((108, 53), 4, fill=Tone.GROUND),
        Stroke(
            ((108, 74), (108, 32), (112, 26), (122, 26), (126, 34), (126, 74), (120, 80), (112, 78)),
            2.6,
            Tone.ACCENT,
        ),
    )


def turning_room() -> Marks:
    """In full turn: the nearest place between rear tyre and machine."""
    return (
        *turned(tuple(m for m in tractor_wheels(64, 66)), (64, 66), 28),
        body((30, 8), (98, 8), (98, 22), (70, 28), (58, 28), (30, 22)),
        *measure((93, 23), (88, 54)),
        *turning((64, 62), 34, 60, 50),
    )


def guard_room() -> Marks:
    """From the lower link to the driveline's guard, at the nearest place."""
    return (
        block(6, 70, 34, 92),
        line((34, 80), (150, 60), width=15, tone=Tone.BODY),
        line((34, 80), (150, 60), width=1.0, dash=True),
        body((20, 34), (138, 22), (138, 32), (20, 44)),
        ring((138, 27), 9, fill=Tone.BODY),
        *measure((86, 34), (89, 62)),
        *arrow((148, 20), (148, 44), tone=Tone.QUIET),
        *arrow((148, 44), (148, 20), tone=Tone.QUIET),
    )


def sway() -> Marks:
    """Push the coupled hitch sideways by hand."""
    return (
        *tyre_front((20, 62), 20, 60),
        *tyre_front((140, 62), 20, 60),
        line((58, 92), (50, 20), width=5),
        line((102, 92), (110, 20), width=5),
        block(44, 12, 116, 20),
        line((30, 62), (54, 52), width=2.0),
        line((130, 62), (106, 52), width=2.0),
        *arrow((80, 34), (58, 34)),
        *arrow((80, 34), (102, 34)),
    )


def weighed() -> Marks:
    """Tractor with the machine on a weighbridge: which axle stands on it."""
    return (
        *floor(),
        block(84, 4, 124, 10, fill=Tone.GROUND, width=1.8),
        ring((104, 22), 11, fill=Tone.DARK),
        ring((48, 28), 17, fill=Tone.DARK),
        body((30, 42), (116, 34), (116, 50), (76, 56), (70, 84), (36, 84)),
        block(118, 30, 128, 48, fill=Tone.DARK),
        line((30, 38), (8, 46), width=4),
        *arrow((104, 66), (104, 38)),
        Sign((104, 74), "kg", 9, Tone.ACCENT),
    )
