"""Joints that are tightened to a torque: value, wrench, extension, and the usual mix-up of units."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations.bolts import thread
from rakeprep.calculations.decision import Estimate, near
from rakeprep.calculations.tools import tool_state
from rakeprep.calculations.torque import clamp_scatter, target_by_nut_factor, wrench_setting
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import BoltJoint, Profile
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no, day_of, doubt_said, sane, unit_of, whole
from rakeprep.steps._reading import cannot_tell, reading, shown, standard
from rakeprep.text import Message, msg, plural, verbatim
from rakeprep.units import Amount, Kind, to_si

NOT_SAFE = frozenset({Use.FIELD, Use.ROAD})
SHARE = 0.10  # of the torque, a rule of thumb; the wrench alone takes 5 %
LIKE = 0.03  # how near a mix-up of units lies to the exact ratio
DRY, OILED = 0.20, 0.15  # nut factor


def joint_place(joint: BoltJoint) -> Place:
    """The place of a family of bolted joints."""
    return Place(joint.key, verbatim(joint.name), "frame")


def fields(profile: Profile) -> tuple[Field, ...]:
    """The questions about torques; none where the machine has no such joint."""
    if not profile.bolt_joint:
        return ()
    joints = tuple(joint_place(j) for j in profile.bolt_joint)
    unit = profile.bolt_joint[0].torque.typed.unit
    return (
        Field(
            "wrench",
            msg("Number of the torque wrench"),
            Ask.TEXT,
            msg("The number on the wrench, so that its certificate can be found later."),
        ),
        Field(
            "wrench_certificate",
            msg("Date of its certificate"),
            Ask.DATE,
            msg("On the sticker or the sheet. Usual: checked every 12 months or 5000 pulls."),
        ),
        Field(
            "wrench_pulls",
            msg("Pulls since its certificate"),
            Ask.COUNT,
            msg("Only if somebody counts them, on the wrench's card."),
            need=Need.MAY,
        ),
        Field(
            "wrench_length",
            msg("Wrench, drive to middle of grip"),
            Ask.QUANTITY,
            msg("Only if a crow-foot is used: square drive to the middle of the hand."),
            kind=Kind.LENGTH,
            unit="mm",
            need=Need.MAY,
        ),
        Field(
            "extension",
            msg("Crow-foot in line, drive to nut"),
            Ask.QUANTITY,
            msg("Only if it stands in line with the wrench; at a right angle nothing changes."),
            kind=Kind.LENGTH,
            unit="mm",
            need=Need.MAY,
        ),
        Field(
            "torque",
            msg("Torque at the nut"),
            Ask.QUANTITY,
            msg("Read the class on the bolt's head, look whether it is dry or oiled, and pull slowly."),
            joints,
            Kind.TORQUE,
            unit,
            bars=NOT_SAFE,
            instrument="click-wrench",
            rests_on=("fasteners.wrench_certificate", "fasteners.wrench_pulls"),
        ),
        Field(
            "marked",
            msg("Paint line across nut and part"),
            Ask.CHOICE,
            msg("One line for each finished bolt; broken later, it shows that something turned."),
            joints,
            options=YES_NO,
            need=Need.MAY,
        ),
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge wrench and torques."""
    if not facts.profile.bolt_joint:
        return
    overdue = certificate(facts)
    if overdue is not None:
        yield overdue
    yield from extension_findings(facts, by_key["torque"])
    indication = overdue is not None and overdue.verdict is not Verdict.IN_ORDER
    for joint in facts.profile.bolt_joint:
        yield from torque_findings(facts, joint, by_key["torque"], indication)
    yield from answered_no(
        facts,
        by_key["marked"],
        msg("{place}: no paint line yet."),
        msg("Draw it once the torque is right, never before."),
    )


def certificate(facts: Facts) -> Finding | None:
    """Whether the wrench's certificate still holds."""
    day = day_of(facts.text("wrench_certificate"))
    if day is None:
        return None
    about = tuple(facts.slot(key) for key in ("wrench_certificate", "wrench", "wrench_pulls"))
    source = standard("ISO 6789", msg("usual interval 12 months or 5000 pulls"))
    try:
        state = tool_state(day, facts.today, whole(facts, "wrench_pulls"))
    except Impossible as reason:
        return cannot_tell(about, reason)
    if state is None:
        return None
    if state.indication_only:
        todo = msg("Take a wrench with a valid certificate for the joints below, or have this one checked.")
        return Finding(Verdict.MEASURE_AGAIN, about, state.says, todo, source=source)
    working: tuple[Message, ...] = ()
    if state.pulls_left is not None:
        working = (plural("{count} pull is left.", "{count} pulls are left.", state.pulls_left),)
    return Finding(Verdict.IN_ORDER, about, state.says, None, working, source)


def extension_findings(facts: Facts, torque: Field) -> Iterable[Finding]:
    """What to set on the wrench while a crow-foot is on it."""
    wrench, extension = sane(facts, "wrench_length"), sane(facts, "extension")
    if not wrench or not extension:
        return
    about = (facts.slot("extension"), facts.slot("wrench_length"))
    for joint in facts.profile.bolt_joint:
        target = facts.value(joint.torque)
        if target is None:
            continue
        try:
            setting = wrench_setting(target, wrench, extension)
        except Impossible as reason:
            yield cannot_tell(about, reason)
            return
        yield Finding(
            Verdict.IN_ORDER,
            about,
            msg(
                "{place}: with this crow-foot in line set {setting} to get {target}.",
                place=joint_place(joint).name,
                setting=Amount(setting, Kind.TORQUE, torque.unit, both=True),
                target=shown(joint.torque),
            ),
            working=(msg("set = T · L / (L + E)"),),
            source=joint.torque.source,
        )


def torque_findings(facts: Facts, joint: BoltJoint, field: Field, indication: bool) -> Iterable[Finding]:
    """Judge the torque of one family against its book's value."""
    read, target = reading(facts, "torque", joint.key, "click-wrench"), facts.value(joint.torque)
    if read is None or target is None:
        return
    about = (facts.slot("torque", joint.key), facts.slot("wrench_certificate"))
    unit = unit_of(facts, field, joint.key)
    try:
        verdict = near(read.value, read.doubt, target, SHARE * target)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {
        "place": joint_place(joint).name,
        "read": Amount(read.value, Kind.TORQUE, unit, both=True),
        "target": shown(joint.torque, both=True),
    }
    working = (*described(joint, unit), doubt_said(Kind.TORQUE, read.doubt, unit))
    says, todo = sentence(verdict, read, target, say)
    if verdict is Verdict.IN_ORDER and indication:
        verdict = Verdict.MEASURE_AGAIN
        says = msg("{place}: {read} agrees, but only as an indication.", **say)
        todo = msg("Pull these bolts again with a wrench whose certificate is valid.")
    bars = NOT_SAFE if verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(verdict, about, says, todo, working, joint.torque.source, bars)


def sentence(
    verdict: Verdict, read: Estimate, target: float, say: Mapping[str, object]
) -> tuple[Message, Message | None]:
    """What to say, and what to do; a swap of units is named first."""
    if verdict is Verdict.IN_ORDER:
        return msg("{place}: {read}, wanted {target}.", **say), None
    swap = mixed_up(read.value, target)
    if swap is not None:
        return msg("{place}: {read} instead of {target}. {swap}", **say, swap=swap), msg(
            "Look at the unit on the wrench's scale, set {target}, and pull all bolts of this family again.",
            **say,
        )
    if verdict is Verdict.MEASURE_AGAIN:
        return msg("{place}: {read} is too far from {target} to be sure.", **say), msg(
            "Set {target} and pull once more, slowly.", **say
        )
    if read.value < target:
        says = msg("{place}: {read} is too little; wanted {target}.", **say)
        return says, msg("Set {target} and pull.", **say)
    return msg("{place}: {read} is too much; wanted {target}.", **say), msg(
        "An overstretched bolt goes out: fit new ones and tighten them to {target}.", **say
    )


def mixed_up(read: float, target: float) -> Message | None:
    """The mix-up of N·m and lbf·ft that fits, if one does."""
    ratio, foot_pound = read / target, float(to_si(Fraction(1), "lbf·ft"))
    if abs(ratio * foot_pound - 1) < LIKE:
        return msg("It looks like the number in lbf·ft dialled as N·m.")
    if abs(ratio / foot_pound - 1) < LIKE:
        return msg("It looks like the number in N·m dialled as lbf·ft.")
    return None


def described(joint: BoltJoint, unit: str) -> tuple[Message, ...]:
    """Class, friction and an estimate beside the book's value, which wins."""
    oiled = "oil" in joint.condition.casefold()
    first = plural(
        "{count} bolt {thread}, class {bolt_class}, {condition}: the book's value is {target}.",
        "{count} bolts {thread}, class {bolt_class}, {condition}: the book's value is {target}.",
        joint.count,
        thread=joint.thread,
        bolt_class=joint.bolt_class,
        condition=verbatim(joint.condition),
        target=shown(joint.torque, both=True),
    )
    try:
        estimate = target_by_nut_factor(thread(joint.thread), joint.bolt_class, OILED if oiled else DRY)
    except Impossible as reason:
        return first, reason.message
    return (
        first,
        msg(
            "Estimate T = K · d · F with K {factor} and 75 % of the proof load: {torque}. Only to see "
            "whether class and size can be right; the book's value wins.",
            factor=OILED if oiled else DRY,
            torque=Amount(estimate.torque, Kind.TORQUE, unit, both=True),
        ),
        msg(
            "The clamp that a torque gives strays by ± {scatter}. In order within {share} of the value "
            "(rule of thumb).",
            scatter=Amount(clamp_scatter(oiled), Kind.RATIO, "%"),
            share=Amount(SHARE, Kind.RATIO, "%"),
        ),
    )
