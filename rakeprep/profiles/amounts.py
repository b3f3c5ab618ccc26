"""One value of machine data: ``{ value = "35 mm", source = "book p. 12", also = "1 3/8 in" }``."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from rakeprep.model.source import Source, Sourced
from rakeprep.profiles.document import Document, clipped
from rakeprep.profiles.limits import LARGEST, SIGNED, may_be_zero
from rakeprep.profiles.positions import Path
from rakeprep.text import Message, msg
from rakeprep.units import Amount, EntryError, Kind, Typed, base_unit, parse, to_si, units_of

PARTS = ("value", "source", "also")
DIFFERENCE = {Kind.TEMPERATURE: (Kind.TEMPERATURE_DIFFERENCE, "K")}


def read_amount(
    doc: Document, raw: object, path: Path, address: str, kind: Kind, sources: Mapping[str, Source | None]
) -> Sourced | None:
    """The value at ``path``; None, with the mistakes noted, if anything about it is wrong."""
    if not isinstance(raw, dict):
        doc.wrong_value(
            path,
            msg(
                "“{key}” needs a value and a source; write {example}.",
                key=str(path[-1]),
                example=example(path, kind),
            ),
        )
        return None
    good = not [extra for extra in raw if not known_part(doc, path, extra)]
    for part in ("value", "source"):
        if part not in raw:
            good = False
            doc.wrong_key(
                path,
                msg(
                    "“{key}” has no {part}; write {example}.",
                    key=str(path[-1]),
                    part=part,
                    example=example(path, kind),
                ),
            )
    typed = read_typed(doc, raw["value"], (*path, "value"), kind) if "value" in raw else None
    also = read_typed(doc, raw["also"], (*path, "also"), kind) if "also" in raw else None
    source = read_source(doc, raw["source"], (*path, "source"), sources) if "source" in raw else None
    if typed is None or source is None or not good or ("also" in raw and also is None):
        return None
    gap = Fraction(0) if also is None else apart(typed, also)
    if also is not None and gap:
        doc.conflicts.append(
            doc.mistake(doc.positions.nearest(path), conflict(str(path[-1]), typed, also, gap))
        )
    return Sourced(address, typed, source, also, gap)


def known_part(doc: Document, path: Path, extra: str) -> bool:
    """Whether a key belongs into the braces of a value."""
    if extra in PARTS:
        return True
    near = difflib.get_close_matches(extra[:40], PARTS, n=1)
    if near:
        says = msg("Unknown key “{key}”; did you mean “{near}”?", key=clipped(extra), near=near[0])
    else:
        says = msg("Unknown key “{key}”; a value takes value, source and also.", key=clipped(extra))
    doc.wrong_key((*path, extra), says)
    return False


def read_typed(doc: Document, raw: object, path: Path, kind: Kind) -> Typed | None:
    """One printed value with its unit."""
    if not isinstance(raw, str):
        doc.wrong_value(
            path,
            msg(
                "Write the value in quotation marks and with its unit, such as {example}.",
                example=sample(kind),
            ),
        )
        return None
    try:
        typed = parse(raw, kind, "1" if kind is Kind.RATIO else None)
    except EntryError as error:
        doc.wrong_value(path, error.message, error.position)
        return None
    if problem := impossible(typed, str(path[-2])):
        doc.wrong_value(path, problem)
        return None
    return typed


def impossible(typed: Typed, name: str) -> Message | None:
    """Why no machine can have this amount."""
    if typed.si < 0 and name not in SIGNED:
        return msg("“{name}” cannot be below zero; take away the minus.", name=name)
    if typed.si == 0 and not may_be_zero(name):
        return msg("“{name}” cannot be zero; write what the machine's book says.", name=name)
    most = LARGEST.get(typed.kind)
    if most is not None and abs(typed.si) > most:
        limit = Amount(Fraction(most), typed.kind, typed.unit, toward="down")
        return msg(
            "“{name}” is more than {limit}; check the unit and the decimal mark.", name=name, limit=limit
        )
    return None


def read_source(
    doc: Document, raw: object, path: Path, sources: Mapping[str, Source | None]
) -> Source | None:
    """The source named by the first word, with the page or clause behind it."""
    known = ", ".join(clipped(one) for one in list(sources)[:12])
    name, _, where = raw.strip().partition(" ") if isinstance(raw, str) else ("", "", "")
    name = name.rstrip(",")
    if not name:
        doc.wrong_value(
            path, msg("Name one of the [sources] and the page, such as “book p. 12”: {known}.", known=known)
        )
    elif name not in sources:
        near = difflib.get_close_matches(name[:40], sources, n=1)
        if near:
            says = msg("Unknown source “{name}”; did you mean “{near}”?", name=clipped(name), near=near[0])
        else:
            says = msg(
                "Unknown source “{name}”; add [sources.{name}] or use: {known}.",
                name=clipped(name),
                known=known,
            )
        doc.wrong_value(path, says)
    elif len(where) > 200 or not where.isprintable():
        doc.wrong_value(path, msg("Behind the source, write the page or clause in at most 200 characters."))
    else:
        source = sources[name]
        return None if source is None else replace(source, where=where.strip())
    return None


def interval(typed: Typed) -> tuple[Fraction, Fraction]:
    """What a printed value can mean, in the base unit: half its last digit to each side.

    Behind "about" the whole last digit to each side.
    """
    width = typed.division if typed.about else typed.division / 2
    return to_si(typed.number - width, typed.unit), to_si(typed.number + width, typed.unit)


def apart(first: Typed, second: Typed) -> Fraction:
    """How far two printed values lie apart beyond their rounding, in the base unit; 0 if they agree."""
    low, high = interval(first)
    other_low, other_high = interval(second)
    return max(Fraction(0), other_low - high, low - other_high)


def conflict(name: str, first: Typed, second: Typed, gap: Fraction) -> Message:
    """The sentence about two printed values that contradict each other."""
    kind, unit = DIFFERENCE.get(first.kind, (first.kind, first.unit))
    if kind is Kind.LENGTH and unit in {"m", "cm"}:
        unit = "mm"
    return msg(
        "“{name}”: {first} and {second} are {gap} apart beyond their rounding; "
        "neither is used until somebody chooses one and says why.",
        name=name,
        first=first.text,
        second=second.text,
        gap=Amount(gap, kind, unit),
    )


def sample(kind: Kind) -> str:
    """A value of ``kind`` as it is written."""
    if kind is Kind.RATIO:
        return '"1.25"'
    return f'"12 {units_of(kind)[0] if units_of(kind) else base_unit(kind)}"'


def example(path: Path, kind: Kind) -> str:
    """A whole line for a value of ``kind``."""
    return f'{path[-1]} = {{ value = {sample(kind)}, source = "book p. 1" }}'
