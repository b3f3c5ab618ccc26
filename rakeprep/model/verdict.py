"""The words a check may end in."""

from __future__ import annotations

from enum import Enum
from operator import attrgetter

from rakeprep.text import Message, msg


class Verdict(Enum):
    """What is known about a thing; the order is from best to worst."""

    IN_ORDER = "in order"
    ABSENT = "not on this machine"
    NOT_YET = "not yet"
    OUT_OF_DATE = "out of date"
    MEASURE_AGAIN = "measure again"
    PUT_RIGHT = "put right"
    STOP = "stop"

    rank: int  # position from best (0) to worst

    def __init__(self, name: str) -> None:
        self.rank = len(type(self).__members__)

    @property
    def word(self) -> Message:
        """The word that stands beside the symbol."""
        return WORDS[self]


WORDS = {
    Verdict.IN_ORDER: msg("in order"),
    Verdict.ABSENT: msg("not on this machine"),
    Verdict.NOT_YET: msg("not yet"),
    Verdict.OUT_OF_DATE: msg("out of date"),
    Verdict.MEASURE_AGAIN: msg("measure again"),
    Verdict.PUT_RIGHT: msg("put right"),
    Verdict.STOP: msg("stop"),
}


RANK = attrgetter("rank")


def worst(verdicts: list[Verdict], of_none: Verdict = Verdict.NOT_YET) -> Verdict:
    """The worst of several; ``of_none`` where there is none at all."""
    return max(verdicts, key=RANK) if verdicts else of_none
