"""The driveline's shaft on paper: where it is shortest and where it is longest, to one scale."""

from __future__ import annotations

from collections.abc import Iterator

from rakeprep.calculations.decision import Estimate
from rakeprep.drawing.shaft import Telescope, shaft
from rakeprep.drawing.shapes import Box, Shape
from rakeprep.handover import blocks
from rakeprep.handover.paper import Paper
from rakeprep.model.place import Place
from rakeprep.steps._driveline_lengths import Lengths, distances, lengths_of
from rakeprep.text import Message, joined, msg
from rakeprep.units import Amount, Kind

WIDE, LONGEST = 180.0, 168.0  # mm
ROW, NOTE = 13.5, 5.0
SHORTEST, FURTHEST = msg("at the shortest"), msg("at the longest")


def share_of(read: dict[str, Estimate], key: str) -> float | None:
    """Where a distance lies between the shortest (0) and the longest (1)."""
    if key not in read or len(read) < 2:
        return None
    low, high = (pick(each.value for each in read.values()) for pick in (min, max))
    return None if high <= low else (read[key].value - low) / (high - low)


def shaft_drawn(paper: Paper) -> Iterator[blocks.Block]:
    """The shaft at both ends of its travel."""
    read = distances(paper.facts("driveline"))
    lengths = lengths_of(paper.facts("driveline"), read, unit_of(paper))
    if lengths is None or len(read) < 2:
        return
    ends = [
        (words, pick(read, key=lambda key: read[key].value))
        for words, pick in ((SHORTEST, min), (FURTHEST, max))
    ]
    scale = LONGEST / max(each.value for each in read.values())
    names = {state.task.place.key: state.task.place for state in paper.states("driveline", "distance")}
    shapes: list[Shape] = []
    words: list[blocks.Words] = []
    told: list[Message] = []
    for number, (end, key) in enumerate(ends):
        y = NOTE + ROW * (1 - number) + 3.6
        distance = read[key].value
        made = Telescope(lengths.halves, lengths.closed, lengths.cut, distance)
        shapes += shaft(made, ((WIDE - LONGEST) / 2, y), scale)
        said = spoken(end, names.get(key), distance, lengths)
        told.append(joined([said, left_over(lengths, distance)], "; "))
        words += [
            blocks.Words((6, y + 5.6), paper.say(said), 8, 100, -1, strong=True),
            blocks.Words((WIDE - 6, y + 5.6), paper.say(left_over(lengths, distance)), 8, 66, 1),
        ]
    words.append(blocks.Words((WIDE / 2, 1.6), paper.say(note(lengths)), 7.5, WIDE, quiet=True))
    alt = paper.say(joined([joined(told, ". "), note(lengths)], ". "))
    bounds = Box(0, 0, WIDE, NOTE + 2 * ROW)
    yield blocks.Drawing(tuple(shapes), bounds, (), {}, alt, tuple(words), to_size=True)


def unit_of(paper: Paper) -> str:
    """The unit most distances were typed in."""
    units = [
        entry.unit
        for state in paper.states("driveline", "distance")
        if (entry := paper.record.value(state.task.slot)) is not None and entry.unit
    ]
    usual = paper.profile.driveline.closed.typed.unit
    return max(dict.fromkeys(units), key=units.count, default=usual)


def length(value: float, unit: str) -> Amount:
    """A length without its sign."""
    return Amount(abs(value), Kind.LENGTH, unit)


def spoken(end: Message, place: Place | None, distance: float, lengths: Lengths) -> Message:
    """Which end of the travel, where, and how long."""
    parts = [end, *([place.name] if place is not None else [])]
    return msg("{place}: {length}", place=joined(parts), length=length(distance, lengths.unit))


def left_over(lengths: Lengths, distance: float) -> Message:
    """What is left to push it home, and how far the tubes reach into one another."""
    gap, overlap = lengths.gap(distance), lengths.overlap(distance)
    unit = lengths.unit
    return joined(
        [
            msg("gap {length}", length=length(gap, unit))
            if gap >= 0
            else msg("too long by {length}", length=length(gap, unit)),
            msg("overlap {length}", length=length(overlap, unit))
            if overlap >= 0
            else msg("apart by {length}", length=length(overlap, unit)),
        ]
    )


def note(lengths: Lengths) -> Message:
    """How the picture is to be read."""
    hatched = msg("Tractor at the left. Hatched: tube in tube.")
    if lengths.cut <= 0:
        return hatched
    cut = length(lengths.cut, lengths.unit)
    dashed = (
        msg("Dashed: {length} to be cut off each half.", length=cut)
        if lengths.proposed
        else msg("Dashed: {length} cut off each half.", length=cut)
    )
    return joined([hatched, dashed], " ")
