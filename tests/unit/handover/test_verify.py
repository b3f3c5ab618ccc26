"""Whether a document is what was sealed: one good one, and everything that could be done to it."""

from __future__ import annotations

import datetime as dt
import io
import json
import os
import random
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyhanko.pdf_utils.generic import pdf_string
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation.pdf_embedded import collect_embedded_signatures

from rakeprep.handover import attached, keys, recompute, verify
from rakeprep.handover.certificates import issue
from rakeprep.handover.findings import findings_file
from rakeprep.handover.keys import Key, Seal
from rakeprep.handover.verify import Outcome
from rakeprep.jobs.events import tractor_changed
from rakeprep.profiles import sample_tractors
from rakeprep.store.events import Stored, dump
from rakeprep.text import Language

SEALED_AT = dt.datetime(2026, 4, 14, 15, 30, tzinfo=dt.timezone(dt.timedelta(hours=2)))
Make = Callable[..., bytes]
Files = Callable[[tuple[Stored, ...]], dict[str, bytes]]
PDFSIG = shutil.which("pdfsig")


def outcome(pdf: bytes, workshop: Seal) -> Outcome:
    return verify.verify(pdf, [workshop.root]).outcome


def reasons(pdf: bytes, workshop: Seal) -> str:
    report = verify.verify(pdf, [workshop.root])
    assert report.outcome is Outcome.NOT_VERIFIED
    return "\n".join(str(check.says) for check in report.checks if not check.ok)


def ranges(pdf: bytes) -> list[list[int]]:
    found = collect_embedded_signatures(PdfFileReader(io.BytesIO(pdf)))
    return [[int(n) for n in signature.byte_range] for signature in found]


def fresh_seal(name: str, when: dt.datetime) -> Seal:
    issued = issue(name, when)
    first, second = issued.certificates
    return Seal(
        name,
        issued.root,
        Key(issued.certificates[first], issued.private[first]),
        Key(issued.certificates[second], issued.private[second]),
    )


# ------------------------------------------------------------------------------ a good document


def test_that_the_sealed_document_is_verified(sealed: bytes, workshop: Seal) -> None:
    report = verify.verify(sealed, [workshop.root])
    assert report.outcome is Outcome.VERIFIED
    assert report.code == 0
    assert [(s.field, s.name, s.at) for s in report.signed] == [
        ("technician", "Technician One", SEALED_AT),
        ("customer", "Customer One", SEALED_AT),
    ]
    assert (report.workshop, report.fingerprint) == ("Invented Workshop", workshop.fingerprint)


def test_that_every_check_is_told_in_words(sealed: bytes, workshop: Seal, stored: tuple[Stored, ...]) -> None:
    lines = verify.verify(sealed, [workshop.root]).lines()
    assert lines[0] == "Outcome: verified."
    assert all(line.startswith("in order: ") for line in lines[1:])
    said = "\n".join(lines)
    assert "by the clock of the workshop's computer" in said
    assert "by Technician One on 14 Apr 2026 15:30" in said
    # The printed form of a head is its first 16 hex digits in groups of four (design of the paper).
    assert "-".join(stored[-1].hash[i : i + 4].upper() for i in (0, 4, 8, 12)) in said


def test_that_the_report_can_be_read_by_another_program(sealed: bytes, workshop: Seal) -> None:
    told = json.loads(json.dumps(verify.verify(sealed, [workshop.root]).to_json()))
    assert told["outcome"] == "verified"
    assert told["code"] == 0
    assert told["signed"][0]["at"] == "2026-04-14T15:30:00+02:00"
    assert [c["check"] for c in told["checks"]] == [
        *("pdf", "fields", "whole", "technician", "customer", "known"),
        *("chain", "head", "people", "files", "findings"),
    ]


def test_that_the_report_speaks_the_language_asked_for(sealed: bytes, workshop: Seal) -> None:
    lines = verify.verify(sealed, [workshop.root]).lines(Language("de"))
    assert any("14 Apr. 2026" in line for line in lines)  # "Apr." is CLDR's German short form


def test_that_an_unknown_workshop_is_told_apart_from_a_change(sealed: bytes) -> None:
    report = verify.verify(sealed, [])
    assert report.outcome is Outcome.UNKNOWN_SEAL
    assert report.code == 2
    assert any("which this computer does not know" in line for line in report.lines())


def test_that_a_document_is_still_verified_when_its_certificates_have_run_out(
    unsealed: bytes, make_sealed: Make
) -> None:
    # Twelve years after 1999 is past on any computer that runs this; the sealing itself was in time.
    then = dt.datetime(1999, 5, 1, 9, tzinfo=dt.UTC)
    old = fresh_seal("Invented Workshop", then)
    assert outcome(make_sealed(unsealed, old, then), old) is Outcome.VERIFIED


def test_that_sealing_outside_the_certificates_time_is_not_verified(
    unsealed: bytes, make_sealed: Make, workshop: Seal
) -> None:
    late = make_sealed(unsealed, workshop, SEALED_AT.replace(year=2026 + 13))
    assert "was not valid on" in reasons(late, workshop)


def test_that_nothing_is_logged_or_printed(
    sealed: bytes, workshop: Seal, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    outcome(sealed, workshop)
    outcome(sealed[:-700] + sealed[-600:], workshop)
    assert not caplog.records
    assert capfd.readouterr() == ("", "")


# ----------------------------------------------------------------------------- what is no document


@pytest.mark.parametrize(
    "other",
    [
        b"",
        b"plain text\n",
        b"%PDF-",
        b"%PDF-1.7\n%%EOF\n",
        b"%PDF-1.7\n" + b"[" * 100_000 + b"\nstartxref\n9\n%%EOF\n",
        b"%PDF-1.7\nxref\n0 1\n0000000000 65535 f \ntrailer\n<</Prev 9/Size 1>>\nstartxref\n9\n%%EOF\n",
        b"%PDF-1.7\n1 0 obj\n" + b"<</A " * 50_000 + b"\nstartxref\n9\n%%EOF\n",
    ],
    ids=["empty", "text", "header", "no-body", "brackets", "loop", "nested"],
)
def test_that_other_files_are_not_verified(other: bytes, workshop: Seal) -> None:
    report = verify.verify(other, [workshop.root])
    assert report.outcome is Outcome.NOT_VERIFIED
    assert report.code == 1
    assert len(report.lines()) >= 2


def test_that_a_file_beyond_the_largest_size_is_not_read_on(
    sealed: bytes, workshop: Seal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "x.pdf").write_bytes(sealed)
    monkeypatch.setattr(verify, "LARGEST", len(sealed) - 1)
    report = verify.verify_file(tmp_path / "x.pdf", [workshop.root])
    assert "larger than 200 MB" in report.lines()[1]


def test_that_a_file_that_cannot_be_read_gives_a_report(tmp_path: Path) -> None:
    for path in (tmp_path / "missing.pdf", tmp_path, Path("\0")):
        report = verify.verify_file(path, [])
        assert report.code == 1
        assert "cannot be read" in report.lines()[1]


def test_that_a_file_is_verified_from_disk(sealed: bytes, workshop: Seal, tmp_path: Path) -> None:
    (tmp_path / "x.pdf").write_bytes(sealed)
    assert verify.verify_file(tmp_path / "x.pdf", [workshop.root]).code == 0


@given(data=st.binary(max_size=400))
def test_that_no_bytes_at_all_raise_or_verify(data: bytes) -> None:
    assert verify.verify(b"%PDF-1.7\n" + data + b"\n%%EOF\n", []).outcome is Outcome.NOT_VERIFIED


def test_that_the_unsealed_document_is_not_verified(unsealed: bytes, workshop: Seal) -> None:
    assert "There is no signature" in reasons(unsealed, workshop)


# ---------------------------------------------------------------------------------- tampering


def test_that_no_single_flipped_bit_verifies(sealed: bytes, workshop: Seal) -> None:
    pick = random.Random(20260414)
    for _ in range(300):
        bit = pick.randrange(len(sealed) * 8)
        flipped = bytearray(sealed)
        flipped[bit // 8] ^= 1 << bit % 8
        assert outcome(bytes(flipped), workshop) is Outcome.NOT_VERIFIED, bit


def test_that_the_structure_is_looked_at_too(
    sealed: bytes, workshop: Seal, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The glance at the bytes only saves time: without it, nothing more may verify."""
    monkeypatch.setattr(verify, "_at_a_glance", lambda pdf: None)
    pick = random.Random(20260416)
    _, end, start, _ = ranges(sealed)[-1]
    for bits in (range(len(sealed) * 8), range(end * 8, start * 8)):
        for bit in pick.sample(bits, 100):
            flipped = bytearray(sealed)
            flipped[bit // 8] ^= 1 << bit % 8
            assert outcome(bytes(flipped), workshop) is Outcome.NOT_VERIFIED, bit
    assert outcome(sealed + b"\n%%EOF\n", workshop) is Outcome.NOT_VERIFIED
    assert outcome(sealed, workshop) is Outcome.VERIFIED


def test_that_no_flipped_bit_in_the_place_of_the_last_signature_verifies(
    sealed: bytes, workshop: Seal
) -> None:
    """Here no digest reaches; letter case, padding and white space would go unseen otherwise."""
    _, end, start, _ = ranges(sealed)[-1]
    pick = random.Random(20260415)
    for bit in pick.sample(range(end * 8, start * 8), 300):
        flipped = bytearray(sealed)
        flipped[bit // 8] ^= 1 << bit % 8
        assert outcome(bytes(flipped), workshop) is Outcome.NOT_VERIFIED, bit


def test_that_a_signature_in_other_letter_case_does_not_verify(sealed: bytes, workshop: Seal) -> None:
    _, end, start, _ = ranges(sealed)[-1]
    changed = sealed[:end] + sealed[end:start].lower() + sealed[start:]
    assert changed != sealed
    assert outcome(changed, workshop) is Outcome.NOT_VERIFIED


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5, 0.9, 0.99])
def test_that_a_cut_document_does_not_verify(sealed: bytes, workshop: Seal, share: float) -> None:
    assert outcome(sealed[: int(len(sealed) * share)], workshop) is Outcome.NOT_VERIFIED


@pytest.mark.parametrize("less", [1, 2, 6, 7])
def test_that_a_document_without_its_last_bytes_does_not_verify(
    sealed: bytes, workshop: Seal, less: int
) -> None:
    assert outcome(sealed[:-less], workshop) is Outcome.NOT_VERIFIED


@pytest.mark.parametrize("more", [b"\n", b" ", b"x", b"\n%%EOF\n", b"\0" * 40, b"%" * 2000 + b"\n%%EOF\n"])
def test_that_nothing_may_stand_after_the_end(sealed: bytes, workshop: Seal, more: bytes) -> None:
    assert outcome(sealed + more, workshop) is Outcome.NOT_VERIFIED


@pytest.mark.parametrize("more", [b"\n", b"%PDF-1.7\n"])
def test_that_nothing_may_stand_before_the_beginning(sealed: bytes, workshop: Seal, more: bytes) -> None:
    assert outcome(more + sealed, workshop) is Outcome.NOT_VERIFIED


def test_that_a_document_cut_back_to_the_first_signature_misses_the_customer(
    sealed: bytes, workshop: Seal
) -> None:
    _, _, start, rest = ranges(sealed)[0]
    assert "signature of the customer is missing" in reasons(sealed[: start + rest], workshop)


def test_that_a_revision_added_afterwards_does_not_verify(sealed: bytes, workshop: Seal) -> None:
    writer = IncrementalPdfFileWriter(io.BytesIO(sealed))
    writer.root["/Lang"] = pdf_string("fr")
    writer.update_root()
    out = io.BytesIO()
    writer.write(out)
    assert out.getvalue().startswith(sealed)
    assert "added to the document after the last signature" in reasons(out.getvalue(), workshop)


def test_that_a_document_saved_again_by_another_program_does_not_verify(
    sealed: bytes, workshop: Seal
) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(sealed)) as pdf:
        pdf.save(out)
    assert outcome(out.getvalue(), workshop) is Outcome.NOT_VERIFIED


def test_that_an_attachment_swapped_afterwards_does_not_verify(sealed: bytes, workshop: Seal) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(sealed)) as pdf:
        del pdf.attachments[attached.FINDINGS]
        pdf.attachments[attached.FINDINGS] = pikepdf.AttachedFileSpec(pdf, b"{}", filename=attached.FINDINGS)
        pdf.save(out)
    assert outcome(out.getvalue(), workshop) is Outcome.NOT_VERIFIED


def test_that_the_customers_signature_cannot_come_from_another_seal(
    sealed: bytes, unsealed: bytes, make_sealed: Make, workshop: Seal
) -> None:
    """The first signature is genuine; the second is made with the key of somebody else."""
    other = fresh_seal("Invented Workshop", SEALED_AT)
    mixed = Seal(workshop.workshop, workshop.root, workshop.technician, other.countersigning)
    assert "not those of a workshop's seal" in reasons(make_sealed(unsealed, mixed), workshop)


def test_that_one_key_cannot_sign_twice(unsealed: bytes, make_sealed: Make, workshop: Seal) -> None:
    twice = Seal(workshop.workshop, workshop.root, workshop.technician, workshop.technician)
    assert "not those of a workshop's seal" in reasons(make_sealed(unsealed, twice), workshop)


def test_that_a_seal_of_the_same_name_is_not_the_same_seal(
    unsealed: bytes, make_sealed: Make, workshop: Seal
) -> None:
    forged = make_sealed(unsealed, fresh_seal("Invented Workshop", SEALED_AT))
    assert outcome(forged, workshop) is Outcome.UNKNOWN_SEAL


@pytest.mark.skipif(not PDFSIG, reason="pdfsig is not installed")
def test_that_pdfsig_too_sees_a_changed_page(sealed: bytes, workshop: Seal, tmp_path: Path) -> None:
    at = sealed.index(b"stream") + 20  # inside the first stream, covered by both signatures
    changed = bytearray(sealed)
    changed[at] ^= 1
    (tmp_path / "x.pdf").write_bytes(changed)
    found = subprocess.run(
        [str(PDFSIG), "-nocert", str(tmp_path / "x.pdf")], capture_output=True, text=True, check=False
    ).stdout
    assert found.count("Digest Mismatch") == 2
    assert outcome(bytes(changed), workshop) is Outcome.NOT_VERIFIED


# ------------------------------------------------------------ entries and findings under a good seal


@pytest.fixture(scope="session")
def with_files(stored: tuple[Stored, ...], make_files: Files, make_paper: Make, make_sealed: Make) -> Make:
    """The sample document with some of its files exchanged before it was sealed."""
    return lambda **changed: make_sealed(make_paper(make_files(stored) | by_name(changed)))


def by_name(changed: dict[str, bytes]) -> dict[str, bytes]:
    """Files by their names, named by their first part."""
    return {next(n for n in attached.ALL if n.startswith(f"{k}.")): data for k, data in changed.items()}


def test_that_a_finding_altered_before_sealing_is_named(
    with_files: Make, stored: tuple[Stored, ...], workshop: Seal
) -> None:
    told = json.loads(findings_file(stored))
    row = told["findings"][2]
    row["says"] = "All is well."
    pdf = with_files(findings=json.dumps(told).encode())
    said = reasons(pdf, workshop)
    assert row["slot"] in said
    assert "All is well." in said
    assert said.count("\n") == 0


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("readiness", "ready"),
        ("readiness", None),
        ("judged_on", "2026-04-15"),
        ("head", "0" * 64),
        ("entries", 1),
        ("findings", []),
        ("findings", "none"),
        ("open_points", [{"slot": "a.b", "says": "x"}]),
        ("more", "x"),
    ],
)
def test_that_anything_altered_among_the_findings_is_seen(
    with_files: Make, stored: tuple[Stored, ...], workshop: Seal, key: str, value: object
) -> None:
    told = json.loads(findings_file(stored)) | {key: value}
    pdf = with_files(findings=json.dumps(told).encode())
    assert reasons(pdf, workshop)


def test_that_a_finding_left_out_or_put_in_is_named(stored: tuple[Stored, ...]) -> None:
    anew = json.loads(findings_file(stored))
    for index, row in enumerate(anew["findings"]):
        fewer = anew | {"findings": anew["findings"][:index] + anew["findings"][index + 1 :]}
        for one, two in ((fewer, anew), (anew, fewer)):
            found = recompute.first_difference(one, two)
            assert found is not None
            assert row["slot"] in str(found)


def test_that_an_entry_altered_in_the_chain_is_named(
    with_files: Make, stored: tuple[Stored, ...], workshop: Seal
) -> None:
    entries = dump(stored).replace(b"INVENTED 0007", b"INVENTED 0001")
    assert "Entry 3 was changed" in reasons(with_files(entries=entries), workshop)


def test_that_entries_missing_at_the_end_are_seen(
    with_files: Make, stored: tuple[Stored, ...], workshop: Seal
) -> None:
    assert "made from others" in reasons(with_files(entries=dump(stored[:-1])), workshop)


@pytest.mark.parametrize("signing", [(), ("technician",), ("technician", "customer")])
def test_that_a_record_without_all_signatures_does_not_verify(
    make_paper: Make,
    make_sealed: Make,
    make_chain: Callable[..., tuple[Stored, ...]],
    make_files: Files,
    workshop: Seal,
    signing: tuple[str, ...],
) -> None:
    pdf = make_sealed(make_paper(make_files(make_chain(signing))))
    assert "a signature is missing or lapsed" in reasons(pdf, workshop)


@pytest.mark.parametrize("entries", [b"", b"{}\n", b"\xff\n", b"[" * 100_000, b"null\n", b'{"seq":1}\n'])
def test_that_unreadable_entries_do_not_verify(with_files: Make, workshop: Seal, entries: bytes) -> None:
    assert reasons(with_files(entries=entries), workshop)


@pytest.mark.parametrize("missing", attached.ALL)
def test_that_a_missing_attachment_is_named(
    make_paper: Make,
    make_sealed: Make,
    make_files: Files,
    stored: tuple[Stored, ...],
    workshop: Seal,
    missing: str,
) -> None:
    files = make_files(stored)
    del files[missing]
    assert f"{missing} is not attached" in reasons(make_sealed(make_paper(files)), workshop)


def test_that_two_attachments_of_one_name_are_refused(
    make_paper: Make, make_sealed: Make, make_files: Files, stored: tuple[Stored, ...], workshop: Seal
) -> None:
    files = make_files(stored) | {"other": b"{}"}
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(make_paper(files))) as pdf:
        pdf.attachments["other"].filename = attached.FINDINGS
        pdf.save(out)
    assert "more than one attached file" in reasons(make_sealed(out.getvalue()), workshop)


def test_that_an_attachment_that_unpacks_without_end_is_refused(
    make_paper: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    pdf = make_paper({attached.ENTRIES: b"0" * 10_000})
    monkeypatch.setattr(attached, "LARGEST", 9_999)
    with pytest.raises(attached.Unattached, match="too large"):
        attached.read_attached(pdf, [attached.ENTRIES])


def test_that_attached_files_come_out_as_they_went_in(make_paper: Make) -> None:
    files = {attached.ENTRIES: b"\x00\xff\r\n", "x y (é).toml": b"", attached.MACHINE: b"a" * 100_000}
    assert attached.read_attached(make_paper(files), files) == files


def test_that_the_findings_do_not_depend_on_how_python_orders_sets(stored: tuple[Stored, ...]) -> None:
    script = (
        "import sys; from rakeprep.handover.findings import findings_file;"
        "from rakeprep.store.events import load;"
        "sys.stdout.buffer.write(findings_file(load(sys.stdin.buffer.read())))"
    )
    for seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", script],
            input=dump(stored),
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        assert done.stdout == findings_file(stored)


def test_that_a_fingerprint_is_spoken_in_groups_of_four() -> None:
    # SHA-256 of "abc" (FIPS 180-4, example of its first edition): ba7816bf 8f01cfea 414140de 5dae2223 ...
    expected = "BA78 16BF 8F01 CFEA 4141 40DE 5DAE 2223"
    assert keys.spoken(keys.fingerprint(b"abc")) == expected


# ------------------------------------------------------------- data, visits, and other editions


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"machine": b"[machine]\n"}, "The attached file machine.toml is not that of the entries"),
        ({"tractor": b""}, "The attached file tractor.toml is not that of the entries"),
        ({"visits": b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n"}, "do not follow from the entries"),
        ({"visits": b"\xff"}, "cannot be read"),
    ],
)
def test_that_data_and_visits_other_than_the_entries_are_named(
    with_files: Make, workshop: Seal, changed: dict[str, bytes], named: str
) -> None:
    assert named in reasons(with_files(**changed), workshop)


def test_that_a_visit_put_off_is_seen_and_its_words_may_be_of_any_language(
    stored: tuple[Stored, ...], make_files: Files
) -> None:
    files = make_files(stored)
    day = re.search(rb"DTSTART;VALUE=DATE:(\d{8})", files[attached.CALENDAR])
    assert day is not None
    later = files[attached.CALENDAR].replace(day[1], b"20311224")
    assert not all(c.ok for c in recompute.recompute(files | {attached.CALENDAR: later}))
    spoken = files[attached.CALENDAR].replace(b"visit after", "Besuch nach über".encode())
    assert all(c.ok for c in recompute.recompute(files | {attached.CALENDAR: spoken}))


def test_that_the_tractor_is_the_one_it_was_changed_to(
    stored: tuple[Stored, ...], rechained: Callable[..., tuple[Stored, ...]], make_files: Files
) -> None:
    tractors = [path.read_text("utf-8") for path in sample_tractors()]
    first = next(text for text in tractors if text != stored[0].body["tractor_text"])
    bodies = [event.body for event in stored]
    changed = rechained([*bodies[:3], tractor_changed("other.toml", first, "sold", "A"), *bodies[3:]])
    files = make_files(changed)
    assert files[attached.TRACTOR] == first.encode()
    assert all(check.ok for check in recompute.recompute(files))
    before = str(stored[0].body["tractor_text"]).encode()
    checks = recompute.recompute(files | {attached.TRACTOR: before})
    assert [str(c.says) for c in checks if not c.ok] == [
        "The attached file tractor.toml is not that of the entries."
    ]


def of_edition(files: dict[str, bytes], edition: object, **changed: object) -> dict[str, bytes]:
    """The same files with findings that name another edition of the checks."""
    told = json.loads(files[attached.FINDINGS]) | {"program": edition} | changed
    return files | {attached.FINDINGS: json.dumps(told).encode()}


def test_that_another_edition_may_word_a_finding_otherwise(
    stored: tuple[Stored, ...], make_files: Files
) -> None:
    files = make_files(stored)
    rows = json.loads(files[attached.FINDINGS])["findings"]
    worded = [row | {"says": f"Older words: {row['says']}"} for row in rows]
    checks = recompute.recompute(of_edition(files, "0.0.1", findings=worded))
    assert all(check.ok for check in checks)
    assert "like edition 0.0.1" in str(checks[-1].says)


def test_that_another_edition_is_told_to_judge_otherwise_where_it_does(
    stored: tuple[Stored, ...], make_files: Files
) -> None:
    files = make_files(stored)
    rows = json.loads(files[attached.FINDINGS])["findings"]
    checks = recompute.recompute(of_edition(files, "0.0.1", findings=rows[1:]))
    assert all(check.ok for check in checks)
    assert "judges something otherwise" in str(checks[-1].says)


def test_that_a_document_that_names_no_edition_is_not_of_another_one(
    stored: tuple[Stored, ...], make_files: Files
) -> None:
    for nothing in (None, "", " ", 7):
        assert not all(c.ok for c in recompute.recompute(of_edition(make_files(stored), nothing)))


NEW_KEY = "\n[sensor]\ncolour = 'blue'\n"  # machine data that only a later edition would understand
NEW_ENTRY = {"is": "moonlight", "who": "Technician One"}  # so would be an entry of a kind yet unknown


@pytest.mark.parametrize("how", ["key", "entry"])
def test_that_what_only_another_edition_understands_rests_on_the_signatures(
    stored: tuple[Stored, ...],
    rechained: Callable[..., tuple[Stored, ...]],
    make_files: Files,
    make_paper: Make,
    make_sealed: Make,
    workshop: Seal,
    how: str,
) -> None:
    bodies = [dict(event.body) for event in stored]
    if how == "key":
        bodies[0]["profile_text"] = f"{bodies[0]['profile_text']}{NEW_KEY}"
    else:
        bodies.insert(3, NEW_ENTRY)
    chain = rechained(bodies)
    told = json.loads(findings_file(stored)) | {"head": chain[-1].hash, "entries": len(chain)}
    files = make_files(stored) | {
        attached.ENTRIES: dump(chain),
        attached.FINDINGS: json.dumps(told).encode(),
        attached.MACHINE: str(bodies[0]["profile_text"]).encode(),
    }
    own = make_sealed(make_paper(files))
    assert "sensor" in reasons(own, workshop) or "moonlight" in reasons(own, workshop)

    report = verify.verify(make_sealed(make_paper(of_edition(files, "99.0"))), [workshop.root])
    assert report.outcome is Outcome.VERIFIED
    assert "Made with edition 99.0 of the checks" in report.lines()[-1]
    assert "the signatures alone" in report.lines()[-1]
    assert all(check.ok for check in report.checks)
