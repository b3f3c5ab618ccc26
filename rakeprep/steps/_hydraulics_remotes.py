"""Which circuit is on which of the tractor's remotes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.remotes import FEATURE_WORDS, Assignment, Feature, Need, Remote, assign, lacking
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Option, Use
from rakeprep.model.field import Need as Wanted
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Circuit
from rakeprep.model.tractor import Acting, RemoteValve, Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import cannot_tell, shown
from rakeprep.text import Message, joined, msg, verbatim

FIELD_WORK = frozenset({Use.FIELD})


def fields(tractor: Tractor, circuits: tuple[Place, ...]) -> tuple[Field, ...]:
    """The questions about remotes; which one, only where the tractor has any."""
    if not tractor.remote:
        return ()
    options = tuple(Option(r.key, msg("remote {key}", key=verbatim(r.key))) for r in tractor.remote)
    return (
        Field(
            "remote",
            msg("Remote it is connected to"),
            Ask.CHOICE,
            msg("Number at the coupling on the customer's tractor. Engine off and pressure off to couple."),
            circuits,
            options=options,
            bars=FIELD_WORK,
            rests_on=("tractor",),
        ),
        Field(
            "lever",
            msg("Lever movement, as on the label"),
            Ask.TEXT,
            msg("Settle it with the customer, for example: back = wide, back = up."),
            circuits,
            need=Wanted.MAY,
            rests_on=("tractor", "hydraulics.remote"),
        ),
    )


def need_of(facts: Facts, circuit: Circuit) -> Need:
    """What a circuit asks of a remote; values in conflict ask for nothing yet."""
    return Need(
        circuit.key,
        double_acting=circuit.acting is Acting.DOUBLE,
        float_return=circuit.float_needed,
        flow=facts.value(circuit.flow) or 0.0,
        pressure=facts.value(circuit.pressure) or 0.0,
    )


def offer_of(facts: Facts, valve: RemoteValve) -> Remote:
    """What a remote offers."""
    return Remote(
        valve.key,
        double_acting=valve.acting is Acting.DOUBLE,
        float_position=valve.float_position,
        flow=facts.value(valve.flow),
        pressure=facts.value(valve.pressure),
    )


def place_of(facts: Facts, circuit: str) -> Slot:
    """Where a finding about a circuit's remote is shown."""
    return facts.slot("remote" if facts.tractor.remote else "purge", circuit)


def findings(facts: Facts, places: Mapping[str, Place]) -> Iterable[Finding]:
    """Judge the remotes used against what each circuit needs, or propose them."""
    circuits = facts.profile.hydraulics.circuit
    if not circuits:
        return
    try:
        needs = {c.key: need_of(facts, c) for c in circuits}
        offers = {r.key: offer_of(facts, r) for r in facts.tractor.remote}
        best = assign(list(needs.values()), list(offers.values()))
    except Impossible as reason:
        yield cannot_tell((place_of(facts, circuits[0].key),), reason)
        return
    for missing in best.missing:
        yield Finding(
            Verdict.PUT_RIGHT,
            (place_of(facts, missing.need),),
            missing.says,
            msg("Another valve, a free return line or another tractor is needed; settle it first."),
            offered(facts),
            bars=FIELD_WORK,
        )
    used = {c.key: chosen(facts, c.key, offers) for c in circuits}
    for circuit in circuits:
        remote = used[circuit.key]
        if remote is None:
            yield from proposal(facts, circuit, best, places[circuit.key])
            continue
        others = [key for key, other in used.items() if other == remote and key != circuit.key]
        yield judged_remote(facts, circuit, needs[circuit.key], offers[remote], others, places)


def chosen(facts: Facts, circuit: str, offers: Mapping[str, Remote]) -> str | None:
    """The remote entered for a circuit, if the tractor has it."""
    words = facts.chosen("remote", circuit) or frozenset()
    return next((key for key in offers if key in words), None)


def offered(facts: Facts) -> tuple[Message, ...]:
    """One line for each remote."""
    return tuple(
        msg(
            "Remote {key}: {acting} acting, {floating}, {flow}, {pressure}.",
            key=verbatim(valve.key),
            acting=DOUBLE if valve.acting is Acting.DOUBLE else SINGLE,
            floating=FLOATS if valve.float_position else NO_FLOAT,
            flow=shown(valve.flow),
            pressure=shown(valve.pressure),
        )
        for valve in facts.tractor.remote
    )


DOUBLE, SINGLE = msg("double"), msg("single")
FLOATS, NO_FLOAT = msg("with float"), msg("no float")


def proposal(facts: Facts, circuit: Circuit, best: Assignment, place: Place) -> Iterable[Finding]:
    """Which remote to use, before one was entered."""
    remote = dict(best.pairs).get(circuit.key)
    if remote is None:
        return
    yield Finding(
        Verdict.NOT_YET,
        (place_of(facts, circuit.key),),
        msg("{place}: use remote {remote}.", place=place.name, remote=verbatim(remote)),
        msg("Couple it there, set the flow to {flow}, and enter the remote.", flow=shown(circuit.flow)),
        offered(facts),
    )


def judged_remote(
    facts: Facts,
    circuit: Circuit,
    need: Need,
    remote: Remote,
    others: list[str],
    places: Mapping[str, Place],
) -> Finding:
    """The finding about one circuit on one remote."""
    about = (place_of(facts, circuit.key), *(place_of(facts, other) for other in others))
    say = {"place": places[circuit.key].name, "remote": verbatim(remote.key)}
    lacks = lacking(need, remote)
    if lacks:
        what = joined([FEATURE_WORDS[feature] for feature in lacks])
        says = msg("{place}: remote {remote} has no {what}.", **say, what=what)
        if Feature.FLOAT in lacks:
            says = msg("{place}: remote {remote} has no {what}; it goes up but not down.", **say, what=what)
        todo = msg("Lower it, engine off, pressure off, then couple it to a remote that has all it needs.")
        return Finding(Verdict.PUT_RIGHT, about, says, todo, offered(facts), bars=FIELD_WORK)
    if others:
        names = joined([places[other].name for other in others])
        says = msg("{place}: remote {remote} is entered for {names} as well.", **say, names=names)
        todo = msg("Follow the hoses by hand and enter where each one really is.")
        return Finding(Verdict.PUT_RIGHT, about, says, todo, bars=FIELD_WORK)
    valve = next(v for v in facts.tractor.remote if v.key == remote.key)
    todo = msg("Set its flow to {flow}.", flow=shown(circuit.flow))
    if not valve.adjustable:
        todo = msg("Its flow cannot be set; {flow} is wanted, so watch the times.", flow=shown(circuit.flow))
    says = msg("{place}: remote {remote} has all it needs.", **say)
    return Finding(Verdict.IN_ORDER, about, says, todo, offered(facts))
