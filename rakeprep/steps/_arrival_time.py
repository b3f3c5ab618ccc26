"""How long the work still takes, and what can go on while a part or a person is missing."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations.progress import Progress, Stage, progress
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.step import Step
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import sane
from rakeprep.steps._reading import cannot_tell
from rakeprep.text import Message, joined, msg
from rakeprep.units import Amount, Kind

# Stretches of the work that a foreman plans by: their steps, and what has to be finished before.
STRETCHES = {
    "build": (("fasteners", "arms", "guards"), ()),
    "couple": (("hitch", "driveline", "hydraulics", "lights"), ()),
    "wheels": (("tyres", "oil"), ()),
    "level": (("levelling", "width", "settings"), ("couple", "wheels")),
    "run": (("test_run",), ("build", "couple", "wheels", "level")),
}
HALF = Fraction(1, 2)  # of an hour: nobody plans finer


def steps_of(stretch: str) -> tuple[Step, ...]:
    """The steps of one stretch."""
    from rakeprep.steps import all_steps  # not while the steps are still being put together

    wanted = STRETCHES[stretch][0]
    return tuple(step for step in all_steps() if step.key in wanted)


def fields() -> tuple[Field, ...]:
    """Planned, used and lost time of each stretch, and what it waits for; nobody has to say."""
    places = tuple(
        Place(key, joined([step.title for step in steps_of(key)])) for key in STRETCHES if steps_of(key)
    )

    def hours(key: str, label: Message, about: Message) -> Field:
        return Field(key, label, Ask.QUANTITY, about, places, Kind.DURATION, "h", need=Need.MAY)

    return (
        hours("time_planned", msg("Time planned"), msg("Only if the foreman wants to know what is left.")),
        hours(
            "time_used", msg("Time used so far"), msg("By all together. It judges the plan, nobody's pace.")
        ),
        hours("time_lost", msg("Time lost by waiting"), msg("For a part or a person that was not there.")),
        Field(
            "waits_for",
            msg("Waits for"),
            Ask.TEXT,
            msg("The part or person that is missing. Clear it when it is there."),
            places,
            need=Need.MAY,
        ),
    )


def finished(facts: Facts, stretch: str) -> bool:
    """Whether every question of a stretch that has to be answered has an answer."""
    return all(
        facts.slot(f"{step.key}.{field.key}", place.key) in facts.record.entries
        for step in steps_of(stretch)
        for field in step.fields(facts.profile, facts.tractor)
        if field.need is not Need.MAY
        for place in field.places
    )


def findings(facts: Facts) -> Iterator[Finding]:
    """What is left of the stretches that have a planned time."""
    planned = {key: sane(facts, "time_planned", key) for key in STRETCHES}
    known = [key for key, plan in planned.items() if plan is not None]
    if not known:
        return
    about = tuple(facts.slot("time_planned", key) for key in known)
    try:
        found = progress([stage(facts, key, planned[key] or 0.0, known) for key in known])
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    says = msg("{left} left at the pace so far. {next}", left=hours_said(found.remaining), next=found.says)
    yield Finding(Verdict.IN_ORDER, about, says, None, working(found))


def stage(facts: Facts, key: str, planned: float, known: list[str]) -> Stage:
    """One stretch as the sum takes it."""
    waits = facts.text("waits_for", key).strip()
    return Stage(
        key,
        planned,
        sane(facts, "time_used", key) or 0.0,
        sane(facts, "time_lost", key) or 0.0,
        finished(facts, key),
        tuple(before for before in STRETCHES[key][1] if before in known),
        (waits,) if waits else (),
        joined([step.title for step in steps_of(key)]),
    )


def working(found: Progress) -> tuple[Message, ...]:
    """The plan against the pace, and what waiting cost."""
    lines = [
        msg(
            "By plan {plan} are left; time used / time planned of what is finished = {pace}.",
            plan=hours_said(found.by_plan),
            pace=round(found.pace, 2),
        )
    ]
    if found.blocked > 0:
        lines.append(msg("Lost by waiting: {lost}.", lost=hours_said(found.blocked)))
    if found.longer:
        names = joined([joined([step.title for step in steps_of(key)]) for key in found.longer])
        lines.append(msg("The plan is used up, what it still takes is not known: {what}.", what=names))
    return tuple(lines)


def hours_said(seconds: float) -> Amount:
    """A time in half hours, never less than it is."""
    return Amount(seconds, Kind.DURATION, "h", step=HALF, toward="up")
