"""The program as a process of its own: the sample job without a screen, and what goes wrong in a sentence."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from rakeprep import paths
from rakeprep.handover import demo

SAMPLES = paths.sample_profiles()
# Any import of Qt ends the process: the path without a screen must not need it.
BLOCKER = """
import sys

class NoQt:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {"PySide6", "shiboken6"}:
            raise SystemExit(f"the program asked for {name}")
        return None

sys.meta_path.insert(0, NoQt())
"""
# Root may write anywhere. Without the right to pass over file modes it is bound by them like anybody else:
# prctl(PR_CAPBSET_DROP = 24, CAP_DAC_OVERRIDE = 1), Linux man pages prctl(2) and capabilities(7).
AS_ANYBODY = """
import ctypes, os, sys

if ctypes.CDLL(None).prctl(24, 1, 0, 0, 0):
    raise SystemExit("the right of root could not be given up")
os.execv(sys.executable, [sys.executable, *sys.argv[1:]])
"""


@dataclass(frozen=True)
class Ended:
    """How a process ended."""

    code: int
    out: str
    err: str

    @property
    def all(self) -> str:
        return self.out + self.err


@dataclass(frozen=True)
class Program:
    """The program in a folder of its own, without a display and without Qt."""

    folder: Path
    blocker: Path

    def __call__(self, *words: object, bound: bool = False) -> Ended:
        environment = {k: v for k, v in os.environ.items() if k not in {"DISPLAY", "WAYLAND_DISPLAY"}}
        environment |= {
            "PYTHONPATH": os.pathsep.join([str(self.blocker), str(Path(paths.__file__).parents[1])]),
            "RAKEPREP_DATA": str(self.folder / "data"),
            "PYTHONWARNINGS": "error",
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHONUTF8": "1",
        }
        done = subprocess.run(
            [sys.executable, *(("-c", AS_ANYBODY) if bound else ()), "-m", "rakeprep", *map(str, words)],
            cwd=self.folder,
            env=environment,
            capture_output=True,
            encoding="utf-8",
            timeout=120,
            check=False,
            stdin=subprocess.DEVNULL,
        )
        assert "Traceback" not in done.stderr, done.stderr
        return Ended(done.returncode, done.stdout, done.stderr)


@pytest.fixture(scope="module")
def program(tmp_path_factory: pytest.TempPathFactory) -> Program:
    blocker = tmp_path_factory.mktemp("blocker")
    (blocker / "sitecustomize.py").write_text(BLOCKER, "utf-8")
    return Program(tmp_path_factory.mktemp("work"), blocker)


@pytest.fixture(scope="module")
def demo_run(program: Program) -> Ended:
    return program("demo", "--headless", "--out", "sample")


@pytest.fixture(scope="module")
def document(program: Program, demo_run: Ended) -> Path:
    (found,) = (program.folder / "sample").glob("*.pdf")
    return found


@pytest.fixture
def passphrase(tmp_path: Path) -> Path:
    file = tmp_path / "passphrase.txt"
    file.write_text(demo.PASSPHRASE + "\n", "utf-8")
    return file


def fill(program: Program, answers: Path, out: Path, seal: Path, passphrase: Path) -> Ended:
    machine, tractor = SAMPLES / demo.MACHINE, SAMPLES / demo.TRACTOR
    return program(
        "fill", machine, tractor, answers, "--out", out, "--seal", seal, "--passphrase-file", passphrase
    )


# ------------------------------------------------------------------------------- the sample job


def test_that_the_blocker_would_notice_qt(program: Program) -> None:
    done = subprocess.run(
        [sys.executable, "-c", "import PySide6"],
        env={**os.environ, "PYTHONPATH": str(program.blocker)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert "the program asked for PySide6" in done.stderr


def test_that_the_sample_job_ends_in_a_verified_document(demo_run: Ended, document: Path) -> None:
    assert demo_run.code == 0, demo_run.all
    assert str(document) in demo_run.out
    assert re.search(r"\bverified\b", demo_run.out, re.IGNORECASE)
    assert "not verified" not in demo_run.out.casefold()
    assert document.read_bytes().startswith(b"%PDF-")


def test_that_the_sample_job_can_be_done_again_beside_the_first(program: Program, document: Path) -> None:
    again = program("demo", "--headless", "--out", "sample")
    assert again.code == 0, again.all
    assert len(list(document.parent.glob("*.pdf"))) == 2
    newer = next(file for file in document.parent.glob("*.pdf") if file != document)
    newer.unlink()


def test_that_a_document_is_verified_with_the_seal_that_made_it(program: Program, document: Path) -> None:
    done = program("verify", document, "--seal", document.parent / "seal")
    assert done.code == 0, done.all
    for name in ("Technician One", "Customer One"):
        assert name in done.out


def test_that_a_document_of_an_unknown_workshop_is_not_called_verified(
    program: Program, document: Path
) -> None:
    # 2: unchanged, but sealed by a workshop that this computer does not know (README, exit codes)
    assert program("verify", document).code == 2


def test_that_one_changed_byte_is_noticed(program: Program, document: Path, tmp_path: Path) -> None:
    data = bytearray(document.read_bytes())
    data[len(data) // 3] ^= 1
    changed = tmp_path / "changed.pdf"
    changed.write_bytes(data)
    assert program("verify", changed, "--seal", document.parent / "seal").code == 1


@pytest.mark.parametrize("kind", ["text", "cut", "empty", "missing"])
def test_that_what_is_no_document_is_not_verified(
    program: Program, document: Path, tmp_path: Path, kind: str
) -> None:
    file = tmp_path / "other.pdf"
    content = {"text": b"no document", "cut": document.read_bytes()[:20_000], "empty": b""}
    if kind in content:
        file.write_bytes(content[kind])
    done = program("verify", file, "--seal", document.parent / "seal")
    assert done.code == 1
    assert done.all.strip()


# ------------------------------------------------------------------------------- data files


def test_that_sample_data_have_no_mistakes(program: Program) -> None:
    files = [*(SAMPLES / "machines").glob("*.toml"), *(SAMPLES / "tractors").glob("*.toml")]
    done = program("profile", "check", *files)
    assert done.code == 0, done.all


def test_that_every_mistake_of_a_data_file_is_named_with_its_place(program: Program, tmp_path: Path) -> None:
    text = (SAMPLES / demo.MACHINE).read_text("utf-8").splitlines()
    mass = next(n for n, line in enumerate(text) if line.startswith("mass ="))
    edition = next(n for n, line in enumerate(text) if line.startswith("edition ="))
    text[mass] = text[mass].replace(" kg", " bar")
    text[edition] = text[edition].replace("edition", "editoin")
    broken = tmp_path / "broken.toml"
    broken.write_text("\n".join(text), "utf-8")
    done = program("profile", "check", broken)
    assert done.code == 1
    for row in (mass, edition):
        assert re.search(rf"broken\.toml:{row + 1}:\d+: ", done.all)
    assert "“edition”" in done.all


def test_that_a_picture_is_no_data_file(program: Program, tmp_path: Path) -> None:
    file = tmp_path / "picture.toml"
    file.write_bytes(b"\x89PNG\r\n\x1a\n\xff\xfe")
    done = program("profile", "check", file)
    assert done.code == 1
    assert len(done.err.strip().splitlines()) == 1


# ------------------------------------------------------------------------------- a job from a file


def test_that_an_unknown_place_is_named(
    program: Program, document: Path, passphrase: Path, tmp_path: Path
) -> None:
    answers = tmp_path / "answers.toml"
    text = (SAMPLES / demo.HEALTHY).read_text("utf-8")
    assert text.count("left-12 = ") == 1
    answers.write_text(text.replace("left-12 = ", "left-21 = "), "utf-8")
    done = fill(program, answers, tmp_path / "out", document.parent / "seal", passphrase)
    assert done.code == 1
    assert "left-21" in done.all
    assert not list((tmp_path / "out").glob("*.pdf"))


def test_that_a_job_with_faults_names_each_reason_on_a_line(
    program: Program, document: Path, passphrase: Path, tmp_path: Path
) -> None:
    done = fill(
        program, SAMPLES / "answers" / "faulty.toml", tmp_path / "out", document.parent / "seal", passphrase
    )
    assert done.code == 1
    # the issue asks for a dozen faults, each with its reason
    assert len([line for line in done.err.splitlines() if "[" in line]) >= 12
    assert not list((tmp_path / "out").glob("*.pdf"))


def test_that_a_wrong_passphrase_is_said(program: Program, document: Path, tmp_path: Path) -> None:
    wrong = tmp_path / "passphrase.txt"
    wrong.write_text("not the passphrase at all\n", "utf-8")
    done = fill(program, SAMPLES / demo.HEALTHY, tmp_path / "out", document.parent / "seal", wrong)
    assert done.code == 1
    assert "passphrase" in done.err
    assert not list((tmp_path / "out").glob("*.pdf"))


def test_that_a_missing_seal_is_said(program: Program, passphrase: Path, tmp_path: Path) -> None:
    done = fill(program, SAMPLES / demo.HEALTHY, tmp_path / "out", tmp_path / "none", passphrase)
    assert done.code == 1
    assert "seal" in done.err


@pytest.fixture
def locked(program: Program) -> Iterator[Path]:
    """A folder that may be read and entered, but not written."""
    folder = program.folder / "locked"
    folder.mkdir()
    folder.chmod(0o555)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


def test_that_a_read_only_folder_is_said(program: Program, locked: Path) -> None:
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    done = program("demo", "--headless", "--out", locked / "inside", bound=root)
    assert done.code == 1
    assert str(locked) in done.err
    assert list(locked.iterdir()) == []


def test_that_without_a_display_the_window_is_refused_in_a_sentence(program: Program) -> None:
    if not sys.platform.startswith("linux"):
        pytest.skip("only Linux names its display")
    done = program()
    assert done.code == 1
    assert "rakeprep demo --headless" in done.err


def test_that_an_unknown_command_is_refused(program: Program) -> None:
    assert program("polish").code == 2  # argparse: 2 for wrong usage
