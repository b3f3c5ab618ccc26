"""Engine, PTO and rotor: speeds, the tips, and the gear that is in."""

from __future__ import annotations

from rakeprep.calculations import speed
from rakeprep.calculations.pto_types import PTO_TYPES, PtoType, pto_by_splines, pto_type, same_stub
from rakeprep.calculations.speed import PtoGear, SpeedLimits
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, count, found, length, metres, number, plain
from rakeprep.sums.shape import Answer, Form, Given, Input, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Amount, Kind

RPM_STEP = 25 / 60  # turns a second: a cab display shows no better


def rpm(value: float) -> Amount:
    """A rotational speed."""
    return at(value, Kind.ROTATION, "rpm")


def engine(given: Given) -> Answer:
    """C10."""
    gear = PtoGear("", given.number("engine-rated"), given.number("pto-rated"))
    wanted = speed.engine_speed(gear, given.number("pto"))
    mark = round(wanted / RPM_STEP) * RPM_STEP
    results = (
        Result("engine", msg("engine speed"), wanted, Kind.ROTATION, "rpm"),
        Result("mark", msg("to the next 25 rpm"), mark, Kind.ROTATION, "rpm"),
    )
    working = (
        msg(
            "engine = {engine} · {pto} / {rated}.",
            engine=rpm(gear.engine),
            pto=rpm(given.number("pto")),
            rated=rpm(gear.pto),
        ),
    )
    return Answer(msg("Engine at {speed}.", speed=rpm(wanted)), results, None, working)


def rotor(given: Given) -> Answer:
    """C10."""
    pto, ratio, circle = given.estimate("pto"), given.number("ratio"), given.number("circle")
    turns = spread(lambda n: speed.rotor_speed(n, ratio), pto)
    tip = spread(lambda n: speed.tip_speed(speed.rotor_speed(n, ratio), circle), pto)
    results = [
        found("rotor", msg("rotor speed"), turns, given, Kind.ROTATION, "rpm"),
        found("tip", msg("speed of the tine tips"), tip, given, Kind.SPEED, "m/s"),
    ]
    working = [
        msg("rotor = {pto} / {ratio}.", pto=rpm(pto.value), ratio=number(ratio)),
        msg("tip = π · {circle} · {rotor}.", circle=metres(circle), rotor=rpm(turns.value)),
    ]
    if given.has("forward") and given.has("arms"):
        forward, arms = given.number("forward"), given.count("arms")
        travel = speed.travel_per_arm(forward, turns.value, arms)
        results.append(
            found("travel", msg("travel from one arm to the next"), travel, given, Kind.LENGTH, "mm")
        )
        ratio_tip = speed.tip_to_forward(tip.value, forward)
        results.append(
            Result("tip-to-forward", msg("tip speed over forward speed"), ratio_tip, Kind.NUMBER, "1")
        )
        working.append(msg("travel = v / (arms · rotor), v = {v}.", v=at(forward, Kind.SPEED, "km/h")))
    says = msg("The rotor turns {rotor}.", rotor=rpm(turns.value))
    return Answer(says, tuple(results), None, tuple(working))


def counted(given: Given) -> Answer:
    """C10, turns counted by eye."""
    turns, time = given.estimate("turns"), given.estimate("time")
    pto = speed.pto_from_turns(turns.value, time.value, given.number("ratio"), turns.doubt, time.doubt)
    results = [
        found("pto", msg("PTO speed"), pto, given, Kind.ROTATION, "rpm"),
        Result("rotor", msg("rotor speed"), turns.value / time.value, Kind.ROTATION, "rpm"),
    ]
    says = msg("The PTO turns {pto}.", pto=rpm(pto.value))
    verdict = None
    if given.has("working") and given.has("ceiling") and given.has("gearbox"):
        limits = SpeedLimits(*(given.number(key) for key in ("working", "ceiling", "gearbox")))
        check = speed.check_speed(pto, limits, given.number("tolerance"))
        verdict, says = check.verdict, check.says
    working = (
        msg(
            "PTO = turns / time · ratio = {turns} / {time} · {ratio}; relative doubts add as squares.",
            turns=number(turns.value),
            time=at(time.value, Kind.TIME, "s"),
            ratio=number(given.number("ratio")),
        ),
    )
    return Answer(says, tuple(results), verdict, working)


def gear(given: Given) -> Answer:
    """C10, which PTO gear is in."""
    pto, motor = given.number("pto"), given.number("engine")
    engines, shafts = given.all_read("engine-rated"), given.all_read("pto-rated")
    gears = [
        PtoGear(f"{round(60 * p)} @ {round(60 * e)}", e, p) for e, p in zip(engines, shafts, strict=False)
    ]
    seen = speed.recognise_gear(pto, motor, gears)
    if seen is None:
        says = msg("No gear of this tractor has that ratio: read both speeds again.")
        return Answer(says, (Result("gear", msg("gear"), msg("none")),), Verdict.MEASURE_AGAIN)
    says = msg("Gear {gear} is in (PTO speed at engine speed).", gear=verbatim(seen.name))
    working = (
        msg("PTO over engine, compared with every gear: {pto} / {engine}.", pto=rpm(pto), engine=rpm(motor)),
    )
    return Answer(says, (Result("gear", msg("gear"), verbatim(seen.name)),), None, working)


def pto_row(each: PtoType) -> tuple[Message, ...]:
    """A type of stub in words."""
    splines = (
        msg("{n} involute splines", n=each.splines)
        if each.involute
        else msg("{n} straight splines", n=each.splines)
    )
    size = msg("{size}", size=at(each.diameter, Kind.LENGTH, "mm"))
    return msg("type {n}", n=each.number), size, splines, msg("{speed}", speed=rpm(each.speed))


def pto_types(given: Given) -> Answer:
    """ISO 500-1: the table, one type by its splines, and whether two go together."""
    says = msg("Every PTO turns clockwise, seen from behind the tractor.")
    verdict = None
    chosen: tuple[PtoType, ...] = PTO_TYPES
    if given.has("splines"):
        diameter = given.number("diameter") if given.has("diameter") else None
        chosen = (pto_by_splines(given.count("splines"), diameter),)
        says = msg("The stub is of type {n}.", n=chosen[0].number)
    if given.has("machine") and given.has("splines"):
        wrong = same_stub(pto_type(given.count("machine")), chosen[0])
        verdict = Verdict.STOP if wrong is not None else Verdict.IN_ORDER
        says = wrong or msg("The machine's shaft belongs on this stub.")
    rows = tuple(pto_row(each) for each in chosen)
    return Answer(says, (Result("types", msg("types"), len(rows)),), verdict, (), rows)


def turns(
    key: str, label: Message, default: str = "", *, optional: bool = False, instrument: str = ""
) -> Input:
    """An input that is a rotational speed."""
    return amount(key, label, Kind.ROTATION, "rpm", default, optional=optional, instrument=instrument)


SUMS = (
    Sum(
        "engine-speed",
        msg("engine speed for a PTO speed"),
        msg("In one PTO gear of this tractor."),
        (
            turns("pto", msg("PTO speed wanted")),
            turns("engine-rated", msg("engine speed at which this gear has its rated speed")),
            turns("pto-rated", msg("rated PTO speed of this gear"), "540 rpm"),
        ),
        engine,
        {"pto": "450rpm", "engine-rated": "1938rpm", "pto-rated": "540rpm"},
        msg("A fixed gear; speeds above zero."),
        msg("Ratio of a fixed gear."),
    ),
    Sum(
        "rotor-speed",
        msg("rotor speed, tip speed, travel from arm to arm"),
        msg("From the PTO speed and the machine's ratio."),
        (
            turns("pto", msg("PTO speed"), instrument="tacho"),
            plain("ratio", msg("PTO turns per rotor turn")),
            length("circle", msg("diameter of the tip circle"), unit="m"),
            amount("forward", msg("forward speed"), Kind.SPEED, "km/h", optional=True),
            count("arms", msg("arms of one rotor"), optional=True),
        ),
        rotor,
        {"pto": "450rpm", "ratio": "8.06", "circle": "3.5m", "forward": "10km/h", "arms": "12"},
        msg("Values above zero."),
        msg("Ratio of a fixed gear; geometry."),
    ),
    Sum(
        "pto-by-count",
        msg("PTO speed from rotor turns counted by eye"),
        msg("Counted from a safe distance; 60 s tell three times as much as 20 s."),
        (
            amount("turns", msg("rotor turns counted"), Kind.NUMBER, "", instrument="counted-turns"),
            amount("time", msg("time in which they were counted"), Kind.TIME, "s"),
            plain("ratio", msg("PTO turns per rotor turn")),
            turns("working", msg("recommended working speed"), optional=True),
            turns("ceiling", msg("highest speed for raking"), optional=True),
            turns("gearbox", msg("rating of the gearbox"), optional=True),
            amount("tolerance", msg("departure from the working speed that may stay"), Kind.RATIO, "%", "5%"),
        ),
        counted,
        {"turns": "19", "time": "20s", "ratio": "8.06"},
        msg("A count, a time and a ratio above zero."),
        msg("JCGM 100:2008, 5.1.6; decision by JCGM 106:2012, 8.3."),
    ),
    Sum(
        "pto-gear",
        msg("which PTO gear is in"),
        msg("From PTO and engine speed taken together."),
        (
            turns("pto", msg("PTO speed")),
            turns("engine", msg("engine speed")),
            Input("engine-rated", msg("engine speed of each gear"), Form.LIST, Kind.ROTATION, "rpm"),
            Input(
                "pto-rated", msg("PTO speed of each gear, in the same order"), Form.LIST, Kind.ROTATION, "rpm"
            ),
        ),
        gear,
        {
            "pto": "840rpm",
            "engine": "1680rpm",
            "engine-rated": "1938rpm, 2000rpm",
            "pto-rated": "540rpm, 1000rpm",
        },
        msg("Ratios within 5 % of a gear's own: rule of thumb."),
        msg("Ratio of a fixed gear."),
    ),
    Sum(
        "pto-types",
        msg("PTO shafts: splines and rated speed"),
        msg("The whole table, or the type of one stub, and whether the machine's shaft belongs on it."),
        (
            count("splines", msg("splines counted on the tractor's stub"), optional=True),
            length("diameter", msg("diameter over the splines"), optional=True),
            count("machine", msg("type the machine's shaft is made for"), optional=True),
        ),
        pto_types,
        {"splines": "21", "machine": "1"},
        msg("Types 1 to 4."),
        msg("ISO 500-1:2014 and ISO 500-3:2014 as reprinted."),
    ),
)
