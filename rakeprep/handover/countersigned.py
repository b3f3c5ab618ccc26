"""What may be added to a document once the technician has signed: the countersignature and nothing else.

Stricter than ISO 32000-1, 12.8.2.2 asks where filling in fields is allowed: the last revision replaces one
object, the waiting field, which gets its signature and an appearance that shows nothing.
"""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pyhanko.pdf_utils.generic import DictionaryObject, PdfObject
    from pyhanko.pdf_utils.reader import HistoricalResolver, PdfFileReader
    from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature

REVISIONS = 3  # as finished, certified, countersigned
OF_TRAILER = {"/Info", "/Root", "/Size", "/ID", "/Prev"}
OF_SIGNATURE = {"/Type", "/Filter", "/SubFilter", "/Contents", "/ByteRange", "/M", "/Name", "/Reason"}
OF_APPEARANCE = {"/Type", "/Subtype", "/BBox", "/Resources", "/Length"}
# Saving, restoring and setting the state: nothing in it paints (ISO 32000-1, table 51).
SHOWS_NOTHING = re.compile(rb"(?:(?:q|Q|gs|cm|/[A-Za-z]{1,20}|-?\d{1,6}(?:\.\d{1,6})?)\s+){0,40}")


def only_countersigned(reader: PdfFileReader, found: Sequence[EmbeddedPdfSignature]) -> bool:
    """Whether the second of the two signatures is all that the last revision brought.

    May raise anything on a document that was tampered with.
    """
    from pyhanko.pdf_utils.generic import Reference

    first, second = found
    last = REVISIONS - 1
    place = second.sig_field.container_ref
    if reader.total_revisions != REVISIONS or not _plain_revision(reader, last):
        return False
    if not isinstance(place, Reference) or (first.signed_revision, second.signed_revision) != (
        last - 1,
        last,
    ):
        return False
    old, new = (reader.get_historical_resolver(revision) for revision in (last - 1, last))
    written = {ref.idnum for ref in reader.xrefs.explicit_refs_in_revision(last)}
    field = place.idnum
    fresh = written - {field}
    beyond = reader.xrefs.get_xref_container_info(last - 1).size
    if field not in written or not all(number >= beyond for number in fresh):
        return False
    return _same_trailer(reader, last) and _filled_in(old, new, field, fresh)


def _plain_revision(reader: PdfFileReader, revision: int) -> bool:
    """Whether a revision has one plain table of its objects and frees none."""
    from pyhanko.pdf_utils.xref import XRefSectionType

    about, data = reader.xrefs.get_xref_container_info(revision), reader.xrefs.get_xref_data(revision)
    plain = about.xref_section_type is XRefSectionType.STANDARD
    return plain and data.hybrid is None and not data.freed and not data.xrefs_in_objstm


def _same_trailer(reader: PdfFileReader, last: int) -> bool:
    """Whether catalogue, information and the lasting half of the identity stayed what they were."""
    before, after = (reader.trailer.flatten(revision) for revision in (last - 1, last))
    if not set(before) | set(after) <= OF_TRAILER:
        return False
    lasting = [
        (_bytes_of(t.raw_get("/Root")), _bytes_of(t.raw_get("/Info")), t["/ID"][0]) for t in (before, after)
    ]
    return lasting[0] == lasting[1]


def _filled_in(old: HistoricalResolver, new: HistoricalResolver, field: int, fresh: set[int]) -> bool:
    """Whether the field got a signature and an empty appearance, both new, and kept all else."""
    before, after = (_object(resolver, field) for resolver in (old, new))
    own = {"/V", "/AP"}
    if "/V" in before or not set(after) <= set(before) | own:
        return False
    if any(_bytes_of(before.raw_get(k)) != _bytes_of(after.raw_get(k)) for k in set(before) - own):
        return False
    signature = after.raw_get("/V").idnum
    signed = _object(new, signature)
    if signature not in fresh or not set(signed) <= OF_SIGNATURE:
        return False
    rest = fresh - {signature}
    if not rest:  # a field without a place on the page
        return "/AP" not in after or _bytes_of(before.raw_get("/AP")) == _bytes_of(after.raw_get("/AP"))
    shown = after["/AP"]
    return set(shown) == {"/N"} and {shown.raw_get("/N").idnum} == rest and _shows_nothing(shown["/N"])


def _shows_nothing(appearance: PdfObject) -> bool:
    from pyhanko.pdf_utils.generic import StreamObject

    if not isinstance(appearance, StreamObject) or not set(appearance) <= OF_APPEARANCE:
        return False
    if set(appearance.get("/Resources", {})) - {"/ExtGState"} or appearance["/Subtype"] != "/Form":
        return False
    return SHOWS_NOTHING.fullmatch(appearance.encoded_data + b"\n") is not None


def _object(resolver: HistoricalResolver, number: int) -> DictionaryObject:
    from pyhanko.pdf_utils.generic import DictionaryObject, Reference

    found = resolver.get_object(Reference(number, 0, pdf=resolver))
    if not isinstance(found, DictionaryObject):
        raise TypeError("not a dictionary")
    return found


def _bytes_of(thing: PdfObject) -> bytes:
    out = io.BytesIO()
    thing.write_to_stream(out, None)
    return out.getvalue()
