"""Which hose goes to which of the tractor's remotes, and the one-rotor hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Annotated

from rakeprep.calculations import Impossible, demand, not_negative
from rakeprep.text import Message, joined, msg, verbatim

MOST_REMOTES = 12


class Feature(StrEnum):
    """What a circuit may ask of a remote."""

    DOUBLE_ACTING = "double acting"
    FLOAT = "float"
    FREE_RETURN = "free return"
    DETENT = "detent"
    FLOW = "flow"
    PRESSURE = "pressure"


@dataclass(frozen=True, slots=True)
class Need:
    """What one circuit of the machine asks for.

    ``double_acting``: two couplings. ``float_return``: must be able to float or come down by its
    weight. ``free_return``: a return without back pressure. ``detent``: the lever must stay put.
    """

    key: str
    double_acting: bool = False
    float_return: bool = False
    free_return: bool = False
    detent: bool = False
    flow: Annotated[float, "m³/s"] = 0.0
    pressure: Annotated[float, "Pa"] = 0.0


@dataclass(frozen=True, slots=True)
class Remote:
    """What one remote of the tractor offers.

    ``float_position`` also stands for a single-acting remote that opens to the tank. A flow or
    pressure of None is not known; it is accepted and reported as unproven.
    """

    key: str
    double_acting: bool = True
    float_position: bool = False
    free_return: bool = False
    detent: bool = False
    flow: Annotated[float, "m³/s"] | None = None
    pressure: Annotated[float, "Pa"] | None = None


@dataclass(frozen=True, slots=True)
class Missing:
    """A circuit that found no remote: what the nearest one left would need, and the sentence."""

    need: str
    features: tuple[Feature, ...]
    says: Message


@dataclass(frozen=True, slots=True)
class Assignment:
    """Pairs of circuit and remote, circuits left over, spare remotes, and what is taken on trust."""

    pairs: tuple[tuple[str, str], ...]
    missing: tuple[Missing, ...]
    spare: tuple[str, ...]
    unproven: tuple[tuple[str, Feature], ...]
    waste: int

    @property
    def complete(self) -> bool:
        """Whether every circuit has its remote."""
        return not self.missing


def lacking(need: Need, remote: Remote) -> tuple[Feature, ...]:
    """Features that ``need`` asks for and ``remote`` does not have.

    A double-acting remote serves a circuit with one hose if its other port may stay closed.

    Args:
        need: the circuit.
        remote: the remote.

    Returns:
        missing features, empty if the remote will do.

    Raises:
        Impossible: nothing.

    Example:
        >>> [f.value for f in lacking(Need("LIFT", float_return=True), Remote("R1"))]
        ['float']

    Source: logic.
    """
    asked = {
        Feature.DOUBLE_ACTING: need.double_acting and not remote.double_acting,
        Feature.FLOAT: need.float_return and not remote.float_position,
        Feature.FREE_RETURN: need.free_return and not remote.free_return,
        Feature.DETENT: need.detent and not remote.detent,
        Feature.FLOW: remote.flow is not None and remote.flow < need.flow,
        Feature.PRESSURE: remote.pressure is not None and remote.pressure < need.pressure,
    }
    return tuple(feature for feature, lacks in asked.items() if lacks)


def wasted(need: Need, remote: Remote) -> int:
    """How much of a remote a circuit leaves unused; rare features weigh more.

    Args:
        need: the circuit.
        remote: the remote.

    Returns:
        weight, 0 if nothing is wasted.

    Raises:
        Impossible: nothing.

    Example:
        >>> wasted(Need("W", double_acting=True), Remote("R2", float_position=True))
        4

    Source: own weights; they only decide between assignments that all work.
    """
    return (
        4 * (remote.float_position and not need.float_return)
        + 4 * (remote.free_return and not need.free_return)
        + 2 * (remote.double_acting and not need.double_acting)
        + (remote.detent and not need.detent)
    )


def assign(needs: Sequence[Need], remotes: Sequence[Remote]) -> Assignment:
    """Give every circuit a remote of its own that has all it asks for.

    Exact: every assignment is weighed (each state of taken remotes once). As many circuits as
    possible are served; among those assignments the one that wastes least; among equals the one
    that takes remotes in the order given.

    Args:
        needs: the machine's circuits.
        remotes: the tractor's remotes, at most 12.

    Returns:
        the :class:`Assignment`.

    Raises:
        Impossible: more than 12 remotes or circuits, a key used twice, a flow or pressure below zero.

    Example:
        >>> tractor = [Remote("R1"), Remote("R2", float_position=True), Remote("R3")]
        >>> rake = [Need("LIFT", float_return=True), Need("W", double_acting=True)]
        >>> assign(rake, tractor).pairs
        (('LIFT', 'R2'), ('W', 'R1'))

    Source: the assignment problem, solved by recursion over the set of remotes taken.
    """
    _check(needs, remotes)
    options = [
        [(place, wasted(need, remote)) for place, remote in enumerate(remotes) if not lacking(need, remote)]
        for need in needs
    ]

    @cache
    def best(at: int, taken: int) -> tuple[int, int, tuple[int | None, ...]]:
        if at == len(options):
            return 0, 0, ()
        chosen: tuple[int, int, tuple[int | None, ...]] | None = None
        for place, waste in options[at]:
            if taken >> place & 1:
                continue
            unserved, rest, places = best(at + 1, taken | 1 << place)
            if chosen is None or (unserved, waste + rest) < chosen[:2]:
                chosen = (unserved, waste + rest, (place, *places))
        unserved, rest, places = best(at + 1, taken)
        if chosen is None or (unserved + 1, rest) < chosen[:2]:
            chosen = (unserved + 1, rest, (None, *places))
        return chosen

    _, waste, places = best(0, 0)
    return _told(needs, remotes, places, waste)


def _check(needs: Sequence[Need], remotes: Sequence[Remote]) -> None:
    many = msg("No tractor has more than {most} remotes.", most=MOST_REMOTES)
    demand(len(remotes) <= MOST_REMOTES and len(needs) <= MOST_REMOTES, many)
    for keys in ([need.key for need in needs], [remote.key for remote in remotes]):
        demand(len(set(keys)) == len(keys), msg("Two circuits or two remotes have the same name."))
    for flow in (*(need.flow for need in needs), *(remote.flow for remote in remotes)):
        not_negative(flow or 0.0, msg("flow"))
    for pressure in (*(need.pressure for need in needs), *(remote.pressure for remote in remotes)):
        not_negative(pressure or 0.0, msg("pressure"))


def _told(
    needs: Sequence[Need], remotes: Sequence[Remote], places: Sequence[int | None], waste: int
) -> Assignment:
    taken = set(places)
    spare = [remote for place, remote in enumerate(remotes) if place not in taken]
    served = [(need, remotes[at]) for need, at in zip(needs, places, strict=True) if at is not None]
    left = [need for need, at in zip(needs, places, strict=True) if at is None]
    unproven = [
        (need.key, feature)
        for need, remote in served
        for feature, asked, offered in (
            (Feature.FLOW, need.flow, remote.flow),
            (Feature.PRESSURE, need.pressure, remote.pressure),
        )
        if asked > 0 and offered is None
    ]
    return Assignment(
        tuple((need.key, remote.key) for need, remote in served),
        tuple(_missing(need, spare) for need in left),
        tuple(remote.key for remote in spare),
        tuple(unproven),
        waste,
    )


def _missing(need: Need, spare: Sequence[Remote]) -> Missing:
    name = verbatim(need.key)
    if not spare:
        return Missing(need.key, (), msg("No remote left for {circuit}.", circuit=name))
    features = min((lacking(need, remote) for remote in spare), key=len)
    what = joined([FEATURE_WORDS[feature] for feature in features])
    if Feature.FLOAT in features:
        says = msg(
            "No remote with {what} left for {circuit}: it would not come down.", what=what, circuit=name
        )
    else:
        says = msg("No remote with {what} left for {circuit}.", what=what, circuit=name)
    return Missing(need.key, features, says)


FEATURE_WORDS = {
    Feature.DOUBLE_ACTING: msg("two couplings"),
    Feature.FLOAT: msg("float"),
    Feature.FREE_RETURN: msg("a free return"),
    Feature.DETENT: msg("a lever that stays put"),
    Feature.FLOW: msg("enough flow"),
    Feature.PRESSURE: msg("enough pressure"),
}


class Switch(StrEnum):
    """The switch that holds one rotor down while the other is lifted."""

    BOTH = "both"
    LEFT_ONLY = "left only"
    RIGHT_ONLY = "right only"
    NO_POWER = "no power"


@dataclass(frozen=True, slots=True)
class Hold:
    """What the lift did at one place of the switch: as expected or not, and the suspicion."""

    as_expected: bool
    says: Message


RISES = {
    Switch.BOTH: (True, True),
    Switch.LEFT_ONLY: (True, False),
    Switch.RIGHT_ONLY: (False, True),
}


def hold(
    switch: Switch, left_rises: bool, right_rises: bool, without_power: tuple[bool, bool] | None = None
) -> Hold:
    """Judge the one-rotor hold: which rotor rose when the lift lever was put to up.

    Args:
        switch: where the switch stood.
        left_rises: whether the left rotor rose.
        right_rises: whether the right rotor rose.
        without_power: which of left and right rise with the plug out, from the machine's data.

    Returns:
        the :class:`Hold`.

    Raises:
        Impossible: the plug was out and the machine's data do not say what happens then.

    Example:
        >>> str(hold(Switch.LEFT_ONLY, False, True).says)
        'The other rotor rises: the two electric plugs are crossed. Swap them and test again.'

    Source: logic; causes are common workshop practice, no published source.
    """
    expected = without_power if switch is Switch.NO_POWER else RISES[switch]
    if expected is None:
        raise Impossible(msg("The machine's data do not say which rotor rises without power."))
    seen = (left_rises, right_rises)
    if seen == expected:
        return Hold(True, msg("As it should be."))
    return Hold(False, _hold_fault(switch, seen))


def _hold_fault(switch: Switch, seen: tuple[bool, bool]) -> Message:
    if switch is Switch.NO_POWER:
        return msg("Without power it does something else: wrong valve or wired differently.")
    if not any(seen):
        if switch is Switch.BOTH:
            return msg("Neither rotor rises: look at latches, stop taps and the lift remote first.")
        return msg("Neither rotor rises: look at the supply, the fuse and the earth of the plug.")
    if switch is Switch.BOTH:
        return msg("Only one rotor rises: a valve is stuck shut or its plug is off.")
    if all(seen):
        return msg("The held rotor rises too: its valve does not shut, or there is no 12 V at its plug.")
    return msg("The other rotor rises: the two electric plugs are crossed. Swap them and test again.")
