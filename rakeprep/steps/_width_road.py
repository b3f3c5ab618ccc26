"""The size on the road against the local limits, and the lines it passes under."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.calculations.transport import against_limit, clear_to_line
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field, Use
from rakeprep.model.finding import Finding
from rakeprep.model.source import Source, Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps import _width_permit
from rakeprep.steps._judged import answered_no, doubt_said, unit_of, with_gaps
from rakeprep.steps._reading import LARGEST, cannot_tell, reading, standard
from rakeprep.steps._width_gauge import small_unit
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

ROAD = frozenset({Use.ROAD})
LOWEST_LINE = 5.2  # m, HSE AIS8: 11 and 33 kV lines in Great Britain
AIR_GAP = 3.0  # m, rule of thumb while folding, raising and working; the utility's figure goes first
LINES = standard("HSE AIS8", msg("lowest 11 and 33 kV lines in Great Britain"))


@dataclass(frozen=True, slots=True)
class Words:
    """The sentences for one direction."""

    right: Message
    unsure: Message
    wrong: Message
    todo: Message


WIDTH = Words(
    msg("{read} wide, {under} inside the local limit of {limit}."),
    msg("{read} wide is too close to the local limit of {limit} to tell."),
    msg("{read} wide: over the local limit of {limit} by {over}."),
    msg(
        "No road like this. Fold fully, look at latches and whatever stands out, and measure again; "
        "if it stays so, ask the authority what an over-wide machine needs."
    ),
)
HEIGHT = Words(
    msg("{read} high, {under} inside the local limit of {limit}."),
    msg("{read} high is too close to the local limit of {limit} to tell."),
    msg("{read} high: over the local limit of {limit} by {over}."),
    msg("No road like this. Over by {over}: take off the top arms and stow them, then measure again."),
)


WIDTH_PERMITTED = Words(
    msg("{read} wide, {under} inside the {limit} that the permit allows."),
    msg("{read} wide is too close to the {limit} that the permit allows to tell."),
    msg("{read} wide: over the {limit} that the permit allows by {over}."),
    WIDTH.todo,
)
HEIGHT_PERMITTED = Words(
    msg("{read} high, {under} inside the {limit} that the permit allows."),
    msg("{read} high is too close to the {limit} that the permit allows to tell."),
    msg("{read} high: over the {limit} that the permit allows by {over}."),
    HEIGHT.todo,
)


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """Width, height, permit, lines, and the label in the cab."""
    data, permit = facts.profile.width, _width_permit.permit_of(facts)
    valid = permit if _width_permit.counts(permit, facts) else None
    width, height = by_key["transport_width"], by_key["transport_height"]
    wide, high = (None, None) if valid is None else (valid.width, valid.height)
    yield from size(facts, width, data.road_width, WIDTH, WIDTH_PERMITTED, wide)
    yield from size(facts, height, data.road_height, HEIGHT, HEIGHT_PERMITTED, high)
    larger = [over_limit(facts, width, data.road_width), over_limit(facts, height, data.road_height)]
    yield from _width_permit.findings(facts, any(larger))
    yield from lines(facts, height)
    yield from label(facts, by_key)


def over_limit(facts: Facts, field: Field, limit: Sourced) -> bool:
    """Whether a size is not surely inside the local limit."""
    read, bound = reading(facts, field.key, "", field.instrument), facts.value(limit)
    if read is None or bound is None:
        return False
    try:
        return against_limit(read, bound).verdict is not Verdict.IN_ORDER
    except Impossible:
        return False


def size(
    facts: Facts, field: Field, limit: Sourced, words: Words, permitted: Words, allowed: float | None
) -> Iterator[Finding]:
    """One direction against its limit, or against what a permit allows where that is needed."""
    read = reading(facts, field.key, "", field.instrument)
    bound = facts.value(limit)
    if read is None or bound is None:
        return
    about = (facts.slot(field.key),)
    source: Source | None = limit.source
    if allowed is not None and over_limit(facts, field, limit):
        bound, words, source = max(allowed, bound), permitted, None
    try:
        found = against_limit(read, bound)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = unit_of(facts, field)
    small = small_unit(unit)
    say = {
        "read": Amount(read.value, Kind.LENGTH, "ft in" if small == "in" else unit, toward="up", both=True),
        "limit": Amount(bound, Kind.LENGTH, limit.typed.unit, toward="down", both=True),
        "over": Amount(max(found.over, 0.0), Kind.LENGTH, small, toward="up", both=True),
        "under": Amount(max(-found.over, 0.0), Kind.LENGTH, small, toward="down"),
    }
    says = {
        Verdict.IN_ORDER: words.right,
        Verdict.MEASURE_AGAIN: words.unsure,
        Verdict.PUT_RIGHT: words.wrong,
    }[found.verdict]
    todo = {
        Verdict.MEASURE_AGAIN: msg("Measure once more with plumb lines or a lath; level ground, still air."),
        Verdict.PUT_RIGHT: with_gaps(words.todo, **say),
    }
    yield Finding(
        found.verdict,
        about,
        with_gaps(says, **say),
        todo.get(found.verdict),
        (doubt_said(Kind.LENGTH, read.doubt, small),),
        source,
        frozenset() if found.verdict is Verdict.IN_ORDER else ROAD,
    )


def lines(facts: Facts, field: Field) -> Iterator[Finding]:
    """Air that is left under the lowest line allowed."""
    read = reading(facts, field.key, "", field.instrument)
    if read is None:
        return
    about = (facts.slot(field.key),)
    try:
        found = clear_to_line(read, LOWEST_LINE, 0.0)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = unit_of(facts, field)
    big = "ft in" if small_unit(unit) == "in" else "m"
    say = {
        "line": Amount(LOWEST_LINE, Kind.LENGTH, big, toward="down", both=True),
        "left": Amount(max(-found.over, 0.0), Kind.LENGTH, big, toward="down", both=True),
        "gap": Amount(AIR_GAP, Kind.LENGTH, big, toward="up", both=True),
    }
    if found.verdict is Verdict.IN_ORDER:
        says = msg("Under a line that hangs at {line} there is {left} of air left, no more.", **say)
    else:
        says = msg("Too high for a line that hangs at {line}: it would touch.", **say)
    todo = msg(
        "Tell the driver. Keep {gap} of air, or the utility's figure if that is more: know the lines on the "
        "way, ask the utility before passing under one that is nearer, never fold or raise near one.",
        **say,
    )
    working = (
        msg(
            "Air left = {line} − {height} = {left}.",
            height=Amount(read.value, Kind.LENGTH, big, toward="up"),
            **say,
        ),
        msg("The {gap} are a rule of thumb; other countries have other lines.", **say),
    )
    bars = frozenset() if found.verdict is Verdict.IN_ORDER else ROAD
    yield Finding(found.verdict, about, says, todo, working, LINES, bars)


def label(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """What has to stand in the cab."""
    width, height = facts.number("transport_width"), facts.number("transport_height")
    if width is None or height is None or not 0 < width < LARGEST or not 0 < height < LARGEST:
        todo = msg("Measure width and height first, then write both where the driver sees them.")
    else:
        big = ["ft in" if small_unit(unit_of(facts, by_key[k])) == "in" else "m" for k in SIZES]
        todo = msg(
            "Write there: {width} wide, {height} high.",
            width=Amount(width, Kind.LENGTH, big[0], toward="up", both=True),
            height=Amount(height, Kind.LENGTH, big[1], toward="up", both=True),
        )
    says = msg("The driver cannot see the machine's width and height.")
    yield from answered_no(facts, by_key["cab_label"], says, todo)


SIZES = ("transport_width", "transport_height")
