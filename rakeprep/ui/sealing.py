"""Making the sealed document beside the window, so that the window never stops."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from rakeprep.handover import complete, keys
from rakeprep.handover.files import HandoverError
from rakeprep.handover.seal import get_ready
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.store.job_file import StoreError
from rakeprep.text import Message, msg
from rakeprep.ui.session import Session

NO_SEAL = msg(
    "This workshop has no seal yet. A seal is a key with which documents are signed; it is kept on this "
    "computer. Make one now?"
)
WORKSHOP = msg("Name of the workshop, as it shall stand on the seal")
NEW_PASSPHRASE = msg(
    "A new passphrase for the seal, at least 12 characters. Keep it safe: nobody can find it again."
)
PASSPHRASE = msg("Passphrase of the workshop's seal")
SEAL_TITLE = msg("The workshop's seal")


class Sealing(QObject):
    """One document being made. ``finished`` hands on its path, ``failed`` a sentence."""

    said = Signal(object)
    finished = Signal(object)
    failed = Signal(object)
    _made = Signal(object)

    def __init__(self, session: Session, job: OpenJob, folder: Path) -> None:
        super().__init__()
        self._session, self._job, self._folder = session, job, folder
        self._seal: keys.Seal | None = None
        self._made.connect(self._keep)

    def prepare(self) -> bool:
        """Ask for the seal's passphrase, or make a seal first; False when the user turned back."""
        QThreadPool.globalInstance().start(get_ready)
        ask = self._session.dialogs
        try:
            if keys.exists(self._session.seal):
                passphrase = ask.passphrase(PASSPHRASE)
                if passphrase is None:
                    return False
                self._seal = keys.load(self._session.seal, passphrase)
                return True
            return self._make_seal()
        except keys.SealError as error:
            ask.tell(error.message)
            return False

    def _make_seal(self) -> bool:
        ask = self._session.dialogs
        if not ask.sure(NO_SEAL, msg("make a seal"), msg("not now")):
            return False
        workshop = ask.name(SEAL_TITLE, WORKSHOP, [])
        passphrase = ask.passphrase(NEW_PASSPHRASE) if workshop else None
        if not workshop or passphrase is None:
            return False
        self._seal = keys.new(self._session.seal, workshop, passphrase, self._session.clock)
        return True

    def start(self) -> None:
        """Make the document on another thread; the job itself is only touched on this one."""
        assert self._seal is not None
        try:
            draft = complete.draft(self._job, self._session.languages)
        except Refused as error:
            self.failed.emit(error.message)
            return
        QThreadPool.globalInstance().start(_Work(self, draft, self._seal))

    def _keep(self, pdf: bytes) -> None:
        try:
            path = complete.keep(self._job, pdf, self._folder)
        except (StoreError, Refused) as error:
            self.failed.emit(error.message)
        else:
            self.finished.emit(path)


class _Work(QRunnable):
    """Layout, archive and seal of one draft."""

    def __init__(self, sealing: Sealing, draft: complete.Draft, seal: keys.Seal) -> None:
        super().__init__()
        self._sealing, self._draft, self._seal = sealing, draft, seal

    def run(self) -> None:
        try:
            pdf = complete.sealed(self._draft, self._seal, self._sealing.said.emit)
        except HandoverError as error:
            self._sealing.failed.emit(error.message)
        except Exception as error:
            message: Message = msg("The document could not be made: {reason}", reason=repr(error))
            self._sealing.failed.emit(message)
        else:
            self._sealing._made.emit(pdf)
