"""What other programs, and other processes, say of the document of the sample job.

Where such a program is missing the test is skipped; not so in ``.ci/run``, which sets ``RAKEPREP_JUDGES``.
"""

from __future__ import annotations

import base64
import datetime as dt
import hashlib
import io
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from rakeprep.handover.certificates import issue, to_pem
from rakeprep.handover.demo import WORKSHOP

Made = Any  # of conftest
JARS = ("preflight", "pdfbox2", "fontbox2", "xmpbox", "commons-logging", "jaxb-api", "javax.activation")
JAVA = Path("/usr/share/java")  # where Debian and Ubuntu keep libraries of Java
# PDFBox preflight knows ISO 19005-1 only. Part 3 allows files of any kind inside (6.8), and is another part.
OF_PART_3 = {
    ("1.4.7", "Trailer Syntax error, EmbeddedFile entry is present in the Names dictionary"),
    ("1.2.9", "Body Syntax error, EmbeddedFile entry is present in a FileSpecification dictionary"),
    ("7.11.2", "Error on MetaData, part must be 1"),
}


def demanded(program: str) -> str:
    """The path of a program; without it the test is skipped, or fails where all must be there."""
    path = shutil.which(program)
    if path is None:
        missing(program)
    return str(path)


def missing(what: str) -> None:
    if os.environ.get("RAKEPREP_JUDGES") == "all":
        pytest.fail(f"{what} is missing; sh .ci/setup test installs it")
    pytest.skip(f"{what} is not installed")


@pytest.fixture(scope="module")
def preflight() -> list[str]:
    """The command of PDFBox preflight, to which a file is added."""
    java = demanded("java")
    jars = [JAVA / f"{name}.jar" for name in JARS]
    for jar in jars:
        if not jar.exists():
            missing(jar.name)
    path = os.pathsep.join(map(str, jars))
    return [java, "-XX:TieredStopAtLevel=1", "-cp", path, "org.apache.pdfbox.preflight.Validator_A1b"]


def complaints(preflight: list[str], pdf: bytes, folder: Path) -> set[tuple[str, str]]:
    """Number and words of everything that it finds."""
    (folder / "x.pdf").write_bytes(pdf)
    done = subprocess.run(
        [*preflight, str(folder / "x.pdf")], capture_output=True, text=True, check=False, timeout=120
    )
    found = {(n, w.strip()) for n, w in re.findall(r"^(\d[\d.]*) : (.*)$", done.stdout, re.MULTILINE)}
    assert found or "is a valid PDF/A-1b file" in done.stdout, done.stdout + done.stderr
    return found


def test_that_preflight_finds_nothing_but_what_part_3_allows(
    preflight: list[str], whole: Made, tmp_path: Path
) -> None:
    assert complaints(preflight, whole.sealed, tmp_path) == OF_PART_3


def test_that_preflight_finds_nothing_at_all_in_the_same_pages_without_attached_files(
    preflight: list[str], brief: Made, tmp_path: Path
) -> None:
    """As part 1 has it, so that nothing hides behind the complaints that were expected."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(brief.finished)) as pdf:
        del pdf.Root.AF, pdf.Root.Names
        said = pdf.Root.Metadata.read_bytes()
        pdf.Root.Metadata.write(said.replace(b"<pdfaid:part>3<", b"<pdfaid:part>1<"))
        pdf.save(out, fix_metadata_version=False, object_stream_mode=pikepdf.ObjectStreamMode.disable)
    assert complaints(preflight, out.getvalue(), tmp_path) == set()


def test_that_preflight_would_find_a_face_that_is_not_inside(
    preflight: list[str], brief: Made, tmp_path: Path
) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(brief.finished)) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and "/FontFile2" in thing:
                del thing.FontFile2
        pdf.save(out, fix_metadata_version=False)
    found = complaints(preflight, out.getvalue(), tmp_path)
    assert any(number.startswith("3.") for number, _ in found)  # 3.x are the fonts, in its numbering


# --------------------------------------------------------------------------------------- signatures


def certificates(pdf: bytes) -> list[bytes]:
    """The certificates of the last signature's CMS in PEM, as openssl reads them out of it."""
    contents = re.findall(rb"/Contents <([0-9A-F]+)>", pdf)[-1]
    done = subprocess.run(
        [demanded("openssl"), "pkcs7", "-inform", "DER", "-print_certs"],
        input=bytes.fromhex(contents.decode()),
        capture_output=True,
        check=True,
    )
    return re.findall(rb"-----BEGIN.*?-----END CERTIFICATE-----\n", done.stdout, re.DOTALL)


def verified(root: Path, own: Path, at: float) -> subprocess.CompletedProcess[str]:
    """What openssl says of a certificate under a root, at a moment."""
    command = [demanded("openssl"), "verify", "-x509_strict", "-no-CApath", "-no-CAstore"]
    command += ["-attime", str(int(at)), "-CAfile", str(root), str(own)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@pytest.mark.parametrize("stage", ["certified", "sealed"])
def test_that_openssl_finds_the_way_from_each_signature_to_the_workshops_root(
    stage: str, whole: Made, workshop_folder: Path, tmp_path: Path
) -> None:
    root, other = workshop_folder / "seal.pem", tmp_path / "other.pem"
    found = certificates(getattr(whole, stage))
    assert len(found) == 2  # its own and the root
    der = base64.b64decode(b"".join(root.read_bytes().splitlines()[1:-1]))
    leaves = [pem for pem in found if base64.b64decode(b"".join(pem.splitlines()[1:-1])) != der]
    assert len(leaves) == 1
    own = tmp_path / "own.pem"
    own.write_bytes(leaves[0])
    when = whole.when.timestamp()
    assert verified(root, own, when).returncode == 0, verified(root, own, when).stderr
    assert verified(root, root, when).returncode == 0
    # Neither long after its time, nor under another root of the same name.
    assert "expired" in verified(root, own, when + 13 * 365.25 * 86400).stderr
    other.write_bytes(other_root())
    assert verified(other, own, when).returncode != 0


def other_root() -> bytes:
    """A root with the same name and another key."""
    return to_pem(issue(WORKSHOP, dt.datetime(2026, 4, 13, tzinfo=dt.UTC)).root)


# ------------------------------------------------------------------------------- the same everywhere

ANEW = """
import datetime as dt, hashlib, pathlib, sys
from rakeprep import paths
from rakeprep.handover import complete, demo
from rakeprep.handover.fill import started
from rakeprep.jobs import answers
from rakeprep.jobs.starting import text_of
from rakeprep.text import ENGLISH

now = [dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))]
def clock():
    now[0] += dt.timedelta(seconds=7)
    return now[0]

samples = paths.sample_profiles()
read = answers.read_answers(text_of(samples / demo.HEALTHY))
with started(samples / demo.MACHINE, samples / demo.TRACTOR, read, pathlib.Path(sys.argv[1]), clock) as job:
    answers.apply(read, job)
    answers.sign(read, job)
    draft = complete.draft(job, {"en": ENGLISH})
print(hashlib.sha256(complete.unsealed(draft, demo.WORKSHOP)).hexdigest())
"""


def test_that_the_same_job_gives_the_same_bytes_in_every_process(tmp_path: Path, whole: Made) -> None:
    """Two processes that order sets otherwise, in other zones and languages; and this one."""
    running = []
    for seed, zone, language in (("1", "Europe/Warsaw", "pl_PL.UTF-8"), ("2", "Pacific/Auckland", "C")):
        (tmp_path / seed).mkdir()
        environment = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": language, "PYTHONUTF8": "1"}
        command = [sys.executable, "-c", ANEW, str(tmp_path / seed)]
        running.append(subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True))
    said = [process.communicate(timeout=120)[0].strip() for process in running]
    assert [process.returncode for process in running] == [0, 0]
    assert said == [hashlib.sha256(whole.finished).hexdigest()] * 2
