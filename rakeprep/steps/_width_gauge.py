"""What the width gauge shows against what the tape shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.calculations import Impossible, demand
from rakeprep.calculations.decision import near
from rakeprep.calculations.width import SLOPE_BAND, Gauge, width_gauge
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field
from rakeprep.model.finding import Finding
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import unit_of
from rakeprep.steps._reading import LARGEST, cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

PLACES = ("narrow", "wide")
SMALLEST_SPAN = 0.05  # m; over less than this a tape tells no slope
AMERICAN = frozenset({"in", "ft", "ft in"})


def small_unit(unit: str) -> str:
    """The unit for differences of lengths that are read in ``unit``."""
    return "in" if unit in AMERICAN else "mm"


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """Both settings together; a single one by itself."""
    pairs: list[tuple[str, float, float]] = []
    doubts: list[float] = []
    for place in PLACES:
        pointer = facts.number("gauge_reading", place)
        tape = reading(facts, "working", place, "width-tape")
        if pointer is None or tape is None or abs(pointer) > LARGEST:
            continue
        pairs.append((place, pointer, tape.value))
        doubts.append(tape.doubt)
    limit = facts.value(facts.profile.width.gauge_tolerance)
    if not pairs or limit is None:
        return
    unit = small_unit(unit_of(facts, by_key["working"], pairs[0][0]))
    about = tuple(s for p, _, _ in pairs for s in (facts.slot("working", p), facts.slot("gauge_reading", p)))
    try:
        if len(pairs) == 1:
            yield one_setting(facts, about, pairs[0], doubts[0], limit, unit)
            return
        apart = abs(pairs[0][1] - pairs[1][1]) >= SMALLEST_SPAN
        demand(apart, msg("The gauge shows the same at both ends; read it again, rams fully in and out."))
        gauge = width_gauge([(shows, true) for _, shows, true in pairs], max(doubts), limit)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    yield both_settings(facts, about, pairs, gauge, unit)


def one_setting(
    facts: Facts,
    about: tuple[Slot, ...],
    pair: tuple[str, float, float],
    doubt: float,
    limit: float,
    unit: str,
) -> Finding:
    """One setting tells how far off the pointer is, not why."""
    _, shows, true = pair
    verdict = near(true - shows, doubt, 0.0, limit)
    return Finding(
        verdict,
        about,
        msg(
            "At this setting the gauge is {off} off.",
            off=Amount(abs(true - shows), Kind.LENGTH, unit, doubt=doubt),
        ),
        msg("Measure at the other end too: only both together tell pointer from rod."),
        (off_said(shows, true, unit),),
        facts.profile.width.gauge_tolerance.source,
    )


def both_settings(
    facts: Facts, about: tuple[Slot, ...], pairs: list[tuple[str, float, float]], gauge: Gauge, unit: str
) -> Finding:
    """Pointer or rod."""
    bent = gauge.slope.within(1 - SLOPE_BAND, 1 + SLOPE_BAND)
    shift = Amount(abs(gauge.shift.value), Kind.LENGTH, unit)
    limit = facts.profile.width.gauge_tolerance
    more = gauge.shift.value > 0
    move = (
        msg("Shift the pointer {shift} towards the larger numbers.", shift=shift)
        if more
        else msg("Shift the pointer {shift} towards the smaller numbers.", shift=shift)
    )
    source = limit.source
    says: Message
    todo: Message | None = None
    if gauge.verdict is Verdict.IN_ORDER:
        says = msg("The gauge shows the true width; it is {shift} off in the mean.", shift=shift)
    elif bent is Verdict.PUT_RIGHT:
        says = msg("The gauge is wrong by another amount at each end: no shift of the pointer cures that.")
        todo = msg("Look at the gauge's rod: a wrong hole, or bent. Then measure both ends again.")
        source = rule_of_thumb(msg("slope of the width gauge within 1 ± 0.03"))
    elif gauge.verdict is Verdict.PUT_RIGHT:
        says = msg("The gauge is {shift} off; {limit} may stay.", shift=shift, limit=shown(limit))
        todo = move
    else:
        says = msg(
            "The gauge is {shift} off in the mean, and the tape is too coarse to say more.", shift=shift
        )
        todo = msg("Measure both ends again, tape tight and level. If it stays so: {move}", move=move)
    working = (
        *(off_said(shows, true, unit) for _, shows, true in pairs),
        msg(
            "Slope = (w₂ − w₁) / (g₂ − g₁) = {slope}; offset = w₁ − slope · g₁ = {offset}.",
            slope=Amount(gauge.line.slope, Kind.NUMBER, "1", doubt=gauge.slope.doubt),
            offset=Amount(gauge.line.offset, Kind.LENGTH, unit),
        ),
        msg(
            "Mean of tape less gauge: {shift}.",
            shift=Amount(gauge.shift.value, Kind.LENGTH, unit, doubt=gauge.shift.doubt),
        ),
    )
    return Finding(gauge.verdict, about, says, todo, working, source)


def off_said(shows: float, true: float, unit: str) -> Message:
    """Tape less gauge at one setting."""
    big = "m" if unit == "mm" else "ft in"
    return msg(
        "Tape {tape} less gauge {gauge} is {off}.",
        tape=Amount(true, Kind.LENGTH, big),
        gauge=Amount(shows, Kind.LENGTH, big),
        off=Amount(true - shows, Kind.LENGTH, unit),
    )
