"""Every page looks as in its picture under ``tests/ui/pictures``, in both themes and in the longest language.

If a page was changed knowingly, ``python tests/whole/make_pictures.py pages`` makes the pictures anew; look
at every one of them before it goes in.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image, ImageFilter
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QAbstractButton, QApplication

PICTURES = Path(__file__).with_name("pictures")
LOOKS = ("bright", "dim", "longest")
BYTES = 3_000_000  # what all pictures together may take in the repository


@pytest.mark.parametrize("look", LOOKS)
def test_that_every_page_looks_as_in_its_picture(
    scenes, likeness, tmp_path: Path, qapp: QApplication, look: str
) -> None:
    unlike: dict[str, str] = {}
    with scenes.window(tmp_path, scenes.LOOKS[look]()) as window:
        for page in scenes.PAGES:
            scenes.show(window, page)
            now = likeness.kept(scenes.picture(window))
            found = likeness.unlike(likeness.load(PICTURES / look / f"{page}.png"), now)
            if found:
                unlike[page] = found
                likeness.save(now, tmp_path / f"{look}-{page}.png")
    assert unlike == {}, f"pictures of today are in {tmp_path}"


def test_that_there_is_a_picture_of_every_page_and_no_other(scenes) -> None:
    wanted = {f"{look}/{page}.png" for look in LOOKS for page in scenes.PAGES}
    assert {str(file.relative_to(PICTURES)) for file in PICTURES.rglob("*") if file.is_file()} == wanted
    assert sum(file.stat().st_size for file in PICTURES.rglob("*.png")) < BYTES
    assert set(scenes.LOOKS) == set(LOOKS)


@pytest.mark.parametrize("page", ["start", "levelling", "oil"])
def test_that_a_key_that_moved_or_is_gone_is_seen(
    scenes, likeness, tmp_path: Path, qapp: QApplication, page: str
) -> None:
    with scenes.window(tmp_path, scenes.Look()) as window:
        scenes.show(window, page)
        before = likeness.kept(scenes.picture(window))
        shown = [one for one in window.findChildren(QAbstractButton) if not one.visibleRegion().isEmpty()]
        keys = [one for one in shown if one.text()]
        for one in (keys[0], keys[len(keys) // 2], keys[-1]):
            at = one.pos()
            one.move(at + QPoint(6, 0))
            assert likeness.unlike(before, likeness.kept(scenes.picture(window))), one.text()
            one.move(at)
            one.hide()
            assert likeness.unlike(before, likeness.kept(scenes.picture(window))), one.text()
            one.show()
            scenes.settle()


@pytest.mark.parametrize("page", ["start", "levelling"])
def test_that_the_grey_of_letters_may_differ(
    scenes, likeness, tmp_path: Path, qapp: QApplication, page: str
) -> None:
    """Another computer: every edge softer or harder by about half a pixel."""
    with scenes.window(tmp_path, scenes.Look()) as window:
        scenes.show(window, page)
        before = likeness.kept(scenes.picture(window))
    soft = before.filter(ImageFilter.GaussianBlur(0.5))
    for other in (soft, Image.blend(soft, before, 2.0)):
        assert likeness.unlike(before, other) == ""
