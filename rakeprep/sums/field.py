"""Width, limiter, tine height in the field, work rate, test run."""

from __future__ import annotations

from rakeprep.calculations import demand, field_height, test_run, width
from rakeprep.calculations.decision import near
from rakeprep.calculations.limiter import headland_limiter
from rakeprep.model.verdict import Verdict
from rakeprep.sums.parts import (
    amount,
    at,
    both,
    count,
    found,
    length,
    metres,
    mm,
    number,
    plain,
    several,
    share,
    yes_no,
)
from rakeprep.sums.shape import Answer, Given, Result, Sum
from rakeprep.text import msg
from rakeprep.units import Kind

HA, ACRE = 1e4, 4046.8564224  # m²; NIST SP 811, appendix B, international acre
TONNE = 1000.0


def gauge(given: Given) -> Answer:
    """C23."""
    shown, taped = given.all_read("shown"), given.all_read("taped")
    demand(len(shown) == len(taped), msg("There must be as many measured widths as shown ones."))
    doubt = max((each.doubt for each in given.readings("taped") if each is not None), default=0.0)
    settings = list(zip(shown, taped, strict=True))
    seen = width.width_gauge(settings, doubt, given.number("shift-limit"), given.number("slope-band"))
    results = (
        found("slope", msg("true over shown"), seen.slope, given, Kind.NUMBER, "1"),
        found("offset", msg("true width at zero shown"), seen.line.offset, given, Kind.LENGTH, "m"),
        found("shift", msg("shift the pointer by"), seen.shift, given, Kind.LENGTH, "mm"),
    )
    working = (
        msg("true = offset + slope · shown by least squares; shift = mean of true − shown."),
        *(msg("Shown {s}, taped {t}.", s=metres(s), t=metres(t)) for s, t in settings),
    )
    return Answer(seen.says, results, seen.verdict, working)


def limiter(given: Given) -> Answer:
    """C24."""
    keys = ("moved", "changed", "wanted", "hole")
    moved, changed, wanted, hole = (given.estimate(key) for key in keys)
    seen = headland_limiter(moved, changed, wanted, hole, given.word("at-least") == "yes")
    results = (
        found("ratio", msg("tine over limiter"), seen.ratio, given, Kind.NUMBER, "1"),
        found("move", msg("move it by"), seen.move, given, Kind.LENGTH, "mm"),
        Result("holes", msg("whole holes"), seen.holes),
        found("gives", msg("which gives at the tines"), seen.gives, given, Kind.LENGTH, "mm"),
        found("left", msg("wanted change that is left"), seen.left, given, Kind.LENGTH, "mm"),
    )
    working = (
        msg(
            "ratio = {changed} / {moved}; move = {wanted} / ratio; holes of {hole}.",
            **{key: mm(given.number(key)) for key in ("changed", "moved", "wanted", "hole")},
        ),
    )
    return Answer(seen.says, results, None, working)


def headland(given: Given) -> Answer:
    """C24."""
    clearance, windrow = given.estimate("clearance"), given.number("windrow")
    verdict = width.headland_clearance(clearance, windrow, given.number("spare"))
    room = clearance.value - windrow
    says = {
        Verdict.IN_ORDER: msg("The raised tines clear the windrow."),
        Verdict.MEASURE_AGAIN: msg("Too close to the windrow to tell."),
    }.get(verdict, msg("The raised tines drag through the windrow."))
    results = (found("room", msg("room above the windrow"), room, given, Kind.LENGTH, "mm", "down"),)
    return Answer(says, results, verdict, (msg("Room = clearance − windrow."),))


def centres(given: Given) -> Answer:
    """Widths from the rotor centres."""
    working_width, gap = width.widths_from_centres(given.number("distance"), given.number("circle"))
    results = (
        found("width", msg("working width"), working_width, given, Kind.LENGTH, "m"),
        found("gap", msg("gap between the tine circles"), gap, given, Kind.LENGTH, "m"),
    )
    says = msg("Working width {w}.", w=both(working_width, given, Kind.LENGTH, "m"))
    return Answer(says, results, None, (msg("width = e + D; gap = e − D."),))


def tine_height(given: Given) -> Answer:
    """C30."""
    prints = given.readings("prints")
    doubt = max((each.doubt for each in prints if each is not None), default=0.0)
    sunk = field_height.sink(given.all_read("prints"), doubt)
    height = field_height.field_height(given.estimate("concrete"), sunk)
    results = [
        found("sink", msg("the wheels sink"), sunk, given, Kind.LENGTH, "mm"),
        found("field", msg("tine height in the field"), height, given, Kind.LENGTH, "mm"),
    ]
    verdict = None
    if given.has("wanted"):
        wanted = given.number("wanted")
        set_to = field_height.concrete_height(wanted, sunk)
        results.append(found("set", msg("height to set on concrete"), set_to, given, Kind.LENGTH, "mm"))
        verdict = near(height.value, height.doubt, wanted, given.number("tolerance"))
    says = msg("In the field the tines stand at {h}.", h=both(height.value, given, Kind.LENGTH, "mm"))
    working = (
        msg(
            "field = concrete − sink = {concrete} − {sink}.",
            concrete=mm(given.number("concrete")),
            sink=mm(sunk.value),
        ),
        msg("Fine setting is done on grass: dust or soil on the tips is too low, a combed strip too high."),
    )
    return Answer(says, tuple(results), verdict, working)


# ---------------------------------------------------------------------- work


def work_rate(given: Given) -> Answer:
    """C32."""
    wide, speed, share_used = (given.number(key) for key in ("width", "speed", "efficiency"))
    rate = test_run.work_rate(wide, speed, share_used)
    results = [
        Result("hectares", msg("hectares an hour"), rate * 3600 / HA, Kind.NUMBER, "1"),
        Result("acres", msg("acres an hour"), rate * 3600 / ACRE, Kind.NUMBER, "1"),
    ]
    says = msg(
        "About {ha} ha/h or {ac} ac/h; never a promise.",
        ha=number(rate * 3600 / HA),
        ac=number(rate * 3600 / ACRE),
    )
    working = (
        msg(
            "rate = width · speed · share = {w} · {v} · {e}.",
            w=metres(wide),
            v=at(speed, Kind.SPEED, "km/h"),
            e=share(share_used),
        ),
    )
    return Answer(says, tuple(results), None, working)


def windrow(given: Given) -> Answer:
    """C32."""
    crop = given.number("yield") * TONNE / HA
    line = test_run.windrow(crop, given.number("width"))
    results = [Result("windrow", msg("kilograms in a metre of windrow"), line, Kind.NUMBER, "1")]
    says = msg("{line} kg in a metre of windrow, if the yield is that.", line=number(line))
    working = [
        msg(
            "windrow = yield · width = {y} t/ha · {w}.",
            y=number(given.number("yield")),
            w=metres(given.number("width")),
        )
    ]
    if given.has("throughput"):
        speed = test_run.follow_speed(given.number("throughput") * TONNE / 3600, line)
        results.append(Result("speed", msg("speed at which a baler can follow"), speed, Kind.SPEED, "km/h"))
        working.append(
            msg("speed = throughput / windrow, throughput {t} t/h.", t=number(given.number("throughput")))
        )
    return Answer(says, tuple(results), None, tuple(working))


# ---------------------------------------------------------------------- test run


def heat(given: Given) -> Answer:
    """C26."""
    left, right, ambient = (given.number(key) for key in ("left", "right", "ambient"))
    doubt = max(given.estimate("left").doubt, given.estimate("right").doubt)
    limits = [given.number(key) for key in ("side-limit", "rise-limit", "hottest")]
    seen = test_run.heat(
        left, right, ambient, doubt, side_limit=limits[0], rise_limit=limits[1], hottest=limits[2]
    )
    kind = Kind.TEMPERATURE_DIFFERENCE
    unit = "Δ°F" if given.imperial(Kind.TEMPERATURE) else "K"
    results = (
        Result("left-rise", msg("left above the surroundings"), seen.left_rise, kind, unit),
        Result("right-rise", msg("right above the surroundings"), seen.right_rise, kind, unit),
        Result("difference", msg("left less right"), seen.difference, kind, unit, 2**0.5 * doubt or None),
    )
    working = (
        msg(
            "rise = surface − surroundings; left {left}, right {right}, surroundings {ambient}.",
            left=at(left, Kind.TEMPERATURE, "°C"),
            right=at(right, Kind.TEMPERATURE, "°C"),
            ambient=at(ambient, Kind.TEMPERATURE, "°C"),
        ),
        msg("Same paint, within two minutes of the stop, never bare metal."),
    )
    return Answer(seen.says, results, seen.verdict, working)


def knocks(given: Given) -> Answer:
    """C27."""
    seen = test_run.knocks(
        given.number("count"),
        given.number("time"),
        given.number("rotor"),
        given.number("pto"),
        given.count("arms"),
    )
    results = [
        Result("per-rotor-turn", msg("knocks per rotor turn"), seen.per_rotor_turn, Kind.NUMBER, "1"),
        Result("per-pto-turn", msg("knocks per PTO turn"), seen.per_pto_turn, Kind.NUMBER, "1"),
    ]
    if seen.whole is not None:
        results.append(Result("whole", msg("the whole number that fits"), seen.whole))
    verdict = None if seen.whole is not None else Verdict.MEASURE_AGAIN
    working = (
        msg(
            "knocks per turn = (count / time) / speed = ({n} / {t}) / {rotor}.",
            n=number(given.number("count")),
            t=at(given.number("time"), Kind.TIME, "s"),
            rotor=at(given.number("rotor"), Kind.ROTATION, "rpm"),
        ),
    )
    return Answer(seen.says, tuple(results), verdict, working)


def coast_down(given: Given) -> Answer:
    """C28."""
    left, right = given.estimate("left"), given.estimate("right")
    seen = test_run.coast_down(left.value, right.value, max(left.doubt, right.doubt), given.number("least"))
    results = (found("ratio", msg("shorter over longer"), seen.ratio, given, Kind.NUMBER, "1"),)
    working = (
        msg(
            "ratio = shorter / longer of {left} and {right}; not below {least}.",
            left=at(left.value, Kind.TIME, "s"),
            right=at(right.value, Kind.TIME, "s"),
            least=number(given.number("least")),
        ),
    )
    return Answer(seen.says, results, seen.verdict, working)


RULE = msg("Arithmetic; the limits are rules of thumb.")
SUMS = (
    Sum(
        "width-gauge",
        msg("width gauge against the tape"),
        msg("A steady error is the pointer; a slope off 1 is a wrong hole or a bent rod."),
        (
            several("shown", msg("widths shown by the gauge"), Kind.LENGTH, "m"),
            several("taped", msg("the same widths by tape"), Kind.LENGTH, "m", instrument="width-tape"),
            length("shift-limit", msg("mean error that may stay"), "20 mm"),
            amount("slope-band", msg("departure of the slope from 1 that may stay"), Kind.RATIO, "%", "3%"),
        ),
        gauge,
        {"shown": "6.20m, 7.40m", "taped": "6.26m, 7.42m"},
        msg("Two settings or more, rotors level, widest tines."),
        msg("Least squares; the band of the slope is a rule of thumb."),
    ),
    Sum(
        "headland-limiter",
        msg("holes of the headland limiter"),
        msg("From one trial on this machine."),
        (
            length("moved", msg("how far it was moved in the trial"), instrument="tape"),
            length("changed", msg("what that changed at the tines"), instrument="steel-rule"),
            length("wanted", msg("wanted change at the tines"), instrument="steel-rule"),
            length("hole", msg("distance from one hole to the next")),
            yes_no("at-least", msg("is the wanted height a minimum"), "no"),
        ),
        limiter,
        {"moved": "50mm", "changed": "140mm", "wanted": "60mm", "hole": "20mm"},
        msg("Small moves."),
        msg("Proportion."),
    ),
    Sum(
        "headland-clearance",
        msg("do the raised tines clear the windrow"),
        msg("At the height and speed of work."),
        (
            length("clearance", msg("tines above the ground when raised"), instrument="steel-rule"),
            length("windrow", msg("height of the windrow")),
            length("spare", msg("what must be left above it"), "0 mm"),
        ),
        headland,
        {"clearance": "300mm", "windrow": "380mm"},
        msg("Level ground."),
        msg("JCGM 106:2012, 8.3."),
    ),
    Sum(
        "width-from-centres",
        msg("working width and gap from the rotor centres"),
        msg("For delivery to the middle."),
        (
            length("distance", msg("distance of the rotor centres"), unit="m"),
            length("circle", msg("diameter of the tip circle"), unit="m"),
        ),
        centres,
        {"distance": "3.70m", "circle": "3.50m"},
        msg("Lengths above zero."),
        msg("Geometry."),
    ),
    Sum(
        "field-height",
        msg("tine height in the field for a height on concrete"),
        msg("Less by what the wheels sink in, measured at several prints."),
        (
            length("concrete", msg("tine height on concrete"), instrument="steel-rule"),
            several("prints", msg("depth of wheel prints"), Kind.LENGTH, "mm", instrument="steel-rule"),
            length("wanted", msg("tine height wanted in the field"), optional=True),
            length("tolerance", msg("departure that may stay"), "5 mm"),
        ),
        tine_height,
        {"concrete": "20mm", "prints": "11mm,12mm,13mm"},
        msg("Prints of this machine on this ground."),
        msg("JCGM 100:2008, 4.2.3 and equation 10."),
    ),
    Sum(
        "work-rate",
        msg("area worked in an hour"),
        msg("For planning; never a promise."),
        (
            length("width", msg("working width"), unit="m"),
            amount("speed", msg("forward speed"), Kind.SPEED, "km/h"),
            amount("efficiency", msg("share of time and width really used"), Kind.RATIO, "%", "80%"),
        ),
        work_rate,
        {"width": "7.0m", "speed": "10km/h", "efficiency": "80%"},
        msg("Share above 0 up to 100 %."),
        msg("Iowa State University Extension A3-24."),
    ),
    Sum(
        "windrow",
        msg("crop in a metre of windrow, and the speed to follow"),
        msg("If the yield is what is thought."),
        (
            plain("yield", msg("crop on the ground in tonnes a hectare")),
            length("width", msg("width raked into this windrow"), unit="m"),
            amount(
                "throughput",
                msg("throughput of the baler in tonnes an hour"),
                Kind.NUMBER,
                "",
                optional=True,
            ),
        ),
        windrow,
        {"yield": "3.5", "width": "7.2m", "throughput": "15"},
        msg("Values above zero."),
        msg("Arithmetic."),
    ),
    Sum(
        "heat",
        msg("heat of two like parts after the run"),
        msg("Rise over the surroundings and difference of the sides."),
        (
            amount("left", msg("surface of the left part"), Kind.TEMPERATURE, "°C", instrument="infrared"),
            amount("right", msg("surface of the right part"), Kind.TEMPERATURE, "°C", instrument="infrared"),
            amount("ambient", msg("surroundings"), Kind.TEMPERATURE, "°C"),
            amount("side-limit", msg("difference that may stay"), Kind.TEMPERATURE_DIFFERENCE, "K", "15 K"),
            amount("rise-limit", msg("rise that may stay"), Kind.TEMPERATURE_DIFFERENCE, "K", "50 K"),
            amount("hottest", msg("highest surface temperature"), Kind.TEMPERATURE, "°C", "80 °C"),
        ),
        heat,
        {"left": "62°C", "right": "41°C", "ambient": "24°C"},
        msg("Paint, not bare metal."),
        RULE,
    ),
    Sum(
        "knocks",
        msg("which part knocks, from how often"),
        msg("Once or every arm per rotor turn, once or twice per PTO turn."),
        (
            plain("count", msg("knocks heard")),
            amount("time", msg("in which time"), Kind.TIME, "s"),
            amount("rotor", msg("rotor speed"), Kind.ROTATION, "rpm"),
            amount("pto", msg("PTO speed"), Kind.ROTATION, "rpm"),
            count("arms", msg("arms of one rotor"), "12"),
        ),
        knocks,
        {"count": "9", "time": "10s", "rotor": "55.8rpm", "pto": "450rpm", "arms": "12"},
        msg("Counted from a safe distance at a steady speed."),
        msg("Arithmetic; causes are common workshop practice."),
    ),
    Sum(
        "coast-down",
        msg("how long both rotors run on"),
        msg("From the same speed; much shorter on one side is drag."),
        (
            amount("left", msg("until the left rotor stands still"), Kind.TIME, "s", instrument="stopwatch"),
            amount(
                "right", msg("until the right rotor stands still"), Kind.TIME, "s", instrument="stopwatch"
            ),
            plain("least", msg("smallest ratio that may stay"), "0.7"),
        ),
        coast_down,
        {"left": "6.0s", "right": "2.5s"},
        msg("The same speed for both."),
        RULE,
    ),
)
