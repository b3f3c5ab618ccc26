"""Finishing the pages: attached entries, metadata, colour profile, signature fields; the same each time."""

from __future__ import annotations

import base64
import datetime as dt
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rakeprep.handover.fields import FIELDS, Box, add_signature_fields
from rakeprep.handover.tags import Node
from rakeprep.handover.xmp import xmp
from rakeprep.paths import resources

if TYPE_CHECKING:
    from pikepdf import Object, Pdf, Stream

PRODUCER = "rakeprep"
PAIR = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>")
CHARACTERS = re.compile(rb"beginbfchar(.*?)endbfchar", re.DOTALL)
RANGES = re.compile(rb"beginbfrange(.*?)endbfrange", re.DOTALL)
TRIPLE = re.compile(rb"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*(<[0-9A-Fa-f]+>|\[[^\]]*\])")
RETURN = b"\r\nendstream"  # a stream that may end in a carriage return, as the library writes its end
BLOCK = 100  # most pairs in one block of a character map (Adobe Technical Note 5014)


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file inside the document; ``about`` says in the paper's language what it is."""

    name: str
    media_type: str
    data: bytes = field(repr=False)
    about: str = ""


def finish(
    pdf: bytes,
    attachments: Sequence[Attachment],
    title: str,
    language: str,
    when: dt.datetime,
    boxes: Mapping[str, Box] | None = None,
    labels: Mapping[str, str] | None = None,
    tree: Node | None = None,
    to_sign: bool = True,
) -> bytes:
    """The document ready to be signed. ``when`` has an offset from UTC; ``boxes`` and ``labels`` belong to
    the two signature fields (see ``fields``), which a paper that nobody signs has not (``to_sign``).
    Associated files as in ISO 19005-3, 6.8.

    With a ``tree`` of its content the document is level A of ISO 19005-3 and ISO 14289-1, else level U.
    """
    import pikepdf

    from rakeprep.handover.structure import write_structure

    with pikepdf.open(io.BytesIO(pdf)) as document:
        attach(document, attachments, when)
        set_viewer(document, language)
        set_colours(document)
        mend_character_maps(document)
        widgets = add_signature_fields(document, boxes, labels) if to_sign else ()
        if tree is not None:
            write_structure(document, tree, dict(zip(FIELDS, widgets, strict=to_sign)))
        set_metadata(document, title, language, when, tagged=tree is not None)
        return saved(document)


def saved(document: Pdf) -> bytes:
    """The bytes of the document, the same each time."""
    import pikepdf

    out, again = io.BytesIO(), io.BytesIO()
    plain = {
        "deterministic_id": True,
        "min_version": "1.7",
        "fix_metadata_version": False,
        "object_stream_mode": pikepdf.ObjectStreamMode.disable,
    }
    document.save(out, compress_streams=True, **plain)
    if RETURN not in out.getvalue():
        return out.getvalue()
    with pikepdf.open(io.BytesIO(out.getvalue())) as packed:
        for each in packed.objects:
            if isinstance(each, pikepdf.Stream) and ends_in_return(each):
                repack(each)
        packed.save(
            again, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none, **plain
        )
    return again.getvalue()


def ends_in_return(stream: Stream) -> bool:
    """Whether a reader could take the last byte of a packed stream for the end of the line after it."""
    return stream.get("/Filter") == "/FlateDecode" and stream.read_raw_bytes().endswith(b"\r")


def repack(stream: Stream) -> None:
    """Pack a stream so that it ends in another byte; attached files stay as plain as they can be."""
    from pikepdf import Array, Name

    if stream.get("/Type") == "/EmbeddedFile":
        stream.write(stream.read_bytes())
        return
    raw, how = stream.read_raw_bytes(), stream.get("/DecodeParms")
    filters = Array([Name.ASCII85Decode, Name.FlateDecode])
    packed = base64.a85encode(raw) + b"~>"
    stream.write(packed, filter=filters, decode_parms=None if how is None else Array([None, how]))


def attach(document: Pdf, attachments: Sequence[Attachment], when: dt.datetime) -> None:
    """Put files into the document and say that they are the data it was made from."""
    from pikepdf import Array, AttachedFileSpec, Name

    specifications: list[Object] = []
    for each in attachments:
        specification = AttachedFileSpec(
            document,
            each.data,
            filename=each.name,
            mime_type=each.media_type,
            description=each.about or each.name,
            creation_date=pdf_date(when),
            mod_date=pdf_date(when),
            relationship=Name.Data,
        )
        document.attachments[each.name] = specification
        specifications.append(specification.obj)
    if specifications:
        document.Root.AF = document.make_indirect(Array(specifications))


def set_viewer(document: Pdf, language: str) -> None:
    """Language, and the title instead of the file's name in the window's frame."""
    from pikepdf import Dictionary, Name, String

    document.Root.Lang = String(language)
    document.Root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
    document.Root.PageMode = Name.UseOutlines


def set_colours(document: Pdf) -> None:
    """Say what the colours mean: sRGB (IEC 61966-2-1)."""
    from pikepdf import Array, Dictionary, Name, String

    profile = document.make_stream((resources() / "colour" / "sRGB.icc").read_bytes())
    profile.N = 3
    profile.Alternate = Name.DeviceRGB
    intent = Dictionary(
        Type=Name.OutputIntent,
        S=Name.GTS_PDFA1,
        OutputConditionIdentifier=String("sRGB IEC61966-2.1"),
        RegistryName=String("http://www.color.org"),
        Info=String("sRGB IEC61966-2.1"),
        DestOutputProfile=profile,
    )
    document.Root.OutputIntents = Array([document.make_indirect(intent)])


def set_metadata(document: Pdf, title: str, language: str, when: dt.datetime, tagged: bool) -> None:
    """Title, language and dates, in the information dictionary and, the same, as XMP."""
    from pikepdf import Dictionary, Name, String

    document.docinfo = document.make_indirect(
        Dictionary(
            Title=String(title),
            Creator=String(PRODUCER),
            Producer=String(PRODUCER),
            CreationDate=String(pdf_date(when)),
            ModDate=String(pdf_date(when)),
        )
    )
    metadata = document.make_stream(xmp(title, language, PRODUCER, when, tagged))
    metadata.Type, metadata.Subtype = Name.Metadata, Name.XML
    document.Root.Metadata = metadata


def pdf_date(when: dt.datetime) -> str:
    """A moment as ISO 32000-1, 7.9.4 writes it: D:20260518160000+02'00."""
    minutes = int((when.utcoffset() or dt.timedelta()).total_seconds() // 60)
    sign = "-" if minutes < 0 else "+"
    hours, rest = divmod(abs(minutes), 60)
    return f"D:{when:%Y%m%d%H%M%S}{sign}{hours:02d}'{rest:02d}"


def mend_character_maps(document: Pdf) -> None:
    """Take out of every font's character map the codes that stand for nothing."""
    from pikepdf import Dictionary, Stream

    for thing in document.objects:
        if isinstance(thing, Dictionary) and "/ToUnicode" in thing:
            found = thing.ToUnicode
            if isinstance(found, Stream):
                found.write(mended(bytes(found.read_bytes())))


def mended(character_map: bytes) -> bytes:
    """A character map without codes for U+0000, in blocks of at most a hundred."""
    pairs: list[tuple[bytes, bytes]] = []
    for block in CHARACTERS.findall(character_map):
        pairs += PAIR.findall(block)
    for block in RANGES.findall(character_map):
        for first, last, onto in TRIPLE.findall(block):
            pairs += unrolled(first, last, onto)
    kept = [(code, onto) for code, onto in dict(pairs).items() if int(onto, 16)]
    if not kept:
        return character_map
    start = min(
        i for i in (character_map.find(b"beginbfchar"), character_map.find(b"beginbfrange")) if i >= 0
    )
    head = character_map[: character_map.rfind(b"\n", 0, start) + 1]
    tail = character_map[character_map.rfind(b"endcmap") :]
    body = b""
    for at in range(0, len(kept), BLOCK):
        part = kept[at : at + BLOCK]
        lines = b"\n".join(b"<%s> <%s>" % pair for pair in part)
        body += b"%d beginbfchar\n%s\nendbfchar\n" % (len(part), lines)
    return head + body + tail


def unrolled(first: bytes, last: bytes, onto: bytes) -> list[tuple[bytes, bytes]]:
    """The pairs of one range."""
    low, high, width = int(first, 16), int(last, 16), len(first)
    if onto.startswith(b"["):
        targets = re.findall(rb"<([0-9A-Fa-f]+)>", onto)
    else:
        start, digits = int(onto[1:-1], 16), len(onto) - 2
        targets = [b"%0*X" % (digits, start + n) for n in range(high - low + 1)]
    return [(b"%0*X" % (width, low + n), target) for n, target in enumerate(targets)]
