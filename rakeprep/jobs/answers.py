"""A job filled in from a file of answers.

The file goes through the same door as the screen, so the same readings are refused for the same reasons
and the same findings come out.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Mapping

from rakeprep.jobs.answers_file import LONGEST_FILE, Answers, Given, read_answers, unknown
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.own_instruments import calibrated_until
from rakeprep.jobs.reading import Refused
from rakeprep.model.entry import Slot
from rakeprep.model.field import Ask
from rakeprep.model.instrument import OwnInstrument
from rakeprep.text import Message, msg

__all__ = ["LONGEST_FILE", "Answers", "Given", "apply", "day_of", "read_answers", "sign"]

THIS_YEAR = "this year"  # so that a sample machine never grows old


def apply(answers: Answers, job: OpenJob) -> list[Message]:
    """Enter everything through the job's door; gives one sentence for each thing that was refused."""
    refused: list[Message] = []
    known = {task.step.key: task.step for task in job.tasks.values()}
    for step, who in answers.cautions.items():
        if step in known:
            refused.extend(attempt(f"answers.{step}", job.read_caution, step, who))
        else:
            refused.append(unknown("answers", step, list(known)))
    technician = answers.job["technician"]
    for words in answers.instruments:
        refused.extend(attempt("instrument", register, job, words, technician))
    found = [
        (given, slot) for given in in_order_of_work(answers.given, job) for slot in slots(given, job, refused)
    ]
    for given, slot in found:
        refused.extend(enter(given, slot, job, technician))
    for given, slot in found:  # what may be left is only known once everything is entered
        refused.extend(leave(given, slot, job, technician))
    return refused


def register(job: OpenJob, words: Mapping[str, str], technician: str) -> None:
    """Register one instrument; raises ``Refused``."""
    until = calibrated_until(day_of(words["calibrated_until"], job.clock().date()))
    job.register(OwnInstrument(words["name"], words["kind"], until), words.get("who", technician))


def in_order_of_work(given: list[Given], job: OpenJob) -> list[Given]:
    """The answers in the order in which the steps ask: a table of a file has no order of its own."""
    order: dict[tuple[str, str], int] = {}
    for slot in job.tasks:
        order.setdefault((slot.step, slot.field), len(order))
    return sorted(given, key=lambda g: order.get((g.step, g.field), len(order)))


def slots(given: Given, job: OpenJob, refused: list[Message]) -> Iterator[Slot]:
    """The addresses an answer goes to; unknown ones are named with what is known."""
    states = job.tasks
    steps = {slot.step for slot in states}
    fields = {slot.field for slot in states if slot.step == given.step}
    places = [slot.place for slot in states if (slot.step, slot.field) == (given.step, given.field)]
    if given.step not in steps:
        refused.append(unknown("answers", given.step, sorted(steps)))
    elif given.field not in fields:
        refused.append(unknown(f"answers.{given.step}", given.field, sorted(fields)))
    else:
        for place in given.places:
            if place in places:
                yield Slot(given.step, given.field, place)
            elif not place:
                refused.append(
                    msg(
                        "{where} is asked at several places; name them: {known}.",
                        where=given.where,
                        known=", ".join(places[:40]),
                    )
                )
            else:
                refused.append(unknown(given.where, place, [p for p in places if p] or ["(no place)"]))


def enter(given: Given, slot: Slot, job: OpenJob, technician: str) -> Iterator[Message]:
    """Enter one answer at one address."""
    words = given.words
    who = words.get("who", technician)
    where = str(slot)
    if "value" in words:
        value = spelled_out(job.field(slot).ask, words["value"], job.clock().date())
        yield from attempt(
            where,
            job.commit,
            slot,
            value,
            who,
            words.get("unit", ""),
            words.get("instrument", ""),
            words.get("reason", ""),
        )
    if "absent" in words:
        yield from attempt(where, job.absent, slot, words["absent"], who)
    if "confirmed_by" in words:
        yield from attempt(where, job.confirm, slot, words["confirmed_by"])


def leave(given: Given, slot: Slot, job: OpenJob, technician: str) -> Iterator[Message]:
    """Leave one question as an open point, where the file says so."""
    words = given.words
    if "later" in words:
        who = words.get("who", technician)
        yield from attempt(str(slot), job.leave, slot, words["later"], who, words.get("due", ""))


def spelled_out(ask: Ask, text: str, today: dt.date) -> str:
    """An answer in which a day or a year told from today stands as such; anything else as it is."""
    if ask is Ask.COUNT and text.strip() == THIS_YEAR:
        return str(today.year)
    return day_of(text, today) if ask is Ask.DATE else text


def day_of(text: str, today: dt.date) -> str:
    """A day in words, such as ``today`` or ``today-30``, as a date; anything else as it is."""
    found = re.fullmatch(r"today([+-]\d{1,4})?", text.strip())
    return (today + dt.timedelta(days=int(found.group(1) or 0))).isoformat() if found else text


def sign(answers: Answers, job: OpenJob) -> list[Message]:
    """Let everybody in the file sign; gives one sentence for each signature that was refused."""
    refused: list[Message] = []
    for given in answers.signatures:
        refused.extend(attempt("signature", job.sign, given.role, given.name, given.strokes, given.typed))
    return refused


def attempt(where: str, action: object, *values: object) -> Iterator[Message]:
    """Do one thing; a refusal becomes a sentence that names the place in the file."""
    assert callable(action)
    try:
        action(*values)
    except Refused as refusal:
        yield msg("{where}: {says}", where=where, says=refusal.message)
