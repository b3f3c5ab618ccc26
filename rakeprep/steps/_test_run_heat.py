"""Heat of the gearboxes: each against the highest, like against like, and the rise over the air."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.calculations import Impossible, demand
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.test_run import RISE_LIMIT, Heat, heat
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field, Use
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Gearbox, Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._oil_amount import gearbox_place
from rakeprep.steps._reading import SIDES, cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import msg
from rakeprep.units import Amount, Kind

NO_WORK = frozenset({Use.PTO, Use.FIELD})
COLDEST = 100.0  # K; nothing in a workshop is colder


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """Every gearbox, then left against right."""
    for gearbox in facts.profile.gearbox:
        try:
            yield from hottest(facts, gearbox)
        except Impossible as reason:
            yield cannot_tell((facts.slot("surface_temperature", gearbox.key),), reason)
    pair = [gearbox_of(facts, side) for side in SIDES]
    if pair[0] is None or pair[1] is None:
        return
    try:
        yield from both_sides(facts, pair[0], pair[1])
    except Impossible as reason:
        yield cannot_tell((facts.slot("surface_temperature", pair[0].key), facts.slot("ambient")), reason)


def gearbox_of(facts: Facts, side: Side) -> Gearbox | None:
    """The gearbox of one rotor."""
    return next((g for g in facts.profile.gearbox if g.rotor is side), None)


def read_heat(facts: Facts, gearbox: Gearbox) -> Estimate | None:
    """Its surface temperature; none that is colder than anything in a workshop."""
    read = reading(facts, "surface_temperature", gearbox.key, "infrared")
    if read is not None:
        demand(read.value >= COLDEST, msg("No workshop is as cold as this temperature."))
    return read


def hottest(facts: Facts, gearbox: Gearbox) -> Iterator[Finding]:
    """One gearbox against the highest temperature allowed."""
    read, limit = read_heat(facts, gearbox), facts.profile.test_run.hottest
    most = facts.value(limit)
    if read is None or most is None:
        return
    verdict = read.within(high=most)
    if verdict is Verdict.PUT_RIGHT:
        verdict = Verdict.STOP
    unit = limit.typed.unit
    say = {
        "place": gearbox_place(gearbox).name,
        "read": Amount(read.value, Kind.TEMPERATURE, unit, both=True),
        "limit": shown(limit),
    }
    says = {
        Verdict.IN_ORDER: msg("{place}: {read}, below {limit}.", **say),
        Verdict.MEASURE_AGAIN: msg("{place}: {read} is too close to {limit} to tell.", **say),
        Verdict.STOP: msg("{place}: {read}, over {limit}. Too hot.", **say),
    }
    todo = {
        Verdict.MEASURE_AGAIN: msg("Let it cool, run it again, and read within 2 minutes, on paint."),
        Verdict.STOP: msg(
            "No further run. Let it cool; then oil level with the machine level, grade, bearings."
        ),
    }
    bars = frozenset() if verdict is Verdict.IN_ORDER else NO_WORK
    working = (msg("Doubt of this reading: ± {doubt}.", doubt=difference(facts, read.doubt)),)
    about = (facts.slot("surface_temperature", gearbox.key),)
    yield Finding(verdict, about, says[verdict], todo.get(verdict), working, limit.source, bars)


def difference(facts: Facts, kelvin: float, toward: str = "nearest") -> Amount:
    """A difference of temperatures in the unit of the machine data; 38 K are 68 °F, not 100."""
    unit = facts.profile.test_run.side_difference.typed.unit
    return Amount(kelvin, Kind.TEMPERATURE_DIFFERENCE, unit, toward=toward, both=True)


def both_sides(facts: Facts, left: Gearbox, right: Gearbox) -> Iterator[Finding]:
    """Left against right, and the warmer one over the air."""
    reads = [read_heat(facts, left), read_heat(facts, right)]
    limits = facts.profile.test_run
    side_limit, most = facts.value(limits.side_difference), facts.value(limits.hottest)
    one, other = reads
    if one is None or other is None or side_limit is None or most is None:
        return
    air = reading(facts, "ambient", "", "infrared")
    if air is not None:
        demand(air.value >= COLDEST, msg("No workshop is as cold as this temperature."))
    found = heat(
        one.value,
        other.value,
        min(one.value, other.value) if air is None else air.value,  # the sides do not rest on the air
        max(one.doubt, other.doubt),
        side_limit=side_limit,
        hottest=most,
    )
    warmer, cooler = (left, right) if one.value >= other.value else (right, left)
    doubt = difference(facts, combine([(1, one.doubt), (-1, other.doubt)]), "up")
    yield sides_finding(facts, found, warmer, cooler, doubt)
    if air is not None:
        yield rise_finding(facts, found, warmer, air.value, doubt)


def sides_finding(facts: Facts, found: Heat, warmer: Gearbox, cooler: Gearbox, doubt: Amount) -> Finding:
    """Two like gearboxes after one run."""
    limit = facts.profile.test_run.side_difference
    say = {
        "warmer": gearbox_place(warmer).name,
        "cooler": gearbox_place(cooler).name,
        "apart": difference(facts, abs(found.difference)),
        "limit": shown(limit),
    }
    says = {
        Verdict.IN_ORDER: msg("Left and right are {apart} apart, within {limit}.", **say),
        Verdict.MEASURE_AGAIN: msg("Left and right are {apart} apart: too close to {limit} to tell.", **say),
        Verdict.PUT_RIGHT: msg("{warmer} is {apart} hotter than {cooler}; {limit} may be.", **say),
    }
    todo = {
        Verdict.MEASURE_AGAIN: msg(
            "Run again and read both within 2 minutes of the stop, on the same paint."
        ),
        Verdict.PUT_RIGHT: msg(
            "Cool down, machine level: oil level first, then vent plug, bearing, guard that rubs."
        ),
    }
    about = tuple(facts.slot("surface_temperature", g.key) for g in (warmer, cooler))
    bars = frozenset({Use.FIELD}) if found.sides is Verdict.PUT_RIGHT else frozenset[Use]()
    working = msg(
        "Left − right = {difference}; doubt of a difference of two readings ± {doubt}.",
        difference=difference(facts, found.difference),
        doubt=doubt,
    )
    return Finding(
        found.sides, about, says[found.sides], todo.get(found.sides), (working,), limit.source, bars
    )


def rise_finding(facts: Facts, found: Heat, warmer: Gearbox, air: float, doubt: Amount) -> Finding:
    """The warmer gearbox over the air."""
    rise = max(found.left_rise, found.right_rise)
    say = {
        "warmer": gearbox_place(warmer).name,
        "rise": difference(facts, rise),
        "limit": difference(facts, RISE_LIMIT, "down"),
        "air": Amount(air, Kind.TEMPERATURE, facts.profile.test_run.hottest.typed.unit),
    }
    says = {
        Verdict.IN_ORDER: msg("{warmer}: {rise} over the air at {air}, within {limit}.", **say),
        Verdict.MEASURE_AGAIN: msg("{warmer}: {rise} over the air is too close to {limit} to tell.", **say),
        Verdict.PUT_RIGHT: msg("{warmer}: {rise} over the air at {air}; {limit} may be.", **say),
    }
    todo = {
        Verdict.MEASURE_AGAIN: msg("Read air and gearbox again after another run."),
        Verdict.PUT_RIGHT: msg("Look at oil level and grade on both sides, machine level and cold."),
    }
    about = (facts.slot("ambient"), facts.slot("surface_temperature", warmer.key))
    source = rule_of_thumb(msg("rise of a gearbox over the air, 50 K"))
    working = msg(
        "Rise = warmer gearbox − air = {rise}; doubt of a difference of two readings ± {doubt}.",
        rise=say["rise"],
        doubt=doubt,
    )
    return Finding(found.rise, about, says[found.rise], todo.get(found.rise), (working,), source)
