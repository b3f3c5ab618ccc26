"""All arms of a rotor past one place: bent arms stand out, whatever the rotor's tilt."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.arms import Ring, arms_past_one_place
from rakeprep.calculations.decision import near
from rakeprep.model.facts import Facts
from rakeprep.model.field import Use
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Side
from rakeprep.model.verdict import Verdict
from rakeprep.steps._levelling_plane import TAPE_STEPS
from rakeprep.steps._reading import ROTOR_NAMES, cannot_tell, doubt_of, reading, rule_of_thumb
from rakeprep.steps.arms import arm_keys
from rakeprep.text import Message, joined, msg, verbatim
from rakeprep.units import Amount, Kind

FIELD_WORK = frozenset({Use.FIELD})
FEWEST = 6
HUB = rule_of_thumb(msg("largest wave of the arms round the hub"))


def ring_findings(facts: Facts, side: Side) -> Iterable[Finding]:
    """Bent arms and the hub of one rotor, once enough arms were read."""
    keys = arm_keys(facts.profile, side)
    found = [reading(facts, "arm_clearance", key, "steel-rule") for key in keys]
    read = [key for key, each in zip(keys, found, strict=True) if each is not None]
    unanswered = any(facts.slot("arm_clearance", key) not in facts.record.entries for key in keys)
    limit = facts.value(facts.profile.levelling.arm_tolerance)
    if limit is None or not read or (len(read) < FEWEST and unanswered):
        return
    try:
        ring = arms_past_one_place([None if each is None else each.value for each in found], limit)
        verdicts = {
            key: near(out, doubt_of("steel-rule", 0.0), 0.0, ring.limit)
            for key, out in zip(keys, ring.departures, strict=True)
            if out is not None
        }
    except Impossible as reason:
        yield cannot_tell((facts.slot("arm_clearance", read[0]),), reason)
        return
    unit = unit_typed(facts, read[0])
    out_of_row = dict(zip(keys, ring.departures, strict=True))
    for key, verdict in verdicts.items():
        if verdict is not Verdict.IN_ORDER:
            yield arm_finding(facts, key, out_of_row[key] or 0.0, verdict, ring_working(ring, unit), unit)
    yield hub_finding(facts, side, keys, ring, unit)
    if all(verdict is Verdict.IN_ORDER for verdict in verdicts.values()):
        words = msg("{rotor}: no arm stands out of the row.", rotor=ROTOR_NAMES[side])
        about = tuple(facts.slot("arm_clearance", key) for key in read)
        source = facts.profile.levelling.arm_tolerance.source
        yield Finding(Verdict.IN_ORDER, about, words, None, ring_working(ring, unit), source)


def unit_typed(facts: Facts, key: str) -> str:
    """The unit on the rule that was used."""
    entry = facts.entry("arm_clearance", key)
    usual = facts.profile.levelling.arm_tolerance.typed.unit
    return entry.unit if entry is not None and entry.unit in TAPE_STEPS else usual


def length(value: float, unit: str) -> Amount:
    """A length without its sign, to the division of the rule."""
    return Amount(abs(value), Kind.LENGTH, unit, step=TAPE_STEPS.get(unit))


def ring_working(ring: Ring, unit: str) -> tuple[Message, ...]:
    """The sums behind a row of arms."""
    out = joined([msg("{number}", number=number) for number in ring.left_out])
    return (
        msg(
            "Middle of all arms {middle}; wave m + a·cos + b·sin fitted without arm {out}: scatter of the "
            "rest, one standard deviation, {sd}.",
            middle=length(ring.middle, unit),
            out=out,
            sd=Amount(ring.sd, Kind.LENGTH, unit),
        ),
        msg(
            "An arm counts as bent beyond {limit}: the tolerance, or four times that scatter if larger.",
            limit=length(ring.limit, unit),
        ),
    )


def arm_finding(
    facts: Facts, key: str, out: float, verdict: Verdict, working: tuple[Message, ...], unit: str
) -> Finding:
    """The sentence on an arm that stands out."""
    say = {"arm": verbatim(key), "out": length(out, unit)}
    if verdict is Verdict.MEASURE_AGAIN:
        says = msg("Arm {arm} stands {out} out of the row; too close to tell.", **say)
        todo = msg("Bring it to the same place once more, let it settle, and read again.")
    else:
        todo = msg("Look for a bent arm or a wrong tine and put that right. Do not level the rotor for it.")
        if out > 0:
            says = msg("Arm {arm} stands {out} above the row: bent, or a wrong tine.", **say)
        else:
            says = msg("Arm {arm} hangs {out} below the row: bent, or a wrong tine.", **say)
    bars = FIELD_WORK if verdict is Verdict.PUT_RIGHT else frozenset[Use]()
    source = facts.profile.levelling.arm_tolerance.source
    return Finding(verdict, (facts.slot("arm_clearance", key),), says, todo, working, source, bars)


def hub_finding(facts: Facts, side: Side, keys: tuple[str, ...], ring: Ring, unit: str) -> Finding:
    """Whether the arms make one wave round the hub."""
    crest = keys[ring.high_arm - 1]
    say = {"rotor": ROTOR_NAMES[side], "wave": length(ring.wobble, unit), "arm": verbatim(crest)}
    about = (facts.slot("arm_clearance", crest),)
    working = ring_working(ring, unit)
    if not ring.hub_wobbles:
        words = msg("{rotor}: the arms rise and fall by ± {wave} round the hub: in order.", **say)
        return Finding(Verdict.IN_ORDER, about, words, None, working, HUB)
    return Finding(
        Verdict.PUT_RIGHT,
        about,
        msg("{rotor}: the arms make one wave of ± {wave} round the hub, highest near arm {arm}.", **say),
        msg("Hub or cam is out of square, not the arms: look at its seat and bolts, change no arm."),
        working,
        HUB,
    )
