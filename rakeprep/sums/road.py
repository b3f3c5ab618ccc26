"""On the road: size against limits, lines overhead, how the axle follows; lifting off the truck."""

from __future__ import annotations

import math

from rakeprep.calculations import lifting, transport
from rakeprep.calculations.decision import Estimate
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, both, count, degrees, found, length, metres, mm
from rakeprep.sums.shape import Answer, Given, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind


def kilograms(value: float) -> Amount:
    """A mass in the working."""
    return at(value, Kind.MASS, "kg")


def in_degrees(angle: Estimate) -> Estimate:
    """An angle out of radians."""
    return Estimate(math.degrees(angle.value), math.degrees(angle.doubt))


# ---------------------------------------------------------------------- lifting


def fork(given: Given) -> Answer:
    """C2."""
    keys = ("rated", "rated-centre", "load-centre", "wheel-to-face")
    rated, rated_centre, centre, wheel = (given.number(key) for key in keys)
    capacity = lifting.fork_capacity(rated, rated_centre, centre, wheel)
    safe = lifting.round_down(capacity)
    results = [
        found("capacity", msg("capacity at this load centre"), capacity, given, Kind.MASS, "kg", "down"),
        found("write-down", msg("to write down"), safe, given, Kind.MASS, "kg", "down"),
    ]
    says = msg("An estimate: the truck's own plate wins, and a tilted or raised mast takes more off.")
    verdict = None
    if given.has("load"):
        held = lifting.may_lift(given.estimate("load"), safe)
        verdict, says = held.verdict, held.says
        results.append(found("spare", msg("what is left"), held.spare, given, Kind.MASS, "kg", "down"))
    working = (
        msg(
            "capacity = {rated} · ({standard} + {wheel}) / ({centre} + {wheel}).",
            rated=kilograms(rated),
            standard=mm(rated_centre),
            centre=mm(centre),
            wheel=mm(wheel),
        ),
    )
    return Answer(says, tuple(results), verdict, working)


def sling(given: Given) -> Answer:
    """C2."""
    mass = given.estimate("mass")
    if given.has("angle"):
        angle = math.radians(given.number("angle"))
    else:
        angle = lifting.sling_angle(given.number("leg"), given.number("spread"))
    load = spread(lambda m: lifting.sling_leg(m, angle), mass)
    results = (
        found("each", msg("load in each leg"), load, given, Kind.MASS, "kg", "up"),
        Result("angle", msg("legs from the vertical"), math.degrees(angle), Kind.ANGLE, "°"),
    )
    says = msg("Each leg carries {load}.", load=both(load.value, given, Kind.MASS, "kg", "up"))
    working = (
        msg(
            "leg = W / (2 · cos angle) = {mass} / (2 · cos {angle}).",
            mass=kilograms(mass.value),
            angle=degrees(math.degrees(angle)),
        ),
    )
    return Answer(says, results, None, working)


# ---------------------------------------------------------------------- size


def judged_size(over: Estimate, verdict: Verdict, given: Given, right: Message, wrong: Message) -> Answer:
    """A size against its limit."""
    results = (
        found("over", msg("over the limit; below zero is room left"), over, given, Kind.LENGTH, "mm", "up"),
    )
    unsure = msg("Too close to the limit to tell: measure again.")
    says = {Verdict.IN_ORDER: right, Verdict.MEASURE_AGAIN: unsure}.get(verdict, wrong)
    return Answer(says, results, verdict)


def size(given: Given) -> Answer:
    """C25."""
    read = given.estimate("size")
    judged = transport.against_limit(read, given.number("limit"))
    answer = judged_size(
        Estimate(judged.over, read.doubt),
        judged.verdict,
        given,
        msg("Within the limit."),
        msg("Over the limit by {over}.", over=both(judged.over, given, Kind.LENGTH, "mm", "up")),
    )
    limit = both(given.number("limit"), given, Kind.LENGTH, "m", "down")
    working = (msg("The limit is the largest allowed, so it is rounded down: {limit}.", limit=limit),)
    return Answer(answer.says, answer.results, answer.verdict, working)


def line(given: Given) -> Answer:
    """C25."""
    height = given.estimate("height")
    judged = transport.clear_to_line(height, given.number("line"), given.number("gap"))
    air = given.number("line") - height.value
    results = (
        found("air", msg("air left"), Estimate(air, height.doubt), given, Kind.LENGTH, "m", "down"),
        found(
            "missing",
            msg("missing to the gap; below zero is spare"),
            judged.over,
            given,
            Kind.LENGTH,
            "m",
            "up",
        ),
    )
    says = {
        Verdict.IN_ORDER: msg("It passes with the gap that must be left."),
        Verdict.MEASURE_AGAIN: msg("Too close to tell: measure again, and do not drive there."),
    }.get(judged.verdict, msg("Do not drive there: too little air is left."))
    working = (
        msg(
            "air = line − height = {line} − {height}.",
            line=metres(given.number("line")),
            height=metres(height.value),
        ),
        msg("The utility's own figure wins where it is larger."),
    )
    return Answer(says, results, judged.verdict, working)


# ---------------------------------------------------------------------- axle


def tracking(given: Given) -> Answer:
    """C21."""
    offset, parts = given.estimate("offset"), given.count("parts")
    long, arm, per_turn = (given.number(key) for key in ("length", "arm", "per-turn"))
    cure = transport.tracking(offset, long, arm, per_turn, parts)
    results = (
        Result("angle", msg("steer error"), math.degrees(cure.angle), Kind.ANGLE, "°"),
        found("rod", msg("change of the rod's length"), cure.rod_change, given, Kind.LENGTH, "mm"),
        Result("turns", msg("turns before rounding"), cure.turns, Kind.NUMBER, "1"),
        Result("steps", msg("parts of a turn"), cure.steps),
    )
    says = cure.says or msg(
        "Turn the rod {steps}/{parts} of a turn; which way is in the machine's data.",
        steps=cure.steps,
        parts=parts,
    )
    working = (
        msg(
            "angle = atan({offset} / {length}); rod = {arm} · tan(angle); turns = rod / {per_turn}.",
            offset=mm(offset.value),
            length=metres(long),
            arm=mm(arm),
            per_turn=mm(per_turn),
        ),
    )
    return Answer(says, results, None, working)


def off_track(given: Given) -> Answer:
    """C21."""
    long = given.number("length")
    off = spread(lambda a: transport.off_track(long, math.radians(a)), given.estimate("angle"))
    results = (found("offset", msg("beside the tractor's track"), off, given, Kind.LENGTH, "mm"),)
    says = msg("The axle runs {off} beside the track.", off=both(off.value, given, Kind.LENGTH, "mm"))
    working = (
        msg("L · tan(angle), L = {long}, angle = {a}.", long=metres(long), a=degrees(given.number("angle"))),
    )
    return Answer(says, results, None, working)


def crab(given: Given) -> Answer:
    """C22."""
    left, right, track = (given.estimate(key) for key in ("left", "right", "track"))
    angle = in_degrees(spread(transport.axle_crab, left, right, track))
    results = (
        found("angle", msg("off square, right side farther back above zero"), angle, given, Kind.ANGLE, "°"),
    )
    sure = abs(angle.value) > angle.doubt
    says = (
        msg("The axle is not square, or one arm is bent.")
        if sure
        else msg("The axle is square as far as these readings tell.")
    )
    working = (
        msg(
            "angle = asin((right − left) / track) = asin(({right} − {left}) / {track}).",
            right=mm(right.value),
            left=mm(left.value),
            track=mm(track.value),
        ),
    )
    return Answer(says, results, Verdict.PUT_RIGHT if sure else Verdict.IN_ORDER, working)


def toe(given: Given) -> Answer:
    """C22."""
    front, rear = given.estimate("front"), given.estimate("rear")
    doubt = max(front.doubt, rear.doubt)
    seen = transport.toe(front.value, rear.value, given.number("rim"), doubt, given.number("limit"))
    results = (
        found("toe-in", msg("toe-in; below zero is toe-out"), seen.toe_in, given, Kind.LENGTH, "mm"),
        Result("together", msg("angle between both wheels"), math.degrees(seen.together), Kind.ANGLE, "°"),
        Result("each", msg("angle of each wheel"), math.degrees(seen.each), Kind.ANGLE, "°"),
    )
    says = {
        Verdict.IN_ORDER: msg("The wheels run straight enough."),
        Verdict.MEASURE_AGAIN: msg(
            "Too close to the limit to tell: roll half a turn and read the same marks again."
        ),
    }.get(seen.verdict, msg("The toe is beyond its limit."))
    working = (msg("toe-in = rear − front = {rear} − {front}.", rear=mm(rear.value), front=mm(front.value)),)
    return Answer(says, results, seen.verdict, working)


GEOMETRY = msg("Geometry.")
SUMS = (
    Sum(
        "fork-capacity",
        msg("what a fork truck lifts at this load centre"),
        msg("The farther out the load, the less it lifts."),
        (
            amount("rated", msg("capacity on its plate"), Kind.MASS, "kg"),
            length("rated-centre", msg("load centre on its plate"), "500 mm"),
            length("load-centre", msg("centre of gravity of the load from the fork's face")),
            length("wheel-to-face", msg("front wheels to fork face"), "450 mm"),
            amount("load", msg("mass of the load, with ± if it is not sure"), Kind.MASS, "kg", optional=True),
        ),
        fork,
        {"rated": "2500kg", "load-centre": "900mm", "load": "1450kg"},
        msg("Level ground, mast upright; never more than the plate says."),
        msg("Moments about the front axle; 450 mm is common practice."),
    ),
    Sum(
        "sling-leg",
        msg("load in each leg of a two-leg sling"),
        msg("By the angle from the vertical, or by leg and spread."),
        (
            amount("mass", msg("mass of the load"), Kind.MASS, "kg"),
            amount("angle", msg("legs from the vertical"), Kind.ANGLE, "°", optional=True),
            length("leg", msg("length of a leg, where the angle is not given"), "2 m", unit="m"),
            length(
                "spread", msg("between the lifting points, where the angle is not given"), "2 m", unit="m"
            ),
        ),
        sling,
        {"mass": "1450kg", "angle": "45°"},
        msg("Up to 60° from the vertical; hook over the centre of gravity."),
        msg("Equilibrium of the hook; EN 818-4 for 60° (from memory)."),
    ),
    Sum(
        "transport-size",
        msg("transport width or height against the local limit"),
        msg("Limits come from the office's table for the country, never from memory."),
        (
            length("size", msg("measured width or height"), unit="m", instrument="width-tape"),
            length("limit", msg("largest size allowed"), unit="m"),
        ),
        size,
        {"size": "4.08m±0.01m", "limit": "4.00m"},
        msg("Sizes above zero."),
        msg("JCGM 106:2012, 8.3."),
    ),
    Sum(
        "line-clearance",
        msg("air left below an overhead line"),
        msg("Highest point of the machine against the lowest height of the line."),
        (
            length("height", msg("highest point of the machine"), unit="m", instrument="width-tape"),
            length("line", msg("lowest height of the line"), "5.2 m", unit="m"),
            length("gap", msg("air that must be left"), "0 m", unit="m"),
        ),
        line,
        {"height": "4.08m±0.01m"},
        msg("5.2 m is the least height of 11 and 33 kV lines in Great Britain; lines elsewhere differ."),
        msg("HSE AIS8."),
    ),
    Sum(
        "axle-tracking",
        msg("turns of the steering rod that bring the axle into the track"),
        msg("From how far its wheels run beside the tractor's."),
        (
            length("offset", msg("wheel tracks beside the tractor's"), instrument="tape"),
            length("length", msg("hitch pins to axle"), unit="m"),
            length("arm", msg("arm that the rod works on")),
            length("per-turn", msg("rod length per turn")),
            count("parts", msg("parts of a turn that can be set"), "4"),
        ),
        tracking,
        {"offset": "60mm", "length": "5.60m", "arm": "180mm", "per-turn": "1.5mm"},
        msg("Straight travel on level ground."),
        GEOMETRY,
    ),
    Sum(
        "off-track",
        msg("how far a steer error takes the axle off the track"),
        msg("Beside the tractor's track, at the axle."),
        (
            length("length", msg("hitch pins to axle"), unit="m"),
            amount("angle", msg("steer error"), Kind.ANGLE, "°"),
        ),
        off_track,
        {"length": "5.60m", "angle": "0.5°"},
        msg("Below a right angle."),
        GEOMETRY,
    ),
    Sum(
        "axle-square",
        msg("is the axle square to the machine"),
        msg("From the lengths hitch pin to hub, left and right."),
        (
            length("left", msg("hitch pin to left hub"), instrument="driveline-tape"),
            length("right", msg("hitch pin to right hub"), instrument="driveline-tape"),
            length("track", msg("hub to hub"), instrument="tape"),
        ),
        crab,
        {"left": "5598mm", "right": "5612mm", "track": "1900mm"},
        msg("Hitch far ahead of the axle."),
        GEOMETRY,
    ),
    Sum(
        "toe",
        msg("toe of two wheels"),
        msg("Between the rim edges at hub height, in front and behind."),
        (
            length("front", msg("between the rim edges in front"), instrument="tape"),
            length("rear", msg("between the rim edges behind"), instrument="tape"),
            length("rim", msg("diameter on which they were read")),
            length("limit", msg("toe that may stay"), "5 mm"),
        ),
        toe,
        {"front": "1842mm", "rear": "1851mm", "rim": "690mm"},
        msg("Roll half a turn and read the same marks again to take out the rims' runout."),
        msg("Geometry; decision by JCGM 106:2012, 8.3; ± 5 mm is a rule of thumb."),
    ),
)
