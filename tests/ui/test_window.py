"""The window around the pages: jobs, a new job, looks, and what nobody expected."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rakeprep.jobs.flow import next_task
from rakeprep.jobs.open_job import OpenJob
from rakeprep.model.entry import Slot
from rakeprep.profiles import sample_machines
from rakeprep.store.job_file import StoreError
from rakeprep.text import msg
from rakeprep.ui.app import caught
from rakeprep.ui.fields.written import Written
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.new_job_page import NewJobPage
from rakeprep.ui.session import Session
from rakeprep.ui.signing_page import SigningPage
from rakeprep.ui.start_page import StartPage
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.theme import BRIGHT, DESK, DIM, GLOVES, Theme, load_font, palette, style_sheet
from rakeprep.ui.window import Window

CONTROL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def window(qtbot: QtBot, session: Session, qapp: QApplication) -> Iterator[Window]:
    made = Window(session)
    qtbot.addWidget(made, before_close_func=let_go)
    with qtbot.waitActive(made):
        made.show()
    yield made
    qapp.setStyleSheet(style_sheet(BRIGHT, DESK))
    qapp.setPalette(palette(BRIGHT))
    qapp.setFont(load_font(session.resources, DESK.text))


def let_go(window: Window) -> None:
    if window.job is not None:
        window.job.close()
        window.job = None


def lines(window: Window) -> list[str]:
    assert isinstance(window.page, StartPage)
    return [window.page.list.item(row).text() for row in range(window.page.list.count())]


def fill(qtbot: QtBot, page: NewJobPage) -> None:
    for field, text in (
        (page.customer, "Customer Two"),
        (page.order, "Order 7"),
        (page.technician, "Technician Two"),
    ):
        field.clear()
        qtbot.keyClicks(field, text)


# ------------------------------------------------------------------------------- the list of jobs


def test_that_without_jobs_a_new_one_is_offered(window: Window) -> None:
    window.show_start()
    assert lines(window) == ["No job on this computer yet. Begin with “new job”."]
    assert isinstance(window.page, StartPage)
    assert not window.page.open_button.isEnabled()
    assert QApplication.focusWidget() is window.page.new_button


def test_that_every_job_is_listed_and_enter_continues_it(
    qtbot: QtBot, window: Window, start: Callable[..., OpenJob]
) -> None:
    for _ in range(2):
        start().close()
    window.show_start()
    assert ["for Customer One" in line for line in lines(window)] == [True, True]
    assert isinstance(window.page, StartPage)
    assert lines(window)[0].startswith("SAMPLE-1-2 · ")  # the job of the last entry comes first
    qtbot.keyClick(window.page.list, Qt.Key.Key_Return)
    assert window.job is not None
    assert window.job.record.opening.job == "SAMPLE-1-2"


def test_that_a_job_file_that_cannot_be_read_is_listed_with_its_sentence(
    qtbot: QtBot, window: Window, dialogs: Any, start: Callable[..., OpenJob]
) -> None:
    start().close()
    folder = window.session.jobs
    suffix = next(folder.glob("SAMPLE*")).suffix
    (folder / f"broken{suffix}").write_bytes(b"no job at all" * 100)
    window.show_start()
    assert len(lines(window)) == 2
    broken = next(row for row, line in enumerate(lines(window)) if line.startswith("broken"))
    assert "is not a job of this program" in lines(window)[broken]
    assert isinstance(window.page, StartPage)
    window.page.list.setCurrentRow(broken)
    qtbot.mouseClick(window.page.open_button, Qt.MouseButton.LeftButton)
    assert window.job is None
    assert "is not a job of this program" in dialogs.told[0]


def test_that_a_job_goes_on_where_it_was_left(window: Window, start: Callable[..., OpenJob]) -> None:
    job = start(0, "half-done.toml")
    last = Slot("tyres", "workshop_temperature")
    job.commit(last, "17 °C", "Technician One")
    path = job.file.path
    job.close()
    window.open_job(path)
    assert isinstance(window.page, JobPage)
    assert isinstance(window.page.page, StepPage)
    assert window.page.page.slot == last


def test_that_a_job_open_elsewhere_says_who_holds_it(
    window: Window, dialogs: Any, start: Callable[..., OpenJob]
) -> None:
    job = start()
    path = job.file.path
    job.close()
    hold = (
        "import sys, datetime as dt\nfrom pathlib import Path\n"
        "from rakeprep.jobs.open_job import OpenJob\n"
        "job = OpenJob.resume(Path(sys.argv[1]), lambda: dt.datetime.now().astimezone())\n"
        "print('held', flush=True)\nsys.stdin.readline()\njob.close()\n"
    )
    other = subprocess.Popen(
        [sys.executable, "-c", hold, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    with other:
        assert other.stdout is not None
        assert other.stdout.readline().strip() == "held"
        window.open_job(path)
        other.communicate("\n", timeout=30)
    assert window.job is None
    assert "open in another window" in dialogs.told[0]
    assert f"process {other.pid}" in dialogs.told[0]


# ------------------------------------------------------------------------------- a new job


def test_that_a_new_job_opens_at_its_first_task(qtbot: QtBot, window: Window) -> None:
    window.show_new_job()
    assert isinstance(window.page, NewJobPage)
    fill(qtbot, window.page)
    qtbot.keyClick(window.page.begin, Qt.Key.Key_Return)
    assert window.job is not None
    opening = window.job.record.opening
    assert (opening.customer, opening.order, opening.technician) == (
        "Customer Two",
        "Order 7",
        "Technician Two",
    )
    assert isinstance(window.page, JobPage)
    assert isinstance(window.page.page, StepPage)
    assert window.page.page.slot == next_task(window.job.assessment)


def test_that_machine_data_with_a_mistake_are_refused_with_their_line(
    qtbot: QtBot, window: Window, dialogs: Any, tmp_path: Path
) -> None:
    broken = tmp_path / "my-rake.toml"
    text = sample_machines()[0].read_text("utf-8").splitlines()
    row = next(n for n, line in enumerate(text) if line.startswith("mass ="))
    text[row] = text[row].replace(" kg", " bar")
    broken.write_text("\n".join(text), "utf-8")
    window.show_new_job()
    assert isinstance(window.page, NewJobPage)
    dialogs.answers["open_file"] = [broken]
    browse = window.page.machine.parentWidget().findChildren(type(window.page.begin))[0]
    qtbot.mouseClick(browse, Qt.MouseButton.LeftButton)
    fill(qtbot, window.page)
    qtbot.mouseClick(window.page.begin, Qt.MouseButton.LeftButton)
    said = window.page.refusal.text()
    assert f"my-rake.toml, line {row + 1}: " in said
    assert window.job is None
    assert window.page.customer.text() == "Customer Two"


@pytest.mark.parametrize("missing", ["customer", "order", "technician"])
def test_that_a_missing_name_is_said(qtbot: QtBot, window: Window, missing: str) -> None:
    window.show_new_job()
    assert isinstance(window.page, NewJobPage)
    fill(qtbot, window.page)
    getattr(window.page, missing).clear()
    qtbot.mouseClick(window.page.begin, Qt.MouseButton.LeftButton)
    assert window.page.refusal.text().endswith(".")
    assert window.job is None


def test_that_the_workshops_own_machines_come_first(window: Window) -> None:
    own = window.session.data / "machines" / "our-own.toml"
    own.parent.mkdir(parents=True)
    own.write_text(sample_machines()[0].read_text("utf-8"), "utf-8")
    window.show_new_job()
    assert isinstance(window.page, NewJobPage)
    assert window.page.machine.itemText(0) == "our own"


def test_that_back_leads_from_the_form_to_the_list(qtbot: QtBot, window: Window) -> None:
    window.show_new_job()
    assert isinstance(window.page, NewJobPage)
    window.page.given_up.emit()
    assert isinstance(window.page, StartPage)


# ------------------------------------------------------------------------------- looks


def test_that_other_looks_keep_the_task_and_what_is_being_typed(
    qtbot: QtBot, window: Window, start: Callable[..., OpenJob]
) -> None:
    job = start()
    job.read_caution("levelling", "Technician One")
    window.take_job(job)
    slot = Slot("levelling", "clearance", "left-12")
    assert isinstance(window.page, JobPage)
    window.page.open(slot)
    assert isinstance(window.page.page, StepPage)
    assert isinstance(window.page.page.editor, Written)
    qtbot.keyClicks(window.page.page.editor.line, "2,4,5")
    for key, theme, size in (
        (Qt.Key.Key_D, DIM, DESK),
        (Qt.Key.Key_G, DIM, GLOVES),
        (Qt.Key.Key_D, BRIGHT, GLOVES),
    ):
        qtbot.keyClick(window, key, CONTROL)
        assert (window.session.theme, window.session.size) == (theme, size)
        assert isinstance(window.page, JobPage)
        assert isinstance(window.page.page, StepPage)
        assert window.page.page.slot == slot
        assert isinstance(window.page.page.editor, Written)
        assert window.page.page.editor.line.text() == "2,4,5"
        assert QApplication.focusWidget() is window.page.page.editor.line


def test_that_other_looks_keep_a_form_half_filled(qtbot: QtBot, window: Window) -> None:
    window.show_new_job()
    assert isinstance(window.page, NewJobPage)
    fill(qtbot, window.page)
    window.page.machine.setCurrentIndex(1)
    qtbot.keyClick(window, Qt.Key.Key_D, CONTROL)
    assert isinstance(window.page, NewJobPage)
    assert window.page.customer.text() == "Customer Two"
    assert window.page.machine.currentIndex() == 1


def test_that_other_looks_keep_a_signature_not_yet_given(
    qtbot: QtBot, window: Window, start: Callable[..., OpenJob]
) -> None:
    window.take_job(start(0, "healthy.toml"))
    assert isinstance(window.page, JobPage)
    window.page.open_signing()
    assert isinstance(window.page.page, SigningPage)
    window.page.page.boxes["customer"].name.setText("Customer One")
    qtbot.keyClick(window, Qt.Key.Key_G, CONTROL)
    assert isinstance(window.page, JobPage)
    assert isinstance(window.page.page, SigningPage)
    assert window.page.page.boxes["customer"].name.text() == "Customer One"


def contrast(first: str, second: str) -> float:
    """Contrast of two colours by WCAG 2.2, definitions of "relative luminance" and "contrast ratio"."""

    def luminance(colour: str) -> float:
        parts = QColor(colour).getRgbF()[:3]
        linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    lighter, darker = sorted((luminance(first), luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def pairs(theme: Theme) -> list[tuple[str, str]]:
    """Every ink that the program puts on a ground."""
    t = theme
    inks = [(ink, ground) for ink in (t.ink, t.quiet) for ground in (t.ground, t.panel, t.chosen)]
    keys = [(t.on_accent, t.accent), (t.accent, t.ground), (t.on_bar, t.bar)]
    cautions = [(t.caution, t.caution_ground), (t.ink, t.caution_ground)]
    found = [(ink, ground) for ink, ground in t.verdicts.values()]
    on_cards = [(ink, ground) for ink in (t.ink, t.quiet) for _, ground in t.verdicts.values()]
    on_page = [(ink, ground) for ink, _ in t.verdicts.values() for ground in (t.ground, t.panel, t.chosen)]
    return list(chain(inks, keys, cautions, found, on_cards, on_page))


def test_that_the_measure_of_contrast_is_right() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.2: ratios range from 1 to 21
    # linear 0.21586 of the grey #808080 by hand: (0.50196 + 0.055) / 1.055 to the power 2.4
    assert contrast("#808080", "#ffffff") == pytest.approx(1.05 / 0.26586, rel=1e-3)


@pytest.mark.parametrize("theme", [BRIGHT, DIM], ids=lambda t: t.name)
def test_that_every_text_stands_out_seven_to_one(theme: Theme) -> None:
    # at least 7 : 1 (WCAG 2.2, 1.4.6)
    faint = {pair: round(contrast(*pair), 2) for pair in pairs(theme) if contrast(*pair) < 7}
    assert faint == {}


# ------------------------------------------------------------------------------- leaving, and the unexpected


def test_that_closing_the_window_lets_the_job_go(
    qtbot: QtBot, window: Window, start: Callable[..., OpenJob]
) -> None:
    job = start()
    window.take_job(job)
    assert window.close()
    assert window.job is None
    OpenJob.resume(job.file.path, window.session.clock).close()


def test_that_a_window_with_unread_text_stays_open_if_asked_to(
    qtbot: QtBot, window: Window, dialogs: Any, start: Callable[..., OpenJob]
) -> None:
    window.take_job(start())
    window.session.drafts[Slot("levelling", "clearance", "left-12")] = ("2,4,5", "mm")
    dialogs.answers["sure"] = [False]
    assert not window.close()
    assert window.job is not None


class Unexpected(Exception):
    pass


def raise_into(window: Window) -> None:
    try:
        raise Unexpected("planted")
    except Unexpected as error:
        caught(window, window.session.data)(type(error), error, error.__traceback__)


def test_that_an_unexpected_error_is_said_written_down_and_the_job_read_again(
    qtbot: QtBot, window: Window, dialogs: Any, start: Callable[..., OpenJob], monkeypatch: pytest.MonkeyPatch
) -> None:
    job = start()
    window.take_job(job)
    slot = Slot("levelling", "clearance", "left-12")
    assert isinstance(window.page, JobPage)
    window.page.open(slot)
    before, old = job.record, window.page
    raise_into(window)
    assert "Unexpected" in dialogs.told[0]
    log = (window.session.data / "errors.log").read_text("utf-8")
    assert "planted" in log
    assert "Traceback" in log
    assert job.record is not before
    assert job.record == before
    assert isinstance(window.page, JobPage)
    assert window.page is not old
    assert isinstance(window.page.page, StepPage)
    assert window.page.page.slot == slot


def test_that_an_error_in_a_slot_reaches_the_hook(
    qtbot: QtBot, window: Window, dialogs: Any, start: Callable[..., OpenJob], monkeypatch: pytest.MonkeyPatch
) -> None:
    job = start()
    window.take_job(job)
    assert isinstance(window.page, JobPage)

    def fail(*_: object) -> None:
        raise Unexpected("planted")

    monkeypatch.setattr(window.page, "open_signing", fail)
    window.page.step_keys.chosen.connect(fail)
    with qtbot.captureExceptions() as found:
        window.page.step_keys.chosen.emit("tyres")
    (kind, error, trace), *_ = found
    caught(window, window.session.data)(kind, error, trace)
    assert "Unexpected" in dialogs.told[0]


def test_that_an_error_with_a_job_that_cannot_be_read_leads_to_the_list(
    window: Window, dialogs: Any, start: Callable[..., OpenJob], monkeypatch: pytest.MonkeyPatch
) -> None:
    job = start()
    window.take_job(job)

    def refuse() -> None:
        raise StoreError(msg("The disk failed."))

    monkeypatch.setattr(job, "refresh", refuse)
    raise_into(window)
    assert dialogs.told[0] == "The disk failed."
    assert isinstance(window.page, StartPage)
