"""Small drawings for tyres, tine arms, guards and latches, oil and grease."""

from __future__ import annotations

from itertools import pairwise

from rakeprep.drawing.help_parts import (
    Marks,
    arm_with_tines,
    dial,
    digital_level,
    floor,
    gearbox,
    hexagon,
    rope,
    rotor,
    thermometer,
    tine,
    wheel,
)
from rakeprep.drawing.strokes import (
    Sign,
    Stroke,
    Tone,
    arc,
    around,
    arrow,
    block,
    body,
    disc,
    line,
    measure,
    ring,
    solid,
    turned,
    turning,
)


def pressure() -> Marks:
    """A gauge on the valve of a cold tyre."""
    return (
        *floor(),
        *wheel((50, 48), 38),
        line((64, 36), (72, 30), width=3.2, tone=Tone.ACCENT),
        Stroke(((73, 29), (92, 26), (106, 38)), 3.0),
        *dial((124, 56), 24, 110),
    )


def side_wall() -> Marks:
    """The marking on the side wall."""
    letters = tuple(
        Sign(around((80, 12), 60, t, 1)[0], text, 6.5, Tone.ACCENT)
        for t, text in ((126, "18.5"), (109, "×"), (92, "8.50"), (75, "-"), (64, "8"))
    )
    return (
        body(*around((80, 12), 76, 0, 180), *around((80, 12), 44, 180, -180), fill=Tone.BODY, width=1.6),
        arc((80, 12), 70, 4, 172, width=0.8, tone=Tone.QUIET),
        *letters,
    )


def warmth() -> Marks:
    """Tyre and air are equally warm."""
    return (*floor(), *wheel((56, 48), 38), *thermometer((128, 18), 70))


def star_order() -> Marks:
    """Wheel nuts crosswise, one after the other."""
    places = [around((70, 50), 27, 90 - 72 * n, 1)[0] for n in range(5)]
    order = (0, 2, 4, 1, 3)
    ways = tuple(
        line(places[a], places[b], width=0.8, tone=Tone.ACCENT, dash=True) for a, b in pairwise(order)
    )
    nuts = tuple(hexagon(at, 8, fill=Tone.GROUND) for at in places)
    numbers = tuple(Sign(places[place], str(n), 7, Tone.ACCENT) for n, place in enumerate(order, start=1))
    return (
        ring((70, 50), 44, fill=Tone.DARK),
        ring((70, 50), 38, fill=Tone.BODY),
        ring((70, 50), 11, fill=Tone.GROUND),
        *ways,
        *nuts,
        *numbers,
        line((124, 36), (150, 36), width=5),
        hexagon((124, 36), 9),
        *turning((124, 36), 20, 30, -70),
    )


def castor() -> Marks:
    """Swung all the way round by hand."""
    return (
        *floor(),
        block(64, 78, 96, 92),
        line((80, 78), (80, 66), (104, 34), width=6),
        *wheel((108, 34), 24),
        *turning((80, 72), 26, 200, 140),
    )


def hands() -> Marks:
    """Left-hand and right-hand arms, side by side."""
    left = arm_with_tines((8, 70), 60, 24)
    right = tuple(
        Stroke(tuple((160 - x, y) for x, y in m.points), m.width, m.tone, m.closed, m.fill) for m in left
    )
    return (
        *left,
        *right,
        Sign((20, 86), "LH", 9, Tone.ACCENT),
        Sign((140, 86), "RH", 9, Tone.ACCENT),
        line((80, 10), (80, 94), width=0.8, tone=Tone.QUIET, dash=True),
    )


def coil() -> Marks:
    """Pushed the way hay pushes: the coil winds up."""
    winding = tuple(ring((58, 64), r, width=2.4) for r in (9.0, 14.0))
    return (
        block(8, 78, 120, 88),
        *winding,
        line((72, 64), (80, 34), (92, 12), width=2.4),
        Stroke(((68, 62), (70, 34), (72, 14)), 1.2, Tone.QUIET, dash=True),
        block(108, 12, 128, 26, fill=Tone.DARK),
        *arrow((150, 19), (96, 19), width=2.2, head=8),
        *turning((58, 64), 22, 250, -110),
    )


def count_tines() -> Marks:
    """Double tines on the arm, counted."""
    at = (40, 72, 104, 136)
    tines = tuple(mark for x in at for mark in tine((x, 62), (x + 6, 16)))
    numbers = tuple(Sign((x, 86), str(n), 9, Tone.ACCENT) for n, x in enumerate(at, start=1))
    return (*tines, *numbers, block(6, 66, 152, 74))


def turned_by_hand() -> Marks:
    """The rotor, once round by hand."""
    return (*rotor((72, 48), 40, 10), *turning((72, 48), 46, 60, -300, width=2.0))


def seen_from_behind() -> Marks:
    """The driveline clockwise from behind; then look which way the rotor goes."""
    return (
        ring((34, 50), 15, fill=Tone.BODY),
        ring((34, 50), 6, fill=Tone.DARK),
        *turning((34, 50), 24, 200, -290),
        *arrow((66, 50), (84, 50)),
        *rotor((122, 50), 28, 8),
        Sign((122, 50), "?", 12, Tone.ACCENT),
    )


def loose_arms() -> Marks:
    """Loose arms laid out, each hand apart."""
    rows = tuple(
        mark
        for row in range(4)
        for mark in (
            line((10, 20 + 17 * row), (68, 20 + 17 * row), width=3.2),
            *(line((x, 20 + 17 * row), (x + 3, 29 + 17 * row), width=1.2) for x in (44, 54, 64)),
            line((92, 20 + 17 * row), (150, 20 + 17 * row), width=3.2),
            *(line((x, 20 + 17 * row), (x - 3, 29 + 17 * row), width=1.2) for x in (96, 106, 116)),
        )
    )
    return (*rows, Sign((40, 91), "LH", 8, Tone.ACCENT), Sign((120, 91), "RH", 8, Tone.ACCENT))


def fastened() -> Marks:
    """A guard with all of its fixings."""
    fixings = tuple(hexagon(at, 5, fill=Tone.GROUND) for at in ((26, 24), (134, 24), (26, 76), (134, 76)))
    rings = tuple(ring(at, 9, tone=Tone.ACCENT) for at in ((26, 24), (134, 24), (26, 76), (134, 76)))
    return (
        block(14, 12, 146, 88),
        *(line((x, 26), (x, 74), width=1.0, tone=Tone.QUIET) for x in range(44, 120, 12)),
        *fixings,
        *rings,
    )


def guard_turns() -> Marks:
    """The guard, turned by hand on its shaft."""
    return (
        block(2, 44, 158, 56, fill=Tone.DARK),
        body(
            (20, 32),
            (34, 26),
            (126, 26),
            (140, 32),
            (140, 68),
            (126, 74),
            (34, 74),
            (20, 68),
            fill=Tone.GROUND,
        ),
        *turning((80, 50), 34, 230, 100, width=2.0),
    )


def reach_in() -> Marks:
    """How far the guard reaches into the shield."""
    return (
        block(0, 44, 160, 56, fill=Tone.DARK),
        block(6, 34, 98, 66, fill=Tone.GROUND),
        body((64, 80), (150, 90), (150, 10), (64, 20), fill=Tone.BODY),
        block(64, 34, 98, 66, fill=Tone.GROUND),
        block(6, 34, 98, 66, fill=Tone.GROUND, width=0.9),
        line((64, 20), (64, 80), width=1.4, dash=True),
        *measure((64, 50), (98, 50)),
    )


def latch_depth() -> Marks:
    """How deep the latch has dropped."""
    return (
        block(30, 10, 56, 62),
        block(80, 10, 106, 62),
        block(57, 30, 79, 86, fill=Tone.DARK),
        block(48, 86, 88, 92),
        *measure((120, 62), (120, 30)),
        line((80, 62), (124, 62), width=0.7, tone=Tone.QUIET),
        line((80, 30), (124, 30), width=0.7, tone=Tone.QUIET),
    )


def pull_against() -> Marks:
    """Lowered from the seat against the closed latch."""
    return (
        line((20, 20), (84, 20), width=5),
        line((84, 20), (84, 90), width=7),
        block(70, 46, 98, 60, fill=Tone.DARK),
        ring((84, 53), 15, tone=Tone.ACCENT),
        *turning((84, 20), 58, 76, -46, width=2.2),
        line((140, 8), (140, 30), width=1.0, tone=Tone.QUIET),
    )


def cord() -> Marks:
    """The cord: slack in full turn, and the latch falls back."""
    return (
        block(8, 54, 34, 92),
        rope((34, 70), (126, 62)),
        block(122, 24, 150, 46),
        block(130, 34, 142, 66, fill=Tone.DARK),
        *arrow((114, 40), (114, 60)),
        *arrow((106, 60), (106, 40), tone=Tone.QUIET),
    )


def vent_plug() -> Marks:
    """On top: the vent plug in, the transport plug out."""
    return (
        *gearbox(50, 14),
        block(70, 54, 84, 62, fill=Tone.ACCENT),
        disc((77, 66), 4.5, tone=Tone.ACCENT),
        *arrow((77, 92), (77, 74)),
        block(120, 60, 132, 68, fill=Tone.DARK),
        *arrow((126, 72), (126, 92), tone=Tone.QUIET),
        line((92, 56), (116, 60), width=0.8, tone=Tone.QUIET, dash=True),
    )


def level_plug() -> Marks:
    """Oil stands at the lower edge of the level plug."""
    box = gearbox(30, 16, 70, 54)
    oil = solid((32, 20), (36, 18), (94, 18), (98, 20), (98, 42), (32, 42), tone=Tone.QUIET)
    return (
        *box,
        oil,
        line((24, 42), (140, 42), width=0.9, tone=Tone.ACCENT, dash=True),
        block(98, 40, 108, 50, fill=Tone.GROUND),
        block(118, 40, 128, 50, fill=Tone.DARK),
        *arrow((134, 45), (152, 45)),
    )


def tilt() -> Marks:
    """A digital level on a machined face."""
    return (
        *turned((*gearbox(46, 16, 64, 44), *digital_level((78, 60), 56)), (78, 16), 7),
        line((20, 71), (140, 71), width=0.8, tone=Tone.QUIET, dash=True),
        *turning((78, 71), 56, 0, 9),
    )


def jug() -> Marks:
    """A marked jug."""
    ticks = tuple(line((56, y), (66, y), width=0.9) for y in range(24, 80, 9))
    return (
        body((52, 14), (108, 14), (112, 86), (48, 86), fill=Tone.GROUND),
        solid((53, 16), (107, 16), (109.5, 52), (50.5, 52), tone=Tone.QUIET),
        *ticks,
        Stroke(((112, 70), (130, 64), (128, 38), (110, 34)), 3.2),
        *arrow((28, 52), (46, 52)),
    )


def nipple() -> Marks:
    """Wipe the nipple; fresh grease comes out at the joint."""
    return (
        block(6, 20, 92, 46),
        ring((92, 33), 20, fill=Tone.BODY),
        block(50, 46, 58, 54, fill=Tone.DARK),
        disc((54, 57), 4.4),
        line((54, 64), (54, 92), width=7),
        line((54, 84), (24, 92), width=5),
        *(disc(at, 3.4, tone=Tone.ACCENT) for at in ((112, 40), (114, 32), (111, 24))),
    )


def shots() -> Marks:
    """Ten shots on paper, weighed."""
    return (
        block(34, 22, 118, 34, fill=Tone.BODY),
        block(44, 8, 108, 22),
        block(62, 11, 90, 19, fill=Tone.GROUND),
        Sign((76, 15), "g", 6),
        *(disc((48 + 14 * n, 40 + (n % 2) * 4), 5, tone=Tone.ACCENT) for n in range(5)),
        line((126, 88), (92, 66), width=8),
        Sign((30, 70), "10 ×", 11, Tone.ACCENT),
    )


def stands_still() -> Marks:
    """Oil still runs down the walls: wait before it is read."""
    drops = tuple(mark for x in (44, 60, 76) for mark in arrow((x, 62), (x, 44), width=1.0, head=4))
    return (
        *gearbox(30, 14, 64, 54),
        solid((32, 18), (92, 18), (92, 34), (32, 34), tone=Tone.QUIET),
        *drops,
        *dial((130, 56), 20, 90),
        Sign((130, 24), "10 min", 7, Tone.ACCENT),
    )
