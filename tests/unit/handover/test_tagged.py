"""Archival and accessible: PDF/A-3a and PDF/UA-1 at once, before and after both signatures."""

from __future__ import annotations

import dataclasses
import datetime as dt
import io
import itertools
import math
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import page as validator
import pikepdf
import pytest
from PIL import Image

from rakeprep import paths
from rakeprep.handover import blocks, complete, layout
from rakeprep.handover.archive import finish
from rakeprep.handover.clean import one_line
from rakeprep.handover.complete import Draft
from rakeprep.handover.demo import HEALTHY, MACHINE, TRACTOR
from rakeprep.handover.document import build
from rakeprep.handover.fill import started
from rakeprep.handover.keys import Seal
from rakeprep.handover.tags import Node, Tags, every
from rakeprep.jobs import answers
from rakeprep.jobs.starting import text_of
from rakeprep.model.job import Stroke
from rakeprep.model.verdict import Verdict
from rakeprep.text import ENGLISH

MADE = dt.datetime(2026, 4, 14, 15, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
PROFILES = ("3a", "ua1")
# The library holds the first of two signatures against the end of the whole file, not of its revision.
OF_TWO = "PDFA3A-SIGNATURE-BYTERANGE-001"
PDFTOTEXT, PDFINFO = shutil.which("pdftotext"), shutil.which("pdfinfo")
NASTY = '<b>x</b> & <img src="/etc/hostname"> \u202egnirts \ufeff[U+1F600] ' + "w" * 300 + " long" * 2000
SHOWN = {"Tj", "TJ", "'", '"'}
PAINTED = {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do"}


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Draft:
    """The sample job, entered and signed."""
    samples, now = paths.sample_profiles(), [MADE - dt.timedelta(hours=3)]

    def clock() -> dt.datetime:
        now[0] += dt.timedelta(seconds=7)
        return now[0]

    read = answers.read_answers(text_of(samples / HEALTHY))
    folder = tmp_path_factory.mktemp("sample")
    with started(samples / MACHINE, samples / TRACTOR, read, folder, clock) as job:
        answers.apply(read, job)
        answers.sign(read, job)
        return complete.draft(job, {"en": ENGLISH})


@pytest.fixture(scope="module")
def unsealed(drawn: Draft) -> bytes:
    """Its document before the signatures."""
    return complete.unsealed(drawn, "Invented Workshop")


@pytest.fixture(scope="module")
def sealed(drawn: Draft, unsealed: bytes, workshop: Seal) -> bytes:
    """Its document with both signatures."""
    return complete.with_seals(unsealed, drawn, workshop)


@pytest.fixture(scope="module")
def opened(unsealed: bytes) -> Iterator[pikepdf.Pdf]:
    """The document, to be looked into."""
    with pikepdf.open(io.BytesIO(unsealed)) as pdf:
        yield pdf


def failures(pdf: bytes) -> set[str]:
    """Every rule of both standards that a file breaks."""
    return {
        f"{failure.rule_id}: {failure.message}"
        for profile in PROFILES
        for failure in validator.validate_pdf_bytes(pdf, profile=profile).failures
    }


def revisions(pdf: bytes) -> list[bytes]:
    """The file as it was at the end of each of its revisions."""
    ends = []
    at = pdf.find(b"%%EOF")
    while at >= 0:
        ends.append(at + len(b"%%EOF\n"))
        at = pdf.find(b"%%EOF", at + 1)
    return [pdf[:end] for end in ends]


def elements(element: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """An element of the structure and all below it, in reading order."""
    yield element
    for kid in kids(element):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield from elements(kid)


def kids(element: pikepdf.Object) -> list[pikepdf.Object]:
    """What an element holds."""
    if "/K" not in element:
        return []
    held = element.K
    return list(held) if isinstance(held, pikepdf.Array) else [held]


def marks(element: pikepdf.Object, pdf: pikepdf.Pdf) -> list[tuple[int, int]]:
    """Page and number of the content that is an element's own."""
    pages = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
    found = []
    for kid in kids(element):
        if isinstance(kid, int):
            found.append((pages[element.Pg.objgen], int(kid)))
        elif kid.get("/Type") == "/MCR":
            found.append((pages[kid.Pg.objgen], int(kid.MCID)))
    return found


def document_of(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """The topmost element."""
    return pdf.Root.StructTreeRoot.K


def drawn_marks(pdf: pikepdf.Pdf) -> list[tuple[int, int, float]]:
    """Every marked piece in the order it is drawn in: page, number, height of its first text."""
    found: list[tuple[int, int, float]] = []
    for number, page in enumerate(pdf.pages):
        stack: list[int | None] = []
        matrix, saved, text = pikepdf.Matrix(), [], pikepdf.Matrix()
        placed: dict[int, float] = {}
        for operands, operator in pikepdf.parse_content_stream(page):
            match str(operator):
                case "BDC" | "BMC":
                    about = operands[1] if len(operands) > 1 else {}
                    stack.append(int(about["/MCID"]) if "/MCID" in about else None)
                    if stack[-1] is not None:
                        assert len(stack) == 1, "marked content within marked content"
                        placed[stack[-1]] = math.nan
                case "EMC":
                    stack.pop()
                case "q":
                    saved.append(matrix)
                case "Q":
                    matrix = saved.pop()
                case "cm":
                    matrix = pikepdf.Matrix(*map(float, operands)) @ matrix
                case "Tm":
                    text = pikepdf.Matrix(*map(float, operands))
                case word if word in SHOWN | PAINTED:
                    assert stack, f"page {number + 1}: content that is neither tagged nor an artifact"
                    if stack[0] is not None and word in SHOWN and math.isnan(placed[stack[0]]):
                        placed[stack[0]] = (text @ matrix).f
        assert not stack
        found += [(number, mark, height) for mark, height in placed.items()]
    return found


# ---------------------------------------------------------------------------------- both standards


def test_that_the_document_conforms_before_it_is_signed(unsealed: bytes) -> None:
    assert failures(unsealed) == set()


def test_that_the_document_conforms_after_both_signatures(sealed: bytes) -> None:
    first, second, third = revisions(sealed)
    assert third == sealed
    assert failures(first) == set()
    assert failures(second) == set()
    assert {failure.split(":")[0] for failure in failures(sealed)} <= {OF_TWO}


def test_that_both_standards_are_claimed(opened: pikepdf.Pdf) -> None:
    with opened.open_metadata() as meta:
        assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("3", "A")
        assert meta["pdfuaid:part"] == "1"


def test_that_signing_leaves_the_version_and_the_metadata_alone(unsealed: bytes, sealed: bytes) -> None:
    # ISO 19005-3 and ISO 14289-1 both stand on PDF 1.7 (ISO 32000-1).
    with pikepdf.open(io.BytesIO(sealed)) as after, pikepdf.open(io.BytesIO(unsealed)) as before:
        assert after.pdf_version == before.pdf_version == "1.7"
        assert "/Version" not in after.Root
        assert {str(each.BaseVersion) for each in after.Root.Extensions.values()} == {"/1.7"}
        assert after.Root.Metadata.read_bytes() == before.Root.Metadata.read_bytes()
    assert sealed.startswith(b"%PDF-1.7")


def strange() -> blocks.Document:
    """A document with every kind of block, and texts that should be harmless."""
    picture = io.BytesIO()
    Image.new("RGB", (900, 600), "#335577").save(picture, "PNG")
    photos = (
        blocks.Photo(picture.getvalue(), NASTY, "unreadable"),
        blocks.Photo(b"no picture", "caption", "unreadable"),
    )
    cells = (blocks.Cell(NASTY, (NASTY,), Verdict.STOP), blocks.Cell("", ("quiet",)), blocks.Cell("x"))
    rows = (blocks.Group(NASTY), *((cells, blocks.Group("group")) * 40), cells)
    pair = blocks.Pair("label", NASTY, (NASTY, ""))
    stroke = Stroke(((0, 0, 0, 0.5), (9, 4, 0.3, 0.5)))
    point = blocks.Point(1, NASTY, NASTY, NASTY, NASTY, NASTY, "no field work")
    front = blocks.FrontPage(
        NASTY,
        "Left and right are as seen from the tractor seat.",
        NASTY,
        "",
        blocks.KeyValues((pair,) * 3),
        blocks.Notice(Verdict.PUT_RIGHT, NASTY, "The machine's own book comes first."),
        blocks.OpenPoints("Open points", (point,) * 30, "None.", "and {count} more"),
        blocks.Topics("Shown", "your initials", tuple(blocks.Topic(n, NASTY, "") for n in range(1, 9))),
        blocks.Settings("Settings", "", (pair,) * 6),
        blocks.Visits("Next", "", (pair,) * 3, pair),
        blocks.SignatureBoxes(
            "Signed",
            (
                blocks.SignatureBox("One", "declares", "below", (stroke,), "", "technician", "drawn"),
                blocks.SignatureBox("Two", "declares", "below", (), NASTY),
                blocks.SignatureBox("Three", "declares", "not signed yet", field="customer"),
            ),
        ),
    )
    record = (
        blocks.Heading(3, "A level too deep"),
        blocks.Paragraph(NASTY),
        blocks.KeyValues((pair,) * 4),
        blocks.Heading(1, NASTY, "aside"),
        blocks.Table(("a", "", "c"), rows, (60, 40, 30)),
        blocks.FindingNote(Verdict.STOP, "stop", NASTY, NASTY, NASTY, NASTY, NASTY),
        blocks.Photos(photos),
        blocks.Columns(2),
        blocks.Table(("a", "b", "c"), rows, (60, 40, 30), small=True),
        blocks.KeepTogether((blocks.Heading(2, "End"), blocks.Paragraph(NASTY, "quiet"))),
        blocks.Columns(1),
        blocks.Heading(2, "Last"),
    )
    return blocks.Document(
        NASTY, "en", "J", MADE, NASTY, NASTY, "page {page} of {pages}", "seat", "", front, record
    )


def finished(document: blocks.Document) -> bytes:
    """A document without attachments, finished."""
    laid = layout.lay_out(document)
    return finish(laid.pdf, (), "title", "en", MADE, laid.boxes, {"customer": "C"}, laid.tree)


def test_that_strange_texts_and_pictures_conform_too() -> None:
    made = finished(replaced(strange(), {NASTY: one_line(NASTY)}))  # blocks hold clean text only
    assert failures(made) == set()
    with pikepdf.open(io.BytesIO(made)) as pdf:
        drawn_marks(pdf)


def replaced(thing: object, texts: dict[str, str]) -> blocks.Document:
    """The same blocks with other texts."""
    if isinstance(thing, str):
        return texts.get(thing, thing)  # type: ignore[return-value]
    if isinstance(thing, tuple):
        return tuple(replaced(each, texts) for each in thing)  # type: ignore[return-value]
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        values = {f.name: replaced(getattr(thing, f.name), texts) for f in dataclasses.fields(thing)}
        return dataclasses.replace(thing, **values)  # type: ignore[return-value]
    return thing  # type: ignore[return-value]


# -------------------------------------------------- what the validator does not look at: the way back


def test_that_every_marked_piece_finds_back_to_the_element_that_holds_it(opened: pikepdf.Pdf) -> None:
    # ISO 32000-1, 14.7.4.4: StructParents of a page is the key of its row in the parent tree.
    numbers = list(opened.Root.StructTreeRoot.ParentTree.Nums)
    rows = dict(zip(map(int, numbers[::2]), numbers[1::2], strict=True))
    assert list(rows) == sorted(rows)
    assert int(opened.Root.StructTreeRoot.ParentTreeNextKey) > max(rows)
    assert [int(page.obj.StructParents) for page in opened.pages] == list(range(len(opened.pages)))
    held = {mark: element for element in elements(document_of(opened)) for mark in marks(element, opened)}
    for (number, mark), element in held.items():
        assert rows[number][mark].objgen == element.objgen
    assert sum(len(rows[number]) for number in range(len(opened.pages))) == len(held)


def test_that_no_marked_piece_is_without_an_element_and_none_is_held_twice(opened: pikepdf.Pdf) -> None:
    held = [mark for element in elements(document_of(opened)) for mark in marks(element, opened)]
    assert len(held) == len(set(held))
    assert {(number, mark) for number, mark, _ in drawn_marks(opened)} == set(held)


def test_that_every_element_names_its_parent(opened: pikepdf.Pdf) -> None:
    for element in elements(document_of(opened)):
        for kid in kids(element):
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                assert kid.P.objgen == element.objgen
    assert document_of(opened).P.objgen == opened.Root.StructTreeRoot.objgen


def test_that_each_signature_field_has_its_place_and_its_name(opened: pikepdf.Pdf) -> None:
    numbers = list(opened.Root.StructTreeRoot.ParentTree.Nums)
    rows = dict(zip(map(int, numbers[::2]), numbers[1::2], strict=True))
    widgets = list(opened.Root.AcroForm.Fields)
    assert len({int(widget.StructParent) for widget in widgets}) == 2
    for widget in widgets:
        element = rows[int(widget.StructParent)]
        assert element.S == "/Form"
        assert [kid.Obj.objgen for kid in kids(element)] == [widget.objgen]
        assert str(widget.TU)


# --------------------------------------------------------------------------------- what is what, in order


def test_that_pieces_are_read_in_the_order_in_which_they_are_drawn(opened: pikepdf.Pdf) -> None:
    read = [mark for element in elements(document_of(opened)) for mark in marks(element, opened)]
    in_own = [
        sorted(group) == group
        for _, group in ((key, list(group)) for key, group in itertools.groupby(read, key=lambda m: m[0]))
    ]
    assert all(in_own)
    assert [number for number, _ in read] == sorted(number for number, _ in read)


def test_that_rows_are_read_from_top_to_bottom(opened: pikepdf.Pdf) -> None:
    heights = {(number, mark): height for number, mark, height in drawn_marks(opened)}
    rows = [element for element in elements(document_of(opened)) if element.S == "/TR"]
    starts: dict[int, list[float]] = {}
    for row in rows:
        own = [mark for cell in kids(row) for mark in marks(cell, opened) if not math.isnan(heights[mark])]
        starts.setdefault(own[0][0], []).append(max(heights[mark] for mark in own))
    in_two_columns = {
        number for number, tops in starts.items() if any(b > a + 300 for a, b in itertools.pairwise(tops))
    }
    for number, tops in starts.items():
        rises = sum(b > a for a, b in itertools.pairwise(tops))
        assert rises <= (number in in_two_columns), f"page {number + 1}"
    assert len(starts) - len(in_two_columns) > 8


@pytest.mark.skipif(not (PDFTOTEXT and PDFINFO), reason="pdftotext and pdfinfo are not installed")
def test_that_the_tree_tells_the_same_words_as_the_pages(drawn: Draft, tmp_path: Path) -> None:
    document = build(drawn.paper)
    path = tmp_path / "x.pdf"
    # pdfinfo reads a page anew for each of its elements: the whole record would take half a minute.
    path.write_bytes(finished(dataclasses.replace(document, record=document.record[:14])))
    pages = subprocess.run(
        [str(PDFTOTEXT), "-raw", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout.split("\f")
    told = subprocess.run(
        [str(PDFINFO), "-struct-text", str(path)], capture_output=True, text=True, check=True
    ).stdout
    in_tree = [word for line in told.splitlines() for word in quoted(line)]
    # What stands on the pages and not in the tree: the edges, and the headers of tables that come again.
    again = {"question,", "place", "entry", "as", "typed", "limit", "from", "verdict", "when,", "with"}
    again |= {"what", "value", "source", "result", "arithmetic"}
    at = 0
    for page in pages:
        for line in page.splitlines():
            if line.startswith(("page ", "Record code ", "Invented sample data Handover")):
                continue
            for word in line.split():
                if at < len(in_tree) and word == in_tree[at]:
                    at += 1
                else:
                    assert word in again, line
    assert at == len(in_tree)


def quoted(line: str) -> list[str]:
    """The words of an element as pdfinfo prints it."""
    start, end = line.find('"'), line.rfind('"')
    return line[start + 1 : end].split() if 0 <= start < end else []


def test_that_no_level_of_headings_is_left_out(opened: pikepdf.Pdf) -> None:
    kinds = [str(element.S) for element in elements(document_of(opened))]
    levels = [int(kind[2:]) for kind in kinds if kind[1] == "H" and kind[2:].isdigit()]
    assert levels[0] == 1
    assert {1, 2, 3} == set(levels)
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


def test_that_every_table_is_regular_and_has_headers_for_columns_and_rows(opened: pikepdf.Pdf) -> None:
    tables = [element for element in elements(document_of(opened)) if element.S == "/Table"]
    assert len(tables) > 20
    for table in tables:
        assert [str(part.S) for part in kids(table)] == ["/THead", "/TBody"]
        head, body = (kids(part) for part in kids(table))
        assert len(head) == 1
        rows = [kids(row) for row in (*head, *body)]
        widths = {sum(int(cell.get("/A", {}).get("/ColSpan", 1)) for cell in row) for row in rows}
        assert len(widths) == 1
        assert {str(cell.A.Scope) for cell in rows[0]} == {"/Column"}
        for row in rows[1:]:
            assert row[0].S == "/TH"
            assert row[0].A.Scope == "/Row"
            assert all(cell.S == "/TD" for cell in row[1:])


def test_that_every_picture_has_words_and_a_place(opened: pikepdf.Pdf) -> None:
    figures = [element for element in elements(document_of(opened)) if element.S == "/Figure"]
    assert len(figures) == 7  # three signatures, the machine from above, shaft, lamps, rotors
    for figure in figures:
        assert len(str(figure.Alt)) > 10
        left, bottom, right, top = map(float, figure.A.BBox)
        assert 0 <= left < right <= 596
        assert 0 <= bottom < top <= 842


def test_that_the_parts_of_the_record_are_bookmarks(opened: pikepdf.Pdf, drawn: Draft) -> None:
    with opened.open_outline() as outline:
        titles = [item.title for item in outline.root]
        steps = [item.title for item in outline.root[1].children]
    assert titles[:2] == ["Handover of a rotary rake", "The record"]
    assert titles[-1] == "Data used"
    assert steps[0] == "How to check this record"
    wanted = [f"{step.order}. {step.title}" for step in drawn.paper.assessment.steps]
    assert [title for title in steps if title[:1].isdigit()] == wanted


def test_that_the_catalogue_says_language_tags_and_order(opened: pikepdf.Pdf) -> None:
    assert str(opened.Root.Lang) == "en"
    assert bool(opened.Root.MarkInfo.Marked) is True
    assert all(page.obj.Tabs == "/S" for page in opened.pages)


def test_that_a_header_that_comes_again_is_read_once() -> None:
    rows = tuple((blocks.Cell(f"r{n}"), blocks.Cell("x")) for n in range(200))
    document = dataclasses.replace(
        replaced(strange(), {NASTY: "words"}), record=(blocks.Table(("first", "second"), rows, (1, 1)),)
    )
    laid = layout.lay_out(document)
    assert laid.pages > 4
    (table,) = [node for node in every(laid.tree) if node.kind == "Table"][1:]  # after the open points
    assert sum(node.scope == "Column" for node in every(table)) == 2
    assert sum(node.kind == "TR" for node in every(table)) == 201


def test_that_a_paragraph_over_pages_is_one_element() -> None:
    document = dataclasses.replace(
        replaced(strange(), {NASTY: "words"}), record=(blocks.Paragraph("word " * 3000),)
    )
    tree = layout.lay_out(document).tree
    spread = [node for node in every(tree) if node.kind == "P" and len(node.kids) > 1]
    assert len(spread) == 1
    assert len({kid.page for kid in spread[0].kids}) == len(spread[0].kids)  # type: ignore[union-attr]


class Page:
    """Takes down what is written into a page."""

    def __init__(self) -> None:
        self.code: list[str] = []

    def getPageNumber(self) -> int:
        return 1

    def addLiteral(self, code: str) -> None:
        self.code.append(code)


def test_that_content_inside_an_artifact_stays_one() -> None:
    canvas = Page()
    tags = Tags(canvas)
    with tags.artifact(), tags.block("P"), tags.artifact():
        canvas.addLiteral("x")
    assert canvas.code == ["/Artifact BMC", "x", "EMC"]
    assert list(every(tags.root)) == [tags.root]


@pytest.mark.parametrize(
    ("asked", "given"),
    [((1, 3, 3), ("H1", "H2", "H3")), ((2, 2), ("H1", "H2")), ((1, 2, 1), ("H1", "H2", "H1"))],
)
def test_that_headings_step_down_one_level_at_a_time(asked: tuple[int, ...], given: tuple[str, ...]) -> None:
    tags = Tags(Page())
    found: list[Node] = [tags.heading(level) for level in asked]
    assert tuple(node.kind for node in found) == given


def test_that_the_document_comes_out_the_same_from_the_same_job(drawn: Draft, unsealed: bytes) -> None:
    assert complete.unsealed(drawn, "Invented Workshop") == unsealed


def test_that_the_blocks_of_the_sample_name_every_reading(drawn: Draft) -> None:
    said = repr(build(drawn.paper).record)
    shown: Callable[[str], bool] = said.__contains__
    read = [entry for entry in drawn.paper.record.entries.values() if entry.unit]
    assert len(read) > 100
    assert [str(entry.slot) for entry in read if not shown(entry.typed)] == []
