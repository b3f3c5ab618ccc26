"""The PTO speed as it was: three limits kept apart, and the sentence says which one speaks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rakeprep.calculations import Impossible, demand
from rakeprep.calculations.decision import Estimate, agree
from rakeprep.calculations.speed import (
    SpeedCheck,
    SpeedLimits,
    check_speed,
    pto_from_turns,
    recognise_gear,
    rotor_speed,
    tip_speed,
    wrong_gear,
)
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Use
from rakeprep.model.finding import Finding
from rakeprep.model.source import Sourced
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import whole
from rakeprep.steps._reading import LARGEST, cannot_tell, doubt_of, reading, shown
from rakeprep.steps._settings_plan import as_gear, chosen_gear, largest_circle, rpm
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

NO_RUN = frozenset({Use.PTO, Use.FIELD})
BAND = 0.05  # of the working speed, rule of thumb
SLOWEST = 1e-3  # 1/s and s; less is no reading of a shaft or a watch


@dataclass(frozen=True, slots=True)
class Words:
    """The sentences of one limit; ``unsure`` where the reading is too close to it."""

    wrong: Message
    unsure: Message
    todo: Message


WORDS = {
    "gearbox": Words(
        msg("PTO {read}: the gearbox's rating speaks, {limit}. Tine tips {tips}."),
        msg("PTO {read}: too close to the gearbox's rating of {limit} to tell."),
        msg("Stop at once: PTO off, engine off, key out. Wrong PTO gear, or far too much engine speed."),
    ),
    "ceiling": Words(
        msg("PTO {read}: the highest speed for raking speaks, {limit}. Tine tips {tips}."),
        msg("PTO {read}: too close to the highest speed for raking, {limit}, to tell."),
        msg("Bring the engine speed down; the working speed is {working}."),
    ),
    "working": Words(
        msg("PTO {read}: the working speed speaks, {limit} ± 5 %."),
        msg("PTO {read}: too close to the edge of the working speed, {limit} ± 5 %, to tell."),
        msg("Set the engine so that the PTO turns {working}, and read it again."),
    ),
}


def findings(facts: Facts) -> Iterator[Finding]:
    """By meter, by counting, one against the other, and which gear is really in."""
    by_meter = reading(facts, "pto_speed", "", "tacho")
    about_meter = (facts.slot("pto_speed"),)
    about_count = (facts.slot("turns_counted"), facts.slot("turns_time"))
    by_count = None
    try:
        by_count = counted(facts)
    except Impossible as reason:
        yield cannot_tell(about_count, reason)
    for about, pto in ((about_meter, by_meter), (about_count, by_count)):
        if pto is None:
            continue
        try:
            yield from against_limits(facts, about, pto)
        except Impossible as reason:
            yield cannot_tell(about, reason)
    if by_meter is None:
        return
    if by_count is not None:
        yield from compared(about_meter + about_count, by_meter, by_count)
    try:
        yield from gear_that_is_in(facts, by_meter)
    except Impossible as reason:
        yield cannot_tell((facts.slot("engine_speed"), *about_meter), reason)


def counted(facts: Facts) -> Estimate | None:
    """PTO speed from turns counted by eye."""
    turns, time = whole(facts, "turns_counted"), reading(facts, "turns_time", "", "stopwatch")
    ratio = facts.value(facts.profile.settings.ratio)
    if turns is None or time is None or ratio is None:
        return None
    demand(time.value >= SLOWEST, msg("The time of the turns must be above zero."))
    return pto_from_turns(turns, time.value, ratio, doubt_of("counted-turns", turns), time.doubt)


def against_limits(facts: Facts, about: tuple[Slot, ...], pto: Estimate) -> Iterator[Finding]:
    """The three limits; only the one that speaks is named."""
    data = facts.profile.settings
    working, ceiling = facts.value(data.working_speed), facts.value(data.speed_ceiling)
    rating, ratio = facts.value(data.gearbox_rating), facts.value(data.ratio)
    if working is None or ceiling is None or rating is None or ratio is None:
        return
    demand(pto.value >= 0, msg("A PTO speed is not below zero."))
    found = check_speed(pto, SpeedLimits(working, ceiling, rating), BAND)
    name = speaking(found)
    limit: Sourced = {
        "gearbox": data.gearbox_rating,
        "ceiling": data.speed_ceiling,
        "working": data.working_speed,
    }[name]
    rotor = rotor_speed(pto.value, ratio)
    say = {
        "read": Amount(pto.value, Kind.ROTATION, "rpm", doubt=pto.doubt),
        "limit": shown(limit),
        "working": shown(data.working_speed),
        "ceiling": shown(data.speed_ceiling),
        "rating": shown(data.gearbox_rating),
        "rotor": rpm(rotor),
        "tips": Amount(tip_speed(rotor, largest_circle(facts)), Kind.SPEED, "m/s", both=True),
    }
    words = WORDS[name]
    said: dict[Verdict, Message] = {
        Verdict.IN_ORDER: msg("PTO {read} is the working speed of {working}. Tine tips {tips}."),
        Verdict.MEASURE_AGAIN: words.unsure,
    }
    again = msg("Read it once more, or count the turns for a whole minute.")
    todo = {Verdict.IN_ORDER: None, Verdict.MEASURE_AGAIN: again}
    says, what = said.get(found.verdict, words.wrong), todo.get(found.verdict, words.todo)
    yield Finding(
        found.verdict,
        about,
        filled(says, say),
        None if what is None else filled(what, say),
        (
            msg(
                "Limits: working speed {working} ± 5 % (a rule of thumb), highest for raking {ceiling}, "
                "rating of the gearbox {rating}. Rotor = PTO / ratio = {rotor}.",
                **say,
            ),
        ),
        limit.source,
        barred(name, found.verdict),
    )


def barred(name: str, verdict: Verdict) -> frozenset[Use]:
    """What has to wait: everything above the two upper limits, nothing for a matter of setting."""
    return frozenset() if name == "working" or verdict is Verdict.IN_ORDER else NO_RUN


def filled(message: Message, say: Mapping[str, object]) -> Message:
    """The message with its gaps filled."""
    return Message(message.text, tuple(say.items()))


def speaking(found: SpeedCheck) -> str:
    """Which of the three limits decides."""
    if found.verdict is Verdict.IN_ORDER:
        return "working"
    each = (("gearbox", found.gearbox), ("ceiling", found.ceiling), ("working", found.working))
    return next((name for name, verdict in each if verdict is found.verdict), "working")


def compared(about: tuple[Slot, ...], by_meter: Estimate, by_count: Estimate) -> Iterator[Finding]:
    """Two ways to one speed have to agree."""
    try:
        same = agree(by_meter, by_count)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    if same:
        return
    yield Finding(
        Verdict.MEASURE_AGAIN,
        about,
        msg(
            "The meter says {meter}, the counted turns say {count}: one of them is wrong.",
            meter=Amount(by_meter.value, Kind.ROTATION, "rpm", doubt=by_meter.doubt),
            count=Amount(by_count.value, Kind.ROTATION, "rpm", doubt=by_count.doubt),
        ),
        msg("Count again for a whole minute; look whether the display is set to this PTO gear."),
    )


def gear_that_is_in(facts: Facts, pto: Estimate) -> Iterator[Finding]:
    """PTO and engine speed together show the gear, whatever the lever says."""
    engine, chosen = facts.number("engine_speed"), chosen_gear(facts)
    gears = [g for g in (as_gear(facts, each) for each in facts.tractor.pto) if g is not None]
    if engine is None or chosen is None or not gears or abs(engine) > LARGEST:
        return
    demand(min(engine, pto.value) >= SLOWEST, msg("PTO and engine have to turn for this."))
    about = (facts.slot("engine_speed"), facts.slot("pto_speed"), facts.slot("pto_gear"))
    says = wrong_gear(pto.value, engine, gears, chosen.key)
    if says is None:
        fits = msg("PTO and engine speed fit PTO gear {gear}.", gear=chosen.key)
        yield Finding(Verdict.IN_ORDER, about, fits)
    elif recognise_gear(pto.value, engine, gears) is None:
        yield Finding(Verdict.MEASURE_AGAIN, about, says, msg("Read both at the same moment, from the seat."))
    else:
        todo = msg("PTO off, engine off, key out; change the gear and choose here which one is in.")
        yield Finding(Verdict.STOP, about, says, todo, bars=NO_RUN)
