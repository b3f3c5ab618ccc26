"""Hoses from the tractor's remotes to the rams that they feed."""

from __future__ import annotations

from rakeprep.drawing.measures import BEAM, Measures, Part, Piece
from rakeprep.drawing.shapes import Line, Point, Polyline, Role, RoundedBox, Shape
from rakeprep.model.profile import Profile

STEPS = 14  # straight pieces of a curve


def hydraulics_piece(profile: Profile, m: Measures) -> Piece:
    """Circuits alternately right and left of the beam, each hose on the side of its circuit."""
    shapes: list[Shape] = []
    hoses, circuits = [], []
    ranks = {1: 0, -1: 0}
    for number, circuit in enumerate(profile.hydraulics.circuit):
        hand = 1 if number % 2 == 0 else -1
        key, ram = f"circuit-{circuit.key}", _ram_at(number, len(profile.hydraulics.circuit), hand, m)
        for hose in circuit.hoses:
            curve = _curve(ranks[hand], hand, ram, m)
            ranks[hand] += 1
            shapes.append(Polyline(f"hose-{hose}", Role.HOSE, curve))
            hoses.append(Part(f"hose-{hose}", "hydraulics", curve[STEPS]))
        shapes += [
            Line(key, Role.OUTLINE, (ram[0], ram[1] - 150), (ram[0], ram[1] - 330)),
            RoundedBox(key, Role.OUTLINE, (ram[0], ram[1] - 60), 84, 240, 30),
        ]
        circuits.append(Part(key, "hydraulics", (ram[0], ram[1] - 80)))
    remotes = tuple(
        RoundedBox("tractor", Role.STRONG, (side * 0.085 * m.wheelbase, _remote_y(m)), 120, 90, 20)
        for side in (-1, 1)
    )
    return Piece((*shapes, *remotes), (*hoses, *circuits))


def _remote_y(m: Measures) -> float:
    """Where the couplings of the remotes are."""
    return m.tractor_axle - 0.125 * m.wheelbase


def _ram_at(number: int, count: int, hand: int, m: Measures) -> Point:
    """Where the ram of a circuit is drawn: beside the beam, ahead of the splitter."""
    front = min(m.input[1], -420.0) - 120
    room = max(300.0, front - m.splitter[1] - 500)
    rows = (count + 1) // 2
    return hand * (BEAM / 2 + 130.0), front - room * (number // 2) / max(1, rows)


def _curve(rank: int, hand: int, ram: Point, m: Measures) -> tuple[Point, ...]:
    """From the coupling in a loop past the headstock, then along the beam to the ram."""
    start = (hand * 0.085 * m.wheelbase, _remote_y(m))
    out = hand * (210.0 + 165.0 * min(rank, 12))
    waist = -150.0
    loop = _bezier(start, (start[0] + hand * 40, waist + 120), (out, start[1] * 0.7), (out, waist))
    tail = _bezier((out, waist), (out, waist - 200), (ram[0], waist - 120), ram)
    return (*loop, *tail[1:])


def _bezier(a: Point, b: Point, c: Point, d: Point) -> tuple[Point, ...]:
    """Points along a cubic curve."""
    return tuple(
        (
            (1 - t) ** 3 * a[0] + 3 * (1 - t) ** 2 * t * b[0] + 3 * (1 - t) * t**2 * c[0] + t**3 * d[0],
            (1 - t) ** 3 * a[1] + 3 * (1 - t) ** 2 * t * b[1] + 3 * (1 - t) * t**2 * c[1] + t**3 * d[1],
        )
        for t in (n / STEPS for n in range(STEPS + 1))
    )
