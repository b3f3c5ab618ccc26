"""Lights: each function alone, lamp by lamp, voltage under load, boards and emblem."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import combine, within
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Board, Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no
from rakeprep.steps._lights_lamps import command_places, lamp_findings
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import Message, msg, verbatim
from rakeprep.units import Amount, Kind

ROAD = frozenset({Use.ROAD})
HIGHEST_OF_12_V = 16.0  # V, rule of thumb: a 12 V supply with the engine running stays below this
WITH_OWN_LAMP = frozenset({"left-turn", "right-turn", "left-tail", "right-tail", "stop"})
OWN_LAMP = (
    Option("bright", msg("bright")),
    Option("weak", msg("weak")),
    Option("dark", msg("dark")),
)
PLUG = Place("", msg("light plug"), "tractor")


def board_place(board: Board) -> Place:
    """The place of a board, emblem, reflector or sign."""
    return Place(board.key, verbatim(board.name), f"board-{board.key}")


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    asked = (*plug_fields(), *lamp_fields(profile), *voltage_fields(), *board_fields(profile))
    return tuple(field for field in asked if field.places)


def plug_fields() -> tuple[Field, ...]:
    """The question about plug and socket."""
    return (
        Field(
            "socket",
            msg("Plug fits the tractor's socket"),
            Ask.CHOICE,
            msg("Right standard, locks in, no green or bent contacts, cable free of links and shaft."),
            (PLUG,),
            options=YES_NO,
            bars=ROAD,
            rests_on=("tractor",),
        ),
    )


def lamp_fields(profile: Profile) -> tuple[Field, ...]:
    """The questions asked with one function switched on at a time."""
    places = command_places(profile)
    lamps = tuple(Option(lamp.key, verbatim(lamp.name)) for lamp in profile.lights.lamp)
    return (
        Field(
            "lit",
            msg("Lamps that light up"),
            Ask.MANY,
            msg("Switch on this function and nothing else. Pick every lamp that lights; none is an answer."),
            places,
            options=lamps,
            bars=ROAD,
        ),
        Field(
            "dim",
            msg("Lamps that only glow"),
            Ask.MANY,
            msg("With the same function on: lamps that are weaker than they should be, or glow with it."),
            places,
            options=lamps,
            need=Need.MAY,
        ),
        Field(
            "own_lamp",
            msg("The tractor's own lamp"),
            Ask.CHOICE,
            msg("Only if a lamp of the machine is wrong: does the tractor's lamp of this function work?"),
            tuple(place for place in places if place.key in WITH_OWN_LAMP),
            options=OWN_LAMP,
            need=Need.MAY,
            rests_on=("tractor",),
        ),
    )


def voltage_fields() -> tuple[Field, ...]:
    """The readings of the multimeter."""
    return (
        Field(
            "battery",
            msg("Voltage at the battery, lamps on"),
            Ask.QUANTITY,
            msg("Multimeter on the battery's posts, all lamps on. Usual: 12 to 14.5 V."),
            (PLUG,),
            Kind.VOLTAGE,
            "V",
            need=Need.MAY,
            instrument="multimeter",
            rests_on=("tractor",),
        ),
        Field(
            "worst_lamp",
            msg("Voltage at the weakest lamp"),
            Ask.QUANTITY,
            msg("At its two contacts, the same lamps on. Key off and plug out before the lamp is opened."),
            (PLUG,),
            Kind.VOLTAGE,
            "V",
            need=Need.MAY,
            instrument="multimeter",
            rests_on=("tractor",),
        ),
        Field(
            "earth_loss",
            msg("Voltage lost on the earth side"),
            Ask.QUANTITY,
            msg("Between the earth contact of that lamp and the battery's minus post, lamps on."),
            (PLUG,),
            Kind.VOLTAGE,
            "V",
            need=Need.MAY,
            instrument="multimeter",
            rests_on=("tractor",),
        ),
    )


def board_fields(profile: Profile) -> tuple[Field, ...]:
    """The questions about boards and emblems; only those the road needs bar the road."""
    words = msg("Seen from where another driver sits: clean, not behind tines or arms, film off.")
    return (
        Field(
            "boards",
            msg("Board or emblem there, readable"),
            Ask.CHOICE,
            words,
            tuple(board_place(b) for b in profile.board if b.road),
            options=YES_NO,
            bars=ROAD,
        ),
        Field(
            "other_boards",
            msg("Sign there, readable"),
            Ask.CHOICE,
            words,
            tuple(board_place(b) for b in profile.board if not b.road),
            options=YES_NO,
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge plug, lamps, voltage and boards."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    yield from socket_findings(facts)
    yield from lamp_findings(facts)
    yield from voltage_findings(facts)
    for key, bars in (("boards", ROAD), ("other_boards", frozenset[Use]())):
        if key in by_key:
            yield from answered_no(
                facts,
                by_key[key],
                msg("{place}: missing, hidden or not readable."),
                msg("Clean it, move it or fit a new one."),
                bars=bars,
            )


def plain(standard: str) -> str:
    """The name of a standard without differences of spacing and case."""
    return "".join(standard.split()).casefold()


def socket_findings(facts: Facts) -> Iterable[Finding]:
    """Compare plug and socket on paper, then by what was seen."""
    plug, socket = facts.profile.lights.socket, facts.tractor.electric.lights
    about = (facts.slot("socket"),)
    if plain(plug) != plain(socket):
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg(
                "The machine has a plug to {plug}, the tractor a socket to {socket}.",
                plug=plug,
                socket=socket,
            ),
            msg("Get an adapter or another socket before handover, then test every function through it."),
            bars=ROAD,
        )
    answer = facts.chosen("socket") or frozenset()
    if "no" in answer:
        yield Finding(
            Verdict.PUT_RIGHT,
            about,
            msg("The light plug does not fit or does not hold."),
            msg("Clean or replace plug or socket, then test every function again."),
            bars=ROAD,
        )
    elif "yes" in answer and plain(plug) == plain(socket):
        yield Finding(Verdict.IN_ORDER, about, msg("Plug and socket are both to {plug}.", plug=plug))


def voltage_findings(facts: Facts) -> Iterable[Finding]:
    """Judge the supply, and what gets lost on the way to the weakest lamp."""
    battery = reading(facts, "battery", "", "multimeter")
    lamp = reading(facts, "worst_lamp", "", "multimeter")
    if battery is None:
        return
    try:
        if battery.within(high=HIGHEST_OF_12_V) is Verdict.PUT_RIGHT:
            yield no_12_volt(facts, battery.value)
            return
        limit = facts.value(facts.profile.lights.largest_drop)
        if lamp is None or limit is None:
            return
        drop = battery.value - lamp.value
        doubt = combine([(1, battery.doubt), (-1, lamp.doubt)])
        verdict = within(drop, doubt, low=None, high=limit)
        impossible = drop < -doubt
    except Impossible as reason:
        yield cannot_tell((facts.slot("worst_lamp"), facts.slot("battery")), reason)
        return
    yield drop_finding(facts, Verdict.MEASURE_AGAIN if impossible else verdict, drop, doubt, impossible)


def no_12_volt(facts: Facts, volts: float) -> Finding:
    """The finding when the supply is not the one the lamps are made for."""
    return Finding(
        Verdict.PUT_RIGHT,
        (facts.slot("battery"),),
        msg("{volts} is more than a 12 V supply gives.", volts=Amount(volts, Kind.VOLTAGE, "V")),
        msg("Plug out at once; 12 V lamps burn out on it. Look at the tractor's supply and its regulator."),
        source=rule_of_thumb(msg("highest voltage of a 12 V supply with the engine running")),
        bars=ROAD,
    )


def drop_finding(facts: Facts, verdict: Verdict, drop: float, doubt: float, impossible: bool) -> Finding:
    """The finding on the voltage lost; ``impossible`` when the lamp had more than the battery."""
    limit = facts.profile.lights.largest_drop
    say = {
        "drop": Amount(drop, Kind.VOLTAGE, "V", doubt=doubt),
        "limit": shown(limit),
    }
    says = {
        Verdict.IN_ORDER: msg("{drop} gets lost on the way to the weakest lamp; {limit} may.", **say),
        Verdict.MEASURE_AGAIN: msg("{drop} lost is too close to {limit} to tell.", **say),
        Verdict.PUT_RIGHT: msg(
            "{drop} gets lost on the way to the weakest lamp; at most {limit} may.", **say
        ),
    }
    todo: dict[Verdict, Message] = {
        Verdict.MEASURE_AGAIN: msg(
            "Measure both once more, one straight after the other, the same lamps on."
        ),
        Verdict.PUT_RIGHT: where_lost(facts, drop),
    }
    sentence = msg("The lamp cannot have more volts than the battery.") if impossible else says[verdict]
    working = (msg("Voltage at the battery − voltage at the lamp = {drop}.", **say),)
    about = (facts.slot("worst_lamp"), facts.slot("battery"))
    bars = frozenset[Use]() if verdict is Verdict.MEASURE_AGAIN else ROAD
    return Finding(verdict, about, sentence, todo.get(verdict), working, limit.source, bars)


def where_lost(facts: Facts, drop: float) -> Message:
    """On which side to look: feed or earth."""
    earth = reading(facts, "earth_loss", "", "multimeter")
    if earth is None:
        return msg(
            "Measure between the lamp's earth and the battery's minus post, lamps on: much there means the "
            "earth, little means the feed."
        )
    share = {
        "earth": Amount(earth.value, Kind.VOLTAGE, "V"),
        "feed": Amount(drop - earth.value, Kind.VOLTAGE, "V"),
    }
    if earth.value >= drop / 2:
        return msg("{earth} of it on the earth side: clean contact 3 and the earth screws.", **share)
    return msg(
        "{feed} of it on the feed side: clean that contact in plug and lamp, look at the cable.", **share
    )


STEP = Step(
    key="lights",
    order=6,
    title=msg("Lights"),
    about=msg("One function at a time, every lamp looked at: only so a crossed pair shows itself."),
    cautions=(
        Caution(
            msg("A slipping tool can short the battery."),
            msg("Key off and plug out before a lamp or plug is opened."),
            "electricity",
        ),
    ),
    fields=fields,
    checks=(check,),
)
