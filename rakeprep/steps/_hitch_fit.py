"""Pins, balls and span of the lower links."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import combine, within
from rakeprep.calculations.hitch import CATEGORIES, category, hitch_fit, pin_slop, shoulder_gap
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import doubt_said, unit_of
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, shown, standard
from rakeprep.text import joined, msg, verbatim
from rakeprep.units import Amount, Kind

NOT_SAFE = frozenset({Use.ROAD, Use.FIELD})
MOST_SLOP, MOST_GAP = 0.002, 0.005  # m, rules of thumb
PINS = (
    Place("left", msg("left lower link"), "hitch"),
    Place("right", msg("right lower link"), "hitch"),
)
RULE = rule_of_thumb(msg("play at most 2 mm, gap at each shoulder at most 5 mm"))


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions about the fit."""
    names = dict.fromkeys((*CATEGORIES, profile.hitch.category, tractor.links.category))
    return (
        Field(
            "category",
            msg("Category of the tractor's balls"),
            Ask.CHOICE,
            msg("Read it on the ball, or measure its hole. With bushes or changed balls: what is in now."),
            options=tuple(Option(name, verbatim(name)) for name in names if name),
            bars=NOT_SAFE,
            rests_on=("tractor",),
        ),
        Field(
            "pin",
            msg("Lower-link pin of the machine"),
            Ask.QUANTITY,
            msg("Calliper over the pin where the ball sits."),
            PINS,
            Kind.LENGTH,
            profile.hitch.pin.typed.unit,
            instrument="calliper",
        ),
        Field(
            "ball",
            msg("Hole of the tractor's ball"),
            Ask.QUANTITY,
            msg("Calliper in the ball, along and across. Keep the larger."),
            PINS,
            Kind.LENGTH,
            tractor.links.ball_hole.typed.unit,
            instrument="calliper",
            rests_on=("tractor",),
        ),
        Field(
            "span",
            msg("Distance between the balls"),
            Ask.QUANTITY,
            msg("Tape between the inner faces of both balls, links hanging straight, engine off."),
            kind=Kind.LENGTH,
            unit=tractor.links.span.typed.unit,
            instrument="tape",
            rests_on=("tractor",),
        ),
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge category, play and span."""
    yield from category_findings(facts)
    for place in PINS:
        yield from slop_findings(facts, place, by_key)
    yield from span_findings(facts, by_key["span"])


def category_findings(facts: Facts) -> Iterable[Finding]:
    """Compare the category found with the machine's, and with what the tractor data say."""
    chosen = facts.chosen("category")
    if not chosen:
        return
    found, wanted = min(chosen), facts.profile.hitch.category
    about = (facts.slot("category"),)
    source = standard("ISO 730")
    if found != facts.tractor.links.category:
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg(
                "Found category {found}, the tractor data say {data}.",
                found=found,
                data=facts.tractor.links.category,
            ),
            msg("Is this the customer's tractor? If the balls were changed, correct the tractor data."),
        )
    try:
        fit = hitch_fit(category(wanted), category(found), MOST_SLOP, MOST_GAP)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    if fit.verdict is Verdict.IN_ORDER:
        says = msg("Category {found} fits the machine's category {wanted}.", found=found, wanted=wanted)
        yield Finding(Verdict.IN_ORDER, about, says, source=source)
        return
    yield Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("It does not fit: {reasons}.", reasons=joined([text for _, text in fit.reasons], "; ")),
        msg("Fit bushes or other balls of the right category; never leave it loose."),
        source=source,
        bars=NOT_SAFE,
    )


def slop_findings(facts: Facts, place: Place, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge the play of one measured pin in its measured ball."""
    pin = reading(facts, "pin", place.key, "calliper")
    ball = reading(facts, "ball", place.key, "calliper")
    if pin is None or ball is None:
        return
    about = (facts.slot("ball", place.key), facts.slot("pin", place.key))
    unit = unit_of(facts, by_key["ball"], place.key)
    try:
        slop = pin_slop(ball.value, pin.value)
        doubt = combine([(1, ball.doubt), (-1, pin.doubt)])
        verdict = within(slop, doubt, -doubt, MOST_SLOP)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {"place": place.name, "slop": Amount(slop, Kind.LENGTH, unit, both=True, doubt=doubt)}
    if verdict is Verdict.IN_ORDER:
        says, todo = msg("{place}: {slop} play.", **say), None
    elif slop < 0:
        says = msg("{place}: the pin is thicker than the hole by these readings.", **say)
        todo = msg("Measure both again; paint or a burr may be in the way.")
    else:
        says = msg("{place}: {slop} play; it bangs, wears and can come out.", **say)
        todo = msg("Fit a bush or the right ball.")
    bars = NOT_SAFE if verdict is Verdict.PUT_RIGHT else frozenset()
    yield Finding(verdict, about, says, todo, (msg("play = hole − pin"),), RULE, bars)


def span_findings(facts: Facts, field: Field) -> Iterable[Finding]:
    """Judge the gap at each shoulder."""
    read, pins = reading(facts, "span", "", field.instrument), facts.value(facts.profile.hitch.span)
    if read is None or pins is None:
        return
    about = (facts.slot("span"),)
    unit = unit_of(facts, field)
    try:
        gap = shoulder_gap(read.value, pins)
        verdict = within(gap, read.doubt / 2, -MOST_GAP, MOST_GAP)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {
        "gap": Amount(abs(gap), Kind.LENGTH, unit, both=True),
        "span": shown(facts.profile.hitch.span, both=True),
    }
    if verdict is Verdict.IN_ORDER:
        says, todo = msg("The links stand right: {gap} at each shoulder.", **say), None
    elif gap < 0:
        says = msg("The links stand {gap} too narrow on each side; the machine needs {span}.", **say)
        todo = msg("Set the stabilisers wider, or the tractor's links are of another category.")
    else:
        says = msg("The links stand {gap} too wide on each side; the machine needs {span}.", **say)
        todo = msg("Set the stabilisers narrower, or use the bushes that fill the gap.")
    working = (msg("gap = (links − machine) / 2"), doubt_said(Kind.LENGTH, read.doubt, unit))
    yield Finding(verdict, about, says, todo, working, RULE)
