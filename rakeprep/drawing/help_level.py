"""Small drawings for levelling, width and lift, and the tines above ground."""

from __future__ import annotations

from rakeprep.drawing.help_parts import (
    FLOOR,
    Marks,
    digital_level,
    eye,
    floor,
    hexagon,
    level_line,
    rotor,
    rule,
    tine,
    tractor_wheels,
    tyre_front,
    wheel,
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
    solid,
    turned,
    turning,
)


def uneven_floor() -> Marks:
    """One level line over all places; the floor below is not level."""
    places = ((62, 10), (94, 16), (132, 8))
    rules = tuple(mark for x, y in places for mark in rule((x - 3, y), 62 - y))
    gaps = tuple(mark for x, y in places for mark in measure((x + 9, y), (x + 9, 62)))
    return (
        Stroke(((4, FLOOR), (40, FLOOR), (62, 10), (94, 16), (132, 8), (156, 12)), 1.6),
        *level_line(30, 154, 62),
        *rules,
        *gaps,
    )


def step_block() -> Marks:
    """A stepped block slid under the tip of a tine."""
    steps = ((40, 10), (140, 10), (140, 20), (112, 20), (112, 28), (84, 28), (84, 36), (40, 36))
    return (
        *floor(),
        *tine((78, 80), (98, 30)),
        block(30, 84, 124, 92),
        body(*steps),
        *arrow((156, 16), (142, 16)),
        ring((98, 30), 7, tone=Tone.ACCENT),
        *measure((24, 10), (24, 28)),
        line((22, 28), (84, 28), width=0.7, tone=Tone.QUIET, dash=True),
    )


def one_place() -> Marks:
    """One clock place; arm after arm is turned to it."""
    return (
        *rotor((70, 48), 36, 8),
        *turning((70, 48), 44, 60, -120),
        solid((112, 48), (124, 54), (124, 42), tone=Tone.ACCENT),
        *rule((132, 20), 60, 10),
    )


def pins_moved() -> Marks:
    """Chassis pins moved by whole holes."""
    holes = tuple(ring((60, y), 4.5, fill=Tone.GROUND) for y in (20, 36, 52, 68, 84))
    return (
        block(46, 8, 74, 96),
        *holes,
        block(40, 48, 116, 56, fill=Tone.DARK),
        *arrow((128, 36), (128, 52)),
        Sign((144, 44), "±1", 10, Tone.ACCENT),
    )


def turnbuckle() -> Marks:
    """A turnbuckle: one flat of six is a sixth of a turn."""
    threads = tuple(line((x, 46), (x + 3, 62), width=0.8) for x in (*range(22, 50, 5), *range(112, 140, 5)))
    return (
        ring((12, 54), 8, fill=Tone.BODY),
        ring((148, 54), 8, fill=Tone.BODY),
        block(20, 48, 54, 60),
        block(106, 48, 140, 60),
        *threads,
        block(52, 42, 108, 66),
        line((52, 54), (108, 54), width=0.8),
        *turning((80, 54), 26, 230, 110, width=2.0),
        hexagon((80, 84), 8),
        *turning((80, 84), 12, 90, 60, head=4),
    )


def crank() -> Marks:
    """The crank for the height."""
    return (
        *floor(),
        *tyre_front((116, 30), 16, 40),
        block(70, 26, 116, 34),
        block(62, 20, 74, 84),
        line((68, 84), (68, 92), width=4),
        line((68, 92), (36, 92), width=4),
        line((36, 92), (36, 80), width=6),
        *turning((68, 90), 38, 200, 100),
    )


def steers() -> Marks:
    """Full left, full right: as far on either side."""
    return (
        block(20, 46, 140, 54),
        *turned(tyre_front((28, 50), 16, 44), (28, 50), 24),
        *turned(tyre_front((132, 50), 16, 44), (132, 50), 24),
        line((28, 84), (28, 14), width=0.8, tone=Tone.QUIET, dash=True),
        line((132, 84), (132, 14), width=0.8, tone=Tone.QUIET, dash=True),
        *turning((28, 50), 34, 90, 24),
        *turning((132, 50), 34, 90, 24),
    )


def tracks() -> Marks:
    """The axle's track beside that of the tractor, after 20 m straight on."""
    lines = tuple(line((x, 6), (x, 58), width=5, tone=Tone.QUIET, dash=True) for x in (50, 110))
    axle = tuple(line((x, 6), (x, 30), width=5, tone=Tone.ACCENT, dash=True) for x in (60, 120))
    return (
        *lines,
        *axle,
        *tractor_wheels(80, 78, 1.0),
        block(60, 30, 120, 34),
        *measure((50, 46), (60, 46)),
        *measure((110, 46), (120, 46)),
    )


def steering_rod() -> Marks:
    """From the pivot straight to the rod's bolt; the rod's pitch is its length for one turn."""
    return (
        *turned(tyre_front((34, 50), 18, 60), (34, 50), 8),
        ring((34, 50), 6, fill=Tone.GROUND),
        body((30, 50), (38, 50), (58, 20), (52, 16)),
        ring((55, 19), 4, fill=Tone.GROUND),
        block(58, 15, 120, 23),
        *(line((x, 15), (x + 2, 23), width=0.8) for x in range(84, 118, 4)),
        block(120, 12, 140, 26),
        *measure((34, 50), (55, 19), 14),
        *turning((104, 19), 18, 130, -80),
    )


def rims() -> Marks:
    """Rim edge to rim edge at hub height, in front and behind."""
    return (
        block(30, 46, 130, 54),
        *turned(tyre_front((30, 50), 18, 64), (30, 50), -6),
        *turned(tyre_front((130, 50), 18, 64), (130, 50), 6),
        *measure((43, 78), (117, 78)),
        *measure((36, 22), (124, 22)),
        *arrow((80, 88), (80, 99), tone=Tone.QUIET),
    )


def hub_length() -> Marks:
    """From the middle of the hitch straight to each hub."""
    return (
        ring((80, 92), 4, fill=Tone.DARK),
        body((76, 88), (84, 88), (84, 24), (76, 24)),
        block(24, 18, 136, 26),
        *tyre_front((24, 22), 12, 30),
        *tyre_front((136, 22), 12, 30),
        *measure((80, 92), (24, 22)),
        *measure((80, 92), (136, 22)),
    )


def width_gauge() -> Marks:
    """The pointer of the width gauge, read square on."""
    ticks = tuple(line((24 + 14 * n, 30), (24 + 14 * n, 44 if n % 4 else 50), width=1.0) for n in range(9))
    return (
        block(14, 24, 146, 58, fill=Tone.GROUND),
        *ticks,
        solid((85, 46), (78, 62), (92, 62), tone=Tone.ACCENT),
        block(81, 60, 89, 72, fill=Tone.ACCENT),
        *turned(eye((85, 92), 8), (85, 92), 90),
    )


def tip_to_tip() -> Marks:
    """From outer tine tip to outer tine tip, the tape level and tight."""
    return (
        *rotor((42, 58), 32, 8),
        *rotor((118, 58), 32, 8),
        *measure((6, 14), (154, 14)),
        line((10, 56), (10, 10), width=0.7, tone=Tone.QUIET),
        line((150, 56), (150, 10), width=0.7, tone=Tone.QUIET),
    )


def at_headland() -> Marks:
    """Raised as for turning: a rule at an outer tine, from beside the rotor."""
    lifted = (
        block(30, 62, 126, 68),
        block(68, 68, 84, 80),
        *(m for x in (38, 60, 96, 118) for m in tine((x, 58), (x + 4, 34))),
    )
    return (
        *floor(),
        *lifted,
        *rule((134, 10), 60, 8),
        *measure((127, 10), (127, 34)),
        line((120, 34), (136, 34), width=0.7, tone=Tone.QUIET),
        *arrow((16, 40), (16, 66), tone=Tone.QUIET),
    )


def limiter() -> Marks:
    """The stop for the headland, moved by one hole."""
    holes = tuple(ring((36 + 22 * n, 42), 5, fill=Tone.GROUND) for n in range(5))
    return (
        block(20, 30, 140, 54),
        *holes,
        disc((80, 42), 6, tone=Tone.ACCENT),
        *measure((80, 72), (102, 72)),
        line((80, 48), (80, 76), width=0.7, tone=Tone.QUIET),
        line((102, 48), (102, 76), width=0.7, tone=Tone.QUIET),
        *arrow((80, 16), (102, 16)),
    )


def folded_width() -> Marks:
    """Two plumb lines at the widest parts, the tape between them."""
    return (
        *floor(),
        body((44, 20), (116, 20), (128, 84), (96, 92), (64, 92), (32, 84)),
        *tyre_front((54, 22), 12, 24),
        *tyre_front((106, 22), 12, 24),
        *(
            mark
            for x in (32, 128)
            for mark in (
                line((x, 84), (x, 18), width=1.0, tone=Tone.ACCENT),
                solid((x - 3, 20), (x + 3, 20), (x, 12), tone=Tone.ACCENT),
            )
        ),
        *measure((32, 4), (128, 4)),
    )


def folded_height() -> Marks:
    """A lath on the highest point, a tape from it down to the ground."""
    return (
        *floor(),
        body((30, 20), (86, 20), (92, 74), (74, 82), (42, 82), (26, 74)),
        *tyre_front((38, 22), 12, 24),
        *tyre_front((78, 22), 12, 24),
        block(34, 82, 136, 86, fill=Tone.ACCENT),
        *measure((128, 10), (128, 82)),
        *digital_level((108, 87), 26),
    )


def cab_label() -> Marks:
    """Where the driver sees it."""
    return (
        body((16, 6), (16, 92), (120, 92), (146, 6), fill=Tone.GROUND),
        block(34, 34, 106, 70),
        Sign((70, 60), "m", 12, Tone.ACCENT),
        Sign((70, 43), "ft", 12, Tone.ACCENT),
        ring((116, 22), 14, width=3),
    )


def lowest_tip() -> Marks:
    """Turn by hand, find the lowest tip, read the rule."""
    return (
        *floor(),
        block(24, 66, 128, 72),
        *wheel((56, 22), 12),
        line((56, 34), (56, 66), width=4),
        *(mark for x, tip in ((84, 26), (104, 22), (122, 18)) for mark in tine((x, 62), (x + 4, tip))),
        *rule((130, 10), 56, 8),
        *measure((118, 10), (118, 18)),
        *turning((76, 76), 16, 20, 140),
    )


def wheel_print() -> Marks:
    """A lath across the print, a rule down to its bottom."""
    return (
        body((4, 4), (156, 4), (156, 52), (112, 52), (104, 28), (56, 28), (48, 52), (4, 52)),
        block(28, 52, 132, 58, fill=Tone.ACCENT),
        *rule((76, 28), 56, 8),
        *measure((98, 28), (98, 52)),
    )
