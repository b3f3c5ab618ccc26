"""Bolts and torque; a torque never stands without class, friction and target."""

from __future__ import annotations

import math

from rakeprep.calculations import torque
from rakeprep.calculations.bolts import Thread, proof_load, shear_load, strength, thread, ultimate_load
from rakeprep.calculations.torque import TorqueTarget
from rakeprep.sums.parts import (
    amount,
    at,
    both,
    degrees,
    found,
    length,
    mm,
    name,
    number,
    plain,
    share,
)
from rakeprep.sums.shape import Answer, Choice, Given, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Kind

THREAD = name("thread", msg("thread of the bolt"), help=msg("A name such as M12 or M12x1.25; M6 to M27."))
CLASS = name("class", msg("property class on the head"), help=msg("A name such as 8.8 or 10.9."))
PLANES = (
    Choice("thread", msg("thread where the parts slide")),
    Choice("shank", msg("plain shank where the parts slide")),
)
ESTIMATE = msg("An estimate: the machine's book has the torque that counts.")


def of_target(target: TorqueTarget, given: Given, how: Message, formula: Message) -> Answer:
    """A torque with everything without which it means nothing."""
    stress = msg("proof load") if target.share_of == "proof" else msg("yield strength")
    tight = both(target.torque, given, Kind.TORQUE, "N·m")
    says = msg(
        "{thread}, class {class_}, {how}, {share} of the {stress}: {torque}.",
        thread=verbatim(target.thread),
        class_=verbatim(target.property_class),
        how=how,
        share=share(target.share),
        stress=stress,
        torque=tight,
    )
    results = (
        Result("thread", msg("thread"), verbatim(target.thread)),
        Result("class", msg("property class"), verbatim(target.property_class)),
        Result("friction", msg("friction"), how),
        Result("target", msg("target"), msg("{share} of the {of}", share=share(target.share), of=stress)),
        found("torque", msg("torque"), target.torque, given, Kind.TORQUE, "N·m"),
        found("preload", msg("clamp load aimed at"), target.preload, given, Kind.FORCE, "kN"),
    )
    scatter = msg(
        "The clamp that a torque really gives strays by ± {dry} as received, ± {oiled} oiled.",
        dry=share(torque.clamp_scatter(lubricated=False)),
        oiled=share(torque.clamp_scatter(lubricated=True)),
    )
    return Answer(says, results, None, (formula, scatter, ESTIMATE))


def estimate(given: Given) -> Answer:
    """C5, by nut factor."""
    bolt, factor, part = thread(given.word("thread")), given.number("nut-factor"), given.number("share")
    target = torque.target_by_nut_factor(bolt, given.word("class"), factor, part)
    formula = msg(
        "T = K · d · F = {factor} · {d} · {force}; F = share · proof stress · stress area.",
        factor=number(factor),
        d=mm(bolt.diameter),
        force=at(target.preload, Kind.FORCE, "kN"),
    )
    return of_target(target, given, msg("nut factor {factor}", factor=number(factor)), formula)


def by_friction(given: Given) -> Answer:
    """C5, by friction."""
    bolt, friction, part = thread(given.word("thread")), given.number("friction"), given.number("share")
    target = torque.target_by_friction(bolt, given.word("class"), friction, part)
    formula = msg(
        "M = F · (0.159 P + 0.577 d2 µ + (dw + dh)/4 µ), F = {force}, P = {pitch}, µ = {friction}.",
        force=at(target.preload, Kind.FORCE, "kN"),
        pitch=mm(bolt.pitch),
        friction=number(friction),
    )
    return of_target(target, given, msg("friction {friction}", friction=number(friction)), formula)


def wrench(given: Given) -> Answer:
    """C5, a crow-foot in line or at an angle."""
    wanted, arm, extension = given.number("torque"), given.number("wrench"), given.number("extension")
    angle = math.radians(given.number("angle"))
    setting = torque.wrench_setting(wanted, arm, extension, angle)
    results = [found("set", msg("set on the wrench"), setting, given, Kind.TORQUE, "N·m")]
    working = [
        msg(
            "set = T · L / (L + E · cos angle) = {torque} · {arm} / ({arm} + {extension} · cos {angle}).",
            torque=at(wanted, Kind.TORQUE, "N·m"),
            arm=mm(arm),
            extension=mm(extension),
            angle=degrees(given.number("angle")),
        )
    ]
    says = msg("Set the wrench to {set}.", set=both(setting, given, Kind.TORQUE, "N·m"))
    if given.has("step"):
        most = (
            torque.wrench_setting(given.number("maximum"), arm, extension, angle)
            if given.has("maximum")
            else None
        )
        mark = torque.to_wrench_step(setting, given.number("step"), most)
        results.append(found("mark", msg("nearest mark of the wrench"), mark, given, Kind.TORQUE, "N·m"))
        says = msg("Set the wrench to its mark {mark}.", mark=both(mark, given, Kind.TORQUE, "N·m"))
    return Answer(says, tuple(results), None, tuple(working))


def recheck(given: Given) -> Answer:
    """C5, what the angle at the second tightening means."""
    bolt = thread(given.word("thread"))
    target = torque.target_by_nut_factor(bolt, given.word("class"), 0.2, given.number("share"))
    grip, joint = given.number("grip"), given.number("joint")
    whole = torque.turn_of_clamp(bolt, target.preload, grip, joint)
    alone = torque.turn_of_clamp(bolt, target.preload, grip, 0.0)
    verdict, says = torque.recheck(math.radians(given.number("moved")))
    results = (
        Result("clamp-turn", msg("turn from touching to full clamp"), math.degrees(whole), Kind.ANGLE, "°"),
        Result("bolt-alone", msg("of it the bolt alone"), math.degrees(alone), Kind.ANGLE, "°"),
        found(
            "stretch",
            msg("stretch of the bolt"),
            torque.stretch(bolt, target.preload, grip),
            given,
            Kind.LENGTH,
            "mm",
        ),
    )
    working = (
        msg(
            "angle = 360° · F · grip · (1 + joint) / (E · As · pitch), F = {force}, grip = {grip}, "
            "pitch = {pitch}.",
            force=at(target.preload, Kind.FORCE, "kN"),
            grip=mm(grip),
            pitch=mm(bolt.pitch),
        ),
        msg("Below 10° it is noted, from 10° to 30° looked at again, above 30° taken apart: rule of thumb."),
    )
    return Answer(says, results, verdict, working)


def bolt_table(given: Given) -> Answer:
    """What a bolt carries."""
    bolt, grade = thread(given.word("thread")), given.word("class")
    strong = strength(grade, bolt.diameter)
    results = (
        Result("pitch", msg("pitch"), bolt.pitch, Kind.LENGTH, "mm"),
        Result("stress-area", msg("stress area"), bolt.stress_area, Kind.AREA, "mm²"),
        found("proof-load", msg("proof load"), proof_load(bolt, grade), given, Kind.FORCE, "kN", "down"),
        found(
            "breaking-load",
            msg("least breaking load"),
            ultimate_load(bolt, grade),
            given,
            Kind.FORCE,
            "kN",
            "down",
        ),
        found(
            "shear-thread",
            msg("double shear, thread where the parts slide"),
            shear_load(bolt, grade, "thread"),
            given,
            Kind.FORCE,
            "kN",
            "down",
        ),
        found(
            "shear-shank",
            msg("double shear, plain shank where the parts slide"),
            shear_load(bolt, grade, "shank"),
            given,
            Kind.FORCE,
            "kN",
            "down",
        ),
        Result("hole", msg("medium hole"), bolt.hole, Kind.LENGTH, "mm"),
    )
    says = msg("{thread}, class {class_}.", thread=verbatim(bolt.name), class_=verbatim(grade))
    return Answer(says, results, None, strengths(bolt, strong.proof, strong.tensile))


def strengths(bolt: Thread, proof: float, tensile: float) -> tuple[Message, ...]:
    """How the loads come about."""
    return (
        msg(
            "Proof load = {proof} · {area}; breaking load = {tensile} · {area}.",
            proof=at(proof, Kind.PRESSURE, "MPa"),
            tensile=at(tensile, Kind.PRESSURE, "MPa"),
            area=at(bolt.stress_area, Kind.AREA, "mm²"),
        ),
        msg("Shear = 2 planes · 0.6 (0.5 in the thread of brittle classes) · tensile strength · area."),
    )


def wrench_doubt(given: Given) -> Answer:
    """What a reading of the wrench is worth."""
    read = given.estimate("torque")
    same = spread(lambda value: value, read)
    says = msg(
        "Between {low} and {high}.",
        low=both(same.low, given, Kind.TORQUE, "N·m", "down"),
        high=both(same.high, given, Kind.TORQUE, "N·m", "up"),
    )
    results = (found("torque", msg("torque at the nut"), same, given, Kind.TORQUE, "N·m"),)
    return Answer(says, results)


SUMS = (
    Sum(
        "torque-estimate",
        msg("tightening torque by nut factor"),
        msg("Torque for a share of the proof load, shown with class, friction and target."),
        (
            THREAD,
            CLASS,
            plain("nut-factor", msg("nut factor K: 0.20 dry, 0.15 lightly oiled"), "0.20"),
            amount("share", msg("share of the proof load"), Kind.RATIO, "%", "75%"),
        ),
        estimate,
        {"thread": "M12", "class": "8.8", "nut-factor": "0.20"},
        msg("M6 to M27; K from 0.05 to 0.5; share above 0 up to 100 %."),
        msg("Common textbook formula T = K·d·F with ISO 898-1:2013, table 3."),
    ),
    Sum(
        "torque-by-friction",
        msg("tightening torque by friction"),
        msg("Torque for a share of the yield strength, pull and twist together."),
        (
            THREAD,
            CLASS,
            plain("friction", msg("friction in thread and under the head"), "0.14"),
            amount("share", msg("share of the yield strength"), Kind.RATIO, "%", "90%"),
        ),
        by_friction,
        {"thread": "M12", "class": "8.8", "friction": "0.14"},
        msg("M6 to M27; friction from 0.04 to 0.4; bolts with full shank."),
        msg("VDI 2230 part 1 (formula from memory, checked against its printed table)."),
    ),
    Sum(
        "wrench-setting",
        msg("click wrench with a crow-foot or extension"),
        msg("What to set so that the nut gets the torque wanted."),
        (
            amount("torque", msg("torque wanted at the nut"), Kind.TORQUE, "N·m"),
            length("wrench", msg("square drive to the middle of the grip")),
            length("extension", msg("square drive to the nut")),
            amount("angle", msg("extension against the wrench; 0 in line"), Kind.ANGLE, "°", "0°"),
            amount("step", msg("between two marks of the wrench"), Kind.TORQUE, "N·m", optional=True),
            amount("maximum", msg("largest torque at the nut"), Kind.TORQUE, "N·m", optional=True),
        ),
        wrench,
        {"torque": "250Nm", "wrench": "400mm", "extension": "60mm"},
        msg("The hand pulls at the middle of the grip, square to the wrench."),
        msg("Moments about the nut."),
    ),
    Sum(
        "recheck-angle",
        msg("what it means that a nut turned at the second tightening"),
        msg("Compares the angle moved with the turn that makes the whole clamp."),
        (
            THREAD,
            CLASS,
            length("grip", msg("clamped thickness")),
            amount("moved", msg("angle turned before the wrench clicked"), Kind.ANGLE, "°"),
            plain("joint", msg("give of the joint against the bolt's: 1 as soft, 0 rigid"), "1"),
            amount("share", msg("share of the proof load aimed at"), Kind.RATIO, "%", "75%"),
        ),
        recheck,
        {"thread": "M16", "class": "8.8", "grip": "30mm", "moved": "35°"},
        msg("Thread over the whole grip, elastic joint."),
        msg("Hooke's law and the pitch of the thread; the limits 10° and 30° are a rule of thumb."),
    ),
    Sum(
        "bolt",
        msg("what a metric bolt carries"),
        msg("Pitch, areas, proof load, breaking load and double shear by thread and class."),
        (THREAD, CLASS),
        bolt_table,
        {"thread": "M12", "class": "8.8"},
        msg("M6 to M27, classes 4.6 to 12.9; least values, no safety included."),
        msg("ISO 898-1:2013, tables 3 to 7; EN 1993-1-8, table 3.4 for shear; ISO 273 for the hole."),
    ),
    Sum(
        "wrench-doubt",
        msg("what a click wrench's torque is worth"),
        msg("The torque at the nut with the doubt of a click wrench in a hand."),
        (amount("torque", msg("torque set on the wrench"), Kind.TORQUE, "N·m", instrument="click-wrench"),),
        wrench_doubt,
        {"torque": "250Nm"},
        msg("A wrench within its date; ± 5 % of the reading."),
        msg("ISO 6789 (± 4 % of the tool); the rest is a rule of thumb for the hand."),
    ),
)
