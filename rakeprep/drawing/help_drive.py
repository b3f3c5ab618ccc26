"""Small drawings for driveline, hydraulic circuits and lights."""

from __future__ import annotations

from rakeprep.drawing.help_parts import (
    Marks,
    digital_level,
    driveline,
    eye,
    fork,
    infrared,
    lamp,
    meter,
    ram,
    rope,
    rotor,
    rule,
    thermometer,
    tractor_wheels,
    watch,
)
from rakeprep.drawing.strokes import (
    Sign,
    Stroke,
    Tone,
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


def groove_to_groove() -> Marks:
    """From locking groove to locking groove."""
    return (
        block(0, 40, 16, 60),
        block(144, 40, 160, 60),
        *(line((x, 39), (x, 61), width=2.4, tone=Tone.ACCENT) for x in (12, 148)),
        *measure((12, 74), (148, 74)),
        line((12, 62), (12, 78), width=0.7, tone=Tone.QUIET),
        line((148, 62), (148, 78), width=0.7, tone=Tone.QUIET),
        line((16, 50), (144, 50), width=0.8, tone=Tone.QUIET, dash=True),
    )


def pushed_home() -> Marks:
    """The whole shaft, pushed home, from groove to groove."""
    return (
        *driveline(6, 154, overlap=1.0),
        *measure((12, 74), (148, 74)),
        line((12, 58), (12, 78), width=0.7, tone=Tone.QUIET),
        line((148, 58), (148, 78), width=0.7, tone=Tone.QUIET),
        *arrow((50, 24), (72, 24), tone=Tone.QUIET),
        *arrow((110, 24), (88, 24), tone=Tone.QUIET),
    )


def one_half() -> Marks:
    """One half: from the groove to the open end of the steel tube."""
    return (
        *fork((18, 50), 1.0),
        block(31, 42, 146, 58),
        line((146, 46), (146, 54), width=2.0, tone=Tone.GROUND),
        *measure((12, 74), (146, 74)),
        line((12, 58), (12, 78), width=0.7, tone=Tone.QUIET),
        line((146, 59), (146, 78), width=0.7, tone=Tone.QUIET),
    )


def cut_off() -> Marks:
    """The same length off the guard tube and off the steel tube."""
    return (
        block(6, 30, 130, 66, fill=Tone.GROUND),
        block(6, 40, 150, 56),
        line((104, 24), (104, 72), width=1.4, tone=Tone.ACCENT, dash=True),
        line((124, 34), (124, 62), width=1.4, tone=Tone.ACCENT, dash=True),
        *measure((104, 80), (130, 80)),
        line((130, 67), (130, 84), width=0.7, tone=Tone.QUIET),
        *measure((124, 14), (150, 14)),
        line((124, 32), (124, 10), width=0.7, tone=Tone.QUIET),
        line((150, 39), (150, 10), width=0.7, tone=Tone.QUIET),
    )


def gap_left() -> Marks:
    """How far the shaft can still be pushed home."""
    return (
        block(4, 34, 100, 66),
        block(4, 42, 76, 58, fill=Tone.GROUND, width=0.8),
        block(62, 42, 130, 58, fill=Tone.DARK),
        block(126, 30, 150, 70),
        *measure((100, 80), (126, 80)),
        line((100, 66), (100, 84), width=0.7, tone=Tone.QUIET),
        line((126, 70), (126, 84), width=0.7, tone=Tone.QUIET),
        *arrow((140, 20), (112, 20)),
    )


def overlap() -> Marks:
    """How far the inner tube still reaches in."""
    return (
        block(4, 34, 92, 66),
        block(44, 42, 92, 58, fill=Tone.DARK),
        block(92, 42, 156, 58, fill=Tone.DARK),
        line((92, 40), (92, 60), width=2.2, tone=Tone.ACCENT),
        *measure((44, 80), (92, 80)),
        line((44, 58), (44, 84), width=0.7, tone=Tone.QUIET),
        line((92, 66), (92, 84), width=0.7, tone=Tone.QUIET),
    )


def joint_angle() -> Marks:
    """Between the line of the stub and the line of the shaft."""
    return (
        block(6, 44, 70, 56),
        *turned((block(70, 42, 150, 58),), (70, 50), -22),
        ring((70, 50), 11, fill=Tone.BODY),
        line((70, 50), (154, 50), width=0.8, tone=Tone.QUIET, dash=True),
        *turning((70, 50), 54, 0, -22),
        *digital_level((36, 57), 40),
        *turned(digital_level((118, 59), 40), (70, 50), -22),
    )


def full_lock() -> Marks:
    """Two laths on the floor, one along each, and the angle between them."""
    return (
        *turned(tractor_wheels(52, 62, 0.8), (52, 40), 38),
        line((52, 40), (52, 2), width=2.6),
        line((52, 40), (52, 98), width=0.8, tone=Tone.QUIET, dash=True),
        *turned((line((52, 40), (52, 96), width=2.6),), (52, 40), 38),
        *turning((52, 40), 42, 90, 38),
        ring((52, 40), 3.5, fill=Tone.GROUND),
        body((36, 4), (68, 4), (58, 34), (46, 34), fill=Tone.BODY),
        line((52, 40), (52, 4), width=1.8, tone=Tone.ACCENT),
    )


def stub() -> Marks:
    """Splines of the stub: count them and measure across."""
    splines = tuple(
        solid(*around((62, 50), 30, t - 11, 22), *reversed(around((62, 50), 24, t - 15, 30)))
        for t in range(0, 360, 60)
    )
    return (
        ring((62, 50), 25, fill=Tone.BODY),
        *splines,
        *measure((32, 88), (92, 88)),
        line((32, 52), (32, 92), width=0.7, tone=Tone.QUIET),
        line((92, 52), (92, 92), width=0.7, tone=Tone.QUIET),
        *(Sign((126, y), text, 10, Tone.ACCENT) for y, text in ((68, "6"), (50, "21"), (32, "20"))),
    )


def in_plane() -> Marks:
    """The inner forks of the middle shaft lie in one plane."""
    return (
        block(40, 44, 120, 56),
        *fork((40, 50), -1.0, 16),
        *fork((120, 50), 1.0, 16),
        line((8, 62), (152, 62), width=1.0, tone=Tone.ACCENT, dash=True),
        line((8, 38), (152, 38), width=1.0, tone=Tone.ACCENT, dash=True),
    )


def locked() -> Marks:
    """Pull hard on each end: the lock stands flush."""
    return (
        block(6, 42, 66, 58),
        line((36, 41), (36, 59), width=2.6, tone=Tone.ACCENT),
        body((30, 34), (84, 34), (96, 26), (96, 74), (84, 66), (30, 66), fill=Tone.BODY),
        block(30, 42, 66, 58, fill=Tone.GROUND, width=0.8),
        ring((36, 69), 4.6, fill=Tone.DARK),
        *arrow((104, 50), (144, 50), width=2.4, head=9),
    )


def guard_chain() -> Marks:
    """The chain from the guard to a fixed point, and the air to what turns."""
    return (
        block(4, 56, 156, 84, fill=Tone.GROUND),
        block(0, 64, 160, 76, fill=Tone.DARK),
        ring((40, 53), 3.6, width=1.8),
        rope((40, 50), (128, 22)),
        ring((130, 20), 3.6, width=1.8),
        block(122, 4, 150, 16),
        *measure((84, 28), (84, 56)),
    )


def one_way() -> Marks:
    """Held shaft, rotor turned on: in its working direction it runs free."""
    return (
        block(4, 20, 56, 32),
        *arrow((16, 46), (16, 34), tone=Tone.QUIET),
        *rotor((108, 46), 38, 8),
        *turning((108, 46), 45, 100, -70),
    )


def coupling() -> Marks:
    """Clean, pushed in until it clicks, pulled, labelled."""
    return (
        block(104, 34, 152, 66),
        ring((104, 50), 12, fill=Tone.DARK),
        Sign((134, 50), "1", 14, Tone.ACCENT),
        block(62, 43, 86, 57, fill=Tone.BODY),
        block(50, 39, 64, 61, fill=Tone.DARK),
        Stroke(((50, 50), (34, 50), (22, 42), (16, 26), (10, 6)), 8.0, Tone.DARK),
        block(22, 62, 46, 76, fill=Tone.GROUND),
        line((34, 62), (38, 53), width=1.0),
        *arrow((66, 26), (98, 26)),
    )


def stroke_time() -> Marks:
    """One full stroke by the watch."""
    return (
        *ram((14, 34), 62, 60),
        *arrow((84, 14), (136, 14)),
        *watch((126, 70), 18),
    )


def oil_heat() -> Marks:
    """Oil temperature: infra-red on a painted steel pipe."""
    return (block(98, 10, 112, 92, fill=Tone.DARK), *infrared((44, 50), 52), *thermometer((140, 16), 66))


def rod_mark() -> Marks:
    """A mark on the rod; ten minutes later the rule shows how far it went."""
    return (
        *ram((10, 56), 70, 60),
        line((96, 50), (96, 62), width=2.6, tone=Tone.ACCENT),
        line((84, 50), (84, 62), width=1.6, tone=Tone.QUIET),
        *turned(rule((148, 30), 76, 8), (148, 30), 90),
        *measure((96, 46), (84, 46), 0),
        *watch((136, 78), 12),
    )


def cardboard() -> Marks:
    """Cardboard on a stick finds the jet; a hand never does."""
    jet = tuple(line((34, 52), (82, 52 + up), width=1.1, tone=Tone.ACCENT) for up in (-5, 0, 5))
    return (
        line((22, 4), (22, 34), (30, 52), (22, 68), (22, 96), width=9, tone=Tone.DARK),
        *jet,
        body((82, 24), (98, 32), (98, 86), (82, 78)),
        ring((88, 54), 6, fill=Tone.DARK),
        line((98, 56), (154, 44), width=3.2),
    )


def rising() -> Marks:
    """Watch from outside the swing what rises."""
    return (
        line((12, 22), (72, 22), (72, 30), width=4),
        *turned((line((72, 26), (150, 26), width=5),), (72, 26), 28),
        line((72, 26), (150, 26), width=1.0, tone=Tone.QUIET, dash=True),
        *turning((72, 26), 66, 0, 27),
        *turned(ram((30, 12), 34, 30), (30, 12), 24),
    )


def socket() -> Marks:
    """The socket from outside: seven contacts and the key."""
    contacts = tuple(ring(around((64, 50), 22, t, 1)[0], 4.6, fill=Tone.DARK) for t in range(0, 360, 60))
    return (
        ring((64, 50), 38, fill=Tone.BODY, width=2.0),
        ring((64, 50), 32, fill=Tone.GROUND),
        *contacts,
        ring((64, 50), 4.6, fill=Tone.DARK),
        block(60, 12, 68, 20, fill=Tone.DARK),
        Stroke(((156, 50), (136, 50), (124, 50)), 9, Tone.DARK),
        *arrow((122, 50), (108, 50), width=2.2),
    )


def lamps() -> Marks:
    """One function on, every lamp looked at."""
    return (
        block(6, 22, 154, 32, fill=Tone.DARK),
        block(12, 36, 52, 84),
        block(108, 36, 148, 84),
        *lamp((32, 60), 13, shining=True),
        *lamp((128, 60), 13, shining=False),
        Sign((80, 62), "?", 22, Tone.ACCENT),
    )


def battery() -> Marks:
    """At the posts of the battery, all lamps on."""
    return (
        block(12, 14, 84, 60),
        block(22, 60, 34, 68, fill=Tone.DARK),
        block(62, 60, 74, 68, fill=Tone.DARK),
        Sign((28, 46), "+", 12),
        Sign((68, 46), "−", 12),
        *meter((120, 24)),
        Stroke(((28, 69), (40, 92), (100, 92), (128, 62), (128, 68)), 1.6, Tone.ACCENT),
        Stroke(((68, 69), (84, 80), (110, 76), (138, 70), (138, 68)), 1.6),
    )


def at_lamp() -> Marks:
    """At both contacts of the weakest lamp."""
    return (
        block(10, 22, 76, 78),
        *lamp((43, 50), 15, shining=True),
        disc((66, 32), 3.2),
        disc((66, 68), 3.2, tone=Tone.ACCENT),
        *meter((116, 26)),
        Stroke(((66, 68), (96, 90), (124, 70)), 1.6, Tone.ACCENT),
        Stroke(((66, 32), (92, 12), (134, 16), (134, 26)), 1.6),
    )


def earth_side() -> Marks:
    """From the earth contact of the lamp to the minus post of the battery."""
    return (
        block(6, 54, 46, 94),
        *lamp((26, 76), 10, shining=True),
        disc((26, 59), 3.0, tone=Tone.ACCENT),
        block(6, 8, 58, 36),
        Sign((16, 22), "+", 10),
        Sign((46, 22), "−", 10),
        block(42, 36, 50, 42, fill=Tone.DARK),
        *meter((116, 26)),
        Stroke(((26, 59), (80, 66), (124, 80), (124, 70)), 1.6, Tone.ACCENT),
        Stroke(((46, 42), (80, 48), (104, 20), (134, 16), (134, 26)), 1.6),
    )


def board() -> Marks:
    """A board as another driver sees it."""
    stripes = tuple(
        solid((30 + x, 16), (42 + x, 16), (66 + x, 60), (54 + x, 60), tone=Tone.ACCENT) for x in (-8, 24, 56)
    )
    return (
        block(20, 16, 124, 60, fill=Tone.GROUND),
        *(
            Stroke(tuple((min(max(x, 21), 123), y) for x, y in s.points), 0, s.tone, True, s.fill)
            for s in stripes
        ),
        Stroke(((20, 16), (124, 16), (124, 60), (20, 60)), 1.6, closed=True),
        body((54, 68), (90, 68), (72, 95), fill=Tone.GROUND, width=3.0, tone=Tone.ACCENT),
        *eye((146, 38), 9),
    )
