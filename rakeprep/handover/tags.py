"""What every piece on a page is, for readers who do not see it: a tree of tagged content (ISO 32000-1, 14.7).

Filled while the pages are drawn, in the order in which they are drawn; pure, written to the file later.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

Box = tuple[float, float, float, float]  # left, bottom, right, top in points
HEADER, FOOTER = "Header", "Footer"
EDGES = {HEADER: "/Attached [/Top]", FOOTER: "/Attached [/Bottom]"}


@dataclass(frozen=True, slots=True)
class Mark:
    """A stretch of drawn content: page (from 0) and its number there."""

    page: int
    number: int


@dataclass(frozen=True, slots=True)
class FormField:
    """A field of the form, by its name."""

    name: str


@dataclass(slots=True, eq=False)
class Node:
    """An element; ``scope`` is a header cell's, ``span`` how many columns a cell covers."""

    kind: str
    kids: list[Node | Mark | FormField] = field(default_factory=list)
    alt: str = ""
    scope: str = ""
    span: int = 1
    box: Box | None = None


def every(node: Node) -> Iterator[Node]:
    """A node and all nodes below it, in reading order."""
    yield node
    for kid in node.kids:
        if isinstance(kid, Node):
            yield from every(kid)


class Tags:
    """The tree of one document while it is drawn on ``canvas``.

    Content within content, or within an artifact, is part of the outer one.
    """

    def __init__(self, canvas: Any) -> None:
        self.canvas = canvas
        self.root = Node("Document")
        self.stack: list[Node] = [self.root]
        self.numbers: dict[int, int] = {}
        self.depth = 0
        self.level = 0

    @property
    def marking(self) -> bool:
        """Whether something is being marked now."""
        return self.depth > 0

    def node(self, kind: str, **more: Any) -> Node:
        """A new element under the one that is open."""
        made = Node(kind, **more)
        self.stack[-1].kids.append(made)
        return made

    def heading(self, level: int) -> Node:
        """A heading; no level is left out (ISO 14289-1, 7.4.2), and level 1 begins a part."""
        self.level = min(level, self.level + 1)
        if self.level == 1:
            self.stack[1:] = []
            self.stack.append(self.node("Sect"))
        return self.node(f"H{self.level}")

    @contextmanager
    def within(self, kind: str) -> Iterator[Node]:
        """A new element to which all belongs that is made meanwhile."""
        made = self.node(kind)
        self.stack.append(made)
        yield made
        self.stack.remove(made)

    def begin(self, node: Node) -> None:
        """What is drawn from now on is content of ``node``."""
        self.depth += 1
        if self.depth > 1:
            return
        page = int(self.canvas.getPageNumber()) - 1
        number = self.numbers.get(page, 0)
        self.numbers[page] = number + 1
        node.kids.append(Mark(page, number))
        self.canvas.addLiteral(f"/{node.kind} <</MCID {number}>> BDC")

    def hide(self, edge: str = "") -> None:
        """What is drawn from now on is no content: rules, grounds, what comes again on every page."""
        self.depth += 1
        if self.depth == 1:
            more = f" <</Type /Pagination /Subtype /{edge} {EDGES[edge]}>> BDC" if edge else " BMC"
            self.canvas.addLiteral(f"/Artifact{more}")

    def end(self) -> None:
        """The end of what ``begin`` or ``hide`` began."""
        self.depth -= 1
        if not self.depth:
            self.canvas.addLiteral("EMC")

    @contextmanager
    def content(self, node: Node) -> Iterator[None]:
        """``begin`` and ``end``."""
        self.begin(node)
        yield
        self.end()

    @contextmanager
    def artifact(self, edge: str = "") -> Iterator[None]:
        """``hide`` and ``end``."""
        self.hide(edge)
        yield
        self.end()

    @contextmanager
    def block(self, kind: str, **more: Any) -> Iterator[None]:
        """A new element and its content in one."""
        if self.marking:
            yield
            return
        with self.content(self.node(kind, **more)):
            yield


def marks_of(node: Node) -> Sequence[Mark]:
    """All content below a node, in reading order."""
    found: list[Mark] = []
    for kid in node.kids:
        if isinstance(kid, Mark):
            found.append(kid)
        elif isinstance(kid, Node):
            found.extend(marks_of(kid))
    return found
