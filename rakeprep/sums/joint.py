"""Joints of the driveline: the pivot curve, speed swing, shake."""

from __future__ import annotations

import math

from rakeprep.calculations import joints
from rakeprep.calculations.decision import Estimate
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, choice, degrees, found, length, mm, yes_no
from rakeprep.sums.shaft import tape
from rakeprep.sums.shape import Answer, Choice, Given, Input, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, msg
from rakeprep.units import Kind


def pivot(given: Given) -> Answer:
    """C9, the curve of one pivot."""
    others = [given.number(key) for key in ("front", "rear", "sideways", "upward")]
    turn = math.radians(given.number("turn"))
    distance = joints.pivot_distance(turn, *others)
    at_tractor, at_machine = joints.pivot_angles(turn, *others)
    results = [
        found("distance", msg("groove to groove"), distance, given, Kind.LENGTH, "mm"),
        Result(
            "tractor", msg("angle of the joint at the tractor"), math.degrees(at_tractor), Kind.ANGLE, "°"
        ),
        Result(
            "machine", msg("angle of the joint at the machine"), math.degrees(at_machine), Kind.ANGLE, "°"
        ),
    ]
    verdict = None
    says = msg("A check of readings: real hitches have more than one pivot.")
    if given.has("measured"):
        read = given.estimate("measured")
        gone = spread(lambda value: joints.pivot_departures([(turn, value)], *others)[0], read)
        verdict = gone.within(-given.number("limit"), given.number("limit"))
        results.append(found("departure", msg("measured less curve"), gone, given, Kind.LENGTH, "mm"))
        if verdict is not Verdict.IN_ORDER:
            verdict, says = Verdict.MEASURE_AGAIN, msg("The reading lies off the curve: take it again.")
    working = (
        msg(
            "D = √((s + q cos t)² + (q sin t + y)² + v²), s = {s}, q = {q}, t = {t}.",
            s=mm(others[0]),
            q=mm(others[1]),
            t=degrees(given.number("turn")),
        ),
    )
    return Answer(says, tuple(results), verdict, working)


def one_joint(given: Given) -> Answer:
    """C27, the speed swing of one joint."""
    angle = given.estimate("angle")
    swing = spread(lambda b: joints.irregularity(math.radians(b)), angle)
    results = [found("swing", msg("speed swing"), swing, given, Kind.RATIO, "%")]
    verdict = angle.within(high=given.number("most"))
    says = {
        Verdict.IN_ORDER: msg("The joint's angle is small enough for a steady run."),
        Verdict.MEASURE_AGAIN: msg("The angle is too close to its limit to tell."),
    }.get(verdict, msg("At this angle the shaft shakes twice per turn."))
    working = (msg("U = tan b · sin b, b = {angle}.", angle=degrees(angle.value)),)
    return Answer(says, tuple(results), verdict, working)


def two_joints(given: Given) -> Answer:
    """C27, two joints on one shaft."""
    phased = given.word("phased") == "yes"
    first, second = given.estimate("first"), given.estimate("second")
    angle = spread(
        lambda a, b: math.degrees(joints.equivalent_angle(math.radians(a), math.radians(b), phased)),
        first,
        second,
    )
    swing = joints.double_irregularity(math.radians(first.value), math.radians(second.value), phased)
    results = (
        found(
            "equivalent", msg("angle of the single joint that swings as much"), angle, given, Kind.ANGLE, "°"
        ),
        Result("swing", msg("speed swing behind both joints"), swing, Kind.RATIO, "%"),
    )
    formula = msg("√|b1² − b2²|") if phased else msg("√(b1² + b2²), because the forks are out of line")
    working = (
        msg(
            "{formula}, b1 = {first}, b2 = {second}; the swing is exact, all shafts in one plane.",
            formula=formula,
            first=degrees(first.value),
            second=degrees(second.value),
        ),
    )
    verdict = angle.within(high=given.number("most"))
    says = {
        Verdict.IN_ORDER: msg("The two joints nearly cancel."),
        Verdict.MEASURE_AGAIN: msg("The angles are too close to the limit to tell."),
    }.get(verdict, msg("The two joints do not cancel: the shaft shakes twice per turn."))
    return Answer(says, results, verdict, working)


def phase(given: Given) -> Answer:
    """C27, inner forks out of line by any angle."""
    first, second, out = (math.radians(given.number(key)) for key in ("first", "second", "phase"))
    swing = joints.phase_irregularity(first, second, out)
    in_line = joints.phase_irregularity(first, second, 0.0)
    results = (
        Result("swing", msg("speed swing"), swing, Kind.RATIO, "%"),
        Result("in-line", msg("with the forks in line"), in_line, Kind.RATIO, "%"),
    )
    says = msg(
        "Speed swing {swing}; with the forks in line {line}.",
        swing=at(swing, Kind.RATIO, "%"),
        line=at(in_line, Kind.RATIO, "%"),
    )
    working = (msg("Two joints are one linear map; the swing follows from its two stretches."),)
    return Answer(says, results, None, working)


def wide_angle(given: Given) -> Answer:
    """C9, where a wide-angle joint belongs."""
    tractor, machine = (
        Estimate(math.radians(read.value), math.radians(read.doubt))
        for read in (given.estimate("tractor"), given.estimate("machine"))
    )
    fitted = joints.WideEnd(given.word("fitted")) if given.has("fitted") else None
    advice = joints.wide_angle_end(tractor, machine, math.radians(given.number("limit")), fitted)
    results = (Result("end", msg("wide-angle joint belongs at"), END_WORDS[advice.end]),)
    verdict = advice.verdict if fitted is not None or advice.verdict is Verdict.STOP else None
    working = (
        msg(
            "Tractor {a}, machine {b}, a plain joint bears {limit}.",
            a=degrees(given.number("tractor")),
            b=degrees(given.number("machine")),
            limit=degrees(given.number("limit")),
        ),
    )
    return Answer(advice.says, results, verdict, working)


END_WORDS = {
    joints.WideEnd.TRACTOR: msg("the tractor"),
    joints.WideEnd.MACHINE: msg("the machine"),
    joints.WideEnd.BOTH: msg("both ends"),
    joints.WideEnd.NONE: msg("neither end"),
    joints.WideEnd.UNSURE: msg("cannot be told"),
}
ENDS = tuple(Choice(end.value, END_WORDS[end]) for end in joints.WideEnd if end is not joints.WideEnd.UNSURE)


def acceleration(given: Given) -> Answer:
    """How hard one joint shakes what hangs behind it."""
    angle, speed = math.radians(given.number("angle")), given.number("speed")
    peak = joints.peak_acceleration(angle, speed)
    swing = joints.irregularity(angle)
    results = (
        Result("acceleration", msg("largest angular acceleration, rad/s²"), peak, Kind.NUMBER, "1"),
        Result("swing", msg("speed swing"), swing, Kind.RATIO, "%"),
    )
    working = (
        msg(
            "Exact for one joint at {angle}, driven at {speed}.",
            angle=degrees(given.number("angle")),
            speed=at(speed, Kind.ROTATION, "rpm"),
        ),
    )
    return Answer(msg("The driven shaft speeds up and slows down twice per turn."), results, None, working)


def angle_in(key: str, label: Message, default: str = "", *, level: bool = False) -> Input:
    """An input that is an angle."""
    return amount(key, label, Kind.ANGLE, "°", default, instrument="digital-level" if level else "")


SUMS = (
    Sum(
        "pivot-curve",
        msg("distance and joint angles at one angle of turn"),
        msg("One vertical pivot between tractor and machine; a check of readings."),
        (
            angle_in("turn", msg("angle between tractor and machine")),
            length("front", msg("tractor groove to pivot")),
            length("rear", msg("pivot to machine groove")),
            length("sideways", msg("PTO beside the pivot's line"), "0 mm"),
            length("upward", msg("one groove above the other"), "0 mm"),
            tape("measured", msg("measured distance at this turn"), optional=True),
            length("limit", msg("departure that may stay"), "15 mm"),
        ),
        pivot,
        {"turn": "70°", "front": "600mm", "rear": "465mm"},
        msg("One pivot, both stubs level."),
        msg("Geometry; 15 mm is a rule of thumb."),
    ),
    Sum(
        "joint-angle",
        msg("speed swing of one universal joint"),
        msg("How unevenly a shaft runs behind one joint."),
        (
            angle_in("angle", msg("angle of the joint"), level=True),
            angle_in("most", msg("angle that may stay at this speed"), "7°"),
        ),
        one_joint,
        {"angle": "15°"},
        msg("Angles below a right angle."),
        msg("Theory of the Hooke joint; the limit of 7° is a rule of thumb."),
    ),
    Sum(
        "two-joints",
        msg("speed swing of two joints on one shaft"),
        msg("In line they work against each other, a quarter turn out together."),
        (
            angle_in("first", msg("angle of one joint"), level=True),
            angle_in("second", msg("angle of the other joint"), level=True),
            yes_no("phased", msg("are the forks at both ends in one plane"), "yes"),
            angle_in("most", msg("equivalent angle that may stay"), "7°"),
        ),
        two_joints,
        {"first": "12°", "second": "7°"},
        msg("Small angles, all shafts in one plane."),
        msg("VDI 2722 (from memory) for the angle; the Hooke joint applied twice for the swing."),
    ),
    Sum(
        "joint-phase",
        msg("speed swing with the inner forks out of line"),
        msg("Two joints on one shaft whose forks are turned against each other."),
        (
            angle_in("first", msg("angle of one joint")),
            angle_in("second", msg("angle of the other joint")),
            angle_in("phase", msg("how far the inner forks are out of line")),
        ),
        phase,
        {"first": "20°", "second": "20°", "phase": "30°"},
        msg("Angles below a right angle."),
        msg("Theory of the Hooke joint applied twice."),
    ),
    Sum(
        "wide-angle-end",
        msg("at which end the wide-angle joint belongs"),
        msg("From both joint angles at the tightest place."),
        (
            angle_in("tractor", msg("angle of the joint at the tractor"), level=True),
            angle_in("machine", msg("angle of the joint at the machine"), level=True),
            angle_in("limit", msg("what a plain joint may bend, turning, from the shaft's data")),
            choice("fitted", msg("where the shaft has its wide-angle joint"), ENDS, optional=True),
        ),
        wide_angle,
        {"tractor": "29.9°", "machine": "40.1°", "limit": "35°", "fitted": "tractor"},
        msg("Angles below a right angle."),
        msg("Common workshop practice; the limit is the shaft's own data."),
    ),
    Sum(
        "joint-shake",
        msg("how hard one joint shakes the shaft behind it"),
        msg("Largest angular acceleration at a steady speed of the driving shaft."),
        (
            angle_in("angle", msg("angle of the joint")),
            amount("speed", msg("speed of the driving shaft"), Kind.ROTATION, "rpm"),
        ),
        acceleration,
        {"angle": "20°", "speed": "1500rpm"},
        msg("Angles below a right angle."),
        msg("Theory of the Hooke joint, any textbook on the theory of machines."),
    ),
)
