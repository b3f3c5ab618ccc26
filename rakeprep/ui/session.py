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
    from rakeprep.model.entry import Slot


@dataclass
class Session:
    """One window's circumstances: where things are, how they look, and who works here.

    ``drafts`` keeps what was typed but could not be stored, with the unit that was assumed, so that leaving
    a page loses nothing. ``instruments`` is what each kind of reading was last taken with. ``pictures``
    says whether a step's picture is shown where it has one, or its list of tasks.
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
    instruments: dict[str, str] = field(default_factory=dict)
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

    @property
    def jobs(self) -> Path:
        """The folder of the jobs on this computer."""
        return self.data / "jobs"

    @property
    def seal(self) -> Path:
        """The folder of the workshop's seal."""
        return self.data / "seal"
