"""What stands on the papers beside the handover document, as frozen blocks; every text is final and clean."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import Enum

from rakeprep.handover.blocks import Block


class Way(Enum):
    """How a place on a form is filled in."""

    NUMBER = "number"  # a box, and the units to choose from
    TICKS = "ticks"  # one of several, or any of them
    LINE = "line"  # words
    DATE = "date"


@dataclass(frozen=True, slots=True)
class Blank:
    """One empty place: its code, its name in words, and beside the box the units or answers to tick.

    ``note`` is what holds at this place alone, such as its own range.
    """

    code: str
    name: str
    way: Way
    choices: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """One question with its empty places; ``second`` asks for another person's name below them.

    ``again`` heads what runs over to the next sheet, ``address`` is what an answers file calls it.
    """

    text: str
    help: str
    note: str
    address: str
    blanks: tuple[Blank, ...]
    again: str
    second: str = ""


@dataclass(frozen=True, slots=True)
class Warned:
    """One caution: the safe state by name, the hazard, and the key of its sign (``drawing.signs``)."""

    safe: str
    hazard: str
    sign: str


@dataclass(frozen=True, slots=True)
class StepForm:
    """The sheets of one step."""

    key: str
    title: str
    cautions: tuple[Warned, ...]
    questions: tuple[Question, ...]


@dataclass(frozen=True, slots=True)
class Signed:
    """The strip at the foot of every sheet: labels of the boxes."""

    name: str
    when: str
    serial: str


@dataclass(frozen=True, slots=True)
class Margins:
    """What stands at the edges of every sheet; ``count`` has ``{page}`` and ``{pages}`` to be put in."""

    title: str
    language: str
    subject: str
    made: dt.datetime
    running: str
    foot: str
    count: str
    tag: str


@dataclass(frozen=True, slots=True)
class Forms:
    """Empty forms, step after step; each step counts its own sheets."""

    margins: Margins
    steps: tuple[StepForm, ...]
    strip: Signed


@dataclass(frozen=True, slots=True)
class Sticker:
    """One sticker: what it is about, the large words, those of half their size, small ones, whose it is."""

    title: str
    large: tuple[str, ...]
    middle: tuple[str, ...]
    small: tuple[str, ...]
    origin: str = ""


@dataclass(frozen=True, slots=True)
class Stickers:
    """A sheet of stickers to cut out, and why others are not on it."""

    margins: Margins
    heading: str
    how: str
    stickers: tuple[Sticker, ...]
    absent_heading: str
    absent: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Listing:
    """A paper of running blocks."""

    margins: Margins
    blocks: tuple[Block, ...]


OtherPaper = Forms | Stickers | Listing
