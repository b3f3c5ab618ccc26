"""Sealing a document."""

from __future__ import annotations

import datetime as dt
import io
import re
import shutil
import subprocess
import threading
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation.pdf_embedded import EmbeddedPdfSignature, collect_embedded_signatures

from rakeprep.handover import keys
from rakeprep.handover.keys import Seal, SealError
from rakeprep.handover.seal import Signer, seal

SEALED_AT = dt.datetime(2026, 4, 14, 15, 30, tzinfo=dt.timezone(dt.timedelta(hours=2)))
Make = Callable[..., bytes]
PDFSIG, CERTUTIL, OPENSSL = (shutil.which(tool) for tool in ("pdfsig", "certutil", "openssl"))


def signatures_in(pdf: bytes) -> list[EmbeddedPdfSignature]:
    return list(collect_embedded_signatures(PdfFileReader(io.BytesIO(pdf))))


def test_that_the_sealed_document_starts_with_the_unsealed_one(unsealed: bytes, sealed: bytes) -> None:
    assert sealed.startswith(unsealed)


def test_that_metadata_is_left_alone(make_paper: Make, make_sealed: Make) -> None:
    with pikepdf.open(io.BytesIO(make_paper({}))) as pdf:
        with pdf.open_metadata() as metadata:
            metadata["dc:title"] = "Invented"
        out = io.BytesIO()
        pdf.save(out)
    before = out.getvalue()
    with pikepdf.open(io.BytesIO(before)) as one, pikepdf.open(io.BytesIO(make_sealed(before))) as two:
        assert one.Root.Metadata.read_bytes() == two.Root.Metadata.read_bytes()
        assert one.docinfo == two.docinfo


def test_that_name_reason_and_time_stand_in_the_signatures(sealed: bytes) -> None:
    technician, customer = signatures_in(sealed)
    assert (technician.field_name, customer.field_name) == ("technician", "customer")
    assert technician.sig_object["/Name"] == "Technician One"
    assert customer.sig_object["/Name"] == "Customer One"
    assert technician.sig_object["/Reason"] == "The machine is prepared as recorded."
    # ISO 32000-1 7.9.4 writes 14 April 2026, 15:30, two hours ahead of UTC, like this.
    assert technician.sig_object["/M"] == "D:20260414153000+02'00'"


def test_that_the_signatures_follow_the_baseline_profile(sealed: bytes) -> None:
    # ETSI EN 319 142-1, 6.3: this SubFilter, and no signing-time inside the CMS.
    for signature in signatures_in(sealed):
        assert signature.sig_object["/SubFilter"] == "/ETSI.CAdES.detached"
        kinds = [attribute["type"].native for attribute in signature.signer_info["signed_attrs"]]
        assert sorted(kinds) == ["content_type", "message_digest", "signing_certificate_v2"]


def test_that_the_longest_name_of_a_workshop_has_room_in_a_signature(unsealed: bytes, tmp_path: Path) -> None:
    # 64 letters are the most (RFC 5280, appendix A.1); a Gothic one has four bytes in UTF-8, the most.
    made = keys.new(
        tmp_path / "s", "\N{GOTHIC LETTER AHSA}" * 64, "four words at the least", lambda: SEALED_AT
    )
    for signature in signatures_in(
        seal(unsealed, made, Signer("A", "technician"), Signer("B", "customer"), SEALED_AT)
    ):
        inside, room = len(signature.signed_data.dump()), len(signature.pkcs7_content)
        assert room - inside > 100  # spared for what a newer library might add


def test_that_the_fields_show_nothing(sealed: bytes) -> None:
    with pikepdf.open(io.BytesIO(sealed)) as pdf:
        for field in pdf.Root.AcroForm.Fields:
            assert not re.search(rb"\b(Tj|TJ|Do|BI|S|f|B)\b", field.AP.N.read_bytes())


def test_that_invisible_fields_can_be_sealed_too(make_paper: Make, make_sealed: Make) -> None:
    assert len(signatures_in(make_sealed(make_paper({}, boxed=False)))) == 2


@pytest.mark.parametrize("name", ["Tom & <Ann>\n(x) \\", "Ελένη 日本 😀", "a\u202eb\ud800c", ""])
def test_that_any_name_can_sign(unsealed: bytes, workshop: Seal, name: str) -> None:
    pdf = seal(unsealed, workshop, Signer(name, "technician"), Signer(name, "customer"), SEALED_AT)
    assert len(signatures_in(pdf)) == 2


@pytest.mark.parametrize("pdf", [b"", b"text", b"%PDF-1.7\n%%EOF\n"])
def test_that_what_cannot_be_sealed_gives_one_sentence(workshop: Seal, pdf: bytes) -> None:
    with pytest.raises(SealError, match="cannot be sealed"):
        seal(pdf, workshop, Signer("A", "technician"), Signer("B", "customer"), SEALED_AT)


def test_that_a_sealed_document_is_not_sealed_again(sealed: bytes, make_sealed: Make) -> None:
    with pytest.raises(SealError, match="cannot be sealed"):
        make_sealed(sealed)


def test_that_sealing_works_in_a_thread_of_its_own(unsealed: bytes, make_sealed: Make) -> None:
    done: list[bytes] = []
    thread = threading.Thread(target=lambda: done.append(make_sealed(unsealed)))
    thread.start()
    thread.join()
    assert len(signatures_in(done[0])) == 2


@pytest.mark.skipif(not (PDFSIG and CERTUTIL), reason="pdfsig and certutil are not installed")
def test_that_pdfsig_finds_both_signatures_valid_and_trusted(
    sealed: bytes, seal_folder: Path, tmp_path: Path
) -> None:
    assert PDFSIG is not None
    assert CERTUTIL is not None
    (tmp_path / "nss").mkdir()
    store = f"sql:{tmp_path / 'nss'}"
    subprocess.run([CERTUTIL, "-N", "-d", store, "--empty-password"], check=True, capture_output=True)
    add = ["-A", "-n", "root", "-t", "CT,C,C", "-i", str(seal_folder / "seal.pem"), "-d", store]
    subprocess.run([CERTUTIL, *add], check=True, capture_output=True)
    (tmp_path / "sealed.pdf").write_bytes(sealed)
    found = subprocess.run(
        [PDFSIG, "-nssdir", store, str(tmp_path / "sealed.pdf")], capture_output=True, text=True, check=False
    ).stdout
    assert found.count("Signature is Valid") == 2
    # Where today lies before or after the certificates' time, only trust is missing.
    assert found.count("Certificate is Trusted") + found.count("expired") == 2


@pytest.mark.skipif(not OPENSSL, reason="openssl is not installed")
def test_that_openssl_finds_both_signatures_valid(sealed: bytes, seal_folder: Path, tmp_path: Path) -> None:
    assert OPENSSL is not None
    for signature in signatures_in(sealed):
        _, end, start, rest = (int(n) for n in signature.byte_range)
        (tmp_path / "content").write_bytes(sealed[:end] + sealed[start : start + rest])
        (tmp_path / "cms").write_bytes(signature.pkcs7_content)
        command = [OPENSSL, "cms", "-verify", "-binary", "-inform", "DER", "-in", str(tmp_path / "cms")]
        command += ["-content", str(tmp_path / "content"), "-CAfile", str(seal_folder / "seal.pem")]
        command += [
            "-purpose",
            "any",
            "-attime",
            str(int(SEALED_AT.timestamp())),
            "-out",
            str(tmp_path / "o"),
        ]
        found = subprocess.run(command, capture_output=True, text=True, check=False)
        assert found.returncode == 0, found.stderr


def test_that_a_seal_from_disk_seals_as_the_fresh_one(
    tmp_path: Path, unsealed: bytes, make_sealed: Make, clock: Callable[[], dt.datetime]
) -> None:
    fresh = keys.new(tmp_path / "s", "Invented Workshop", "four words that rhyme", clock)
    assert keys.load(tmp_path / "s", "four words that rhyme") == fresh
    assert len(signatures_in(make_sealed(unsealed, fresh))) == 2
