"""What each light command should light on this machine, what was seen, and what that points to."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.lamp_faults import COMMAND_WORDS, Pattern, Ranked, State, find, separating_test
from rakeprep.calculations.lights import Board, Command, Lamp
from rakeprep.model.facts import Facts
from rakeprep.model.field import Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Lamp as FittedLamp
from rakeprep.model.profile import LampKind, Profile, Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import cannot_tell, standard
from rakeprep.text import Message, joined, msg, verbatim

ROAD = frozenset({Use.ROAD})
ISO_1724 = standard("ISO 1724", msg("contacts of the seven-pin connector, 12 V"))
COMMANDS = {
    "left-turn": Command.LEFT_TURN,
    "right-turn": Command.RIGHT_TURN,
    "left-tail": Command.LEFT_TAIL,
    "right-tail": Command.RIGHT_TAIL,
    "stop": Command.STOP,
    "fog": Command.FOG,
}
ONE_LAMP = {
    "left-turn": Lamp.LEFT_TURN,
    "right-turn": Lamp.RIGHT_TURN,
    "left-tail": Lamp.LEFT_TAIL,
    "right-tail": Lamp.RIGHT_TAIL,
    "fog": Lamp.FOG,
    "plate": Lamp.PLATE,
}
OWN = {"bright": State.ON, "weak": State.DIM, "dark": State.OFF}
TAILS = {"left-tail": 7, "right-tail": 5}  # contact of each, ISO 1724


def command_places(profile: Profile) -> tuple[Place, ...]:
    """A place for each light function that this machine has a lamp for."""
    lamps = profile.lights.lamp
    first = {key: next((lamp for lamp in lamps if lamp.function == key), None) for key in COMMANDS}
    return tuple(
        Place(key, COMMAND_WORDS[COMMANDS[key]], f"lamp-{lamp.key}", lamp.side.value if key != "stop" else "")
        for key, lamp in first.items()
        if lamp is not None
    )


def role(lamp: FittedLamp) -> Lamp | None:
    """Which lamp of the seven-pin wiring a fitted lamp is."""
    if lamp.function == "stop":
        return Lamp.RIGHT_STOP if lamp.side is Side.RIGHT else Lamp.LEFT_STOP
    return ONE_LAMP.get(lamp.function)


def seen_at(facts: Facts, command: str) -> dict[str, State] | None:
    """What every fitted lamp did at one command, by its key; None while that was not answered."""
    lit, dim = facts.chosen("lit", command), facts.chosen("dim", command)
    if lit is None:
        return None
    return {
        lamp.key: State.DIM if dim and lamp.key in dim else State.ON if lamp.key in lit else State.OFF
        for lamp in facts.profile.lights.lamp
    }


def plate_contact(facts: Facts) -> int | None:
    """The contact the plate lamp is wired to: 5 or 7 are both right, so what was seen decides."""
    plates = [lamp.key for lamp in facts.profile.lights.lamp if lamp.function == "plate"]
    if not plates:
        return None
    sides = {lamp.side for lamp in facts.profile.lights.lamp if lamp.function == "plate"}
    if sides == {Side.LEFT}:
        return TAILS["left-tail"]
    if sides == {Side.RIGHT}:
        return TAILS["right-tail"]
    left, right = seen_at(facts, "left-tail"), seen_at(facts, "right-tail")
    with_left = left is not None and all(left[key] is not State.OFF for key in plates)
    with_right = right is not None and all(right[key] is not State.OFF for key in plates)
    return TAILS["left-tail"] if with_left and not with_right else TAILS["right-tail"]


def wanted(command: str, function: str, plate: int | None) -> State:
    """What a lamp of one function should do at one command."""
    own = function == command or (function == "plate" and plate == TAILS.get(command, 0))
    return State.ON if own else State.OFF


def lamp_findings(facts: Facts) -> Iterable[Finding]:
    """One finding for each command that was tried, and one on what is behind the wrong ones."""
    plate = plate_contact(facts)
    places = command_places(facts.profile)
    tried = {place.key: seen for place in places if (seen := seen_at(facts, place.key)) is not None}
    wrong: list[str] = []
    for place in places:
        if place.key not in tried:
            continue
        finding = command_finding(facts, place, tried[place.key], plate)
        if finding.verdict is not Verdict.IN_ORDER:
            wrong.append(place.key)
        yield finding
    if wrong:
        yield diagnosis(facts, tried, wrong, plate)
    elif places and len(tried) == len(places):
        about = tuple(facts.slot("lit", key) for key in tried)
        yield Finding(
            Verdict.IN_ORDER, about, msg("Every function lights its own lamps and no other."), source=ISO_1724
        )


def command_finding(facts: Facts, place: Place, seen: dict[str, State], plate: int | None) -> Finding:
    """Compare what was seen at one command with what its contact feeds."""
    dark: list[Message] = []
    weak: list[Message] = []
    strange: list[Message] = []
    for lamp in facts.profile.lights.lamp:
        want, saw = wanted(place.key, lamp.function, plate), seen[lamp.key]
        if want is State.ON and saw is not State.ON:
            (weak if saw is State.DIM else dark).append(verbatim(lamp.name))
        elif want is State.OFF and saw is not State.OFF:
            strange.append(verbatim(lamp.name))
    about = (facts.slot("lit", place.key),)
    parts: list[Message] = []
    if dark:
        parts.append(msg("stays dark: {lamps}", lamps=joined(dark)))
    if weak:
        parts.append(msg("only glows: {lamps}", lamps=joined(weak)))
    if strange:
        parts.append(msg("should stay dark: {lamps}", lamps=joined(strange)))
    if not parts:
        return Finding(Verdict.IN_ORDER, about, msg("{command}: right.", command=place.name), source=ISO_1724)
    return Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("{command} alone: {what}.", command=place.name, what=joined(parts, "; ")),
        msg("Look at what all the wrong functions together point to."),
        source=ISO_1724,
        bars=ROAD,
    )


def pattern_of(facts: Facts, tried: dict[str, dict[str, State]], plate: int | None) -> Pattern:
    """What was seen in the terms of the wiring; of lamps wired alike, the one that is most wrong."""
    pattern: dict[Command, dict[Lamp, State]] = {}
    for key, seen in tried.items():
        row: dict[Lamp, State] = {}
        for lamp in facts.profile.lights.lamp:
            part, want = role(lamp), wanted(key, lamp.function, plate)
            if part is None:
                continue
            if part not in row or abs(seen[lamp.key] - want) > abs(row[part] - want):
                row[part] = seen[lamp.key]
        pattern[COMMANDS[key]] = row
    return pattern


def by_own_lamps(facts: Facts, best: tuple[Ranked, ...]) -> list[Ranked]:
    """The best fits with what the tractor's own lamps do: a blown fuse takes them along."""

    def mismatch(ranked: Ranked) -> int:
        total = 0
        for key, command in COMMANDS.items():
            chosen = facts.chosen("own_lamp", key) or frozenset()
            saw = next((state for word, state in OWN.items() if word in chosen), None)
            should = ranked.fault.own.get(command)
            if saw is not None and should is not None:
                total += abs(saw - should)
        return total

    return sorted((Ranked(each.fault, each.score + mismatch(each)) for each in best), key=lambda r: r.score)


def diagnosis(
    facts: Facts, tried: dict[str, dict[str, State]], wrong: list[str], plate: int | None
) -> Finding:
    """The fault that fits best, and the test that separates it from the next one."""
    lights = facts.profile.lights
    fitted = {role(lamp) for lamp in lights.lamp}
    about = tuple(facts.slot("lit", key) for key in wrong)
    without = frozenset(lamp for lamp in Lamp if lamp not in fitted)
    board = Board(lights.kind is LampKind.LED, plate, without)
    try:
        seen = pattern_of(facts, tried, plate)
        found = find(board, seen)
    except Impossible as reason:
        return cannot_tell(about, reason)
    ranked = by_own_lamps(facts, found.best)
    working = tuple(
        msg("{fault} Mismatch {score}.", fault=each.fault.says, score=each.score) for each in ranked
    )
    first, second = ranked[0].fault, ranked[1].fault
    next_test = separating_test(first, second, seen)
    if first.key == "healthy":
        says = msg("No single fault explains this; there may be two, or a lamp was overlooked.")
        todo = msg(
            "Try every function once more, one at a time, then go on with the nearest lamp that is wrong."
        )
    elif ranked[0].score == ranked[1].score:
        says = msg("Two faults fit equally well. {first} Or: {second}", first=first.says, second=second.says)
        todo = next_test
    elif ranked[0].score:
        says = msg("Nearest, though it does not explain everything: {first}", first=first.says)
        todo = next_test
    else:
        says = msg("Most likely: {first}", first=first.says)
        todo = next_test
    return Finding(Verdict.PUT_RIGHT, about, says, todo, working, ISO_1724, ROAD)
