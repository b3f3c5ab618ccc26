"""The page on which any sum can be worked out without a job."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QLabel

from rakeprep.sums import all_sums
from rakeprep.ui.app import make_session
from rakeprep.ui.job_page import JobPage
from rakeprep.ui.step_page import StepPage
from rakeprep.ui.sums_page import SumsPage


@pytest.fixture
def page(qtbot: Any, tmp_path: Path) -> SumsPage:
    made = SumsPage(make_session(tmp_path))
    qtbot.addWidget(made)
    made.show()
    return made


def texts(page: SumsPage) -> str:
    return "\n".join(label.text() for label in page.findChildren(QLabel))


def test_that_sums_can_be_chosen_and_their_examples_worked_out(page: SumsPage) -> None:
    assert page.list.count() == len(all_sums())
    for row in range(0, page.list.count(), 9):  # tests/unit/sums works every example out
        page.list.setCurrentRow(row)
        page.show_example()
        assert page._answer.count(), page.list.currentItem().text()
        assert all(line.accessibleName() for line in page.lines.values())


def test_that_the_search_finds_by_words_of_title_and_purpose(page: SumsPage) -> None:
    page.search.setText("turnbuckle flats")
    found = [page.list.item(row).text() for row in range(page.list.count())]
    assert any("flats of the turnbuckle" in text.lower() for text in found)
    assert len(found) < len(all_sums())


def test_that_the_turnbuckle_of_the_practice_machine_takes_one_flat(page: SumsPage) -> None:
    page.search.setText("flats of the turnbuckle")
    page.list.setCurrentRow(0)
    page.show_example()
    # 6 mm / 420 mm · 3500 mm = 50 mm a turn; 9 mm are 1.1 flats of six: worked by hand, invented machine
    assert "1 flat" in texts(page)


def test_that_values_that_cannot_be_read_are_all_named_at_once(page: SumsPage) -> None:
    page.search.setText("flats of the turnbuckle")
    page.list.setCurrentRow(0)
    for line in page.lines.values():
        line.setText("2,4,5")
    page.work()
    assert page._answer.count() >= 2


def test_that_a_sum_can_be_worked_out_in_the_middle_of_a_job(qtbot: Any, session: Any, start: Any) -> None:
    job_page = JobPage(session, start())
    qtbot.addWidget(job_page)
    assert isinstance(job_page.page, StepPage)
    slot = job_page.page.slot
    job_page.open_sums()
    assert isinstance(job_page.page, SumsPage)
    job_page.page.closed.emit()
    assert isinstance(job_page.page, StepPage)
    assert job_page.page.slot == slot
