"""The import contracts of pyproject.toml hold, and each of them would notice a breach."""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PYPROJECT = ROOT / "pyproject.toml"
CONTRACTS = {
    contract["id"]: contract["name"]
    for contract in tomllib.loads(PYPROJECT.read_text("utf-8"))["tool"]["importlinter"]["contracts"]
}
LINT = "import sys; from importlinter.cli import lint_imports_command as lint; sys.exit(lint())"
VERDICT = re.compile(r"^(.+?) (KEPT|BROKEN)\b", re.MULTILINE)


@dataclass(frozen=True)
class Breach:
    """A file that must not be there, and the contract that has to say so."""

    contract: str
    file: str
    code: str

    def __str__(self) -> str:
        return f"{self.file}: {self.code.strip()}"


INSIDE = "def later() -> None:\n    import {}\n"  # a lazy import is an import too
BREACHES = [
    Breach("layers", "rakeprep/text_planted/__init__.py", ""),  # a package that stands in no layer
    Breach("layers", "rakeprep/units/planted.py", "import rakeprep.model.verdict\n"),
    Breach("layers", "rakeprep/model/planted.py", "import rakeprep.steps\n"),
    Breach(
        "layers", "rakeprep/calculations/planted.py", INSIDE.format("rakeprep.model.verdict, rakeprep.jobs")
    ),
    Breach("layers", "rakeprep/drawing/planted.py", "import rakeprep.calculations\n"),
    Breach("layers", "rakeprep/calculations/planted.py", INSIDE.format("rakeprep.sums")),
    Breach("layers", "rakeprep/sums/planted.py", "import rakeprep.steps\n"),
    Breach("layers", "rakeprep/steps/planted.py", "from rakeprep import store\n"),
    Breach("layers", "rakeprep/store/planted.py", "import rakeprep.profiles\n"),
    Breach("layers", "rakeprep/jobs/planted.py", "import rakeprep.handover\n"),
    Breach("layers", "rakeprep/handover/planted.py", "import rakeprep.ui\n"),
    Breach("layers", "rakeprep/ui/planted.py", "import rakeprep.cli\n"),
    Breach("qt", "rakeprep/jobs/planted.py", INSIDE.format("PySide6.QtCore")),
    Breach("pint", "rakeprep/calculations/planted.py", "from pint import UnitRegistry\n"),
    Breach("paper", "rakeprep/ui/planted.py", INSIDE.format("reportlab.platypus")),
    Breach("paper", "rakeprep/store/planted.py", "import pikepdf\n"),
    Breach("paper", "rakeprep/jobs/planted.py", "from pyhanko.sign import signers\n"),
    Breach("paper", "rakeprep/jobs/planted.py", "from cryptography import x509\n"),
    Breach("network", "rakeprep/ui/planted.py", "import http.client\n"),
    Breach("network", "rakeprep/handover/planted.py", INSIDE.format("aiohttp")),
    Breach("network", "rakeprep/store/planted.py", "from socket import socket\n"),
    Breach("judges", "rakeprep/calculations/planted.py", "import numpy as np\n"),
]


def lint(folder: Path) -> tuple[dict[str, str], str]:
    """What import-linter says of each contract by name, and all it printed."""
    done = subprocess.run(
        [sys.executable, "-c", LINT, "--no-cache"],
        cwd=folder,
        # a wide screen keeps a name and its verdict on one line
        env={**os.environ, "COLUMNS": "200", "NO_COLOR": "1", "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
        timeout=80,
    )
    said = done.stdout + done.stderr
    verdicts = dict(VERDICT.findall(said))
    assert (done.returncode == 0) == (set(verdicts.values()) == {"KEPT"}), said
    return verdicts, said


def broken(verdicts: dict[str, str]) -> set[str]:
    return {name for name, verdict in verdicts.items() if verdict == "BROKEN"}


def copy_of_the_code(folder: Path) -> Path:
    """The package's Python files and the contracts, in a folder of their own."""
    skip = shutil.ignore_patterns("__pycache__", "resources", "sample_profiles")
    shutil.copytree(ROOT / "rakeprep", folder / "rakeprep", ignore=skip)
    shutil.copy(PYPROJECT, folder)
    return folder


def modules() -> list[Path]:
    return sorted((ROOT / "rakeprep").rglob("*.py"))


def imported(file: Path) -> set[str]:
    """Dotted names of all that a file imports, at the top or inside a function."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and not node.level:
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return names


@pytest.fixture(scope="module")
def as_it_stands(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, str], str]:
    """What import-linter says of the code with nothing planted."""
    return lint(copy_of_the_code(tmp_path_factory.mktemp("as_it_stands")))


def test_that_the_code_keeps_every_contract(as_it_stands: tuple[dict[str, str], str]) -> None:
    verdicts, said = as_it_stands
    assert verdicts == dict.fromkeys(CONTRACTS.values(), "KEPT"), said


def test_that_every_contract_has_a_breach_to_prove_it() -> None:
    assert {breach.contract for breach in BREACHES} == set(CONTRACTS)


@pytest.mark.parametrize("breach", BREACHES, ids=str)
def test_that_a_planted_breach_is_noticed_by_its_contract_alone(
    breach: Breach, tmp_path: Path, as_it_stands: tuple[dict[str, str], str]
) -> None:
    planted = copy_of_the_code(tmp_path) / breach.file
    planted.parent.mkdir(exist_ok=True)
    planted.write_text(breach.code, "utf-8")
    verdicts, said = lint(tmp_path)
    contract = CONTRACTS[breach.contract]
    assert contract in broken(verdicts), said
    assert broken(verdicts) - broken(as_it_stands[0]) <= {contract}, said
    culprit = planted.parent.name if planted.stem == "__init__" else planted.stem
    assert culprit in said


# import-linter sees another package as one block; these parts of allowed ones need a look of their own.
WAYS_TO_THE_NETWORK = (
    "PySide6.QtNetwork",
    "PySide6.QtWeb",
    "PySide6.QtHttpServer",
    "urllib.error",
    "urllib.request",
    "urllib.robotparser",
)


def test_that_no_part_of_an_allowed_library_reaches_for_the_network() -> None:
    found = {(file.name, name) for file in modules() for name in imported(file)}
    assert {pair for pair in found if pair[1].startswith(WAYS_TO_THE_NETWORK)} == set()


@pytest.mark.parametrize(
    "code",
    [
        "import urllib.request",
        "from urllib import parse, request",
        "from urllib.request import urlopen",
        "def later():\n    from PySide6 import QtNetwork",
        "import PySide6.QtWebSockets as w",
    ],
)
def test_that_a_planted_way_to_the_network_is_seen(code: str, tmp_path: Path) -> None:
    (tmp_path / "planted.py").write_text(code, "utf-8")
    assert any(name.startswith(WAYS_TO_THE_NETWORK) for name in imported(tmp_path / "planted.py"))


def test_that_every_folder_of_modules_is_a_package() -> None:
    """A folder without __init__.py is passed over by import-linter."""
    bare = {file.parent for file in modules() if not (file.parent / "__init__.py").is_file()}
    assert bare == set()


def test_that_the_command_line_loads_no_heavy_library() -> None:
    """Help, and the first window, must not wait for libraries that only the paper needs."""
    heavy = ["PySide6", "pint", "reportlab", "pikepdf", "pyhanko", "cryptography", "aiohttp"]
    code = f"import sys, rakeprep.cli; print(*(name for name in {heavy} if name in sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=80
    )
    assert done.stdout.split() == []
