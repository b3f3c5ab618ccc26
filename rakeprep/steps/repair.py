"""A repair in the season: a broken tine arm or its carrier exchanged, the gearbox left in the frame."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import near
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._fasteners_torque import SHARE
from rakeprep.steps._judged import Answer, doubt_said, judged, unit_of, whole
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb
from rakeprep.steps.arms import arm_places
from rakeprep.text import msg, plural
from rakeprep.units import Amount, Kind

NO_WORK = frozenset({Use.FIELD, Use.PTO})
SHARE_RULE = rule_of_thumb(msg("torque within 10 % of the book's value"))
PARTS = (
    Option("arm", msg("the tine arm")),
    Option("carrier", msg("the arm's carrier, with its arm")),
)
ANSWERS = {
    "part": {
        "arm": Answer(
            Verdict.IN_ORDER,
            msg("{place}: the arm was exchanged."),
            msg("Compare letter and coil of the new arm with its neighbours before it is pinned."),
        ),
        "carrier": Answer(
            Verdict.IN_ORDER,
            msg("{place}: the carrier was exchanged with its arm."),
            msg("Gearbox stays bolted in the frame: only the bolts of the carrier come out."),
        ),
    },
    "new_bolts": {
        "yes": Answer(Verdict.IN_ORDER, msg("{place}: bolts as the book wants them.")),
        "no": Answer(
            Verdict.PUT_RIGHT,
            msg("{place}: not the bolts that the book wants."),
            msg("Class, length and new or used as the book says; one that was stretched is not used again."),
            NO_WORK,
        ),
    },
    "gearbox_dry": {
        "yes": Answer(Verdict.IN_ORDER, msg("{place}: gearbox untouched and dry.")),
        "no": Answer(
            Verdict.PUT_RIGHT,
            msg("{place}: oil at the gearbox, or it was moved."),
            msg("Look at the seal, then at oil level, vent plug and the gearbox bolts' torque."),
            NO_WORK,
        ),
    },
}


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of a repair, at the arms it is about."""
    arms = arm_places(profile)
    return (*before_fields(arms), *bolt_fields(arms), *after_fields(arms))


def before_fields(arms: tuple[Place, ...]) -> tuple[Field, ...]:
    """Safe state, and what is exchanged."""
    return (
        Field(
            "isolated",
            msg("Safe to work on, confirmed by name"),
            Ask.DONE,
            msg(
                "PTO off, engine off, key in the pocket, rotor on the ground or on stands, pressure off, "
                "wheels chocked. Support the arm before a bolt comes out. Your name stands for it."
            ),
            arms,
            need=Need.MUST,
            bars=frozenset({Use.PTO}),
        ),
        Field(
            "part",
            msg("What is exchanged here"),
            Ask.CHOICE,
            msg(
                "The gearbox stays in the frame; a repair that takes it out is work for the workshop's book."
            ),
            arms,
            options=PARTS,
            need=Need.MUST,
        ),
        Field(
            "part_number",
            msg("Number on the new part"),
            Ask.TEXT,
            msg("As it is stamped or labelled; also where and when the old one was seen to be broken."),
            arms,
            need=Need.MAY,
        ),
    )


def bolt_fields(arms: tuple[Place, ...]) -> tuple[Field, ...]:
    """Bolts out, bolts in, torque."""
    return (
        Field(
            "bolts_out",
            msg("Bolts taken out"),
            Ask.COUNT,
            msg("Count them as they come out, and lay them side by side."),
            arms,
            need=Need.MUST,
        ),
        Field(
            "bolts_in",
            msg("Bolts put in"),
            Ask.COUNT,
            msg("Count them once all are tight."),
            arms,
            need=Need.MUST,
            bars=NO_WORK,
            rests_on=("repair.bolts_out",),
            two_people=True,
        ),
        Field(
            "new_bolts",
            msg("Bolts as the book wants them"),
            Ask.CHOICE,
            msg("Class on the head, length, new where the book says new, dry or oiled as it says."),
            arms,
            options=YES_NO,
            bars=NO_WORK,
        ),
        Field(
            "book_torque",
            msg("Torque by the machine's book"),
            Ask.QUANTITY,
            msg("From the page on this joint in the machine's own book, for this size and class of bolt."),
            arms,
            Kind.TORQUE,
            "N·m",
        ),
        Field(
            "torque",
            msg("Torque pulled"),
            Ask.QUANTITY,
            msg("The last pull on each bolt, slowly; enter the one that is farthest off."),
            arms,
            Kind.TORQUE,
            "N·m",
            bars=NO_WORK,
            instrument="click-wrench",
            rests_on=("repair.bolts_in",),
        ),
    )


def after_fields(arms: tuple[Place, ...]) -> tuple[Field, ...]:
    """What must still be as it was."""
    return (
        Field(
            "gearbox_dry",
            msg("Gearbox untouched and dry"),
            Ask.CHOICE,
            msg("It stayed bolted to the frame; look round its seal with a lamp, engine off, key out."),
            arms,
            options=YES_NO,
            bars=NO_WORK,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge the repair."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    for key, answers in ANSWERS.items():
        yield from judged(facts, by_key[key], answers)
    for place in by_key["bolts_in"].places:
        yield from count_finding(facts, place)
        yield from torque_finding(facts, by_key["torque"], place)


def count_finding(facts: Facts, place: Place) -> Iterator[Finding]:
    """As many bolts in as came out."""
    out, put_in = whole(facts, "bolts_out", place.key), whole(facts, "bolts_in", place.key)
    if out is None or put_in is None:
        return
    about = (facts.slot("bolts_in", place.key), facts.slot("bolts_out", place.key))
    if out == put_in and out > 0:
        says = plural(
            "{place}: {count} bolt out, the same in again.",
            "{place}: {count} bolts out, as many in again.",
            out,
            place=place.name,
        )
        yield Finding(Verdict.IN_ORDER, about, says)
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("{place}: {out} bolts came out, {put_in} went in.", place=place.name, out=out, put_in=put_in),
        msg("Look for the one that is missing, also inside the rotor, before anything turns."),
        bars=NO_WORK,
    )


def torque_finding(facts: Facts, field: Field, place: Place) -> Iterator[Finding]:
    """The torque against the one that was read in the book."""
    read, target = (
        reading(facts, "torque", place.key, field.instrument),
        facts.number("book_torque", place.key),
    )
    if read is None or target is None:
        return
    about = (facts.slot("torque", place.key), facts.slot("book_torque", place.key))
    unit = unit_of(facts, field, place.key)
    try:
        verdict = near(read.value, read.doubt, target, SHARE * abs(target))
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {
        "place": place.name,
        "read": Amount(read.value, Kind.TORQUE, unit, both=True),
        "target": Amount(target, Kind.TORQUE, unit, both=True),
    }
    working = (doubt_said(Kind.TORQUE, read.doubt, unit),)
    if verdict is Verdict.IN_ORDER:
        yield Finding(
            verdict, about, msg("{place}: {read}, wanted {target}.", **say), None, working, SHARE_RULE
        )
        return
    says = msg("{place}: {read} is too far from {target}.", **say)
    todo = msg("Set {target} and pull all of them again; one that was overstretched goes out.", **say)
    bars = NO_WORK if verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(verdict, about, says, todo, working, SHARE_RULE, bars)


STEP = Step(
    key="repair",
    order=17,
    title=msg("Repair"),
    about=msg("One arm or carrier out and in again; only what rests on it is measured anew."),
    cautions=(
        Caution(
            msg("An arm drops when its last bolt comes out, and a rotor that is not blocked turns."),
            msg("PTO off, engine off, key in the pocket, rotor on the ground or on stands, arm held up."),
            "crushing",
        ),
        Caution(
            msg("Tine tips lie at the height of eyes and legs."),
            msg("Tips capped or turned away; eye protection on."),
            "impalement",
        ),
    ),
    fields=fields,
    checks=(check,),
    visits=True,
)
