"""Makes the pictures of the window and of the paper anew.

    .venv/bin/python tests/whole/make_pictures.py [readme | pages]

``readme`` makes those of the README: the window on the half-done sample job, pages from the document of
``rakeprep demo --headless``. ``pages`` makes those that every page of the window is compared with; look at
each of them that changed before it goes in. Without a word it makes both.
"""

from __future__ import annotations

import datetime as dt
import importlib.util
import os
import shutil
import sys
import tempfile
from pathlib import Path
from types import ModuleType

import pypdfium2
from PIL import Image

from rakeprep import paths
from rakeprep.handover import demo
from rakeprep.text import ENGLISH

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
PICTURES = paths.resources() / "pictures"
UI_TESTS = Path(__file__).resolve().parents[1] / "ui"
WIDE = 900  # px of a page


def now() -> dt.datetime:
    return dt.datetime.now().astimezone()


def beside(name: str) -> ModuleType:
    """A module of the window's tests that is no test."""
    spec = importlib.util.spec_from_file_location(name, UI_TESTS / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    sys.modules[name] = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


def window_picture(folder: Path) -> None:
    """The window at the levelling of the left rotor, with something to put right."""
    scenes = beside("scenes")
    with scenes.window(folder, scenes.Look()) as window:
        scenes.show(window, "levelling")
        scenes.picture(window).save(str(PICTURES / "window.png"))
    with Image.open(PICTURES / "window.png") as picture:
        small(picture, "window")


def page_references(folder: Path) -> None:
    """Every page in every look, as the tests compare them."""
    scenes, likeness = beside("scenes"), beside("likeness")
    shutil.rmtree(UI_TESTS / "pictures", ignore_errors=True)
    for look, dressed in scenes.LOOKS.items():
        with scenes.window(folder / look, dressed()) as window:
            for page in scenes.PAGES:
                scenes.show(window, page)
                likeness.save(
                    likeness.kept(scenes.picture(window)), UI_TESTS / "pictures" / look / f"{page}.png"
                )


def page_pictures(folder: Path) -> None:
    """The customer's page, and a page of the record with readings."""
    outcome = demo.demo(paths.sample_profiles(), folder, {"en": ENGLISH}, now, lambda _: None)
    assert outcome.document is not None, [str(reason) for reason in outcome.reasons]
    with pypdfium2.PdfDocument(outcome.document) as document:
        texts = [page.get_textpage().get_text_bounded() for page in document]
        record = next(n for n, text in enumerate(texts) if n > 1 and "Levelling" in text)
        for number, name in ((0, "customer-page"), (record, "record-page")):
            page = document[number]
            picture = page.render(scale=WIDE / page.get_width(), may_draw_forms=True).to_pil()
            small(picture, name)


def small(picture: Image.Image, name: str) -> None:
    """Keep a picture with as many colours as it needs."""
    few = picture.convert("RGB").quantize(128, dither=Image.Dither.NONE)
    few.save(PICTURES / f"{name}.png", optimize=True)


def main(wanted: str) -> None:
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        if wanted in {"", "readme"}:
            page_pictures(Path(folder) / "paper")
            window_picture(Path(folder) / "window")
        if wanted in {"", "pages"}:
            page_references(Path(folder) / "pages")


if __name__ == "__main__":
    main(" ".join(sys.argv[1:]))
