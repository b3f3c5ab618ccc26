"""Tightening torque of metric bolts, the wrench's setting, and what a re-check angle means."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from rakeprep.calculations import demand, positive
from rakeprep.calculations.bolts import Thread, proof_load, strength
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg

STEEL_MODULUS = 205e9  # Pa, Young's modulus of bolt steel


@dataclass(frozen=True, slots=True)
class TorqueTarget:
    """A torque together with everything without which it means nothing.

    ``friction`` or ``nut_factor`` [1] is None, according to the method used.
    """

    torque: Annotated[float, "N·m"]
    preload: Annotated[float, "N"]
    thread: str
    property_class: str
    share: Annotated[float, "1"]
    share_of: Literal["proof", "yield"]
    friction: Annotated[float, "1"] | None = None
    nut_factor: Annotated[float, "1"] | None = None


def preload_at_yield(
    bolt: Thread,
    property_class: str,
    friction: Annotated[float, "1"],
    share: Annotated[float, "1"] = 0.9,
) -> Annotated[float, "N"]:
    """Clamp load at which pull and twist together use a share of the yield strength.

        F = A0 * share * Re / sqrt( 1 + 3 [ 1.5 (d2/d0) ( P/(pi d2) + 1.155 mu ) ]^2 )

    Valid for bolts with full shank, tightened by torque.

    Args:
        bolt: its thread.
        property_class: such as "8.8".
        friction: of the thread, 0.04 to 0.4 [1].
        share: of the yield strength, above 0 and at most 1 [1].

    Returns:
        preload [N].

    Raises:
        Impossible: friction or share out of range; as :func:`strength`.

    Example:
        >>> from rakeprep.calculations.bolts import thread
        >>> round(preload_at_yield(thread("M12"), "8.8", 0.14) / 1000, 1)
        42.0

    Source: VDI 2230 part 1, assembly preload (formula from memory, checked against its printed table).
    """
    _check_friction(friction)
    _check_share(share)
    d2, d0 = bolt.pitch_diameter, bolt.stress_diameter
    twist = 1.5 * (d2 / d0) * (bolt.pitch / (math.pi * d2) + 1.155 * friction)
    stress = share * strength(property_class, bolt.diameter).yielding
    return bolt.stress_area * stress / math.sqrt(1 + 3 * twist**2)


def torque_for_preload(
    bolt: Thread, preload: Annotated[float, "N"], friction: Annotated[float, "1"]
) -> Annotated[float, "N·m"]:
    """Torque that makes a clamp load, the same friction in thread and under the head.

        M = F [ 0.159155 P + 0.577350 d2 mu + (dw + dh)/4 * mu ]

    Args:
        bolt: its thread.
        preload: clamp load, above zero [N].
        friction: 0.04 to 0.4 [1].

    Returns:
        tightening torque [N·m].

    Raises:
        Impossible: friction out of range, preload not above zero.

    Example:
        >>> from rakeprep.calculations.bolts import thread
        >>> round(torque_for_preload(thread("M12"), 42_000, 0.14), 0)
        93.0

    Source: VDI 2230 part 1, after Kellermann and Klein (formula from memory, checked against its table).
    """
    positive(preload, msg("clamp load"))
    _check_friction(friction)
    head = (bolt.bearing + bolt.hole) / 4
    return preload * (bolt.pitch / (2 * math.pi) + (bolt.pitch_diameter / math.sqrt(3) + head) * friction)


def target_by_friction(
    bolt: Thread,
    property_class: str,
    friction: Annotated[float, "1"],
    share: Annotated[float, "1"] = 0.9,
    share_of: Literal["proof", "yield"] = "yield",
) -> TorqueTarget:
    """Torque from friction, for a share of yield or of the proof load.

    Args:
        bolt: its thread.
        property_class: such as "8.8".
        friction: same in thread and under the head, 0.04 to 0.4 [1].
        share: above 0 and at most 1 [1].
        share_of: what it is a share of; of "yield" the twist is counted in.

    Returns:
        torque [N·m] and preload [N] with all they rest on.

    Raises:
        Impossible: as :func:`preload_at_yield`.

    Example:
        >>> from rakeprep.calculations.bolts import thread
        >>> round(target_by_friction(thread("M16x1.5"), "10.9", 0.12).torque, -1)
        320.0

    Source: VDI 2230 part 1.
    """
    if share_of == "yield":
        preload = preload_at_yield(bolt, property_class, friction, share)
    else:
        _check_share(share)
        preload = share * proof_load(bolt, property_class)
    torque = torque_for_preload(bolt, preload, friction)
    return TorqueTarget(torque, preload, bolt.name, property_class, share, share_of, friction=friction)


def target_by_nut_factor(
    bolt: Thread,
    property_class: str,
    nut_factor: Annotated[float, "1"] = 0.20,
    share: Annotated[float, "1"] = 0.75,
) -> TorqueTarget:
    """Quick torque estimate ``T = K * d * F`` with ``F = share * Sp * As``.

    An estimate only: the clamp it really gives scatters by about a third (see :func:`clamp_scatter`).

    Args:
        bolt: its thread.
        property_class: such as "8.8".
        nut_factor: K, 0.20 dry and 0.15 lightly oiled, between 0.05 and 0.5 [1].
        share: of the proof load, above 0 and at most 1 [1].

    Returns:
        torque [N·m] and preload [N] with all they rest on.

    Raises:
        Impossible: K or share out of range; as :func:`strength`.

    Example:
        >>> from rakeprep.calculations.bolts import thread
        >>> round(target_by_nut_factor(thread("M12"), "8.8").torque, 0)
        88.0

    Source: common textbook formula; K as implied by published dry and lubricated tables.
    """
    demand(0.05 <= nut_factor <= 0.5, msg("A nut factor lies between 0.05 and 0.5."))
    _check_share(share)
    preload = share * proof_load(bolt, property_class)
    torque = nut_factor * bolt.diameter * preload
    return TorqueTarget(torque, preload, bolt.name, property_class, share, "proof", nut_factor=nut_factor)


def clamp_scatter(lubricated: bool) -> Annotated[float, "1"]:
    """How far the clamp load obtained by torque strays.

    Args:
        lubricated: whether thread and head are oiled, or as received.

    Returns:
        half-width as a share of the clamp load [1].

    Raises:
        nothing.

    Example:
        >>> clamp_scatter(lubricated=False)
        0.35

    Source: Journal of Failure Analysis and Prevention, s11668-019-00693-z (abstract).
    """
    return 0.25 if lubricated else 0.35


def wrench_setting(
    torque: Annotated[float, "N·m"],
    wrench: Annotated[float, "m"],
    extension: Annotated[float, "m"],
    angle: Annotated[float, "rad"] = 0.0,
) -> Annotated[float, "N·m"]:
    """What to set on a click wrench that carries a crow-foot.

    Valid when the hand pulls at the middle of the grip, square to the wrench.

        set = T * L / (L + E cos(angle))

    Args:
        torque: wanted at the nut, above zero [N·m].
        wrench: square drive to middle of grip, above zero [m].
        extension: square drive to nut, not below zero [m].
        angle: between extension and wrench; 0 in line, a right angle needs no correction [rad].

    Returns:
        setting of the wrench [N·m].

    Raises:
        Impossible: torque or wrench not above zero, extension below zero or folded back onto the grip.

    Example:
        >>> round(wrench_setting(250, 0.400, 0.060))
        217

    Source: moments about the nut.
    """
    positive(torque, msg("torque"))
    positive(wrench, msg("wrench length"))
    demand(0 <= extension < math.inf, msg("The length of an extension cannot be below zero."))
    reach = wrench + extension * math.cos(angle)
    demand(reach > 0, msg("The extension points back past the hand; turn it round."))
    return torque * wrench / reach


def to_wrench_step(
    torque: Annotated[float, "N·m"],
    step: Annotated[float, "N·m"],
    maximum: Annotated[float, "N·m"] | None = None,
) -> Annotated[float, "N·m"]:
    """The mark of the wrench nearest to a torque, never beyond the maximum.

    Args:
        torque: wanted, above zero [N·m].
        step: between two marks, above zero [N·m].
        maximum: permitted, not below one step [N·m].

    Returns:
        a whole number of steps [N·m].

    Raises:
        Impossible: torque or step not above zero, or a maximum below the first mark.

    Example:
        >>> to_wrench_step(217.4, 5.0), to_wrench_step(88.0, 5.0, maximum=88.0)
        (215.0, 85.0)

    Source: arithmetic.
    """
    positive(torque, msg("torque"))
    positive(step, msg("step of the wrench"))
    steps = max(1, math.floor(torque / step + 0.5))
    if maximum is not None:
        steps = min(steps, math.floor(maximum / step + 1e-9))
        demand(steps >= 1, msg("The largest permitted torque lies below the first mark of this wrench."))
    return steps * step


def stretch(
    bolt: Thread, preload: Annotated[float, "N"], grip: Annotated[float, "m"]
) -> Annotated[float, "m"]:
    """How much a bolt grows under its clamp load, ``F * grip / (E * As)``, thread over the whole grip.

    Args:
        bolt: its thread.
        preload: clamp load, above zero [N].
        grip: clamped thickness, above zero [m].

    Returns:
        stretch [m].

    Raises:
        Impossible: preload or grip not above zero.

    Example:
        >>> from rakeprep.calculations.bolts import thread
        >>> round(stretch(thread("M16"), 68_300, 0.030) * 1000, 3)
        0.064

    Source: Hooke's law, E = 205 GPa.
    """
    positive(preload, msg("clamp load"))
    positive(grip, msg("clamped thickness"))
    return preload * grip / (STEEL_MODULUS * bolt.stress_area)


def turn_of_clamp(
    bolt: Thread,
    preload: Annotated[float, "N"],
    grip: Annotated[float, "m"],
    joint: Annotated[float, "1"] = 1.0,
) -> Annotated[float, "rad"]:
    """Turn of the nut from just touching to full clamp load.

        angle = 2 pi * stretch * (1 + joint) / P

    A nut that moves this far before the wrench clicks had no clamp left.

    Args:
        bolt: its thread.
        preload: clamp load, above zero [N].
        grip: clamped thickness, above zero [m].
        joint: give of the clamped parts relative to the bolt; 1 is as soft as the bolt, 0 is rigid [1].

    Returns:
        angle [rad].

    Raises:
        Impossible: as :func:`stretch`; joint below zero.

    Example:
        >>> from rakeprep.calculations.bolts import thread
        >>> round(math.degrees(turn_of_clamp(thread("M16"), 68_300, 0.030)))
        23

    Source: Hooke's law and the pitch of the thread.
    """
    demand(joint >= 0, msg("The clamped parts cannot give less than nothing."))
    return 2 * math.pi * stretch(bolt, preload, grip) * (1 + joint) / bolt.pitch


def recheck(
    moved: Annotated[float, "rad"],
    note_below: Annotated[float, "rad"] = math.radians(10),
    apart_above: Annotated[float, "rad"] = math.radians(30),
) -> tuple[Verdict, Message]:
    """What it means that a nut turned before the wrench clicked at the second tightening.

    Args:
        moved: angle it turned on, not below zero [rad].
        note_below: below this it is only noted [rad].
        apart_above: above this the joint is taken apart [rad].

    Returns:
        the verdict and its sentence.

    Raises:
        Impossible: an angle below zero, limits in the wrong order.

    Example:
        >>> recheck(math.radians(35))[0].value
        'put right'

    Source: rule of thumb, compare :func:`turn_of_clamp`.
    """
    demand(0 <= moved < math.inf, msg("The angle a nut moved on cannot be below zero."))
    demand(note_below <= apart_above, msg("The limits for the angle are the wrong way round."))
    angle = round(math.degrees(moved))
    if moved > apart_above:
        text = msg("moved {angle}°: no clamp was left, take the joint apart and look", angle=angle)
        return Verdict.PUT_RIGHT, text
    if moved >= note_below:
        return Verdict.MEASURE_AGAIN, msg("moved {angle}°: tighten and check once more", angle=angle)
    return Verdict.IN_ORDER, msg("moved {angle}°: settled, noted", angle=angle)


def _check_friction(friction: float) -> None:
    demand(0.04 <= friction <= 0.4, msg("A coefficient of friction lies between 0.04 and 0.4."))


def _check_share(share: float) -> None:
    demand(0 < share <= 1, msg("The share of the bolt's strength lies above 0 and is at most 1."))
