"""A new job from two data files."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.starting import DataRefused, new_job
from rakeprep.profiles import sample_machines, sample_tractors

MACHINE, TRACTOR = sample_machines()[0], sample_tractors()[0]


def begin(folder: Path, clock: Any, **changed: Any) -> OpenJob:
    given = {
        "machine": MACHINE,
        "tractor": TRACTOR,
        "customer": "Customer One",
        "order": "SAMPLE-1",
        "technician": "Technician One",
    }
    given.update(changed)
    return new_job(folder, clock=clock, **given)


def test_that_a_job_keeps_its_own_copy_of_the_data(tmp_path: Path, ticking: Any) -> None:
    with begin(tmp_path / "jobs", ticking) as job:
        opening = job.record.opening
        assert opening.profile_text == MACHINE.read_text("utf-8")
        assert opening.tractor_text == TRACTOR.read_text("utf-8")
        assert (opening.job, opening.order, opening.customer) == ("SAMPLE-1", "SAMPLE-1", "Customer One")
        assert opening.sample  # the machine's data say that it is invented
        assert job.file.path.parent == (tmp_path / "jobs").resolve()


def test_that_a_second_job_of_one_order_gets_a_name_of_its_own(tmp_path: Path, ticking: Any) -> None:
    names = []
    for _ in range(3):
        with begin(tmp_path, ticking) as job:
            names.append(job.record.opening.job)
    assert names == ["SAMPLE-1", "SAMPLE-1-2", "SAMPLE-1-3"]


@pytest.mark.parametrize(
    ("order", "name"),
    [("../../etc/x", "etc-x"), ("Größe 7", "Groe-7"), ("作業", "job"), ("A\u202eB", "AB"), ("..", "job")],
)
def test_that_a_name_of_a_file_is_plain_whatever_the_order_number(
    tmp_path: Path, ticking: Any, order: str, name: str
) -> None:
    with begin(tmp_path, ticking, order=order) as job:
        assert job.record.opening.job == name
        assert job.file.path.parent == tmp_path.resolve()


@pytest.mark.parametrize("order", ["", " \u200b", "x" * 61, "x" * 1_000_000])
def test_that_an_order_number_is_short_and_there(tmp_path: Path, ticking: Any, order: str) -> None:
    with pytest.raises(Refused, match="at most 60 characters"):
        begin(tmp_path, ticking, order=order)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("role", ["customer", "technician"])
def test_that_a_job_names_its_people(tmp_path: Path, ticking: Any, role: str) -> None:
    with pytest.raises(Refused, match="name is missing"):
        begin(tmp_path, ticking, **{role: " "})
    assert list(tmp_path.glob("*.rakejob")) == []


def test_that_a_data_file_with_mistakes_is_refused_at_its_first_line(tmp_path: Path, ticking: Any) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text("[machine]\nname = 7\ncolour = 'red'\n", "utf-8")
    with pytest.raises(DataRefused) as caught:
        begin(tmp_path, ticking, machine=broken)
    assert len(caught.value.mistakes) > 2
    assert str(caught.value.message).startswith("broken.toml, line ")


def test_that_a_missing_data_file_is_refused(tmp_path: Path, ticking: Any) -> None:
    with pytest.raises(Refused, match=r"There is no file “gone\.toml”"):
        begin(tmp_path, ticking, tractor=tmp_path / "gone.toml")


def test_that_a_folder_that_cannot_be_made_is_a_sentence(tmp_path: Path, ticking: Any) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    with pytest.raises(Refused, match="cannot be made"):
        begin(tmp_path / "file" / "jobs", ticking)
