"""The sample job through its later chapters on the command line, and back from its document."""

from __future__ import annotations

import datetime as dt
import itertools
import shutil
from pathlib import Path

import pytest

from rakeprep import cli, paths
from rakeprep.handover import attached, keys
from rakeprep.handover.demo import PASSPHRASE
from rakeprep.handover.verify import Outcome, verify_file
from rakeprep.jobs.open_job import OpenJob
from rakeprep.store import events
from rakeprep.store.chain import short_code

ANSWERS = paths.sample_profiles() / "answers"
CHAPTERS = ("ten-hours", "repair")
NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample job handed over, visited after ten hours, and repaired."""
    folder = tmp_path_factory.mktemp("season")
    (folder / "passphrase").write_text(PASSPHRASE, "utf-8")
    assert cli.main(["demo", "--headless", "--out", str(folder)]) == 0
    for name in CHAPTERS:
        assert chapter(folder, ANSWERS / f"{name}.toml") == 0
    return folder


def chapter(folder: Path, answers: Path, out: str = "") -> int:
    job = str(folder / "SAMPLE-0001.rakejob")
    seal = ["--seal", str(folder / "seal"), "--passphrase-file", str(folder / "passphrase")]
    return cli.main(["chapter", job, str(answers), "--out", out or str(folder), *seal])


def documents(folder: Path) -> list[Path]:
    """In the order of the chapters."""
    return [
        folder / name
        for name in (
            "handover-SAMPLE-0001.pdf",
            "2-ten-hours-SAMPLE-0001.pdf",
            "3-repair-SAMPLE-0001.pdf",
        )
    ]


def test_that_every_chapter_has_a_document_that_verifies_on_its_own(season: Path) -> None:
    roots = list(keys.trusted(season / "seal"))
    for document in documents(season):
        report = verify_file(document, roots)
        assert report.outcome is Outcome.VERIFIED, report.lines()


def test_that_a_document_names_the_head_that_stands_on_the_one_before(season: Path) -> None:
    import pypdfium2

    for before, after in zip(documents(season), documents(season)[1:], strict=False):
        entries = attached.read_attached(before.read_bytes(), (attached.ENTRIES,))[attached.ENTRIES]
        with pypdfium2.PdfDocument(after) as opened:
            first, second = (opened[page].get_textpage().get_text_bounded() for page in (0, 1))
        code = short_code(events.load(entries)[-1].hash)
        assert code in first
        assert code in second
        assert before.name in second


def test_that_the_entries_of_a_document_begin_with_all_those_before_it(season: Path) -> None:
    chains = [
        attached.read_attached(d.read_bytes(), (attached.ENTRIES,))[attached.ENTRIES]
        for d in documents(season)
    ]
    for before, after in itertools.pairwise(chains):
        assert after.startswith(before)


def test_that_a_visit_cut_short_after_its_closing_is_finished_and_not_begun_anew(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    repair = documents(season)[-1]
    no_seal = ["--seal", str(tmp_path / "none"), "--passphrase-file", str(season / "passphrase")]
    for answers in ("repair", "ten-hours"):
        (tmp_path / repair.name).unlink(missing_ok=True)
        shutil.copy(repair, tmp_path / f".{repair.stem}.part")  # as it lies before it gets its name
        job = Path(shutil.copy(season / "SAMPLE-0001.rakejob", tmp_path))
        words = ["chapter", str(job), str(ANSWERS / f"{answers}.toml"), "--out", str(tmp_path), *no_seal]
        assert cli.main(words) == (0 if answers == "repair" else 1)  # another visit begins, and wants a seal
        assert (tmp_path / repair.name).read_bytes() == repair.read_bytes()
        with OpenJob.resume(job, lambda: NOON, read_only=True) as opened:
            assert opened.record.chapter.number == (3 if answers == "repair" else 4)
        job.unlink()
    capsys.readouterr()
    assert cli.main(["paper", "document", str(season / "SAMPLE-0001.rakejob"), "--out", str(tmp_path)]) == 0
    assert [(tmp_path / d.name).read_bytes() for d in documents(season)] == [
        d.read_bytes() for d in documents(season)
    ]
    assert capsys.readouterr().out.count("Written: ") == 3  # one for each chapter


def test_that_a_refusal_of_a_chapter_names_the_file_and_the_line(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = tmp_path / "sold.toml"
    answers.write_text(
        '# sold on\n\n[chapter]\nkind = "new-owner"\nwho = "Technician One"\nreason = "sold"\n', "utf-8"
    )
    assert chapter(season, answers) == 1
    assert capsys.readouterr().err == "sold.toml, line 3: The new owner's name is missing.\n"


def test_that_the_old_reading_stands_beside_the_new_one_on_paper(season: Path) -> None:
    import pypdfium2

    with pypdfium2.PdfDocument(documents(season)[1]) as opened:
        text = " ".join(page.get_textpage().get_text_bounded() for page in opened)
    assert "Then and now" in text
    row = " ".join(text[text.index("clamps of the transport axle") :].split())
    assert row.index("3°") < row.index("6°") < 80  # from healthy.toml and ten-hours.toml


def test_that_a_job_comes_back_from_any_of_its_documents(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for document in documents(season):
        seal = ["--seal", str(season / "seal")]
        assert cli.main(["open", str(document), "--out", str(tmp_path), *seal]) == 0
        assert "can be read here, not changed" in capsys.readouterr().out
    assert len(list(tmp_path.glob("*.rakejob"))) == 3


def test_that_a_document_of_an_unknown_workshop_is_brought_back_with_a_word(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = documents(season)[0]
    none = ["--seal", str(tmp_path / "none")]
    assert cli.main(["open", str(document), "--out", str(tmp_path), *none]) == Outcome.UNKNOWN_SEAL.code
    assert "does not know the workshop" in capsys.readouterr().out


def test_that_a_changed_document_is_not_brought_back(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = bytearray(documents(season)[0].read_bytes())
    data[len(data) // 2] ^= 1
    (tmp_path / "changed.pdf").write_bytes(data)
    assert cli.main(["open", str(tmp_path / "changed.pdf"), "--out", str(tmp_path)]) == 1
    assert "is not brought back" in capsys.readouterr().err
    assert not list(tmp_path.glob("*.rakejob"))


def test_that_a_chapter_that_was_refused_can_be_gone_on_with(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("SAMPLE-0001.rakejob", "passphrase"):
        shutil.copy(season / name, tmp_path)
    shutil.copytree(season / "seal", tmp_path / "seal")
    text = (ANSWERS / "ten-hours.toml").read_text("utf-8")
    (tmp_path / "less.toml").write_text(text.replace('hours = "11 h"\n', ""), "utf-8")
    assert chapter(tmp_path, tmp_path / "less.toml") == 1
    assert "visit.hours" in capsys.readouterr().err
    assert chapter(tmp_path, ANSWERS / "ten-hours.toml") == 0
    assert (tmp_path / "4-ten-hours-SAMPLE-0001.pdf").exists()


@pytest.mark.parametrize(
    ("begun", "wanted"),
    [
        ('kind = "repair"\nplaces = ["LA07"]', 'kind = "repair"\nplaces = ["RA03"]'),
        ('kind = "new-owner"\ncustomer = "Customer Tow"', 'kind = "new-owner"\ncustomer = "Customer Two"'),
    ],
)
def test_that_a_visit_under_way_is_not_silently_taken_for_another(
    begun: str, wanted: str, season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("SAMPLE-0001.rakejob", "passphrase"):
        shutil.copy(season / name, tmp_path)
    answers = tmp_path / "visit.toml"
    for words in (begun, wanted):
        answers.write_text(
            f'[chapter]\nwho = "Technician One"\nreason = "told by telephone"\n{words}\n', "utf-8"
        )
        capsys.readouterr()
        assert chapter(tmp_path, answers) == 1
    assert "began with" in capsys.readouterr().err


def test_that_a_new_owners_name_is_corrected_in_his_chapter_whichever_stands_in_the_file(
    season: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("SAMPLE-0001.rakejob", "passphrase"):
        shutil.copy(season / name, tmp_path)
    answers = tmp_path / "visit.toml"
    text = (
        '[chapter]\nkind = "new-owner"\nwho = "Technician One"\nreason = "sold"\n'
        'customer = "Customer {name}"\n'
    )
    answers.write_text(text.format(name="Tow"), "utf-8")
    assert chapter(tmp_path, answers) == 1  # begun, and not worked through
    words = ["names", str(tmp_path / "SAMPLE-0001.rakejob"), "--customer", "Customer Two"]
    assert cli.main([*words, "--reason", "misread", "--who", "Technician One"]) == 0
    for name in ("Tow", "Two"):
        answers.write_text(text.format(name=name), "utf-8")
        capsys.readouterr()
        assert chapter(tmp_path, answers) == 1
        assert "began with" not in capsys.readouterr().err
    with OpenJob.resume(tmp_path / "SAMPLE-0001.rakejob", lambda: NOON, read_only=True) as job:
        assert job.record.opening.customer == "Customer Two"
        assert [each.was for each in job.record.corrections] == ["Customer Tow"]


def test_that_a_chapter_that_is_sealed_stays_as_it_is(season: Path) -> None:
    import datetime as dt

    with OpenJob.resume(season / "SAMPLE-0001.rakejob", lambda: dt.datetime.now(dt.UTC), True) as job:
        assert job.record.chapter.number == 3
        before = job.record.chapter.before
        assert before is not None
        assert job.file.blob(before.sha256) == documents(season)[1].read_bytes()


@pytest.mark.parametrize("name", ["healthy", "half-done"])
def test_that_a_file_for_a_whole_job_is_no_chapter(
    name: str, season: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert chapter(season, ANSWERS / f"{name}.toml") == 1
    assert "no table [chapter]" in capsys.readouterr().err
