"""Overrunning clutches of the side shafts: three tests by hand, and what they say together."""

from __future__ import annotations

from collections.abc import Iterator

from rakeprep.calculations.overrunning import Clutch, overrunning
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile, SideShaft
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg, verbatim

PTO = frozenset({Use.PTO})
TESTS = (
    Option("drives", msg("shaft in its drive direction: rotor comes along")),
    Option("drives-back", msg("shaft against it: rotor comes along")),
    Option("runs-ahead", msg("shaft held: rotor runs on free")),
)
TO_DO = {
    Clutch.REVERSED: msg("Fit it the other way and test again, both sides."),
    Clutch.SEIZED: msg("Take it apart or replace it: a rotor that is stopped by the PTO breaks gears."),
    Clutch.WORN: msg("Replace it."),
    Clutch.UNCLEAR: msg("Engine off, key out, rotors clear: do all three tests once more."),
}


def shaft_place(shaft: SideShaft) -> Place:
    """The place of a side shaft."""
    return Place(shaft.key, verbatim(shaft.name), f"shaft-{shaft.key}", shaft.rotor.value)


def field(profile: Profile) -> Field:
    """The three tests, each ticked where it came out so."""
    return Field(
        "clutch",
        msg("Overrunning clutch"),
        Ask.MANY,
        msg(
            "Engine off, key out, rotors clear. Turn the shaft by hand both ways, then hold it and turn "
            "the rotor on in its working direction."
        ),
        tuple(shaft_place(s) for s in profile.driveline.side_shaft if s.clutch),
        options=TESTS,
        bars=PTO,
    )


def findings(facts: Facts) -> Iterator[Finding]:
    """What the tests of each side say."""
    for place in field(facts.profile).places:
        chosen = facts.chosen("clutch", place.key)
        if chosen is None:
            continue
        found = overrunning(*(test.key in chosen for test in TESTS))
        right = found.verdict is Verdict.IN_ORDER
        yield Finding(
            found.verdict,
            (facts.slot("clutch", place.key),),
            msg("{place}: {what}", place=place.name, what=found.says),
            TO_DO.get(found.clutch),
            tuple(tested(test, test.key in chosen) for test in TESTS),
            bars=frozenset() if right else PTO,
        )


def tested(test: Option, came_out: bool) -> Message:
    """How one test came out."""
    return msg("{test}: {answer}.", test=test.label, answer=came_out)
