"""The certificates of a seal (RFC 5280): one root that signs itself, and one for each of two roles.

Nothing personal stands in them, only the workshop's name and the role.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric import ec

ROOT = "workshop's root"
TECHNICIAN = "technician's seal"
COUNTERSIGNING = "countersigning seal"
ROLES = (TECHNICIAN, COUNTERSIGNING)
ROOT_YEARS = 20
ROLE_YEARS = 12
YEAR = dt.timedelta(days=365.25)
# A computer's clock may be set back a little between making the seal and using it.
EARLIER = dt.timedelta(days=2)


class NotASeal(ValueError):
    """Certificates that are not those of a seal."""


@dataclass(frozen=True, slots=True)
class Issued:
    """Fresh certificates (DER) and private keys (PKCS#8, DER) by role. The root's key is in none of them."""

    root: bytes
    certificates: Mapping[str, bytes]
    private: Mapping[str, bytes] = field(repr=False)


def issue(workshop: str, now: dt.datetime) -> Issued:
    """Make keys (ECDSA on P-256, FIPS 186-5) and certificates; ``now`` with an offset from UTC."""
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

    start = now.astimezone(dt.UTC) - EARLIER
    above = ec.generate_private_key(ec.SECP256R1())
    root = _certificate(workshop, ROOT, start, ROOT_YEARS, above.public_key(), above)
    keys = {role: ec.generate_private_key(ec.SECP256R1()) for role in ROLES}
    return Issued(
        root.public_bytes(Encoding.DER),
        {
            role: _certificate(workshop, role, start, ROLE_YEARS, key.public_key(), above).public_bytes(
                Encoding.DER
            )
            for role, key in keys.items()
        },
        {
            role: key.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption())
            for role, key in keys.items()
        },
    )


def can_be_issued_to(workshop: str) -> bool:
    """Whether a name can be compared in certificates (RFC 4518, 2): no emoji, no mixed directions."""
    from asn1crypto.x509 import Name

    try:
        return bool(Name.build({"organization_name": workshop}).hashable)
    except ValueError:
        return False


def to_pem(certificate: bytes) -> bytes:
    """A certificate in the text form of RFC 7468."""
    from cryptography import x509
    from cryptography.hazmat.primitives.serialization import Encoding

    return x509.load_der_x509_certificate(certificate).public_bytes(Encoding.PEM)


def root_in(pem: bytes) -> bytes:
    """The one root certificate in a PEM file, as DER; raises ``NotASeal``."""
    from cryptography import x509
    from cryptography.hazmat.primitives.serialization import Encoding

    try:
        found = x509.load_pem_x509_certificates(pem)
    except ValueError:
        raise NotASeal("no certificate in PEM form") from None
    if len(found) != 1:
        raise NotASeal("more than one certificate")
    root = found[0].public_bytes(Encoding.DER)
    check_root(root)
    return root


def check_root(root: bytes) -> None:
    """Raises ``NotASeal`` unless ``root`` (DER) signs itself and may sign others, with a key on P-256."""
    certificate = _loaded(root)
    if _said(certificate) != ROOT or not _may_issue(certificate):
        raise NotASeal("not a workshop's root")
    _signed_by(certificate, certificate)


def workshop_of(root: bytes, roles: Iterable[bytes]) -> str:
    """The workshop's name; raises ``NotASeal`` unless the two roles' certificates stand under ``root``."""
    check_root(root)
    above = _loaded(root)
    leaves = [_loaded(certificate) for certificate in roles]
    if tuple(_said(leaf) for leaf in leaves) != ROLES:
        raise NotASeal("not the two roles in their order")
    for leaf in leaves:
        _signed_by(leaf, above)
        if _may_issue(leaf) or _organization(leaf) != _organization(above):
            raise NotASeal("not a role of this workshop")
    if leaves[0].public_key() == leaves[1].public_key():
        raise NotASeal("one key in both roles")
    return _organization(above)


def name_on(root: bytes) -> str:
    """The workshop's name on a root certificate; raises ``NotASeal``."""
    return _organization(_loaded(root))


def runs_out(certificate: bytes) -> dt.datetime:
    """Until when a certificate can be used; raises ``NotASeal``."""
    return _loaded(certificate).not_valid_after_utc


def _certificate(
    workshop: str,
    role: str,
    start: dt.datetime,
    years: int,
    public: ec.EllipticCurvePublicKey,
    above: ec.EllipticCurvePrivateKey,
) -> x509.Certificate:
    from cryptography import x509
    from cryptography.hazmat.primitives.hashes import SHA256

    is_root = role == ROOT
    key_id = x509.SubjectKeyIdentifier.from_public_key(public)
    above_id = x509.AuthorityKeyIdentifier.from_issuer_public_key(above.public_key())
    return (
        x509.CertificateBuilder()
        .subject_name(_name(workshop, role))
        .issuer_name(_name(workshop, ROOT))
        .public_key(public)
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(start + years * YEAR)
        .add_extension(x509.BasicConstraints(ca=is_root, path_length=0 if is_root else None), critical=True)
        .add_extension(_usage(is_root), critical=True)
        .add_extension(key_id, critical=False)
        .add_extension(above_id, critical=False)
        .sign(above, SHA256())
    )


def _usage(is_root: bool) -> x509.KeyUsage:
    from cryptography import x509

    return x509.KeyUsage(
        digital_signature=not is_root,
        content_commitment=not is_root,  # once called nonRepudiation
        key_cert_sign=is_root,
        crl_sign=is_root,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _name(workshop: str, role: str) -> x509.Name:
    from cryptography import x509
    from cryptography.x509.oid import NameOID

    return x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, workshop),
            x509.NameAttribute(NameOID.COMMON_NAME, role),
        ]
    )


def _loaded(certificate: bytes) -> x509.Certificate:
    from cryptography import x509

    try:
        return x509.load_der_x509_certificate(certificate)
    except ValueError:
        raise NotASeal("not a certificate") from None


def _said(certificate: x509.Certificate) -> str:
    from cryptography.x509.oid import NameOID

    return _one(certificate, NameOID.COMMON_NAME)


def _organization(certificate: x509.Certificate) -> str:
    from cryptography.x509.oid import NameOID

    return _one(certificate, NameOID.ORGANIZATION_NAME)


def _one(certificate: x509.Certificate, oid: x509.ObjectIdentifier) -> str:
    try:
        values = [str(a.value) for a in certificate.subject.get_attributes_for_oid(oid)]
    except ValueError:
        raise NotASeal("a name that cannot be read") from None
    if len(values) != 1 or not values[0].isprintable():
        raise NotASeal("not one name")
    return values[0]


def _may_issue(certificate: x509.Certificate) -> bool:
    from cryptography import x509

    try:
        return certificate.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    except (ValueError, x509.ExtensionNotFound):
        raise NotASeal("no readable basic constraints") from None


def _signed_by(certificate: x509.Certificate, above: x509.Certificate) -> None:
    """Raises ``NotASeal`` unless ``above`` issued ``certificate``; both with keys on P-256."""
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric import ec

    for public in (certificate.public_key(), above.public_key()):
        if not isinstance(public, ec.EllipticCurvePublicKey) or public.curve.name != "secp256r1":
            raise NotASeal("not a key on P-256")
    try:
        certificate.verify_directly_issued_by(above)
    except (InvalidSignature, ValueError, TypeError):
        raise NotASeal("not issued by the other") from None
