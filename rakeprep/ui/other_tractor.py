"""Another tractor for the job in hand: which file, what it would do, why."""

from __future__ import annotations

from rakeprep.jobs.open_job import OpenJob, UnreadableData
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.refit import fit_on, refit
from rakeprep.jobs.starting import DataRefused
from rakeprep.store.job_file import StoreError
from rakeprep.text import msg
from rakeprep.ui.session import Session

OTHER_TRACTOR = msg("another tractor…")

WHY = msg("Why is it another tractor?")


def put_on_another(session: Session, job: OpenJob) -> bool:
    """Ask for the tractor's data file, show what it would do, and do it; whether it was done."""
    own = session.data / "tractors"
    folder = own if own.is_dir() else session.profiles / "tractors"
    file = session.dialogs.open_file(OTHER_TRACTOR, folder, "TOML (*.toml)")
    if file is None:
        return False
    try:
        found = refit(job, file)
        question = msg("{says} Nothing entered is lost. Put the job on this tractor?", says=found.says)
        if not session.dialogs.sure(question, msg("put it on"), msg("leave it")):
            return False
        reason = session.dialogs.reason(OTHER_TRACTOR, WHY)
        if reason is None:
            return False
        fit_on(job, found, reason, session.who)
    except (Refused, DataRefused, UnreadableData, StoreError) as error:
        session.dialogs.tell(error.message)
        return False
    return True
