"""How much oil went into a gearbox: against what came out, and against what it takes."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.oil import oil_balance, oil_filled
from rakeprep.model.facts import Facts
from rakeprep.model.field import Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Gearbox
from rakeprep.model.verdict import Verdict
from rakeprep.steps._reading import cannot_tell, reading, rule_of_thumb, shown
from rakeprep.text import msg, verbatim
from rakeprep.units import Amount, Kind

PTO = frozenset({Use.PTO})
LOSS_RULE = rule_of_thumb(msg("oil that may stay in the box: 100 mL"))
SHARE_OFF = 0.1  # of the oil volume, rule of thumb: as much as stays on the walls or is spilled
FILLING_RULE = rule_of_thumb(msg("a filling may be off by a tenth of the oil volume"))


def gearbox_place(gearbox: Gearbox) -> Place:
    """The place of a gearbox."""
    return Place(gearbox.key, verbatim(gearbox.name), f"gearbox-{gearbox.key}", gearbox.rotor.value)


def balance_findings(facts: Facts, gearbox: Gearbox) -> Iterable[Finding]:
    """Judge what came out against what went in."""
    filled = reading(facts, "filled", gearbox.key, "jug")
    drained = reading(facts, "drained", gearbox.key, "jug")
    if filled is None or drained is None:
        return
    about = (facts.slot("drained", gearbox.key), facts.slot("filled", gearbox.key))
    try:
        balance = oil_balance(filled, drained)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    lost = Amount(balance.lost.value, Kind.VOLUME, "mL", both=True, doubt=balance.lost.doubt)
    says = msg("{place}: {lost} between filling and draining.", place=verbatim(gearbox.name), lost=lost)
    todo = None if balance.verdict is Verdict.IN_ORDER else balance.says
    working = (msg("Lost = filled − drained; 100 mL may stay in the box and the rags."),)
    yield Finding(balance.verdict, about, says, todo, working, LOSS_RULE)


def filling_findings(facts: Facts, gearbox: Gearbox) -> Iterable[Finding]:
    """Judge what went in against what the gearbox takes."""
    filled, volume = reading(facts, "filled", gearbox.key, "jug"), facts.value(gearbox.volume)
    if filled is None or volume is None:
        return
    given = None if gearbox.volume_tolerance is None else facts.value(gearbox.volume_tolerance)
    off = SHARE_OFF * volume if given is None else given
    about = (facts.slot("filled", gearbox.key),)
    try:
        verdict = oil_filled(filled, volume, off, emptied(facts, gearbox))
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    unit = gearbox.volume.typed.unit
    say = {
        "place": gearbox_place(gearbox).name,
        "filled": Amount(filled.value, Kind.VOLUME, unit, both=True, doubt=filled.doubt),
        "volume": shown(gearbox.volume),
        "off": Amount(off, Kind.VOLUME, unit),
    }
    working = (msg("The gearbox takes {volume}; a filling may be off by {off}.", **say),)
    source = FILLING_RULE if given is None else gearbox.volume.source
    if verdict is Verdict.IN_ORDER:
        yield Finding(verdict, about, msg("{place}: filled with {filled}.", **say), None, working, source)
        return
    says = msg("{place}: filled with {filled}, but it takes {volume}.", **say)
    todo = msg("Set the machine level, wait ten minutes and look at the level plug: the mark decides.")
    yield Finding(verdict, about, says, todo, working, source, PTO)


def emptied(facts: Facts, gearbox: Gearbox) -> bool:
    """Whether the oil that was in it came out on the day on which it was filled."""
    out, into = facts.entry("drained", gearbox.key), facts.entry("filled", gearbox.key)
    return out is not None and into is not None and out.at.date() == into.at.date()
