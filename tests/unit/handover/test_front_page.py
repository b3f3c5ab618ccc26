"""Page one in every language, with few open points and with many, and with names as long as they come."""

from __future__ import annotations

import dataclasses
import datetime as dt
import math

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdfium2 import raw

from rakeprep import paths
from rakeprep.handover import blocks, layout
from rakeprep.handover.customer_page import front
from rakeprep.handover.demo import HEALTHY, MACHINE, TRACTOR
from rakeprep.handover.document import build
from rakeprep.handover.fill import started
from rakeprep.handover.fonts import register
from rakeprep.handover.front_cells import NARROWEST, shared
from rakeprep.handover.front_look import LOOKS
from rakeprep.handover.front_points import longer, points_of
from rakeprep.handover.paper import Paper
from rakeprep.handover.papers import of_job
from rakeprep.handover.pen import BOTTOM, INNER
from rakeprep.jobs import answers
from rakeprep.jobs.assess import Task
from rakeprep.jobs.starting import text_of
from rakeprep.model.field import Need
from rakeprep.text import ENGLISH, languages

LANGUAGES = {"en": ENGLISH, **languages(paths.resources() / "translations")}
READ, BESIDE, LARGE = (
    10.0,
    9.0,
    12.0,
)  # points, own decision: least size of what is read, of what is beside it
MANY = 20
FOOT = BOTTOM - 2
LONG = {
    "customer": "Customer One and Sons, Agricultural Contractors at the Long Lane Farm (invented)",
    "order": "SAMPLE-0003-WITH-A-LONG-NUMBER-77",
    "technician": "Technician One of the Workshop by the Bridge",
}
DUE = "before the first journey on the road, by Technician Two"
REASON = "ordered on the day of delivery, comes with the next lorry of the carrier"


def longest(tasks: list[Task]) -> list[Task]:
    """Questions that may stay open, those with the longest names, at most two of a kind."""
    may = [task for task in tasks if task.field.need is Need.OPEN or (task.field.bars and not must(task))]
    found: list[Task] = []
    for task in sorted(may, key=lambda t: -len(str(t.field.label)) - len(str(t.place.name))):
        if sum(each.field.key == task.field.key for each in found) < 2:
            found.append(task)
    return found[:MANY]


def must(task: Task) -> bool:
    return task.field.need is Need.MUST


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Paper:
    """The sample job with long names and as many open points as anybody hands over with."""
    samples, now = paths.sample_profiles(), [dt.datetime(2026, 4, 14, 8, tzinfo=dt.UTC)]

    def clock() -> dt.datetime:
        now[0] += dt.timedelta(seconds=7)
        return now[0]

    read = answers.read_answers(text_of(samples / HEALTHY))
    read.job.update(LONG)
    folder = tmp_path_factory.mktemp("full")
    with started(samples / MACHINE, samples / TRACTOR, read, folder, clock) as job:
        answers.apply(read, job)
        for task in longest(list(job.tasks.values())):
            job.leave(task.slot, REASON, LONG["technician"], DUE)
        answers.sign(read, job)
        return of_job(job, ENGLISH)


def first_page(paper: Paper, points: int = MANY) -> tuple[blocks.FrontPage, bytes]:
    """Page one with so many of the open points, and the file it is in."""
    page = front(paper)
    listed = dataclasses.replace(page.points, points=page.points.points[:points])
    page = dataclasses.replace(page, points=listed)
    document = dataclasses.replace(build(paper), front=page, record=(blocks.Paragraph("record"),))
    return page, layout.pdf(document)


@dataclasses.dataclass(frozen=True)
class Letters:
    """The words of page one above its foot, and the size of each letter."""

    text: str
    sizes: list[float]

    def size_of(self, text: str) -> float:
        """The smallest letter of a text that must be there."""
        at = self.text.index(text)
        return min(self.sizes[at : at + len(text)])


def read(pdf: bytes) -> Letters:
    """What another reader finds on page one."""
    text, sizes = "", []
    with pypdfium2.PdfDocument(pdf) as opened:
        assert len(opened) == 2
        page = opened[0].get_textpage()
        for index in range(page.count_chars()):
            char = chr(raw.FPDFText_GetUnicode(page, index))
            if char.isspace() and text.endswith(" "):
                continue
            if not char.isspace() and page.get_charbox(index)[1] < FOOT:
                continue
            text += " " if char.isspace() else char
            size = raw.FPDFText_GetFontSize(page, index)
            sizes.append(math.inf if char.isspace() else size)
    return Letters(text, sizes)


@pytest.fixture(params=sorted(LANGUAGES))
def paper(request: pytest.FixtureRequest, full: Paper) -> Paper:
    """The same paper in each language."""
    return dataclasses.replace(full, language=LANGUAGES[request.param])


def test_that_twenty_open_points_with_the_longest_names_stay_legible(paper: Paper) -> None:
    page, pdf = first_page(paper)
    letters = read(pdf)
    assert len(page.points.points) == MANY
    assert min(letters.sizes) >= BESIDE
    for number, point in enumerate(page.points.points, 1):
        assert letters.size_of(f" {number} {point.short[:24]}") >= READ
    first = page.points.points[0]
    assert letters.text.count(first.due[:9]) >= MANY
    assert letters.text.count(first.who[:9]) >= MANY
    assert page.points.full in letters.text


def test_that_serial_number_telephone_values_and_topics_are_whole_and_large(paper: Paper) -> None:
    page, pdf = first_page(paper)
    letters = read(pdf)
    assert "SR-2026-0007" in letters.text
    values = [each.value for each in (*page.settings.pairs, *page.visits.pairs, page.visits.call)]
    for told in (*values, *(topic.name for topic in page.topics.topics)):
        assert letters.size_of(told) >= READ
    for pair in page.settings.pairs[:5]:  # the last names an oil, and has no other unit
        assert pair.more[0][:12] in letters.text


@pytest.mark.parametrize("points", [1, 4, 8])
def test_that_up_to_eight_open_points_are_set_in_twelve_points(paper: Paper, points: int) -> None:
    page, pdf = first_page(paper, points)
    letters = read(pdf)
    for number, point in enumerate(page.points.points, 1):
        assert letters.size_of(f"{number} {point.short[:16]}" if points > 4 else point.short[:16]) >= LARGE


def test_that_a_page_with_room_has_sentences_and_reasons(full: Paper) -> None:
    page, pdf = first_page(full, 2)
    said = read(pdf).text
    for point in page.points.points:
        assert point.says in said
        assert said.count(point.reason) == 2
    assert page.points.full not in said


def test_that_the_record_lists_in_full_what_page_one_shortens(full: Paper) -> None:
    document = build(full)
    table = next(b for b in document.record if isinstance(b, blocks.Table) and len(b.rows) == MANY)
    for point, row in zip(document.front.points.points, table.rows, strict=True):
        assert isinstance(row, tuple)
        assert (row[0].text, row[1].text, row[2].text) == (str(point.number), point.says, point.reason)


@given(st.lists(st.tuples(st.floats(0, 400), st.floats(0, 400)), min_size=1, max_size=4))
def test_that_columns_fill_the_page_and_none_is_starved(asked: list[tuple[float, float]]) -> None:
    least, most = [min(each) for each in asked], [max(each) for each in asked]
    widths = shared(least, most, INNER)
    assert sum(widths) == pytest.approx(INNER)
    assert min(widths) >= INNER / len(asked) * NARROWEST - 0.01
    if sum(max(each, INNER / len(asked) * NARROWEST) for each in least) <= INNER:
        assert all(wide >= each - 0.01 for wide, each in zip(widths, least, strict=True))


def test_that_points_get_a_second_line_only_where_there_is_room(full: Paper) -> None:
    register()
    points = points_of(front(full).points, LOOKS[-1])
    more = longer(points, 40.0)
    assert points.height < more.height <= points.height + 40.0
    assert longer(points, 0.0).height == points.height


def test_that_the_looks_go_from_roomy_to_close_and_keep_to_the_least_sizes() -> None:
    assert all(look.size >= look.side >= READ and look.small >= BESIDE for look in LOOKS)
    assert [look.size for look in LOOKS] == sorted((look.size for look in LOOKS), reverse=True)
    assert [look.side for look in LOOKS] == sorted((look.side for look in LOOKS), reverse=True)
