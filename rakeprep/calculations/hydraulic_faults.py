"""What measured stroke times say about hoses, flow, throttles and air."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from statistics import fmean
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.calculations.decision import Estimate
from rakeprep.calculations.hydraulics import Times, lowering
from rakeprep.model.verdict import Verdict, worst
from rakeprep.text import Message, msg

Seconds = Annotated[float, "s"]
Ratio = Annotated[float, "1"]

BAND = 0.20
SPREAD = 0.5
ONE_RUN = 0.25


class Cause(StrEnum):
    """Causes in the order of how often they are met."""

    CROSSED = "hoses crossed"
    FLOW_LOW = "flow low"
    FLOW_HIGH = "flow high"
    OUT_THROTTLED = "throttled on the way out"
    BACK_THROTTLED = "throttled on the way back"
    CROSSED_AND_FLOW = "hoses crossed and flow off"
    AIR = "air"
    STICKING = "sticking"
    BLOCKED_OUT = "nothing on the way out"
    BLOCKED_BACK = "nothing on the way back"
    BLOCKED = "nothing either way"
    NO_FREE_RETURN = "does not come down"
    THROTTLE_OPEN = "comes down too fast"
    LATCHED = "pressure far too high"


@dataclass(frozen=True, slots=True)
class Suspicion:
    """A cause in words and the test that comes next."""

    cause: Cause
    says: Message
    next_test: Message


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Means with their doubt (None where nothing moved), verdict, and suspicions, likeliest first."""

    verdict: Verdict
    out: Estimate | None
    back: Estimate | None
    ratio: Ratio | None
    suspicions: tuple[Suspicion, ...]


def mean_time(runs: Sequence[Seconds], one_run: Seconds = ONE_RUN) -> Estimate:
    """Mean of several runs with the doubt of the hand on the stopwatch.

        doubt = one_run / sqrt(n)

    Args:
        runs: times of the same movement [s].
        one_run: 95 % half-width of one run [s]; default 0.25 s, common practice.

    Returns:
        mean and doubt [s].

    Raises:
        Impossible: no run, a time not above zero, a doubt below zero.

    Example:
        >>> mean_time([5.6, 5.7, 5.65]).doubt < 0.15
        True

    Source: JCGM 100:2008 (GUM), 4.2.3.
    """
    demand(bool(runs), msg("No run has been timed."))
    not_negative(one_run, msg("doubt of one run"))
    for run in runs:
        positive(run, msg("time"))
    return Estimate(fmean(runs), one_run / math.sqrt(len(runs)))


def diagnose(
    expected: Times,
    out: Sequence[Seconds],
    back: Sequence[Seconds],
    *,
    one_run: Seconds = ONE_RUN,
    band: Ratio = BAND,
    spread: Seconds = SPREAD,
) -> Diagnosis:
    """Judge a double-acting function by its times and rank what may be wrong.

    An empty sequence says that nothing moved that way. Every cause stands for a pattern of the two
    time factors (measured over expected): crossed hoses exchange the two times, low flow stretches
    both alike, a throttle stretches one. Patterns that fit within ``band`` are named, best first.
    Runs of one kind that spread by more than ``spread`` speak of air if they get quicker from run to
    run, otherwise of sticking.

    Args:
        expected: what the rams and the flow set should give [s].
        out: measured runs out [s].
        back: measured runs back [s].
        one_run: 95 % half-width of one run [s].
        band: departure from the expected time that is still in order [1].
        spread: largest minus smallest time that is still in order [s].

    Returns:
        the :class:`Diagnosis`.

    Raises:
        Impossible: a time not above zero, a band or spread not above zero.

    Example:
        >>> found = diagnose(Times(5.65, 3.73, 1.515), [3.7, 3.8, 3.7], [5.7, 5.6, 5.7])
        >>> found.suspicions[0].cause.value
        'hoses crossed'

    Source: arithmetic; the bands are common workshop practice, no published source.
    """
    positive(expected.out, msg("expected time"))
    positive(expected.back, msg("expected time"))
    positive(band, msg("band"))
    positive(spread, msg("spread"))
    if not out or not back:
        return _not_moving(out, back, one_run)
    mean_out, mean_back = mean_time(out, one_run), mean_time(back, one_run)
    verdicts = [_judge(mean_out, expected.out, band), _judge(mean_back, expected.back, band)]
    causes = _uneven(out, spread) + [cause for cause in _uneven(back, spread) if not _uneven(out, spread)]
    if causes:
        verdicts.append(Verdict.PUT_RIGHT)
    if any(verdict is not Verdict.IN_ORDER for verdict in verdicts):
        causes = _patterns(mean_out.value, mean_back.value, expected, band) + causes
    return Diagnosis(worst(verdicts), mean_out, mean_back, mean_out.value / mean_back.value, _suspect(causes))


def _judge(mean: Estimate, expected: float, band: float) -> Verdict:
    return mean.within(expected * (1 - band), expected * (1 + band))


def _not_moving(out: Sequence[float], back: Sequence[float], one_run: float) -> Diagnosis:
    cause = Cause.BLOCKED
    if out:
        cause = Cause.BLOCKED_BACK
    elif back:
        cause = Cause.BLOCKED_OUT
    return Diagnosis(
        Verdict.PUT_RIGHT,
        mean_time(out, one_run) if out else None,
        mean_time(back, one_run) if back else None,
        None,
        _suspect([cause]),
    )


def _uneven(runs: Sequence[float], spread: float) -> list[Cause]:
    if max(runs) - min(runs) <= spread:
        return []
    getting_quicker = all(later < earlier for earlier, later in pairwise(runs))
    return [Cause.AIR, Cause.STICKING] if getting_quicker else [Cause.STICKING, Cause.AIR]


def _patterns(out: float, back: float, expected: Times, band: float) -> list[Cause]:
    """Causes whose pattern fits, best first; all in logarithms, so that half and double weigh alike."""
    far = math.log1p(band)
    o, b = math.log(out / expected.out), math.log(back / expected.back)
    skew = math.log(expected.out / expected.back)
    both, unlike = (o + b) / 2, (o - b) / 2
    misfit = {
        Cause.CROSSED: max(abs(o + skew), abs(b - skew)),
        Cause.FLOW_LOW: abs(unlike) if both > far else math.inf,
        Cause.FLOW_HIGH: abs(unlike) if both < -far else math.inf,
        Cause.OUT_THROTTLED: abs(b) if o > far else math.inf,
        Cause.BACK_THROTTLED: abs(o) if b > far else math.inf,
        Cause.CROSSED_AND_FLOW: abs(unlike + skew) if abs(both) > far else math.inf,
    }
    if abs(skew) < far:  # both ways nearly alike: exchanged times cannot be seen
        del misfit[Cause.CROSSED], misfit[Cause.CROSSED_AND_FLOW]
    fitting = [cause for cause in misfit if misfit[cause] <= far]
    return sorted(fitting, key=lambda cause: misfit[cause])


def diagnose_lift(
    expected_up: Seconds,
    up: Sequence[Seconds],
    down: Sequence[Seconds],
    *,
    one_run: Seconds = ONE_RUN,
    band: Ratio = BAND,
) -> Diagnosis:
    """Judge a single-acting lift by its times up and down.

    Up depends on the flow; down on the weight and the throttle, and needs a free way back for the
    oil. An empty sequence says that nothing moved that way.

    Args:
        expected_up: time up from the rams and the flow set [s].
        up: measured runs up [s].
        down: measured runs down [s].
        one_run: 95 % half-width of one run [s].
        band: departure from the expected time that is still in order [1].

    Returns:
        the :class:`Diagnosis`; its ratio is None.

    Raises:
        Impossible: a time or the band not above zero.

    Example:
        >>> diagnose_lift(9.0, [9.1, 9.0, 8.9], []).suspicions[0].cause.value
        'does not come down'

    Source: arithmetic; the bands are common workshop practice, no published source.
    """
    positive(expected_up, msg("expected time"))
    positive(band, msg("band"))
    mean_up = mean_time(up, one_run) if up else None
    mean_down = mean_time(down, one_run) if down else None
    if mean_up is None:
        return Diagnosis(Verdict.PUT_RIGHT, None, mean_down, None, _suspect([Cause.BLOCKED_OUT]))
    up_verdict = _judge(mean_up, expected_up, band)
    causes: list[Cause] = []
    if up_verdict is not Verdict.IN_ORDER:
        causes.append(Cause.FLOW_LOW if mean_up.value > expected_up else Cause.FLOW_HIGH)
    if mean_down is None:
        return Diagnosis(Verdict.PUT_RIGHT, mean_up, None, None, _suspect([Cause.NO_FREE_RETURN, *causes]))
    verdict = lowering(mean_down.value, mean_down.doubt)
    if verdict is not Verdict.IN_ORDER:
        causes.insert(0, Cause.THROTTLE_OPEN)
    return Diagnosis(worst([up_verdict, verdict]), mean_up, mean_down, None, _suspect(causes))


def latched(gauge: Estimate, holding: Annotated[float, "Pa"], factor: Ratio = 1.5) -> Suspicion | None:
    """Whether the gauge stands so high that a latch must still be in, or something is bent.

        gauge - doubt > factor * holding

    Args:
        gauge: pressure read while lifting, with its doubt [Pa].
        holding: pressure that the load alone needs [Pa].
        factor: room for friction and the worst place of the stroke [1]; 1.5, a rule of thumb.

    Returns:
        the suspicion, or None.

    Raises:
        Impossible: a holding pressure or factor not above zero.

    Example:
        >>> latched(Estimate(90e5, 5e5), 32e5).cause.value
        'pressure far too high'

    Source: common workshop practice, no published source.
    """
    positive(holding, msg("holding pressure"))
    positive(factor, msg("factor"))
    return _suspect([Cause.LATCHED])[0] if gauge.low > factor * holding else None


def sinking(creep_open: Estimate, creep_shut: Estimate | None = None) -> Message | None:
    """Where the oil goes when a raised rotor sinks, from the creep with the stop tap open and shut.

    Creep counts when it exceeds its own doubt. Both must be taken over the same time, from the side,
    with nobody within reach of the rotor.

    Args:
        creep_open: how far the rod went with the tap open [m].
        creep_shut: the same with the tap shut [m], or None before that test.

    Returns:
        a sentence, or None where nothing sinks.

    Raises:
        Impossible: nothing.

    Example:
        >>> str(sinking(Estimate(0.005, 0.001), Estimate(0.000, 0.001)))
        'With the tap shut it stays up: the oil goes back through the check valve, the block or the tractor.'

    Source: common workshop practice, no published source.
    """
    if creep_open.low <= 0:
        return None
    if creep_shut is None:
        return msg("It sinks. Shut the stop tap, keep clear, and time it again.")
    if creep_shut.low > 0:
        return msg("It sinks with the tap shut as well: the ram's own seal lets oil past.")
    return msg(
        "With the tap shut it stays up: the oil goes back through the check valve, the block or the tractor."
    )


def _suspect(causes: Sequence[Cause]) -> tuple[Suspicion, ...]:
    return tuple(Suspicion(cause, *WORDS[cause]) for cause in causes)


WORDS = {
    Cause.CROSSED: (
        msg("The times out and back are exchanged: the hoses are crossed or the lever works in reverse."),
        msg("Release the pressure, swap the two couplings and time it again."),
    ),
    Cause.FLOW_LOW: (
        msg("Slow by the same factor everywhere: flow set low, coupling not home, cold oil, or a throttle."),
        msg("Check the flow setting, push the couplings home, then try another remote and time it again."),
    ),
    Cause.FLOW_HIGH: (
        msg("Quick by the same factor everywhere: the flow is set higher than stated."),
        msg("Set the flow as stated and time it again."),
    ),
    Cause.OUT_THROTTLED: (
        msg("Only the way out is slow: coupling half open, check valve or pinched hose on that side."),
        msg("Try the other remote. Never crack a fitting open to look."),
    ),
    Cause.BACK_THROTTLED: (
        msg("Only the way back is slow: coupling half open, check valve or pinched hose on that side."),
        msg("Try the other remote. Never crack a fitting open to look."),
    ),
    Cause.CROSSED_AND_FLOW: (
        msg("The ratio is upside down and both times are off: hoses crossed, and the flow not as stated."),
        msg("Release the pressure, swap the two couplings, set the flow and time it again."),
    ),
    Cause.AIR: (
        msg("The runs differ and get quicker: air in the circuit."),
        msg("Purge with full strokes and watch the tractor's oil level, then time it again."),
    ),
    Cause.STICKING: (
        msg("The runs differ without order: air drawn in, low oil, a worn seal, or something that sticks."),
        msg("Look at the tractor's oil for foam and at its level, then time three runs again."),
    ),
    Cause.BLOCKED_OUT: (
        msg("Nothing moves that way: coupling not open, stop tap shut, latch still in, or lever not held."),
        msg("Lower it, engine off, then look at latch and tap; release the pressure and couple again."),
    ),
    Cause.BLOCKED_BACK: (
        msg("Nothing moves on the way back: coupling popped off or locked by pressure, or lever not held."),
        msg("Release the pressure at the tractor and couple again."),
    ),
    Cause.BLOCKED: (
        msg("Nothing moves at all: no flow set, coupling not home, stop tap shut, or latch still in."),
        msg("Engine off, then look at latch, tap and flow setting; after that try another remote."),
    ),
    Cause.NO_FREE_RETURN: (
        msg("It goes up but not down: no float, coupling shut, throttle closed, or tap shut."),
        msg("Keep everyone away. Set the remote to float from the seat; if it stays up, use another remote."),
    ),
    Cause.THROTTLE_OPEN: (
        msg("It may come down too fast: the lowering throttle is missing or open."),
        msg("Set the throttle before anything else, with everyone clear of the rotor."),
    ),
    Cause.LATCHED: (
        msg("The pressure is far above what the weight needs: a latch is still in, or something is bent."),
        msg("Lower it, stop the engine, and look at the latch before lifting again."),
    ),
}
