"""Entries of one table that contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from rakeprep.calculations import Impossible
from rakeprep.calculations.bolts import strength, thread
from rakeprep.calculations.spring_pins import PINS, lookup
from rakeprep.model.profile import (
    BoltJoint,
    Circuit,
    FieldSettings,
    PinJoint,
    Profile,
    Rotor,
    Service,
    WidthAndLift,
)
from rakeprep.model.source import Sourced
from rakeprep.model.tractor import Acting
from rakeprep.text import Message, msg

Found = Iterator[tuple[str, Message]]
ONE_HOSE = msg("A single acting circuit has one hose; write its label, or say that it is double acting.")
TWO_HOSES = msg("A double acting circuit has two hoses; write both labels, or say that it is single acting.")
FEWEST_PLACES = 4  # a plane needs three points, and a fourth to see a wrong one


def contradictions(made: object) -> Found:
    """Keys of a table that cannot be right beside the others, with the reason."""
    check = CHECKS.get(type(made))
    if check:
        yield from check(made)


def rotor(made: Rotor) -> Found:
    """Arms and clock places."""
    if made.fitted > made.arms:
        yield (
            "fitted",
            msg("More arms are fitted than there are ({arms}); correct one of the two.", arms=made.arms),
        )
    if len(set(made.clock_places)) != len(made.clock_places):
        yield "clock_places", msg("An hour stands twice among the clock places; take one away.")
    elif len(made.clock_places) < FEWEST_PLACES:
        yield (
            "clock_places",
            msg("At least {least} clock places are needed to see a wrong one.", least=FEWEST_PLACES),
        )


def pin_joint(made: PinJoint) -> Found:
    """Sizes of pins and of the bolt."""
    for name, size in (("pin", made.pin), ("inner_pin", made.inner_pin)):
        if name == "inner_pin" and size == 0:
            continue
        if not is_pin(size):
            sizes = ", ".join(f"{round(pin.nominal * 1000, 1):g}" for pin in PINS if pin.nominal >= 0.005)
            yield (
                name,
                msg(
                    "ISO 8752 has no spring pin of nominal diameter {size}; it has: {sizes}.",
                    size=size,
                    sizes=sizes,
                ),
            )
    if made.inner_pin >= made.pin:
        yield "inner_pin", msg("The inner pin must be thinner than the pin around it ({pin}).", pin=made.pin)
    yield from fastener(made.bolt, made.bolt_class, "bolt")


def is_pin(size: int) -> bool:
    """Whether there is a spring pin of this nominal diameter in mm."""
    try:
        lookup(size / 1000)
    except Impossible:
        return False
    return True


def bolt_joint(made: BoltJoint) -> Found:
    """Thread and property class."""
    yield from fastener(made.thread, made.bolt_class, "thread")


def fastener(name: str, bolt_class: str, key: str) -> Found:
    """A thread's name and a property class that are known."""
    try:
        known = thread(name)
    except Impossible as error:
        yield key, error.message
        return
    try:
        strength(bolt_class, known.diameter)
    except Impossible as error:
        yield "bolt_class", error.message


def circuit(made: Circuit) -> Found:
    """Hoses and rams."""
    single = made.acting is Acting.SINGLE
    wanted = 1 if single else 2
    if len(made.hoses) != wanted or len(set(made.hoses)) != wanted:
        yield "hoses", ONE_HOSE if single else TWO_HOSES
    yield from smaller("rod", made.rod, made.bore, msg("The rod must be thinner than the bore."))


def settings(made: FieldSettings) -> Found:
    """The three limits of PTO speed, in their order."""
    yield from not_above(
        "working_speed",
        made.working_speed,
        made.speed_ceiling,
        msg("The working speed lies above the highest speed for raking; correct one of the two."),
    )
    yield from not_above(
        "speed_ceiling",
        made.speed_ceiling,
        made.gearbox_rating,
        msg("The highest speed for raking lies above the gearbox's rating; correct one of the two."),
    )


def width(made: WidthAndLift) -> Found:
    """Narrow and wide."""
    yield from smaller(
        "narrow", made.narrow, made.wide, msg("The smallest working width must be below the largest.")
    )


def service(made: Service) -> Found:
    """Visits in order."""
    if not made.visits or list(made.visits) != sorted(set(made.visits)):
        yield "visits", msg("Write the running hours of the visits in rising order, such as [1, 10, 50].")


def profile(made: Profile) -> Found:
    """What one table cannot see alone."""
    hoses = [hose for one in made.hydraulics.circuit for hose in one.hoses]
    if len(set(hoses)) != len(hoses):
        yield "hydraulics", msg("Two hoses have the same label; give each its own.")


def smaller(name: str, first: Sourced, second: Sourced, says: Message) -> Found:
    """``first`` must be below ``second``."""
    if first.exact >= second.exact:
        yield name, says


def not_above(name: str, first: Sourced, second: Sourced, says: Message) -> Found:
    """``first`` must not be above ``second``."""
    if first.exact > second.exact:
        yield name, says


CHECKS: dict[type, Callable[[Any], Found]] = {
    Rotor: rotor,
    PinJoint: pin_joint,
    BoltJoint: bolt_joint,
    Circuit: circuit,
    FieldSettings: settings,
    WidthAndLift: width,
    Service: service,
    Profile: profile,
}
