"""Levelling a rotor: the plane, what to turn, what the machine itself teaches, arms past one place."""

from __future__ import annotations

import math

from rakeprep.calculations import adjusting, arms, demand, levelling
from rakeprep.calculations.adjusting import Move
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.level_directions import steepest
from rakeprep.model.verdict import Verdict, worst
from rakeprep.sums.parts import both, choice, count, found, length, metres, mm, number, plain, several
from rakeprep.sums.shape import Answer, Choice, Form, Given, Input, Result, Sum
from rakeprep.text import Message, msg
from rakeprep.units import Kind

ENDS = (
    Choice("raises", msg("shorter raises the front")),
    Choice("lowers", msg("shorter lowers the front")),
)
SMALL_ANGLES = msg("Geometry, small angles.")


def plane(given: Given) -> Answer:
    """C13."""
    read = given.clock("readings")
    heights = {n: (hour, each.value) for n, (hour, each) in enumerate(read)}
    if given.has("floor"):
        floor = dict(given.clock("floor"))
        missing = [hour for hour, _ in read if hour not in floor]
        demand(not missing, msg("The floor has no value at some of the places that were read."))
        depths = {n: floor[hour].value for n, (hour, _) in heights.items()}
        taken = levelling.without_floor({n: value for n, (_, value) in heights.items()}, depths)
        heights = {n: (heights[n][0], value) for n, value in taken.items()}
    points = [(levelling.clock_angle(hour), value) for hour, value in heights.values()]
    doubt = max((each.doubt for _, each in read), default=levelling.INSTRUMENT_DOUBT)
    found_plane = levelling.level(points, given.number("circle") / 2, doubt)
    return plane_answer(given, found_plane, [hour for hour, _ in heights.values()])


def plane_answer(given: Given, at_rest: levelling.Level, hours: list[float]) -> Answer:
    """The plane in words, against the wanted one where that is given."""
    lean = steepest(at_rest)
    hour = math.degrees(lean.toward) / 30 % 12 or 12.0
    results = (
        found("lean", msg("greatest lean across the circle"), lean.rise, given, Kind.LENGTH, "mm"),
        Result("high-at", msg("high at, as a clock place"), hour, Kind.NUMBER, "1"),
        found("centre", msg("height in the middle"), at_rest.centre, given, Kind.LENGTH, "mm"),
        found(
            "front-rear",
            msg("front less rear across the circle"),
            at_rest.front_rear,
            given,
            Kind.LENGTH,
            "mm",
        ),
        found(
            "right-left",
            msg("right less left across the circle"),
            at_rest.right_left,
            given,
            Kind.LENGTH,
            "mm",
        ),
        found("sd", msg("scatter about the plane"), at_rest.sd, given, Kind.LENGTH, "mm"),
    )
    working = [
        msg("z = c + p x + q y by least squares; front − rear = 2 R p, right − left = 2 R q."),
        *(
            msg("{hour} o'clock: {gone} off the plane.", hour=number(hour), gone=mm(gone))
            for hour, gone in zip(hours, at_rest.residuals, strict=True)
        ),
    ]
    if at_rest.suspects:
        places = ", ".join(f"{hours[n]:g}" for n in at_rest.suspects)
        working.append(msg("Read again at {places} o'clock: that reading may be wrong.", places=places))
    wanted = [
        each.within(
            given.number(key) - given.number("tolerance"), given.number(key) + given.number("tolerance")
        )
        for key, each in (
            ("wanted-front-rear", at_rest.front_rear),
            ("wanted-right-left", at_rest.right_left),
        )
        if given.has(key) and given.has("tolerance")
    ]
    verdict = worst(wanted) if wanted else None
    if at_rest.suspects:
        verdict = Verdict.MEASURE_AGAIN
    says = at_rest.says or msg(
        "Front less rear {fr}, right less left {rl}.",
        fr=both(at_rest.front_rear.value, given, Kind.LENGTH, "mm"),
        rl=both(at_rest.right_left.value, given, Kind.LENGTH, "mm"),
    )
    return Answer(says, results, verdict, tuple(working))


# ---------------------------------------------------------------------- what to turn


def moved(given: Given, move: Move, step: Message, working: Message) -> Answer:
    """A move in whole steps; what remains is no surer than the need was."""
    doubt = given.estimate("need").doubt
    left = Estimate(move.left, doubt)
    results = (
        Result("steps", step, move.steps),
        Result(
            "exact", msg("steps before rounding"), move.exact, Kind.NUMBER, "1", doubt / move.per_step or None
        ),
        found("per-step", msg("one step changes"), move.per_step, given, Kind.LENGTH, "mm"),
        found("left", msg("need that remains"), left, given, Kind.LENGTH, "mm"),
    )
    return Answer(move.says, results, None, (working,))


def turnbuckle(given: Given) -> Answer:
    """C14."""
    raises = given.word("shorter") == "raises" if given.has("shorter") else None
    move = adjusting.turnbuckle(
        given.estimate("need"),
        given.number("pitch-left"),
        given.number("pitch-right"),
        given.number("lever"),
        given.number("circle"),
        given.count("flats"),
        raises,
    )
    working = msg(
        "Per turn = (left pitch + right pitch) / lever · circle = ({left} + {right}) / {lever} · {circle}.",
        left=mm(given.number("pitch-left")),
        right=mm(given.number("pitch-right")),
        lever=mm(given.number("lever")),
        circle=metres(given.number("circle")),
    )
    return moved(given, move, msg("flats"), working)


def chassis_pins(given: Given) -> Answer:
    """C14."""
    keys = ("hole-step", "track", "circle")
    move = adjusting.chassis_pins(given.estimate("need"), *(given.number(key) for key in keys))
    working = msg(
        "Per hole = step / track · circle = {step} / {track} · {circle}.",
        step=mm(given.number("hole-step")),
        track=mm(given.number("track")),
        circle=metres(given.number("circle")),
    )
    return moved(given, move, msg("holes"), working)


def crank(given: Given) -> Answer:
    """C14."""
    move = adjusting.crank(given.estimate("need"), given.number("pitch"), given.number("ratio"))
    working = msg(
        "Per turn = pitch · ratio = {pitch} · {ratio}.",
        pitch=mm(given.number("pitch")),
        ratio=number(given.number("ratio")),
    )
    return moved(given, move, msg("half turns"), working)


def headstock(given: Given) -> Answer:
    """C14."""
    tilt, centre, front = adjusting.headstock_effect(
        *(given.number(key) for key in ("rise", "length", "behind", "circle"))
    )
    results = (
        Result("tilt", msg("nose up, mm in a metre"), tilt * 1000, Kind.NUMBER, "1"),
        found("centre", msg("rotor's centre rises"), centre, given, Kind.LENGTH, "mm"),
        found("front-rear", msg("front less rear changes"), front, given, Kind.LENGTH, "mm"),
    )
    says = msg("Only if the rotor hangs rigidly on the frame; one on its own chassis moves less.")
    working = (
        msg(
            "tilt = rise / length; centre = rise (1 − behind / length); front − rear = tilt · {circle}.",
            circle=metres(given.number("circle")),
        ),
    )
    return Answer(says, results, None, working)


def two_adjusters(given: Given) -> Answer:
    """C15, two adjusters."""
    first = given.number("first-centre"), given.number("first-tilt")
    second = given.number("second-centre"), given.number("second-tilt")
    need = given.number("need-centre"), given.number("need-tilt")
    one, two = adjusting.turns_for(first, second, need)
    results = (
        Result("first", msg("turns of the first adjuster"), one, Kind.NUMBER, "1"),
        Result("second", msg("turns of the second adjuster"), two, Kind.NUMBER, "1"),
    )
    says = msg("Positive turns are those in which the sensitivity was learned.")
    return Answer(says, results, None, (msg("Turns = inverse of the four sensitivities · need."),))


# ---------------------------------------------------------------------- arms


def ring(given: Given) -> Answer:
    """C29."""
    read = given.readings("readings")
    heights = [None if each is None else each.value for each in read]
    seen = arms.arms_past_one_place(heights, given.number("limit"), given.number("wobble-limit"))
    worst_arm = max(
        (n for n, gone in enumerate(seen.departures, 1) if gone is not None),
        key=lambda n: abs(seen.departures[n - 1] or 0.0),
    )
    results = (
        found("middle", msg("median of all arms"), seen.middle, given, Kind.LENGTH, "mm"),
        found("wobble", msg("half height of the wave"), seen.wobble, given, Kind.LENGTH, "mm"),
        Result("high-arm", msg("arm nearest to the crest"), seen.high_arm),
        found("sd", msg("scatter of the rest"), seen.sd, given, Kind.LENGTH, "mm"),
        Result("worst-arm", msg("arm farthest off the wave"), worst_arm),
        found(
            "departure", msg("its departure"), seen.departures[worst_arm - 1] or 0.0, given, Kind.LENGTH, "mm"
        ),
        Result("odd", msg("arms that stand out"), len(seen.odd)),
    )
    if seen.odd:
        which = ", ".join(str(n) for n in seen.odd)
        says = msg("Bent or wrong tine at arm {which}.", which=which)
    elif seen.hub_wobbles:
        says = msg("No arm stands out, but all of them make one wave: hub or cam is not square.")
    else:
        says = msg("No arm stands out.")
    verdict = Verdict.PUT_RIGHT if seen.odd or seen.hub_wobbles else Verdict.IN_ORDER
    working = (
        msg("z = m + a cos t + b sin t, fitted without the arm whose leaving out helps most."),
        msg(
            "Stands out beyond {limit}: the larger of the limit and four times the scatter.",
            limit=mm(seen.limit),
        ),
    )
    return Answer(says, results, verdict, working)


def signed(key: str, label: Message, *, level: bool = False) -> Input:
    """A length of either sign."""
    return length(key, label, instrument="steel-rule" if level else "")


CIRCLE = length("circle", msg("diameter of the tip circle"), unit="m")
SUMS = (
    Sum(
        "rotor-plane",
        msg("is the rotor level: plane through one arm's heights"),
        msg("One and the same arm walked round to several clock places, 12 straight ahead."),
        (
            Input(
                "readings",
                msg("height of the tine tip by clock place"),
                Form.CLOCK,
                Kind.LENGTH,
                "mm",
                instrument="steel-rule",
            ),
            CIRCLE,
            Input(
                "floor",
                msg("depth of the floor by clock place"),
                Form.CLOCK,
                Kind.LENGTH,
                "mm",
                optional=True,
            ),
            length("wanted-front-rear", msg("front less rear that is wanted"), optional=True),
            length("wanted-right-left", msg("right less left that is wanted"), optional=True),
            length("tolerance", msg("departure that may stay"), optional=True),
        ),
        plane,
        {"readings": "9=31mm 10=24mm 11=17mm 12=12mm 1=11mm 2=15mm 3=22mm", "circle": "3.5m"},
        msg("Four places or more, over more than a quarter turn; a rigid rotor."),
        msg("Least squares and covariance, JCGM 100:2008, H.3; limits of suspicion are rules of thumb."),
    ),
    Sum(
        "turnbuckle",
        msg("flats of the turnbuckle for front less rear"),
        msg("Whole flats, or leave it."),
        (
            length("need", msg("wanted change, positive raises the front"), instrument="steel-rule"),
            length("pitch-left", msg("pitch of the left-hand thread")),
            length("pitch-right", msg("pitch of the right-hand thread")),
            length("lever", msg("arm on which it tilts the rotor")),
            CIRCLE,
            count("flats", msg("flats of its body"), "6"),
            choice("shorter", msg("what shortening does, from the machine's data"), ENDS, optional=True),
        ),
        turnbuckle,
        {
            "need": "9mm±6mm",
            "pitch-left": "3mm",
            "pitch-right": "3mm",
            "lever": "420mm",
            "circle": "3.5m",
            "shorter": "raises",
        },
        msg("Small tilts."),
        SMALL_ANGLES,
    ),
    Sum(
        "chassis-pins",
        msg("holes of the chassis pins for right less left"),
        msg("Whole holes, or leave it."),
        (
            length("need", msg("wanted change, positive raises the right side"), instrument="steel-rule"),
            length("hole-step", msg("height from one hole to the next")),
            length("track", msg("distance between left and right wheels")),
            CIRCLE,
        ),
        chassis_pins,
        {"need": "9.9mm", "hole-step": "15mm", "track": "1400mm", "circle": "3.5m"},
        msg("Small tilts."),
        SMALL_ANGLES,
    ),
    Sum(
        "crank",
        msg("half turns of the height crank"),
        msg("Whole half turns, or leave it."),
        (
            length("need", msg("wanted change of the tine height, positive raises"), instrument="steel-rule"),
            length("pitch", msg("pitch of the spindle")),
            plain("ratio", msg("height at the tines per height at the spindle"), "1"),
        ),
        crank,
        {"need": "-8mm", "pitch": "5mm", "ratio": "0.62"},
        msg("One spindle."),
        msg("Geometry."),
    ),
    Sum(
        "headstock",
        msg("what raising the headstock does to a rotor"),
        msg("Tilt, centre height and front less rear."),
        (
            length("rise", msg("how far the hitch pins are raised")),
            length("length", msg("hitch pins to transport axle"), unit="m"),
            length("behind", msg("rotor centre behind the hitch pins"), unit="m"),
            CIRCLE,
        ),
        headstock,
        {"rise": "25mm", "length": "5.60m", "behind": "2.40m", "circle": "3.50m"},
        msg("A rotor that hangs rigidly on the frame; small tilts."),
        SMALL_ANGLES,
    ),
    Sum(
        "two-adjusters",
        msg("turns of two adjusters that make two changes together"),
        msg("From what one turn of each does on this machine."),
        (
            signed("first-centre", msg("first adjuster: centre height per turn")),
            signed("first-tilt", msg("first adjuster: front less rear per turn")),
            signed("second-centre", msg("second adjuster: centre height per turn")),
            signed("second-tilt", msg("second adjuster: front less rear per turn")),
            signed("need-centre", msg("wanted change of the centre height")),
            signed("need-tilt", msg("wanted change of front less rear")),
        ),
        two_adjusters,
        {
            "first-centre": "-3.1mm",
            "first-tilt": "1.5mm",
            "second-centre": "0.4mm",
            "second-tilt": "24mm",
            "need-centre": "-6mm",
            "need-tilt": "-14mm",
        },
        msg("Two adjusters that do different things."),
        msg("Cramer's rule."),
    ),
    Sum(
        "arms-past-one-place",
        msg("bent arms, from every arm's height at one and the same place"),
        msg("Tilt and floor cancel; type - for an arm not read."),
        (
            several("readings", msg("height of arm 1, 2, …"), Kind.LENGTH, "mm", instrument="steel-rule"),
            length("limit", msg("departure that is never called odd"), "8 mm"),
            length("wobble-limit", msg("half height of the wave that speaks of the hub"), "6 mm"),
        ),
        ring,
        {"readings": "14mm,15mm,16mm,15mm,15mm,13mm,13mm,12mm,11mm,24mm,12mm,13mm"},
        msg("Six arms or more."),
        msg("Harmonic analysis with one arm left out; the limits are rules of thumb."),
    ),
)
