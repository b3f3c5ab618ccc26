"""A workshop's seal, a few entries of an invented job, and a plain document sealed with them."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from rakeprep import paths
from rakeprep.handover import complete, keys
from rakeprep.handover.fields import add_signature_fields
from rakeprep.handover.findings import judged_on
from rakeprep.handover.keys import Seal
from rakeprep.handover.paper import Paper
from rakeprep.handover.seal import Signer, seal
from rakeprep.jobs import events
from rakeprep.jobs.open_job import judge, understood
from rakeprep.model.entry import Entry, How, Slot
from rakeprep.model.job import Opening, Signature
from rakeprep.store.chain import GENESIS, fingerprint, short_code
from rakeprep.store.events import Stored
from rakeprep.text import ENGLISH

PASSPHRASE = "four words that rhyme"
SEALED_AT = dt.datetime(2026, 4, 14, 15, 30, tzinfo=dt.timezone(dt.timedelta(hours=2)))
Make = Callable[..., bytes]


@pytest.fixture(scope="session")
def seal_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a seal, made the day before the documents are sealed."""
    folder = tmp_path_factory.mktemp("workshop") / "seal"
    keys.new(folder, "Invented Workshop", PASSPHRASE, lambda: SEALED_AT - dt.timedelta(days=1))
    return folder


@pytest.fixture(scope="session")
def workshop(seal_folder: Path) -> Seal:
    """That seal, opened."""
    return keys.load(seal_folder, PASSPHRASE)


def chained(bodies: Iterable[Mapping[str, object]]) -> tuple[Stored, ...]:
    """Events a minute apart, each with the hash of the one before it."""
    found: list[Stored] = []
    previous = GENESIS
    for seq, body in enumerate(bodies, 1):
        at = (SEALED_AT - dt.timedelta(hours=3) + dt.timedelta(minutes=seq)).isoformat(
            timespec="microseconds"
        )
        found.append(Stored(seq, at, body, previous, fingerprint(previous, seq, at, body)))
        previous = found[-1].hash
    return tuple(found)


def bodies(signing: Iterable[str] = ("technician", "checker", "customer")) -> list[Mapping[str, object]]:
    """An opening with the sample machine, two answers, and the signatures."""
    machine = sorted((paths.sample_profiles() / "machines").glob("*.toml"))[0]
    tractor = sorted((paths.sample_profiles() / "tractors").glob("*.toml"))[0]
    opening = Opening(
        job="Invented job",
        opened=SEALED_AT - dt.timedelta(hours=3),
        technician="Technician One",
        customer="Customer One",
        order="Order 1",
        profile_name=machine.name,
        profile_text=machine.read_text("utf-8"),
        tractor_name=tractor.name,
        tractor_text=tractor.read_text("utf-8"),
        sample=True,
    )
    answers = [
        Entry(Slot("arrival", "serial", place), How.VALUE, typed, "Technician One", SEALED_AT, 0)
        for place, typed in (("plate", "INVENTED 0001"), ("declaration", "INVENTED 0007"))
    ]
    signatures = [Signature(role, f"{role} one".title(), SEALED_AT, "") for role in signing]
    return [
        events.opened(opening),
        *(events.entered(answer) for answer in answers),
        *(events.signed(signature) for signature in signatures),
    ]


@pytest.fixture(scope="session")
def stored() -> tuple[Stored, ...]:
    """The entries inside the sample document."""
    return chained(bodies())


def files_of(stored: tuple[Stored, ...]) -> dict[str, bytes]:
    """What is attached to a document of these entries; unsigned ones are given the time of sealing."""
    record, assessment = judge(stored, judged_on(stored))
    machine, tractor = understood(record.opening)
    at = max((signature.at for signature in record.signatures.values()), default=SEALED_AT)
    drawn = Paper(record, assessment, machine, tractor, ENGLISH, short_code(record.head), at)
    return {each.name: each.data for each in complete.attachments(stored, drawn)}


def paper(files: Mapping[str, bytes], boxed: bool = True) -> bytes:
    """One plain page with the two empty fields and the attached files."""
    drawn = io.BytesIO()
    canvas = Canvas(drawn, invariant=1)
    canvas.drawString(72, 720, "An invented handover of an invented machine.")
    canvas.showPage()
    canvas.save()
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(drawn.getvalue())) as pdf:
        boxes = {"technician": (72, 72, 260, 120), "customer": (300, 72, 488, 120)} if boxed else {}
        add_signature_fields(pdf, boxes, {"technician": "Technician", "customer": "Customer"})
        for name, data in files.items():
            pdf.attachments[name] = pikepdf.AttachedFileSpec(pdf, data, filename=name)
        pdf.save(out, deterministic_id=True)
    return out.getvalue()


@pytest.fixture(scope="session")
def unsealed(stored: tuple[Stored, ...]) -> bytes:
    """The sample document before it is sealed."""
    return paper(files_of(stored))


@pytest.fixture(scope="session")
def make_files() -> Callable[[tuple[Stored, ...]], dict[str, bytes]]:
    """What is attached to a document of some entries."""
    return files_of


@pytest.fixture(scope="session")
def make_sealed(workshop: Seal) -> Make:
    """Seal any document, by default with the sample workshop's seal."""

    def make(pdf: bytes, with_seal: Seal = workshop, when: dt.datetime = SEALED_AT) -> bytes:
        technician = Signer("Technician One", "technician", "The machine is prepared as recorded.")
        customer = Signer("Customer One", "customer", "The machine is received as recorded.")
        return seal(pdf, with_seal, technician, customer, when)

    return make


@pytest.fixture(scope="session")
def make_paper() -> Callable[..., bytes]:
    """Make an unsealed document with any attached files."""
    return paper


@pytest.fixture(scope="session")
def make_chain() -> Callable[..., tuple[Stored, ...]]:
    """Make a chain of entries signed by any roles."""
    return lambda signing: chained(bodies(signing))


@pytest.fixture(scope="session")
def rechained() -> Callable[[Iterable[Mapping[str, object]]], tuple[Stored, ...]]:
    """Make a chain of any events."""
    return chained


@pytest.fixture(scope="session")
def sealed(make_sealed: Make, unsealed: bytes) -> bytes:
    """The sample document, sealed."""
    return make_sealed(unsealed)
