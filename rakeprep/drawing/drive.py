"""Everything that turns between the tractor and the rotors: shafts, gearboxes, and the guards on them."""

from __future__ import annotations

from rakeprep.drawing.measures import BEAM, Measures, Part, Piece, RotorAt
from rakeprep.drawing.shapes import Circle, Line, Point, Role, RoundedBox, Shape, along, bar
from rakeprep.model.profile import Gearbox, Profile, Side


def driveline_piece(profile: Profile, m: Measures) -> Piece:
    """The shaft from the tractor, its joints, and the shaft along the beam to the splitter."""
    wide = profile.driveline.wide_angle_end
    middle = along(m.pto, m.input, 0.5)
    shapes: tuple[Shape, ...] = (
        Line("driveline", Role.HIDDEN, m.input, m.splitter),
        bar("driveline", Role.STRONG, m.pto, along(m.pto, m.input, 0.55), 78),
        bar("driveline", Role.STRONG, along(m.pto, m.input, 0.5), m.input, 104),
        *_joint(m.pto, wide == "tractor"),
        *_joint(m.input, wide == "machine"),
    )
    return Piece(shapes, (Part("driveline", "driveline", middle),))


def _joint(at: Point, wide: bool) -> tuple[Circle, ...]:
    """A joint; a wide-angle joint is a double one."""
    if not wide:
        return (Circle("driveline", Role.OUTLINE, at, 72),)
    return Circle("driveline", Role.OUTLINE, at, 112), Circle("driveline", Role.OUTLINE, at, 60)


def arms_piece(profile: Profile, m: Measures) -> Piece:
    """The telescopic arms that carry the rotors, from the beam to the rotor centres."""
    shapes = []
    for rotor in m.rotors:
        root = (0.0, rotor.centre[1])
        shapes += [
            bar("frame", Role.OUTLINE, root, rotor.centre, 120),
            bar("frame", Role.OUTLINE, root, along(root, rotor.centre, 0.56), 190),
        ]
    return Piece(tuple(shapes))


def shafts_piece(profile: Profile, m: Measures) -> Piece:
    """The side shafts, several to one rotor beside each other."""
    shapes, parts = [], []
    count = {Side.LEFT: 0, Side.RIGHT: 0, Side.NEITHER: 0}
    for shaft in profile.driveline.side_shaft:
        rank = count[shaft.rotor]
        count[shaft.rotor] += 1
        key = f"shaft-{shaft.key}"
        if shaft.rotor is Side.NEITHER:
            start, end = m.input, m.splitter
        else:
            start, end = m.splitter, (m.left if shaft.rotor is Side.LEFT else m.right).centre
        shapes.append(Line(key, Role.HIDDEN, start, end))
        parts.append(Part(key, "splitter", along(start, end, 0.30 + 0.12 * (rank % 4))))
    return Piece(tuple(shapes), tuple(parts))


def gearboxes_piece(profile: Profile, m: Measures) -> Piece:
    """The splitter on the beam, and a gearbox at the centre of each rotor."""
    shapes, parts = [], []
    count = {Side.LEFT: 0, Side.RIGHT: 0, Side.NEITHER: 0}
    for box in profile.gearbox:
        rank = count[box.rotor]
        count[box.rotor] += 1
        shape, part = _splitter(box, rank, m) if box.rotor is Side.NEITHER else _rotor_box(box, rank, m)
        shapes.append(shape)
        parts.append(part)
    return Piece(tuple(shapes), tuple(parts))


def _splitter(box: Gearbox, rank: int, m: Measures) -> tuple[RoundedBox, Part]:
    """A gearbox on the beam: the first is the splitter, the others stand ahead of it."""
    key = f"gearbox-{box.key}"
    at = along(m.splitter, m.input, 0.22 * (rank % 4))
    return RoundedBox(key, Role.STRONG, at, BEAM * 1.25, 300, 60), Part(key, "splitter", at)


def _rotor_box(box: Gearbox, rank: int, m: Measures) -> tuple[RoundedBox, Part]:
    """A gearbox of a rotor; its mark stands a little toward the beam, so that the rotor keeps its own."""
    rotor = m.left if box.rotor is Side.LEFT else m.right
    key, size = f"gearbox-{box.key}", min(230.0, rotor.radius * 0.3)
    at = along(rotor.centre, m.splitter, 0.12 * (rank % 4))
    mark = (at[0] - rotor.hand * rotor.radius * 0.02, at[1] - rotor.radius * 0.02)
    return RoundedBox(key, Role.STRONG, at, size, size, size / 4), Part(key, rotor.key, mark)


def guards_piece(profile: Profile, m: Measures) -> Piece:
    """The guards: those of shafts along the drive, the others at the rotors or behind them.

    The data file does not say where a guard sits; a key with "left" or "right" in it is a hint.
    """
    parts: list[Part] = []
    on_drive = [guard for guard in profile.guard if guard.driveline]
    others = [guard for guard in profile.guard if not guard.driveline]
    neutral = [guard for guard in on_drive if _hint(guard.key, m) is None]
    for guard in on_drive:
        rotor = _hint(guard.key, m)
        if rotor is not None:
            parts.append(Part(f"guard-{guard.key}", "splitter", along(m.splitter, rotor.centre, 0.55)))
        else:
            share = (neutral.index(guard) + 0.5) / len(neutral)
            at = along(along(m.pto, m.input, 0.75), m.splitter, share * 0.9)
            parts.append(Part(f"guard-{guard.key}", "driveline", at))
    for number, guard in enumerate(others):
        parts.append(_other_guard(f"guard-{guard.key}", _hint(guard.key, m), number, m))
    return Piece((), tuple(parts))


def _other_guard(key: str, rotor: RotorAt | None, number: int, m: Measures) -> Part:
    """A guard that is on no shaft: on the outer front of its rotor, or beside the beam behind the rotors."""
    if rotor is not None:
        x, y = rotor.centre
        reach = rotor.radius * 0.93 * 0.7071
        return Part(key, rotor.key, (x + rotor.hand * reach, y + reach))
    share = 0.35 + 0.1 * (number % 4)
    return Part(
        key, "machine", (BEAM * (1.6 if number % 2 else -1.6), along(m.splitter, (0, m.axle), share)[1])
    )


def _hint(key: str, m: Measures) -> RotorAt | None:
    """The rotor that a key names, if it names one."""
    words = key.lower().replace("_", "-").split("-")
    for rotor in m.rotors:
        if rotor.side.value in words:
            return rotor
    return None


def latches_piece(profile: Profile, m: Measures) -> Piece:
    """The transport latches: at the root of their rotor's arm, or on the beam."""
    shapes, parts = [], []
    for number, latch in enumerate(profile.latch):
        key = f"latch-{latch.key}"
        hand = {Side.LEFT: -1, Side.RIGHT: 1, Side.NEITHER: 0}[latch.rotor]
        y = m.splitter[1] if not hand else (m.left if hand < 0 else m.right).centre[1]
        at = (hand * (BEAM / 2 + 140.0), y - (330 if not hand else 190) - 120 * (number // 4))
        shapes.append(RoundedBox(key, Role.STRONG, at, 90, 130, 25))
        parts.append(Part(key, "machine", at))
    return Piece(tuple(shapes), tuple(parts))
