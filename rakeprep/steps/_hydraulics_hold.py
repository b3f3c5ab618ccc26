"""The one-rotor hold where it is fitted: what rises at which switch, and its 12 V supply."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import within
from rakeprep.calculations.remotes import Hold, Switch, hold
from rakeprep.model.facts import Facts
from rakeprep.model.field import YES_NO, Ask, Field, Option, Use
from rakeprep.model.finding import Finding
from rakeprep.model.place import Place
from rakeprep.model.profile import Profile, RotorHold, Unpowered
from rakeprep.model.tractor import Tractor
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import answered_no, sane
from rakeprep.steps._reading import cannot_tell, rule_of_thumb, shown
from rakeprep.text import msg
from rakeprep.units import Amount, Kind

FIELD_WORK = frozenset({Use.FIELD})
FUSE_FACTOR = 1.5  # of the coils' current, a rule of thumb
SWITCHES = {
    "both": (Switch.BOTH, msg("switch on both rotors")),
    "left-only": (Switch.LEFT_ONLY, msg("switch on left rotor only")),
    "right-only": (Switch.RIGHT_ONLY, msg("switch on right rotor only")),
    "unpowered": (Switch.NO_POWER, msg("plug pulled out")),
}
RISES = (Option("left", msg("left rotor rises")), Option("right", msg("right rotor rises")))
WITHOUT_POWER = {
    Unpowered.BOTH_RISE: (True, True),
    Unpowered.NEITHER_RISES: (False, False),
    Unpowered.LEFT_ONLY: (True, False),
    Unpowered.RIGHT_ONLY: (False, True),
}


def fields(profile: Profile, tractor: Tractor) -> tuple[Field, ...]:
    """The questions about the hold; none on a machine without it."""
    if profile.hydraulics.rotor_hold is None:
        return ()
    return (
        Field(
            "supply",
            msg("12 V plug in a switched socket"),
            Ask.CHOICE,
            msg("Key off to plug in. The socket must go dead with its switch; cable without strain."),
            options=YES_NO,
            bars=FIELD_WORK,
            rests_on=("tractor",),
        ),
        Field(
            "fuse",
            msg("Fuse of that socket"),
            Ask.QUANTITY,
            msg("As marked on the fuse that is in."),
            kind=Kind.CURRENT,
            unit="A",
            rests_on=("tractor",),
        ),
        Field(
            "hold",
            msg("What rises with the lever at up"),
            Ask.MANY,
            msg("Latches free, nobody within the swing. Choose what rises; nothing, if nothing does."),
            tuple(Place(key, name, "machine") for key, (_, name) in SWITCHES.items()),
            options=RISES,
            bars=FIELD_WORK,
            rests_on=("tractor", "hydraulics.remote"),
        ),
    )


def findings(facts: Facts, by_key: Mapping[str, Field]) -> Iterable[Finding]:
    """Judge supply, fuse and the four places of the switch."""
    fitted = facts.profile.hydraulics.rotor_hold
    if fitted is None:
        return
    if not facts.tractor.electric.supply:
        yield Finding(
            Verdict.PUT_RIGHT,
            (facts.slot("supply"),),
            msg("The tractor has no switched 12 V socket; the one-rotor hold would not work."),
            msg("Have a switched and fused socket fitted before the machine works."),
            bars=FIELD_WORK,
        )
    yield from answered_no(
        facts,
        by_key["supply"],
        msg("The plug is not in a switched 12 V socket."),
        msg("Find or fit one; never a plug that stays live with the key off."),
        bars=FIELD_WORK,
    )
    yield from fuse_findings(facts, fitted)
    for place in by_key["hold"].places:
        yield from hold_findings(facts, fitted, place)


def fuse_findings(facts: Facts, fitted: RotorHold) -> Iterable[Finding]:
    """Hold the fuse against the current of the coils; the tractor data count until one was read."""
    current, read = facts.value(fitted.current), sane(facts, "fuse")
    fuse = facts.value(facts.tractor.electric.fuse) if read is None else read
    if fuse is None or current is None:
        return
    about = (facts.slot("fuse"),)
    least = FUSE_FACTOR * current
    try:
        enough = within(fuse, 0, low=least) is Verdict.IN_ORDER
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {
        "fuse": Amount(fuse, Kind.CURRENT, "A"),
        "least": Amount(least, Kind.CURRENT, "A", toward="up"),
        "current": shown(fitted.current),
    }
    source = rule_of_thumb(msg("fuse of at least one and a half times the current of the coils"))
    if enough and read is None:
        return
    if enough:
        says = msg("Fuse {fuse}; the coils take {current}, at least {least}.", **say)
        yield Finding(Verdict.IN_ORDER, about, says, source=source)
        return
    says = msg("Fuse {fuse} is too small: the coils take {current}, at least {least} are needed.", **say)
    todo = msg("Use another socket; a larger fuse only where the tractor's book allows it for that wire.")
    yield Finding(Verdict.PUT_RIGHT, about, says, todo, source=source, bars=FIELD_WORK)


def hold_findings(facts: Facts, fitted: RotorHold, place: Place) -> Iterable[Finding]:
    """Judge what rose at one place of the switch."""
    rose = facts.chosen("hold", place.key)
    if rose is None or rose - {"left", "right"}:
        return
    about = (facts.slot("hold", place.key), facts.slot("supply"))
    switch, name = SWITCHES[place.key]
    try:
        found: Hold = hold(switch, "left" in rose, "right" in rose, WITHOUT_POWER[fitted.unpowered])
    except Impossible as reason:
        yield cannot_tell(about, reason)
        return
    say = {"place": name, "says": found.says}
    if found.as_expected:
        yield Finding(Verdict.IN_ORDER, about, msg("{place}: as it should be.", place=name))
        return
    todo = msg("Lower it, engine off; then look at plugs, supply and valves, and test all four again.")
    yield Finding(Verdict.PUT_RIGHT, about, msg("{place}: {says}", **say), todo, bars=FIELD_WORK)
