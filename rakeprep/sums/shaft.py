"""Driveline: the cut, the proof after it, guard chain, pivot curve and joints."""

from __future__ import annotations

from rakeprep.calculations import driveline
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.driveline import CutAnswer, Found, GuardTubes, Height, Turn
from rakeprep.calculations.guard_chain import check_chain
from rakeprep.calculations.shaft_doubts import LengthDoubts, sure_cut
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, both, found, length, mm, plain, share
from rakeprep.sums.shape import Answer, Given, Input, Result, Sum
from rakeprep.text import Message, msg
from rakeprep.units import Kind

INCH = 0.0254
METRIC_STEPS, INCH_STEPS = (0.005, 0.001), (INCH / 8, INCH / 32)
NINE = {
    f"{turn_key}-{height_key}": (turn, height)
    for turn_key, turn in (("left", Turn.LEFT), ("straight", Turn.STRAIGHT), ("right", Turn.RIGHT))
    for height_key, height in (("low", Height.LOW), ("work", Height.WORK), ("high", Height.HIGH))
}
PLACE_WORDS = {
    "left-low": msg("full left, links lowest"),
    "left-work": msg("full left, links at work height"),
    "left-high": msg("full left, links highest"),
    "straight-low": msg("straight, links lowest"),
    "straight-work": msg("straight, links at work height"),
    "straight-high": msg("straight, links highest"),
    "right-low": msg("full right, links lowest"),
    "right-work": msg("full right, links at work height"),
    "right-high": msg("full right, links highest"),
}


def plan_of(given: Given) -> driveline.Cut:
    """The plan of a cut."""
    guards = None
    if given.has("guard-a") and given.has("guard-b"):
        guards = GuardTubes(given.number("guard-a"), given.number("guard-b"), given.number("guard-inset"))
    step, fine = INCH_STEPS if given.imperial(Kind.LENGTH) else METRIC_STEPS
    doubt = max(given.estimate("shortest").doubt, given.estimate("longest").doubt)
    return driveline.cut(
        given.number("closed"),
        given.number("half-a"),
        given.number("half-b"),
        given.number("shortest"),
        given.number("longest"),
        given.number("reserve"),
        given.number("overlap"),
        doubt,
        step=step,
        fine_step=fine,
        guards=guards,
    )


def cut(given: Given) -> Answer:
    """C9."""
    plan = plan_of(given)
    keys = ("closed", "half-a", "half-b", "shortest", "longest")
    doubts = LengthDoubts(*(given.estimate(key).doubt for key in keys))
    sure = sure_cut(plan, doubts, given.number("overlap"), given.number("shared"))
    lengths: list[tuple[str, Message, float | Estimate, str]] = [
        ("cut", msg("cut off both tubes and both guards"), plan.cut, "nearest"),
        ("least", msg("least cut"), plan.least, "up"),
        ("most", msg("most that may be cut"), plan.most, "down"),
        ("gap", msg("travel left at the shortest place"), sure.gap, "down"),
        ("overlap-longest", msg("overlap at the longest place"), sure.overlap, "down"),
        (
            "overlap-before",
            msg("overlap at the longest place before the cut"),
            plan.overlap_at_longest_before,
            "down",
        ),
        ("overlap-shortest", msg("overlap at the shortest place"), plan.overlap_at_shortest, "down"),
        ("closed", msg("closed length after the cut"), plan.closed, "nearest"),
        ("half-a", msg("tractor half after the cut"), plan.half_a, "nearest"),
        ("half-b", msg("machine half after the cut"), plan.half_b, "nearest"),
    ]
    if plan.guard_overlap is not None:
        lengths.append(
            ("guards", msg("overlap of the guards at the longest place"), plan.guard_overlap, "down")
        )
    results = tuple(
        found(key, label, value, given, Kind.LENGTH, "mm", way) for key, label, value, way in lengths
    )
    hopeless = plan.answer in {CutAnswer.TOO_SHORT, CutAnswer.NO_ROOM}
    says = plan.why
    if plan.answer is CutAnswer.CUT:
        off = both(plan.cut, given, Kind.LENGTH, "mm")
        says = msg(
            "Cut {off} off both tubes and both guards, after a second person has read it too.", off=off
        )
    verdict = Verdict.STOP if hopeless else sure.verdict
    return Answer(says, results, verdict, (*cut_working(given, plan), sure.says))


def cut_working(given: Given, plan: driveline.Cut) -> tuple[Message, ...]:
    """How the cut comes about."""
    lines = [
        msg(
            "least = max(0, closed + reserve − shortest) = {closed} + {reserve} − {shortest}.",
            closed=mm(given.number("closed")),
            reserve=mm(plan.reserve),
            shortest=mm(given.number("shortest")),
        ),
        msg(
            "most = (A + B − longest − least overlap) / 2 = ({a} + {b} − {longest} − {overlap}) / 2.",
            a=mm(given.number("half-a")),
            b=mm(given.number("half-b")),
            longest=mm(given.number("longest")),
            overlap=mm(given.number("overlap")),
        ),
        msg("Every 1 mm off both tubes takes 2 mm of overlap."),
        msg("The reserve is there for the doubt of the distances; it is not taken off twice."),
    ]
    if plan.reserve_raised:
        lines.append(
            msg("The reserve was raised to three times the doubt: {reserve}.", reserve=mm(plan.reserve))
        )
    return tuple(lines)


def after_cut(given: Given) -> Answer:
    """C9, the proof."""
    plan = plan_of(given)
    doubt = max(given.estimate("gap").doubt, given.estimate("measured-overlap").doubt)
    proof = driveline.after_cut(plan, given.number("gap"), given.number("measured-overlap"), doubt)
    verdict = {Found.AS_PLANNED: Verdict.IN_ORDER, Found.UNEXPLAINED: Verdict.MEASURE_AGAIN}
    results = (
        found("gap", msg("gap, measured less planned"), proof.gap_departure, given, Kind.LENGTH, "mm"),
        found(
            "overlap",
            msg("overlap, measured less planned"),
            proof.overlap_departure,
            given,
            Kind.LENGTH,
            "mm",
        ),
    )
    planned = msg(
        "Planned: gap {gap}, overlap {overlap}.",
        gap=mm(plan.gap_at_shortest),
        overlap=mm(plan.overlap_at_longest),
    )
    return Answer(proof.says, results, verdict.get(proof.seen, Verdict.PUT_RIGHT), (planned,))


def nine(given: Given) -> Answer:
    """C9, the nine distances."""
    read = {NINE[key]: given.number(key) for key in NINE if given.has(key)}
    places = driveline.nine_places(read, given.number("limit"))
    words = {place: PLACE_WORDS[key] for key, place in NINE.items()}
    results = (
        found("shortest", msg("shortest"), places.shortest, given, Kind.LENGTH, "mm"),
        Result("shortest-at", msg("shortest at"), words[places.shortest_at[0]]),
        found("longest", msg("longest"), places.longest, given, Kind.LENGTH, "mm"),
        Result("longest-at", msg("longest at"), words[places.longest_at[0]]),
        found("travel", msg("travel"), places.longest - places.shortest, given, Kind.LENGTH, "mm"),
        Result("not-read", msg("places not read"), len(places.not_read)),
    )
    verdict = Verdict.MEASURE_AGAIN if places.uneven or places.not_read else Verdict.IN_ORDER
    says = (
        msg("Left and right differ: hitch or PTO off centre, or one stop was not reached.")
        if places.uneven
        else msg("Shortest and longest of the places read.")
    )
    working = tuple(msg("Not read: {place}.", place=words[place]) for place in places.not_read)
    return Answer(says, results, verdict, working)


def overlap_rule(given: Given) -> Answer:
    """C9, where the book gives no overlap."""
    least = driveline.overlap_rule_of_thumb(given.number("inner"))
    results = (found("overlap", msg("least overlap"), least, given, Kind.LENGTH, "mm", "up"),)
    return Answer(
        msg("Only where the machine's own book gives none; to be accepted by name."),
        results,
        None,
        (msg("One third of the inner tube, never below 150 mm."),),
    )


def chain(given: Given) -> Answer:
    """C9, the guard chain."""
    read = {NINE[key]: given.number(key) for key in NINE if given.has(key)}
    long = driveline.guard_chain(read, given.number("spare"))
    results = [found("chain", msg("length of the chain"), long, given, Kind.LENGTH, "mm")]
    says = msg("It must also be too short to reach the turning tube or to hang the shaft on it.")
    verdict = None
    if given.has("fitted") and given.has("to-tube"):
        seen = check_chain(given.estimate("fitted"), read, given.number("to-tube"))
        verdict, says = seen.verdict, seen.says
        results.append(
            found("slack", msg("slack at the longest place"), seen.slack, given, Kind.LENGTH, "mm", "down")
        )
        results.append(
            found("reach", msg("reach at the shortest place"), seen.reach, given, Kind.LENGTH, "mm", "up")
        )
    working = (
        msg("Longest distance and {spare} more.", spare=share(given.number("spare"))),
        msg("Reach = √(length² − distance²) / 2."),
    )
    return Answer(says, tuple(results), verdict, working)


def tape(key: str, label: Message, *, optional: bool = False) -> Input:
    """A distance from groove to groove."""
    return length(key, label, optional=optional, instrument="driveline-tape")


CUT_INPUTS = (
    length("closed", msg("groove to groove, pushed home"), instrument="tape"),
    length("half-a", msg("tractor half, groove to open end"), instrument="tape"),
    length("half-b", msg("machine half, groove to open end"), instrument="tape"),
    tape("shortest", msg("shortest of the nine distances")),
    tape("longest", msg("longest of the nine distances")),
    length("reserve", msg("travel left at the shortest place")),
    length("overlap", msg("least overlap at the longest place")),
    length("guard-a", msg("tractor guard tube"), optional=True),
    length("guard-b", msg("machine guard tube"), optional=True),
    length("guard-inset", msg("groove to where each guard begins"), "95 mm"),
    plain("shared", msg("how alike the errors of the lengths are: 0 not at all, 1 all of one tape"), "0"),
)
PM_1 = {
    "closed": "905mm",
    "half-a": "780mm",
    "half-b": "760mm",
    "shortest": "872mm",
    "longest": "1068mm",
    "reserve": "30mm",
    "overlap": "250mm",
}
NINE_INPUTS = tuple(tape(key, label, optional=True) for key, label in PLACE_WORDS.items())
CUT_RANGE = msg("Two tubes of one shaft; 5 mm or 1/8 in steps, finer where those find no room.")
CUT_SOURCE = msg("Geometry; a reserve of three doubts is a rule of thumb.")
SUMS = (
    Sum(
        "driveline-cut",
        msg("how much to cut off the driveline"),
        msg("Or why no cut is needed, or no cut helps."),
        CUT_INPUTS,
        cut,
        {**PM_1, "guard-a": "640mm", "guard-b": "620mm"},
        CUT_RANGE,
        CUT_SOURCE,
    ),
    Sum(
        "driveline-proof",
        msg("gap and overlap after the cut"),
        msg("Tells a right cut from a forgotten tube and from one cut twice."),
        (
            *CUT_INPUTS,
            tape("gap", msg("measured travel left at the shortest place")),
            tape("measured-overlap", msg("measured overlap at the longest place")),
        ),
        after_cut,
        {**PM_1, "gap": "-33mm", "measured-overlap": "407mm"},
        CUT_RANGE,
        CUT_SOURCE,
    ),
    Sum(
        "driveline-places",
        msg("shortest and longest of the nine distances"),
        msg("Groove to groove, as far as the places can be reached."),
        (*NINE_INPUTS, length("limit", msg("difference of left and right that needs no word"), "15 mm")),
        nine,
        {"left-low": "872mm", "right-low": "876mm", "straight-high": "1068mm"},
        msg("At least one place."),
        msg("Geometry; the limit is a rule of thumb."),
    ),
    Sum(
        "driveline-overlap",
        msg("least overlap where the book gives none"),
        msg("A rule of thumb, never a requirement."),
        (length("inner", msg("length of the inner tube")),),
        overlap_rule,
        {"inner": "780mm"},
        msg("Lengths above zero."),
        msg("Common workshop practice, no published source."),
    ),
    Sum(
        "guard-chain",
        msg("length of the guard's chain"),
        msg("From the guard's eye to its fixed point at the same nine places."),
        (
            *NINE_INPUTS,
            amount("spare", msg("what is added"), Kind.RATIO, "%", "10%"),
            length("fitted", msg("length of the chain that is fitted"), optional=True, instrument="tape"),
            length("to-tube", msg("air between the straight chain and what turns"), optional=True),
        ),
        chain,
        {"straight-high": "500mm"},
        msg("At least one place."),
        msg("Common workshop practice, no published source."),
    ),
)
