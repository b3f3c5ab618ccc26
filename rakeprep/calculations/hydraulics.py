"""Rams: areas, times, flow, forces, and what a ram that sinks is losing."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.calculations.decision import Estimate, combine, propagate, within
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg

Metres = Annotated[float, "m"]
Area = Annotated[float, "m²"]
Volume = Annotated[float, "m³"]
Flow = Annotated[float, "m³/s"]
Pascals = Annotated[float, "Pa"]
Newtons = Annotated[float, "N"]
Seconds = Annotated[float, "s"]
Ratio = Annotated[float, "1"]

QUICKEST_LOWERING = 2.0


@dataclass(frozen=True, slots=True)
class Ram:
    """One ram; ``rod`` is 0 for a single-acting ram, ``count`` rams move in parallel."""

    bore: Metres
    stroke: Metres
    rod: Metres = 0.0
    count: int = 1


@dataclass(frozen=True, slots=True)
class Times:
    """Time of a full stroke each way, and in over out turned round: ``ratio`` is out / back."""

    out: Seconds
    back: Seconds
    ratio: Ratio


def areas(bore: Metres, rod: Metres = 0.0) -> tuple[Area, Area]:
    """Areas that the oil presses on: the full piston, and the ring round the rod.

        A = pi D^2 / 4 ;  a = pi (D^2 - d^2) / 4

    Args:
        bore: D [m].
        rod: d [m]; 0 for no rod.

    Returns:
        full area, ring area [m²].

    Raises:
        Impossible: a bore not above zero, or a rod that does not fit into it.

    Example:
        >>> [round(a * 1e6, 2) for a in areas(0.100, 0.070)]
        [7853.98, 4005.53]

    Source: geometry.
    """
    positive(bore, msg("bore of the ram"))
    not_negative(rod, msg("rod diameter"))
    demand(rod < bore, msg("The rod is as thick as the bore or thicker; no such ram exists."))
    return math.pi * bore**2 / 4, math.pi * (bore**2 - rod**2) / 4


def volumes(ram: Ram) -> tuple[Volume, Volume]:
    """Oil that all parallel rams together take for a full stroke out and a full stroke back.

        V = n A s

    Args:
        ram: the ram.

    Returns:
        volume out, volume back [m³].

    Raises:
        Impossible: as :func:`areas`; a stroke not above zero; fewer than one ram.

    Example:
        >>> round(volumes(Ram(0.080, 0.600, count=2))[0] * 1e3, 2)    # litres
        6.03

    Source: geometry.
    """
    full, ring = areas(ram.bore, ram.rod)
    positive(ram.stroke, msg("stroke of the ram"))
    demand(ram.count >= 1, msg("A circuit without a ram has no time to work out."))
    return ram.count * full * ram.stroke, ram.count * ring * ram.stroke


def times(ram: Ram, flow: Flow) -> Times:
    """How long a full stroke takes each way at a flow.

    No losses, no throttle, parallel rams. The ratio does not depend on the flow and is therefore
    the best sign of crossed hoses.

        t = V / Q

    Args:
        ram: the ram.
        flow: Q from the tractor [m³/s].

    Returns:
        the :class:`Times` [s, 1].

    Raises:
        Impossible: as :func:`volumes`; a flow not above zero.

    Example:
        >>> t = times(Ram(0.060, 0.500, rod=0.035, count=2), 30e-3 / 60)
        >>> round(t.out, 2), round(t.back, 2), round(t.ratio, 2)
        (5.65, 3.73, 1.52)

    Source: geometry.
    """
    positive(flow, msg("flow"))
    out, back = volumes(ram)
    return Times(out / flow, back / flow, out / back)


def real_flow(ram: Ram, time_out: Seconds) -> Flow:
    """The flow that really arrived, from the measured time of a full stroke out.

        Q = V / t

    Args:
        ram: the ram.
        time_out: measured time out (or up) [s].

    Returns:
        flow [m³/s].

    Raises:
        Impossible: as :func:`volumes`; a time not above zero.

    Example:
        >>> round(real_flow(Ram(0.080, 0.600, count=2), 14.2) * 60e3, 1)    # litres a minute
        25.5

    Source: geometry.
    """
    positive(time_out, msg("time"))
    return volumes(ram)[0] / time_out


def measured_flow(ram: Ram, time_out: Estimate, bore_doubt: Metres = 0.0) -> Estimate:
    """The flow that really arrived, with the doubt of the stopwatch and of the bore.

        Q = V / t

    Args:
        ram: the ram.
        time_out: measured time out (or up) with doubt [s].
        bore_doubt: 95 % half-width of the bore where it was measured, not read in the data [m].

    Returns:
        flow with doubt [m³/s].

    Raises:
        Impossible: as :func:`real_flow`; a time or bore not above zero beyond its doubt.

    Example:
        >>> flow = measured_flow(Ram(0.080, 0.600, count=2), Estimate(14.2, 0.15))
        >>> round(flow.value * 60e3, 1), round(flow.doubt * 60e3, 1)    # litres a minute
        (25.5, 0.3)

    Source: geometry; doubt by JCGM 100:2008, 5.1.3.
    """
    _beyond(time_out, msg("time"))
    bore = Estimate(ram.bore, bore_doubt)
    _beyond(bore, msg("bore of the ram"))
    volumes(ram)
    return propagate(lambda t, d: real_flow(replace(ram, bore=d, rod=0.0), t), [time_out, bore])


def rod_speed(area: Area, flow: Flow) -> Annotated[float, "m/s"]:
    """Speed of a rod: ``v = Q / A``.

    Args:
        area: pressed by the oil, all parallel rams together [m²].
        flow: Q [m³/s].

    Returns:
        speed [m/s].

    Raises:
        Impossible: an area not above zero, a flow below zero.

    Example:
        >>> round(rod_speed(areas(0.100)[0], 40e-3 / 60) * 1e3, 2)    # mm/s
        84.88

    Source: geometry.
    """
    positive(area, msg("area"))
    not_negative(flow, msg("flow"))
    return flow / area


def force(pressure: Pascals, area: Area, efficiency: Ratio = 1.0) -> Newtons:
    """Force of a ram: ``F = p A e``.

    Args:
        pressure: p above that on the other side [Pa].
        area: A [m²].
        efficiency: e for seal friction, above 0 up to 1 [1].

    Returns:
        force [N].

    Raises:
        Impossible: a pressure below zero, an area not above zero, an efficiency outside 0 to 1.

    Example:
        >>> round(force(200e5, areas(0.080)[0]))
        100531

    Source: Pascal's law.
    """
    not_negative(pressure, msg("pressure"))
    positive(area, msg("area"))
    _efficiency(efficiency)
    return pressure * area * efficiency


def pressure_for(load: Newtons, area: Area, lever: Ratio = 1.0, efficiency: Ratio = 1.0) -> Pascals:
    """Pressure that holds or lifts a load through a lever.

    For holding still take efficiency 1; a gauge far above the result means that a latch is still in
    or something is bent.

        p = F lever / (A e)

    Args:
        load: F on the lever's long arm [N].
        area: A of all parallel rams together [m²].
        lever: load arm over ram arm, worst place of the stroke [1].
        efficiency: e for seal friction [1].

    Returns:
        pressure [Pa].

    Raises:
        Impossible: a load below zero, an area or lever not above zero, an efficiency outside 0 to 1.

    Example:
        >>> round(pressure_for(750 * 9.81, areas(0.080)[0], lever=2.2) / 1e5)    # bar
        32

    Source: Pascal's law and the law of the lever.
    """
    not_negative(load, msg("load"))
    positive(area, msg("area"))
    positive(lever, msg("lever ratio"))
    _efficiency(efficiency)
    return load * lever / (area * efficiency)


def leak(bore: Metres, creep: Metres, time: Seconds, count: int = 1) -> Flow:
    """Oil that gets away while a ram sinks.

        q = n A creep / time

    Args:
        bore: of one ram [m].
        creep: how far the rod went [m].
        time: in which it went [s].
        count: rams that sank together.

    Returns:
        leak [m³/s].

    Raises:
        Impossible: a bore or time not above zero, a creep below zero, fewer than one ram.

    Example:
        >>> round(leak(0.080, 0.005, 600) * 60e6, 1)    # mL a minute
        2.5

    Source: geometry.
    """
    full, _ = areas(bore)
    not_negative(creep, msg("creep"))
    positive(time, msg("time"))
    demand(count >= 1, msg("A circuit without a ram has no time to work out."))
    return count * full * creep / time


def measured_leak(bore: Metres, creep: Estimate, time: Estimate, count: int = 1) -> Estimate:
    """Oil that gets away while a ram sinks, with the doubt of tape and clock.

        q = n A creep / time

    Args:
        bore: of one ram [m].
        creep: how far the rod went, with doubt [m].
        time: in which it went, with doubt [s].
        count: rams that sank together.

    Returns:
        leak with doubt [m³/s]; below its doubt nothing is known to leak.

    Raises:
        Impossible: as :func:`leak`; a time not above zero beyond its doubt.

    Example:
        >>> q = measured_leak(0.080, Estimate(0.005, 0.001), Estimate(600.0, 1.0))
        >>> round(q.value * 60e6, 1), round(q.doubt * 60e6, 1)    # mL a minute
        (2.5, 0.5)

    Source: geometry; doubt by JCGM 100:2008, 5.1.3.
    """
    _beyond(time, msg("time"))
    value = leak(bore, creep.value, time.value, count)
    per_creep = leak(bore, 1.0, time.value, count)
    return Estimate(value, combine([(per_creep, creep.doubt), (value / time.value, time.doubt)]))


def _beyond(reading: Estimate, what: Message) -> None:
    not_negative(reading.doubt, msg("doubt"))
    positive(reading.value, what)
    demand(reading.low > 0, msg("The {what} must be above zero beyond its doubt.", what=what))


def lowering(time: Seconds, doubt: Seconds, least: Seconds = QUICKEST_LOWERING) -> Verdict:
    """Whether a rotor comes down slowly enough; too quick is a danger, not a convenience.

        in order if time - doubt >= least ; stop if time + doubt < least

    Args:
        time: measured from full height to the ground [s].
        doubt: 95 % half-width [s].
        least: quickest time that is allowed [s]; default 2 s, a rule of thumb.

    Returns:
        ``IN_ORDER``, ``MEASURE_AGAIN`` or ``STOP``.

    Raises:
        Impossible: a time not above zero, a doubt below zero.

    Example:
        >>> lowering(1.6, 0.25).value
        'stop'

    Source: common workshop practice, no published source.
    """
    positive(time, msg("time"))
    verdict = within(time, doubt, low=least)
    return Verdict.STOP if verdict is Verdict.PUT_RIGHT else verdict


def _efficiency(efficiency: float) -> None:
    demand(0 < efficiency <= 1, msg("An efficiency lies above 0 and not above 1."))
