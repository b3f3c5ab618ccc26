"""A permit for a machine that is larger on the road than the local limit allows."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Profile
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import day_of, sane
from rakeprep.text import msg, verbatim
from rakeprep.units import Kind

ROAD = frozenset({Use.ROAD})
LONGEST = 60  # characters of a permit's number within a sentence


@dataclass(frozen=True, slots=True)
class Permit:
    """A permit whose last day is known; sizes in m, None where it says nothing."""

    number: str
    until: dt.date
    width: float | None
    height: float | None


def fields(profile: Profile) -> tuple[Field, ...]:
    """The questions about a permit; nobody has to answer them."""
    data = profile.width
    return (
        Field(
            "permit",
            msg("Permit for the road, number"),
            Ask.TEXT,
            msg("Only where the machine is larger than the local limit, and the authority allows that."),
            need=Need.MAY,
        ),
        Field(
            "permit_until",
            msg("Last day of the permit"),
            Ask.DATE,
            msg("As it stands on the permit. Without this day the permit does not count here."),
            need=Need.MAY,
        ),
        Field(
            "permit_width",
            msg("Width that the permit allows"),
            Ask.QUANTITY,
            msg("From the permit, with its unit. It may stay empty where only the height is too large."),
            kind=Kind.LENGTH,
            unit=data.transport_width.typed.unit,
            need=Need.MAY,
        ),
        Field(
            "permit_height",
            msg("Height that the permit allows"),
            Ask.QUANTITY,
            msg("From the permit, with its unit. It may stay empty where only the width is too large."),
            kind=Kind.LENGTH,
            unit=data.transport_height.typed.unit,
            need=Need.MAY,
        ),
    )


def permit_of(facts: Facts) -> Permit | None:
    """The permit that was entered, whether it still counts or not; None while number or day is missing."""
    number, until = " ".join(facts.text("permit").split())[:LONGEST], day_of(facts.text("permit_until"))
    if not number or until is None:
        return None
    width, height = (sane(facts, key) for key in ("permit_width", "permit_height"))
    return Permit(number, until, *(size if size and size > 0 else None for size in (width, height)))


def counts(permit: Permit | None, facts: Facts) -> bool:
    """Whether a permit still holds today."""
    return permit is not None and facts.today <= permit.until


def findings(facts: Facts, needed: bool) -> Iterator[Finding]:
    """What the customer must know of a permit: a point that stays open as long as he needs it."""
    permit = permit_of(facts)
    if permit is None or not needed:
        return
    about = tuple(facts.slot(key) for key in ("permit", "permit_until", "permit_width", "permit_height"))
    said = {"number": verbatim(permit.number), "until": permit.until}
    if counts(permit, facts):
        says = msg(
            "Larger than the local limit: on the road only under permit {number}, until {until}.", **said
        )
        todo = msg(
            "Leave it as an open point, with the permit's conditions as the reason: the customer then reads "
            "it on his page."
        )
    else:
        says = msg("Permit {number} ended on {until} and allows nothing any more.", **said)
        todo = msg("Ask the authority for a new one; until then no road.")
    yield Finding(Verdict.PUT_RIGHT, about, says, todo, bars=ROAD)
