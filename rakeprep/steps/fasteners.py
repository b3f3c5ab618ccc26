"""Fasteners: shipping bolts out, spring pins in, and every other joint to its torque."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.balance import Balance, fastener_balance
from rakeprep.calculations.bolts import thread
from rakeprep.calculations.spring_pins import against_bolt, nested
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import PinJoint, Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps import _fasteners_pins, _fasteners_torque
from rakeprep.steps._judged import answered_no, whole
from rakeprep.steps._reading import cannot_tell, standard
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Amount, Kind

EVERYTHING = frozenset(Use)
PINS = standard("ISO 8752; EN 1993-1-8, ISO 898-1")


def joint_place(joint: PinJoint) -> Place:
    """The place of a family of pinned joints."""
    return Place(joint.key, verbatim(joint.name), "frame")


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    joints = tuple(joint_place(j) for j in profile.pin_joint)
    asked = (
        *count_fields(profile),
        *_fasteners_pins.fields(profile, joints),
        Field(
            "shipping_parts",
            msg("Blocks, film, plugs, brackets out"),
            Ask.CHOICE,
            msg("Everything painted or tied on for the journey only. Keep it in a bag until handover."),
            options=YES_NO,
        ),
        *_fasteners_torque.fields(profile),
    )
    return tuple(field for field in asked if field.places)


def count_fields(profile: Profile) -> tuple[Field, ...]:
    """What is counted, by two people."""
    return (
        Field(
            "bolts_out",
            msg("Shipping bolts taken out"),
            Ask.COUNT,
            msg("Count the bolts on the bench, not the holes. Support a part before its bolt comes out."),
            tuple(joint_place(j) for j in profile.pin_joint if j.shipping_bolts),
            need=Need.MUST,
            bars=EVERYTHING,
            two_people=True,
        ),
        Field(
            "pins_in",
            msg("Spring pins driven in"),
            Ask.COUNT,
            msg("Count the pins in the machine, joint by joint, engine off and rotors on the ground."),
            tuple(joint_place(j) for j in profile.pin_joint if j.holes),
            need=Need.MUST,
            bars=EVERYTHING,
            two_people=True,
            rests_on=("fasteners.bolts_out",),
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge counts, pins and torques."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    balances = [(joint, *balanced(facts, joint)) for joint in facts.profile.pin_joint]
    for joint, about, balance in balances:
        yield from joint_findings(joint, about, balance)
    yield from total_findings(facts, [balance for _, _, balance in balances])
    yield from _fasteners_pins.findings(facts, by_key)
    yield from answered_no(
        facts,
        by_key["shipping_parts"],
        msg("Something that is for the journey only is still on the machine."),
        msg("Take it off, give it a line in the list, and put it into the bag."),
    )
    yield from _fasteners_torque.findings(facts, by_key)


def balanced(facts: Facts, joint: PinJoint) -> tuple[tuple[Slot, ...], Balance | Impossible | None]:
    """The counts of one family held against the machine data; None while a count is missing."""
    out = whole(facts, "bolts_out", joint.key) if joint.shipping_bolts else 0
    pins = whole(facts, "pins_in", joint.key) if joint.holes else 0
    asked = (("bolts_out", joint.shipping_bolts), ("pins_in", joint.holes))
    about = tuple(facts.slot(field, joint.key) for field, many in asked if many)
    if out is None or pins is None or not about:
        return about, None
    try:
        return about, fastener_balance(joint.shipping_bolts, out, joint.holes, pins)
    except Impossible as reason:
        return about, reason


def joint_findings(
    joint: PinJoint, about: tuple[Slot, ...], balance: Balance | Impossible | None
) -> Iterable[Finding]:
    """What the counts of one family say, and why a bolt may not stay where a pin belongs."""
    if balance is None:
        return
    if isinstance(balance, Impossible):
        yield cannot_tell(about, balance)
        return
    name = joint_place(joint).name
    if not balance.reasons:
        says = msg("{place}: every bolt is out and every pin is in.", place=name)
        yield Finding(Verdict.IN_ORDER, about, says, None, shear_working(joint), PINS)
        return
    yield Finding(
        Verdict.STOP,
        about,
        msg("{place}: {reasons}.", place=name, reasons=joined(balance.reasons, "; ")),
        msg("Find it before anything else is done on this rotor or axle; both count again."),
        shear_working(joint),
        PINS,
        EVERYTHING,
    )


def shear_working(joint: PinJoint) -> tuple[Message, ...]:
    """Pin and shipping bolt compared, both cut in two planes, the bolt's thread in the cut."""
    try:
        pair = against_bolt(joint.pin / 1000, thread(joint.bolt), joint.bolt_class, "thread")
        pin = nested(joint.pin / 1000, joint.inner_pin / 1000) if joint.inner_pin else pair.pin
    except Impossible as reason:
        return (reason.message,)
    return (
        msg(
            "Cut in two planes, a {pin} mm spring pin bears {pin_load}, the {bolt} bolt of class "
            "{bolt_class} in its thread {bolt_load}.",
            pin=joint.pin,
            pin_load=Amount(pin, Kind.FORCE, "kN", toward="down"),
            bolt=joint.bolt,
            bolt_class=joint.bolt_class,
            bolt_load=Amount(pair.bolt, Kind.FORCE, "kN", toward="down"),
        ),
        msg("The bolt also lies loose in its hole, hammers and works loose; a pin is tight in its hole."),
    )


def total_findings(facts: Facts, balances: list[Balance | Impossible | None]) -> Iterable[Finding]:
    """The sum over all families, once all are counted."""
    joints = facts.profile.pin_joint
    known = [each for each in balances if isinstance(each, Balance)]
    if not joints or len(known) < len(joints):
        return
    shipped, holes = sum(j.shipping_bolts for j in joints), sum(j.holes for j in joints)
    out = shipped - sum(each.bolts_left for each in known)
    pins = holes - sum(each.holes_open for each in known)
    about = tuple(facts.slot("bolts_out", j.key) for j in joints if j.shipping_bolts) + tuple(
        facts.slot("pins_in", j.key) for j in joints if j.holes
    )
    if not about:
        return
    say = {"out": out, "shipped": shipped, "pins": pins, "holes": holes}
    try:
        whole_machine = fastener_balance(shipped, out, holes, pins)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    sentence = msg("{out} bolts out of {shipped}, {pins} pins for {holes} holes", **say)
    if whole_machine.reasons:
        yield Finding(
            Verdict.STOP,
            about,
            msg("Whole machine: {counts}: {why}.", counts=sentence, why=joined(whole_machine.reasons)),
            msg("The job cannot be closed like this. Look through the families one by one."),
            bars=EVERYTHING,
        )
    elif any(each.reasons for each in known):
        says = msg("Whole machine: {counts}, but single families differ.", counts=sentence)
        todo = msg("Count again family by family; a bolt or pin may lie in the wrong box.")
        yield Finding(Verdict.MEASURE_AGAIN, about, says, todo)
    else:
        yield Finding(Verdict.IN_ORDER, about, msg("Whole machine: {counts}: balanced.", counts=sentence))


STEP = Step(
    key="fasteners",
    order=2,
    title=msg("Fasteners"),
    about=msg("Take out what was for the journey only, and make every joint as strong as it was meant."),
    cautions=(
        Caution(
            msg("An arm or the axle falls when its bolt is drawn."),
            msg("Machine on the ground or on rated stands; part on a hoist before the bolt moves."),
            "crushing",
        ),
        Caution(
            msg("Pins spring and hammers chip."),
            msg("Glasses on, pin driver with a guard, nobody in line with the pin."),
            "flying-parts",
        ),
    ),
    fields=fields,
    checks=(check,),
)
