"""Sign a finished document twice: the technician certifies it, then it is countersigned.

Both are PAdES baseline B-B signatures (ETSI EN 319 142-1). The first allows nothing but filling in the
second field. What a reader sees of them is drawn on the page; the fields stay empty to the eye.
"""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from rakeprep.handover.fields import CUSTOMER, TECHNICIAN
from rakeprep.handover.keys import Key, Seal, SealError
from rakeprep.handover.quiet import hush
from rakeprep.jobs.reading import clean
from rakeprep.text import msg

if TYPE_CHECKING:
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.pdf_utils.writer import BasePdfFileWriter
    from pyhanko.sign.signers import PdfSigner, SimpleSigner
    from pyhanko.sign.signers.pdf_signer import PdfSigningSession


NEWEST = (1, 7)  # version of PDF that ISO 19005-3 and ISO 14289-1 stand on
BESIDE_CERTIFICATES = 1200  # bytes of a signature at most: names in it at their longest, digests, the value


@dataclass(frozen=True, slots=True)
class Signer:
    """Who signs: the name, and as what and why in words of the paper's language."""

    name: str
    role: str
    reason: str = ""


def get_ready() -> None:
    """Load the libraries of paper and keys, while the user still types; then the document is made sooner."""
    for name in ("pikepdf", "reportlab.platypus", "pyhanko.sign.signers", "pyhanko.sign.validation"):
        import_module(name)


def seal(pdf: bytes, seal: Seal, technician: Signer, countersigner: Signer, when: dt.datetime) -> bytes:
    """The document with both signatures, ``when`` with an offset from UTC; raises ``SealError``.

    Takes about half a second the first time, since the signing library is loaded then; to be called from
    a thread of its own.
    """
    pdf = seal_field(pdf, TECHNICIAN, seal, technician, when)
    return seal_field(pdf, CUSTOMER, seal, countersigner, when)


def seal_field(pdf: bytes, field: str, seal: Seal, signer: Signer, when: dt.datetime) -> bytes:
    """The document with one more signature; raises ``SealError``."""
    from pyhanko.pdf_utils.misc import PdfError
    from pyhanko.sign.general import SigningError

    hush()
    key = seal.technician if field == TECHNICIAN else seal.countersigning
    try:
        out = _signer(field, key, seal.root, signer, when).sign_pdf(
            _writer(pdf), existing_fields_only=True, bytes_reserved=room_for(key, seal.root)
        )
    except (PdfError, SigningError) as error:
        raise SealError(
            msg(
                "The document cannot be sealed in its field “{field}” ({reason}); make the document anew.",
                field=field,
                reason=str(error),
            )
        ) from error
    return bytes(out.getvalue())


def room_for(key: Key, root: bytes) -> int:
    """How many hexadecimal digits to keep free for a signature; to find out, the library would sign twice."""
    return 2 * (len(key.certificate) + len(root) + BESIDE_CERTIFICATES)


def _writer(pdf: bytes) -> IncrementalPdfFileWriter:
    """A writer that adds to the document and leaves its metadata alone.

    The library would write the metadata anew with each signature, in a form that PDF/A does not allow.
    """
    from pyhanko.pdf_utils.extensions import DeveloperExtension
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

    class Untouched(IncrementalPdfFileWriter):
        def _update_meta(self) -> None:
            pass

        def ensure_output_version(self, version: tuple[int, int]) -> None:
            # The library would make it PDF 2.0 for the sake of the curve; PDF/A-3 stands on PDF 1.7.
            super().ensure_output_version(min(version, NEWEST))  # type: ignore[no-untyped-call]

        def register_extension(self, ext: DeveloperExtension) -> None:
            if ext.base_version == "/1.7":
                super().register_extension(ext)

    return Untouched(io.BytesIO(pdf), strict=True)


def _signer(field: str, key: Key, root: bytes, signer: Signer, when: dt.datetime) -> PdfSigner:
    from pyhanko.pdf_utils.content import RawContent
    from pyhanko.sign import fields, signers
    from pyhanko.stamp import StaticStampStyle

    class At(signers.PdfSigner):
        """Signs with the moment that was given, not with the one in which it happens to run."""

        def init_signing_session(
            self, pdf_out: BasePdfFileWriter, existing_fields_only: bool = False
        ) -> PdfSigningSession:
            session = super().init_signing_session(pdf_out, existing_fields_only)
            session.system_time = when
            return session

    first = field == TECHNICIAN
    about = signers.PdfSignatureMetadata(
        field_name=field,
        md_algorithm="sha256",
        name=" ".join(clean(signer.name).split()),
        reason=clean(signer.reason or signer.role),
        subfilter=fields.SigSeedSubFilter.PADES,
        certify=first,
        docmdp_permissions=fields.MDPPerm.FILL_FORMS,
    )
    unseen = StaticStampStyle(border_width=0, background=RawContent(b""), background_opacity=1)
    return At(about, signer=_key(key, root), stamp_style=unseen)


def _key(key: Key, root: bytes) -> SimpleSigner:
    from asn1crypto import keys, x509
    from pyhanko.sign.signers import SimpleSigner
    from pyhanko_certvalidator.registry import SimpleCertificateStore

    above = SimpleCertificateStore()  # type: ignore[no-untyped-call]
    above.register(x509.Certificate.load(root))
    return SimpleSigner(
        signing_cert=x509.Certificate.load(key.certificate),
        signing_key=keys.PrivateKeyInfo.load(key.private),
        cert_registry=above,
    )
