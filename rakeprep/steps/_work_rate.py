"""What the machine may get done in an hour and leave in the windrow, always with its "if"."""

from __future__ import annotations

from fractions import Fraction

from rakeprep.calculations import Impossible
from rakeprep.calculations.test_run import follow_speed, windrow, work_rate
from rakeprep.model.facts import Facts
from rakeprep.steps._judged import sane
from rakeprep.steps._reading import LARGEST
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

HALF, TENTH = Fraction(1, 2), Fraction(1, 10)
USED = 0.8  # share of time and width really used, common practice for rakes
SMALLEST = 1e-3
TO_HECTARES = 0.36  # ha/h in one m²/s
TONNES_A_HECTARE = 0.1  # kg/m²
TONNES_AN_HOUR = 1000 / 3600  # kg/s
POUND_A_FOOT = 0.45359237 / 0.3048  # kg/m
TO_ACRES = TO_HECTARES / 0.40468564224  # acre of exactly 4046.8564224 m²


def planned_speed(facts: Facts) -> float | None:
    """Ground speed as the customer means to drive, or as the machine data say [m/s]."""
    typed = facts.number("settings.ground_speed")
    speed = facts.value(facts.profile.settings.ground_speed) if typed is None else typed
    return speed if speed is not None and SMALLEST <= speed <= LARGEST else None


def working_width(facts: Facts) -> float | None:
    """Widest working width by tape, or by the machine data [m]."""
    typed = facts.number("width.working", "wide")
    width = facts.value(facts.profile.width.wide) if typed is None else typed
    return width if width is not None and SMALLEST <= width <= LARGEST else None


def rate(facts: Facts) -> float | None:
    """Area in a time at the planned speed [m²/s]; None where it cannot be told."""
    width, speed = working_width(facts), planned_speed(facts)
    if width is None or speed is None:
        return None
    try:
        return work_rate(width, speed, USED)
    except Impossible:
        return None


def rate_said(facts: Facts) -> Message | None:
    """The work rate in one sentence."""
    width, speed, done = working_width(facts), planned_speed(facts), rate(facts)
    if width is None or speed is None or done is None:
        return None
    return msg(
        "If {used} of time and width are used at {speed} and {width}: about {hectares} ha/h "
        "({acres} acres/h). Crop, turns and ground decide.",
        used=Amount(USED, Kind.RATIO, "%"),
        speed=Amount(speed, Kind.SPEED, facts.profile.settings.ground_speed.typed.unit, both=True),
        width=Amount(width, Kind.LENGTH, facts.profile.width.wide.typed.unit, both=True),
        hectares=Amount(done * TO_HECTARES, Kind.NUMBER, "1", doubt=0.1 * done * TO_HECTARES),
        acres=Amount(done * TO_ACRES, Kind.NUMBER, "1", doubt=0.1 * done * TO_ACRES),
    )


def rate_working(facts: Facts) -> tuple[Message, ...]:
    """How the area comes about."""
    return (
        msg(
            "Area an hour = width {width} · speed {speed} · {used}.",
            width=Amount(working_width(facts) or 0.0, Kind.LENGTH, facts.profile.width.wide.typed.unit),
            speed=Amount(planned_speed(facts) or 0.0, Kind.SPEED, "m/s"),
            used=USED,
        ),
    )


def windrow_said(facts: Facts) -> tuple[Message, Message] | None:
    """What lies in a metre of windrow, how fast a baler follows, and the sum; None without a yield."""
    crop, width = sane(facts, "yield_expected"), working_width(facts)
    if crop is None or width is None or crop <= 0:
        return None
    line = windrow(crop * TONNES_A_HECTARE, width)
    say: dict[str, object] = {
        "crop": crop,
        "line": Amount(line, Kind.NUMBER, "1", step=TENTH),
        "pounds": Amount(line / POUND_A_FOOT, Kind.NUMBER, "1", step=TENTH),
        "width": Amount(width, Kind.LENGTH, facts.profile.width.wide.typed.unit, both=True),
    }
    working = msg("Windrow = yield · width = {crop} t/ha · {width}; follows at throughput / windrow.", **say)
    rate = sane(facts, "follower_rate")
    if rate is None or rate <= 0:
        return msg("If the yield is {crop} t/ha: {line} kg/m of windrow ({pounds} lb/ft).", **say), working
    say["rate"] = rate
    speed = follow_speed(rate * TONNES_AN_HOUR, line)
    # a speed never to pass: rounded down
    say["speed"] = Amount(speed, Kind.SPEED, "km/h", step=HALF, toward="down", both=True)
    says = msg(
        "If the yield is {crop} t/ha: {line} kg/m of windrow ({pounds} lb/ft). What takes {rate} t/h follows "
        "at {speed} at most.",
        **say,
    )
    return says, working
