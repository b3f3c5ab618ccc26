"""Tines clear of the windrow at the headland, and what the limiter needs for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.calculations import Impossible, demand
from rakeprep.calculations.width import Limiter, headland_limiter
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field
from rakeprep.model.finding import Finding
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import Limit, against, unit_of
from rakeprep.steps._reading import LARGEST, SIDES, cannot_tell
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind

SMALLEST = 1e-4  # m; nobody reads less off a limiter
CLEARANCE = Limit(
    right=msg("{place}: {read} under the tines clears {limit} of windrow."),
    unsure=msg("{place}: {read} under the tines is too close to {limit} to tell."),
    wrong=msg("{place}: only {read} under the tines; {limit} or more is wanted in a turn."),
    todo=msg("Rotors on the ground, move the limiter, and measure again; a trial tells how many holes."),
    from_below=True,
)


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """Each rotor against the clearance wanted, then the limiter."""
    field = by_key["headland_clearance"]
    for side in SIDES:
        yield from against(facts, field, side.value, facts.profile.width.headland_clearance, CLEARANCE)
    yield from limiter(facts, by_key)


def limiter(facts: Facts, by_key: Mapping[str, Field]) -> Iterator[Finding]:
    """What one trial teaches about the limiter."""
    moved, changed = facts.number("limiter_change"), facts.number("limiter_effect")
    if moved is None or changed is None or max(abs(moved), abs(changed)) > LARGEST:
        return
    about = tuple(facts.slot(key) for key in ("limiter_effect", "limiter_change", "limiter_hole"))
    hole, wanted = facts.number("limiter_hole"), missing(facts)
    if hole is not None and abs(hole) > LARGEST:
        return
    unit = unit_of(facts, by_key["limiter_effect"])
    try:
        for length in (moved, changed, SMALLEST if hole is None else hole):
            demand(abs(length) >= SMALLEST, msg("Moves and holes of the limiter are larger than that."))
        # without a hole or a need, one hole of the trial's size and no need give the ratio alone
        found = headland_limiter(moved, changed, wanted or 0.0, abs(moved) if hole is None else hole)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    working = trial_said(found, moved, changed, unit)
    ratio = Amount(abs(found.ratio), Kind.NUMBER, "1")
    if wanted is None or hole is None:
        says = msg("The tines move {ratio} times as far as the limiter.", ratio=ratio)
        yield Finding(Verdict.IN_ORDER, about, says, None, (working,))
        return
    need = msg(
        "Wanted {wanted} / {ratio} = {move}; {holes} × {hole} give {gives}.",
        wanted=Amount(wanted, Kind.LENGTH, unit),
        ratio=ratio,
        move=Amount(found.move, Kind.LENGTH, unit),
        holes=found.holes,
        hole=Amount(hole, Kind.LENGTH, unit),
        gives=Amount(found.gives, Kind.LENGTH, unit),
    )
    source = facts.profile.width.headland_clearance.source
    yield Finding(Verdict.IN_ORDER, about, found.says, None, (working, need), source)


def trial_said(found: Limiter, moved: float, changed: float, unit: str) -> Message:
    """The ratio with its numbers."""
    return msg(
        "Ratio = {changed} / {moved} = {ratio}.",
        changed=Amount(changed, Kind.LENGTH, unit),
        moved=Amount(moved, Kind.LENGTH, unit),
        ratio=Amount(found.ratio, Kind.NUMBER, "1"),
    )


def missing(facts: Facts) -> float | None:
    """How much higher the lower rotor has to come; 0 where it is high enough."""
    wanted = facts.value(facts.profile.width.headland_clearance)
    known = [facts.number("headland_clearance", side.value) for side in SIDES]
    read = [k for k in known if k is not None and abs(k) <= LARGEST]
    if wanted is None or not read:
        return None
    return max(wanted - min(read), 0.0)
