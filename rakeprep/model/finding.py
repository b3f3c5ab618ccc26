"""What a check says about entries."""

from __future__ import annotations

from dataclasses import dataclass

from rakeprep.model.entry import Slot
from rakeprep.model.field import Use
from rakeprep.model.source import Source
from rakeprep.model.verdict import Verdict
from rakeprep.text import Message


@dataclass(frozen=True, slots=True)
class Finding:
    """A verdict with its sentence, what to do, the arithmetic behind it, and where the limit is from.

    ``about`` names the entries judged, the first of which decides where the finding is shown.
    ``bars`` says what the machine may not be used for while the finding stands.
    """

    verdict: Verdict
    about: tuple[Slot, ...]
    says: Message
    todo: Message | None = None
    working: tuple[Message, ...] = ()
    source: Source | None = None
    bars: frozenset[Use] = frozenset()

    @property
    def step(self) -> str:
        """The step in which it is shown."""
        return self.about[0].step
