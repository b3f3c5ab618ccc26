"""The workshop's seal: two signing keys under a root certificate of its own.

The root's private key is thrown away as soon as it has signed the two certificates, so nobody can ever
issue a third one under the same root. When the certificates run out, the workshop makes a new seal.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import hashlib
import os
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from rakeprep.handover.certificates import (
    COUNTERSIGNING,
    TECHNICIAN,
    NotASeal,
    can_be_issued_to,
    issue,
    root_in,
    to_pem,
    workshop_of,
)
from rakeprep.jobs.reading import clean
from rakeprep.text import Message, msg

if TYPE_CHECKING:
    from rakeprep.handover.certificates import Issued

Clock = Callable[[], dt.datetime]
SHORTEST_PASSPHRASE = 12
LONGEST_PASSPHRASE = 500
LONGEST_WORKSHOP = 64  # ub-organization-name, RFC 5280 appendix A.1
LARGEST_KEY_FILE = 64_000  # bytes; ours have about two thousand
ROOT_FILE = "seal.pem"
KEY_FILES = {TECHNICIAN: "technician.p12", COUNTERSIGNING: "countersigning.p12"}
TRUSTED = "trusted"
# OWASP's figure of 2023 for PBKDF2 with SHA-256; about 0.15 s for each key.
KDF_ROUNDS = 600_000


class SealError(Exception):
    """Something about the seal that a user can put right; ``message`` says what, where and how."""

    def __init__(self, message: Message) -> None:
        super().__init__(str(message))
        self.message = message


@dataclass(frozen=True, slots=True)
class Key:
    """One signing key (PKCS#8, DER) with its certificate (DER)."""

    certificate: bytes
    private: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Seal:
    """The workshop's seal, opened. ``root`` is the certificate (DER) that others come to know it by."""

    workshop: str
    root: bytes = field(repr=False)
    technician: Key = field(repr=False)
    countersigning: Key = field(repr=False)

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the root certificate, in hex."""
        return fingerprint(self.root)


def fingerprint(certificate: bytes) -> str:
    """SHA-256 (FIPS 180-4) of a certificate in DER, in hex."""
    return hashlib.sha256(certificate).hexdigest()


def spoken(hexadecimal: str) -> str:
    """The first 128 bits of a fingerprint in groups of four, to be compared by telephone."""
    digits = hexadecimal[:32].upper()
    return " ".join(digits[i : i + 4] for i in range(0, len(digits), 4))


def new(folder: Path, workshop: str, passphrase: str, clock: Clock) -> Seal:
    """Make a seal in ``folder``; raises ``SealError``. Nothing half-made is left behind."""
    name = check_workshop(workshop)
    secret = check_passphrase(passphrase)
    check_vacant(folder)
    issued = issue(name, clock())
    files = {ROOT_FILE: to_pem(issued.root)}
    for role, file in KEY_FILES.items():
        files[file] = locked(issued, role, secret)
    _write(folder, files)
    return Seal(
        name,
        issued.root,
        Key(issued.certificates[TECHNICIAN], issued.private[TECHNICIAN]),
        Key(issued.certificates[COUNTERSIGNING], issued.private[COUNTERSIGNING]),
    )


def exists(folder: Path) -> bool:
    """Whether there is a seal in ``folder``, in whatever state."""
    return (folder / ROOT_FILE).exists()


def load(folder: Path, passphrase: str) -> Seal:
    """Open the seal in ``folder``; raises ``SealError``."""
    root = own_root(folder)
    secret = _encoded(passphrase)
    opened = {role: unlocked(folder / file, secret) for role, file in KEY_FILES.items()}
    try:
        workshop = workshop_of(root, [key.certificate for key in opened.values()])
    except NotASeal:
        raise SealError(
            msg(
                "The files of the seal in {folder} do not belong together; copy the whole folder from the "
                "place where the seal was made.",
                folder=str(folder),
            )
        ) from None
    return Seal(workshop, root, opened[TECHNICIAN], opened[COUNTERSIGNING])


def certificate(folder: Path) -> bytes:
    """The seal's root certificate in PEM, for others to trust; raises ``SealError``. Holds no secret."""
    return to_pem(own_root(folder))


def own_root(folder: Path) -> bytes:
    """The seal's root certificate in DER; raises ``SealError``."""
    file = folder / ROOT_FILE
    try:
        return root_in(_read(file))
    except FileNotFoundError:
        raise SealError(
            msg("There is no seal in {folder} yet; make the workshop's seal first.", folder=str(folder))
        ) from None
    except NotASeal:
        raise SealError(
            msg("{file} is damaged; put back the copy that was kept when the seal was made.", file=str(file))
        ) from None


def trusted(folder: Path) -> tuple[bytes, ...]:
    """The root certificates (DER) known on this computer, the own one first; unreadable ones left out."""
    found: list[bytes] = []
    for file in (folder / ROOT_FILE, *trusted_files(folder)):
        with contextlib.suppress(OSError, SealError, NotASeal):
            found.append(root_in(_read(file)))
    return tuple(dict.fromkeys(found))


def trusted_files(folder: Path) -> list[Path]:
    """The files of other workshops' seals that are trusted here."""
    try:
        return sorted((folder / TRUSTED).glob("*.pem"))
    except OSError:
        return []


def trust(folder: Path, pem: Path) -> bytes:
    """Take another workshop's root certificate as known; gives it in DER. Raises ``SealError``."""
    try:
        root = root_in(_read(pem))
    except FileNotFoundError:
        raise SealError(msg("There is no file {file}; check its name.", file=str(pem))) from None
    except NotASeal:
        raise SealError(
            msg(
                "{file} is not the certificate of a workshop's seal; ask the other workshop for the file "
                "that its own program exported.",
                file=str(pem),
            )
        ) from None
    if root not in trusted(folder):
        _make_folder(folder)
        _make_folder(folder / TRUSTED)
        _keep(folder / TRUSTED, trusted_name(root), to_pem(root))
    return root


def trusted_name(root: bytes) -> str:
    """The name of the file under which a trusted root certificate is kept."""
    return f"{fingerprint(root)[:32]}.pem"


def check_workshop(workshop: str) -> str:
    """The workshop's name, cleaned; raises ``SealError`` when it is empty or too long."""
    name = " ".join(clean(workshop).split())
    if not name:
        raise SealError(msg("The workshop's name is missing; it stands in every signature."))
    if len(name) > LONGEST_WORKSHOP:
        raise SealError(
            msg("The workshop's name is longer than {most} characters; shorten it.", most=LONGEST_WORKSHOP)
        )
    if not can_be_issued_to(name):
        raise SealError(
            msg("The workshop's name has a sign that a certificate cannot hold; write it in letters.")
        )
    return name


def check_passphrase(passphrase: str) -> bytes:
    """The passphrase for the key files; raises ``SealError`` when it is short."""
    if len(passphrase) < SHORTEST_PASSPHRASE:
        raise SealError(
            msg(
                "The passphrase has fewer than {least} characters; take a longer one, for example four words "
                "that do not belong together.",
                least=SHORTEST_PASSPHRASE,
            )
        )
    return _encoded(passphrase)


def check_vacant(folder: Path) -> None:
    """Raises ``SealError`` when there is a seal, or a part of one, already."""
    for file in (ROOT_FILE, *KEY_FILES.values()):
        if os.path.lexists(folder / file):
            raise SealError(
                msg(
                    "There is a seal in {folder} already; documents sealed with it need it, so it is not "
                    "overwritten. Choose another folder, or move the old seal away.",
                    folder=str(folder),
                )
            )


def locked(issued: Issued, role: str, secret: bytes) -> bytes:
    """One key with its certificates as an encrypted PKCS#12 file (RFC 7292)."""
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.serialization import PrivateFormat, load_der_private_key, pkcs12

    private = load_der_private_key(issued.private[role], None)
    assert isinstance(private, ec.EllipticCurvePrivateKey)
    how = (
        PrivateFormat.PKCS12.encryption_builder()
        .kdf_rounds(KDF_ROUNDS)
        .key_cert_algorithm(pkcs12.PBES.PBESv2SHA256AndAES256CBC)
        .hmac_hash(SHA256())
        .build(secret)
    )
    own = x509.load_der_x509_certificate(issued.certificates[role])
    root = x509.load_der_x509_certificate(issued.root)
    return pkcs12.serialize_key_and_certificates(role.encode("ascii"), private, own, [root], how)


def unlocked(file: Path, secret: bytes) -> Key:
    """The key in a PKCS#12 file; raises ``SealError``."""
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.hazmat.primitives.serialization import (
        Encoding,
        NoEncryption,
        PrivateFormat,
        pkcs12,
    )

    try:
        private, own, _ = pkcs12.load_key_and_certificates(_read(file), secret)
    except FileNotFoundError:
        raise SealError(
            msg("{file} is missing; put back the copy that was kept when the seal was made.", file=str(file))
        ) from None
    except ValueError:
        # The library cannot tell the two apart, and saying which would help somebody who guesses.
        raise SealError(
            msg(
                "The seal does not open with this passphrase; type it again. If it is surely the right one, "
                "{file} is damaged: put back the copy that was kept.",
                file=str(file),
            )
        ) from None
    if not isinstance(private, ec.EllipticCurvePrivateKey) or own is None:
        raise SealError(
            msg("{file} holds no key of a seal; put back the copy that was kept.", file=str(file))
        )
    der = private.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption())
    return Key(own.public_bytes(Encoding.DER), der)


def _encoded(passphrase: str) -> bytes:
    """The passphrase in one form, however the keyboard composes its letters."""
    try:
        secret = unicodedata.normalize("NFC", passphrase).encode("utf-8")
    except UnicodeEncodeError:
        secret = b""
    if not secret or len(secret) > LONGEST_PASSPHRASE or b"\0" in secret:
        raise SealError(
            msg("The passphrase is empty, longer than 500 bytes, or has characters that cannot be typed.")
        )
    return secret


def _read(file: Path) -> bytes:
    """A small file; raises ``FileNotFoundError``, or ``SealError`` for other troubles."""
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST_KEY_FILE + 1)
    except (FileNotFoundError, NotADirectoryError) as error:
        raise FileNotFoundError(str(file)) from error
    except OSError as error:
        raise SealError(
            msg(
                "{file} cannot be read ({reason}); check that it is yours and that you may open it.",
                file=str(file),
                reason=error.strerror or type(error).__name__,
            )
        ) from error
    if len(data) > LARGEST_KEY_FILE:
        raise SealError(msg("{file} is too large to be part of a seal; choose another file.", file=str(file)))
    return data


def _write(folder: Path, files: dict[str, bytes]) -> None:
    """All files or none."""
    _make_folder(folder)
    written: list[Path] = []
    try:
        for name, data in files.items():
            written.append(_keep(folder, name, data))
    except BaseException:
        for path in written:
            with contextlib.suppress(OSError):
                path.unlink()
        raise


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        folder.chmod(0o700)
    except OSError as error:
        raise _unwritable(folder, error) from error


def _keep(folder: Path, name: str, data: bytes) -> Path:
    """A new file that only its owner can read; it appears whole or not at all."""
    part = folder / f".{name}.part"
    try:
        try:
            with open(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
            part.chmod(0o600)
            part.replace(folder / name)
        except BaseException:
            part.unlink(missing_ok=True)
            raise
    except OSError as error:
        raise _unwritable(folder, error) from error
    return folder / name


def _unwritable(folder: Path, error: OSError) -> SealError:
    return SealError(
        msg(
            "Nothing can be written in {folder} ({reason}), so the seal is as it was; free some space there "
            "or choose a folder of your own.",
            folder=str(folder),
            reason=error.strerror or type(error).__name__,
        )
    )
