"""Hitch: categories, fit, level pins; and what the rake does to the tractor's axles."""

from __future__ import annotations

import math

from rakeprep.calculations import axle_loads as loads
from rakeprep.calculations import hitch
from rakeprep.calculations.decision import Estimate, agree
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, both, choice, found, length, metres, mm, plain, share
from rakeprep.sums.shape import Answer, Choice, Given, Input, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Kind

CATEGORIES = tuple(Choice(key, msg("category {name}", name=verbatim(key))) for key in hitch.CATEGORIES)
DIMENSIONS = (
    ("upper-pin", msg("upper pin"), "upper_pin"),
    ("lower-pin", msg("lower pin"), "lower_pin"),
    ("ball-hole", msg("hole of the lower ball"), "ball_hole"),
    ("span", msg("span between the shoulders of the lower pins"), "span"),
    ("mast", msg("mast height"), "mast"),
)


def category(given: Given) -> Answer:
    """The dimensions of one category."""
    chosen = hitch.category(given.word("category"))
    known = [(key, label, getattr(chosen, field)) for key, label, field in DIMENSIONS]
    results = tuple(Result(key, label, each.value, Kind.LENGTH, "mm") for key, label, each in known)
    unsure = [label for _, label, each in known if each.origin is hitch.Origin.MEMORY_UNSURE]
    working = tuple(msg("To be checked against the standard: {what}.", what=label) for label in unsure)
    return Answer(msg("Linkage category {name}.", name=verbatim(chosen.name)), results, None, working)


def fit(given: Given) -> Answer:
    """C6."""
    machine, tractor = hitch.category(given.word("machine")), hitch.category(given.word("tractor"))
    judged = hitch.hitch_fit(machine, tractor, given.number("most-slop"), given.number("most-gap"))
    results = (
        found("slop", msg("play of the pin in its ball"), judged.slop, given, Kind.LENGTH, "mm"),
        found("gap", msg("gap at each shoulder"), judged.gap, given, Kind.LENGTH, "mm"),
    )
    says = (
        msg("The pins fit the links.")
        if judged.verdict is Verdict.IN_ORDER
        else msg("The pins do not fit the links.")
    )
    working = (
        msg("Play = {hole} − {pin}.", hole=mm(tractor.ball_hole.value), pin=mm(machine.lower_pin.value)),
        msg("Gap = ({links} − {pins}) / 2.", links=mm(tractor.span.value), pins=mm(machine.span.value)),
    )
    return Answer(says, results, judged.verdict, (*(text for _, text in judged.reasons), *working))


def play(given: Given) -> Answer:
    """C6, as measured."""
    slop = spread(hitch.pin_slop, given.estimate("hole"), given.estimate("pin"))
    verdict = slop.within(0.0, given.number("most"))
    says = {
        Verdict.IN_ORDER: msg("The play is small enough."),
        Verdict.MEASURE_AGAIN: msg("The play is too close to its limit to tell."),
    }.get(verdict, msg("The pin does not fit this ball."))
    return Answer(
        says,
        (found("slop", msg("play"), slop, given, Kind.LENGTH, "mm"),),
        verdict,
        (msg("Play = hole − pin."),),
    )


def pin_level(given: Given) -> Answer:
    """C7."""
    radius = given.number("radius")
    level = hitch.pin_level(given.estimate("left"), given.estimate("right"), given.estimate("span"), radius)
    angle = Estimate(math.degrees(level.angle.value), math.degrees(level.angle.doubt))
    results = (
        found("angle", msg("slope of the pins, left high above zero"), angle, given, Kind.ANGLE, "°"),
        found("error", msg("height error at the radius"), level.error, given, Kind.LENGTH, "mm"),
    )
    says = msg(
        "At {radius} from the middle the machine stands {error} wrong.",
        radius=metres(radius),
        error=both(abs(level.error.value), given, Kind.LENGTH, "mm"),
    )
    working = (
        msg(
            "error = (left − right) · radius / span = ({left} − {right}) · {radius} / {span}.",
            left=mm(given.number("left")),
            right=mm(given.number("right")),
            radius=mm(radius),
            span=mm(given.number("span")),
        ),
    )
    return Answer(says, results, None, working)


# ---------------------------------------------------------------------- axle loads


def kilograms(value: float) -> object:
    """A mass in the working."""
    return at(value, Kind.MASS, "kg")


def on_the_hitch(given: Given) -> Answer:
    """C8, the load on the links."""
    mass, long, behind = (given.estimate(key) for key in ("mass", "length", "gravity"))
    load = spread(loads.hitch_load, mass, long, behind)
    lift = loads.lift_needed(load.value, given.number("reserve"))
    results = [
        found("hitch", msg("load on the hitch"), load, given, Kind.MASS, "kg", "up"),
        found("axle", msg("load on the machine's own axle"), mass.value - load.value, given, Kind.MASS, "kg"),
        found("lift", msg("lift capacity needed at the hitch points"), lift, given, Kind.MASS, "kg", "up"),
    ]
    verdict = None
    if given.has("capacity"):
        verdict = Verdict.IN_ORDER if given.number("capacity") >= lift else Verdict.PUT_RIGHT
    says = msg("{load} rests on the hitch.", load=both(load.value, given, Kind.MASS, "kg", "up"))
    working = (
        msg(
            "G = m (L − x) / L = {mass} · ({long} − {behind}) / {long}.",
            mass=kilograms(mass.value),
            long=metres(long.value),
            behind=metres(behind.value),
        ),
        msg("Lift = reserve · G; compare with the capacity at the hitch points, not 610 mm behind them."),
    )
    return Answer(says, tuple(results), verdict, working)


def weighed(given: Given) -> Answer:
    """C8, the scale check."""
    hitched, solo = given.estimate("hitched"), given.estimate("solo")
    load = loads.weighed_hitch_load(hitched, solo, given.number("shared"))
    results = (found("hitch", msg("load on the hitch"), load, given, Kind.MASS, "kg"),)
    verdict = None
    says = msg("{load} rests on the hitch.", load=both(load.value, given, Kind.MASS, "kg"))
    if given.has("worked"):
        same = agree(load, given.estimate("worked"))
        verdict = Verdict.IN_ORDER if same else Verdict.MEASURE_AGAIN
        says = (
            msg("The scale agrees with what was worked out.")
            if same
            else msg(
                "The scale and what was worked out differ beyond doubt: look for the wrong length or mass."
            )
        )
    working = (
        msg(
            "G = hitched − solo = {one} − {other}.", one=kilograms(hitched.value), other=kilograms(solo.value)
        ),
    )
    return Answer(says, results, verdict, working)


def axles(given: Given) -> Answer:
    """C8, the tractor's axles."""
    front, rear, base = (given.estimate(key) for key in ("front", "rear", "wheelbase"))
    load, behind = given.estimate("load"), given.estimate("behind")
    ballast, ahead, least = given.number("ballast"), given.number("ahead"), given.number("least")

    def front_load(f: float, r: float, b: float, g: float, e: float) -> float:
        return loads.axle_loads(loads.EmptyTractor(f, r, b), g, e, ballast, ahead).front

    tractor = loads.EmptyTractor(front.value, rear.value, base.value)
    all_of_it = loads.axle_loads(tractor, load.value, behind.value, ballast, ahead)
    on_front = spread(front_load, front, rear, base, load, behind)
    needed = least * tractor.mass
    verdict = on_front.within(low=needed)
    results = [
        found("front", msg("front axle"), on_front, given, Kind.MASS, "kg", "down"),
        found("rear", msg("rear axle"), all_of_it.rear, given, Kind.MASS, "kg", "up"),
        Result("share", msg("front axle against the empty tractor"), all_of_it.front_share, Kind.RATIO, "%"),
        found("needed", msg("least front axle load"), needed, given, Kind.MASS, "kg", "up"),
    ]
    if ahead > 0:
        more = loads.front_ballast(tractor, load.value, behind.value, ahead, least)
        results.append(
            found("ballast", msg("least front ballast in all"), more, given, Kind.MASS, "kg", "up")
        )
    says = {
        Verdict.IN_ORDER: msg("Enough weight stays on the front axle."),
        Verdict.MEASURE_AGAIN: msg("The front axle is too close to its least load to tell."),
    }.get(verdict, msg("Too little weight stays on the front axle: front ballast is needed."))
    return Answer(says, tuple(results), verdict, axle_working(given, tractor))


def axle_working(given: Given, tractor: loads.EmptyTractor) -> tuple[Message, ...]:
    """How the axle loads come about."""
    return (
        msg(
            "front = TF + B (a + b) / b − G e / b, TF = {front}, G = {load}, e = {behind}, b = {base}.",
            front=kilograms(tractor.front),
            load=kilograms(given.number("load")),
            behind=metres(given.number("behind")),
            base=metres(tractor.wheelbase),
        ),
        msg(
            "Least = {share} of {mass}: rule of thumb, and law in some countries.",
            share=share(given.number("least")),
            mass=kilograms(tractor.mass),
        ),
    )


def mass(key: str, label: Message, default: str = "", *, optional: bool = False, scale: str = "") -> Input:
    """An input that is a mass."""
    return amount(key, label, Kind.MASS, "kg", default, optional=optional, instrument=scale)


SUMS = (
    Sum(
        "hitch-category",
        msg("pins and spans of a linkage category"),
        msg("What belongs to a category of the three-point linkage."),
        (choice("category", msg("category"), CATEGORIES),),
        category,
        {"category": "2"},
        msg("Categories of the table; the standard's own tables were not at hand."),
        msg("ISO 730 (from memory; the N rule is ISO 730:2009, 3.1.5)."),
    ),
    Sum(
        "hitch-fit",
        msg("does a machine's category go onto a tractor's links"),
        msg("Play of the pins in the balls and gap at the shoulders."),
        (
            choice("machine", msg("category of the machine's lower pins"), CATEGORIES),
            choice("tractor", msg("category of the tractor's links"), CATEGORIES),
            length("most-slop", msg("largest play"), "2 mm"),
            length("most-gap", msg("largest gap at each shoulder"), "5 mm"),
        ),
        fit,
        {"machine": "2", "tractor": "3"},
        msg("Categories of the table."),
        msg("ISO 730 (dimensions, from memory); the limits are rules of thumb."),
    ),
    Sum(
        "pin-play",
        msg("measured play of a hitch pin in its ball"),
        msg("Hole less pin, with the doubt of both readings."),
        (
            length("hole", msg("hole of the ball"), instrument="calliper"),
            length("pin", msg("diameter of the pin"), instrument="calliper"),
            length("most", msg("largest play"), "2 mm"),
        ),
        play,
        {"hole": "28.7mm", "pin": "28mm"},
        msg("Diameters above zero."),
        msg("Arithmetic; decision by JCGM 106:2012, 8.3; the limit is a rule of thumb."),
    ),
    Sum(
        "pin-level",
        msg("hitch pins out of level"),
        msg("What it makes further out."),
        (
            length("left", msg("height of the left pin over a level floor"), instrument="hitch-tape"),
            length("right", msg("height of the right pin"), instrument="hitch-tape"),
            length("span", msg("between the two places measured"), instrument="tape"),
            length("radius", msg("distance from the middle outwards"), unit="m"),
        ),
        pin_level,
        {"left": "512mm", "right": "500mm", "span": "825mm", "radius": "3.5m"},
        msg("A machine that is rigid across."),
        msg("Geometry; doubt by JCGM 100:2008, 5.1.3."),
    ),
    Sum(
        "hitch-load",
        msg("how much of the machine rests on the links, and the lift it takes"),
        msg("For a machine carried by hitch and one axle, at rest on the level."),
        (
            mass("mass", msg("mass of the machine")),
            length("length", msg("hitch pins to its axle"), unit="m"),
            length("gravity", msg("hitch pins to its centre of gravity"), unit="m"),
            amount("reserve", msg("lift reserve"), Kind.RATIO, "%", "125%"),
            mass("capacity", msg("tractor's lift capacity at the hitch points"), optional=True),
        ),
        on_the_hitch,
        {"mass": "2900kg", "length": "5.60m", "gravity": "3.20m"},
        msg("Centre of gravity between hitch and axle; reserve of 100 % or more."),
        msg("Moments about the axle; the reserve is a rule of thumb, ISO 789-2 for where it is measured."),
    ),
    Sum(
        "hitch-weighed",
        msg("load on the links from two weighings of the tractor"),
        msg("With and without the machine, its axle beside the bridge."),
        (
            mass("hitched", msg("tractor with the machine hitched"), scale="weighbridge"),
            mass("solo", msg("tractor without it"), scale="weighbridge"),
            plain("shared", msg("how alike the errors of both weighings are, 0 to 1"), "0"),
            mass("worked", msg("load on the hitch as worked out"), optional=True),
        ),
        weighed,
        {"hitched": "6440kg", "solo": "5200kg", "worked": "1243kg"},
        msg("The same bridge, level."),
        msg("JCGM 100:2008, equation 16."),
    ),
    Sum(
        "axle-loads",
        msg("tractor's axle loads with machine and ballast"),
        msg("Whether the front axle keeps enough weight, and how much ballast it takes."),
        (
            mass("front", msg("front axle of the empty tractor"), scale="weighbridge"),
            mass("rear", msg("rear axle of the empty tractor"), scale="weighbridge"),
            length("wheelbase", msg("wheelbase"), unit="m"),
            mass("load", msg("load on the links")),
            length("behind", msg("rear axle to where the load acts"), unit="m"),
            mass("ballast", msg("front ballast already there"), "0 kg"),
            length("ahead", msg("front axle to the ballast"), "0 m", unit="m"),
            amount("least", msg("least front share of the empty mass"), Kind.RATIO, "%", "20%"),
        ),
        axles,
        {
            "front": "2100kg",
            "rear": "3100kg",
            "wheelbase": "2.55m",
            "load": "1243kg",
            "behind": "0.95m",
        },
        msg("At rest, on the level."),
        msg("Moments about the rear axle; decision by JCGM 106:2012, 8.3."),
    ),
)
