"""What was typed for a sum, read all at once: every mistake is named, not only the first."""

from __future__ import annotations

import datetime as dt
import difflib
import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from rakeprep.calculations.instruments import half_width, instrument
from rakeprep.sums.shape import Form, Given, Input, Reading, Sum, Value
from rakeprep.text import Message, msg, plural, verbatim
from rakeprep.units import EntryError, Kind, Typed, parse, parse_count, units_of

LARGEST = 1e12  # in any base unit; beyond it nothing of a machine is meant
LONGEST_LIST = 60
LONGEST_TEXT = 2000
MOST_PROBLEMS = 20
SHOWN_LETTERS = 40

DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
DOUBT = re.compile(r"±|\+/-|\+-")
# A comma divides a list unless it can be a decimal comma; a blank does behind a unit, but not within
# feet and inches.
BETWEEN = re.compile(r"\s*;\s*|,\s+|(?<=[^\d\s]),|(?<=[^\W\d_])(?<!ft)(?<!foot)(?<!feet)\s+(?=[\d.+-])")
PLACE = re.compile(r"(?:^|(?<=[\s,;]))(\d{1,2}(?:\.\d{1,2})?)\s*=")
UNIT_SIGN = re.compile(r"[^\W\d_]|[°'\"%″′”’“‘]")
NOT_READ = frozenset({"-", "–", "?"})
FEATURED = re.compile(r"([^\s:,;]+)\s*:\s*([^\s:,;]+)")
TO_BASE = {"rad": math.degrees(1.0), "rad/s": 1 / (2 * math.pi)}


class Unreadable(Exception):
    """One input cannot be read; ``message`` is the sentence behind its key."""

    def __init__(self, message: Message) -> None:
        super().__init__(message)
        self.message = message


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with one key; the key is as typed where it is unknown."""

    key: str
    says: Message


def safe(text: str) -> str:
    """Text as it may be shown: nothing invisible, no more letters than a line bears."""
    seen = "".join(char if char.isprintable() else "�" for char in text[: SHOWN_LETTERS + 1])
    return seen if len(text) <= SHOWN_LETTERS else seen[:SHOWN_LETTERS] + "…"


def closest(word: str, known: list[str]) -> list[str]:
    """At most three known words that are like ``word``."""
    short = word[:SHOWN_LETTERS].lower()
    inside = [each for each in known if len(short) > 2 and (short in each or each in short)]
    return list(dict.fromkeys([*difflib.get_close_matches(short, known, 3, 0.6), *inside]))[:3]


def read(of: Sum, typed: Mapping[str, str]) -> tuple[Given, tuple[Problem, ...]]:
    """Everything that was typed, and everything that is wrong with it."""
    problems = list(unknown(of, typed))
    values: dict[str, Value] = {}
    free: Kind | None = None
    for each in of.inputs:
        text = typed.get(each.key, "").strip() or each.default
        if not text:
            if each.needed:
                problems.append(Problem(each.key, msg("is missing: {what}.", what=described(each))))
            continue
        try:
            values[each.key] = read_one(each, text, free)
        except Unreadable as error:
            problems.append(Problem(each.key, error.message))
            continue
        first = values[each.key]
        if each.form is Form.AMOUNT and each.kind is None and isinstance(first, Reading):
            free = free or first.kind
    return Given(values), tuple(problems)


def unknown(of: Sum, typed: Mapping[str, str]) -> Iterator[Problem]:
    """Keys that this sum does not have, with the likeliest ones meant."""
    known = [each.key for each in of.inputs]
    odd = [key for key in typed if key not in known]
    for key in odd[:MOST_PROBLEMS]:
        near = closest(key, [each for each in known if each not in typed])
        if near:
            yield Problem(safe(key), msg("is not known here; did you mean {near}?", near=", ".join(near)))
        else:
            yield Problem(safe(key), msg("is not known here; this sum takes: {keys}.", keys=", ".join(known)))
    more = len(odd) - MOST_PROBLEMS
    if more > 0:
        yield Problem("…", plural("{count} more unknown name.", "{count} more unknown names.", more))


def described(each: Input) -> Message:
    """An input in words, with what may be typed."""
    return msg("{label}, {how}", label=each.label, how=how_to_type(each))


def how_to_type(each: Input) -> Message:
    """What may be typed for an input."""
    keys = ", ".join(choice.key for choice in each.choices)
    match each.form:
        case Form.AMOUNT if each.kind is None:
            return msg("any quantity with its unit")
        case Form.AMOUNT if each.kind is Kind.NUMBER:
            return msg("a plain number")
        case Form.AMOUNT:
            return msg("in {units}", units=unit_words(each))
        case Form.LIST:
            return msg("several in {units}, separated by commas", units=unit_words(each))
        case Form.CLOCK:
            return msg("clock place = value in {units}, like 9=31mm 10=24mm", units=unit_words(each))
        case Form.COUNT:
            return msg("a whole number")
        case Form.CHOICE:
            return msg("one of: {keys}", keys=keys)
        case Form.WORDS:
            return msg("any of, separated by commas: {keys}", keys=keys)
        case Form.DAY:
            return msg("a date like 2026-04-02")
        case Form.DAYS:
            return msg("dates like 2026-04-03, separated by commas")
        case Form.CIRCUITS:
            return msg("name:feature+feature, separated by blanks; features: {keys}", keys=keys)
        case Form.NAME:
            return msg("as it is written")


def unit_words(each: Input) -> str:
    """The units an input may be typed in, its own first."""
    units = [symbol.lstrip("Δ") for symbol in units_of(each.kind)] if each.kind else []
    return ", ".join(dict.fromkeys([each.unit, *units])) if each.unit in units else ", ".join(units)


def read_one(each: Input, text: str, free: Kind | None) -> Value:
    """One input; ``Unreadable`` with the reason."""
    if len(text) > LONGEST_TEXT:
        raise Unreadable(msg("is longer than {most} characters.", most=LONGEST_TEXT))
    return READERS[each.form](each, text, free)


def read_amount(each: Input, text: str, free: Kind | None = None) -> Reading:
    """One amount, with its doubt behind “±” where somebody knows it."""
    body, *rest = DOUBT.split(text, maxsplit=1)
    kind = each.kind or free
    try:
        if rest:
            return with_doubt(body, rest[0], kind)
        typed = parse(body, kind) if kind else parse_any(body)
        return sane(typed, default_doubt(each, typed))
    except EntryError as error:
        raise Unreadable(error.message) from None


def with_doubt(body: str, behind: str, kind: Kind | None) -> Reading:
    """A value and its doubt; one unit may serve both, as in 31±2mm. ``EntryError`` as :func:`parse`."""
    if kind is None:
        kind = parse_any(behind if bare(body) else body).kind
    of_doubt = Kind.TEMPERATURE_DIFFERENCE if kind is Kind.TEMPERATURE else kind
    if kind is Kind.NUMBER:
        typed, doubt = parse(body, kind), parse(behind, kind)
    elif bare(body):
        doubt = parse(behind, of_doubt)
        typed = parse(body, kind, doubt.unit.replace("Δ°", "°") if kind is Kind.TEMPERATURE else doubt.unit)
    else:
        typed = parse(body, kind)
        doubt = parse(behind, of_doubt, typed.unit if bare(behind) else None)
    if doubt.si < 0:
        raise Unreadable(msg("the doubt behind “±” cannot be below zero."))
    return sane(typed, float(doubt.si))


def bare(text: str) -> bool:
    """Whether a number has no unit behind it."""
    return UNIT_SIGN.search(text) is None


def parse_any(text: str) -> Typed:
    """An amount of whatever kind its unit says."""
    refusal: EntryError | None = None
    for kind in (Kind.LENGTH, *(kind for kind in Kind if kind is not Kind.LENGTH)):
        try:
            return parse(text, kind)
        except EntryError as error:
            refusal = refusal or error
    assert refusal is not None
    raise refusal


def default_doubt(each: Input, typed: Typed) -> float:
    """The doubt of a reading by its instrument, never below half a division of what was typed."""
    if not each.instrument:
        return 0.0
    factor = TO_BASE.get(instrument(each.instrument).unit, 1.0)
    value = float(typed.si)
    half_division = float(parse_size(typed)) / 2
    return max(half_width(each.instrument, value / factor) * factor, half_division)


def parse_size(typed: Typed) -> float:
    """The division of what was typed, in base units."""
    from rakeprep.units import to_si

    return float(to_si(typed.number + typed.division, typed.unit) - typed.si)


def sane(typed: Typed, doubt: float) -> Reading:
    """A reading that can be meant; ``Unreadable`` for what no machine has."""
    if abs(typed.si) > LARGEST or doubt > LARGEST:
        raise Unreadable(msg("is larger than anything on a machine; check number and unit."))
    return Reading(float(typed.si), doubt, typed.kind, typed.unit)


def entries(text: str) -> list[str]:
    """The parts of a list."""
    parts = [part.strip(" ,;") for part in BETWEEN.split(text)]
    parts = [part for part in parts if part]
    if len(parts) > LONGEST_LIST:
        raise Unreadable(msg("has more than {most} entries.", most=LONGEST_LIST))
    if not parts:
        raise Unreadable(msg("has no entry; {how}.", how=msg("separate them by commas")))
    return parts


def amounts(each: Input, parts: list[str]) -> list[Reading | None]:
    """Amounts of one list; a bare number takes the unit of the last one."""
    last = next((part for part in reversed(parts) if part not in NOT_READ), None)
    if last is None:
        raise Unreadable(msg("has no value at all."))
    unit = "" if each.kind is Kind.NUMBER else typed_unit(each, last)
    found: list[Reading | None] = []
    for n, part in enumerate(parts, 1):
        if part in NOT_READ:
            found.append(None)
            continue
        text = f"{part} {unit}" if unit and bare(part) else part
        try:
            found.append(read_amount(each, text))
        except Unreadable as error:
            raise Unreadable(msg("entry {n}: {reason}", n=n, reason=error.message)) from None
    return found


def typed_unit(each: Input, text: str) -> str:
    """The unit as it was typed behind a value that can be read; none otherwise."""
    try:
        unit = read_amount(each, text).unit
    except Unreadable:
        return ""
    return {"ft in": "in"}.get(unit, unit.lstrip("Δ"))


def read_list(each: Input, text: str, free: Kind | None) -> Value:
    """Amounts in a row."""
    return tuple(amounts(each, entries(text)))


def read_clock(each: Input, text: str, free: Kind | None) -> Value:
    """Amounts by clock place."""
    found = list(PLACE.finditer(text))
    if not found or text[: found[0].start()].strip():
        raise Unreadable(msg("begins with no clock place; type them like 9=31mm 10=24mm."))
    if len(found) > LONGEST_LIST:
        raise Unreadable(msg("has more than {most} entries.", most=LONGEST_LIST))
    ends = [place.start() for place in found[1:]] + [len(text)]
    parts = [text[place.end() : end].strip(" ,;") for place, end in zip(found, ends, strict=True)]
    hours = [float(place.group(1)) for place in found]
    for hour in hours:
        if hour > 12:
            raise Unreadable(msg("{hour} is no place on the clock; places go from 1 to 12.", hour=hour))
    pairs = zip(hours, amounts(each, parts), strict=True)
    return tuple((hour, value) for hour, value in pairs if value is not None)


def read_count(each: Input, text: str, free: Kind | None) -> Value:
    """A whole number."""
    try:
        return parse_count(text)
    except EntryError as error:
        raise Unreadable(error.message) from None


def read_choice(each: Input, text: str, free: Kind | None) -> Value:
    """One word of the list."""
    known = {choice.key.casefold(): choice.key for choice in each.choices}
    word = text.strip().casefold()
    if word in known:
        return known[word]
    near = closest(word, list(known)) or list(known)
    raise Unreadable(msg("“{word}” is not known; did you mean {near}?", word=safe(text), near=any_of(near)))


def any_of(words: list[str]) -> Message:
    """Words in a row, the last one behind “or”."""
    if len(words) == 1:
        return verbatim(words[0])
    return msg("{first} or {last}", first=", ".join(words[:-1]), last=words[-1])


def read_words(each: Input, text: str, free: Kind | None) -> Value:
    """Several words of the list."""
    parts = [part for part in re.split(r"[\s,;]+", text) if part]
    if len(parts) > LONGEST_LIST:
        raise Unreadable(msg("has more than {most} entries.", most=LONGEST_LIST))
    found: list[str] = []
    for part in parts:
        word = read_choice(each, part, free)
        assert isinstance(word, str)
        found.append(word)
    return tuple(found)


def read_day(each: Input, text: str, free: Kind | None = None) -> dt.date:
    """A date, year first because nothing else is the same everywhere."""
    try:
        if DAY.fullmatch(text.strip()):
            return dt.date.fromisoformat(text.strip())
    except ValueError:
        pass
    raise Unreadable(msg("“{text}” is no date; type year, month and day like 2026-04-02.", text=safe(text)))


def read_days(each: Input, text: str, free: Kind | None) -> Value:
    """Several dates."""
    parts = [part for part in re.split(r"[\s,;]+", text) if part]
    if len(parts) > LONGEST_LIST:
        raise Unreadable(msg("has more than {most} entries.", most=LONGEST_LIST))
    return tuple(read_day(each, part) for part in parts)


def read_name(each: Input, text: str, free: Kind | None) -> Value:
    """A name as it is; only what nobody can see is refused."""
    name = text.strip()
    if not name.isprintable():
        raise Unreadable(msg("has an invisible character; type it anew."))
    return name


def read_circuits(each: Input, text: str, free: Kind | None) -> Value:
    """Names with features."""
    found: list[tuple[str, tuple[str, ...]]] = []
    parts = [part for part in re.split(r"[\s,;]+", text) if part]
    if len(parts) > LONGEST_LIST:
        raise Unreadable(msg("has more than {most} entries.", most=LONGEST_LIST))
    for part in parts:
        pair = FEATURED.fullmatch(part)
        if pair is None:
            raise Unreadable(msg("“{word}” is not name:feature+feature.", word=safe(part)))
        features: list[str] = []
        for word in pair[2].split("+")[:LONGEST_LIST]:
            feature = read_choice(each, word, free)
            assert isinstance(feature, str)
            features.append(feature)
        found.append((safe(pair[1]), tuple(features)))
    return tuple(found)


READERS: dict[Form, Callable[[Input, str, Kind | None], Value]] = {
    Form.AMOUNT: read_amount,
    Form.LIST: read_list,
    Form.CLOCK: read_clock,
    Form.COUNT: read_count,
    Form.CHOICE: read_choice,
    Form.WORDS: read_words,
    Form.DAY: read_day,
    Form.DAYS: read_days,
    Form.NAME: read_name,
    Form.CIRCUITS: read_circuits,
}


def in_one(problems: tuple[Problem, ...]) -> tuple[Message, ...]:
    """Each problem as a line that begins with its key."""
    lines = [msg("{key}: {says}", key=each.key, says=each.says) for each in problems[:MOST_PROBLEMS]]
    more = len(problems) - MOST_PROBLEMS
    if more > 0:
        lines.append(plural("{count} more mistake.", "{count} more mistakes.", more))
    return tuple(lines)
