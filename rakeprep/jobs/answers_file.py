"""An answers file, read as far as its shape goes: a paper form typed in later, or a test.

    [job]
    customer = "Customer One"
    order = "SAMPLE-1"
    technician = "Technician One"

    [[instrument]]
    name = "dial gauge 7"
    kind = "tyre-gauge"
    calibrated_until = "2027-03-01"

    [answers.tyres]
    cautions_read_by = "Technician One"
    workshop_temperature = "18 °C"

    [answers.tyres.pressure_set]
    "L1L L1R" = "2.00 bar"
    L2L = { value = "29 psi", instrument = "dial gauge 7", who = "Technician Two" }

    [[signature]]
    role = "technician"
    name = "Technician One"
    strokes = [[[0, 5], [10, 0], [20, 5]]]

A file for a later chapter of a job has this instead of ``[job]``; ``places``, ``customer`` and ``tractor`` (a
data file beside this one) only where the chapter needs them:

    [chapter]
    kind = "repair"
    who = "Technician One"
    reason = "arm broken on a stone"
    places = ["LA07"]
"""

from __future__ import annotations

import datetime as dt
import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field

from rakeprep.model.job import Stroke
from rakeprep.text import Message, msg

LONGEST_FILE = 1_000_000  # characters
CAUTIONS = "cautions_read_by"
SAYING = frozenset({"value", "confirmed_by", "later", "absent"})
WORDS = SAYING | frozenset({"unit", "who", "instrument", "reason", "due"})
JOB_WORDS = frozenset({"customer", "order", "technician", "screen_language", "paper_language", "note"})
INSTRUMENT_WORDS = frozenset({"name", "kind", "calibrated_until", "who"})
CHAPTER_WORDS = frozenset({"kind", "who", "reason", "places", "customer", "tractor"})
TABLES = ["job", "chapter", "instrument", "answers", "signature"]
SIGNATURE_WORDS = frozenset({"role", "name", "strokes", "typed"})


@dataclass(frozen=True, slots=True)
class Given:
    """One answer of the file, still as text."""

    step: str
    field: str
    places: tuple[str, ...]
    words: Mapping[str, str]

    @property
    def where(self) -> str:
        """Its place in the file."""
        return f"answers.{self.step}.{self.field}"


@dataclass(frozen=True, slots=True)
class GivenSignature:
    """One signature of the file."""

    role: str
    name: str
    strokes: tuple[Stroke, ...]
    typed: bool


@dataclass(slots=True)
class Answers:
    """A file of answers, understood as far as its shape goes; ``mistakes`` lists what is not.

    ``chapter_line`` is the line at which the table ``[chapter]`` begins.
    """

    job: dict[str, str] = field(default_factory=dict)
    chapter: dict[str, str] = field(default_factory=dict)
    chapter_line: int = 1
    cautions: dict[str, str] = field(default_factory=dict)
    instruments: list[Mapping[str, str]] = field(default_factory=list)
    given: list[Given] = field(default_factory=list)
    signatures: list[GivenSignature] = field(default_factory=list)
    mistakes: list[Message] = field(default_factory=list)


def read_answers(text: str) -> Answers:
    """Read the file; never raises, every mistake of shape is in ``mistakes``."""
    answers = Answers()
    if len(text) > LONGEST_FILE:
        answers.mistakes.append(msg("This answers file is longer than a whole job; is it the right file?"))
        return answers
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # ValueError also for numbers of a thousand digits
        answers.mistakes.append(
            msg("This is no readable answers file: {reason}. Correct that line.", reason=str(error))
        )
        return answers
    for key in data.keys() - set(TABLES):
        answers.mistakes.append(unknown("", key, TABLES))
    if "chapter" in data:
        answers.chapter_line = line_of(text, "[chapter]")
        read_chapter(data["chapter"], answers)
    else:
        read_job(data.get("job", {}), answers)
    read_instruments(data.get("instrument", []), answers)
    steps = data.get("answers", {})
    if not isinstance(steps, dict):
        answers.mistakes.append(msg("“answers” must be tables, such as [answers.tyres]."))
        steps = {}
    for step, fields in steps.items():
        read_step(step, fields, answers)
    read_signatures(data.get("signature", []), answers)
    return answers


def line_of(text: str, header: str) -> int:
    """The line at which a table begins, from 1; 1 too where it is written in another way."""
    lines = enumerate(text.splitlines(), 1)
    return next((number for number, line in lines if line.replace(" ", "").startswith(header)), 1)


def read_job(table: object, answers: Answers) -> None:
    """The heading of the file."""
    if not isinstance(table, dict):
        answers.mistakes.append(msg("“job” must be a table [job]."))
        return
    for key, value in table.items():
        if key not in JOB_WORDS:
            answers.mistakes.append(unknown("job", key, sorted(JOB_WORDS)))
        elif not isinstance(value, str):
            answers.mistakes.append(msg("job.{key} must be text in quotation marks.", key=key))
        else:
            answers.job[key] = value
    for key in ("customer", "order", "technician"):
        if key not in table:
            answers.mistakes.append(msg('[job] has no “{key}”; add a line {key} = "…".', key=key))


def read_instruments(tables: object, answers: Answers) -> None:
    """The instruments of the file, which its answers may name."""
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        answers.mistakes.append(msg("Instruments are tables [[instrument]]."))
        return
    for table in tables:
        words = {key: as_text(value) for key, value in table.items()}
        for key in words.keys() - INSTRUMENT_WORDS:
            answers.mistakes.append(unknown("instrument", key, sorted(INSTRUMENT_WORDS)))
        for key in sorted(INSTRUMENT_WORDS - {"who"}):
            if not words.get(key):
                answers.mistakes.append(
                    msg('[[instrument]] has no “{key}”; add a line {key} = "…".', key=key)
                )
        answers.instruments.append({key: value or "" for key, value in words.items()})


def read_chapter(table: object, answers: Answers) -> None:
    """What begins a later chapter."""
    if not isinstance(table, dict):
        answers.mistakes.append(msg("“chapter” must be a table [chapter]."))
        return
    for key, value in table.items():
        plain = as_text(value)
        if key not in CHAPTER_WORDS:
            answers.mistakes.append(unknown("chapter", key, sorted(CHAPTER_WORDS)))
        elif plain is None:
            answers.mistakes.append(msg("chapter.{key} must be text in quotation marks.", key=key))
        else:
            answers.chapter[key] = plain
    for key in ("kind", "who", "reason"):
        if key not in table:
            answers.mistakes.append(msg('[chapter] has no “{key}”; add a line {key} = "…".', key=key))
    answers.job["technician"] = answers.chapter.get("who", "")


def read_step(step: str, fields: object, answers: Answers) -> None:
    """The answers of one step."""
    if not isinstance(fields, dict):
        answers.mistakes.append(msg("“answers.{step}” must be a table.", step=step))
        return
    for key, value in fields.items():
        if key == CAUTIONS and isinstance(value, str):
            answers.cautions[step] = value
        elif key == CAUTIONS:
            answers.mistakes.append(msg("answers.{step}.cautions_read_by must be a name.", step=step))
        elif isinstance(value, dict) and not WORDS & value.keys():
            for places, inner in value.items():
                read_value(step, key, tuple(places.split()) or ("",), inner, answers)
        else:
            read_value(step, key, ("",), value, answers)


def read_value(step: str, key: str, places: tuple[str, ...], value: object, answers: Answers) -> None:
    """One answer: a plain value, or a table with more said about it."""
    where = f"answers.{step}.{key}"
    table = value if isinstance(value, dict) else {"value": value}
    words: dict[str, str] = {}
    for word, content in table.items():
        plain = as_text(content)
        if word not in WORDS:
            answers.mistakes.append(unknown(where, word, sorted(WORDS)))
        elif plain is None:
            answers.mistakes.append(
                msg("{where}: “{word}” must be text or a number.", where=where, word=word)
            )
        else:
            words[word] = plain
    if not SAYING & table.keys():
        answers.mistakes.append(
            msg(
                "{where}: nothing is answered; give one of: {known}.",
                where=where,
                known=", ".join(sorted(SAYING)),
            )
        )
    answers.given.append(Given(step, key, places, words))


def as_text(content: object) -> str | None:
    """What a person would have typed; None for a thing nobody can type."""
    match content:
        case bool():
            return "yes" if content else "no"
        case str():
            return content
        case int() | float():
            return str(content)
        case dt.datetime() | dt.time():
            return None
        case dt.date():
            return content.isoformat()
        case list() if all(isinstance(word, str) for word in content):
            return ", ".join(content) or "none"
    return None


def read_signatures(tables: object, answers: Answers) -> None:
    """The signatures of the file."""
    if not isinstance(tables, list) or not all(isinstance(t, dict) for t in tables):
        answers.mistakes.append(msg("Signatures are tables [[signature]]."))
        return
    for table in tables:
        for key in table.keys() - SIGNATURE_WORDS:
            answers.mistakes.append(unknown("signature", key, sorted(SIGNATURE_WORDS)))
        try:
            strokes = tuple(read_stroke(points) for points in table.get("strokes", []))
        except (TypeError, ValueError, IndexError, OverflowError):
            answers.mistakes.append(msg("signature.strokes is a list of lists of points [x, y] in mm."))
            continue
        typed = table.get("typed") is True
        answers.signatures.append(
            GivenSignature(str(table.get("role", "")), str(table.get("name", "")), strokes, typed)
        )


def read_stroke(points: list[list[float]]) -> Stroke:
    """A stroke from its points in mm; time and pressure are not known from a file."""
    return Stroke(tuple((float(p[0]), float(p[1]), index * 0.01, 0.5) for index, p in enumerate(points)))


def unknown(where: str, key: str, known: list[str]) -> Message:
    """A key that means nothing here, with the likeliest one that would."""
    near = difflib.get_close_matches(key, known, 1)
    path = f"{where}.{key}" if where else key
    if near:
        return msg("“{path}” is not known here. Did you mean “{near}”?", path=path, near=near[0])
    return msg("“{path}” is not known here; known are: {known}.", path=path, known=", ".join(known[:40]))
