"""Blocks onto pages: exactly one customer's page, calm tables, the same bytes each time."""

from __future__ import annotations

import builtins
import dataclasses
import datetime as dt
import hashlib
import io
import math
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from rakeprep import paths
from rakeprep.handover import blocks, layout
from rakeprep.handover.fitting import fit, width_of
from rakeprep.handover.fonts import characters, mapped, register
from rakeprep.handover.pen import HEIGHT, WIDTH
from rakeprep.handover.strokes import draw_strokes
from rakeprep.model.job import Stroke
from rakeprep.model.verdict import Verdict

MADE = dt.datetime(2026, 5, 18, 16, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
NASTY = '<b>x</b> & <img src="/etc/hostname"> <a href="x">y</a> [U+1F600] ' + "w" * 300 + " long" * 2000
STROKES = (Stroke(tuple((n * 0.7, 5 + 4 * math.sin(n / 4), n * 0.01, 0.6) for n in range(80))),)


def front(points: int = 2, text: str = "some words", topics: int = 8) -> blocks.FrontPage:
    """A customer's page with ``text`` in every place that a person or a data file fills."""
    pair = blocks.Pair("label", text, (text, text))
    box = blocks.SignatureBox("Role", "what is declared", text, STROKES, "", "technician")
    typed = blocks.SignatureBox("Role", "what is declared", text, (), text, "customer")
    return blocks.FrontPage(
        "Handover of a rotary rake",
        "Left and right are as seen from the tractor seat.",
        text,
        "Invented sample data",
        blocks.KeyValues((pair, pair, pair)),
        blocks.Notice(Verdict.PUT_RIGHT, text, "The machine's own book comes first."),
        blocks.OpenPoints(
            "Open points",
            tuple(
                blocks.Point(n, f"P{n}. {text}", f"P{n}. {text}", text, text, text, text[:20])
                for n in range(1, points + 1)
            ),
            "None.",
            "and {count} more, listed on page 2",
            "in full on page 2",
            "by when, who",
        ),
        blocks.Topics(
            "Shown",
            "your initials",
            tuple(blocks.Topic(n, text, text[:40]) for n in range(1, topics + 1)),
        ),
        blocks.Settings("Your settings", "", (pair,) * 6),
        blocks.Visits("What comes next", "", (pair,) * 3, pair),
        blocks.SignatureBoxes("Signed", (box, blocks.SignatureBox("Role", "declares", text), typed)),
    )


def table(rows: int, text: str = "some words in a cell", groups: bool = True) -> blocks.Table:
    """A long table."""
    made: list[tuple[blocks.Cell, ...] | blocks.Group] = []
    for number in range(rows):
        if groups and number % 7 == 0:
            made.append(blocks.Group(f"group {number}"))
        cells = (
            blocks.Cell(f"r{number}. {text}"),
            blocks.Cell(text, (text,), Verdict.STOP),
            blocks.Cell("", (text,)),
        )
        made.append(cells)
    return blocks.Table(("first column", "second column", "third column"), tuple(made), (50, 30, 20))


def document(
    page: blocks.FrontPage | None = None, record: tuple[blocks.Block, ...] = (blocks.Paragraph("record"),)
) -> blocks.Document:
    """A document around a page and a record."""
    return blocks.Document(
        "Handover of an invented rake",
        "en",
        "J-1",
        MADE,
        "Handover record · J-1",
        "Record code 0000-1111-2222-3333 · check with: rakeprep verify",
        "page {page} of {pages}",
        "left and right as seen from the tractor seat",
        "Invented sample data",
        page or front(),
        record,
    )


def pages(pdf: bytes) -> list[str]:
    """The text of every page, in the order in which it was drawn."""
    with pypdfium2.PdfDocument(pdf) as opened:
        return [page.get_textpage().get_text_range() for page in opened]


def mixed() -> blocks.Document:
    """A document with every kind of block, for the comparison of bytes."""
    small = io.BytesIO()
    Image.new("RGB", (900, 600), "#335577").save(small, "PNG")
    record: tuple[blocks.Block, ...] = (
        blocks.Heading(1, "The record"),
        blocks.KeyValues((blocks.Pair("label", "value", ("more",)),) * 4),
        blocks.Heading(2, "1. Step", "in order"),
        table(60),
        blocks.FindingNote(
            Verdict.MEASURE_AGAIN, "measure again", "where", "says", "todo", "working", "book"
        ),
        blocks.Photos((blocks.Photo(small.getvalue(), "a picture", "unreadable"),) * 2),
        blocks.KeepTogether((blocks.Heading(1, "End"), blocks.Paragraph("words", "quiet"))),
        blocks.Paragraph("last"),
    )
    return document(record=record)


@pytest.mark.parametrize("points", [0, 1, 2, 5, 7, 9, 12, 20, 200])
@pytest.mark.parametrize("text", ["some words", "quite a lot more words than usual " * 4, NASTY])
def test_that_the_customers_page_is_always_one_page(points: int, text: str) -> None:
    said = pages(layout.pdf(document(front(points, text))))
    assert len(said) == 2
    assert "Signed" in said[0]
    assert "page 1 of 2" in said[0]


def test_that_points_which_find_no_room_are_counted() -> None:
    said = pages(layout.pdf(document(front(60, "a lamp is dark on the right"))))[0]
    shown = sum(f"P{n}. " in said for n in range(1, 61))
    assert 20 <= shown < 60
    assert f"and {60 - shown} more, listed on page 2" in said


def test_that_a_few_points_stand_whole_on_the_page() -> None:
    text = "a rather long sentence about a part that is missing, on two lines"
    said = " ".join(pages(layout.pdf(document(front(2, text))))[0].split())
    assert said.count("on two lines") >= 4  # each point's sentence and its detail


def test_that_markup_in_a_text_opens_no_file_and_makes_no_link(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []
    plain: Callable[..., object] = builtins.open

    def watched(file: object, *args: object, **kw: object) -> object:
        opened.append(str(file))
        return plain(file, *args, **kw)

    monkeypatch.setattr(builtins, "open", watched)
    record = (
        blocks.Heading(2, NASTY),
        table(3, NASTY),
        blocks.Paragraph(NASTY),
        blocks.FindingNote(Verdict.STOP, NASTY, NASTY, NASTY, NASTY, NASTY, NASTY),
        blocks.KeyValues((blocks.Pair(NASTY, NASTY, (NASTY,)),)),
    )
    made = layout.pdf(document(front(3, NASTY), record))
    assert not [name for name in opened if "hostname" in name]
    with pikepdf.open(io.BytesIO(made)) as pdf:
        assert all("/Annots" not in page for page in pdf.pages)
        assert all(not page.get_images() for page in pdf.pages)
    assert '<img src="/etc/hostname">' in " ".join(pages(made)[1].split())


def test_that_every_page_says_which_of_how_many_it_is_and_the_code() -> None:
    said = pages(layout.pdf(document(record=(table(300),))))
    assert len(said) > 4
    for number, text in enumerate(said, 1):
        assert f"page {number} of {len(said)}" in text
        assert "0000-1111-2222-3333" in text
        assert "Invented sample data" in text
        assert "seen from the tractor seat" in text


def test_that_a_tables_header_comes_again_on_every_page() -> None:
    said = pages(layout.pdf(document(record=(table(200),))))
    assert all("second column" in text for text in said[1:])


@pytest.mark.parametrize("rows", range(20, 44, 2))
def test_that_no_heading_stands_alone_at_the_foot(rows: int) -> None:
    record = (
        blocks.Heading(1, "Part"),
        table(rows, groups=False),
        blocks.Heading(2, "LONELY"),
        blocks.Paragraph("A remark.", "quiet"),
        table(9),
    )
    for text in pages(layout.pdf(document(record=record))):
        if "LONELY" in text:
            assert "group 0" in text
            assert "r0. " in text.split("LONELY")[1]


@pytest.mark.parametrize("rows", range(33, 43))
def test_that_no_last_row_stands_alone_on_a_page(rows: int) -> None:
    said = pages(layout.pdf(document(record=(table(rows, groups=False),))))
    assert f"r{rows - 1}. " in said[-1]
    assert f"r{rows - 2}. " in said[-1]


def test_that_no_word_of_a_header_is_broken() -> None:
    header = ("a", "Donaudampfschiff", "unzusammengehörig")
    cells = tuple(blocks.Cell("x") for _ in header)
    said = pages(layout.pdf(document(record=(blocks.Table(header, (cells,), (160, 8, 8)),))))[1]
    assert all(word in said for word in header)


def test_that_a_row_of_endless_words_still_fits() -> None:
    wide = tuple((blocks.Cell(NASTY * 3, (NASTY,) * 9), blocks.Cell("W" * 9000)) for _ in range(2))
    said = pages(layout.pdf(document(record=(blocks.Table(("a", "b"), wide, (150, 20)),))))
    assert len(said) < 6


def test_that_long_paragraphs_run_over_pages() -> None:
    said = pages(layout.pdf(document(record=(blocks.Paragraph("word " * 6000),))))
    assert sum(text.count("word") for text in said[1:]) == 6000


def test_that_an_unreadable_picture_is_said_and_stops_nothing() -> None:
    photo = blocks.Photo(b"\xff\xd8\xff no picture", "caption", "This picture cannot be read.")
    assert "cannot be read" in pages(layout.pdf(document(record=(blocks.Photos((photo,)),))))[1]


def test_that_a_picture_is_made_small_and_loses_what_the_camera_wrote() -> None:
    large = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "SECRET PLACE"  # image description, Exif 2.32
    Image.effect_noise((2000, 1500), 60).convert("RGB").save(large, "JPEG", exif=exif)
    photo = blocks.Photo(large.getvalue(), "caption", "unreadable")
    made = layout.pdf(document(record=(blocks.Photos((photo,)),)))
    assert len(made) < len(large.getvalue()) / 2
    with pikepdf.open(io.BytesIO(made)) as pdf:
        (image,) = pdf.pages[1].get_images().values()
        assert max(int(image.Width), int(image.Height)) <= 640
        assert b"SECRET PLACE" not in image.read_raw_bytes()


def test_that_all_faces_are_inside_the_file() -> None:
    with pikepdf.open(io.BytesIO(layout.pdf(mixed()))) as pdf:
        fonts = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/Font"]
        assert fonts
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)


def test_that_window_and_paper_have_the_same_signs() -> None:
    window = [mapped(file.read_bytes()) for file in (paths.resources() / "fonts").glob("*.ttf")]
    assert len(window) == 2
    assert characters() == window[0] & window[1]


def test_that_the_signature_fields_lie_on_the_page() -> None:
    boxes = layout.lay_out(document()).boxes
    assert set(boxes) == {"technician", "customer"}
    for left, bottom, right, top in boxes.values():
        assert 0 < left < right < WIDTH
        assert 0 < bottom < top < HEIGHT / 3


class Recorder:
    """Takes down where lines go."""

    def __init__(self) -> None:
        self.points: list[tuple[float, float]] = []

    def beginPath(self) -> Recorder:
        return self

    def moveTo(self, x: float, y: float) -> None:
        self.points.append((x, y))

    def lineTo(self, x: float, y: float) -> None:
        self.moveTo(x, y)

    def __getattr__(self, name: str) -> Callable[..., None]:
        return lambda *args, **kw: None


@given(
    st.lists(
        st.lists(st.tuples(st.floats(), st.floats(), st.floats(0, 9), st.floats(0, 1)), max_size=9),
        max_size=4,
    )
)
def test_that_any_signature_stays_inside_its_box(
    strokes: list[list[tuple[float, float, float, float]]],
) -> None:
    canvas = Recorder()
    draw_strokes(canvas, [Stroke(tuple(points)) for points in strokes], (100, 50, 120, 30))
    for x, y in canvas.points:
        assert 99.9 <= x <= 220.1
        assert 49.9 <= y <= 80.1


def test_that_a_signature_keeps_its_own_size_where_it_fits() -> None:
    canvas = Recorder()
    draw_strokes(canvas, [Stroke(((0, 0, 0, 0.5), (10, 2, 1, 0.5)))], (0, 0, 200, 80))
    xs = [x for x, _ in canvas.points]
    # 10 mm are 28.35 points (25.4 mm and 72 points to the inch).
    assert max(xs) - min(xs) == pytest.approx(28.35, abs=0.01)


@settings(max_examples=60)
@given(st.text(max_size=400), st.floats(20, 300), st.integers(1, 4), st.booleans())
def test_that_fitted_lines_are_never_wider_or_more_than_allowed(
    text: str, width: float, lines: int, bold: bool
) -> None:
    register()
    fitted = fit(text, width, 11, lines, 7, bold)
    assert len(fitted.lines) <= lines
    assert all(width_of(line, fitted.size, bold) <= width + 0.01 for line in fitted.lines)


def test_that_the_same_blocks_give_the_same_bytes_in_another_process() -> None:
    done = subprocess.run(
        [sys.executable, __file__],
        capture_output=True,
        text=True,
        check=True,
        timeout=80,
        cwd=Path(__file__).parents[3],
        env=None,
    )
    assert done.stdout.strip() == hashlib.sha256(layout.pdf(mixed())).hexdigest()


def test_that_other_words_give_other_bytes() -> None:
    other = dataclasses.replace(mixed(), title="another")
    assert layout.pdf(other) != layout.pdf(mixed())


if __name__ == "__main__":
    print(hashlib.sha256(layout.pdf(mixed())).hexdigest())
