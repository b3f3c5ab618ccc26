"""Stickers for cab and machine: only what was entered and is in order; the others are named with a reason."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import partial

from rakeprep.calculations import Impossible
from rakeprep.calculations.speed import PtoGear, engine_speed
from rakeprep.handover.blank_forms import margins
from rakeprep.handover.customer_page import ENGINE_STEP
from rakeprep.handover.form_blocks import Sticker, Stickers
from rakeprep.handover.paper import Paper
from rakeprep.handover.permitted import exact
from rakeprep.handover.places import runs
from rakeprep.handover.visits import follow_ups
from rakeprep.model.entry import Entry, Slot
from rakeprep.model.facts import Facts
from rakeprep.model.profile import TyreSet
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Amount, Kind

TO_A_CENTIMETRE, TO_AN_INCH = Fraction(1, 100), Fraction(1)  # of metres, and of feet and inches
SIDES = ("left", "right")
MOST_VISITS = 4


class LeftOut(Exception):
    """Why there is no such sticker."""

    def __init__(self, why: Message) -> None:
        super().__init__(str(why))
        self.why = why


def stickers(paper: Paper) -> Stickers:
    """All stickers that can be vouched for, and why others are not there."""
    made: list[Sticker] = []
    absent: list[tuple[str, str]] = []
    for title, make in kinds(paper):
        try:
            made.append(finished(paper, make(paper, title)))
        except LeftOut as reason:
            absent.append((paper.say(title), paper.say(reason.why)))
    return Stickers(
        margins(paper, msg("Stickers")),
        paper.say(msg("Stickers for cab and machine")),
        paper.say(
            msg(
                "Cut along the dashed lines. Every value comes from the record of job {job} as it stood on "
                "{day}; when something is changed on the machine, make new ones.",
                job=paper.record.opening.job,
                day=paper.printed_at.date(),
            )
        ),
        tuple(made),
        paper.say(msg("Not on this sheet, and why")),
        tuple(absent),
    )


def finished(paper: Paper, sticker: Sticker) -> Sticker:
    """A sticker that says which job it belongs to, and whether the data are invented."""
    job = msg("job {job} · {day}", job=paper.record.opening.job, day=paper.printed_at.date())
    said = [msg("Invented sample data"), job] if paper.invented else [job]
    return replace(sticker, origin=paper.say(joined(said, " · ")))


def kinds(paper: Paper) -> Iterator[tuple[Message, Callable[[Paper, Message], Sticker]]]:
    """Every kind of sticker with its maker, those for the cab first."""
    yield msg("Engine speed for raking"), engine
    yield msg("On the road"), on_the_road
    yield msg("Tine tips above firm ground"), tines
    yield msg("Working width"), working_width
    for tyre in paper.profile.tyre:
        yield msg("Tyre pressure, cold: {size}", size=tyre.size), partial(pressure, tyre=tyre)
    yield msg("Shaft fitted to one tractor"), shaft
    yield msg("What comes next"), visits


# ---------------------------------------------------------------------------------- what may be used


def in_order(paper: Paper, step: str, field: str, place: str = "") -> Entry:
    """The entry at an address that is in order; raises ``LeftOut``."""
    slot = Slot(step, field, place)
    state, entry = paper.assessment.states.get(slot), paper.record.value(slot)
    if state is None:
        raise LeftOut(msg("this is not asked in this chapter of the job"))
    if entry is None or state.verdict is not Verdict.IN_ORDER:
        raise LeftOut(state.trouble or msg("{field}: not entered yet.", field=state.task.field.label))
    return entry


def reading(entry: Entry) -> Fraction:
    """The exact value of an entry; raises ``LeftOut``."""
    if entry.exact is None:
        raise LeftOut(msg("{field}: no number.", field=str(entry.slot)))
    return entry.exact


def data(paper: Paper, value: Sourced) -> Fraction:
    """A value of machine data; raises ``LeftOut`` while its two printed values are in conflict."""
    facts = Facts(paper.profile, paper.tractor, paper.record, "settings", paper.printed_at.date())
    found = exact(facts, value)
    if found is None:
        raise LeftOut(msg("two printed values that disagree"))
    return found


def printed(paper: Paper, value: Sourced, toward: str = "nearest") -> tuple[str, str]:
    """A value of machine data in both unit families."""
    return paper.both(data(paper, value), value.typed.kind, value.typed.unit, toward)


def lines(*several: str) -> tuple[str, ...]:
    """Those that say something."""
    return tuple(line for line in several if line)


# ---------------------------------------------------------------------------------------- the stickers


def engine(paper: Paper, title: Message) -> Sticker:
    """Engine speed for the PTO in the gear that was seen to be in, and the one never to pass."""
    chosen = in_order(paper, "settings", "pto_gear").chosen
    gear = next((g for g in paper.tractor.pto if g.key in chosen), None)
    if gear is None:
        raise LeftOut(msg("the tractor's data have no such PTO gear"))
    setting = paper.profile.settings
    try:
        at = PtoGear(gear.key, float(data(paper, gear.engine)), float(data(paper, gear.speed)))
        wanted, most = (float(data(paper, s)) for s in (setting.working_speed, setting.speed_ceiling))
        low, high = engine_speed(at, wanted), engine_speed(at, most)
    except Impossible as reason:
        raise LeftOut(reason.message) from reason

    def rpm(value: float, toward: str = "nearest", step: Fraction | None = None) -> str:
        return paper.shown(Amount(value, Kind.ROTATION, "rpm", step=step, toward=toward))

    pto = msg("= PTO {speed}", speed=rpm(wanted))
    never = msg(
        "never above {speed} (PTO {pto})", speed=rpm(high, "down", ENGINE_STEP), pto=rpm(most, "down")
    )
    where = msg("PTO gear {gear} · {tractor}", gear=gear.key, tractor=paper.tractor.name)
    return Sticker(
        paper.say(title),
        (rpm(low, step=ENGINE_STEP),),
        (paper.say(pto), paper.say(never)),
        (paper.say(where),),
    )


def on_the_road(paper: Paper, title: Message) -> Sticker:
    """Width and height as measured, rounded up; the limits of the road, rounded down."""
    sizes = []
    for field, limit in (
        ("transport_width", paper.profile.width.road_width),
        ("transport_height", paper.profile.width.road_height),
    ):
        value, most = reading(in_order(paper, "width", field)), data(paper, limit)
        sizes.append((*high_up(paper, value), *low_down(paper, most)))
    (w, w_feet, w_most, w_most_feet), (h, h_feet, h_most, h_most_feet) = sizes
    limits = msg(
        "limit by the machine data: {width} ({width_feet}) wide, {height} ({height_feet}) high",
        width=w_most,
        width_feet=w_most_feet,
        height=h_most,
        height_feet=h_most_feet,
    )
    return Sticker(
        paper.say(title),
        (paper.say(msg("{size} wide", size=w)), paper.say(msg("{size} high", size=h))),
        (paper.say(msg("{width} wide, {height} high", width=w_feet, height=h_feet)),),
        (paper.say(limits),),
    )


def high_up(paper: Paper, value: Fraction) -> tuple[str, str]:
    """A size in metres and in feet, rounded up: no gap is smaller than it says."""
    return in_metres_and_feet(paper, value, "up")


def low_down(paper: Paper, value: Fraction) -> tuple[str, str]:
    """A limit in metres and in feet, rounded down."""
    return in_metres_and_feet(paper, value, "down")


def in_metres_and_feet(paper: Paper, value: Fraction, toward: str) -> tuple[str, str]:
    """A length to a centimetre and to an inch."""
    metres = Amount(value, Kind.LENGTH, "m", step=TO_A_CENTIMETRE, toward=toward)
    feet = Amount(value, Kind.LENGTH, "ft in", step=TO_AN_INCH, toward=toward)
    return paper.shown(metres), paper.shown(feet)


def tines(paper: Paper, title: Message) -> Sticker:
    """Height of the lowest tine tips in the field, once both rotors were set."""
    read = [in_order(paper, "settings", "tine_concrete", side) for side in SIDES]
    setting = paper.profile.settings
    own, other = printed(paper, setting.tine_clearance, "up")
    band, _ = printed(paper, setting.clearance_tolerance, "down")
    left, right = (paper.both(reading(e), Kind.LENGTH, e.unit or "mm")[0] for e in read)
    on_concrete = msg("set on concrete: left {left}, right {right}", left=left, right=right)
    return Sticker(
        paper.say(title),
        (own,),
        lines(other),
        (paper.say(msg("± {tolerance} is right", tolerance=band)), paper.say(on_concrete)),
    )


def working_width(paper: Paper, title: Message) -> Sticker:
    """Smallest and largest working width by tape."""
    low, high = (reading(in_order(paper, "width", "working", end)) for end in ("narrow", "wide"))
    near, far = (
        tuple(paper.shown(Amount(v, Kind.LENGTH, unit, step=step)) for v in (low, high))
        for unit, step in (("m", TO_A_CENTIMETRE), ("ft in", TO_AN_INCH))
    )
    return Sticker(
        paper.say(title),
        (paper.say(msg("{low} to {high}", low=near[0], high=near[1])),),
        (paper.say(msg("{low} to {high}", low=far[0], high=far[1])),),
        (paper.say(msg("measured by tape, outer tine tip to outer tine tip")),),
    )


def pressure(paper: Paper, title: Message, tyre: TyreSet) -> Sticker:
    """The pressure of one group of wheels, once all of them were set to it."""
    wheels = [wheel.key for wheel in paper.profile.wheel if wheel.tyre == tyre.key]
    if not wheels:
        raise LeftOut(msg("no wheel has this tyre"))
    for wheel in wheels:
        in_order(paper, "tyres", "pressure_set", wheel)
    own, other = printed(paper, tyre.pressure)
    band, other_band = printed(paper, tyre.tolerance, "down")
    right = msg("± {tolerance} is right", tolerance=f"{band} ({other_band})" if other_band else band)
    where = msg("wheels {codes}", codes=", ".join(runs(wheels)))
    return Sticker(paper.say(title), (own,), lines(other), (paper.say(right), paper.say(where)))


def shaft(paper: Paper, title: Message) -> Sticker:
    """For which tractor the driveline was cut, how long it is now, and since when."""
    if "yes" not in in_order(paper, "driveline", "customers_tractor").chosen:
        raise LeftOut(msg("the shaft was not fitted to the customer's tractor"))
    cut, closed = (in_order(paper, "driveline", field) for field in ("cut", "closed"))
    length = reading(closed) - reading(cut)
    own, other = paper.both(length, Kind.LENGTH, closed.unit or "mm")
    long = verbatim(f"{own} ({other})") if other else verbatim(own)
    off, _ = paper.both(reading(cut), Kind.LENGTH, cut.unit or "mm")
    return Sticker(
        paper.say(title),
        (paper.user(paper.tractor.name),),
        (paper.say(msg("closed length {length}", length=long)),),
        (
            paper.say(msg("do not use on another tractor without measuring")),
            paper.say(
                msg("{cut} cut off each tube · {day} · {who}", cut=off, day=cut.at.date(), who=cut.who)
            ),
        ),
    )


def visits(paper: Paper, title: Message) -> Sticker:
    """When somebody has to look at the machine again."""
    in_order(paper, "handover", "start_date")
    found = [visit for visit in follow_ups(paper) if visit.day is not None][:MOST_VISITS]
    if not found:
        raise LeftOut(msg("no days can be worked out"))
    rows = tuple(
        paper.say(msg("{hours} h · about {day}", hours=visit.hours, day=visit.day)) for visit in found
    )
    return Sticker(
        paper.say(title), (), rows, (paper.say(msg("the hours of work decide; the days are an estimate")),)
    )
