"""Handover: what the customer did with his own hands, his papers, the first day, what comes next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rakeprep.calculations import Impossible, demand
from rakeprep.calculations.dates import call_day, follow_up
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no, day_of
from rakeprep.steps._reading import LARGEST, cannot_tell
from rakeprep.steps._work_rate import rate
from rakeprep.text import Message, joined, msg
from rakeprep.units import Amount, Kind

HOUR = 3600.0  # s
HECTARE = 10_000.0  # m²
LEAST_A_DAY = 60.0  # s; a machine that runs less is not at work
CALL_AHEAD = 3  # working days, common practice
TOPICS = (
    Place("safe-stop", msg("safe stop and PTO off"), "tractor"),
    Place("hitching", msg("hitching, unhitching, stand"), "hitch"),
    Place("latch-and-size", msg("transport latch, width, height"), "machine"),
    Place("lights", msg("lights plugged in and tried"), "machine"),
    Place("tine-height", msg("setting the tine height"), "machine"),
    Place("speed", msg("PTO speed and ground speed"), "driveline"),
    Place("headland", msg("headland: raising and turning"), "machine"),
    Place("daily-care", msg("daily grease, nuts at the first visits"), "frame"),
)
PAPERS = (
    Place("book", msg("the machine's book in the customer's language")),
    Place("driveline-leaflet", msg("leaflet of the driveline"), "driveline"),
    Place("declaration", msg("declaration of conformity")),
    Place("record", msg("this record")),
)
OIL_CHANGE = msg("first oil change")


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    return (
        Field(
            "topic",
            msg("Done by the customer, own initials"),
            Ask.TEXT,
            msg("Not shown: done with his own hands, on this machine. Then he writes his initials here."),
            TOPICS,
        ),
        Field(
            "papers",
            msg("Given to the customer"),
            Ask.CHOICE,
            msg("In his hand, not in the post. Turn to the page on safety together."),
            PAPERS,
            options=YES_NO,
        ),
        Field(
            "start_date",
            msg("Day of the customer's signature"),
            Ask.DATE,
            msg("Warranty and follow-up count from this day, not from the delivery to the workshop."),
            need=Need.MUST,
        ),
        Field(
            "hours_a_day",
            msg("Hours of work on a usual day"),
            Ask.QUANTITY,
            msg("As the customer expects for his season; left empty, the machine data's figure is used."),
            kind=Kind.DURATION,
            unit="h",
            need=Need.MAY,
        ),
        Field(
            "call",
            msg("Whom to call"),
            Ask.TEXT,
            msg("Role or name, and a telephone number that is answered in the season, evenings too."),
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge papers and work out the days that follow."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    yield from topic_findings(facts, by_key["topic"])
    yield from answered_no(
        facts,
        by_key["papers"],
        msg("{place}: not given to the customer."),
        msg("Give it now. What is missing is ordered and named as an open point, with a day."),
    )
    yield from date_findings(facts)


def topic_findings(facts: Facts, field: Field) -> Iterator[Finding]:
    """Each topic that carries initials."""
    for place in field.places:
        if facts.text(field.key, place.key).strip():
            done = msg("{place}: done by the customer.", place=place.name)
            yield Finding(Verdict.IN_ORDER, (facts.slot(field.key, place.key),), done)


def date_findings(facts: Facts) -> Iterator[Finding]:
    """The days of the visits, and when to ring before each."""
    text = facts.text("start_date")
    if not text:
        return
    about = (facts.slot("start_date"), facts.slot("hours_a_day"))
    start = day_of(text)
    if start is None:
        yield Finding(
            Verdict.MEASURE_AGAIN,
            about,
            msg("The day of the signature cannot be read."),
            msg("Write it as year-month-day, such as 2026-05-18."),
        )
        return
    service = facts.profile.service
    typed = facts.number("hours_a_day")
    a_day = service.hours_a_day * HOUR if typed is None else typed
    run = run_before(facts)
    visits = [each for each in sorted({*service.visits, service.first_oil_change}) if each * HOUR > run]
    if not visits:
        return
    try:
        demand(LEAST_A_DAY <= a_day <= LARGEST, msg("A day of work is longer than that."))
        days = [follow_up(start, hours * HOUR - run, a_day) for hours in visits]
        calls = [call_day(day, working_days=CALL_AHEAD) for day in days]
    except Impossible as reason:
        yield cannot_tell(about[::-1] if typed is not None else about, reason)
        return
    listed = [
        msg("{hours} h about {day} ({what})", hours=hours, day=day, what=OIL_CHANGE)
        if hours == service.first_oil_change
        else msg("{hours} h about {day}", hours=hours, day=day)
        for hours, day in zip(visits, days, strict=True)
    ]
    ring = [msg("{day}", day=day) for day in calls if day >= start]
    yield Finding(
        Verdict.IN_ORDER,
        about,
        msg(
            "Work and warranty begin {start}. Somebody looks again at {visits}.",
            start=start,
            visits=joined(listed),
        ),
        msg("Ring the customer for the hours really run: {days}.", days=joined(ring)) if ring else None,
        tuple(worked(facts, visits[-1], a_day)),
    )


def run_before(facts: Facts) -> float:
    """Running time in seconds that the machine had when this owner took it over, as a visit told it."""
    start, hours = facts.entry("start_date"), facts.entry("visit.hours")
    if start is None or hours is None or hours.seq > start.seq:
        return 0.0
    return hours.number or 0.0


def worked(facts: Facts, hours: int, a_day: float) -> Iterator[Message]:
    """How the days came about, and what stands in for an hour meter."""
    yield msg(
        "Day = start + hours / {a_day} a day, the start counted as the first day; a call {ahead} working "
        "days before.",
        a_day=Amount(a_day, Kind.DURATION, "h"),
        ahead=CALL_AHEAD,
    )
    done = rate(facts)
    if done is not None:
        area = done * hours * HOUR / HECTARE
        yield msg(
            "Without an hour meter ask for the area: {hours} h are about {area} ha, if it goes as planned.",
            hours=hours,
            area=Amount(area, Kind.NUMBER, "1", doubt=0.1 * area),
        )


STEP = Step(
    key="handover",
    order=15,
    title=msg("Handover"),
    about=msg("Eight things the customer does himself, the papers, the first day, and who comes when."),
    cautions=(
        Caution(
            msg("A new driver learns beside a live PTO and raised rotors."),
            msg("Everything that can be learned standing still is learned with engine off and key out."),
            "entanglement",
        ),
    ),
    fields=fields,
    checks=(check,),
)
