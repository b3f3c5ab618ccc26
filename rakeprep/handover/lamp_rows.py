"""The lamp board on paper: for every command which lamps should shine, and which ones did."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.calculations.lamp_faults import State
from rakeprep.calculations.lights import PIN_OF, PINS
from rakeprep.drawing.lamp_row import RADIUS, housings, in_order, lamp, places
from rakeprep.drawing.shapes import Box, Shape
from rakeprep.handover import blocks
from rakeprep.handover.paper import Paper
from rakeprep.model.entry import Slot
from rakeprep.model.place import Place
from rakeprep.model.verdict import Verdict
from rakeprep.steps._lights_lamps import COMMANDS, command_places, plate_contact, seen_at, wanted
from rakeprep.text import Message, joined, msg, verbatim

WIDE, PANEL, ROW = 180.0, 56.0, 20.5  # mm; three commands in a row
GAP = 6.0
LAMPS, NUMBERS = 10.8, 15.2  # below the upper edge of a command
LEGEND = 9.0
SIGNS = (
    (True, False, False, msg("lit")),
    (False, True, False, msg("glows")),
    (False, False, False, msg("dark")),
    (False, False, True, msg("expected")),
)
Lamps = Mapping[str, State]


def lamp_rows(paper: Paper) -> Iterator[blocks.Block]:
    """A small picture for each command, and what the numbers and signs mean."""
    commands = [place for place in command_places(paper.profile) if seen_at(paper.facts("lights"), place.key)]
    rows = -(-len(commands) // 3)
    if not rows:
        return
    high = rows * ROW + LEGEND
    shapes: list[Shape] = []
    words: list[blocks.Words] = []
    marks: list[tuple[float, float, Verdict]] = []
    for number, command in enumerate(commands):
        left, top = number % 3 * (PANEL + GAP), high - number // 3 * ROW
        shapes += command_shapes(paper, command, left, top)
        words += command_words(paper, command, left, top)
        marks += command_marks(paper, command, left, top)
    for x, sign in zip((20.0, 62.0, 104.0, 146.0), SIGNS, strict=True):
        shapes += lamp("lights", (x, 6.5), *sign[:3])
        words.append(blocks.Words((x + 4, 6.5), paper.say(sign[3]), 7.5, 34, -1, quiet=True))
    words.append(blocks.Words((WIDE / 2, 1.6), numbers(paper), 7.5, WIDE, quiet=True))
    alt = paper.say(joined([told(paper, command) for command in commands], " "))
    yield blocks.Drawing(
        tuple(shapes), Box(0, 0, WIDE, high), tuple(marks), {}, alt, tuple(words), to_size=True
    )


def numbers(paper: Paper) -> str:
    """Which lamp has which number."""
    lamps = in_order(paper.profile.lights.lamp)
    return " · ".join(f"{number} {paper.user(each.name)}" for number, each in enumerate(lamps, 1))


def expected(paper: Paper, command: str) -> frozenset[str]:
    """The lamps that should shine at a command."""
    plate = plate_contact(paper.facts("lights"))
    lamps = paper.profile.lights.lamp
    return frozenset(each.key for each in lamps if wanted(command, each.function, plate) is State.ON)


def seen(paper: Paper, command: str) -> Lamps:
    """What every lamp did."""
    return seen_at(paper.facts("lights"), command) or {}


def command_shapes(paper: Paper, command: Place, left: float, top: float) -> Iterator[Shape]:
    """The lamps at one command."""
    lamps = paper.profile.lights.lamp
    at = places(lamps, PANEL)
    middle = left, top - LAMPS
    yield from housings(lamps, middle, at)
    should, saw = expected(paper, command.key), seen(paper, command.key)
    for each in lamps:
        state = saw.get(each.key, State.OFF)
        where = left + at[each.key], middle[1]
        yield from lamp(f"lamp-{each.key}", where, state is State.ON, state is State.DIM, each.key in should)


def command_words(paper: Paper, command: Place, left: float, top: float) -> Iterator[blocks.Words]:
    """The command with its contact, and the numbers of the lamps."""
    yield blocks.Words((left + 4.4, top - 2.6), paper.say(command.name), 8.5, 50, -1, strong=True)
    pin = next((pin for pin in PINS if pin.number == PIN_OF[COMMANDS[command.key]]), None)
    if pin is not None:
        said = paper.say(msg("contact {number}, {colour} wire", number=pin.number, colour=pin.colour))
        yield blocks.Words((left + 4.4, top - 5.9), said, 7, 50, -1, quiet=True)
    at = places(paper.profile.lights.lamp, PANEL)
    for number, each in enumerate(in_order(paper.profile.lights.lamp), 1):
        yield blocks.Words((left + at[each.key], top - NUMBERS), str(number), 6.5, quiet=True)


def command_marks(
    paper: Paper, command: Place, left: float, top: float
) -> Iterator[tuple[float, float, Verdict]]:
    """The verdict of the command, and a mark at each lamp that did something else."""
    state = paper.assessment.states.get(Slot("lights", "lit", command.key))
    if state is not None:
        yield left + 1.6, top - 2.6, state.verdict
    at = places(paper.profile.lights.lamp, PANEL)
    for key in wrong(paper, command.key):
        yield left + at[key] + RADIUS, top - LAMPS + RADIUS, Verdict.PUT_RIGHT


def wrong(paper: Paper, command: str) -> list[str]:
    """The lamps that did something else than they should."""
    should = expected(paper, command)
    return [
        key
        for key, state in seen(paper, command).items()
        if (state is State.ON) != (key in should) or state is State.DIM
    ]


def told(paper: Paper, command: Place) -> Message:
    """One command for readers who do not see the picture."""
    names = {each.key: verbatim(each.name) for each in paper.profile.lights.lamp}
    saw = seen(paper, command.key)
    lit, dim = ([names[key] for key, state in saw.items() if state is s] for s in (State.ON, State.DIM))
    parts = [msg("lit: {lamps}", lamps=joined(lit) if lit else msg("none"))]
    if dim:
        parts.append(msg("only glows: {lamps}", lamps=joined(dim)))
    missing = [names[key] for key in wrong(paper, command.key)]
    if missing:
        parts.append(msg("not as expected: {lamps}", lamps=joined(missing)))
    return msg("{command} alone: {what}.", command=command.name, what=joined(parts, "; "))
