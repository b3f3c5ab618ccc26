"""Objects: whatever is put, changed or taken away inside a sealed document, it does not verify.

Every edit is tried in several ways: saved anew by another program; appended to the sealed document; and, the
hardest, put in by somebody who has the workshop's key, after the technician and before the customer signed.
"""

from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Callable, Mapping
from typing import Any

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String
from pyhanko.pdf_utils import generic
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign.fields import SigFieldSpec, append_signature_field

from rakeprep.handover import attached, seal, signatures, verify
from rakeprep.handover.certificates import ROLES, issue
from rakeprep.handover.keys import Key, Seal, SealError
from rakeprep.handover.seal import Signer, seal_field
from rakeprep.handover.verify import Outcome

Made = Any  # of conftest
Edit = Callable[[Pdf], None]
Objects = Mapping[int, bytes]
CUSTOMER = Signer("Customer One", "customer", "received as recorded")
FREE = 9000  # numbers from here on are used by nothing in the document
SHOWN = b"BT /F1 12 Tf 72 720 Td (All is well) Tj ET"


def outcome(pdf: bytes, made: Made) -> Outcome:
    """What comes of it on a computer that knows the workshop."""
    return verify.verify(pdf, [made.workshop.root]).outcome


# ------------------------------------------------------------------------------- the edits, as data


def text(pdf: Pdf, data: bytes = SHOWN) -> pikepdf.Object:
    """A stream that paints something."""
    return pdf.make_stream(data)


def look(pdf: Pdf) -> Dictionary:
    """An appearance that shows something."""
    stream = text(pdf, b"0 0 90 40 re f")
    stream.Type, stream.Subtype, stream.BBox = Name.XObject, Name.Form, Array([0, 0, 99, 99])
    return Dictionary(N=stream)


CATALOGUE: dict[str, Callable[[Pdf], Any]] = {
    "/Lang": lambda pdf: String("fr"),
    "/PageMode": lambda pdf: Name.FullScreen,
    "/PageLayout": lambda pdf: Name.TwoColumnLeft,
    "/OpenAction": lambda pdf: Dictionary(S=Name.JavaScript, JS=String("app.alert(1)")),
    "/AA": lambda pdf: Dictionary(WP=Dictionary(S=Name.JavaScript, JS=String("0"))),
    "/OCProperties": lambda pdf: Dictionary(OCGs=Array(), D=Dictionary(BaseState=Name.OFF)),
    "/Version": lambda pdf: Name("/2.0"),
    "/DSS": lambda pdf: Dictionary(Certs=Array()),
    "/Legal": lambda pdf: Dictionary(JavaScriptActions=0),
    "/Threads": lambda pdf: Array(),
    "/URI": lambda pdf: Dictionary(Base=String("http://invented.example/")),
    "/PageLabels": lambda pdf: Dictionary(Nums=Array([0, Dictionary(S=Name.r)])),
    "/Extensions": lambda pdf: Dictionary(),
    "/ViewerPreferences": lambda pdf: Dictionary(HideMenubar=True),
    "/Collection": lambda pdf: Dictionary(View=Name.H),
    "/MarkInfo": lambda pdf: Dictionary(Marked=False),
    **{
        f"/{name}": lambda pdf: None
        for name in ("Names", "AF", "Outlines", "StructTreeRoot", "OutputIntents")
    },
    **{f"/{name}": lambda pdf: None for name in ("Perms", "AcroForm", "Metadata")},
}
PAGE: dict[str, Callable[[Pdf], Any]] = {
    "/Rotate": lambda pdf: 180,
    "/MediaBox": lambda pdf: Array([0, 0, 900, 900]),
    "/CropBox": lambda pdf: Array([0, 400, 595, 842]),
    "/UserUnit": lambda pdf: 2,
    "/Contents": text,
    "/Resources": lambda pdf: Dictionary(),
    "/Annots": lambda pdf: None,
    "/AA": lambda pdf: Dictionary(O=Dictionary(S=Name.JavaScript, JS=String("0"))),
    "/Group": lambda pdf: Dictionary(S=Name.Transparency),
    "/StructParents": lambda pdf: 1,
    "/Tabs": lambda pdf: Name.R,
    "/PieceInfo": lambda pdf: Dictionary(),
}
FIELD: dict[str, Callable[[Pdf], Any]] = {
    "/V": lambda pdf: None,
    "/TU": lambda pdf: String("Foreman"),
    "/T": lambda pdf: String("foreman"),
    "/FT": lambda pdf: Name.Tx,
    "/F": lambda pdf: 2,
    "/Rect": lambda pdf: Array([0, 0, 500, 500]),
    "/AP": look,
    "/MK": lambda pdf: Dictionary(CA=String("signed")),
    "/Lock": lambda pdf: Dictionary(Action=Name.All),
    "/SV": lambda pdf: Dictionary(Ff=0),
    "/A": lambda pdf: Dictionary(S=Name.URI, URI=String("http://invented.example/")),
    "/StructParent": lambda pdf: 0,
    "/P": lambda pdf: pdf.pages[-1].obj,
    "/Parent": lambda pdf: pdf.make_indirect(Dictionary(T=String("above"))),
}
SIGNATURE: dict[str, Callable[[Pdf], Any]] = {
    "/Name": lambda pdf: String("Technician Two"),
    "/Reason": lambda pdf: String("nothing"),
    "/M": lambda pdf: String("D:20300101000000Z"),
    "/Location": lambda pdf: String("elsewhere"),
    "/Reference": lambda pdf: None,
    "/SubFilter": lambda pdf: Name("/adbe.pkcs7.detached"),
    "/Contents": lambda pdf: String(b"\0" * 99),
    "/ByteRange": lambda pdf: Array([0, 0, 0, 0]),
}
INFORMATION = ("/Title", "/Creator", "/Producer", "/CreationDate", "/ModDate", "/Author", "/Subject")
ANNOTATIONS = ("Text", "Link", "FreeText", "Stamp", "Square", "Highlight", "Ink", "Redact", "FileAttachment")


def put(thing: pikepdf.Object, key: str, value: object) -> None:
    """Set a key, or take it away."""
    if value is None:
        del thing[key]
    else:
        thing[key] = value


def on_catalogue(key: str) -> Edit:
    return lambda pdf: put(pdf.Root, key, CATALOGUE[key](pdf))


def on_page(key: str) -> Edit:
    return lambda pdf: put(pdf.pages[0].obj, key, PAGE[key](pdf))


def on_field(which: int, key: str) -> Edit:
    return lambda pdf: put(pdf.Root.AcroForm.Fields[which], key, FIELD[key](pdf))


def on_signature(key: str) -> Edit:
    return lambda pdf: put(pdf.Root.AcroForm.Fields[0].V, key, SIGNATURE[key](pdf))


def on_information(key: str) -> Edit:
    return lambda pdf: put(pdf.trailer.Info, key, String("D:20200101000000Z"))


def with_annotation(kind: str) -> Edit:
    def edit(pdf: Pdf) -> None:
        made = Dictionary(Type=Name.Annot, Subtype=Name(f"/{kind}"), Rect=Array([50, 50, 300, 300]))
        made.Contents, made.AP = String("All is well."), look(pdf)
        pdf.pages[0].obj.Annots.append(pdf.make_indirect(made))

    return edit


def exchanged(name: str) -> Edit:
    def edit(pdf: Pdf) -> None:
        pdf.attachments[name].obj.EF.F.write(b"other\n")

    return edit


def renamed(name: str) -> Edit:
    def edit(pdf: Pdf) -> None:
        specification = pdf.attachments[name].obj
        specification.F = specification.UF = String(f"other-{name}")

    return edit


def taken_out(name: str) -> Edit:
    def edit(pdf: Pdf) -> None:
        del pdf.attachments[name]

    return edit


def twice(name: str) -> Edit:
    def edit(pdf: Pdf) -> None:
        pdf.attachments["twin"] = pikepdf.AttachedFileSpec(pdf, b"other\n", filename=name)

    return edit


def metadata(old: bytes, new: bytes) -> Edit:
    def edit(pdf: Pdf) -> None:
        before = pdf.Root.Metadata.read_bytes()
        assert old in before
        pdf.Root.Metadata.write(before.replace(old, new))

    return edit


def with_field(kind: str) -> Edit:
    def edit(pdf: Pdf) -> None:
        made = Dictionary(FT=Name(f"/{kind}"), T=String("added"), Type=Name.Annot, Subtype=Name.Widget)
        made.Rect = Array([50, 50, 300, 300])
        pdf.Root.AcroForm.Fields.append(pdf.make_indirect(made))

    return edit


def on_form(key: str, value: object) -> Edit:
    return lambda pdf: put(pdf.Root.AcroForm, key, value)


def pages_swapped(pdf: Pdf) -> None:
    kids = pdf.Root.Pages.Kids
    kids[0], kids[1] = kids[1], kids[0]


def page_removed(pdf: Pdf) -> None:
    del pdf.pages[-1]


def page_added(pdf: Pdf) -> None:
    pdf.add_blank_page()


def page_doubled(pdf: Pdf) -> None:
    pdf.pages.append(pdf.pages[0])


def painted_over(pdf: Pdf) -> None:
    pdf.pages[0].contents_add(SHOWN)


def contents_of_another_page(pdf: Pdf) -> None:
    pdf.pages[0].obj.Contents = pdf.pages[1].obj.Contents


def permission(pdf: Pdf) -> None:
    pdf.Root.AcroForm.Fields[0].V.Reference[0].TransformParams.P = 3


def other_font(pdf: Pdf) -> None:
    fonts = pdf.pages[0].obj.Resources.Font
    first, second = list(fonts.keys())[:2]
    fonts[first], fonts[second] = fonts[second], fonts[first]


def other_words_for_a_picture(pdf: Pdf) -> None:
    for thing in pdf.objects:
        if isinstance(thing, Dictionary) and thing.get("/S") == "/Figure":
            thing.Alt = String("nothing to be seen")
            return


def lost(pdf: Pdf) -> None:
    pdf.make_indirect(Dictionary(Lost=True))


def lost_words(pdf: Pdf) -> None:
    text(pdf)


def edits() -> dict[str, Edit]:
    """All of them by name."""
    return {
        **{f"catalogue {key}": on_catalogue(key) for key in CATALOGUE},
        **{f"page {key}": on_page(key) for key in PAGE},
        **{f"technician's field {key}": on_field(0, key) for key in FIELD},
        **{f"customer's field {key}": on_field(1, key) for key in FIELD if key != "/V"},
        **{f"technician's signature {key}": on_signature(key) for key in SIGNATURE},
        **{f"information {key}": on_information(key) for key in INFORMATION},
        **{f"annotation {kind}": with_annotation(kind) for kind in ANNOTATIONS},
        **{
            f"{word} {name}": how(name)
            for name in attached.ALL
            for word, how in (
                *(("exchanged", exchanged), ("renamed", renamed)),
                *(("taken out", taken_out), ("twice", twice)),
            )
        },
        "metadata part": metadata(b"<pdfaid:part>3", b"<pdfaid:part>2"),
        "metadata title": metadata(b"x-default", b"fr"),
        "metadata gone": metadata(b"<x:xmpmeta", b"<x:xmpmeto"),
        **{f"field {kind}": with_field(kind) for kind in ("Tx", "Sig", "Btn", "Ch")},
        "form without its flags": on_form("/SigFlags", 0),
        "form to be drawn anew": on_form("/NeedAppearances", True),
        "form in another way": on_form("/XFA", String("<xdp/>")),
        "form with a font": on_form("/DA", String("/Helv 0 Tf")),
        "form that calculates": on_form("/CO", Array()),
        "form without fields": on_form("/Fields", Array()),
        **{
            edit.__name__: edit
            for edit in (
                *(pages_swapped, page_removed, page_added, page_doubled, painted_over),
                *(contents_of_another_page, permission, other_font, other_words_for_a_picture),
                *(lost, lost_words),
            )
        },
    }


EDITS = edits()


# ---------------------------------------------------------------------------------- how they are made


def written(thing: pikepdf.Object) -> bytes:
    """An object as it stands in a file."""
    if not isinstance(thing, pikepdf.Stream):
        return bytes(thing.unparse(resolved=True))
    raw = thing.read_raw_bytes()
    about = Dictionary(dict(thing.items()))
    about.Length = len(raw)
    return bytes(about.unparse(resolved=True)) + b"\nstream\n" + raw + b"\nendstream"


def shot(pdf: Pdf) -> dict[int, bytes]:
    """All objects by their numbers."""
    return {thing.objgen[0]: written(thing) for thing in pdf.objects if isinstance(thing, pikepdf.Object)}


@pytest.fixture(scope="module")
def changed(brief: Made) -> dict[str, Objects]:
    """What each edit changes in the document that the technician has signed; new objects from ``FREE`` on."""
    found = {}
    with pikepdf.open(io.BytesIO(brief.certified)) as pdf:
        before = shot(pdf)
    for name, edit in EDITS.items():
        with pikepdf.open(io.BytesIO(brief.certified)) as pdf:
            edit(pdf)
            after = shot(pdf)
        other = {number: data for number, data in after.items() if before.get(number) != data}
        assert other or name == "information /Title", name
        found[name] = {
            number if number in before else number + FREE: renumbered(data, max(before))
            for number, data in other.items()
        }
    return {name: objects for name, objects in found.items() if objects}


def renumbered(data: bytes, last: int) -> bytes:
    """References to new objects as they are numbered outside."""

    def other(found: re.Match[bytes]) -> bytes:
        number = int(found[1])
        return b"%d 0 R" % (number + FREE if number > last else number)

    return re.sub(rb"\b(\d+) 0 R\b", other, data)


def appended(pdf: bytes, objects: Objects) -> bytes:
    """One more revision at the end of the file (ISO 32000-1, 7.5.6)."""
    out, places = bytearray(pdf), {}
    for number, data in sorted(objects.items()):
        places[number] = len(out)
        out += b"%d 0 obj\n%s\nendobj\n" % (number, data)
    table = len(out)
    out += b"xref\n0 1\n0000000000 65535 f \n"
    for number, at in places.items():
        out += b"%d 1\n%010d 00000 n \n" % (number, at)
    before = int(pdf[pdf.rindex(b"startxref") :].split()[1])
    root, info = (re.findall(rb"/%s (\d+ 0 R)" % key, pdf)[-1] for key in (b"Root", b"Info"))
    out += b"trailer\n<< /Size %d /Root %s /Info %s /Prev %d " % (2 * FREE, root, info, before)
    identity = re.findall(rb"/ID \[.*?\]", pdf, re.DOTALL)[-1]
    return bytes(out + b"%s >>\nstartxref\n%d\n%%%%EOF\n" % (identity, table))


def slipped_in(pdf: bytes, objects: Objects, made: Made, monkeypatch: pytest.MonkeyPatch) -> bytes:
    """The customer's signature, made with the workshop's own key, with other objects in its revision."""
    plain = seal._writer

    def writer(given: bytes) -> IncrementalPdfFileWriter:
        opened = plain(given)
        for number, data in objects.items():
            made = parsed(data, generic.Reference(number, 0, pdf=opened))
            opened.objects[0, number] = made
            if number < FREE and not isinstance(made, generic.StreamObject):
                # Whoever follows a reference in the older part comes upon the older object.
                old = opened.prev.get_object(generic.Reference(number, 0, pdf=opened.prev))
                if isinstance(old, generic.DictionaryObject):
                    old.clear()
                    old.update(made)
        return opened

    with monkeypatch.context() as patched:
        patched.setattr(seal, "_writer", writer)
        return seal_field(pdf, "customer", made.workshop, CUSTOMER, made.when)


def parsed(data: bytes, own: generic.Reference) -> generic.PdfObject:
    """An object for the signing library."""
    head, _, rest = data.partition(b"\nstream\n")
    thing = generic.read_object(io.BytesIO(head + b"\n"), own)
    if rest:
        thing = generic.StreamObject(dict(thing), encoded_data=rest.removesuffix(b"\nendstream"))
    thing.container_ref = own
    return thing


# --------------------------------------------------------------------------- what sealing itself does


def test_that_sealing_touches_nothing_but_the_fields_and_the_catalogue(whole: Made) -> None:
    """So what holds of pages, tags and parent tree before the signatures holds after them."""
    with pikepdf.open(io.BytesIO(whole.finished)) as pdf:
        before, catalogue = shot(pdf), pdf.Root.objgen[0]
        fields = {field.objgen[0]: str(field.T) for field in pdf.Root.AcroForm.Fields}
    with pikepdf.open(io.BytesIO(whole.sealed)) as pdf:
        after = shot(pdf)
        assert set(pdf.Root.keys()) - {"/Perms", "/Extensions"} == catalogue_keys(whole.finished)
    assert {number for number in before if after.get(number) != before[number]} == {catalogue, *fields}
    assert len(set(after) - set(before)) == 4  # two signatures, two appearances


def catalogue_keys(pdf: bytes) -> set[str]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return set(opened.Root.keys())


# ------------------------------------------------------------------------------------- none verifies


def test_that_there_are_more_than_enough_edits(changed: dict[str, Objects]) -> None:
    assert len(changed) >= 100


def test_that_no_document_saved_again_with_an_edit_verifies(brief: Made) -> None:
    for name, edit in list(EDITS.items())[::4]:
        out = io.BytesIO()
        with pikepdf.open(io.BytesIO(brief.sealed)) as pdf:
            edit(pdf)
            pdf.save(out)
        assert outcome(out.getvalue(), brief) is Outcome.NOT_VERIFIED, name


def without_glance(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(verify, "_at_a_glance", lambda pdf: None)


def test_that_no_edit_appended_at_the_end_verifies(
    brief: Made, changed: dict[str, Objects], monkeypatch: pytest.MonkeyPatch
) -> None:
    spoilt = {name: appended(brief.sealed, objects) for name, objects in changed.items()}
    for name, pdf in spoilt.items():
        with pikepdf.open(io.BytesIO(pdf), attempt_recovery=False) as opened:
            assert len(opened.pages) > 0, name  # a good file to every reader
        assert outcome(pdf, brief) is Outcome.NOT_VERIFIED, name
    without_glance(monkeypatch)
    assert [n for n, p in spoilt.items() if outcome(p, brief) is not Outcome.NOT_VERIFIED] == []


def test_that_no_edit_appended_between_the_signatures_verifies(
    brief: Made, changed: dict[str, Objects]
) -> None:
    """A revision of its own, over which the customer then signed."""
    tried = 0
    for name, objects in list(changed.items())[::3]:
        try:
            between = appended(brief.certified, objects)
            pdf = seal_field(between, "customer", brief.workshop, CUSTOMER, brief.when)
        except (SealError, KeyError, TypeError, ValueError, NotImplementedError):
            continue  # there was nothing left to sign
        tried += 1
        assert outcome(pdf, brief) is Outcome.NOT_VERIFIED, name
    assert tried >= 30


def test_that_no_edit_slipped_in_with_the_second_signature_verifies(
    brief: Made, changed: dict[str, Objects], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert outcome(slipped_in(brief.certified, {}, brief, monkeypatch), brief) is Outcome.VERIFIED
    tried = 0
    for name, objects in changed.items():
        try:
            pdf = slipped_in(brief.certified, objects, brief, monkeypatch)
        except (SealError, KeyError, TypeError, ValueError, AttributeError, NotImplementedError):
            continue
        tried += 1
        assert outcome(pdf, brief) is Outcome.NOT_VERIFIED, name
    assert tried >= 80


def test_that_our_own_rule_allows_nothing_that_the_library_would_refuse(
    brief: Made, changed: dict[str, Objects], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The library's judgement alone, on what is slipped in; it allows a little more, as the standard does."""
    monkeypatch.setattr(signatures, "only_countersigned", lambda reader, found: True)
    refused = 0
    names = ["page /Contents", "annotation FreeText", "catalogue /OpenAction", "field Tx", "permission"]
    for name in names:
        pdf = slipped_in(brief.certified, changed[name], brief, monkeypatch)
        refused += outcome(pdf, brief) is Outcome.NOT_VERIFIED
    assert refused == len(names)


def test_that_an_object_written_again_unchanged_or_set_free_does_not_verify(brief: Made) -> None:
    with pikepdf.open(io.BytesIO(brief.sealed)) as pdf:
        same = dict(list(shot(pdf).items())[:5])
    for number, data in same.items():
        assert outcome(appended(brief.sealed, {number: data}), brief) is Outcome.NOT_VERIFIED
    assert outcome(appended(brief.sealed, {}), brief) is Outcome.NOT_VERIFIED
    free = appended(brief.sealed, {}).replace(
        b"0000000000 65535 f \ntrailer", b"0000000000 65535 f \n1 1\n0000000000 00001 f \ntrailer"
    )
    assert outcome(free, brief) is Outcome.NOT_VERIFIED


# ---------------------------------------------------------------------------------- other signatures


def fresh_seal(name: str, when: dt.datetime) -> Seal:
    """A seal that anybody could make."""
    issued = issue(name, when - dt.timedelta(days=1))
    keys = [Key(issued.certificates[role], issued.private[role]) for role in ROLES]
    return Seal(name, issued.root, *keys)


def test_that_the_second_signature_cannot_come_from_a_fresh_seal(brief: Made) -> None:
    other = fresh_seal(brief.workshop.workshop, brief.when)
    for mixed in (
        other,
        Seal(other.workshop, brief.workshop.root, brief.workshop.technician, other.countersigning),
        Seal(other.workshop, brief.workshop.root, brief.workshop.technician, brief.workshop.technician),
    ):
        pdf = seal_field(brief.certified, "customer", mixed, CUSTOMER, brief.when)
        assert outcome(pdf, brief) is Outcome.NOT_VERIFIED


def test_that_the_customers_seal_alone_or_before_the_technicians_does_not_verify(brief: Made) -> None:
    alone = seal_field(brief.finished, "customer", brief.workshop, CUSTOMER, brief.when)
    assert outcome(alone, brief) is Outcome.NOT_VERIFIED
    with pytest.raises(SealError):  # a certification must come first
        seal_field(alone, "technician", brief.workshop, CUSTOMER, brief.when)


def test_that_a_third_signature_does_not_verify_whoever_made_it(brief: Made) -> None:
    for key in (brief.workshop, fresh_seal("Somebody", brief.when)):
        writer = IncrementalPdfFileWriter(io.BytesIO(brief.sealed))
        append_signature_field(writer, SigFieldSpec("third"))
        out = io.BytesIO()
        writer.write(out)
        assert outcome(out.getvalue(), brief) is Outcome.NOT_VERIFIED
        signer = seal._signer("third", key.countersigning, key.root, CUSTOMER, brief.when)
        pdf = signer.sign_pdf(IncrementalPdfFileWriter(io.BytesIO(brief.sealed))).getvalue()
        assert outcome(pdf, brief) is Outcome.NOT_VERIFIED


def test_that_a_signature_over_another_document_does_not_fit(brief: Made, whole: Made) -> None:
    """The bytes of good signatures carried over to another good document."""
    own, foreign = (re.findall(rb"/Contents (<[0-9A-F]+>)", made.sealed) for made in (brief, whole))
    for old, new in zip(own, foreign, strict=True):
        pdf = brief.sealed.replace(old, new.ljust(len(old), b"0")[: len(old)])
        assert outcome(pdf, brief) is Outcome.NOT_VERIFIED
