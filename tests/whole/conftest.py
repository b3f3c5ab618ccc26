"""The document of the sample job at each stage of its making, for those who want to spoil it."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from rakeprep import paths
from rakeprep.handover import complete, demo, keys
from rakeprep.handover.archive import finish
from rakeprep.handover.document import build
from rakeprep.handover.fill import started
from rakeprep.handover.keys import Seal
from rakeprep.handover.layout import lay_out
from rakeprep.handover.seal import Signer, seal_field
from rakeprep.jobs import answers
from rakeprep.jobs.starting import text_of
from rakeprep.text import ENGLISH

MADE = dt.datetime(2026, 4, 14, 15, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
FIRST_BLOCKS = 6  # of the record: enough for a second page


@dataclasses.dataclass(frozen=True)
class Made:
    """A document before any signature, with the technician's, and with both."""

    finished: bytes
    certified: bytes
    sealed: bytes
    workshop: Seal
    when: dt.datetime


def clock_from(start: dt.datetime) -> Callable[[], dt.datetime]:
    """A clock that moves on by seven seconds whenever it is looked at."""
    now = [start]

    def clock() -> dt.datetime:
        now[0] += dt.timedelta(seconds=7)
        return now[0]

    return clock


@pytest.fixture(scope="session")
def draft(tmp_path_factory: pytest.TempPathFactory) -> complete.Draft:
    """The sample job, entered and signed."""
    samples = paths.sample_profiles()
    read = answers.read_answers(text_of(samples / demo.HEALTHY))
    folder = tmp_path_factory.mktemp("sample")
    clock = clock_from(MADE - dt.timedelta(hours=3))
    with started(samples / demo.MACHINE, samples / demo.TRACTOR, read, folder, clock) as job:
        assert answers.apply(read, job) == []
        assert answers.sign(read, job) == []
        return complete.draft(job, {"en": ENGLISH})


@pytest.fixture(scope="session")
def workshop_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the seal, made on the day before."""
    folder = tmp_path_factory.mktemp("workshop") / "seal"
    demo.practice_seal(folder, lambda: MADE - dt.timedelta(days=1))
    return folder


@pytest.fixture(scope="session")
def workshop(workshop_folder: Path) -> Seal:
    return keys.load(workshop_folder, demo.PASSPHRASE)


def stages(finished: bytes, workshop: Seal, when: dt.datetime) -> Made:
    technician = Signer("Technician One", "technician", "prepared as recorded")
    customer = Signer("Customer One", "customer", "received as recorded")
    certified = seal_field(finished, "technician", workshop, technician, when)
    return Made(
        finished, certified, seal_field(certified, "customer", workshop, customer, when), workshop, when
    )


@pytest.fixture(scope="session")
def whole(draft: complete.Draft, workshop: Seal) -> Made:
    """The whole document."""
    return stages(complete.unsealed(draft, workshop.workshop), workshop, draft.when)


@pytest.fixture(scope="session")
def brief(draft: complete.Draft, workshop: Seal) -> Made:
    """The customer's page and the beginning of the record, with everything that is attached."""
    document = build(draft.paper)
    document = dataclasses.replace(document, record=document.record[:FIRST_BLOCKS])
    laid = lay_out(document)
    files = complete.attachments(draft.stored, draft.paper)
    finished = finish(laid.pdf, files, document.title, "en", document.made, laid.boxes, None, laid.tree)
    return stages(finished, workshop, draft.when)
