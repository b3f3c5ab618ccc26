"""Before anything is lifted off the truck: no lift without a mass, and none beyond fork or sling."""

from __future__ import annotations

import math
from collections.abc import Iterable

from rakeprep.calculations import Impossible
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.lifting import fork_capacity, may_lift, round_down, sling_angle, sling_leg
from rakeprep.model.entry import Slot
from rakeprep.model.facts import Facts
from rakeprep.model.field import Ask, Field, Need, Option
from rakeprep.model.finding import Finding
from rakeprep.model.profile import Profile
from rakeprep.model.source import Source
from rakeprep.model.verdict import Verdict
from rakeprep.steps._judged import sane, with_gaps
from rakeprep.steps._reading import cannot_tell, rule_of_thumb, standard
from rakeprep.text import Message, msg
from rakeprep.units import Amount, Kind, to_si

WITH = (Option("fork", msg("fork truck or front loader")), Option("sling", msg("crane, sling of two legs")))
FORK = rule_of_thumb(msg("fork capacity by moments about the front wheels, 450 mm behind the fork's face"))
SLING = standard("EN 818-4", msg("no leg wider than 60° from the vertical (from memory)"))


def fields(profile: Profile) -> tuple[Field, ...]:
    """The questions before unloading, all of them for those who want the numbers."""
    length = profile.machine.pins_to_axle.typed.unit

    def asked(key: str, label: Message, about: Message, kind: Kind) -> Field:
        unit = "kg" if kind is Kind.MASS else "mm" if length in {"m", "cm", "mm"} else length
        return Field(key, label, Ask.QUANTITY, about, kind=kind, unit=unit, need=Need.MAY)

    return (
        Field(
            "lift_with",
            msg("What it is lifted off with"),
            Ask.CHOICE,
            msg("Only if this shop unloads it. Before the lift, not after."),
            options=WITH,
            need=Need.MAY,
        ),
        asked(
            "lift_mass",
            msg("Mass of the heaviest piece"),
            msg("From its plate or the papers. Empty: the whole machine's mass of the machine data counts."),
            Kind.MASS,
        ),
        asked(
            "truck_capacity",
            msg("Capacity on the truck's plate"),
            msg("Fork truck only: the number for the height of this lift and the mast upright."),
            Kind.MASS,
        ),
        asked(
            "truck_centre",
            msg("Load centre on the truck's plate"),
            msg("Fork truck only: from the fork's face. Usual: 500 or 600 mm."),
            Kind.LENGTH,
        ),
        asked(
            "load_centre",
            msg("Load's centre from the fork's face"),
            msg("Half the depth of the bundle, or where the mark for the centre of gravity is."),
            Kind.LENGTH,
        ),
        asked(
            "leg_capacity",
            msg("Capacity of one leg of the sling"),
            msg("Sling only: on its tag, for one straight leg."),
            Kind.MASS,
        ),
        asked("leg", msg("Length of one leg"), msg("Sling only: hook to lifting point."), Kind.LENGTH),
        asked(
            "leg_spread",
            msg("Distance of the lifting points"),
            msg("Sling only: between the two marked points, both equally high."),
            Kind.LENGTH,
        ),
    )


def load_of(facts: Facts) -> Estimate | None:
    """The mass with half its last digit as doubt: as entered, else the whole machine's."""
    entry = facts.entry("lift_mass")
    entered = sane(facts, "lift_mass")
    if entry is not None and entered is not None:
        return Estimate(entered, float(entry.division or 0) / 2)
    printed = facts.profile.machine.mass
    mass = facts.value(printed)
    if mass is None:
        return None
    return Estimate(mass, float(to_si(printed.typed.division, printed.typed.unit)) / 2)


def findings(facts: Facts) -> Iterable[Finding]:
    """Judge the lift that was chosen."""
    chosen = facts.chosen("lift_with") or frozenset()
    about = (facts.slot("lift_with"), facts.slot("lift_mass"))
    if not chosen & {"fork", "sling"}:
        return
    load = load_of(facts)
    if load is None:
        yield Finding(
            Verdict.STOP,
            about,
            may_lift(None, 0.0).says,
            msg("Read the plate or the papers, or weigh it on the truck. No lift without a mass."),
        )
        return
    try:
        if "fork" in chosen:
            yield from fork_findings(facts, load)
        else:
            yield from sling_findings(facts, load)
    except Impossible as reason:
        yield cannot_tell(about, reason)


def kilograms(value: float, toward: str = "nearest") -> Amount:
    """A mass in both families of units."""
    return Amount(value, Kind.MASS, "kg", toward=toward, both=True)


def fork_findings(facts: Facts, load: Estimate) -> Iterable[Finding]:
    """Hold the load against what the truck lifts at that load centre."""
    rated, rated_centre, centre = (
        sane(facts, key) for key in ("truck_capacity", "truck_centre", "load_centre")
    )
    if rated is None or rated_centre is None or centre is None:
        return
    here = round_down(fork_capacity(rated, rated_centre, centre))
    working = (
        msg(
            "Capacity = plate · (plate's centre + a) / (load's centre + a), down to whole 50 kg = {here}.",
            here=kilograms(here, "down"),
        ),
    )
    about = tuple(facts.slot(key) for key in ("lift_with", "lift_mass", "truck_capacity", "load_centre"))
    says = msg("{load} to lift; with the load that far out the truck may take {most}.")
    yield verdict_on(about, load, here, says, working, FORK)


def sling_findings(facts: Facts, load: Estimate) -> Iterable[Finding]:
    """Hold what comes on each leg against its tag."""
    limit, leg, spread = (sane(facts, key) for key in ("leg_capacity", "leg", "leg_spread"))
    if limit is None or leg is None or spread is None:
        return
    angle = sling_angle(leg, spread)
    share = sling_leg(1.0, angle)
    each = Estimate(load.value * share, load.doubt * share)
    working = (
        msg(
            "Each leg stands {angle} from the vertical and carries W / (2 cos) = {each}.",
            angle=Amount(math.degrees(angle), Kind.ANGLE, "°", toward="up"),
            each=kilograms(each.value, "up"),
        ),
    )
    about = tuple(facts.slot(key) for key in ("lift_with", "lift_mass", "leg_capacity", "leg", "leg_spread"))
    says = msg("Each leg of the sling gets {load}; its tag allows {most}.")
    yield verdict_on(about, each, limit, says, working, SLING)


def verdict_on(
    about: tuple[Slot, ...],
    load: Estimate,
    capacity: float,
    says: Message,
    working: tuple[Message, ...],
    source: Source,
) -> Finding:
    """The finding on a load against a capacity; ``says`` has the gaps ``{load}`` and ``{most}``."""
    lift = may_lift(load, capacity)
    sentence = with_gaps(says, load=kilograms(load.value, "up"), most=kilograms(capacity, "down"))
    return Finding(lift.verdict, about, sentence, lift.says, working, source)
