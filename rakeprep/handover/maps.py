"""Readings that only make sense side by side: the nine distances of the shaft, the planes of the rotors."""

from __future__ import annotations

from collections.abc import Iterator

from rakeprep.calculations.decision import Estimate
from rakeprep.handover import blocks
from rakeprep.handover.answers_shown import converted
from rakeprep.handover.lamp_rows import lamp_rows
from rakeprep.handover.paper import NOTHING, Paper
from rakeprep.handover.rotor_faces import rotor_faces
from rakeprep.handover.shaft_drawn import shaft_drawn, share_of
from rakeprep.model.entry import Entry
from rakeprep.steps._driveline_lengths import distances
from rakeprep.text import Message, msg

TURNS = (("left", msg("full left")), ("straight", msg("straight")), ("right", msg("full right")))
HEIGHTS = (
    ("high", msg("links at the top")),
    ("work", msg("links at work")),
    ("low", msg("links at the bottom")),
)
ROTORS = (("left", msg("left rotor")), ("right", msg("right rotor")))
CLOCK = 12
DRAWN_TURNS = (-38.0, 0.0, 38.0)  # degrees; the small sign of a full turn


def maps(paper: Paper, step: str) -> Iterator[blocks.Block]:
    """The side-by-side table that belongs to a step, if there are readings for it."""
    match mapped(paper, step):
        case ("distance",):
            yield from nine_distances(paper)
        case ("clearance",):
            yield from planes(paper)
    if step == "lights":
        drawn = list(lamp_rows(paper))
        if drawn:
            yield blocks.Heading(3, paper.say(msg("Each light command alone, seen from behind")))
            yield from drawn


MAPPED = {"driveline": "distance", "levelling": "clearance"}


def mapped(paper: Paper, step: str) -> tuple[str, ...]:
    """The field of a step whose readings stand side by side, if there are any."""
    name = MAPPED.get(step)
    if name and any(s.task.slot in paper.record.entries for s in paper.states(step, name)):
        return (name,)
    return ()


def reading(paper: Paper, entry: Entry | None) -> blocks.Cell:
    """A reading as typed, with the other family's unit."""
    if entry is None:
        return blocks.Cell(NOTHING)
    field = next(s.task.field for s in paper.assessment.states.values() if s.task.slot == entry.slot)
    return blocks.Cell(paper.user(entry.typed)[:40], (converted(paper, field, entry),))


def nine_distances(paper: Paper) -> Iterator[blocks.Block]:
    """Groove to groove, tractor turned left, straight and right, links high, at work and low."""
    yield blocks.Heading(3, paper.say(msg("Nine distances, groove to groove")))
    yield from shaft_drawn(paper)
    read = distances(paper.facts("driveline"))
    rows = tuple(
        (
            blocks.Cell(paper.say(words), strong=True),
            *(distance(paper, read, f"{turn}-{height}") for turn, _ in TURNS),
        )
        for height, words in HEIGHTS
    )
    header = ("", *(paper.say(words) for _, words in TURNS))
    yield blocks.Table(header, rows, (50, 42, 42, 42), turns=(None, *DRAWN_TURNS))


def distance(paper: Paper, read: dict[str, Estimate], key: str) -> blocks.Cell:
    """One of the nine, with its place between the shortest and the longest."""
    cell = reading(paper, paper.entry("driveline", "distance", key))
    share = share_of(read, key)
    words = {0.0: msg("shortest"), 1.0: msg("longest")}.get(share if share is not None else 0.5)
    beside = [*cell.quiet, *([paper.say(words)] if words is not None else [])]
    return blocks.Cell(
        cell.text, strong=words is not None, beside=" · ".join(filter(None, beside)), share=share
    )


def planes(paper: Paper) -> Iterator[blocks.Block]:
    """Tine clearance of one arm led round each rotor, by clock place; 12 is straight ahead."""
    hours = sorted(
        {s.task.place.key.split("-")[-1] for s in paper.states("levelling", "clearance")},
        key=clock_order,
    )
    yield blocks.Heading(3, paper.say(msg("Rotor planes: one arm led round, 12 is straight ahead")))
    yield from rotor_faces(paper)
    rows = tuple(plane_row(paper, side, words, hours) for side, words in ROTORS)
    header = ("", *(paper.say(msg("{hour} o'clock", hour=hour)) for hour in hours))
    yield blocks.Table(header, rows, (30, *(146 / len(hours) for _ in hours)))


def clock_order(hour: str) -> tuple[int, str]:
    """Places from nine o'clock over twelve to eight."""
    return ((int(hour) - 9) % CLOCK if hour.isdigit() and len(hour) < 4 else CLOCK, hour)


def plane_row(paper: Paper, side: str, words: Message, hours: list[str]) -> tuple[blocks.Cell, ...]:
    """The readings of one rotor."""
    cells = (reading(paper, paper.entry("levelling", "clearance", f"{side}-{hour}")) for hour in hours)
    return (blocks.Cell(paper.say(words), strong=True), *cells)
