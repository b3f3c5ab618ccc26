"""Small drawings for speeds and the test run."""

from __future__ import annotations

from rakeprep.drawing.help_parts import (
    Marks,
    floor,
    gearbox,
    infrared,
    rotor,
    watch,
    wheel,
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
    turning,
    waves,
)


def gear_lever() -> Marks:
    """The gear of the PTO at its lever."""
    return (
        block(30, 10, 106, 40),
        line((68, 30), (84, 78), width=4),
        disc((85, 82), 8),
        Sign((46, 25), "540", 8, Tone.ACCENT),
        Sign((90, 25), "1000", 8, Tone.ACCENT),
        *turning((68, 30), 62, 118, -40),
    )


def speed() -> Marks:
    """From outside all guards, with light, at a mark."""
    return (
        block(84, 22, 152, 84, fill=Tone.GROUND),
        ring((118, 53), 17, fill=Tone.DARK),
        line((118, 53), (118, 68), width=3, tone=Tone.ACCENT),
        *turning((118, 53), 25, 120, -130),
        *infrared((40, 53), 61),
    )


def turns_counted() -> Marks:
    """How often the painted mark comes round, by the watch, from the seat."""
    return (
        *rotor((58, 46), 36, 8, 70),
        disc((58 + 36 * 0.342, 46 + 36 * 0.94), 5, tone=Tone.ACCENT),
        *turning((58, 46), 45, 40, -100),
        *watch((130, 50), 20),
    )


def planned_speed() -> Marks:
    """The way from one arm to the next."""
    paths = tuple(
        Stroke(around((48 + 20 * n, 20), 44, 20, 120), 1.4, Tone.QUIET if n else Tone.INK) for n in range(4)
    )
    return (*paths, *measure((48, 76), (68, 76)), *arrow((30, 10), (140, 10)))


def everyone_clear() -> Marks:
    """Nobody within the rotors' reach plus three metres."""
    return (
        *rotor((80, 50), 20, 8),
        Stroke(around((80, 50), 40)[:-1], 1.4, Tone.ACCENT, closed=True, dash=True),
        *measure((100, 50), (120, 50)),
        Sign((110, 60), "3 m", 7, Tone.ACCENT),
        *(mark for x in (16, 144) for mark in (disc((x, 68), 6), line((x, 58), (x, 42), width=8))),
    )


def inwards() -> Marks:
    """Seen from above, in front both sweep towards the middle."""
    return (
        *rotor((42, 44), 32, 8),
        *rotor((118, 44), 32, 8),
        *turning((42, 44), 38, 130, -70, width=2.0),
        *turning((118, 44), 38, 50, 70, width=2.0),
        *arrow((80, 70), (80, 94), tone=Tone.QUIET),
    )


def runs_down() -> Marks:
    """PTO off: until this rotor stands still."""
    fading = tuple(Stroke(around((54, 46), 36 + 4 * n, 60, 60 - 18 * n), 1.6, Tone.ACCENT) for n in range(3))
    return (*rotor((54, 46), 32, 8), *fading, *watch((128, 48), 22))


def listening() -> Marks:
    """Heard from the seat, ears protected."""
    return (
        ring((112, 52), 20, fill=Tone.BODY),
        block(104, 44, 114, 62, fill=Tone.DARK),
        Stroke(around((112, 52), 24, 30, 120), 3.0),
        *(Stroke(around((24, 50), r, -35, 70), 1.6, Tone.ACCENT) for r in (16, 28, 40, 52)),
        block(6, 40, 24, 60),
    )


def surface() -> Marks:
    """Infra-red on paint, never a hand first."""
    heat = tuple(Stroke(waves((x, 72), (x, 90), 2.0, 2), 1.4, Tone.QUIET) for x in (112, 126, 140))
    return (*gearbox(98, 22, 52, 46), *infrared((40, 52), 58), *heat)


def road_pull() -> Marks:
    """In the yard, slowly, brake once; then stop and look."""
    return (
        *floor(),
        *wheel((34, 26), 16),
        *wheel((70, 21), 11),
        body((20, 38), (82, 30), (82, 44), (52, 48), (48, 76), (22, 76)),
        line((18, 30), (2, 30), width=3),
        *arrow((96, 26), (150, 26), width=2.2),
        Sign((122, 40), "20 km/h", 7.5, Tone.ACCENT),
    )
