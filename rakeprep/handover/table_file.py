"""A job as a table for the office: comma-separated values as in RFC 4180, UTF-8 with a byte order mark.

``chapter`` is the one in which the entry was made, or for an empty question the present one.

The first row names the columns in English, the same in every language and edition, so that what reads the
file need not change. ``step``, ``question``, ``place``, ``verdict_key`` and the numbers are stable too; the
columns that end in ``_words`` and the sentences are in the paper's language.

A spreadsheet takes a cell that begins with one of ``= + - @`` or a control character for a formula. Such
a cell gets an apostrophe in front, unless it is a plain number such as -12.5, which is no formula; a cell
that begins with an apostrophe gets another one. So taking one apostrophe away gives what was there.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from rakeprep.handover.paper import Paper
from rakeprep.jobs.assess import State
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.text import joined, msg
from rakeprep.units import base_unit

BYTE_ORDER_MARK = "\ufeff"
STARTS_FORMULA = frozenset("=+-@＝＋－＠")
# Exactly one number, so that no sum and no call can hide behind a sign.
PLAIN_NUMBER = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]{1,3})?")
LONGEST_DECIMAL = 30  # digits of an exact value; longer ones are rounded to what a double holds

COLUMNS = (
    "job",
    "order",
    "chapter",
    "machine",
    "step",
    "question",
    "place",
    "step_words",
    "question_words",
    "place_words",
    "answer",
    "typed",
    "unit",
    "si_value",
    "si_unit",
    "verdict_key",
    "verdict_words",
    "finding",
    "to_do",
    "out_of_date",
    "open_point",
    "open_until",
    "who",
    "when",
    "confirmed_by",
    "confirmed_at",
    "instrument",
    "reason",
    "entry_number",
)


def table(paper: Paper) -> bytes:
    """The file."""
    out = io.StringIO()
    out.write(BYTE_ORDER_MARK)
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in rows(paper):
        writer.writerow([defused(row.get(column, "")) for column in COLUMNS])
    return out.getvalue().encode("utf-8", "replace")  # half a surrogate pair is no text


def defused(text: str) -> str:
    """A cell that no spreadsheet takes for a formula; ``restored`` gives it back."""
    if PLAIN_NUMBER.fullmatch(text):
        return text
    first = text.lstrip()[:1]
    risky = first in STARTS_FORMULA if first else False
    if risky or text[:1] == "'" or (text and ord(text[0]) < ord(" ")):
        return f"'{text}"
    return text


def restored(cell: str) -> str:
    """What a cell of the file was before it was defused."""
    return cell.removeprefix("'")


def rows(paper: Paper) -> Iterator[Mapping[str, str]]:
    """A row for each question, answered or not, then for entries whose question is not asked any more."""
    for slot, state in paper.assessment.states.items():
        yield row(paper, slot, state, paper.record.entries.get(slot))
    for slot, entry in paper.record.entries.items():
        if slot not in paper.assessment.states:
            yield row(paper, slot, None, entry)


def row(paper: Paper, slot: Slot, state: State | None, entry: Entry | None) -> dict[str, str]:
    """One row, without its empty cells."""
    record, opening = paper.record, paper.record.opening
    later = record.later.get(slot) if state is None or state.open_point else None
    chapter = record.chapter if entry is None else record.made_in(entry)
    found = {
        "job": opening.job,
        "order": opening.order,
        "chapter": str(chapter.number),
        "machine": paper.profile.name,
        "step": slot.step,
        "question": slot.field,
        "place": slot.place,
    }
    if state is not None:
        found |= judged(paper, state)
    if entry is not None:
        found |= entered(paper, entry, state)
    if later is not None:
        found |= {"open_point": later.reason, "open_until": later.due}
    return found


def judged(paper: Paper, state: State) -> dict[str, str]:
    """What is asked, and what the checks say."""
    say, task = paper.language.say, state.task
    return {
        "step_words": say(task.step.title),
        "question_words": say(task.field.label),
        "place_words": say(task.place.name) if task.place.key else "",
        "verdict_key": state.verdict.value,
        "verdict_words": say(state.verdict.word),
        "finding": say(joined([f.says for f in state.findings], " | ")),
        "to_do": say(joined([f.todo for f in state.findings if f.todo is not None], " | ")),
        "out_of_date": "" if state.stale is None else say(state.stale),
    }


def entered(paper: Paper, entry: Entry, state: State | None) -> dict[str, str]:
    """The entry as it was made."""
    kind = None if state is None else state.task.field.kind
    absent = entry.how is How.ABSENT
    return {
        "answer": paper.language.say(msg("not on this machine")) if absent else words_of(paper, entry, state),
        "typed": entry.typed,
        "unit": entry.unit,
        "si_value": "" if entry.exact is None else decimal(entry.exact),
        "si_unit": base_unit(kind) if kind is not None and entry.exact is not None else "",
        "who": entry.who,
        "when": entry.at.isoformat(timespec="seconds"),
        "confirmed_by": entry.confirmed_by,
        "confirmed_at": ""
        if entry.confirmed_at is None
        else entry.confirmed_at.isoformat(timespec="seconds"),
        "instrument": entry.instrument,
        "reason": entry.reason,
        "entry_number": str(entry.seq),
    }


def words_of(paper: Paper, entry: Entry, state: State | None) -> str:
    """A chosen answer in words; anything else says itself."""
    options: Sequence[object] = () if state is None else state.task.field.options
    if state is None or not options:
        return entry.typed
    known = [paper.language.say(o.label) for o in state.task.field.options if o.key in entry.chosen]
    return ", ".join(known) or entry.typed


def decimal(value: Fraction) -> str:
    """An exact value with a decimal point: all of its digits where they end, else those of a double."""
    bottom = value.denominator
    twos = fives = 0
    while bottom % 2 == 0:
        bottom, twos = bottom // 2, twos + 1
    while bottom % 5 == 0:
        bottom, fives = bottom // 5, fives + 1
    places = max(twos, fives)
    if bottom != 1 or places > LONGEST_DECIMAL:
        return repr(float(value))
    digits = str(abs(value.numerator) * 10**places // value.denominator).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return sign + (f"{digits[:-places]}.{digits[-places:]}" if places else digits)
