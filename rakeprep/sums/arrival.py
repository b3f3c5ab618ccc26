"""Days that must not be missed, and numbers on plate and paper."""

from __future__ import annotations

from rakeprep.calculations import dates, demand, identity
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, choice, count, name, plain
from rakeprep.sums.shape import RULE_OF_THUMB, Answer, Choice, Form, Given, Input, Result, Sum
from rakeprep.text import msg
from rakeprep.units import Amount, Kind

HA, ACRE = 1e4, 4046.8564224  # m²; NIST SP 811, appendix B, international acre
AREA_UNITS = (Choice("ha", msg("hectares")), Choice("ac", msg("acres")))
LATE = 9000  # years beyond this are no dates of a machine


def carrier_notice(given: Given) -> Answer:
    """C1."""
    delivered = given.day("delivered")
    last = dates.notice_last_day(delivered, given.days("holidays"), given.count("days"))
    results = [Result("last-day", msg("last day"), last)]
    verdict = None
    if given.has("today"):
        left = dates.days_left(last, given.day("today"))
        verdict = Verdict.IN_ORDER if left >= 0 else Verdict.STOP
        results.append(Result("days-left", msg("days left"), left))
    return Answer(
        msg("Written notice of damage that could not be seen must leave by {day}.", day=last),
        tuple(results),
        verdict,
        (
            msg(
                "{count} days from the day after {start}; Sundays and the holidays given do not count.",
                start=delivered,
                count=given.count("days"),
            ),
        ),
    )


def retorque_dates(given: Given) -> Answer:
    """C17."""
    points = dates.retorque_points(given.number("speed"), first_distance=given.number("distance"))
    results = tuple(
        Result(f"point-{n}", msg("tighten again after"), point.due, Kind.DURATION, "h", toward="down")
        for n, point in enumerate(points, 1)
    )
    first = points[0]
    by = msg("the distance comes first") if first.by_distance else msg("the hours come first")
    due = Amount(first.due, Kind.DURATION, "h", toward="down")
    return Answer(
        msg("Tighten the wheel nuts again after {due}, then at 10 h and 50 h.", due=due),
        results,
        None,
        (
            msg(
                "First point = the earlier of 1 h and {distance} / {speed}: {by}.",
                distance=Amount(given.number("distance"), Kind.LENGTH, "m"),
                speed=Amount(given.number("speed"), Kind.SPEED, "km/h"),
                by=by,
            ),
        ),
    )


def follow_up(given: Given) -> Answer:
    """C34."""
    start, running, per_day = given.day("start"), given.number("hours"), given.number("per-day")
    latest = given.count("latest-days") if given.has("latest-days") else None
    visit = dates.follow_up(start, running, per_day, latest)
    call = dates.call_day(visit, given.days("holidays"), given.count("ahead"))
    return Answer(
        msg("The visit is due on {visit}; ring the customer on {call}.", visit=visit, call=call),
        (Result("visit", msg("visit"), visit), Result("call", msg("ring the customer"), call)),
        None,
        (
            msg(
                "Days = {hours} / {per_day} a day, rounded up; {start} is the first of them.",
                hours=Amount(running, Kind.DURATION, "h"),
                per_day=Amount(per_day, Kind.DURATION, "h"),
                start=start,
            ),
            msg("The call is {count} working days before, Monday to Friday.", count=given.count("ahead")),
        ),
    )


def hours_from_area(given: Given) -> Answer:
    """C34, for a machine without an hour meter."""
    size = HA if given.word("area-unit") == "ha" else ACRE
    area, rate = given.number("area"), given.number("rate")
    time = dates.hours_from_area(area * size, rate * size / 3600)
    return Answer(
        msg("The machine has worked about {time}.", time=Amount(time, Kind.DURATION, "h")),
        (Result("worked", msg("working time"), time, Kind.DURATION, "h"),),
        None,
        (msg("Time = {area} / {rate} an hour.", area=area, rate=rate),),
    )


def compare_numbers(given: Given) -> Answer:
    """C38."""
    plate, paper = given.word("plate"), given.word("paper")
    differences = identity.compare(plate, paper)
    working = tuple(each.text for each in differences)
    same = not differences
    says = (
        msg("Both numbers are the same.")
        if same
        else msg("The numbers differ; nothing is corrected by itself. Look at the plate again.")
    )
    verdict = Verdict.IN_ORDER if same else Verdict.STOP
    results = (Result("differences", msg("characters that differ"), len(differences)),)
    return Answer(says, results, verdict, working)


def year_of_construction(given: Given) -> Answer:
    """C38."""
    built, this = given.count("built"), given.count("this-year")
    demand(0 < this < LATE, msg("The year of today must be a year like 2026."))
    verdict = identity.year_verdict(built, this, given.count("oldest"))
    says = (
        msg("The year of construction can be right.")
        if verdict is Verdict.IN_ORDER
        else msg("Ask: the year of construction lies in the future or far back.")
    )
    return Answer(says, (Result("age", msg("age in years"), this - built),), verdict)


SUMS = (
    Sum(
        "carrier-notice",
        msg("last day for written notice of transport damage"),
        msg("Counts the days after delivery without Sundays and public holidays of the place."),
        (
            Input("delivered", msg("day of delivery"), Form.DAY),
            Input("holidays", msg("public holidays of the place"), Form.DAYS, optional=True),
            count("days", msg("days that count"), "7"),
            Input("today", msg("today, to see the days left"), Form.DAY, optional=True),
        ),
        carrier_notice,
        {"delivered": "2026-04-02", "holidays": "2026-04-03,2026-04-06"},
        msg("International road carriage; home carriage may have shorter terms. 1 to 366 days."),
        msg("CMR convention, article 30."),
    ),
    Sum(
        "retorque-points",
        msg("when wheel nuts are tightened again"),
        msg("The first time comes by hours or by distance, whichever is first."),
        (
            amount("speed", msg("speed on the road"), Kind.SPEED, "km/h"),
            amount("distance", msg("distance of the first point"), Kind.LENGTH, "m", "50000 m"),
        ),
        retorque_dates,
        {"speed": "25km/h"},
        msg("Speed and distance above zero."),
        RULE_OF_THUMB,
    ),
    Sum(
        "follow-up",
        msg("day of a follow-up visit, and of the call before it"),
        msg("The earlier of running hours and calendar."),
        (
            Input("start", msg("first day of work"), Form.DAY),
            amount("hours", msg("running time until the visit"), Kind.DURATION, "h"),
            amount("per-day", msg("running time of a day"), Kind.DURATION, "h", "6 h"),
            count("latest-days", msg("calendar limit in days after the start"), optional=True),
            count("ahead", msg("working days between call and visit"), "3"),
            Input("holidays", msg("public holidays of the place"), Form.DAYS, optional=True),
        ),
        follow_up,
        {"start": "2026-05-18", "hours": "50h", "per-day": "6h"},
        msg("Up to a century ahead; a day has at most 24 h."),
        msg("Arithmetic."),
    ),
    Sum(
        "hours-from-area",
        msg("working hours from the area worked"),
        msg("For a machine without an hour meter."),
        (
            plain("area", msg("area worked, in the unit of area-unit")),
            plain("rate", msg("area worked in an hour, in the same unit")),
            choice("area-unit", msg("unit of both"), AREA_UNITS, "ha"),
        ),
        hours_from_area,
        {"area": "280", "rate": "5.6"},
        msg("Values above zero; as good as the rate is known."),
        msg("Arithmetic."),
    ),
    Sum(
        "compare-numbers",
        msg("serial number on the plate against one on paper"),
        msg("Names every character that differs, and those that look alike. Blanks and case do not count."),
        (
            name("plate", msg("number as read from the plate")),
            name("paper", msg("number as printed on the paper")),
        ),
        compare_numbers,
        {"plate": "PM1-0045", "paper": "PM1-004S"},
        msg("Up to 100 characters each."),
        msg("Edit distance after Wagner and Fischer (1974), look-alikes at half cost."),
    ),
    Sum(
        "year-of-construction",
        msg("is the year on the plate believable"),
        msg("A year in the future or far back is asked about."),
        (
            count("built", msg("year on the plate")),
            count("this-year", msg("year of today")),
            count("oldest", msg("years back at which nobody wonders"), "2"),
        ),
        year_of_construction,
        {"built": "2026", "this-year": "2026"},
        msg("Whole years."),
        RULE_OF_THUMB,
    ),
)
