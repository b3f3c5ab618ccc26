"""The only door for changes of a job."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from rakeprep.jobs import open_job
from rakeprep.jobs.assess import Readiness
from rakeprep.jobs.open_job import OpenJob, UnreadableData, check_name, check_reason, judge
from rakeprep.jobs.reading import Refused
from rakeprep.model.entry import Slot
from rakeprep.model.field import Ask, Field, Need, Use
from rakeprep.model.job import Stroke
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text, sample_machines, sample_tractors
from rakeprep.store.job_file import JobFile, StoreError
from rakeprep.text import msg

ONE, TWO, THREE = "Technician One", "Technician Two", "Customer One"
PEN = (Stroke(((0.0, 0.0, 0.0, 0.5), (9.0, 4.0, 0.1, 0.5))),)
WARM = Slot("tyres", "workshop_temperature")
NUTS = Slot("tyres", "nuts", "L1L")
PRESSURE = Slot("tyres", "pressure_set", "L1L")
SIZE = Slot("tyres", "size", "L1L")
PNG = b"\x89PNG\r\n\x1a\n" + bytes(20)


def refusal(action: Any, *values: Any, **named: Any) -> str:
    with pytest.raises(Refused) as caught:
        action(*values, **named)
    said = str(caught.value.message)
    assert said.endswith((".", "?"))
    return said


@pytest.fixture
def tiny(bench: Any, monkeypatch: pytest.MonkeyPatch, job_path: Path, ticking: Any) -> Any:
    """A job with one invented step instead of the real ones."""
    step = bench.step(
        "s",
        bench.field("a", need=Need.MUST),
        bench.field("b", bars=frozenset({Use.ROAD})),
        bench.field("cut", need=Need.MAY, two_people=True),
        Field("photo", msg("Picture"), Ask.PHOTO, msg("Take one."), need=Need.MAY),
        cautions=1,
    )
    monkeypatch.setattr(open_job, "all_steps", lambda: (step,))
    with OpenJob.start(job_path, bench.opening, ticking) as job:
        yield job


def ready(job: OpenJob) -> OpenJob:
    job.read_caution("s", ONE)
    job.commit(Slot("s", "a"), "good", ONE)
    job.commit(Slot("s", "b"), "good", ONE)
    return job


def sign_all(job: OpenJob) -> None:
    job.sign("technician", ONE, PEN)
    job.sign("checker", TWO, PEN)
    job.sign("customer", THREE, (), typed=True)


def test_that_an_answer_is_on_disk_when_commit_returns(job: OpenJob) -> None:
    entry = job.commit(WARM, "64.4 °F", ONE, instrument="thermometer 3")
    with JobFile.open(job.file.path, job.clock, read_only=True) as other:
        assert other.events()[-1].body["typed"] == "64.4 °F"
    assert (entry.seq, entry.unit, entry.instrument) == (2, "°F", "thermometer 3")
    assert job.assessment.states[WARM].verdict is Verdict.IN_ORDER


@pytest.mark.parametrize("text", ["2,4,5", "9**9**9 m", "1" * 1_000_000, "nan", "", "5 mm", "1,234"])
def test_that_nothing_is_stored_when_an_answer_is_refused(job: OpenJob, text: str) -> None:
    before = job.record
    refusal(job.commit, WARM, text, ONE)
    assert job.record is before
    assert len(job.file.events()) == 1


@pytest.mark.parametrize("name", ["", " \u200b", "x" * 81, "x" * 1_000_000])
def test_that_every_entry_has_a_name(job: OpenJob, name: str) -> None:
    refusal(job.commit, WARM, "18", name)
    refusal(job.absent, SIZE, "none", name)
    refusal(job.leave, SIZE, "later", name)
    refusal(job.read_caution, "tyres", name)
    assert len(job.file.events()) == 1


@pytest.mark.parametrize("reason", ["", "\n", "x" * 501, "x" * 1_000_000])
def test_that_a_reason_is_short_and_there(job: OpenJob, reason: str) -> None:
    refusal(job.absent, SIZE, reason, ONE)
    refusal(job.leave, SIZE, reason, ONE)
    if reason.strip():
        refusal(job.commit, WARM, "18", ONE, reason=reason)
        refusal(job.leave, SIZE, "why", ONE, due=reason)
    assert len(job.file.events()) == 1


def test_that_names_and_reasons_are_cleaned() -> None:
    assert check_name("  Technician\u202e   One ") == ONE
    assert check_reason(" part\x00 ordered ") == "part ordered"


def test_that_an_unknown_question_is_refused(job: OpenJob) -> None:
    for slot in (Slot("tyres", "colour"), Slot("tyres", "size", "L9"), Slot("nothing", "at all")):
        for action in (job.commit, job.absent, job.leave):
            assert str(slot) in refusal(action, slot, "x", ONE)
        refusal(job.confirm, slot, TWO)
    assert "“sleep”" in refusal(job.read_caution, "sleep", ONE)


def test_that_a_job_goes_on_where_it_was_left(job: OpenJob, job_path: Path, ticking: Any) -> None:
    job.commit(WARM, "18 °C", ONE)
    job.commit(PRESSURE, "2.00 bar", ONE)
    job.leave(SIZE, "dirt on the tyre", ONE, "2026-05-01")
    record, assessment = job.record, job.assessment
    job.close()
    with OpenJob.resume(job_path, ticking) as again:
        assert again.record == record
        assert again.assessment.findings == assessment.findings
        assert again.assessment.gate == assessment.gate
        assert again.last_stored == record.later[SIZE].at
        assert judge(again.file.events(), ticking().date())[0] == record


def test_that_a_changed_temperature_makes_pressures_out_of_date(job: OpenJob) -> None:
    job.commit(WARM, "18 °C", ONE)
    job.commit(PRESSURE, "2.00 bar", ONE)
    job.commit(WARM, "291.15 K", ONE)  # 18 °C + 273.15, by hand: the same again
    assert job.assessment.states[PRESSURE].stale is None
    job.commit(WARM, "30 °C", ONE)
    assert job.assessment.states[PRESSURE].verdict is Verdict.OUT_OF_DATE


def test_that_a_second_person_must_be_another_person(job: OpenJob) -> None:
    assert "nothing entered" in refusal(job.confirm, NUTS, TWO)
    job.commit(NUTS, "yes", ONE)
    for same in (ONE, " technician  one", "Technician\u200b One"):
        assert "somebody else" in refusal(job.confirm, NUTS, same)
    job.confirm(NUTS, TWO)
    assert job.assessment.states[NUTS].verdict is Verdict.IN_ORDER
    job.commit(NUTS, "yes", ONE)
    assert job.assessment.states[NUTS].unconfirmed


def test_that_what_must_be_there_can_neither_be_left_nor_be_absent(job: OpenJob) -> None:
    assert "must not leave without it" in refusal(job.leave, PRESSURE, "no gauge", ONE)
    assert "no answer here" in refusal(job.absent, PRESSURE, "no tyre", ONE)
    job.commit(PRESSURE, "0.2 bar", ONE)
    assert "must not leave without it" in refusal(job.leave, PRESSURE, "no pump", ONE)
    assert len(job.file.events()) == 2


def test_that_danger_cannot_be_left(tiny: OpenJob) -> None:
    slot = Slot("s", "b")
    tiny.commit(slot, "danger", ONE)
    assert "dangerous" in refusal(tiny.leave, slot, "no time", ONE)
    tiny.commit(slot, "wrong", ONE)
    tiny.leave(slot, "no time", ONE)
    assert tiny.record.later[slot].reason == "no time"


def test_that_another_tractor_is_read_before_it_counts(job: OpenJob) -> None:
    other = sample_tractors()[-1]
    with pytest.raises(UnreadableData, match="line"):
        job.change_tractor("broken.toml", "[tractor", "sold", ONE)
    refusal(job.change_tractor, other.name, load_text(other), "", ONE)
    assert len(job.file.events()) == 1
    job.change_tractor(other.name, load_text(other), "the old one was sold", ONE)
    assert job.record.opening.tractor_name == other.name
    assert job.tractor.name != ""
    assert "tractor" in job.record.changes


def test_that_a_picture_is_kept_with_the_job(tiny: OpenJob) -> None:
    slot = Slot("s", "photo")
    entry = tiny.photo(slot, "left side.png", PNG, ONE)
    assert tiny.file.blob(entry.typed) == PNG
    assert entry.reason == "left side.png"


def test_that_what_is_no_picture_is_refused_and_not_kept(tiny: OpenJob) -> None:
    slot = Slot("s", "photo")
    assert "no JPEG or PNG" in refusal(tiny.photo, slot, "x.png", b"GIF89a", ONE)
    assert "larger than" in refusal(tiny.photo, slot, "x.png", PNG + bytes(open_job.LARGEST_PHOTO), ONE)
    assert "No picture" in refusal(tiny.photo, Slot("s", "a"), "x.png", PNG, ONE)
    refusal(tiny.photo, slot, "x.png", PNG, "")
    refusal(tiny.commit, slot, "0" * 64, ONE)
    assert tiny.file.blobs() == []
    assert len(tiny.file.events()) == 1


def test_that_nobody_signs_what_is_not_ready(tiny: OpenJob) -> None:
    assert "Not ready" in refusal(tiny.sign, "technician", ONE, PEN)
    ready(tiny).sign("technician", ONE, PEN)
    assert tiny.missing_signatures() == ("checker", "customer")


def test_that_each_role_is_signed_by_another_person(tiny: OpenJob) -> None:
    ready(tiny).sign("technician", ONE, PEN)
    assert "another person" in refusal(tiny.sign, "checker", "TECHNICIAN ONE", PEN)
    assert "Nobody signs" in refusal(tiny.sign, "owner", TWO, PEN)
    tiny.sign("technician", TWO, PEN)  # the role itself may be signed anew
    tiny.sign("checker", ONE, PEN)
    assert tiny.missing_signatures() == ("customer",)


@pytest.mark.parametrize(
    "strokes",
    [
        (),
        (Stroke(()),),
        (Stroke(((math.nan, 0.0, 0.0, 0.5),)),),
        (Stroke(((math.inf, 0.0, 0.0, 0.5),)),),
        (Stroke(((0.0, 1e300, 0.0, 0.5),)),),
        (Stroke(((0.0, 0.0, 0.0, 0.5),) * 100_000),),
    ],
    ids=["none", "empty", "nan", "infinite", "far away", "endless"],
)
def test_that_a_signature_is_something_that_can_be_drawn_again(tiny: OpenJob, strokes: Any) -> None:
    refusal(ready(tiny).sign, "technician", ONE, strokes)
    assert tiny.record.signatures == {}


def test_that_signatures_lapse_when_anything_changes(tiny: OpenJob) -> None:
    sign_all(ready(tiny))
    assert tiny.missing_signatures() == ()
    tiny.commit(Slot("s", "b"), "good", ONE)
    assert tiny.missing_signatures() == open_job.ROLES


def test_that_a_signature_names_the_head_of_the_chain_it_was_given_under(tiny: OpenJob) -> None:
    head = ready(tiny).record.head
    tiny.sign("technician", ONE, PEN)
    assert tiny.record.signatures["technician"].head == head


def test_that_open_points_are_signed_for_too(tiny: OpenJob) -> None:
    ready(tiny).commit(Slot("s", "b"), "wrong", ONE)
    tiny.leave(Slot("s", "b"), "part is ordered", ONE)
    assert tiny.assessment.gate.readiness is Readiness.OPEN_POINTS
    assert tiny.assessment.gate.barred == {Use.ROAD}
    sign_all(tiny)


def test_that_a_closed_job_refuses_every_change(tiny: OpenJob, job_path: Path, ticking: Any) -> None:
    sign_all(ready(tiny))
    tiny.close_with(b"%PDF-1.7", "handover.pdf")
    tiny.close()
    with OpenJob.resume(job_path, ticking) as job:
        tractor = job.record.opening
        attempts: list[tuple[Any, ...]] = [
            (job.commit, Slot("s", "a"), "good", ONE),
            (job.absent, Slot("s", "b"), "none", ONE),
            (job.leave, Slot("s", "b"), "later", ONE),
            (job.confirm, Slot("s", "a"), TWO),
            (job.read_caution, "s", ONE),
            (job.change_tractor, tractor.tractor_name, tractor.tractor_text, "sold", ONE),
            (job.photo, Slot("s", "photo"), "x.png", PNG, ONE),
            (job.sign, "technician", ONE, PEN),
            (job.close_with, b"%PDF-1.7", "again.pdf"),
        ]
        count, kept = len(job.file.events()), len(job.file.blobs())
        for action, *values in attempts:
            assert "handed over and closed" in refusal(action, *values)
        assert (len(job.file.events()), len(job.file.blobs())) == (count, kept)


def test_that_a_second_window_is_told_who_has_the_job(job: OpenJob, job_path: Path, ticking: Any) -> None:
    with pytest.raises(StoreError, match="open in another window"):
        OpenJob.resume(job_path, ticking)
    with OpenJob.resume(job_path, ticking, read_only=True) as other:
        job.commit(WARM, "18 °C", ONE)
        with pytest.raises(StoreError, match="read-only"):
            other.commit(WARM, "19 °C", ONE)
        other.refresh()
        assert other.record == job.record


def test_that_unreadable_data_leave_no_job_behind(bench: Any, job_path: Path, ticking: Any) -> None:
    from dataclasses import replace

    with pytest.raises(UnreadableData, match="line 1"):
        OpenJob.start(job_path, replace(bench.opening, profile_text="what?"), ticking)
    with pytest.raises(Refused):
        OpenJob.start(job_path, replace(bench.opening, customer=" "), ticking)
    assert not job_path.exists()


def test_that_entries_of_a_later_edition_are_a_sentence(job: OpenJob, job_path: Path, ticking: Any) -> None:
    job.file.append({"is": "of a later edition"})
    job.close()
    with pytest.raises(UnreadableData, match="edition"):
        OpenJob.resume(job_path, ticking)
    with pytest.raises(UnreadableData, match="edition"):  # and not "open in another window"
        OpenJob.resume(job_path, ticking)


@pytest.mark.parametrize("machine", sample_machines(), ids=lambda p: p.stem)
@pytest.mark.parametrize("tractor", sample_tractors(), ids=lambda p: p.stem)
def test_that_a_job_opens_on_every_sample(
    machine: Path, tractor: Path, job_path: Path, bench: Any, ticking: Any
) -> None:
    from dataclasses import replace

    opening = replace(
        bench.opening,
        profile_name=machine.name,
        profile_text=load_text(machine),
        tractor_name=tractor.name,
        tractor_text=load_text(tractor),
    )
    with OpenJob.start(job_path, opening, ticking) as job:
        assert job.assessment.gate.readiness is Readiness.NOT_READY
        assert job.assessment.states
