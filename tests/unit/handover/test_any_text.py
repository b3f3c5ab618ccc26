"""Whatever a person or a data file wrote: the document stays valid, the customer's page stays one page."""

from __future__ import annotations

import dataclasses
import datetime as dt
import io
import itertools
from collections.abc import Iterator

import page as validator
import pikepdf
import pypdfium2
import pytest

from rakeprep import paths
from rakeprep.handover import layout
from rakeprep.handover.archive import finish
from rakeprep.handover.demo import MACHINE, TRACTOR
from rakeprep.handover.document import Paper, build
from rakeprep.handover.fill import started
from rakeprep.jobs import answers
from rakeprep.jobs.assess import Gate, OpenPoint, Readiness
from rakeprep.jobs.open_job import judge
from rakeprep.jobs.starting import text_of
from rakeprep.model.entry import Entry, How
from rakeprep.model.field import Ask
from rakeprep.model.job import Signature
from rakeprep.text import ENGLISH, verbatim

NASTY = (
    "<b>bold</b> & <i>open",
    '<img src="/etc/hostname"/>',
    '<font size="900">x</font><a href="file:///etc">y</a><br/><para>',
    "\u202eright to left\u202c \u05d0\u05d1\u05d2 \u061c\u200f",
    "\U0001f69c\U0001f468\u200d\U0001f527 \u6f22\u5b57",
    "\ud800 lone \udfff",
    "word " * 2_000,  # 10,000 characters
    "w" * 10_000,
    "\x00\x07\x1b[31m\x7f\ufeff\u2028\u0085\r\n\t",
    "{name} %s ${x} \\( )Tj ET EMC Q",
    "a\u0301" * 400,
    "",
)


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Paper:
    """The sample job with faults, signed by nobody."""
    samples = paths.sample_profiles()
    noon = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
    read = answers.read_answers(text_of(samples / "answers/faulty.toml"))
    folder = tmp_path_factory.mktemp("job")
    with started(samples / MACHINE, samples / TRACTOR, read, folder, lambda: noon) as job:
        answers.apply(read, job)
        record, assessment = judge(job.file.events(), noon.date())
        return Paper(record, assessment, job.profile, job.tractor, ENGLISH, "0000-0000", noon)


def spoiled(paper: Paper, texts: Iterator[str]) -> Paper:
    """The same job with another text in every place that a person or a data file fills."""
    words = {
        state.task.slot for state in paper.assessment.states.values() if state.task.field.ask is Ask.TEXT
    }

    def entry(old: Entry) -> Entry:
        typed = next(texts) if old.slot in words and old.how is How.VALUE else old.typed
        more = {name: next(texts) for name in ("who", "reason", "instrument", "confirmed_by")}
        return dataclasses.replace(old, typed=typed, **more)  # type: ignore[arg-type]

    entries = {slot: entry(old) for slot, old in paper.record.entries.items()}
    history = {slot: (old, entry(old)) for slot, old in itertools.islice(paper.record.entries.items(), 20)}
    opening = dataclasses.replace(
        paper.record.opening, **{name: next(texts) for name in ("customer", "technician", "order", "job")}
    )
    signatures = {
        role: Signature(role, next(texts), paper.printed_at, "")
        for role in ("technician", "checker", "customer")
    }
    points = tuple(
        OpenPoint(o.slot, verbatim(next(texts)), next(texts), next(texts), next(texts), frozenset())
        for o in paper.assessment.gate.obstacles
    )
    machine = dataclasses.replace(paper.profile.machine, name=next(texts), designation=next(texts))
    record = dataclasses.replace(
        paper.record, entries=entries, history=history, opening=opening, signatures=signatures
    )
    gate = Gate(Readiness.OPEN_POINTS, (), points)
    return dataclasses.replace(
        paper,
        record=record,
        assessment=dataclasses.replace(paper.assessment, gate=gate),
        profile=dataclasses.replace(paper.profile, machine=machine),
        workshop=next(texts),
    )


def finished(paper: Paper) -> bytes:
    document = build(paper)
    laid = layout.lay_out(document)
    return finish(laid.pdf, (), document.title, document.language, document.made, laid.boxes, {}, laid.tree)


def failures(pdf: bytes) -> set[str]:
    return {
        f"{failure.rule_id}: {failure.message}"
        for profile in ("3a", "ua1")
        for failure in validator.validate_pdf_bytes(pdf, profile=profile).failures
    }


def test_that_any_texts_at_once_leave_a_valid_document_with_one_customers_page(sample: Paper) -> None:
    made = finished(spoiled(sample, itertools.cycle(NASTY)))
    assert failures(made) == set()
    with pikepdf.open(io.BytesIO(made)) as pdf:
        assert all(not page.get_images() for page in pdf.pages)
        assert all(
            "/URI" not in str(each.get("/A", "")) for page in pdf.pages for each in page.get("/Annots", [])
        )
    with pypdfium2.PdfDocument(made) as opened:
        said = [page.get_textpage().get_text_range() for page in opened]
        assert "Signed under the open points above" in said[0]
        assert "The record" in said[1]
        assert "Open points in full" not in said[0]
        assert len(said) < 200  # nothing endless runs away


@pytest.mark.parametrize("number", range(len(NASTY)))
def test_that_each_text_alone_keeps_to_one_customers_page(sample: Paper, number: int) -> None:
    document = build(spoiled(sample, itertools.repeat(NASTY[number])))
    laid = layout.lay_out(dataclasses.replace(document, record=document.record[:4]))
    with pypdfium2.PdfDocument(laid.pdf) as opened:
        assert "Signed under the open points above" in opened[0].get_textpage().get_text_range()
        assert "The record" in opened[1].get_textpage().get_text_range()
