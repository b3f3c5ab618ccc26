"""Every sign that the window shows is in our own font, so that it looks alike on every computer."""

from __future__ import annotations

import re

import pytest
from PySide6.QtGui import QRawFont
from PySide6.QtWidgets import QApplication

from rakeprep import paths
from rakeprep.units import Kind, units_of

INVISIBLE = {"\n", "\u2060", "\u200b"}
CATALOGUES = sorted((paths.resources() / "translations").glob("*.po"))


def signs_of(text: str) -> set[str]:
    """The characters of a text; a catalogue's escapes are read as what they stand for."""
    return set(text.replace("\\n", "\n")) - INVISIBLE


@pytest.mark.parametrize("file", sorted((paths.resources() / "fonts").glob("*.ttf")), ids=lambda f: f.stem)
def test_that_every_sign_is_in_our_own_font(file: object, qapp: QApplication) -> None:
    font = QRawFont(str(file), 16.0)
    assert font.isValid()
    shown = {"units": " ".join(u for kind in Kind for u in units_of(kind))}
    shown |= {each.stem: each.read_text("utf-8") for each in CATALOGUES}
    for code in (paths.resources().parent / "rakeprep" / "ui").rglob("*.py"):
        shown[code.name] = " ".join(re.findall(r'"([^"\n]*)"', code.read_text("utf-8")))
    missing = {
        name: sorted(c for c in signs_of(text) if not font.supportsCharacter(ord(c)))
        for name, text in shown.items()
    }
    assert {name: found for name, found in missing.items() if found} == {}
