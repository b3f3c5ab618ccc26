"""Whatever a file holds, reading it ends, and ends without an exception."""

from __future__ import annotations

import contextlib
import tomllib
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from rakeprep.profiles import load_text, read_either, sample_machines, sample_tractors
from rakeprep.profiles.positions import Lost, Positions, scan

TEXTS = [load_text(p) for p in (*sample_machines(), *sample_tractors())]
LINES = [text.split("\n") for text in TEXTS]
NOISE = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Z", "Cc")), max_size=12)
PIECES = [
    '"',
    "'",
    '"""',
    "{",
    "}",
    "[",
    "]",
    "[[",
    "=",
    ".",
    ",",
    "#",
    "\\",
    "\r",
    "\x00",
    "-",
    "1e9",
    "true",
]
RARE = st.sampled_from(PIECES) | NOISE
CHANGE = st.tuples(st.sampled_from(["delete", "double", "swap", "insert", "cut"]), st.integers(0, 2000), RARE)


def garbled(lines: list[str], changes: list[tuple[str, int, str]]) -> str:
    lines = list(lines)
    for what, number, noise in changes:
        at = number % len(lines)
        line = lines[at]
        column = number % (len(line) + 1)
        match what:
            case "delete":
                lines[at] = ""
            case "double":
                lines.insert(at, line)
            case "swap":
                lines[at], lines[at - 1] = lines[at - 1], line
            case "insert":
                lines[at] = line[:column] + noise + line[column:]
            case _:
                lines[at] = line[:column]
    return "\n".join(lines)


def check(text: str) -> None:
    read = read_either(text, "x.toml")
    assert (read.value is None) == bool(read.mistakes)
    assert len(read.mistakes) <= 100
    count = text.count("\n") + 1
    for mistake in (*read.mistakes, *read.conflicts):
        assert 1 <= mistake.line <= count
        assert mistake.column >= 1
        assert "{" not in str(mistake.says).replace("= {", "")
        assert mistake.lines().startswith(f"x.toml:{mistake.line}:{mistake.column}: ")


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(LINES), st.lists(CHANGE, min_size=1, max_size=6))
def test_that_a_garbled_file_gives_mistakes_and_no_exception(
    lines: list[str], changes: list[tuple[str, int, str]]
):
    check(garbled(lines, changes))


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=300))
def test_that_noise_gives_mistakes_and_no_exception(noise: bytes):
    check(noise.decode("latin-1"))
    check("[machine]\n" + noise.decode("utf-8", "replace"))


def paths(value: Any, path: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """Every path in bare TOML values."""
    found = {path} if path else set()
    if isinstance(value, dict):
        for key, inner in value.items():
            found |= paths(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            found |= paths(inner, (*path, number))
    return found


SIMPLE = st.integers(-99, 99) | st.booleans() | st.text("ab\"'\\#{}[]=,\n é", max_size=6)
VALUES = st.recursive(
    SIMPLE,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text("ab.# ", max_size=3), inner, max_size=3)
    ),
)


def written(value: Any) -> str:
    """A value in TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, str):
        escapes = {'"': '\\"', "\\": "\\\\", "\n": "\\n"}
        return '"' + "".join(escapes.get(c, c) for c in value) + '"'
    if isinstance(value, list):
        return "[ " + ",\n ".join(written(v) for v in value) + "]"
    return "{ " + ", ".join(f"{written(k)} = {written(v)}" for k, v in value.items()) + " }"


@settings(max_examples=100, deadline=None)
@given(st.dictionaries(st.text("ab.c", min_size=1, max_size=4), VALUES, max_size=4))
def test_that_the_scanner_finds_a_place_for_every_key_the_standard_reader_finds(values: dict[str, Any]):
    text = "# head\n" + "".join(f"{written(k)} = {written(v)} # tail ]\n" for k, v in values.items())
    assert tomllib.loads(text) == values  # the writer above is right
    found = scan(text)
    assert found.twice == []
    assert paths(values) <= set(found.keys)


def test_that_the_scanner_knows_tables_lists_of_tables_and_dotted_keys():
    text = """a.b = 1
[t]
"x y" = '1'
[[l]]
k = [1, 2]
[l.s]
q = '''a'b'''
[[l]]
k = { m.n = 1 }
[[l.w]]
z = 1
"""
    found = scan(text)
    assert paths(tomllib.loads(text)) - {("l",)} <= set(found.keys) | {
        ("a",),
        ("l", 0),
        ("l", 1),
        ("l", 1, "w"),
    }
    assert found.keys["l", 1, "k", "m", "n"] == text.index("m.n") + 2
    assert found.keys["l", 1, "w", 0] == text.index("[[l.w]]")
    assert found.values["l", 0, "s", "q"] == text.index("'''a")


def test_that_the_nearest_table_stands_for_a_missing_key():
    found = scan("[t]\na = 1\n")
    assert found.nearest(("t", "b", "c")) == 0
    assert Positions().nearest(("x",)) == 0


@settings(max_examples=100, deadline=None)
@given(st.text("ab=[]{}\"'#., \n\\", max_size=40))
def test_that_the_scanner_never_does_more_than_lose_its_way(text: str):
    with contextlib.suppress(Lost, tomllib.TOMLDecodeError):  # the latter for escapes in quoted keys
        found = scan(text)
        assert all(0 <= at < len(text) for at in found.keys.values())
