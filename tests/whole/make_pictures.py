"""Makes the pictures of the README anew: ``python tests/whole/make_pictures.py``.

The window comes from the half-done sample job, the pages from the document of ``rakeprep demo --headless``.
"""

from __future__ import annotations

import datetime as dt
import os
import sys
import tempfile
from pathlib import Path

import pypdfium2
from PIL import Image

from rakeprep import paths
from rakeprep.handover import demo
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.text import ENGLISH

PICTURES = paths.resources() / "pictures"
WIDE = 900  # px of a page


def now() -> dt.datetime:
    return dt.datetime.now().astimezone()


def window_picture(folder: Path) -> None:
    """The window at the levelling of the left rotor, with something to put right."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtWidgets import QApplication

    from rakeprep.ui.app import make_session
    from rakeprep.ui.job_page import JobPage
    from rakeprep.ui.window import Window

    application = QApplication(sys.argv[:1])
    application.setStyle("Fusion")
    path = demo.half_done(paths.sample_profiles(), folder / "jobs", now)
    job = OpenJob.resume(path, now)
    window = Window(make_session(folder))
    window.take_job(job)
    window.resize(1366, 768)
    window.show()
    assert isinstance(window.page, JobPage)
    window.page.open(telling(job))
    for _ in range(3):
        application.processEvents()
    window.grab().toImage().save(str(PICTURES / "window.png"))
    with Image.open(PICTURES / "window.png") as picture:
        small(picture, "window")
    window.close_job()


def telling(job: OpenJob) -> Slot:
    """The place of the left rotor whose findings have most to say."""
    states = [s for s in job.assessment.of_step("levelling") if s.task.place.rotor == "left"]
    entered = [s for s in states if s.task.slot in job.record.entries] or states
    return max(entered, key=lambda s: (s.verdict.rank, len(s.findings))).task.slot


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


def main() -> None:
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        page_pictures(Path(folder) / "paper")
        window_picture(Path(folder) / "window")


if __name__ == "__main__":
    main()
