"""Tells the tags what a table draws, in the calls the layout library makes while it draws one."""

from __future__ import annotations

from typing import Any

from rakeprep.handover.tags import Node, Tags


class Loose:
    """A table that only sets pieces side by side: grounds, rules and empty cells are no content."""

    def __call__(self, table: Any, what: str, *about: Any) -> None:
        """One call of the table that is being drawn."""
        tags: Tags = table.canv.tags
        match what:
            case "startBG" | "startLines":
                tags.hide()
            case "endBG" | "endLines":
                tags.end()
            case "startCell":
                self.hidden = isinstance(about[2], str)
                if self.hidden:
                    tags.hide()
            case "endCell":
                if self.hidden:
                    tags.end()

    hidden = False


class Grid(Loose):
    """A table of data: one head and one body over all its pages; a header that comes again is none.

    ``wide`` says how many columns the cells that head a group reach over, by the identity of their text.
    """

    def __init__(self) -> None:
        self.wide: dict[int, int] = {}
        self.kept: list[Any] = []  # lest another text takes over an identity
        self.node: Node | None = None
        self.parts: dict[str, Node] = {}
        self.again = False

    def __call__(self, table: Any, what: str, *about: Any) -> None:
        """One call of the table that is being drawn."""
        tags: Tags = table.canv.tags
        match what:
            case "startTable":
                self.again = self.node is not None
                self.node = self.node or tags.node("Table")
                tags.stack.append(self.node)
            case "endTable":
                tags.stack.remove(self.node)  # type: ignore[arg-type]
            case "startRow":
                self.start_row(tags, header=about[0] < table.repeatRows)
            case "endRow":
                self.end_row(tags)
            case "startCell":
                self.start_cell(tags, about[0] < table.repeatRows, about[1], about[2])
            case "endCell":
                if not tags.marking:
                    tags.stack.pop()
            case _:
                super().__call__(table, what, *about)

    def start_row(self, tags: Tags, header: bool) -> None:
        """A row, or a header that was read on an earlier page."""
        if header and self.again:
            tags.hide()
            return
        kind = "THead" if header else "TBody"
        if kind not in self.parts:
            self.parts[kind] = tags.node(kind)
        tags.stack.append(self.parts[kind])
        tags.stack.append(tags.node("TR"))

    def end_row(self, tags: Tags) -> None:
        """The end of either."""
        if tags.marking:
            tags.end()
        else:
            del tags.stack[-2:]

    def start_cell(self, tags: Tags, header: bool, column: int, content: Any) -> None:
        """A cell; the first of a row heads it."""
        if tags.marking:
            return
        first = content[0] if isinstance(content, list | tuple) and content else content
        scope = "Column" if header else "Row" if not column else ""
        cell = tags.node("TH" if scope else "TD", scope=scope, span=self.wide.get(id(first), 1))
        tags.stack.append(cell)
