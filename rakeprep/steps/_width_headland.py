"""Tines clear of the windrow at the headland, and what the limiter needs for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rakeprep.calculations import Impossible, demand
from rakeprep.calculations.decision import Estimate, combine
from rakeprep.calculations.limiter import Limiter, headland_limiter
from rakeprep.model.facts import Facts
from rakeprep.model.field import Field
from rakeprep.model.finding import Finding
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import Limit, against, unit_of
from rakeprep.steps._reading import SIDES, cannot_tell, doubt_of, reading
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
    moved, changed = trial(facts)
    if moved is None or changed is None:
        return
    about = tuple(facts.slot(key) for key in ("limiter_effect", "limiter_change", "limiter_hole"))
    hole, wanted = reading(facts, "limiter_hole", "", "tape"), missing(facts)
    unit = unit_of(facts, by_key["limiter_effect"])
    try:
        for length in (moved, changed, moved if hole is None else hole):
            demand(abs(length.value) >= SMALLEST, msg("Moves and holes of the limiter are larger than that."))
        # without a hole or a need, one hole of the trial's size and no need give the ratio alone
        size = Estimate(abs(moved.value), 0.0) if hole is None else hole
        found = headland_limiter(moved, changed, wanted or Estimate(0.0, 0.0), size, at_least=True)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    working = trial_said(found, moved, changed, unit)
    if wanted is None or hole is None:
        ratio = Amount(abs(found.ratio.value), Kind.NUMBER, "1", doubt=found.ratio.doubt)
        says = msg("The tines move {ratio} times as far as the limiter.", ratio=ratio)
        yield Finding(Verdict.IN_ORDER, about, says, None, (working,))
        return
    need = msg(
        "Wanted {wanted} / {ratio} = {move}; {holes} × {hole} give {gives}.",
        wanted=Amount(wanted.value, Kind.LENGTH, unit, doubt=wanted.doubt),
        ratio=Amount(found.ratio.value, Kind.NUMBER, "1", doubt=found.ratio.doubt),
        move=Amount(found.move.value, Kind.LENGTH, unit, doubt=found.move.doubt),
        holes=found.holes,
        hole=Amount(hole.value, Kind.LENGTH, unit),
        gives=Amount(found.gives.value, Kind.LENGTH, unit, doubt=found.gives.doubt),
    )
    source = facts.profile.width.headland_clearance.source
    todo = msg("Then measure the clearance again.") if found.holes else None
    yield Finding(Verdict.IN_ORDER, about, found.says, todo, (working, need), source)


def trial(facts: Facts) -> tuple[Estimate | None, Estimate | None]:
    """How far the limiter was moved, and the tines with it: the difference of two heights, each read once."""
    moved, changed = (
        reading(facts, "limiter_change", "", "tape"),
        reading(facts, "limiter_effect", "", "tape"),
    )
    if changed is None:
        return moved, None
    doubt = max(doubt_of("steel-rule", changed.value), changed.doubt)
    return moved, Estimate(changed.value, combine([(1, doubt), (-1, doubt)]))


def trial_said(found: Limiter, moved: Estimate, changed: Estimate, unit: str) -> Message:
    """The ratio with its numbers."""
    return msg(
        "Ratio = {changed} / {moved} = {ratio}.",
        changed=Amount(changed.value, Kind.LENGTH, unit, doubt=changed.doubt),
        moved=Amount(moved.value, Kind.LENGTH, unit, doubt=moved.doubt),
        ratio=Amount(found.ratio.value, Kind.NUMBER, "1", doubt=found.ratio.doubt),
    )


def missing(facts: Facts) -> Estimate | None:
    """How much higher the lower rotor has to come; 0 where it is high enough."""
    wanted = facts.value(facts.profile.width.headland_clearance)
    known = [reading(facts, "headland_clearance", side.value, "steel-rule") for side in SIDES]
    read = [each for each in known if each is not None]
    if wanted is None or not read:
        return None
    lower = min(read, key=lambda each: each.value)
    return Estimate(max(wanted - lower.value, 0.0), lower.doubt)
