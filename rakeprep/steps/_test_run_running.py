"""While it runs and as it stops: direction, length, noise, knocks, coast-down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.calculations import Impossible, demand
from rakeprep.calculations.speed import rotor_speed
from rakeprep.calculations.test_run import coast_down, knocks
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field, Use
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side, Turning
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import Answer, judged, whole
from rakeprep.steps._reading import LARGEST, ROTOR_NAMES, SIDES, cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

NO_WORK = frozenset({Use.PTO, Use.FIELD})
FIELD = frozenset({Use.FIELD})
SHORTEST = 1e-3  # s and 1/s; less is no reading of a watch or a shaft
SENSES = {
    Turning.CLOCKWISE: msg("clockwise"),
    Turning.ANTICLOCKWISE: msg("anticlockwise"),
}
NOISE = {
    "even": Answer(Verdict.IN_ORDER, msg("It runs evenly, without a knock.")),
    "regular": Answer(
        Verdict.PUT_RIGHT,
        msg("It knocks regularly: one turning part touches something or is loose."),
        msg("From the seat count the knocks for 10 to 20 s; then PTO off, engine off, key out."),
        FIELD,
    ),
    "irregular": Answer(
        Verdict.PUT_RIGHT,
        msg("Irregular knocking, rattling or grinding: something is loose or dry."),
        msg(
            "No further run. PTO off, engine off, key out; look at bolts, guards, oil, tines, in this order."
        ),
        NO_WORK,
    ),
}


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """In the order in which it happens."""
    for side in SIDES:
        yield from direction(facts, side)
    yield from run_time(facts)
    yield from judged(facts, by_key["noise"], NOISE)
    yield from knocking(facts)
    yield from running_down(facts)


def direction(facts: Facts, side: Side) -> Iterator[Finding]:
    """Whether a rotor turns as its data say."""
    chosen = facts.chosen("direction", side.value) or frozenset()
    wanted = facts.profile.rotor_at(side).turning
    about = (facts.slot("direction", side.value),)
    say = {"rotor": ROTOR_NAMES[side], "wanted": SENSES[wanted]}
    if wanted.value in chosen:
        yield Finding(Verdict.IN_ORDER, about, msg("{rotor}: turns {wanted}, as it should.", **say))
    elif chosen & {turning.value for turning in Turning}:
        yield Finding(
            Verdict.STOP,
            about,
            msg("{rotor}: turns the wrong way; seen from above it has to turn {wanted}.", **say),
            msg(
                "PTO off at once, engine off, key out. Look at the tractor's PTO (which stub, which sense), "
                "then at the gearboxes and at the hand of the arms."
            ),
            bars=NO_WORK,
        )


def run_time(facts: Facts) -> Iterator[Finding]:
    """Long enough to get warm; judged as typed, for nobody reads a quarter of an hour to the second."""
    wanted, ran = facts.value(facts.profile.test_run.duration), facts.number("run_time")
    if wanted is None or ran is None or abs(ran) > LARGEST:
        return
    duration = facts.profile.test_run.duration
    say = {"ran": Amount(ran, Kind.TIME, duration.typed.unit), "wanted": shown(duration)}
    enough = ran >= wanted * (1 - 1e-9)
    yield Finding(
        Verdict.IN_ORDER if enough else Verdict.PUT_RIGHT,
        (facts.slot("run_time"),),
        msg("It ran for {ran}; {wanted} are wanted.", **say),
        None
        if enough
        else msg("Run it again for {wanted} without a break: heat and leaks show late.", **say),
        source=duration.source,
        bars=frozenset() if enough else FIELD,
    )


def pto_speed(facts: Facts) -> float | None:
    """PTO speed of the run: as read in the field settings, else the working speed [1/s]."""
    read = facts.number("settings.pto_speed")
    if read is not None and SHORTEST <= read <= LARGEST:
        return read
    return facts.value(facts.profile.settings.working_speed)


def knocking(facts: Facts) -> Iterator[Finding]:
    """Which part knocks."""
    count, time = whole(facts, "knocks"), reading(facts, "knock_time", "", "stopwatch")
    pto, ratio = pto_speed(facts), facts.value(facts.profile.settings.ratio)
    if count is None or time is None or pto is None or ratio is None:
        return
    about = (facts.slot("knocks"), facts.slot("knock_time"))
    arms = max(facts.profile.rotor_at(side).arms for side in SIDES)
    try:
        demand(time.value >= SHORTEST, msg("The time of the knocks must be above zero."))
        rotor = rotor_speed(pto, ratio)
        found = knocks(count, time.value, rotor, pto, arms)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    todo = msg("PTO off, engine off, key out, all still: turn by hand and look where it touches.")
    again = msg("Count again for 20 s from the seat, at a steady speed; two things may knock at once.")
    working = msg(
        "Knocks per rotor turn = ({count} / {time}) / {rotor} = {per_rotor}; per PTO turn {per_pto}.",
        count=count,
        time=Amount(time.value, Kind.TIME, "s"),
        rotor=Amount(rotor, Kind.ROTATION, "rev/s"),
        per_rotor=Amount(found.per_rotor_turn, Kind.NUMBER, "1"),
        per_pto=Amount(found.per_pto_turn, Kind.NUMBER, "1"),
    )
    known = found.whole is not None
    verdict = Verdict.PUT_RIGHT if known else Verdict.MEASURE_AGAIN
    source = rule_of_thumb(msg("knocks per turn and their usual causes"))
    says = msg(
        "{knocks} knocks per rotor turn. {cause}",
        knocks=Amount(found.per_rotor_turn, Kind.NUMBER, "1"),
        cause=found.says,
    )
    yield Finding(verdict, about, says, todo if known else again, (working,), source, FIELD)


def running_down(facts: Facts) -> Iterator[Finding]:
    """Both rotors against each other."""
    left, right = (reading(facts, "coast_down", side.value, "stopwatch") for side in SIDES)
    limit = facts.profile.test_run.coast_ratio
    least = facts.value(limit)
    if left is None or right is None or least is None:
        return
    about = tuple(facts.slot("coast_down", side.value) for side in SIDES)
    try:
        demand(min(left.value, right.value) >= SHORTEST, msg("The time of a run-down must be above zero."))
        found = coast_down(left.value, right.value, max(left.doubt, right.doubt), least)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    if found.verdict is Verdict.PUT_RIGHT and right.value < left.value:
        about = about[::-1]
    todo: Message | None = None
    if found.verdict is Verdict.MEASURE_AGAIN:
        todo = msg("Run it up again and time both run-downs from the same speed, three times.")
    elif found.verdict is Verdict.PUT_RIGHT:
        todo = msg("Engine off, key out: turn both by hand. After the cure time both run-downs once more.")
    times = {
        "left": Amount(left.value, Kind.TIME, "s"),
        "right": Amount(right.value, Kind.TIME, "s"),
    }
    says = msg("{left} left, {right} right. {cause}", cause=found.says, **times)
    working = msg(
        "Ratio = shorter / longer = {ratio}; {least} or more is wanted.",
        ratio=Amount(found.ratio.value, Kind.NUMBER, "1", doubt=found.ratio.doubt),
        least=shown(limit),
    )
    bars = FIELD if found.verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(found.verdict, about, says, todo, (working,), limit.source, bars)
