"""Empty forms for one machine on one tractor, to be filled in where a screen cannot go."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from rakeprep.handover.form_blocks import Blank, Forms, Margins, Question, Signed, StepForm, Warned, Way
from rakeprep.handover.paper import Paper
from rakeprep.handover.permitted import permitted, said
from rakeprep.handover.places import code_of, legend, place_name
from rakeprep.jobs.assess import State
from rakeprep.jobs.flow import unsettled
from rakeprep.model.field import Ask, Field
from rakeprep.model.place import WHOLE, Place
from rakeprep.model.step import Step
from rakeprep.text import Message, msg
from rakeprep.units import other_unit
from rakeprep.units.table import shown_unit

WAYS = {
    Ask.QUANTITY: Way.NUMBER,
    Ask.COUNT: Way.NUMBER,
    Ask.CHOICE: Way.TICKS,
    Ask.MANY: Way.TICKS,
    Ask.TEXT: Way.LINE,
    Ask.DATE: Way.DATE,
    Ask.DONE: Way.TICKS,
    Ask.PHOTO: Way.TICKS,
}
MANY = 3  # so many places with the same words, and their codes are explained once


def forms(paper: Paper, steps: Sequence[str] = (), missing: bool = False) -> Forms:
    """The forms of all steps, or of those named; with ``missing`` only of what is still to be done."""
    chosen = [s for s in paper.assessment.steps if not steps or s.key in steps]
    made = [step_form(paper, step, missing) for step in chosen]
    strip = Signed(
        paper.say(msg("name")),
        paper.say(msg("day and time")),
        paper.say(msg("serial number of the machine")),
    )
    return Forms(
        margins(paper, msg("Forms to fill in")), tuple(form for form in made if form.questions), strip
    )


def margins(paper: Paper, title: Message) -> Margins:
    """What stands at the edges of a paper about a job, or about a machine without one."""
    opening = paper.record.opening
    machine, tractor = paper.profile.name, paper.tractor.name
    running = (
        msg("{machine} · on {tractor} · job {job}", machine=machine, tractor=tractor, job=opening.job)
        if opening.job
        else msg("{machine} · on {tractor}", machine=machine, tractor=tractor)
    )
    return Margins(
        title=paper.say(msg("{paper}: {machine}", paper=title, machine=machine)),
        language=paper.language.code,
        subject=paper.user(opening.job or machine),
        made=paper.printed_at,
        running=paper.say(running),
        foot=paper.say(
            msg(
                "Left and right are as seen from the tractor seat. The machine's own book comes first. "
                "Machine data of edition {edition}.",
                edition=paper.profile.machine.edition,
            )
        ),
        count=paper.say(msg("sheet {page} of {pages}")),
        tag=paper.say(msg("Invented sample data")) if paper.invented else "",
    )


def step_form(paper: Paper, step: Step, missing: bool) -> StepForm:
    """The form of one step."""
    states = [s for s in paper.states(step.key) if not missing or unsettled(s)]
    questions = [
        question(paper, step, [s.task.place for s in several], field) for field, several in grouped(states)
    ]
    return StepForm(
        step.key,
        paper.say(msg("{number}. {step}", number=step.order, step=step.title)),
        tuple(Warned(paper.say(c.safe_state), paper.say(c.hazard), c.sign) for c in step.cautions),
        tuple(questions),
    )


def grouped(states: Iterable[State]) -> Iterable[tuple[Field, list[State]]]:
    """The states of one question together."""
    for _, several in groupby(states, key=lambda s: s.task.field.key):
        found = list(several)
        yield found[0].task.field, found


def question(paper: Paper, step: Step, places: list[Place], field: Field) -> Question:
    """One question with an empty place for each of its answers."""
    notes = {place.key: said(paper, permitted(paper, step.key, field.key, place)) for place in places}
    alike = len(set(notes.values())) == 1
    blanks = tuple(blank(paper, field, place, "" if alike else notes[place.key]) for place in places)
    help_said = paper.say(field.help)
    if len({each.name for each in blanks}) * MANY <= len(blanks):  # codes of one kind are explained once
        blanks = tuple(replace(each, name="") if each.code else each for each in blanks)
        help_said = f"{help_said} {legend(paper, places)}".strip()
    return Question(
        text=paper.say(field.label),
        help=help_said,
        note=notes[places[0].key] if alike else "",
        address=f"{step.key}.{field.key}",
        blanks=blanks,
        again=paper.say(msg("{question} (continued)", question=field.label)),
        second=paper.say(msg("name of the second person")) if field.two_people else "",
    )


def blank(paper: Paper, field: Field, place: Place, note: str) -> Blank:
    """One empty place."""
    code = code_of(paper, place)
    name = "" if place.key == WHOLE.key else without_code(paper, place, code)
    return Blank(code, name, WAYS[field.ask], choices(paper, field), note)


def without_code(paper: Paper, place: Place, code: str) -> str:
    """The words of a place, its code left out."""
    name = place_name(paper, place)
    if not code:
        return name
    return " ".join(re.sub(rf"\b{re.escape(code)}\b", "", name).split()).strip(" ,:")


def choices(paper: Paper, field: Field) -> tuple[str, ...]:
    """Units or answers to tick."""
    match field.ask:
        case Ask.QUANTITY:
            assert field.kind is not None, field.key
            units = dict.fromkeys((field.unit, other_unit(field.kind, field.unit)))
            shown = (paper.say(shown_unit(unit)) if unit != "ft in" else unit for unit in units)
            return tuple(unit for unit in shown if unit)
        case Ask.CHOICE | Ask.MANY:
            return tuple(paper.say(option.label) for option in field.options)
        case Ask.DATE:
            return (paper.say(msg("year, month, day")),)
        case Ask.DONE:
            return (paper.say(msg("done")),)
        case Ask.PHOTO:
            return (paper.say(msg("picture taken")),)
    return ()
