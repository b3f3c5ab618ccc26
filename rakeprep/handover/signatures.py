"""Judge the two signatures of a handover document."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rakeprep.handover import cms
from rakeprep.handover.certificates import NotASeal, workshop_of
from rakeprep.handover.checked import Check
from rakeprep.handover.countersigned import only_countersigned
from rakeprep.handover.fields import CUSTOMER, FIELDS, TECHNICIAN
from rakeprep.handover.keys import fingerprint
from rakeprep.handover.quiet import hush
from rakeprep.jobs.reading import clean
from rakeprep.text import Message, msg

if TYPE_CHECKING:
    from pyhanko.pdf_utils.reader import PdfFileReader
    from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature

FIELD_WORDS = {TECHNICIAN: msg("technician"), CUSTOMER: msg("customer")}
ADDED = msg("Something was added to the document after the last signature.")
LONGEST_SHOWN = 200


@dataclass(frozen=True, slots=True)
class Signed:
    """One signature as it stands in the document; the time is what the workshop's computer said."""

    field: str
    name: str
    reason: str
    at: dt.datetime


@dataclass(frozen=True, slots=True)
class Sealing:
    """What the signatures tell. ``root`` is the workshop's root certificate (DER), if there is one."""

    checks: tuple[Check, ...]
    signed: tuple[Signed, ...] = ()
    workshop: str = ""
    root: bytes = field(default=b"", repr=False)

    @property
    def holds(self) -> bool:
        """Whether all is well with the signatures."""
        return bool(self.checks) and all(check.ok for check in self.checks)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the root certificate, in hex."""
        return fingerprint(self.root) if self.root else ""


def judge_signatures(pdf: bytes, second_opinion: bool = True) -> Sealing:
    """Look at fields, seal and signatures, in this order, and stop at the first that is not in order.

    What came after the technician's signature is held against our own rule, which allows nothing but the
    countersignature; with a ``second_opinion`` the signing library compares every object of both revisions
    as well, which takes ten times as long. May raise anything on a document that was tampered with; the
    caller takes that as "not verified".
    """
    from pyhanko.pdf_utils.reader import PdfFileReader
    from pyhanko.sign.validation.pdf_embedded import collect_embedded_signatures

    hush()
    reader = PdfFileReader(io.BytesIO(pdf), strict=True)
    found = collect_embedded_signatures(reader)
    fields = _fields(reader, found)
    if not fields.ok:
        return Sealing((fields,))
    whole = _whole(pdf, found)
    if not whole.ok:
        return Sealing((fields, whole))
    signed = tuple(_signed(signature) for signature in found)
    try:
        root, workshop = _seal(found)
    except NotASeal:
        says = msg("The certificates in the document are not those of a workshop's seal.")
        return Sealing((fields, whole, Check("seal", False, says)), signed)
    if not only_countersigned(reader, found):
        return Sealing((fields, whole, _changed(signed[0])), signed, workshop, root)
    each = [
        _signature(signature, who, root, reader, second_opinion)
        for signature, who in zip(found, signed, strict=True)
    ]
    return Sealing((fields, whole, *each), signed, workshop, root)


def _fields(reader: PdfFileReader, found: Sequence[EmbeddedPdfSignature]) -> Check:
    """Exactly the two expected fields, both signed, in their order."""
    from pyhanko.sign.fields import enumerate_sig_fields

    names = [name for name, _, _ in enumerate_sig_fields(reader)]
    filled = [signature.field_name for signature in found]
    for name in FIELDS:
        if name not in filled:
            says = msg("The signature of the {who} is missing.", who=FIELD_WORDS[name])
            return Check("fields", False, says)
    if sorted(names) != sorted(FIELDS) or filled != list(FIELDS):
        return Check(
            "fields", False, msg("There are other signatures in the document than the two that belong there.")
        )
    return Check("fields", True, msg("The signatures of the technician and of the customer are both there."))


def _whole(pdf: bytes, found: Sequence[EmbeddedPdfSignature]) -> Check:
    """The last signature reaches to the last byte, and what it leaves out is as this program writes it."""
    if not cms.reaches_end(pdf, found[-1]):
        return Check("whole", False, ADDED)
    for signature in found:
        if not cms.covers(pdf, signature) or not cms.in_own_form(pdf, signature):
            return Check(
                "whole",
                False,
                msg(
                    "The document was changed after signing: the signature of the {who} does not fit it.",
                    who=FIELD_WORDS[signature.field_name],
                ),
            )
    return Check(
        "whole", True, msg("The last signature covers the whole document, and nothing was added after it.")
    )


def _seal(found: Sequence[EmbeddedPdfSignature]) -> tuple[bytes, str]:
    """Root certificate and workshop; raises ``NotASeal`` unless both signatures come from one seal."""
    roots = {other.dump() for signature in found for other in signature.other_embedded_certs}
    if len(roots) != 1:
        raise NotASeal("not one root")
    root = bytes(roots.pop())
    return root, workshop_of(root, [bytes(signature.signer_cert.dump()) for signature in found])


def _signed(signature: EmbeddedPdfSignature) -> Signed:
    at = signature.self_reported_timestamp
    if at is None or at.tzinfo is None:
        raise ValueError("a signature without its time")
    name, reason = (
        clean(str(signature.sig_object.get(key, "")))[:LONGEST_SHOWN] for key in ("/Name", "/Reason")
    )
    return Signed(signature.field_name, name, reason, at)


def _signature(
    signature: EmbeddedPdfSignature, who: Signed, root: bytes, reader: PdfFileReader, second_opinion: bool
) -> Check:
    """The signature itself, its certificate at the moment it names, and what was added after it."""
    from asn1crypto import x509
    from pyhanko.sign.validation import validate_pdf_signature
    from pyhanko_certvalidator import ValidationContext

    # The root inside the document serves for the arithmetic; whether it is known here is another check.
    context = ValidationContext(
        trust_roots=[x509.Certificate.load(root)],
        moment=who.at,
        best_signature_time=who.at,
        allow_fetching=False,
        revocation_mode="soft-fail",
    )
    status = validate_pdf_signature(signature, context, skip_diff=not second_opinion)
    gaps = {"who": FIELD_WORDS[who.field], "name": who.name, "when": who.at}
    if not (status.intact and status.valid):
        return Check(who.field, False, msg("The signature of the {who} is not genuine.", **gaps))
    if not status.trusted:
        return Check(who.field, False, _untrusted(gaps))
    # Where nothing was compared, all that is known is that the signature reaches to the end of its revision.
    allowed = status.docmdp_ok or (not second_opinion and status.docmdp_ok is None)
    if not (status.bottom_line and allowed and _certifies(signature, who, reader)):
        return _changed(who)
    return Check(
        who.field,
        True,
        msg("Signed as {who} by {name} on {when}, by the clock of the workshop's computer.", **gaps),
    )


def _changed(who: Signed) -> Check:
    says = msg(
        "After the {who} had signed, more was changed than the signature allows.", who=FIELD_WORDS[who.field]
    )
    return Check(who.field, False, says)


def _untrusted(gaps: dict[str, object]) -> Message:
    return msg(
        "The certificate behind the signature of the {who} was not valid on {when}, the time it names.",
        **gaps,
    )


def _certifies(signature: EmbeddedPdfSignature, who: Signed, reader: PdfFileReader) -> bool:
    """Whether the technician's signature, and no other, forbids all but filling in fields."""
    from pyhanko.sign.fields import MDPPerm
    from pyhanko.sign.validation.pdf_embedded import read_certification_data

    about = read_certification_data(reader)
    if about is None or about.permission is not MDPPerm.FILL_FORMS:
        return False
    own = bool(about.author_sig == signature.sig_object)
    return own is (who.field == TECHNICIAN)
