"""Empty forms of a machine for which there is no job yet."""

from __future__ import annotations

from pathlib import Path

from rakeprep.handover import papers
from rakeprep.handover.papers import Which, Wish
from rakeprep.text import Message
from rakeprep.ui.making import Making
from rakeprep.ui.new_job_page import MACHINE, TRACTOR
from rakeprep.ui.papers_page import FOLDER
from rakeprep.ui.session import Session


def asked(session: Session) -> Making | None:
    """Ask for the two data files and a folder; the forms to be made, or None when the user turned back."""
    machine = data_file(session, MACHINE, "machines")
    tractor = None if machine is None else data_file(session, TRACTOR, "tractors")
    folder = None if tractor is None else session.dialogs.folder(FOLDER, session.data / "documents")
    if machine is None or tractor is None or folder is None:
        return None
    language, clock = session.language, session.clock
    return Making(
        lambda: papers.write(papers.of_data(machine, tractor, language, clock), Wish(Which.FORMS), folder)
    )


def data_file(session: Session, title: Message, kind: str) -> Path | None:
    """Ask for a data file: of the workshop's own where it has some, else of the samples."""
    own = session.data / kind
    return session.dialogs.open_file(title, own if own.is_dir() else session.profiles / kind, "TOML (*.toml)")
