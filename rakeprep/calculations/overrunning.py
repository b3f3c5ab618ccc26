"""Overrunning clutches in the side shafts: three hand tests a side, engine off, and what they mean."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rakeprep.model.verdict import Verdict
from rakeprep.text import Message, msg


class Clutch(StrEnum):
    """What the hand tests say about one side's clutch."""

    RIGHT = "right way round"
    REVERSED = "end for end"
    SEIZED = "seized"
    WORN = "does not take hold"
    NOT_YET = "not tested enough"
    UNCLEAR = "fits nothing"


@dataclass(frozen=True, slots=True)
class Overrun:
    """The state of one side's clutch, the verdict, and what to do."""

    clutch: Clutch
    verdict: Verdict
    says: Message


# taken along when the shaft turns to drive, taken along against it, rotor runs ahead of a held shaft
PATTERNS = {
    Clutch.RIGHT: (True, False, True),
    Clutch.REVERSED: (False, True, False),
    Clutch.SEIZED: (True, True, False),
    Clutch.WORN: (False, False, True),
}


def overrunning(drives: bool | None, drives_back: bool | None, runs_ahead: bool | None) -> Overrun:
    """Judge one side's clutch from three tests by hand: engine off, key out, rotors clear.

    A test not done yet is None; the answer is given as soon as only one state fits.

    Args:
        drives: the rotor is taken along when the shaft is turned in its drive direction.
        drives_back: the rotor is taken along when the shaft is turned against it.
        runs_ahead: the rotor runs on free in its working direction while the shaft is held.

    Returns:
        the :class:`Overrun`.

    Raises:
        Impossible: nothing.

    Example:
        >>> overrunning(False, True, False).clutch.value
        'end for end'

    Source: how a one-way clutch works; no published source for the test.
    """
    seen = (drives, drives_back, runs_ahead)
    fitting = [
        clutch
        for clutch, pattern in PATTERNS.items()
        if all(was is None or was is should for was, should in zip(seen, pattern, strict=True))
    ]
    if len(fitting) > 1:
        return Overrun(Clutch.NOT_YET, Verdict.NOT_YET, WORDS[Clutch.NOT_YET])
    clutch = fitting[0] if fitting else Clutch.UNCLEAR
    return Overrun(clutch, VERDICTS[clutch], WORDS[clutch])


VERDICTS = {
    Clutch.RIGHT: Verdict.IN_ORDER,
    Clutch.REVERSED: Verdict.PUT_RIGHT,
    Clutch.SEIZED: Verdict.PUT_RIGHT,
    Clutch.WORN: Verdict.PUT_RIGHT,
    Clutch.UNCLEAR: Verdict.MEASURE_AGAIN,
}
WORDS = {
    Clutch.RIGHT: msg("The clutch drives, and lets the rotor run on."),
    Clutch.REVERSED: msg("The clutch, or the whole side shaft, is fitted end for end: turn it round."),
    Clutch.SEIZED: msg("The rotor is taken along both ways: the clutch is seized."),
    Clutch.WORN: msg("The clutch takes hold neither way: worn, or the wrong part."),
    Clutch.NOT_YET: msg("Not decided yet: do the hand tests that are left."),
    Clutch.UNCLEAR: msg("The three tests contradict one another: do all of them again."),
}
