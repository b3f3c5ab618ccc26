"""A name that was written wrong at the opening is put right, and both stay."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import Any

import pytest

from rakeprep import cli
from rakeprep.jobs import events
from rakeprep.jobs.names import correct_names
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.model.job import NAMES
from rakeprep.store.shelf import jobs_in

ONE, TWO = "Technician One", "Technician Two"


@pytest.mark.parametrize("of", NAMES)
def test_that_a_corrected_name_stands_everywhere_and_the_old_one_stays(of: str, job: OpenJob) -> None:
    was = getattr(job.record.opening, of)
    job.correct_name(of, "  Other  Name ".replace("  ", " "), "misheard", TWO)
    assert getattr(job.record.opening, of) == "Other Name"
    (kept,) = job.record.corrections
    assert (kept.of, kept.was, kept.became) == (of, was, "Other Name")
    assert (kept.reason, kept.who, kept.seq) == ("misheard", TWO, 2)
    job.refresh()
    assert job.record.corrections == (kept,)


def test_that_a_correction_makes_everybody_sign_anew(bench: Any) -> None:
    signed = {"is": "signature", "role": "customer", "name": "C", "typed": True, "head": "h1", "strokes": []}
    fixed = events.name_corrected("customer", "Customer One", "Customer Three", "misheard", ONE)
    assert bench.record(signed).signatures
    assert not bench.record(signed, fixed).signatures


@pytest.mark.parametrize(
    ("of", "name", "reason", "said"),
    [
        ("customer", " ", "misheard", "A name is missing"),
        ("customer", "Customer One", "misheard", "already"),
        ("customer", "Customer Three", " ", "reason is missing"),
        ("order", "9" * 61, "misheard", "order number"),  # 60 characters are the most: jobs.given_words
        ("job", "x", "misheard", "not known here"),
    ],
)
def test_that_a_correction_without_sense_is_refused(
    of: str, name: str, reason: str, said: str, job: OpenJob
) -> None:
    with pytest.raises(Refused, match=said):
        job.correct_name(of, name, reason, ONE)
    assert len(job.file.events()) == 1


def test_that_several_names_are_corrected_together_or_none_is(job: OpenJob) -> None:
    with pytest.raises(Refused):
        correct_names(job, {"customer": "Customer Three", "order": "9" * 61}, "misheard", ONE)
    assert len(job.file.events()) == 1
    assert correct_names(job, {"customer": "Customer One", "order": None}, "misheard", ONE) == ()
    names = {"customer": "Customer Three", "order": "SAMPLE-9", "technician": ONE}
    assert [each.of for each in correct_names(job, names, "misheard", ONE)] == ["customer", "order"]


@pytest.mark.parametrize(("key", "value"), [("was", "nobody"), ("of", "job"), ("became", 3), ("who", None)])
def test_that_a_correction_of_what_never_stood_there_is_no_record(
    key: str, value: object, bench: Any
) -> None:
    body = dict(events.name_corrected("customer", bench.opening.customer, "Customer Three", "misheard", ONE))
    bench.record(body)
    with pytest.raises(ValueError, match="misshapen"):
        bench.record({**body, key: value})


def test_that_the_list_of_jobs_shows_the_names_of_now(job: OpenJob) -> None:
    job.correct_name("customer", "Customer Three", 'misheard "is":"chapter"', ONE)
    job.change_tractor("other.toml", job.record.opening.tractor_text, "sold", ONE)
    (found,) = jobs_in(job.file.path.parent)
    shown = {key: found.first[key] for key in ("customer", "order", "tractor_name")}
    now = dataclasses.asdict(job.record.opening)
    assert shown == {key: now[key] for key in shown}
    assert shown["customer"] == "Customer Three"


def test_that_the_command_line_corrects_names(
    job: OpenJob, capsys: pytest.CaptureFixture[str], ticking: Any
) -> None:
    path: Path = job.file.path
    job.close()
    words = ["names", str(path), "--reason", "misheard", "--who", ONE]
    assert cli.main([*words, "--customer", "Customer One"]) == cli.FAILED
    assert "Nothing is another name" in capsys.readouterr().err
    assert cli.main([*words, "--customer", "Customer Three", "--order", "SAMPLE-9"]) == cli.DONE
    assert "Customer: Customer One → Customer Three" in capsys.readouterr().out
    with OpenJob.resume(path, ticking) as again:
        assert (again.record.opening.customer, again.record.opening.order) == ("Customer Three", "SAMPLE-9")
