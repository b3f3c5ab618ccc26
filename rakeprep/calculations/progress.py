"""What is left to do in honest hours, what holds it up, and what can go on without the missing part."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from rakeprep.calculations import demand, not_negative, positive
from rakeprep.text import Message, joined, msg, verbatim

Seconds = Annotated[float, "s"]
Ratio = Annotated[float, "1"]


@dataclass(frozen=True, slots=True)
class Stage:
    """One stretch of the work.

    ``done`` is the time spent on it, ``blocked`` the time it stood still; ``after`` are the keys of
    stages that must be finished first, ``waits_for`` parts or people that are not there yet. Without a
    ``name`` a sentence calls the stage by its key.
    """

    key: str
    planned: Seconds
    done: Seconds = 0.0
    blocked: Seconds = 0.0
    finished: bool = False
    after: tuple[str, ...] = ()
    waits_for: tuple[str, ...] = ()
    name: Message | None = None


@dataclass(frozen=True, slots=True)
class Progress:
    """Hours still to come by plan and by the pace so far, hours lost, and what comes next.

    ``pace`` is time used over time planned in the finished stages, 1 while no time is known.
    ``longer`` are unfinished stages that have used up their plan: what they still take is not known,
    so that ``remaining`` is the least it can be.
    """

    by_plan: Seconds
    remaining: Seconds
    blocked: Seconds
    pace: Ratio
    longer: tuple[str, ...]
    next_stage: str | None
    held_up: tuple[str, ...]
    says: Message


def progress(stages: Sequence[Stage]) -> Progress:
    """Remaining time and the next stage that can be done with what is there.

    No percentage: what counts is how long it will still take and what stops it.

        by plan = sum of (planned - done) ;  remaining = sum of (planned * pace - done), none below zero

    Args:
        stages: in the order of the work.

    Returns:
        the :class:`Progress` [s].

    Raises:
        Impossible: a planned time not above zero, another time below zero, a key twice, or a stage
            after one that does not exist.

    Example:
        >>> work = [Stage("arms", 3600, waits_for=("pins",)), Stage("tyres", 1800), Stage("level", 5400)]
        >>> found = progress(work)
        >>> found.next_stage, found.remaining / 3600, str(found.says)
        ('tyres', 3.0, 'Next: tyres. Waiting for: pins.')

    Source: arithmetic.
    """
    _check(stages)
    finished = {stage.key for stage in stages if stage.finished}
    over = [stage for stage in stages if stage.finished]
    planned = math.fsum(stage.planned for stage in over)
    used = math.fsum(stage.done for stage in over)
    pace = used / planned if used > 0 else 1.0
    left = [stage for stage in stages if not stage.finished]
    ready = [stage for stage in left if not stage.waits_for and set(stage.after) <= finished]
    waiting = tuple(dict.fromkeys(what for stage in left for what in stage.waits_for))
    return Progress(
        math.fsum(max(0.0, stage.planned - stage.done) for stage in left),
        math.fsum(max(0.0, stage.planned * pace - stage.done) for stage in left),
        math.fsum(stage.blocked for stage in stages),
        pace,
        tuple(stage.key for stage in left if stage.done >= stage.planned * pace),
        ready[0].key if ready else None,
        waiting,
        _sentence(bool(left), ready, waiting),
    )


def _check(stages: Sequence[Stage]) -> None:
    keys = [stage.key for stage in stages]
    demand(len(set(keys)) == len(keys), msg("Two stages have the same name."))
    for stage in stages:
        positive(stage.planned, msg("planned time"))
        not_negative(stage.done, msg("time used"))
        not_negative(stage.blocked, msg("time lost"))
        demand(set(stage.after) <= set(keys), msg("A stage comes after one that does not exist."))


def _sentence(left: bool, ready: Sequence[Stage], waiting: Sequence[str]) -> Message:
    what = joined([verbatim(each) for each in waiting])
    if not left:
        return msg("Everything is done.")
    if ready:
        stage = ready[0].name or verbatim(ready[0].key)
        if waiting:
            return msg("Next: {stage}. Waiting for: {what}.", stage=stage, what=what)
        return msg("Next: {stage}.", stage=stage)
    if waiting:
        return msg("Nothing can go on until this is here: {what}.", what=what)
    return msg("Nothing can go on: the stages wait for one another.")
