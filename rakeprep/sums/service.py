"""Clutches, oil and grease, tools, and the honest time that is left."""

from __future__ import annotations

import math

from rakeprep.calculations import demand, lubricants, oil, overrunning, tools
from rakeprep.calculations.lubricants import Edition
from rakeprep.calculations.progress import Stage, progress
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, choice, count, degrees, found, length, mm, name, several, yes_no
from rakeprep.sums.shape import Answer, Choice, Form, Given, Input, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import msg, verbatim
from rakeprep.units import Kind

MM2_S, TENTH_MM = 1e-6, 1e-4
EDITIONS = (Choice("2019", msg("edition of 2019")), Choice("2005", msg("edition of 2005")))
OF_EDITION = {"2019": Edition.SAE_J306_2019, "2005": Edition.SAE_J306_2005}


def clutch(given: Given) -> Answer:
    """C11."""
    seen = [
        given.word(key) == "yes" if given.has(key) else None
        for key in ("drives", "drives-back", "runs-ahead")
    ]
    state = overrunning.overrunning(*seen)
    results = (Result("tests", msg("tests done"), sum(each is not None for each in seen)),)
    working = (msg("Engine off, key out, rotors clear; three tests by hand on each side."),)
    return Answer(state.says, results, state.verdict, working)


def level(given: Given) -> Answer:
    """C12."""
    arm = given.number("arm")
    error = spread(lambda a: oil.level_error(arm, math.radians(a)), given.estimate("tilt"))
    results = (found("error", msg("level is read wrong by"), error, given, Kind.LENGTH, "mm"),)
    verdict = Verdict.IN_ORDER if abs(given.number("tilt")) <= given.number("most") else Verdict.PUT_RIGHT
    says = (
        msg("The gearbox stands level enough.")
        if verdict is Verdict.IN_ORDER
        else msg("Level the gearbox before reading its oil.")
    )
    working = (
        msg(
            "error = arm · tan(tilt) = {arm} · tan({tilt}).", arm=mm(arm), tilt=degrees(given.number("tilt"))
        ),
    )
    return Answer(says, results, verdict, working)


def balance(given: Given) -> Answer:
    """C37."""
    filled, drained = given.estimate("filled"), given.estimate("drained")
    seen = oil.oil_balance(filled, drained, given.number("most"))
    results = (found("lost", msg("lost; below zero is gained"), seen.lost, given, Kind.VOLUME, "mL"),)
    working = (
        msg(
            "lost = filled − drained = {filled} − {drained}.",
            filled=at(filled.value, Kind.VOLUME, "mL"),
            drained=at(drained.value, Kind.VOLUME, "mL"),
        ),
    )
    return Answer(seen.says, results, seen.verdict, working)


def shots(given: Given) -> Answer:
    """C36."""
    grease, per_shot = given.number("grease"), given.number("per-shot")
    needed = oil.shots_needed(grease, per_shot)
    results = (
        Result("shots", msg("strokes of the gun"), needed),
        found("gives", msg("which give"), oil.grease_given(needed, per_shot), given, Kind.MASS, "g"),
    )
    says = msg("{n} strokes.", n=needed)
    working = (
        msg(
            "strokes = {grease} / {per_shot}, rounded up.",
            grease=at(grease, Kind.MASS, "g"),
            per_shot=at(per_shot, Kind.MASS, "g"),
        ),
    )
    return Answer(says, results, None, working)


def gear_oil(given: Given) -> Answer:
    """SAE J306."""
    grade = lubricants.gear_oil(given.word("grade"), OF_EDITION[given.word("edition")])
    results = []
    if grade.coldest is not None:
        results.append(
            found("coldest", msg("still flows down to"), grade.coldest, given, Kind.TEMPERATURE, "°C", "up")
        )
    if grade.least is not None:
        label = msg("viscosity at 100 °C in mm²/s, at least")
        results.append(Result("least", label, grade.least / MM2_S, Kind.NUMBER, "1"))
    if grade.below is not None:
        label = msg("viscosity at 100 °C in mm²/s, below")
        results.append(Result("below", label, grade.below / MM2_S, Kind.NUMBER, "1"))
    says = msg(
        "Gear oil {grade}, {edition}.", grade=verbatim(grade.grade), edition=verbatim(grade.edition.value)
    )
    working = (
        (msg("The editions of 2005 and 2019 differ for this grade: name the edition with it."),)
        if lubricants.editions_differ(given.word("grade"))
        else ()
    )
    return Answer(says, tuple(results), None, working)


def grease(given: Given) -> Answer:
    """NLGI and ASTM D4950."""
    results = []
    says = msg("Type a consistency, a class, or both.")
    if given.has("consistency"):
        low, high = lubricants.grease_penetration(given.word("consistency"))
        label = msg("worked penetration at 25 °C, least")
        results.append(Result("least", label, low, Kind.LENGTH, "mm"))
        results.append(Result("most", msg("worked penetration at 25 °C, most"), high, Kind.LENGTH, "mm"))
        says = msg("Grease of consistency {n}.", n=verbatim(given.word("consistency")))
    if given.has("class"):
        says = lubricants.grease_class(given.word("class"))
        results.append(Result("class", msg("class"), verbatim(given.word("class"))))
    demand(bool(results), msg("Type a consistency such as 2, a class such as GC-LB, or both."))
    return Answer(says, tuple(results))


def tool(given: Given) -> Answer:
    """C39."""
    certified = given.day("certified") if given.has("certified") else None
    pulls = given.count("pulls") if given.has("pulls") else None
    months, most = given.count("months"), given.count("most-pulls")
    state = tools.tool_state(certified, given.day("today"), pulls, months, most)
    if state is None:
        says = msg("Without a certificate its reading is only an indication.")
        return Answer(says, (Result("certificate", msg("certificate"), msg("none")),), Verdict.PUT_RIGHT)
    results = [
        Result("due", msg("last day it counts"), state.due),
        Result("days-left", msg("days left"), state.days_left),
    ]
    if state.pulls_left is not None:
        results.append(Result("pulls-left", msg("pulls left"), state.pulls_left))
    return Answer(state.says, tuple(results), state.verdict)


def time_left(given: Given) -> Answer:
    """C40, stages by their planned and used time."""
    planned, used = given.all_read("planned"), given.all_read("used")
    finished = given.words("finished")
    demand(
        len(planned) == len(used) == len(finished),
        msg("Planned times, used times and finished must be of the same number."),
    )
    stages = [
        Stage(str(n), plan, spent, finished=done == "yes")
        for n, (plan, spent, done) in enumerate(zip(planned, used, finished, strict=True), 1)
    ]
    seen = progress(stages)
    results = (
        Result(
            "remaining",
            msg("still to come at the pace so far"),
            seen.remaining,
            Kind.DURATION,
            "h",
            toward="up",
        ),
        Result("by-plan", msg("still to come by plan"), seen.by_plan, Kind.DURATION, "h", toward="up"),
        Result("pace", msg("time used over time planned"), seen.pace, Kind.NUMBER, "1"),
    )
    working = tuple(
        msg("Stage {n} has used up its plan: what it still takes is not known.", n=key) for key in seen.longer
    )
    return Answer(seen.says, results, None, working)


YES = (Choice("yes", msg("finished")), Choice("no", msg("not finished")))
SUMS = (
    Sum(
        "overrunning-clutch",
        msg("overrunning clutch of one side shaft"),
        msg("Three tests by hand, engine off and key out; leave out what was not tested."),
        (
            yes_no("drives", msg("rotor is taken along, shaft turned in its drive direction"), optional=True),
            yes_no("drives-back", msg("rotor is taken along, shaft turned against it"), optional=True),
            yes_no(
                "runs-ahead", msg("rotor runs on free in its working direction, shaft held"), optional=True
            ),
        ),
        clutch,
        {"drives": "no", "drives-back": "yes", "runs-ahead": "no"},
        msg("One side at a time."),
        msg("How a one-way clutch works; no published source for the test."),
    ),
    Sum(
        "oil-level-tilt",
        msg("oil level read on a slope"),
        msg("How far the level is read wrong because the gearbox stands tilted."),
        (
            length("arm", msg("level plug beside the middle of the gearbox")),
            amount("tilt", msg("tilt toward the plug"), Kind.ANGLE, "°", instrument="digital-level"),
            amount("most", msg("tilt that may stay"), Kind.ANGLE, "°", "1°"),
        ),
        level,
        {"arm": "180mm", "tilt": "4°"},
        msg("Less than a right angle."),
        msg("Geometry; 1° is a rule of thumb."),
    ),
    Sum(
        "oil-balance",
        msg("oil drained against oil filled"),
        msg("More out than in is no better than a loss."),
        (
            amount("filled", msg("volume filled"), Kind.VOLUME, "mL", instrument="jug"),
            amount("drained", msg("volume drained"), Kind.VOLUME, "mL", instrument="jug"),
            amount("most", msg("difference that may stay"), Kind.VOLUME, "mL", "100 mL"),
        ),
        balance,
        {"filled": "0.80L", "drained": "0.55L"},
        msg("Drained warm and long enough."),
        msg("Arithmetic; JCGM 106:2012, 8.3; the limit is a rule of thumb."),
    ),
    Sum(
        "grease-shots",
        msg("strokes of the grease gun"),
        msg("Weigh ten strokes of this gun first; a few pumps is no number."),
        (
            amount("grease", msg("grease wanted"), Kind.MASS, "g"),
            amount("per-shot", msg("what one stroke gives"), Kind.MASS, "g"),
        ),
        shots,
        {"grease": "20g", "per-shot": "1.2g"},
        msg("Masses above zero."),
        msg("Arithmetic."),
    ),
    Sum(
        "gear-oil",
        msg("what a viscosity grade of gear oil promises"),
        msg("Cold limit and viscosity at 100 °C."),
        (
            name("grade", msg("grade as printed on the can"), help=msg("Such as 90, 80W or 80W-90.")),
            choice("edition", msg("edition of the standard"), EDITIONS, "2019"),
        ),
        gear_oil,
        {"grade": "80W-90"},
        msg("Grades 70W to 190."),
        msg("SAE J306, editions 2005 and 2019 as reprinted by lubricant data sheets."),
    ),
    Sum(
        "grease-class",
        msg("consistency and class of a grease"),
        msg("What the marks on the tin mean."),
        (
            Input("consistency", msg("consistency number, such as 2 or 00"), Form.NAME, optional=True),
            Input("class", msg("service class, such as GC-LB"), Form.NAME, optional=True),
        ),
        grease,
        {"consistency": "2", "class": "GC-LB"},
        msg("Numbers 000 to 4; classes LA, LB, GA, GB, GC, GC-LB."),
        msg("NLGI consistency numbers (ASTM D217); ASTM D4950 (GC-LB from memory)."),
    ),
    Sum(
        "tool-date",
        msg("does a torque tool still count"),
        msg("By time and by pulls, whichever ends first."),
        (
            Input("certified", msg("day of its certificate"), Form.DAY, optional=True),
            Input("today", msg("day of use"), Form.DAY),
            count("pulls", msg("pulls since the certificate"), optional=True),
            count("months", msg("months it counts"), "12"),
            count("most-pulls", msg("pulls it counts"), "5000"),
        ),
        tool,
        {"certified": "2025-03-01", "today": "2026-04-14"},
        msg("1 to 120 months."),
        msg("ISO 6789: 12 months or 5000 pulls unless the workshop's own control says otherwise."),
    ),
    Sum(
        "time-left",
        msg("how long the work still takes"),
        msg("From planned and used time of each stage, in their order; no percentage."),
        (
            several("planned", msg("planned time of each stage"), Kind.DURATION, "h"),
            several("used", msg("time used on each stage"), Kind.DURATION, "h"),
            Input("finished", msg("finished, stage by stage"), Form.WORDS, choices=YES),
        ),
        time_left,
        {"planned": "1h,0.5h,1.5h", "used": "1.5h,0h,0h", "finished": "yes,no,no"},
        msg("Up to 60 stages."),
        msg("Arithmetic."),
    ),
)
