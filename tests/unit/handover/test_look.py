"""The look of whole documents with few and many findings, in every language: nothing meets or is lost."""

from __future__ import annotations

import dataclasses
import datetime as dt
import functools
import io
import itertools
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pypdfium2
import pytest

from rakeprep import paths
from rakeprep.handover import blocks, complete, layout
from rakeprep.handover.demo import HEALTHY, MACHINE, TRACTOR
from rakeprep.handover.document import Paper, build
from rakeprep.handover.fill import started
from rakeprep.handover.fitting import fit
from rakeprep.handover.fonts import register
from rakeprep.handover.layout import LaidOut
from rakeprep.handover.pen import HEIGHT, WIDTH
from rakeprep.handover.tags import Mark, Node, every
from rakeprep.jobs import answers
from rakeprep.jobs.assess import Gate, OpenPoint, Readiness
from rakeprep.jobs.open_job import judge
from rakeprep.jobs.starting import text_of
from rakeprep.model.verdict import Verdict
from rakeprep.store.chain import short_code
from rakeprep.text import languages

NOON = dt.datetime(2026, 4, 14, 12, 0, tzinfo=dt.timezone(dt.timedelta(hours=2)))
LANGUAGES = languages(paths.resources() / "translations")
JOBS = ("healthy", "half-done", "faulty")
LONGEST_NAME = ("Technician with the Longest Name that a Workshop Could Find in all of its Papers " * 2)[:80]
MARGIN = 36.0  # points; nothing but the ground of the page is further out
TOUCH = 0.6  # points that two lines may share: the boxes of glyphs are rounded
Line = tuple[float, float, float, float, str]


def paper_of(kind: str, folder: Path) -> Paper:
    """The paper of a sample job, whether it is ready or not."""
    samples, now = paths.sample_profiles(), [NOON]

    def clock() -> dt.datetime:
        now[0] += dt.timedelta(seconds=7)
        return now[0]

    read = answers.read_answers(text_of(samples / "answers" / f"{kind}.toml"))
    with started(samples / MACHINE, samples / TRACTOR, read, folder, clock) as job:
        if kind == "half-done":
            answers.apply(answers.read_answers(text_of(samples / HEALTHY)), job)
        answers.apply(read, job)
        answers.sign(read, job)
        record, assessment = judge(job.file.events(), NOON.date())
        code = short_code(record.head)
        return Paper(record, assessment, job.profile, job.tractor, LANGUAGES["en"], code, now[0], "Workshop")


@pytest.fixture(scope="module")
def papers(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Paper]:
    return {kind: paper_of(kind, tmp_path_factory.mktemp("job")) for kind in JOBS}


@pytest.fixture(scope="module")
def laid(papers: Mapping[str, Paper]) -> Callable[[str, str], LaidOut]:
    """Lay out a sample job in a language, once."""

    @functools.cache
    def lay_out(kind: str, language: str) -> LaidOut:
        return layout.lay_out(build(dataclasses.replace(papers[kind], language=LANGUAGES[language])))

    return lay_out


def lines(page: pypdfium2.PdfPage) -> list[Line]:
    """The lines of a page with their boxes: left, bottom, right, top."""
    text = page.get_textpage()
    boxes = [text.get_rect(number) for number in range(text.count_rects())]
    found = [(*box, text.get_text_bounded(*box).strip()) for box in boxes]
    return [line for line in found if line[4]]


def meeting(several: list[Line]) -> Iterator[tuple[str, str]]:
    """Lines that lie over one another."""
    for one, other in itertools.combinations(several, 2):
        wide = min(one[2], other[2]) - max(one[0], other[0])
        high = min(one[3], other[3]) - max(one[1], other[1])
        if wide > TOUCH and high > TOUCH:
            yield one[4], other[4]


def outside(several: list[Line]) -> list[str]:
    """Lines that leave the page's margins; the foot stands a little lower."""
    return [
        text
        for left, bottom, right, top, text in several
        if left < MARGIN or right > WIDTH - MARGIN or bottom < MARGIN / 2 or top > HEIGHT - MARGIN / 2
    ]


def drawn_order(tree: Node) -> list[tuple[Mark, str]]:
    """Every piece of content in reading order, with what it is."""
    return [(kid, node.kind) for node in every(tree) for kid in node.kids if isinstance(kid, Mark)]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("kind", JOBS)
def test_that_no_lines_meet_and_no_heading_is_the_last_on_its_page(
    laid: Callable[[str, str], LaidOut], kind: str, language: str
) -> None:
    made = laid(kind, language)
    with pypdfium2.PdfDocument(made.pdf) as pdf:
        for number, page in enumerate(pdf, 1):
            found = lines(page)
            assert (number, list(meeting(found)), outside(found)) == (number, [], [])
    last = {mark.page: kind for mark, kind in drawn_order(made.tree)}
    assert len(last) == made.pages
    assert [page + 1 for page, what in last.items() if what in {"H1", "H2", "H3"}] == []


# ------------------------------------------------------------------------------------- the customer's page


def with_points(paper: Paper, count: int, language: str) -> Paper:
    """The same job with so many open points and names as long as they may be."""
    standing = paper.assessment.gate.obstacles
    points = tuple(
        OpenPoint(o.slot, o.says, "the part is ordered and comes", "21 April 2026", LONGEST_NAME, frozenset())
        for o, _ in zip(itertools.cycle(standing), range(count), strict=False)
    )
    opening = dataclasses.replace(
        paper.record.opening, customer=LONGEST_NAME, technician=LONGEST_NAME, order="O" * 60, job="O" * 60
    )
    return dataclasses.replace(
        paper,
        record=dataclasses.replace(paper.record, opening=opening),
        assessment=dataclasses.replace(paper.assessment, gate=Gate(Readiness.OPEN_POINTS, (), points)),
        language=LANGUAGES[language],
        workshop=LONGEST_NAME,
    )


@pytest.mark.parametrize("count", [0, 3, 8, 13, 20])
@pytest.mark.parametrize("language", LANGUAGES)
def test_that_the_customers_page_holds_every_open_point_with_the_longest_names(
    papers: Mapping[str, Paper], count: int, language: str
) -> None:
    document = build(with_points(papers["faulty"], count, language))
    short = dataclasses.replace(document, record=document.record[:6])
    with pypdfium2.PdfDocument(layout.pdf(short)) as pdf:
        page = pdf[0]
        found = lines(page)
        said = " ".join(page.get_textpage().get_text_range().split())
        following = " ".join(pdf[1].get_textpage().get_text_range().split())
    assert (list(meeting(found)), outside(found)) == ([], [])
    assert document.front.signatures.heading in said
    for point in document.front.points.points:
        assert any(f"{point.number} {text[:18]}" in said for text in (point.says, point.short))
    both = ("21 April 2026 · Technician with", "21 April 2026 Technician with")  # on one line, on two
    assert sum(map(said.count, both)) == count
    if count == 20:
        # What is shortened is said to stand in full on the page where it does.
        assert document.front.points.full in said
        heading = next(b.text for b in document.record[1:] if isinstance(b, blocks.Heading))
        assert heading in following


def test_that_a_shortened_sentence_ends_after_a_word() -> None:
    register()
    fitted = fit("the hoses are exchanged or the lever works in reverse", 90, 8, 2)
    assert not fitted.whole
    assert fitted.lines[-1].removesuffix("…").split()[-1] in {"exchanged", "or", "the", "lever", "works"}


# ------------------------------------------------------------------------------------------- pictures


def pictures(paper: Paper) -> list[blocks.Drawing]:
    """The drawings of a record: the machine from above, shaft, lamps, rotors."""
    return [block for block in build(paper).record if isinstance(block, blocks.Drawing)]


def test_that_each_picture_says_in_words_what_it_shows(papers: Mapping[str, Paper]) -> None:
    above, shaft, lamps, rotors = (each.alt for each in pictures(papers["faulty"]))
    assert "stop:" in above and "transport latch of the left rotor" in above  # noqa: PT018 - one fact
    assert "1068 mm" in shaft  # the longest of the nine distances in the sample's answers
    assert "right tail alone: lit: none; not as expected: right tail lamp" in lamps
    for reading in ("9 o'clock 38 mm", "12 o'clock 10 mm", "right rotor, seen from above: 9 o'clock 26 mm"):
        assert reading in rotors  # as typed in the sample's answers
    assert "from the left side: front 56 mm lower, put right" in rotors  # 38 + 28 - 10 by the fitted plane


def test_that_a_machine_in_order_says_so_from_above(papers: Mapping[str, Paper]) -> None:
    assert "Symbols on it: in order: all parts." in pictures(papers["healthy"])[0].alt


def test_that_the_shaft_shows_what_was_left_after_the_cut(papers: Mapping[str, Paper]) -> None:
    shaft = pictures(papers["healthy"])[1]
    # By hand from the sample's answers: closed 905, halves 780 and 760, cut 65 mm; shortest 872, longest
    # 1068. Gap 872 - (905 - 65) = 32; overlap 780 + 760 - 2 · 65 - 1068 = 342.
    assert "gap 32 mm" in shaft.alt
    assert "overlap 342 mm" in shaft.alt


def test_that_symbols_on_the_rotors_stand_where_a_reading_is_not_in_order(
    papers: Mapping[str, Paper],
) -> None:
    healthy, faulty = (pictures(papers[kind])[3] for kind in ("healthy", "faulty"))
    assert {verdict for _, _, verdict in healthy.symbols} == {Verdict.IN_ORDER}
    assert Verdict.PUT_RIGHT in {verdict for _, _, verdict in faulty.symbols}


def test_that_no_answers_draw_no_pictures_but_the_machine(papers: Mapping[str, Paper]) -> None:
    paper = papers["healthy"]
    empty = dataclasses.replace(paper, record=dataclasses.replace(paper.record, entries={}, history={}))
    assert len(pictures(empty)) == 1


# ---------------------------------------------------------------------------------- a picture of a telephone


def test_that_a_large_picture_is_small_on_paper_and_whole_in_the_job(
    tmp_path: Path, clock: Callable[[], dt.datetime]
) -> None:
    from PIL import Image

    samples = paths.sample_profiles()
    read = answers.read_answers(text_of(samples / HEALTHY))
    data = io.BytesIO()
    Image.effect_noise((4000, 3000), 40).save(data, "JPEG", quality=80)  # 12 megapixels
    with started(samples / MACHINE, samples / TRACTOR, read, tmp_path, clock) as job:
        slot = next(slot for slot, task in job.tasks.items() if task.field.ask.value == "photo")
        entry = job.photo(slot, "damage.jpg", data.getvalue(), "Technician One")
        assert job.file.blob(entry.typed) == data.getvalue()
        record, assessment = judge(job.file.events(), clock().date())
        photos = complete.pictures(job, record, assessment)
        paper = Paper(
            record, assessment, job.profile, job.tractor, LANGUAGES["en"], "code", NOON, photos=photos
        )
    with_it, without = (
        len(layout.pdf(build(each))) for each in (paper, dataclasses.replace(paper, photos={}))
    )
    assert 5_000 < with_it - without < len(data.getvalue()) / 20
