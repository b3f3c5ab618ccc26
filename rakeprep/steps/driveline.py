"""Driveline: nine distances on the customer's tractor, the cut, its proof, joints and clutches."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations.driveline import Height, Turn
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps import (
    _driveline_angles,
    _driveline_chain,
    _driveline_clutch,
    _driveline_cut,
    _driveline_fit,
    _driveline_read,
)
from rakeprep.steps._judged import answered_no
from rakeprep.text import Message, msg
from rakeprep.units import Kind

PTO = frozenset({Use.PTO})
TURNS = {
    "straight": (Turn.STRAIGHT, msg("straight")),
    "left": (Turn.LEFT, msg("full left")),
    "right": (Turn.RIGHT, msg("full right")),
}
HEIGHTS = {
    "low": (Height.LOW, msg("links lowest")),
    "work": (Height.WORK, msg("links at work height")),
    "high": (Height.HIGH, msg("links highest")),
}
NINE = {f"{turn}-{height}": (TURNS[turn][0], HEIGHTS[height][0]) for turn in TURNS for height in HEIGHTS}
NINE_PLACES = tuple(
    Place(f"{turn}-{height}", msg("{turn}, {height}", turn=turn_words, height=height_words), "driveline")
    for turn, (_, turn_words) in TURNS.items()
    for height, (_, height_words) in HEIGHTS.items()
)


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    asked = (
        *_driveline_fit.fields(profile),
        Field(
            "distance",
            msg("Distance from groove to groove"),
            Ask.QUANTITY,
            msg(
                "Shaft off, tractor stopped, engine off, key out. Tape from locking groove to locking "
                "groove, not from stub ends; a second person reads it again. Not reached: say why."
            ),
            NINE_PLACES,
            Kind.LENGTH,
            profile.driveline.closed.typed.unit,
            bars=PTO,
            instrument="driveline-tape",
            rests_on=("tractor", "hitch.height", "hitch.category"),
        ),
        *_driveline_angles.fields(),
        *_driveline_read.fields(profile),
        *finishing_fields(),
        *_driveline_chain.fields(profile),
        _driveline_clutch.field(profile),
    )
    return tuple(field for field in asked if field.places)


def finishing_fields() -> tuple[Field, ...]:
    """What is looked at when the shaft goes on."""

    def asked(key: str, label: Message, about: Message) -> Field:
        return Field(
            key, label, Ask.CHOICE, about, options=YES_NO, bars=PTO, rests_on=("driveline.cut", "tractor")
        )

    return (
        asked(
            "deburred",
            msg("Deburred, chips out, greased"),
            msg("Burrs off inside and outside, every chip wiped out, inner tube greased, slides by hand."),
        ),
        asked(
            "yokes",
            msg("Yokes of the middle shaft in line"),
            msg("Look along the shaft: both inner forks lie in one plane."),
        ),
        asked(
            "lock_pins",
            msg("Locked at both ends, pulled"),
            msg("Engine off, key out. Pull hard on each end; the lock stands flush again."),
        ),
    )


def by_key(facts: Facts) -> Mapping[str, Field]:
    """The questions of this step."""
    return {f.key: f for f in fields(facts.profile, facts.tractor)}


def end_findings(facts: Facts) -> Iterable[Finding]:
    """Whether both ends fit what they are pushed on."""
    return _driveline_fit.findings(facts, by_key(facts))


def angle_findings(facts: Facts) -> Iterable[Finding]:
    """Distances off their curve, and the angles of the joints."""
    return _driveline_angles.findings(facts, NINE, NINE_PLACES)


def cut_findings(facts: Facts) -> Iterable[Finding]:
    """The nine distances, the cut, and the proof of it."""
    return _driveline_cut.findings(facts, by_key(facts), NINE, NINE_PLACES)


def shaft_findings(facts: Facts) -> Iterable[Finding]:
    """The shaft as it is put on: clean, in line, locked, guarded, its clutches."""
    asked = by_key(facts)
    yield from answered_no(
        facts,
        asked["deburred"],
        msg("The tubes are not deburred, clean and greased."),
        msg("Do it before the shaft is put together: one chip scores the other tube."),
        bars=PTO,
    )
    yield from answered_no(
        facts,
        asked["yokes"],
        msg("The yokes are out of line: the shaft would shake twice in every turn."),
        msg("Pull the halves apart and put them together with both inner forks in one plane."),
        bars=PTO,
    )
    yield from answered_no(
        facts,
        asked["lock_pins"],
        msg("An end is not locked; it would come off while turning."),
        msg("Push it on until the lock springs out, and pull again."),
        Verdict.STOP,
        PTO,
    )
    yield from _driveline_chain.findings(facts, asked)
    yield from _driveline_clutch.findings(facts)


STEP = Step(
    key="driveline",
    order=4,
    title=msg("Driveline"),
    about=msg("Find the shortest and the longest place on the customer's tractor before anything is cut."),
    cautions=(
        Caution(
            msg("A turning shaft takes hold of a sleeve faster than anyone can react."),
            msg("PTO off, engine off, key in the pocket of the person who measures, everything at rest."),
            "entanglement",
        ),
        Caution(
            msg("A person between tractor and machine can be crushed when it is turned or lifted."),
            msg("Nobody goes in before the tractor has stopped, brake on, engine off, key out."),
            "crushing",
        ),
    ),
    fields=fields,
    checks=(end_findings, angle_findings, cut_findings, shaft_findings),
)
