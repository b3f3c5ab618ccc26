"""Hitch: does the machine fit the tractor's links, does it stand level, and can the tractor carry it."""

from __future__ import annotations

from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate, combine, near
from rakeprep.calculations.hitch import pin_level
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Need, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile
from rakeprep.model.step import Caution, Step
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps import _hitch_fit, _hitch_loads
from rakeprep.steps._judged import Limit, against, answered_no, doubt_said, unit_of
from rakeprep.steps._reading import SIDES, cannot_tell, reading, shown
from rakeprep.text import msg
from rakeprep.units import Amount, Kind

ROAD = frozenset({Use.ROAD})
NOT_SAFE = frozenset({Use.ROAD, Use.FIELD})
PINS = (
    Place("left", msg("left lower link"), "hitch"),
    Place("right", msg("right lower link"), "hitch"),
)
TYRES = (
    Place("left", msg("full turn to the left"), "tractor"),
    Place("right", msg("full turn to the right"), "tractor"),
)
TYRE_CLEARANCE = Limit(
    msg("{place}: {read} between tyre and machine, at least {limit}."),
    msg("{place}: {read} between tyre and machine is too close to {limit} to tell."),
    msg("{place}: only {read} between tyre and machine, at least {limit} are needed."),
    msg("Limit the steering lock, narrow the track or tighten the links; then measure again at a stop."),
    from_below=True,
    bars=NOT_SAFE,
)
GUARD_CLEARANCE = Limit(
    msg("{read} between links and driveline guard, at least {limit}."),
    msg("{read} between links and driveline guard is too close to {limit} to tell."),
    msg("Only {read} between links and driveline guard, at least {limit} are needed."),
    msg("Take the sway out of the links; look at the highest and lowest position, engine off."),
    from_below=True,
    bars=frozenset({Use.PTO}),
)


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions of this step."""
    return (
        *_hitch_fit.fields(profile, tractor),
        *standing_fields(profile),
        *clearance_fields(profile),
        *_hitch_loads.fields(),
    )


def standing_fields(profile: Profile) -> tuple[Field, ...]:
    """How the coupled machine stands."""
    return (
        Field(
            "height",
            msg("Height of the lower-link pin"),
            Ask.QUANTITY,
            msg("Middle of the pin to the level floor, both against one line: water level or laser."),
            PINS,
            Kind.LENGTH,
            profile.hitch.height.typed.unit,
            bars=frozenset({Use.FIELD}),
            instrument="water-level",
            rests_on=("tractor",),
        ),
        Field(
            "link_stop",
            msg("Mark of the link position"),
            Ask.TEXT,
            msg("What the driver sets to find this height again: number on the dial, ring on the lever."),
            need=Need.MAY,
            rests_on=("tractor", "hitch.height"),
        ),
        Field(
            "side_sway",
            msg("Links tight, no side sway"),
            Ask.CHOICE,
            msg("Stabilisers set, then push the coupled hitch sideways by hand, engine off."),
            options=YES_NO,
            bars=NOT_SAFE,
            rests_on=("tractor",),
        ),
        Field(
            "stand",
            msg("Stand up and pinned"),
            Ask.CHOICE,
            msg("Raised after coupling, its pin and clip in."),
            options=YES_NO,
            need=Need.MUST,
            bars=NOT_SAFE,
        ),
        Field(
            "clip",
            msg("Pin secured with its clip"),
            Ask.CHOICE,
            msg("Look at each lower link: ball locked, or pin through and clip closed."),
            PINS,
            options=YES_NO,
            need=Need.MUST,
            bars=NOT_SAFE,
            rests_on=("tractor",),
        ),
    )


def clearance_fields(profile: Profile) -> tuple[Field, ...]:
    """What must not touch in a full turn."""
    return (
        Field(
            "tyre_clearance",
            msg("Rear tyre to machine, full turn"),
            Ask.QUANTITY,
            msg("Drive slowly into the turn, stop, engine off, key out; then measure the nearest place."),
            TYRES,
            Kind.LENGTH,
            profile.hitch.tyre_clearance.typed.unit,
            bars=NOT_SAFE,
            instrument="tape",
            rests_on=("tractor", "hitch.height"),
        ),
        Field(
            "guard_clearance",
            msg("Links to driveline guard, smallest"),
            Ask.QUANTITY,
            msg("Engine off, key out. The smallest of lowest, working and highest position of the links."),
            kind=Kind.LENGTH,
            unit=profile.hitch.guard_clearance.typed.unit,
            bars=frozenset({Use.PTO}),
            instrument="tape",
            rests_on=("tractor", "hitch.height"),
        ),
    )


def check(facts: Facts) -> Iterable[Finding]:
    """Judge fit, level, clearances and loads."""
    by_key = {f.key: f for f in fields(facts.profile, facts.tractor)}
    hitch = facts.profile.hitch
    yield from _hitch_fit.findings(facts, by_key)
    yield from height_findings(facts, by_key["height"])
    yield from level_findings(facts, by_key["height"])
    yield from answered_no(
        facts,
        by_key["side_sway"],
        msg("The links sway sideways."),
        msg("Tighten both stabilisers alike until the hitch stands in the middle."),
        bars=NOT_SAFE,
    )
    yield from answered_no(
        facts,
        by_key["stand"],
        msg("The stand is not up and pinned."),
        msg("Couple first, then raise the stand and put its pin and clip in."),
        bars=NOT_SAFE,
    )
    yield from answered_no(
        facts,
        by_key["clip"],
        msg("{place}: not secured."),
        msg("Nothing is lifted or driven before every pin has its clip."),
        Verdict.STOP,
        NOT_SAFE,
    )
    for place in TYRES:
        yield from against(facts, by_key["tyre_clearance"], place.key, hitch.tyre_clearance, TYRE_CLEARANCE)
    yield from against(facts, by_key["guard_clearance"], "", hitch.guard_clearance, GUARD_CLEARANCE)
    yield from _hitch_loads.findings(facts, by_key)


def height_findings(facts: Facts, field: Field) -> Iterable[Finding]:
    """Judge each pin's height; the nominal height only starts the levelling of the rotors."""
    hitch = facts.profile.hitch
    target, tolerance = facts.value(hitch.height), facts.value(hitch.height_tolerance)
    if target is None or tolerance is None:
        return
    for place in PINS:
        read = reading(facts, "height", place.key, field.instrument)
        if read is None:
            continue
        about = (facts.slot("height", place.key),)
        unit = unit_of(facts, field, place.key)
        say = {
            "place": place.name,
            "read": Amount(read.value, Kind.LENGTH, unit, both=True),
            "target": shown(hitch.height, both=True),
            "tolerance": shown(hitch.height_tolerance),
        }
        working = (doubt_said(Kind.LENGTH, read.doubt, unit),)
        try:
            verdict = near(read.value, read.doubt, target, tolerance)
        except Impossible as reason:
            yield cannot_tell(about, reason)
            continue
        if verdict is Verdict.IN_ORDER:
            says, todo = msg("{place}: {read} is right.", **say), None
        elif verdict is Verdict.MEASURE_AGAIN:
            says = msg("{place}: {read} is too close to the edge of {target} ± {tolerance}.", **say)
            todo = msg("Bring it nearer to {target} and measure again.", **say)
        else:
            says = msg("{place}: {read}; the nominal height is {target} ± {tolerance}.", **say)
            todo = msg("Set the links. Later the rotors' level decides, if the machine's book says so.")
        yield Finding(verdict, about, says, todo, working, hitch.height.source)


def reach(profile: Profile) -> float:
    """How far the outermost tine tip lies from the machine's middle line, in metres."""
    rotors = (profile.rotor_at(side) for side in SIDES)
    return max(abs(rotor.beside_middle.value) + rotor.tip_circle.value / 2 for rotor in rotors)


def level_findings(facts: Facts, field: Field) -> Iterable[Finding]:
    """Judge left against right, and say what the difference makes at the outer tines."""
    hitch = facts.profile.hitch
    left, right = (reading(facts, "height", place.key, field.instrument) for place in PINS)
    limit, span = facts.value(hitch.level_tolerance), facts.value(hitch.span)
    if left is None or right is None or limit is None or span is None:
        return
    about = (facts.slot("height", "left"), facts.slot("height", "right"))
    unit, out = unit_of(facts, field, "left"), reach(facts.profile)
    difference = left.value - right.value
    try:
        doubt = combine([(1, left.doubt), (-1, right.doubt)])
        verdict = near(difference, doubt, 0.0, limit)
        level = pin_level(left, right, Estimate(span, 0.0), out)
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {
        "difference": Amount(abs(difference), Kind.LENGTH, unit, both=True),
        "limit": shown(hitch.level_tolerance),
        "error": Amount(abs(level.error.value), Kind.LENGTH, unit, both=True),
        "reach": Amount(out, Kind.LENGTH, "m"),
    }
    working = (
        msg("{difference} over the span, times {reach} out to the tines: {error}.", **say),
        doubt_said(Kind.LENGTH, doubt, unit),
    )
    if verdict is Verdict.IN_ORDER:
        says, todo = msg("Left and right pin agree to {difference}.", **say), None
    elif verdict is Verdict.MEASURE_AGAIN:
        says = msg("Left and right pin differ by {difference}; too close to {limit} to tell.", **say)
        todo = msg("Measure both against one water level or laser line.")
    else:
        side = PINS[0].name if difference > 0 else PINS[1].name
        says = msg("{side} is {difference} higher: {error} at the outer tines.", **say, side=side)
        todo = msg("Make both links equal before any rotor is levelled.")
    yield Finding(verdict, about, says, todo, working, hitch.level_tolerance.source)


STEP = Step(
    key="hitch",
    order=3,
    title=msg("Hitch"),
    about=msg("Couple the customer's own tractor: fit, height, clearances, and what its axles carry."),
    cautions=(
        Caution(
            msg("A person between tractor and machine can be crushed while coupling."),
            msg("Stand clear until the tractor has stopped, brake on, neutral; then engine off, key out."),
            "crushing",
        ),
        Caution(
            msg("An uncoupled or part-built machine can tip."),
            msg("Level hard floor, stand down and pinned, wheels chocked both ways."),
            "tipping",
        ),
    ),
    fields=fields,
    checks=(check,),
)
