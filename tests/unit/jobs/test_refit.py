"""Another tractor for a job that is under way."""

from __future__ import annotations

from pathlib import Path

import pytest

from rakeprep import cli, paths
from rakeprep.jobs import answers
from rakeprep.jobs.open_job import OpenJob
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.refit import fit_on, refit
from rakeprep.jobs.starting import DataRefused
from rakeprep.model.verdict import Verdict

OTHER = paths.sample_profiles() / "tractors" / "tractor-no-float.toml"
HEALTHY = paths.sample_profiles() / "answers" / "healthy.toml"


def stale(job: OpenJob) -> int:
    return sum(s.verdict is Verdict.OUT_OF_DATE for s in job.assessment.states.values())


def test_that_what_is_said_before_is_what_comes_of_it(job: OpenJob) -> None:
    assert answers.apply(answers.read_answers(HEALTHY.read_text("utf-8")), job) == []
    before, count = set(job.tasks), job.record.count
    found = refit(job, OTHER)
    assert job.record.count == count  # looking changes nothing
    assert found.out_of_date > 0
    fit_on(job, found, "the customer has sold it", "Technician One")
    assert stale(job) == found.out_of_date
    assert len(set(job.tasks) - before) == found.added
    assert len({slot for slot in before - set(job.tasks) if slot in job.record.entries}) == found.dropped
    assert job.record.opening.tractor_name == found.name
    assert str(found.out_of_date) in str(found.says)


def test_that_the_same_tractor_again_makes_what_rests_on_it_out_of_date_once(job: OpenJob) -> None:
    assert answers.apply(answers.read_answers(HEALTHY.read_text("utf-8")), job) == []
    fit_on(job, refit(job, OTHER), "sold", "Technician One")
    assert refit(job, OTHER).out_of_date == 0


def test_that_a_file_with_mistakes_is_refused(job: OpenJob, tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.toml"
    wrong.write_text("[tractor]\nnam = 3\n")
    with pytest.raises(DataRefused):
        refit(job, wrong)
    with pytest.raises(Refused):
        refit(job, tmp_path / "gone.toml")


def test_that_the_command_line_puts_a_job_on_another_tractor(
    job: OpenJob, capsys: pytest.CaptureFixture[str]
) -> None:
    path = job.file.path
    words = ["tractor", str(path), str(OTHER), "--reason", "sold", "--who", "Technician One"]
    assert cli.main(words) == cli.FAILED  # it is open here
    job.close()
    assert cli.main(words) == cli.DONE
    assert "become" in capsys.readouterr().out
    assert cli.main([*words[:4], " ", *words[5:]]) == cli.FAILED
    assert "reason is missing" in capsys.readouterr().err
