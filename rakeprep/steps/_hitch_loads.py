"""What the machine does to the tractor's axles and to its lift, worked out from both data files."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rakeprep.calculations import Impossible
from rakeprep.calculations.axle_loads import (
    EmptyTractor,
    axle_loads,
    front_ballast,
    hitch_load,
    lift_needed,
    weighed_hitch_load,
)
from rakeprep.calculations.decision import Estimate, agree, propagate, within
from rakeprep.calculations.instruments import half_width
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no, sane
from rakeprep.steps._reading import cannot_tell, reading, shown
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

NOT_SAFE = frozenset({Use.ROAD, Use.FIELD})
STEP_OF_BALLAST = 50  # kg, ballast comes in plates


@dataclass(frozen=True, slots=True)
class Case:
    """Everything the sums need, in kilograms and metres; ``ahead`` is None where nobody knows it."""

    tractor: EmptyTractor
    load: float
    behind: float
    ballast: float
    ahead: float | None
    share: float
    reserve: float

    @property
    def lever(self) -> float:
        """How far ahead of the front axle the ballast sits; straight above it if nobody knows."""
        return 0.0 if self.ahead is None else self.ahead


def fields() -> tuple[Field, ...]:
    """The questions about loads."""
    return (
        Field(
            "axle_loads_seen",
            msg("Front axle and lift looked at"),
            Ask.CHOICE,
            msg("Yes when the numbers below were looked at and the ballast they ask for is fitted."),
            options=YES_NO,
            bars=NOT_SAFE,
            rests_on=("tractor",),
        ),
        Field(
            "ballast",
            msg("Front ballast fitted"),
            Ask.QUANTITY,
            msg("Extra weights at the front that are not in the tractor's data; their mass is cast on them."),
            kind=Kind.MASS,
            unit="kg",
            need=Need.MAY,
            rests_on=("tractor",),
        ),
        Field(
            "front_weighed",
            msg("Front axle with machine, weighed"),
            Ask.QUANTITY,
            msg("Weighbridge, machine coupled and raised for the road, driver in the seat."),
            kind=Kind.MASS,
            unit="kg",
            need=Need.MAY,
            instrument="weighbridge",
            rests_on=("tractor", "hitch.ballast"),
        ),
        Field(
            "both_weighed",
            msg("Tractor with machine, both axles"),
            Ask.QUANTITY,
            msg("Both tractor axles on the weighbridge, the machine's own axle beside it."),
            kind=Kind.MASS,
            unit="kg",
            need=Need.MAY,
            instrument="weighbridge",
            rests_on=("tractor", "hitch.ballast"),
        ),
    )


def kilograms(value: float, toward: str = "nearest") -> Amount:
    """A mass for a sentence, in both families of units."""
    return Amount(value, Kind.MASS, "kg", toward=toward, both=True)


def case(facts: Facts) -> Case | None:
    """The values of both data files; None while one of them is in conflict."""
    machine, hitch, tractor = facts.profile.machine, facts.profile.hitch, facts.tractor.tractor
    wanted: tuple[Sourced, ...] = (
        machine.mass,
        machine.pins_to_axle,
        machine.centre_of_gravity,
        tractor.front_axle,
        tractor.rear_axle,
        tractor.wheelbase,
        tractor.links_behind_axle,
        hitch.front_axle_share,
        hitch.lift_reserve,
    )
    values = [facts.value(each) for each in wanted]
    known = [value for value in values if value is not None]
    if len(known) < len(values):
        return None
    mass, length, gravity, front, rear, base, behind, share, reserve = known
    ballast = sane(facts, "ballast") or 0.0
    return Case(
        EmptyTractor(front, rear, base),
        hitch_load(mass, length, gravity),
        behind,
        max(ballast, 0.0),
        facts.value(tractor.ballast_ahead),
        share,
        reserve,
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge front axle, axle limits, lift, and the weighbridge against the sums."""
    about = (facts.slot("axle_loads_seen"), facts.slot("ballast"))
    yield from answered_no(
        facts,
        by_key["axle_loads_seen"],
        msg("Front axle and lift have not been settled."),
        msg("Look at the numbers below; fit ballast, or take another tractor."),
        bars=NOT_SAFE,
    )
    try:
        known = case(facts)
        if known is None:
            return
        yield front_finding(facts, known)
        yield from limit_findings(facts, known)
        yield lift_finding(facts, known)
        yield from weighed_findings(facts, known)
    except Impossible as reason:
        yield cannot_tell(about, reason)


def front_finding(facts: Facts, known: Case) -> Finding:
    """Whether enough stays on the front axle to steer; the doubt is that of the scale it was weighed on."""
    about = (facts.slot("axle_loads_seen"), facts.slot("ballast"))
    empty = known.tractor
    loads = axle_loads(empty, known.load, known.behind, known.ballast, known.lever)

    def spare(front: float, rear: float) -> float:
        other = EmptyTractor(front, rear, empty.wheelbase)
        loaded = axle_loads(other, known.load, known.behind, known.ballast, known.lever)
        return loaded.front - known.share * other.mass

    weighed = [Estimate(mass, half_width("weighbridge", mass)) for mass in (empty.front, empty.rear)]
    margin = propagate(spare, weighed)
    verdict = within(margin.value, margin.doubt, low=0.0)
    least = known.share * empty.mass
    say = {
        "front": kilograms(loads.front, "down"),
        "rear": kilograms(loads.rear, "up"),
        "least": kilograms(least, "up"),
        "load": kilograms(known.load),
        "share": Amount(loads.front_share, Kind.RATIO, "%", toward="down"),
    }
    working = (
        msg("Load on the hitch G = m (L − x) / L = {load}.", **say),
        msg("Front = empty + ballast (a + b) / b − G c / b = {front}, {share} of the tractor.", **say),
        msg("At least {least}. Doubt of the scale: ± {doubt}.", **say, doubt=kilograms(margin.doubt, "up")),
    )
    source = facts.profile.hitch.front_axle_share.source
    if verdict is Verdict.IN_ORDER:
        says = msg("Front axle {front}, rear axle {rear} with the machine; at least {least} in front.", **say)
        return Finding(verdict, about, says, None, working, source)
    if verdict is Verdict.MEASURE_AGAIN:
        says = msg("Front axle {front} by the sums; too close to {least} to tell.", **say)
        todo = msg("Weigh the front axle with the machine raised, or fit some more ballast.")
        return Finding(verdict, about, says, todo, working, source)
    says = msg("Only {front} stay on the front axle; at least {least} are needed to steer.", **say)
    return Finding(verdict, about, says, ballast_advice(facts, known), working, source, NOT_SAFE)


def ballast_advice(facts: Facts, known: Case) -> Message:
    """How much ballast it takes, where the tractor data say where it hangs."""
    if known.ahead is None:
        return msg("Fit front ballast and weigh; the tractor data do not say where it hangs.")
    need = front_ballast(known.tractor, known.load, known.behind, known.ahead, known.share)
    whole = Amount(need, Kind.MASS, "kg", toward="up", both=True)
    plates = Amount(-(-need // STEP_OF_BALLAST) * STEP_OF_BALLAST, Kind.MASS, "kg")
    say = {"need": whole, "plates": plates}
    return msg("Fit front ballast of at least {need}, so {plates}, or take another tractor.", **say)


def limit_findings(facts: Facts, known: Case) -> Iterable[Finding]:
    """Hold both axles against what the tractor allows."""
    loads = axle_loads(known.tractor, known.load, known.behind, known.ballast, known.lever)
    tractor = facts.tractor.tractor
    axles = (
        (msg("front axle"), loads.front, tractor.max_front_axle),
        (msg("rear axle"), loads.rear, tractor.max_rear_axle),
    )
    about = (facts.slot("axle_loads_seen"), facts.slot("ballast"))
    for name, load, allowed in axles:
        most = facts.value(allowed)
        if most is None or allowed is None or load <= most:
            continue
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg(
                "Tractor's {axle}: {load} with the machine, allowed are {most}.",
                axle=name,
                load=kilograms(load, "up"),
                most=shown(allowed, both=True),
            ),
            msg("Take ballast off where it is not needed, or take another tractor."),
            source=allowed.source,
            bars=NOT_SAFE,
        )


def lift_finding(facts: Facts, known: Case) -> Finding:
    """Whether the tractor lifts the machine with reserve, at the hitch points."""
    about = (facts.slot("axle_loads_seen"),)
    capacity = facts.tractor.tractor.lift_capacity
    can, need = facts.value(capacity), lift_needed(known.load, known.reserve)
    source = facts.profile.hitch.lift_reserve.source
    say = {"need": kilograms(need, "up"), "can": shown(capacity, both=True), "load": kilograms(known.load)}
    working = (msg("Needed = {load} × reserve = {need}, at the lower hitch points.", **say),)
    if can is None:
        says = msg("The tractor's lift capacity is in conflict.")
        return Finding(Verdict.NOT_YET, about, says, None, working)
    if can >= need:
        says = msg("Lift: {need} needed, the tractor has {can}.", **say)
        return Finding(Verdict.IN_ORDER, about, says, None, working, source)
    says = msg("Lift: {need} needed with reserve, the tractor has only {can}.", **say)
    return Finding(Verdict.PUT_RIGHT, about, says, msg("Take another tractor."), working, source, NOT_SAFE)


def weighed_findings(facts: Facts, known: Case) -> Iterable[Finding]:
    """What the weighbridge says: it decides about the front axle, and it checks the sums."""
    front, both = (reading(facts, key, "", "weighbridge") for key in ("front_weighed", "both_weighed"))
    if front is not None:
        least = known.share * known.tractor.mass
        verdict = within(front.value, front.doubt, low=least)
        say = {"front": kilograms(front.value), "least": kilograms(least, "up")}
        sentence = {
            Verdict.IN_ORDER: msg("Weighed: {front} on the front axle, at least {least}.", **say),
            Verdict.MEASURE_AGAIN: msg("Weighed: {front} is too close to {least} to tell.", **say),
            Verdict.PUT_RIGHT: msg("Weighed: only {front} on the front axle, {least} are needed.", **say),
        }[verdict]
        right = verdict is Verdict.IN_ORDER
        todo = None if right else msg("Fit more ballast in front and weigh again.")
        bars = NOT_SAFE if verdict is Verdict.PUT_RIGHT else frozenset()
        source = facts.profile.hitch.front_axle_share.source
        yield Finding(verdict, (facts.slot("front_weighed"),), sentence, todo, (), source, bars)
    if both is not None:
        yield hitch_load_finding(facts, known, both)


def hitch_load_finding(facts: Facts, known: Case, both: Estimate) -> Finding:
    """The hitch load by difference of two weighings against the one worked out."""
    about = (facts.slot("both_weighed"), facts.slot("ballast"))
    empty = Estimate(known.tractor.mass + known.ballast, half_width("weighbridge", known.tractor.mass))
    measured = weighed_hitch_load(both, empty)
    say = {
        "measured": Amount(measured.value, Kind.MASS, "kg", doubt=measured.doubt),
        "worked": kilograms(known.load),
        "both": Amount(both.value, Kind.MASS, "kg", doubt=both.doubt),
        "empty": Amount(empty.value, Kind.MASS, "kg", doubt=empty.doubt),
    }
    working = (
        msg("Weighed with machine {both} less tractor and ballast {empty} = {measured}.", **say),
        msg("Worked out from mass and centre of gravity: G = m (L − x) / L = {worked}.", **say),
    )
    if agree(measured, Estimate(known.load, 0.0)):
        says = msg("Weighed hitch load {measured} agrees with {worked} from the data.", **say)
        return Finding(Verdict.IN_ORDER, about, says, None, working)
    says = msg("Weighed hitch load {measured}, from the data {worked}: one of them is wrong.", **say)
    todo = msg("Look at mass and centre of gravity in the machine data, and weigh again.")
    return Finding(Verdict.MEASURE_AGAIN, about, says, todo, working)
