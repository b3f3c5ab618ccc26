"""How the window looks: chosen with a finger, remembered, and large enough on any screen."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from rakeprep.ui import look
from rakeprep.ui.app import make_session
from rakeprep.ui.look import Look, LookKey
from rakeprep.ui.session import Session
from rakeprep.ui.theme import DIM, GLOVES
from rakeprep.ui.window import Window

GLOVE = 20 / 25.4  # of the dots per inch in 20 mm, worked by hand


@pytest.fixture
def window(session: Session, qtbot: QtBot) -> Window:
    """The window on the list of jobs."""
    made = Window(session)
    qtbot.addWidget(made)
    made.show_start()
    return made


def test_that_looks_come_back_after_a_restart(window: Window) -> None:
    window.other_theme()
    window.other_size()
    window.larger()
    again = make_session(window.session.data)
    assert again.theme is DIM
    assert (again.size.name, again.size.percent) == ("gloves", 125)


@pytest.mark.parametrize(
    "damaged",
    [
        b"",
        b"[]",
        b"null",
        b"{",
        b"\xff\xfe",
        b'{"theme": "pink", "size": "desk", "letters": 100}',
        b'{"theme": "dim", "size": "desk", "letters": 7}',
        b'{"theme": [], "size": {}, "letters": "100"}',
        b" " * 5000,
        b"[" * 900,
    ],
)
def test_that_a_damaged_file_gives_the_usual_looks(tmp_path: Path, damaged: bytes) -> None:
    look.file_in(tmp_path).write_bytes(damaged)
    assert look.read(tmp_path) == Look()


def test_that_looks_that_cannot_be_kept_stop_nobody(window: Window) -> None:
    window.session.data.parent.mkdir(parents=True, exist_ok=True)
    window.session.data.write_text("in the way")
    window.other_theme()
    assert window.session.theme is DIM
    assert look.read(window.session.data) == Look()


def test_that_a_gloved_finger_reaches_every_look(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    window.other_size()
    assert window.page is not None
    (key,) = window.page.findChildren(LookKey)
    monkeypatch.setattr(QMenu, "popup", lambda menu, at: None)  # without a screen Qt warns of it
    key.click()
    menu = key.menu_of_looks
    heights = [menu.actionGeometry(each).height() for each in menu.actions()]
    assert len(heights) == 4
    assert min([*heights, key.sizeHint().height()]) >= GLOVE * 96


def test_that_a_fine_screen_is_known_from_the_first_start(
    session: Session, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Window, "logicalDpiY", lambda self: 192)
    session.size = GLOVES
    made = Window(session)
    qtbot.addWidget(made)
    assert session.size.target >= GLOVE * 192
