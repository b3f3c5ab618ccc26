"""Answers as lines for people and as plain data for machines."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from rakeprep.sums.parts import in_both
from rakeprep.sums.reading import how_to_type, safe
from rakeprep.sums.shape import Form, Given, Input, Reading, Result, Sum
from rakeprep.sums.working import Refused, Worked
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Amount, base_unit

PLAIN = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789=.,:/+-%°·±_")
PROGRAM = "rakeprep calc"


def list_lines(sums: tuple[Sum, ...]) -> Iterator[Message]:
    """Every sum in a line."""
    widest = max((len(each.key) for each in sums), default=0)
    for each in sums:
        yield msg("{key}  {title}", key=each.key.ljust(widest), title=each.title)


def description(of: Sum) -> Iterator[Message]:
    """What a sum needs, how far it holds, where it is from, and a line to paste."""
    yield of.title
    yield of.about
    yield verbatim("")
    yield msg("It takes:")
    for each in of.inputs:
        yield msg("  {key}: {label}; {how}{rest}", **input_words(each))
        if each.help is not None:
            yield msg("      {help}", help=each.help)
    yield verbatim("")
    yield msg("Holds: {range}", range=of.range)
    yield msg("Source: {source}", source=of.source)
    yield msg("Example (an invented practice machine):")
    yield msg("  {line}", line=example_line(of))


def input_words(each: Input) -> dict[str, object]:
    """The words of one input's line."""
    rest = verbatim("")
    if each.default:
        rest = msg("; without it {default}", default=each.default)
    elif each.optional:
        rest = msg("; may be left out")
    return {"key": each.key, "label": each.label, "how": how_to_type(each), "rest": rest}


def example_line(of: Sum) -> str:
    """The example as it is typed."""
    return " ".join([PROGRAM, of.key, *(pair(key, text) for key, text in of.example.items())])


def pair(key: str, text: str) -> str:
    """One key with its value, in quotation marks where a shell needs them."""
    whole = f"{key}={text}"
    return whole if set(whole) <= PLAIN else f'"{whole}"'


def answer_lines(worked: Worked) -> Iterator[Message]:
    """The answer, the verdict, the results, the working."""
    answer = worked.answer
    yield answer.says
    if answer.verdict is not None:
        yield msg("Verdict: {verdict}", verdict=answer.verdict.word)
    for each in answer.results:
        yield msg("  {label}: {value}", label=each.label, value=shown(each))
    for cells in answer.rows:
        yield in_columns(cells)
    if answer.working:
        yield msg("Working:")
        for line in answer.working:
            yield msg("  {line}", line=line)
    yield msg("Holds: {range}", range=worked.of.range)
    yield msg("Source: {source}", source=worked.of.source)


def in_columns(cells: tuple[Message, ...]) -> Message:
    """A row of a table."""
    gaps = {f"cell{n}": cell for n, cell in enumerate(cells)}
    return Message("  " + " | ".join(f"{{{name}}}" for name in gaps), tuple(gaps.items()))


def shown(each: Result) -> object:
    """A result as it stands in a sentence, in both families of units."""
    if each.kind is None or not isinstance(each.value, int | float):
        return each.value
    return in_both(Amount(each.value, each.kind, each.unit, each.step, each.toward, doubt=each.doubt))


# ---------------------------------------------------------------------- for machines


def list_data(sums: tuple[Sum, ...]) -> list[dict[str, object]]:
    """Every sum's key and title."""
    return [{"sum": each.key, "title": str(each.title)} for each in sums]


def description_data(of: Sum) -> dict[str, object]:
    """What a sum takes."""
    return {
        "sum": of.key,
        "title": str(of.title),
        "about": str(of.about),
        "takes": [input_data(each) for each in of.inputs],
        "range": str(of.range),
        "source": str(of.source),
        "example": dict(of.example),
    }


def input_data(each: Input) -> dict[str, object]:
    """One input."""
    return {
        "key": each.key,
        "label": str(each.label),
        "type": each.form.name.lower(),
        "kind": each.kind.value if each.kind else None,
        "unit": each.unit or None,
        "choices": [choice.key for choice in each.choices],
        "default": each.default or None,
        "needed": each.needed,
    }


def worked_data(worked: Worked) -> dict[str, object]:
    """An answer with all that it rests on."""
    of, answer = worked.of, worked.answer
    return {
        "sum": of.key,
        "inputs": {each.key: given_data(each, worked) for each in of.inputs if worked.given.has(each.key)},
        "says": str(answer.says),
        "verdict": answer.verdict.value if answer.verdict else None,
        "results": [result_data(each) for each in answer.results],
        "rows": [[str(cell) for cell in cells] for cells in answer.rows],
        "working": [str(line) for line in answer.working],
        "range": str(of.range),
        "source": str(of.source),
    }


def given_data(each: Input, worked: Worked) -> dict[str, object]:
    """One input as typed and as understood."""
    text = worked.typed.get(each.key, "").strip()
    values = understood(each, worked.given)
    return {"typed": text or None, "default": None if text else each.default, **values}


def understood(each: Input, given: Given) -> dict[str, object]:
    """The value of an input in base units."""
    value = given.values[each.key]
    if isinstance(value, Reading):
        return reading_data(value)
    if each.form is Form.CLOCK:
        return {"values": [{"place": hour, **reading_data(one)} for hour, one in given.clock(each.key)]}
    if each.form is Form.LIST:
        return {"values": [None if one is None else reading_data(one) for one in given.readings(each.key)]}
    if isinstance(value, dt.date):
        return {"value": value.isoformat()}
    if each.form is Form.DAYS:
        return {"values": [day.isoformat() for day in given.days(each.key)]}
    if each.form is Form.CIRCUITS:
        return {"values": [{"name": name, "features": list(f)} for name, f in given.circuits(each.key)]}
    return {"value": list(value) if isinstance(value, tuple) else value}


def reading_data(value: Reading) -> dict[str, object]:
    """An amount in the base unit of its kind."""
    return {"value": value.value, "unit": base_unit(value.kind), "doubt": value.doubt or None}


def result_data(each: Result) -> dict[str, object]:
    """One result in the base unit of its kind."""
    value: object = each.value
    if isinstance(value, dt.date):
        value = value.isoformat()
    elif isinstance(value, Message):
        value = str(value)
    return {
        "key": each.key,
        "label": str(each.label),
        "value": value,
        "unit": base_unit(each.kind) if each.kind else None,
        "doubt": each.doubt,
        "shown": str(msg("{value}", value=shown(each))),
    }


def refused_data(refused: Refused) -> dict[str, object]:
    """Why there is no answer."""
    return {
        "sum": refused.of.key,
        "refused": "impossible" if refused.impossible else "not read",
        "reasons": [str(line) for line in refused.reasons],
        "keys": [safe(each.key) for each in refused.problems],
    }
