"""Data files on disk."""

from __future__ import annotations

from pathlib import Path

import pytest

from rakeprep.profiles import ProfileError, load_text


def test_that_a_text_is_loaded_without_its_byte_order_mark(tmp_path: Path):
    file = tmp_path / "a.toml"
    file.write_bytes("\ufeffname = '×'\n".encode())
    assert load_text(file) == "name = '×'\n"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (None, "no file"),
        (b"\xff\xfe\x00", "UTF-8 text (byte 1)"),
        (b"ab\x80", "byte 3"),
        (b"x" * 1_000_001, "larger than 1 MB"),
    ],
)
def test_that_what_cannot_be_loaded_is_said_in_one_sentence(
    tmp_path: Path, content: bytes | None, words: str
):
    file = tmp_path / "a.toml"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(ProfileError) as caught:
        load_text(file)
    assert words in str(caught.value)
    assert "“a.toml”" in str(caught.value)
    assert "machine" not in str(caught.value)  # answers are read through here too


def test_that_a_folder_is_named_as_one(tmp_path: Path):
    with pytest.raises(ProfileError, match="is a folder"):
        load_text(tmp_path)


def test_that_an_impossible_name_is_reported():
    with pytest.raises(ProfileError):
        load_text(Path("a\x00b"))
    with pytest.raises(ProfileError):
        load_text(Path("x" * 5000))
