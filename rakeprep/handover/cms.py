"""The bytes of a signature itself, which no signature covers.

A PDF signature leaves out the place where it stands. Of what stands there, only some is protected by
the signature's own arithmetic; the rest (letter case, padding, version numbers, order) could be changed
without a trace. So it is written anew from its protected parts and must come out the same.
"""

from __future__ import annotations

import hashlib
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature


RANGE = re.compile(rb"/ByteRange \[0 (\d{1,9}) (\d{1,9}) (\d{1,9}) *\]")


def last_range(pdf: bytes) -> tuple[int, int, int] | None:
    """Where the last signature seems to stand: its start, its end, and how many bytes follow."""
    found = RANGE.match(pdf, max(pdf.rfind(b"/ByteRange"), 0))
    return None if found is None else (int(found[1]), int(found[2]), int(found[3]))


def seems_to_fit(pdf: bytes, start: int, end: int) -> bool:
    """Whether the digest of the bytes around a place is among the bytes that stand in it."""
    around = hashlib.sha256(memoryview(pdf)[:start])
    around.update(memoryview(pdf)[end:])
    return around.hexdigest().upper().encode("ascii") in pdf[start:end]


def covers(pdf: bytes, signature: EmbeddedPdfSignature) -> bool:
    """Whether the signature's digest is that of the bytes around it."""
    first, end, start, rest = _range(signature)
    if first != 0 or not 0 < end < start <= start + rest <= len(pdf):
        return False
    around = hashlib.sha256(memoryview(pdf)[:end])
    around.update(memoryview(pdf)[start : start + rest])
    digests = [a["values"].native for a in _signer(signature)["signed_attrs"] if _is_digest(a)]
    return digests == [[around.digest()]]


def reaches_end(pdf: bytes, signature: EmbeddedPdfSignature) -> bool:
    """Whether the signature covers the document up to its last byte."""
    _, _, start, rest = _range(signature)
    return start + rest == len(pdf)


def in_own_form(pdf: bytes, signature: EmbeddedPdfSignature) -> bool:
    """Whether the signature stands there, byte for byte, as this program writes it."""
    _, end, start, _ = _range(signature)
    digits = _anew(signature).hex().upper().encode("ascii")
    padding = b"0" * (start - end - 2 - len(digits))
    return pdf[end:start] == b"<" + digits + padding + b">"


def _range(signature: EmbeddedPdfSignature) -> tuple[int, int, int, int]:
    first, end, start, rest = (int(number) for number in signature.byte_range)
    return first, end, start, rest


def _signer(signature: EmbeddedPdfSignature):  # type: ignore[no-untyped-def]  # asn1crypto has no types
    (signer,) = signature.signed_data["signer_infos"]
    return signer


def _is_digest(attribute) -> bool:  # type: ignore[no-untyped-def]
    return bool(attribute["type"].native == "message_digest")


def _anew(signature: EmbeddedPdfSignature) -> bytes:
    """The signature (RFC 5652) built from its signed attributes, its value and its certificates."""
    from asn1crypto import algos, cms, core

    old = _signer(signature)
    sha256 = algos.DigestAlgorithm({"algorithm": "sha256", "parameters": core.Null()})
    own = signature.signer_cert
    signer = cms.SignerInfo(
        {
            "version": "v1",
            "sid": cms.SignerIdentifier(
                "issuer_and_serial_number",
                cms.IssuerAndSerialNumber({"issuer": own.issuer, "serial_number": own.serial_number}),
            ),
            "digest_algorithm": sha256,
            "signed_attrs": list(old["signed_attrs"]),
            "signature_algorithm": algos.SignedDigestAlgorithm({"algorithm": "sha256_ecdsa"}),
            "signature": old["signature"].native,
        }
    )
    data = cms.SignedData(
        {
            "version": "v1",
            "digest_algorithms": [sha256],
            "encap_content_info": {"content_type": "data"},
            "certificates": [choice.chosen for choice in signature.signed_data["certificates"]],
            "signer_infos": [signer],
        }
    )
    return bytes(cms.ContentInfo({"content_type": "signed_data", "content": data}).dump())
