"""Before it runs: engine speed in the chosen gear, tip speed, travel per arm, work rate."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations.speed import PtoGear, engine_speed, rotor_speed, tip_speed, travel_per_arm
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field, Use
from rakeprep.model.finding import Finding
from rakeprep.model.tractor import PtoGear as TractorGear
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no
from rakeprep.steps._reading import LARGEST, SIDES, cannot_tell, shown
from rakeprep.steps._work_rate import planned_speed, rate_said, rate_working, windrow_said
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Amount, Kind

ENGINE_STEP = Fraction(25)  # 1/min, a tractor's dial shows no less
NO_RUN = frozenset({Use.PTO, Use.FIELD})


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """The gear, the label in the cab, and the plan of ground speed."""
    gear = chosen_gear(facts)
    try:
        if gear is not None:
            yield from gear_findings(facts, gear)
    except Impossible as reason:
        yield cannot_tell((facts.slot("pto_gear"),), reason)
    if "engine_label" in by_key:
        said = None if gear is None else label_said(facts, gear)
        yield from answered_no(
            facts,
            by_key["engine_label"],
            msg("The driver cannot see the engine speed for raking."),
            said or msg("Choose the PTO gear first, then write the engine speed where the driver sees it."),
        )
    yield from travel_findings(facts)
    yield from windrow_findings(facts)


def chosen_gear(facts: Facts) -> TractorGear | None:
    """The tractor's PTO gear that was chosen."""
    words = facts.chosen("pto_gear") or frozenset()
    return next((gear for gear in facts.tractor.pto if gear.key in words), None)


def as_gear(facts: Facts, gear: TractorGear) -> PtoGear | None:
    """The gear for sums; None while its values are in conflict."""
    engine, pto = facts.value(gear.engine), facts.value(gear.speed)
    return None if engine is None or pto is None else PtoGear(gear.key, engine, pto)


def rpm(value: float, toward: str = "nearest", dial: bool = False) -> Amount:
    """A speed of rotation for a sentence; ``dial`` rounds to what a tractor's dial shows."""
    return Amount(value, Kind.ROTATION, "rpm", step=ENGINE_STEP if dial else None, toward=toward)


def gear_findings(facts: Facts, gear: TractorGear) -> Iterator[Finding]:
    """A gear that can drive the gearbox beyond its rating is the wrong one, at any engine speed."""
    at, data = as_gear(facts, gear), facts.profile.settings
    working, ceiling = facts.value(data.working_speed), facts.value(data.speed_ceiling)
    rating, ratio = facts.value(data.gearbox_rating), facts.value(data.ratio)
    if at is None or working is None or ceiling is None or rating is None or ratio is None:
        return
    about = (facts.slot("pto_gear"),)
    wrong = at.pto > rating * (1 + 1e-9)
    rotor = rotor_speed(at.pto if wrong else working, ratio)
    tips = tip_speed(rotor, largest_circle(facts))
    say = {
        "gear": verbatim(gear.key),
        "pto": rpm(at.pto),
        "rating": shown(data.gearbox_rating),
        "working": shown(data.working_speed),
        "ceiling": shown(data.speed_ceiling),
        "rotor": rpm(rotor),
        "tips": Amount(tips, Kind.SPEED, "m/s", both=True),
        "engine": rpm(engine_speed(at, working), dial=True),
        "most": rpm(engine_speed(at, ceiling), "down", dial=True),
    }
    working_said = (
        msg(
            "Engine = {rated} · {working} / {pto} = {exact}; rotor {rotor}; tips π · D · n = {tips}.",
            rated=rpm(at.engine),
            exact=rpm(engine_speed(at, working)),
            **say,
        ),
    )
    if wrong:
        yield Finding(
            Verdict.STOP,
            about,
            msg(
                "PTO gear {gear} turns {pto}: the rotors {rotor}, the tine tips {tips}. The gearbox is "
                "rated for {rating}.",
                **say,
            ),
            msg("Engine off, key out, change the PTO gear; then choose here which one is in."),
            (),
            data.gearbox_rating.source,
            NO_RUN,
        )
        return
    yield Finding(
        Verdict.IN_ORDER,
        about,
        msg(
            "PTO gear {gear}: engine at {engine} for {working}, never above {most}, which is the ceiling of "
            "{ceiling}. Tine tips {tips}.",
            **say,
        ),
        None,
        working_said,
        data.working_speed.source,
    )


def largest_circle(facts: Facts) -> float:
    """Diameter of the larger tip circle [m]."""
    return max(facts.profile.rotor_at(side).tip_circle.value for side in SIDES)


def label_said(facts: Facts, gear: TractorGear) -> Message | None:
    """What has to stand in the cab."""
    at, data = as_gear(facts, gear), facts.profile.settings
    working, ceiling = facts.value(data.working_speed), facts.value(data.speed_ceiling)
    if at is None or working is None or ceiling is None:
        return None
    try:
        low, high = engine_speed(at, working), engine_speed(at, ceiling)
    except Impossible:
        return None
    return msg(
        "Write there: PTO gear {gear}, engine {engine}, never above {most}.",
        gear=verbatim(gear.key),
        engine=rpm(low, dial=True),
        most=rpm(high, "down", dial=True),
    )


def travel_findings(facts: Facts) -> Iterator[Finding]:
    """How far it goes from one arm to the next at the planned speed, and what that gets done."""
    if facts.entry("ground_speed") is None and not facts.chosen("pto_gear"):
        return
    about = (facts.slot("ground_speed"),)
    typed = facts.number("ground_speed")
    if typed is not None and not 0 < typed <= LARGEST:
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg("A ground speed lies above zero."),
            msg("Enter the speed that is planned in the field."),
        )
        return
    try:
        yield from sweep(facts)
    except Impossible as reason:
        yield cannot_tell(about, reason)
    said = rate_said(facts)
    if said is not None:
        yield Finding(Verdict.IN_ORDER, about, said, None, rate_working(facts))


def windrow_findings(facts: Facts) -> Iterator[Finding]:
    """What a crop of the yield expected leaves behind."""
    about = (facts.slot("yield_expected"), facts.slot("follower_rate"))
    try:
        said = windrow_said(facts)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    if said is not None:
        yield Finding(Verdict.IN_ORDER, about, said[0], None, (said[1],))


def sweep(facts: Facts) -> Iterator[Finding]:
    """Travel per arm against the longest that still sweeps clean."""
    data = facts.profile.settings
    limit, working = facts.value(data.largest_travel), facts.value(data.working_speed)
    ratio, speed = facts.value(data.ratio), planned_speed(facts)
    if data.largest_travel is None or limit is None or working is None or ratio is None or speed is None:
        return
    arms = min(facts.profile.rotor_at(side).arms for side in SIDES)
    rotor = rotor_speed(working, ratio)
    travel = travel_per_arm(speed, rotor, arms)
    unit = data.ground_speed.typed.unit
    say = {
        "speed": Amount(speed, Kind.SPEED, unit, both=True),
        "travel": Amount(travel, Kind.LENGTH, data.largest_travel.typed.unit, toward="up", both=True),
        "limit": shown(data.largest_travel),
        "slow": Amount(speed * limit / travel, Kind.SPEED, unit, toward="down", both=True),
        "working": shown(data.working_speed),
    }
    right = travel <= limit * (1 + 1e-9)
    yield Finding(
        Verdict.IN_ORDER if right else Verdict.PUT_RIGHT,
        (facts.slot("ground_speed"),),
        msg("At {speed} it goes {travel} from arm to arm, {limit} at most: a clean sweep.", **say)
        if right
        else msg("At {speed} it goes {travel} from arm to arm; more than {limit} leaves strips.", **say),
        None
        if right
        else msg("Drive {slow} or slower. Do not raise the PTO speed for it: {working} stays.", **say),
        (
            msg(
                "Travel = v / (n · N) with {arms} arms at {rotor}: {travel}.",
                arms=arms,
                rotor=rpm(rotor),
                **say,
            ),
        ),
        data.largest_travel.source,
    )
