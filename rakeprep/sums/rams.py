"""Rams: times, flow, pressure, force, leak; and what odd times point to."""

from __future__ import annotations

from rakeprep.calculations import hydraulic_faults as faults
from rakeprep.calculations import hydraulics
from rakeprep.calculations.hydraulics import Ram
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import amount, at, both, count, found, length, mm, number, plain, several
from rakeprep.sums.shape import Answer, Given, Input, Result, Sum
from rakeprep.sums.working import spread
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

GRAVITY, MINUTE = 9.80665, 60.0


def ram_of(given: Given) -> Ram:
    """The ram of a sum."""
    rod = given.number("rod") if given.has("rod") else 0.0
    return Ram(given.number("bore"), given.number("stroke"), rod, given.count("rams"))


def seconds(value: float) -> Amount:
    """A time."""
    return at(value, Kind.TIME, "s")


def volume_line(given: Given, ram: Ram) -> Message:
    """How the volume comes about."""
    out, back = hydraulics.volumes(ram)
    return msg(
        "V = {count} · π/4 · bore² · stroke = {out} out; the ring round the rod {back} back.",
        count=ram.count,
        out=at(out, Kind.VOLUME, "L"),
        back=at(back, Kind.VOLUME, "L"),
    )


def times(given: Given) -> Answer:
    """C18."""
    ram, flow = ram_of(given), given.number("flow")
    each = hydraulics.times(ram, flow)
    out, back = hydraulics.volumes(ram)
    results = (
        Result("out", msg("time out"), each.out, Kind.TIME, "s"),
        Result("back", msg("time back"), each.back, Kind.TIME, "s"),
        Result("ratio", msg("out over back, whatever the flow"), each.ratio, Kind.NUMBER, "1"),
        found("volume-out", msg("oil out"), out, given, Kind.VOLUME, "L"),
        found("volume-back", msg("oil back"), back, given, Kind.VOLUME, "L"),
    )
    says = msg("Out {out}, back {back}.", out=seconds(each.out), back=seconds(each.back))
    working = (volume_line(given, ram), msg("t = V / Q, Q = {flow}.", flow=at(flow, Kind.FLOW, "L/min")))
    return Answer(says, results, None, working)


def real_flow(given: Given) -> Answer:
    """C18."""
    ram = ram_of(given)
    flow = spread(lambda t: hydraulics.real_flow(ram, t), given.estimate("time"))
    results = (found("flow", msg("flow that really arrives"), flow, given, Kind.FLOW, "L/min"),)
    says = msg("About {flow} arrive.", flow=both(flow.value, given, Kind.FLOW, "L/min"))
    return Answer(
        says,
        results,
        None,
        (volume_line(given, ram), msg("Q = V / t, t = {t}.", t=seconds(given.number("time")))),
    )


def rod_speed(given: Given) -> Answer:
    """C18."""
    full, ring = hydraulics.areas(given.number("bore"), given.number("rod"))
    rams, flow = given.count("rams"), given.number("flow")
    out = hydraulics.rod_speed(full * rams, flow)
    back = hydraulics.rod_speed(ring * rams, flow)
    results = (
        Result("out", msg("rod speed out"), out, Kind.SPEED, "m/s"),
        Result("back", msg("rod speed back"), back, Kind.SPEED, "m/s"),
    )
    says = msg("Out {v}.", v=at(out, Kind.SPEED, "m/s"))
    return Answer(says, results, None, (msg("v = Q / A, A = {a}.", a=at(full * rams, Kind.AREA, "mm²")),))


def force(given: Given) -> Answer:
    """C18."""
    full, ring = hydraulics.areas(given.number("bore"), given.number("rod"))
    pressure, efficiency = given.estimate("pressure"), given.number("efficiency")
    push = spread(lambda p: hydraulics.force(p, full, efficiency), pressure)
    pull = spread(lambda p: hydraulics.force(p, ring, efficiency), pressure)
    results = (
        found("push", msg("pushes with"), push, given, Kind.FORCE, "kN", "up"),
        found("pull", msg("pulls with"), pull, given, Kind.FORCE, "kN", "up"),
    )
    says = msg(
        "Nobody stands where {push} can move something.", push=both(push.value, given, Kind.FORCE, "kN", "up")
    )
    working = (
        msg(
            "F = p · A · efficiency = {p} · {a} · {e}.",
            p=at(pressure.value, Kind.PRESSURE, "bar"),
            a=at(full, Kind.AREA, "mm²"),
            e=number(efficiency),
        ),
    )
    return Answer(says, results, None, working)


def holding(given: Given) -> Answer:
    """C18, the pressure that holds a load, and a latch that is still in."""
    full, _ = hydraulics.areas(given.number("bore"))
    rams, lever = given.count("rams"), given.number("lever")
    load = given.number("load") * GRAVITY
    pressure = hydraulics.pressure_for(load, full * rams, lever, given.number("efficiency"))
    results = [found("pressure", msg("pressure that holds it"), pressure, given, Kind.PRESSURE, "bar")]
    verdict, says = None, msg("It takes {p}.", p=both(pressure, given, Kind.PRESSURE, "bar"))
    working = [
        msg(
            "p = F · lever / A = {force} · {lever} / {area}.",
            force=at(load, Kind.FORCE, "kN"),
            lever=number(lever),
            area=at(full * rams, Kind.AREA, "mm²"),
        )
    ]
    if given.has("gauge"):
        suspicion = faults.latched(given.estimate("gauge"), pressure)
        verdict = Verdict.STOP if suspicion else Verdict.IN_ORDER
        if suspicion is not None:
            says = suspicion.says
            working.append(suspicion.next_test)
    return Answer(says, tuple(results), verdict, tuple(working))


def leak(given: Given) -> Answer:
    """C18."""
    bore, rams = given.number("bore"), given.count("rams")
    creep, minutes = given.estimate("creep"), given.number("time")
    lost = hydraulics.leak(bore, creep.value, minutes, rams) * MINUTE
    doubt = hydraulics.leak(bore, creep.doubt, minutes, rams) * MINUTE  # straight in the creep
    results = (Result("leak", msg("oil that gets away in a minute"), lost, Kind.VOLUME, "mL", doubt or None),)
    shut = given.estimate("creep-shut") if given.has("creep-shut") else None
    says = faults.sinking(creep, shut) or msg("Nothing sinks beyond the doubt of the reading.")
    working = (
        msg(
            "q = A · creep / time, creep = {creep}, time = {time}.",
            creep=mm(given.number("creep")),
            time=at(given.number("time"), Kind.DURATION, "min"),
        ),
        msg("From the side, with nobody within reach of the rotor."),
    )
    return Answer(says, results, None, working)


def lowering(given: Given) -> Answer:
    """How quickly a rotor comes down."""
    time = given.estimate("time")
    verdict = hydraulics.lowering(time.value, time.doubt, given.number("least"))
    says = {
        Verdict.IN_ORDER: msg("It comes down slowly enough."),
        Verdict.MEASURE_AGAIN: msg("The time is too close to the quickest allowed to tell."),
    }.get(verdict, msg("It comes down too quickly: a danger, not a convenience. Close the throttle."))
    return Answer(
        says, (Result("time", msg("time down"), time.value, Kind.TIME, "s", time.doubt or None),), verdict
    )


def stroke_faults(given: Given) -> Answer:
    """C18, a double-acting function."""
    expected = hydraulics.times(ram_of(given), given.number("flow"))
    out, back = runs(given, "out"), runs(given, "back")
    found_out = faults.diagnose(expected, out, back, band=given.number("band"))
    return diagnosed(found_out, expected.out, expected.back)


def runs(given: Given, key: str) -> list[float]:
    """Measured runs; none at all says that nothing moved."""
    return given.all_read(key) if given.has(key) else []


def lift_faults(given: Given) -> Answer:
    """C18, a single-acting lift."""
    expected = hydraulics.times(ram_of(given), given.number("flow")).out
    found_out = faults.diagnose_lift(
        expected, runs(given, "up"), runs(given, "down"), band=given.number("band")
    )
    return diagnosed(found_out, expected, None)


def diagnosed(seen: faults.Diagnosis, out: float, back: float | None) -> Answer:
    """Means and suspicions in the order of their likelihood."""
    results = [Result("expected-out", msg("expected out"), out, Kind.TIME, "s")]
    if back is not None:
        results.append(Result("expected-back", msg("expected back"), back, Kind.TIME, "s"))
    for key, label, mean in (("out", msg("mean out"), seen.out), ("back", msg("mean back"), seen.back)):
        if mean is not None:
            results.append(Result(key, label, mean.value, Kind.TIME, "s", mean.doubt))
    if seen.ratio is not None:
        results.append(Result("ratio", msg("out over back"), seen.ratio, Kind.NUMBER, "1"))
    rows = tuple((each.says, each.next_test) for each in seen.suspicions)
    says = seen.suspicions[0].says if rows else msg("The times are as they should be.")
    working = (
        msg("Every cause has its own pattern of measured over expected times; the nearest comes first."),
    )
    return Answer(says, tuple(results), seen.verdict, working, rows)


def diameters(*, rod: bool) -> tuple[Input, ...]:
    """Inputs that describe a ram."""
    inputs = [length("bore", msg("bore")), length("stroke", msg("stroke"))]
    if rod:
        inputs.append(length("rod", msg("rod, 0 for a single-acting ram"), "0 mm"))
    return (*inputs, count("rams", msg("rams that move in parallel"), "1"))


def flow_in(label: Message) -> Input:
    """A flow."""
    return amount("flow", label, Kind.FLOW, "L/min")


BAND = amount("band", msg("departure from the expected time that may stay"), Kind.RATIO, "%", "20%")
EFFICIENCY = plain("efficiency", msg("share left after seal friction, 1 for holding still"), "1")
GEOMETRY = msg("Geometry; no losses, no throttle.")
PRACTICE = msg("Arithmetic; the bands are common workshop practice, no published source.")
SUMS = (
    Sum(
        "stroke-times",
        msg("time of a ram's stroke each way"),
        msg("The ratio of both tells crossed hoses from a low flow."),
        (*diameters(rod=True), flow_in(msg("flow set at the tractor"))),
        times,
        {"bore": "60mm", "rod": "35mm", "stroke": "500mm", "rams": "2", "flow": "30L/min"},
        msg("No losses, no throttle, rams in parallel."),
        GEOMETRY,
    ),
    Sum(
        "real-flow",
        msg("flow that really arrives, from a measured time"),
        msg("Of a full stroke out."),
        (
            *diameters(rod=False),
            amount("time", msg("measured time of a full stroke out"), Kind.TIME, "s", instrument="stopwatch"),
        ),
        real_flow,
        {"bore": "80mm", "stroke": "600mm", "rams": "2", "time": "14.2s"},
        msg("A full stroke."),
        GEOMETRY,
    ),
    Sum(
        "rod-speed",
        msg("speed of a rod"),
        msg("Out and back at a flow."),
        (
            length("bore", msg("bore")),
            length("rod", msg("rod"), "0 mm"),
            count("rams", msg("rams in parallel"), "1"),
            flow_in(msg("flow")),
        ),
        rod_speed,
        {"bore": "100mm", "flow": "40L/min"},
        msg("No losses."),
        GEOMETRY,
    ),
    Sum(
        "ram-force",
        msg("force of a ram"),
        msg("Why nobody stands there."),
        (
            length("bore", msg("bore")),
            length("rod", msg("rod"), "0 mm"),
            amount("pressure", msg("pressure"), Kind.PRESSURE, "bar", instrument="hydraulic-gauge"),
            EFFICIENCY,
        ),
        force,
        {"bore": "80mm", "pressure": "200bar"},
        msg("Pressure above that on the other side."),
        msg("Pascal's law."),
    ),
    Sum(
        "holding-pressure",
        msg("pressure that holds or lifts a load"),
        msg("A gauge far above it says that a latch is still in, or something is bent."),
        (
            amount("load", msg("mass on the long arm of the lever"), Kind.MASS, "kg"),
            length("bore", msg("bore")),
            plain("lever", msg("load arm over ram arm, worst place of the stroke"), "1"),
            count("rams", msg("rams in parallel"), "1"),
            EFFICIENCY,
            amount(
                "gauge",
                msg("pressure read while lifting"),
                Kind.PRESSURE,
                "bar",
                optional=True,
                instrument="hydraulic-gauge",
            ),
        ),
        holding,
        {"load": "750kg", "bore": "80mm", "lever": "2.2", "gauge": "90bar"},
        msg("At rest; one lever."),
        msg("Pascal's law and the law of the lever; 1.5 times as limit is a rule of thumb."),
    ),
    Sum(
        "ram-leak",
        msg("what a ram that sinks is losing, and where"),
        msg("Creep with the stop tap open and, if read, shut; measured from the side."),
        (
            length("bore", msg("bore")),
            length("creep", msg("how far the rod went"), instrument="tape"),
            amount("time", msg("in which time"), Kind.DURATION, "min"),
            count("rams", msg("rams that sank together"), "1"),
            length("creep-shut", msg("the same with the tap shut"), optional=True, instrument="tape"),
        ),
        leak,
        {"bore": "80mm", "creep": "5mm", "time": "10min", "creep-shut": "0mm"},
        msg("The same time for both."),
        PRACTICE,
    ),
    Sum(
        "lowering-time",
        msg("does a rotor come down slowly enough"),
        msg("From full height to the ground."),
        (
            amount("time", msg("measured time"), Kind.TIME, "s", instrument="stopwatch"),
            amount("least", msg("quickest time allowed"), Kind.TIME, "s", "2 s"),
        ),
        lowering,
        {"time": "1.6s"},
        msg("Warm oil, working throttle."),
        PRACTICE,
    ),
    Sum(
        "stroke-faults",
        msg("what odd times of a double-acting function point to"),
        msg("Likeliest first, each with the next test; leave out a way in which nothing moved."),
        (
            *diameters(rod=True),
            flow_in(msg("flow set at the tractor")),
            several("out", msg("measured runs out"), Kind.TIME, "s", optional=True),
            several("back", msg("measured runs back"), Kind.TIME, "s", optional=True),
            BAND,
        ),
        stroke_faults,
        {
            "bore": "60mm",
            "rod": "35mm",
            "stroke": "500mm",
            "rams": "2",
            "flow": "30L/min",
            "out": "3.7s,3.8s,3.7s",
            "back": "5.7s,5.6s,5.7s",
        },
        msg("Full strokes, warm oil, one function at a time."),
        PRACTICE,
    ),
    Sum(
        "lift-faults",
        msg("what odd times of a single-acting lift point to"),
        msg("Likeliest first, each with the next test; leave out a way in which nothing moved."),
        (
            *diameters(rod=False),
            flow_in(msg("flow set at the tractor")),
            several("up", msg("measured runs up"), Kind.TIME, "s", optional=True),
            several("down", msg("measured runs down"), Kind.TIME, "s", optional=True),
            BAND,
        ),
        lift_faults,
        {"bore": "80mm", "stroke": "600mm", "rams": "2", "flow": "40L/min", "up": "9.1s,9.0s,8.9s"},
        msg("Full strokes, warm oil."),
        PRACTICE,
    ),
)
