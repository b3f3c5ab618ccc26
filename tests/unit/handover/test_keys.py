"""The workshop's seal on disk."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import stat
from collections.abc import Callable
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.x509.oid import NameOID
from hypothesis import given
from hypothesis import strategies as st

from rakeprep.handover import keys, seal_commands
from rakeprep.handover.certificates import NotASeal, issue, root_in, to_pem
from rakeprep.handover.keys import Seal, SealError

PASSPHRASE = "four words that rhyme"
Clock = Callable[[], dt.datetime]

posix_only = pytest.mark.skipif(os.name != "posix", reason="file modes are a matter of POSIX systems")


@pytest.fixture
def copied(seal_folder: Path, tmp_path: Path) -> Path:
    """A seal that a test may damage."""
    return Path(shutil.copytree(seal_folder, tmp_path / "seal"))


def certificates_of(seal: Seal) -> list[x509.Certificate]:
    ders = (seal.root, seal.technician.certificate, seal.countersigning.certificate)
    return [x509.load_der_x509_certificate(der) for der in ders]


def test_that_a_seal_can_be_opened_again_with_its_passphrase(seal_folder: Path, workshop: Seal) -> None:
    again = keys.load(seal_folder, PASSPHRASE)
    assert again == workshop
    assert again.workshop == "Invented Workshop"


def test_that_a_passphrase_opens_the_seal_however_its_letters_are_composed(
    tmp_path: Path, clock: Clock
) -> None:
    # U+00E4 and U+0061 U+0308 are canonically equivalent (Unicode Standard Annex 15).
    keys.new(tmp_path / "s", "Invented Workshop", "n\u00e4chste Woche wieder", clock)
    assert keys.load(tmp_path / "s", "na\u0308chste Woche wieder").workshop == "Invented Workshop"


@pytest.mark.parametrize("wrong", ["four words that rhymE", "x", "another long passphrase"])
def test_that_a_wrong_passphrase_gives_one_sentence_and_no_log(
    seal_folder: Path, wrong: str, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SealError, match="does not open with this passphrase"):
        keys.load(seal_folder, wrong)
    assert not caplog.records
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("unusable", ["", "\ud800" * 12, "x" * 501, "with a \0 inside it"])
def test_that_an_unusable_passphrase_is_refused_in_words(seal_folder: Path, unusable: str) -> None:
    with pytest.raises(SealError, match="passphrase"):
        keys.load(seal_folder, unusable)


@pytest.mark.parametrize("short", ["", "elevenchars"])
def test_that_a_short_passphrase_is_refused_and_nothing_is_written(
    tmp_path: Path, clock: Clock, short: str
) -> None:
    with pytest.raises(SealError, match="fewer than 12 characters"):
        keys.new(tmp_path / "s", "Invented Workshop", short, clock)
    assert not (tmp_path / "s").exists()


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("  \n", "missing"),
        ("x" * 65, "longer than 64"),
        # RFC 4518, 2.4: code points that Unicode 3.2 did not have yet; a tractor came with 6.0.
        ("Invented \N{TRACTOR}", "cannot hold"),
        # RFC 3454, 6: right-to-left letters beside left-to-right ones.
        ("Invented \N{HEBREW LETTER ALEF}", "cannot hold"),
    ],
)
def test_that_a_workshop_needs_a_name_that_fits_into_a_certificate(
    tmp_path: Path, clock: Clock, name: str, says: str
) -> None:
    # 64 is ub-organization-name, RFC 5280 appendix A.1.
    with pytest.raises(SealError, match=says):
        keys.new(tmp_path / "s", name, PASSPHRASE, clock)


def test_that_a_seal_is_never_overwritten(copied: Path, clock: Clock) -> None:
    before = {p.name: p.read_bytes() for p in copied.iterdir() if p.is_file()}
    with pytest.raises(SealError, match="already"):
        keys.new(copied, "Invented Workshop", PASSPHRASE, clock)
    assert {p.name: p.read_bytes() for p in copied.iterdir() if p.is_file()} == before


def test_that_a_folder_without_a_seal_is_said_to_have_none(tmp_path: Path) -> None:
    with pytest.raises(SealError, match="no seal in"):
        keys.load(tmp_path / "nowhere", PASSPHRASE)


@pytest.mark.parametrize("name", ["seal.pem", "technician.p12", "countersigning.p12"])
@pytest.mark.parametrize("content", [b"", b"\x30\x82", b"x" * 70_000, None])
def test_that_a_damaged_or_missing_file_gives_one_sentence(
    copied: Path, name: str, content: bytes | None
) -> None:
    (copied / name).unlink()
    if content is not None:
        (copied / name).write_bytes(content)
    with pytest.raises(SealError) as caught:
        keys.load(copied, PASSPHRASE)
    assert str(caught.value).endswith(".")


def test_that_files_of_two_seals_do_not_make_one(copied: Path, tmp_path: Path, clock: Clock) -> None:
    keys.new(tmp_path / "other", "Invented Workshop", PASSPHRASE, clock)
    shutil.copy(tmp_path / "other" / "technician.p12", copied)
    with pytest.raises(SealError, match="do not belong together"):
        keys.load(copied, PASSPHRASE)


def test_that_the_two_key_files_cannot_be_exchanged(copied: Path) -> None:
    first = (copied / "technician.p12").read_bytes()
    (copied / "technician.p12").write_bytes((copied / "countersigning.p12").read_bytes())
    (copied / "countersigning.p12").write_bytes(first)
    with pytest.raises(SealError, match="do not belong together"):
        keys.load(copied, PASSPHRASE)


@posix_only
def test_that_only_the_owner_can_read_the_seal(seal_folder: Path) -> None:
    assert stat.S_IMODE(seal_folder.stat().st_mode) == 0o700
    assert {stat.S_IMODE(p.stat().st_mode) for p in seal_folder.iterdir()} == {0o600}


def test_that_private_keys_show_in_no_repr(workshop: Seal) -> None:
    shown = repr(workshop) + repr(workshop.technician)
    assert repr(workshop.technician.private)[2:30] not in shown
    assert "private" not in shown


def test_that_nothing_but_the_workshop_and_the_role_stands_in_a_certificate(workshop: Seal) -> None:
    for certificate in certificates_of(workshop):
        oids = [attribute.oid for attribute in certificate.subject]
        assert oids == [NameOID.ORGANIZATION_NAME, NameOID.COMMON_NAME]
        assert certificate.subject.get_attributes_for_oid(NameOID.ORGANIZATION_NAME)[0].value == (
            "Invented Workshop"
        )


def test_that_certificates_last_as_long_as_the_records_are_needed(workshop: Seal) -> None:
    # 20 and 12 years are a decision of ours, so that the root outlives what it issued.
    years = [
        (c.not_valid_after_utc - c.not_valid_before_utc).days / 365.25 for c in certificates_of(workshop)
    ]
    assert [round(y) for y in years] == [20, 12, 12]


def test_that_the_leaves_may_sign_and_nothing_else(workshop: Seal) -> None:
    root, *leaves = certificates_of(workshop)
    for leaf in leaves:
        usage = leaf.extensions.get_extension_for_class(x509.KeyUsage).value
        assert usage.digital_signature
        assert usage.content_commitment  # "nonRepudiation" in X.509
        assert not usage.key_cert_sign
        assert not leaf.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
        leaf.verify_directly_issued_by(root)


def test_that_two_seals_of_one_name_have_nothing_in_common(clock: Clock) -> None:
    one, two = issue("Invented Workshop", clock()), issue("Invented Workshop", clock())
    serials = {
        x509.load_der_x509_certificate(der).serial_number
        for issued in (one, two)
        for der in (issued.root, *issued.certificates.values())
    }
    assert len(serials) == 6  # two seals of three certificates each


def test_that_the_exported_certificate_is_the_root_in_pem(seal_folder: Path, workshop: Seal) -> None:
    assert root_in(keys.certificate(seal_folder)) == workshop.root


def test_that_another_workshops_certificate_is_trusted_once(
    copied: Path, tmp_path: Path, clock: Clock
) -> None:
    other = issue("Other Invented Workshop", clock())
    (tmp_path / "other.pem").write_bytes(to_pem(other.root))
    for _ in range(2):
        assert keys.trust(copied, tmp_path / "other.pem") == other.root
    assert keys.trusted(copied) == (keys.own_root(copied), other.root)


def test_that_a_computer_without_a_seal_can_trust_one(seal_folder: Path, tmp_path: Path) -> None:
    keys.trust(tmp_path / "new", seal_folder / "seal.pem")
    assert keys.trusted(tmp_path / "new") == (keys.own_root(seal_folder),)


def test_that_a_damaged_trusted_file_is_left_out(copied: Path) -> None:
    (copied / "trusted").mkdir()
    (copied / "trusted" / "damaged.pem").write_bytes(b"\xff\x00")
    assert keys.trusted(copied) == (keys.own_root(copied),)


@pytest.mark.parametrize("content", [b"", b"no certificate", b"\x00" * 100, None])
def test_that_only_a_root_certificate_can_be_trusted(
    copied: Path, tmp_path: Path, content: bytes | None
) -> None:
    pem = tmp_path / "x.pem"
    if content is not None:
        pem.write_bytes(content)
    with pytest.raises(SealError):
        keys.trust(copied, pem)
    with pytest.raises(SealError):
        keys.trust(copied, tmp_path)  # a folder


def test_that_a_leaf_certificate_cannot_be_trusted_as_a_root(
    copied: Path, tmp_path: Path, workshop: Seal
) -> None:
    (tmp_path / "leaf.pem").write_bytes(to_pem(workshop.technician.certificate))
    with pytest.raises(SealError, match="not the certificate of a workshop's seal"):
        keys.trust(copied, tmp_path / "leaf.pem")


def test_that_two_certificates_in_one_file_are_refused(workshop: Seal) -> None:
    with pytest.raises(NotASeal):
        root_in(to_pem(workshop.root) * 2)


@given(st.binary(max_size=300))
def test_that_no_bytes_make_reading_a_certificate_fail_in_another_way(data: bytes) -> None:
    with pytest.raises(NotASeal):
        root_in(b"-----BEGIN CERTIFICATE-----\n" + data + b"\n-----END CERTIFICATE-----\n")


@posix_only
def test_that_a_folder_that_cannot_be_written_gives_one_sentence(tmp_path: Path, clock: Clock) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(SealError, match="Nothing can be written"):
        keys.new(tmp_path / "file", "Invented Workshop", PASSPHRASE, clock)


def test_that_a_disk_that_fills_up_leaves_no_half_seal(
    tmp_path: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced = os.fsync
    calls = iter(range(10))

    def full(handle: int) -> None:
        if next(calls) == 2:  # while the last of three files is written
            raise OSError(28, "No space left on device")
        synced(handle)

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(SealError, match="No space left"):
        keys.new(tmp_path / "s", "Invented Workshop", PASSPHRASE, clock)
    assert list((tmp_path / "s").iterdir()) == []


def test_that_the_passphrase_is_not_asked_for_in_vain(seal_folder: Path, clock: Clock) -> None:
    def ask() -> str:
        raise AssertionError

    for folder, name in ((seal_folder, "Invented Workshop"), (seal_folder / "new", " ")):
        with pytest.raises(SealError):
            seal_commands.new(folder, name, ask, clock)


@pytest.mark.parametrize("content", ["four words\n", "four words", "\ufefffour words\r\nanother line"])
def test_that_a_passphrase_is_the_first_line_of_its_file(tmp_path: Path, content: str) -> None:
    (tmp_path / "p").write_bytes(content.encode("utf-8"))
    assert seal_commands.passphrase_in(tmp_path / "p") == "four words"


@pytest.mark.parametrize("content", [b"", b"\nx", b"\xff\xfe", b"x" * 10_001, None])
def test_that_a_file_without_a_passphrase_is_told_in_words(tmp_path: Path, content: bytes | None) -> None:
    if content is not None:
        (tmp_path / "p").write_bytes(content)
    with pytest.raises(SealError, match="passphrase"):
        seal_commands.passphrase_in(tmp_path / "p")


def test_that_the_commands_tell_the_same_fingerprint(tmp_path: Path, clock: Clock) -> None:
    folder, ask = tmp_path / "s", lambda: PASSPHRASE
    told = [seal_commands.new(folder, "Invented Workshop", ask, clock), seal_commands.show(folder)]
    told.append(seal_commands.export_certificate(folder, tmp_path / "out.pem"))
    told.append(seal_commands.trust(tmp_path / "elsewhere", tmp_path / "out.pem"))
    spoken = keys.spoken(keys.fingerprint(keys.own_root(folder)))
    assert len(spoken) == 39  # 128 bits: 32 hex digits in 8 groups of 4 with 7 gaps
    for lines in told:
        assert any(spoken in str(line) for line in lines)


def test_that_an_export_overwrites_nothing(seal_folder: Path, tmp_path: Path) -> None:
    (tmp_path / "there.pem").write_bytes(b"mine")
    with pytest.raises(SealError, match="there already"):
        seal_commands.export_certificate(seal_folder, tmp_path / "there.pem")
    assert (tmp_path / "there.pem").read_bytes() == b"mine"


@posix_only
def test_that_showing_a_seal_tells_of_missing_and_exposed_files(copied: Path) -> None:
    (copied / "technician.p12").unlink()
    (copied / "countersigning.p12").chmod(0o644)
    (copied / "trusted").mkdir()
    (copied / "trusted" / "damaged.pem").write_bytes(b"?")
    said = "\n".join(str(line) for line in seal_commands.show(copied))
    assert "technician.p12 is missing" in said
    assert "Others on this computer" in said
    assert "damaged.pem cannot be read" in said
