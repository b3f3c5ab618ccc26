"""The rotors' clock faces on paper: readings round the clock, the plane through them, and its two tilts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rakeprep.drawing.clock import GAP, LevelLines, level_lines, widest_gap
from rakeprep.drawing.rotor_face import depth, face, figures, tilt
from rakeprep.drawing.shapes import Box, Point, Shape, at_clock
from rakeprep.handover import blocks
from rakeprep.handover.paper import NOTHING, Paper
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_known import Known, known
from rakeprep.steps._levelling_tilts import Tilt
from rakeprep.steps._reading import ROTOR_NAMES
from rakeprep.text import Message, joined, msg, verbatim

WIDE = 180.0  # mm
RADIUS = 21.0
BELOW = 33.0  # height of what stands below the faces
MIDDLES = {Side.LEFT: 45.0, Side.RIGHT: 135.0}
VIEW = 37.0  # width of one tilt
UNREAD = msg("cam lifts the arm here: do not measure")


@dataclass(frozen=True, slots=True)
class Seen:
    """One tilt: from where it is seen, what stands at its ends, its rise toward the left end, and words."""

    name: Message
    left: Message
    right: Message
    tilt: Tilt | None
    rise: float | None
    wanted: tuple[float, float]
    said: Message


def rotor_faces(paper: Paper) -> Iterator[blocks.Block]:
    """Both rotors side by side."""
    found = {side: known(paper.facts("levelling"), side) for side in MIDDLES}
    views = {side: tilts(paper, each) for side, each in found.items()}
    scale = scale_of([view for several in views.values() for view in several])
    shapes: list[Shape] = []
    words: list[blocks.Words] = []
    marks: list[tuple[float, float, Verdict]] = []
    for side, middle in MIDDLES.items():
        shapes += rotor_shapes(paper, side, found[side])
        words += rotor_words(paper, side, found[side])
        marks += odd_places(paper, side)
        for view, left in zip(views[side], (middle - VIEW - 4, middle + 4), strict=True):
            box = Box(left, 13.5, left + VIEW, 22.5)
            shapes += tilt(f"rotor-{side}", box, view.rise, view.wanted, scale)
            words += view_words(paper, view, box)
            if view.tilt is not None:
                marks.append((left + 1.6, 7.0, view.tilt.verdict))
    words.append(note(paper, found, scale))
    alt = joined([told(paper, side, views[side]) for side in MIDDLES], " ")
    yield blocks.Drawing(
        tuple(shapes),
        Box(0, 0, WIDE, height_of(paper)),
        tuple(marks),
        {},
        paper.say(alt),
        tuple(words),
        to_size=True,
    )


def middle_of(paper: Paper, side: Side) -> Point:
    """Where the middle of a face is; both stand at the same height."""
    return MIDDLES[side], BELOW + RADIUS * max(depth(hours_of(paper, each)) for each in MIDDLES)


def height_of(paper: Paper) -> float:
    """Height of the whole picture."""
    return middle_of(paper, Side.LEFT)[1] + RADIUS + 12.0


def hours_of(paper: Paper, side: Side) -> tuple[int, ...]:
    """The places at which a rotor is read, from nine o'clock over twelve to eight."""
    return tuple(sorted(set(paper.profile.rotor_at(side).clock_places), key=lambda hour: (hour - 9) % 12))


def plane_of(found: Known | None) -> LevelLines | None:
    """The level lines of a rotor's plane."""
    if found is None:
        return None
    level = found.plane.level
    return level_lines(level.centre.value, level.front_rear.value, level.right_left.value)


def rotor_shapes(paper: Paper, side: Side, found: Known | None) -> Iterator[Shape]:
    """The face of one rotor."""
    centre = middle_of(paper, side)
    yield from face(f"rotor-{side}", centre, RADIUS, hours_of(paper, side), plane_of(found))


def rotor_words(paper: Paper, side: Side, found: Known | None) -> Iterator[blocks.Words]:
    """Its name, the readings as typed, the hours, and the heights of the level lines."""
    centre, hours = middle_of(paper, side), hours_of(paper, side)
    yield blocks.Words((centre[0], height_of(paper) - 2), paper.say(ROTOR_NAMES[side]), 9, 80, strong=True)
    for hour in hours:
        at = at_clock(centre, RADIUS + 4.2, hour * 30)
        outward = (at[0] - centre[0]) / RADIUS * 3.2
        yield blocks.Words((at[0] + outward, at[1]), typed(paper, side, hour), 8, 20, strong=True)
        inward = at_clock(centre, RADIUS - 3.4, hour * 30)
        yield blocks.Words(inward, str(hour), 7, quiet=True, plate=True)
    if hours and widest_gap(hours)[2] >= GAP:
        first, _, gap = widest_gap(hours)
        middle = at_clock(centre, RADIUS * 0.43, 30 * (first + gap / 2))
        yield blocks.Words(middle, paper.say(UNREAD), 7, RADIUS * 1.25, quiet=True, lines=2)
    plane = plane_of(found)
    if plane is None or found is None:
        return
    for height, at in figures(centre, RADIUS, hours, plane):
        sign = "−" if height < 0 else ""
        amount = paper.shown(found.plane.length(height)).rpartition(" ")[0]
        yield blocks.Words(at, f"{sign}{amount}", 6.5, quiet=True, plate=True)


def typed(paper: Paper, side: Side, hour: int) -> str:
    """A reading as it was typed."""
    entry = paper.entry("levelling", "clearance", f"{side}-{hour}")
    return NOTHING if entry is None else paper.user(entry.typed)[:14]


def odd_places(paper: Paper, side: Side) -> Iterator[tuple[float, float, Verdict]]:
    """The symbol of each reading that is not in order, inside its place."""
    for state in paper.states("levelling", "clearance"):
        where, _, hour = state.task.place.key.partition("-")
        usual = state.verdict in {Verdict.IN_ORDER, Verdict.NOT_YET, Verdict.ABSENT}
        if where == side.value and hour.isdecimal() and not usual:
            x, y = at_clock(middle_of(paper, side), RADIUS - 7.2, int(hour) * 30)
            yield x, y, state.verdict


# ------------------------------------------------------------------ the tilts


def tilts(paper: Paper, found: Known | None) -> tuple[Seen, Seen]:
    """The tilt from the left side and from behind."""
    data, facts = paper.profile.levelling, paper.facts("levelling")
    lower = facts.value(data.front_lower) or 0.0
    front, right = (None, None) if found is None else (found.front, found.right)
    return (
        Seen(
            msg("from the left side"),
            msg("front"),
            msg("rear"),
            front,
            front.is_now.value if front else None,
            (-lower, facts.value(data.tolerance) or 0.0),
            tilt_said(paper, found, front, ahead=True),
        ),
        Seen(
            msg("from behind"),
            msg("left"),
            msg("right"),
            right,
            -right.is_now.value if right else None,
            (0.0, facts.value(data.cross_tolerance) or 0.0),
            tilt_said(paper, found, right, ahead=False),
        ),
    )


def tilt_said(paper: Paper, found: Known | None, now: Tilt | None, ahead: bool) -> Message:
    """Which end is lower and by how much."""
    if found is None or now is None:
        return msg("not enough readings yet")
    length = found.plane.length(now.is_now.value)
    if paper.shown(length) == paper.shown(found.plane.length(0.0)):
        return msg("level")
    if now.is_now.value <= 0:
        return msg("front {now} lower", now=length) if ahead else msg("right {now} lower", now=length)
    return msg("front {now} higher", now=length) if ahead else msg("right {now} higher", now=length)


def scale_of(views: list[Seen]) -> float:
    """Millimetres of paper to the metre of height, the same for all tilts."""
    tallest = max(
        [abs(view.wanted[0]) + view.wanted[1] for view in views]
        + [abs(view.rise) for view in views if view.rise is not None]
    )
    return 8.0 / max(tallest, 1e-4)


def view_words(paper: Paper, view: Seen, box: Box) -> Iterator[blocks.Words]:
    """From where it is seen, its two ends, and which one is lower."""
    yield blocks.Words((box.left, box.top + 2.2), paper.say(view.name), 7, VIEW, -1, quiet=True)
    foot = box.bottom - 2.4
    yield blocks.Words((box.left, foot), paper.say(view.left), 7, VIEW / 2, -1, quiet=True)
    yield blocks.Words((box.right, foot), paper.say(view.right), 7, VIEW / 2, 1, quiet=True)
    start = box.left + (4.2 if view.tilt is not None else 0.0)
    yield blocks.Words((start, 7.0), paper.say(view.said), 8, box.right - start, -1, strong=True)


def note(paper: Paper, found: dict[Side, Known | None], scale: float) -> blocks.Words:
    """How the pictures are to be read."""
    said = [msg("Green: what is wanted.")]
    circles = [paper.facts("levelling").value(paper.profile.rotor_at(side).tip_circle) for side in MIDDLES]
    widest = max((circle for circle in circles if circle), default=0.0)
    if widest:
        said.append(
            msg("Heights are drawn {count} times as tall as widths.", count=round(scale * widest / VIEW))
        )
    if any(plane_of(each) for each in found.values()):
        said.append(msg("Lines join places of one height; the arrow points downhill."))
    return blocks.Words((WIDE / 2, 2.0), paper.say(joined(said, " ")), 7.5, WIDE, quiet=True)


def told(paper: Paper, side: Side, views: tuple[Seen, Seen]) -> Message:
    """One rotor for readers who do not see it."""
    readings = [
        joined([msg("{hour} o'clock", hour=hour), verbatim(typed(paper, side, hour))], " ")
        for hour in hours_of(paper, side)
    ]
    seen = [
        joined([joined([view.name, view.said], ": "), *([view.tilt.verdict.word] if view.tilt else [])], ", ")
        for view in views
    ]
    return msg(
        "{rotor}, seen from above: {readings}; {tilts}.",
        rotor=ROTOR_NAMES[side],
        readings=joined(readings),
        tilts=joined(seen, "; "),
    )
