"""The next useful thing to do."""

from __future__ import annotations

from rakeprep.jobs.assess import Assessment, State
from rakeprep.model.entry import Slot


def unsettled(state: State) -> bool:
    """Whether somebody still has something to do here."""
    return state.obstacle is not None


def next_task(assessment: Assessment, after: Slot | None = None) -> Slot | None:
    """The first unsettled task after ``after`` in the order of the work, then from the start."""
    slots = list(assessment.states)
    start = slots.index(after) + 1 if after is not None and after in assessment.states else 0
    for slot in (*slots[start:], *slots[:start]):
        if slot != after and unsettled(assessment.states[slot]):
            return slot
    return None


def task_after(assessment: Assessment, slot: Slot) -> Slot | None:
    """The task that follows ``slot``, whatever its state; None at the end."""
    slots = list(assessment.states)
    place = slots.index(slot) + 1
    return slots[place] if place < len(slots) else None


def task_before(assessment: Assessment, slot: Slot) -> Slot | None:
    """The task that comes before ``slot``; None at the start."""
    slots = list(assessment.states)
    place = slots.index(slot)
    return slots[place - 1] if place else None


def latest(assessment: Assessment, entries: dict[Slot, int]) -> Slot | None:
    """Where the last entry was made, by the entries' numbers in the chain."""
    known = {slot: seq for slot, seq in entries.items() if slot in assessment.states}
    return max(known, key=lambda slot: known[slot]) if known else None
