"""What the window passes to its pages: nothing is global."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from rakeprep.text import Language, Message
from rakeprep.ui.dialogs import Dialogs
from rakeprep.ui.theme import BRIGHT, DESK, Size, Theme

if TYPE_CHECKING:
    from rakeprep.jobs.left_at import LeftAt
    from rakeprep.jobs.open_job import OpenJob
    from rakeprep.model.entry import Slot
    from rakeprep.model.instrument import OwnInstrument


@dataclass
class Session:
    """One window's circumstances: where things are, how they look, and who works here.

    ``drafts`` keeps what was typed but could not be stored, with the unit that was assumed, so that leaving
    a page loses nothing; ``reasons`` keeps why an answer is to be changed, until it is.
    ``instruments`` is what each kind of reading was last taken with; ``known`` are
    the instruments of this computer once they were read. ``pictures`` says whether a step's picture is shown
    where it has one, or its list of tasks. ``camera`` is the folder that a camera fills.
    """

    data: Path
    resources: Path
    profiles: Path
    languages: Mapping[str, Language]
    language: Language
    dialogs: Dialogs
    clock: Callable[[], dt.datetime]
    theme: Theme = BRIGHT
    size: Size = DESK
    who: str = ""
    people: list[str] = field(default_factory=list)
    drafts: dict[Slot, tuple[str, str]] = field(default_factory=dict)
    reasons: dict[Slot, str] = field(default_factory=dict)
    instruments: dict[str, str] = field(default_factory=dict)
    known: dict[str, OwnInstrument] | None = None
    camera: Path | None = None
    pictures: bool = True

    def say(self, message: Message) -> str:
        """A message in the screen's language."""
        return self.language.say(message)

    def works(self, who: str) -> None:
        """Somebody works here from now on."""
        self.who = who
        if who and who not in self.people:
            self.people.append(who)

    def works_as(self, who: str) -> None:
        """A name is being typed: the next entry carries it."""
        self.who = who.strip()

    def known_instruments(self) -> dict[str, OwnInstrument]:
        """The instruments known on this computer, read when they are first asked for."""
        from rakeprep.jobs.own_instruments import known_in

        if self.known is None:
            self.known = known_in(self.data)
        return self.known

    def used(self, own: OwnInstrument, unit: str = "") -> None:
        """An instrument was registered, or read in a unit: it is offered first from now on."""
        from rakeprep.jobs import own_instruments

        before = self.known_instruments()
        self.known = own_instruments.used(before, own, unit)
        if list(self.known.values()) != list(before.values()):
            own_instruments.keep(self.data, self.known.values())

    def left(self, job: OpenJob) -> LeftAt:
        """Where a job was left on this computer."""
        from rakeprep.jobs import left_at

        return left_at.read(left_at.file_for(self.data, job.file.path), job.file.events()[0].hash)

    def leave_at(self, job: OpenJob, slot: Slot | None, typed: tuple[str, str] = ("", "")) -> None:
        """Keep where a job is left now, with what stands in the editor and is not stored."""
        from rakeprep.jobs import left_at

        drafts = dict(self.drafts)
        if slot is not None and typed[0]:
            drafts[slot] = typed
        left = left_at.LeftAt(slot, drafts, dict(self.reasons))
        left_at.write(left_at.file_for(self.data, job.file.path), job.file.events()[0].hash, left)

    def let_go(self, job: OpenJob, slot: Slot | None) -> None:
        """A job is closed: what could not be stored is given up, what was only begun to be said is kept."""
        for given_up in self.drafts:
            self.reasons.pop(given_up, None)
        self.drafts.clear()
        self.leave_at(job, slot)
        self.reasons.clear()

    @property
    def jobs(self) -> Path:
        """The folder of the jobs on this computer."""
        return self.data / "jobs"

    @property
    def seal(self) -> Path:
        """The folder of the workshop's seal."""
        return self.data / "seal"
