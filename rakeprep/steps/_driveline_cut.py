"""How much to cut off the shaft, or why not, and the proof after the cut."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations import driveline as sums
from rakeprep.calculations.decision import Estimate, within
from rakeprep.calculations.driveline import Cut, CutAnswer, Found, GuardTubes
from rakeprep.calculations.shaft_doubts import LengthDoubts, SureCut, sure_cut
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._driveline_read import (
    PTO,
    TAPE,
    data_findings,
    measured_or,
    missing,
    progress,
    uneven_findings,
)
from rakeprep.steps._judged import doubt_said, sane, unit_of, with_gaps
from rakeprep.steps._reading import cannot_tell, reading, shown
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind, to_si

INCH = 0.0254  # m
METRIC_STEPS, INCH_STEPS = (0.005, 0.001), (INCH / 8, INCH / 32)  # m
SAME = 1e-6  # m: lengths that print alike are alike


@dataclass(frozen=True, slots=True)
class Shaft:
    """What the plan rests on, in metres, and the unit of the tape."""

    read: Mapping[str, Estimate]
    shortest: str
    longest: str
    closed: float
    halves: tuple[float, float]
    doubt: float
    unit: str


def findings(
    facts: Facts,
    by_key: Mapping[str, Field],
    nine: Mapping[str, sums.Place],
    places: tuple[Place, ...],
) -> Iterable[Finding]:
    """Judge distances, propose the cut, judge the cut made and the proof after it."""
    yield from data_findings(facts, by_key)
    read = {key: r for key in nine if (r := reading(facts, "distance", key, TAPE)) is not None}
    if read:
        try:
            found = sums.nine_places({nine[key]: r.value for key, r in read.items()})
        except Impossible as reason:
            yield cannot_tell(tuple(facts.slot("distance", key) for key in read), reason)
            return
        yield from uneven_findings(facts, read, found)
    names = {place.key: place.name for place in places}
    yield from progress(facts, read, names)
    shaft = shaft_of(facts, by_key, read) if read and not missing(facts, names) else None
    plan = None
    if shaft is not None:
        try:
            plan = planned(facts, shaft)
        except Impossible as reason:
            yield cannot_tell((facts.slot("cut"), facts.slot("closed")), reason)
    if shaft is not None and plan is not None:
        yield cut_finding(facts, shaft, plan, names)
        yield from guard_findings(facts, shaft, plan)
    yield from proof_findings(facts, by_key, shaft, plan)


def shaft_of(facts: Facts, by_key: Mapping[str, Field], read: Mapping[str, Estimate]) -> Shaft | None:
    """Everything the plan rests on; None while something is not known."""
    data = facts.profile.driveline
    closed = measured_or(facts, "closed", "", data.closed)
    half_a = measured_or(facts, "half", "tractor", data.half_a)
    half_b = measured_or(facts, "half", "machine", data.half_b)
    if closed is None or half_a is None or half_b is None:
        return None
    shortest = min(read, key=lambda key: read[key].value)
    longest = max(read, key=lambda key: read[key].value)
    doubt = max(read[shortest].doubt, read[longest].doubt)
    unit = unit_of(facts, by_key["distance"], shortest)
    return Shaft(read, shortest, longest, closed, (half_a, half_b), doubt, unit)


def planned(facts: Facts, shaft: Shaft) -> Cut | None:
    """The cut by the sums; None while a limit is in conflict."""
    data = facts.profile.driveline
    reserve, overlap = facts.value(data.end_reserve), facts.value(data.overlap)
    guards = [facts.value(each) for each in (data.guard_a, data.guard_b, data.guard_to_groove)]
    if reserve is None or overlap is None:
        return None
    known = [value for value in guards if value is not None]
    step, fine = INCH_STEPS if shaft.unit in {"in", "ft"} else METRIC_STEPS
    return sums.cut(
        shaft.closed,
        *shaft.halves,
        shaft.read[shaft.shortest].value,
        shaft.read[shaft.longest].value,
        reserve,
        overlap,
        shaft.doubt,
        step=step,
        fine_step=fine,
        guards=GuardTubes(*known) if len(known) == len(guards) else None,
    )


def length(shaft: Shaft, value: float, toward: str = "nearest") -> Amount:
    """A length in the unit of his tape."""
    step = Fraction(1, 32) if shaft.unit == "in" else None
    return Amount(value, Kind.LENGTH, shaft.unit, step=step, toward=toward, both=True)


def actual(facts: Facts, plan: Cut) -> Cut:
    """The plan with the cut that was really made; every millimetre takes two of overlap."""
    made = sane(facts, "cut")
    if made is None:
        return plan
    more = made - plan.cut
    return replace(
        plan,
        cut=made,
        closed=plan.closed - more,
        gap_at_shortest=plan.gap_at_shortest + more,
        overlap_at_longest=plan.overlap_at_longest - 2 * more,
        overlap_at_shortest=plan.overlap_at_shortest - 2 * more,
        guard_overlap=None if plan.guard_overlap is None else plan.guard_overlap - 2 * more,
    )


def sureness(facts: Facts, shaft: Shaft, plan: Cut) -> SureCut | None:
    """What the cut leaves with the doubt of all five lengths; printed lengths are worth half a division."""
    data = facts.profile.driveline
    overlap = facts.value(data.overlap)

    def doubt(key: str, place: str, printed: Sourced) -> float:
        read = reading(facts, key, place, TAPE)
        return float(to_si(printed.typed.division, printed.typed.unit)) / 2 if read is None else read.doubt

    if overlap is None:
        return None
    doubts = LengthDoubts(
        doubt("closed", "", data.closed),
        doubt("half", "tractor", data.half_a),
        doubt("half", "machine", data.half_b),
        shaft.read[shaft.shortest].doubt,
        shaft.read[shaft.longest].doubt,
    )
    try:
        return sure_cut(plan, doubts, overlap)
    except Impossible:
        return None


def sure_words(shaft: Shaft, sure: SureCut | None) -> tuple[Message, ...]:
    """Gap and overlap after the cut with their doubt."""
    if sure is None:
        return ()

    def doubtful(value: Estimate) -> Amount:
        step = Fraction(1, 32) if shaft.unit == "in" else None
        return Amount(value.value, Kind.LENGTH, shaft.unit, step=step, doubt=value.doubt)

    line = msg(
        "Gap = shortest − closed + cut = {gap}; overlap = both halves − 2 · cut − longest = {overlap}.",
        gap=doubtful(sure.gap),
        overlap=doubtful(sure.overlap),
    )
    return line, sure.says


def cut_finding(facts: Facts, shaft: Shaft, plan: Cut, names: Mapping[str, Message]) -> Finding:
    """The proposal before the saw, and the verdict on the cut afterwards."""
    made = sane(facts, "cut")
    about = (
        facts.slot("cut"),
        facts.slot("distance", shaft.shortest),
        facts.slot("distance", shaft.longest),
    )
    sure = sureness(facts, shaft, actual(facts, plan))
    working = (*explained(facts, shaft, plan, names), *sure_words(shaft, sure))
    source = facts.profile.driveline.end_reserve.source
    if plan.answer in {CutAnswer.TOO_SHORT, CutAnswer.NO_ROOM}:
        todo = msg("No saw. Show these numbers to the foreman before anything else is done with this shaft.")
        return Finding(Verdict.PUT_RIGHT, about, plan.why, todo, working, source, PTO)
    if made is None:
        return proposal(facts, shaft, plan, sure, working)
    real = actual(facts, plan)
    if made > SAME and "no" in (facts.chosen("customers_tractor") or frozenset()):
        says = msg("The shaft was cut on a tractor that is not the customer's.")
        todo = msg("Read all nine places again on the customer's tractor before the PTO runs.")
        return Finding(Verdict.PUT_RIGHT, about, says, todo, working, source, PTO)
    say = {
        "cut": length(shaft, made),
        "gap": length(shaft, real.gap_at_shortest, "down"),
        "overlap": length(shaft, real.overlap_at_longest, "down"),
    }
    if made + SAME < plan.least:
        says = msg("{cut} is too little: only {gap} is left at the shortest place.", **say)
        todo = msg("Cut on to {whole} in all, off both tubes and both guards.", whole=length(shaft, plan.cut))
        return Finding(Verdict.PUT_RIGHT, about, says, todo, working, source, PTO)
    if made - SAME > plan.most:
        says = msg("{cut} is too much: only {overlap} of overlap is left at the longest place.", **say)
        todo = msg("Order new tubes; what is off cannot be put back.")
        return Finding(Verdict.PUT_RIGHT, about, says, todo, working, source, PTO)
    if plan.answer is CutAnswer.NO_CUT and made > SAME:
        says = msg("{cut} off, though nothing had to be cut; {overlap} of overlap left.", **say)
        return Finding(Verdict.IN_ORDER, about, says, None, working, source)
    if made <= SAME:
        return Finding(Verdict.IN_ORDER, about, plan.why, None, working, source)
    if sure is not None and sure.verdict is not Verdict.IN_ORDER:
        todo = msg("Measure gap and overlap on the fitted shaft, engine off, and enter them below.")
        return Finding(Verdict.MEASURE_AGAIN, about, sure.says, todo, working, source)
    says = msg("{cut} off each tube and guard: {gap} left at the shortest, {overlap} at the longest.", **say)
    return Finding(Verdict.IN_ORDER, about, says, None, working, source)


def proposal(
    facts: Facts, shaft: Shaft, plan: Cut, sure: SureCut | None, working: tuple[Message, ...]
) -> Finding:
    """What to do before anything was cut; nobody saws for a tractor that is not the customer's."""
    slots = (facts.slot("cut"),)
    source = facts.profile.driveline.end_reserve.source
    if plan.answer is CutAnswer.NO_CUT:
        return Finding(Verdict.NOT_YET, slots, plan.why, msg("Enter 0."), working, source)
    whose = facts.chosen("customers_tractor") or frozenset()
    say = {
        "cut": length(shaft, plan.cut, "up"),
        "overlap": length(shaft, plan.overlap_at_longest, "down"),
        "gap": length(shaft, plan.gap_at_shortest, "down"),
    }
    if "yes" in whose:
        says = msg(
            "Cut {cut} off both tubes and both guards: {gap} left at the shortest, {overlap} at the longest.",
            **say,
        )
        todo = msg("A second person reads all the numbers aloud and puts his name to them before the saw.")
        if sure is not None and sure.verdict is not Verdict.IN_ORDER:
            todo = msg("No saw yet. {doubt}", doubt=sure.says)
    elif "no" in whose:
        says = msg("On this tractor it would be {cut}; it is not the customer's: no saw.", **say)
        todo = msg("Leave the cut as an open point, to be done on the customer's tractor; until then no PTO.")
    else:
        says = msg("By these distances the cut would be {cut}.", **say)
        todo = msg("First say whose tractor this is. No saw before that.")
    return Finding(Verdict.PUT_RIGHT, slots, says, todo, working, source, PTO)


def explained(facts: Facts, shaft: Shaft, plan: Cut, names: Mapping[str, Message]) -> tuple[Message, ...]:
    """The arithmetic of the cut."""
    raised = (
        (msg("The reserve was raised to three times the doubt of the tape."),) if plan.reserve_raised else ()
    )
    return (
        msg(
            "Shortest {shortest} at {at}; longest {longest} at {far}.",
            shortest=length(shaft, shaft.read[shaft.shortest].value),
            at=names[shaft.shortest],
            longest=length(shaft, shaft.read[shaft.longest].value),
            far=names[shaft.longest],
        ),
        msg(
            "Least = closed {closed} + reserve {reserve} − shortest = {least}.",
            closed=length(shaft, shaft.closed),
            reserve=length(shaft, plan.reserve),
            least=length(shaft, plan.least, "up"),
        ),
        msg(
            "Most = (half {a} + half {b} − longest − least overlap {overlap}) / 2 = {most}; the cut takes "
            "twice its length of overlap.",
            a=length(shaft, shaft.halves[0]),
            b=length(shaft, shaft.halves[1]),
            overlap=shown(facts.profile.driveline.overlap),
            most=length(shaft, plan.most, "down"),
        ),
        *raised,
        doubt_said(Kind.LENGTH, shaft.doubt, shaft.unit),
    )


def guard_findings(facts: Facts, shaft: Shaft, plan: Cut) -> Iterable[Finding]:
    """Whether the guards still cover the tubes at the longest place."""
    printed = facts.profile.driveline.guard_overlap
    least, real = facts.value(printed), actual(facts, plan)
    if least is None or real.guard_overlap is None:
        return
    if plan.answer in {CutAnswer.TOO_SHORT, CutAnswer.NO_ROOM} or real.guard_overlap >= least:
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        (facts.slot("cut"),),
        msg(
            "With this cut the guards overlap {overlap} at the longest place; at least {least} are needed.",
            overlap=length(shaft, real.guard_overlap, "down"),
            least=shown(printed),
        ),
        msg("Longer guard tubes are needed before the PTO runs."),
        source=printed.source,
        bars=PTO,
    )


def proof_findings(
    facts: Facts, by_key: Mapping[str, Field], shaft: Shaft | None, plan: Cut | None
) -> Iterable[Finding]:
    """Judge the measured gap and overlap by their limits, and tell the story they fit."""
    gap, overlap = (reading(facts, key, "", TAPE) for key in ("gap_shortest", "overlap_longest"))
    data = facts.profile.driveline
    reserve, least = facts.value(data.end_reserve), facts.value(data.overlap)
    if gap is not None and reserve is not None:
        # the reserve is there for the doubt: taking the doubt off once more would take it twice
        low = reserve - gap.doubt
        yield limit_finding(facts, by_key["gap_shortest"], gap, low, data.end_reserve, GAP)
    if overlap is not None and least is not None:
        yield limit_finding(facts, by_key["overlap_longest"], overlap, least, data.overlap, OVERLAP)
    made = sane(facts, "cut")
    if gap is None or overlap is None or shaft is None or plan is None or made is None:
        return
    about = (facts.slot("gap_shortest"), facts.slot("overlap_longest"), facts.slot("cut"))
    try:
        story = sums.after_cut(actual(facts, plan), gap.value, overlap.value, max(gap.doubt, overlap.doubt))
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    verdict, todo = STORIES[story.seen]
    bars = PTO if verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(verdict, about, story.says, todo, bars=bars)


STORIES: Mapping[Found, tuple[Verdict, Message | None]] = {
    Found.AS_PLANNED: (Verdict.IN_ORDER, None),
    Found.NOT_CUT: (Verdict.PUT_RIGHT, msg("Measure both halves, then cut as planned.")),
    Found.ONE_TUBE: (
        Verdict.PUT_RIGHT,
        msg("Measure both halves; cut the other tube and its guard by the same length."),
    ),
    Found.CUT_TWICE: (Verdict.PUT_RIGHT, msg("Measure both halves and show the numbers to the foreman.")),
    Found.UNEXPLAINED: (Verdict.MEASURE_AGAIN, msg("At the same two places, links and lock as before.")),
}
GAP = (
    msg("{read} left at the shortest place."),
    msg("{read} left at the shortest place is too close to {limit} to tell."),
    msg("{read} left at the shortest place, at least {limit} are needed: the shaft would meet its end."),
    msg("Measure it again, a second person reading blind."),
    msg("No PTO. Look at the cut, the place, and whether the guard stops it before the tube."),
)
OVERLAP = (
    msg("{read} of overlap at the longest place."),
    msg("{read} of overlap at the longest place is too close to {limit} to tell."),
    msg("Only {read} of overlap at the longest place, at least {limit} are needed: it would come apart."),
    msg("Measure it again, a second person reading blind."),
    msg("No PTO. Longer tubes are needed, or a limit to the lift."),
)


def limit_finding(
    facts: Facts, field: Field, read: Estimate, low: float, printed: Sourced, words: tuple[Message, ...]
) -> Finding:
    """The finding on a length that must not be smaller than ``low`` metres."""
    about = (facts.slot(field.key), facts.slot("cut"))
    unit = unit_of(facts, field)
    try:
        verdict = within(read.value, read.doubt, low=low)
    except Impossible as reason:
        return cannot_tell(about, reason)
    say = {"read": Amount(read.value, Kind.LENGTH, unit, both=True), "limit": shown(printed)}
    at = {Verdict.IN_ORDER: 0, Verdict.MEASURE_AGAIN: 1, Verdict.PUT_RIGHT: 2}[verdict]
    says = with_gaps(words[at], **say)
    todo = words[at + 2] if at else None
    bars = PTO if verdict is Verdict.PUT_RIGHT else frozenset()
    return Finding(
        verdict, about, says, todo, (doubt_said(Kind.LENGTH, read.doubt, unit),), printed.source, bars
    )
