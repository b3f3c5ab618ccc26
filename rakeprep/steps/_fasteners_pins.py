"""Slotted spring pins: size, fit in the hole, how far they stand out, and play of what they hold."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.spring_pins import fit
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import PinJoint, Profile
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import Answer, Limit, against, doubt_said, judged, sane, unit_of
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, standard
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Amount, Kind

FIELD_WORK = frozenset({Use.FIELD, Use.PTO})
SAME = 1e-6  # m: two nominal diameters are the same name or not
TIGHT, LOOSE = 0.003, 0.010  # m at the tip, a rule of thumb
TWIST_RULE = rule_of_thumb(msg("3 mm at the tip is right, 10 mm is a wrong pin or a worn hole"))

BY_HAND = {
    "yes": Answer(
        Verdict.PUT_RIGHT,
        msg("{place}: the pin falls in by hand; it is the wrong pin or the hole is worn."),
        msg("Measure a loose pin and the hole with the calliper, and use the pin that belongs there."),
        FIELD_WORK,
    ),
    "no": Answer(Verdict.IN_ORDER, msg("{place}: the pin has to be driven.")),
}
PROTRUSION = Limit(
    msg("{place}: stands out {read}, at most {limit}."),
    msg("{place}: {read} is too close to the limit of {limit} to tell."),
    msg("{place}: stands out {read}, more than {limit}."),
    msg("Drive it further, or find out what is in its way; a pin that mushrooms goes out again."),
)


def fields(profile: Profile, joints: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions about the pins."""
    standing = {j.key for j in profile.pin_joint if j.protrusion is not None}
    length, unit = Kind.LENGTH, "mm"
    return (
        Field(
            "pin_size",
            msg("Pin size on the bag"),
            Ask.QUANTITY,
            msg("Nominal diameter as printed on the bag or the order."),
            joints,
            length,
            unit,
            need=Need.MAY,
        ),
        Field(
            "pin_free",
            msg("Diameter of a loose pin"),
            Ask.QUANTITY,
            msg("Calliper over the pin before it is driven, turned once: it is not round. Keep the largest."),
            joints,
            length,
            unit,
            instrument="calliper",
        ),
        Field(
            "pin_hole",
            msg("Diameter of the hole"),
            Ask.QUANTITY,
            msg("Calliper in the cleaned hole, along and across. Keep the largest."),
            joints,
            length,
            unit,
            instrument="calliper",
        ),
        Field(
            "by_hand",
            msg("Pin falls in by hand"),
            Ask.CHOICE,
            msg("Try one pin of each bag: a right one has to be driven with a hammer."),
            joints,
            options=YES_NO,
        ),
        Field(
            "protrusion",
            msg("Pin stands out"),
            Ask.QUANTITY,
            msg("Depth rod of the calliper from the surface to the end of the pin; the worst one."),
            tuple(place for place in joints if place.key in standing),
            length,
            unit,
            instrument="calliper",
            rests_on=("fasteners.pins_in",),
        ),
        Field(
            "twist",
            msg("Play at the tip, twisted by hand"),
            Ask.QUANTITY,
            msg("Twist every pinned part by hand and measure at its tip; the worst one. Usual: 0 to 3 mm."),
            joints,
            length,
            unit,
            instrument="tape",
            rests_on=("fasteners.pins_in",),
        ),
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge the pins of every family."""
    for joint in facts.profile.pin_joint:
        yield from size_findings(facts, joint)
        yield from fit_findings(facts, joint, by_key)
        if joint.protrusion is not None:
            yield from against(facts, by_key["protrusion"], joint.key, joint.protrusion, PROTRUSION)
        yield from twist_findings(facts, joint, by_key["twist"])
    if "by_hand" in by_key:
        yield from judged(facts, by_key["by_hand"], BY_HAND)


def size_findings(facts: Facts, joint: PinJoint) -> Iterable[Finding]:
    """Compare the size on the bag with the machine data."""
    size = sane(facts, "pin_size", joint.key)
    if size is None:
        return
    about = (facts.slot("pin_size", joint.key),)
    wanted = {joint.pin, joint.inner_pin} - {0}
    if any(abs(size - each / 1000) < SAME for each in wanted):
        says = msg("{place}: the bag holds the right pins.", place=named(joint))
        yield Finding(Verdict.IN_ORDER, about, says)
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg(
            "{place}: the bag says {size}, wanted are pins of {wanted} mm.",
            place=named(joint),
            size=Amount(size, Kind.LENGTH, "mm"),
            wanted=joint.pin,
        ),
        msg("Look for the other bag. A smaller pin lets the part hammer until it comes off."),
        bars=FIELD_WORK,
    )


def named(joint: PinJoint) -> Message:
    """The words of a family within a sentence."""
    return verbatim(joint.name)


def fit_findings(facts: Facts, joint: PinJoint, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge how tight the measured pin sits in the measured hole."""
    free = reading(facts, "pin_free", joint.key, "calliper")
    hole = reading(facts, "pin_hole", joint.key, "calliper")
    if free is None or hole is None:
        return
    about = (facts.slot("pin_free", joint.key), facts.slot("pin_hole", joint.key))
    try:
        found = fit(joint.pin / 1000, free, hole)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = unit_of(facts, by_key["pin_free"], joint.key)
    squeeze = Amount(found.squeeze.value, Kind.LENGTH, unit, doubt=found.squeeze.doubt, both=True)
    working = (
        msg("Squeeze = loose pin − hole = {squeeze}.", squeeze=squeeze),
        msg(
            "A right pair has {least} to {most}.",
            least=Amount(found.squeeze_min, Kind.LENGTH, unit, toward="up"),
            most=Amount(found.squeeze_max, Kind.LENGTH, unit, toward="down"),
        ),
    )
    says = joined([reason.text for reason in found.reasons], "; ")
    todo = {
        Verdict.MEASURE_AGAIN: msg("Measure both again with a micrometer, or try how the pin drives in."),
        Verdict.PUT_RIGHT: msg("Use the pin that belongs there; for a worn hole ask the machine's maker."),
    }.get(found.verdict)
    bars = FIELD_WORK if found.verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(
        found.verdict,
        about,
        msg("{place}: {reasons}.", place=named(joint), reasons=says),
        todo,
        working,
        standard("ISO 8752"),
        bars,
    )


def twist_findings(facts: Facts, joint: PinJoint, field: Field) -> Iterable[Finding]:
    """Judge the play by hand: small is right, large is a wrong pin; between them it is looked at again."""
    read = reading(facts, field.key, joint.key, field.instrument)
    if read is None:
        return
    play, pins = facts.slot(field.key, joint.key), facts.slot("pins_in", joint.key)
    about = (play, pins) if joint.holes else (play,)
    unit = unit_of(facts, field, joint.key)
    say = {"place": named(joint), "read": Amount(read.value, Kind.LENGTH, unit, both=True)}
    working = (doubt_said(Kind.LENGTH, read.doubt, unit),)
    tight, loose = read.value <= TIGHT, read.value >= LOOSE
    if tight:
        says = msg("{place}: {read} at the tip.", **say)
        yield Finding(Verdict.IN_ORDER, about, says, None, working, TWIST_RULE)
    elif loose:
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg("{place}: {read} at the tip; wrong pin, worn hole, or no pin at all.", **say),
            msg("Look for the joint without its pin first, then measure pin and hole."),
            working,
            TWIST_RULE,
            FIELD_WORK,
        )
    else:
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg("{place}: {read} at the tip is more than usual.", **say),
            msg("Twist it again with a second person holding the rotor; compare with its neighbours."),
            working,
            TWIST_RULE,
        )
