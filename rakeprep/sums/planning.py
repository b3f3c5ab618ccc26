"""Sums over many readings or adjusters at once: the least-change plan, what a turn does, the pivot fit."""

from __future__ import annotations

import math

from rakeprep.calculations import demand
from rakeprep.calculations.adjusters import (
    crank_by_half_turns,
    headstock_by_notches,
    pins_by_holes,
    turnbuckle_by_flats,
)
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.learning import learn, steps_to_see
from rakeprep.calculations.pivot_fit import Distance, fit_pivot
from rakeprep.calculations.plan_both import plan_both
from rakeprep.calculations.plan_turns import plan_turns
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import choice, count, degrees, found, length, mm, plain, several, yes_no
from rakeprep.sums.rotor import ENDS
from rakeprep.sums.shape import Answer, Given, Result, Sum
from rakeprep.text import joined, msg
from rakeprep.units import Kind

DIRECTIONS = (
    ("centre", msg("height in the middle")),
    ("front-rear", msg("front less rear")),
    ("right-left", msg("right less left")),
)


def plan(given: Given) -> Answer:
    """C14, all adjusters together."""
    circle = given.number("circle")
    pitches = given.number("pitches")
    buckle = turnbuckle_by_flats(
        pitches,
        given.number("lever"),
        circle,
        given.word("shorter") == "raises",
        given.count("flats-range"),
    )
    pins = pins_by_holes(given.number("hole-step"), given.number("track"), circle, given.count("holes-range"))
    crank = crank_by_half_turns(given.number("pitch"), given.number("ratio"), given.count("crank-range"))
    centre, front, right = (given.estimate(f"need-{key}") for key, _ in DIRECTIONS)
    allowed = (
        given.number("tolerance-centre"),
        given.number("tolerance-tilt"),
        given.number("tolerance-tilt"),
    )
    made = plan_turns([buckle, pins, crank], (centre, front, right), allowed)
    steps = (
        Result("flats", msg("flats of the turnbuckle, raising the front above zero"), made.steps[0]),
        Result("holes", msg("holes of the chassis pins, raising the right above zero"), made.steps[1]),
        Result("half-turns", msg("half turns of the crank, raising above zero"), made.steps[2]),
    )
    left = tuple(
        found(f"left-{key}", msg("need that remains, {what}", what=words), each, given, Kind.LENGTH, "mm")
        for (key, words), each in zip(DIRECTIONS, made.left, strict=True)
    )
    verdict = Verdict.IN_ORDER if made.leave and made.within else None
    working = (
        msg("Every combination of whole steps was weighed; the least change that comes within is taken."),
        msg("A need smaller than its own doubt counts as met."),
    )
    return Answer(joined(made.says, "; "), (*steps, *left), verdict, working)


def both_rotors(given: Given) -> Answer:
    """C14, the headstock as one adjuster of both rotors."""
    circle = given.number("circle")
    head = headstock_by_notches(
        given.number("notch"), given.number("length"), given.number("behind"), circle, given.count("range")
    )
    buckle = turnbuckle_by_flats(
        given.number("pitches"),
        given.number("lever"),
        circle,
        given.word("shorter") == "raises",
        given.count("flats-range"),
    )
    nothing, tolerance = Estimate(0.0, 0.0), (math.inf, given.number("tolerance"), math.inf)
    left, right = ((nothing, given.estimate(f"need-{side}"), nothing) for side in ("left", "right"))
    made = plan_both((head, head), ([buckle], [buckle]), (left, right), (tolerance, tolerance))
    results = [Result("notches", msg("steps of the headstock, nose up above zero"), made.steps)]
    words = {"left": msg("left rotor"), "right": msg("right rotor")}
    for (side, name), rotor in zip(words.items(), made.rotors, strict=True):
        flats = msg("flats of the turnbuckle, raising the front above zero, {rotor}", rotor=name)
        rest = msg("need that remains, {what}", what=name)
        results.append(Result(f"flats-{side}", flats, rotor.steps[0]))
        results.append(found(f"left-{side}", rest, rotor.left[1], given, Kind.LENGTH, "mm"))
    working = (
        msg("Every combination of whole steps was weighed; the least change that comes within is taken."),
        msg("A step of the headstock counts once, although it moves both rotors."),
    )
    verdict = Verdict.IN_ORDER if made.leave and made.within else None
    return Answer(made.says, tuple(results), verdict, working)


def learned(given: Given) -> Answer:
    """C15, with doubt."""
    keys = [key for key, _ in DIRECTIONS if given.has(f"before-{key}") and given.has(f"after-{key}")]
    demand(bool(keys), msg("Type at least one result before and after the turn."))
    before = [given.estimate(f"before-{key}") for key in keys]
    after = [given.estimate(f"after-{key}") for key in keys]
    effects = learn(before, after, given.number("steps"), given.number("shared"))
    words = dict(DIRECTIONS)
    results = [
        found(key, msg("{what} per step", what=words[key]), effect, given, Kind.LENGTH, "mm")
        for key, effect in zip(keys, effects, strict=True)
    ]
    surest = max(effects, key=lambda each: abs(each.value))
    worst = max(each.doubt for each in (*before, *after))
    fewest = steps_to_see(abs(surest.value), worst)
    results.append(Result("fewest", msg("fewest steps whose effect can be seen"), fewest))
    says = msg("Right for this machine for the rest of its life.")
    working = (msg("J = (after − before) / steps; doubt = √(Ua² + Ub² − 2 r Ua Ub) / steps."),)
    return Answer(says, tuple(results), None, working)


def pivot(given: Given) -> Answer:
    """C9, the curve through all distances."""
    turns, distances = given.all_read("turns"), given.all_read("distances")
    demand(len(turns) == len(distances), msg("There must be as many distances as turns."))
    read = [Distance(math.radians(t), d) for t, d in zip(turns, distances, strict=True)]
    fit = fit_pivot(read, given.word("front-longer") == "yes", given.number("limit"))
    results = [
        found("sd", msg("scatter about the curve"), fit.sd, given, Kind.LENGTH, "mm"),
        Result("off", msg("readings that do not belong to it"), len(fit.off)),
    ]
    if fit.pivot is not None:
        results += [
            found("front", msg("tractor groove to pivot"), fit.pivot.front, given, Kind.LENGTH, "mm"),
            found("rear", msg("pivot to machine groove"), fit.pivot.rear, given, Kind.LENGTH, "mm"),
            found(
                "sideways", msg("PTO beside the pivot's line"), fit.pivot.sideways, given, Kind.LENGTH, "mm"
            ),
        ]
    says = fit.says or msg("Every reading lies on the curve.")
    working = tuple(
        msg("{turn}: {distance}, {gone} off the curve.", turn=degrees(t), distance=mm(d), gone=mm(gone))
        for t, d, gone in zip(turns, distances, fit.departures, strict=True)
    )
    return Answer(says, tuple(results), Verdict.MEASURE_AGAIN if fit.off else Verdict.IN_ORDER, working)


SUMS = (
    Sum(
        "pivot-fit",
        msg("do the distances of the driveline lie on one curve"),
        msg("Fits one pivot to all readings and names those that do not belong to it."),
        (
            several("turns", msg("angle of turn of each reading, left below zero"), Kind.ANGLE, "°"),
            several("distances", msg("groove to groove at each turn"), Kind.LENGTH, "mm"),
            yes_no("front-longer", msg("does the pivot lie nearer the machine"), "yes"),
            length("limit", msg("departure that needs no word"), "15 mm"),
        ),
        pivot,
        {
            "turns": "-70°, -50°, -30°, 0°, 30°, 50°, 70°",
            "distances": "876mm, 967mm, 1029mm, 1065mm, 1029mm, 967mm, 876mm",
        },
        msg("Four readings or more at three or more turns; one pivot."),
        msg("Geometry, least squares; 15 mm is a rule of thumb."),
    ),
    Sum(
        "level-plan",
        msg("what to turn to level a rotor, all adjusters together"),
        msg("The least change in whole flats, holes and half turns, or leave it."),
        (
            length(
                "need-centre", msg("wanted change of the height, positive raises"), instrument="steel-rule"
            ),
            length("need-front-rear", msg("wanted change of front less rear"), instrument="steel-rule"),
            length("need-right-left", msg("wanted change of right less left"), instrument="steel-rule"),
            length("tolerance-centre", msg("height that may be left"), "3 mm"),
            length("tolerance-tilt", msg("front less rear and right less left that may be left"), "5 mm"),
            length("circle", msg("diameter of the tip circle"), unit="m"),
            length("pitches", msg("turnbuckle: left-hand and right-hand pitch together")),
            length("lever", msg("turnbuckle: arm on which it tilts the rotor")),
            choice("shorter", msg("turnbuckle: what shortening does"), ENDS),
            count("flats-range", msg("turnbuckle: flats either way"), "24"),
            length("hole-step", msg("chassis pins: from one hole to the next")),
            length("track", msg("chassis pins: distance of left and right wheels")),
            count("holes-range", msg("chassis pins: holes either way"), "2"),
            length("pitch", msg("crank: pitch of the spindle")),
            plain("ratio", msg("crank: height at the tines per height at the spindle"), "1"),
            count("crank-range", msg("crank: half turns either way"), "20"),
        ),
        plan,
        {
            "need-centre": "-8mm±3mm",
            "need-front-rear": "9mm±6mm",
            "need-right-left": "0mm±3mm",
            "circle": "3.5m",
            "pitches": "6mm",
            "lever": "420mm",
            "shorter": "raises",
            "hole-step": "15mm",
            "track": "1400mm",
            "pitch": "5mm",
            "ratio": "0.62",
        },
        msg("Small tilts; a rotor on its own chassis."),
        msg("Geometry; integer programme solved by branch and bound."),
    ),
    Sum(
        "both-rotors",
        msg("headstock and turnbuckles for both rotors together"),
        msg("One cause for both is put right once: the headstock first, turnbuckles for what it leaves."),
        (
            length("need-left", msg("wanted change of front less rear, left"), instrument="steel-rule"),
            length("need-right", msg("wanted change of front less rear, right"), instrument="steel-rule"),
            length("tolerance", msg("front less rear that may be left"), "5 mm"),
            length("notch", msg("smallest change of the headstock that can be set"), "10 mm"),
            length("length", msg("hitch pins to transport axle"), unit="m"),
            length("behind", msg("rotor centre behind the hitch pins"), unit="m"),
            length("circle", msg("diameter of the tip circle"), unit="m"),
            count("range", msg("headstock: steps either way"), "20"),
            length("pitches", msg("turnbuckle: left-hand and right-hand pitch together")),
            length("lever", msg("turnbuckle: arm on which it tilts the rotor")),
            choice("shorter", msg("turnbuckle: what shortening does"), ENDS),
            count("flats-range", msg("turnbuckle: flats either way"), "24"),
        ),
        both_rotors,
        {
            "need-left": "-37.5mm",
            "need-right": "-37.5mm",
            "length": "5.60m",
            "behind": "2.40m",
            "circle": "3.5m",
            "pitches": "6mm",
            "lever": "420mm",
            "shorter": "raises",
        },
        msg("Rotors that hang rigidly on the frame; small tilts."),
        msg("Geometry; integer programme, solved for every step of the headstock."),
    ),
    Sum(
        "learn-effect",
        msg("what one step of an adjuster really changes, with its doubt"),
        msg("Measure, turn, measure again."),
        (
            *(
                length(
                    f"before-{key}", msg("{what} before", what=words), optional=True, instrument="steel-rule"
                )
                for key, words in DIRECTIONS
            ),
            *(
                length(
                    f"after-{key}", msg("{what} after", what=words), optional=True, instrument="steel-rule"
                )
                for key, words in DIRECTIONS
            ),
            plain("steps", msg("steps turned in between, either sign")),
            plain("shared", msg("how alike the errors before and after are, 0 to 1"), "0"),
        ),
        learned,
        {"before-front-rear": "-29mm", "after-front-rear": "19mm", "steps": "2"},
        msg("A turn whose effect is larger than the doubt of the readings."),
        msg("Difference quotient; doubt by JCGM 100:2008, equation 16."),
    ),
)
