"""Any reading against its limits, any amount in all its units, and a reading taken twice."""

from __future__ import annotations

from rakeprep.calculations import demand
from rakeprep.calculations.decision import agree, combine, decidable, near, within
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, choice
from rakeprep.sums.shape import Answer, Choice, Given, Reading, Result, Sum
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind, units_of

WAYS = (
    Choice("nearest", msg("a value: to the nearest")),
    Choice("down", msg("largest allowed: down")),
    Choice("up", msg("least allowed: up")),
)
SAYS = {
    Verdict.IN_ORDER: msg("In order, the doubt included."),
    Verdict.MEASURE_AGAIN: msg(
        "Too close to a limit to tell with this doubt: measure again, or a second person."
    ),
    Verdict.PUT_RIGHT: msg("Outside beyond doubt."),
}


def shown(value: float, like: Reading, toward: str = "nearest") -> Amount:
    """An amount in the unit of a reading."""
    return Amount(value, like.kind, like.unit, toward=toward)


def difference_kind(kind: Kind) -> Kind:
    """The kind of a difference."""
    return Kind.TEMPERATURE_DIFFERENCE if kind is Kind.TEMPERATURE else kind


def difference_unit(like: Reading) -> str:
    """The unit of a difference."""
    return {"°C": "Δ°C", "°F": "Δ°F"}.get(like.unit, like.unit)


def gone(value: float, doubt: float, like: Reading) -> Result:
    """A difference of two amounts."""
    kind = difference_kind(like.kind)
    return Result("difference", msg("difference"), value, kind, difference_unit(like), doubt or None)


def decide(given: Given) -> Answer:
    """C33."""
    read = given.reading("value")
    low = given.number("least") if given.has("least") else None
    high = given.number("most") if given.has("most") else None
    verdict = within(read.value, read.doubt, low, high)
    results = (Result("value", msg("reading"), read.value, read.kind, read.unit, read.doubt or None),)
    working = [
        msg("In order if least ≤ value − doubt and value + doubt ≤ most; outside beyond doubt the other way.")
    ]
    if low is not None and high is not None and not decidable(read.doubt, low, high):
        working.append(msg("With this doubt no reading could ever be in order: take a finer instrument."))
    return Answer(SAYS[verdict], results, verdict, tuple(working))


def to_target(given: Given) -> Answer:
    """C33, with a target."""
    read, target, tolerance = given.reading("value"), given.number("target"), given.reading("tolerance")
    demand(
        read.kind is not Kind.TEMPERATURE,
        msg("For temperatures type the two limits instead of a target and a tolerance."),
    )
    verdict = near(read.value, read.doubt, target, tolerance.value)
    results = (gone(read.value - target, read.doubt, read),)
    inside, outside = tolerance.value - read.doubt, tolerance.value + read.doubt
    working = (
        msg(
            "In order within {inside}, outside beyond {outside}, in between measure again.",
            inside=shown(max(inside, 0.0), read, "down"),
            outside=shown(outside, read, "up"),
        ),
    )
    return Answer(SAYS[verdict], results, verdict, working)


def same(given: Given) -> Answer:
    """Whether two results may stand for the same thing."""
    first, second = given.reading("first"), given.reading("second")
    fit = agree(first.estimate, second.estimate)
    doubt = combine([(1, first.doubt), (-1, second.doubt)])
    results = (gone(first.value - second.value, doubt, first),)
    says = (
        msg("They agree within their doubt.")
        if fit
        else msg("They differ beyond their doubt: one of them is wrong.")
    )
    return Answer(
        says, results, Verdict.IN_ORDER if fit else Verdict.MEASURE_AGAIN, (msg("|a − b| ≤ √(Ua² + Ub²)."),)
    )


def convert(given: Given) -> Answer:
    """C35."""
    read = given.reading("value")
    toward = given.word("toward")
    results = tuple(
        Result(f"in-{unit.lstrip('Δ')}", msg("in {unit}", unit=unit.lstrip("Δ")), msg("{v}", v=amount_in))
        for unit in units_of(read.kind)
        for amount_in in [Amount(read.value, read.kind, unit, toward=toward, doubt=read.doubt or None)]
    )
    if read.kind is Kind.LENGTH:
        feet = Amount(read.value, read.kind, "ft in", toward=toward, doubt=read.doubt or None)
        results = (*results, Result("in-ft-in", msg("in feet and inches"), msg("{v}", v=feet)))
    says = msg("{value}: converted once, rounded once.", value=shown(read.value, read, toward))
    working: tuple[Message, ...] = (msg("Factors are exact."),)
    return Answer(
        says, (Result("value", msg("value"), read.value, read.kind, read.unit), *results), None, working
    )


JCGM = msg("JCGM 106:2012, 8.3.")
SUMS = (
    Sum(
        "decide",
        msg("a reading with doubt against its limits"),
        msg("In order, put right, or measure again: any quantity, all in units of the same kind."),
        (
            amount("value", msg("reading, with its doubt behind ±"), None, ""),
            amount("least", msg("least allowed"), None, "", optional=True),
            amount("most", msg("largest allowed"), None, "", optional=True),
        ),
        decide,
        {"value": "34mm±3mm", "least": "30mm", "most": "40mm"},
        msg("One limit or two."),
        JCGM,
    ),
    Sum(
        "decide-target",
        msg("a reading with doubt against a target and a tolerance"),
        msg("In order, put right, or measure again: any quantity, all in units of the same kind."),
        (
            amount("value", msg("reading, with its doubt behind ±"), None, ""),
            amount("target", msg("target"), None, ""),
            amount("tolerance", msg("departure that may stay"), None, ""),
        ),
        to_target,
        {"value": "24mm±2mm", "target": "20mm", "tolerance": "5mm"},
        msg("Tolerance not below zero."),
        JCGM,
    ),
    Sum(
        "agree",
        msg("may two results stand for the same thing"),
        msg("Any quantity, both with their doubt."),
        (
            amount("first", msg("one result, with its doubt behind ±"), None, ""),
            amount("second", msg("the other, with its doubt behind ±"), None, ""),
        ),
        same,
        {"first": "1240kg±28kg", "second": "1243kg"},
        msg("Independent results."),
        msg("ISO 13528, E_n number (from memory)."),
    ),
    Sum(
        "convert",
        msg("an amount in every unit of its kind"),
        msg("A largest allowed is rounded down, a least allowed up."),
        (
            amount("value", msg("amount with its unit"), None, ""),
            choice("toward", msg("how to round"), WAYS, "nearest"),
        ),
        convert,
        {"value": "2.55m", "toward": "down"},
        msg("Every unit the program knows."),
        msg("NIST SP 811 (2008), appendix B; ISO 80000."),
    ),
)
