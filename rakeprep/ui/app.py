"""Start the window."""

from __future__ import annotations

import datetime as dt
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType

from PySide6.QtWidgets import QApplication

from rakeprep import paths
from rakeprep.text import Message, languages, msg
from rakeprep.ui import look
from rakeprep.ui.dialogs import WindowDialogs
from rakeprep.ui.session import Session
from rakeprep.ui.window import Window


def now() -> dt.datetime:
    """The computer's clock with its offset."""
    return dt.datetime.now().astimezone()


def make_session(data: Path, clock: Callable[[], dt.datetime] = now) -> Session:
    """A session with real dialogs above the active window."""
    resources = paths.resources()
    known = languages(resources / "translations")
    last = look.read(data)
    session: Session
    dialogs = WindowDialogs(QApplication.activeWindow, lambda: session.language)
    session = Session(
        data=data,
        resources=resources,
        profiles=paths.sample_profiles(),
        languages=known,
        language=known["en"],
        dialogs=dialogs,
        clock=clock,
        theme=last.theme,
        size=last.size,
    )
    return session


def run(data: Path, job: Path | None = None) -> int:
    """Open the window, on ``job`` if one is given; returns the exit code."""
    application = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(application, QApplication)
    application.setStyle("Fusion")
    application.setApplicationName("rakeprep")
    window = Window(make_session(data))
    sys.excepthook = caught(window, data)
    if job is None:
        window.show_start()
    else:
        window.open_job(job)
        if window.page is None:
            window.show_start()
    window.show()
    window.soon()
    return application.exec()


Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]


def caught(window: Window, data: Path) -> Hook:
    """What happens to an error nobody expected: it is written down, said, and the job read anew from disk."""

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        text = "".join(traceback.format_exception(kind, error, trace))
        file = data / "errors.log"
        try:
            data.mkdir(parents=True, exist_ok=True)
            with file.open("a", encoding="utf-8") as log:
                log.write(f"{now().isoformat()}\n{text}\n")
        except OSError:
            sys.stderr.write(text)
        window.read_again()
        window.say(unexpected(kind, file))

    return hook


def unexpected(kind: type[BaseException], file: Path) -> Message:
    """The sentence for an error nobody expected."""
    return msg(
        "Something unexpected happened ({what}). Everything stored is safe on disk; the job was read again "
        "from there. Look whether the last entry is right. Details are in {file}.",
        what=kind.__name__,
        file=str(file),
    )
