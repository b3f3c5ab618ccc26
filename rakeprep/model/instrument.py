"""An instrument of the workshop, by the number or name that stands on it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OwnInstrument:
    """One instrument. ``kind`` is a key of ``calculations.instruments``.

    ``until`` is the last day of its calibration; None where none is asked of it, such as a wooden lath.
    ``unit`` is what it was last read in, where that is known.
    """

    name: str
    kind: str
    until: dt.date | None = None
    unit: str = ""

    def overdue(self, day: dt.date) -> bool:
        """Whether a reading of that day is an indication only."""
        return self.until is not None and self.until < day


def instrument_key(name: str) -> str:
    """What an instrument is found by: its name without differences of case and spacing."""
    return " ".join(name.split()).casefold()
