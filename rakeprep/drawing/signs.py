"""Signs: a black picture in a yellow triangle warns, a white one in a blue disc says what must be worn.

Shape and colours follow ISO 3864-1; what is shown follows the registered meanings of ISO 7010 and the
hazard pictures that ISO 11684 describes for farm machinery. Every picture is drawn anew here. The numbers
of the signs are given from memory.
"""

from __future__ import annotations

from rakeprep.drawing.shapes import Box, Point
from rakeprep.drawing.strokes import Stroke, Tone, arc, arrow, disc, line, ring, solid, turned, turning, waves

SHEET = Box(0.0, 0.0, 100.0, 88.0)  # mm; the triangle stands on its long side
CORNERS: tuple[Point, ...] = ((6.0, 5.5), (94.0, 5.5), (50.0, 81.7))  # middle of the rounded corners
RIM = 8.0  # mm; width of the black rim
MIDDLE: Point = (50.0, 44.0)
DISC = 42.0  # mm; radius of the disc on which it stands what must be worn


def _person(x: float, foot: float, height: float, width: float = 5.0) -> tuple[Stroke, ...]:
    """Somebody who stands upright."""
    head = height * 0.14
    hip, neck = foot + height * 0.45, foot + height * 0.68
    return (
        disc((x, foot + height - head), head),
        line((x, neck), (x, hip), width=width * 1.9),
        line((x - width * 0.55, hip), (x - width * 0.6, foot + width / 2), width=width * 0.95),
        line((x + width * 0.55, hip), (x + width * 0.6, foot + width / 2), width=width * 0.95),
        line((x, neck), (x - width * 1.55, neck - height * 0.24), width=width * 0.75),
        line((x, neck), (x + width * 1.55, neck - height * 0.24), width=width * 0.75),
    )


def _hand(x: float, y: float) -> tuple[Stroke, ...]:
    """A flat hand that reaches to the left, its finger tips at the point."""
    fingers = [
        line((x + start, y + up), (x + 18, y + up * 0.8), width=4.0)
        for start, up in ((2.0, 6.0), (0.0, 2.0), (1.0, -2.0), (4.0, -6.0))
    ]
    palm = solid((x + 15, y + 7.5), (x + 29, y + 7), (x + 29, y - 7.5), (x + 15, y - 7.5))
    thumb = line((x + 23, y + 6), (x + 15, y + 13), width=4.4)
    return (*fingers, palm, thumb, line((x + 29, y), (x + 36, y - 2), width=11.0))


def _general() -> tuple[Stroke, ...]:
    """W001: an exclamation mark."""
    return solid((45.2, 60), (54.8, 60), (52.6, 31), (47.4, 31)), disc((50, 21.5), 5.2)


def _electricity() -> tuple[Stroke, ...]:
    """W012: a bolt of lightning that points down."""
    bolt = solid((55, 64), (39.5, 37), (49, 39.5), (44.5, 22.5), (57.5, 47), (48, 44.5))
    return bolt, solid((41.5, 27.5), (51.5, 24), (43.3, 13.5))


def _crushing() -> tuple[Stroke, ...]:
    """W019: somebody between two bodies that close on him."""
    return (
        solid((21, 12.5), (33, 12.5), (33, 43), (21, 20)),
        solid((79, 12.5), (67, 12.5), (67, 43), (79, 20)),
        *arrow((32, 23), (43, 23), width=3.6, head=7.0),
        *arrow((68, 23), (57, 23), width=3.6, head=7.0),
        *_person(50, 12.5, 47, 4.6),
    )


def _hands() -> tuple[Stroke, ...]:
    """W024: a hand between two bodies that close on it."""
    return (
        solid((22, 12), (78, 12), (74, 19), (26, 19)),
        *_hand(32, 29),
        solid((36, 45), (64, 45), (59, 53), (41, 53)),
        *arrow((50, 66), (50, 52), width=4.0, head=8.0),
    )


def _entanglement() -> tuple[Stroke, ...]:
    """An arm that a turning shaft winds in, after ISO 11684."""
    return (
        ring((39.5, 27.5), 7.6, width=4.4),
        disc((39.5, 27.5), 2.9),
        *turning((39.5, 27.5), 13.4, -60, -225, width=3.0, head=8.0),
        line((37, 36.5), (46, 37.5), (57, 36), width=4.6),
        disc((58.5, 48.5), 6.0),
        line((58.5, 38), (64, 25), width=8.6),
        line((63, 25), (57, 13.5), width=4.6),
        line((65, 25), (71, 13.5), width=4.6),
    )


def _injection() -> tuple[Stroke, ...]:
    """A jet from a hose that goes through a hand, after ISO 11684."""
    return (
        line((25, 14), (44, 14), (50, 15.5), (56, 14), (75, 14), width=6.5),
        solid((49, 17), (51, 17), (54.5, 31), (45.5, 31)),
        line((43, 21), (38.5, 26), width=2.0),
        line((57, 21), (61.5, 26), width=2.0),
        *_hand(31, 35),
        *arrow((49.5, 42), (49.5, 61), width=3.6, head=8.5),
    )


def _hot() -> tuple[Stroke, ...]:
    """W017: heat that rises from a surface."""
    steam = tuple(
        Stroke(waves((x, 23), (x, 23 + high), 2.8, 2), 4.0) for x, high in ((37.5, 18), (50, 33), (62.5, 18))
    )
    return (*steam, solid((23, 12), (77, 12), (77, 18), (23, 18)))


def _falling_load() -> tuple[Stroke, ...]:
    """W015: a load that hangs from a hook."""
    return (
        line((51, 68), (51, 58), width=4.0),
        line((51, 58), (54.5, 54), (53.5, 48.5), (49, 47), (45.5, 50), width=3.8),
        line((49, 46), (31, 31), width=2.6),
        line((49, 46), (69, 31), width=2.6),
        solid((27, 31.5), (73, 31.5), (73, 13.5), (27, 13.5)),
    )


def _impalement() -> tuple[Stroke, ...]:
    """Tines that point at an eye, after ISO 11684."""
    tines = tuple(
        solid((left, y - 1.8), (left + 2, y + 2.2), (tip, y + 4.6), (tip - 3, y + 1.2))
        for left, tip, y in ((20, 50, 13.5), (25, 48, 22.5), (31, 48, 31.5))
    )
    head = (
        disc((60, 35.5), 10.5),
        solid((52, 42), (48.3, 33.5), (51.5, 32.5), (51.5, 27), (59, 25)),
        solid((56, 28), (67, 31), (69, 21), (58, 20)),
        solid((52, 12.5), (78, 12.5), (74, 20), (68.5, 22.5), (57, 21.5)),
    )
    return (*tines, *head)


def _flying_parts() -> tuple[Stroke, ...]:
    """Pieces that fly at somebody, after ISO 11684."""
    pieces = ((45, 42), (38, 29.5), (46, 20))
    marks: list[Stroke] = []
    for x, y in pieces:
        marks.append(solid((x - 3, y + 4), (x + 5, y + 2.5), (x + 3, y - 3.5), (x - 3.5, y - 3)))
        marks.extend(
            line((x - 6, y + off), (x - 12 + abs(off), y + off - 3.6), width=1.9) for off in (1.5, -2.5)
        )
    return (*marks, *_person(61, 12.5, 39, 4.6))


def _tipping() -> tuple[Stroke, ...]:
    """A machine that goes over on its side, after ISO 11684."""
    upright = (
        solid((40, 20), (68, 20), (68, 34), (40, 34)),
        solid((54, 34), (66, 34), (64, 44), (56, 44)),
        disc((45, 19), 6.2),
        disc((63, 19), 6.2),
    )
    return (
        solid((21, 11.5), (79, 11.5), (79, 15), (21, 15)),
        *turned(upright, (43, 16.5), 24),
        *turning((53, 32), 20, 66, 80, width=2.8, head=7.5),
    )


def _poison() -> tuple[Stroke, ...]:
    """W016: a skull over crossed bones."""
    bones = tuple(
        mark
        for way in (-1, 1)
        for mark in (
            line((50 - 20 * way, 15.5), (50 + 17 * way, 26.5), width=4.2),
            disc((50 - 20 * way, 14.8), 2.6),
            disc((50 - 21.5 * way, 18), 2.4),
        )
    )
    eyes = (disc((45.2, 42.5), 3.6, Tone.GROUND), disc((54.8, 42.5), 3.6, Tone.GROUND))
    nose = solid((48.4, 35), (51.6, 35), (50, 39), tone=Tone.GROUND)
    jaw = solid((43, 28), (57, 28), (57, 36), (43, 36))
    return (*bones, disc((50, 43), 12), jaw, *eyes, nose)


def _ears() -> tuple[Stroke, ...]:
    """M003: a head with ear muffs."""
    return (
        disc((50, 43), 14, Tone.GROUND),
        solid((45, 32), (55, 32), (55, 20), (45, 20), tone=Tone.GROUND),
        solid((30, 20), (34, 13), (66, 13), (70, 20), tone=Tone.GROUND),
        arc((50, 45), 22, 0, 180, width=4.0, tone=Tone.GROUND),
        line((29, 36), (29, 49), width=9.0, tone=Tone.GROUND),
        line((71, 36), (71, 49), width=9.0, tone=Tone.GROUND),
    )


_DRAWN = {
    "general": _general,
    "ears": _ears,
    "crushing": _crushing,
    "crushing-hands": _hands,
    "electricity": _electricity,
    "entanglement": _entanglement,
    "falling-load": _falling_load,
    "flying-parts": _flying_parts,
    "hot": _hot,
    "impalement": _impalement,
    "injection": _injection,
    "poison": _poison,
    "tipping": _tipping,
}
SIGNS = tuple(_DRAWN)
MUST_BE_WORN = frozenset({"ears"})  # a mandatory sign warns of nothing: it says what to put on


def sign(key: str) -> tuple[Stroke, ...]:
    """The picture within its frame; the general one for a hazard that has none of its own."""
    return _DRAWN.get(key, _general)()


def frame(key: str) -> Stroke:
    """What the picture stands in, in black and white: a triangle, or a full disc."""
    if key in MUST_BE_WORN:
        return disc(MIDDLE, DISC)
    return Stroke(CORNERS, RIM, closed=True, fill=Tone.GROUND)
