"""The transport axle: whether it follows the tractor, stands square, and its wheels run parallel."""

from __future__ import annotations

import math
from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate, propagate
from rakeprep.calculations.transport import axle_crab, toe, tracking
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile, Side, Wheel
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import SIDES, cannot_tell, reading, shown
from rakeprep.text import Message, msg, plural
from rakeprep.units import Amount, Kind

ROAD = frozenset({Use.ROAD})
AXLE = Place("", msg("transport axle"), "axle")
HUBS = (
    Place("left", msg("left hub of the transport axle"), "axle"),
    Place("right", msg("right hub of the transport axle"), "axle"),
)
QUARTERS = 4


def axle_wheels(profile: Profile) -> tuple[Wheel, ...]:
    """The wheels that belong to no rotor."""
    return tuple(wheel for wheel in profile.wheel if wheel.rotor is Side.NEITHER)


def length_field(key: str, label: Message, text: Message, need: Need, *places: Place) -> Field:
    """A length measured on the axle with a tape."""
    rests_on = ("tyres.pressure_set",) if need is Need.OPEN else ()
    return Field(
        key,
        label,
        Ask.QUANTITY,
        text,
        places or (AXLE,),
        Kind.LENGTH,
        "mm",
        need=need,
        bars=ROAD if need is Need.OPEN else frozenset(),
        instrument="tape",
        rests_on=rests_on,
    )


def axle_fields(profile: Profile) -> tuple[Field, ...]:
    """The questions about the axle, if the machine has one."""
    if not axle_wheels(profile):
        return ()
    follows = Field(
        "follows",
        msg("Axle steers right, both ways alike"),
        Ask.CHOICE,
        msg("Nobody behind. Slowly full left and full right: the axle follows, as far on either side."),
        (AXLE,),
        options=YES_NO,
        bars=ROAD,
    )
    offset = length_field(
        "offset",
        msg("Axle's track beside the tractor's"),
        msg("Drive 20 m straight on wet concrete, stop, get down and measure. To the right is plus."),
        Need.OPEN,
    )
    steering_arm = length_field(
        "steering_arm",
        msg("Steering arm, pivot to rod"),
        msg("Only needed to work out turns of the rod: straight from the pivot to the rod's bolt."),
        Need.MAY,
    )
    rod = length_field(
        "rod_per_turn",
        msg("Rod length for one turn"),
        msg("The pitch of its thread, or both pitches together where it has a left and a right thread."),
        Need.MAY,
    )
    front = length_field(
        "toe_front",
        msg("Rim edge to rim edge, in front"),
        msg("At hub height. Mark both places with chalk; they are read again behind."),
        Need.OPEN,
    )
    rear = length_field(
        "toe_rear",
        msg("Rim edge to rim edge, behind"),
        msg("Roll half a turn and read the same marks, again at hub height."),
        Need.OPEN,
    )
    hub = length_field(
        "hub_length",
        msg("Hitch pin to hub"),
        msg("From the middle of the hitch straight to the middle of the hub, tape tight and level."),
        Need.MAY,
        *HUBS,
    )
    return (follows, offset, steering_arm, rod, front, rear, hub)


def axle_findings(facts: Facts) -> Iterable[Finding]:
    """Judge tracking, squareness and toe."""
    if not axle_wheels(facts.profile):
        return
    for judge, about in (
        (tracking_findings, (facts.slot("offset"),)),
        (crab_findings, tuple(facts.slot("hub_length", side.value) for side in SIDES)),
        (toe_findings, (facts.slot("toe_rear"), facts.slot("toe_front"))),
    ):
        try:
            yield from judge(facts, about)
        except Impossible as reason:
            yield cannot_tell(about, reason)


def said(
    verdict: Verdict,
    about: tuple[Slot, ...],
    says: dict[Verdict, Message],
    todo: dict[Verdict, Message],
    working: tuple[Message, ...],
    limit: Sourced,
) -> Finding:
    """A finding on the axle, which bars the road only while something is wrong."""
    bars = ROAD if verdict is Verdict.PUT_RIGHT else frozenset[Use]()
    return Finding(verdict, about, says[verdict], todo.get(verdict), working, limit.source, bars)


def unit_at(facts: Facts, field: str, place: str = "") -> str:
    """The unit that was typed."""
    entry = facts.entry(field, place)
    return entry.unit if entry is not None and entry.unit in {"mm", "cm", "m", "in", "ft"} else "mm"


def tracking_findings(facts: Facts, about: tuple[Slot, ...]) -> Iterable[Finding]:
    """How far the axle runs beside the tractor's track, and the turns of the rod."""
    offset = reading(facts, "offset", "", "tape")
    limit = facts.profile.levelling.track_tolerance
    most, length = facts.value(limit), facts.value(facts.profile.machine.pins_to_axle)
    if offset is None or most is None or length is None:
        return
    angle = math.degrees(tracking(offset, length, 1.0, 1.0).angle)
    doubt = math.degrees(tracking(Estimate(offset.doubt, 0.0), length, 1.0, 1.0).angle)
    say = {
        "offset": Amount(abs(offset.value), Kind.LENGTH, unit_at(facts, "offset"), doubt=offset.doubt),
        "angle": Amount(abs(angle), Kind.ANGLE, "°", doubt=doubt),
        "limit": shown(limit),
        "length": shown(facts.profile.machine.pins_to_axle),
    }
    if offset.value > 0:
        wrong = msg("The axle runs {offset} to the right of the tractor: a steering error of {angle}.", **say)
    else:
        wrong = msg("The axle runs {offset} to the left of the tractor: a steering error of {angle}.", **say)
    says = {
        Verdict.IN_ORDER: msg("The axle follows the tractor: a steering error of {angle}.", **say),
        Verdict.MEASURE_AGAIN: msg("A steering error of {angle} is too close to {limit} to tell.", **say),
        Verdict.PUT_RIGHT: wrong,
    }
    todo = {
        Verdict.MEASURE_AGAIN: msg("Drive the 20 m again and measure further along."),
        Verdict.PUT_RIGHT: rod_advice(facts, offset, length),
    }
    working = (msg("Error = atan(offset / {length}) = {angle}; allowed {limit}.", **say),)
    yield said(Estimate(angle, doubt).within(-most, most), about, says, todo, working, limit)


def rod_advice(facts: Facts, offset: Estimate, length: float) -> Message:
    """Quarter turns of the steering rod, where its arm and thread are known."""
    arm = reading(facts, "steering_arm", "", "tape")
    per_turn = reading(facts, "rod_per_turn", "", "tape")
    if arm is None or per_turn is None or arm.value <= 0 or per_turn.value <= 0:
        return msg(
            "One rod at a time: turn it by a quarter, drive the 20 m again, and see how much that changed. "
            "With the steering arm and the rod's thread measured, the turns are worked out here."
        )
    cure = tracking(offset, length, arm.value, per_turn.value, QUARTERS)
    if cure.says is not None:
        return cure.says
    return plural(
        "Turn the steering rod by {count} quarter turn ({change} of length) and drive the 20 m "
        "again. If it got worse, turn back twice as far.",
        "Turn the steering rod by {count} quarter turns ({change} of length) and drive the 20 m "
        "again. If it got worse, turn back twice as far.",
        abs(cure.steps),
        change=Amount(abs(cure.rod_change), Kind.LENGTH, unit_at(facts, "rod_per_turn")),
    )


def crab_findings(facts: Facts, about: tuple[Slot, ...]) -> Iterable[Finding]:
    """Whether the axle stands square behind the hitch."""
    left, right = (reading(facts, "hub_length", side.value, "tape") for side in SIDES)
    limit = facts.profile.levelling.track_tolerance
    most = facts.value(limit)
    sides = [facts.value(wheel.right_of_middle) for wheel in axle_wheels(facts.profile)]
    known = [each for each in sides if each is not None]
    if left is None or right is None or most is None or len(known) < 2:
        return
    track = max(known) - min(known)

    def crab(to_left: float, to_right: float) -> float:
        return math.degrees(axle_crab(to_left, to_right, track))

    angle = propagate(crab, [left, right])
    unit = unit_at(facts, "hub_length", "left")
    say = {
        "apart": Amount(abs(right.value - left.value), Kind.LENGTH, unit),
        "angle": Amount(abs(angle.value), Kind.ANGLE, "°", doubt=angle.doubt),
        "limit": shown(limit),
        "track": Amount(track, Kind.LENGTH, unit),
    }
    if angle.value > 0:
        wrong = msg("The axle is not square: the right hub lies {apart} farther back, {angle}.", **say)
    else:
        wrong = msg("The axle is not square: the left hub lies {apart} farther back, {angle}.", **say)
    says = {
        Verdict.IN_ORDER: msg("The axle stands square: {angle}.", **say),
        Verdict.MEASURE_AGAIN: msg("The axle is {angle} out of square; too close to {limit} to tell.", **say),
        Verdict.PUT_RIGHT: wrong,
    }
    todo = {
        Verdict.MEASURE_AGAIN: msg("Measure both lengths once more, tape tight, the same two points."),
        Verdict.PUT_RIGHT: msg(
            "Look at pins and seats of the axle and for a bent arm before touching the rod."
        ),
    }
    working = (msg("Angle = asin({apart} / {track}) = {angle}; allowed {limit}.", **say),)
    yield said(angle.within(-most, most), about, says, todo, working, limit)


def toe_findings(facts: Facts, about: tuple[Slot, ...]) -> Iterable[Finding]:
    """Whether the two wheels run parallel."""
    front = reading(facts, "toe_front", "", "tape")
    rear = reading(facts, "toe_rear", "", "tape")
    limit = facts.profile.levelling.toe_tolerance
    most = facts.value(limit)
    rim = facts.value(facts.profile.tyre_of(axle_wheels(facts.profile)[0]).diameter)
    if front is None or rear is None or most is None or rim is None:
        return
    found = toe(front.value, rear.value, rim, max(front.doubt, rear.doubt), most)
    unit = unit_at(facts, "toe_rear")
    say = {
        "toe": Amount(abs(found.toe_in.value), Kind.LENGTH, unit, doubt=found.toe_in.doubt),
        "limit": shown(limit),
    }
    if found.toe_in.value > 0:
        wrong = msg("The axle's wheels stand {toe} toed in; at most {limit} may be.", **say)
    else:
        wrong = msg("The axle's wheels stand {toe} toed out; at most {limit} may be.", **say)
    says = {
        Verdict.IN_ORDER: msg("The axle's wheels run parallel within {toe}.", **say),
        Verdict.MEASURE_AGAIN: msg("Toe of {toe} is too close to {limit} to tell.", **say),
        Verdict.PUT_RIGHT: wrong,
    }
    todo = {
        Verdict.MEASURE_AGAIN: msg("Roll half a turn and read the same marks in front and behind again."),
        Verdict.PUT_RIGHT: msg("Look for a bent axle end or a loose hub, then set the toe as the book says."),
    }
    working = (msg("Toe-in = behind − in front = {toe}; allowed ± {limit}.", **say),)
    yield said(found.verdict, about, says, todo, working, limit)
