"""Names and words in the tree: nothing internal, nothing at the top that does not belong there."""

from __future__ import annotations

import subprocess
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
AT_THE_TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "rakeprep",
    "resources",
    "sample_profiles",
    "tests",
}
# Put together here, so that this file does not hold them itself.
SEED = "seed" + " document"
FORBIDDEN = ["tran" + "script", SEED, "/t" + "mp/", "/ro" + "ot/", "/ho" + "me/"]
MAY_SAY = {SEED: {"DEVELOPERS.md"}}


@cache
def tree() -> tuple[str, ...]:
    """Every file that is, or is about to be, in the repository."""
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        done = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, timeout=30)
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("this is no checkout")
    names = done.stdout.decode("utf-8").split("\0")
    return tuple(name for name in names if name and (ROOT / name).is_file())


@pytest.mark.parametrize("word", FORBIDDEN)
def test_that_no_file_speaks_of_what_is_not_in_the_tree(word: str) -> None:
    found = [
        name
        for name in tree()
        if name not in MAY_SAY.get(word, set())
        and word.casefold().encode() in (ROOT / name).read_bytes().lower()
    ]
    assert found == []


def test_that_the_top_of_the_tree_stays_small() -> None:
    top = {name.partition("/")[0] for name in tree()}
    assert {name for name in top if not name.startswith(".")} <= AT_THE_TOP


def test_that_every_sample_says_that_it_is_invented() -> None:
    samples = [name for name in tree() if name.startswith("sample_profiles/")]
    assert samples
    said = {name for name in samples if "invented" in (ROOT / name).read_text("utf-8")[:600].casefold()}
    assert set(samples) - said == set()


def test_that_names_of_files_are_plain() -> None:
    """So that they arrive whole on every system."""
    assert [name for name in tree() if not name.isascii() or " " in name] == []
    folded = [name.casefold() for name in tree()]
    assert len(set(folded)) == len(folded)
