"""Later chapters of a closed job: what each asks again, and that a closed one never changes."""

from __future__ import annotations

import datetime as dt
import inspect
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rakeprep import paths
from rakeprep.jobs import answers, events
from rakeprep.jobs.assess import Readiness
from rakeprep.jobs.chapters import KINDS, narrowed
from rakeprep.jobs.open_job import OpenJob, UnreadableData, judge
from rakeprep.jobs.reading import Refused
from rakeprep.jobs.starting import new_job
from rakeprep.model.chapter import HANDOVER
from rakeprep.model.entry import Slot
from rakeprep.model.instrument import OwnInstrument
from rakeprep.model.place import Place
from rakeprep.model.verdict import Verdict
from rakeprep.profiles import load_text
from rakeprep.steps import all_steps
from rakeprep.store.chain import check_chain
from rakeprep.store.job_file import JobFile, StoreError
from rakeprep.text import verbatim

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
ONE, TWO, BUYER = "Technician One", "Technician Two", "Customer Two"
SAMPLES = paths.sample_profiles()
TRACTOR = SAMPLES / "tractors/tractor-light-in-front.toml"
PNG = b"\x89PNG\r\n\x1a\n" + bytes(20)
NUTS = Slot("test_run", "second_torque", "headstock")
TOPIC = Slot("handover", "topic", "lights")
PRESSURE = Slot("tyres", "pressure_set", "L1L")


class Clock:
    """A clock that is moved by hand, and a second on with every look."""

    def __init__(self) -> None:
        self.at = NOON

    def __call__(self) -> dt.datetime:
        self.at += dt.timedelta(seconds=1)
        return self.at


@pytest.fixture(scope="session")
def handed_over(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The healthy sample job, signed and closed with a stand-in for its document."""
    folder = tmp_path_factory.mktemp("handed-over")
    clock = Clock()
    read = answers.read_answers(load_text(SAMPLES / "answers/healthy.toml"))
    with new_job(
        folder,
        SAMPLES / "machines/sample-rake-a.toml",
        SAMPLES / "tractors/tractor-fits.toml",
        customer="Customer One",
        order="SAMPLE-1",
        technician=ONE,
        clock=clock,
    ) as job:
        assert not answers.apply(read, job)
        assert not answers.sign(read, job)
        job.close_with(b"%PDF-1.7 stand-in", "handover.pdf")
        return job.file.path


@pytest.fixture
def clock() -> Clock:
    ticking = Clock()
    ticking.at += dt.timedelta(days=10)
    return ticking


@pytest.fixture
def closed(handed_over: Path, tmp_path: Path, clock: Clock) -> Iterator[OpenJob]:
    with OpenJob.resume(Path(shutil.copy(handed_over, tmp_path)), clock) as job:
        yield job


def begin(job: OpenJob, kind: str) -> OpenJob:
    """Begin a chapter with all that its kind needs."""
    job.begin_chapter(
        kind,
        ONE,
        "as agreed",
        ("LA07",) if KINDS[kind].at_places else (),
        BUYER if KINDS[kind].customer else "",
        ("light tractor", load_text(TRACTOR)) if KINDS[kind].tractor else None,
    )
    return job


def out_of_date(job: OpenJob) -> set[Slot]:
    return {slot for slot, state in job.assessment.states.items() if state.verdict is Verdict.OUT_OF_DATE}


def points(job: OpenJob) -> set[Slot]:
    return {point.slot for point in job.assessment.gate.open_points}


def refusal(action: Callable[..., object], *values: object) -> str:
    with pytest.raises(Refused) as caught:
        action(*values)
    return str(caught.value.message)


LATER = [kind for kind in KINDS if kind != HANDOVER]


@pytest.mark.parametrize("kind", LATER)
def test_that_a_chapter_asks_for_questions_that_the_sample_machine_has(kind: str, closed: OpenJob) -> None:
    known = {
        name
        for step in all_steps()
        for field in step.fields(closed.profile, closed.tractor)
        for name in (step.key, f"{step.key}.{field.key}")
    }
    assert set(KINDS[kind].asks) <= known
    assert KINDS[kind].at_places in {*known, ""}


@pytest.mark.parametrize("kind", LATER)
def test_that_a_chapter_has_to_be_worked_through_before_it_is_signed(kind: str, closed: OpenJob) -> None:
    assert closed.assessment.gate.readiness is Readiness.READY
    begin(closed, kind)
    assert closed.assessment.gate.readiness is Readiness.NOT_READY
    assert out_of_date(closed)
    assert "Not ready" in refusal(closed.sign, "technician", ONE, (), True)
    assert closed.missing_signatures() == KINDS[kind].signs


def test_that_what_a_visit_does_not_ask_stays_in_order(closed: OpenJob) -> None:
    begin(closed, "first-hour")
    asked = {slot for slot in closed.tasks if KINDS["first-hour"].asks_for(slot)}
    assert out_of_date(closed) == {slot for slot in asked if slot in closed.record.entries}
    assert closed.assessment.states[PRESSURE].verdict is Verdict.IN_ORDER
    assert "after the first hour" in str(closed.assessment.states[NUTS].stale)


def test_that_the_old_reading_stays_beside_the_new_one(closed: OpenJob) -> None:
    begin(closed, "ten-hours").commit(NUTS, "6°", ONE)
    assert [entry.typed for entry in closed.record.history[NUTS]] == ["3°", "6°"]
    assert closed.assessment.states[NUTS].verdict is Verdict.IN_ORDER


def test_that_a_later_reading_of_somebody_else_is_not_held_against_the_first(closed: OpenJob) -> None:
    begin(closed, "ten-hours").commit(NUTS, "9°", TWO)  # 3° by Technician One, ten days before
    assert closed.assessment.states[NUTS].verdict is Verdict.IN_ORDER


def test_that_a_repair_asks_at_its_own_arm_and_its_own_rotor_only(closed: OpenJob) -> None:
    begin(closed, "repair")
    assert {slot.place for slot in closed.tasks if slot.step == "repair"} == {"LA07"}
    assert {slot for slot in out_of_date(closed) if slot.step == "arms"} == {
        Slot("arms", "hand", "LA07"),
        Slot("arms", "coil", "LA07"),
        Slot("arms", "tines", "LA07"),
        Slot("arms", "free_turn", "left"),
    }
    assert Slot("settings", "tine_concrete", "left") in out_of_date(closed)
    assert Slot("settings", "tine_concrete", "right") not in out_of_date(closed)


@pytest.mark.parametrize("places", [(), ("XX99",), ("LA07", "nowhere"), ("left",)])
def test_that_a_repair_says_at_which_arm_it_is(places: tuple[str, ...], closed: OpenJob) -> None:
    assert "LA07" in refusal(closed.begin_chapter, "repair", ONE, "broken", places)


def test_that_a_visit_to_the_whole_machine_takes_no_places(closed: OpenJob) -> None:
    assert "leave the places out" in refusal(closed.begin_chapter, "ten-hours", ONE, "as agreed", ("LA07",))


def test_that_questions_of_a_visit_are_not_asked_at_the_handover(closed: OpenJob) -> None:
    assert not {slot.step for slot in closed.tasks} & {"visit", "repair"}
    assert {slot.field for slot in begin(closed, "first-hour").tasks if slot.step == "visit"} == {
        "hours",
        "noticed",
        "field_clearance",
        "windrow",
    }


def test_that_another_tractor_is_a_chapter_that_marks_what_rests_on_it(closed: OpenJob) -> None:
    begin(closed, "other-tractor")
    assert closed.tractor.name in closed.record.opening.tractor_text
    stale = out_of_date(closed)
    assert {Slot("driveline", "distance", "straight-low"), Slot("hitch", "height", "left")} <= stale
    assert PRESSURE not in stale


def test_that_a_new_owner_gets_his_own_eight_topics(closed: OpenJob) -> None:
    begin(closed, "new-owner")
    assert closed.record.opening.customer == BUYER
    topics = {slot for slot in closed.tasks if (slot.step, slot.field) == ("handover", "topic")}
    assert len(topics) == 8  # common practice, no source; the step lists them
    assert topics <= out_of_date(closed)


def test_that_cautions_are_read_anew_where_work_is_done(closed: OpenJob) -> None:
    begin(closed, "ten-hours").commit(NUTS, "2°", ONE)
    obstacles = [str(o.says) for o in closed.assessment.gate.obstacles if "caution" in str(o.says)]
    assert obstacles == ["Test run: the caution was not read."]
    closed.read_caution("test_run", ONE)
    assert not [o for o in closed.assessment.gate.obstacles if "caution" in str(o.says)]


def test_that_years_alone_put_nothing_out_of_order(closed: OpenJob, clock: Clock) -> None:
    clock.at += dt.timedelta(days=3 * 365)  # by then the wrench's certificate has long lapsed
    begin(closed, "first-hour")
    troubled = {obstacle.slot.step for obstacle in closed.assessment.gate.obstacles}
    assert troubled == {"test_run", "visit", "driveline"}


def test_that_an_answer_from_before_is_not_judged_by_a_later_day(closed: OpenJob, clock: Clock) -> None:
    clock.at += dt.timedelta(days=3 * 365)  # the wrench's certificate has lapsed, its torques were right then
    begin(closed, "ten-hours").commit(Slot("fasteners", "protrusion", "arms"), "0.5 mm", ONE)
    torque = closed.assessment.states[Slot("fasteners", "torque", "headstock")]
    assert torque.verdict is Verdict.IN_ORDER


def test_that_a_chapter_begins_only_after_the_one_before_was_closed(closed: OpenJob) -> None:
    begin(closed, "first-hour")
    assert "still open" in refusal(closed.begin_chapter, "ten-hours", ONE, "too soon")


@pytest.mark.parametrize("kind", ["", HANDOVER, "yearly", "x" * 10_000])
def test_that_an_unknown_chapter_is_refused_with_those_that_are_known(kind: str, closed: OpenJob) -> None:
    assert "first-hour" in refusal(closed.begin_chapter, kind, ONE, "why not")


def test_that_a_chapter_without_its_customer_or_tractor_is_refused(closed: OpenJob) -> None:
    assert "owner" in refusal(closed.begin_chapter, "new-owner", ONE, "sold")
    assert "tractor" in refusal(closed.begin_chapter, "other-tractor", ONE, "sold")
    assert closed.record.sealed is not None


def test_that_an_open_point_from_before_is_no_answer_to_what_a_visit_asks(closed: OpenJob) -> None:
    begin(closed, "first-hour")
    closed.leave(NUTS, "no wrench at hand", ONE)
    closed.leave(TOPIC, "not shown", ONE)
    assert {NUTS, TOPIC} <= points(closed)
    closed.file.append(events.sealed("00" * 32, "first-hour.pdf"))
    closed.refresh()
    begin(closed, "ten-hours")
    assert NUTS in {obstacle.slot for obstacle in closed.assessment.gate.obstacles}
    assert points(closed) == {TOPIC}  # what this visit does not ask is carried over
    assert [slot for slot, state in closed.assessment.states.items() if state.open_point] == [TOPIC]
    assert [chapter.kind for chapter in closed.record.chapters] == [HANDOVER, "first-hour"]
    closed.leave(NUTS, "still no wrench", ONE)
    assert points(closed) == {NUTS, TOPIC}


def test_that_what_the_customer_noticed_at_one_visit_need_not_be_said_again_at_the_next(
    closed: OpenJob,
) -> None:
    noticed = Slot("visit", "noticed")
    begin(closed, "first-hour")
    closed.commit(noticed, "a squeak", ONE)
    closed.file.append(events.sealed("00" * 32, "first-hour.pdf"))
    closed.refresh()
    begin(closed, "ten-hours")
    assert noticed in out_of_date(closed)
    assert noticed not in {obstacle.slot for obstacle in closed.assessment.gate.obstacles}


def test_that_a_new_owner_is_told_only_of_visits_that_are_still_to_come(closed: OpenJob) -> None:
    begin(closed, "ten-hours")
    closed.commit(Slot("visit", "hours"), "11 h", ONE)
    closed.file.append(events.sealed("00" * 32, "ten-hours.pdf"))
    closed.refresh()
    begin(closed, "new-owner")
    start = Slot("handover", "start_date")
    closed.commit(Slot("handover", "hours_a_day"), "6 h", ONE)
    closed.commit(start, "2026-05-18", ONE)
    said = next(str(f.says) for f in closed.assessment.findings if f.about[0] == start)
    # By hand: 50 h less 11 h are 39 h, at 6 h a day the seventh day from 18 May.
    assert said.endswith("Somebody looks again at 50 h about 24 May 2026 (first oil change).")


@pytest.mark.parametrize("kind", [kind for kind in LATER if not KINDS[kind].customer])
def test_that_a_visit_cannot_change_the_owner_by_the_way(kind: str, closed: OpenJob) -> None:
    given = ("light tractor", load_text(TRACTOR)) if KINDS[kind].tractor else None
    places = ("LA07",) if KINDS[kind].at_places else ()
    assert "new-owner" in refusal(closed.begin_chapter, kind, ONE, "as agreed", places, BUYER, given)
    assert closed.record.opening.customer == "Customer One"


# ---------------------------------------------------------------------- closed is closed

READING_DOORS = {
    "assessment",
    "close",
    "field",
    "last_stored",
    "missing_signatures",
    "on",
    "places_for",
    "refresh",
    "resume",
    "start",
}


def doors(job: OpenJob) -> dict[str, Callable[[], object]]:
    """Every way to change a job, with values that it would take in an open chapter."""
    opening = job.record.opening
    return {
        "commit": lambda: job.commit(PRESSURE, "2.1 bar", ONE),
        "photo": lambda: job.photo(Slot("arrival", "plate_photo"), "plate.png", PNG, ONE),
        "absent": lambda: job.absent(Slot("tyres", "use_temperature"), "not known", ONE),
        "leave": lambda: job.leave(NUTS, "later", ONE),
        "confirm": lambda: job.confirm(Slot("tyres", "nuts", "L1L"), BUYER),
        "read_caution": lambda: job.read_caution("tyres", ONE),
        "register": lambda: job.register(OwnInstrument("gauge 9", "tyre-gauge", None), ONE),
        "change_tractor": lambda: job.change_tractor(opening.tractor_name, opening.tractor_text, "x", ONE),
        "correct_name": lambda: job.correct_name("customer", "Customer Three", "misheard", ONE),
        "sign": lambda: job.sign("technician", ONE, (), True),
        "close_with": lambda: job.close_with(b"%PDF-1.7 another", "another.pdf"),
        "begin_chapter": lambda: begin(job, "first-hour"),
    }


def test_that_every_public_door_is_known_to_these_tests(closed: OpenJob) -> None:
    public = {name for name, _ in inspect.getmembers(OpenJob) if not name.startswith("_")}
    assert public - READING_DOORS == set(doors(closed))


def test_that_a_closed_chapter_is_changed_through_no_door(closed: OpenJob) -> None:
    kept, blobs = closed.file.events(), closed.file.blobs()
    for name, door in doors(closed).items():
        if name != "begin_chapter":
            with pytest.raises(Refused, match="handed over and closed"):
                door()
    assert (closed.file.events(), closed.file.blobs()) == (kept, blobs)


def test_that_an_entry_pushed_into_the_file_behind_the_closing_is_not_taken_for_the_job(
    closed: OpenJob,
) -> None:
    closed.file.append(events.caution_read("tyres", ONE))
    with pytest.raises(UnreadableData, match="closed"):
        closed.refresh()
    with pytest.raises(ValueError, match="closed"):
        judge(closed.file.events(), NOON.date())


@given(kind=st.sampled_from(LATER), walk=st.lists(st.integers(0, 9), max_size=12))
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_that_nothing_done_in_a_later_chapter_changes_an_earlier_one(
    kind: str, walk: list[int], handed_over: Path, tmp_path_factory: pytest.TempPathFactory, clock: Clock
) -> None:
    copy = Path(shutil.copy(handed_over, tmp_path_factory.mktemp("walk")))
    with OpenJob.resume(copy, clock) as job:
        kept, before = job.file.events(), judge(job.file.events(), NOON.date())
        document = job.file.blob(job.record.sealed.sha256) if job.record.sealed else b""
        begin(job, kind)
        ways = list(doors(job).values())
        for number in walk:
            try:
                ways[number % len(ways)]()
            except Refused:
                continue
        after = job.file.events()
        assert after[: len(kept)] == kept
        assert check_chain(after) is None
        assert judge(after[: len(kept)], NOON.date()) == before
        closing = job.record.chapter.before
        assert closing is not None
        assert job.file.blob(closing.sha256) == document


# ---------------------------------------------------------------------- brought back from a document


@pytest.fixture
def restored(handed_over: Path, tmp_path: Path, clock: Clock) -> Iterator[OpenJob]:
    with JobFile.open(handed_over, clock, read_only=True) as there:
        stored = there.events()[:-1]  # a document cannot hold the entry that it was sealed
    JobFile.restore(tmp_path / "back.rakejob", stored, "handover.pdf", b"%PDF-1.7 stand-in", clock).close()
    with OpenJob.resume(tmp_path / "back.rakejob", clock) as job:
        yield job


def test_that_a_job_brought_back_tells_the_same_and_takes_nothing(
    restored: OpenJob, handed_over: Path, clock: Clock
) -> None:
    with JobFile.open(handed_over, clock, read_only=True) as there:
        assert restored.file.events() == there.events()[:-1]
    assert restored.assessment.gate.readiness is Readiness.READY
    kept, blobs = restored.file.events(), restored.file.blobs()
    for door in doors(restored).values():
        with pytest.raises(Refused, match="brought back"):
            door()
    assert (restored.file.events(), restored.file.blobs()) == (kept, blobs)


def test_that_a_broken_chain_is_not_brought_back(handed_over: Path, tmp_path: Path, clock: Clock) -> None:
    with JobFile.open(handed_over, clock, read_only=True) as there:
        stored = list(there.events())
    del stored[5]
    with pytest.raises(StoreError):
        JobFile.restore(tmp_path / "back.rakejob", stored, "handover.pdf", b"%PDF-1.7", clock)
    assert not list(tmp_path.glob("*.rakejob"))


# ---------------------------------------------------------------------- narrowing

CODES = st.sampled_from(["LA01", "LA02", "RA01", "left", "right", "frame"])
ROTOR = {"L": "left", "R": "right", "l": "left", "r": "right"}


@given(there=st.sets(CODES), chosen=st.sets(CODES), rotors=st.sets(st.sampled_from(["left", "right"])))
def test_that_narrowing_only_takes_away(there: set[str], chosen: set[str], rotors: set[str]) -> None:
    places = tuple(Place(c, verbatim(c), rotor=ROTOR.get(c[0], "")) for c in sorted(there))
    found = narrowed(places, tuple(chosen), rotors)
    assert set(found) <= set(places)
    if chosen & there:
        assert {place.key for place in found} == chosen & there
    if not chosen:
        assert found == places
