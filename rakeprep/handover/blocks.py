"""What stands on the paper, as frozen blocks; every text is final: in the paper's language and clean."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from rakeprep.drawing.shapes import Box, Shape
from rakeprep.model.job import Stroke
from rakeprep.model.verdict import Verdict


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 opens a part of the record, 2 a step, 3 a stretch of it."""

    level: int
    text: str
    aside: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; ``style`` is ``plain``, ``quiet`` or ``strong``."""

    text: str
    style: str = "plain"


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: text, quieter words beside it and lines below, and a verdict's symbol before the text.

    ``share`` draws where a value lies between the least (0) and the greatest (1) of its kind.
    """

    text: str
    quiet: tuple[str, ...] = ()
    verdict: Verdict | None = None
    strong: bool = False
    beside: str = ""
    share: float | None = None


@dataclass(frozen=True, slots=True)
class Group:
    """A row that heads the rows below it, across the whole table."""

    text: str


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose header is repeated on every page; ``weights`` share out the width.

    A ``small`` table is set closer, for what is looked up rather than read. ``turns`` draws over a column
    how far the tractor is turned (degrees, to the right positive).
    """

    header: tuple[str, ...]
    rows: tuple[tuple[Cell, ...] | Group, ...]
    weights: tuple[float, ...]
    small: bool = False
    turns: tuple[float | None, ...] = ()


@dataclass(frozen=True, slots=True)
class FindingNote:
    """A finding in full: where it belongs, what it says, what to do, the arithmetic, the source."""

    verdict: Verdict
    word: str
    where: str
    says: str
    todo: str = ""
    working: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Pair:
    """A label over a value, with quieter lines below."""

    label: str
    value: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class KeyValues:
    """Pairs side by side, ``columns`` in a row."""

    pairs: tuple[Pair, ...]
    columns: int = 3


@dataclass(frozen=True, slots=True)
class Notice:
    """What the machine may be used for now."""

    verdict: Verdict
    strong: str
    small: str


@dataclass(frozen=True, slots=True)
class Point:
    """One open point; ``short`` names it where there is no room for the sentence."""

    number: int
    says: str
    short: str
    reason: str
    due: str
    who: str
    aside: str = ""


@dataclass(frozen=True, slots=True)
class OpenPoints:
    """The open points; ``none`` is written when there are none, ``more`` has ``{count}`` to be put in.

    ``full`` says where they stand whole when they were shortened, ``when`` heads the last column.
    """

    heading: str
    points: tuple[Point, ...]
    none: str
    more: str
    full: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True)
class Topic:
    """One thing the customer did with his own hands, and his initials."""

    number: int
    name: str
    initials: str


@dataclass(frozen=True, slots=True)
class Topics:
    """What was shown and done."""

    heading: str
    aside: str
    topics: tuple[Topic, ...]


@dataclass(frozen=True, slots=True)
class Settings:
    """The customer's settings, each in both unit families."""

    heading: str
    aside: str
    pairs: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class Visits:
    """Follow-up dates, and whom to call."""

    heading: str
    aside: str
    pairs: tuple[Pair, ...]
    call: Pair


@dataclass(frozen=True, slots=True)
class SignatureBox:
    """One signature; ``field`` is the name of the signature field that lies over the box, or empty.

    ``alt`` says in words what the strokes are; ``below`` and ``when`` stand under them.
    """

    role: str
    declares: str
    below: str
    strokes: tuple[Stroke, ...] = ()
    typed: str = ""
    field: str = ""
    alt: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True)
class SignatureBoxes:
    """The signatures, under the open points."""

    heading: str
    boxes: tuple[SignatureBox, ...]


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture with its caption; ``data`` are the bytes of a JPEG or PNG file."""

    data: bytes = field(repr=False)
    caption: str
    unreadable: str


@dataclass(frozen=True, slots=True)
class Photos:
    """Pictures in rows of three."""

    photos: tuple[Photo, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """Words in a drawing: where their middle, left or right end is, how large (points), in how much room.

    ``align`` is -1 where ``at`` is their left end, 0 the middle, 1 the right end; ``plate`` clears the
    ground below them.
    """

    at: tuple[float, float]
    text: str
    size: float = 7.5
    room: float = 60.0
    align: int = 0
    strong: bool = False
    quiet: bool = False
    plate: bool = False
    lines: int = 1


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing: shapes in millimetres, symbols and words at their places, and words instead of it.

    What is ``to_size`` is measured in millimetres of the paper; else it is drawn as large as fits.
    """

    shapes: tuple[Shape, ...] = field(repr=False)
    bounds: Box
    symbols: tuple[tuple[float, float, Verdict], ...]
    labels: Mapping[int, str]  # words of the labels among the shapes, by the shape's number
    alt: str
    words: tuple[Words, ...] = ()
    to_size: bool = False


@dataclass(frozen=True, slots=True)
class PageBreak:
    """What follows starts a new page."""


@dataclass(frozen=True, slots=True)
class Columns:
    """What follows starts a new page, in one or two columns."""

    count: int


@dataclass(frozen=True, slots=True)
class KeepTogether:
    """Blocks that are not parted by a page break where it can be helped."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class FrontPage:
    """Page one: the customer's. Always exactly one page."""

    title: str
    line: str
    aside: str
    tag: str
    who: KeyValues
    notice: Notice
    points: OpenPoints
    topics: Topics
    settings: Settings
    visits: Visits
    signatures: SignatureBoxes


Block = (
    Heading
    | Paragraph
    | Table
    | FindingNote
    | KeyValues
    | Photos
    | Drawing
    | PageBreak
    | Columns
    | KeepTogether
)


@dataclass(frozen=True, slots=True)
class Document:
    """The whole paper.

    ``running`` stands at the top of every page of the record, ``foot`` at the bottom of all pages;
    ``page_words`` has ``{page}`` and ``{pages}`` to be put in; ``seat`` says how
    left and right are meant. ``tag`` marks invented data or a draft.
    """

    title: str
    language: str
    job: str
    made: dt.datetime
    running: str
    foot: str
    page_words: str
    seat: str
    tag: str
    front: FrontPage
    record: tuple[Block, ...]
