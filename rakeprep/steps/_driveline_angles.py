"""What turn and joint angles say: readings off the pivot's curve, the wide-angle end, and how it shakes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.driveline import Height, Turn
from rakeprep.calculations.joints import WideEnd, double_irregularity, irregularity, wide_angle_end
from rakeprep.calculations.pivot_fit import OFF_LIMIT, Distance, PivotFit, fit_pivot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.verdict import Verdict
from rakeprep.steps._driveline_fit import ENDS, PTO
from rakeprep.steps._driveline_read import TAPE
from rakeprep.steps._judged import doubt_said
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, shown, standard
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

LOCKS = (
    Place("left", msg("full left"), "driveline"),
    Place("right", msg("full right"), "driveline"),
)
SHARPEST = 150.0  # °, rule of thumb: no rake follows a tractor further round
FITTED = {"tractor": WideEnd.TRACTOR, "machine": WideEnd.MACHINE, "no-wide": WideEnd.NONE}
JOINT_THEORY = standard(msg("theory of the Hooke joint"), msg("any textbook on the theory of machines"))


def fields() -> tuple[Field, ...]:
    """The angle between tractor and machine at full lock, where somebody wants the distances checked."""
    return (
        Field(
            "turn_angle",
            msg("Angle of tractor to machine"),
            Ask.QUANTITY,
            msg(
                "At full lock, engine off, key out: two laths on the floor, one along each, and a protractor "
                "or digital level laid between. Usual: 50 to 80°. It finds a distance that was misread."
            ),
            LOCKS,
            Kind.ANGLE,
            "°",
            need=Need.MAY,
            rests_on=("tractor",),
        ),
    )


def findings(
    facts: Facts, nine: Mapping[str, tuple[Turn, Height]], places: tuple[Place, ...]
) -> Iterable[Finding]:
    """Distances off the curve, the wide-angle end by the angles, and the swing of the speed."""
    names = {place.key: place.name for place in places}
    yield from curve_findings(facts, nine, names)
    yield from joint_findings(facts)


def turn_of(facts: Facts, turn: Turn) -> float | None:
    """The turn in radians, left below zero; None where it was not measured."""
    if turn is Turn.STRAIGHT:
        return 0.0
    side = "left" if turn is Turn.LEFT else "right"
    read = reading(facts, "turn_angle", side, "digital-level")
    if read is None or not 0 < read.value <= SHARPEST:
        return None
    return math.radians(-read.value if turn is Turn.LEFT else read.value)


def curve_findings(
    facts: Facts, nine: Mapping[str, tuple[Turn, Height]], names: Mapping[str, Message]
) -> Iterable[Finding]:
    """Distances that do not lie on the curve of all the others, by name."""
    if turn_of(facts, Turn.LEFT) is None and turn_of(facts, Turn.RIGHT) is None:
        return
    read: dict[str, Distance] = {}
    for key, (turn, _) in nine.items():
        length, angle = reading(facts, "distance", key, TAPE), turn_of(facts, turn)
        if length is not None and angle is not None:
            read[key] = Distance(angle, length.value)
    turns = {each.turn for each in read.values()}
    if len(turns) < 3:
        return
    about = tuple(facts.slot("distance", key) for key in read)
    try:
        fit = fit_pivot(list(read.values()))
    except Impossible as reason:
        yield cannot_tell((*about, facts.slot("turn_angle", "left")), reason)
        return
    yield from fit_findings(facts, fit, list(read), names)


def small(facts: Facts, value: float) -> Amount:
    """A departure in the unit of the shaft's data."""
    typed = facts.profile.driveline.closed.typed
    return Amount(abs(value), Kind.LENGTH, "mm" if typed.unit in {"m", "cm"} else typed.unit)


def fit_findings(
    facts: Facts, fit: PivotFit, keys: list[str], names: Mapping[str, Message]
) -> Iterable[Finding]:
    """One finding for each distance off the curve, or one that all of them fit."""
    limit = rule_of_thumb(msg("a distance more than 15 mm off the curve of the others is read again"))
    working = [
        msg(
            "D² = (s + q·cos t)² + (q·sin t + y₀)² through {count} distances; scatter {sd}, limit {limit}.",
            count=len(keys),
            sd=small(facts, fit.sd),
            limit=small(facts, OFF_LIMIT),
        )
    ]
    for at in fit.off:
        say = {"place": names[keys[at]], "off": small(facts, fit.departures[at])}
        if len(fit.off) == 1:
            says = msg("{place}: this distance lies {off} off the curve of all the others.", **say)
        else:
            says = msg("{place}: the distances do not lie on one curve; this may be the wrong one.", **say)
        yield Finding(
            Verdict.MEASURE_AGAIN,
            (facts.slot("distance", keys[at]), facts.slot("turn_angle", "left")),
            says,
            msg("Read this place again before anything is cut: groove to groove, a second person blind."),
            tuple(working),
            limit,
        )
    if fit.off:
        return
    worst = max(abs(each) for each in fit.departures)
    if fit.pivot is None and fit.says is not None:
        working.append(fit.says)
    yield Finding(
        Verdict.IN_ORDER,
        tuple(facts.slot("turn_angle", side.key) for side in LOCKS),
        msg("All distances lie on one curve, none more than {off} beside it.", off=small(facts, worst)),
        None,
        tuple(working),
        limit,
    )


def joint_findings(facts: Facts) -> Iterable[Finding]:
    """Where the wide-angle joint belongs by the angles measured, and how uneven the speed gets."""
    tractor, machine = (reading(facts, "angle", end.key, "digital-level") for end in ENDS)
    plain = facts.value(facts.profile.driveline.plain_joint)
    if tractor is None or machine is None or plain is None:
        return
    about = (facts.slot("wide_angle_end"), *(facts.slot("angle", end.key) for end in ENDS))
    try:
        placed = placement(facts, tractor, machine, plain)
        yield placed
        if placed.verdict is Verdict.IN_ORDER:
            yield from swing(facts, tractor, machine)
    except Impossible as reason:
        yield cannot_tell((*about[1:], about[0]), reason)


def in_radians(angle: Estimate) -> Estimate:
    """An angle of the record for the sums."""
    return Estimate(math.radians(angle.value), math.radians(angle.doubt))


def fitted(facts: Facts) -> WideEnd | None:
    """Where the wide-angle joint was seen."""
    chosen = facts.chosen("wide_angle_end") or frozenset()
    return next((end for key, end in FITTED.items() if key in chosen), None)


def placement(facts: Facts, tractor: Estimate, machine: Estimate, plain: float) -> Finding:
    """The end at which the wide-angle joint belongs by the angles."""
    advice = wide_angle_end(in_radians(tractor), in_radians(machine), math.radians(plain), fitted(facts))
    say = {
        "tractor": Amount(tractor.value, Kind.ANGLE, "°"),
        "machine": Amount(machine.value, Kind.ANGLE, "°"),
        "limit": shown(facts.profile.driveline.plain_joint),
    }
    says = msg("{tractor} at the tractor, {machine} at the machine: {advice}", advice=advice.says, **say)
    # where neither end will do, limits of the joints themselves decide about the danger
    wrong = advice.verdict in {Verdict.PUT_RIGHT, Verdict.STOP}
    todo = {
        WideEnd.UNSURE: msg("Measure both angles again at the worst place."),
        WideEnd.BOTH: msg("Limit the steering lock or the lift, or ask for a shaft with two wide joints."),
    }.get(advice.end, msg("Fit the shaft that way round, or limit the turn; then measure both angles again."))
    return Finding(
        Verdict.PUT_RIGHT if wrong else advice.verdict,
        (facts.slot("wide_angle_end"), *(facts.slot("angle", end.key) for end in ENDS)),
        says,
        None if advice.verdict is Verdict.IN_ORDER else todo,
        (
            msg("A plain joint may bend {limit}; the wide one goes where it bends most.", **say),
            doubt_said(Kind.ANGLE, max(tractor.doubt, machine.doubt), "°"),
        ),
        facts.profile.driveline.plain_joint.source,
        PTO if wrong else frozenset(),
    )


def swing(facts: Facts, tractor: Estimate, machine: Estimate) -> Iterable[Finding]:
    """How much the machine's speed swings in each turn at these angles; a wide-angle joint runs even."""
    end = fitted(facts)
    if end is None:
        return
    about = (facts.slot("angle", "tractor"), facts.slot("angle", "machine"))
    one, other = math.radians(tractor.value), math.radians(machine.value)
    if end is WideEnd.NONE:
        even, out = double_irregularity(one, other), double_irregularity(one, other, phased=False)
        says = msg(
            "At these angles the speed swings by {even} in each turn; with the yokes out of line by {out}.",
            even=share(even),
            out=share(out),
        )
        working = (msg("k = cos β₁ / cos β₂ in line, cos β₁ · cos β₂ a quarter turn out; U = 1/k − k."),)
    else:
        bent = other if end is WideEnd.TRACTOR else one
        says = msg(
            "The plain joint at {angle} makes the speed swing by {even} in each turn: at work keep it small.",
            angle=Amount(math.degrees(bent), Kind.ANGLE, "°"),
            even=share(irregularity(bent)),
        )
        working = (msg("U = tan β · sin β of the plain joint alone; the wide-angle joint runs even."),)
    yield Finding(Verdict.IN_ORDER, about, says, None, working, JOINT_THEORY)


def share(value: float) -> Amount:
    """A swing of the speed, to the worse side."""
    return Amount(value, Kind.RATIO, "%", toward="up")
