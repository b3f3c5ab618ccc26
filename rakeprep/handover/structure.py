"""The tree of tagged content written into the file (ISO 32000-1, 14.7 and 14.8).

Importing this loads the library: import it late.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pikepdf import Array, Dictionary, Name, Object, Pdf, String

from rakeprep.handover.tags import FormField, Mark, Node


def write_structure(document: Pdf, tree: Node, widgets: Mapping[str, Object]) -> None:
    """Write ``tree`` with its way back from every piece of content; ``widgets`` are the form's by name."""
    writer = Writer(document, widgets)
    root = document.make_indirect(Dictionary(Type=Name.StructTreeRoot))
    root.K = writer.element(tree, root)
    numbers: list[Any] = []
    for index, page in enumerate(document.pages):
        page.obj.StructParents = index
        page.obj.Tabs = Name.S
        marked = writer.marked.get(index, {})
        numbers.extend([index, document.make_indirect(Array([marked[n] for n in range(len(marked))]))])
    following = len(document.pages)
    for widget, element in writer.forms:
        widget.StructParent = following
        numbers.extend([following, element])
        following += 1
    root.ParentTree = document.make_indirect(Dictionary(Nums=Array(numbers)))
    root.ParentTreeNextKey = following
    document.Root.StructTreeRoot = root
    document.Root.MarkInfo = Dictionary(Marked=True)


class Writer:
    """Elements as objects of the file, and which element every marked piece and form field belongs to."""

    def __init__(self, document: Pdf, widgets: Mapping[str, Object]) -> None:
        self.document, self.widgets = document, widgets
        self.pages = [page.obj for page in document.pages]
        self.marked: dict[int, dict[int, Object]] = {}
        self.forms: list[tuple[Object, Object]] = []
        self.cells: dict[tuple[str, int], Object] = {}  # there are few kinds of cells and very many cells

    def element(self, node: Node, parent: Object) -> Object:
        """One element with all below it."""
        first = next((kid.page for kid in node.kids if isinstance(kid, Mark)), None)
        about: dict[str, Any] = {"/S": Name(f"/{node.kind}"), "/P": parent}
        if first is not None:
            about["/Pg"] = self.pages[first]
        if node.alt:
            about["/Alt"] = String(node.alt)
        attributes = self.attributes(node)
        if attributes is not None:
            about["/A"] = attributes
        made = self.document.make_indirect(Dictionary(about))
        kids = [kid for kid in (self.kid(kid, made, first) for kid in node.kids) if kid is not None]
        if kids:
            made.K = kids[0] if len(kids) == 1 else Array(kids)
        return made

    def kid(self, kid: Node | Mark | FormField, made: Object, first: int | None) -> Object | int | None:
        """One thing inside an element."""
        if isinstance(kid, Node):
            return self.element(kid, made)
        if isinstance(kid, Mark):
            self.marked.setdefault(kid.page, {})[kid.number] = made
            if kid.page == first:
                return kid.number
            return Dictionary(Type=Name.MCR, Pg=self.pages[kid.page], MCID=kid.number)
        widget = self.widgets.get(kid.name)
        if widget is None:
            return None
        self.forms.append((widget, made))
        return Dictionary(Type=Name.OBJR, Obj=widget, Pg=widget.P)

    def attributes(self, node: Node) -> Object | None:
        """Scope and width of cells, where pictures are, how lists are numbered."""
        if node.kind in {"TH", "TD"} and (node.scope or node.span > 1):
            return self.cell(node.scope, node.span)
        if node.box is not None:
            corners = [round(value, 2) for value in node.box]
            return Dictionary(O=Name.Layout, Placement=Name.Block, BBox=Array(corners))
        if node.kind == "L":
            return Dictionary(O=Name.List, ListNumbering=Name.Decimal)
        return None

    def cell(self, scope: str, span: int) -> Object:
        """What cells of one kind say of themselves; written anew into each of them."""
        if (scope, span) not in self.cells:
            about = Dictionary(O=Name.Table)
            if scope:
                about.Scope = Name(f"/{scope}")
            if span > 1:
                about.ColSpan = span
            self.cells[scope, span] = about
        return self.cells[scope, span]
