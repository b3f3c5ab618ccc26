"""Times of the strokes, how they scatter, how fast the lift comes down, and whether it sinks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate, near, within
from rakeprep.calculations.hydraulic_faults import (
    SPREAD,
    WORDS,
    Cause,
    Diagnosis,
    diagnose,
    diagnose_lift,
    sinking,
)
from rakeprep.calculations.hydraulics import (
    QUICKEST_LOWERING,
    Ram,
    Times,
    leak,
    lowering,
    measured_flow,
    times,
)
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Circuit, Profile
from rakeprep.model.source import Sourced
from rakeprep.model.tractor import Acting
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import doubt_said, sane, unit_of
from rakeprep.steps._reading import LARGEST, cannot_tell, doubt_of, reading, rule_of_thumb, shown
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Amount, Kind

FIELD_WORK = frozenset({Use.FIELD})
RUNS = 3
SHORTEST = 0.01  # s: nothing on a rake moves in less, and no stopwatch shows it
DRIFT_TIME = 600.0  # s
STUCK = (Option("out", msg("out or up")), Option("in", msg("in or down")))
RESTS = ("tractor", "hydraulics.remote", "hydraulics.purge")


def fields(profile: Profile, circuits: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions about times and sinking."""

    def timed(key: str, label: Message, about: Message, need: Need = Need.OPEN) -> Field:
        return Field(
            key,
            label,
            Ask.QUANTITY,
            about,
            circuits,
            Kind.TIME,
            "s",
            need=need,
            instrument="stopwatch",
            rests_on=RESTS,
        )

    drifting = tuple(
        place
        for place, circuit in zip(circuits, profile.hydraulics.circuit, strict=True)
        if circuit.drift is not None
    )
    return (
        Field(
            "stuck",
            msg("A way in which nothing moves"),
            Ask.MANY,
            msg("Only if it does not move at all that way, with the lever held and the latch free."),
            circuits,
            options=STUCK,
            need=Need.MAY,
            rests_on=RESTS,
        ),
        timed(
            "time_out",
            msg("Time out or up, mean of three"),
            msg("Full stroke at the flow of the machine data, oil warm, nobody within the swing."),
        ),
        timed(
            "time_in",
            msg("Time in or down, mean of three"),
            msg("The same way back; of a lift, from full height to the ground, by its own weight."),
        ),
        timed(
            "time_spread",
            msg("Longest less shortest of three"),
            msg("Runs of one way; the larger of both. Usual: below 0.5 s; more speaks of air."),
            Need.MAY,
        ),
        drift_field("drift", msg("Sinking in 10 min, raised"), drifting, Need.OPEN),
        drift_field("drift_shut", msg("The same with the stop tap shut"), drifting, Need.MAY),
    )


def drift_field(key: str, label: Message, places: tuple[Place, ...], need: Need) -> Field:
    """A question about sinking."""
    return Field(
        key,
        label,
        Ask.QUANTITY,
        msg("Mark on the rod, 10 minutes, engine off. From the side with a rule; nobody within the swing."),
        places,
        Kind.LENGTH,
        "mm",
        need=need,
        bars=FIELD_WORK if need is Need.OPEN else frozenset(),
        instrument="calliper",
        rests_on=RESTS,
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge every circuit."""
    for circuit in facts.profile.hydraulics.circuit:
        try:
            yield from time_findings(facts, circuit)
        except Impossible as reason:
            about = (facts.slot("time_out", circuit.key), facts.slot("time_in", circuit.key))
            yield cannot_tell(about, reason)
        yield from lowering_findings(facts, circuit)
        yield from spread_findings(facts, circuit)
        if circuit.drift is not None:
            yield from drift_findings(facts, circuit, circuit.drift, by_key["drift"])


def mean_of_three(facts: Facts, field: str, circuit: str) -> Estimate | None:
    """A mean time with the doubt of three runs."""
    entry = facts.entry(field, circuit)
    if entry is None or entry.number is None or not SHORTEST <= entry.number <= LARGEST:
        return None
    half_division = float(entry.division or 0) / 2
    return Estimate(entry.number, max(doubt_of("stopwatch", entry.number, RUNS), half_division))


def ram_of(facts: Facts, circuit: Circuit) -> Ram | None:
    """The rams of a circuit; None while a value is in conflict."""
    bore, rod, stroke = facts.value(circuit.bore), facts.value(circuit.rod), facts.value(circuit.stroke)
    if bore is None or rod is None or stroke is None:
        return None
    return Ram(bore, stroke, rod, circuit.rams)


def seconds(value: float) -> Amount:
    """A time for a sentence."""
    return Amount(value, Kind.TIME, "s")


def time_findings(facts: Facts, circuit: Circuit) -> Iterable[Finding]:
    """Compare the times with what rams and flow should give, and name what may be wrong."""
    ram, flow = ram_of(facts, circuit), facts.value(circuit.flow)
    band = facts.value(facts.profile.hydraulics.time_tolerance)
    out, back = (mean_of_three(facts, key, circuit.key) for key in ("time_out", "time_in"))
    stuck = (facts.chosen("stuck", circuit.key) or frozenset()) & {"out", "in"}
    if ram is None or flow is None or band is None:
        return
    expected = times(ram, flow)
    outs = None if "out" in stuck else out
    backs = None if "in" in stuck else back
    if stuck:
        yield stuck_finding(facts, circuit, expected, outs, backs)
    elif circuit.acting is Acting.DOUBLE and outs is not None and backs is not None:
        doubt = max(outs.doubt, backs.doubt)
        found = diagnose(expected, [outs.value], [backs.value], one_run=doubt, band=band)
        yield double_finding(facts, circuit, ram, expected, (outs, backs), found)
    elif circuit.acting is Acting.SINGLE and outs is not None:
        yield single_finding(facts, circuit, ram, expected, outs, band)


def suspicion_words(found: Diagnosis) -> tuple[Message, Message]:
    """What is suspected, best two first, and the test that comes next."""
    first = found.suspicions[:2]
    if not first:
        return msg("No known pattern."), msg("Time three runs again each way, at the stated flow, oil warm.")
    return joined([each.says for each in first], " "), first[0].next_test


def stuck_finding(
    facts: Facts, circuit: Circuit, expected: Times, out: Estimate | None, back: Estimate | None
) -> Finding:
    """Nothing moves one way or both."""
    outs, backs = ([each.value] if each is not None else [] for each in (out, back))
    stuck = facts.chosen("stuck", circuit.key) or frozenset()
    # a way that was neither timed nor said to be stuck counts as moving
    outs = outs or ([] if "out" in stuck else [expected.out])
    backs = backs or ([] if "in" in stuck else [expected.back])
    if circuit.acting is Acting.SINGLE:
        found = diagnose_lift(expected.out, outs, backs)
    else:
        found = diagnose(expected, outs, backs)
    why, todo = suspicion_words(found)
    says = msg("{place}: {why}", place=verbatim(circuit.name), why=why)
    return Finding(Verdict.PUT_RIGHT, (facts.slot("stuck", circuit.key),), says, todo, bars=FIELD_WORK)


def expected_words(facts: Facts, circuit: Circuit, ram: Ram, expected: Times) -> tuple[Message, ...]:
    """The arithmetic of the expected times."""
    return (
        msg(
            "t = V / Q with {rams} rams at {flow}: {out} out, {back} back.",
            rams=ram.count,
            flow=shown(circuit.flow, both=True),
            out=seconds(expected.out),
            back=seconds(expected.back),
        ),
        msg("Right within ± {band}.", band=shown(facts.profile.hydraulics.time_tolerance)),
    )


def flow_words(circuit: Circuit, ram: Ram, out: Estimate) -> Message:
    """The flow that really arrived, with the doubt of the stopwatch, beside the one that is wanted."""
    flow = measured_flow(ram, out)
    unit = circuit.flow.typed.unit
    return msg(
        "The remote gives {flow} of {wanted}.",
        flow=Amount(flow.value, Kind.FLOW, unit, doubt=flow.doubt),
        wanted=shown(circuit.flow),
    )


def double_finding(
    facts: Facts,
    circuit: Circuit,
    ram: Ram,
    expected: Times,
    measured: tuple[Estimate, Estimate],
    found: Diagnosis,
) -> Finding:
    """The finding on a double-acting circuit; the ratio tells crossed hoses from a wrong flow."""
    about = (facts.slot("time_out", circuit.key), facts.slot("time_in", circuit.key))
    out, back = measured
    real = flow_words(circuit, ram, out)
    working = (
        *expected_words(facts, circuit, ram, expected),
        msg(
            "Ratio out to back {ratio}, expected {expected}; it does not depend on the flow.",
            ratio=Amount(out.value / back.value, Kind.NUMBER, "1"),
            expected=Amount(expected.ratio, Kind.NUMBER, "1"),
        ),
        real,
        doubt_said(Kind.TIME, out.doubt, "s"),
    )
    say = {"place": verbatim(circuit.name), "out": seconds(out.value), "back": seconds(back.value)}
    source = facts.profile.hydraulics.time_tolerance.source
    if found.verdict is Verdict.IN_ORDER:
        says = msg("{place}: {out} out, {back} back, as expected.", **say)
        return Finding(found.verdict, about, says, None, working, source)
    why, todo = suspicion_words(found)
    says = msg("{place}: {out} out, {back} back. {why}", **say, why=why)
    if found.suspicions and found.suspicions[0].cause in {Cause.FLOW_LOW, Cause.FLOW_HIGH}:
        says = msg("{place}: {out} out, {back} back. {real} {why}", **say, real=real, why=why)
    bars = FIELD_WORK if found.verdict is Verdict.PUT_RIGHT else frozenset()
    return Finding(found.verdict, about, says, todo, working, source, bars)


def single_finding(
    facts: Facts, circuit: Circuit, ram: Ram, expected: Times, out: Estimate, band: float
) -> Finding:
    """The finding on the way up of a single-acting circuit."""
    about = (facts.slot("time_out", circuit.key),)
    verdict = near(out.value, out.doubt, expected.out, band * expected.out)
    real = flow_words(circuit, ram, out)
    working = (*expected_words(facts, circuit, ram, expected), real, doubt_said(Kind.TIME, out.doubt, "s"))
    say = {
        "place": verbatim(circuit.name),
        "out": seconds(out.value),
        "expected": seconds(expected.out),
        "real": real,
    }
    source = facts.profile.hydraulics.time_tolerance.source
    if verdict is Verdict.IN_ORDER:
        says = msg("{place}: {out} up, expected {expected}.", **say)
        return Finding(verdict, about, says, None, working, source)
    why, todo = WORDS[Cause.FLOW_LOW if out.value > expected.out else Cause.FLOW_HIGH]
    if verdict is Verdict.MEASURE_AGAIN:
        says = msg("{place}: {out} up is too close to the edge of {expected} to tell.", **say)
    else:
        says = msg("{place}: {out} up instead of {expected}. {real} {why}", **say, why=why)
    bars = FIELD_WORK if verdict is Verdict.PUT_RIGHT else frozenset()
    return Finding(verdict, about, says, todo, working, source, bars)


def lowering_findings(facts: Facts, circuit: Circuit) -> Iterable[Finding]:
    """Coming down too fast is a danger."""
    limit = circuit.slowest_lowering
    if limit is None and circuit.acting is Acting.DOUBLE:
        return
    down = mean_of_three(facts, "time_in", circuit.key)
    least = QUICKEST_LOWERING if limit is None else facts.value(limit)
    if down is None or least is None or "in" in (facts.chosen("stuck", circuit.key) or frozenset()):
        return
    about = (facts.slot("time_in", circuit.key),)
    source = rule_of_thumb(msg("not below 2 s from full height")) if limit is None else limit.source
    say = {"place": verbatim(circuit.name), "down": seconds(down.value), "least": seconds(least)}
    try:
        verdict = lowering(down.value, down.doubt, least)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    working = (doubt_said(Kind.TIME, down.doubt, "s"),)
    if verdict is Verdict.IN_ORDER:
        says = msg("{place}: comes down in {down}, not below {least}.", **say)
        yield Finding(verdict, about, says, None, working, source)
        return
    says = msg("{place}: comes down in {down}; it must take at least {least}.", **say)
    bars = FIELD_WORK if verdict is Verdict.STOP else frozenset()
    yield Finding(verdict, about, says, WORDS[Cause.THROTTLE_OPEN][1], working, source, bars)


def spread_findings(facts: Facts, circuit: Circuit) -> Iterable[Finding]:
    """Runs that differ speak of air or of something that sticks."""
    spread = sane(facts, "time_spread", circuit.key)
    if spread is None or spread < 0:
        return
    about = (facts.slot("time_spread", circuit.key), facts.slot("purge", circuit.key))
    say = {"place": verbatim(circuit.name), "spread": seconds(spread)}
    source = rule_of_thumb(msg("three runs within 0.5 s"))
    if spread <= SPREAD:
        says = msg("{place}: three runs within {spread}.", **say)
        yield Finding(Verdict.IN_ORDER, about, says, source=source)
        return
    air, todo = WORDS[Cause.AIR]
    says = msg("{place}: three runs differ by {spread}. If they get quicker: air. If not: it sticks.", **say)
    yield Finding(Verdict.PUT_RIGHT, about, says, todo, (air, WORDS[Cause.STICKING][0]), source)


def drift_findings(facts: Facts, circuit: Circuit, limit: Sourced, field: Field) -> Iterable[Finding]:
    """Judge how far the raised machine sinks, and where the oil goes."""
    read = reading(facts, "drift", circuit.key, "calliper")
    shut = reading(facts, "drift_shut", circuit.key, "calliper")
    most, bore = facts.value(limit), facts.value(circuit.bore)
    if read is None or most is None or bore is None:
        return
    about = (facts.slot("drift", circuit.key), facts.slot("drift_shut", circuit.key))
    unit = unit_of(facts, field, circuit.key)
    try:
        verdict = within(read.value, read.doubt, high=most)
        lost = leak(bore, max(read.value, 0.0), DRIFT_TIME, circuit.rams)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    working = (
        msg(
            "Leak = rams · area · sinking / time = {leak} in the 10 minutes.",
            leak=Amount(lost * DRIFT_TIME, Kind.VOLUME, "mL", both=True),
        ),
        doubt_said(Kind.LENGTH, read.doubt, unit),
    )
    say = {
        "place": verbatim(circuit.name),
        "read": Amount(read.value, Kind.LENGTH, unit, both=True),
        "limit": shown(limit),
    }
    if verdict is Verdict.IN_ORDER:
        says = msg("{place}: sinks {read} in 10 min, at most {limit}.", **say)
        yield Finding(verdict, about, says, None, working, limit.source)
        return
    says = msg("{place}: sinks {read} in 10 min, at most {limit}.", **say)
    todo = sinking(read, shut) or msg("Time it again over the full 10 minutes.")
    bars = FIELD_WORK if verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(verdict, about, says, todo, working, limit.source, bars)
