"""Finishing: attached files, metadata, colour profile, signature fields."""

from __future__ import annotations

import datetime as dt
import io
import re
import zlib

import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from rakeprep.handover.archive import Attachment, finish, mended, pdf_date, repack
from rakeprep.handover.fonts import PLAIN, register

WHEN = dt.datetime(2026, 5, 18, 16, 0, 5, tzinfo=dt.timezone(dt.timedelta(hours=2)))
FILES = (
    Attachment("entries.jsonl", "application/x-ndjson", b'{"seq":1}\n', "all entries"),
    Attachment("findings.json", "application/json", b"{}\n", "what the checks said"),
    Attachment("machine.toml", "text/plain", "größe = 1\n".encode(), ""),
)


@pytest.fixture(scope="module")
def plain() -> bytes:
    """One page with a line of text."""
    register()
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1, initialFontName=PLAIN)
    canvas.setFont(PLAIN, 12)
    canvas.drawString(72, 700, "Größe ≤ 5 mm → ½")
    canvas.save()
    return out.getvalue()


@pytest.fixture(scope="module")
def finished(plain: bytes) -> bytes:
    """That page, finished."""
    boxes = {"technician": (50.0, 60.0, 150.0, 100.0)}
    return finish(plain, FILES, "Handover of a rake, job „1“", "de", WHEN, boxes, {"customer": "Kunde"})


def test_that_attached_files_come_out_as_they_went_in(finished: bytes) -> None:
    with pikepdf.open(io.BytesIO(finished)) as pdf:
        assert {name: spec.get_file().read_bytes() for name, spec in pdf.attachments.items()} == {
            each.name: each.data for each in FILES
        }


def test_that_attached_files_are_the_data_of_the_document(finished: bytes) -> None:
    # ISO 19005-3, 6.8: AF of the catalogue, AFRelationship, a media type, a date of change.
    with pikepdf.open(io.BytesIO(finished)) as pdf:
        associated = list(pdf.Root.AF)
        assert [str(spec.UF) for spec in associated] == [each.name for each in FILES]
        for spec, each in zip(associated, FILES, strict=True):
            assert spec.AFRelationship == "/Data"
            assert spec.EF.F.Subtype == f"/{each.media_type}"
            assert str(spec.EF.F.Params.ModDate) == "D:20260518160005+02'00"
            assert str(spec.F) == each.name


def test_that_title_and_language_are_there_and_shown(finished: bytes) -> None:
    with pikepdf.open(io.BytesIO(finished)) as pdf:
        assert str(pdf.Root.Lang) == "de"
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle) is True
        assert str(pdf.docinfo["/Title"]) == "Handover of a rake, job „1“"
        with pdf.open_metadata() as meta:
            assert meta["dc:title"] == "Handover of a rake, job „1“"
            assert meta["xmp:CreateDate"] == "2026-05-18T16:00:05+02:00"


def test_that_colours_are_said_to_be_srgb(finished: bytes) -> None:
    with pikepdf.open(io.BytesIO(finished)) as pdf:
        (intent,) = list(pdf.Root.OutputIntents)
        assert intent.S == "/GTS_PDFA1"
        profile = intent.DestOutputProfile.read_bytes()
        assert profile[36:40] == b"acsp"  # signature of an ICC profile (ICC.1:2010, 7.2)
        assert profile[16:20] == b"RGB "


def test_that_both_signature_fields_are_there_and_empty(finished: bytes) -> None:
    with pikepdf.open(io.BytesIO(finished)) as pdf:
        fields = {str(field.T): field for field in pdf.Root.AcroForm.Fields}
        assert set(fields) == {"technician", "customer"}
        assert all("/V" not in field for field in fields.values())
        assert [float(v) for v in fields["technician"].Rect] == [50, 60, 150, 100]
        assert str(fields["customer"].TU) == "Kunde"


def test_that_no_code_of_a_face_stands_for_nothing(finished: bytes) -> None:
    with pikepdf.open(io.BytesIO(finished)) as pdf:
        maps = [
            thing.ToUnicode.read_bytes()
            for thing in pdf.objects
            if isinstance(thing, pikepdf.Dictionary) and "/ToUnicode" in thing
        ]
        assert maps
        assert all(b"<0000>" not in one for one in maps)
        assert all(int(n) <= 100 for one in maps for n in re.findall(rb"(\d+) beginbfchar", one))


def test_that_the_text_can_still_be_read(finished: bytes) -> None:
    pypdfium2 = pytest.importorskip("pypdfium2")
    with pypdfium2.PdfDocument(finished) as opened:
        assert opened[0].get_textpage().get_text_range() == "Größe ≤ 5 mm → ½"


def test_that_no_packed_stream_ends_in_a_carriage_return(plain: bytes) -> None:
    # Found by trying: about one attached file in 256 packs to such an end, and readers disagree about it.
    for number in range(2000):
        data = b"x%d" % number
        if zlib.compress(data).endswith(b"\r"):
            break
    made = finish(plain, [Attachment("x.txt", "text/plain", data)], "title", "en", WHEN)
    with pikepdf.open(io.BytesIO(made)) as pdf:
        streams = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Stream)]
        assert not [one for one in streams if one.read_raw_bytes().endswith(b"\r")]
        assert pdf.attachments["x.txt"].get_file().read_bytes() == data


def test_that_a_page_can_be_packed_so_that_it_ends_otherwise() -> None:
    with pikepdf.new() as pdf:
        data = b"0 0 m 9 9 l S\n" * 9
        stream = pdf.make_stream(data)
        stream.write(zlib.compress(data), filter=pikepdf.Name.FlateDecode)
        repack(stream)
        assert stream.read_raw_bytes().endswith(b"~>")
        assert stream.read_bytes() == data


def test_that_a_range_of_codes_is_written_out() -> None:
    given = b"begincmap\n2 beginbfrange\n<01> <03> <0041>\n<05> <06> [<0061> <0062>]\nendbfrange\nendcmap\n"
    said = mended(given)
    for pair in (b"<01> <0041>", b"<02> <0042>", b"<03> <0043>", b"<05> <0061>", b"<06> <0062>"):
        assert pair in said
    assert said.startswith(b"begincmap\n5 beginbfchar")
    assert said.endswith(b"endcmap\n")


def test_that_a_date_is_written_as_pdf_wants_it() -> None:
    # ISO 32000-1, 7.9.4: D:YYYYMMDDHHmmSSOHH'mm
    zone = dt.timezone(-dt.timedelta(hours=3, minutes=30))
    assert pdf_date(dt.datetime(2026, 1, 2, 3, 4, 5, tzinfo=zone)) == "D:20260102030405-03'30"


def test_that_finishing_gives_the_same_bytes_each_time(plain: bytes) -> None:
    first, second = (finish(plain, FILES, "title", "en", WHEN) for _ in range(2))
    assert first == second
